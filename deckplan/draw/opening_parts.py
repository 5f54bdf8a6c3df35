"""Holes in a platform on a plan: how far they lie from an edge, and how large they are, as dimensions."""

from __future__ import annotations

from itertools import pairwise

from deckplan.draw.draft import FIRST_ROW, Draft
from deckplan.draw.scene import Box, box_of
from deckplan.draw.shapes import crossings
from deckplan.geometry import Point
from deckplan.plan.model import Platform


def measure_openings(draft: Draft, one: Platform) -> None:
    """Draw two short chains by every hole: from the platform's nearer edge to it, and across it.

    Nothing on a small screen, where the size stands in the hole.
    """
    if not draft.sheet.full:
        return
    for opening in one.openings:
        box = box_of(opening.outline)
        for axis in (0, 1):
            _measure(draft, one.outline, box, axis)


def _measure(draft: Draft, outline: tuple[Point, ...], box: Box, axis: int) -> None:
    """Measure a hole along an axis, across its middle, its line beside the hole on the side that has more room."""
    low, high = (box.left, box.right) if axis == 0 else (box.bottom, box.top)
    near, far = (box.bottom, box.top) if axis == 0 else (box.left, box.right)
    edges = crossings(outline, 1 - axis, (near + far) / 2)
    before, after = [at for at in edges if at <= low], [at for at in edges if at >= high]
    ends = [(low - max(before), max(before))] if before else []
    ends += [(min(after) - high, min(after))] if after else []
    stops = sorted({low, high, *(([min(ends)[1]]) if ends else [])})
    whole = box_of(outline)
    room = (
        near - (whole.bottom if axis == 0 else whole.left),
        (whole.top if axis == 0 else whole.right) - far,
    )
    side, edge = (-1, near) if room[0] >= room[1] else (1, far)
    away = edge + side * (FIRST_ROW + 0.6) * draft.letter
    for a, b in pairwise(stops):
        if b - a > 0.5:
            draft.dimension(a, b, "x" if axis == 0 else "y", away, edge + side * 0.4 * draft.letter, side)
