"""A platform without joists carries nothing and cannot fail: it FAILs for that. Common practice: two at least."""

from __future__ import annotations

import pytest

from deckplan.checks.framed import RULE
from deckplan.layout.model import Kind
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle


def framed(wide: float, deep: float) -> tuple[Check, int]:
    deck = platform("strip", rectangle(0, 0, wide, deep), 60.0, beam(deep / 2), joists={"size": "2x6"})
    study = Study(make_plan(deck))
    (check,) = [each for each in study.checks if each.rule == RULE]
    return check, len(study.layout.of("strip", Kind.JOIST))


@pytest.mark.parametrize(("wide", "deep", "joists"), [(240, 3, 0), (2, 240, 1)])
def test_a_strip_too_narrow_for_joists_fails(wide: float, deep: float, joists: int) -> None:
    check, there = framed(wide, deep)
    assert (there, check.demand, check.verdict) == (joists, joists, Verdict.FAIL)
    assert 'platform "strip" is' in check.reason
    assert ("no joist fits" if joists == 0 else "only one joist fits") in check.reason


@pytest.mark.parametrize(("wide", "deep", "joists"), [(3, 240, 2), (240, 144, 16)])
def test_two_joists_are_enough(wide: float, deep: float, joists: int) -> None:
    check, there = framed(wide, deep)
    assert there == joists
    assert (check.demand, check.verdict) == (joists, Verdict.PASS)
