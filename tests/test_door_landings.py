"""Landings before house doors: as wide as the door, 36 in deep, nothing on them (IRC R311.3, from memory)."""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.checks.door_landings import DEPTH, HEAD, KEPT, WIDTH
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import LEDGER, beam, make_plan, platform, rectangle

WALL = {"name": "house", "line": [(-600.0, 0.0), (1200.0, 0.0)], "ledger": True}


def door(x: float, sill: float = 31.0) -> dict[str, Any]:
    return {"name": "kitchen", "at": (x, 0.0), "width": 36.0, "sill": sill}


def deck(name: str, x0: float, x1: float, elevation: float, depth: float = 144.0) -> dict[str, Any]:
    frame = {"joists": {"size": "2x8"}}
    return platform(name, rectangle(x0, 0, x1, depth), elevation, LEDGER, beam(depth - 8), **frame)


def study(
    *platforms: dict[str, Any],
    opening: dict[str, Any],
    flight: list[dict[str, Any]] | None = None,
    walls: tuple[dict[str, Any], ...] = (),
) -> Study:
    return Study(
        make_plan(*platforms, house={"wall": [WALL, *walls], "door": [opening]}, flight=flight or [])
    )


def verdicts(of: Study, rule: str) -> list[tuple[float | None, Verdict]]:
    return [(check.demand, check.verdict) for check in of.checks if check.rule == rule]


def asked(of: Study) -> list[str]:
    return [note.text for note in of.notes if note.level == "ask" and "opens onto nothing" in note.text]


@pytest.mark.parametrize("flight", [False, True])
@pytest.mark.parametrize(("x", "width"), [(173.0, 36.0), (174.0, 36.0), (174.25, 35.75), (192.0, 18.0)])
def test_a_landing_is_as_wide_as_its_door(x: float, width: float, flight: bool) -> None:
    # the level ends at x = 192; IRC R311.3, from memory
    ways = [{"from": "kitchen", "to": "deck"}] if flight else []
    found = study(deck("deck", 0, 192, 30.0), opening=door(x), flight=ways)
    verdict = Verdict.PASS if width == 36.0 else Verdict.FAIL
    assert verdicts(found, WIDTH) == [(pytest.approx(width), verdict)]


def test_levels_of_one_height_are_one_landing() -> None:
    one, other = deck("deck", 0, 192, 30.0), deck("more", 192, 384, 30.0)
    assert verdicts(study(one, other, opening=door(192)), WIDTH) == [(36.0, Verdict.PASS)]
    lower = deck("more", 192, 384, 23.0)
    assert verdicts(study(one, lower, opening=door(192)), WIDTH) == [(18.0, Verdict.FAIL)]


@pytest.mark.parametrize(("depth", "fails"), [(24.0, True), (35.75, True), (36.0, False), (37.0, False)])
def test_a_landing_is_deep_enough_without_a_flight(depth: float, fails: bool) -> None:
    found = study(deck("deck", 0, 192, 30.0, depth), opening=door(96))
    verdict = Verdict.FAIL if fails else Verdict.PASS
    assert verdicts(found, DEPTH) == [(pytest.approx(min(depth, 36.0)), verdict)]


def stepped(start: float, x: float = 60.0) -> Study:
    """A flight of four risers comes down from x = 96 to 63 onto the level of a door at x = 42 to 78."""
    low, up = deck("low", 0, 96, 30.0), deck("up", 96, 240, 60.0)
    way = {"from": "up", "to": "low", "along": [(96.0, start), (96.0, start + 42)]}
    return study(low, up, opening=door(x), flight=[way])


@pytest.mark.parametrize(
    ("start", "clear"), [(6.0, 6.0), (35.75, 35.75), (36.0, 36.0), (40.0, 36.0)], ids=str
)
def test_no_flight_stands_on_the_landing_of_a_door(start: float, clear: float) -> None:
    # 36 in: IRC R311.7.6 and R311.3, from memory
    found = stepped(start)
    verdict = Verdict.PASS if clear == 36.0 else Verdict.FAIL
    assert verdicts(found, KEPT) == [(pytest.approx(clear), verdict)]
    reasons = [check.reason for check in found.checks if check.rule == KEPT]
    assert ("flight S1 stands" in reasons[0]) is (clear < 36.0)


def test_a_flight_beside_a_door_is_not_before_it() -> None:
    assert verdicts(stepped(6.0, x=30.0), KEPT) == [(36.0, Verdict.PASS)]


def test_the_flight_that_serves_a_door_stands_before_it() -> None:
    ways = [{"from": "kitchen", "to": "deck"}]
    found = study(deck("deck", 0, 192, 30.0), opening=door(96, 42.0), flight=ways)
    assert verdicts(found, KEPT) == [(36.0, Verdict.PASS)]


@pytest.mark.parametrize(("out", "fails"), [(35.0, True), (37.0, False)])
def test_no_wall_stands_before_a_door(out: float, fails: bool) -> None:
    wing = {"name": "wing", "line": [(60.0, out), (132.0, out)]}
    found = study(deck("deck", 0, 192, 30.0), opening=door(96), walls=(wing,))
    assert verdicts(found, KEPT) == [(min(out, 36.0), Verdict.FAIL if fails else Verdict.PASS)]


@pytest.mark.parametrize(("sill", "asks"), [(7.0, False), (7.75, False), (8.0, True), (37.0, True)])
def test_a_door_onto_nothing_is_asked_about(sill: float, asks: bool) -> None:
    # a step of 7-3/4 in: IRC R311.3.2, from memory; the ground lies at 0
    texts = asked(study(deck("deck", 0, 192, 30.0), opening=door(400, sill)))
    assert len(texts) == asks
    assert all('door "kitchen"' in text for text in texts)


@pytest.mark.parametrize(("over", "clears"), [(88.0, False), (88.25, True), (94.0, True)])
def test_a_level_over_the_head_of_a_door_is_not_before_it(over: float, clears: bool) -> None:
    # boards of 1 in and joists of 7-1/4 in over a usual head of 80 in (common practice)
    found = study(deck("deck", 0, 192, 2.0 + over), opening=door(96, 2.0))
    verdict = Verdict.PASS if clears else Verdict.FAIL
    assert verdicts(found, HEAD) == [(pytest.approx(over - 8.25), verdict)]
    assert not verdicts(found, "door step")
    assert not verdicts(found, WIDTH)
    assert not asked(found)


def test_a_level_lower_than_the_head_of_a_door_is_before_it() -> None:
    found = study(deck("deck", 0, 192, 81.75), opening=door(96, 2.0))
    assert [verdict for _, verdict in verdicts(found, "door step")] == [Verdict.FAIL]
    assert not verdicts(found, HEAD)
