"""What a frame costs, by a list of prices: good enough to put one frame beside another, no offer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from deckplan.buy.item import Item
from deckplan.errors import InputError, Problem
from deckplan.reference import read_table

INVENTED = "invented.csv"
"""The list that comes with the program. Every price in it is invented."""


@dataclass(frozen=True, slots=True)
class Prices:
    """A list of prices [dollars] by item, per foot of stock, cubic foot or piece; source: whose prices they are."""

    source: str
    each: dict[str, float]

    def of(self, item: str) -> float:
        """Return the price of an item [dollars]; raises InputError where the list has none."""
        if item not in self.each:
            raise InputError([Problem(f"prices, {item}", "a price in the list", "none")])
        return self.each[item]

    def line(self, item: Item) -> float:
        """Return what one line of a buy list costs [dollars]; concrete by its volume, lumber by its stock.

        Raises InputError where the list has no price for it.
        """
        if item.group == "concrete":
            # the bags are the same concrete once more
            return self.of("concrete") * item.net if item.unit == "cu ft" else 0.0
        if item.group == "lumber":
            return self.of(item.item.split()[0]) * item.count * (item.length or 0.0) / 12
        return self.of(item.item.partition(",")[0]) * item.count

    def total(self, items: Iterable[Item]) -> float:
        """Return what several lines cost together [dollars]."""
        return sum(self.line(item) for item in items)


def read_prices(name: str = INVENTED) -> Prices:
    """Read a list of prices from `data/prices`; raises InputError where a price is no number."""
    table = read_table("prices", name)
    return Prices(table.source.document, {row["item"]: row.number("price") for row in table})
