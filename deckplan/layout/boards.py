"""Lay the boards of a platform: border, rows, cuts across where stock is too short, and what all ends lie on."""

from __future__ import annotations

import math
from itertools import pairwise
from types import MappingProxyType

import numpy as np
import shapely
from shapely import Polygon, STRtree

from deckplan.geometry import Line, Point, along, distance, middle, turned, unit
from deckplan.layout.boards_alignment import shares_edge
from deckplan.layout.boards_bearing import BORDER_BLOCKING, Bearers, lines_of, parallel
from deckplan.layout.boards_border import BorderBoard, clean, frame_border, move_in
from deckplan.layout.boards_cuts import STEEP, Cross, Seams, plan_cuts, stock_of
from deckplan.layout.boards_model import Board, BoardEnd, Boards, PlatformBoards, Rip, Seam
from deckplan.layout.boards_pieces import (
    Piece,
    cut_border,
    cut_breakers,
    cut_field,
    ends_of,
    far_of,
    length_of,
    offset_of,
    row_strips,
    split,
    without,
)
from deckplan.layout.boards_rows import Edge, Row, find_remedies, is_sliver, lay_rows, left_of
from deckplan.layout.frame import Frame
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Layout
from deckplan.layout.platform_frame import letter
from deckplan.plan.model import Decking, Plan, Platform
from deckplan.units import Units, format_length, format_short

SCREWS = 2
"""Screws of a board in each piece of framing. Source: association guidance, common practice."""

_HAIR = 1e-6


def lay_boards(plan: Plan, layout: Layout, *, seams: Seams = "breaker") -> Boards:
    """Lay the boards of every platform of a settled plan over its frame.

    seams: how stock is lengthened, by "breaker" boards or by "butt" seams that change place from row to row.
    """
    decking, laid = plan.materials.decking, dict[str, PlatformBoards]()
    for index, one in enumerate(plan.platforms):
        laid[one.name] = lay_platform(
            one, letter(index), decking, layout, plan.units, seams=seams, near=_breakers_by(plan, one, laid)
        )
    return Boards(MappingProxyType(laid))


def _breakers_by(plan: Plan, platform: Platform, laid: dict[str, PlatformBoards]) -> tuple[Point, ...]:
    """Return the middles of the breakers of platforms laid already that this one meets."""
    breakers = [(plan.platform(name), board) for name, one in laid.items() for board in one.of("breaker")]
    return tuple(
        (
            sum(x for x, _ in board.outline) / len(board.outline),
            sum(y for _, y in board.outline) / len(board.outline),
        )
        for other, board in breakers
        if shares_edge(platform, other, Frame.of(platform).across)
    )


def lay_platform(
    platform: Platform,
    mark: str,
    decking: Decking,
    layout: Layout,
    units: Units = "us",
    *,
    seams: Seams = "breaker",
    first: float | None = None,
    near: tuple[Point, ...] = (),
) -> PlatformBoards:
    """Lay the boards of one platform.

    mark: the platform's letter; seams: see `lay_boards`; first [in]: width of the first row where it is ripped;
    near: middles of neighbours' breakers, with which these line up where stock allows.
    Whole boards start at the side away from the ledger, so that the ripped row lies at the house.
    """
    width, gap, asked = decking.width, decking.gap, platform.boards
    seams = "butt" if asked.breaker == 0 else seams
    first = asked.first if first is None and asked.first != "whole" else first
    frame = Frame.of(platform)
    corners = clean(platform.outline)
    holes = shapely.union_all([Polygon(opening.outline) for opening in platform.openings])
    bearers = Bearers.of(mark, frame, Polygon(corners).difference(holes), platform.name, layout)
    direction = turned(frame.across, platform.boards.angle)
    border, inner, fit = frame_border(corners, platform.boards.border, width, gap)
    faults = _faults(platform, fit, frame, direction)
    field = Polygon(inner)
    across, start = _start(direction, field, bearers)
    extent = max(x * across[0] + y * across[1] for x, y in inner) - start
    rows = lay_rows(extent, width, gap, first)
    stock = max(stock_of(decking.kind, units))
    strips = row_strips(rows, start, direction, across, field)
    steep = abs(direction[0] * frame.across[0] + direction[1] * frame.across[1]) < STEEP
    axis, run = (direction, across) if steep else (frame.across, frame.along)
    joists = [] if steep else [u + offset_of(frame) for u in bearers.joist_lines()]
    wish = _wish(asked.breaker, corners, axis)
    cuts = plan_cuts(field, strips, direction, axis, run, joists, stock, width, gap, seams, wish,
                     tuple(x * axis[0] + y * axis[1] for x, y in near))  # fmt: skip
    if cuts and not cuts[0].at:
        faults = (*faults, "boards cannot be cut to come out of stock")
    breakers = cut_breakers(field, cuts, width) if seams == "breaker" else []

    sides = [cut_border(board, width, gap, stock, bearers) for board in border]
    pieces = [piece for own, _ in sides for piece in own]
    pieces += [
        Piece("breaker", 0, shape, run, width, ends_of(shape, run))
        for whole in breakers
        for shape in split(whole, run, stock, gap)
    ]
    pieces += cut_field(field, strips, rows, cuts, direction)
    pieces = without(pieces, holes)
    lines = _seams(inner if fit else (), border, direction, gap, cuts, field, width, seams)
    _hold(bearers, lines, [seam for _, own in sides for seam in own], corners, fit * (width + gap), gap)
    boards = _boards(platform.name, mark, pieces, bearers)
    edges = _parallel_edges(inner, direction, across, start)
    return PlatformBoards(
        platform.name,
        direction,
        across,
        len(rows),
        rows[0].width if rows else 0.0,
        rows[-1].width if rows else 0.0,
        boards,
        tuple(lines),
        tuple(bearers.needs),
        _rips(edges, rows, width),
        find_remedies(tuple(edge for edge, _ in edges), extent, width, gap, units, first),
        (*faults, *_too_long(pieces, stock, units), *_reaching(bearers.reaching, units)),
    )


