"""Concrete for round piers, by volume and in bags."""

from __future__ import annotations

import math
from collections.abc import Sequence

from deckplan.buy.item import Item
from deckplan.checks.footings import FootingDesign
from deckplan.units import Units

BAGS = ((60, 0.45), (80, 0.60))
"""Weight of a bag of dry mix [lb] and what it gives [cu ft]. Source: figures printed by the trade press."""

METRIC_BAGS = (25, 30)
"""Weight of a bag of dry mix [kg] where it is sold by the kilogram (common practice)."""

LITRES = 28.316846592
"""Litres in a cubic foot. Source: exact, the international foot of 1959."""

POUNDS_PER_KG = 1 / 0.45359237


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


def count_concrete(footings: Sequence[FootingDesign], units: Units = "us") -> tuple[Item, ...]:
    """Count the concrete of every footing, cast to its full depth, and the bags that give it.

    Volumes in cu ft, in litres where the plan is metric; a bag by the kilogram gives as much as one by the pound.
    """
    if not footings:
        return ()
    total = sum(pier_volume(one.diameter, one.top - one.bottom) for one in footings)
    metric = units == "metric"
    net, unit = (total * LITRES, "l") if metric else (total, "cu ft")
    words = f"{net:,.0f} l ({net / 1000:.2f} m3)" if metric else f"{net:.1f} cu ft"
    basis = f"{len(footings)} round piers filled to their full depth, {words}"
    volume = Item("concrete", "concrete in place", None, net, 0.0, math.ceil(net - 1e-9), unit, basis,
                  goods="concrete")  # fmt: skip
    a_pound = BAGS[0][1] / BAGS[0][0]
    sold = [(f"{kg} kg", a_pound * kg * POUNDS_PER_KG) for kg in METRIC_BAGS]
    if not metric:
        sold = [(f"{pounds} lb", each) for pounds, each in BAGS]
    sacks = []
    for word, (size, each) in zip(("either", "or"), sold, strict=True):
        gives = f"{each * LITRES:.1f} l" if metric else f"{each:.2f} cu ft"
        sacks.append(
            Item("concrete", f"{word}: dry mix in bags of {size}", None, total / each, 0.0, bags(total, each), "bags",
                 f"{words} at {gives} a bag")
        )  # fmt: skip
    return (volume, *sacks)
