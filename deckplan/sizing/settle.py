"""Sizing: a plan with "auto" in it becomes a plan without, each size the smallest that passes the same checks."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from deckplan.checks.ledgers import WIDEST_PRINTED, widest_spacing
from deckplan.engineering.lumber import read_size
from deckplan.layout.alignment import starts_of
from deckplan.layout.lay_out import begin_all, lay_out_frames
from deckplan.layout.model import Kind, Layout
from deckplan.layout.platform_frame import FIRST_TRY
from deckplan.layout.supports import auto_post_count
from deckplan.levels.model import Levels
from deckplan.loads.areas import area_load
from deckplan.loads.model import Loads
from deckplan.loads.path import Known, trace
from deckplan.plan.model import BeamLine, Hung, Ledger, Plan
from deckplan.rules.profile import Profile
from deckplan.sizing.posts import Place, PostCount, alone, cheapest, count_of, try_counts, with_counts
from deckplan.sizing.sizes import Proven, choose_size, deepest_hung

# Sizes change dead load and post heights a little, so the sums are done again until no size changes.
MOST_ROUNDS = 6


@dataclass(frozen=True, slots=True)
class Settled:
    """A plan without autos, with the frames and the loads that its sizes were proven on.

    proven: the checks of the members whose size was chosen, by mark, as they came out when it was; counts: the numbers
    of posts that were tried under each "auto" line whose posts are its own alone.
    """

    plan: Plan
    frames: Layout
    loads: Loads
    proven: Proven
    counts: dict[Place, tuple[PostCount, ...]] = field(default_factory=dict)


Chosen = dict[tuple[int, int | None], str]
"""Sizes by platform and support; None in place of the support stands for the joists."""


def settle(plan: Plan, levels: Levels, profile: Profile) -> Settled:
    """Replace every "auto" of a plan by the smallest member that passes the checks.

    Joists, then beams: the smallest of the sizes tried; where none passes the largest stays, and the checks say what
    fails. Posts: first as few as keep the spans within 8 ft (common practice); where they are a line's own alone, then
    the number that costs least of those that pass (`sizing.posts`).
    """
    known: Known = {}
    usual = _settle(plan, levels, profile, known)
    places = alone(plan, levels, usual.frames)
    if not places:
        return usual
    tried = try_counts(plan, usual.plan, levels, profile, places, known)
    counts = {place: cheapest(tried[place], count_of(usual.plan, place)) for place in places}
    if all(count == count_of(usual.plan, place) for place, count in counts.items()):
        return replace(usual, counts=tried)
    return replace(_settle(with_counts(plan, counts), levels, profile, known), counts=tried)


def _settle(plan: Plan, levels: Levels, profile: Profile, known: Known) -> Settled:
    """Size the members of a plan, its posts as many as it says, or as keep the spans within 8 ft."""
    chosen: Chosen = {}
    for index, platform in enumerate(plan.platforms):
        if platform.joists.size == "auto":
            chosen[index, None] = FIRST_TRY["joist"]
        for at, support in enumerate(platform.supports):
            if isinstance(support, BeamLine) and support.build == "auto":
                chosen[index, at] = FIRST_TRY["beam"]
    first = True
    proven: Proven = {}
    for _ in range(MOST_ROUNDS):
        tried = _with_posts(_with(plan, chosen), levels)
        frames = lay_out_frames(tried, levels, profile)
        loads = trace(tried, levels, frames, profile, known)
        better = {
            place: choose_size(tried, profile, frames, loads, place, size, first, proven)
            for place, size in chosen.items()
        }
        if better == chosen:
            break
        settled = _same_loads(plan, levels, profile, chosen, better, frames, loads)
        if settled is not None:
            tried, frames = settled
            break
        chosen, first = better, False
    return Settled(_with_fasteners(tried, frames, loads), frames, loads, proven)


def _same_loads(
    plan: Plan,
    levels: Levels,
    profile: Profile,
    chosen: Chosen,
    better: Chosen,
    traced: Layout,
    loads: Loads,
) -> tuple[Plan, Layout] | None:
    """Return the plan and its frames with better sizes, where the loads stay what they were, else None.

    Sizes change loads by what the frame weighs, where that is over the rule's minimum; by the width of a flush beam
    that cuts its joists; and by who bears on whom, where a beam of another depth meets a neighbour's post, or leaves
    room for a post on a lower frame, or does not.
    Where none of these changes, what was chosen for these loads is chosen for good.
    """
    for (index, support), size in better.items():
        if support is None:
            continue
        line = plan.platforms[index].supports[support]
        if isinstance(line, BeamLine) and line.style == "flush":
            now, then = read_size(size), read_size(chosen[index, support])
            joist = better.get((index, None), plan.platforms[index].joists.size)
            if now.thickness != then.thickness or now.depth < read_size(joist).depth:
                return None
    tried = _with_posts(_with(plan, better), levels)
    frames = lay_out_frames(tried, levels, profile)
    if _bearings(frames) != _bearings(traced) or any(
        deepest_hung(frames, [beam]) > beam.depth + 1e-9 for beam in frames.members if beam.kind is Kind.BEAM
    ):
        return None
    for platform in tried.platforms:
        if area_load(tried, profile, frames, platform).dead != loads.areas[platform.name].dead:
            return None
    return tried, frames


def _bearings(frames: Layout) -> dict[str, list[tuple[float, str, float]]]:
    """Return who bears on whom, where along it and over what length [in]; posts that stand on a frame too."""
    members = {
        m.mark: [(round(b.at, 6), b.on, b.length) for b in m.bearings] for m in frames.members if m.bearings
    }
    return members | {p.mark: [(0.0, p.stands_on, p.width)] for p in frames.posts if p.stands_on}


def _with_fasteners(plan: Plan, layout: Layout, loads: Loads) -> Plan:
    """Return the plan with every "auto" spacing of ledger fasteners replaced by the widest that passes."""
    platforms = []
    for platform in plan.platforms:
        supports: list[Ledger | BeamLine | Hung] = []
        for at, support in enumerate(platform.supports):
            if isinstance(support, Ledger) and support.spacing == "auto":
                members = [m for m in layout.of(platform.name, Kind.LEDGER) if m.support == at]
                widest = min(
                    (widest_spacing(m, support, layout, loads) for m in members), default=WIDEST_PRINTED
                )
                supports.append(support.model_copy(update={"spacing": widest}))
            else:
                supports.append(support)
        platforms.append(platform.model_copy(update={"supports": tuple(supports)}))
    return plan.model_copy(update={"platforms": tuple(platforms)})


def _with(plan: Plan, chosen: Chosen) -> Plan:
    """Return the plan with the chosen sizes put in."""
    platforms = []
    for index, platform in enumerate(plan.platforms):
        changed: dict[str, object] = {}
        if size := chosen.get((index, None)):
            changed["joists"] = platform.joists.model_copy(update={"size": size})
        changed["supports"] = tuple(
            support.model_copy(update={"build": chosen[index, at]}) if (index, at) in chosen else support
            for at, support in enumerate(platform.supports)
        )
        platforms.append(platform.model_copy(update=changed))
    return plan.model_copy(update={"platforms": tuple(platforms)})


def _with_posts(plan: Plan, levels: Levels) -> Plan:
    """Return the plan with every "auto" number of posts, start of joists and kind of flight replaced."""
    width = read_size(plan.materials.post).thickness
    platforms = []
    starts = starts_of(plan)
    for platform, begun, start in zip(plan.platforms, begin_all(plan, levels), starts, strict=True):
        longest: dict[int, float] = {}
        run = 0.0
        for stretch, beam in begun.beams:
            # pieces cut to stock share the posts of the whole line
            run = beam.length + (run if stretch.spliced[0] else 0.0)
            longest[stretch.support] = max(longest.get(stretch.support, 0.0), run)
        supports = tuple(
            support.model_copy(update={"posts": auto_post_count(longest.get(at, 0.0), width)})
            if isinstance(support, BeamLine) and support.posts == "auto"
            else support
            for at, support in enumerate(platform.supports)
        )
        joists = platform.joists.model_copy(update={"start": start})
        platforms.append(platform.model_copy(update={"supports": supports, "joists": joists}))
    flights = tuple(
        flight.model_copy(update={"kind": rise.kind}) if flight.kind == "auto" and rise.rise > 0 else flight
        for flight, rise in zip(plan.flights, levels.flights, strict=True)
    )
    return plan.model_copy(update={"platforms": tuple(platforms), "flights": flights})
