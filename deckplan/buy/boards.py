"""Boards as they are laid, cut from stock, and the screws that hold them."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable

from deckplan.buy.cutting import Cutting, Piece, cut, said_ends
from deckplan.buy.item import Item, Lot
from deckplan.layout.boards_cuts import stock_of
from deckplan.layout.boards_model import Board, BoardKind, Boards, PlatformBoards
from deckplan.layout.flight_model import FlightFrame, FlightFrames
from deckplan.layout.model import Kind, Member
from deckplan.plan.model import Decking
from deckplan.units import Units, format_short

KINDS: tuple[BoardKind, ...] = ("field", "border", "breaker")
"""Kinds of boards, each cut from stock of its own."""

SCREWS = 2
"""Screws of a board on each piece of framing under it. Source: association guidance."""

_LEVEL = 0.1


def board_name(decking: Decking, units: Units) -> str:
    """Return what a board is called by kind and size, no brand."""
    size = f"{format_short(decking.thickness, units)} x {format_short(decking.width, units)}"
    return f"{decking.kind} board {size}"


def cut_boards(pieces: Iterable[Piece], kind: str, units: Units) -> Cutting:
    """Cut boards from stock of their kind, "wood" or "composite".

    One longer than all stock (its platform says so as a fault) is bought as parts of equal length.
    """
    stock = stock_of(kind, units)
    parts: list[Piece] = []
    for piece in pieces:
        count = max(1, math.ceil(piece.length / max(stock) - 1e-6))
        # the cuts of its ends go to the first and to the last part
        ends = [(piece.ends[0] * (k == 0), piece.ends[1] * (k == count - 1)) for k in range(count)]
        parts += [Piece(piece.mark, piece.length / count, piece.what, own) for own in ends]
    return cut(parts, stock)


def board_pieces(boards: Iterable[Board]) -> list[Piece]:
    """Return boards as pieces to cut; one that is ripped still takes its length of a whole board."""
    return [Piece(board.mark, board.length, board.platform, board.cuts) for board in boards]


Alike = tuple[str, str, float, float, str]
"""What boards that are cut alike share: platform, kind, length and width [in], how their ends are cut, in words."""


def cut_alike(boards: Iterable[Board]) -> dict[Alike, list[str]]:
    """Return the marks of boards that are cut alike, the longest first."""
    alike: dict[Alike, list[str]] = {}
    for board in boards:
        ends = said_ends(board.cuts)
        key = (board.platform, board.kind, round(board.length, 2), round(board.width, 2), ends)
        alike.setdefault(key, []).append(board.mark)
    return dict(sorted(alike.items(), key=lambda item: (-item[0][2], item[0])))


def board_lots(boards: Boards, flights: FlightFrames, decking: Decking, units: Units) -> tuple[Lot, ...]:
    """Cut the boards of every platform and the treads of every flight from stock.

    Field, border and breaker boards may be of different colours and so come out of stock of their own; a platform's
    offcuts stay with it, as its board plan counts them.
    """
    name = board_name(decking, units)
    found = []
    for kind in KINDS:
        for one in boards.platforms.values():
            pieces = board_pieces(one.of(kind))
            if pieces:
                found.append(
                    Lot("boards", f"{name}, {kind}", cut_boards(pieces, decking.kind, units), 0.0, "board")
                )
    treads = cut_treads(flights.flights, decking.kind, units)
    if treads.sticks:
        found.append(Lot("boards", f"{name}, treads", treads, 0.0, "board"))
    return tuple(found)


def cut_treads(flights: Iterable[FlightFrame], kind: str, units: Units) -> Cutting:
    """Cut the boards of some flights' treads from stock; see `cut_boards`."""
    pieces = [
        Piece(tread.mark, tread.length, flight.mark) for flight in flights for tread in treads_of(flight)
    ]
    return cut_boards(pieces, kind, units)


def platform_stock(one: PlatformBoards, kind: str, units: Units) -> dict[float, int]:
    """Return the stock of one platform's boards: how many pieces of which length [in], as the buy list has them."""
    found: Counter[float] = Counter()
    for own in KINDS:
        found.update(cut_boards(board_pieces(one.of(own)), kind, units).stock)
    return dict(sorted(found.items()))


def treads_of(flight: FlightFrame) -> tuple[Member, ...]:
    """Return the boards of a flight's treads."""
    return tuple(member for member in flight.members if member.kind is Kind.TREAD)


def tread_screws(flight: FlightFrame) -> int:
    """Return the screws of a flight's treads: two for each board on each stringer or step joist under it."""
    count = 0
    for tread in treads_of(flight):
        under = tread.top - tread.depth
        for member in flight.members:
            carries = member.kind is Kind.STRINGER or (
                member.kind is Kind.STEP and abs(member.top - under) < _LEVEL
            )
            if carries and _crosses(tread, member):
                count += SCREWS
    return count


def _crosses(tread: Member, member: Member) -> bool:
    """Tell whether a tread's middle line lies over a piece that runs across it, its ends with it."""
    (x0, y0), (x1, y1) = member.line
    (a0, b0), (a1, b1) = tread.line
    dx, dy = (a1 - a0) / tread.length, (b1 - b0) / tread.length
    sides = [(x - a0) * -dy + (y - b0) * dx for x, y in member.line]
    across = abs(sides[1] - sides[0])
    if across < member.length / 2:
        return False  # it runs along the tread
    reach = tread.width / 2
    along = [(x - a0) * dx + (y - b0) * dy for x, y in ((x0, y0), (x1, y1))]
    beside = 0 <= sum(along) / 2 <= tread.length
    return beside and min(sides) < reach and max(sides) > -reach


def count_screws(boards: Boards, flights: FlightFrames) -> tuple[Item, ...]:
    """Count the screws of the boards, platform by platform and flight by flight.

    Source: association guidance, two fasteners a board a joist (10 x 10 ft, joists at 16 in, 5-1/2 in boards with
    1/8 in gaps: 9 x 22 x 2 = 396); the rule of thumb "length x 5" gives three times that.
    """
    found = []
    for name, one in boards.platforms.items():
        if one.screws:
            basis = f"{name}: two for each of {len(one.boards)} boards on each piece of framing under it"
            found.append(
                Item("screws", "board screw", None, float(one.screws), 0.0, one.screws, "pieces", basis)
            )
    for flight in flights.flights:
        if count := tread_screws(flight):
            basis = f"{flight.mark}: two for each of {len(treads_of(flight))} treads' boards on each piece under it"
            found.append(Item("screws", "board screw", None, float(count), 0.0, count, "pieces", basis))
    return tuple(found)
