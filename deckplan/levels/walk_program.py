"""The mixed-integer program of a walk: its columns and rows, and one run of the solver for an objective.

::

    R[f] riser of flight f, z[p] elevation of platform p, b[f,w] 1 where flight f is built in way w
    rise of f = z[upper] - z[lower] = k[w] R[f]   where b[f,w] = 1
    u <= R[f] <= v
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import numpy as np

from deckplan.levels.walk import Climb, Walk

# What a solver may miss a row by [in].
ROW_TOLERANCE = 1e-5
TIME_LIMIT = 5.0
"""Longest that one run of the solver may take [s]; what is not proven by then is said not to be."""
INFEASIBLE, STUMBLED = 2, 4


@contextmanager
def _quiet() -> Iterator[None]:
    """Send what the solver's own library writes to standard output nowhere: it would stand in tables and JSON.

    Some versions of HiGHS print a line of debugging that no option turns off.
    """
    try:
        sys.stdout.flush()
        kept = os.dup(1)
    except (OSError, ValueError, AttributeError):
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(nowhere)
        os.close(kept)


class Undecided(Exception):  # noqa: N818 - it is no error: time ran out
    """The solver found nothing in its time and did not prove that there is nothing."""


class Program:
    """The columns and rows of a walk; a fresh run of the solver for every objective."""

    def __init__(self, walk: Walk) -> None:
        self.walk = walk
        self.lower: list[float] = []
        self.upper: list[float] = []
        self.whole: list[int] = []
        self.rows: list[dict[int, float]] = []
        self.row_low: list[float] = []
        self.row_high: list[float] = []
        self.z = {stop.name: self.column(stop.low, stop.high) for stop in walk.stops}
        risers = [(w.low / w.risers, w.high / w.risers) for c in walk.climbs for w in c.ways if w.counts]
        least = min((low for low, _ in risers), default=0.0)
        most = max((high for _, high in risers), default=0.0)
        self.u, self.v = self.column(least, most), self.column(least, most)
        self.row({self.v: 1.0, self.u: -1.0}, 0.0, np.inf)
        self.r: list[int] = []
        self.b: list[list[int]] = []
        for climb in walk.climbs:
            self._climb(climb)
        for one, other, apart in walk.alike:
            self.row({self.r[one]: 1.0, self.r[other]: -1.0}, -apart, apart)

    @property
    def spread(self) -> dict[int, float]:
        """The cost that is the spread of risers."""
        return {self.v: 1.0, self.u: -1.0}

    @property
    def counts(self) -> dict[int, float]:
        """The cost that is the count of risers."""
        pairs = zip(self.walk.climbs, self.b, strict=True)
        return {
            pick: float(way.risers)
            for climb, picks in pairs
            for way, pick in zip(climb.ways, picks, strict=True)
        }

    def limit_spread(self, most: float) -> None:
        """Hold the spread of risers [in]."""
        self.row(self.spread, 0.0, most)

    def limit_count(self, most: float) -> None:
        """Hold the count of risers."""
        self.row(self.counts, 0.0, most + 0.5)

    def column(self, low: float, high: float, whole: bool = False) -> int:
        """Add a column between bounds, in whole numbers where asked; return its number."""
        self.lower.append(low)
        self.upper.append(high)
        self.whole.append(int(whole))
        return len(self.lower) - 1

    def row(self, terms: dict[int, float], low: float, high: float) -> None:
        """Add a row: a sum of columns times factors, between bounds."""
        self.rows.append(terms)
        self.row_low.append(low)
        self.row_high.append(high)

    def _climb(self, climb: Climb) -> None:
        stops = {stop.name: stop for stop in self.walk.stops}
        ways = climb.ways
        least = min(way.low / way.risers for way in ways)
        most = max(way.high / way.risers for way in ways)
        r = self.column(least, most)
        picks = [self.column(0, 1, whole=True) for _ in ways]
        self.r.append(r)
        self.b.append(picks)
        self.row(dict.fromkeys(picks, 1.0), 1.0, 1.0)
        upper, rise = stops[climb.upper], {self.z[climb.upper]: 1.0}
        if climb.lower:
            lower = stops[climb.lower]
            rise[self.z[climb.lower]] = -1.0
            shortest, tallest = upper.low - lower.high, upper.high - lower.low
        else:
            rise |= {pick: -way.bottom for pick, way in zip(picks, ways, strict=True)}
            shortest = upper.low - max(way.bottom for way in ways)
            tallest = upper.high - min(way.bottom for way in ways)

        def and_picks(factor: dict[int, float]) -> dict[int, float]:
            return {key: rise.get(key, 0.0) + factor.get(key, 0.0) for key in (*rise, *factor)}

        # the rise within the way taken
        self.row(and_picks({p: -w.low for p, w in zip(picks, ways, strict=True)}), 0.0, np.inf)
        self.row(and_picks({p: -w.high for p, w in zip(picks, ways, strict=True)}), -np.inf, 0.0)
        for pick, way in zip(picks, ways, strict=True):
            if len(ways) == 1:
                self.row(and_picks({r: -float(way.risers)}), 0.0, 0.0)
                continue
            above = max(0.0, tallest - way.risers * least)
            below = max(0.0, way.risers * most - shortest)
            self.row(and_picks({r: -float(way.risers), pick: above}), -np.inf, above)
            self.row(and_picks({r: -float(way.risers), pick: -below}), -below, np.inf)
        self._compare(climb, r, picks, most - least)

    def _compare(self, climb: Climb, r: int, picks: list[int], room: float) -> None:
        """Keep a riser between u and v where the way taken counts."""
        free = {pick: 1.0 for pick, way in zip(picks, climb.ways, strict=True) if not way.counts}
        if len(free) == len(picks):
            return
        slack = max(room, self.upper[self.v] - self.lower[self.u] + room)
        self.row({r: 1.0, self.u: -1.0} | dict.fromkeys(free, slack), 0.0, np.inf)
        self.row({r: 1.0, self.v: -1.0} | dict.fromkeys(free, -slack), -np.inf, 0.0)

    def solve(self, costs: dict[int, float]) -> tuple[Any, float, bool] | None:
        """Minimise; return the columns, the cost, and whether it is proven; None where nothing is feasible."""
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        cost = np.zeros(len(self.lower))
        for column, value in costs.items():
            cost[column] = value
        data = [value for row in self.rows for value in row.values()]
        columns = [column for row in self.rows for column in row]
        starts = np.concatenate([[0], np.cumsum([len(row) for row in self.rows])])
        matrix = csr_array((data, columns, starts), shape=(len(self.rows), len(self.lower)))
        low, high = np.array(self.row_low), np.array(self.row_high)
        # now and then HiGHS misses a row by its own tolerance to a hair more and throws its answer away
        for slack in (0.0, 1e-7, 1e-6):
            with _quiet():
                found = milp(
                    cost,
                    integrality=np.array(self.whole),
                    bounds=Bounds(np.array(self.lower), np.array(self.upper)),
                    constraints=LinearConstraint(matrix, low - slack, high + slack),
                    options={"mip_rel_gap": 0.0, "time_limit": TIME_LIMIT},
                )
            if found.status != STUMBLED:
                break
        if found.x is None:
            if found.status == INFEASIBLE:
                return None
            raise Undecided(found.message)
        return found.x, float(cost @ found.x), found.status == 0 and self._holds(matrix @ found.x)

    def _holds(self, sums: Any) -> bool:
        """Tell whether a solution keeps every row: a solver's word is checked, not taken."""
        low, high = np.array(self.row_low), np.array(self.row_high)
        return bool(np.all(sums >= low - ROW_TOLERANCE) and np.all(sums <= high + ROW_TOLERANCE))
