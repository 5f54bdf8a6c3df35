"""Where flights leave their upper edge and which way they go down."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from shapely import LineString, MultiLineString, Polygon, prepare
from shapely import Point as Spot
from shapely.geometry.base import BaseGeometry

from deckplan.errors import InputError, Problem
from deckplan.geometry import Line, Point, distance, middle, unit
from deckplan.plan.model import Door, Flight, Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import format_short

# Common practice: a flight that nobody sized is 4 ft wide, or as wide as there is room.
USUAL_WIDTH = 48.0
# Outlines drawn an inch apart are meant to touch: the rims and fascias lie between.
TOUCH = 1.5
_BESIDE = 0.5
# Common practice: the head of a usual door lies this high over its sill [in].
DOOR_HEAD = 80.0


@dataclass(frozen=True, slots=True)
class Place:
    """Where a flight leaves: its stretch of edge [in], the unit vector down, and what is wrong with it,
    if anything.
    """

    along: Line
    down: Point
    problem: str = ""


def outline_of(platform: Platform) -> Polygon:
    """Return a platform's outline as a polygon [in]."""
    return _polygon(platform.outline)


@lru_cache(maxsize=256)
def _polygon(corners: tuple[Point, ...]) -> Polygon:
    """Draw an outline once: every stage of a study asks for it."""
    return Polygon(corners)


@lru_cache(maxsize=256)
def whole(corners: tuple[Point, ...]) -> BaseGeometry:
    """Return the area that an outline [in] encloses, sound for every operation even where it touches itself."""
    found = _polygon(corners).buffer(0)
    prepare(found)
    return found


def sides(polygon: Polygon) -> list[Line]:
    """Return the sides of a polygon [in], in order."""
    corners = [(float(x), float(y)) for x, y in polygon.exterior.coords]
    return list(pairwise(corners))


def pieces(shape: BaseGeometry) -> list[Line]:
    """Return the straight pieces of a shape that lies on one side [in]; points and areas fall away."""
    if isinstance(shape, LineString):
        points = [(float(x), float(y)) for x, y in shape.coords]
        return [(points[0], points[-1])] if len(points) > 1 else []
    if isinstance(shape, MultiLineString) or hasattr(shape, "geoms"):
        return [piece for part in shape.geoms for piece in pieces(part)]
    return []


def _normals(line: Line) -> tuple[Point, Point]:
    ux, uy = unit(*line)
    return (uy + 0.0, -ux + 0.0), (-uy + 0.0, ux + 0.0)


def _beside(line: Line, normal: Point, by: float) -> Point:
    x, y = middle(line)
    return (x + normal[0] * by, y + normal[1] * by)


def outward(polygon: Polygon, line: Line) -> Point | None:
    """Return the unit vector out of a polygon at the middle of a line on its edge; None where both
    sides are alike.
    """
    one, other = _normals(line)
    in_one = polygon.covers(Spot(_beside(line, one, _BESIDE)))
    in_other = polygon.covers(Spot(_beside(line, other, _BESIDE)))
    if in_one == in_other:
        return None
    return other if in_one else one


def _towards(line: Line, target: Point) -> Point:
    """Return the normal of a line that leads nearer to a target."""
    one, other = _normals(line)
    return (
        one
        if distance(_beside(line, one, 1.0), target) <= distance(_beside(line, other, 1.0), target)
        else other
    )


def _centred(piece: Line, width: float) -> Line:
    if width >= distance(*piece):
        return piece
    (x, y), (ux, uy) = middle(piece), unit(*piece)
    return ((x - ux * width / 2, y - uy * width / 2), (x + ux * width / 2, y + uy * width / 2))


def _longest(lines: list[Line]) -> Line | None:
    """Return the longest; of equals the one farthest from the house (largest y)."""
    return max(lines, key=lambda line: (round(distance(*line), 6), round(middle(line)[1], 6)), default=None)


def shared_edge(upper: Polygon, lower: Polygon) -> Line | None:
    """Return the longest stretch of the upper outline that lies on the lower platform or against it;
    None: they part.
    """
    for reach in (0.01, TOUCH):
        grown = lower.buffer(reach, join_style="mitre")
        found = [piece for side in sides(upper) for piece in pieces(LineString(side).intersection(grown))]
        longest = _longest([piece for piece in found if distance(*piece) > 4 * TOUCH])
        if longest:
            return longest
    return None


def _free_edge(plan: Plan, platform: Platform) -> Line:
    """Return the longest stretch of a platform's edge without a wall or another platform against it."""
    shape = outline_of(platform)
    taken: list[BaseGeometry] = [LineString(wall.line).buffer(TOUCH) for wall in plan.house.walls]
    taken += [outline_of(other).buffer(TOUCH) for other in plan.platforms if other.name != platform.name]
    found = []
    for side in sides(shape):
        left: BaseGeometry = LineString(side)
        for blocked in taken:
            left = left.difference(blocked)
        found += pieces(left)
    return _longest(found) or _longest(sides(shape)) or sides(shape)[0]


