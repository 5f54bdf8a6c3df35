"""Fascia by edge: the boards over the rims of platforms and over the frames of box steps.

::

       boards ===========
       rim      |       ||  fascia: as deep as the rim, round every edge that is open or looks down on a lower level;
                |_______||  none at a wall, none where a neighbour as high or higher stands before the edge
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import union_all

from deckplan.buy.boards import cut_boards
from deckplan.buy.cutting import Piece
from deckplan.buy.item import Lot
from deckplan.geometry import Line, distance, unit
from deckplan.layout.edges import closed_along, open_part
from deckplan.layout.flight_corners import find_wraps
from deckplan.layout.flight_model import FlightFrames
from deckplan.layout.model import Kind, Layout
from deckplan.levels.box_steps import EXPOSED
from deckplan.levels.model import Levels
from deckplan.levels.places import outline_of, pieces, sides
from deckplan.plan.model import Plan, Platform
from deckplan.units import format_short

HIDES = 36.0
"""A neighbour up to this much higher hides the edge that touches it [in]; under a higher one people see it. Source: our
own choice."""

SHORTEST = 1.0
"""Stretches of edge shorter than this get none of their own [in]."""

_CORNER = 0.05


@dataclass(frozen=True, slots=True)
class FasciaPiece:
    """Fascia along one stretch: the platform's name or the flight's mark, the edge, length and depth to cover [in]."""

    of: str
    edge: str
    length: float
    depth: float


def find_fascia(plan: Plan, levels: Levels, layout: Layout, flights: FlightFrames) -> tuple[FasciaPiece, ...]:
    """Return the fascia of every platform and box flight, edge by edge, from long point to long point."""
    found: list[FasciaPiece] = []
    for platform in plan.platforms:
        joists = layout.of(platform.name, Kind.JOIST)
        if joists:
            found += _round(plan, levels, platform, joists[0].depth, flights)
    return (*found, *_steps(plan, levels, flights))


def _round(
    plan: Plan, levels: Levels, platform: Platform, depth: float, flights: FlightFrames
) -> Iterator[FasciaPiece]:
    """Go round a platform's edges; where a hanger board lies in the fascia's place there is none."""
    shape, here = outline_of(platform), levels.elevation(platform.name)
    taken = tuple(
        levels.flights[flight.index].along
        for flight in flights.flights
        if levels.flights[flight.index].upper == platform.name
        and any(member.kind is Kind.HEADER for member in flight.members)
    )
    edges = sides(shape)
    turn = 1.0 if shape.exterior.is_ccw else -1.0
    free = [_free(plan, levels, here, side, platform.name, taken) for side in edges]
    thick = plan.materials.fascia.thickness
    for number, side in enumerate(edges):
        for line in free[number]:
            more = 0.0
            for end in line:
                if distance(end, side[0]) < _CORNER:
                    more += turn * _mitre(edges[number - 1], side, free[number - 1], thick)
                if distance(end, side[1]) < _CORNER:
                    after = (number + 1) % len(edges)
                    more += turn * _mitre(side, edges[after], free[after], thick)
            yield FasciaPiece(platform.name, f"edge {number + 1}", distance(*line) + more, depth)


def _free(
    plan: Plan, levels: Levels, here: float, side: Line, name: str, taken: tuple[Line, ...]
) -> list[Line]:
    others = [levels.elevation(other.name) for other in plan.platforms if other.name != name]
    # what closes an edge at a neighbour's height hides this one too
    heights = {here, *(other for other in others if 0 <= other - here <= HIDES)}
    closed = [closed_along(plan, levels, height, side, name, taken) for height in sorted(heights)]
    left = open_part(side, union_all(closed))
    return [line for line in pieces(left) if distance(*line) >= SHORTEST]


def _mitre(before: Line, after: Line, neighbours: list[Line], thick: float) -> float:
    """Return how much longer fascia is at a corner than the edge [in]: for its mitre where both edges have fascia.

    At an outer corner its long point lies outside, thickness times the tangent of half the turn; at an inner one it is
    that much shorter.
    """
    corner = before[1]
    if not any(distance(end, corner) < _CORNER for line in neighbours for end in line):
        return 0.0
    ux, uy = unit(*before)
    vx, vy = unit(*after)
    sine, cosine = ux * vy - uy * vx, ux * vx + uy * vy
    # tan(turn / 2) = sin / (1 + cos); an outer corner of an outline that runs counter-clockwise turns left
    return thick * sine / (1 + cosine) if 1 + cosine > 1e-6 else 0.0


def _steps(plan: Plan, levels: Levels, flights: FlightFrames) -> Iterator[FasciaPiece]:
    """Return the fascia of box steps: the front of every frame and its exposed ends, mitred where they meet."""
    thick = plan.materials.fascia.thickness
    wraps = find_wraps(levels.flights)
    for flight in flights.flights:
        ends = wraps.get(flight.index, EXPOSED)
        exposed = [end for end in (ends.start, ends.end) if end == "exposed"]
        for number, frame in enumerate(flight.frames, 1):
            step = f"step {number}"
            yield FasciaPiece(flight.mark, f"{step}, front", frame.width + thick * len(exposed), frame.height)
            for _ in exposed:
                yield FasciaPiece(flight.mark, f"{step}, end", frame.depth + thick, frame.height)


def fascia_lots(found: tuple[FasciaPiece, ...], plan: Plan) -> tuple[Lot, ...]:
    """Cut fascia from stock of the boards' lengths, by the depth that it covers; ripped to it where it is wider."""
    units, kind = plan.units, plan.materials.decking.kind
    thick = format_short(plan.materials.fascia.thickness, units)
    lots = []
    for depth in sorted({round(piece.depth, 2) for piece in found}):
        own = [
            Piece(f"{piece.of}, {piece.edge}", piece.length, piece.of)
            for piece in found
            if round(piece.depth, 2) == depth
        ]
        name = f"{kind} fascia {thick} thick, to cover {format_short(depth, units)}"
        lots.append(Lot("boards", name, cut_boards(own, kind, units), 0.0, "fascia"))
    return tuple(lots)
