"""Box steps that wrap a corner: two flights that meet there, one of which fills the corner."""

from __future__ import annotations

from deckplan.geometry import Point, distance, unit
from deckplan.levels.box_steps import EXPOSED, Ends
from deckplan.levels.model import Rise

# Flights whose stretches end this near each other at a corner meet there [in].
_MEET = 1.0


def find_wraps(flights: tuple[Rise, ...]) -> dict[int, Ends]:
    """Return how the ends of each box flight are made, by the flight's place in the plan.

    Two box flights wrap a corner where they go down between the same levels with the same steps and meet at an outer
    corner of the upper platform. The one that comes first in the plan runs on past the corner, the other butts on it.
    """
    found: dict[int, Ends] = {}
    boxes = [rise for rise in flights if rise.kind == "box" and rise.rise > 0 and rise.risers > 1]
    for number, one in enumerate(boxes):
        for other in boxes[number + 1 :]:
            if not _same_steps(one, other):
                continue
            for end, corner in enumerate(one.along):
                for far_end, far_corner in enumerate(other.along):
                    if distance(corner, far_corner) <= _MEET and _outer(one, end, other):
                        found[one.index] = _with(found.get(one.index, EXPOSED), end, "runs on")
                        found[other.index] = _with(found.get(other.index, EXPOSED), far_end, "butts")
    return found


def _same_steps(one: Rise, other: Rise) -> bool:
    alike = (one.upper, one.lower, one.risers) == (other.upper, other.lower, other.risers)
    return alike and abs(one.tread - other.tread) < 1e-6 and abs(one.riser - other.riser) < 1e-3


def _outer(one: Rise, end: int, other: Rise) -> bool:
    """Tell whether the first flight, run on past its end, goes the way the other goes down."""
    ux, uy = unit(*one.along)
    way: Point = (ux, uy) if end == 1 else (-ux, -uy)
    return way[0] * other.down[0] + way[1] * other.down[1] > 1 - 1e-6


def _with(ends: Ends, end: int, how: str) -> Ends:
    return Ends(how, ends.end) if end == 0 else Ends(ends.start, how)
