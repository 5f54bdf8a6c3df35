"""Where joists stand: positions across the platform, clipped to its outline, with the surface each carries."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from deckplan.layout.frame import DOUBLED, ON_LINE, Frame, Interval, crossings
from deckplan.layout.model import Strip

JOIST_THICKNESS = 1.5
"""Dressed thickness of two-inch lumber [in]. Source: PS 20, American Softwood Lumber Standard."""

# A clipped edge slopes; its strip is cut into stretches no longer than this, so that moments come out close.
STRETCH = 12.0


def joist_positions(
    width: float, spacing: float, thickness: float = JOIST_THICKNESS, start: float = 0.0
) -> tuple[float, ...]:
    """Return the centres [in] of the joists across a platform, from its lower edge.

    width, spacing [in]. First and last stand flush with the edges, the others on centre from the lower edge:
    ceil(width / spacing) + 1 of them. The last one on centre moves over where it would stand inside the end joist.
    start [in]: where the marks on centre begin, less than one spacing, to line up with a neighbour's joists.

    Source: common practice.

    >>> len(joist_positions(120.0, 16.0))
    9
    """
    first, last = thickness / 2, width - thickness / 2
    if last - first < thickness:
        return (width / 2,)
    positions = [first]
    count = 0 if start > ON_LINE else 1
    while (mark := start + count * spacing) < width - ON_LINE:
        at = min(max(mark, first + thickness), last - thickness)
        if at > positions[-1] + thickness - ON_LINE:
            positions.append(at)
        count += 1
    return (*positions, last)


@dataclass(frozen=True, slots=True)
class JoistLine:
    """One joist line: its centre u [in], the stretch of v inside the outline [in], the strips it carries (in v).

    plies: 2 where it trims an opening.
    """

    u: float
    reach: Interval
    strips: tuple[Strip, ...]
    plies: int = 1


@lru_cache(maxsize=64)
def set_out(frame: Frame, spacing: float, start: float = 0.0) -> tuple[JoistLine, ...]:
    """Set out the joists of a platform: lines across, clipped to the outline, with the surface each carries.

    Every square inch of the outline goes to one line, the nearest across, so that strips sum to the outline.
    """
    plain = _with_edges(frame, joist_positions(frame.width, spacing, start=start))
    places = _with_trimmers(frame, plain)
    positions = [u for u, _ in places]
    bounds = [0.0, *((a + b) / 2 for a, b in pairwise(positions)), frame.width]
    lines: list[JoistLine] = []
    left_over: list[Strip] = []
    simple = not frame.holes and _is_rectangle(frame)
    for (u, plies), low, high in zip(places, bounds, bounds[1:], strict=False):
        reaches = ((0.0, frame.depth),) if simple else frame.wood_at(u)
        strips = [Strip(0.0, frame.depth, high - low)] if simple else _strips(frame, low, high)
        shares: list[list[Strip]] = [[] for _ in reaches]
        for strip in (*strips, *left_over):
            if reaches:
                nearest = min(range(len(reaches)), key=lambda i: _apart(reaches[i], strip))
                shares[nearest].append(strip)
        left_over = [] if reaches else [*strips, *left_over]
        lines.extend(
            JoistLine(u, reach, tuple(own), plies) for reach, own in zip(reaches, shares, strict=True)
        )
    return tuple(lines)


def _with_edges(frame: Frame, positions: tuple[float, ...]) -> tuple[float, ...]:
    """Add a joist inside every edge that runs along the joists within the platform, as at an inner corner."""
    found = list(positions)
    half = JOIST_THICKNESS / 2
    for (u0, v0), (u1, v1) in frame.edges:
        if abs(u1 - u0) > ON_LINE or u0 <= JOIST_THICKNESS or u0 >= frame.width - JOIST_THICKNESS:
            continue
        right = any(low < (v0 + v1) / 2 < high for low, high in frame.along_at(u0 + half))
        at = u0 + half if right else u0 - half
        ends = (positions[0], positions[-1])
        found = [u for u in found if u in ends or abs(u - at) >= JOIST_THICKNESS]
        if all(abs(u - at) >= JOIST_THICKNESS for u in found):
            found.append(at)
    return tuple(sorted(found))


def _with_trimmers(frame: Frame, positions: tuple[float, ...]) -> tuple[tuple[float, int], ...]:
    """Add a doubled joist on either side of every opening; joists that would touch it make way."""
    places = [(u, 1) for u in positions]
    for hole in frame.holes:
        for edge in (hole.u0 - DOUBLED / 2, hole.u1 + DOUBLED / 2):
            at = min(max(edge, DOUBLED / 2), frame.width - DOUBLED / 2)
            near = (DOUBLED + JOIST_THICKNESS) / 2 - ON_LINE
            places = [(u, plies) for u, plies in places if abs(u - at) >= near]
            places.append((at, 2))
    return tuple(sorted(places))


def _is_rectangle(frame: Frame) -> bool:
    sides = {0.0, frame.width}, {0.0, frame.depth}
    return len(frame.corners) == 4 and all(
        any(abs(c - s) < ON_LINE for s in side)
        for corner in frame.corners
        for c, side in zip(corner, sides, strict=True)
    )


def _apart(reach: Interval, strip: Strip) -> float:
    """Return how far [in] a strip's middle lies from a stretch of joist."""
    middle = (strip.start + strip.end) / 2
    return max(reach[0] - middle, middle - reach[1], 0.0)


def _strips(frame: Frame, low: float, high: float) -> list[Strip]:
    """Cut the part of the surface between two lines across into strips of nearly even width."""
    from shapely import Polygon, box

    part = Polygon(frame.corners).buffer(0).intersection(box(low, -1.0, high, frame.depth + 1.0))
    for hole in frame.holes:
        part = part.difference(box(hole.u0, hole.v0, hole.u1, hole.v1))
    strips: list[Strip] = []
    for piece in getattr(part, "geoms", [part]):
        if piece.geom_type != "Polygon" or piece.is_empty:
            continue
        rings = [tuple((v, u) for u, v in ring.coords[:-1]) for ring in (piece.exterior, *piece.interiors)]
        levels = sorted({v for ring in rings for v, _ in ring})
        for v0, v1 in pairwise(levels):
            if v1 - v0 > ON_LINE:
                strips.extend(_slab(rings, v0, v1))
    return strips


def _slab(rings: list[tuple[tuple[float, float], ...]], v0: float, v1: float) -> list[Strip]:
    """Cut one slab between corners into stretches; widths are linear there, so the middle's width is the mean."""

    def width(v: float) -> float:
        outer, *holes = (sum(b - a for a, b in crossings(ring, v)) for ring in rings)
        return outer - sum(holes)

    tilted = abs(width(v0 + (v1 - v0) * 0.25) - width(v0 + (v1 - v0) * 0.75)) > 1e-3
    count = max(1, round((v1 - v0) / STRETCH)) if tilted else 1
    step = (v1 - v0) / count
    return [Strip(v0 + i * step, v0 + (i + 1) * step, width(v0 + (i + 0.5) * step)) for i in range(count)]
