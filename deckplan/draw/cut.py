"""Cutting lines: where a section is taken and which way it is looked at."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from deckplan.draw.shapes import crossings
from deckplan.draw.subject import Subject
from deckplan.geometry import Line, Point
from deckplan.plan.model import Plan


@dataclass(frozen=True, slots=True)
class Cut:
    """A cutting line: x = at where the axis is 0, y = at where it is 1; at [in]."""

    axis: int
    at: float

    def across(self, point: Point) -> float:
        """Return the distance of a point along the cutting line [in]."""
        return point[1 - self.axis]

    def beyond(self, point: Point) -> float:
        """Return how far a point lies behind the cutting plane [in], negative in front of it."""
        off = point[self.axis] - self.at
        return off if self.axis == 1 else -off

    @property
    def look(self) -> Point:
        """The unit vector along which the cut is looked at."""
        return (-1.0, 0.0) if self.axis == 0 else (0.0, 1.0)

    def point(self, across: float) -> Point:
        """Return the point of the cutting line at a distance along it [in]."""
        return (self.at, across) if self.axis == 0 else (across, self.at)


def choose_cut(plan: Plan, study: Subject | None = None) -> Cut:
    """Return the line along x or y that passes through the most platforms, then flights, then doors."""
    best, reached = Cut(0, 0.0), (-1, -1, -1, 0)
    for axis in (0, 1):
        stops = sorted({corner[axis] for one in plan.platforms for corner in one.outline})
        if study is not None:
            stops += [end[axis] for rise in study.levels.flights for end in rise.along]
        stops = sorted(set(stops))
        for low, high in pairwise(stops):
            cut = Cut(axis, (low + high) / 2)
            platforms = sum(bool(crossings(one.outline, axis, cut.at)) for one in plan.platforms)
            flights = 0
            if study is not None:
                flights = sum(between(cut, rise.along) for rise in study.levels.flights)
            doors = sum(abs(door.at[axis] - cut.at) < door.width / 2 for door in plan.house.doors)
            score = (platforms, flights, doors, 1 - axis)
            if score > reached:
                best, reached = cut, score
    return best


def between(cut: Cut, line: Line) -> bool:
    """Tell whether a stretch of line lies across the cut."""
    low, high = sorted((line[0][cut.axis], line[1][cut.axis]))
    return low <= cut.at <= high and low < high
