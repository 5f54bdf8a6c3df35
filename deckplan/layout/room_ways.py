"""Doors and flights as gates of a platform, and the ways between them that furniture leaves open.

A way of a width is open where a disc of that width rolls from gate to gate: the free area is drawn in by half the
width, and both gates must lie in one piece of what is left.
"""

from __future__ import annotations

import heapq
from itertools import combinations, pairwise
from typing import Any

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely import Point as Spot

from deckplan.geometry import Line, Point, distance, middle, unit
from deckplan.layout.boards_bearing import lines_of
from deckplan.layout.room_model import Gate, Way
from deckplan.levels.model import Levels, Rise
from deckplan.levels.places import outline_of, sides
from deckplan.plan.model import Door, Plan, Platform

AT_DOOR = 12.0
"""A door this near to an edge opens onto the platform [in]."""

LEVEL = 0.5
"""Platforms that differ by less are one floor to walk on [in]."""

TOUCH = 0.5
"""Platforms this near to each other meet [in]."""

NARROWEST = 36.0
"""A shorter stretch that two platforms share is no passage [in]."""

SLACK = 0.25
"""A way may be this much under its width [in]: rounding of the drawing, not of the deck."""


def _out(line: Line, inward: Point, by: float) -> Line:
    (x0, y0), (x1, y1) = line
    return ((x0 - inward[0] * by, y0 - inward[1] * by), (x1 - inward[0] * by, y1 - inward[1] * by))


def depth_of(line: Line, inward: Point, by: float) -> Polygon:
    """Return the rectangle from a line into the platform [in]; a negative depth lies outside."""
    a, b = line
    c, d = _out(line, inward, -by)
    return Polygon([a, b, d, c])


def find_gates(plan: Plan, levels: Levels, platform: Platform) -> tuple[Gate, ...]:
    """Return where people come onto a platform: its flights, and doors that no flight serves."""
    outline = outline_of(platform)
    found = []
    for rise in levels.flights:
        number = f"S{rise.index + 1}"
        if rise.upper == platform.name:
            found.append(Gate(number, rise.along, (-rise.down[0], -rise.down[1])))
        elif rise.lower == platform.name:
            line = _out(rise.along, rise.down, -rise.run)
            if outline.distance(Spot(middle(line))) < AT_DOOR:
                name = rise.upper if plan.door(rise.upper) else number
                found.append(Gate(name, line, rise.down))
    found += _level_gates(plan, levels, platform, outline)
    served = {rise.upper for rise in levels.flights}
    doors = [door for door in plan.house.doors if door.name not in served]
    near = [door for door in doors if outline.distance(Spot(door.at)) < AT_DOOR]
    return (*found, *(_door_gate(door, outline) for door in near))


def _level_gates(plan: Plan, levels: Levels, platform: Platform, outline: Polygon) -> list[Gate]:
    """Return where one walks over to a platform beside at the same height."""
    found = []
    for other in plan.platforms:
        if (
            other.name == platform.name
            or abs(levels.elevation(other.name) - levels.elevation(platform.name)) > LEVEL
        ):
            continue
        beside = outline_of(other).buffer(TOUCH)
        shared = [LineString(side).intersection(beside) for side in sides(outline)]
        lines = [line for stretch in shared for line in lines_of(stretch, NARROWEST)]
        if not lines:
            continue
        # one way over is enough: the widest
        line = max(lines, key=lambda one: distance(*one))
        (x, y), (dx, dy) = middle(line), unit(*line)
        within = outline.contains(Spot(x - dy * TOUCH * 4, y + dx * TOUCH * 4))
        found.append(Gate(other.name, line, (-dy, dx) if within else (dy, -dx), level=True))
    return found


def _door_gate(door: Door, outline: Polygon) -> Gate:
    corners = [(float(x), float(y)) for x, y in outline.exterior.coords]
    a, b = min(pairwise(corners), key=lambda side: LineString(side).distance(Spot(door.at)))
    dx, dy = unit(a, b)
    inside = outline.contains(Spot(door.at[0] - dy * 2 * AT_DOOR, door.at[1] + dx * 2 * AT_DOOR))
    inward = (-dy, dx) if inside else (dy, -dx)
    half = door.width / 2
    (x, y) = door.at
    return Gate(door.name, ((x - dx * half, y - dy * half), (x + dx * half, y + dy * half)), inward)


def flights_on(levels: Levels, platform: Platform) -> tuple[Polygon, ...]:
    """Return what flights from above take of a platform: their treads in plan."""
    return tuple(
        depth_of(rise.along, rise.down, rise.run)
        for rise in levels.flights
        if rise.lower == platform.name and _has_run(rise)
    )


