"""Which openings make sense: inside their platform, with room round them for the wood that frames them.

An opening is framed as the rectangle round it, along the joists: a doubled trimmer on either side, a doubled header
at either end, cut joists from the headers to the rims::

        rim      |  |  |  |          along the joists: rim + shortest joist + header
        ---------+==+==+==+------
           joist |  header  | joist
                 +--+====+--+
                 |tr|hole|tr|        across them: rim (or end joist) + trimmer
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import TYPE_CHECKING

from deckplan.errors import Problem
from deckplan.geometry import Line, Point, area, turned
from deckplan.plan.model import Platform
from deckplan.units import format_inches, format_length

if TYPE_CHECKING:
    from shapely import Polygon

RIM = 1.5
"""What closes a platform's edge: a rim, a ledger or an end joist [in]. Source: PS 20, two-inch lumber dressed."""

FRAME = 3.0
"""A doubled header or trimmer [in]. Source: PS 20, two pieces of two-inch lumber."""

SHORTEST = 6.0
"""Shortest joist between a header and a rim, or between two headers [in]. Source: common practice."""

ASIDE = RIM + FRAME
"""Least distance of an opening from an edge along the joists [in]."""

AHEAD = RIM + SHORTEST + FRAME
"""Least distance of an opening from an edge across the joists [in]."""

BETWEEN_TRIMMERS = 2 * FRAME
"""Least distance of two openings side by side [in]: each has a trimmer of its own."""

BETWEEN_HEADERS = 2 * FRAME + SHORTEST
"""Least distance of two openings one behind the other along the joists [in]."""

# What a tape and floats leave open [in].
_NEAR = 1e-3

Hole = tuple[float, float, float, float]
"""Least along, least across, most along, most across the joists [in]."""


def openings(platform: Platform, lead: str, angle: float) -> Iterator[Problem]:
    """Yield what is wrong with the openings of a platform whose joists run at an angle [degrees] from the x axis."""
    if not platform.openings:
        return
    from shapely import Polygon

    shape = Polygon([turned(corner, -angle) for corner in platform.outline])
    inside = shape.buffer(_NEAR - RIM, join_style="mitre")
    holes: dict[int, Hole] = {}
    for number, opening in enumerate(platform.openings, start=1):
        outline = Polygon([turned(corner, -angle) for corner in opening.outline])
        place = f"{lead}, opening {number}, outline"
        over = outline.difference(shape).area
        if over > _NEAR * outline.length:
            past = "wholly outside it" if over > outline.area - 1e-3 else f"{over / 144:.3g} sq ft outside it"
            yield Problem(place, "inside the platform, or a notch of the platform's outline", past)
            continue
        hole: Hole = outline.bounds
        problem = _from_edges(place, hole, shape, inside, angle) or _beside_joists(place, hole, shape, angle)
        if problem:
            yield problem
        else:
            holes[number] = hole
    for (first, one), (second, other) in combinations(holes.items(), 2):
        came = _apart(one, other)
        if came:
            yield Problem(f"{lead}, opening {second}, outline", _room(first), came)


# -- from the edges --


def _from_edges(place: str, hole: Hole, shape: Polygon, inside: Polygon, angle: float) -> Problem | None:
    """Return what is wrong where the wood round an opening does not stay within the rims."""
    from shapely import LineString, box

    v0, u0, v1, u1 = hole
    framed = box(v0 - FRAME, u0 - FRAME, v1 + FRAME, u1 + FRAME)
    cut = box(v0 - FRAME - SHORTEST, u0, v1 + FRAME + SHORTEST, u1)
    wood = framed.union(cut)
    if inside.covers(wood):
        return None
    near = [edge for edge in _edges(shape) if LineString(edge).distance(wood) < RIM - _NEAR]
    clear = box(*hole)
    edge = min(near or _edges(shape), key=lambda line: LineString(line).distance(clear))
    expected = (
        f"a notch of the platform's outline, or at least {_asked(edge)}, measured from the rectangle round it"
    )
    away = LineString(edge).distance(clear)
    return Problem(place, expected, f"{format_inches(away)} from the edge {_named(edge, angle)}")


