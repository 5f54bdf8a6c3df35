"""Levels that lean on each other no longer: the lines that did are moved to where posts of their own can stand."""

from __future__ import annotations

from collections import Counter

from deckplan.explore.changes import lines_of, with_line
from deckplan.explore.outcome import apart
from deckplan.explore.touching import Touch
from deckplan.layout.frame import Frame
from deckplan.study import Study
from deckplan.verdict import Verdict

STEP = 6.0
"""By how much a line is moved from one try to the next [in]. Our own choice."""

FARTHEST = 36.0
"""How far a line is moved at most [in]. Our own choice: farther, and the level is another one."""


def stand_apart(study: Study, touch: Touch) -> Study:
    """Return the study of the plan in which neither level leans on the other, each on footings that can be dug.

    A line that shared a post stands in that post's place; its own footing would fill the same ground as the
    neighbour's. It is moved as little as leaves nothing failing that did not fail before, or not at all.
    """
    base = apart(study, touch)
    if base is study or not _fails_more(study, base):
        return base
    for name in (touch.lower, touch.upper):
        before = dict(lines_of(study.asked.platform(name)))
        platform = base.asked.platform(name)
        for index, line in lines_of(platform):
            was = before.get(index)
            if (
                was is None
                or line.offset is None
                or (was.shares_posts_with, was.stands_on)
                == (
                    line.shares_posts_with,
                    line.stands_on,
                )
            ):
                continue
            for to in _places(line.set_at, Frame.of(platform).depth):
                tried = Study(with_line(base.asked, name, index, offset=to))
                if not _fails_more(study, tried):
                    return tried
    return base


def _places(offset: float, depth: float) -> list[float]:
    """Return where a line could stand instead [in], nearest first, on the platform."""
    moves = [sign * STEP * count for count in range(1, int(FARTHEST / STEP) + 1) for sign in (1, -1)]
    return [offset + move for move in moves if 0 < offset + move < depth]


def _fails_more(before: Study, after: Study) -> bool:
    """Tell whether more checks of some rule fail than did before."""
    fails = (Counter(c.rule for c in one.checks if c.verdict is Verdict.FAIL) for one in (before, after))
    known, now = fails
    return bool(now - known)
