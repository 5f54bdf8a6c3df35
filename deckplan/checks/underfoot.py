"""Whole floor where a person steps off: at a door, at the head and at the foot of a flight no hole takes the landing.

::

        door                     The landing is as wide as the door or the flight and as deep as the rules ask, in the
    ====#####====  wall          direction of travel; a hatch has a lid, and an opening that lets no sphere of 4 in
        |   |                    through is no hole.
        |   |  landing
        +---+
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Polygon

from deckplan.geometry import Line, Point, distance, middle, unit
from deckplan.layout.flight_headroom import corners_of
from deckplan.layout.holes import Open, holes_of
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Levels, Rise
from deckplan.levels.places import TOUCH, door_line, door_platform, outline_of
from deckplan.plan.model import Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, at_least

RULE = "no hole in a landing"


@dataclass(frozen=True, slots=True)
class Landing:
    """A landing on a platform: whose it is, words for it, the line that it begins at and the way from there [in].

    behind [in]: how far back of that line a box step stands on the floor.
    """

    mark: str
    words: str
    platform: Platform
    line: Line
    way: Point
    behind: float = 0.0


def check_underfoot(plan: Plan, profile: Profile, levels: Levels) -> list[Check]:
    """Check every landing on a platform that has a hole.

    Source: IRC R311.3 (doors) and R311.7.6 (flights): a landing as wide and 36 in deep, by the profile.
    """
    if not any(platform.openings for platform in plan.platforms):
        return []
    found: list[Check] = []
    for landing in _landings(plan, levels):
        holes = holes_of(landing.platform, profile.guard_opening.value)
        if holes:
            found.append(_check(plan, profile, landing, holes))
    return found


def _check(plan: Plan, profile: Profile, landing: Landing, holes: tuple[Open, ...]) -> Check:
    """Check how deep the floor is before the nearest hole."""
    limit, units = profile.landing_depth_min, plan.units
    depth, nearest = min(
        ((_before(landing, hole, limit.value), hole) for hole in holes), key=lambda item: item[0]
    )
    reason = (
        f'{nearest.named} of platform "{landing.platform.name}" lies {format_short(depth, units)} from '
        f"{landing.words}: a landing there is {format_short(limit.value, units)} deep and whole; move the opening or "
        f"what leads to it, or close it with a lid (a hatch)"
    )
    return at_least(landing.mark, RULE, limit.source, depth, limit.value, "in", reason=reason)


def _before(landing: Landing, hole: Open, depth: float) -> float:
    """Return how far out a hole begins before a landing [in], the landing's whole depth where it is clear of it."""
    (x0, y0), (dx, dy) = landing.line[0], landing.way
    ux, uy = unit(*landing.line)
    wide = distance(*landing.line)
    inset = min(TOUCH, wide / 4)
    back = -landing.behind
    sides = ((inset, back), (wide - inset, back), (wide - inset, depth), (inset, depth))
    area = Polygon([(x0 + ux * s + dx * q, y0 + uy * s + dy * q) for s, q in sides])
    common = area.intersection(hole.outline)
    if common.area <= 0:
        return depth
    return max(0.0, min((x - x0) * dx + (y - y0) * dy for x, y in corners_of(common)))


def _landings(plan: Plan, levels: Levels) -> Iterator[Landing]:
    """Yield the landings on platforms: before doors without a flight, at heads and feet of flights."""
    platforms = {platform.name: platform for platform in plan.platforms}
    for rise in levels.flights:
        if rise.rise <= 0:
            continue
        mark = flight_mark(rise.index)
        if rise.upper in platforms:
            back = (-rise.down[0], -rise.down[1])
            yield Landing(mark, f"the head of {mark}", platforms[rise.upper], rise.along, back)
        if rise.lower in platforms:
            behind = rise.run if rise.kind == "box" else 0.0
            yield Landing(mark, f"the foot of {mark}", platforms[rise.lower], _foot(rise), rise.down, behind)
    for door in plan.house.doors:
        platform = door_platform(plan, door, levels.elevations)
        if platform is None or any(rise.upper == door.name and rise.rise > 0 for rise in levels.flights):
            continue
        line = door_line(plan, door)
        yield Landing(door.name, f'the door "{door.name}"', platform, line, _into(platform, line))


def _foot(rise: Rise) -> Line:
    """Return the line of a flight's lowest riser."""
    (x0, y0), (x1, y1) = rise.along
    shift = (rise.down[0] * rise.run, rise.down[1] * rise.run)
    return ((x0 + shift[0], y0 + shift[1]), (x1 + shift[0], y1 + shift[1]))


def _into(platform: Platform, line: Line) -> Point:
    """Return the way from a threshold onto a platform."""
    (x, y), (ux, uy) = middle(line), unit(*line)
    target = outline_of(platform).representative_point()
    way = (-uy, ux)
    return way if (target.x - x) * way[0] + (target.y - y) * way[1] > 0 else (uy, -ux)