def _asked(edge: Line) -> str:
    """Say how far an opening keeps from an edge, with the wood that needs the room; aslant, both limits may hold."""
    (v_a, u_a), (v_b, u_b) = edge
    trimmer = f"(rim {format_inches(RIM)}, doubled trimmer {format_inches(FRAME)})"
    header = f"(rim {format_inches(RIM)}, joist of {format_inches(SHORTEST)}, doubled header {format_inches(FRAME)})"
    if abs(u_a - u_b) <= _NEAR:
        return f"{format_inches(ASIDE)} from an edge along the joists {trimmer}"
    if abs(v_a - v_b) <= _NEAR:
        return f"{format_inches(AHEAD)} from an edge across the joists {header}"
    return (
        f"{format_inches(ASIDE)} across the joists {trimmer} and {format_inches(AHEAD)} along them {header} from an "
        f"edge aslant to them"
    )


def _beside_joists(place: str, hole: Hole, shape: Polygon, angle: float) -> Problem | None:
    """Return what is wrong where a trimmer runs into the joist that stands along an inner edge of the outline.

    The trimmer may stand beside that joist, or take its place; anything between leaves the edge without a joist.
    """
    _, u0, _, u1 = hole
    low, high = shape.bounds[1], shape.bounds[3]
    for edge in _edges(shape):
        (v_a, at), (v_b, to) = edge
        if abs(at - to) > _NEAR or at - low <= RIM or high - at <= RIM:
            continue
        # the outline runs counter-clockwise, so it lies on the left of its edges
        joist = (at, at + RIM) if v_b > v_a else (at - RIM, at)
        for trimmer in ((u0 - FRAME, u0), (u1, u1 + FRAME)):
            into = min(joist[1], trimmer[1]) - max(joist[0], trimmer[0])
            takes_its_place = at in joist and min(abs(at - trimmer[0]), abs(at - trimmer[1])) <= _NEAR
            if into > _NEAR and not takes_its_place:
                ways = (joist[0] - trimmer[1], joist[1] - trimmer[0])
                move = min(abs(way) for way in ways)
                expected = (
                    f"its trimmers clear of the joist along the edge {_named(edge, angle)}: "
                    f"{format_inches(move)} farther to one side"
                )
                return Problem(place, expected)
    return None


def _edges(shape: Polygon) -> list[Line]:
    """Return the edges of an outline, counter-clockwise."""
    corners: tuple[Point, ...] = tuple((x, y) for x, y in shape.exterior.coords[:-1])
    if area(corners) < 0:
        corners = corners[::-1]
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def _named(edge: Line, angle: float) -> str:
    """Name an edge by its ends on the site."""
    ends = [turned(end, angle) for end in edge]
    return " to ".join(f"({format_length(x)}, {format_length(y)})" for x, y in ends)


# -- from each other --


def _room(first: int) -> str:
    return (
        f"one opening for both, or clear of opening {first}: {format_inches(BETWEEN_TRIMMERS)} beside it (two doubled "
        f"trimmers), or in line with it along the joists and {format_inches(BETWEEN_HEADERS)} from it (two doubled "
        f"headers, a joist of {format_inches(SHORTEST)} between them)"
    )


def _apart(one: Hole, other: Hole) -> str:
    """Say how two openings lie where their wood meets; nothing where both can be framed."""
    ahead = max(one[0], other[0]) - min(one[2], other[2])
    aside = max(one[1], other[1]) - min(one[3], other[3])
    if ahead < 0 and aside < 0:
        return f"over it on {ahead * aside / 144:.3g} sq ft"
    if ahead < BETWEEN_TRIMMERS - _NEAR and 0 <= aside < BETWEEN_TRIMMERS - _NEAR:
        return f"{format_inches(aside)} beside it"
    if aside < 0 and ahead < BETWEEN_HEADERS - _NEAR:
        return f"{format_inches(ahead)} from it along the joists"
    if _in_the_way(one, other):
        return "half beside it, so that the trimmers of one run into those of the other, or into its header"
    return ""


def _in_the_way(one: Hole, other: Hole) -> bool:
    """Tell whether trimmers of two openings overlap, or each opening cuts a trimmer of the other.

    Trimmers that take the same line are one. An opening that lies within the width of another hangs its trimmers
    on that one's header; where each did so, their headers would carry each other.
    """
    mine, theirs = _trimmers(one), _trimmers(other)
    if any(_NEAR < abs(a - b) < FRAME - _NEAR for a in mine for b in theirs):
        return True
    cuts = any(one[1] < u < one[3] for u in theirs)
    return cuts and any(other[1] < u < other[3] for u in mine)


def _trimmers(hole: Hole) -> tuple[float, float]:
    """Return the middles of an opening's trimmers across the joists [in]."""
    return hole[1] - FRAME / 2, hole[3] + FRAME / 2
