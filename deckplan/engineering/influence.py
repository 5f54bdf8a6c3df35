"""Influence coefficients of a beam on any number of supports, by the three-moment equation.

Each load is cut at the supports into units of size one; each unit is solved alone. What a real load does is
its size times the unit's effect.

Source: structural mechanics (three-moment equation). Lengths [in], line loads [lb/in], point loads [lb].
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence

from deckplan.errors import RangeError

LineLoad = tuple[float, ...]  # start, end [in], dead, live and, if any, snow [lb/in]
PointLoad = tuple[float, ...]  # at [in], dead, live and, if any, snow [lb]

NEAR = 1e-9  # places closer than this are one place [in]


class Unit:
    """A piece of load of size one within one span or overhang, and its influence on the whole beam.

    place: -1 left overhang, 0 .. n-2 the span's number, n-1 right overhang; start, end [in]: from the left
    support of the span, or outwards from the support of an overhang; dead, live: its real sizes.
    """

    __slots__ = ("centre", "dead", "end", "left", "live", "load", "moments", "place", "point", "start")

    def __init__(self, place: int, start: float, end: float, dead: float, live: float, point: bool) -> None:
        """Place a piece of load; its influence is filled in by `solve`."""
        self.place = place
        self.start = start
        self.end = end
        self.dead = dead
        self.live = live
        self.point = point
        self.load = 1.0 if point else end - start
        self.centre = (start + end) / 2
        self.left = 0.0  # reaction of the span as a simple beam at its left support
        self.moments: list[float] = []


def _sizes(load: Sequence[float], factors: tuple[float, float, float]) -> tuple[float, float]:
    """Dead and patterned part of a load, factored; live and snow act as one."""
    snow = load[2] * factors[2] if len(load) > 2 else 0.0
    return load[0] * factors[0], load[1] * factors[1] + snow


def cut_loads(
    length: float,
    places: list[float],
    uniform: Iterable[LineLoad],
    points: Iterable[PointLoad],
    factors: tuple[float, float, float],
) -> list[Unit]:
    """Cut the loads at the supports, so that each piece lies in one span or overhang."""
    first, last, count = places[0], places[-1], len(places)
    bounds = [0.0, *places, length]
    units = []
    for start, end, *sizes in uniform:
        dead, live = _sizes(sizes, factors)
        if start < -NEAR or end > length + NEAR or end < start:
            raise RangeError(f"line load from {start:g} to {end:g} in lies off the beam")
        if dead < 0 or live < 0:
            raise RangeError("a line load acts downwards: its parts are not under 0")
        for place in range(-1, count):
            a, b = bounds[place + 1], bounds[place + 2]
            low, high = (a if a > start else start), (b if b < end else end)
            if high - low <= NEAR:
                continue
            if place < 0:
                units.append(Unit(-1, first - high, first - low, dead, live, False))
            else:
                units.append(Unit(place, low - a, high - a, dead, live, False))
    for at, *sizes in points:
        dead, live = _sizes(sizes, factors)
        if at < -NEAR or at > length + NEAR:
            raise RangeError(f"point load at {at:g} in lies off the beam")
        if at < first:
            units.append(Unit(-1, first - at, first - at, dead, live, True))
        elif at > last:
            units.append(Unit(count - 1, at - last, at - last, dead, live, True))
        else:
            place = min(bisect_right(places, at) - 1, count - 2)
            units.append(Unit(place, at - places[place], at - places[place], dead, live, True))
    return units


def three_moment_inverse(spans: list[float]) -> list[list[float]]:
    """Return the inverse of the three-moment matrix over the inner supports: positive definite, no pivots."""
    count = len(spans) - 1
    if count == 1:
        return [[0.5 / (spans[0] + spans[1])]]
    if count == 2:
        a, b, c = 2 * (spans[0] + spans[1]), spans[1], 2 * (spans[1] + spans[2])
        det = a * c - b * b
        return [[c / det, -b / det], [-b / det, a / det]]
    rows = []
    for unit in range(count):
        diagonal = [2 * (spans[i] + spans[i + 1]) for i in range(count)]
        right = [0.0] * count
        right[unit] = 1.0
        for i in range(1, count):
            ratio = spans[i] / diagonal[i - 1]
            diagonal[i] -= ratio * spans[i]
            right[i] -= ratio * right[i - 1]
        column = [0.0] * count
        for i in range(count - 1, -1, -1):
            above = spans[i + 1] * column[i + 1] if i + 1 < count else 0.0
            column[i] = (right[i] - above) / diagonal[i]
        rows.append(column)
    return rows


def load_terms(unit: Unit, span: float) -> tuple[float, float]:
    """Return 6 A b / L at the left and 6 A a / L at the right support of the unit's span [lb in2]."""
    square = span * span
    if unit.point:
        a, b = unit.start, span - unit.start
        return b * (square - b * b) / span, a * (square - a * a) / span
    s, e = unit.start * unit.start, unit.end * unit.end
    t, f = (span - unit.start) ** 2, (span - unit.end) ** 2
    double, four = 2 * square, 4 * span
    return (t * (double - t) - f * (double - f)) / four, (e * (double - e) - s * (double - s)) / four


def solve(unit: Unit, spans: list[float], inverse: list[list[float]]) -> None:
    """Fill in the support moments of a unit, and its reaction as a load on a simple span."""
    last = len(spans)  # number of the last support
    moments = [0.0] * (last + 1)
    place = unit.place
    if place < 0:
        moments[0] = -unit.load * unit.centre
        first, one, two = 1, -moments[0] * spans[0], 0.0
    elif place == last:
        moments[last] = -unit.load * unit.centre
        first, one, two = last - 1, -moments[last] * spans[-1], 0.0
    else:
        span = spans[place]
        unit.left = unit.load * (span - unit.centre) / span
        left, right = load_terms(unit, span)
        first, one, two = place, -left, -right
    for inner in range(1, last):
        row = inverse[inner - 1]
        if 0 < first < last:
            moments[inner] += row[first - 1] * one
        if two and first + 1 < last:
            moments[inner] += row[first] * two
    unit.moments = moments
