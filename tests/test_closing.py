"""What closes the edges of a platform whose joists run at an angle: every edge has its rim, every mark its joist."""

from __future__ import annotations

from itertools import pairwise

import pytest
from shapely import LineString, Polygon

from deckplan.layout.frame import Frame
from deckplan.layout.model import Kind
from deckplan.study import Study
from tests.decks import HOUSE, LEDGER, Corner, beam, make_plan, platform, rectangle

ELL: list[Corner] = [(0, 0), (227.86, 0), (227.86, 39.36), (93.78, 39.36), (93.78, 184.34), (0, 184.34)]


@pytest.mark.parametrize("outline", [rectangle(0, 0, 192, 144), ELL], ids=["rectangle", "L"])
@pytest.mark.parametrize("x", [0.0, 260.0, 520.0])
@pytest.mark.parametrize("direction", [35.0, 45.0, 55.0, 135.0])
@pytest.mark.parametrize("held", [True, False])
def test_every_edge_is_closed_and_every_mark_has_its_joist(
    outline: list[Corner], x: float, direction: float, held: bool
) -> None:
    outline = [(a + x, b) for a, b in outline]
    supports = [LEDGER, beam(120.0)] if held else [beam(40.0), beam(120.0)]
    deck = platform("p", outline, 36.0, *supports, joists={"direction": direction, "spacing": 24.0})
    study = Study(make_plan(deck, house=HOUSE))
    closed = [
        LineString(m.line).buffer(1.6, cap_style="square")
        for m in study.layout.of("p", Kind.RIM, Kind.LEDGER)
    ]
    for a, b in pairwise([*outline, outline[0]]):
        # a corner is somebody's: of 1-1/2 in rims (PS 20), each end may be the neighbour's
        edge = LineString([a, b])
        assert max(edge.intersection(piece).length for piece in closed) >= edge.length - 4.0, (a, b)
    frame = Frame.of(study.plan.platforms[0])
    start = study.plan.platforms[0].joists.start
    assert isinstance(start, float)
    there = {round(frame.local(joist.start)[0], 2) for joist in study.layout.of("p", Kind.JOIST)}
    for count in range(1, int((frame.width - start) // 24.0) + 1):
        u = start + count * 24.0
        # a corner that leaves less than 6 in between its rims gets none (common practice); those take 2-1/8 in each
        if 12.0 < u < frame.width - 12.0 and max(high - low for low, high in frame.along_at(u)) > 16.0:
            assert min(abs(u - at) for at in there) < 1.6, u


@pytest.mark.parametrize("lean", [0.108, 0.3, 1.0])
@pytest.mark.parametrize("x", [96.0, 97.0, 95.0])
def test_an_edge_that_leans_a_hair_off_the_joists_keeps_its_rim_inside(lean: float, x: float) -> None:
    """Within 1/4 in, a tape's slack (common practice), edges run along the joists; farther they have a rim."""
    outline: list[Corner] = [(0, 0), (96, 0), (96 + lean, 38), (x + lean, 97), (0, 120)]
    deck = platform("p", outline, 36.0, beam(20.0), beam(90.0), joists={"direction": "y", "spacing": 16.0})
    study = Study(make_plan(deck))
    shape = Polygon(outline).buffer(0.25)
    for member in study.layout.of("p", Kind.RIM, Kind.JOIST):
        assert shape.covers(LineString(member.line)), member


@pytest.mark.parametrize("wide", [5.0, 7.0, 8.5, 9.5, 12.0])
def test_a_strip_too_narrow_for_joists_gets_blocks(wide: float) -> None:
    """Boards that run along a narrow leg lie on something at least every 16 in."""
    outline: list[Corner] = [(0, 0), (wide, 0), (wide, 72), (60, 72), (60, 168), (0, 168)]
    deck = platform("p", outline, 36.0, beam(50.0), joists={"direction": "x", "spacing": 16.0})
    study = Study(make_plan(deck))
    leg = LineString([(wide / 2, 0), (wide / 2, 168)])
    across = [LineString(j.line) for j in study.layout.of("p", Kind.JOIST)]
    under = sorted(leg.intersection(line).y for line in across if line.intersects(leg))
    assert max(b - a for a, b in pairwise([0.0, *under, 168.0])) <= 16.0 + 1e-6


@pytest.mark.parametrize("offset", [1.4, 1.5, 2.9, 3.0, 3.1, 4.0, 5.4, 5.6, 9.0])
def test_a_flush_beam_near_a_rim_stands_in_no_joist(offset: float) -> None:
    """Dressed sizes after PS 20: a rim of 1-1/2 in, then a beam of two plies from wherever its line lies."""
    deck = platform(
        "p",
        rectangle(0, 0, 192, 120),
        36.0,
        beam(offset, style="flush"),
        beam(90.0),
        joists={"direction": "y", "spacing": 16.0},
    )
    study = Study(make_plan(deck))
    (low,) = [b for b in study.layout.of("p", Kind.BEAM) if b.start[1] < 20.0]
    body = LineString(low.line).buffer(low.width / 2 - 0.01, cap_style="flat")
    for joist in study.layout.of("p", Kind.JOIST):
        assert not body.intersects(LineString(joist.line)), joist


def test_a_joist_beside_a_blunt_re_entrant_corner_runs_to_its_own_rim() -> None:
    """The rim round the corner runs almost along the joist: drawn on past its mitre it would cut 53 in away."""
    outline: list[Corner] = [
        (0.0, 114.9), (48.25, 79.6), (51.3, 15.2), (110.3, 0.0), (178.5, 81.8), (163.0, 174.0), (75.0, 176.0),
    ]  # fmt: skip
    lines = beam(105.0), beam(150.0)
    deck = platform("p", outline, 36.0, *lines, joists={"direction": "y", "spacing": 24.0})
    study = Study(make_plan(deck))
    (joist,) = [j for j in study.layout.of("p", Kind.JOIST) if abs(j.start[0] - 48.0) < 0.01]
    assert min(joist.start[1], joist.end[1]) == pytest.approx(79.8 + 1.5 * 59.8 / 48.25, abs=0.5)
