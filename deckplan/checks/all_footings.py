"""Every footing of a deck sized: under one post, under two that share it, under flights."""

from __future__ import annotations

from deckplan.checks.footings import PIER_SEAT, FootingDesign, design_footing, pier_load
from deckplan.checks.shared_footings import check_pad_wishes, design_shared
from deckplan.layout.flight_model import FlightFrames
from deckplan.layout.model import Layout
from deckplan.layout.shared_pads import posts_on
from deckplan.levels.model import Levels
from deckplan.loads.areas import post_weight
from deckplan.loads.model import Loads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check


def design_footings(
    plan: Plan, profile: Profile, levels: Levels, layout: Layout, flights: FlightFrames, loads: Loads
) -> tuple[tuple[FootingDesign, ...], list[Check]]:
    """Size every footing for its posts' load and check it; then the piers that flights stand on."""
    made: list[FootingDesign] = []
    found: list[Check] = []
    standing = posts_on(layout.posts, layout.pads)
    for pad in layout.pads:
        post, *more = standing[pad.mark]
        if more:
            footing, checks = design_shared(plan, profile, pad, (post, *more), loads)
        else:
            footing, checks = design_footing(
                plan, profile, pad, post.mark, post.width, loads.posts[post.mark], post_weight(plan, post)
            )
        made.append(footing)
        found += checks
    for flight in flights.flights:
        for pad in flight.pads:
            share = pier_load(plan, profile, levels.flights[flight.index], len(flight.pads))
            footing, checks = design_footing(plan, profile, pad, "", PIER_SEAT, share)
            made.append(footing)
            found += checks
    return tuple(made), [*found, *check_pad_wishes(plan, layout)]
