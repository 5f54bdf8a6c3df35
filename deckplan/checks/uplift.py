"""Uplift: where a load on an overhang lifts a member off its other end, what must hold it down.

::

      P, or a lean            tie
         |  ..............     ^
         v                     |      joist -> beam -> post -> footing: the pull goes down the same way, and ends
    ======================================     at the weight of a footing.
               ^               back

Live load all over an overhang is followed down to the footings. One person at a tip, or one who leans on a guard, is
followed to the joist's own tie only: on the next posts dead load outweighs most of it, what is left there is not asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from deckplan.checks.footings import LEAST_UPLIFT, FootingDesign
from deckplan.checks.tip_loads import Tip, lever_of_a_lean, lift_per_pound, tips
from deckplan.engineering.concrete import uplift_capacity
from deckplan.geometry import distance
from deckplan.layout.model import Kind, Layout, Member
from deckplan.loads.model import Delivery, Force, Loads, dead_share
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, Verdict, at_most

RULE = "tie against uplift"
HELD = "footing's weight against uplift"
SOURCE = Source("IRC 2018", "R507.8", "two published copies")
LIFTING = "live load where it lifts"
STATICS = Source("ASCE 7-16", "2.4.1: 0.6 D with live load where it lifts", "from memory")


@dataclass(frozen=True, slots=True)
class Pull:
    """What pulls a bearing up.

    force [lb]: after 0.6 of the dead load, or with all of one that lifts too; load [lb]: what lifts; each [1]: its
    share that arrives here; dead [lb]: what dead load alone puts here; words: what lifts; short: the same in a
    combination's name.
    """

    force: float
    load: float
    each: float
    dead: float
    words: str
    short: str

    @property
    def combination(self) -> str:
        """The load combination."""
        return lifting_combination(self.dead, self.short)

    @property
    def line(self) -> Step:
        """The sum."""
        return uplift_step(self.words, self.load, self.dead, self.force, self.each)


def lifting_combination(dead: float, short: str = "L") -> str:
    """Return the name of the combination that lifts most beside a dead load [lb]."""
    return f"0.6 D + {short}" if dead > 0 else f"D + {short}"


def uplift_step(words: str, load: float, dead: float, force: float, each: float = 1.0) -> Step:
    """Return the sum behind a pull [lb]: a share [1] of a load [lb], less what counts of the dead load [lb]."""
    share, times = ("", "L") if each == 1.0 else (f"{each:.4g} × ", "c P")
    if dead > 0:
        less, formula = "less 0.6 of the dead load", f"{times} − 0.6 D"
        numbers = f"{share}{load:.4g} − 0.6 × {dead:.4g}"
    else:
        less, formula, numbers = (
            "with the dead load, which lifts too",
            f"{times} − D",
            f"{share}{load:.4g} − {dead:.4g}",
        )
    return Step("U", f"uplift: {words}, {less}", formula, numbers, force, "lb", STATICS)


def check_uplift(
    plan: Plan, profile: Profile, layout: Layout, loads: Loads, footings: Sequence[FootingDesign]
) -> list[Check]:
    """Return a stated requirement for every bearing that is lifted, then the footings' weight against what lifts them.

    All joists on one support are said once, for the largest pull.
    """
    lifted = find_lifted(plan, profile, layout, loads)
    ties = [_tie(*key, delivery, pull) for key, (delivery, pull) in lifted.items()]
    return [*ties, *_held(loads, footings)]


def find_lifted(
    plan: Plan, profile: Profile, layout: Layout, loads: Loads
) -> dict[tuple[str, str], tuple[Delivery, Pull]]:
    """Return the bearings that are lifted, by what is tied ("joists" for all of them) and the mark it is tied to."""
    leans = _leaned_on(layout)
    known: Lifts = {}
    most: dict[tuple[str, str], tuple[Delivery, Pull]] = {}
    for delivery in loads.deliveries:
        upper = layout.by_mark[delivery.upper]
        if not isinstance(upper, Member):
            continue  # a post that stands on a frame: its foot is held there by a check of its own
        pull = max(_pulls(plan, profile, upper, loads, delivery, leans, known), key=lambda each: each.force)
        # one tie serves all joists on a support
        key = ("joists" if upper.kind is Kind.JOIST else upper.mark, delivery.lower)
        if pull.force > LEAST_UPLIFT and (key not in most or pull.force > most[key][1].force):
            most[key] = (delivery, pull)
    return most


def _tie(what: str, lower: str, delivery: Delivery, pull: Pull) -> Check:
    """State what a tie must hold; of joists the hardest pulled speaks for all on that support."""
    reason = f"required: {delivery.upper} is tied down to {lower} for {pull.force:.0f} lb or more"
    if what == "joists":
        reason += ", and so is every joist there"
    return Check(
        delivery.upper, RULE, SOURCE, pull.force, None, "lb", Verdict.PASS, (pull.line,), False, pull.combination,
        reason,
    )  # fmt: skip


Lifts = dict[str, list[tuple[Tip, dict[float, float]]]]
"""What a pound at each tip of a joist lifts, by the mark that speaks for all joists like it."""


def _pulls(
    plan: Plan,
    profile: Profile,
    upper: Member,
    loads: Loads,
    delivery: Delivery,
    leans: set[tuple[str, bool]],
    known: Lifts,
) -> list[Pull]:
    """Return what lifts a bearing: live load in the worst pattern; of a joist also one load at an overhang's tip."""
    force = delivery.force
    found: list[Pull] = [Pull(force.uplift, force.dead - force.least, 1.0, force.dead, LIFTING, "L")]
    if upper.kind is not Kind.JOIST:
        return found
    demand = loads.demands[upper.mark]
    if demand.like not in known:
        known[demand.like] = [(tip, lift_per_pound(demand.analysis, tip)) for tip in tips(demand.analysis)]
    for tip, lifts in known[demand.like]:
        each = lifts.get(round(delivery.at, 6), 0.0)
        if each <= 0:
            continue
        person = profile.overhang_tip_load.value
        found.append(_at_tip(each, person, force.dead, "one person at the tip", "a person"))
        if (upper.mark, tip.at_start) in leans:
            alike = profile.guard_load.value * lever_of_a_lean(plan, profile, upper) / tip.overhang
            words = f"a lean on the guard, {profile.guard_load.value:g} lb by its lever over the overhang"
            found.append(_at_tip(each, alike, force.dead, words, "a lean"))
    return found


