"""Platforms against the house: a deck ends at its walls. Geometry; an inch and a half is common practice."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from deckplan.checks.house import RULE, check_house
from deckplan.plan.file import read_plan
from deckplan.verdict import Check, Verdict
from tests.decks import Corner, beam, make_plan, platform, rectangle

DEMOS = sorted((Path(__file__).parents[1] / "data" / "plans").glob("*.toml"))
RING = [(0.0, 0.0), (240.0, 0.0), (240.0, -240.0), (0.0, -240.0), (0.0, 0.0)]


def wall(*line: Corner, name: str = "south wall") -> dict[str, Any]:
    return {"name": name, "line": list(line)}


def check(outline: list[Corner], *walls: dict[str, Any]) -> list[Check]:
    deck = platform("deck", outline, 30.0, beam(12), beam(60))
    return check_house(make_plan(deck, house={"wall": list(walls)}))


@pytest.mark.parametrize(("inside", "fails"), [(0.0, False), (1.5, False), (1.6, True), (12.0, True)])
def test_a_wall_along_the_edge_may_lie_an_inch_and_a_half_inside(inside: float, fails: bool) -> None:
    (found,) = check(rectangle(0, -inside, 240, 144), wall((-60, 0), (300, 0)))
    assert (found.rule, found.verdict) == (RULE, Verdict.FAIL if fails else Verdict.PASS)
    assert (found.demand or 0) == pytest.approx(inside if fails else 0.0)


def test_a_wall_through_the_middle_is_named_with_where_it_runs() -> None:
    (found,) = check(rectangle(24, 0, 240, 144), wall((0, 72), (480, 72), name="garden wall"))
    assert found.verdict is Verdict.FAIL
    assert found.demand == pytest.approx(72)
    assert 'wall "garden wall" runs through platform "deck"' in found.reason
    assert "from (2'-0\", 6'-0\") to (20'-0\", 6'-0\")" in found.reason
    assert "end the outline at the wall" in found.reason


@pytest.mark.parametrize(("end", "fails"), [(144.0, False), (142.5, False), (140.0, True)])
def test_a_wall_that_ends_in_a_deck(end: float, fails: bool) -> None:
    (found,) = check(rectangle(0, 0, 240, 144), wall((120, 300), (120, end)))
    assert (found.verdict is Verdict.FAIL) is fails


def test_a_deck_in_the_corner_of_two_walls_touches_both() -> None:
    (found,) = check(rectangle(0, 0, 240, 144), wall((0, 300), (0, 0), (300, 0)))
    assert found.verdict is Verdict.PASS
    (slanted,) = check([(0, 0), (240, 0), (0, 240)], wall((240, 0), (0, 240)))
    assert slanted.verdict is Verdict.PASS


def test_no_deck_stands_inside_a_closed_house() -> None:
    (found,) = check(rectangle(48, -168, 192, -24), wall(*RING))
    assert found.verdict is Verdict.FAIL
    assert 'platform "deck" lies inside the house' in found.reason
    # walls that touch one another close a house as well as one that comes round
    parts = [wall(*pair, name=f"wall {n}") for n, pair in enumerate(pairwise(RING))]
    (found,) = check(rectangle(48, -168, 192, -24), *parts)
    assert found.verdict is Verdict.FAIL
    # filling it to its walls is inside too; outside, against a wall, is where decks stand; three walls close nothing
    assert check(rectangle(0, -240, 240, 0), wall(*RING))[0].verdict is Verdict.FAIL
    assert check(rectangle(0, 0, 240, 144), wall(*RING))[0].verdict is Verdict.PASS
    assert check(rectangle(48, -168, 192, -24), wall(*RING[:4]))[0].verdict is Verdict.PASS


def test_a_court_within_the_house_is_outdoors() -> None:
    court = [(60.0, -60.0), (180.0, -60.0), (180.0, -180.0), (60.0, -180.0), (60.0, -60.0)]
    rings = wall(*RING), wall(*court, name="court")
    assert check(rectangle(60, -180, 180, -60), *rings)[0].verdict is Verdict.PASS
    assert check(rectangle(0, -50, 100, 0), *rings)[0].verdict is Verdict.FAIL


def test_without_walls_nothing_is_asked() -> None:
    assert not check(rectangle(0, 0, 240, 144))


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_the_demo_plans_end_at_their_walls(path: Path) -> None:
    assert all(found.verdict is Verdict.PASS for found in check_house(read_plan(path)))
