"""Cutting stock: which sticks a list of pieces comes out of, by the first-fit rule, and the least any cutting buys.

::

    stock  |=========================================================|
           |  longest piece left   ||  next that fits  || next | rest |     || one saw cut
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from deckplan.errors import RangeError

KERF = 1 / 8
"""What a saw cut takes [in] (common practice)."""

SAME = 1e-3
"""Lengths that differ by less are the same [in]: no saw cuts finer."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece to cut: the mark of the part that it belongs to, its length [in], what it is or where it lies.

    ends: how far both ends are cut off square [degrees]; alike in sign they run the same way, else against each other.
    """

    mark: str
    length: float
    what: str = ""
    ends: tuple[float, float] = (0.0, 0.0)


def said_ends(ends: tuple[float, float]) -> str:
    """Say how a piece's ends are cut off square, in degrees; nothing where both are square.

    "the same way": both cuts run alike, "against": its long points lie on one side, as of a mitred border board.

    >>> said_ends((45.0, -45.0)), said_ends((0.0, 22.5)), said_ends((30.0, 30.0)), said_ends((0.0, 0.01))
    ('45 and 45 against', 'square and 22.5', '30 and 30 the same way', '')
    """
    first, last = (round(end, 1) + 0.0 for end in ends)
    if not first and not last:
        return ""
    if not first or not last:
        return f"square and {abs(first or last):g}"
    way = "the same way" if (first > 0) == (last > 0) else "against"
    low, high = sorted((abs(first), abs(last)))
    return f"{low:g} and {high:g} {way}"


@dataclass(frozen=True, slots=True)
class Stick:
    """One piece of stock: its length [in] and the pieces that are cut from it, in order."""

    stock: float
    pieces: tuple[Piece, ...]

    @property
    def taken(self) -> float:
        """Length of its pieces together [in], saw cuts not counted."""
        return sum(piece.length for piece in self.pieces)

    @property
    def rest(self) -> float:
        """What is left over at its end [in]."""
        return max(0.0, self.stock - self.taken - KERF * (len(self.pieces) - 1))


@dataclass(frozen=True, slots=True)
class Cutting:
    """How pieces are cut from stock.

    sticks: the longest first; least [in]: a length that no cutting can buy less than, which need not be reached. What
    is bought lies at or above it; how far it is from the best of all cuttings, nobody has proven.
    """

    sticks: tuple[Stick, ...]
    least: float

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Every piece, stick by stick."""
        return tuple(piece for stick in self.sticks for piece in stick.pieces)

    @property
    def net(self) -> float:
        """Length of all pieces together [in]."""
        return sum(stick.taken for stick in self.sticks)

    @property
    def bought(self) -> float:
        """Length of all stock together [in]."""
        return sum(stick.stock for stick in self.sticks)

    @property
    def waste(self) -> float:
        """What is bought and not built, over what is built [1], saw cuts with it; 0 where there are no pieces."""
        return (self.bought - self.net) / self.net if self.net else 0.0

    @property
    def stock(self) -> dict[float, int]:
        """How many sticks of which length [in], the shortest first."""
        return dict(sorted(Counter(stick.stock for stick in self.sticks).items()))


def shortest_stock(length: float, stock: Sequence[float]) -> float:
    """Return the shortest stock [in] that a piece [in] comes out of; raises RangeError where all is shorter.

    >>> shortest_stock(100.0, (96.0, 120.0, 144.0))
    120.0
    """
    long_enough = [size for size in stock if size >= length - SAME]
    if not long_enough:
        raise RangeError(f"a piece of {length:.5g} in is longer than all stock, {max(stock):.5g} in at most")
    return min(long_enough)


def cut(pieces: Iterable[Piece], stock: Sequence[float], shared: float | None = None) -> Cutting:
    """Cut pieces from stock of some lengths [in] by first fit decreasing; offcuts serve where they are long enough.

    The longest piece first, each into the first stick with room left for it and its saw cut; a new stick gives what its
    first piece asks for, or a chosen room where that is longer. Every length of stock is tried as that room, up to
    `shared` [in] where it is given; sticks are then taken as short as their pieces allow, and what buys least is kept.
    Source: first fit decreasing, a textbook
    rule for packing; with one length of stock it takes at most 11/9 of the fewest sticks and 6/9 of one more (Dosa
    2007, from memory). Raises RangeError for a piece longer than all stock.

    >>> feet = [12.0 * n for n in (8, 10, 12, 14, 16)]
    >>> cut([Piece("a", 120.0), Piece("b", 60.0), Piece("c", 60.0), Piece("d", 30.0)], feet).stock
    {96.0: 1, 192.0: 1}
    """
    order = sorted(pieces, key=lambda piece: -piece.length)
    rooms = [size for size in sorted(stock) if shared is None or size <= shared + SAME] or [min(stock)]
    found = [_first_fit(order, stock, room) for room in rooms]
    best = min(found, key=lambda sticks: (sum(stick.stock for stick in sticks), len(sticks)))
    best.sort(key=lambda stick: (-stick.stock, -stick.taken))
    return Cutting(tuple(best), least_bought([piece.length for piece in order], stock))


def _first_fit(order: list[Piece], stock: Sequence[float], room: float) -> list[Stick]:
    """Fill sticks with pieces, the longest first; a stick too full for the shortest of them is closed."""
    if not order:
        return []
    shortest = order[-1].length
    filled: list[list[Piece]] = []
    opened: list[list[float]] = []  # place in `filled`, room that is left
    for piece in order:
        for each in opened:
            if piece.length + KERF <= each[1] + SAME:
                filled[int(each[0])].append(piece)
                each[1] -= piece.length + KERF
                break
        else:
            size = max(room, shortest_stock(piece.length, stock))
            opened.append([len(filled), size - piece.length])
            filled.append([piece])
        opened = [each for each in opened if each[1] + SAME >= shortest + KERF]
    return [_short(pieces, stock) for pieces in filled]


def _short(pieces: list[Piece], stock: Sequence[float]) -> Stick:
    """Take the shortest stock that gives some pieces."""
    taken = sum(piece.length for piece in pieces) + KERF * (len(pieces) - 1)
    return Stick(shortest_stock(taken, stock), tuple(pieces))


def least_bought(lengths: Sequence[float], stock: Sequence[float]) -> float:
    """Return a length of stock [in] that no cutting of some pieces [in] can buy less than.

    Nothing is bought under the pieces' own length. Two pieces over half of the longest stock never come out of one
    stick, so each of them takes a stick of its own. Where lengths of stock go by even steps, so does their sum.

    >>> least_bought([100.0, 100.0], (96.0, 120.0, 144.0))
    240.0
    >>> least_bought([10.0] * 10, (96.0, 120.0, 144.0))
    120.0
    """
    half = (max(stock) - KERF) / 2
    apart = sum(shortest_stock(length, stock) for length in lengths if length > half + SAME)
    least = max(sum(lengths), apart)
    step = _step(sorted(stock))
    if step:
        least = math.ceil(least / step - 1e-6) * step
    return max(least, min(stock)) if lengths else 0.0


def _step(stock: list[float]) -> float:
    """Return the step by which lengths of stock go, the first a multiple of it too; 0 where there is none."""
    step = min((b - a for a, b in pairwise(stock)), default=stock[0])
    even = all(abs(size / step - round(size / step)) < 1e-6 for size in stock)
    return step if even else 0.0
