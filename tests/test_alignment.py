"""Joists of levels that meet end to end stand in line, or somebody is told why they do not (common practice)."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckplan.layout.alignment import MEETING, alignment_notes, starts_of
from deckplan.plan.model import Plan
from deckplan.study import Study
from tests.decks import beam, make_plan, platform, rectangle


def level(name: str, x0: float, y0: float, x1: float, y1: float, **joists: Any) -> dict[str, Any]:
    return platform(name, rectangle(x0, y0, x1, y1), 30.0, beam(12.0), joists=joists)


def marks(plan: Plan) -> dict[str, set[float]]:
    """Return the marks on centre of every platform across its joists, which run along y [in]."""
    found = {}
    for one, start in zip(plan.platforms, starts_of(plan), strict=True):
        low, high = min(x for x, _ in one.outline), max(x for x, _ in one.outline)
        spacing = one.joists.spacing
        count = int((high - low - start) // spacing)
        found[one.name] = {round(low + start + k * spacing, 3) for k in range(count + 1)}
    return found


def notes(plan: Plan) -> list[str]:
    return [note.text for note in alignment_notes(plan)]


def test_one_level_below_two_lines_up_with_both() -> None:
    # the second stands 6 in off the first: from its own edge its joists would stand 6 in off the line of all others
    plan = make_plan(level("a", 0, 0, 120, 96), level("b", 126, 0, 240, 96), level("c", 0, 96, 240, 192))
    found = marks(plan)
    assert found["a"] <= found["c"]
    assert found["b"] <= found["c"]
    assert notes(plan) == []


def test_a_start_that_the_plan_gives_holds_whichever_level_comes_first() -> None:
    plan = make_plan(level("a", 0, 0, 120, 96), level("b", 3, 96, 120, 192, start=5.0))
    assert starts_of(plan) == (8.0, 5.0)
    assert notes(plan) == []


def test_starts_that_do_not_line_up_are_reported_with_the_one_that_does() -> None:
    both = [level("a", 0, 0, 120, 96, start=5.0), level("b", 0, 96, 120, 192, start=0.0)]
    (text,) = notes(make_plan(*both))
    assert '"a" and "b"' in text
    assert 'stand 5" off one line' in text
    assert 'a joists.start of 5" in "b"' in text
    both[1] = level("b", 0, 96, 120, 192, start=5.0)
    assert notes(make_plan(*both)) == []


@pytest.mark.parametrize(("off", "told"), [(1 / 32, 0), (1 / 16, 0), (1 / 8, 1)])
def test_a_sixteenth_is_in_line(off: float, told: int) -> None:
    plan = make_plan(level("a", 0, 0, 120, 96, start=5.0), level("b", 0, 96, 120, 192, start=5.0 + off))
    assert len(notes(plan)) == told


@pytest.mark.parametrize(("first", "second"), [(12.0, 24.0), (24.0, 12.0), (8.0, 24.0), (8.0, 16.0)])
def test_multiples_line_up_at_every_second_or_third(first: float, second: float) -> None:
    plan = make_plan(level("a", 0, 0, 120, 96, spacing=first), level("b", 7, 96, 120, 192, spacing=second))
    found = marks(plan)
    fine, coarse = ("a", "b") if first < second else ("b", "a")
    assert {at for at in found[coarse] if at > 7} <= found[fine]
    assert notes(plan) == []


def test_a_coarse_level_lines_up_with_a_coarse_one_past_a_fine_one() -> None:
    # 24, 12 and 24 in around one corner: the fine one may take either of two lines, the coarse ones must agree
    plan = make_plan(
        level("a", 0, 0, 120, 96, spacing=24.0, start=3.0),
        level("b", 0, 96, 60, 192, spacing=12.0),
        level("c", 60, 96, 120, 192, spacing=24.0),
        level("d", 30, 192, 120, 260, spacing=24.0),
    )
    found = marks(plan)
    assert {at for at in found["a"] if at > 60} == found["c"]
    assert {at for at in found["d"] if at > 60} == found["c"]
    assert notes(plan) == []


@pytest.mark.parametrize(("spacing", "told"), [(16.0, "are spaced 24 in and 16 in"), (9.0, "are spaced")])
def test_spacings_that_never_line_up_are_reported(spacing: float, told: str) -> None:
    plan = make_plan(level("a", 0, 0, 120, 96, spacing=24.0), level("b", 0, 96, 120, 192, spacing=spacing))
    (text,) = notes(plan)
    assert told in text


@pytest.mark.parametrize(
    ("gap", "meets"), [(0.0, True), (3.6, True), (MEETING, True), (MEETING + 0.1, False)]
)
def test_a_small_gap_between_outlines_is_a_meeting(gap: float, meets: bool) -> None:
    plan = make_plan(level("a", 0, 0, 120, 96), level("b", 36, 96 + gap, 156, 192))
    assert starts_of(plan)[1] == (12.0 if meets else 0.0)  # 36 + 12 = 3 x 16


def test_levels_one_over_another_do_not_meet() -> None:
    # edges 3 in apart, but both surfaces lie on the same side
    plan = make_plan(level("a", 0, 0, 120, 96), level("b", 20, 3, 100, 60, start=5.0))
    assert notes(plan) == []


@settings(max_examples=60, deadline=None)
@given(
    widths=st.lists(st.integers(30, 200), min_size=1, max_size=4),
    below=st.lists(st.integers(30, 200), min_size=1, max_size=4),
    spacing=st.sampled_from([12.0, 16.0, 19.2, 24.0]),
    first=st.one_of(st.just("auto"), st.floats(0.0, 11.0)),
)
def test_rows_of_levels_at_one_spacing_all_line_up(
    widths: list[int], below: list[int], spacing: float, first: str | float
) -> None:
    levels, x = [], 0.0
    for at, width in enumerate(widths):
        start = {"start": first} if at == 0 else {}
        levels.append(level(f"a{at}", x, 0, x + width, 96, spacing=spacing, **start))
        x += width
    x = 0.0
    for at, width in enumerate(below):
        levels.append(level(f"b{at}", x, 96, x + width, 192, spacing=spacing))
        x += width
    assert notes(make_plan(*levels)) == []


def boarded(
    name: str, x0: float, y0: float, x1: float, y1: float, high: float = 30.0, **boards: Any
) -> dict[str, Any]:
    joists = {"size": "2x10"}
    lines = (beam(12.0), beam(y1 - y0 - 12.0))
    return platform(name, rectangle(x0, y0, x1, y1), high, *lines, joists=joists, boards=boards)


def breakers(study: Study, name: str) -> list[float]:
    return [sum(x for x, _ in b.outline) / 4 for b in study.boards[name].of("breaker")]


def said_of_boards(study: Study) -> list[str]:
    return [note.text for note in study.all_notes if note.text.startswith(("seams of", "rows of"))]


def test_breakers_of_neighbours_line_up_where_stock_allows() -> None:
    # 30 ft and 26 ft 9 in of boards of at most 16 ft (common practice), 39 in apart at one end: each has one breaker,
    # their middles 19-1/2 in from each other
    study = Study(make_plan(boarded("a", 0, 0, 360, 96), boarded("b", 39, 96, 360, 192, 24.0)))
    assert breakers(study, "b") == pytest.approx(breakers(study, "a"))
    assert max(board.length for board in study.boards.all) <= 192.01
    assert said_of_boards(study) == []


def test_seams_that_do_not_line_up_are_reported() -> None:
    study = Study(
        make_plan(
            boarded("a", 0, 0, 288, 96, breaker=[120.0]), boarded("b", 0, 96, 288, 192, 24.0, breaker=[140.0])
        )
    )
    (text,) = said_of_boards(study)
    assert '"a" and "b"' in text
    assert '20" off' in text
    # apart they meet nobody
    apart = make_plan(
        boarded("a", 0, 0, 288, 96, breaker=[120.0]), boarded("b", 0, 106, 288, 202, breaker=[140.0])
    )
    assert said_of_boards(Study(apart)) == []


def test_rows_side_by_side_at_one_height_line_up_or_are_reported() -> None:
    # rows begin every 5.625 in, at 16.875 among others; from 13 in a first row of 3.75 and a gap of 0.125 lead there
    one = boarded("a", 0, 0, 120, 96)
    study = Study(make_plan(one, boarded("b", 120, 13, 240, 111)))
    (text,) = said_of_boards(study)
    assert '1 3/4" off' in text
    assert 'boards.first of 3 3/4" in "b"' in text
    assert said_of_boards(Study(make_plan(one, boarded("b", 120, 13, 240, 111, first=3.75)))) == []
    assert said_of_boards(Study(make_plan(one, boarded("b", 120, 11.25, 240, 111)))) == []
    # from 15 in it would be a sliver of 1.75
    (text,) = said_of_boards(Study(make_plan(one, boarded("b", 120, 15, 240, 111))))
    assert "boards.first" not in text
    # a step between them, or a border, and nobody sees the rows run on
    assert said_of_boards(Study(make_plan(one, boarded("b", 120, 13, 240, 111, 24.0)))) == []
    assert said_of_boards(Study(make_plan(one, boarded("b", 120, 13, 240, 111, border=1)))) == []
