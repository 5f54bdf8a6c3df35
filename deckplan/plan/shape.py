"""Changing the shape of a platform by place: its width, its depth, one corner; what stands on it goes along.

::

    platform.dining.width       platform.dining.outline.3.x        platform.dining.corner.add   "2": after corner 2
    platform.dining.depth       (any simple outline)               platform.dining.corner.out   "2": corner 2

The rules, our own choice: a rectangle keeps its lower-left corner, or the edge that lies on the house. What lies
nearest to an edge that moves keeps its distance from that edge (the last beam line in the half on that side, the last
post of a list, a flight); everything else keeps its place on the site. A line that leans on another platform keeps its
place too. Other platforms never move. What would fall off the platform is named, and nothing is changed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import NamedTuple

from deckplan.errors import InputError, Problem
from deckplan.geometry import Line, Point, along, distance, point_to_line, unit
from deckplan.plan.goes_along import Ends, Outline, reshaped, within
from deckplan.plan.model import FARTHEST, Plan, Platform
from deckplan.plan.places import edit, value_text
from deckplan.plan.sense import TOUCHING
from deckplan.plan.tables import plan_from_data
from deckplan.plan.writing import to_text
from deckplan.units import EXPECTED_LENGTH, read_length

_PLACE = re.compile(r"platform\.(.+)\.(width|depth|corner\.add|corner\.out|outline\.\d+\.[xy])")


class _Asked(NamedTuple):
    platform: Platform
    what: str


def change(plan: Plan, place: str, text: str) -> Plan:
    """Return the plan with one value changed, shapes by the rules above, all else as `places.edit` does.

    Raises InputError, in words for the field of that place, where the place or the text cannot be.
    """
    asked = _asked(plan, place)
    if asked is None:
        return edit(plan, place, text)
    platform, what = asked
    if what in ("width", "depth"):
        outline = _resized(plan, platform, what, text)
    elif what.startswith("corner"):
        outline = _recounted(plan, platform, what, text)
    else:
        outline = _with_corner(platform, what, text)
    return (
        plan
        if outline == platform.outline
        else reshaped(plan, platform, outline, f'platform "{platform.name}", {what}')
    )


def text_of(plan: Plan, place: str) -> str:
    """Return what stands in the field of a place; `change` with that text changes nothing."""
    asked = _asked(plan, place)
    if asked is None or asked.what.startswith("outline"):
        return value_text(plan, place)
    if is_deed(place):
        return ""
    rectangle = ends_of(asked.platform)
    if rectangle is None:
        raise InputError([Problem(place, "a rectangle along the house")])
    low, high = rectangle[asked.what == "depth"]
    return to_text("outline", high - low, plan.units)


def is_deed(place: str) -> bool:
    """Tell whether a place stands for something that is done once, so that no value remains in its field."""
    return place.startswith("platform.") and place.endswith((".corner.add", ".corner.out"))


def is_shape(place: str) -> bool:
    """Tell whether a place is about the shape of a platform."""
    return _PLACE.fullmatch(place) is not None


def ends_of(platform: Platform) -> tuple[Ends, Ends] | None:
    """Return from where to where a rectangle lies in x and in y [in], None for any other outline."""
    xs, ys = sorted({x for x, _ in platform.outline}), sorted({y for _, y in platform.outline})
    if len(platform.outline) != 4 or len(xs) != 2 or len(ys) != 2:
        return None
    return (xs[0], xs[1]), (ys[0], ys[1])


def keeps_high(plan: Plan, platform: Platform, axis: int) -> bool:
    """Tell which edge of a rectangle stays where its size changes: the upper one only if it alone is on the house."""
    rectangle = ends_of(platform)
    if rectangle is None:
        return False
    low, high = rectangle[axis]
    on_house = [_on_house(plan, [p for p in platform.outline if p[axis] == end]) for end in (low, high)]
    return on_house == [False, True]


def _on_house(plan: Plan, ends: Sequence[Point]) -> bool:
    edge = (ends[0], ends[1])
    walls = [line for wall in plan.house.walls for line in pairwise(wall.line)]
    return any(
        all(point_to_line(along(edge, share), wall) <= TOUCHING for share in (0.3, 0.7)) for wall in walls
    )


def _asked(plan: Plan, place: str) -> _Asked | None:
    found = _PLACE.fullmatch(place)
    platform = next((one for one in plan.platforms if found and one.name == found[1]), None)
    return _Asked(platform, found[2]) if found and platform else None


# -- the new outline --


def _resized(plan: Plan, platform: Platform, what: str, text: str) -> Outline:
    place, axis = f'platform "{platform.name}", {what}', int(what == "depth")
    rectangle = ends_of(platform)
    if rectangle is None:
        raise InputError(
            [Problem(place, "a rectangle along the house; change this outline corner by corner")]
        )
    try:
        size = read_length(text)
    except ValueError:
        raise InputError([Problem(place, EXPECTED_LENGTH, text)]) from None
    if not 0 < size <= FARTHEST:
        raise InputError([Problem(place, "over 0 and at most 1000 ft", text)])
    low, high = rectangle[axis]
    if size == high - low:
        return platform.outline
    old, new = (low, high - size) if keeps_high(plan, platform, axis) else (high, low + size)
    moved = [
        tuple(new if n == axis and at == old else at for n, at in enumerate(p)) for p in platform.outline
    ]
    return tuple((x, y) for x, y in moved)


def _recounted(plan: Plan, platform: Platform, what: str, text: str) -> Outline:
    """Add a corner on the edge that follows a corner, or take a corner out."""
    corners = list(platform.outline)
    if not text.strip():
        return platform.outline
    place = f'platform "{platform.name}", {what}'
    if not text.strip().isdigit() or not 1 <= int(text) <= len(corners):
        raise InputError([Problem(place, f"the number of a corner, from 1 to {len(corners)}", text)])
    at = int(text) - 1
    if what == "corner.add":
        corners.insert(at + 1, _free_middle(plan, platform, (corners[at], corners[(at + 1) % len(corners)])))
    elif len(corners) == 3:
        raise InputError([Problem(place, "three corners or more: move this one instead", text)])
    else:
        del corners[at]
    bare = {"name": "one", "outline": corners, "elevation": 0.0}
    return _outline_of(lambda: plan_from_data({"platform": [bare]}), place, text)


def _free_middle(plan: Plan, platform: Platform, edge: Line) -> Point:
    """Return the middle of the longest stretch of an edge that no flight leaves."""
    length, (ux, uy) = distance(*edge), unit(*edge)
    taken = [(0.0, 0.0), (length, length)]
    for flight in plan.flights:
        if flight.upper == platform.name and flight.along is not None and within(flight.along, edge):
            ends = [(x - edge[0][0]) * ux + (y - edge[0][1]) * uy for x, y in flight.along]
            taken.append((min(ends), max(ends)))
    taken.sort()
    low, high = max(((a[1], b[0]) for a, b in pairwise(taken)), key=lambda ends: ends[1] - ends[0])
    return along(edge, (low + high) / 2 / length)


def _with_corner(platform: Platform, what: str, text: str) -> Outline:
    """Put one corner elsewhere."""
    bare = Plan(platforms=(Platform(name="one", outline=platform.outline, elevation=0.0),))
    place = f'platform "{platform.name}", {what}'
    return _outline_of(lambda: edit(bare, f"platform.one.{what}", text), place, text)


def _outline_of(make: Callable[[], Plan], place: str, text: str) -> Outline:
    """Return the outline of a plan of one platform; what is wrong with it is said of the field that was typed into."""
    try:
        return make().platforms[0].outline
    except InputError as error:
        raise InputError([Problem(place, problem.expected, text) for problem in error.problems]) from None
