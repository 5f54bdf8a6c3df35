"""Loads: by statics, balanced from the boards to the soil."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckplan.loads.areas import wood_density
from deckplan.loads.path import _analyse
from deckplan.study import Study
from tests.decks import attached, beam, make_plan, platform, rectangle


def _arrived(study: Study) -> float:
    loads = study.loads
    down = [*loads.posts.values(), *loads.ledgers.values()]
    return sum(force.full for force in down) + loads.ground.full + loads.lost.full


@settings(max_examples=40, deadline=None)
@given(
    st.floats(72, 400), st.floats(96, 220), st.floats(0, 30), st.floats(8, 24), st.sampled_from(["x", "y", 30.0, 45.0])
)  # fmt: skip
def test_what_is_put_on_arrives_on_the_soil(
    width: float, depth: float, snow: float, spacing: float, way: object
) -> None:
    deck = platform(
        "p",
        rectangle(0, 0, width, depth),
        60,
        beam(20),
        beam(60),
        joists={"direction": way, "spacing": spacing},
    )
    study = Study(make_plan(deck, site={"snow_load": snow, "ground": []}))
    assert _arrived(study) == pytest.approx(study.loads.applied.full, rel=1e-6)


def test_every_joint_hands_on_what_it_takes() -> None:
    study = Study(attached(240, 168))
    loads = study.loads
    for mark in loads.demands:
        if not mark.startswith("A-B"):
            continue
        taken = sum(d.force.full for d in loads.onto[mark])
        given_on = sum(d.force.full for d in loads.out_of[mark])
        assert given_on == pytest.approx(taken)


def test_overhanging_joists_put_more_than_half_on_the_beam() -> None:
    # beam overhanging one support, uniform load: R2 = w (L + a)^2 / (2 L), AWC Design Aid 6
    study = Study(attached(192, 144, offset=114.0 + 1.5))
    joist = study.layout.members[4]
    demand = study.loads.demands[joist.mark]
    spans, a = demand.analysis.spans[0], demand.analysis.overhangs[1]
    w = sum(u[2] + u[3] for u in demand.uniform)
    rim = sum((p[1] + p[2]) for p in demand.points if p[0] > spans)
    expected = w * (spans + a) ** 2 / (2 * spans) + rim * (spans + a) / spans
    assert demand.analysis.reactions[1].full == pytest.approx(expected)


def test_dead_load_is_never_under_the_rules_minimum_and_counts_real_boards() -> None:
    light = Study(attached(192, 144)).loads.areas["deck"]
    assert light.dead == pytest.approx(10)  # IRC deck tables: 10 psf dead
    decking = {"kind": "composite", "weight": 9.0}
    heavy = Study(attached(192, 144, materials={"decking": decking})).loads.areas["deck"]
    assert heavy.dead > 11.5
    assert any("boards" in step.words for step in heavy.steps)


def test_wood_density_of_the_supplement() -> None:
    # NDS Supplement 3.1.3: southern pine G = 0.55 at 19 % moisture is about 37 pcf (from memory)
    assert wood_density(0.55, 19.0) == pytest.approx(37.3, abs=0.1)


def test_live_load_of_the_site_wins_over_the_profile() -> None:
    assert Study(attached(192, 144, site={"live_load": 60.0})).loads.areas["deck"].live == 60
    assert Study(attached(192, 144)).loads.areas["deck"].live == 40  # IRC Table R301.5


def test_shared_post_of_two_levels_carries_seventy_two_square_feet() -> None:
    # 5 ft + 4 ft tributary by 8 ft at 50 psf is 3,600 lb; arithmetic, and its footing without own weight is 21 in
    from deckplan.engineering.concrete import footing_size

    assert (5 + 4) * 8 * 50 == 3600
    assert footing_size(3600.0, 1500.0).bare_diameter == 21
    assert footing_size(5 * 8 * 50.0, 1500.0).bare_diameter == 16
    assert footing_size(4 * 8 * 50.0, 1500.0).bare_diameter == 14


def test_stringer_flight_hands_half_to_each_end() -> None:
    plan = attached(192, 144, elevation=40.0)
    from deckplan.plan.model import Flight

    flight = Flight.model_validate(
        {"from": "deck", "to": "ground", "along": [(60, 144), (108, 144)], "kind": "stringer"}
    )
    study = Study(plan.model_copy(update={"flights": (flight,)}))
    bare = Study(plan)
    rise = study.levels.flights[0]
    extra = study.loads.applied.full - bare.loads.applied.full
    assert extra == pytest.approx(rise.width * rise.run / 144 * (40 + 10))
    assert study.loads.ground.full == pytest.approx(extra / 2)
    assert _arrived(study) == pytest.approx(study.loads.applied.full, rel=1e-6)


def test_a_beam_that_snow_can_only_lift_hands_the_pull_on() -> None:
    """Statics: two supports 80 in apart halve what pulls midway between them."""
    nothing_down, pull = ((50.0, 10.0, 0.0, 0.0),), ((50.0, 10.0, -5.0, -20.0),)
    forces = _analyse(100.0, (10.0, 90.0), (), nothing_down, pull).forces
    for force in forces:
        assert (force.dead, force.live, force.snow) == pytest.approx((5.0, -2.5, -10.0))
        assert force.snow_most == pytest.approx(0.0)