def _reaching(past: list[float], units: Units) -> tuple[str, ...]:
    """Say how many board ends reach too far past their wood; past [in]: how far each does that found no block."""
    far = [off for off in past if off > PAST_WOOD]
    if not far:
        return ()
    ends = "1 board end reaches" if len(far) == 1 else f"{len(far)} board ends reach"
    reach = format_short(max(far), units)
    return (
        f"{ends} up to {reach} past the wood where no block fits: nail a cleat to the side of the joist there",
    )


PAST_WOOD = 1.0
"""How far a board's end may reach past the wood that it lies on [in]. Source: common practice."""


def _wish(
    breaker: str | int | tuple[float, ...], corners: tuple[Point, ...], axis: Point
) -> int | tuple[float, ...] | None:
    """Return how many breakers are wished or where on their axis [in]; None: as stock asks for."""
    if isinstance(breaker, tuple):
        low = min(x * axis[0] + y * axis[1] for x, y in corners)
        return tuple(low + offset for offset in breaker)
    return breaker if isinstance(breaker, int) and breaker > 0 else None


def _faults(platform: Platform, fit: int, frame: Frame, direction: Point) -> tuple[str, ...]:
    found = []
    wished = platform.boards.border
    if fit < wished:
        found.append(
            f"only {fit} of {wished} border rows fit: an edge is too short or the inside too narrow for more"
        )
    if abs(direction[0] * frame.across[0] + direction[1] * frame.across[1]) < 0.1:
        found.append(
            "the boards run along the joists and so bear on nothing between them: turn one of the two"
        )
    return tuple(found)


def _too_long(pieces: list[Piece], stock: float, units: Units) -> list[str]:
    long = [p for p in pieces if length_of(p.shape, p.run) > stock + 0.01]
    return (
        [f"{len(long)} boards are longer than the longest stock of {format_length(stock, units)}"]
        if long
        else []
    )


def _start(direction: Point, field: Polygon, bearers: Bearers) -> tuple[Point, float]:
    """Return the way in which rows are counted and where they start [in]: at the side away from a ledger."""
    across = (-direction[1], direction[0])
    if across[1] < -_HAIR or (abs(across[1]) <= _HAIR and across[0] < 0):
        across = (-across[0], -across[1])
    reach = [x * across[0] + y * across[1] for x, y in field.exterior.coords]
    ledgers = [
        x * across[0] + y * across[1]
        for m in bearers.members
        if m.kind is Kind.LEDGER
        for x, y in [middle(m.line)]
    ]
    if ledgers and sum(ledgers) / len(ledgers) < (min(reach) + max(reach)) / 2:
        return (-across[0], -across[1]), -max(reach)
    return across, min(reach)


def _seams(
    inner: tuple[Point, ...],
    border: tuple[BorderBoard, ...],
    direction: Point,
    gap: float,
    cuts: tuple[Cross, ...],
    field: Polygon,
    width: float,
    seams: Seams,
) -> list[Seam]:
    """Return the lines in the middle of every gap at which boards end."""
    found = []
    if border:
        outer = move_in(inner, -gap / 2)
        for a, b in zip(outer, outer[1:] + outer[:1], strict=True):
            if not parallel((a, b), direction):
                found.append(Seam((a, b), "border"))
    for cut in cuts:
        sides = (-(width + gap) / 2, (width + gap) / 2) if seams == "breaker" else (0.0,)
        for at in cut.at:
            for side in sides:
                line = shapely.LineString(cut.line(at + side, far_of(field)))
                kind = "breaker" if seams == "breaker" else "butt"
                found += [Seam(piece, kind) for piece in lines_of(line.intersection(field))]  # type: ignore[arg-type]
    return found


