"""What a frame costs, by a list of prices: good enough to put one frame beside another, no offer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from deckplan.buy.concrete import LITRES
from deckplan.buy.item import Item
from deckplan.errors import InputError, Problem
from deckplan.reference import read_table

INVENTED = "invented.csv"
"""The list that comes with the program. Every price in it is invented."""

PER = ("piece", "ft", "cu ft")
"""What a price may be for; lumber and boards go by the foot of stock, concrete by its volume in place."""


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
        """Return what one line of a buy list costs [dollars]: stock by length, concrete by volume, the rest each.

        Raises InputError where the list has no price for it.
        """
        if item.group == "concrete":
            # the bags are the same concrete once more
            cubic_feet = {"cu ft": item.net, "l": item.net / LITRES}
            return self.of(item.priced_as) * cubic_feet[item.unit] if item.unit in cubic_feet else 0.0
        if item.group == "guards":
            feet = item.net / 0.3048 if item.unit == "m" else item.net
            return self.of(item.priced_as) * feet
        if item.length is not None:
            return self.of(item.priced_as) * item.count * item.length / 12
        return self.of(item.priced_as) * item.count

    def total(self, items: Iterable[Item]) -> float:
        """Return what several lines cost together [dollars]."""
        return sum(self.line(item) for item in items)


def read_prices(name: str = INVENTED) -> Prices:
    """Read a list of prices from `data/prices`.

    Raises InputError with every fault: a price that is no number or below zero, an item that stands twice, a price for
    something else than a piece, a foot or a cubic foot.
    """
    table = read_table("prices", name)
    each: dict[str, float] = {}
    problems: list[Problem] = []
    for row in table:
        item = row["item"]
        try:
            price = row.number("price")
        except InputError as error:
            problems += error.problems
            continue
        if not 0 <= price < float("inf"):
            problems.append(Problem(f"{row.place}, {item}", "a price of zero or more", row["price"]))
        if row["per"] not in PER:
            problems.append(
                Problem(f"{row.place}, {item}, per", f"one of {', '.join(PER)}", row["per"] or "nothing")
            )
        if item in each:
            problems.append(Problem(f"{row.place}, {item}", "one price", "a second one"))
        each[item] = price
    if problems:
        raise InputError(problems, f"prices/{name}")
    return Prices(table.source.document, each)
