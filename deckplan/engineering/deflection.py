"""Deflections of an analysed beam, live load patterned so that each span and each tip sinks most.

Moments of the analysis are integrated in closed form: EI y'' = -M, downwards positive. Lengths [in],
stiffness E I [lb in2].
Source: structural mechanics; checked against AWC Design Aid 6.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from deckplan.engineering.influence import Unit, load_terms
from deckplan.engineering.statics import BeamAnalysis, Peak
from deckplan.errors import RangeError

_PROBES = 8  # places per span to start from; a span's elastic line has one or two humps


@dataclass(frozen=True)
class Deflections:
    """Largest downward deflections [in] of a beam under live load alone and under dead and live together.

    stiffness [lb in2]: E' I; creep [1]: K_cr on dead load. Each deflection is worked out on first asking.
    """

    beam: BeamAnalysis
    stiffness: float
    creep: float

    @cached_property
    def spans_live(self) -> tuple[Peak, ...]:
        """One peak a span under live load alone, never under 0."""
        return self._spans(0.0)

    @cached_property
    def spans_total(self) -> tuple[Peak, ...]:
        """One peak a span under dead and live load, never under 0."""
        return self._spans(self.creep)

    @cached_property
    def tips_live(self) -> tuple[float, float]:
        """Left and right tip under live load alone, 0 where there is no overhang."""
        return _tips(self.beam, self.stiffness, self.creep, "live")

    @cached_property
    def tips_total(self) -> tuple[float, float]:
        """Left and right tip under dead and live load, 0 where there is no overhang."""
        return _tips(self.beam, self.stiffness, self.creep, "total")

    @cached_property
    def tips_up(self) -> tuple[float, float]:
        """Most that each tip rises under dead and live load."""
        return _tips(self.beam, self.stiffness, self.creep, "up")

    def _spans(self, dead: float) -> tuple[Peak, ...]:
        beam, found = self.beam, []
        for index, span in enumerate(beam.spans):
            parts = [
                (unit.dead * dead, unit.live, _curve(unit, index, span))
                for unit in beam.units
                if unit.live or unit.dead * dead
            ]
            found.append(_sag(parts, span, beam.supports[index], self.stiffness))
        return tuple(found)


def find_deflections(beam: BeamAnalysis, stiffness: float, creep: float = 1.0) -> Deflections:
    """Return the deflections of an analysed beam.

    stiffness [lb in2]: E' I; creep [1]: K_cr on dead load (1.5 seasoned and dry, 2.0 wet; NDS 2018 3.5.2), 1
    for immediate deflection. Raises RangeError unless the stiffness is over 0.

    >>> from deckplan.engineering.statics import analyse_beam
    >>> beam = analyse_beam(100.0, [0.0, 100.0], [(0.0, 100.0, 0.0, 1.0)])
    >>> round(find_deflections(beam, 1e6).spans_live[0].value * 384 / 5, 9)
    100.0
    """
    if stiffness <= 0:
        raise RangeError(f"a beam's stiffness is over 0, not {stiffness:g}")
    return Deflections(beam, stiffness, creep)


# One unit in one span: cubic coefficients of EI y = x (a + b x + c x2) without the unit's own load, then the
# load itself as start, end, load per inch (0 where it lies elsewhere; a point load has start == end).
_Curve = tuple[float, float, float, float, float, float, float]

# One unit as it counts: dead load, live load, its curve.
_Part = tuple[float, float, _Curve]


def _curve(unit: Unit, index: int, span: float) -> _Curve:
    left, right = unit.moments[index], unit.moments[index + 1]
    slope = (2 * left + right) * span / 6
    shear = (right - left) / span
    if unit.place != index:
        return slope, -left / 2, -shear / 6, 0.0, 0.0, 0.0, 0.0
    term = load_terms(unit, span)[0]
    point, line = (1.0, 0.0) if unit.point else (0.0, 1.0)
    return slope + term / 6, -left / 2, -(shear + unit.left) / 6, unit.start, unit.end, point, line


def _depth(curve: _Curve, x: float) -> float:
    """EI times deflection at x."""
    a, b, c, start, end, point, line = curve
    y = x * (a + x * (b + x * c))
    if x > start:
        if point:
            y += (x - start) ** 3 / 6
        elif line:
            y += (x - start) ** 4 / 24
            if x > end:
                y -= (x - end) ** 4 / 24
    return y


def _line(curve: _Curve, x: float) -> tuple[float, float, float]:
    """EI times deflection, slope and curvature at x."""
    a, b, c, start, end, point, line = curve
    y, slope, bend = x * (a + x * (b + x * c)), a + x * (2 * b + 3 * c * x), 2 * b + 6 * c * x
    if x > start:
        r = x - start
        if point:
            y, slope, bend = y + r**3 / 6, slope + r * r / 2, bend + r
        elif line:
            y, slope, bend = y + r**4 / 24, slope + r**3 / 6, bend + r * r / 2
            if x > end:
                r = x - end
                y, slope, bend = y - r**4 / 24, slope - r**3 / 6, bend - r * r / 2
    return y, slope, bend


def _sink(parts: list[_Part], x: float) -> tuple[float, float, float]:
    """Deflection at x with the live load where it adds, and slope and curvature of that pattern."""
    y = slope = bend = 0.0
    for size, live, curve in parts:
        one, two, three = _line(curve, x)
        if one * live > 0:
            size += live
        if size:
            y, slope, bend = y + size * one, slope + size * two, bend + size * three
    return y, slope, bend


def _depth_of_all(parts: list[_Part], x: float) -> float:
    """Deflection at x with the live load where it adds."""
    total = 0.0
    for dead, live, curve in parts:
        y = _depth(curve, x)
        total += (dead + live if y * live > 0 else dead) * y
    return total


def _sag(parts: list[_Part], span: float, offset: float, stiffness: float) -> Peak:
    """Largest downward deflection of a span: probe, then Newton's steps on the pattern that holds there."""
    step = span / (_PROBES + 1)
    best, at = 0.0, span / 2
    for probe in range(1, _PROBES + 1):
        y = _depth_of_all(parts, probe * step)
        if y > best:
            best, at = y, probe * step
    if best <= 0.0:
        return Peak(0.0, offset + span / 2)
    low, high, x = at - step, at + step, at
    _, slope, bend = _sink(parts, x)
    for _ in range(30):
        if slope > 0:
            low = x
        else:
            high = x
        target = x - slope / bend if bend < 0 else low
        if not low < target < high:
            target = (low + high) / 2
        if abs(target - x) < 1e-9 * span:
            break
        x = target
        y, slope, bend = _sink(parts, x)
        if y > best:
            best, at = y, x
    return Peak(best / stiffness, offset + at)


