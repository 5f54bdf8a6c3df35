"""Concrete for round piers, by volume and in bags."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from deckplan.buy.item import Item
from deckplan.checks.footings import FootingDesign
from deckplan.levels.stringer_ends import PAD_DEPTH, PAD_THICK
from deckplan.units import Units, format_short

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


def pad_volume(width: float) -> float:
    """Return the concrete [cu ft] of the pad under the inner feet of a flight of a width [in].

    >>> pad_volume(96.0) == 8 * 1 * 4 / 12
    True
    """
    return width * PAD_DEPTH * PAD_THICK / 1728


def bags(volume: float, each: float) -> int:
    """Return the bags that give a volume [cu ft] where one gives `each` [cu ft].

    >>> bags(pier_volume(12.0, 48.0), 0.45), bags(pier_volume(12.0, 48.0), 0.60)
    (7, 6)
    """
    return math.ceil(volume / each - 1e-9)


def count_concrete(
    footings: Sequence[FootingDesign], units: Units = "us", pads: Mapping[str, float] | None = None
) -> tuple[Item, ...]:
    """Count the concrete of every footing, cast to its full depth, and the bags that give it.

    pads: by flight, the width of the pad between the piers under its feet [in]. Volumes in cu ft, in litres where the
    plan is metric; a bag by the kilogram gives as much as one by the pound.
    """
    if not footings:
        return ()
    total = sum(pier_volume(one.diameter, one.top - one.bottom) for one in footings)
    metric = units == "metric"
    net, unit = (total * LITRES, "l") if metric else (total, "cu ft")
    words = _volume(total, units)
    basis = f"{len(footings)} round piers filled to their full depth, {words}"
    volume = Item("concrete", "concrete in place", None, net, 0.0, math.ceil(net - 1e-9), unit, basis,
                  goods="concrete")  # fmt: skip
    under = tuple(_pad(mark, width, units) for mark, width in (pads or {}).items())
    total += sum(pad_volume(width) for width in (pads or {}).values())
    words = _volume(total, units)
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
    return (volume, *under, *sacks)


def _pad(mark: str, width: float, units: Units) -> Item:
    """Count the pad between the piers of a flight, under the feet of its inner stringers."""
    volume = pad_volume(width)
    net, unit = (volume * LITRES, "l") if units == "metric" else (volume, "cu ft")
    size = " x ".join(format_short(side, units) for side in (width, PAD_DEPTH, PAD_THICK))
    return Item("concrete", f"pad under the inner feet of {mark}", None, net, 0.0, math.ceil(net - 1e-9), unit, size,
                goods="concrete")  # fmt: skip


def _volume(cubic_feet: float, units: Units) -> str:
    """Write a volume, in litres too where the plan is metric."""
    litres = cubic_feet * LITRES
    return f"{litres:,.0f} l ({litres / 1000:.2f} m3)" if units == "metric" else f"{cubic_feet:.1f} cu ft"