def _at_tip(each: float, load: float, dead: float, words: str, short: str) -> Pull:
    return Pull(each * load - dead_share(dead) * dead, load, each, dead, words, short)


def _leaned_on(layout: Layout) -> set[tuple[str, bool]]:
    """Return the joists that guard posts stand against, each with whether it is at its start."""
    found = set()
    for post in layout.guard_posts:
        joist = layout.by_mark.get(post.against)
        if isinstance(joist, Member):
            found.add((joist.mark, distance(post.at, joist.start) <= distance(post.at, joist.end)))
    return found


def _held(loads: Loads, footings: Sequence[FootingDesign]) -> list[Check]:
    """Check that a footing, cast to its full depth, is heavy enough for what lifts its post; soil is not counted."""
    found = []
    for footing in footings:
        forces = [loads.posts[mark] for mark in footing.posts]
        force, marks = sum(forces, Force()), " and ".join(footing.posts)
        if force.uplift <= LEAST_UPLIFT:
            continue
        pull, holds = force.uplift, uplift_capacity(footing.diameter, footing.top - footing.bottom, "round")
        line = uplift_step(f"{marks} under {LIFTING}", force.dead - force.least, force.dead, pull)
        heavy = (
            f"{footing.mark} weighs too little for {pull:.0f} lb of uplift: "
            f"a wider or deeper pier, a shorter overhang, or a post that carries more"
        )
        check = at_most(
            footing.mark, HELD, STATICS, pull, holds.value, "lb", (line, *holds.steps), reason=heavy,
            combination=lifting_combination(force.dead),
        )  # fmt: skip
        if check.verdict is Verdict.PASS:
            tie = f"required: {marks} is tied to its beam above and to {footing.mark} below for {pull:.0f} lb"
            check = replace(check, reason=tie)
        found.append(check)
    return found
