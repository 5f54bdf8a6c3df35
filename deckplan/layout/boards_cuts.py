"""Where boards are cut across because stock is too short: breaker boards, or butt seams over joists."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Literal

import shapely
from shapely import Polygon

from deckplan.geometry import Line, Point
from deckplan.layout.boards_bearing import band
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.units import Units

STOCK: dict[str, tuple[float, ...]] = {
    "wood": (96.0, 120.0, 144.0, 168.0, 192.0),
    "composite": (144.0, 192.0, 240.0),
}
"""Lengths that boards come in [in]: wood in even feet from 8 to 16, composite 12, 16 and 20 ft. Common practice."""

METRIC_STOCK: dict[str, tuple[float, ...]] = {
    "wood": tuple(metres / 0.0254 for metres in (2.4, 3.0, 3.6, 4.2, 4.8)),
    "composite": tuple(metres / 0.0254 for metres in (3.6, 4.8, 6.0)),
}
"""The same where lumber is sold by the metre, in steps of 300 mm. Common practice."""


def stock_of(kind: str, units: Units) -> tuple[float, ...]:
    """Return the lengths [in] that boards of a kind, "wood" or "composite", are sold in, the shortest first."""
    return (STOCK if units == "us" else METRIC_STOCK)[kind]


Seams = Literal["breaker", "butt"]

MOST_CUTS = 24
"""More cuts across one platform than this are a mistake in the plan."""

STEEP = 0.5
"""Boards that run nearer to the joists than 60 degrees off square have their cuts square across themselves."""


@dataclass(frozen=True, slots=True)
class Cross:
    """Cuts across the field: position along `axis` [in] and clear width between the boards on both sides [in]."""

    axis: Point
    along: Point
    at: tuple[float, ...]
    width: float

    def line(self, at: float, far: float) -> Line:
        """Return the centre line of the cut at a position, `far` [in] to both sides of the axis."""
        (ax, ay), (lx, ly) = self.axis, self.along
        return (
            (ax * at - lx * far, ay * at - ly * far),
            (ax * at + lx * far, ay * at + ly * far),
        )

    def strips(self, far: float) -> list[Polygon]:
        """Return the strips that the cuts take out of the field."""
        return [Polygon(band(self.line(at, far), self.width)) for at in self.at]


def longest_along(shapes: Any, direction: Point) -> float:
    """Return the longest reach [in] of some shapes along a unit vector."""
    best = 0.0
    for shape in shapes:
        for part in getattr(shape, "geoms", [shape]):
            if part.geom_type == "Polygon" and not part.is_empty:
                reach = [x * direction[0] + y * direction[1] for x, y in part.exterior.coords]
                best = max(best, max(reach) - min(reach))
    return best


def plan_cuts(
    field: Polygon,
    rows: Any,
    direction: Point,
    axis: Point,
    along: Point,
    joists: list[float],
    stock: float,
    width: float,
    gap: float,
    seams: Seams,
    wish: int | tuple[float, ...] | None = None,
    near: tuple[float, ...] = (),
) -> tuple[Cross, ...]:
    """Return the cuts across the field: as wished, else the fewest after which every board comes out of stock.

    field [in]; rows: the strips of the rows; direction: unit vector along the boards; axis, along: unit vectors
    across and along the cuts; joists: positions of the joist lines on the axis [in]; stock, width, gap [in]. Butt
    seams come as two sets, for rows by turns; breakers as one. wish: how many, or their positions on the axis [in];
    near: where neighbours have theirs [in], which are taken where stock allows.
    """
    if isinstance(wish, tuple):
        return (Cross(axis, along, wish, width + 2 * gap),)
    pieces = shapely.intersection(field, rows)
    if wish is None and longest_along(pieces, direction) <= stock + 1e-6:
        return ()
    reach = [x * axis[0] + y * axis[1] for x, y in field.exterior.coords]
    low, high = min(reach), max(reach)
    far = math.hypot(*(b - a for a, b in zip(field.bounds[:2], field.bounds[2:], strict=True))) + sum(
        abs(c) for c in field.bounds
    )
    clear = width + 2 * gap if seams == "breaker" else gap
    # a seam lies over the joint between a joist and a ply beside it; a breaker has one on each side
    shift = JOIST_THICKNESS / 2 + ((width + gap) / 2 if seams == "breaker" else 0.0)
    for count in range(1, MOST_CUTS) if wish is None else (wish,):
        ideal = [low + (high - low) * (k + 1) / (count + 1) for k in range(count)]
        places = sorted(u + shift for u in joists if low + clear < u + shift < high - clear)
        sets = [_snap(ideal, places)]
        if seams == "butt":
            sets.append(_snap(ideal, [p for p in places if p not in sets[0]]))
        elif (alike := _snap(ideal, places, near)) != sets[0]:
            beside = Cross(axis, along, alike, clear)
            if longest_along(_left(field, rows, beside, far), direction) <= stock + 1e-6:
                return (beside,)
        crosses = tuple(Cross(axis, along, at, clear) for at in sets)
        if wish is not None or all(
            longest_along(_left(field, rows, cross, far), direction) <= stock + 1e-6 for cross in crosses
        ):
            return crosses
    return ()


def _left(field: Polygon, rows: Any, cross: Cross, far: float) -> Any:
    """Return what cuts leave of the rows."""
    return shapely.intersection(field.difference(shapely.union_all(cross.strips(far))), rows)


def _snap(ideal: list[float], places: list[float], near: tuple[float, ...] = ()) -> tuple[float, ...]:
    """Return the places nearest to the wished ones, each once; a wished one where there are no places.

    near: where neighbours have theirs [in]: of the places, one for each of those moves there.
    """
    left = list(places)
    alike = [place for place in places if any(abs(place - at) <= 0.01 for at in near)]
    if alike and ideal:
        ideal = list(ideal)
        for place in alike[: len(ideal)]:
            ideal[min(range(len(ideal)), key=lambda k: abs(ideal[k] - place))] = place
    found = []
    for wish in ideal:
        if not left:
            found.append(wish)
            continue
        nearest = min(left, key=lambda p: abs(p - wish))
        left.remove(nearest)
        found.append(nearest)
    return tuple(sorted(found))
