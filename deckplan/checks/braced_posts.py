"""Knee braces and the posts that they bend, under people who sway in step: what the guide's braces come to by a sum.

::

    people sway: q A, shared by the braced posts
    --> ========================
          /|                |\\        Each post is pinned at its foot and at its beam. The brace holds it below the
         / | k            k | \\       beam, so that it bends there by P (h - k) while it carries its load.
           | h              |
           o                o

No code states a sideways push of people on decks; the one that tests measured is taken here. What it breaks is for an
engineer, it is no FAIL; wind and earthquakes are not counted, nor how a brace along a beam bends that beam.
"""

from __future__ import annotations

from collections.abc import Sequence

from deckplan.checks.guards import DURATION
from deckplan.engineering.answers import Capacity
from deckplan.engineering.braces import knee_brace, overturning
from deckplan.engineering.columns import post_capacity
from deckplan.engineering.combined import compression_and_bending
from deckplan.engineering.factors import AdjustedValues, Service, adjusted, column_buckling_stress
from deckplan.engineering.lumber import Size, design_values, read_size
from deckplan.errors import RangeError
from deckplan.geometry import area, distance
from deckplan.layout.model import Kind, Layout, Member, Post
from deckplan.layout.parts import Part, braces_hold, find_parts
from deckplan.levels.model import Levels
from deckplan.loads.model import Loads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, Verdict, at_most, outside

SWAY = 12.0
"""Sideways push of people who sway in step, over the area they stand on [psf]: an assumption. Source: SWAY_TESTS."""

SWAY_TESTS = Source(
    "Tests of decks under swaying people, reported in a structural engineering magazine, January 2014",
    "12 psf of deck, no code states one",
    "two published reports of it",
)
INTERACTION = Source("NDS 2018", "3.9.2", "two published copies")
COMPRESSION = Source("NDS 2018", "3.7.1", "two published copies")
STATICS = Source("statics", "portal with knee braces", "derived")

POST_RULE = "braced post under people who sway"
BRACE_RULE = "knee brace under people who sway"
COMBINATION = "D + L + sway"

IN_EACH_OTHER = 5.5
"""Posts whose middles lie this close stand in one another [in]: the common sizes are 3-1/2 and 5-1/2 in across."""


def check_braced_posts(
    plan: Plan, profile: Profile, levels: Levels, layout: Layout, loads: Loads
) -> list[Check]:
    """Check the worst braced post and the worst brace of every part that has knee braces."""
    braces = [m for m in layout.members if m.kind is Kind.BRACE]
    if not braces:
        return []
    found: list[Check] = []
    for part in find_parts(plan, levels, layout):
        names = {platform.name for platform in part.platforms}
        own = [brace for brace in braces if brace.platform in names]
        # braces that do not hold the part are no share of a sum: its lateral check says so
        if part.wants_braces(profile) and braces_hold(own):
            found += _check_part(plan, part, own, loads)
    return found


def _check_part(plan: Plan, part: Part, braces: Sequence[Member], loads: Loads) -> list[Check]:
    held = {
        post: brace for post in part.posts for brace in braces
        if brace.end == post.at and brace.platform == post.platform
    }  # fmt: skip
    square_feet = sum(abs(area(platform.outline)) for platform in part.platforms) / 144
    if any(post.stands_on for post in part.posts):
        mark = part.platforms[0].name
        reason = f"{part.named}: one level stands on another, how they sway together is for an engineer"
        return [outside(mark, POST_RULE, SWAY_TESTS, reason)]
    push = SWAY * square_feet / len(held)
    lead = Step(
        "P", f"share of each of {len(held)} braced posts in {square_feet:.5g} sq ft", "q A / n",
        f"{SWAY:g} × {square_feet:.5g} / {len(held)}", push, "lb", SWAY_TESTS,
    )  # fmt: skip
    posts, struts = [], []
    for post, brace in held.items():
        # those that stand in one another fail for it, and push nothing over to each other
        apart = min(away for other in held if (away := distance(post.at, other.at)) > IN_EACH_OTHER)
        posts.append(_post(plan, post, brace, push, apart, loads, lead))
        struts.append(_brace(plan, post, brace, push, lead))
    return [max(each, key=lambda check: check.utilisation or float("inf")) for each in (posts, struts)]


