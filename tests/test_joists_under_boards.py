"""Joists under borders and seams, and round openings: which wood the sums count, and how loads get round a hole."""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.layout.model import Kind
from deckplan.study import Study
from deckplan.verdict import Check
from tests.decks import beam, make_plan, platform, rectangle


def deck(width: float, border: int = 0, **more: Any) -> Study:
    joists = {"direction": "y", "size": "2x10", "spacing": 16.0, "start": 0.0}
    lines = [beam(at, build="3-2x10", posts=5) for at in (12, 132)]
    outline, boards = rectangle(0, 0, width, 144), {"border": border}
    only = platform("deck", outline, 24.0, *lines, joists=joists, boards=boards, **more)
    return Study(make_plan(only))


def bending(study: Study) -> list[Check]:
    marks = {m.mark for m in study.layout.members if m.kind is Kind.JOIST}
    return [c for c in study.checks if c.rule == "bending in the span" and c.mark in marks]


@pytest.mark.parametrize(
    ("width", "border", "said"),
    [
        (192.0, 0, ""),
        (193.0, 0, "seams"),
        (192.0, 1, "border"),
    ],  # wood boards come up to 16 ft (common practice)
)
def test_added_plies_are_left_out_and_said_so(width: float, border: int, said: str) -> None:
    study = deck(width, border)
    checks = bending(study)
    assert checks
    for check in checks:
        lines = [str(step) for step in check.steps if "plies that count" in step.words]
        assert len(lines) == (1 if said else 0)
        assert all(said in line for line in lines)
    # they are there, only not counted: one ply of 2x10, S 21.39 in3 (NDS Supplement 2018 Table 1B)
    added = [m for m in study.built.members if m.mark.startswith("A-N") and m.kind is Kind.JOIST]
    assert bool(added) is bool(said)
    assert all(any("21.391" in str(step) for step in check.steps) for check in checks)


def test_a_border_changes_no_demand_and_no_capacity() -> None:
    plain, framed = (bending(deck(192.0, border)) for border in (0, 1))
    assert [(c.mark, c.demand, c.capacity) for c in plain] == [(c.mark, c.demand, c.capacity) for c in framed]


def test_loads_get_round_an_opening_by_headers_and_doubled_trimmers() -> None:
    # A hole 32 in wide and 24 in deep in the middle of 160 x 144 in. Joists at 64 + 16 and so on stop at it, hang on a
    # header, which hangs on the trimmers, two plies each. What the boards carry reaches the beams to the pound.
    hole = [{"kind": "hatch", "outline": rectangle(64, 60, 96, 84)}]
    study = deck(160.0, opening=hole)
    headers = [m for m in study.layout.members if m.kind is Kind.HEADER]
    assert len(headers) == 2
    loads, area = study.loads, (160 * 144 - 32 * 24) / 144
    arrived = sum(force.full for force in loads.posts.values())
    assert arrived == pytest.approx((loads.areas["deck"].dead + 40) * area, rel=1e-6)
    for header in headers:
        assert header.size == "2-2x10"
        assert {b.manner for b in header.bearings} == {"hanger"}
        put_on = sum(d.force.full for d in loads.onto[header.mark])
        assert put_on > 0
        handed = loads.out_of[header.mark]
        assert sum(d.force.full for d in handed) == pytest.approx(put_on)
        for delivery in handed:
            trimmer = study.layout.by_mark[delivery.lower]
            assert getattr(trimmer, "size", "") == "2-2x10"
            # its own strip as a line, the header as a point where it hangs
            points = study.loads.demands[delivery.lower].points
            assert any(abs(p[1] - delivery.force.dead) < 1e-6 for p in points)
