"""Stringers, treads, guard posts, knee braces: statics by hand, loads of IRC Table R301.5."""

import math

import pytest

from deckplan.engineering.bending import bearing_capacity, bearing_length, bending_capacity, shear_capacity
from deckplan.engineering.braces import knee_brace
from deckplan.engineering.columns import bracket_side_load, rotate
from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import design_values, read_size
from deckplan.engineering.stairs import (
    GUARD_LOAD,
    TREAD_LOAD,
    guard_post,
    guard_post_use,
    stringer_stress,
    throat_depth,
    tread_stress,
)
from deckplan.errors import RangeError
from deckplan.rules import load_profile


def test_published_loads():
    assert (TREAD_LOAD, GUARD_LOAD) == (300.0, 200.0)  # IRC Table R301.5 and its notes
    rules = load_profile("irc-2021")
    assert rules.stringer_run_max_cut.value == 72.0  # AWC DCA6: 6-0
    assert rules.stringer_run_max_solid.value == 159.0  # AWC DCA6: 13-3


@pytest.mark.parametrize(("riser", "tread"), [(7.0, 11.0), (7.75, 10.0), (5.25, 12.0)])
def test_the_throat_is_what_the_notch_leaves(riser, tread):
    """The notch is a right triangle; its height over the hypotenuse goes."""
    hypotenuse = math.hypot(riser, tread)
    height = 2 * (riser * tread / 2) / hypotenuse
    assert throat_depth(11.25, riser, tread) == pytest.approx(11.25 - height)


def test_a_notch_may_not_eat_the_board():
    with pytest.raises(RangeError):
        throat_depth(5.5, 7.75, 10.0)


def test_a_level_stringer_is_a_simple_beam():
    found = stringer_stress(1.5, 7.25, 96.0, 0.0, 5.0, 1.26e6)
    S, inertia = 1.5 * 7.25**2 / 6, 1.5 * 7.25**3 / 12
    assert found.bending == pytest.approx(5.0 * 96**2 / 8 / S)
    assert found.shear == pytest.approx(1.5 * 240 / (1.5 * 7.25))
    assert found.deflection == pytest.approx(5 * 5.0 * 96**4 / (384 * 1.26e6 * inertia))


def test_a_sloped_stringer_keeps_its_moment_and_sags_more():
    level, steep = (stringer_stress(1.5, 5.0, 96.0, slope, 5.0, 1.26e6) for slope in (0.0, 0.7))
    assert steep.bending == pytest.approx(level.bending)
    assert steep.shear < level.shear
    assert steep.deflection == pytest.approx(level.deflection * math.hypot(1, 0.7) ** 2)
    with pytest.raises(RangeError):
        stringer_stress(1.5, 5.0, 0.0, 0.7, 5.0, 1.26e6)


def test_a_tread_under_300_lb_on_4_sq_in():
    found = tread_stress(1.5, 11.25, 34.5, 1.26e6)
    moment = 150 * 17.25 - 150 * 0.5  # half the load at the support, half the patch against it
    assert found.bending == pytest.approx(moment / (11.25 * 1.5**2 / 6))
    assert found.shear == pytest.approx(1.5 * 300 * 33.5 / 34.5 / (11.25 * 1.5))
    assert tread_stress(1.5, 5.5, 34.5, 1.26e6, boards=2).bending == pytest.approx(found.bending * 11.25 / 11)
    with pytest.raises(RangeError):
        tread_stress(1.5, 11.25, 2.0, 1.26e6)


def test_a_guard_post_pulls_its_fasteners_both_ways():
    """200 lb at 36 in, upper fastener 3 in down, 5 in apart: moments about the other fastener."""
    found = guard_post(36.0, 3.0, 5.0)
    assert found.outward * 5.0 == pytest.approx(200 * 44.0)
    assert found.inward * 5.0 == pytest.approx(200 * 39.0)
    assert found.outward - found.inward == pytest.approx(found.shear)
    with pytest.raises(RangeError):
        guard_post(36.0, 3.0, 0.0)


def test_a_4x4_guard_post_in_bending():
    size = read_size("4x4")
    allowed = adjusted(design_values("southern pine", "No. 2", size), size, Service(duration=1.6))
    use, steps = guard_post_use(allowed, 3.5, 3.5, guard_post(36.0, 3.0, 5.0).moment)
    assert use == pytest.approx(200 * 39 / (3.5**3 / 6) / (1.6 * 1100))
    assert len(steps) == 3


def test_a_knee_brace_balances_the_push():
    found = knee_brace(100.0, 96.0, 24.0, 18.0)
    horizontal = found.axial * 18.0 / found.length
    assert horizontal * 24.0 == pytest.approx(100.0 * 96.0)  # moments about the post's head
    assert found.post_moment == pytest.approx(100.0 * 72.0)
    for wrong in ((100.0, 96.0, 0.0, 18.0), (100.0, 96.0, 96.0, 18.0), (100.0, 96.0, 24.0, 0.0)):
        with pytest.raises(RangeError):
            knee_brace(*wrong)


def test_capacities_of_a_member():
    size = read_size("2x8")
    allowed = adjusted(design_values("southern pine", "No. 2", size), size, Service())
    assert bending_capacity(allowed, size).value == pytest.approx(925 * 13.140625)
    assert bending_capacity(allowed, size, 0.9).value == pytest.approx(0.9 * 925 * 13.140625)
    assert shear_capacity(allowed, size).value == pytest.approx(2 / 3 * 0.97 * 175 * 10.875)
    notched = shear_capacity(allowed, size, 6.0).value
    assert notched == pytest.approx(
        2 / 3 * 0.97 * 175 * 1.5 * 6.0 * (6.0 / 7.25) ** 2
    )  # NDS 2018 Equation 3.4-3
    with pytest.raises(RangeError, match="quarter"):
        shear_capacity(allowed, size, 5.4)
    assert bearing_capacity(allowed, size, 1.5).value == pytest.approx(0.67 * 565 * 2.25)
    assert bearing_capacity(allowed, size, 1.5, to_end=12.0).value == pytest.approx(1.25 * 0.67 * 565 * 2.25)
    assert bearing_length(allowed, size, 0.67 * 565 * 2.25) == pytest.approx(1.5)


def test_one_ply_of_two_on_the_post():
    size = read_size("2-2x8")
    allowed = adjusted(design_values("southern pine", "No. 2", size), size, Service())
    both, one = (bearing_capacity(allowed, size, 3.0, plies=n).value for n in (None, 1))
    assert both == pytest.approx(2 * one)


def test_a_post_can_be_turned():
    turned = rotate(read_size("4x6"))
    assert (turned.thickness, turned.depth) == (5.5, 3.5)
    with pytest.raises(RangeError):
        rotate(read_size("2-2x6"))


def test_a_bracket_stands_for_a_side_load():
    assert bracket_side_load(1000.0, 4.0, 90.0, 96.0) == pytest.approx(
        3 * 1000 * 4 * 90 / 96**2
    )  # NDS 15.4.2
