"""Headroom on a flight under the frame of a higher platform."""

from __future__ import annotations

from shapely import Polygon, get_coordinates, intersection, is_empty, linestrings
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Point
from deckplan.layout.flight_frame import Axes
from deckplan.layout.model import Kind, Member
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Rise
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, at_least

_FRAME = (Kind.JOIST, Kind.RIM, Kind.BEAM)


def check_headroom(
    plan: Plan, rise: Rise, members: tuple[Member, ...], profile: Profile
) -> tuple[Check, ...]:
    """Check the height from the line of the nosings up to whatever piece of a higher platform lies over it.

    The landing counts, one landing's depth beyond the lowest riser.

    Source: IRC R311.7.2 (measured from the sloped line of the nosings), by the profile.
    """
    axes, limit = Axes.of(rise), profile.headroom_min
    reach = rise.run + profile.landing_depth_min.value
    worst: tuple[float, str] | None = None
    higher = [
        member
        for member in members
        if member.kind in _FRAME and member.bottom > rise.top and member.platform != rise.upper
    ]
    if not higher:
        return ()
    corners = ((0, 0), (rise.width, 0), (rise.width, reach), (0, reach))
    walked = Polygon([axes.site(s, q) for s, q in corners])
    pieces = intersection(linestrings([member.line for member in higher]), walked)
    for member, over, misses in zip(higher, pieces, is_empty(pieces), strict=True):
        if misses:
            continue
        nearest = min(axes.local((float(x), float(y)))[1] for x, y in corners_of(over))
        height = member.bottom - nosing_line(rise, nearest)
        if worst is None or height < worst[0]:
            worst = (height, member.mark)
    if worst is None:
        return ()
    height, over_mark = worst
    reason = f"{format_short(height, plan.units)} under {over_mark}: raise it, or move the flight out from under it"
    return (
        at_least(flight_mark(rise.index), "headroom", limit.source, height, limit.value, "in", reason=reason),
    )


def nosing_line(rise: Rise, away: float) -> float:
    """Return the elevation [in] of the line of the nosings at a distance [in] from the upper edge."""
    if rise.run <= 0:
        return rise.top if away <= 0 else rise.bottom
    return max(rise.bottom, rise.top - rise.riser * max(0.0, away) / rise.tread)


def corners_of(shape: BaseGeometry) -> list[Point]:
    """Return the corners of a shape in plan [in]."""
    return [(float(x), float(y)) for x, y in get_coordinates(shape)]
