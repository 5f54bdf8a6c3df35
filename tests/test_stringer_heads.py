"""The head of a stringer against its rim: laps by dressed sizes (American Softwood Lumber Standard PS 20)."""

from __future__ import annotations

import re
from typing import Any

import pytest

from deckplan.buy.lumber import count_lumber
from deckplan.draw.flight_view import flight_view
from deckplan.layout.flight_heads import HEAD, LAP_MIN, lap_on
from deckplan.layout.model import Kind, Member
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle


def down_to_ground(elevation: float, size: str, risers_of: str = "y", **more: Any) -> Plan:
    """A free-standing deck under 1 in boards with stringer steps at its right edge."""
    materials = {
        "decking": {"kind": "composite", "thickness": 1.0, "width": 5.5, "gap": 0.1875, "spacing_step": 16.0}
    }
    return make_plan(
        platform("deck", rectangle(0, 0, 120, 144), elevation, beam(12), beam(100),
                 joists={"direction": risers_of, "size": size}),
        flight=[{"from": "deck", "to": "ground", "along": ((120.0, 48.0), (120.0, 96.0)), "kind": "stringer", **more}],
        materials=materials,
    )  # fmt: skip


def head_of(study: Study) -> Check:
    (check,) = [check for check in study.checks if check.rule == HEAD]
    return check


@pytest.mark.parametrize(("size", "deep"), [("2x6", 5.5), ("2x8", 7.25), ("2x10", 9.25)])
def test_a_shallow_rim_gets_a_hanger_board(size: str, deep: float) -> None:
    # By hand: 28 in are 4 x 7; the stringer's edge lies 7 + 1 = 8 in under the deck, a 2x12 board, flush with the rim
    # 1 in under it, reaches to 12-1/4 in: 4-1/4 in. The bare rim reaches to 1 + its depth: 6-1/2, 8-1/4, 10-1/4 in.
    study = Study(down_to_ground(28.0, size))
    (board,) = [m for m in study.layout.members if m.kind is Kind.HEADER]
    assert (board.mark, board.size, board.length) == ("S1-H1", "2x12", 48.0)
    assert board.top == pytest.approx(27.0)
    assert {board.start[0], board.end[0]} == {120.75}  # 1-1/2 in thick, against the rim's face at 120
    check = head_of(study)
    assert check.verdict is Verdict.PASS
    assert check.demand == pytest.approx(4.25)
    assert "required" in check.reason
    words = next(note.text for note in study.notes if "S1-H1" in note.text)
    bare = 1 + deep - 8
    assert ("nothing of" in words) == (bare <= 0)
    hangers = [f for f in study.flights.of(0).fixings if f.kind == "hanger"]
    assert {f.joins[1] for f in hangers} == {"S1-H1"}
    # one heavy step at any head: 300 lb and the dead load of 15-1/2 x 33 / 2 in, 1.776 sq ft at 10 psf: 317.8 lb
    assert all(f.force == pytest.approx(317.8, abs=0.1) for f in hangers)


def test_a_deep_rim_needs_none() -> None:
    # By hand: 2x12 rim: 12-1/4 - 8 = 4-1/4 in, over 3-1/2
    study = Study(down_to_ground(28.0, "2x12"))
    assert not [m for m in study.layout.members if m.kind is Kind.HEADER]
    assert head_of(study).demand == pytest.approx(4.25)
    assert head_of(study).reason == ""
    stringer = next(m for m in study.layout.members if m.kind is Kind.STRINGER)
    assert stringer.start[0] == pytest.approx(120.0)


def test_the_board_just_reaches_at_the_tallest_riser() -> None:
    # By hand: riser 7-3/4 in: 11-1/4 - 7-3/4 = 3-1/2 in, just enough (IRC R311.7.5.1 for the riser); on an 11 in tread
    # it would leave too thin a throat
    study = Study(down_to_ground(15.5, "2x6", tread=10.0))
    assert head_of(study).demand == pytest.approx(LAP_MIN)
    assert head_of(study).verdict is Verdict.PASS


def test_no_board_where_it_would_stand_in_the_landing() -> None:
    # By hand: 10 in: a board would reach to 12-1/4 in under the deck. 2x6 rim: 6-1/2 - (5 + 1) = 1/2 in
    study = Study(down_to_ground(10.0, "2x6"))
    assert not [m for m in study.layout.members if m.kind is Kind.HEADER]
    check = head_of(study)
    assert check.verdict is Verdict.FAIL
    assert check.demand == pytest.approx(0.5)
    assert "drop header" in check.reason
    assert "deeper rim" in check.reason


def test_a_lap_ends_at_the_lower_of_both_edges() -> None:
    # By hand: a head from 20 down to 15 in against a rim from 27 down to 13 in shares its own 5 in
    rim = Member("A-R1", "deck", Kind.RIM, "x", (0.0, 0.0), (1.0, 0.0), 27.0, 1.5, 14.0)
    assert lap_on(20.0, 5.0, rim) == pytest.approx(5.0)
    assert lap_on(10.0, 5.0, rim) == pytest.approx(-3.0)


def test_the_board_is_bought_and_drawn() -> None:
    study = Study(down_to_ground(28.0, "2x8"))
    items = count_lumber(study.layout, study.plan.materials)
    # stringers, 4 ft wide at 16 in at most: 4 of them, and the board
    counted = ", ".join(item.basis for item in items if item.item.startswith("2x12"))
    assert sum(map(int, re.findall(r"(?:stringer|header): (\d+)", counted))) == 5
    assert any(part.mark == "S1-H1" for part in flight_view(study, 0).shapes)
