"""What closes a platform's frame along its edges: rims, and the ledgers and flush beams that stand in for them."""

from __future__ import annotations

from deckplan.engineering.lumber import Size
from deckplan.geometry import Line, Point, distance, unit
from deckplan.layout.ends import TOUCHES
from deckplan.layout.frame import DOUBLED, ON_LINE, Frame, Hole, Interval, Run
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Member
from deckplan.layout.supports import SAME_SLOPE, BeamStretch, LedgerLine
from deckplan.plan.model import Platform

LEAST_RIM = 3.0
"""What a beam or a ledger leaves of its edge, where it meets another one in a corner, is no rim up to this length [in],
across the joists."""

ON_EDGE = 1e-4
"""Corners this close to a line lie on it [in], for lines that are worked out from two other points."""

NEARLY_ALONG = 0.05
"""Sine of the angle, 3 degrees, under which a rim butts the end joist round its corner: a mitre would have no end."""

IN_LINE = 1e-3
"""Sine of the angle under which two edges are one line: there is no mitre."""

Cover = tuple[Interval, Run, float]
"""A stretch of u on the edge along a run that a ledger or a flush beam closes, and how thick it is [in]."""


def at_edge(frame: Frame, stretch: BeamStretch, width: float) -> Run | None:
    """Return the run of the edge that a flush beam stands in for a rim on, where it lies that near to one."""
    if stretch.line.style != "flush":
        return None
    middle = (stretch.reach[0] + stretch.reach[1]) / 2
    for a, b in frame.edges:
        if not min(a[0], b[0]) - ON_LINE <= middle <= max(a[0], b[0]) + ON_LINE:
            continue
        edge = Run.through(a, b)
        if edge is None or abs(edge.slope - stretch.run.slope) > SAME_SLOPE:
            continue
        if edge.off(middle, stretch.run.at(middle)) - width / 2 < JOIST_THICKNESS:
            return edge
    return None


def covers_of(
    frame: Frame, ledgers: tuple[LedgerLine, ...], beams: tuple[tuple[BeamStretch, Member], ...]
) -> tuple[Cover, ...]:
    """Return where ledgers and flush beams stand in for a rim."""
    covers: list[Cover] = [(line.reach, line.run, JOIST_THICKNESS) for line in ledgers]
    for stretch, beam in beams:
        edge = at_edge(frame, stretch, beam.width)
        if edge is not None:
            off = edge.off(stretch.reach[0], stretch.run.at(stretch.reach[0]))
            covers.append((stretch.reach, edge, off + beam.width / 2))
    return tuple(covers)


def rims_of(
    frame: Frame, platform: Platform, mark: str, covers: tuple[Cover, ...], joist: Size, top: float
) -> tuple[Member, ...]:
    """Close the frame along every edge that does not run along the joists and that nothing else closes."""
    made: list[Member] = []
    half = JOIST_THICKNESS / 2
    turn = frame.turn
    for index, (a, b) in enumerate(frame.edges):
        if abs(b[0] - a[0]) <= ON_LINE:
            continue
        run, normal = _along_and_in((a, b), turn)
        for reach in without(covers, a, b):
            low, high = reach if a[0] < b[0] else reach[::-1]
            past = [
                _to_corner(frame, index, False, covers, turn) if abs(low - a[0]) <= ON_LINE else 0.0,
                _to_corner(frame, index, True, covers, turn) if abs(high - b[0]) <= ON_LINE else 0.0,
            ]
            line = [
                (u + normal[0] * half + run[0] * by, v + normal[1] * half + run[1] * by)
                for (u, v), by in zip((_on_edge(a, b, u) for u in (low, high)), past, strict=True)
            ]
            if sum((end - begin) * way for begin, end, way in zip(*line, run, strict=True)) <= ON_LINE:
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


def _along_and_in(edge: Line, turn: float) -> tuple[Point, Point]:
    """Return the unit vectors along an edge and square to it into the platform; turn: 1 where it runs to the left."""
    run = unit(*edge)
    return run, (-run[1] * turn, run[0] * turn)


