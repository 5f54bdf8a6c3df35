"""One line of a buy list, and the lots that lines by length are made of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from deckplan.buy.cutting import Cutting


@dataclass(frozen=True, slots=True)
class Item:
    """One line of a buy list.

    group: "concrete", "lumber", "connectors", "boards", "screws" or "guards"; item: what it is, by kind and size, no
    brand; length [in]: stock length, None where none belongs to it; net: what the drawing needs, as length [in] where
    there is a stock length, else in `unit`; waste [1]: what is bought beyond that over the net quantity, 0 where whole
    pieces are counted; count: what to buy, in `unit`; basis: what was counted; weight [lb]: of one piece of stock, wet,
    0 where it is not known; goods: what a list of prices calls it, the item up to its comma where it is empty.
    """

    group: str
    item: str
    length: float | None
    net: float
    waste: float
    count: int
    unit: str
    basis: str
    weight: float = 0.0
    goods: str = ""

    @property
    def priced_as(self) -> str:
        """What a list of prices calls it."""
        return self.goods or self.item.partition(",")[0]


@dataclass(frozen=True, slots=True)
class Lot:
    """Pieces that come out of the same stock, cut.

    group, item, goods: as of an `Item`; cutting: the sticks with the pieces that each gives; weight [lb/ft]: of the
    stock, wet, 0 where it is not known.
    """

    group: str
    item: str
    cutting: Cutting
    weight: float = 0.0
    goods: str = ""


def items_of(lots: Iterable[Lot]) -> tuple[Item, ...]:
    """Return the lines of a buy list for some lots: one for each kind of goods and length of stock."""
    together: dict[tuple[str, str], list[Lot]] = {}
    for lot in lots:
        together.setdefault((lot.group, lot.item), []).append(lot)
    found = []
    for (group, item), same in together.items():
        sticks = [stick for lot in same for stick in lot.cutting.sticks]
        for stock in sorted({stick.stock for stick in sticks}):
            those = [stick for stick in sticks if stick.stock == stock]
            net = sum(stick.taken for stick in those)
            counted = Counter(piece.what for stick in those for piece in stick.pieces)
            basis = ", ".join(f"{what}: {count}" for what, count in counted.most_common())
            found.append(
                Item(group, item, stock, net, (stock * len(those) - net) / net, len(those), "pieces", basis,
                     same[0].weight * stock / 12, same[0].goods)
            )  # fmt: skip
    return tuple(found)
