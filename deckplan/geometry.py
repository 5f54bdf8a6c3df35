"""Points and directions in plan [in]: small things that everyone shares; polygons are shapely's work."""

from __future__ import annotations

import math

Point = tuple[float, float]
Line = tuple[Point, Point]


def distance(a: Point, b: Point) -> float:
    """Return the distance between two points [in].

    >>> distance((0.0, 0.0), (144.0, 192.0))
    240.0
    """
    return math.dist(a, b)


def along(line: Line, share: float) -> Point:
    """Return the point at a share [1] of the way from the line's start to its end."""
    (x0, y0), (x1, y1) = line
    return (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)


def middle(line: Line) -> Point:
    """Return the middle of a line [in]."""
    return along(line, 0.5)


def unit(a: Point, b: Point) -> Point:
    """Return the unit vector from a to b; raises ValueError where the points are one."""
    length = distance(a, b)
    if length == 0:
        raise ValueError("two points at the same place have no direction between them")
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def turned(point: Point, degrees: float) -> Point:
    """Turn a point about the origin, counter-clockwise; quarter turns are exact."""
    quarter, rest = divmod(degrees, 90.0)
    if rest:
        angle = math.radians(degrees)
        cosine, sine = math.cos(angle), math.sin(angle)
    else:
        cosine, sine = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    x, y = point
    return (x * cosine - y * sine + 0.0, x * sine + y * cosine + 0.0)


def area(corners: tuple[Point, ...]) -> float:
    """Return the signed area of a polygon [in^2], positive where its corners run counter-clockwise.

    >>> area(((0, 0), (12, 0), (12, 12), (0, 12)))
    144.0
    """
    total = 0.0
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        total += x0 * y1 - x1 * y0
    return total / 2


def side_of(a: Point, b: Point, point: Point) -> float:
    """Return twice the area of a triangle [in^2]: over 0 where the point lies on the left of the way from a to b.

    >>> side_of((0, 0), (12, 0), (0, 6))
    72
    """
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])


def cross(one: Line, other: Line) -> bool:
    """Tell whether two stretches of line run through each other; where one only touches the other they do not.

    >>> cross(((0, 0), (10, 10)), ((0, 10), (10, 0))), cross(((0, 0), (10, 10)), ((5, 5), (9, 0)))
    (True, False)
    """
    (a, b), (c, d) = one, other
    return side_of(a, b, c) * side_of(a, b, d) < 0 and side_of(c, d, a) * side_of(c, d, b) < 0


def point_to_line(point: Point, line: Line) -> float:
    """Return the distance from a point to a stretch of line [in]."""
    (x0, y0), (x1, y1) = line
    dx, dy = x1 - x0, y1 - y0
    square = dx * dx + dy * dy
    share = 0.0 if square == 0 else ((point[0] - x0) * dx + (point[1] - y0) * dy) / square
    share = 0.0 if share < 0.0 else min(share, 1.0)
    return math.hypot(x0 + dx * share - point[0], y0 + dy * share - point[1])
