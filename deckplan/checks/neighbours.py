"""Footings and their neighbours in one list: each other, the house, the slope, and frost under tied levels."""

from __future__ import annotations

from deckplan.checks.footings import FootingDesign
from deckplan.checks.footings_apart import check_footings_apart
from deckplan.checks.frost import check_frost
from deckplan.checks.shared_footings import one_for_two
from deckplan.layout.model import Layout
from deckplan.levels.model import Levels
from deckplan.loads.model import Loads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check


def check_neighbours(
    plan: Plan,
    profile: Profile,
    levels: Levels,
    layout: Layout,
    loads: Loads,
    footings: tuple[FootingDesign, ...],
) -> list[Check]:
    """Check every footing against the others, the house walls, the ground's slope and the frost."""
    return [
        *check_footings_apart(plan, profile, levels, footings, one_for_two(plan, profile, layout, loads)),
        *check_frost(plan, profile, levels, layout, footings),
    ]
