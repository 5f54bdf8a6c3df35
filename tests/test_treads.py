"""Treads under one heavy step: 300 lb on 4 sq in (IRC Table R301.5 note), and how boards are ripped to cover one."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import design_values, read_size
from deckplan.engineering.stairs import tread_stress
from deckplan.levels.box_steps import STRIP, board_widths
from deckplan.levels.tread_strength import RULE, TREAD_DEFLECTION
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle

REFRACTORY = ("Douglas fir-larch", "hem-fir", "spruce-pine-fir")


def carries(species: str, size: str, incised: bool, span: float = 34.5) -> bool:
    made = read_size(size)
    allowed = adjusted(design_values(species, "No. 2", made), made, Service(incised=incised, flat=True))
    stress = tread_stress(1.5, made.depth, span, allowed.E)
    return (
        stress.bending <= allowed.Fb
        and stress.shear <= allowed.Fv
        and stress.deflection <= span / TREAD_DEFLECTION
    )


@pytest.mark.parametrize(
    ("species", "least", "incised"),
    [
        (("southern pine",), "2x8", False),
        (REFRACTORY, "2x8", True),
        (("redwood", "western cedars", "northern species"), "2x10", False),
    ],
)
def test_printed_tread_sizes_between_solid_stringers(species: Any, least: str, incised: bool) -> None:
    # Least treads across a stair 36 in wide, 34-1/2 in clear: AWC DCA6 stair treads, Wisconsin SPS 320-325 Appendix B
    # Table 7. Its notes (300 lb, L/288, No. 2, wet, incised or not) are one published copy; its sizes are from memory.
    smaller = {"2x8": "2x6", "2x10": "2x8"}[least]
    assert all(carries(each, least, incised) for each in species)
    assert not all(carries(each, smaller, incised) for each in species)


def stair(apart: float, kind: str = "wood", thickness: float = 1.0, allows: float = 18.0) -> Plan:
    """A stringer flight whose stringers stand exactly so far apart, three spaces."""
    wide = 3 * apart + 1.5
    decking = {
        "kind": kind, "thickness": thickness, "width": 5.5, "gap": 0.1875, "spacing": 16.0, "spacing_step": allows,
    }  # fmt: skip
    return make_plan(
        platform(
            "deck", rectangle(0, 0, 120, 144), 28.0, beam(12), beam(100), joists={"direction": "y", "size": "2x12"}
        ),
        flight=[{"from": "deck", "to": "ground", "along": ((120.0, 48.0), (120.0, 48.0 + wide)), "kind": "stringer"}],
        materials={"species": "southern pine", "grade": "No. 2", "decking": decking},
    )  # fmt: skip


def treads_of(plan: Plan) -> dict[str, Check]:
    return {c.rule.removeprefix(f"{RULE}, "): c for c in Study(plan).checks if c.rule.startswith(RULE)}


@pytest.mark.parametrize(
    ("apart", "verdict"), [(16.50, Verdict.PASS), (16.555, Verdict.PASS), (16.60, Verdict.FAIL)]
)
def test_a_wood_tread_at_its_limit(apart: float, verdict: Verdict) -> None:
    # By hand: 1 x 5-1/2, S = 5.5 / 6 = 0.9167 in3; southern pine No. 2 2x6 Fb 1000 psi, flat 1.15 (NDS Supplement 2018
    # Table 4B). 75 (l - 1) = 1150 x 0.9167: l = 15.056 in clear, stringers 16.556 in apart.
    check = treads_of(stair(apart))["bending"]
    assert check.verdict is verdict
    assert check.capacity == pytest.approx(1150.0)
    assert check.demand == pytest.approx(75 * (apart - 2.5) / (5.5 / 6))
    assert ("spacing_step" in check.reason) is (verdict is Verdict.FAIL)


def test_thin_boards_say_whose_values_they_borrow() -> None:
    for thickness, borrowed in ((1.0, True), (1.5, False)):
        lines = " ".join(str(step) for step in treads_of(stair(12.0, thickness=thickness))["bending"].steps)
        assert ("the boards' own grade governs" in lines) is borrowed


@pytest.mark.parametrize("allows", [9.0, 11.99, 12.0])
def test_composites_go_by_their_maker(allows: float) -> None:
    # stringers are set out to what the maker allows, so that they never stand farther apart
    found = treads_of(stair(12.0, kind="composite", allows=allows))
    assert set(found) == {"span by the boards' maker"}
    check = found["span by the boards' maker"]
    assert check.verdict is Verdict.PASS
    assert check.capacity == allows
    assert check.demand is not None
    assert check.demand <= allows


def test_the_boards_on_box_steps_are_checked_where_their_joists_stand_farthest_apart() -> None:
    joists = {"direction": "x", "size": "2x10"}
    plan = make_plan(
        platform("upper", rectangle(0, 0, 120, 144), 40.5, beam(12), beam(108), joists=joists),
        platform("lower", rectangle(120, 0, 300, 144), 30.0, beam(12), beam(168), joists=joists),
        flight=[{"from": "upper", "to": "lower", "along": ((120.0, 36.0), (120.0, 108.0)), "tread": 14.0}],
    )
    found = treads_of(plan)
    # 72 in wide, fascias back 3/4 in: 70-1/2; joists 12 in apart; 14 in: one board whole and two of 4-1/8 in, gaps 1/8
    assert found["bending"].demand == pytest.approx(75 * (10.5 - 1) / (4.125 / 6))
    assert found["bending"].mark == "S1-T2"


@given(st.floats(8.0, 60.0), st.sampled_from([3.5, 5.5]), st.sampled_from([0.125, 0.1875, 0.25]))
def test_boards_cover_a_step_and_none_is_a_strip(depth: float, width: float, gap: float) -> None:
    widths, nose = board_widths(depth, width, gap)
    assert sum(widths) + gap * (len(widths) - 1) - nose == pytest.approx(depth, abs=gap + 1e-9)
    assert min(widths) >= STRIP * width - 1e-9 or len(set(widths)) == 1
    assert sorted(widths, reverse=True) == list(widths)
