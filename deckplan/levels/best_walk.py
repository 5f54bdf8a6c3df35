"""The best heights for a walk, proven: least spread of risers, then fewest risers, then comfort and middles.

A mixed-integer program solved by HiGHS three times, each time holding on to what the last one reached::

    R[f] riser of flight f, z[p] elevation of platform p, b[f,w] 1 where flight f is built in way w
    rise of f = z[upper] - z[lower] = k[w] R[f]   where b[f,w] = 1
    u <= R[f] <= v;   minimise v - u;   then the sum of k b;   then comfort and middles
"""

from __future__ import annotations

import math
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import numpy as np

from deckplan.levels.walk import NEAR, Climb, Walk

# Elevations are found to about this much [in]; a ten-thousandth of a sixteenth shows on no rule.
TOLERANCE = 1e-6

# What a solver may miss a row by [in].
ROW_TOLERANCE = 1e-5
TIME_LIMIT = 5.0
"""Longest that one run of the solver may take [s]; what is not proven by then is said not to be."""
INFEASIBLE = 2
# Height of a window of risers [in]: narrower ones prune more, and are more.
WINDOW = 0.5


@dataclass(frozen=True, slots=True)
class BestWalk:
    """The best heights: elevation [in] by stop, the way taken by each flight (by place), what was reached.

    spread [in]: largest less smallest riser over the walk; risers: how many in all; strain [in]: distance from
    comfort and from the middles of the ranges, summed; proven: the solver proved that nothing is better.
    """

    elevations: dict[str, float]
    ways: tuple[int, ...]
    spread: float
    risers: int
    strain: float
    proven: bool


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


class _Model:
    """The columns and rows of the program; a fresh solver run for every objective."""

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
        self.lower.append(low)
        self.upper.append(high)
        self.whole.append(int(whole))
        return len(self.lower) - 1

    def row(self, terms: dict[int, float], low: float, high: float) -> None:
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
        with _quiet():
            found = milp(
                cost,
                integrality=np.array(self.whole),
                bounds=Bounds(np.array(self.lower), np.array(self.upper)),
                constraints=LinearConstraint(matrix, np.array(self.row_low), np.array(self.row_high)),
                options={"mip_rel_gap": 0.0, "time_limit": TIME_LIMIT},
            )
        if found.x is None:
            if found.status == INFEASIBLE:
                return None
            raise Undecided(found.message)
        return found.x, float(cost @ found.x), found.status == 0 and self._holds(matrix @ found.x)

    def _holds(self, sums: Any) -> bool:
        """Tell whether a solution keeps every row: a solver's word is checked, not taken."""
        low, high = np.array(self.row_low), np.array(self.row_high)
        return bool(np.all(sums >= low - ROW_TOLERANCE) and np.all(sums <= high + ROW_TOLERANCE))


def least_spread(walk: Walk) -> float:
    """Return a spread of risers [in] that no heights can undercut: that of the flights between given heights."""
    fixed = []
    for climb in walk.climbs:
        upper = walk.stop(climb.upper)
        if len(climb.ways) == 1 and climb.ways[0].counts and upper.given:
            way = climb.ways[0]
            if not climb.lower:
                fixed.append((upper.low - way.bottom) / way.risers)
            elif walk.stop(climb.lower).given:
                fixed.append((upper.low - walk.stop(climb.lower).low) / way.risers)
            else:
                continue
    return max(fixed) - min(fixed) if fixed else 0.0


def _windows(walk: Walk, room: float) -> list[Walk]:
    """Return the walk cut into windows: the smallest riser within a step of height, the others within `room` of it.

    A window that propagation of bounds empties holds nothing; in the others few ways are left and rows are tight, so
    that together they are solved several times faster than the whole.
    """
    heights = [(w.low / w.risers, w.high / w.risers) for c in walk.climbs for w in c.ways if w.counts]
    if not heights:
        return [walk]
    least, most = min(low for low, _ in heights), max(high for _, high in heights)
    count = max(1, math.ceil((most - least) / WINDOW))
    step = (most - least) / count
    cut = (walk.with_risers(least + n * step, least + (n + 1) * step + room) for n in range(count))
    return [window for window in cut if window is not None]


def feasible(walk: Walk) -> bool:
    """Tell whether any heights make every flight legal."""
    narrow = walk.narrowed()
    try:
        return narrow is not None and _Model(narrow).solve({}) is not None
    except Undecided:
        return True  # not known to be impossible


