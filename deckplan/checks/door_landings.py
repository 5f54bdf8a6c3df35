"""The landing before a house door on a level: as wide as the door, deep enough, nothing standing on it, head clear.

::

        door                     It is as wide as the door and as deep as the rules ask in the direction of travel. What
    ====#####====  wall          stands on it leaves the rest; a level above the door's head lies over the door, and its
        |   |                    frame has to clear that head.
        |   |  landing
        +---+
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from shapely import LineString, Polygon, box, union_all
from shapely.geometry.base import BaseGeometry

from deckplan.checks.flight_room import Way
from deckplan.geometry import Line, Point, distance, unit
from deckplan.layout.flight_headroom import corners_of
from deckplan.layout.model import Layout
from deckplan.layout.over import lowest_over
from deckplan.levels.flight_checks import GEOMETRY, flight_mark
from deckplan.levels.model import Levels, Rise
from deckplan.levels.places import DOOR_HEAD, TOUCH, door_line, door_platform, outline_of, whole
from deckplan.plan.model import Door, Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, at_least

WIDTH = "landing width at the door"
DEPTH = "landing depth at the door"
KEPT = "landing of a door kept clear"
HEAD = "head of a door clear"
AS_WIDE = Source("IRC 2021", "R311.3", "from memory")
USUAL_HEAD = Source("Common practice", "height of a usual door", "common practice")
# Floors that differ by no more than this are one floor [in]. Source: common practice.
_EVEN = 0.25
# How far before the threshold the floor begins at the latest: rims and fascias lie between [in].
_BEGINS = 2.0


@dataclass(frozen=True, slots=True)
class Threshold:
    """A door's landing: the line that it begins at [in], the way from there, how deep the rules ask it to be [in]."""

    door: Door
    line: Line
    way: Point
    depth: float

    @property
    def wide(self) -> float:
        """Width of the door [in]."""
        return distance(*self.line)

    def site(self, along: float, out: float) -> Point:
        """Return a place by its distances along the threshold and out from it [in]."""
        (x, y), (ux, uy), (dx, dy) = self.line[0], unit(*self.line), self.way
        return (x + ux * along + dx * out, y + uy * along + dy * out)

    def out(self, at: Point) -> float:
        """Return how far out a place lies [in]."""
        return (at[0] - self.line[0][0]) * self.way[0] + (at[1] - self.line[0][1]) * self.way[1]

    def along(self, at: Point) -> float:
        """Return how far along the threshold a place lies [in]."""
        ux, uy = unit(*self.line)
        return (at[0] - self.line[0][0]) * ux + (at[1] - self.line[0][1]) * uy

    def area(self, start: float, end: float, near: float, far: float) -> Polygon:
        """Return the part of the landing between two places along it and two distances out [in]."""
        return Polygon([self.site(s, q) for s, q in ((start, near), (end, near), (end, far), (start, far))])

    @property
    def inner(self) -> Polygon:
        """The landing less what outlines may be drawn crookedly by."""
        inset = min(TOUCH, self.wide / 4)
        return self.area(inset, self.wide - inset, _BEGINS, self.depth)

    def before(self, common: BaseGeometry) -> float:
        """Return how much of the depth is left before something on the landing [in]."""
        return max(0.0, min(self.out(at) for at in corners_of(common)))


def check_door_landings(plan: Plan, profile: Profile, levels: Levels, layout: Layout) -> list[Check]:
    """Check the landing of every door that opens onto a level, and the head of one that a level lies over.

    A flight that leaves the door has its landing at its foot, whose depth is checked with the flight.

    Source: IRC R311.3 (as wide as the door, 36 in deep in the direction of travel), from memory; depth by the profile.
    """
    heights = levels.elevations
    found: list[Check] = []
    for door in plan.house.doors:
        leaving = [rise for rise in levels.flights if rise.upper == door.name and rise.rise > 0]
        found += _heads(plan, door, profile, heights, layout)
        lower = {rise.lower for rise in leaving}
        platform = door_platform(plan, door, heights)
        if leaving:
            platform = next((each for each in plan.platforms if each.name in lower), None)
        if platform is None:
            continue
        line = door_line(plan, door)
        threshold = Threshold(door, line, _into(platform, line), profile.landing_depth_min.value)
        if leaving:
            dx, dy = leaving[0].down
            (x0, y0), (x1, y1) = line
            run = leaving[0].run
            moved = ((x0 + dx * run, y0 + dy * run), (x1 + dx * run, y1 + dy * run))
            threshold = replace(threshold, line=moved, way=(dx, dy))
        found += _floor(plan, threshold, platform, heights, with_depth=not leaving, profile=profile)
        found.append(_kept(plan, threshold, platform, leaving, profile, levels, layout))
    return found


