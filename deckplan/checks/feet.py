"""Posts that stand on a lower frame: what the wood under their feet takes, and what must hold them there."""

from __future__ import annotations

from dataclasses import replace

from deckplan.checks.combinations import combinations, design_load
from deckplan.engineering.bending import bearing_capacity
from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import Size, design_values, read_size
from deckplan.layout.model import Layout, Member, Post
from deckplan.loads.model import Loads
from deckplan.loads.path import place_on
from deckplan.plan.model import Plan
from deckplan.verdict import Check, Source, Step, Verdict, at_most

CRUSHING = Source("NDS 2018", "3.10.2", "two published copies")
STATICS = Source("statics", "what the post carries, live load where it hurts", "derived")
HELD = Source("IRC 2018", "R407.3: restrained against moving sideways at the bottom", "from memory")
BELOW = "wood under the post's foot"
FIXED = "post's foot held on the frame"


def check_feet(plan: Plan, layout: Layout, loads: Loads) -> list[Check]:
    """Check the foot of every post that stands on a lower platform's frame.

    The same width of wood goes down to the beam: blocks as wide as the beam on a drop beam, the beam itself where it
    is flush, the joist alone where no beam lies under the post.
    """
    found: list[Check] = []
    for post in layout.posts:
        if post.stands_on:
            below = layout.by_mark[post.stands_on]
            assert isinstance(below, Member)
            found += _check_foot(plan, post, below, loads)
    return found


def _check_foot(plan: Plan, post: Post, below: Member, loads: Loads) -> list[Check]:
    size = read_size(below.size)
    width = min(post.width, size.thickness)
    values = design_values(plan.materials.species, plan.materials.grade, size)
    force = next(delivery.force for delivery in loads.out_of[post.mark])
    place = place_on(below, post, 0.0)
    # at the very end of what carries it only part of the foot stands on wood
    low, high = max(0.0, place - post.width / 2), min(below.length, place + post.width / 2)
    long, to_end = high - low, min(low, below.length - high)
    tried = []
    for combination in combinations(force.snow_most > 0):
        service = Service(combination.duration, wet=True, incised=plan.materials.incised)
        capacity = bearing_capacity(adjusted(values, size, service), _as_wide(size, width), long, to_end)
        load = design_load(force, combination)
        step = Step(
            "P", f"load of {post.mark} and its weight, {combination.name}", "", "", load, "lb", STATICS
        )
        reason = (
            f"{post.mark} crushes the wood below it: {load:.0f} lb on {width:g} by {long:.4g} in of {below.mark}; "
            f"more plies below, or more posts"
        )
        tried.append(
            at_most(
                post.mark, BELOW, CRUSHING, load, capacity.value, "lb", (step, *capacity.steps),
                combination=combination.name, reason=reason,
            )
        )  # fmt: skip
    pull = force.uplift
    lift = f" and against {pull:.0f} lb of uplift" if pull > 0 else ""
    reason = (
        f"required: the foot of {post.mark} is fixed to {below.mark} against moving sideways{lift}, "
        f"on the wood and not on the boards"
    )
    held = Check(post.mark, FIXED, HELD, None, None, "", Verdict.PASS, (), False, "", reason)
    return [max(tried, key=lambda check: check.utilisation or 0.0), held]


def _as_wide(size: Size, width: float) -> Size:
    """Return a single piece as wide as what bears [in]: a foot narrower than the beam stands on part of its plies."""
    return replace(size, plies=1, ply_thickness=width) if width < size.thickness - 1e-9 else size
