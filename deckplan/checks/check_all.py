"""The checks stage: every room's checks in the order of the stages, and the footings that they size."""

from __future__ import annotations

from collections.abc import Mapping

from deckplan.checks.all_footings import design_footings
from deckplan.checks.apart import check_apart
from deckplan.checks.beams import check_beams
from deckplan.checks.carried import check_carried
from deckplan.checks.cures import with_cures
from deckplan.checks.door_landings import check_door_landings
from deckplan.checks.feet import check_feet
from deckplan.checks.flight_room import check_flight_room
from deckplan.checks.footings import FootingDesign
from deckplan.checks.framed import check_framed
from deckplan.checks.given import check_given
from deckplan.checks.guard_edges import check_edge_leans
from deckplan.checks.guards import check_guards
from deckplan.checks.house import check_house
from deckplan.checks.joists import check_joists
from deckplan.checks.ledgers import check_ledgers
from deckplan.checks.neighbours import check_neighbours
from deckplan.checks.openings import check_openings
from deckplan.checks.posts import check_posts
from deckplan.checks.pulled import check_pulled, find_pulled
from deckplan.checks.scope import check_scope
from deckplan.checks.seats import check_seats
from deckplan.checks.set_aside import apply_set_aside
from deckplan.checks.sharing import check_sharing
from deckplan.checks.short_posts import check_short_posts
from deckplan.checks.underfoot import check_underfoot
from deckplan.checks.uplift import check_uplift
from deckplan.layout.flight_model import FlightFrames
from deckplan.layout.model import Layout
from deckplan.levels.model import Levels
from deckplan.loads.model import Loads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check


def check_all(
    plan: Plan,
    profile: Profile,
    levels: Levels,
    layout: Layout,
    flights: FlightFrames,
    loads: Loads,
    proven: Mapping[str, list[Check]],
) -> tuple[tuple[Check, ...], tuple[FootingDesign, ...]]:
    """Run every check on a settled plan; returns the checks and the footings as sized.

    proven: checks that the sizing has made already, by mark. Last of all, prescriptive limits give way to sums where
    the profile says that they may.
    """
    footings, under = design_footings(plan, profile, levels, layout, flights, loads)
    pulled = find_pulled(plan, profile, levels, layout, footings)
    checks = (
        *levels.checks,
        *check_given(plan, profile, levels),
        *flights.checks,
        *check_house(plan),
        *check_flight_room(plan, profile, levels, layout),
        *check_framed(plan, layout),
        *check_underfoot(plan, profile, levels),
        *check_door_landings(plan, profile, levels, layout),
        *check_apart(plan, layout),
        *layout.checks,
        *check_sharing(plan, levels, layout, pulled),
        *check_joists(plan, profile, layout, loads, proven),
        *check_beams(plan, profile, layout, loads, proven),
        *check_openings(plan, layout),
        *check_ledgers(plan, profile, layout, loads),
        *check_posts(plan, profile, layout, loads),
        *check_short_posts(plan, layout),
        *check_seats(plan, profile, layout, loads),
        *check_feet(plan, layout, loads),
        *check_uplift(plan, profile, layout, loads, footings),
        *under,
        *check_neighbours(plan, profile, levels, layout, loads, footings),
        *check_pulled(plan, profile, pulled),
        *check_guards(plan, profile, layout),
        *check_edge_leans(plan, profile, layout, loads),
        *check_scope(plan, profile, levels, layout, loads, footings),
    )
    found = apply_set_aside((*checks, *check_carried(plan, layout, loads, checks)), profile)
    return with_cures(found, layout, loads), footings