def _into(platform: Platform, line: Line) -> Point:
    """Return the way from a threshold onto a platform: the side on which more of it lies before the door."""
    ux, uy = unit(*line)
    shape, best = outline_of(platform), (0.0, (-uy, ux))
    for way in ((-uy, ux), (uy, -ux)):
        (x0, y0), (x1, y1), (dx, dy) = line[0], line[1], way
        strip = Polygon([line[0], line[1], (x1 + dx * 12, y1 + dy * 12), (x0 + dx * 12, y0 + dy * 12)])
        best = max(best, (shape.intersection(strip).area, way))
    return best[1]


def _floor(
    plan: Plan,
    at: Threshold,
    platform: Platform,
    heights: dict[str, float],
    *,
    with_depth: bool,
    profile: Profile,
) -> Iterator[Check]:
    """Yield the checks of how wide and how deep the floor before a door is; levels of one height are one floor."""
    door, units, limit = at.door, plan.units, profile.landing_depth_min
    level = heights[platform.name]
    even = [each for each in plan.platforms if abs(heights[each.name] - level) <= _EVEN]
    grown = union_all([whole(each.outline).buffer(TOUCH, join_style="mitre") for each in even])
    floor = grown.buffer(-TOUCH, join_style="mitre")
    edge = LineString([at.site(0.0, _BEGINS), at.site(at.wide, _BEGINS)]).intersection(floor)
    width = min(at.wide, edge.length)
    lacks = at.wide - width
    line = Step("", "floor of the landing along the threshold", "door - what lies beside the level",
                f"{at.wide:.4g} - {lacks:.4g}", width, "in", GEOMETRY)  # fmt: skip
    reason = (
        f'{format_short(lacks, units)} of the door "{door.name}" has no floor of "{platform.name}" before it: a '
        "landing is at least as wide as its door; make the level longer there, or move the door"
    )
    yield at_least(door.name, WIDTH, AS_WIDE, width, at.wide, "in", (line,), reason=reason)
    if not with_depth or edge.is_empty:
        return
    reach = [at.along(corner) for corner in corners_of(edge)]
    start, end = min(reach), max(reach)
    inset = min(TOUCH, (end - start) / 4)
    missing = at.area(start + inset, end - inset, _BEGINS, at.depth).difference(floor)
    depth = at.before(missing) if missing.area > 1e-6 else at.depth
    line = Step(
        "", "floor out from the threshold, counted up to the rule's depth", "", "", depth, "in", GEOMETRY
    )
    reason = (
        f'"{platform.name}" is {format_short(depth, units)} deep before the door "{door.name}", a landing wants '
        f"{format_short(at.depth, units)} in the direction of travel: make it {format_short(at.depth - depth, units)} "
        "deeper there (of a small balcony reached by this door alone ask the building department)"
    )
    yield at_least(door.name, DEPTH, limit.source, depth, limit.value, "in", (line,), reason=reason)


def _kept(
    plan: Plan,
    at: Threshold,
    platform: Platform,
    leaving: list[Rise],
    profile: Profile,
    levels: Levels,
    layout: Layout,
) -> Check:
    """Check how much of a landing is left before the nearest thing that stands on it."""
    limit, units = profile.landing_depth_min, plan.units
    level = levels.elevation(platform.name)
    met = [
        *_flights(plan, at, level, leaving, levels, profile),
        *_posts(at, level, layout),
        *_walls(plan, at),
        *_levels(plan, at, level, levels),
    ]
    clear, words, help_ = min(met, default=(at.depth, "", ""))
    line = Step(
        "", "clear of what stands there, counted up to the rule's depth", "", "", clear, "in", GEOMETRY
    )
    reason = (
        f'{words} stands {format_short(clear, units)} before the door "{at.door.name}" on "{platform.name}": its '
        f"landing, as wide as the door, is kept clear for {format_short(at.depth, units)}; {help_}"
    )
    return at_least(at.door.name, KEPT, limit.source, clear, limit.value, "in", (line,), reason=reason)


