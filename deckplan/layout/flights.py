"""Framing of flights: box steps, stringers, and the blocking they need in the platform below."""

from __future__ import annotations

from dataclasses import replace

from deckplan.layout.flight_boxes import frame_boxes
from deckplan.layout.flight_corners import find_wraps
from deckplan.layout.flight_headroom import check_headroom
from deckplan.layout.flight_model import Fixing, FlightFrame, FlightFrames, StepFrame
from deckplan.layout.flight_stringers import frame_stringers
from deckplan.layout.model import Member
from deckplan.levels.box_steps import EXPOSED, FixingBasis
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Levels
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
    for rise in levels.flights:
        if rise.rise <= 0 or rise.kind == "direct" or rise.risers < 2:
            framed = FlightFrame(rise.index, flight_mark(rise.index))
        elif rise.kind == "box":
            ends = wraps.get(rise.index, EXPOSED)
            framed = frame_boxes(plan, rise, levels.ground, profile, known, held_to, ends)
        else:
            framed = frame_stringers(plan, rise, levels.ground, profile, known)
        if rise.rise > 0:
            headroom = check_headroom(plan, rise, members, profile)
            framed = replace(framed, checks=(*framed.checks, *headroom))
        # later flights must not give their blocking marks that are taken
        known = (*known, *framed.members)
        found.append(framed)
    return FlightFrames(tuple(found))
