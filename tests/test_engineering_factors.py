"""Adjustment factors: the tables' edges, the known traps, the worked examples (data/reference)."""

import pytest

from deckplan.engineering.bending import (
    lateral_support_rule,
    stability,
)
from deckplan.engineering.combined import compression_and_bending, tension_and_bending
from deckplan.engineering.factors import (
    Service,
    adjusted,
    bearing_area_factor,
    duration_factor,
    effective_length,
    flat_use_factor,
    size_factors,
    temperature_factors,
    wet_factors,
)
from deckplan.engineering.lumber import Size, design_values, read_size
from deckplan.errors import RangeError
from deckplan.reference import read_json

EXAMPLES = {example["id"]: example for example in read_json("reference", "worked_examples.json")}
PRINTED = read_json("reference", "adjustment_factors.json")


def values(species="douglas fir-larch", grade="No. 2", size="2x8"):
    return design_values(species, grade, size)


# ---- tables ----


@pytest.mark.parametrize("depth", [4, 6, 8, 10, 12])
@pytest.mark.parametrize("thick", [2, 3, 4])
def test_size_factors_of_table_4a(thick, depth):
    column = PRINTED["C_F Table 4A No.1/No.2/SS/No.3"]
    key = "2-4" if depth == 4 else str(depth)
    found = size_factors(values(), read_size(f"{thick}x{depth}"))
    assert found[0] == column["Fb 4in" if thick == 4 else "Fb 2-3in"][key]
    assert found[1:] == (column["Ft"][key], column["Fc"][key])


@pytest.mark.parametrize("depth", [6, 8, 10, 12])
@pytest.mark.parametrize("thick", [2, 4])
def test_flat_use_factors(thick, depth):
    column = PRINTED["C_fu"]["4in" if thick == 4 else "2-3in"]
    assert flat_use_factor(read_size(f"{thick}x{depth}")) == column["10+" if depth >= 10 else str(depth)]


def test_southern_pine_has_its_size_factor_in_the_value():
    pine = design_values("southern pine", "No. 2", "2x8")
    assert size_factors(pine, read_size("2x8")) == (1.0, 1.0, 1.0)
    assert size_factors(pine, read_size("4x8"))[0] == 1.1  # NDS Supplement 2018 Table 4B
    assert size_factors(pine, read_size("4x6"))[0] == 1.0


def test_timbers_lose_strength_only_over_12_in_deep():
    deep = Size("6x16", "6x16", 1, 5.5, 15.5, 6, 16, "")
    timber = design_values("douglas fir-larch", "No. 1", "6x6")
    assert size_factors(timber, deep)[0] == pytest.approx((12 / 15.5) ** (1 / 9))
    assert size_factors(timber, read_size("8x8"))[0] == 1.0


@pytest.mark.parametrize(
    ("kind", "factor"),
    [
        ("permanent", 0.9),
        ("live", 1.0),
        ("snow", 1.15),
        ("construction", 1.25),
        ("wind", 1.6),
        ("impact", 2.0),
    ],
)
def test_load_duration(kind, factor):
    assert duration_factor(kind) == factor  # NDS 2018 Table 2.3.2


@pytest.mark.parametrize(
    ("degrees", "wet", "expected"),
    [
        (100, True, (1.0, 1.0)),
        (101, True, (0.7, 0.9)),
        (125, False, (0.8, 0.9)),
        (126, True, (0.5, 0.9)),
        (150, False, (0.7, 0.9)),
    ],
)
def test_temperature(degrees, wet, expected):
    assert temperature_factors(degrees, wet) == expected  # NDS 2018 Table 2.3.3


def test_no_factor_over_150_degrees():
    with pytest.raises(RangeError):
        temperature_factors(151, True)


@pytest.mark.parametrize(
    ("length", "to_end", "factor"),
    [
        (1.5, 12, 1.25),
        (0.5, 3, 1.75),
        (5.9, 3, 1 + 0.375 / 5.9),
        (6, 12, 1.0),
        (1.5, 2.9, 1.0),
        (1.5, 0, 1.0),
    ],
)
def test_bearing_area(length, to_end, factor):
    assert bearing_area_factor(length, to_end) == pytest.approx(factor)  # NDS 2018 3.10.4 and Table 3.10.4


# ---- traps ----


@pytest.mark.parametrize(
    ("species", "size", "factor"),
    [
        ("douglas fir-larch", "2x6", 0.85),  # 900 x 1.3 = 1170
        ("douglas fir-larch", "2x8", 1.0),  # 900 x 1.2 = 1080
        ("hem-fir", "2x6", 1.0),  # 850 x 1.3 = 1105
        ("southern pine", "2x4", 1.0),  # 1100
    ],
)
def test_wet_bending_costs_only_over_1150(species, size, factor):
    chosen = design_values(species, "No. 2", size)
    bend, _, push = size_factors(chosen, read_size(size))
    assert wet_factors(chosen, bend, push)["Fb"] == factor  # NDS Supplement 2018 Table 4A note


@pytest.mark.parametrize(("size", "factor"), [("2x6", 0.8), ("2x8", 1.0), ("2x10", 1.0)])
def test_wet_compression_costs_only_over_750(size, factor):
    weak = design_values("redwood", "No. 2", size)  # Fc 700 x 1.1 = 770, x 1.05 = 735, x 1.0 = 700
    bend, _, push = size_factors(weak, read_size(size))
    assert wet_factors(weak, bend, push)["Fc"] == factor  # NDS Supplement 2018 Table 4A note


