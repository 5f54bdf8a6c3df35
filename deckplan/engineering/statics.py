"""Straight beams on any number of supports: forces under every pattern of live load, exactly.

         overhang     span        span     overhang
        |---------|-----------|---------|--------|
        ==========================================      w: dead everywhere, live where it hurts
                  ^           ^         ^               M sagging is +, reactions up are +

The three-moment equation gives, for each piece of load alone, the moments over the supports (its influence
coefficients). Every piece of live load between two supports, or on an overhang, and every point load, is
there or not: the largest effect is  dead * sum(c) + sum(max(live * c, 0)); the least takes min. No pattern is
enumerated.

Source: structural mechanics (three-moment equation); checked against AWC Design Aid 6 and two frame programs.
Lengths [in], line loads [lb/in], point loads [lb], moments [lb in].
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from deckplan.engineering.beam_shear import largest_shear, lifted
from deckplan.engineering.influence import (
    NEAR,
    LineLoad,
    PointLoad,
    Unit,
    cut_loads,
    solve,
    three_moment_inverse,
)
from deckplan.errors import RangeError


@dataclass(frozen=True, slots=True)
class Peak:
    """A largest (or least) value and where along the beam it stands [in]."""

    value: float
    at: float


@dataclass(frozen=True, slots=True)
class Reaction:
    """What a support carries [lb], upwards positive.

    largest, least: over every pattern of live load (least under 0: uplift); full: all live load on;
    dead: dead load alone.
    """

    at: float
    largest: float
    least: float
    full: float
    dead: float


@dataclass(frozen=True)
class BeamAnalysis:
    """Everything the checks ask of a beam, over every pattern of live load.

    span_moments: sagging peak of each span; support_moments: most hogging moment over each support [lb in];
    moment_max, moment_min: the peaks of those, and of hogging within a span where a load lifts the beam; shear: largest
    at the face of a support, or between loads that press and lift [lb], see `shear_at_depth`.
    """

    length: float
    supports: tuple[float, ...]
    reactions: tuple[Reaction, ...]
    span_moments: tuple[Peak, ...]
    support_moments: tuple[Peak, ...]
    moment_max: Peak
    moment_min: Peak
    shear: Peak
    units: tuple[Unit, ...]

    @cached_property
    def spans(self) -> tuple[float, ...]:
        """Distances between neighbouring supports [in]."""
        return tuple(b - a for a, b in pairwise(self.supports))

    @property
    def overhangs(self) -> tuple[float, float]:
        """Lengths beyond the first and the last support [in]."""
        return self.supports[0], self.length - self.supports[-1]


def analyse_beam(
    length: float,
    supports: Sequence[float],
    uniform: Iterable[LineLoad] = (),
    points: Iterable[PointLoad] = (),
    *,
    dead_factor: float = 1.0,
    live_factor: float = 1.0,
    snow_factor: float = 0.0,
) -> BeamAnalysis:
    """Analyse a beam of constant stiffness under dead load and patterned live load.

    length [in]; supports [in]: positions from the left end, rising, two or more; uniform: (start, end, dead,
    live[, snow]) [in, lb/in]; points: (at, dead, live[, snow]) [in, lb]; factors [1]: of a load combination,
    e.g. 1, 0.75, 0.75.
    Live and snow of one load are patterned together. Line loads act downwards; point loads either way.
    Raises RangeError for supports or loads off the beam and for upward line loads.

    Source: three-moment equation.

    >>> beam = analyse_beam(240.0, [0.0, 120.0, 240.0], [(0.0, 240.0, 10.0, 0.0)])
    >>> [round(r.largest) for r in beam.reactions], round(beam.moment_min.value)
    ([450, 1500, 450], -18000)
    """
    factors = (dead_factor, live_factor, snow_factor)
    units, places, spans = _solved(length, supports, uniform, points, factors)
    sagging = [_sagging(units, index, span, places[index]) for index, span in enumerate(spans)]
    hogging = []
    for index, at in enumerate(places):
        value = 0.0
        for unit in units:
            moment = unit.moments[index]
            live = unit.live * moment
            value += unit.dead * moment + (live if live < 0 else 0.0)
        hogging.append(Peak(value, at))
    flipped = _flipped(units) if lifted(units) else []
    upwards = [_sagging(flipped, index, span, places[index]) for index, span in enumerate(spans) if flipped]
    return BeamAnalysis(
        length,
        tuple(places),
        _reactions(units, places, spans),
        tuple(sagging),
        tuple(hogging),
        max(sagging, key=_value_of),
        min((*hogging, *(Peak(-peak.value, peak.at) for peak in upwards)), key=_value_of),
        Peak(*largest_shear(units, places, spans)),
        tuple(units),
    )


def find_reactions(
    length: float,
    supports: Sequence[float],
    uniform: Iterable[LineLoad] = (),
    points: Iterable[PointLoad] = (),
    factors: tuple[float, float, float] = (1.0, 1.0, 0.0),
) -> tuple[Reaction, ...]:
    """Return the reactions alone of a beam that `analyse_beam` would analyse; factors [1]: of dead, live and snow.

    Source: three-moment equation.
    """
    return _reactions(*_solved(length, supports, uniform, points, factors))


def _solved(
    length: float,
    supports: Sequence[float],
    uniform: Iterable[LineLoad],
    points: Iterable[PointLoad],
    factors: tuple[float, float, float],
) -> tuple[list[Unit], list[float], list[float]]:
    """Return the loads as units with their influence, the supports and the spans between them [in]."""
    places = [float(at) for at in supports]
    if len(places) < 2 or any(b - a <= NEAR for a, b in pairwise(places)):
        raise RangeError("a beam needs two or more supports at rising positions")
    if places[0] < -NEAR or places[-1] > length + NEAR:
        raise RangeError(f"supports from {places[0]:g} to {places[-1]:g} in lie off a beam of {length:g} in")
    units = cut_loads(length, places, uniform, points, factors)
    spans = [b - a for a, b in pairwise(places)]
    inverse = three_moment_inverse(spans)
    for unit in units:
        solve(unit, spans, inverse)
    return units, places, spans


def shear_at_depth(beam: BeamAnalysis, depth: float) -> Peak:
    """Return the largest shear [lb] of an analysed beam at a depth [in] from a support, for a member that deep.

    Loads nearer to the support than that are left out, point loads in proportion.
    Source: NDS 2018 3.4.3.1.
    """
    return Peak(*largest_shear(list(beam.units), list(beam.supports), list(beam.spans), depth))


def _value_of(peak: Peak) -> float:
    return peak.value


def _reactions(units: list[Unit], places: list[float], spans: list[float]) -> tuple[Reaction, ...]:
    """Reactions over all patterns."""
    last = len(spans)
    most, least, full, none = ([0.0] * (last + 1) for _ in range(4))
    for unit in units:
        moments, dead, live, place = unit.moments, unit.dead, unit.live, unit.place
        reaction = [0.0] * (last + 1)
        for index, span in enumerate(spans):
            share = (moments[index + 1] - moments[index]) / span
            reaction[index] += share
            reaction[index + 1] -= share
            if index == place:
                reaction[index] += unit.left
                reaction[index + 1] -= unit.left - unit.load
        if place < 0 or place == last:
            reaction[max(place, 0)] += unit.load
        for index, share in enumerate(reaction):
            steady, moving = share * dead, share * live
            none[index] += steady
            full[index] += steady + moving
            if moving > 0:
                most[index] += moving
            else:
                least[index] += moving
    return tuple(
        Reaction(at, d + m, d + n, f, d)
        for at, d, m, n, f in zip(places, none, most, least, full, strict=True)
    )


def _flipped(units: list[Unit]) -> list[Unit]:
    """Return the same loads the other way up: what they do is what the real ones do, with the other sign."""
    flipped = []
    for unit in units:
        other = Unit(unit.place, unit.start, unit.end, -unit.dead, -unit.live, unit.point)
        other.left, other.moments = unit.left, unit.moments
        flipped.append(other)
    return flipped


def _sagging(units: list[Unit], index: int, span: float, offset: float) -> Peak:
    """Largest sagging moment of a span over all patterns, exactly.

    Between the ends of loads and the points where a unit's moment changes sign, the envelope is a parabola.
    Units elsewhere give straight lines: what keeps its sign along the span is summed once.
    """
    base0 = base1 = 0.0
    turning = []  # live lines that change sign in the span: intercept, slope
    own = []  # units of this span: intercept and slope of the support moments and the left reaction, unit
    breaks = [0.0, span]
    for unit in units:
        start, live = unit.moments[index], unit.live
        slope = (unit.moments[index + 1] - start) / span
        if unit.place == index:
            slope += unit.left
            own.append((start, slope, unit))
            breaks += (unit.start, unit.end)
            if live:
                breaks += _sign_changes(unit, start, slope, span)
            continue
        base0 += unit.dead * start
        base1 += unit.dead * slope
        if live and slope and 0 < -start / slope < span:
            breaks.append(-start / slope)
            turning.append((live * start, live * slope))
        elif live * (start + slope * span / 2) > 0:
            base0 += live * start
            base1 += live * slope
    breaks.sort()
    best, best_at = float("-inf"), 0.0
    for low, high in pairwise(breaks):
        if high - low <= NEAR:
            continue
        middle = (low + high) / 2
        c0, c1, c2 = base0, base1, 0.0
        for start, slope in turning:
            if start + slope * middle > 0:
                c0 += start
                c1 += slope
        for start, slope, unit in own:
            a0, a1, a2 = start, slope, 0.0
            if middle > unit.start:
                if unit.point:
                    a0, a1 = a0 + unit.start, a1 - 1.0
                elif middle < unit.end:
                    a0, a1, a2 = a0 - unit.start * unit.start / 2, a1 + unit.start, -0.5
                else:
                    a0, a1 = a0 + unit.load * unit.centre, a1 - unit.load
            size = unit.dead
            if (a0 + (a1 + a2 * middle) * middle) * unit.live > 0:
                size += unit.live
            c0 += size * a0
            c1 += size * a1
            c2 += size * a2
        top = -c1 / (2 * c2) if c2 < 0 else high
        for at in (low, top, high) if low < top < high else (low, high):
            value = c0 + (c1 + c2 * at) * at
            if value > best:
                best, best_at = value, at
    return Peak(best, offset + best_at)


def _sign_changes(unit: Unit, start: float, slope: float, span: float) -> list[float]:
    """Where the moment of a unit changes sign inside the span that carries it."""
    found = []
    if slope and 0 < -start / slope <= unit.start:
        found.append(-start / slope)
    tail, fall = start + unit.load * unit.centre, slope - unit.load
    if fall and unit.end <= -tail / fall < span:
        found.append(-tail / fall)
    if not unit.point:
        a, b, c = -0.5, slope + unit.start, start - unit.start**2 / 2
        inside = b * b - 4 * a * c
        if inside > 0:
            width = inside**0.5
            found.extend(x for x in ((b - width), (b + width)) if unit.start < x < unit.end)
    return found
