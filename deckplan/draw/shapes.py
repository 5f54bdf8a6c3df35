"""Small shapes in plan [in] that several views need."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from deckplan.geometry import Line, Point, unit
from deckplan.layout.ends import Cuts, shape_of
from deckplan.layout.model import Member, Post


def strip(line: Line, width: float) -> tuple[Point, ...]:
    """Return the corners of a piece of a width [in] round its centre line [in]."""
    (x0, y0), (x1, y1) = line
    if line[0] == line[1]:
        return square(line[0], width)
    dx, dy = unit(*line)
    nx, ny = -dy * width / 2, dx * width / 2
    return ((x0 + nx, y0 + ny), (x1 + nx, y1 + ny), (x1 - nx, y1 - ny), (x0 - nx, y0 - ny))


def piece(member: Member, cuts: Mapping[str, Cuts]) -> tuple[Point, ...]:
    """Return the corners of a member as its ends are cut; cuts: by mark, see `layout.ends`."""
    return shape_of(member, cuts) if member.length else square(member.start, member.width)


def square(at: Point, width: float) -> tuple[Point, ...]:
    """Return the corners of an upright square of a width [in] round a point."""
    (x, y), h = at, width / 2
    return ((x - h, y - h), (x + h, y - h), (x + h, y + h), (x - h, y + h))


def post_shape(post: Post) -> tuple[Point, ...]:
    """Return the corners of a post in plan [in], turned as its beam runs."""
    (x, y), (dx, dy), h = post.at, post.way, post.width / 2
    if min(abs(dx), abs(dy)) < 1e-9:
        return square(post.at, post.width)
    return tuple(
        (x + h * (a * dx - b * dy), y + h * (a * dy + b * dx))
        for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    )


def rectangle(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    """Return the corners of an upright rectangle [in], counter-clockwise."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def inside(point: Point, outline: Sequence[Point]) -> bool:
    """Tell whether a point lies inside an outline (crossing count).

    >>> inside((1, 1), ((0, 0), (4, 0), (4, 4), (0, 4)))
    True
    """
    x, y = point
    odd = False
    for (x0, y0), (x1, y1) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            odd = not odd
    return odd


def shifted(point: Point, direction: Point, by: float) -> Point:
    """Return the point moved by a distance [in] along a unit vector."""
    return (point[0] + direction[0] * by, point[1] + direction[1] * by)


def crossings(outline: Sequence[Point], axis: int, at: float) -> list[float]:
    """Return where an upright or level line cuts an outline, in order, two by two inside it.

    axis: 0 for the line x = at, 1 for the line y = at; at [in].
    """
    found = []
    for a, b in zip(outline, [*outline[1:], outline[0]], strict=True):
        if (a[axis] > at) != (b[axis] > at):
            share = (at - a[axis]) / (b[axis] - a[axis])
            found.append(a[1 - axis] + share * (b[1 - axis] - a[1 - axis]))
    return sorted(found)