def _hold(
    bearers: Bearers,
    seams: list[Seam],
    in_border: list[Line],
    corners: tuple[Point, ...],
    deep: float,
    gap: float,
) -> None:
    """Put down the wood under seams, then under mitres, then crosswise under the border.

    in_border: where boards of the border meet end to end; deep [in]: from the outline to the field, 0 without a border.
    """
    words = {
        "border": "where field and border meet",
        "breaker": "at the side of a breaker board",
        "butt": "under butt seams",
    }
    # the joists first: blocks then stop at them
    for seam in sorted(seams, key=lambda s: not parallel(s.line, bearers.frame.along)):
        bearers.hold_seam(seam.line, words[seam.kind])
    # after the seams that run from rim to rim: the wood of those may lie there
    for line in in_border:
        bearers.hold_seam(line, "under a seam of the border", whole=False)
    if not deep:
        return
    inside = move_in(corners, deep - gap)
    for outer, inner in zip(corners, inside, strict=True):
        bearers.blocks((outer, inner), JOIST_THICKNESS, "under a mitre of the border")
    count = len(corners)
    half = move_in(corners, deep / 2)
    for i in range(count):
        _cross_blocks(bearers, (half[i], half[(i + 1) % count]), deep)


def _cross_blocks(bearers: Bearers, line: Line, deep: float) -> None:
    """Put blocks under a side of the border wherever framing crosses it farther apart than allowed."""
    length = distance(*line)
    run = unit(*line)
    inward = (-run[1], run[0])
    crossing = shapely.LineString(line).intersection(bearers.wood)
    crossed = [distance(line[0], middle(piece)) for piece in lines_of(crossing, 0.0)]
    for low, high in pairwise(sorted([0.0, *crossed, length])):
        count = math.ceil((high - low) / BORDER_BLOCKING - 1e-3) - 1
        for k in range(count):
            x, y = along(line, (low + (high - low) * (k + 1) / (count + 1)) / length)
            ends = [(x + inward[0] * by, y + inward[1] * by) for by in (-deep / 2, deep / 2)]
            bearers.blocks((ends[0], ends[1]), JOIST_THICKNESS, "crosswise under the border")


def _boards(platform: str, mark: str, pieces: list[Piece], bearers: Bearers) -> tuple[Board, ...]:
    lines = [end for piece in pieces for end in piece.ends]
    inward = []
    for piece in pieces:
        centre = piece.shape.centroid
        for a, b in piece.ends:
            (x, y), (ux, uy) = middle((a, b)), unit(a, b)
            toward = -uy * (centre.x - x) + ux * (centre.y - y) > 0
            inward.append((-uy, ux) if toward else (uy, -ux))
    ends = iter(bearers.settle_ends(lines, inward))
    screws = _screws(pieces, bearers)
    found = []
    for number, (piece, count) in enumerate(zip(pieces, screws, strict=True), 1):
        own: tuple[BoardEnd, ...] = tuple(next(ends) for _ in piece.ends)
        outline = tuple((float(x), float(y)) for x, y in piece.shape.exterior.coords[:-1])
        # a corner piece that crosses no joist is held by what its ends lie on, such as the rim
        held = count or SCREWS * len({end.bears_on for end in own})
        found.append(
            Board(platform, f"{mark}-D{number}", piece.kind, piece.row, outline, length_of(piece.shape, piece.run),
                  piece.width, own, held, piece.run)
        )  # fmt: skip
    return tuple(found)


def _screws(pieces: list[Piece], bearers: Bearers) -> list[int]:
    """Count two screws for each line of framing that a board crosses; lines along the board do not count."""
    framing = bearers.screw_lines()
    counts = [0] * len(pieces)
    if not framing or not pieces:
        return counts
    lines = [shapely.LineString(line) for line in framing]
    shapes = np.array([piece.shape for piece in pieces], dtype=object)
    which, what = STRtree(lines).query(shapes, predicate="intersects")
    shared = shapely.length(shapely.intersection(shapes[which], np.array(lines, dtype=object)[what]))
    for i, j, length in zip(which.tolist(), what.tolist(), np.atleast_1d(shared).tolist(), strict=True):
        piece = pieces[int(i)]
        if length > 0.1 and not parallel(framing[int(j)], piece.run):
            counts[int(i)] += SCREWS
    return counts


def _parallel_edges(
    inner: tuple[Point, ...], direction: Point, across: Point, start: float
) -> list[tuple[Edge, Line]]:
    """Return the edges of the field along the boards: where across the rows, on which side the field lies."""
    found = []
    for a, b in zip(inner, inner[1:] + inner[:1], strict=True):
        if not parallel((a, b), direction):
            continue
        ux, uy = unit(a, b)
        # the outline runs counter-clockwise: the field lies to the left of its edges
        below = -uy * across[0] + ux * across[1] < 0
        found.append((Edge(a[0] * across[0] + a[1] * across[1] - start, below), (a, b)))
    return found


def _rips(edges: list[tuple[Edge, Line]], rows: tuple[Row, ...], width: float) -> tuple[Rip, ...]:
    found = []
    for edge, line in edges:
        left = left_of(edge, rows, width)
        if left is not None:
            number, rest = left
            found.append(Rip(number, middle(line), rest, distance(*line), is_sliver(rest, width)))
    return tuple(found)