def _post(
    plan: Plan, post: Post, brace: Member, push: float, apart: float, loads: Loads, lead: Step
) -> Check:
    """Check one post in bending and compression at the foot of its brace."""
    size = read_size(post.size)
    allowed = _wood(plan, size)
    bent = knee_brace(push, post.height, brace.drop, brace.length)
    force = loads.posts[post.mark]
    gravity = force.dead + force.live_most
    turning = overturning(push, post.height, apart)
    beside = f"2 × {push:.5g} × {post.height:.5g} / {apart:.5g}"
    side = min(size.thickness, size.depth)
    slender = post.height / side
    FcE = column_buckling_stress(allowed.Emin, slender)
    fc, fb = (gravity + turning) / size.area, bent.post_moment / size.section_modulus
    steps = (
        lead,
        *(step for step in bent.steps if step.symbol == "M"),
        Step("N", "load on the post, with what the other post's foot hands over", "D + L + 2 P h / s",
             f"{gravity:.5g} + {beside}", gravity + turning, "lb", STATICS),
        Step("fc", "compression", "N / A", f"{gravity + turning:.5g} / {size.area:.5g}", fc, "psi", STATICS),
        Step("fb", "bending", "M / S", f"{bent.post_moment:.5g} / {size.section_modulus:.5g}", fb, "psi", STATICS),
    )  # fmt: skip
    reason = (
        f"{post.mark} would be overstressed at its knee brace by people who sway in step ({SWAY:g} psf by tests, "
        f"no code states it): an engineer designs the bracing, or crossed braces down to the feet take its place"
    )
    try:
        column: Capacity = post_capacity(allowed, size, post.height)
        Fc = column.value / size.area
        used = compression_and_bending(fc, Fc, FcE, fb, allowed.Fb)
    except RangeError:
        return outside(post.mark, POST_RULE, INTERACTION, reason, steps=steps)
    last = Step(
        "", "use in compression and bending", "(fc/Fc')² + fb / (Fb' (1 − fc/FcE))",
        f"({fc:.4g}/{Fc:.4g})² + {fb:.4g} / ({allowed.Fb:.4g} × (1 − {fc:.4g}/{FcE:.5g}))", used, "1", INTERACTION,
    )  # fmt: skip
    lines = (*steps, *column.steps, allowed.steps["Fb"], last)
    if used > 1.0:
        return outside(
            post.mark, POST_RULE, INTERACTION, reason, demand=used, capacity=1.0, unit="1", steps=lines
        )
    return at_most(post.mark, POST_RULE, INTERACTION, used, 1.0, "1", lines, combination=COMBINATION)


def _brace(plan: Plan, post: Post, brace: Member, push: float, lead: Step) -> Check:
    """Check one brace in compression, and state what the fastening of its ends must take."""
    size = read_size(brace.size)
    forces = knee_brace(push, post.height, brace.drop, brace.length)
    holds = post_capacity(_wood(plan, size), size, forces.length)
    lines = (lead, *(step for step in forces.steps if step.symbol in ("H", "N")), *holds.steps)
    if forces.axial > holds.value:
        reason = f"{brace.mark} buckles under people who sway in step ({SWAY:g} psf by tests): an engineer's matter"
        return outside(
            brace.mark,
            BRACE_RULE,
            COMPRESSION,
            reason,
            demand=forces.axial,
            capacity=holds.value,
            unit="lb",
            steps=lines,
        )
    required = f"required: both ends of {brace.mark} and of every brace like it are fastened for {forces.axial:.0f} lb"
    return Check(
        brace.mark, BRACE_RULE, COMPRESSION, forces.axial, holds.value, "lb", Verdict.PASS, lines, False, "sway",
        required,
    )  # fmt: skip


def _wood(plan: Plan, size: Size) -> AdjustedValues:
    """Return the adjusted values of a size under a load of minutes at most."""
    values = design_values(plan.materials.species, plan.materials.grade, size)
    return adjusted(values, size, Service(DURATION, wet=True, incised=plan.materials.incised))
