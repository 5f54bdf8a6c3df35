"""The cut list of the boards: pieces by kind, length and width, the stock they come out of, waste apart."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from deckplan.layout.boards_cuts import stock_of
from deckplan.layout.boards_model import Board, BoardKind, Boards
from deckplan.units import Units

KERF = 1 / 8
"""Width of a saw cut [in]. Common practice."""


@dataclass(frozen=True, slots=True)
class BoardCut:
    """Pieces alike: kind, length [in, up to the next sixteenth], width [in], how many, on which platform."""

    platform: str
    kind: BoardKind
    length: float
    width: float
    count: int


@dataclass(frozen=True, slots=True)
class CutList:
    """A cut list.

    cuts: pieces, the longest first; net: their length together [in]; stock: pieces of stock by length [in]; bought:
    length of the stock together [in]; waste: what is bought and not laid [in]. The stock is packed longest piece
    first into the tightest rest: a sound order, not a proven least.
    """

    cuts: tuple[BoardCut, ...]
    net: float
    stock: Mapping[float, int]
    bought: float

    @property
    def waste(self) -> float:
        """Length bought and not laid [in], saw cuts with it."""
        return self.bought - self.net

    @property
    def count(self) -> int:
        """How many pieces."""
        return sum(cut.count for cut in self.cuts)


def _up(length: float) -> float:
    """Round a length up to the next sixteenth [in], float noise aside."""
    return math.ceil(length * 16 - 1e-4) / 16


def pack(lengths: Iterable[float], stock: tuple[float, ...], kerf: float = KERF) -> Mapping[float, int]:
    """Return the pieces of stock by length that some pieces come out of [in], longest piece first.

    Raises ValueError for a piece longer than all stock.

    >>> dict(pack([60.0, 60.0, 90.0], (96.0, 144.0)))
    {96.0: 1, 144.0: 1}
    """
    sizes = sorted(stock)
    # each open piece: [its stock length, how much is taken]
    opened: list[list[float]] = []
    for length in sorted(lengths, reverse=True):
        fits = [bar for bar in opened if bar[1] + length + kerf <= bar[0] + 1e-6]
        if fits:
            tightest = min(fits, key=lambda bar: bar[0] - bar[1])
            tightest[1] += length + kerf
            continue
        longer = [size for size in sizes if size >= length - 1e-6]
        if not longer:
            raise ValueError(f"a piece of {length:g} in is longer than all stock")
        opened.append([longer[0], length])
    # a rest may fit a longer piece of stock together with others: two short bars into one long one
    merged = _merge([bar[1] for bar in opened], sizes, kerf)
    return MappingProxyType(dict(sorted(Counter(merged).items())))


def _merge(taken: list[float], sizes: list[float], kerf: float) -> list[float]:
    """Choose the stock of each bar; two bars go into one piece of stock where that is shorter than both."""
    left = sorted(taken, reverse=True)
    found: list[float] = []
    while left:
        here = left.pop(0)
        own = next(size for size in sizes if size >= here - 1e-6)
        best, partner = 0.0, -1
        for at, other in enumerate(left):
            both = next((size for size in sizes if size >= here + kerf + other - 1e-6), None)
            single = next(size for size in sizes if size >= other - 1e-6)
            if both is not None and own + single - both > best + 1e-6:
                best, partner = own + single - both, at
        if partner >= 0:
            left[partner] += here + kerf
            left.sort(reverse=True)
        else:
            found.append(own)
    return found


def list_cuts(boards: Iterable[Board], kind: str, units: Units = "us") -> CutList:
    """Return the cut list of some boards; kind: of the decking, "wood" or "composite" (see `stock_of`).

    Border, breaker and field boards may be of different colours, so each kind comes out of stock of its own; so do
    different deckings. A board over all stock (see the faults of its platform) counts as the longest stock's multiple.
    """
    stock = stock_of(kind, units)
    longest = max(stock)
    counted: Counter[tuple[str, BoardKind, float, float]] = Counter()
    groups: dict[BoardKind, list[float]] = {}
    for board in boards:
        length = _up(board.length)
        counted[(board.platform, board.kind, length, _up(board.width))] += 1
        whole, rest = divmod(length, longest)
        parts = [longest] * int(whole) + ([rest] if rest > 1e-6 else [])
        groups.setdefault(board.kind, []).extend(parts)
    total: Counter[float] = Counter()
    for lengths in groups.values():
        total.update(pack(lengths, stock))
    cuts = tuple(
        BoardCut(platform, own, length, width, count)
        for (platform, own, length, width), count in sorted(
            counted.items(), key=lambda item: (-item[0][2], item[0])
        )
    )
    net = sum(cut.length * cut.count for cut in cuts)
    bought = sum(length * count for length, count in total.items())
    return CutList(cuts, net, MappingProxyType(dict(sorted(total.items()))), bought)


def cut_lists(boards: Boards, kind: str, units: Units = "us") -> Mapping[str, CutList]:
    """Return the cut list of each platform, and of the whole deck under the empty name (stock shared by all)."""
    lists = {name: list_cuts(one.boards, kind, units) for name, one in boards.platforms.items()}
    return MappingProxyType({**lists, "": list_cuts(boards.all, kind, units)})
