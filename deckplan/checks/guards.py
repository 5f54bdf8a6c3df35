"""Checks of guards: the post that 200 lb at the rail bend, where a guard is required."""

from __future__ import annotations

from collections import Counter

from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import design_values, read_size
from deckplan.engineering.stairs import guard_post_use
from deckplan.geometry import distance
from deckplan.layout.guard_posts import forces_of_a_lean
from deckplan.layout.holes import LID
from deckplan.layout.model import Kind, Layout
from deckplan.levels.model import Note
from deckplan.loads.model import Loads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_length, format_short
from deckplan.verdict import Check, Source, at_most

BENDING = Source("NDS 2018", "3.3; load by IRC Table R301.5", "two published copies")

GUARD_POST = "4x4"
"""Guard posts that the layout stands. Source: common practice."""

DURATION = 1.6
"""C_D of a person leaning on a rail, minutes at most. Source: NDS 2018 Table 2.3.2, ten minutes; common practice."""


def check_guards(plan: Plan, profile: Profile, layout: Layout) -> list[Check]:
    """Check the guard post of every platform that needs a guard: one post stands for all."""
    found: list[Check] = []
    size = read_size(GUARD_POST)
    for platform in plan.platforms:
        first = next((post for post in layout.guard_posts if post.platform == platform.name), None)
        if first is None:
            continue
        values = design_values(plan.materials.species, plan.materials.grade, size)
        allowed = adjusted(values, size, Service(DURATION, wet=True, incised=plan.materials.incised))
        forces = forces_of_a_lean(plan, layout.of(platform.name, Kind.JOIST)[0].depth, profile)
        use, steps = guard_post_use(allowed, size.thickness, size.depth, forces.moment)
        found.append(
            at_most(first.mark, "guard post in bending", BENDING, use, 1.0, "1", (*forces.steps, *steps))
        )
    return found


def guard_notes(plan: Plan, profile: Profile, layout: Layout) -> tuple[Note, ...]:
    """Say what the connectors of the guard posts must take, and what the rules add to the guards' height."""
    if not layout.guard_posts:
        return ()
    alike = Counter(f"{post.connector:.0f}" for post in layout.guard_posts)
    count = len(layout.guard_posts)
    each = ", ".join(f"{many} of {pounds} lb or more" for pounds, many in sorted(alike.items(), key=_pounds))
    text = (
        f"{count} guard post{'s' * (count > 1)}: each wants a tension connector at its upper fastener, into a joist or "
        f"blocking, not into the rim alone: {each}"
    )
    height, units = profile.guard_height, plan.units
    if not height.note:
        return (Note("advice", text),)
    drop = max((stretch.drop for stretch in layout.guards if stretch.required), default=0.0)
    more = (
        f"guards are {format_short(height.value, units)} high here, over drops of up to {format_length(drop, units)}; "
        f"the rules add: {height.note} ({height.source})"
    )
    return (Note("advice", text), Note("ask", more))


def _pounds(item: tuple[str, int]) -> float:
    return float(item[0])


RAILS = 10.0
"""What a wooden guard with its rails weighs [lb/ft]; glass and steel weigh more. Source: common practice."""


def weight_notes(plan: Plan, layout: Layout, loads: Loads) -> tuple[Note, ...]:
    """Say where the dead load has no room for the guards that stand on a level: they are not counted apart."""
    found = []
    for platform in plan.platforms:
        own = [g for g in layout.guards if g.platform == platform.name and g.required]
        feet = sum(distance(guard.start, guard.end) for guard in own) / 12
        load = loads.areas[platform.name]
        boards, frame = load.steps[0].value, load.steps[1].value
        left = max(0.0, load.dead - boards - frame) * load.area
        if RAILS * feet > left:
            found.append(f'"{platform.name}" wants {RAILS * feet:.0f} lb and has {left:.0f} lb')
    if not found:
        return ()
    text = (
        f"guards weigh about {RAILS:g} plf and are not counted apart; the dead load leaves less over boards and frame: "
        f"{', '.join(found)}; a greater weight of the boards (materials.decking.weight) counts them"
    )
    return (Note("ask", text),)


def hole_notes(plan: Plan) -> tuple[Note, ...]:
    """Say what is assumed of openings that have a lid: nothing guards them."""
    found = []
    for platform in plan.platforms:
        for number, opening in enumerate(platform.openings, start=1):
            if LID.search(opening.kind):
                words = (
                    f'opening {number} of "{platform.name}" is a {opening.kind}: it is taken as closed by a lid that '
                    f"carries what the deck carries and cannot be left open unguarded"
                )
                found.append(Note("ask", words))
    return tuple(found)
