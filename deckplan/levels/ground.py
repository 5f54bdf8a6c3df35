"""The ground between its measured points.

One point is level ground; two are a strip that falls from one to the other; three or more are triangles
between the points (Delaunay), each a plane. Nothing is extrapolated: outside the measured area the value of
the nearest measured place stands, and `measured_at` says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from deckplan.errors import InputError, Problem
from deckplan.geometry import Line, Point, along, distance, point_to_line, side_of

Spot = tuple[Point, float]
"""A measured place: where [in], and its elevation [in]."""

# A thousandth of an inch: points nearer than this are one point, and a point this near a hull is on it.
NEAR = 1e-3


@dataclass(frozen=True, slots=True)
class LevelGround:
    """Ground at one elevation [in]; measured: somebody measured it, or it is an assumption."""

    elevation: float
    measured: bool

    def elevation_at(self, at: Point) -> float:
        """Return the elevation [in], the same everywhere."""
        return self.elevation

    def slope_at(self, at: Point) -> float:
        """Return the slope [1], nil everywhere."""
        return 0.0

    def measured_at(self, at: Point) -> bool:
        """Tell whether somebody measured the ground."""
        return self.measured


@dataclass(frozen=True, slots=True)
class Strip:
    """Ground known along a line of points only: linear between them, level across, flat beyond its ends."""

    origin: Point
    direction: Point
    stations: tuple[tuple[float, float], ...]

    def _station(self, at: Point) -> float:
        return (at[0] - self.origin[0]) * self.direction[0] + (at[1] - self.origin[1]) * self.direction[1]

    def _piece(self, station: float) -> tuple[tuple[float, float], tuple[float, float]]:
        pairs = list(zip(self.stations, self.stations[1:], strict=False))
        return next((pair for pair in pairs if station <= pair[1][0]), pairs[-1])

    def elevation_at(self, at: Point) -> float:
        """Return the elevation [in] at the nearest station of the line."""
        station = min(max(self._station(at), self.stations[0][0]), self.stations[-1][0])
        (s0, z0), (s1, z1) = self._piece(station)
        return z0 + (z1 - z0) * (station - s0) / (s1 - s0)

    def slope_at(self, at: Point) -> float:
        """Return the slope [1] of the nearest piece of the line."""
        (s0, z0), (s1, z1) = self._piece(self._station(at))
        return abs(z1 - z0) / (s1 - s0)

    def measured_at(self, at: Point) -> bool:
        """Tell whether the point lies between the ends of the line; sideways the ground is taken as level."""
        return self.stations[0][0] - NEAR <= self._station(at) <= self.stations[-1][0] + NEAR


@dataclass(frozen=True)
class Triangle:
    """A plane over three points: z = z0 + gx (x - x0) + gy (y - y0)."""

    corners: tuple[Point, Point, Point]
    height: float
    gradient: Point

    def holds(self, at: Point) -> bool:
        """Tell whether the point lies in the triangle or on its edge."""
        left = right = True
        for a, b, length in self._measured_edges:
            turn = side_of(a, b, at) / length
            left, right = left and turn >= -NEAR, right and turn <= NEAR
            if not (left or right):
                return False
        return True

    @property
    def edges(self) -> tuple[Line, Line, Line]:
        """The three edges."""
        a, b, c = self.corners
        return ((a, b), (b, c), (c, a))

    @cached_property
    def _measured_edges(self) -> tuple[tuple[Point, Point, float], ...]:
        """The edges with their lengths [in], which every point of the ground is tried against."""
        return tuple((a, b, distance(a, b) or 1.0) for a, b in self.edges)

    def elevation_at(self, at: Point) -> float:
        """Return the elevation [in] of the plane at a point."""
        x0, y0 = self.corners[0]
        return self.height + self.gradient[0] * (at[0] - x0) + self.gradient[1] * (at[1] - y0)

    @property
    def slope(self) -> float:
        """The plane's slope [1]."""
        return distance((0.0, 0.0), self.gradient)


