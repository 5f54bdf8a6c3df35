"""Scope in one list: what no member check sees, each PASS, FAIL or OUTSIDE with its reason."""

from __future__ import annotations

from deckplan.checks.braced_posts import check_braced_posts
from deckplan.checks.footings import FootingDesign
from deckplan.checks.ground_contact import check_ground_contact
from deckplan.checks.lateral import check_lateral
from deckplan.checks.overlaps import check_overlaps
from deckplan.checks.setbacks import check_setbacks
from deckplan.checks.through import check_through
from deckplan.checks.uses import check_uses
from deckplan.layout.model import Layout
from deckplan.levels.model import Levels
from deckplan.loads.model import Loads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check


def check_scope(
    plan: Plan,
    profile: Profile,
    levels: Levels,
    layout: Layout,
    loads: Loads,
    footings: tuple[FootingDesign, ...],
) -> list[Check]:
    """Check uses, lateral systems, treatment of wood, lines to keep away from, levels over levels."""
    return [
        *check_uses(plan, profile, levels, loads),
        *check_lateral(plan, profile, levels, layout),
        *check_braced_posts(plan, profile, levels, layout, loads),
        *check_ground_contact(plan, profile, levels, layout),
        *check_setbacks(plan, levels, footings),
        *check_overlaps(plan, profile, levels, layout),
        *check_through(plan, levels, layout),
    ]
