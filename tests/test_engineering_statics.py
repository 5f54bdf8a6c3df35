"""Beam statics against handbook cases (AWC Design Aid 6, AISC Tables 3-22c, 3-23) and two frame programs."""

import pytest

from deckplan.engineering.deflection import find_deflections, tip_load_deflection
from deckplan.engineering.statics import analyse_beam, shear_at_depth
from deckplan.errors import RangeError
from deckplan.reference import read_json

CASES = {case["case"]: case["handbook"] for case in read_json("reference", "beam_cases.json")["cases"]}
COARSE = 6e-4  # the handbook prints three or four figures


# ---- handbook cases: span 1, load 1, E I = 1 ----


def beam(*spans, left=0.0, right=0.0, loaded=None, tip=0.0):
    """A beam of the given spans under 1 per length on the loaded stretches, or a load at the right tip."""
    supports = [left]
    for span in spans:
        supports.append(supports[-1] + span)
    length = supports[-1] + right
    stretches = [(0.0, length)] if loaded is None else loaded
    uniform = [] if tip else [(a, b, 1.0, 0.0) for a, b in stretches]
    return analyse_beam(length, supports, uniform, [(length, tip, 0.0)] if tip else [])


def reactions(found):
    return [reaction.full for reaction in found.reactions]


def sag(found):
    return max(peak.value for peak in find_deflections(found, 1.0).spans_total)


def test_simple_span():
    found, book = beam(1.0), CASES["simple span UDL"]
    assert found.moment_max.value == pytest.approx(book["M"])
    assert sag(found) == pytest.approx(book["d"])
    assert found.shear.value == pytest.approx(0.5)


def test_two_equal_spans():
    found, book = beam(1.0, 1.0), CASES["two equal spans UDL"]
    assert reactions(found) == pytest.approx([book["R_end"], book["R_mid"], book["R_end"]])
    assert found.moment_min.value == pytest.approx(book["Mneg"])
    assert found.moment_max.value == pytest.approx(book["Mpos"], rel=COARSE)
    assert sag(found) == pytest.approx(book["d"], abs=5e-5)
    assert find_deflections(found, 1.0).spans_total[0].at == pytest.approx(0.4215, abs=1e-4)  # at .4215 L


def test_three_equal_spans():
    found, book = beam(1.0, 1.0, 1.0), CASES["three equal spans UDL"]
    assert reactions(found) == pytest.approx([book["R_end"], book["R_int"], book["R_int"], book["R_end"]])
    assert found.moment_min.value == pytest.approx(book["Mneg"])
    assert [peak.value for peak in found.span_moments] == pytest.approx(
        [book["Mpos"], book["Mmid"], book["Mpos"]]
    )
    assert sag(found) == pytest.approx(book["d"], abs=5e-5)


def test_four_equal_spans():
    found, book = beam(1.0, 1.0, 1.0, 1.0), CASES["four equal spans UDL"]
    assert reactions(found)[:3] == pytest.approx([book["R0"], book["R1"], book["R2"]], abs=5e-4)
    assert found.moment_min.value == pytest.approx(book["Mneg"], abs=5e-5)
    assert found.moment_max.value == pytest.approx(book["Mpos"], abs=5e-5)


@pytest.mark.parametrize("a", [0.1, 0.25, 0.4])
def test_overhang_under_load_all_over(a):
    found, book = beam(1.0, right=a), CASES[f"overhang one end, UDL over all, a={a:g}L"]
    assert reactions(found) == pytest.approx([book["R1"], book["R2"]])
    assert found.moment_max.value == pytest.approx(book["M1"])
    assert found.moment_min.value == pytest.approx(book["M2"])
    moved = find_deflections(found, 1.0)
    assert moved.tips_total[1] - moved.tips_up[1] == pytest.approx(book["tip"])


@pytest.mark.parametrize("a", [0.1, 0.25, 0.4])
def test_overhang_with_a_load_at_the_tip(a):
    found, book = beam(1.0, right=a, tip=1.0), CASES[f"overhang one end, P at free end, a={a:g}L"]
    assert reactions(found) == pytest.approx([book["R1"], book["R2"]])
    assert found.reactions[0].least < 0  # the back support lifts
    assert found.moment_min.value == pytest.approx(book["M"])
    assert find_deflections(found, 1.0).tips_total[1] == pytest.approx(book["tip"])
    assert tip_load_deflection(1.0, a, 1.0, 1.0, 1.0) == pytest.approx(book["tip"])


@pytest.mark.parametrize("a", [0.1, 0.25, 0.4])
def test_overhang_loaded_alone(a):
    found = beam(1.0, right=a, loaded=[(1.0, 1.0 + a)])
    book = CASES[f"overhang one end, UDL on overhang only, a={a:g}L"]
    assert reactions(found) == pytest.approx([book["R1"], book["R2"]])
    assert find_deflections(found, 1.0).tips_total[1] == pytest.approx(book["tip"])


@pytest.mark.parametrize("a", [0.2, 0.25])
def test_equal_overhangs(a):
    found, book = beam(1.0, left=a, right=a), CASES[f"equal overhangs both ends UDL, a={a:g}L"]
    assert found.moment_min.value == pytest.approx(book["Ms"])
    assert found.moment_max.value == pytest.approx(book["Mm"])
    assert reactions(found) == pytest.approx([book["R"], book["R"]])


@pytest.mark.parametrize("second", [0.6, 1.5])
def test_two_unequal_spans(second):
    found, book = beam(1.0, second), CASES[f"two unequal spans UDL, L2={second:g}L1"]
    assert found.moment_min.value == pytest.approx(book["M1"])
    assert [reactions(found)[0], reactions(found)[2]] == pytest.approx([book["R1"], book["R3"]])