@dataclass(frozen=True, slots=True)
class Surface:
    """Ground over scattered points, as triangles."""

    triangles: tuple[Triangle, ...]

    def _nearest(self, at: Point) -> tuple[Triangle, Point]:
        """Return the triangle and the place in it that is nearest to a point."""
        for triangle in self.triangles:
            if triangle.holds(at):
                return triangle, at
        pairs = [(triangle, edge) for triangle in self.triangles for edge in triangle.edges]
        triangle, edge = min(pairs, key=lambda pair: point_to_line(at, pair[1]))
        return triangle, _foot(at, edge)

    def elevation_at(self, at: Point) -> float:
        """Return the elevation [in] there, or at the nearest measured place."""
        triangle, place = self._nearest(at)
        return triangle.elevation_at(place)

    def slope_at(self, at: Point) -> float:
        """Return the slope [1] there, or of the nearest triangle."""
        return self._nearest(at)[0].slope

    def measured_at(self, at: Point) -> bool:
        """Tell whether the point lies within the measured points."""
        return any(triangle.holds(at) for triangle in self.triangles)


GroundSurface = LevelGround | Strip | Surface


def _foot(at: Point, edge: Line) -> Point:
    """Return the point of an edge nearest to a point."""
    (x0, y0), (x1, y1) = edge
    dx, dy = x1 - x0, y1 - y0
    share = ((at[0] - x0) * dx + (at[1] - y0) * dy) / (dx * dx + dy * dy)
    return along(edge, min(1.0, max(0.0, share)))


def _plane(a: Spot, b: Spot, c: Spot) -> Triangle:
    twice = side_of(a[0], b[0], c[0])
    dz1, dz2 = b[1] - a[1], c[1] - a[1]
    gx = (dz1 * (c[0][1] - a[0][1]) - dz2 * (b[0][1] - a[0][1])) / twice
    gy = (dz2 * (b[0][0] - a[0][0]) - dz1 * (c[0][0] - a[0][0])) / twice
    return Triangle((a[0], b[0], c[0]), a[1], (gx, gy))


def _distinct(spots: Sequence[Spot]) -> list[Spot]:
    """Drop repeated points; two elevations at one place are an error."""
    kept: list[Spot] = []
    for at, elevation in spots:
        twin = next((spot for spot in kept if distance(spot[0], at) < NEAR), None)
        if twin is None:
            kept.append((at, elevation))
        elif abs(twin[1] - elevation) > NEAR:
            came = f"{twin[1]:g} in and {elevation:g} in"
            raise InputError(
                [Problem(f"site.ground at ({at[0]:g}, {at[1]:g}) in", "one elevation a place", came)]
            )
        else:
            continue
    return kept


def lay_ground(spots: Sequence[Spot]) -> GroundSurface:
    """Return the ground through measured points.

    spots: place [in] and elevation [in] each; none at all means that nobody measured: level at 0, unmeasured.

    Raises InputError where two points at one place have different elevations.

    >>> lay_ground([((0, 0), 0.0), ((480, 0), -2.0), ((0, 360), -9.0)]).elevation_at((240, 180))
    -5.5
    """
    points = _distinct(spots)
    if len(points) < 2:
        return LevelGround(points[0][1], True) if points else LevelGround(0.0, False)
    first = points[0][0]
    far = max((at for at, _ in points), key=lambda at: distance(first, at))
    reach = distance(first, far)
    if all(abs(side_of(first, far, at)) / reach < NEAR for at, _ in points):
        direction = ((far[0] - first[0]) / reach, (far[1] - first[1]) / reach)
        stations = sorted(
            ((at[0] - first[0]) * direction[0] + (at[1] - first[1]) * direction[1], z) for at, z in points
        )
        return Strip(first, direction, tuple(stations))
    return Surface(_triangles(points))


def _triangles(points: list[Spot]) -> tuple[Triangle, ...]:
    from shapely import MultiPoint, delaunay_triangles, get_coordinates

    heights = {(float(x), float(y)): z for (x, y), z in points}
    found = []
    for part in delaunay_triangles(MultiPoint(list(heights))).geoms:
        corners = [(float(x), float(y)) for x, y in get_coordinates(part)[:3]]
        a, b, c = ((corner, heights[corner]) for corner in corners)
        # a sliver along the hull has no plane worth the name
        if abs(side_of(a[0], b[0], c[0])) > NEAR * max(distance(a[0], b[0]), distance(b[0], c[0])):
            found.append(_plane(a, b, c))
    return tuple(found)