def _has_run(rise: Rise) -> bool:
    return rise.rise > 0 and rise.run > 0


def _stub(gate: Gate, width: float) -> Polygon:
    """Return a gate with a stretch outside it, so that a way may run through it; no narrower than the way."""
    centre, half = middle(gate.line), max(distance(*gate.line), width + 1.0) / 2
    dx, dy = unit(*gate.line)
    line = ((centre[0] - dx * half, centre[1] - dy * half), (centre[0] + dx * half, centre[1] + dy * half))
    return depth_of(_out(line, gate.inward, width), gate.inward, width + 1.0)


def _free(outline: Polygon, taken: list[Polygon], gates: tuple[Gate, ...], width: float) -> Any:
    """Return where the middle of a way of a width may run [in]."""
    stubs = [_stub(gate, width) for gate in gates]
    open_area = shapely.union_all([outline.difference(shapely.union_all(taken)), *stubs])
    return open_area.buffer(-(width - SLACK) / 2, quad_segs=3)


def _parts(free: Any) -> list[Polygon]:
    return [
        part for part in getattr(free, "geoms", [free]) if part.geom_type == "Polygon" and not part.is_empty
    ]


def all_joined(outline: Polygon, taken: list[Polygon], gates: tuple[Gate, ...], width: float) -> bool:
    """Tell whether one way of a width [in] joins all gates."""
    parts = _parts(_free(outline, taken, gates, width))
    spots = [Spot(middle(gate.line)) for gate in gates]
    return any(all(part.distance(spot) < 1e-6 for spot in spots) for part in parts)


def widest(outline: Polygon, taken: list[Polygon], gates: tuple[Gate, Gate], most: float) -> float:
    """Return the widest way [in] between two gates, to a quarter of an inch and no wider than `most`; 0 for none."""
    low, high = 0, round(4 * most)
    while low < high:
        middle_ = (low + high + 1) // 2
        # a hair less, so that a strip is left of what is just as wide
        if all_joined(outline, taken, gates, middle_ / 4 + SLACK - 0.01):
            low = middle_
        else:
            high = middle_ - 1
    return low / 4


def find_ways(
    outline: Polygon, taken: list[Polygon], gates: tuple[Gate, ...], widths: tuple[float, ...]
) -> tuple[Way, ...]:
    """Return the ways from the first gate to each other one: the widest of some widths [in] that is open, and its line.

    A way that no width passes has the width 0 and no points.
    """
    found = []
    frees = {width: _parts(_free(outline, taken, gates, width)) for width in widths}
    for first, last in ((gates[0], gate) for gate in gates[1:]):
        a, b = middle(first.line), middle(last.line)
        for width in sorted(widths, reverse=True):
            part = next(
                (p for p in frees[width] if p.distance(Spot(a)) < 1e-6 and p.distance(Spot(b)) < 1e-6), None
            )
            if part is not None:
                found.append(Way(first.name, last.name, width, _shortest(part, a, b)))
                break
        else:
            found.append(Way(first.name, last.name, 0.0, ()))
    return tuple(found)


def _shortest(free: Polygon, start: Point, end: Point) -> tuple[Point, ...]:
    """Return the shortest line inside a polygon: over its corners, each seen from the one before (Dijkstra)."""
    room = free.buffer(0.01)
    rings = [free.exterior, *free.interiors]
    corners = [(float(x), float(y)) for ring in rings for x, y in ring.simplify(0.3).coords[:-1]]
    spots = [start, end, *corners]
    pairs = list(combinations(range(len(spots)), 2))
    lines = shapely.linestrings(np.array([(spots[i], spots[j]) for i, j in pairs]))
    shapely.prepare(room)
    seen: dict[int, list[tuple[int, float]]] = {i: [] for i in range(len(spots))}
    for (i, j), inside in zip(pairs, np.atleast_1d(shapely.covers(room, lines)).tolist(), strict=True):
        if inside:
            far = distance(spots[i], spots[j])
            seen[i].append((j, far))
            seen[j].append((i, far))
    best: dict[int, float] = {0: 0.0}
    before: dict[int, int] = {}
    queue = [(0.0, 0)]
    while queue:
        gone, here = heapq.heappop(queue)
        if here == 1:
            break
        if gone > best[here]:
            continue
        for there, far in seen[here]:
            if gone + far < best.get(there, float("inf")):
                best[there], before[there] = gone + far, here
                heapq.heappush(queue, (gone + far, there))
    if 1 not in best:
        return (start, end)
    path = [1]
    while path[-1] != 0:
        path.append(before[path[-1]])
    return tuple(spots[i] for i in reversed(path))
