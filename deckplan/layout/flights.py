"""Framing of flights: box steps, stringers, and the blocking they need in the platform below."""

from __future__ import annotations

from dataclasses import replace

from deckplan.layout.flight_boxes import frame_boxes
from deckplan.layout.flight_corners import find_wraps
from deckplan.layout.flight_headroom import check_headroom
from deckplan.layout.flight_model import Fixing, FlightFrame, FlightFrames, StepFrame
from deckplan.layout.flight_sides import check_sides
from deckplan.layout.flight_stringers import frame_stringers
from deckplan.layout.model import Member
from deckplan.layout.ties import frost_founded
from deckplan.levels.box_steps import EXPOSED, FixingBasis
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Levels, Rise
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile

__all__ = ["Fixing", "FlightFrame", "FlightFrames", "StepFrame", "frame_flights"]


def frame_flights(
    plan: Plan,
    levels: Levels,
    profile: Profile,
    members: tuple[Member, ...],
    basis: FixingBasis | None = None,
) -> FlightFrames:
    """Frame every flight of a plan.

    members: the platforms' own frames, into which screws and blocking go; basis: what the fixings of box
    steps are held to (default: the stated assumption). A direct step needs nothing; a flight that does not
    go down gets no frame.
    """
    held_to = basis or FixingBasis()
    found: list[FlightFrame] = []
    known = members
    wraps = find_wraps(levels.flights)
    founded = frost_founded(plan, levels)
    for rise in levels.flights:
        deep = _pier_depth(plan, profile, rise, founded)
        if rise.rise <= 0 or rise.kind == "direct" or rise.risers < 2:
            framed = FlightFrame(rise.index, flight_mark(rise.index))
        elif rise.kind == "box":
            ends = wraps.get(rise.index, EXPOSED)
            framed = frame_boxes(plan, rise, levels.ground, profile, known, held_to, ends, deep)
        else:
            framed = frame_stringers(plan, rise, levels.ground, profile, known, deep)
        if rise.rise > 0:
            headroom = check_headroom(plan, rise, members, profile)
            sides, cautions = check_sides(plan, rise, levels, profile)
            framed = replace(
                framed,
                checks=(*framed.checks, *headroom, *sides),
                notes=(*framed.notes, *cautions),
            )
        # later flights must not give their blocking marks that are taken
        known = (*known, *framed.members)
        found.append(framed)
    return FlightFrames(tuple(found))


def _pier_depth(plan: Plan, profile: Profile, rise: Rise, founded: frozenset[str]) -> float:
    """Return how deep a flight's piers go [in]: as deep as the footings of the level that it is fixed to.

    Source: IRC R403.1.4, R507.3.2; a floating level and its steps move together (trade literature).
    """
    names = {platform.name for platform in plan.platforms}
    floats = (
        rise.upper in names and rise.upper not in founded and bool(profile.frost_exempt_freestanding.value)
    )
    return max(profile.footing_depth_min.value, 0.0 if floats else plan.site.frost_depth)
