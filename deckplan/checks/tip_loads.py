"""One load at the end of a joist: a person on the tip of an overhang, or one who leans on the guard there.

::

      lean ->|
             | h        P
    =========|          v           Both bend the joist over its last support and lift its other end:
    =====================           P by P a, the lean by its force times its height over the joist's middle.
    ^                 ^  a
    back            last
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from deckplan.checks.bending_members import BEARING_ALONE, BENDING, Wood
from deckplan.checks.guards import DURATION
from deckplan.engineering.bending import bending_capacity
from deckplan.engineering.statics import BeamAnalysis, analyse_beam
from deckplan.geometry import distance
from deckplan.layout.model import GuardPostPlace, Member
from deckplan.loads.model import Demand
from deckplan.plan.model import Plan
from deckplan.rules.profile import Limit, Profile
from deckplan.verdict import Check, Source, Step, at_most

AT_TIP = "bending over a support, a person at the tip"
LEANING = "bending under a lean on the guard"
STATICS = Source("statics", "", "derived")


@dataclass(frozen=True, slots=True)
class Tip:
    """An overhang: at the start of the member or at its end, how long [in], the number of its last support."""

    at_start: bool
    overhang: float
    support: int


def tips(analysis: BeamAnalysis) -> Iterator[Tip]:
    """Return the overhangs of a member that are more than its bearing."""
    before, after = analysis.overhangs
    if before > BEARING_ALONE:
        yield Tip(True, before, 0)
    if after > BEARING_ALONE:
        yield Tip(False, after, len(analysis.supports) - 1)


def dead_hogging(analysis: BeamAnalysis, support: int) -> float:
    """Return the hogging moment [lb in] of dead load alone over a support, by its number; never under 0."""
    return max(0.0, -sum(unit.dead * unit.moments[support] for unit in analysis.units))


def lift_per_pound(analysis: BeamAnalysis, tip: Tip) -> dict[float, float]:
    """Return how much one pound at a tip lifts each support [1], by its place [in]; 0 where it presses.

    A lean of a moment M at the tip lifts as a load of M over the overhang does.

    >>> beam = analyse_beam(120.0, [0.0, 96.0])
    >>> lift_per_pound(beam, Tip(False, 24.0, 1))
    {0.0: 0.25, 96.0: 0.0}
    """
    at = 0.0 if tip.at_start else analysis.length
    loaded = analyse_beam(analysis.length, analysis.supports, (), [(at, 0.0, 1.0)])
    return {reaction.at: max(0.0, -reaction.least) for reaction in loaded.reactions}


def check_person_at_tip(joist: Member, demand: Demand, wood: Wood, person: Limit) -> list[Check]:
    """Check overhangs in bending under dead load and one person at the tip, no other live load; the worse one speaks.

    Source: AWC DCA6 Table 2 note for the load; ASCE 7-16 4.4; NDS 2018 3.3.
    """
    found = []
    for tip in tips(demand.analysis):
        dead = dead_hogging(demand.analysis, tip.support)
        moment = dead + person.value * tip.overhang
        steps = (
            _dead_step(dead),
            Step("M", "with one person at the tip", "M_D + P a", f"{dead:.5g} + {person.value:g} × {tip.overhang:.5g}",
                 moment, "lb in", person.source),
        )  # fmt: skip
        found.append(_bend(joist.mark, AT_TIP, moment, wood, 1.0, steps, "D + a person"))
    return sorted(found, key=lambda check: check.utilisation or 0.0)[-1:]


def _dead_step(dead: float) -> Step:
    return Step("M_D", "dead load alone, over the last support", "", "", dead, "lb in", STATICS)


def _bend(
    mark: str,
    rule: str,
    moment: float,
    wood: Wood,
    duration: float,
    steps: tuple[Step, ...],
    combination: str,
) -> Check:
    capacity = bending_capacity(wood.adjusted(duration), wood.size)
    lines = (*steps, *capacity.steps)
    return at_most(mark, rule, BENDING, moment, capacity.value, "lb in", lines, combination=combination)


def lever_of_a_lean(plan: Plan, profile: Profile, joist: Member) -> float:
    """Return how high over the middle of a joist a lean on the guard acts [in]."""
    return profile.guard_height.value + plan.materials.decking.thickness + joist.depth / 2


def check_lean(
    plan: Plan, profile: Profile, joist: Member, demand: Demand, wood: Wood, post: GuardPostPlace
) -> Check:
    """Check the joist that a guard post stands against in bending under dead load and a lean on the rail.

    The lean turns the joist's end. On an overhang it adds to the dead load over the last support; else the largest
    dead moment of the span is added to it, which is never too little. Duration as for the post: minutes. No other joist
    shares a moment at one joist's end: C_r is left out.

    Source: IRC Table R301.5, by the profile; statics; NDS 2018 3.3, Table 2.3.2.
    """
    analysis, load, lever = demand.analysis, profile.guard_load, lever_of_a_lean(plan, profile, joist)
    at_start = distance(post.at, joist.start) <= distance(post.at, joist.end)
    tip = next((each for each in tips(analysis) if each.at_start is at_start), None)
    if tip is not None:
        dead, first = dead_hogging(analysis, tip.support), _dead_step(dead_hogging(analysis, tip.support))
    else:
        dead = _dead_sagging(demand)
        first = Step("M_D", "dead load alone, largest in the span", "", "", dead, "lb in", STATICS)
    moment = dead + load.value * lever
    steps = (
        first,
        Step("e", f"from the rail to the middle of the joist, {post.mark}", "h + boards + d/2",
             f"{profile.guard_height.value:g} + {plan.materials.decking.thickness:g} + {joist.depth:g}/2", lever, "in",
             profile.guard_height.source),
        Step("M", "with a lean on the rail", "M_D + P e", f"{dead:.5g} + {load.value:g} × {lever:.5g}", moment, "lb in",
             load.source),
    )  # fmt: skip
    return _bend(joist.mark, LEANING, moment, replace(wood, repetitive=False), DURATION, steps, "D + a lean")


def _dead_sagging(demand: Demand) -> float:
    analysis = demand.analysis
    uniform = [(start, min(end, analysis.length), *parts) for start, end, *parts in demand.uniform]
    points = [(min(at, analysis.length), *parts) for at, *parts in demand.points]
    dead = analyse_beam(analysis.length, analysis.supports, uniform, points, live_factor=0.0)
    return max(0.0, dead.moment_max.value)
