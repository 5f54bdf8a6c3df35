"""The best heights for a walk, proven: least spread of risers, then fewest risers, then comfort and middles.

Three questions, each holding on to what the last one reached, each asked in windows of riser height. HiGHS answers
(`walk_program`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from deckplan.levels.walk import NEAR, Walk
from deckplan.levels.walk_program import Program, Undecided

# Elevations are found to about this much [in]; a ten-thousandth of a sixteenth shows on no rule.
TOLERANCE = 1e-6

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
        return narrow is not None and Program(narrow).solve({}) is not None
    except Undecided:
        return True  # not known to be impossible


@dataclass
class _Best:
    """The best so far over several windows."""

    cost: float = math.inf
    walk: Walk | None = None
    model: Program | None = None
    columns: Any = None
    proven: bool = True

    def offer(self, walk: Walk, model: Program, costs: dict[int, float]) -> None:
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
            model = Program(window)
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
        model = Program(window)
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
        model = Program(window)
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


def _ways_taken(walk: Walk, window: Walk, model: Program, columns: Any) -> tuple[int, ...]:
    """Return which of the walk's own ways each flight takes."""
    taken = []
    for climb, cut, picks in zip(walk.climbs, window.climbs, model.b, strict=True):
        way = cut.ways[int(np.argmax([columns[pick] for pick in picks]))]
        same = [(own.risers, own.counts) for own in climb.ways]
        taken.append(same.index((way.risers, way.counts)))
    return tuple(taken)


def _strain(model: Program, walk: Walk) -> dict[int, float]:
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
