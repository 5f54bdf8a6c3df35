"""A platform is joists under boards: an outline in which hardly one fits is none."""

from __future__ import annotations

from deckplan.layout.frame import Frame
from deckplan.layout.model import Kind, Layout
from deckplan.plan.model import Plan
from deckplan.units import format_length
from deckplan.verdict import Check, Source, at_least

PRACTICE = Source(
    "Common practice", "a joist along either side carries the boards between", "common practice"
)
RULE = "platform has joists"
LEAST = 2


def check_framed(plan: Plan, layout: Layout) -> list[Check]:
    """Check that every platform has joists for its boards to lie on: what has none carries nothing, and cannot fail."""
    found: list[Check] = []
    for platform in plan.platforms:
        joists, frame = layout.of(platform.name, Kind.JOIST), Frame.of(platform)
        deep, wide = (format_length(size, plan.units) for size in (frame.depth, frame.width))
        reason = (
            f'platform "{platform.name}" is {deep} along its joists and {wide} across them: '
            f"{'no joist fits' if not joists else 'only one joist fits'} between its rims; make it wider, turn the "
            f'joists, or let a flight of kind "box" be the step'
        )
        found.append(at_least(platform.name, RULE, PRACTICE, len(joists), LEAST, "joists", reason=reason))
    return found
