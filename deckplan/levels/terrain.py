"""The ground as flat pieces: exact regions with a plane each, for questions about whole areas instead of
points.

Inside the measured points the pieces are the triangles. Outside, where the nearest measured place stands,
they are planes as well: a strip square off each edge of the hull, level away from it, and a level wedge at
each corner.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import cast

from shapely import LineString, MultiPoint, Polygon, box, get_coordinates
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Point, distance, point_to_line, unit
from deckplan.levels.ground import NEAR, LevelGround, Strip, Surface
from deckplan.levels.model import Ground

Bounds = tuple[float, float, float, float]


@dataclass(frozen=True)
class FlatPiece:
    """A region of ground [in] and the plane it lies in: z = height + gx (x - x0) + gy (y - y0)."""

    shape: BaseGeometry
    base: Point
    height: float
    gradient: Point

    @cached_property
    def bounds(self) -> Bounds:
        """Bounds of the region [in], which every edge above it asks for."""
        x0, y0, x1, y1 = self.shape.bounds
        return x0, y0, x1, y1

    def elevation_at(self, at: Point) -> float:
        """Return the elevation [in] of the plane at a point."""
        return (
            self.height
            + self.gradient[0] * (at[0] - self.base[0])
            + self.gradient[1] * (at[1] - self.base[1])
        )

    def below(self, elevation: float) -> BaseGeometry:
        """Return the part of the region that lies lower than an elevation [in]."""
        gx, gy = self.gradient
        steep = (gx * gx + gy * gy) ** 0.5
        if steep < 1e-12:
            return self.shape if self.height < elevation else Polygon()
        heights = [self.elevation_at((float(x), float(y))) for x, y in get_coordinates(self.shape)]
        if min(heights) >= elevation:
            return Polygon()
        if max(heights) < elevation:
            return self.shape
        x0, y0, x1, y1 = self.bounds
        reach = x1 - x0 + y1 - y0 + 1.0
        ux, uy = gx / steep, gy / steep
        # the contour crosses the line of steepest descent through the middle of the piece here
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        ahead = (elevation - self.elevation_at(middle)) / steep
        cx, cy = middle[0] + ux * ahead, middle[1] + uy * ahead
        deep = reach + abs(ahead)
        half = Polygon(
            [
                (cx - uy * deep, cy + ux * deep),
                (cx + uy * deep, cy - ux * deep),
                (cx + uy * deep - ux * deep, cy - ux * deep - uy * deep),
                (cx - uy * deep - ux * deep, cy + ux * deep - uy * deep),
            ]
        )
        return self.shape.intersection(half)

    def may_meet(self, bounds: Bounds) -> bool:
        """Tell at a glance whether the piece can reach into bounds [in]; False is certain, True is not."""
        return _meet(self.bounds, bounds)

    def bound_in(self, bounds: Bounds) -> float:
        """Return an elevation [in] that nothing of the piece within bounds [in] lies under."""
        (x0, y0, x1, y1), (u0, v0, u1, v1) = self.bounds, bounds
        gx, gy = self.gradient
        lowest_x = max(x0, u0) if gx > 0 else min(x1, u1)
        lowest_y = max(y0, v0) if gy > 0 else min(y1, v1)
        return self.elevation_at((lowest_x, lowest_y))

    def lowest_in(self, region: BaseGeometry) -> float | None:
        """Return the lowest elevation [in] of the piece within a region; None where they do not meet."""
        if not self.may_meet(region.bounds):
            return None
        if self.gradient == (0.0, 0.0):
            return self.height if self.shape.intersects(region) else None
        common = self.shape.intersection(region)
        if common.is_empty:
            return None
        return min(self.elevation_at((float(x), float(y))) for x, y in get_coordinates(common))


def lowest_along(
    ground: Ground, outline: Sequence[Point], window: Bounds | None = None
) -> tuple[float, Point]:
    """Return the lowest ground along the edges of an outline [in] and where it lies.

    Between two corners the ground may break: the edges of its flat pieces count as well as the corners. What lies
    inside the outline does not: nobody sees it from beside the deck. window [in]: a stretch of ground that holds this
    outline and others, so that it is cut into pieces once for all.
    """
    ring = LineString([*outline, outline[0]])
    found = [(ground.elevation_at(corner), corner) for corner in outline]
    if not isinstance(ground, LevelGround):
        for piece in flat_pieces(ground, _around(window or ring.bounds)):
            if not _meet(piece.bounds, ring.bounds):
                continue
            common = piece.shape.intersection(ring)
            breaks = ((float(x), float(y)) for x, y in get_coordinates(common))
            found += [(piece.elevation_at(at), at) for at in breaks]
    return min(found)


def _around(bounds: Bounds) -> Bounds:
    """Widen bounds by a thousandth, so that an outline along an axis has ground on both sides of it."""
    x0, y0, x1, y1 = bounds
    return x0 - 1e-3, y0 - 1e-3, x1 + 1e-3, y1 + 1e-3


def flat_pieces(ground: Ground, bounds: Bounds) -> tuple[FlatPiece, ...]:
    """Return the ground within bounds (x0, y0, x1, y1) [in] as flat pieces.

    Ground of a kind that is not known here is read at the corners of a grid of 12 in, each cell at its
    lowest.
    """
    return _flat_pieces(cast(Hashable, ground), bounds)


@lru_cache(maxsize=8)
def _flat_pieces(ground: Hashable, bounds: Bounds) -> tuple[FlatPiece, ...]:
    """Cut the ground once for all edges that are judged over it; every kind of ground is a frozen value."""
    window = box(*bounds)
    if isinstance(ground, LevelGround):
        return (FlatPiece(window, (0.0, 0.0), ground.elevation, (0.0, 0.0)),)
    if isinstance(ground, Strip):
        found = _strip(ground, bounds)
    elif isinstance(ground, Surface):
        found = _surface(ground, bounds)
    else:
        found = _cells(cast(Ground, ground), bounds)
    near = (piece for piece in found if _meet(piece.bounds, bounds))
    kept = ((piece, piece.shape.intersection(window)) for piece in near)
    return tuple(
        FlatPiece(shape, piece.base, piece.height, piece.gradient)
        for piece, shape in kept
        if shape.area > NEAR
    )


def _meet(one: Bounds, other: Bounds) -> bool:
    return one[0] <= other[2] and one[2] >= other[0] and one[1] <= other[3] and one[3] >= other[1]


def _reach(bounds: Bounds, points: list[Point]) -> float:
    xs = [bounds[0], bounds[2], *(x for x, _ in points)]
    ys = [bounds[1], bounds[3], *(y for _, y in points)]
    return 2.0 * (max(xs) - min(xs) + max(ys) - min(ys) + 1.0)


def _strip(ground: Strip, bounds: Bounds) -> Iterator[FlatPiece]:
    (x, y), (ux, uy) = ground.origin, ground.direction
    ends = [(x + ux * s, y + uy * s) for s, _ in ground.stations]
    reach = _reach(bounds, ends)
    first, last = ground.stations[0], ground.stations[-1]
    stations = [(first[0] - reach, first[1]), *ground.stations, (last[0] + reach, last[1])]
    for (s0, z0), (s1, z1) in pairwise(stations):
        a, b = (x + ux * s0, y + uy * s0), (x + ux * s1, y + uy * s1)
        fall = (z1 - z0) / (s1 - s0)
        shape = Polygon(
            [
                (a[0] - uy * reach, a[1] + ux * reach),
                (b[0] - uy * reach, b[1] + ux * reach),
                (b[0] + uy * reach, b[1] - ux * reach),
                (a[0] + uy * reach, a[1] - ux * reach),
            ]
        )
        yield FlatPiece(shape, a, z0, (ux * fall, uy * fall))


def _surface(ground: Surface, bounds: Bounds) -> Iterator[FlatPiece]:
    points = sorted({corner for triangle in ground.triangles for corner in triangle.corners})
    for triangle in ground.triangles:
        yield FlatPiece(Polygon(triangle.corners), triangle.corners[0], triangle.height, triangle.gradient)
    hull = MultiPoint(points).convex_hull
    ring = [(float(x), float(y)) for x, y in get_coordinates(hull)]
    if Polygon(ring).exterior.is_ccw:
        ring.reverse()  # clockwise: outside is to the left of the way round
    reach = _reach(bounds, points)
    # a measured point within a side of the hull breaks the ground beyond it as well
    sides = [pair for a, b in pairwise(ring) for pair in pairwise(_stops(a, b, points))]
    for a, b in sides:
        ux, uy = unit(a, b)
        out = (-uy * reach, ux * reach)
        za, zb = ground.elevation_at(a), ground.elevation_at(b)
        run = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
        fall = (zb - za) / run
        shape = Polygon([a, b, (b[0] + out[0], b[1] + out[1]), (a[0] + out[0], a[1] + out[1])])
        yield FlatPiece(shape, a, za, (ux * fall, uy * fall))
    for (p, a), (_, b) in zip(sides, [*sides[1:], sides[0]], strict=True):
        (ux, uy), (vx, vy) = unit(p, a), unit(a, b)
        one, two = (a[0] - uy * reach, a[1] + ux * reach), (a[0] - vy * reach, a[1] + vx * reach)
        between = (a[0] + (ux - vx) * reach - uy * reach, a[1] + (uy - vy) * reach + ux * reach)
        wedge = MultiPoint([a, one, between, two]).convex_hull
        yield FlatPiece(wedge, a, ground.elevation_at(a), (0.0, 0.0))


def _stops(a: Point, b: Point, points: list[Point]) -> list[Point]:
    """Return the measured points along a side of the hull, its ends among them, in order."""
    on = [p for p in points if p not in (a, b) and point_to_line(p, (a, b)) < NEAR]
    return [a, *sorted(on, key=lambda p: distance(a, p)), b]


def _cells(ground: Ground, bounds: Bounds) -> Iterator[FlatPiece]:
    size = 12.0
    x0, y0, x1, y1 = bounds
    for i in range(int((x1 - x0) // size) + 1):
        for j in range(int((y1 - y0) // size) + 1):
            a, b = x0 + i * size, y0 + j * size
            corners = [(a, b), (a + size, b), (a, b + size), (a + size, b + size)]
            yield FlatPiece(
                box(a, b, a + size, b + size), (a, b), min(map(ground.elevation_at, corners)), (0.0, 0.0)
            )