def _tips(beam: BeamAnalysis, stiffness: float, creep: float, kind: str) -> tuple[float, float]:
    """Deflection of both tips over all patterns; kind: "live", "total", or "up" (total, upwards)."""
    found = []
    spans, last = beam.spans, len(beam.spans)
    dead_share = 0.0 if kind == "live" else creep
    sign = -1.0 if kind == "up" else 1.0
    for length, place, span in ((beam.overhangs[0], -1, 0), (beam.overhangs[1], last, last - 1)):
        total = 0.0
        for unit in beam.units if length > 0 else ():
            here, far = (
                (unit.moments[0], unit.moments[1]) if place < 0 else (unit.moments[-1], unit.moments[-2])
            )
            turn = (2 * here + far) * spans[span] / 6
            if unit.place == span:
                terms = load_terms(unit, spans[span])
                turn += (terms[0] if place < 0 else terms[1]) / 6
            down = -turn * length
            if unit.place == place:
                down += _cantilever_tip(unit, length)
            down *= sign
            total += dead_share * unit.dead * down + max(0.0, unit.live * down)
        found.append(max(0.0, total) / stiffness)
    return found[0], found[1]


def _cantilever_tip(unit: Unit, length: float) -> float:
    """EI times the tip's deflection of a cantilever under the unit."""
    s, e = unit.start, unit.end
    if unit.point:
        return s * s * (3 * length - s) / 6
    return length * (e**3 - s**3) / 6 - (e**4 - s**4) / 24


def tip_load_deflection(P: float, overhang: float, span: float, E: float, moment_of_inertia: float) -> float:
    """Return the tip's deflection P a2 (L + a) / (3 E I) of an overhang beyond a simple span [in].

    P [lb]: load at the tip; overhang, span [in]; E [psi]; moment_of_inertia [in4].

    Source: AWC Design Aid 6, beam overhanging one support, load at the end of the overhang.

    >>> tip_load_deflection(1.0, 25.0, 100.0, 1.0, 1.0) / 100.0**3
    0.026041666666666668
    """
    return P * overhang**2 * (span + overhang) / (3 * E * moment_of_inertia)
