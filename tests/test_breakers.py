"""Breaker boards and the first row as the plan asks for them."""

from __future__ import annotations

from typing import Any

import pytest
from shapely import Polygon

from deckplan.buy.takeoff import cut_lots
from deckplan.errors import InputError
from deckplan.layout.model import Kind
from deckplan.plan.file import parse_plan
from deckplan.plan.model import Plan
from deckplan.plan.saving import plan_to_toml
from deckplan.study import Study
from tests.decks import beam, make_plan, platform, rectangle


def deck(width: float, depth: float = 120.0, **boards: Any) -> Plan:
    lines = (beam(12.0), beam(depth - 12.0))
    joists = {"size": "2x10", "start": 0.0}
    one = platform("deck", rectangle(0, 0, width, depth), 30.0, *lines, boards=boards, joists=joists)
    return make_plan(one)


def middles(study: Study) -> list[float]:
    return sorted(Polygon(board.outline).centroid.x for board in study.boards["deck"].of("breaker"))


@pytest.mark.parametrize(
    ("width", "breaker", "count"), [(180, "auto", 0), (180, 1, 1), (180, 2, 2), (288, "auto", 1)]
)
def test_as_many_breakers_as_the_plan_asks_for(width: float, breaker: Any, count: int) -> None:
    """Boards come up to 16 ft (common practice): 15 ft need no breaker, 24 ft need one."""
    study = Study(deck(width, breaker=breaker))
    found = middles(study)
    assert len(found) == count
    for at in (
        found
    ):  # one side lies over the joint between a joist at 16 in and a ply: 1.5 / 2 + (5.5 + 0.125) / 2 on
        assert (at - 3.5625) % 16 == pytest.approx(0)
    assert not study.boards["deck"].faults
    # what the boards end on is doubled, and the frame has it; boards, breakers and screws are counted
    doubled = [n for n in study.boards.supports_needed if n.kind != "blocking"]
    assert len(doubled) == 2 * count
    there = {m.mark for m in study.built.of("deck", Kind.JOIST)}
    assert {n.mark for n in doubled} <= there
    bought = [
        piece.mark for lot in cut_lots(study) for piece in lot.cutting.pieces if lot.item.endswith("breaker")
    ]
    assert len(bought) == count


def test_breakers_where_the_plan_puts_them() -> None:
    study = Study(deck(288, breaker=[100.0, 190.0]))
    assert middles(study) == pytest.approx([100.0, 190.0])
    rows = {round(board.length, 3) for board in study.boards["deck"].of("field")}
    # by hand: less half a breaker of 5-1/2 in and a gap of 1/8 in at each
    assert rows == {100 - 2.875, 90 - 5.75, 98 - 2.875}
    # along the edge across the joists too
    turned = platform("deck", rectangle(10, 20, 130, 308), 30.0, beam(12.0), beam(108.0), boards={"breaker": [100.0]},
                      joists={"direction": "x"})  # fmt: skip
    (breaker,) = Study(make_plan(turned)).boards["deck"].of("breaker")
    assert Polygon(breaker.outline).centroid.y == pytest.approx(120.0)


def test_no_breakers_make_seams_that_change_place() -> None:
    study = Study(deck(288, breaker=0))
    assert not middles(study)
    assert {seam.kind for seam in study.boards["deck"].seams} == {"butt"}
    assert max(board.length for board in study.boards.all) <= 192.01


def test_too_few_breakers_are_a_fault() -> None:
    assert "longer than the longest stock" in Study(deck(420, breaker=1)).boards["deck"].faults[0]


def test_a_remedy_can_be_put_into_the_plan() -> None:
    """By hand, 144 in of 5-1/2 in boards with 1/8 in gaps: 25 rows are 140.5 in, 3.375 in are left, no sliver; 141.5 in
    leave 0.875 in, a sliver under a third of a board (common practice)."""
    assert not [n for n in Study(deck(144, 144.0)).all_notes if "sliver" in n.text]
    study = Study(deck(144, 141.5))
    (note,) = [n.text for n in study.all_notes if "sliver" in n.text]
    assert "boards.first" in note
    start = next(r for r in study.boards["deck"].remedies if r.kind == "start")
    better = Study(deck(144, 141.5, first=start.value)).boards["deck"]
    assert better.first == pytest.approx(start.first)
    assert better.last == pytest.approx(start.last)
    assert not better.slivers
    assert not better.remedies
    assert not [n for n in Study(deck(144, 141.5, first=start.value)).all_notes if "sliver" in n.text]


TEXT = """
[[platform]]
name = "a"
outline = [["0 ft", "0 ft"], ["24 ft", "0 ft"], ["24 ft", "9 ft"], ["0 ft", "9 ft"]]
elevation = "20 in"
boards = { BOARDS }
[[platform.support]]
kind = "beam"
offset = "4 ft"
"""


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ('breaker = "auto"', "auto"),
        ("breaker = 2", 2),
        ("breaker = 0", 0),
        ('breaker = ["8 ft", "16 ft"]', (96.0, 192.0)),
    ],
)
def test_breakers_are_read_and_saved(written: str, read: Any) -> None:
    plan = parse_plan(TEXT.replace("BOARDS", f'{written}, first = "3 1/2 in"'))
    assert plan.platforms[0].boards.breaker == read
    assert plan.platforms[0].boards.first == 3.5
    assert parse_plan(plan_to_toml(plan)) == plan


@pytest.mark.parametrize(
    ("written", "place", "expected"),
    [
        ("breaker = 25", "boards.breaker", "from 0 to 24"),
        ('breaker = "two"', "boards.breaker", "a count"),
        ('breaker = ["16 ft", "8 ft"]', "boards.breaker", "rising"),
        ('breaker = ["25 ft"]', "boards.breaker", 'under 288"'),
        ('first = "6 in"', "boards.first", "width of a board"),
        ('first = "0 in"', "boards.first", "over 0"),
    ],
)
def test_what_makes_no_sense_is_named(written: str, place: str, expected: str) -> None:
    with pytest.raises(InputError) as error:
        parse_plan(TEXT.replace("BOARDS", written))
    (problem,) = error.value.problems
    assert place in problem.place
    assert expected in problem.expected
