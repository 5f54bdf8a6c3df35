"""Boards as cut pieces: the border, breaker boards, and rows clipped to the field and to the cuts across it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Line, Point, distance, unit
from deckplan.layout.boards_bearing import Bearers
from deckplan.layout.boards_border import BorderBoard, clean
from deckplan.layout.boards_cuts import Cross
from deckplan.layout.boards_model import BoardKind
from deckplan.layout.boards_rows import Row
from deckplan.layout.frame import Frame
from deckplan.layout.joists import JOIST_THICKNESS

SMALLEST = 0.05
"""A scrap of field smaller than this is a rounding of the saw [in^2]."""

END_SINE = 0.26
"""An edge of a board that leans more than 15 degrees from its run is an end, else a taper."""

SCAB = 24.0
"""Length of the ply under a seam of the border [in]. Common practice."""

_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class Piece:
    """A board before its ends are settled: kind, row, shape [in], unit vector of its run, width [in], ends."""

    kind: BoardKind
    row: int
    shape: Polygon
    run: Point
    width: float
    ends: tuple[Line, ...]


def offset_of(frame: Frame) -> float:
    """Return what a u of the frame lacks [in] to be a position on the site's axis across the joists."""
    x, y = frame.site(0.0, 0.0)
    return x * frame.across[0] + y * frame.across[1]


def row_strips(rows: tuple[Row, ...], start: float, direction: Point, across: Point, field: Polygon) -> Any:
    """Return the rows as long strips across the whole field [in]."""
    reach = [x * direction[0] + y * direction[1] for x, y in field.exterior.coords]
    low, high = min(reach) - 1.0, max(reach) + 1.0
    (dx, dy), (ax, ay) = direction, across
    rings = [
        [(dx * s + ax * t, dy * s + ay * t) for s, t in ((low, a), (high, a), (high, b), (low, b), (low, a))]
        for a, b in ((start + row.start, start + row.end) for row in rows)
    ]
    return shapely.polygons(np.array(rings))


def _polygons(shape: Any) -> list[Polygon]:
    return [p for p in getattr(shape, "geoms", [shape]) if p.geom_type == "Polygon" and p.area > SMALLEST]


def far_of(field: Polygon) -> float:
    """Return a length [in] that reaches past the field from anywhere on the site near it."""
    return float(sum(abs(c) for c in field.bounds)) + 1.0


def cut_breakers(field: Polygon, cuts: tuple[Cross, ...], width: float) -> list[Polygon]:
    """Return the breaker boards, `width` [in] wide, in the middle of the cuts across the field."""
    return [
        part
        for cut in cuts
        for strip in Cross(cut.axis, cut.along, cut.at, width).strips(far_of(field))
        for part in _polygons(field.intersection(strip))
    ]


def cut_field(
    field: Polygon, strips: Any, rows: tuple[Row, ...], cuts: tuple[Cross, ...], direction: Point
) -> list[Piece]:
    """Clip every row to the field, less what the cuts across take out of it; two sets of cuts go by turns."""
    bays = [field.difference(shapely.union_all(cut.strips(far_of(field)))) for cut in cuts] or [field]
    found = []
    for turn, bay in enumerate(bays):
        clipped = shapely.intersection(bay, strips[turn :: len(bays)])
        for number, shape in zip(range(turn, len(rows), len(bays)), clipped, strict=True):
            found += [
                Piece("field", number, part, direction, rows[number].width, ends_of(part, direction))
                for part in _polygons(shape)
            ]
    return sorted(found, key=lambda p: p.row)


def without(pieces: list[Piece], holes: BaseGeometry) -> list[Piece]:
    """Cut openings out of the boards."""
    if holes.is_empty:
        return pieces
    found = []
    for piece in pieces:
        if not piece.shape.intersects(holes):
            found.append(piece)
            continue
        found += [
            replace(piece, shape=part, ends=ends_of(part, piece.run))
            for part in _polygons(piece.shape.difference(holes))
        ]
    return found


def ends_of(shape: Polygon, run: Point) -> tuple[Line, ...]:
    """Return the edges of a board that lean across its run; where none does, the one that leans most."""
    corners = clean(tuple((float(x), float(y)) for x, y in shape.exterior.coords[:-1]))
    leaning: list[tuple[float, Line]] = []
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        if distance(a, b) > 0.05:
            ux, uy = unit(a, b)
            leaning.append((abs(ux * run[1] - uy * run[0]), (a, b)))
    ends = tuple(edge for sine, edge in leaning if sine > END_SINE)
    return ends or (max(leaning)[1],)


def split(
    shape: Polygon, run: Point, stock: float, gap: float, joists: tuple[float, ...] = ()
) -> list[Polygon]:
    """Cut a board square into parts that come out of stock, a gap between them; at joists [in along run] if given."""
    reach = [x * run[0] + y * run[1] for x, y in shape.exterior.coords]
    low, high = min(reach), max(reach)
    count = math.ceil((high - low) / stock - _HAIR)
    if count < 2:
        return [shape]
    ideal = [low + (high - low) * (k + 1) / count for k in range(count - 1)]
    places = [min(joists, key=lambda u: abs(u - wish)) if joists else wish for wish in ideal]
    if max(b - a for a, b in zip([low, *places], [*places, high], strict=True)) > stock:
        places = ideal
    cut = Cross(run, (-run[1], run[0]), tuple(places), gap)
    return _polygons(shape.difference(shapely.union_all(cut.strips(far_of(shape)))))


def cut_border(
    board: BorderBoard, width: float, gap: float, stock: float, bearers: Bearers
) -> tuple[list[Piece], list[Line]]:
    """Return one side of the border as pieces that come out of stock [in], and the seams that ask for wood below."""
    run = unit(*board.outer)
    shape = Polygon((*board.outer, *board.inner[::-1]))
    square = abs(run[0] * bearers.frame.along[0] + run[1] * bearers.frame.along[1]) < 1e-4
    places: tuple[float, ...] = ()
    if square:
        # over the joint between a joist and a ply beside it
        flip = 1.0 if run[0] * bearers.frame.across[0] + run[1] * bearers.frame.across[1] > 0 else -1.0
        places = tuple(
            flip * (u + offset_of(bearers.frame) + JOIST_THICKNESS / 2) for u in bearers.joist_lines()
        )
    parts, seams = split(shape, run, stock, gap, places), []
    if len(parts) > 1 and square and board.row == 0:
        for part in parts[1:]:
            seam = min(part.exterior.coords, key=lambda p: p[0] * run[0] + p[1] * run[1])
            inward = (-run[1], run[0])
            at = (seam[0] - run[0] * gap / 2, seam[1] - run[1] * gap / 2)
            inner = (at[0] + inward[0] * SCAB, at[1] + inward[1] * SCAB)
            seams.append((at, inner))
    return [Piece("border", board.row, part, run, width, ends_of(part, run)) for part in parts], seams


def length_of(shape: Polygon, run: Point) -> float:
    """Return how long a board is along its run, long point to long point [in]."""
    reach = [x * run[0] + y * run[1] for x, y in shape.exterior.coords]
    return float(max(reach) - min(reach))
