"""No hole takes a landing: at doors and at both ends of flights, 36 in deep (IRC R311.3, R311.7.6, from memory)."""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.checks.underfoot import RULE, check_underfoot
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import LEDGER, Corner, beam, make_plan, platform, rectangle

WALL = {"name": "house", "line": [(-600.0, 0.0), (1200.0, 0.0)], "ledger": True}
DOOR = {"name": "kitchen", "at": (96.0, 0.0), "width": 72.0, "sill": 31.0}


def deck(name: str, outline: list[Corner], elevation: float, *holes: dict[str, Any]) -> dict[str, Any]:
    supports = (LEDGER, beam(130)) if outline[0][1] == 0 else (beam(14), beam(130))
    return platform(name, outline, elevation, *supports, opening=list(holes), joists={"size": "2x10"})


def hole(x0: float, y0: float, x1: float, y1: float, kind: str = "opening") -> dict[str, Any]:
    return {"kind": kind, "outline": rectangle(x0, y0, x1, y1)}


def landings(
    *platforms: dict[str, Any], flight: list[dict[str, Any]] | None = None, **house: Any
) -> list[Check]:
    study = Study(make_plan(*platforms, house={"wall": [WALL], **house}, flight=flight or []))
    assert set(check_underfoot(study.plan, study.profile, study.levels)) <= set(study.checks)
    return [check for check in study.checks if check.rule == RULE]


def before_door(*opening: dict[str, Any]) -> Check:
    (check,) = landings(deck("deck", rectangle(0, 0, 216, 144), 30.0, *opening), door=[DOOR])
    return check


@pytest.mark.parametrize(("out", "fails"), [(20.0, True), (35.9, True), (36.0, False), (37.0, False)])
def test_a_hole_in_front_of_a_door(out: float, fails: bool) -> None:
    check = before_door(hole(80, out, 110, out + 30))
    assert (check.mark, check.verdict) == ("kitchen", Verdict.FAIL if fails else Verdict.PASS)
    assert check.demand == pytest.approx(min(out, 36.0))
    if fails:
        assert 'opening 1 of platform "deck" lies' in check.reason
        assert 'the door "kitchen"' in check.reason


@pytest.mark.parametrize(("start", "fails"), [(132.0, False), (130.5, False), (130.0, True)])
def test_a_hole_beside_a_door_is_not_before_it(start: float, fails: bool) -> None:
    # the door reaches from x = 60 to 132
    assert (before_door(hole(start, 14, start + 30, 60)).verdict is Verdict.FAIL) is fails


def test_a_hatch_has_a_lid_and_a_slit_is_no_hole() -> None:
    lid, slit = hole(80, 20, 110, 50, "hatch"), hole(80, 20, 84, 60)
    assert not landings(deck("deck", rectangle(0, 0, 216, 144), 30.0, lid), door=[DOOR])
    assert not landings(deck("deck", rectangle(0, 0, 216, 144), 30.0, slit), door=[DOOR])


def pair(*, upper: tuple[dict[str, Any], ...] = (), lower: tuple[dict[str, Any], ...] = ()) -> list[Check]:
    """Two levels with a flight of 14 in, two risers in a box 11 in deep, from x = 60 to 108 along y = 144."""
    high = deck("high", rectangle(0, 0, 216, 144), 44.0, *upper)
    low = deck("low", rectangle(0, 144, 216, 288), 30.0, *lower)
    flight = {"from": "high", "to": "low", "along": [(60, 144), (108, 144)], "kind": "box"}
    return landings(high, low, flight=[flight])


@pytest.mark.parametrize(("out", "fails"), [(5.0, True), (11.0 + 35.9, True), (11.0 + 36.0, False)])
def test_a_hole_at_the_foot_of_a_flight(out: float, fails: bool) -> None:
    (check,) = pair(lower=(hole(70, 144 + out, 100, 144 + out + 30),))
    assert (check.mark, check.verdict) == ("S1", Verdict.FAIL if fails else Verdict.PASS)
    assert check.demand == pytest.approx(max(0.0, out - 11.0))
    assert ("the foot of S1" in check.reason) is fails


@pytest.mark.parametrize(("back", "fails"), [(35.9, True), (36.0, False)])
def test_a_hole_at_the_head_of_a_flight(back: float, fails: bool) -> None:
    (check,) = pair(upper=(hole(70, 144 - back - 30, 100, 144 - back),))
    assert check.verdict is (Verdict.FAIL if fails else Verdict.PASS)
    assert ("the head of S1" in check.reason) is fails


def test_a_door_with_a_step_is_judged_from_its_step() -> None:
    door = {**DOOR, "sill": 37.0}
    flight = [{"from": "kitchen", "to": "deck"}]
    opening = hole(80, 20, 110, 50)
    (check,) = landings(deck("deck", rectangle(0, 0, 216, 144), 30.0, opening), door=[door], flight=flight)
    assert (check.mark, check.demand) == ("S1", pytest.approx(20.0))
