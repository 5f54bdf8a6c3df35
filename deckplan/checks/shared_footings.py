"""One footing under two posts: both loads, the resultant inside its kern, the pressure under its edge.

::

       P1     P2          e: from the middle of the pad to the resultant of both; the pad lies where it is least
        |  :  |           kern of a circle: e up to D / 8, and all of the pad presses on the soil
     ___v__:__v___        q: pressure under the edge, P / A (1 + 8 e / D)
    |______:______|
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from deckplan.checks.footings import (
    LEAST_LOAD,
    LEAST_UPLIFT,
    SOIL,
    WEIGHT,
    WIDEST,
    FootingDesign,
    design_footing,
    own_weight,
    soil_step,
)
from deckplan.checks.pulled import write_volume
from deckplan.engineering.concrete import footing_size, thickness_of, uplift_capacity
from deckplan.errors import RangeError
from deckplan.geometry import Point, distance, middle
from deckplan.layout.model import Layout, Pad, Post
from deckplan.layout.shared_pads import REACH, posts_on
from deckplan.loads.areas import post_weight
from deckplan.loads.model import Loads
from deckplan.plan.model import BeamLine, Plan
from deckplan.rules.profile import Profile
from deckplan.units import Units, format_short
from deckplan.verdict import Check, Source, Step, Verdict, at_least, at_most, outside

KERN_RULE = "resultant inside the kern of a shared footing"
WISH_RULE = "posts share a footing"

KERN = Source("Statics", "kern of a circle, D / 8; no tension under a pad", "derived")
EDGE = Source("Statics", "pressure under the edge of a round pad, P / A + M / S, S = π D³ / 32", "derived")
TABLES = Source("AWC DCA6-2015", "scope: single level, a footing a post", "one published copy")
WIDEST_ADVISED = 36.0
"""One footing for two posts that would be this wide is advised to nobody [in]. Our own choice."""

PRACTICE = Source("common practice", "", "common practice")


@dataclass(frozen=True, slots=True)
class Pattern:
    """One pattern of live load on a footing: what stands on it [lb], how far off its middle [in], in which words.

    at: place of the resultant [in].
    """

    load: float
    off: float
    words: str
    at: Point = (0.0, 0.0)


def design_shared(
    plan: Plan, profile: Profile, pad: Pad, posts: tuple[Post, ...], loads: Loads
) -> tuple[FootingDesign, list[Check]]:
    """Size one round footing under several posts: wide enough for all of them, the soil and the resultant.

    It lies half-way between the resultants of the live load on each post alone: there the kern asks for the least.
    """
    pad = replace(pad, at=_centre(plan, pad, posts, loads))
    forces = [loads.posts[post.mark] for post in posts]
    patterns = tuple(_patterns(plan, pad, posts, loads))
    load = max(pattern.load for pattern in patterns)
    full, soil = sum(force.full for force in forces), plan.site.soil_bearing
    lifted = sum(force.uplift for force in forces)
    wide = max(post.width for post in posts)
    marks = tuple(post.mark for post in posts)
    least = math.ceil(2 * max(distance(post.at, pad.at) + post.width / 2**0.5 for post in posts) - 1e-9)
    try:
        size = footing_size(max(load, LEAST_LOAD), soil, post=wide)
    except RangeError as error:
        words = f"{pad.mark}: {error}: more posts, better soil, or an engineer's footing"
        bare = FootingDesign(
            pad.mark,
            marks[0],
            pad.at,
            float(least),
            pad.top - pad.bottom,
            pad.top,
            pad.bottom,
            full,
            load,
            marks[1:],
        )
        return bare, [outside(pad.mark, "soil pressure", SOIL, words, demand=load, unit="lb")]
    diameter = float(max(size.diameter, least))
    while True:
        # a single post in the middle of the pad would bend it more than two that stand apart
        worst = max(pattern.load * (1 + 8 * pattern.off / diameter) for pattern in patterns)
        thickness = max(size.thickness, thickness_of(max(worst, LEAST_LOAD), diameter, wide))
        bottom = min(pad.bottom, pad.top - thickness)
        own = own_weight(thickness, pad.top - bottom)
        pressed = max(patterns, key=lambda pattern: edge_pressure(pattern, diameter))
        leant = max(patterns, key=lambda pattern: pattern.off)
        light = lifted > max(LEAST_UPLIFT, uplift_capacity(diameter, pad.top - bottom, "round").value)
        fits = edge_pressure(pressed, diameter) + own <= soil and leant.off <= diameter / 8 and not light
        if fits or diameter >= WIDEST:
            break
        diameter += 1.0
    footing = FootingDesign(
        pad.mark, marks[0], pad.at, diameter, thickness, pad.top, bottom, full, load, marks[1:]
    )
    q = max(0.0, edge_pressure(pressed, diameter) + own)
    area = f"(π ({diameter:g}/24)²)"
    pressure = (
        soil_step(plan),
        Step("D least", "wide enough for all its posts", "2 (r + b / √2)", "", float(least), "in", KERN),
        *size.steps,
        Step("P", f"load, {pressed.words}", "", "", pressed.load, "lb", EDGE),
        Step("e", "from the middle of the pad to the resultant", "|Σ P r| / Σ P", "", pressed.off, "in", EDGE),
        Step("w", "own weight: of the pad, or of the pier less the soil it displaces", "", "", own, "psf", WEIGHT),
        Step("q", "pressure under the edge", "P / A (1 + 8 e / D) + w",
             f"{pressed.load:.5g} / {area} × (1 + 8 × {pressed.off:.4g} / {diameter:g}) + {own:.4g}", q, "psf", EDGE),
    )  # fmt: skip
    kern = (
        Step("e", f"to the resultant, {leant.words}", "|Σ P r| / Σ P", "", leant.off, "in", KERN),
        Step("k", "kern", "D / 8", f"{diameter:g} / 8", diameter / 8, "in", KERN),
    )
    alone = [
        design_footing(plan, profile, replace(pad, at=post.at), post.mark, post.width, loads.posts[post.mark],
                       post_weight(plan, post))[0]
        for post in posts
    ]  # fmt: skip
    said = (
        f"{pad.mark} carries {' and '.join(marks)}: no published table covers a footing that levels share; computed: "
        f"{_against(footing, alone, plan.units)}"
    )
    return footing, [
        at_most(pad.mark, "soil pressure", SOIL, q, soil, "psf", pressure),
        at_least(
            pad.mark,
            "depth of the footing",
            profile.footing_depth_min.source,
            pad.top - bottom,
            pad.top - pad.bottom,
            "in",
        ),
        at_most(pad.mark, KERN_RULE, KERN, leant.off, diameter / 8, "in", kern),
        outside(pad.mark, WISH_RULE, TABLES, said),
    ]


def _against(footing: FootingDesign, alone: Sequence[FootingDesign], units: Units) -> str:
    """Say how wide one footing is and how much concrete it takes, against one under each of its posts."""
    wide = " and ".join(format_short(one.diameter, units) for one in alone)
    volume = write_volume(sum(one.concrete for one in alone), units)
    one = (
        f"{format_short(footing.diameter, units)} across, {write_volume(footing.concrete, units)} of concrete"
    )
    return f"{one}; one under each post alone: {wide}, {volume}"


def one_for_two(
    plan: Plan, profile: Profile, layout: Layout, loads: Loads
) -> Callable[[FootingDesign, FootingDesign], str]:
    """Return what says how wide one footing for two is against those two; nothing where none is to be advised."""

    def said(one: FootingDesign, other: FootingDesign) -> str:
        posts = tuple(post for post in layout.posts if post.footing in (one.mark, other.mark))
        if len(posts) != 2 or posts[0].platform == posts[1].platform:
            return ""
        if distance(posts[0].at, posts[1].at) > REACH:
            return ""
        top = (one.top + other.top) / 2
        deep = max(one.top - one.bottom, other.top - other.bottom)
        pad = Pad(one.mark, middle((posts[0].at, posts[1].at)), top, top - deep)
        footing, _ = design_shared(plan, profile, pad, posts, loads)
        return _against(footing, (one, other), plan.units) if footing.diameter < WIDEST_ADVISED else ""

    return said


def edge_pressure(pattern: Pattern, diameter: float) -> float:
    """Return the pressure [psf] under the edge of a round pad, without its own weight."""
    return pattern.load / (math.pi * (diameter / 24) ** 2) * (1 + 8 * pattern.off / diameter)


def _patterns(plan: Plan, pad: Pad, posts: tuple[Post, ...], loads: Loads) -> Iterator[Pattern]:
    """Yield what may stand on the pad: everything on every post, or on one of them with the others' dead load alone."""
    most = [loads.posts[post.mark].governing[0] + post_weight(plan, post) for post in posts]
    dead = [loads.posts[post.mark].dead + post_weight(plan, post) for post in posts]
    yield _pattern(pad, posts, most, "live load on all its posts")
    for number, post in enumerate(posts):
        some = [most[at] if at == number else dead[at] for at in range(len(posts))]
        yield _pattern(pad, posts, some, f"live load on {post.mark} alone")