def test_two_spans_one_loaded():
    found, book = beam(1.0, 1.0, loaded=[(0.0, 1.0)]), CASES["two equal spans, UDL on one span"]
    assert reactions(found) == pytest.approx([book["R0"], book["R1"], book["R2"]])
    assert found.moment_min.value == pytest.approx(book["Mneg"])
    assert found.moment_max.value == pytest.approx(book["Mpos"], rel=COARSE)
    assert sag(found) == pytest.approx(book["d"], abs=5e-5)


def test_three_spans_two_adjacent_loaded():
    found = beam(1.0, 1.0, 1.0, loaded=[(0.0, 2.0)])
    book = CASES["three equal spans, UDL on two adjacent spans"]
    assert found.moment_min.value == pytest.approx(book["Mneg"], rel=COARSE)
    assert reactions(found)[1] == pytest.approx(book["R1"])
    assert sag(found) == pytest.approx(book["d"], abs=5e-5)


def test_three_spans_outer_loaded():
    found = beam(1.0, 1.0, 1.0, loaded=[(0.0, 1.0), (2.0, 3.0)])
    book = CASES["three equal spans, UDL on outer spans"]
    assert found.moment_max.value == pytest.approx(book["Mpos"], rel=COARSE)
    assert reactions(found)[0] == pytest.approx(book["R0"])
    assert sag(found) == pytest.approx(book["d"], abs=5e-5)


def test_patterns_find_the_handbooks_worst_cases():
    """Live load 1 on three equal spans: AISC Table 3-22c, the worst of its rows for each effect."""
    found = analyse_beam(3.0, [0.0, 1.0, 2.0, 3.0], [(0.0, 3.0, 0.0, 1.0)])
    assert found.moment_max.value == pytest.approx(0.1013, rel=COARSE)
    assert found.moment_min.value == pytest.approx(-0.1167, rel=COARSE)
    assert found.span_moments[1].value == pytest.approx(0.075, rel=COARSE)
    assert found.reactions[1].largest == pytest.approx(1.2)
    assert max(peak.value for peak in find_deflections(found, 1.0).spans_live) == pytest.approx(
        0.0099, rel=5e-3
    )


# ---- shear at the depth, edges ----


def test_shear_at_the_depth_leaves_out_what_lies_nearer():
    plain = analyse_beam(120.0, [0.0, 120.0], [(0.0, 120.0, 10.0, 0.0)])
    assert plain.shear.value == pytest.approx(600.0)
    assert shear_at_depth(plain, 9.25).value == pytest.approx(600.0 - 92.5)  # NDS 2018 3.4.3.1(a)
    near = analyse_beam(120.0, [0.0, 120.0], [], [(4.0, 1000.0, 0.0)])
    assert shear_at_depth(near, 8.0).value == pytest.approx(0.5 * 1000.0 * 116 / 120)  # x/d = 0.5


def test_shear_at_the_depth_of_an_overhang():
    found = analyse_beam(160.0, [0.0, 100.0], [(100.0, 160.0, 10.0, 0.0)])
    assert found.shear.value == pytest.approx(600.0)
    assert shear_at_depth(found, 10.0).value == pytest.approx(500.0)


@pytest.mark.parametrize(
    ("length", "supports", "uniform", "points"),
    [
        (100.0, [0.0], [], []),
        (100.0, [50.0, 50.0], [], []),
        (100.0, [60.0, 40.0], [], []),
        (100.0, [0.0, 101.0], [], []),
        (100.0, [0.0, 100.0], [(0.0, 101.0, 1.0, 0.0)], []),
        (100.0, [0.0, 100.0], [(50.0, 40.0, 1.0, 0.0)], []),
        (100.0, [0.0, 100.0], [(0.0, 50.0, -1.0, 0.0)], []),
        (100.0, [0.0, 100.0], [], [(101.0, 1.0, 0.0)]),
    ],
)
def test_what_is_no_beam_is_refused(length, supports, uniform, points):
    with pytest.raises(RangeError):
        analyse_beam(length, supports, uniform, points)


def test_a_load_over_a_support_goes_straight_into_it():
    for at in (0.0, 100.0, 220.0):
        found = analyse_beam(220.0, [0.0, 100.0, 220.0], [], [(at, 500.0, 0.0)])
        assert sum(reactions(found)) == pytest.approx(500.0)
        assert found.moment_max.value == pytest.approx(0.0, abs=1e-9)


def test_snow_joins_the_live_part_by_its_factor():
    loads = [(0.0, 100.0, 1.0, 4.0, 6.0)]
    both = analyse_beam(100.0, [0.0, 100.0], loads, live_factor=0.75, snow_factor=0.75)
    assert both.reactions[0].largest == pytest.approx((1 + 0.75 * 10) * 50)
    assert analyse_beam(100.0, [0.0, 100.0], loads).reactions[0].largest == pytest.approx(5 * 50)


def test_creep_counts_on_dead_load_only():
    found = analyse_beam(100.0, [0.0, 100.0], [(0.0, 100.0, 1.0, 2.0)])
    now, later = find_deflections(found, 1e6), find_deflections(found, 1e6, creep=2.0)
    assert later.spans_total[0].value / now.spans_total[0].value == pytest.approx(4 / 3)
    assert later.spans_live == now.spans_live
    with pytest.raises(RangeError):
        find_deflections(found, 0.0)
