"""From rod readings to spot elevations: benchmark, set-ups of the level, closing the loop.

::

    height of instrument = elevation of the back point + rod reading on it
    elevation of a fore point = height of instrument - rod reading on it

A point whose elevation is known already and is read again closes a loop: what it is off by is the misclosure, which
is shared out over the set-ups in equal parts, since each set-up adds its own small error.
"""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.errors import InputError, Problem
from deckplan.geometry import Point
from deckplan.verdict import Check, Source, Step, at_most

PRACTICE = Source("Common practice", "differential levelling", "common practice")
ALLOWED = 0.25
"""Misclosure that a builder's level is allowed round a house lot [in] (common practice)."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A rod held on a point and read: the point's name, the reading [in], and its place [in] where it is on plan."""

    point: str
    rod: float
    at: Point | None = None


@dataclass(frozen=True, slots=True)
class SetUp:
    """One standing of the instrument: the reading back on a point that is known, and those on to others."""

    back: Reading
    fore: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class Survey:
    """The reduced survey.

    elevations [in]: by point, corrected; spots: those with a place on plan, as the ground wants them;
    misclosures [in]: by the point that closed a loop, measured less known; checks, steps: the sum.
    """

    elevations: dict[str, float]
    spots: tuple[tuple[Point, float], ...]
    misclosures: dict[str, float]
    checks: tuple[Check, ...]
    steps: tuple[Step, ...]


def reduce_survey(known: dict[str, float], set_ups: tuple[SetUp, ...], allowed: float = ALLOWED) -> Survey:
    """Return the elevations that a survey gives.

    known: elevations of the benchmarks [in]; set_ups: in the order they were made; allowed [in]: misclosure that
    passes, common practice unless the person says otherwise. A fore point that is a benchmark, or was found before,
    closes a loop. The misclosure of the last loop is shared out over the set-ups back to the benchmark.

    Raises InputError where a set-up looks back on a point that nobody has an elevation of yet.

    >>> survey = reduce_survey({"sill": 0.0}, (SetUp(Reading("sill", 40.0), (Reading("stake", 61.5, (0.0, 120.0)),)),))
    >>> survey.elevations["stake"]
    -21.5
    """
    raw = dict(known)
    born = dict.fromkeys(known, 0)  # after how many set-ups each point was found
    places: dict[str, Point] = {}
    misclosures: dict[str, float] = {}
    closed_at: dict[str, int] = {}
    steps: list[Step] = []
    for number, set_up in enumerate(set_ups, start=1):
        if set_up.back.point not in raw:
            wanted = "a point whose elevation is known by then"
            raise InputError([Problem(f"set-up {number}, back", wanted, f'"{set_up.back.point}"')])
        instrument = raw[set_up.back.point] + set_up.back.rod
        numbers = f"{raw[set_up.back.point]:.6g} + {set_up.back.rod:.6g}"
        words = f"height of instrument, set-up {number}"
        steps.append(Step("HI", words, "elevation + reading back", numbers, instrument, "in", PRACTICE))
        for reading in set_up.fore:
            height = instrument - reading.rod
            numbers = f"{instrument:.6g} - {reading.rod:.6g}"
            steps.append(
                Step("", f"elevation of {reading.point}", "HI - reading", numbers, height, "in", PRACTICE)
            )
            if reading.at is not None:
                places[reading.point] = reading.at
            if reading.point in raw:
                misclosures[reading.point] = height - raw[reading.point]
                closed_at[reading.point] = number
            else:
                raw[reading.point], born[reading.point] = height, number
    elevations = _shared_out(raw, born, misclosures, closed_at)
    checks = tuple(
        at_most(point, "misclosure of the loop", PRACTICE, abs(off), allowed, "in", tuple(steps),
                reason=f"the loop back to {point} is off by {off:+.3g} in: read it again")
        for point, off in misclosures.items()
    )  # fmt: skip
    spots = tuple((at, elevations[point]) for point, at in places.items())
    return Survey(elevations, spots, misclosures, checks, tuple(steps))


def _shared_out(
    raw: dict[str, float], born: dict[str, int], misclosures: dict[str, float], closed_at: dict[str, int]
) -> dict[str, float]:
    """Share the last loop's misclosure over its set-ups; points found before or after its stretch keep theirs."""
    if not misclosures:
        return raw
    point = max(closed_at, key=lambda name: closed_at[name])
    first, last, off = born[point], closed_at[point], misclosures[point]
    if last == first:
        return raw

    def share(name: str) -> float:
        return min(1.0, max(0.0, (born[name] - first) / (last - first)))

    return {name: height - off * share(name) for name, height in raw.items()}
