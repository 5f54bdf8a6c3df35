"""Beam lines as a plan file gives them: an offset or a line, neither without sense."""

from __future__ import annotations

import math

import pytest

from deckplan.errors import InputError
from deckplan.plan.file import parse_plan
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import beam, make_plan, platform, rectangle
from tests.test_beams_at_angles import line

PLAN = """
[[platform]]
name = "deck"
outline = [["0 ft", "0 ft"], ["12 ft", "0 ft"], ["12 ft", "12 ft"], ["0 ft", "12 ft"]]
elevation = "30 in"
support = [{ kind = "beam", offset = "1 ft" }, { kind = "beam", %s }]
"""


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ('offset = "9 ft", line = [["0 ft", "9 ft"], ["12 ft", "9 ft"]]', "line: either a line or an offset"),
        ('build = "auto"', "offset: needed, or a line in its place"),
        ('line = [["0 ft", "0 ft"], ["5 ft", "12 ft"]]', "line: at 30 degrees or more to the joists, not 22.6 degrees"),
        ('line = [["0 ft", "14 ft"], ["12 ft", "15 ft"]]', "line: a line that crosses the platform"),
        ('line = [["0 ft", "1 ft"], ["12 ft", "1 ft"]]', "line: another line than support 1"),
        ('line = [["0 ft", "1 ft"]]', "two points, through which the beam runs"),
        ('line = [["0 ft", "8 ft"], ["12 ft", "11 ft"]], posts = ["1 ft", "14 ft"]', "posts: offsets on the beam"),
    ],
)  # fmt: skip
def test_lines_without_sense_are_refused_by_place(keys: str, words: str) -> None:
    with pytest.raises(InputError) as refused:
        parse_plan(PLAN % keys)
    assert 'platform "deck", support 2' in str(refused.value)
    assert words in str(refused.value)


def test_thirty_degrees_to_the_joists_are_the_least() -> None:
    rise = 72.0 / math.tan(math.radians(30.0))

    def said(to: float) -> str:
        keys = f'line = [["0 in", "5 in"], ["72 in", "{to!r} in"]]'
        try:
            parse_plan(PLAN % keys)
        except InputError as refused:
            return str(refused)
        return ""

    assert said(5.0 + rise) == ""
    assert said(5.0 + rise - 1.0) == ""
    assert "at 30 degrees or more" in said(5.0 + rise + 1.0)


def test_a_line_that_no_reader_has_seen_is_named_by_a_check() -> None:
    steep = platform("deck", rectangle(0, 0, 144, 144), 30, beam(12.0), beam(132.0), line((0, 0), (24, 144)))
    reasons = [c.reason for c in Study(make_plan(steep)).checks if c.verdict is Verdict.FAIL]
    assert any("9.46 degrees to the joists, 30 are the least" in reason for reason in reasons)
