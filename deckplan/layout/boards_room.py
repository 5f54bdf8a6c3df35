"""Room for wood under boards: blocks cut to fit between what lies there, joists beside others."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Line, Point, along, distance, unit
from deckplan.layout.ends import STEEPEST, TOUCHES, angle_between, cut_shape
from deckplan.layout.frame import Interval

SHORTEST_PIECE = 1.0
"""Wood shorter than this between two members is left out [in]: what it would hold lies on them already."""

SAWN = 0.05
"""Two pieces that lie in each other by less than this do not [in^2]: a saw leaves more."""

_HAIR = 1e-6


def band(line: Line, width: float) -> tuple[Point, ...]:
    """Return the corners of a strip of a width [in] round a centre line [in]."""
    (x0, y0), (x1, y1) = line
    dx, dy = unit(*line)
    nx, ny = -dy * width / 2, dx * width / 2
    return ((x0 + nx, y0 + ny), (x1 + nx, y1 + ny), (x1 - nx, y1 - ny), (x0 - nx, y0 - ny))


def parallel(a: Line, direction: Point) -> bool:
    """Tell whether a line runs along a unit vector."""
    ux, uy = unit(*a)
    return abs(ux * direction[1] - uy * direction[0]) < 1e-4


def lines_of(shape: Any, least: float = SHORTEST_PIECE) -> list[Line]:
    """Return the straight pieces of a shape that are long enough [in]."""
    found = []
    for part in getattr(shape, "geoms", [shape]):
        if part.geom_type == "LineString" and part.length > least:
            (x0, y0), (x1, y1) = part.coords[0], part.coords[-1]
            found.append(((float(x0), float(y0)), (float(x1), float(y1))))
    return found


def shared(one: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """Return what two shapes share, on a grid: pieces that lie side by side at a skew share nothing then."""
    return shapely.intersection(one, other, grid_size=1e-6)


def fit_blocks(
    line: Line, width: float, wood: BaseGeometry, faces: list[tuple[Line, float]]
) -> list[tuple[Line, Polygon]]:
    """Return the pieces of a line at which blocks fit between the wood that is there [in], with their shapes.

    faces: centre lines and widths of that wood. A block is cut along the faces that it ends at; where it does not
    fit so, as in a corner, it is cut square and shorter.
    """
    found: list[tuple[Line, Polygon]] = []
    for piece in lines_of(LineString(line).difference(wood)):
        shape = cut_between(piece, width, faces)
        if shape.is_valid and shared(shape, wood).area <= SAWN:
            found.append((piece, shape))
        else:
            found += [(part, Polygon(band(part, width))) for part in free_of_wood(piece, width, wood)]
    return found


def cut_between(piece: Line, width: float, faces: list[tuple[Line, float]]) -> Polygon:
    """Return the shape of a piece whose ends are cut along the faces that they lie on.

    Cuts that would cross, at a piece shorter than it is wide, leave no piece: it is then taken as cut square.
    """
    shape = Polygon(cut_shape(piece, width, (_cut(piece, 0, faces), _cut(piece, 1, faces))))
    return shape if shape.is_valid else Polygon(band(piece, width))


def _cut(piece: Line, end: int, faces: list[tuple[Line, float]]) -> float:
    """Return the cut of an end along the face it lies on [degrees]."""
    run, at = unit(*piece), piece[end]
    for line, width in faces:
        way = unit(*line)
        x, y = at[0] - line[0][0], at[1] - line[0][1]
        beside = -TOUCHES <= x * way[0] + y * way[1] <= distance(*line) + TOUCHES
        if beside and abs(abs(x * way[1] - y * way[0]) - width / 2) <= TOUCHES:
            cut = angle_between(run, way)
            if abs(cut) <= STEEPEST:
                return cut
    return 0.0


def free_of_wood(piece: Line, width: float, wood: BaseGeometry, back: float = 0.0) -> list[Line]:
    """Return the stretches of a line where a block fits whose ends are cut square, each `back` shorter at both [in]."""
    run, length = unit(*piece), distance(*piece)
    taken: list[Interval] = []
    clash = shared(Polygon(band(piece, width)), wood)
    for part in getattr(clash, "geoms", [clash]):
        if part.geom_type == "Polygon" and part.area > _HAIR:
            reach = [(x - piece[0][0]) * run[0] + (y - piece[0][1]) * run[1] for x, y in part.exterior.coords]
            taken.append((min(reach), max(reach)))
    free, here = [], 0.0
    for low, high in [*sorted(taken), (length, length)]:
        if low - here - 2 * back > SHORTEST_PIECE:
            free.append((along(piece, (here + back) / length), along(piece, (low - back) / length)))
        here = max(here, high)
    return free


def free_of(
    across: Interval, ends: Interval, taken: list[tuple[Interval, Interval]]
) -> list[tuple[Interval, Interval]]:
    """Return what is left of a band where other bands beside it take room [in].

    across, ends: its stretch across the joists and along them; taken: those of the others. Where one reaches into it
    from a side, the band is as much narrower there.

    >>> free_of((10.0, 13.0), (0.0, 100.0), [((12.0, 13.5), (0.0, 40.0))])
    [((10.0, 12.0), (0.0, 40.0)), ((10.0, 13.0), (40.0, 100.0))]
    """
    middle = (across[0] + across[1]) / 2
    near = [
        (u, v)
        for u, v in taken
        if min(u[1], across[1]) - max(u[0], across[0]) > _HAIR
        and min(v[1], ends[1]) - max(v[0], ends[0]) > _HAIR
    ]
    stops = sorted({*ends, *(at for _, v in near for at in v if ends[0] < at < ends[1])})
    found: list[tuple[Interval, Interval]] = []
    for low, high in pairwise(stops):
        left, right = across
        for u, v in near:
            if v[0] < (low + high) / 2 < v[1]:
                if (u[0] + u[1]) / 2 <= middle:
                    left = max(left, u[1])
                else:
                    right = min(right, u[0])
        if found and found[-1][0] == (left, right):
            found[-1] = ((left, right), (found[-1][1][0], high))
        elif right > left:
            found.append(((left, right), (low, high)))
        else:
            continue  # no room at all
    return found
