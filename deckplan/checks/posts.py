"""Checks of posts: the column sum, the prescriptive height caps, and the brace that a tall deck asks for."""

from __future__ import annotations

from deckplan.checks.combinations import Combination, combinations
from deckplan.checks.printed_posts import check_printed_height
from deckplan.engineering.columns import post_capacity, post_utilisation
from deckplan.engineering.factors import MOST_SLENDER_COLUMN, Service, adjusted
from deckplan.engineering.lumber import DesignValues, Size, design_values, read_size
from deckplan.errors import RangeError
from deckplan.layout.joist_pieces import HANGER_SEAT
from deckplan.layout.model import Layout, Member, Post
from deckplan.loads.model import Force, Loads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, Verdict, at_most, outside

COLUMN = Source("NDS 2018", "3.7.1", "two published copies")
SLENDER = Source("NDS 2018", "3.7.1.4", "two published copies")
SIDE = Source("NDS 2018", "3.9.2, 15.4.1", "from memory")
STATICS = Source("statics", "beam reactions, live load where it hurts", "derived")


def check_posts(plan: Plan, profile: Profile, layout: Layout, loads: Loads) -> list[Check]:
    """Check every post."""
    found: list[Check] = []
    for post in layout.posts:
        if post.height > 0:
            arriving = loads.onto.get(post.mark, ())
            hung = [d.force for d in arriving if _hangs(layout, d.upper, post.mark)]
            beside = Force()
            for force in hung:
                beside = beside + force
            found += check_post(plan, profile, post, loads.posts[post.mark], beside)
            found.append(check_printed_height(plan, post, layout, loads))
    return found


def _hangs(layout: Layout, upper: str, post: str) -> bool:
    member = layout.by_mark[upper]
    return isinstance(member, Member) and any(b.on == post and b.manner == "hanger" for b in member.bearings)


def design_load(force: Force, combination: Combination) -> float:
    """Return the load [lb] of a combination, live and snow only where they add."""
    return (
        force.dead * combination.dead
        + force.live_most * combination.live
        + force.snow_most * combination.snow
    )


def check_post(plan: Plan, profile: Profile, post: Post, force: Force, beside: Force) -> list[Check]:
    """Check one post: slenderness, strength as a column pinned at both ends, height cap.

    beside: the part of its load that hangs on a face instead of standing on its top.
    """
    size = read_size(post.size)
    values = design_values(plan.materials.species, plan.materials.grade, size)
    side = min(size.thickness, size.depth)
    slender = post.height / side
    line = Step(
        "le/d", "height over the thinner side", "", f"{post.height:.5g} / {side:g}", slender, "1", SLENDER
    )
    found = [at_most(post.mark, "slenderness", SLENDER, slender, MOST_SLENDER_COLUMN, "1", (line,))]
    if slender <= MOST_SLENDER_COLUMN:
        tried = [
            _column(plan, post, size, values, force, beside, combination)
            for combination in combinations(force.snow_most > 0)
        ]
        found.append(max(tried, key=lambda check: check.utilisation or 0.0))
    found.append(_height_cap(profile, post))
    return found


def _column(
    plan: Plan,
    post: Post,
    size: Size,
    values: DesignValues,
    force: Force,
    beside: Force,
    combination: Combination,
) -> Check:
    """Check a post under one combination; a load on its face bends it as well."""
    service = Service(combination.duration, wet=True, incised=plan.materials.incised)
    allowed = adjusted(values, size, service)
    load, hung = design_load(force, combination), design_load(beside, combination)
    first = Step("P", f"load on the post, {combination.name}", "", "", load, "lb", STATICS)
    if hung <= 0:
        capacity = post_capacity(allowed, size, post.height)
        steps = (first, *capacity.steps)
        return at_most(
            post.mark,
            "post as a column",
            COLUMN,
            load,
            capacity.value,
            "lb",
            steps,
            combination=combination.name,
        )
    off = size.thickness / 2 + HANGER_SEAT / 2
    part = Step("P side", f"of it hung on a face, {off:g} in off the middle", "", "", hung, "lb", STATICS)
    try:
        used, steps = post_utilisation(allowed, size, post.height, load - hung, hung, off)
    except RangeError as error:
        return Check(
            post.mark, "post as a column, loaded at its side", SIDE, None, None, "", Verdict.FAIL, (first, part),
            reason=str(error),
        )  # fmt: skip
    return at_most(
        post.mark, "post as a column, loaded at its side", SIDE, used, 1.0, "1", (first, part, *steps),
        combination=combination.name,
    )  # fmt: skip


def _height_cap(profile: Profile, post: Post) -> Check:
    rule = "prescriptive post height"
    cap = profile.post_height_caps.get(post.size)
    if cap is None:
        source = next(iter(profile.post_height_caps.values())).source
        return outside(
            post.mark, rule, source, f"no table height for a {post.size} post", demand=post.height, unit="in"
        )
    return at_most(
        post.mark, rule, cap.source, post.height, cap.value, "in",
        reason=f"{post.mark} is {post.height:.4g} in high, the table stops at {cap.value:g} in for a {post.size}",
    )  # fmt: skip
