"""Lines to keep away from: property lines, easements, septic fields, buried lines.

A line may ask more of what stands high. Then every level and every flight is held to the setback of its own height::

      ____________  finished surface, the highest of the level
     |            |
     |  height    |        by_height = [{ over = "30 in", setback = "10 ft" }]
    _|____________|____    over 30 in: 10 ft in place of the line's own setback; 30 in itself is not over
      lowest ground along its outline \\____
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from deckplan.checks.footings import FootingDesign
from deckplan.geometry import Point, distance
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Ground, Levels, Note, Rise
from deckplan.levels.places import whole
from deckplan.plan.model import BoundaryLine, Plan, SetbackByHeight
from deckplan.units import Units, format_length, format_short, listed
from deckplan.verdict import SAME, Check, Source, Step, at_least

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from deckplan.levels.terrain import Bounds

HEIGHT = Source("Local practice", "setbacks by height of the level", "common practice")
MEASURED = Source("Geometry", "highest surface over the lowest ground along its outline", "common practice")

WORDS = {
    "property": "property line", "easement": "easement", "septic": "septic field or tank", "utility": "buried line",
}  # fmt: skip
DUG = ("septic", "utility")
"""Kinds that holes must keep away from as well as the deck itself."""


@dataclass(frozen=True, slots=True)
class Height:
    """How high something stands [in]: its highest surface, in words, over the lowest ground along its outline."""

    surface: float
    words: str
    ground: float
    lowest_at: Point

    @property
    def over(self) -> float:
        """Height over the ground [in]."""
        return self.surface - self.ground

    def steps(self, units: Units) -> tuple[Step, ...]:
        """Return the sum behind it, for a reviewer to redo."""
        at = ", ".join(format_length(part, units) for part in self.lowest_at)
        return (
            Step("z", self.words, "", "", self.surface, "in", MEASURED),
            Step("g", f"lowest ground along its outline, at {at}", "", "", self.ground, "in", MEASURED),
            Step("h", "height over the ground", "z − g", f"{self.surface:.5g} − ({self.ground:.5g})", self.over, "in",
                 MEASURED),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that keeps a distance: its mark, words for it, its shape.

    surface [in], words_of_surface: of a level or a flight, where its highest surface lies; outline [in]: along which
    its height over the ground is measured; all empty of a footing.
    """

    mark: str
    words: str
    shape: BaseGeometry
    surface: float = 0.0
    words_of_surface: str = ""
    outline: tuple[Point, ...] = ()

    def height(self, ground: Ground, window: Bounds | None = None) -> Height:
        """Measure its highest surface over the lowest ground along its outline; window: see `lowest_along`."""
        from deckplan.levels.terrain import lowest_along

        lowest, at = lowest_along(ground, self.outline, window)
        return Height(self.surface, self.words_of_surface, lowest, at)


def flight_outline(rise: Rise) -> tuple[tuple[float, float], ...]:
    """Return the four corners of a flight in plan [in]."""
    (x0, y0), (x1, y1) = rise.along
    dx, dy = rise.down[0] * rise.run, rise.down[1] * rise.run
    return ((x0, y0), (x1, y1), (x1 + dx, y1 + dy), (x0 + dx, y0 + dy))


def governing(boundary: BoundaryLine, height: float) -> SetbackByHeight | None:
    """Return the entry that holds for a height [in]: the highest `over` that is exceeded; None: the line's own."""
    exceeded = [entry for entry in boundary.by_height if height > entry.over + SAME * max(1.0, entry.over)]
    return max(exceeded, key=lambda entry: entry.over, default=None)


def check_setbacks(plan: Plan, levels: Levels, footings: tuple[FootingDesign, ...]) -> list[Check]:
    """Check every boundary line: the nearest platform or flight, and the nearest footing where digging matters.

    A line that asks by height is checked against every level and every flight, each with the setback of its height.
    """
    if not plan.site.boundary:
        return []
    from shapely import buffer, points

    decks = _decks(plan, levels)
    radii = [f.diameter / 2 for f in footings]
    piers = buffer(points([f.at for f in footings]), radii, quad_segs=16) if footings else ()
    holes = [Thing(f.mark, f"footing {f.mark}", pier) for f, pier in zip(footings, piers, strict=True)]
    window = _window(decks)
    found: list[Check] = []
    for number, boundary in enumerate(plan.site.boundary, 1):
        if boundary.by_height:
            found += [
                _own_setback(plan, number, boundary, thing, thing.height(levels.ground, window))
                for thing in decks
            ]
        else:
            found += _keep_off(plan, levels, number, boundary, decks, "deck")
        if boundary.kind in DUG:
            found += _keep_off(plan, levels, number, boundary, holes, "footings")
    return found


def _window(things: list[Thing]) -> Bounds | None:
    """Return what holds every outline [in], so that the ground is cut once for all."""
    xs = [x for thing in things for x, _ in thing.outline]
    ys = [y for thing in things for _, y in thing.outline]
    return (min(xs), min(ys), max(xs), max(ys)) if xs else None


def _decks(plan: Plan, levels: Levels) -> list[Thing]:
    """Return the platforms and flights, each with its highest surface.

    A flight is as high as its highest tread, one riser under the level that it leaves: what lies above belongs to that
    level, which is checked by itself.
    """
    decks = [
        Thing(
            p.name,
            f'"{p.name}"',
            whole(p.outline),
            levels.elevation(p.name),
            "finished surface of the level",
            p.outline,
        )
        for p in plan.platforms
    ]
    return [*decks, *(_flight(rise) for rise in levels.flights if rise.run > 0)]


