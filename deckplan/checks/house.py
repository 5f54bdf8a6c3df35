"""Platforms and the house: a deck ends at the walls, and none stands inside a closed outline of them.

::

      |  house  |                 | house   |
      |         |                 |   +-----|--+
      +=========+  wall           +===|=====+  |      the wall runs through the deck
      |  deck   |  touches: fine      | deck   |
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from deckplan.geometry import Line, Point, along
from deckplan.levels.places import TOUCH, outline_of
from deckplan.plan.model import Plan, Platform
from deckplan.units import Units, format_length, format_short
from deckplan.verdict import Check, Source, at_most

if TYPE_CHECKING:
    from shapely import Polygon

GEOMETRY = Source("Geometry of the plan", "a deck and a house do not stand in one place", "derived")
RULE = "platform clear of the house"


def check_house(plan: Plan) -> list[Check]:
    """Check every platform against the house walls, by how deep a wall runs inside its outline.

    Outlines drawn an inch and a half into a wall are meant to touch it.
    """
    if not plan.house.walls:
        return []
    rooms = _rooms(plan)
    found: list[Check] = []
    for platform in plan.platforms:
        through = _through(plan, platform)
        found += through
        if not through:
            found.append(_inside(plan, platform, rooms))
    return found


def _through(plan: Plan, platform: Platform) -> list[Check]:
    """One check a wall that runs through a platform, for the stretch of it that lies deepest inside."""
    from shapely import LineString
    from shapely import Point as Spot

    shape = outline_of(platform)
    inner = shape.buffer(-TOUCH, join_style="mitre")
    found: list[Check] = []
    for wall in plan.house.walls:
        worst: tuple[float, Line] | None = None
        for a, b in pairwise(wall.line):
            if a == b or not inner.intersects(LineString([a, b])):
                continue
            part = LineString([a, b]).intersection(shape)
            x0, y0, x1, y1 = part.bounds
            ends = ((x0, y0), (x1, y1)) if (b[0] - a[0]) * (b[1] - a[1]) >= 0 else ((x0, y1), (x1, y0))
            deep = max(shape.exterior.distance(Spot(along(ends, share / 8))) for share in range(9))
            if deep > TOUCH + 1e-6 and (worst is None or deep > worst[0]):
                worst = (deep, ends)
        if worst is None:
            continue
        deep, ends = worst
        reason = (
            f'wall "{wall.name}" runs through platform "{platform.name}" from {_place(ends[0], plan.units)} to '
            f"{_place(ends[1], plan.units)}, up to {format_short(deep, plan.units)} inside its edge: end the outline "
            f"at the wall"
        )
        found.append(at_most(platform.name, RULE, GEOMETRY, deep, TOUCH, "in", reason=reason))
    return found


def _inside(plan: Plan, platform: Platform, rooms: list[Polygon]) -> Check:
    """Check that a platform that no wall runs through does not stand where walls close a house."""
    inner = outline_of(platform).buffer(-TOUCH, join_style="mitre")
    spot = inner.representative_point() if not inner.is_empty else None
    # inside one outline is indoors, inside a second one within it a court
    indoors = spot is not None and sum(room.contains(spot) for room in rooms) % 2 == 1
    x0, y0, x1, y1 = outline_of(platform).bounds
    deep = min(x1 - x0, y1 - y0) if indoors else 0.0
    reason = (
        f'platform "{platform.name}" lies inside the house, where its walls close at '
        f"{_place((x0, y0), plan.units)}: move its outline out to the walls, or leave out the walls that are not there"
    )
    return at_most(platform.name, RULE, GEOMETRY, deep, TOUCH, "in", reason=reason)


def _rooms(plan: Plan) -> list[Polygon]:
    """Return what the walls close in, each without regard to what stands within."""
    from shapely import LineString, Polygon, polygonize, union_all

    lines = union_all([LineString(wall.line) for wall in plan.house.walls if len(set(wall.line)) > 1])
    faces = polygonize([lines] if lines.geom_type == "LineString" else list(lines.geoms))
    return [Polygon(face.exterior) for face in faces.geoms]


def _place(at: Point, units: Units) -> str:
    return f"({format_length(at[0], units)}, {format_length(at[1], units)})"
