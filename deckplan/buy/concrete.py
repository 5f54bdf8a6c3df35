"""Concrete for round piers, in cubic feet and in bags."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Protocol

from deckplan.buy.item import Item

BAGS = ((60, 0.45), (80, 0.60))
"""Weight of a bag of dry mix [lb] and what it gives [cu ft]. Source: figures printed by the trade press."""


class RoundFooting(Protocol):
    """A round footing: diameter [in], elevations of its top and its underside [in]."""

    @property
    def diameter(self) -> float:
        """Diameter [in]."""
        ...

    @property
    def top(self) -> float:
        """Elevation of its top [in]."""
        ...

    @property
    def bottom(self) -> float:
        """Elevation of its underside [in]."""
        ...


def pier_volume(diameter: float, depth: float) -> float:
    """Return the volume of a round pier [cu ft] of a diameter [in] and a depth [in].

    >>> round(pier_volume(12.0, 48.0), 2)
    3.14
    """
    return math.pi * diameter**2 / 4 * depth / 1728


def bags(volume: float, each: float) -> int:
    """Return the bags that give a volume [cu ft] where one gives `each` [cu ft].

    >>> bags(pier_volume(12.0, 48.0), 0.45), bags(pier_volume(12.0, 48.0), 0.60)
    (7, 6)
    """
    return math.ceil(volume / each - 1e-9)


def count_concrete(footings: Sequence[RoundFooting]) -> tuple[Item, ...]:
    """Count the concrete of every footing, cast to its full depth, and the bags that give it."""
    total = sum(pier_volume(one.diameter, one.top - one.bottom) for one in footings)
    if not footings:
        return ()
    basis = f"{len(footings)} holes filled to their full depth, {total:.1f} cu ft"
    volume = Item("concrete", "concrete in place", None, total, 0.0, math.ceil(total - 1e-9), "cu ft", basis)
    sacks = [
        Item("concrete", f"{word}: dry mix in bags of {weight} lb", None, total / each, 0.0, bags(total, each), "bags",
             f"{total:.1f} cu ft at {each:.2f} cu ft a bag")
        for word, (weight, each) in zip(("either", "or"), BAGS, strict=True)
    ]  # fmt: skip
    return (volume, *sacks)
