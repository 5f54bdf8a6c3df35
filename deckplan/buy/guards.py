"""Guards: their posts out of lumber, and the length of rail and infill that a maker's system has to fill."""

from __future__ import annotations

import math

from deckplan.buy.cutting import Piece
from deckplan.buy.item import Item
from deckplan.buy.lumber import Timber
from deckplan.checks.guards import GUARD_POST
from deckplan.geometry import distance
from deckplan.layout.model import Kind, Layout
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short


def guard_timbers(plan: Plan, profile: Profile, layout: Layout) -> list[Timber]:
    """Return the guard posts as lumber: from the guard's height down to the underside of the frame."""
    above = profile.guard_height.value + plan.materials.decking.thickness
    depths = {
        platform.name: max((m.depth for m in layout.of(platform.name, Kind.JOIST)), default=0.0)
        for platform in plan.platforms
    }
    return [
        Timber(GUARD_POST, "above ground", Piece(post.mark, above + depths[post.platform], "guard post"))
        for post in layout.guard_posts
    ]


def count_guards(plan: Plan, profile: Profile, layout: Layout) -> tuple[Item, ...]:
    """Count the length of guards along the edges that must have one; rail and infill are bought as a system."""
    edges = [distance(stretch.start, stretch.end) for stretch in layout.guards if stretch.required]
    if not edges:
        return ()
    metric = plan.units == "metric"
    long, unit = (sum(edges) * 0.0254, "m") if metric else (sum(edges) / 12, "ft")
    high = format_short(profile.guard_height.value, plan.units)
    round_holes = sum(1 for stretch in layout.guards if stretch.required and stretch.opening)
    holes = f", {round_holes} of them round openings," if round_holes else ""
    basis = (
        f"{len(edges)} stretches of edge{holes} between {len(layout.guard_posts)} posts; "
        f"flights' sides not counted"
    )
    return (
        Item("guards", f"rail and infill, {high} high", None, long, 0.0, math.ceil(long - 1e-9), unit, basis),
    )
