"""Sizing: a plan with "auto" in it becomes a plan without, each size the smallest that passes the same checks."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from deckplan.checks.beams import check_beam
from deckplan.checks.joists import bears_post, check_joist
from deckplan.checks.ledgers import LEAST_SIZE, WIDEST_PRINTED, widest_spacing
from deckplan.checks.printed_beams import joists_on
from deckplan.checks.seats import MAY_BE, is_notched, leaves_tongue
from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import design_values, read_size
from deckplan.layout.alignment import starts_of
from deckplan.layout.lay_out import begin_all, lay_out_frames
from deckplan.layout.model import Kind, Layout, Member
from deckplan.layout.platform_frame import FIRST_TRY
from deckplan.layout.supports import auto_post_count
from deckplan.levels.model import Levels
from deckplan.loads.areas import area_load
from deckplan.loads.model import Loads
from deckplan.loads.path import Known, trace
from deckplan.plan.model import BeamLine, Hung, Ledger, Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Verdict

JOIST_SIZES = ("2x6", "2x8", "2x10", "2x12")
"""Joists that the sizing tries, smallest first."""

BEAM_BUILDS = (
    "2-2x6", "2-2x8", "3-2x6", "2-2x10", "3-2x8", "2-2x12", "3-2x10", "3-2x12", "4-2x12",
)  # fmt: skip
"""Beams that the sizing tries, least wood first."""

SIZE_FREE = frozenset(
    {
        "overhang within its share of the span",
        "beam overhang within its share of the span",
        "longest joist span of the tables",
        "length of bearing",
        "splices over posts",
        MAY_BE,
    }
)
"""Rules that no larger size helps: they do not push the choice upwards, the checks still say so."""

# Sizes change dead load and post heights a little, so the sums are done again until no size changes.
MOST_ROUNDS = 6


@dataclass(frozen=True, slots=True)
class Settled:
    """A plan without autos, with the frames and the loads that its sizes were proven on.

    proven: the checks of the members whose size was chosen, by mark, as they came out when it was.
    """

    plan: Plan
    frames: Layout
    loads: Loads
    proven: Proven


Proven = dict[str, list[Check]]
"""Checks by the mark of the member that they were made for."""

Chosen = dict[tuple[int, int | None], str]
"""Sizes by platform and support; None in place of the support stands for the joists."""


def settle(plan: Plan, levels: Levels, profile: Profile) -> Settled:
    """Replace every "auto" of a plan by the smallest member that passes the checks.

    Posts: as few as keep the spans within 8 ft (common practice). Joists, then beams: the smallest of the sizes
    tried; where none passes the largest stays, and the checks say what fails.
    """
    chosen: Chosen = {}
    for index, platform in enumerate(plan.platforms):
        if platform.joists.size == "auto":
            chosen[index, None] = FIRST_TRY["joist"]
        for at, support in enumerate(platform.supports):
            if isinstance(support, BeamLine) and support.build == "auto":
                chosen[index, at] = FIRST_TRY["beam"]
    first = True
    known: Known = {}
    proven: Proven = {}
    for _ in range(MOST_ROUNDS):
        tried = _with_posts(_with(plan, chosen), levels)
        frames = lay_out_frames(tried, levels, profile)
        loads = trace(tried, levels, frames, profile, known)
        better = {
            place: _choose(tried, profile, frames, loads, place, size, first, proven)
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
    if _bearings(frames) != _bearings(traced):
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
                widest = min((widest_spacing(m, support, loads) for m in members), default=WIDEST_PRINTED)
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


def _choose(
    plan: Plan,
    profile: Profile,
    layout: Layout,
    loads: Loads,
    place: tuple[int, int | None],
    now: str,
    first: bool,
    proven: Proven,
) -> str:
    """Return the smallest size for a place; after the first round none smaller than it has, so that rounds end."""
    index, support = place
    platform = plan.platforms[index]
    if support is None:
        sizes: tuple[str, ...] = JOIST_SIZES
        if any(isinstance(each, Ledger) for each in platform.supports):
            # the ledger is as deep as its joists
            sizes = tuple(size for size in sizes if read_size(size).depth >= read_size(LEAST_SIZE).depth)
        members = [m for m in layout.of(platform.name, Kind.JOIST, Kind.HEADER) if _speaks(m, loads)]
    else:
        line = platform.supports[support]
        assert isinstance(line, BeamLine)
        sizes = _fitting(plan, profile, platform, line)
        members = [m for m in _beams_of(layout, platform, support) if _speaks(m, loads)]
    if not members:
        return now
    # the hardest worked first: a size that is too small is turned down at the first look
    members.sort(key=lambda m: loads.demands[m.mark].analysis.moment_max.value, reverse=True)
    if not first and now in sizes:
        sizes = sizes[sizes.index(now) :]

    def passes(size: str) -> bool:
        if too_weak(size):
            return False
        made: Proven = {}
        for member in members:
            made[member.mark] = list(_checks(member, size))
            if any(c.verdict is Verdict.FAIL and c.rule not in SIZE_FREE for c in made[member.mark]):
                return False
        proven.update(made)
        return True

    def too_weak(size: str) -> bool:
        """Tell at a glance that a size is hopeless: the hardest worked member breaks it in plain bending."""
        member = members[0]
        moment = loads.demands[member.mark].analysis.moment_max.value
        plies = read_size(member.size).plies if support is None else 1
        made = read_size(size)
        values = design_values(plan.materials.species, plan.materials.grade, made)
        best = adjusted(values, made, Service(1.0, True, plan.materials.incised, repetitive=True))
        return moment > best.Fb * made.section_modulus * plies

    def _checks(member: Member, size: str) -> Iterable[Check]:
        demand = loads.demands[member.mark]
        if support is None:
            alone = bears_post(layout, loads, member.mark)
            return check_joist(plan, profile, platform, member, demand, size, alone)
        above, area = joists_on(member, layout, loads), loads.areas[platform.name]
        return check_beam(plan, profile, member, demand, size, platform.joists.spacing, above, area)

    for member in members:
        proven.pop(member.mark, None)
    return _smallest(sizes, passes)


def _smallest(sizes: tuple[str, ...], passes: Callable[[str], bool]) -> str:
    return next((size for size in sizes if passes(size)), sizes[-1])


def _speaks(member: Member, loads: Loads) -> bool:
    """Tell whether a member is the one that speaks for all that are like it."""
    demand = loads.demands.get(member.mark)
    return demand is not None and demand.like == member.mark


def _fitting(plan: Plan, profile: Profile, platform: Platform, line: BeamLine) -> tuple[str, ...]:
    """Return the builds that fit: a flush beam as deep as the joists that hang on it, a notched one with its tongue."""
    builds: tuple[str, ...] = BEAM_BUILDS
    if line.style == "flush":
        joist = read_size(platform.joists.size).depth
        builds = tuple(b for b in builds if read_size(b).depth >= joist - 1e-9) or BEAM_BUILDS[-1:]
    if is_notched(line):
        builds = tuple(b for b in builds if leaves_tongue(plan, profile, b)) or builds
    return builds


def _beams_of(layout: Layout, platform: Platform, support: int) -> list[Member]:
    return [m for m in layout.of(platform.name, Kind.BEAM) if m.support == support]
