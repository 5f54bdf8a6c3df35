"""Checks of posts: the column sum, the prescriptive height caps, and the brace that a tall deck asks for."""

from __future__ import annotations

from dataclasses import dataclass, replace

from deckplan.checks.combinations import Combination, combinations, design_load
from deckplan.checks.footings import LEAST_UPLIFT
from deckplan.checks.printed_posts import check_printed_height
from deckplan.engineering.columns import post_capacity, post_utilisation
from deckplan.engineering.factors import MOST_SLENDER_COLUMN, Service, adjusted
from deckplan.engineering.lumber import DesignValues, Size, design_values, read_size
from deckplan.errors import RangeError
from deckplan.geometry import Line, Point, distance
from deckplan.layout.joist_pieces import HANGER_SEAT
from deckplan.layout.model import Layout, Member, Post
from deckplan.loads.model import Force, Loads
from deckplan.loads.path import place_on
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, Verdict, at_most, figure, outside

COLUMN = Source("NDS 2018", "3.7.1", "two published copies")
SLENDER = Source("NDS 2018", "3.7.1.4", "two published copies")
SIDE = Source("NDS 2018", "3.9.2, 15.4.1", "from memory")
STATICS = Source("statics", "beam reactions, live load where it hurts", "derived")

OFF = Source("Geometry", "a notch cut from one face", "derived")

SAME_LINE = 0.01
"""A post this near to a beam's line stands on it [in]."""

SIDE_RULE = "post as a column, loaded at its side"
NOTCH_RULE = "post as a column, loaded off its axis"


@dataclass(frozen=True, slots=True)
class Aside:
    """A part of a post's load that comes in off its axis: words for it, its force, how far off [in]."""

    words: str
    force: Force
    off: float


def check_posts(plan: Plan, profile: Profile, layout: Layout, loads: Loads) -> list[Check]:
    """Check every post."""
    found: list[Check] = []
    for post in layout.posts:
        if post.height > 0:
            found += check_post(plan, profile, post, loads.posts[post.mark], off_axis(layout, loads, post))
            found.append(check_printed_height(plan, post, layout, loads))
    return found


def off_axis(layout: Layout, loads: Loads, post: Post) -> tuple[Aside, ...]:
    """Return what comes in beside a post's axis: beams in its notch, beams hung on a face, all of it at a foot off it.

    A beam that hangs on a face beside the post's axis is off both ways; their sum stands for the post's corner.
    """
    face = read_size(post.size).thickness / 2 + HANGER_SEAT / 2
    notched, parts = Force(), []
    for delivery in loads.onto.get(post.mark, ()):
        member = layout.by_mark[delivery.upper]
        manner = _manner(member, post.mark)
        if manner == "hanger" and isinstance(member, Member):
            aside = beside_line(post.at, member.line)
            words = (
                "hung on a face" if aside < SAME_LINE else f"hung on a face, {aside:.3g} in aside of the axis"
            )
            parts.append(Aside(words, delivery.force, face + (0.0 if aside < SAME_LINE else aside)))
            continue
        if post.notch is not None and manner in ("notch", "splice"):
            notched = notched + delivery.force
        if isinstance(member, Member) and (past := _past_end(member, post, manner)) > SAME_LINE:
            parts.append(Aside("under the very end of its beam", delivery.force, past / 2))
    beside, past_foot = foot_off(layout, post)
    if post.off_axis > 0 and notched != Force():
        parts.insert(0, Aside("in the notch", notched, post.off_axis))
        if _stands_along(layout, post) and beside <= post.off_axis + SAME_LINE:
            beside = 0.0  # the sum puts the notch's moment in at both ends: the foot's is no more
    if beside + past_foot > SAME_LINE:
        words = "at its foot, which stands beside the middle of what carries it"
        parts.append(Aside(words, loads.posts[post.mark], beside + past_foot))
    return tuple(parts)


def foot_off(layout: Layout, post: Post) -> tuple[float, float]:
    """Return how far from a post's axis the middle of what its foot bears on lies [in]: nothing of one with a footing.

    First across the member below, where that runs beside the axis; then along it, where the foot reaches past its end.
    """
    below = layout.by_mark.get(post.stands_on)
    if not isinstance(below, Member):
        return 0.0, 0.0
    place = place_on(below, post, 0.0)
    past = max(0.0, post.width / 2 - min(place, below.length - place))
    return beside_line(post.at, below.line), past / 2