def _to_corner(frame: Frame, index: int, at_end: bool, covers: tuple[Cover, ...], turn: float) -> float:
    """Return how far past the corner [in], along the edge, a rim's centre line runs.

    To the mitre with the next rim; at a square corner each runs through at its start and butts at its end. Where the
    next edge runs along the joists, out to its end joist's outer face.
    """
    edges = frame.edges
    (a, b), (c, d) = edges[index], edges[(index + (1 if at_end else -1)) % len(edges)]
    run, normal = _along_and_in((a, b), turn)
    theirs, inward = _along_and_in((c, d), turn)
    sine = run[0] * inward[0] + run[1] * inward[1]
    bend = (run[0] * theirs[1] - run[1] * theirs[0]) * turn * (1.0 if at_end else -1.0)
    cosine = run[0] * theirs[0] + run[1] * theirs[1]
    ends = abs(d[0] - c[0]) <= ON_LINE  # on an end joist
    if abs(sine) < (NEARLY_ALONG if ends else IN_LINE):
        return 0.0
    half, corner = JOIST_THICKNESS / 2, b if at_end else a
    if ends:
        inside = 0.0
    elif (cover := _covered(covers, c, d, corner[0])) is not None:
        if bend < 0:
            return 0.0
        if cosine > 1e-3:  # cut along its end
            return -half * (normal[0] * theirs[0] + normal[1] * theirs[1]) / cosine
        inside = cover
    elif abs(cosine) > 1e-3:
        inside = half
    elif bend < 0:
        return 0.0
    else:
        inside = JOIST_THICKNESS if at_end else 0.0
    return _to_mitre(run, normal, inward, half, inside)


def _to_mitre(run: Point, normal: Point, inward: Point, own: float, theirs: float) -> float:
    """Return how far past a corner [in], along one edge, lines inside both edges meet.

    run, normal: unit vectors along that edge and into the platform; inward: the next edge's into the platform; own,
    theirs [in]: how far the lines lie inside the edges.
    """
    sine = run[0] * inward[0] + run[1] * inward[1]
    if abs(sine) < IN_LINE:
        return 0.0
    return (theirs - own * (normal[0] * inward[0] + normal[1] * inward[1])) / sine


def _covered(covers: tuple[Cover, ...], c: Point, d: Point, u: float) -> float | None:
    """Return how thick the ledger or beam is that stands in for a rim on an edge at u; None: none does."""
    for reach, edge, thickness in covers:
        on_it = abs(c[1] - edge.at(c[0])) <= ON_EDGE and abs(d[1] - edge.at(d[0])) <= ON_EDGE
        if on_it and reach[0] - ON_LINE <= u <= reach[1] + ON_LINE:
            return thickness
    return None


def without(covers: tuple[Cover, ...], a: Point, b: Point) -> list[Interval]:
    """Return the stretches of u of an edge that no ledger or flush beam closes."""
    left = [(min(a[0], b[0]), max(a[0], b[0]))]
    for reach, edge, _ in covers:
        if abs(a[1] - edge.at(a[0])) > ON_EDGE or abs(b[1] - edge.at(b[0])) > ON_EDGE:
            continue
        cut: list[Interval] = []
        for low, high in left:
            cut += [(low, min(high, reach[0])), (max(low, reach[1]), high)]
        left = [(low, high) for low, high in cut if high - low > ON_LINE]
    whole = abs(b[0] - a[0])
    return [(low, high) for low, high in left if high - low > min(LEAST_RIM, whole / 2)]


def end_cut(frame: Frame, covers: tuple[Cover, ...], u: float, v: float, plies: int = 1) -> float:
    """Return how much of a joist's end [in] what closes its edge takes; more where the edge slants."""
    if frame.holes and any(hole.u0 < u < hole.u1 and _at_header(hole, v) for hole in frame.holes):
        return 0.0
    plain = next(
        (
            thick * edge.secant
            for reach, edge, thick in covers
            if carries(reach, u) and abs(edge.at(u) - v) <= 1e-3
        ),
        None,
    )
    for a, b in frame.edges:
        if abs(b[0] - a[0]) <= ON_LINE or not min(a[0], b[0]) - ON_LINE <= u <= max(a[0], b[0]) + ON_LINE:
            continue
        if abs(_on_edge(a, b, u)[1] - v) < 1e-3:
            cut = JOIST_THICKNESS * distance(a, b) / abs(b[0] - a[0]) if plain is None else plain
            return cut + _past_corner(frame, covers, (a, b), u, cut, plies)
    return JOIST_THICKNESS if plain is None else plain


