"""The picture frame: rows of boards round an outline, mitred at its corners.

Every corner is moved inward along its bisector::

    +---------------------+   outline
    | \\_________________/ |   mitre from corner to corner
    |  |               |  |
"""

from __future__ import annotations

from dataclasses import dataclass

from shapely import Polygon

from deckplan.geometry import Line, Point, area, distance, unit

_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class BorderBoard:
    """One side of one row of the border: row from outside, index of the outline's edge, corners [in], outer first."""

    row: int
    edge: int
    outer: Line
    inner: Line


def clean(corners: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return an outline counter-clockwise, without corners that lie on a straight edge [in]."""
    found = list(corners if area(corners) > 0 else corners[::-1])
    changed = True
    while changed and len(found) > 3:
        changed = False
        for i, here in enumerate(found):
            a, b = found[i - 1], found[(i + 1) % len(found)]
            cross = (here[0] - a[0]) * (b[1] - here[1]) - (here[1] - a[1]) * (b[0] - here[0])
            if abs(cross) <= _HAIR * distance(a, here) * distance(here, b):
                del found[i]
                changed = True
                break
    return tuple(found)


def move_in(corners: tuple[Point, ...], by: float) -> tuple[Point, ...]:
    """Return every corner moved inward [in], so that each edge lies `by` inside its old place.

    >>> move_in(((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)), 1.0)
    ((1.0, 1.0), (9.0, 1.0), (9.0, 9.0), (1.0, 9.0))
    """
    moved = []
    for i, (x, y) in enumerate(corners):
        (ax, ay), (bx, by_) = unit(corners[i - 1], (x, y)), unit((x, y), corners[(i + 1) % len(corners)])
        # the inward normals of both edges; their sum points along the bisector
        na, nb = (-ay, ax), (-by_, bx)
        both = 1.0 + na[0] * nb[0] + na[1] * nb[1]
        if both < 1e-3:  # a needle: its bisector runs off
            both = 1e-3
        moved.append((x + by * (na[0] + nb[0]) / both, y + by * (na[1] + nb[1]) / both))
    return tuple(moved)


def frame_border(
    corners: tuple[Point, ...], rows: int, width: float, gap: float
) -> tuple[tuple[BorderBoard, ...], tuple[Point, ...], int]:
    """Lay a border inside a clean outline: its boards, the corners of what is left inside, how many rows fit.

    rows: as many as wished; fewer are laid where an edge is too short or the inside too narrow for a mitre.
    width, gap [in]: of the boards.
    """
    boards: list[BorderBoard] = []
    left = corners
    for row in range(rows):
        low = row * (width + gap)
        rings = [move_in(corners, by) for by in (low, low + width, low + width + gap)]
        if not all(
            _sound(corners, ring, by)
            for ring, by in zip(rings, (low, low + width, low + width + gap), strict=True)
        ):
            return tuple(boards), left, row
        outer, inner, left = rings
        count = len(corners)
        boards += [
            BorderBoard(row, i, (outer[i], outer[(i + 1) % count]), (inner[i], inner[(i + 1) % count]))
            for i in range(count)
        ]
    return tuple(boards), left, rows


def _sound(corners: tuple[Point, ...], moved: tuple[Point, ...], by: float) -> bool:
    """Tell whether moving in kept every edge its way and the outline simple, everywhere `by` [in] inside."""
    for i, (a, b) in enumerate(zip(moved, moved[1:] + moved[:1], strict=True)):
        c, d = corners[i], corners[(i + 1) % len(corners)]
        if (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1]) <= _HAIR:
            return False
    inside = Polygon(moved)
    if not inside.is_valid:
        return False
    # an inlet narrower than two borders would bring two rows onto each other
    return bool(inside.exterior.distance(Polygon(corners).exterior) >= by - 1e-4) if by else True
