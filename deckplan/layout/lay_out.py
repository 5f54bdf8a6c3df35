"""The layout stage: from levels to every piece of wood with its place and what it bears on."""

from __future__ import annotations

from dataclasses import dataclass, replace

from deckplan.engineering.lumber import read_size
from deckplan.layout.alignment import starts_of
from deckplan.layout.blocking import block
from deckplan.layout.edges import find_guards
from deckplan.layout.faults import find_faults
from deckplan.layout.flight_model import FlightFrames
from deckplan.layout.flights import frame_flights
from deckplan.layout.guard_posts import GuardPosts, place_guard_posts
from deckplan.layout.hung import HungWish, check_hung, find_hung
from deckplan.layout.line_moves import Moved
from deckplan.layout.model import Kind, Layout
from deckplan.layout.notches import check_tongues
from deckplan.layout.parts import brace_posts
from deckplan.layout.platform_frame import Begun, SetOut, begin_platform, set_out_platform
from deckplan.layout.posts import also_carried, stand_posts
from deckplan.layout.share_cures import with_cures
from deckplan.layout.stands import Foot, carried_by
from deckplan.levels.model import Levels
from deckplan.levels.raise_levels import raise_levels
from deckplan.plan.model import Hung, Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_length
from deckplan.verdict import Check, Source, Verdict

GUARD_RULE = "guard posts land on framing"
GUARD_PRACTICE = Source("common practice", "posts inside the rim, with blocking", "common practice")


@dataclass(frozen=True, slots=True)
class AllSetOut:
    """Every platform set out, with what came of each wish to hang on a neighbour."""

    platforms: tuple[SetOut, ...]
    wishes: tuple[tuple[SetOut, HungWish], ...]


def begin_all(plan: Plan, levels: Levels) -> tuple[Begun, ...]:
    """Begin every platform of a plan: its frame, heights and beams."""
    board = plan.materials.decking.thickness
    post = read_size(plan.materials.post).thickness
    return tuple(
        begin_platform(index, platform, plan.house, levels.elevation(platform.name), board, post)
        for index, platform in enumerate(plan.platforms)
    )


def set_out_all(plan: Plan, levels: Levels) -> AllSetOut:
    """Set out every platform of a plan: all beams first, since joists may hang on a neighbour's; no posts yet."""
    begun = begin_all(plan, levels)
    beams = {each.platform.name: tuple(beam for _, beam in each.beams) for each in begun}
    platforms: list[SetOut] = []
    wishes: list[tuple[SetOut, HungWish]] = []
    for each, start in zip(begun, starts_of(plan), strict=True):
        own = tuple(
            find_hung(each.platform, each.frame, at, support, beams[support.on], plan.units)
            for at, support in enumerate(each.platform.supports)
            if isinstance(support, Hung)
        )
        platforms.append(set_out_platform(each, own, start))
        wishes += [(platforms[-1], wish) for wish in own]
    return AllSetOut(tuple(platforms), tuple(wishes))


def lay_out_frames(plan: Plan, levels: Levels, profile: Profile) -> Layout:
    """Lay out the platforms' frames alone: what sizes and loads depend on.

    Sizes that the plan leaves "auto" stand at a first try; `deckplan.sizing.settle` replaces them.
    """
    everything = set_out_all(plan, levels)
    platforms = everything.platforms
    standing = stand_posts(plan, levels, profile, platforms)
    carried = {beam.mark: wish.platform for _, wish in everything.wishes for _, beam in wish.lines}
    members = tuple(
        standing.beams.get(member.mark, member)
        for set_out in platforms
        for member in (*set_out.members, *block(set_out, _feet_on(set_out, standing.feet)))
    )
    posts = carried_by(members, also_carried(standing, carried))
    moved = Moved(
        plan, lambda changed: set_out_all(changed, levels).platforms, profile.joist_overhang_share.value
    )
    return Layout(
        members=members,
        posts=posts,
        pads=tuple(standing.pads),
        guards=(),
        sharing=tuple(standing.sharing),
        on_frame=tuple(standing.on_frame),
        checks=(
            *find_faults(plan, platforms, posts, standing.on_frame, moved),
            *check_tongues(platforms, standing.beams, posts, plan.units),
            *_hung_checks(plan, everything),
        ),
    )


def _feet_on(set_out: SetOut, feet: list[Foot]) -> tuple[Foot, ...]:
    return tuple(foot for foot in feet if foot.platform == set_out.platform.name)


def _hung_checks(plan: Plan, everything: AllSetOut) -> tuple[Check, ...]:
    found: list[Check] = []
    first = {
        each.platform.name: next((m for m in each.members if m.kind is Kind.JOIST), None)
        for each in everything.platforms
    }
    for set_out, wish in everything.wishes:
        joist = first[set_out.platform.name]
        if joist is not None:
            found += check_hung(wish, joist, first[wish.on], plan.units)
    return tuple(found)


def lay_out(plan: Plan, levels: Levels, profile: Profile, frames: Layout) -> tuple[Layout, FlightFrames]:
    """Complete the platforms' frames: guards along their edges with their posts, and the framing of the flights."""
    flights = frame_flights(plan, levels, profile, frames.members)
    members = (*frames.members, *flights.members)
    guards = find_guards(plan, levels, profile)
    standing = place_guard_posts(plan, guards, members, profile)
    layout = replace(
        frames,
        sharing=with_cures(plan, frames, lambda changed: _tried(plan, changed, levels, profile)),
        members=(*members, *standing.members, *brace_posts(plan, levels, profile, frames)),
        guards=guards,
        guard_posts=standing.posts,
        checks=(*frames.checks, *_guards_that_miss(plan, standing)),
    )
    return layout, flights


def _tried(plan: Plan, changed: Plan, levels: Levels, profile: Profile) -> Layout:
    """Lay out the frames of a changed plan; the levels are raised anew only where one of them was moved."""
    heights = [platform.elevation for platform in plan.platforms]
    moved = [platform.elevation for platform in changed.platforms] != heights
    return lay_out_frames(changed, raise_levels(changed, profile) if moved else levels, profile)


def _guards_that_miss(plan: Plan, standing: GuardPosts) -> tuple[Check, ...]:
    """Say where a guard post would stand on nothing."""
    found = []
    for platform, (x, y) in standing.missing:
        place = f"{format_length(x, plan.units)}, {format_length(y, plan.units)}"
        reason = f'platform "{platform}": no framing to block a guard post at {place}: add a joist or blocking there'
        found.append(Check(platform, GUARD_RULE, GUARD_PRACTICE, None, None, "", Verdict.FAIL, reason=reason))
    return tuple(found)
