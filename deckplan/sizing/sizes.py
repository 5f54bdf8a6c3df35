"""The smallest size for a place in a frame: each tried against the very checks."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from deckplan.checks.beams import check_beam
from deckplan.checks.joists import bears_post, check_joist
from deckplan.checks.ledgers import LEAST_SIZE
from deckplan.checks.printed_beams import joists_on
from deckplan.checks.seats import MAY_BE, is_notched, leaves_tongue
from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import design_values, read_size
from deckplan.layout.model import Kind, Layout, Member
from deckplan.loads.model import Loads
from deckplan.plan.model import BeamLine, Ledger, Plan, Platform
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

Proven = dict[str, list[Check]]
"""Checks by the mark of the member that they were made for."""


def choose_size(
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
        members = [m for m in layout.of(platform.name, Kind.JOIST, Kind.HEADER) if speaks(m, loads)]
    else:
        line = platform.supports[support]
        assert isinstance(line, BeamLine)
        beams = beams_of(layout, platform, support)
        sizes = _fitting(plan, profile, platform, line, deepest_hung(layout, beams))
        members = one_of_each(beams, loads)
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
        return check_beam_as(plan, profile, layout, loads, member, size)

    for member in members:
        proven.pop(member.mark, None)
    return _smallest(sizes, passes)


def check_beam_as(
    plan: Plan, profile: Profile, layout: Layout, loads: Loads, beam: Member, size: str
) -> list[Check]:
    """Check a beam of a layout as if it were of a size."""
    spacing, area = plan.platform(beam.platform).joists.spacing, loads.areas[beam.platform]
    above = joists_on(beam, layout, loads)
    return check_beam(plan, profile, beam, loads.demands[beam.mark], size, spacing, above, area)


def _smallest(sizes: tuple[str, ...], passes: Callable[[str], bool]) -> str:
    return next((size for size in sizes if passes(size)), sizes[-1])


def speaks(member: Member, loads: Loads) -> bool:
    """Tell whether a member is the one that speaks for all that are like it."""
    demand = loads.demands.get(member.mark)
    return demand is not None and demand.like == member.mark


def one_of_each(beams: Iterable[Member], loads: Loads) -> list[Member]:
    """Return the first of those beams that are alike, even where one of another line speaks for all of them."""
    found: dict[str, Member] = {}
    for beam in beams:
        demand = loads.demands.get(beam.mark)
        if demand is not None:
            found.setdefault(demand.like, beam)
    return list(found.values())


def _fitting(
    plan: Plan, profile: Profile, platform: Platform, line: BeamLine, hung: float
) -> tuple[str, ...]:
    """Return the builds that fit: a flush beam as deep as the joists that hang on it, a notched one with its tongue.

    hung [in]: depth of the deepest beam that hangs on it.
    """
    builds: tuple[str, ...] = BEAM_BUILDS
    least = max(hung, read_size(platform.joists.size).depth if line.style == "flush" else 0.0)
    if least > 0:
        builds = tuple(b for b in builds if read_size(b).depth >= least - 1e-9) or BEAM_BUILDS[-1:]
    if is_notched(line):
        builds = tuple(b for b in builds if leaves_tongue(plan, profile, b)) or builds
    return builds


def deepest_hung(layout: Layout, beams: Iterable[Member]) -> float:
    """Return the depth of the deepest beam that hangs on one of these [in]; 0 where none does."""
    marks = {beam.mark for beam in beams}
    hung = (m for m in layout.members if m.kind is Kind.BEAM and any(b.on in marks for b in m.bearings))
    return max((m.depth for m in hung), default=0.0)


def beams_of(layout: Layout, platform: Platform, support: int) -> list[Member]:
    """Return the pieces of a beam line; support: its place among the platform's supports, from 0."""
    return [m for m in layout.of(platform.name, Kind.BEAM) if m.support == support]
