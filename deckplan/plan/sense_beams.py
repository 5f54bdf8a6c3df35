"""Where a beam line lies on its platform: square to the joists at an offset, or at an angle along a line."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from deckplan.errors import Problem
from deckplan.geometry import Line, turned
from deckplan.plan.model import BeamLine, Platform
from deckplan.units import format_length

LEAST_ANGLE = 30.0
"""Flattest angle between joists and what they bear on or hang on [degrees]. Our own limit, so that hangers skew by 60
degrees at most."""

NEARLY = 0.01
"""What an angle may be under its limit by rounding [degrees]."""

SAME_LINE = 0.01
"""Two lines this close all along are one [in]."""


def joist_angle(platform: Platform) -> float:
    """Return the direction of the joists [degrees] from the x axis."""
    direction = platform.joists.direction
    if direction == "x":
        return 0.0
    return 90.0 if direction == "y" else float(direction)


def beam_place(
    platform: Platform, support: BeamLine, place: str, earlier: Mapping[int, BeamLine]
) -> Iterator[Problem]:
    """Find what makes no sense about where a beam lies and where its posts stand on it.

    earlier: the beam lines before it, by their number.
    """
    angle = joist_angle(platform) % 180.0
    shares = [turned(corner, -angle) for corner in platform.outline]
    low, depth = min(v for v, _ in shares), max(v for v, _ in shares) - min(v for v, _ in shares)
    if support.offset is not None and support.line is not None:
        yield Problem(f"{place}, line", "either a line or an offset, one of the two", "both")
        return
    if support.line is not None:
        length = _length_inside(platform, support.line)
        steep = _angle_between(support.line, angle)
        if steep < LEAST_ANGLE - NEARLY:
            yield Problem(
                f"{place}, line", f"at {LEAST_ANGLE:g} degrees or more to the joists", f"{steep:.3g} degrees"
            )
        elif length <= 0:
            ends = " to ".join(f"({format_length(x)}, {format_length(y)})" for x, y in support.line)
            yield Problem(f"{place}, line", "a line that crosses the platform", ends)
        else:
            pass  # it lies well
    elif support.offset is not None:
        length = max(u for _, u in shares) - min(u for _, u in shares)
        if not 0 <= support.offset <= depth + 1e-6:
            yield Problem(
                f"{place}, offset", f"on the platform, from 0 to {_height(depth)}", _height(support.offset)
            )
    else:
        yield Problem(f"{place}, offset", "needed, or a line in its place, but missing")
        return
    own = _line_of(support, angle, low)
    for number, other in earlier.items():
        theirs = _line_of(other, angle, low)
        if support.offset is not None and other.offset is not None:
            same = support.offset == other.offset
        else:
            same = own is not None and theirs is not None and _same(own, theirs)
        if same:
            key, there = (
                ("offset", _height(support.offset)) if support.offset is not None else ("line", "the same")
            )
            yield Problem(f"{place}, {key}", f"another line than support {number}", there)
            break
    if isinstance(support.posts, tuple):
        for offset in support.posts:
            if not 0 <= offset <= length + 1e-6:
                yield Problem(
                    f"{place}, posts", f"offsets on the beam, from 0 to {_height(length)}", _height(offset)
                )


def _line_of(support: BeamLine, angle: float, low: float) -> Line | None:
    """Return two points of a beam line [in], for joists at an angle whose lowest coordinate along them is given."""
    if support.line is not None:
        return support.line
    if support.offset is None:
        return None
    v = low + support.offset
    return (turned((v, 0.0), angle), turned((v, 120.0), angle))


def _same(one: Line, other: Line) -> bool:
    """Tell whether the points of each line lie on the other."""
    return max(_off(point, other) for point in one) <= SAME_LINE


def _off(point: tuple[float, float], line: Line) -> float:
    (x0, y0), (x1, y1) = line
    long = math.hypot(x1 - x0, y1 - y0)
    return abs((point[0] - x0) * (y1 - y0) - (point[1] - y0) * (x1 - x0)) / long


def _angle_between(line: Line, angle: float) -> float:
    """Return the angle between a line and the joists [degrees], 0 to 90."""
    (x0, y0), (x1, y1) = line
    between = (math.degrees(math.atan2(y1 - y0, x1 - x0)) - angle) % 180.0
    return min(between, 180.0 - between)


def _length_inside(platform: Platform, line: Line) -> float:
    """Return the longest stretch of a line, drawn out both ways, within a platform's outline [in]."""
    from shapely import LineString, Polygon

    (x0, y0), (x1, y1) = line
    long = math.hypot(x1 - x0, y1 - y0)
    reach = 1.0 + max(math.hypot(x - x0, y - y0) for x, y in platform.outline)
    dx, dy = (x1 - x0) / long * reach, (y1 - y0) / long * reach
    drawn_out = LineString([(x0 - dx, y0 - dy), (x0 + dx, y0 + dy)])
    inside = drawn_out.intersection(Polygon(platform.outline).buffer(1e-3))
    return max((piece.length for piece in getattr(inside, "geoms", [inside])), default=0.0)


def _height(inches: float) -> str:
    return f"{inches:g} in"