def _wall_direction(plan: Plan, door: Door) -> Point:
    """Return the unit vector of the wall that a door stands in; along x where no wall is near."""
    stretches = [line for wall in plan.house.walls for line in zip(wall.line, wall.line[1:], strict=False)]
    near = min(stretches, key=lambda line: LineString(line).distance(Spot(door.at)), default=None)
    return unit(*near) if near and near[0] != near[1] else (1.0, 0.0)


def door_line(plan: Plan, door: Door) -> Line:
    """Return the threshold of a door as a line in its wall [in]."""
    ux, uy = _wall_direction(plan, door)
    (x, y), half = door.at, door.width / 2
    return ((x - ux * half, y - uy * half), (x + ux * half, y + uy * half))


def door_platform(plan: Plan, door: Door, heights: Mapping[str, float]) -> Platform | None:
    """Return the platform that a door opens onto, or None; of several, the one along most of the
    threshold, of those alike the one nearest to the sill.

    heights: elevations of the platforms [in]; one that lies above the door's head is over the door, not before it.
    """
    threshold = LineString(door_line(plan, door)).buffer(TOUCH + 1.0, cap_style="flat")
    before = [p for p in plan.platforms if heights[p.name] < door.sill + DOOR_HEAD]
    shares = [(round(threshold.intersection(outline_of(p)).area, 6), p) for p in before]
    best = max(shares, key=lambda pair: (pair[0], -abs(door.sill - heights[pair[1].name])), default=None)
    return best[1] if best and best[0] > 0 else None


def _middle_of_deck(plan: Plan, platform: Platform | None) -> Point:
    shapes = [outline_of(platform)] if platform else [outline_of(each) for each in plan.platforms]
    if not shapes:
        return (0.0, 1e6)
    count = len(shapes)
    return (sum(s.centroid.x for s in shapes) / count, sum(s.centroid.y for s in shapes) / count)


def _named(plan: Plan, name: str) -> Platform | None:
    return next((platform for platform in plan.platforms if platform.name == name), None)


def place_flight(plan: Plan, flight: Flight, profile: Profile) -> Place:
    """Return where a flight leaves and which way is down.

    Where the plan does not say: the middle of the edge that the two platforms share, the door, or, on the
    way to the ground, the middle of the longest free edge; as wide as usual or as there is room.

    Raises InputError where `from` or `to` names nothing.
    """
    upper, lower = _named(plan, flight.upper), _named(plan, flight.lower)
    door = plan.door(flight.upper) if upper is None else None
    place = f'flight from "{flight.upper}" to "{flight.lower}"'
    if upper is None and door is None:
        raise InputError([Problem(f"{place}, from", "the name of a platform or a door", f'"{flight.upper}"')])
    if lower is None and flight.lower != "ground":
        raise InputError(
            [Problem(f"{place}, to", 'the name of a platform, or "ground"', f'"{flight.lower}"')]
        )
    if door is not None:
        line = flight.along or door_line(plan, door)
        return Place(line, _towards(line, _middle_of_deck(plan, lower)))
    assert upper is not None
    shape = outline_of(upper)
    width = max(profile.flight_width_min.value, USUAL_WIDTH)
    if flight.along:
        return _on_edge(plan, shape, flight.along, lower)
    if lower is None:
        return _on_edge(plan, shape, _centred(_free_edge(plan, upper), width), lower)
    edge = shared_edge(shape, outline_of(lower))
    if edge:
        return _on_edge(plan, shape, _centred(edge, width), lower)
    target = outline_of(lower)
    nearest = min(sides(shape), key=lambda side: LineString(side).distance(target))
    found = _on_edge(plan, shape, _centred(nearest, width), lower)
    return Place(found.along, found.down, f'"{flight.upper}" and "{flight.lower}" do not meet')


def _on_edge(plan: Plan, shape: Polygon, line: Line, lower: Platform | None) -> Place:
    astray = max(shape.exterior.distance(Spot(point)) for point in (*line, middle(line)))
    down = outward(shape, line)
    off = f"`along` lies up to {format_short(astray, plan.units)} off the edge of the upper platform"
    problem = off if astray > TOUCH else ""
    if down is None:
        x, y = (
            _middle_of_deck(plan, lower)
            if lower
            else (2 * middle(line)[0] - shape.centroid.x, 2 * middle(line)[1] - shape.centroid.y)
        )
        down = _towards(line, (x, y))
    return Place(line, down, problem)
