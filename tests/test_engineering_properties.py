"""What must hold for every member: more load, span, spacing or height never helps."""

import math

from hypothesis import given
from hypothesis import strategies as st

from deckplan.engineering.concrete import (
    footing_size,
)
from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import design_values, read_size
from deckplan.engineering.members import (
    AreaLoads,
    beam_span,
    joist_span,
    post_height,
    post_utilisation,
)
from deckplan.errors import RangeError

SPECIES = ["southern pine", "douglas fir-larch", "hem-fir", "spruce-pine-fir", "redwood", "western cedars"]
SIZES = ["2x6", "2x8", "2x10", "2x12"]


# ---- properties ----

MORE = st.floats(1.0, 3.0)
ANY_JOIST = st.tuples(
    st.sampled_from(SPECIES), st.sampled_from(SIZES), st.sampled_from([12.0, 16.0, 19.2, 24.0])
)


@given(ANY_JOIST, st.floats(10.0, 150.0), MORE)
def test_more_load_never_lengthens_a_joist(joist, live, more):
    species, size, spacing = joist
    light, heavy = (
        joist_span(species, "No. 2", size, spacing, AreaLoads(live * k)).value for k in (1.0, more)
    )
    assert heavy <= light + 1e-9


@given(ANY_JOIST, MORE)
def test_wider_spacing_never_lengthens_a_joist(joist, more):
    species, size, spacing = joist
    near, far = (joist_span(species, "No. 2", size, spacing * k).value for k in (1.0, more))
    assert far <= near + 1e-9


@given(st.sampled_from(["2-2x8", "3-2x10", "4x10", "3-2x12"]), st.floats(60.0, 240.0), MORE)
def test_longer_joists_never_lengthen_a_beam(build, joists, more):
    short, long = (beam_span("hem-fir", "No. 2", build, joists * k).value for k in (1.0, more))
    assert long <= short + 1e-9


GRADES = ["No. 3", "No. 2", "No. 1", "Select Structural"]


@given(
    st.sampled_from(["southern pine", "hem-fir", "douglas fir-larch", "redwood"]),
    st.sampled_from(SIZES),
    st.booleans(),
)
def test_a_stronger_grade_never_spans_less_when_dry(species, size, incised):
    spans = [joist_span(species, grade, size, 16.0, wet=False, incised=incised).value for grade in GRADES]
    assert spans == sorted(spans)


def test_the_one_case_where_a_stronger_grade_is_weaker():
    """Wet: No. 1 Douglas fir-larch 2x8 (1000 x 1.2 = 1200) loses 15 %, No. 2 (1080) none: the NDS."""
    two, one = (
        joist_span("douglas fir-larch", grade, "2x8", 24.0).limits["bending"] for grade in ("No. 2", "No. 1")
    )
    assert one < two


@given(st.floats(500.0, 6000.0), st.floats(1500.0, 4000.0), MORE)
def test_more_load_never_shrinks_a_footing(load, soil, more):
    small, large = footing_size(load, soil), footing_size(load * more, soil)
    firm = footing_size(load, soil * more)
    assert (large.diameter, large.side, large.thickness) >= (small.diameter, small.side, small.thickness)
    assert firm.diameter <= small.diameter


@given(st.floats(500.0, 18_000.0), st.floats(1500.0, 4000.0))
def test_the_soil_carries_every_footing(load, soil):
    found = footing_size(load, soil)
    area = math.pi / 4 * found.diameter**2 / 144
    rule = math.ceil((found.diameter - 5.5) / 2 - 1e-9) / 12
    assert load / area + 150 * max(rule, 0.5) <= soil * (1 + 1e-9)


@given(st.sampled_from(SPECIES), st.floats(100.0, 8000.0), MORE)
def test_more_load_never_raises_a_post(species, load, more):
    low = post_height(species, "No. 2", "6x6", load, prescriptive=False).value
    try:
        high = post_height(species, "No. 2", "6x6", load * more, prescriptive=False).value
    except RangeError:
        high = 0.0
    assert high <= low + 1e-9


@given(st.floats(24.0, 200.0), MORE, st.floats(0.0, 6.0))
def test_taller_or_more_eccentric_never_helps_a_post(height, more, eccentricity):
    size = read_size("6x6")
    allowed = adjusted(design_values("southern pine", "No. 2", size), size, Service())
    tall = min(height * more, 270.0)
    one, two = (
        post_utilisation(allowed, size, h, 1500.0, 1000.0, eccentricity)[0] for h in (min(height, tall), tall)
    )
    assert two >= one - 1e-9
    further, _ = post_utilisation(allowed, size, height, 1500.0, 1000.0, eccentricity + 1.0)
    assert further >= one - 1e-9
