"""Where no heights are legal: the smallest set of wishes that conflict, and the nearest heights that would do."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from deckplan.levels.best_walk import feasible
from deckplan.levels.walk import ROOM, Walk
from deckplan.levels.walk_program import Program, Undecided


@dataclass(frozen=True, slots=True)
class Wish:
    """One thing asked of a walk: that a stop lies in its range, or that a flight is legal."""

    kind: str  # "stop" or "climb"
    name: str


def wishes(walk: Walk, fixed: frozenset[str]) -> tuple[Wish, ...]:
    """Return what could be given up: ranges of the stops that are not fixed (doors are), and flights."""
    stops = [Wish("stop", stop.name) for stop in walk.stops if stop.name not in fixed]
    return (*stops, *(Wish("climb", climb.name) for climb in walk.climbs))


def holding(walk: Walk, kept: frozenset[Wish], all_: tuple[Wish, ...]) -> Walk:
    """Return the walk with only some of its wishes: other stops are free, other flights are not there."""
    freed = {wish.name for wish in all_ if wish.kind == "stop" and wish not in kept}
    gone = {wish.name for wish in all_ if wish.kind == "climb" and wish not in kept}
    stops = tuple(
        replace(stop, low=stop.low - ROOM, high=stop.high + ROOM) if stop.name in freed else stop
        for stop in walk.stops
    )
    left = [n for n, climb in enumerate(walk.climbs) if climb.name not in gone]
    place = {old: new for new, old in enumerate(left)}
    alike = tuple((place[a], place[b], t) for a, b, t in walk.alike if a in place and b in place)
    return replace(walk, stops=stops, climbs=tuple(walk.climbs[n] for n in left), alike=alike)


def smallest_conflict(walk: Walk, fixed: frozenset[str]) -> tuple[Wish, ...]:
    """Return the smallest set of wishes that cannot hold together; empty where all can.

    Every set that can hold together leaves something out that a conflict must contain; the smallest set that meets
    all of those found so far is tried, and either conflicts, or teaches one more.
    """
    all_ = wishes(walk, fixed)
    if feasible(walk):
        return ()
    lessons: list[frozenset[Wish]] = []
    while True:
        candidate = _smallest_meeting(all_, lessons)
        if not feasible(holding(walk, candidate, all_)):
            return tuple(wish for wish in all_ if wish in candidate)
        grown = set(candidate)
        for wish in all_:
            if wish not in grown and feasible(holding(walk, frozenset((*grown, wish)), all_)):
                grown.add(wish)
        lessons.append(frozenset(all_) - grown)


def _smallest_meeting(all_: tuple[Wish, ...], lessons: list[frozenset[Wish]]) -> frozenset[Wish]:
    """Return a smallest set that has something of every lesson."""
    useful = [wish for wish in all_ if any(wish in lesson for lesson in lessons)]
    for size in range(len(useful) + 1):
        for chosen in combinations(useful, size):
            if all(not lesson.isdisjoint(chosen) for lesson in lessons):
                return frozenset(chosen)
    return frozenset(all_)


def nearest_heights(walk: Walk, fixed: frozenset[str]) -> dict[str, float] | None:
    """Return elevations [in] that make every flight legal with the least movement out of the ranges, summed.

    None where not even moving every platform by `ROOM` helps.
    """
    loose = tuple(
        stop if stop.name in fixed else replace(stop, low=stop.low - ROOM, high=stop.high + ROOM)
        for stop in walk.stops
    )
    narrow = replace(walk, stops=loose).narrowed()
    if narrow is None:
        return None
    model = Program(narrow)
    costs: dict[int, float] = {}
    for stop in walk.stops:
        if stop.name not in fixed:
            off, z = model.column(0.0, np.inf), model.z[stop.name]
            costs[off] = 1.0
            model.row({off: 1.0, z: -1.0}, -stop.high, np.inf)
            model.row({off: 1.0, z: 1.0}, stop.low, np.inf)
    try:
        found = model.solve(costs)
    except Undecided:
        return None
    return None if found is None else {name: float(found[0][column]) for name, column in model.z.items()}
