"""Which way is north: told by a wall named after its side of the house, else the plan's own north."""

from __future__ import annotations

import re

from deckplan.geometry import Point, unit
from deckplan.plan.model import Plan

# Quarter turns, counter-clockwise, from the way that the wall faces to north.
_TURNS = {"north": 0, "west": 3, "south": 2, "east": 1}


def outward(plan: Plan, wall: int) -> Point:
    """Return the unit vector from a house wall's first stretch towards the side where the platforms lie."""
    start, end = plan.house.walls[wall].line[:2]
    corners = [corner for platform in plan.platforms for corner in platform.outline]
    if start == end:
        return (0.0, 1.0)
    (dx, dy), (x0, y0) = unit(start, end), start
    reach = sum((x - x0) * -dy + (y - y0) * dx for x, y in corners)
    return (-dy, dx) if reach >= 0 else (dy, -dx)


def find_north(plan: Plan) -> tuple[Point, bool]:
    """Return a unit vector and whether it is true north.

    A wall called "south wall" faces south, so north lies behind it; where no wall's name tells, the plan's y
    axis is drawn as plan north.
    """
    for index, wall in enumerate(plan.house.walls):
        found = re.search(r"\b(north|south|east|west)\b", wall.name.lower())
        if found:
            x, y = outward(plan, index)
            for _ in range(_TURNS[found[1]]):
                x, y = -y, x
            return (x + 0.0, y + 0.0), True
    return (0.0, 1.0), False
