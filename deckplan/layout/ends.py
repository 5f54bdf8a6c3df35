"""How the ends of framing are cut: along the face that a piece butts on, or on the mitre where two rims meet.

::

         cut +22.5        The angle is off square: at an end it is over 0 where the piece is longer on the left of its
      +-------------/     run, at its start where the left side begins later.
      +------------/
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from deckplan.geometry import Line, Point, distance, unit
from deckplan.layout.model import Kind, Member

Cuts = tuple[float, float]
"""Angles off square at the start and at the end of a piece [degrees]."""

SQUARE: Cuts = (0.0, 0.0)

TOUCHES = 0.05
"""An end within this of a face butts on it [in]."""

STEEPEST = 75.0
"""No end is cut flatter than this off square [degrees]: such a point would not hold a nail."""

RUN_ON = 4.0
"""At a corner a piece is cut along the face of another that stops short of it by no more than this [in]."""

LEVEL_KINDS = (Kind.JOIST, Kind.RIM, Kind.LEDGER, Kind.BLOCKING, Kind.BEAM, Kind.HEADER)
"""Kinds that may lie in one plane with each other."""

CLOSING = (Kind.RIM, Kind.LEDGER, Kind.BEAM, Kind.HEADER)
"""What joists stop at."""

_CUT_KINDS = (Kind.JOIST, Kind.RIM, Kind.BLOCKING)
_FINE = 1e-4


def angle_between(run: Point, face: Point) -> float:
    """Return by how much a cut along a face is off square to a run [degrees]; both are unit vectors.

    >>> angle_between((1.0, 0.0), (0.0, 1.0)), round(angle_between((1.0, 0.0), (0.6, 0.8)), 2)
    (0.0, 36.87)
    """
    across = -face[0] * run[1] + face[1] * run[0]
    along = face[0] * run[0] + face[1] * run[1]
    if across < 0:
        across, along = -across, -along
    return math.degrees(math.atan2(along, across)) + 0.0


def cut_shape(line: Line, width: float, cuts: Cuts = SQUARE) -> tuple[Point, ...]:
    """Return the corners in plan of a piece of a width [in] along a centre line [in], its ends cut at angles [degrees].

    >>> cut_shape(((0.0, 0.0), (10.0, 0.0)), 2.0, (0.0, 45.0))
    ((0.0, 1.0), (11.0, 1.0), (9.0, -1.0), (0.0, -1.0))
    """
    (x0, y0), (x1, y1) = line
    dx, dy = unit(*line)
    nx, ny = -dy * width / 2, dx * width / 2
    a, b = (round(math.tan(math.radians(cut)), 12) * width / 2 for cut in cuts)
    return (
        (x0 + nx + dx * a, y0 + ny + dy * a),
        (x1 + nx + dx * b, y1 + ny + dy * b),
        (x1 - nx - dx * b, y1 - ny - dy * b),
        (x0 - nx - dx * a, y0 - ny - dy * a),
    )


def longest(length: float, width: float, cuts: Cuts) -> float:
    """Return how long a piece is from its first point to its last [in]; length: of its centre line, width [in]."""
    return length + width / 2 * sum(math.tan(math.radians(abs(cut))) for cut in cuts)


def shortest(length: float, width: float, cuts: Cuts) -> float:
    """Return the length of the shorter side of a piece [in]; not over 0 where its cuts would cross each other."""
    start, end = (math.tan(math.radians(cut)) for cut in cuts)
    return length - width / 2 * abs(end - start)


def cut_ends(members: Iterable[Member]) -> Mapping[str, Cuts]:
    """Return the cuts of every joist, rim, block and beam whose ends are not both square, by mark."""
    by_platform: dict[str, list[Member]] = {}
    for member in members:
        if member.kind in LEVEL_KINDS and member.length > 0:
            by_platform.setdefault(member.platform, []).append(member)
    found: dict[str, Cuts] = {}
    for own in by_platform.values():
        runs = [(member, unit(*member.line)) for member in own]
        if all(_square(runs[0][1], run) for _, run in runs):
            continue
        found |= {
            m.mark: m.cuts for m in own if m.cuts != SQUARE and shortest(m.length, m.width, m.cuts) > 0.1
        }
        for member, run in runs:
            if member.kind in _CUT_KINDS:
                near = [(other, way) for other, way in runs if other is not member and _level(member, other)]
                cuts = (_cut(member, run, member.start, near), _cut(member, run, member.end, near))
                if any(abs(cut) > 0.05 for cut in cuts) and shortest(member.length, member.width, cuts) > 0.1:
                    found[member.mark] = cuts
    return found


def shape_of(member: Member, cuts: Mapping[str, Cuts]) -> tuple[Point, ...]:
    """Return the corners in plan of a member as it is cut [in]."""
    return cut_shape(member.line, member.width, cuts.get(member.mark, SQUARE))


def _square(one: Point, other: Point) -> bool:
    cross, dot = one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1]
    return min(abs(cross), abs(dot)) < _FINE


def _level(one: Member, other: Member) -> bool:
    return min(one.top, other.top) - max(one.bottom, other.bottom) > 0.01


def _cut(member: Member, run: Point, end: Point, near: list[tuple[Member, Point]]) -> float:
    """Return how an end is cut [degrees]: on the mitre with a rim that ends there too, else along the nearest face."""
    if member.kind is Kind.RIM:
        for other, way in near:
            if other.kind is Kind.RIM and (at := _common(end, other)) is not None:
                toward = 1.0 if end == member.end else -1.0
                theirs = 1.0 if at == other.end else -1.0
                mitre = (run[0] * toward + way[0] * theirs, run[1] * toward + way[1] * theirs)
                size = math.hypot(*mitre)
                return _held(angle_between(run, (mitre[0] / size, mitre[1] / size))) if size > 0.2 else 0.0
    best: tuple[float, float] | None = None
    for other, way in near:
        if member.kind is Kind.JOIST and other.kind not in CLOSING:
            continue  # blocking is cut to the joists, not they to it
        for off, face in ((_off_face(end, other, way), way), (_off_end(end, other, way), (-way[1], way[0]))):
            flat = abs(run[0] * face[1] - run[1] * face[0]) < 0.2
            if not flat and off <= TOUCHES and (best is None or off < best[0]):
                best = (off, angle_between(run, face))
    return _held(best[1]) if best is not None else 0.0


def _off_face(end: Point, other: Member, way: Point) -> float:
    """Return how far an end lies off the nearer long face of another piece, or of what that would be run on [in]."""
    x, y = end[0] - other.start[0], end[1] - other.start[1]
    if not -RUN_ON <= x * way[0] + y * way[1] <= other.length + RUN_ON:
        return math.inf
    return abs(abs(x * way[1] - y * way[0]) - other.width / 2)


def _off_end(end: Point, other: Member, way: Point) -> float:
    """Return how far an end lies off the end of a ledger or a beam that stands in for a rim [in]."""
    x, y = end[0] - other.start[0], end[1] - other.start[1]
    if other.kind not in (Kind.LEDGER, Kind.BEAM) or abs(x * way[1] - y * way[0]) > other.width / 2 + TOUCHES:
        return math.inf
    along = x * way[0] + y * way[1]
    return min(abs(along), abs(along - other.length))


def _common(end: Point, other: Member) -> Point | None:
    return next((at for at in other.line if distance(at, end) <= TOUCHES), None)


def _held(cut: float) -> float:
    return cut if abs(cut) <= STEEPEST else 0.0
