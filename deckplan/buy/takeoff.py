"""The takeoff: everything that a deck is bought as, a first list."""

from __future__ import annotations

from collections.abc import Sequence

from deckplan.buy.boards import count_boards
from deckplan.buy.concrete import RoundFooting, count_concrete
from deckplan.buy.connectors import count_connectors
from deckplan.buy.item import Item
from deckplan.buy.lumber import count_lumber
from deckplan.layout.model import Layout
from deckplan.loads.model import Loads
from deckplan.plan.model import Plan


def take_off(plan: Plan, layout: Layout, loads: Loads, footings: Sequence[RoundFooting]) -> tuple[Item, ...]:
    """Count what a settled plan is built from, in the order in which it is used.

    Waste is stated apart from the net quantity. Guards, handrails, flashing, treatment of cut ends and
    formwork are not counted yet.
    """
    return (
        *count_concrete(footings),
        *count_lumber(layout, plan.materials, plan.units),
        *count_connectors(layout, loads),
        *count_boards(plan, layout),
    )