Met = tuple[float, str, str]


def _flights(
    plan: Plan, at: Threshold, level: float, leaving: list[Rise], levels: Levels, profile: Profile
) -> Iterator[Met]:
    inner = at.inner
    for rise in levels.flights:
        if rise in leaving or rise.rise <= 0:
            continue
        way = Way.of(plan, rise, profile)
        common = way.body.intersection(inner)
        if common.area <= 1e-6:
            continue
        spots = corners_of(common)
        under, over = min(way.underside(spot) for spot in spots), max(way.surface(spot) for spot in spots)
        if under < level + DOOR_HEAD and over > level + _EVEN:
            mark = flight_mark(rise.index)
            yield at.before(common), f"flight {mark}", f"let {mark} go down elsewhere, or move the door"


def _posts(at: Threshold, level: float, layout: Layout) -> Iterator[Met]:
    inner = at.inner
    x0, y0, x1, y1 = inner.bounds
    for post in layout.posts:
        (x, y), half = post.at, post.width / 2
        if x + half <= x0 or x - half >= x1 or y + half <= y0 or y - half >= y1:
            continue
        if post.top <= level + _EVEN or post.bottom >= level + DOOR_HEAD:
            continue
        common = inner.intersection(box(x - half, y - half, x + half, y + half))
        if common.area > 0:
            yield at.before(common), f'post {post.mark} of "{post.platform}"', "move the post along its beam"


def _walls(plan: Plan, at: Threshold) -> Iterator[Met]:
    for wall in plan.house.walls:
        for a, b in pairwise(wall.line):
            common = LineString([a, b]).intersection(at.inner)
            if not common.is_empty:
                yield at.before(common), f'wall "{wall.name}"', "move the door"


def _levels(plan: Plan, at: Threshold, level: float, levels: Levels) -> Iterator[Met]:
    """Yield higher levels that lie over a landing too low to walk under, up to the head of its door."""
    inner = at.inner
    for other in plan.platforms:
        surface = levels.elevation(other.name)
        if not level + _EVEN < surface < at.door.sill + DOOR_HEAD:
            continue
        common = whole(other.outline).intersection(inner)
        if common.area > 1e-6:
            help_ = "keep that level off it, or raise it"
            yield at.before(common), f'level "{other.name}"', help_


def _heads(
    plan: Plan, door: Door, profile: Profile, heights: dict[str, float], layout: Layout
) -> Iterator[Check]:
    """Yield a check of the head of a door for every level that lies above it, over its landing."""
    line = door_line(plan, door)
    for platform in plan.platforms:
        if heights[platform.name] < door.sill + DOOR_HEAD:
            continue
        at = Threshold(door, line, _into(platform, line), profile.landing_depth_min.value)
        common = whole(platform.outline).intersection(at.inner)
        if common.area <= 1e-6:
            continue
        lowest = lowest_over(layout, platform.name, common)
        boards = heights[platform.name] - plan.materials.decking.thickness
        bottom, words = (boards, "its boards") if lowest is None else (lowest.bottom, lowest.mark)
        clear = bottom - door.sill
        step = Step("", "under the frame, over the sill", "underside - sill", f"{bottom:.5g} - {door.sill:.5g}",
                    clear, "in", GEOMETRY)  # fmt: skip
        reason = (
            f'{words} of "{platform.name}" lies {format_short(clear, plan.units)} over the sill of "{door.name}", '
            f"whose head is taken {format_short(DOOR_HEAD, plan.units)} over it: raise the level or use shallower wood"
        )
        yield at_least(door.name, HEAD, USUAL_HEAD, clear, DOOR_HEAD, "in", (step,), reason=reason)
