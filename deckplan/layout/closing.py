"""What closes a platform's frame along its edges: rims, and the ledgers and flush beams that stand in for them."""

from __future__ import annotations

from deckplan.engineering.lumber import Size
from deckplan.geometry import Point, area, distance
from deckplan.layout.frame import DOUBLED, ON_LINE, Frame, Hole, Interval
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Member
from deckplan.layout.supports import BeamStretch, LedgerLine
from deckplan.plan.model import Platform

Cover = tuple[Interval, float, float]
"""A stretch of u on the edge at v that a ledger or a flush beam closes, and how thick it is [in]."""


def at_edge(frame: Frame, stretch: BeamStretch, width: float) -> float | None:
    """Return the v of the edge that a flush beam stands in for a rim on, where it lies that near to one."""
    if stretch.line.style != "flush":
        return None
    middle = (stretch.reach[0] + stretch.reach[1]) / 2
    for low, high in frame.along_at(middle):
        for edge in (low, high):
            if abs(stretch.v - edge) - width / 2 < JOIST_THICKNESS:
                return edge
    return None


def covers_of(
    frame: Frame, ledgers: tuple[LedgerLine, ...], beams: tuple[tuple[BeamStretch, Member], ...]
) -> tuple[Cover, ...]:
    """Return where ledgers and flush beams stand in for a rim."""
    covers: list[Cover] = [(line.reach, line.v, JOIST_THICKNESS) for line in ledgers]
    for stretch, beam in beams:
        edge = at_edge(frame, stretch, beam.width)
        if edge is not None:
            covers.append((stretch.reach, edge, abs(stretch.v - edge) + beam.width / 2))
    return tuple(covers)


def rims_of(
    frame: Frame, platform: Platform, mark: str, covers: tuple[Cover, ...], joist: Size, top: float
) -> tuple[Member, ...]:
    """Close the frame along every edge that does not run along the joists and that nothing else closes."""
    made: list[Member] = []
    half = JOIST_THICKNESS / 2
    turn = 1.0 if area(frame.corners) > 0 else -1.0
    for (u0, v0), (u1, v1) in frame.edges:
        if abs(u1 - u0) <= ON_LINE:
            continue
        length = distance((u0, v0), (u1, v1))
        # unit normal of the edge that points into the platform
        normal = (-(v1 - v0) / length * turn, (u1 - u0) / length * turn)
        for low, high in _without(covers, (u0, v0), (u1, v1)):
            ends = [_on_edge((u0, v0), (u1, v1), u) for u in (low, high)]
            line = _mitred(frame, [(u + normal[0] * half, v + normal[1] * half) for u, v in ends])
            if line is None:
                continue
            start, end = (frame.site(u, v) for u, v in line)
            made.append(
                Member(
                    mark=f"{mark}-R{len(made) + 1}",
                    platform=platform.name,
                    kind=Kind.RIM,
                    size=joist.name,
                    start=start,
                    end=end,
                    top=top,
                    width=JOIST_THICKNESS,
                    depth=joist.depth,
                )
            )
    return tuple(made)


def _on_edge(a: Point, b: Point, u: float) -> Point:
    return (u, a[1] + (b[1] - a[1]) * (u - a[0]) / (b[0] - a[0]))


def _mitred(frame: Frame, line: list[Point]) -> tuple[Point, Point] | None:
    """Cut a rim's centre line where its mitred ends leave the outline; None where nothing is left of it."""
    from shapely import LineString, Polygon

    outline = Polygon(frame.corners).buffer(ON_LINE)
    left = LineString(line).intersection(outline)
    pieces = [piece for piece in getattr(left, "geoms", [left]) if piece.length > ON_LINE]
    if not pieces:
        return None
    (u0, v0), *_, (u1, v1) = max(pieces, key=lambda piece: piece.length).coords
    return (float(u0), float(v0)), (float(u1), float(v1))


def _without(covers: tuple[Cover, ...], a: Point, b: Point) -> list[Interval]:
    """Return the stretches of u of an edge that no ledger or flush beam closes."""
    left = [(min(a[0], b[0]), max(a[0], b[0]))]
    for reach, edge, _ in covers:
        if abs(a[1] - edge) > ON_LINE or abs(b[1] - edge) > ON_LINE:
            continue
        cut: list[Interval] = []
        for low, high in left:
            cut += [(low, min(high, reach[0])), (max(low, reach[1]), high)]
        left = [(low, high) for low, high in cut if high - low > ON_LINE]
    return left


def end_cut(frame: Frame, covers: tuple[Cover, ...], u: float, v: float) -> float:
    """Return how much of a joist's end [in] what closes its edge takes; more where the edge slants."""
    if any(hole.u0 < u < hole.u1 and _at_header(hole, v) for hole in frame.holes):
        return 0.0
    for reach, edge, thickness in covers:
        if carries(reach, u) and abs(edge - v) <= 1e-3:
            return thickness
    for (u0, v0), (u1, v1) in frame.edges:
        if min(u0, u1) - ON_LINE <= u <= max(u0, u1) + ON_LINE and abs(u1 - u0) > ON_LINE:
            at = v0 + (v1 - v0) * (u - u0) / (u1 - u0)
            if abs(at - v) < 1e-3:
                length = distance((u0, v0), (u1, v1))
                return JOIST_THICKNESS * length / abs(u1 - u0)
    return JOIST_THICKNESS


def carries(reach: Interval, u: float) -> bool:
    """Tell whether a support over that stretch carries the joist at u; end joists stand just inside it."""
    return reach[0] - JOIST_THICKNESS - ON_LINE <= u <= reach[1] + JOIST_THICKNESS + ON_LINE


def _at_header(hole: Hole, v: float) -> bool:
    """Tell whether a joist end lies on the outer face of one of an opening's headers."""
    return min(abs(v - (hole.v0 - DOUBLED)), abs(v - (hole.v1 + DOUBLED))) <= 1e-3