def _centre(plan: Plan, pad: Pad, posts: tuple[Post, ...], loads: Loads) -> Point:
    """Return the middle between the resultants of the patterns, where the farthest of them lies least far off."""
    spots = [pattern.at for pattern in _patterns(plan, pad, posts, loads) if pattern.load > 0]
    if not spots:
        return pad.at
    xs, ys = zip(*spots, strict=True)
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def _pattern(pad: Pad, posts: tuple[Post, ...], each: list[float], words: str) -> Pattern:
    total = sum(each)
    x, y = (
        sum(load * (post.at[axis] - pad.at[axis]) for load, post in zip(each, posts, strict=True))
        for axis in (0, 1)
    )
    if total <= 0:
        return Pattern(total, 0.0, words, pad.at)
    return Pattern(total, math.hypot(x, y) / total, words, (pad.at[0] + x / total, pad.at[1] + y / total))


def check_pad_wishes(plan: Plan, layout: Layout) -> list[Check]:
    """Fail every line that was to share footings and shares none, with how far its posts stand from the neighbour's."""
    found = []
    shared = posts_on(layout.posts, layout.pads)
    for platform in plan.platforms:
        for index, line in enumerate(platform.supports):
            if not isinstance(line, BeamLine) or not line.shares_footings_with:
                continue
            beams = [m for m in layout.of(platform.name) if m.support == index and m.bearings]
            under = {bearing.on for beam in beams for bearing in beam.bearings}
            own = [p for p in layout.posts if p.mark in under and p.platform == platform.name and p.footing]
            if not beams or any(len(shared[post.footing]) > 1 for post in own):
                continue
            theirs = [p for p in layout.posts if p.platform == line.shares_footings_with and p.footing]
            far = min((distance(a.at, b.at) for a in own for b in theirs), default=None)
            near = f"the nearest stand {format_short(far, plan.units)} apart, " if far is not None else ""
            reason = (
                f"{beams[0].mark}: none of its posts stands within {format_short(REACH, plan.units)} of a post of "
                f'"{line.shares_footings_with}" with a footing to itself: {near}so each has its own footing'
            )
            found.append(
                Check(beams[0].mark, WISH_RULE, PRACTICE, None, None, "", Verdict.FAIL, reason=reason)
            )
    return found