def _past_corner(
    frame: Frame, covers: tuple[Cover, ...], edge: Line, u: float, plain: float, plies: int
) -> float:
    """Return how much shorter [in] a joist is cut whose end reaches under the rim round the next corner.

    edge: the one that its centre line meets; plain [in]: what the rim there takes of it.
    """
    half, worst, square = JOIST_THICKNESS * plies / 2, 0.0, 0.0
    if min(edge[0][0], edge[1][0]) <= u - half and u + half <= max(edge[0][0], edge[1][0]):
        return 0.0
    (u0, v0), (u1, v1) = edge
    at = _on_edge(*edge, u)[1]
    up = any(abs(high - at) < 1e-3 for _, high in frame.along_at(u))
    way = 1.0 if up else -1.0
    for index, (c, d) in enumerate(frame.edges):
        if (c, d) == edge or abs(d[0] - c[0]) <= ON_LINE:
            continue
        # round a corner beside the joist; one that runs back from a far corner closes its other end
        if not any(abs(corner[0] - u) < half + JOIST_THICKNESS for corner in {c, d} & {*edge}):
            continue
        for spot, v in _within(_body(frame, covers, index), u - half, u + half):
            rises = (v1 - v0) / (u1 - u0) * (spot - u)
            past = way * (at - way * plain - v)
            worst, square = max(worst, past + way * rises), max(square, past)
    if worst <= TOUCHES:
        return worst
    # an end that stands off its face is cut square, and clears that one with its own corner as well
    rises = (v1 - v0) / (u1 - u0) * half
    return max(worst, square, *(-way * each for each, on in ((rises, u + half), (-rises, u - half))
                                if min(u0, u1) <= on <= max(u0, u1)))  # fmt: skip


def _body(frame: Frame, covers: tuple[Cover, ...], index: int) -> list[Point]:
    """Return the outline in plan of what closes an edge: the edge, and its inner face from mitre to mitre."""
    edges = frame.edges
    a, b = edges[index]
    run, normal = _along_and_in((a, b), frame.turn)
    inner: list[Point] = []
    for corner, (c, d) in ((b, edges[(index + 1) % len(edges)]), (a, edges[index - 1])):
        theirs = 0.0 if abs(d[0] - c[0]) <= ON_LINE else _thickness(covers, c, d, corner[0])
        own = _thickness(covers, a, b, corner[0])
        _, inward = _along_and_in((c, d), frame.turn)
        past = _to_mitre(run, normal, inward, own, theirs)
        inner.append(
            (corner[0] + normal[0] * own + run[0] * past, corner[1] + normal[1] * own + run[1] * past)
        )
    return [a, b, *inner]


def _thickness(covers: tuple[Cover, ...], c: Point, d: Point, u: float) -> float:
    """Return how thick what closes an edge is at u [in]: a ledger, a flush beam, or else a rim."""
    cover = _covered(covers, c, d, u)
    return JOIST_THICKNESS if cover is None else cover


def _within(shape: list[Point], low: float, high: float) -> list[Point]:
    """Return the corners of what of a shape's outline lies between two values of u."""
    found: list[Point] = []
    for p, q in zip(shape, shape[1:] + shape[:1], strict=True):
        left, right = max(low, min(p[0], q[0])), min(high, max(p[0], q[0]))
        if left > right:
            continue
        found += [p, q] if abs(q[0] - p[0]) <= ON_LINE else [_on_edge(p, q, left), _on_edge(p, q, right)]
    return found


def carries(reach: Interval, u: float) -> bool:
    """Tell whether a support over that stretch carries the joist at u; end joists stand just inside it."""
    return reach[0] - JOIST_THICKNESS - ON_LINE <= u <= reach[1] + JOIST_THICKNESS + ON_LINE


def _at_header(hole: Hole, v: float) -> bool:
    """Tell whether a joist end lies on the outer face of one of an opening's headers."""
    return min(abs(v - (hole.v0 - DOUBLED)), abs(v - (hole.v1 + DOUBLED))) <= 1e-3