def _flight(rise: Rise) -> Thing:
    from shapely import Polygon

    outline = flight_outline(rise)
    words = "highest tread of the flight, one riser under the level that it leaves"
    return Thing(
        flight_mark(rise.index), f'flight "{rise.upper}" to "{rise.lower}"', Polygon(outline),
        rise.top - rise.riser, words, outline,
    )  # fmt: skip


def _own_setback(plan: Plan, number: int, boundary: BoundaryLine, thing: Thing, height: Height) -> Check:
    """Check one level or flight against the setback that a line asks of its height."""
    units, words, high = plan.units, WORDS[boundary.kind], height.over
    entry = governing(boundary, high)
    asked = boundary.setback if entry is None else entry.setback
    there = clear_of(plan, boundary, thing.shape)
    source = Source("The plan's site", f"boundary {number}, {words}, by height", "as the plan states it")
    compared = [
        f"{high:.5g} > {each.over:g}" if each == entry else f"{high:.5g} ≤ {each.over:g}"
        for each in sorted(boundary.by_height, key=lambda each: -each.over)
        if entry is None or each.over >= entry.over
    ]
    which = (
        "setback of the line itself: h is over none of its heights"
        if entry is None
        else f"setback of what is more than {format_short(entry.over, units)} high"
    )
    steps = (
        *height.steps(units),
        Step("s", which, "by the highest height that h exceeds", ", ".join(compared), asked, "in", source),
        Step("d", f"distance of {thing.words} from the line", "", "", there, "in", source),
    )
    return at_least(
        thing.mark, f"deck clear of the {words} {number}, by its height", source, there, asked, "in", steps,
        reason=_too_near(boundary, thing, high, there, asked, entry, units),
    )  # fmt: skip


def _too_near(
    boundary: BoundaryLine,
    thing: Thing,
    high: float,
    there: float,
    asked: float,
    entry: SetbackByHeight | None,
    units: Units,
) -> str:
    """Say how near something stands, what is asked of its height, and what would help."""
    above = f"{format_short(high, units)} over the ground"
    why = (
        f"{_how_near(boundary, thing, there, units)} and lies {above}; {format_length(asked, units)} is asked"
    )
    if entry is not None:
        why += f" of what is more than {format_short(entry.over, units)} high"
    lower = [
        limit.over
        for limit in sorted(boundary.by_height, key=lambda each: -each.over)
        if limit.over < high and there >= _asked_at(boundary, limit.over) - SAME * max(1.0, there)
    ]
    cure = f", or lower it by {format_short(high - lower[0], units)}" if lower else ""
    return f"{why}: move or cut it back{cure}"


def _asked_at(boundary: BoundaryLine, height: float) -> float:
    entry = governing(boundary, height)
    return boundary.setback if entry is None else entry.setback


def _how_near(boundary: BoundaryLine, thing: Thing, there: float, units: Units) -> str:
    words = WORDS[boundary.kind]
    far = f"crosses the {words}" if there < 0 else f"stands {format_short(there, units)} from the {words}"
    return f"{thing.words} {far}"


def setback_notes(plan: Plan, levels: Levels) -> Iterator[Note]:
    """Advise where heights ask for less than what lies lower, and ask how a place counts the height of stairs."""
    units = plan.units
    for number, boundary in enumerate(plan.site.boundary, 1):
        ladder = sorted(boundary.by_height, key=lambda entry: entry.over)
        asked = [boundary.setback, *(entry.setback for entry in ladder)]
        for entry, (below, above) in zip(ladder, pairwise(asked), strict=True):
            if above < below:
                near, far = format_length(above, units), format_length(below, units)
                words = (
                    f"boundary {number}: what is more than {format_short(entry.over, units)} high may stand nearer "
                    f"({near}) than what is lower ({far}): is that meant?"
                )
                yield Note("advice", words)
        for rise in levels.flights if ladder else ():
            if rise.run <= 0:
                continue
            own = _flight(rise).height(levels.ground).over
            mine, level = (_asked_at(boundary, height) for height in (own, own + rise.riser))
            if level > mine:
                more, less = format_length(level, units), format_length(mine, units)
                words = (
                    f"{flight_mark(rise.index)} counts for boundary {number} as high as its highest tread, "
                    f"{format_short(own, units)}: does the place count stairs with the level that they leave "
                    f"({more} instead of {less}), or let them stand nearer?"
                )
                yield Note("ask", words)


def _keep_off(
    plan: Plan, levels: Levels, number: int, boundary: BoundaryLine, things: list[Thing], what: str
) -> Iterator[Check]:
    """Check the nearest of some things against one line; whatever crosses it has a distance under nothing."""
    if not things:
        return
    measured = [(clear_of(plan, boundary, thing.shape), thing) for thing in things]
    there, nearest = min(measured, key=lambda item: item[0])
    units, words = plan.units, WORDS[boundary.kind]
    source = Source("The plan's site", f"boundary {number}, {words}", "as the plan states it")
    steps = [Step("d", f"distance of {nearest.words} from the line", "", "", there, "in", source)]
    if nearest.outline:
        high = nearest.height(levels.ground).over
        steps.append(
            Step("h", "its height over the ground, which some places go by", "", "", high, "in", HEIGHT)
        )
    far = _how_near(boundary, nearest, there, units)
    others = [
        (away, thing)
        for away, thing in sorted(measured, key=lambda item: item[0])
        if thing is not nearest and away < boundary.setback - SAME * max(1.0, boundary.setback)
    ]
    if others:
        names = [thing.words if thing.outline else thing.mark for _, thing in others]
        far += f", and {listed(names)} {'stand' if len(names) > 1 else 'stands'} too near as well"
        steps += [
            Step("d", f"distance of {thing.words} from the line", "", "", away, "in", source)
            for away, thing in others
        ]
    reason = f"{far}; {format_short(boundary.setback, units)} is asked: move or cut {'them' if others else 'it'} back"
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
