"""Posts notched for their beams: may this one be, what is left of it, what bears in the notch, what the bolts hold."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from deckplan.checks.combinations import combinations, design_load
from deckplan.checks.uplift import LIFTING, lifting_combination, uplift_step
from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import design_values, read_size
from deckplan.engineering.notches import PLATE_FROM, notch_bolts, notch_floor, tongue_left
from deckplan.layout.model import Bearing, Kind, Layout, Member, Post
from deckplan.loads.model import Delivery, Force, Loads
from deckplan.plan.model import BeamLine, Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, Verdict, at_least, at_most, not_applicable

MAY_BE = "post may be notched for its beam"
TONGUE = "notch leaves the post its tongue"
FLOOR = "end grain under the beam in its notch"
BOLTED = "notch bolts against uplift"

END_GRAIN = Source("NDS 2018", "3.10.1, 3.6.3", "from memory")
BOLTS = Source("NDS 2018", "12.3, 12.5.1", "two published copies")
STATICS = Source("statics", "beam reactions, live load where it hurts", "derived")

LEAST_LIFT = 5.0
"""Uplift under this is float and nails [lb]."""

PLY = 1.5
"""Thickness of one ply of two-inch lumber [in]. Source: PS 20."""

WIDER = ("6x6", "8x8")
"""Posts to notch where a plan's are too slender, smallest first."""


def is_notched(line: object) -> bool:
    """Tell whether a support's posts are notched for its beam."""
    return isinstance(line, BeamLine) and line.seat == "notch"


def check_tongue(plan: Plan, profile: Profile, mark: str, size: str) -> list[Check]:
    """Check whether posts may be notched for a beam of a build, and whether enough of them is left beside it.

    mark: of the beam. What the sizing asks of every build for a line of notched posts.
    """
    post, least = read_size(plan.materials.post), read_size(profile.post_notch_size.value)
    side, source, tongue = (
        min(post.thickness, post.depth),
        profile.post_notch_size.source,
        profile.post_notch_tongue,
    )
    may = at_least(
        mark, MAY_BE, source, side, min(least.thickness, least.depth), "in",
        reason=f"{mark}: the head of a {post.name} post is too slender to be notched: post caps, or {least.name} posts",
    )  # fmt: skip
    if may.verdict is not Verdict.PASS:
        return [may, not_applicable(mark, TONGUE, tongue.source, f"a {post.name} post is not notched at all")]
    wide = read_size(size).thickness
    left = tongue_left(post.thickness, wide)
    step = Step("t", "left of the post", "b post − b beam", f"{post.thickness:g} − {wide:g}", left, "in",
                tongue.source)  # fmt: skip
    units = plan.units
    reason = (
        f"{mark}, {size}, leaves {format_short(max(left, 0.0), units)} of a {post.name} post, "
        f"{format_short(tongue.value, units)} is asked: {_cures(post.thickness, wide, tongue.value)}"
    )
    return [may, at_least(mark, TONGUE, tongue.source, left, tongue.value, "in", (step,), reason=reason)]


def leaves_tongue(plan: Plan, profile: Profile, size: str) -> bool:
    """Tell whether a beam of a build leaves the plan's posts their tongues: whether the sizing tries it at all."""
    left = tongue_left(read_size(plan.materials.post).thickness, read_size(size).thickness)
    return left >= profile.post_notch_tongue.value - 1e-9


def _cures(post: float, wide: float, tongue: float) -> str:
    """Say what would leave the tongue: fewer plies, wider posts, caps."""
    cures = []
    plies = math.floor((post - tongue) / PLY + 1e-9)
    if plies > 1:
        cures.append(f"{plies} plies at most")
    cures += [
        f"{name} posts"
        for name in WIDER
        if read_size(name).thickness > post and tongue_left(read_size(name).thickness, wide) >= tongue - 1e-9
    ]
    return ", ".join([*cures, "or post caps"])


