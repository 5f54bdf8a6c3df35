"""Beams and posts that would stand in one place. Geometry alone; a quarter inch is common practice."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from deckplan.checks.apart import BEAMS, POSTS, check_apart, prying_notes
from deckplan.plan.file import read_plan
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle

DEMOS = sorted((Path(__file__).parents[1] / "data" / "plans").glob("*.toml"))


def check(plan: Plan, rule: str) -> list[Check]:
    study = Study(plan)
    return [found for found in check_apart(study.plan, study.layout) if found.rule == rule]


def two_lines(apart: float, **more: Any) -> Plan:
    """Two lines in the middle of a deck, each of two plies of 2x10, 3 in wide."""
    lines = [beam(72 + off, build="2-2x10", **more) for off in (0.0, apart)]
    deck = platform(
        "deck", rectangle(0, 0, 216, 144), 60, beam(12), *lines, beam(132), joists={"size": "2x10"}
    )
    return make_plan(deck)


@pytest.mark.parametrize(("apart", "fails"), [(3.0, False), (2.75, False), (2.7, True), (1.0, True)])
def test_two_beams_stand_beside_each_other(apart: float, fails: bool) -> None:
    found = check(two_lines(apart), BEAMS)
    assert [each.verdict for each in found] == [Verdict.FAIL if fails else Verdict.PASS]
    assert (found[0].demand or 0) == pytest.approx(3.0 - apart if fails else 0.0)
    assert ("A-B2 and A-B3" in found[0].reason and '3" from middle to middle' in found[0].reason) is fails


def test_a_flush_beam_over_a_drop_beam_is_in_another_place() -> None:
    lines = [beam(72, build="2-2x8"), beam(72, build="2-2x10", style="flush", posts=[12.0, 204.0])]
    deck = platform(
        "deck", rectangle(0, 0, 216, 144), 60, beam(12), *lines, beam(132), joists={"size": "2x10"}
    )
    assert [each.verdict for each in check(make_plan(deck), BEAMS)] == [Verdict.PASS]


@pytest.mark.parametrize(("apart", "fails"), [(6.0, False), (5.5, False), (5.25, False), (5.2, True)])
def test_posts_of_two_lines_stand_beside_each_other(apart: float, fails: bool) -> None:
    # 6x6: 5-1/2 in
    found = check(two_lines(apart, posts=[12.0, 204.0]), POSTS)
    assert [each.verdict for each in found] == ([Verdict.FAIL] * 2 if fails else [Verdict.PASS])
    assert all('of "deck" stand 5/16" in one another' in each.reason for each in found if fails)


def test_posts_of_two_platforms_do_not_stand_in_one_hole() -> None:
    def pair(gap: float) -> Plan:
        one = platform(
            "one", rectangle(0, 0, 96, 144), 60, beam(12, posts=[12.0, 93.25]), beam(132, posts=[12.0, 93.25])
        )
        other = platform(
            "two", rectangle(96, 0, 192, 144), 40, beam(12, posts=[gap, 84.0]), beam(132, posts=[gap, 84.0])
        )  # fmt: skip
        return make_plan(one, other)

    # the first's post ends at the edge between them
    assert [each.verdict for each in check(pair(2.75), POSTS)] == [Verdict.PASS]
    found = check(pair(2.4), POSTS)
    assert [each.verdict for each in found] == [Verdict.FAIL] * 2
    assert "shares_posts_with" in found[0].reason


def test_a_post_on_a_lower_frame_stands_above_the_post_below() -> None:
    plan = read_plan(Path(__file__).parents[1] / "data" / "plans" / "frames-stacked.toml")
    assert [each.verdict for each in check(plan, POSTS)] == [Verdict.PASS]


def test_joists_that_pry_are_named_with_their_spans() -> None:
    def notes(apart: float) -> list[str]:
        study = Study(two_lines(apart))
        return [note.text for note in prying_notes(study.plan, study.layout)]

    # spans of 60 in on both sides: a tenth of the longer is pried on
    assert not notes(6.1)
    (said,) = notes(5.9)
    assert said.startswith('A-B2 and A-B3 stand 5 7/8" apart beside a span of 5\'-0"')


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_in_the_demo_plans_every_piece_has_its_place(path: Path) -> None:
    study = Study(read_plan(path))
    assert all(found.verdict is Verdict.PASS for found in check_apart(study.plan, study.layout))
    assert not prying_notes(study.plan, study.layout)
