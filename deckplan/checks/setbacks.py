"""Lines to keep away from: property lines, easements, septic fields, buried lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from deckplan.checks.footings import FootingDesign
from deckplan.geometry import distance
from deckplan.layout.parts import height_over_ground
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Levels, Rise
from deckplan.plan.model import BoundaryLine, Plan
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, at_least

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

HEIGHT = Source("Local practice", "setbacks by height of the level", "common practice")

WORDS = {
    "property": "property line", "easement": "easement", "septic": "septic field or tank", "utility": "buried line",
}  # fmt: skip
DUG = ("septic", "utility")
"""Kinds that holes must keep away from as well as the deck itself."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that keeps a distance: its mark, words for it, its shape, its height over the ground [in]."""

    mark: str
    words: str
    shape: BaseGeometry
    height: float | None


def flight_outline(rise: Rise) -> tuple[tuple[float, float], ...]:
    """Return the four corners of a flight in plan [in]."""
    (x0, y0), (x1, y1) = rise.along
    dx, dy = rise.down[0] * rise.run, rise.down[1] * rise.run
    return ((x0, y0), (x1, y1), (x1 + dx, y1 + dy), (x0 + dx, y0 + dy))


def check_setbacks(plan: Plan, levels: Levels, footings: tuple[FootingDesign, ...]) -> list[Check]:
    """Check every boundary line: the nearest platform or flight, and the nearest footing where digging matters."""
    if not plan.site.boundary:
        return []
    from shapely import Point, Polygon

    decks = [
        Thing(p.name, f'"{p.name}"', Polygon(p.outline).buffer(0), height_over_ground(levels, p))
        for p in plan.platforms
    ]
    decks += [
        Thing(
            flight_mark(rise.index),
            f'flight "{rise.upper}" to "{rise.lower}"',
            Polygon(flight_outline(rise)),
            None,
        )
        for rise in levels.flights
        if rise.run > 0
    ]
    holes = [Thing(f.mark, f"footing {f.mark}", Point(f.at).buffer(f.diameter / 2), None) for f in footings]
    found: list[Check] = []
    for number, boundary in enumerate(plan.site.boundary, 1):
        found += _keep_off(plan, number, boundary, decks, "deck")
        if boundary.kind in DUG:
            found += _keep_off(plan, number, boundary, holes, "footings")
    return found


def _keep_off(
    plan: Plan, number: int, boundary: BoundaryLine, things: list[Thing], what: str
) -> Iterator[Check]:
    """Check the nearest of some things against one line; whatever crosses it has a distance under nothing."""
    if not things:
        return
    measured = [(clear_of(plan, boundary, thing.shape), thing) for thing in things]
    there, nearest = min(measured, key=lambda item: item[0])
    units, words = plan.units, WORDS[boundary.kind]
    source = Source("The plan's site", f"boundary {number}, {words}", "as the plan states it")
    steps = [Step("d", f"distance of {nearest.words} from the line", "", "", there, "in", source)]
    if nearest.height is not None:
        steps.append(
            Step("h", "height of that level over the ground, which some places go by", "", "", nearest.height, "in",
                 HEIGHT)
        )  # fmt: skip
    far = f"crosses the {words}" if there < 0 else f"stands {format_short(there, units)} from the {words}"
    reason = f"{nearest.words} {far}; {format_short(boundary.setback, units)} is asked: move or cut it back"
    yield at_least(
        nearest.mark, f"{what} clear of the {words} {number}", source, there, boundary.setback, "in", tuple(steps),
        reason=reason,
    )  # fmt: skip


def clear_of(plan: Plan, boundary: BoundaryLine, shape: BaseGeometry) -> float:
    """Return a shape's distance from a line [in], under nothing by as much as it reaches across.

    A line that closes on itself is the edge of an area to keep out of. Of a property line or an easement the house is
    on the right side; without a house, of any open line the side with more of the shape is.
    """
    from shapely import LineString, Point, Polygon
    from shapely.ops import split

    line = LineString(boundary.line)
    if line.is_ring:
        area = Polygon(boundary.line)
        if not area.intersects(shape):
            return float(area.distance(shape))
        common = area.intersection(shape)
        return -_narrowest(common)
    if not line.crosses(shape) and not line.within(shape):
        apart = float(line.distance(shape))
        return -apart if _beyond(plan, line, shape.representative_point(), boundary) else apart
    parts = list(split(shape, line).geoms)
    if len(parts) < 2:
        # the line ends inside the shape
        return -float(line.intersection(shape).length)
    wrong = [part for part in parts if _beyond(plan, line, part.representative_point(), boundary)]
    wrong = wrong or [min(parts, key=lambda part: part.area)]
    return -max(float(line.distance(Point(at))) for part in wrong for at in _corners(part))


def _narrowest(shape: BaseGeometry) -> float:
    """Return the shorter side of the smallest rectangle around a shape [in]: what has to give way at least."""
    from shapely import minimum_rotated_rectangle

    corners = _corners(minimum_rotated_rectangle(shape))
    return min((distance(a, b) for a, b in pairwise(corners)), default=0.0)


def _corners(shape: BaseGeometry) -> list[tuple[float, float]]:
    from shapely import get_coordinates

    return [(float(x), float(y)) for x, y in get_coordinates(shape)]


def _beyond(plan: Plan, line: BaseGeometry, at: BaseGeometry, boundary: BoundaryLine) -> bool:
    """Tell whether a place lies on the other side of a line than the house."""
    from shapely import LineString

    if not plan.house.walls or boundary.kind in DUG:
        return False
    (x0, y0), (x1, y1) = plan.house.walls[0].line[:2]
    way = LineString([((x0 + x1) / 2, (y0 + y1) / 2), (at.centroid.x, at.centroid.y)])
    return bool(way.crosses(line))