def test_the_wet_timber_row_is_not_reduced_twice():
    wet = adjusted(design_values("southern pine", "No. 2", "6x6"), read_size("6x6"), Service(wet=True))
    assert (wet.Fb, wet.Fc, wet.Fc_perp, wet.E) == (850.0, 525.0, 375.0, 1.2e6)
    dry_row = adjusted(
        design_values("douglas fir-larch", "No. 2", "6x6"), read_size("6x6"), Service(wet=True)
    )
    assert dry_row.Fc == pytest.approx(0.91 * 700)


def test_load_duration_never_touches_bearing_and_stiffness():
    long, short = (adjusted(values(), read_size("2x8"), Service(duration=d)) for d in (1.0, 1.6))
    assert (long.Fc_perp, long.E, long.Emin) == (short.Fc_perp, short.E, short.Emin)
    assert short.Fb == pytest.approx(1.6 * long.Fb)
    assert short.Fv == pytest.approx(1.6 * long.Fv)


def test_repetitive_members_gain_in_bending_only_and_timbers_never():
    plain, many = (adjusted(values(), read_size("2x8"), Service(repetitive=r)) for r in (False, True))
    assert many.Fb == pytest.approx(1.15 * plain.Fb)
    assert (many.Fv, many.E, many.Fc) == (plain.Fv, plain.E, plain.Fc)
    timber = design_values("douglas fir-larch", "No. 1", "6x6")
    assert adjusted(timber, read_size("6x6"), Service(repetitive=True)).Fb == timber.Fb


def test_incising_is_for_dimension_lumber():
    cut = adjusted(values(), read_size("2x8"), Service(wet=False, incised=True))
    assert (cut.Fb, cut.Fv) == (pytest.approx(0.8 * 900 * 1.2), pytest.approx(0.8 * 180))
    assert (cut.E, cut.Fc_perp) == (pytest.approx(0.95 * 1.6e6), 625.0)  # NDS 2018 Table 4.3.8
    timber = design_values("douglas fir-larch", "No. 1", "6x6")
    assert adjusted(timber, read_size("6x6"), Service(incised=True)).Fb == timber.Fb


def test_effective_length_depends_on_the_load():
    assert effective_length(240, 9.25, "unspecified") == pytest.approx(1.84 * 240)  # lu/d 25.9
    assert effective_length(240, 9.25, "uniform") == pytest.approx(1.63 * 240 + 3 * 9.25)
    assert effective_length(100, 9.25, "unspecified") == pytest.approx(1.63 * 100 + 3 * 9.25)  # 10.8
    assert effective_length(60, 9.25, "uniform") == pytest.approx(2.06 * 60)  # 6.5
    assert effective_length(60, 9.25, "overhang tip") == pytest.approx(1.87 * 60)


def test_a_member_too_slender_sideways_is_refused():
    allowed = adjusted(values(), read_size("2x12"), Service())
    with pytest.raises(RangeError, match="over 50"):
        stability(allowed, read_size("2x12"), 400.0)
    assert stability(allowed, read_size("6x6"), 400.0)[0] == 1.0
    assert stability(allowed, read_size("2x12"), 0.0)[0] == 1.0


@pytest.mark.parametrize(
    ("size", "words"),
    [
        ("2x4", "no lateral"),
        ("2x8", "ends held"),
        ("2x10", "compression edge"),
        ("2x12", "bridging"),
        ("3-2x12", "no lateral"),
        ("2-2x10", "ends held"),
    ],
)
def test_depth_over_breadth(size, words):
    assert words in lateral_support_rule(read_size(size))  # NDS 2018 4.4.1.2


def test_each_value_has_a_step_that_can_be_redone():
    result = adjusted(values(size="2x6"), read_size("2x6"), Service(duration=1.15, repetitive=True))
    line = result.steps["Fb"]
    assert line.formula == "Fb × C_D × C_F × C_r × C_M"
    product = 1.0
    for figure in line.numbers.split(" × "):
        product *= float(figure)
    assert product == pytest.approx(result.Fb, rel=1e-3)


# ---- combined forces ----


def test_truss_chord_of_awc_e1_6_in_tension_and_bending():
    printed = EXAMPLES["AWC-E1.6-CD1.25"]["answers"]
    ft, Ft, star, double = (printed[k] for k in ("ft", "Ft_star", "Fb_star", "Fb_2star"))
    assert tension_and_bending(ft, Ft, 0.0, star, double) == pytest.approx(ft / Ft)
    fb = star * (1 - ft / Ft)  # the bending that uses up the tension edge: NDS 2018 Equation 3.9-1
    assert tension_and_bending(ft, Ft, fb, star, 1e9) == pytest.approx(1.0)
    assert tension_and_bending(ft, Ft, double + ft, 1e9, double) == pytest.approx(1.0)


def test_strut_of_awc_e1_8_in_compression_and_bending():
    """Without bending the square of the compression is left; at a buckling stress nothing is."""
    assert compression_and_bending(300.0, 646.0, 3000.0, 0.0, 1000.0) == pytest.approx((300 / 646) ** 2)
    one = compression_and_bending(300.0, 646.0, 3000.0, 500.0, 1000.0)
    assert one == pytest.approx((300 / 646) ** 2 + 0.5 / 0.9)  # NDS 2018 Equation 3.9-3
    both = compression_and_bending(
        300.0, 646.0, 3000.0, 500.0, 1000.0, fb2=100.0, Fb2=1000.0, FcE2=600.0, FbE=1000.0
    )
    assert both == pytest.approx(one + 0.1 / (1 - 0.5 - 0.25))
    with pytest.raises(RangeError):
        compression_and_bending(300.0, 646.0, 300.0, 0.0, 1000.0)
    with pytest.raises(RangeError):
        compression_and_bending(300.0, 646.0, 3000.0, 900.0, 1000.0, FcE2=600.0, FbE=1000.0)
