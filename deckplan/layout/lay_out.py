"""The layout stage: from levels to every piece of wood with its place and what it bears on."""

from __future__ import annotations

from dataclasses import replace

from deckplan.layout.alignment import starts_of
from deckplan.layout.blocking import block
from deckplan.layout.edges import find_guards
from deckplan.layout.faults import find_faults
from deckplan.layout.flight_model import FlightFrames
from deckplan.layout.flights import frame_flights
from deckplan.layout.model import Layout
from deckplan.layout.platform_frame import SetOut, set_out_platform
from deckplan.layout.posts import stand_posts
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile


def set_out_all(plan: Plan, levels: Levels) -> tuple[SetOut, ...]:
    """Set out every platform of a plan, posts not yet standing."""
    board = plan.materials.decking.thickness
    return tuple(
        set_out_platform(index, platform, plan.house, levels.elevation(platform.name), board, start)
        for index, (platform, start) in enumerate(zip(plan.platforms, starts_of(plan), strict=True))
    )


def lay_out_frames(plan: Plan, levels: Levels, profile: Profile) -> Layout:
    """Lay out the platforms' frames alone: what sizes and loads depend on.

    Sizes that the plan leaves "auto" stand at a first try; `deckplan.sizing.settle` replaces them.
    """
    platforms = set_out_all(plan, levels)
    standing = stand_posts(plan, levels.ground, profile, platforms)
    members = tuple(
        standing.beams.get(member.mark, member)
        for set_out in platforms
        for member in (*set_out.members, *block(set_out))
    )
    return Layout(
        members=members,
        posts=tuple(standing.posts),
        pads=tuple(standing.pads),
        guards=(),
        sharing=tuple(standing.sharing),
        checks=find_faults(plan, platforms, tuple(standing.posts), standing.sharing),
    )


def lay_out(plan: Plan, levels: Levels, profile: Profile, frames: Layout) -> tuple[Layout, FlightFrames]:
    """Complete the platforms' frames: guards along their edges, and the framing of the flights."""
    flights = frame_flights(plan, levels, profile, frames.members)
    members = (*frames.members, *flights.members)
    return replace(frames, members=members, guards=find_guards(plan, levels, profile)), flights
