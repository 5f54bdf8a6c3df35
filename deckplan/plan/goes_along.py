"""What goes along where a platform gets another outline: beam lines, posts, flights, by the rules of `shape`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from deckplan.errors import InputError, Problem
from deckplan.geometry import Line, Point, distance, point_to_line, turned, unit
from deckplan.plan.model import BeamLine, Flight, Opening, Plan, Platform
from deckplan.plan.sense import TOUCHING
from deckplan.plan.sense_beams import joist_angle
from deckplan.plan.tables import plan_from_data
from deckplan.units import format_length

Outline = tuple[Point, ...]
Ends = tuple[float, float]

_HAIR = 1e-6
"""Lengths this close are one [in]: above float noise, below any tape."""


def reshaped(plan: Plan, platform: Platform, outline: Outline, place: str) -> Plan:
    """Return the plan with another outline of a platform, what stands on it taken along; place: for what is wrong."""
    after = platform.model_copy(update={"outline": outline})
    supports = _supports(plan, platform, after, place)
    _hold(platform.openings, outline, place)
    changed = after.model_copy(update={"supports": supports}) if supports != platform.supports else after
    flights = tuple(
        _carried(flight, number, platform.outline, outline, place)
        if flight.upper == platform.name
        else flight
        for number, flight in enumerate(plan.flights, start=1)
    )
    platforms = tuple(changed if one is platform else one for one in plan.platforms)
    whole = plan.model_copy(update={"platforms": platforms})
    if flights != plan.flights:
        whole = whole.model_copy(update={"flights": flights})
    return plan_from_data(whole.model_dump(by_alias=True, exclude_unset=True), "", {"typed": True})


def _supports(plan: Plan, before: Platform, after: Platform, place: str) -> tuple[object, ...]:
    """Return the supports with their lines and lists of posts where the rules put them."""
    was, now = _reach(before), _reach(after)
    # a line through two points of the plan stays where it is
    lines = [one for one in before.supports if isinstance(one, BeamLine) and one.offset is not None]
    free = [not (line.shares_posts_with or line.stands_on or line.shares_footings_with) for line in lines]
    offsets = _kept([line.set_at for line in lines], free, was, now)
    depth = now[1] - now[0]
    for line, at in zip(lines, offsets, strict=True):
        if not -_HAIR <= at <= depth + _HAIR:
            where = format_length(line.set_at, plan.units)
            wanted = f"a platform that holds its beam lines; the one at {where} would lie off it"
            raise InputError([Problem(place, wanted)])
    order = sorted(range(len(lines)), key=lambda n: lines[n].set_at)
    for one, other in pairwise(order):
        if offsets[other] - offsets[one] <= _HAIR:
            names = " and ".join(format_length(lines[n].set_at, plan.units) for n in (one, other))
            raise InputError([Problem(place, f"so large that the beam lines at {names} keep apart")])
    moved = iter(offsets)
    supports: list[object] = []
    for support in before.supports:
        if isinstance(support, BeamLine) and support.offset is not None:
            changes = _line(before, after, support, min(max(next(moved), 0.0), depth))
            supports.append(support.model_copy(update=changes) if changes else support)
        else:
            supports.append(support)
    return tuple(supports)


def _line(before: Platform, after: Platform, line: BeamLine, offset: float) -> dict[str, object]:
    """Return what changes of one beam line: its place, and its posts where they are a list."""
    changes: dict[str, object] = {} if abs(offset - line.set_at) <= _HAIR else {"offset": offset}
    if isinstance(line.posts, tuple):
        was, now = _ends_at(before, line.set_at), _ends_at(after, offset)
        if was and now:
            posts = tuple(_kept(line.posts, [True] * len(line.posts), was, now))
            if any(abs(one - other) > _HAIR for one, other in zip(posts, line.posts, strict=True)):
                changes["posts"] = posts
    return changes


def _kept(offsets: Sequence[float], free: Sequence[bool], was: Ends, now: Ends) -> list[float]:
    """Return the offsets from the new lower end of things set out from the old one, by the rules of this module."""
    half = (was[1] - was[0]) / 2
    low_moves, high_moves = abs(now[0] - was[0]) > _HAIR, abs(now[1] - was[1]) > _HAIR
    found = []
    for at, may_move in zip(offsets, free, strict=True):
        place = was[0] + at
        if may_move and high_moves and at == max(offsets) and at > half:
            place += now[1] - was[1]
        elif may_move and low_moves and at == min(offsets) and at < half:
            place += now[0] - was[0]
        else:
            pass  # keeps its place on the site
        found.append(place - now[0])
    return found


def _setting_out(platform: Platform) -> Callable[[Point], Point]:
    """Return what turns a place on the site into one across and along the joists, as a layout sets out."""
    angle = joist_angle(platform) % 180.0

    def turn(point: Point) -> Point:
        v, w = turned(point, -angle)
        return (w if angle == 0 else -w, v)

    return turn


def _reach(platform: Platform) -> Ends:
    """Return from where to where a platform reaches along its joists [in]."""
    places = [v for _, v in map(_setting_out(platform), platform.outline)]
    return min(places), max(places)


def _ends_at(platform: Platform, offset: float) -> Ends | None:
    """Return from where to where a beam line runs across the joists [in]: its outermost ends on the outline."""
    corners = [_setting_out(platform)(corner) for corner in platform.outline]
    low, high = min(v for _, v in corners), max(v for _, v in corners)
    at = min(max(low + offset, low + 2 * _HAIR), high - 2 * _HAIR)
    found = [
        u0 + (u1 - u0) * (at - v0) / (v1 - v0)
        for (u0, v0), (u1, v1) in zip(corners, corners[1:] + corners[:1], strict=True)
        if (v0 > at) != (v1 > at)
    ]
    return (min(found), max(found)) if found else None


def _hold(openings: Sequence[Opening], outline: Outline, place: str) -> None:
    """Refuse an outline that an opening would lie outside of."""
    from shapely import Polygon

    shape = Polygon(outline).buffer(_HAIR)
    for opening in openings:
        if not shape.covers(Polygon(opening.outline)):
            raise InputError(
                [Problem(place, f"an outline round its opening ({opening.kind}), which would lie outside")]
            )


def _carried(flight: Flight, number: int, was: Outline, now: Outline, place: str) -> Flight:
    """Take a flight's stretch along with the edge that it lies on, its distance kept from the corner that stays."""
    if flight.along is None:
        return flight
    same = len(was) == len(now)
    for old, new in zip(_edges(was), _edges(now) if same else _edges(was), strict=True):
        if not all(point_to_line(end, old) <= TOUCHING for end in flight.along):
            continue
        if not same and not any(within(flight.along, edge) for edge in _edges(now)):
            raise InputError(
                [Problem(place, f"a shape that leaves flight S{number} one whole edge to leave by")]
            )
        if old == new:
            return flight
        along_new = _carry(flight.along, old, new)
        if not within(along_new, new):
            raise InputError(
                [Problem(place, f"so large that flight S{number} keeps the edge that it leaves")]
            )
        return flight.model_copy(update={"along": along_new})
    return flight


def _carry(stretch: Line, old: Line, new: Line) -> Line:
    from_end = old[1] == new[1]  # the corner that stays, else the first
    old, new = (old[::-1], new[::-1]) if from_end else (old, new)
    (ux, uy), (vx, vy) = unit(*old), unit(*new)

    def put(point: Point) -> Point:
        far = (point[0] - old[0][0]) * ux + (point[1] - old[0][1]) * uy
        return (new[0][0] + far * vx, new[0][1] + far * vy)

    return put(stretch[0]), put(stretch[1])


def within(stretch: Line, edge: Line) -> bool:
    """Tell whether a flight's stretch lies on an edge."""
    return distance(*edge) > 0 and all(point_to_line(end, edge) <= TOUCHING for end in stretch)


def _edges(corners: Outline) -> list[Line]:
    return list(zip(corners, (*corners[1:], corners[0]), strict=True))
