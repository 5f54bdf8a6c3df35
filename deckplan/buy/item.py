"""One line of a buy list."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Item:
    """One line of a buy list.

    group: "lumber", "boards", "concrete", "connectors" or "screws"; item: what it is, by kind and size, no
    brand; length [in]: stock length, None where none belongs to it; net: what the drawing needs, in `unit`;
    waste [1]: the share added for cutting, 0 where whole pieces are counted; count: what to buy, in `unit`;
    basis: what was counted.
    """

    group: str
    item: str
    length: float | None
    net: float
    waste: float
    count: int
    unit: str
    basis: str
