"""Levels that touch: which outlines share a stretch of edge, and how that edge lies to each one's joists.

::

    edge across the joists         edge along the joists
      | | | | |                      ---------+
      | | | | |                      ---------|  beams run up and down and end at other edges;
    --+-+-+-+-+-- edge               ---------|  along an edge like this one they END at it
      a beam can lie along it        ---------+
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from deckplan.geometry import Line, Point, distance, unit
from deckplan.layout.alignment import LEAST_SHARED
from deckplan.layout.frame import Frame
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan, Platform
from deckplan.plan.sense import TOUCHING

STRAIGHT = 0.1
"""How far the ends of an edge may lie off a line along or across the joists [in]."""


@dataclass(frozen=True, slots=True)
class Touch:
    """Two platforms that share an edge: their names, the longest stretch shared [in], and the drop between [in].

    over: the upper one lies over the lower one instead of beside it.
    """

    upper: str
    lower: str
    edge: Line
    drop: float
    over: bool = False

    @property
    def length(self) -> float:
        """Length of the shared stretch [in]."""
        return distance(*self.edge)


@dataclass(frozen=True, slots=True)
class Side:
    """A shared edge as one platform sees it.

    across: it lies across the joists, so that a beam can lie along it; along: it lies along them, so that beams end at
    it; neither: it runs aslant. at: its place [in] along the joists, or across them where it lies along; inward: 1
    where the platform lies towards greater coordinates from there, else -1; reach: its stretch the other way [in].
    """

    frame: Frame
    across: bool
    along: bool
    at: float
    inward: int
    reach: tuple[float, float]

    @classmethod
    def of(cls, platform: Platform, edge: Line) -> Side:
        """See an edge from a platform."""
        frame = Frame.of(platform)
        (u0, v0), (u1, v1) = (frame.local(end) for end in edge)
        across, along = abs(v1 - v0) <= STRAIGHT, abs(u1 - u0) <= STRAIGHT
        if across:
            inside = any(low < v0 + 2 < high for low, high in frame.along_at((u0 + u1) / 2))
            return cls(frame, True, False, v0, 1 if inside else -1, (min(u0, u1), max(u0, u1)))
        inside = any(low < u0 + 2 < high for low, high in frame.across_at((v0 + v1) / 2))
        return cls(frame, False, along, u0, 1 if inside else -1, (min(v0, v1), max(v0, v1)))


def touching(plan: Plan, levels: Levels) -> tuple[Touch, ...]:
    """Return every pair of platforms that share an edge, in plan order; of two equal levels the first is the upper."""
    found: list[Touch] = []
    for one, other in combinations(plan.platforms, 2):
        stretches = [s for a in _edges(one) for b in _edges(other) if (s := _shared(a, b)) is not None]
        if not stretches:
            continue
        drop = levels.elevation(one.name) - levels.elevation(other.name)
        upper, lower = (one, other) if drop >= 0 else (other, one)
        edge = max(stretches, key=lambda line: distance(*line))
        found.append(Touch(upper.name, lower.name, edge, abs(drop)))
    return tuple(found)


def _edges(platform: Platform) -> list[Line]:
    corners = platform.outline
    return list(zip(corners, (*corners[1:], corners[0]), strict=True))


def _shared(one: Line, other: Line) -> Line | None:
    """Return the stretch of the first edge beside which the second lies, within the room that rims take."""
    ux, uy = unit(*one)
    x, y = one[0]

    def aside(p: Point) -> float:
        return abs((p[0] - x) * uy - (p[1] - y) * ux)

    if max(aside(other[0]), aside(other[1])) > TOUCHING:
        return None
    ends = sorted((p[0] - x) * ux + (p[1] - y) * uy for p in other)
    low, high = max(0.0, ends[0]), min(distance(*one), ends[1])
    if high - low < LEAST_SHARED:
        return None
    return ((x + ux * low, y + uy * low), (x + ux * high, y + uy * high))
