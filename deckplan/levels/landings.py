"""Landings of flights between platforms, and platforms too shallow for one, which make two flights one."""

from __future__ import annotations

from shapely import LineString, Polygon
from shapely import Point as Spot

from deckplan.geometry import Point, distance, middle
from deckplan.levels.model import Rise
from deckplan.levels.places import outline_of, pieces
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import Units, format_short
from deckplan.verdict import Check, at_least, at_most, not_applicable

_FAR = 1e5


def depth_from(shape: Polygon, start: Point, way: Point) -> float:
    """Return how far one can walk on a platform from a point in a direction [in], up to its first edge."""
    ray = LineString([start, (start[0] + way[0] * _FAR, start[1] + way[1] * _FAR)])
    inside = [piece for piece in pieces(ray.intersection(shape)) if distance(*piece) > 1e-6]
    first = min(inside, key=lambda piece: min(distance(start, end) for end in piece), default=None)
    if first is None or min(distance(start, end) for end in first) > 2.0:
        return 0.0
    return max(distance(start, end) for end in first)


def check_landings(plan: Plan, rise: Rise, flights: tuple[Rise, ...], profile: Profile) -> list[Check]:
    """Check the landings at both ends of a flight between platforms.

    A platform that is deep enough for a tread and not for a landing, with another flight beyond it, is a tread of one
    longer flight: then the risers on both sides of it must agree within the profile's tolerance.

    Source: IRC R311.7.6 and R311.7.5.1, by the profile.
    """
    mark, limit = f"S{rise.index + 1}", profile.landing_depth_min
    lower = outline_of(plan.platform(rise.lower))
    foot, (dx, dy) = rise.landing, rise.down
    depth = depth_from(lower, foot, rise.down)
    onward = [other for other in flights if other.upper == rise.lower and other.rise > 0]
    beside = lower.distance(Spot((foot[0] + dx, foot[1] + dy))) > 2.0
    from_door = plan.door(rise.upper) is not None
    found = []
    if onward and not from_door and profile.tread_min.value <= depth < limit.value:
        found.append(
            not_applicable(mark, "landing depth below", limit.source, _tread(rise.lower, depth, onward, plan))
        )
        found += [_agree(mark, rise, other, profile, plan.units) for other in onward]
    else:
        off, least, units = lower.distance(Spot(foot)), limit.value, plan.units
        there = f'its lowest riser comes down {format_short(off, units)} beside "{rise.lower}", not on it'
        little = (
            f'too little of "{rise.lower}" is left in front of the lowest riser: {format_short(depth, units)}, where '
            f"{format_short(least, units)} is wanted, {format_short(least - depth, units)} more"
        )
        reason = there if beside else little
        found.append(at_least(mark, "landing depth below", limit.source, depth, least, "in", reason=reason))
    upper = next((platform for platform in plan.platforms if platform.name == rise.upper), None)
    if upper is not None:
        behind = depth_from(outline_of(upper), middle(rise.along), (-dx, -dy))
        arriving = [other for other in flights if other.lower == rise.upper and other.rise > 0]
        by_door = any(plan.door(other.upper) is not None for other in arriving)
        if arriving and not by_door and profile.tread_min.value <= behind < limit.value:
            words = _tread(rise.upper, behind, arriving, plan)
            found.append(not_applicable(mark, "landing depth above", limit.source, words))
        else:
            found.append(at_least(mark, "landing depth above", limit.source, behind, limit.value, "in"))
    return found


def _tread(platform: str, depth: float, others: list[Rise], plan: Plan) -> str:
    marks = " and ".join(f"S{other.index + 1}" for other in others)
    deep = format_short(depth, plan.units)
    return f'"{platform}" is {deep} deep here: no landing but a tread of one flight with {marks}'


def _agree(mark: str, rise: Rise, other: Rise, profile: Profile, units: Units) -> Check:
    limit = profile.riser_neighbours_max or profile.riser_spread_max
    apart = abs(rise.riser - other.riser)
    rule = f"riser spread with S{other.index + 1}"
    reason = (
        f"risers of {format_short(rise.riser, units)} and {format_short(other.riser, units)} follow each other over a "
        "platform too shallow for a landing: make them alike, or the platform deeper"
    )
    return at_most(mark, rule, limit.source, apart, limit.value, "in", reason=reason)
