"""Tables of what to buy."""

from __future__ import annotations

from deckplan.buy.takeoff import take_off
from deckplan.study import Study
from deckplan.tabulate.sheet import Sheet, percent
from deckplan.units import format_feet


def buy_sheet(study: Study) -> Sheet:
    """Tabulate what to buy: waste stands apart from the net quantity, and each line says what was counted."""
    columns = ("group", "item", "stock length", "net", "waste [%]", "buy", "unit", "counted from")
    rows = []
    for item in take_off(study.plan, study.layout, study.loads, study.footings):
        stock = "" if item.length is None else format_feet(item.length).replace('-0"', "")
        if item.length is not None and study.plan.units == "metric":
            stock = f"{stock} ({item.length * 0.0254:.2f} m)"
        waste = percent(item.waste) if item.waste else None
        rows.append(
            (item.group, item.item, stock, round(item.net, 1), waste, item.count, item.unit, item.basis)
        )
    return Sheet("Buy list", columns, tuple(rows))
