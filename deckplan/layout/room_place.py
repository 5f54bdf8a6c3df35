"""Place sets of furniture: where their zones lie wholly on the platform and the ways stay open."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely import Point as Spot
from shapely import Polygon

from deckplan.geometry import Line, Point, distance, turned, unit
from deckplan.layout.room_model import Gate, Group
from deckplan.layout.room_sets import FurnitureSet
from deckplan.layout.room_ways import all_joined

STEP = 6.0
"""Places are tried this far apart [in]."""

TRIED = 28
"""So many places, spread over all that fit, are looked at for the ways they leave."""


@dataclass(frozen=True)
class Site:
    """Where furniture may stand.

    outline: the platform; room: where the room round furniture may lie, landings included; free: where furniture
    itself may stand, off the landings; held: where chairs may slide, off open edges; gates; taken: what stands there
    already; away: lines to keep far from, such as the house for a grill.
    """

    outline: Polygon
    room: Polygon
    free: Polygon
    held: Polygon
    gates: tuple[Gate, ...]
    taken: tuple[Polygon, ...]
    away: tuple[Line, ...] = ()


def turns_of(outline: Polygon, *, all_four: bool) -> tuple[float, ...]:
    """Return the turns [degrees] in which a set is tried: along the longest side and square to it."""
    corners = [(float(x), float(y)) for x, y in outline.exterior.coords]
    a, b = max(pairwise(corners), key=lambda side: round(distance(*side), 3))
    dx, dy = unit(a, b)
    first = math.degrees(math.atan2(dy, dx)) % 90.0
    first = 0.0 if min(first, 90.0 - first) < 1e-6 else first
    return tuple(first + 90.0 * k for k in range(4 if all_four else 2))


def _fitting(site: Site, made: FurnitureSet, degrees: float) -> list[Point]:
    """Return the places, a step apart, at which a set's zone, body and chairs lie where they may."""
    here = made.placed((0.0, 0.0), degrees)
    zone = np.array(here.zone)
    left, bottom, right, top = site.room.bounds
    low, high = zone.min(axis=0), zone.max(axis=0)
    # begin flush with the sides: a room that just fits is found
    xs = np.arange(left - low[0], right - high[0] + 1e-6, STEP)
    ys = np.arange(bottom - low[1], top - high[1] + 1e-6, STEP)
    xs = np.unique([*xs, right - high[0]]) if xs.size else xs
    ys = np.unique([*ys, top - high[1]]) if ys.size else ys
    if not xs.size or not ys.size:
        return []
    spots = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    for corners, where in ((here.taken, site.free), (here.swing, site.held), (here.zone, site.room)):
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
    score = _scoring(site, made)
    options = sorted(
        ((score(at, turn), at, turn) for turn in turns_of(site.outline, all_four=made.against_edge)
         for at in _fitting(site, made, turn)),
        key=lambda option: (round(option[0], 3), option[2], option[1]),
    )  # fmt: skip
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


def _scoring(site: Site, made: FurnitureSet) -> Callable[[Point, float], float]:
    """Return what tells good places from bad ones, the lower the better."""
    centre = site.room.centroid
    edge = site.outline.exterior
    away = [shapely.LineString(line) for line in site.away]
    back = min(y for _, y in made.taken)

    def score(at: Point, degrees: float) -> float:
        spot = Spot(at)
        if away:
            return -float(min(line.distance(spot) for line in away))
        if made.against_edge:
            x, y = turned((0.0, back), degrees)
            return float(edge.distance(Spot(at[0] + x, at[1] + y)))
        return float(centre.distance(spot))

    return score