def check_seats(plan: Plan, profile: Profile, layout: Layout, loads: Loads) -> list[Check]:
    """Check every notched post: its end grain under the beam, and its bolts where live load lifts the beam.

    What has too thin a tongue is no notch, which `check_tongue` has said.
    """
    found: list[Check] = []
    least = profile.post_notch_tongue.value - 1e-9
    for post in layout.posts:
        if post.notch is not None and post.height > 0 and post.tongue >= least:
            seated = list(seated_on(layout, loads, post))
            if seated:
                found.append(_floor(plan, post, seated))
            for beam, bearing, delivery in seated:
                if delivery.force.uplift > LEAST_LIFT:
                    found.append(_bolted(plan, post, beam, bearing, delivery.force))
    return found


def seated_on(layout: Layout, loads: Loads, post: Post) -> Iterator[tuple[Member, Bearing, Delivery]]:
    """Yield the beams in a post's notch, each with its bearing and its force: one, or two where they are spliced."""
    for delivery in loads.onto.get(post.mark, ()):
        member = layout.by_mark[delivery.upper]
        if not isinstance(member, Member) or member.kind is not Kind.BEAM:
            continue
        for bearing in member.bearings:
            if bearing.on == post.mark and bearing.manner in ("notch", "splice"):
                yield member, bearing, delivery
                break


def _floor(plan: Plan, post: Post, seated: list[tuple[Member, Bearing, Delivery]]) -> Check:
    """Check the end grain of a post over the floor of its notch, all pieces of the beam together."""
    assert post.notch is not None
    size = read_size(post.size)
    values = design_values(plan.materials.species, plan.materials.grade, size)
    total = Force()
    for _, _, delivery in seated:
        total = total + delivery.force
    length = min(post.width, sum(bearing.length for _, bearing, _ in seated))
    tried = []
    for combination in combinations(total.snow_most > 0):
        allowed = adjusted(
            values, size, Service(combination.duration, wet=True, incised=plan.materials.incised)
        )
        capacity = notch_floor(allowed, post.notch.depth, length)
        load = design_load(total, combination)
        first = Step("P", f"load in the notch, {combination.name}", "", "", load, "lb", STATICS)
        check = at_most(
            post.mark, FLOOR, END_GRAIN, load, capacity.value, "lb", (first, *capacity.steps),
            combination=combination.name,
            reason=f"{post.mark}: the end grain in the notch is crushed: closer posts, wider posts, or post caps",
        )  # fmt: skip
        tried.append(check)
    return _with_plate(max(tried, key=lambda check: check.utilisation or 0.0))


def _with_plate(check: Check) -> Check:
    """Ask for a metal plate where the end grain is worked hard."""
    if check.verdict is not Verdict.PASS or (check.utilisation or 0.0) <= PLATE_FROM:
        return check
    share = f"{check.utilisation or 0.0:.0%} of what its end grain takes"
    return replace(
        check, reason=f"required: a metal plate on the floor of {check.mark}'s notch, worked to {share}"
    )


def _bolted(plan: Plan, post: Post, beam: Member, bearing: Bearing, force: Force) -> Check:
    """Check the two bolts of a piece against the uplift of its overhang."""
    size = read_size(beam.size)
    wood = plan.materials
    beam_G, post_G = (
        design_values(wood.species, wood.grade, each).G for each in (size, read_size(post.size))
    )
    held, faults = notch_bolts(beam_G, post_G, size.thickness, size.depth, post.tongue, bearing.length)
    pull = force.uplift
    first = uplift_step(LIFTING, force.dead - force.least, force.dead, pull)
    steps = (first, *held.steps)
    cure = "a post cap or a strap rated for the uplift"
    if faults:
        reason = f"{beam.mark} on {post.mark}: {'; '.join(faults)}: {cure}"
        return Check(beam.mark, BOLTED, BOLTS, pull, None, "lb", Verdict.FAIL, steps, reason=reason)
    return at_most(
        beam.mark, BOLTED, BOLTS, pull, held.value, "lb", steps, combination=lifting_combination(force.dead),
        reason=f"{beam.mark} is lifted off {post.mark} by more than two bolts in the tongue hold: {cure}",
    )  # fmt: skip
