"""Ledger fasteners by the yield equations, beside the printed spacings that rest on tests."""

from __future__ import annotations

import math

from deckplan.engineering.answers import Answer, step
from deckplan.engineering.dowels import Dowel, Joint, lateral_value
from deckplan.engineering.fasteners import adjust_connection, wet_connection_factor
from deckplan.engineering.joists import AreaLoads
from deckplan.errors import RangeError

LARGEST_SPACING = 36.0  # [in] no printed spacing is wider


def ledger_spacing_by_yield(
    dowel: Dowel,
    joist_span: float,
    ledger_gravity: float,
    band_gravity: float,
    loads: AreaLoads | None = None,
    *,
    sheathing: float = 0.5,
    ledger: float = 1.5,
    band: float = 1.5,
    wet: bool = True,
) -> Answer:
    """Return the spacing on centre [in] that the yield equations allow for one row of ledger fasteners.

    dowel: a lag or a bolt; joist_span [in]; ledger_gravity, band_gravity [1]: specific gravities; loads [psf];
    sheathing [in]: a gap between ledger and band, which carries nothing; ledger, band [in]: thicknesses; wet:
    in service. Load across the grain of both. The printed spacings are two to six times as wide, because the
    tests behind them count more than the first yield: where they apply they are the prescriptive rule, this is
    the engineered one. Governs: "yield" or "largest spacing". Raises RangeError for a lag that goes less than
    four diameters into the band: a single 2x band is too thin for one by the NDS.

    Source: NDS 2018 12.3; AWC Technical Report 12 for the gap.
    """
    if joist_span <= 0:
        raise RangeError(f"joists span more than {joist_span:g} in")
    loads = AreaLoads() if loads is None else loads
    joint = Joint(band, ledger, band_gravity, ledger_gravity, 90.0, 90.0, gap=sheathing)
    reference = lateral_value(dowel, joint)
    moist = wet_connection_factor(dowel, "wet" if wet else "dry")
    widest, kept = math.inf, reference
    for _, _, total, duration in loads.cases():
        value = adjust_connection(reference, duration=duration, wet=moist)
        spacing = value.value / (total / 144 * joist_span / 2)
        if spacing < widest:
            widest, kept, load = spacing, value, total
    numbers = f"{kept.value:.4g} / ({load:g} / 144 × {joist_span:g} / 2)"
    last = step("s", "spacing by the yield equations", "Z' / (q L / 2)", numbers, widest, "in", "12.3")
    limits = {"yield": widest, "largest spacing": LARGEST_SPACING}
    governs = min(limits, key=lambda name: limits[name])
    return Answer(limits[governs], "in", governs, (*kept.steps, last), limits)