@dataclass
class _Best:
    """The best so far over several windows."""

    cost: float = math.inf
    walk: Walk | None = None
    model: _Model | None = None
    columns: Any = None
    proven: bool = True

    def offer(self, walk: Walk, model: _Model, costs: dict[int, float]) -> None:
        """Solve one more window and keep what is better."""
        try:
            found = model.solve(costs)
        except Undecided:
            self.proven = False
            return
        if found is None:
            return
        self.proven = self.proven and found[2]
        if found[1] < self.cost - NEAR:
            self.cost, self.walk, self.model, self.columns = found[1], walk, model, found[0]


def _least_spread_of(narrow: Walk) -> tuple[float, bool] | None:
    """Return the least spread of risers over a walk [in] and whether it is proven; None: nothing is legal."""
    floor = least_spread(narrow)
    best = _Best()
    for room in (0.1, 0.4, 1.6, math.inf):
        within = floor + room
        for window in _windows(narrow, within):
            model = _Model(window)
            model.limit_spread(min(within, best.cost))
            best.offer(window, model, model.spread)
            if best.cost <= floor + NEAR:
                return max(0.0, best.cost), best.proven
        if best.walk is not None:
            # whatever has a spread within the room lies in one of its windows: nothing better is anywhere
            return max(0.0, best.cost), best.proven
    return None


def find_best(walk: Walk) -> BestWalk | None:
    """Return the best heights for a walk, or None where no heights make every flight legal."""
    narrow = walk.narrowed()
    if narrow is None:
        return None
    reached = _least_spread_of(narrow)
    if reached is None:
        return None
    spread, proven = reached
    windows = _windows(narrow, spread + TOLERANCE)
    counted = _Best()
    for window in sorted(windows, key=_fewest):
        if _fewest(window) >= counted.cost - 0.5:
            continue
        model = _Model(window)
        model.limit_spread(spread + TOLERANCE)
        model.limit_count(counted.cost - 1.0)
        counted.offer(window, model, model.counts)
    if counted.model is None:
        return None
    count = round(counted.cost)
    eased = _Best()
    for window in windows:
        if _fewest(window) > count + 0.5:
            continue
        model = _Model(window)
        model.limit_spread(spread + TOLERANCE)
        model.limit_count(float(count))
        costs = _strain(model, walk)
        model.row(dict(costs), 0.0, eased.cost)
        eased.offer(window, model, costs)
    best = eased if eased.model is not None else counted
    assert best.model is not None
    assert best.walk is not None
    return BestWalk(
        elevations={name: float(best.columns[column]) for name, column in best.model.z.items()},
        ways=_ways_taken(walk, best.walk, best.model, best.columns),
        spread=spread,
        risers=count,
        strain=best.cost if best is eased else 0.0,
        proven=proven and counted.proven and eased.proven,
    )


def _fewest(walk: Walk) -> int:
    """Return how many risers a walk has at least."""
    return sum(min(way.risers for way in climb.ways) for climb in walk.climbs)


def _ways_taken(walk: Walk, window: Walk, model: _Model, columns: Any) -> tuple[int, ...]:
    """Return which of the walk's own ways each flight takes."""
    taken = []
    for climb, cut, picks in zip(walk.climbs, window.climbs, model.b, strict=True):
        way = cut.ways[int(np.argmax([columns[pick] for pick in picks]))]
        same = [(own.risers, own.counts) for own in climb.ways]
        taken.append(same.index((way.risers, way.counts)))
    return tuple(taken)


def _strain(model: _Model, walk: Walk) -> dict[int, float]:
    """Add the columns that measure distance from comfort and from the middles asked for; return their cost."""
    costs: dict[int, float] = {}
    low, high = walk.comfort
    for climb, r, picks in zip(model.walk.climbs, model.r, model.b, strict=True):
        if all(way.risers == 1 for way in climb.ways):
            continue  # a single riser has no tread of its own
        off = model.column(0.0, np.inf)
        costs[off] = 1.0
        single = [pick for way, pick in zip(climb.ways, picks, strict=True) if way.risers == 1]
        over = max(0.0, 2 * model.upper[r] + climb.tread - high)
        under = max(0.0, low - 2 * model.lower[r] - climb.tread)
        model.row({off: 1.0, r: -2.0} | dict.fromkeys(single, over), climb.tread - high, np.inf)
        model.row({off: 1.0, r: 2.0} | dict.fromkeys(single, under), low - climb.tread, np.inf)
    for stop in walk.stops:
        if not stop.given:
            off, z = model.column(0.0, np.inf), model.z[stop.name]
            costs[off] = 1.0
            model.row({off: 1.0, z: -1.0}, -stop.middle, np.inf)
            model.row({off: 1.0, z: 1.0}, stop.middle, np.inf)
    return costs
