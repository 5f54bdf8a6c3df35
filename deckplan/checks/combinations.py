"""Load combinations for wood by allowable stress design, each with its duration factor."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from deckplan.engineering.factors import duration_factor
from deckplan.engineering.influence import LineLoad, PointLoad
from deckplan.engineering.statics import analyse_beam
from deckplan.loads.model import Analysed, Demand, Force


@dataclass(frozen=True, slots=True)
class Combination:
    """A load combination: its name, the factors on dead, live and snow [1], and C_D [1] of its shortest load."""

    name: str
    dead: float
    live: float
    snow: float
    duration: float


LIVE = Combination("D + L", 1.0, 1.0, 0.0, duration_factor("live"))
SNOW = Combination("D + S", 1.0, 0.0, 1.0, duration_factor("snow"))
BOTH = Combination("D + 0.75 L + 0.75 S", 1.0, 0.75, 0.75, duration_factor("snow"))
DEAD = Combination("D", 1.0, 0.0, 0.0, duration_factor("permanent"))


def combinations(snows: bool) -> tuple[Combination, ...]:
    """Return the combinations that can govern a deck.

    Dead load alone, with its C_D of 0.9, governs only where it makes up nine tenths of everything.

    Source: ASCE 7-16 2.4.1 (from memory); C_D: NDS 2018 Table 2.3.2.
    """
    return (LIVE, SNOW, BOTH, DEAD) if snows else (LIVE, DEAD)


def design_load(force: Force, combination: Combination) -> float:
    """Return the load [lb] of a combination, live and snow only where they add."""
    return (
        force.dead * combination.dead
        + force.live_most * combination.live
        + force.snow_most * combination.snow
    )


def analyses(demand: Demand) -> Iterator[tuple[Combination, Analysed]]:
    """Return each combination that can govern a member with its analysis."""
    dead = sum((u[1] - u[0]) * u[2] for u in demand.uniform) + sum(p[1] for p in demand.points)
    other = sum((u[1] - u[0]) * (u[3] + u[4]) for u in demand.uniform) + sum(
        max(0.0, p[2] + p[3]) for p in demand.points
    )
    snows = any(load[-1] for load in (*demand.uniform, *demand.points))
    for combination in combinations(snows):
        if combination is LIVE:
            yield combination, demand.analysed
        elif combination is DEAD and dead < 9 * other:
            continue
        else:
            analysis = demand.analysis
            yield (
                combination,
                _analysed(analysis.length, analysis.supports, demand.uniform, demand.points, combination),
            )


@lru_cache(maxsize=512)
def _analysed(
    length: float,
    supports: tuple[float, ...],
    uniform: tuple[LineLoad, ...],
    points: tuple[PointLoad, ...],
    combination: Combination,
) -> Analysed:
    """Analyse a member under a combination once: every size that is tried for it asks for the same."""
    # members that are alike to a hair share an analysis; a hair must not put a load off the beam
    analysis = analyse_beam(
        length,
        supports,
        [(start, min(end, length), *parts) for start, end, *parts in uniform],
        [(min(at, length), *parts) for at, *parts in points],
        dead_factor=combination.dead,
        live_factor=combination.live,
        snow_factor=combination.snow,
    )
    return Analysed(analysis, ())
