"""Small plans for tests, built in code: lengths in inches."""

from __future__ import annotations

from typing import Any

from deckplan.plan.model import Plan

Corner = tuple[float, float]

HOUSE = {"wall": [{"name": "house", "line": [(-600.0, 0.0), (1200.0, 0.0)], "ledger": True}]}
"""A house whose wall along y = 0 may carry a ledger."""
LEDGER = {"kind": "ledger", "wall": "house"}


def rectangle(x0: float, y0: float, x1: float, y1: float) -> list[Corner]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def beam(offset: float, **more: Any) -> dict[str, Any]:
    return {"kind": "beam", "offset": offset, **more}


def platform(
    name: str, outline: list[Corner], elevation: float, *supports: dict[str, Any], **more: Any
) -> dict[str, Any]:
    return {"name": name, "outline": outline, "elevation": elevation, "support": list(supports), **more}


def make_plan(*platforms: dict[str, Any], **more: Any) -> Plan:
    data: dict[str, Any] = {"name": "test", "platform": list(platforms), **more}
    data.setdefault("site", {"ground": [{"at": (0.0, 0.0), "elevation": 0.0}]})
    return Plan.model_validate(data)


def hung_pair(**site: Any) -> Plan:
    """Two levels end to end: the upper on a ledger and a flush beam at its edge, on which the lower's joists hang."""
    upper = platform(
        "upper", rectangle(0, 0, 192, 144), 40, LEDGER, beam(142.5, style="flush"), joists={"size": "2x10"}
    )
    lower = platform(
        "lower", rectangle(0, 144, 192, 240), 40, {"kind": "hung", "on": "upper"}, beam(72), joists={"size": "2x10"}
    )  # fmt: skip
    return make_plan(upper, lower, house=HOUSE, site={"ground": [], **site})


def attached(
    width: float, depth: float, elevation: float = 36.0, offset: float | None = None, **more: Any
) -> Plan:
    """One platform on a ledger along y = 0 and one beam."""
    deck = platform(
        "deck", rectangle(0, 0, width, depth), elevation, LEDGER,
        beam(depth - 24 if offset is None else offset),
    )  # fmt: skip
    house = {"wall": [{"name": "house", "line": [(-120.0, 0.0), (width + 120.0, 0.0)], "ledger": True}]}
    return make_plan(deck, house=house, **more)
