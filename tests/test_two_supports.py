"""Joists on two supports: what is said where they are not, which cures it, and beams in line with a ledger."""

from __future__ import annotations

import re
from typing import Any

import pytest

from deckplan.layout.faults import ON_TWO
from deckplan.layout.model import Kind
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import HOUSE, LEDGER, beam, make_plan, platform, rectangle


def _on_two(*supports: dict[str, Any], outline: list[tuple[float, float]] | None = None) -> Check:
    deck = platform("deck", outline or rectangle(0, 0, 144, 96), 30, *supports)
    (found,) = [c for c in Study(make_plan(deck, house=HOUSE)).checks if c.rule == ON_TWO]
    return found


# Geometry: joists end at the rim, 1-1/2 in within the edge at 96 (PS 20)
@pytest.mark.parametrize(("offset", "by"), [(96.0, '1 1/2"'), (95.5, '1"'), (94.5, ""), (94.0, "")])
def test_a_drop_beam_under_the_rim_is_told_to_move_in(offset: float, by: str) -> None:
    check = _on_two(LEDGER, beam(offset))
    assert check.verdict is (Verdict.FAIL if by else Verdict.PASS)
    if by:
        assert check.reason.endswith(f"; move A-B1 in by {by}: they end short of its middle")


def test_one_joist_rests_and_more_rest() -> None:
    # beside the ledger the deck is 4 in wider for its last 4 ft: the joist there reaches no ledger
    wider = [(0.0, 0.0), (144.0, 0.0), (144.0, 48.0), (148.0, 48.0), (148.0, 96.0), (0.0, 96.0)]
    assert re.search(
        r": A-J\d+ rests on fewer than two supports", _on_two(LEDGER, beam(84.0), outline=wider).reason
    )
    assert ".. rest on fewer than two supports" in _on_two(beam(48.0)).reason


def _round_a_corner(offset: float, style: str) -> Study:
    """A deck round the corner of a house at (0, 0), on a ledger for x over 0, and a beam line beside or in line."""
    outline = [(-120, -120), (0, -120), (0, 0), (240, 0), (240, 144), (-120, 144)]
    walls = [
        {"name": "house", "line": [(0.0, 0.0), (240.0, 0.0)], "ledger": True},
        {"name": "side", "line": [(0.0, 0.0), (0.0, -120.0)], "ledger": True},
    ]
    lines = (LEDGER, beam(12), beam(offset, style=style, build="2-2x10"), beam(252))
    deck = platform("deck", outline, 40, *lines, joists={"size": "2x10"})
    return Study(make_plan(deck, house={"wall": walls}))


@pytest.mark.parametrize("style", ["drop", "flush"])
@pytest.mark.parametrize(
    ("offset", "stops"),
    # Geometry: 3 in of beam and 1-1/2 in of ledger (PS 20): they share no place from 3 in inside the edge at 120 on
    [(120.0, True), (122.9, True), (123.0, False), (126.0, False)],
)
def test_a_beam_in_line_with_a_ledger_ends_where_that_begins(offset: float, stops: bool, style: str) -> None:
    study = _round_a_corner(offset, style)
    beams = [m for m in study.layout.of("deck", Kind.BEAM) if m.support == 2]
    assert max(m.end[0] for m in beams) == pytest.approx(0.0 if stops else 240.0, abs=1.5)
    assert study.loads.lost.full == pytest.approx(0.0)
    marks = {m.mark for m in beams}
    past = [
        m
        for m in study.layout.of("deck", Kind.JOIST)
        if m.start[0] > 0 and marks & {b.on for b in m.bearings}
    ]
    if stops:
        assert not past
        # it does not end short of the corner: the joist there hangs on it
        assert max(m.end[0] for m in beams) == pytest.approx(0.0)


def test_a_beam_line_all_along_a_ledger_is_told_to_go() -> None:
    deck = platform("deck", rectangle(0, 0, 144, 96), 30, LEDGER, beam(0.0), beam(84.0))
    study = Study(make_plan(deck, house=HOUSE))
    (check,) = [c for c in study.checks if c.verdict is Verdict.FAIL]
    assert check.reason.startswith('platform "deck", support 2: the beam line lies along a ledger')


@pytest.mark.parametrize(
    ("wall", "parts"),
    [
        ((0.0, 120.0), ["(10'-0\", 0'-0\") to (20'-0\", 0'-0\")"]),
        ((120.0, 240.0), ["(0'-0\", 0'-0\") to (10'-0\", 0'-0\")"]),
        ((80.0, 160.0), ["(0'-0\", 0'-0\") to (6'-8\", 0'-0\")", "(13'-4\", 0'-0\") to (20'-0\", 0'-0\")"]),
    ],
)
def test_only_the_bare_part_of_an_edge_is_told_to_get_a_beam_which_cures_it(
    wall: tuple[float, float], parts: list[str]
) -> None:
    """Geometry: a house shorter than the deck along it; beyond its wall the joists end loose."""
    house = {"wall": [{"name": "house", "line": [(wall[0], 0.0), (wall[1], 0.0)], "ledger": True}]}

    def check(*more: dict[str, Any]) -> Check:
        deck = platform("deck", rectangle(0, 0, 240, 96), 30, LEDGER, beam(84.0), *more)
        (found,) = [c for c in Study(make_plan(deck, house=house)).checks if c.rule == ON_TWO]
        return found

    where = f"the edge from {parts[0]}" if len(parts) == 1 else f"the edges from {', from '.join(parts)}"
    assert check().reason.endswith(f"; add a beam, flush or set back, along {where}, where they end")
    assert check(beam(1.5, style="flush")).verdict is Verdict.PASS
    assert check(beam(12.0)).verdict is Verdict.PASS


# Geometry: 1-1/2 in of rim and half of 3 in of beam, so that 96 - 87 = 9 in leave 6 in between (PS 20)
@pytest.mark.parametrize(("offset", "left"), [(87.0, '6"'), (69.0, '24"'), (88.25, '4 3/4"')])
def test_a_flush_beam_a_little_behind_the_edge_is_told_to_drop_or_move_out(offset: float, left: str) -> None:
    check = _on_two(LEDGER, beam(offset, style="flush", build="2-2x10"))
    assert check.verdict is Verdict.FAIL
    assert (
        f"nothing holds the far end of what hangs on A-B1, {left} at the most: make A-B1 a drop"
        in check.reason
    )
    assert "add a beam" not in check.reason
    for cure in (beam(offset, build="2-2x10"), beam(94.5, style="flush", build="2-2x10")):
        assert _on_two(LEDGER, cure).verdict is Verdict.PASS


def test_a_flush_beam_far_behind_the_edge_wants_another_there() -> None:
    check = _on_two(LEDGER, beam(68.0, style="flush", build="2-2x10"))
    assert "; add a beam, flush or set back, along the edge from (12'-0\", 8'-0\")" in check.reason


@pytest.mark.parametrize(("offset", "style"), [(96.0, "drop"), (87.0, "flush")])
def test_a_spliced_beam_is_one_line_to_move(offset: float, style: str) -> None:
    check = _on_two(LEDGER, beam(offset, style=style), outline=rectangle(0, 0, 300, 96))
    assert "A-B1 and A-B2" in check.reason
    assert check.reason.count("; ") == 1