def _stands_along(layout: Layout, post: Post) -> bool:
    """Tell whether a notched post's beam runs along what it stands on, so that both are off the same axis."""
    below = layout.by_mark.get(post.stands_on)
    if not isinstance(below, Member) or post.notch is None:
        return False
    (x0, y0), (x1, y1) = below.line
    return abs((x1 - x0) * post.notch.way[0] + (y1 - y0) * post.notch.way[1]) <= SAME_LINE * below.length


def _past_end(beam: Member, post: Post, manner: str) -> float:
    """Return how much of a post's width lies past the very end of its beam [in]; two pieces at a splice fill it."""
    lengths = [bearing.length for bearing in beam.bearings if bearing.on == post.mark]
    return post.width - lengths[0] if manner in ("cap", "notch") and lengths else 0.0


def beside_line(point: Point, line: Line) -> float:
    """Return how far a point lies beside a straight line that goes on beyond its ends [in]."""
    (x0, y0), (x1, y1) = line
    return abs((point[0] - x0) * (y1 - y0) - (point[1] - y0) * (x1 - x0)) / distance(*line)


def _manner(member: object, post: str) -> str:
    """Return the manner in which a member bears on a post; nothing for what stands on it otherwise."""
    bearings = member.bearings if isinstance(member, Member) else ()
    return next((bearing.manner for bearing in bearings if bearing.on == post), "")


def check_post(
    plan: Plan, profile: Profile, post: Post, force: Force, aside: tuple[Aside, ...]
) -> list[Check]:
    """Check one post: slenderness, strength as a column pinned at both ends, height cap.

    aside: the parts of its load that come in off its axis.
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
            _column(plan, post, size, values, force, aside, combination)
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
    aside: tuple[Aside, ...],
    combination: Combination,
) -> Check:
    """Check a post under one combination; a load off its axis bends it as well.

    The end moment P e is put in as NDS 15.4.1 writes it, whole, on a post pinned at both ends: what the bolts in a
    tongue and the deck above hold back of it is not counted. Loads off the axis are taken together, their
    eccentricities by their shares. Where a notch puts one off one axis and a hanger another off the other, that is the
    stress in the corner of a square post, and never too little.
    """
    service = Service(combination.duration, wet=True, incised=plan.materials.incised)
    allowed = adjusted(values, size, service)
    load = design_load(force, combination)
    parts = [(part, design_load(part.force, combination)) for part in aside]
    off_load = sum(share for _, share in parts)
    first = Step("P", f"load on the post, {combination.name}", "", "", load, "lb", STATICS)
    if load <= 0:
        capacity = post_capacity(allowed, size, post.height)
        line = Step("P", f"pressed by nothing, {combination.name}: it is lifted", "", "", 0.0, "lb", STATICS)
        lifted = at_most(post.mark, "post as a column", COLUMN, 0.0, capacity.value, "lb", (line, *capacity.steps),
                         combination=combination.name)  # fmt: skip
        return replace(lifted, reason=_lifted(post, load))
    if off_load <= 0:
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
    lines = [
        Step("P off", f"of it {part.words}, {part.off:g} in off the middle", "", "", share, "lb", STATICS)
        for part, share in parts
    ]
    if post.notch is not None and any(part.off == post.off_axis for part in aside):
        numbers = f"({post.width:g} − {post.notch.depth:g}) / 2"
        words = (
            "middle of the notch's floor off the post's axis; what bolts and deck hold back is not counted"
        )
        lines.append(Step("e", words, "(b post − b notch) / 2", numbers, post.off_axis, "in", OFF))
    off = sum(part.off * share for part, share in parts) / off_load
    if len(parts) > 1:
        numbers = f"({' + '.join(f'{share:.5g} × {part.off:g}' for part, share in parts)}) / {off_load:.5g}"
        lines.append(Step("e", "taken together", "Σ P e / Σ P", numbers, off, "in", STATICS))
    rule = SIDE_RULE if any(part.off > size.thickness / 2 for part in aside) else NOTCH_RULE
    try:
        used, steps = post_utilisation(allowed, size, post.height, load - off_load, off_load, off)
    except RangeError as error:
        return Check(
            post.mark, rule, SIDE, None, None, "", Verdict.FAIL, (first, *lines), reason=str(error),
        )  # fmt: skip
    return at_most(
        post.mark, rule, SIDE, used, 1.0, "1", (first, *lines, *steps), combination=combination.name,
    )  # fmt: skip


def _lifted(post: Post, load: float) -> str:
    """Say that a post that all loads together lift is a tie and no column."""
    if load > -LEAST_UPLIFT:
        return f"{post.mark} carries nothing to speak of"
    return (
        f"all loads together lift {post.mark} by {figure(-load)} lb: it is no column but a tie, judged by the checks "
        f"of uplift"
    )


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
