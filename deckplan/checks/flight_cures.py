"""Where else a flight could go down: what is told of one whose place is at fault."""

from __future__ import annotations

from itertools import pairwise

from shapely import LineString
from shapely import Point as Spot
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Line, Point, distance, point_to_line, unit
from deckplan.layout.flight_frame import Axes
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Rise
from deckplan.levels.places import TOUCH, outline_of, outward, pieces, sides
from deckplan.plan.model import Plan

STEP = 6.0
"""How far apart places along an edge are tried [in]."""


def clear_of_walls(plan: Plan, rise: Rise, feet: list[Point], zone: float) -> list[str]:
    """Say where a flight would have its footings farther than a zone [in] from the house walls with footings.

    feet: where its footings stand now. Places along the free edges are tried one by one.
    """
    platform = next((each for each in plan.platforms if each.name == rise.upper), None)
    if platform is None:
        return []
    mark, shape = flight_mark(rise.index), outline_of(platform)
    words = (f"move {mark} along its edge", f"let {mark} go down from another edge")
    found = {
        words[0 if all(LineString(side).distance(Spot(end)) <= TOUCH for end in rise.along) else 1]
        for side in sides(shape)
        for piece in pieces(_free(plan, rise, side))
        if _fits(plan, rise, feet, piece, outward(shape, piece), zone)
    }
    return [each for each in words if each in found]


def _free(plan: Plan, rise: Rise, side: Line) -> BaseGeometry:
    """Return what of a side no wall and no other platform lies against."""
    left: BaseGeometry = LineString(side)
    for wall in plan.house.walls:
        left = left.difference(LineString(wall.line).buffer(TOUCH))
    for other in plan.platforms:
        if other.name != rise.upper:
            left = left.difference(outline_of(other).buffer(TOUCH))
    return left


def _fits(plan: Plan, rise: Rise, feet: list[Point], piece: Line, down: Point | None, zone: float) -> bool:
    """Tell whether the flight finds a place along a piece of edge where all its feet are out of the zone."""
    room = distance(*piece) - rise.width
    if down is None or room < 0:
        return False
    walls = [wall.line for wall in plan.house.walls if wall.footing_depth is not None]
    lines = [line for wall in walls for line in pairwise(wall)]
    now, there = Axes.of(rise), Axes(piece[0], unit(*piece), down)
    places = [now.local(foot) for foot in feet]
    starts = [STEP * number for number in range(int(room // STEP) + 1)] + [room]
    return any(
        all(point_to_line(there.site(start + s, q), line) > zone for s, q in places for line in lines)
        for start in starts
    )
