"""Place sets of furniture: where their zones lie wholly on the platform and the ways stay open."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from shapely import Polygon

from deckplan.geometry import Point, distance, turned, unit
from deckplan.layout.room_keep import Obstacle
from deckplan.layout.room_model import Gate, Group
from deckplan.layout.room_sets import FurnitureSet, Outline
from deckplan.layout.room_ways import all_joined

STEP = 6.0
"""Places are tried this far apart [in]."""

MOST_PLACES = 4000
"""So many places are tried at most, on 1,000 sq ft those a step apart; on a larger level they lie farther apart."""

HOT_FIRST = 1e5
"""What a distance that falls short wholly counts against one inch off the best place [in]."""

TRIED = 28
"""So many places, spread over all that fit, are looked at for the ways they leave."""


@dataclass(frozen=True)
class Site:
    """Where furniture may stand.

    outline: the platform; room: where the room round furniture may lie, landings included; free: where furniture
    itself may stand, off the landings; held: where chairs may slide, off open edges; gates; taken: what stands there
    already; away: what a fire or a grill keeps far from.
    """

    outline: Polygon
    room: Polygon
    free: Polygon
    held: Polygon
    gates: tuple[Gate, ...]
    taken: tuple[Polygon, ...]
    away: tuple[Obstacle, ...] = ()


def turns_of(outline: Polygon, *, all_four: bool) -> tuple[float, ...]:
    """Return the turns [degrees] in which a set is tried: along the longest side and square to it."""
    corners = [(float(x), float(y)) for x, y in outline.exterior.coords]
    a, b = max(pairwise(corners), key=lambda side: round(distance(*side), 3))
    dx, dy = unit(a, b)
    first = math.degrees(math.atan2(dy, dx)) % 90.0
    first = 0.0 if min(first, 90.0 - first) < 1e-6 else first
    return tuple(first + 90.0 * k for k in range(4 if all_four else 2))


def _stops(wholes: Sequence[tuple[Outline, Polygon]], axis: int, step: float) -> Any:
    """Return the coordinates to try: a step [in] apart from side to side, and flush with each side that there is.

    wholes: what has to lie in what; begun flush with the sides, so that a room that just fits is found.
    """
    low, high, flush = -math.inf, math.inf, []
    for corners, where in wholes:
        values = [corner[axis] for corner in corners]
        first, last = where.bounds[axis] - min(values), where.bounds[axis + 2] - max(values)
        flush += [first, last]
        low, high = max(low, first), min(high, last)
    begin = flush[-2]  # the room round the set: its places stay where they were, whatever is held back
    steps = np.arange(begin, high + 1e-6, step)
    found = np.unique([*steps, *flush])
    return found[(found >= low - 1e-6) & (found <= high + 1e-6)]


def _fitting(site: Site, made: FurnitureSet, degrees: float) -> list[Point]:
    """Return the places, a step apart, at which a set's zone, body and chairs lie where they may."""
    here = made.placed((0.0, 0.0), degrees)
    wholes = ((here.taken, site.free), (here.swing, site.held), (here.zone, site.room))
    if any(where.is_empty for _, where in wholes):
        return []
    left, bottom, right, top = site.outline.bounds
    step = max(STEP, math.sqrt((right - left) * (top - bottom) / MOST_PLACES))
    xs, ys = (_stops(wholes, axis, step) for axis in (0, 1))
    if not xs.size or not ys.size:
        return []
    spots = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    for corners, where in wholes:
        shapes = shapely.polygons(np.array(corners)[None, :, :] + spots[:, None, :])
        room = where.buffer(0.01, join_style="mitre")
        shapely.prepare(room)
        spots = spots[shapely.covers(room, shapes)]
        if not spots.size:
            return []
    return [(float(x), float(y)) for x, y in spots]


def place(
    site: Site, made: FurnitureSet, widths: tuple[float, ...], *, barring: bool = False
) -> Group | None:
    """Return a set where it leaves the widest way between the gates and else lies best, or None where it does not fit.

    widths: of the ways [in], best first; barring: it may bar them. Best lies a group far from what it keeps away
    from; one with a back, near an edge; any other, in the middle.
    """
    options: list[tuple[float, Point, float]] = []
    for turn in turns_of(site.outline, all_four=made.against_edge):
        spots = _fitting(site, made, turn)
        options += [
            (score, at, turn) for score, at in zip(_scores(site, made, spots, turn), spots, strict=True)
        ]
    options.sort(key=lambda option: (round(option[0], 3), option[2], option[1]))
    if not options:
        return None
    groups = [made.placed(at, turn) for _, at, turn in _spread(options)]
    if len(site.gates) > 1:
        for width in widths:
            for group in groups:
                if all_joined(site.outline, [*site.taken, Polygon(group.taken)], site.gates, width):
                    return group
        return groups[0] if barring else None
    return groups[0]


def _spread(options: list[tuple[float, Point, float]]) -> list[tuple[float, Point, float]]:
    """Return the best option and others spread evenly over the rest, in order."""
    if len(options) <= TRIED:
        return options
    step = (len(options) - 1) / (TRIED - 1)
    return [options[round(k * step)] for k in range(TRIED)]


def _scores(site: Site, made: FurnitureSet, spots: list[Point], degrees: float) -> list[float]:
    """Tell good places from bad ones, the lower the better.

    What is hot lies first of all where the worst of its distances falls short the least.
    """
    if not spots:
        return []
    at = np.array(spots)
    if made.against_edge:
        back = turned((0.0, min(y for _, y in made.taken)), degrees)
        found = shapely.distance(shapely.points(at + np.array(back)), site.outline.exterior)
    else:
        found = shapely.distance(shapely.points(at), site.room.centroid)
    if site.away:
        corners = np.array([turned(corner, degrees) for corner in made.pieces[0].outline])
        hot = shapely.polygons(corners[None, :, :] + at[:, None, :])
        short = [1.0 - shapely.distance(hot, one.shape) / one.far.value for one in site.away]
        found = found + HOT_FIRST * np.maximum(np.max(short, axis=0), 0.0)
    return [float(score) for score in found]
