"""How many posts an "auto" beam line stands on: the number that costs least of those that pass.

::

    o-----------o-----------o     few posts: a heavy beam on large footings
    o-----o-----o-----o-----o     many posts: a light beam, but a hole, a base and a cap for each
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from deckplan.buy.concrete import pier_volume
from deckplan.buy.cutting import shortest_stock
from deckplan.buy.lumber import LONGEST, STOCK
from deckplan.buy.prices import Prices, read_prices
from deckplan.checks.footings import FootingDesign, design_footing
from deckplan.checks.posts import check_post, off_axis
from deckplan.checks.printed_posts import check_printed_height
from deckplan.engineering.lumber import read_size
from deckplan.layout.lay_out import lay_out_frames
from deckplan.layout.model import Kind, Layout, Member, Post
from deckplan.layout.over import overlapping
from deckplan.levels.model import Levels
from deckplan.loads.areas import post_weight
from deckplan.loads.model import Loads
from deckplan.loads.path import Known, trace
from deckplan.plan.model import BeamLine, Plan
from deckplan.rules.profile import Profile
from deckplan.sizing.sizes import Proven, beams_of, check_beam_as, choose_size, one_of_each
from deckplan.verdict import Check, Verdict

NEIGHBOUR = 36.0
"""A beam line as near as this to another level or to the house stands in a neighbourhood [in]. Source: common practice;
the largest footings of the printed tables reach 24 in from their post."""

CLOSEST = 48.0
"""Spans up to this are not divided further in search of a number that passes [in]. Source: common practice."""

Place = tuple[int, int]
"""A beam line: place of its platform in the plan, place of the line among the platform's supports."""


@dataclass(frozen=True, slots=True)
class PostCount:
    """One number of posts under a beam line, tried.

    build: the smallest beam that passes on them; span [in]: the longest between them; cost [dollars]: of the line's
    beams, posts, their bases and caps, holes and concrete; reason: the first check that fails or that no rule covers,
    empty where all pass.
    """

    posts: int
    build: str
    span: float
    cost: float
    verdict: Verdict
    reason: str


def alone(asked: Plan, levels: Levels, frames: Layout) -> tuple[Place, ...]:
    """Return the "auto" lines whose posts are their own alone, so that their number is a question of cost.

    Left out are lines that share posts or may be met by a neighbour's beam, lines that hang on each other, levels over
    or under others, and lines that stand near another level or the house: there posts and footings have others to mind.
    So are lines too low for posts.
    """
    lines = [line for platform in asked.platforms for line in platform.supports if isinstance(line, BeamLine)]
    tied = {each.name for pair in overlapping(asked, levels) for each in pair[:2]}
    tied |= {line.shares_posts_with for line in lines}
    meeting = {
        bearing.on
        for member in frames.members
        for bearing in member.bearings
        if isinstance(post := frames.by_mark.get(bearing.on), Post) and post.platform != member.platform
    }
    found = []
    for index, platform in enumerate(asked.platforms):
        for at, line in enumerate(platform.supports):
            if (
                not isinstance(line, BeamLine)
                or line.posts != "auto"
                or line.shares_posts_with
                or line.stands_on
            ):
                continue
            own = _posts_under(frames, beams_of(frames, platform, at))
            stand = own and all(post.height > 0 for post in own)
            free = platform.name not in tied and not meeting & {post.mark for post in own}
            single = not _on_one_another(frames, beams_of(frames, platform, at))
            if stand and free and single and not _near_others(asked, index, beams_of(frames, platform, at)):
                found.append((index, at))
    return tuple(found)


def _on_one_another(frames: Layout, beams: Iterable[Member]) -> bool:
    """Tell whether one of these beams hangs on another beam, or another on it."""
    own = {beam.mark for beam in beams}
    pairs = [(m.mark, b.on) for m in frames.members if m.kind is Kind.BEAM for b in m.bearings]
    return any(
        {one, other} & own
        for one, other in pairs
        if isinstance(there := frames.by_mark.get(other), Member) and there.kind is Kind.BEAM
    )


def _near_others(plan: Plan, index: int, beams: Iterable[Member]) -> bool:
    """Tell whether a line stands near another level or the house."""
    from shapely import LineString, Polygon

    others = [Polygon(each.outline) for at, each in enumerate(plan.platforms) if at != index]
    others += [LineString(wall.line) for wall in plan.house.walls]
    return any(LineString(beam.line).distance(other) < NEIGHBOUR for beam in beams for other in others)


def try_counts(
    asked: Plan,
    settled: Plan,
    levels: Levels,
    profile: Profile,
    places: Iterable[Place],
    known: Known,
) -> dict[Place, tuple[PostCount, ...]]:
    """Try numbers of posts under beam lines: the settled one, one more, and fewer until none of the lines passes.

    A line that passes on none of these is tried on ever more posts, until it does or they stand too close. Every try is
    laid out, its loads traced, its beam chosen, its posts and footings designed; all lines at once, for none has to do
    with another.
    """
    usual = {(index, at): count_of(settled, (index, at)) for index, at in places}
    found: dict[Place, list[PostCount]] = {place: [] for place in usual}

    def attempt(counts: dict[Place, int]) -> bool:
        """Try some numbers; tell whether any passes."""
        tried = with_counts(settled, counts)
        frames = lay_out_frames(tried, levels, profile)
        loads = trace(tried, levels, frames, profile, known)
        made = [_try(asked, tried, profile, frames, loads, place) for place in counts]
        for place, choice in zip(counts, made, strict=True):
            found[place].append(choice)
        return any(choice.verdict is not Verdict.FAIL for choice in made)

    more = 1
    while counts := {place: count + more for place, count in usual.items() if count + more >= 2}:
        if not attempt(counts) and more < 0:
            break
        more -= 1
    more = 2
    while counts := {place: usual[place] + more for place, tried in found.items() if _wants_more(tried)}:
        attempt(counts)
        more += 1
    return {place: tuple(sorted(tried, key=lambda choice: -choice.posts)) for place, tried in found.items()}


def _wants_more(tried: Iterable[PostCount]) -> bool:
    """Tell whether none of the numbers tried passes and posts may stand closer."""
    choices = list(tried)
    return all(c.verdict is Verdict.FAIL for c in choices) and min(c.span for c in choices) > CLOSEST


def cheapest(choices: Iterable[PostCount], usual: int) -> int:
    """Return the number that costs least of those that pass; `usual` where none does.

    Price alone leads nobody out of the rules: what no rule covers counts only where the usual number is not covered
    either.
    """
    tried = list(choices)
    good = {Verdict.PASS, *(c.verdict for c in tried if c.posts == usual and c.verdict is Verdict.OUTSIDE)}
    passing = [choice for choice in tried if choice.verdict in good]
    return min(passing, key=lambda choice: (round(choice.cost, 2), choice.posts)).posts if passing else usual


def with_counts(plan: Plan, counts: Mapping[Place, int]) -> Plan:
    """Return the plan with numbers of posts put in."""
    platforms = []
    for index, platform in enumerate(plan.platforms):
        supports = tuple(
            line.model_copy(update={"posts": counts[index, at]}) if (index, at) in counts else line
            for at, line in enumerate(platform.supports)
        )
        platforms.append(platform.model_copy(update={"supports": supports}))
    return plan.model_copy(update={"platforms": tuple(platforms)})


def count_of(plan: Plan, place: Place) -> int:
    """Return how many posts a settled line has."""
    line = plan.platforms[place[0]].supports[place[1]]
    assert isinstance(line, BeamLine)
    assert isinstance(line.posts, int)
    return line.posts


def _posts_under(frames: Layout, beams: Iterable[Member]) -> list[Post]:
    marks = dict.fromkeys(bearing.on for beam in beams for bearing in beam.bearings)
    return [post for mark in marks if isinstance(post := frames.by_mark.get(mark), Post)]


def _try(asked: Plan, tried: Plan, profile: Profile, frames: Layout, loads: Loads, place: Place) -> PostCount:
    """Size one line on the posts that it was laid out on, and check and price it with its posts and footings."""
    index, at = place
    platform, line = tried.platforms[index], tried.platforms[index].supports[at]
    wish = asked.platforms[index].supports[at]
    assert isinstance(line, BeamLine)
    assert isinstance(wish, BeamLine)
    made: Proven = {}
    build = line.build
    if wish.build == "auto":
        build = choose_size(tried, profile, frames, loads, place, build, True, made)
    beams, checks = beams_of(frames, platform, at), list[Check]()
    for beam in one_of_each(beams, loads):
        checks += made.get(beam.mark) or check_beam_as(tried, profile, frames, loads, beam, build)
    deeper = read_size(build).depth - read_size(line.build).depth if line.style == "drop" else 0.0
    spans = [each for beam in beams if (d := loads.demands.get(beam.mark)) for each in d.analysis.spans]
    span, number = max(spans, default=0.0), count_of(tried, place)
    own, pads = _posts_under(frames, beams), {pad.mark: pad for pad in frames.pads}
    footings: list[FootingDesign] = []
    for post in own:
        force = loads.posts[post.mark]
        if post.height <= deeper:
            return PostCount(
                number, build, span, math.inf, Verdict.FAIL, f"{post.mark}: the beam leaves it no height"
            )
        checks += check_post(tried, profile, post, force, off_axis(frames, loads, post))
        checks.append(check_printed_height(tried, post, frames, loads))
        footing, more = design_footing(
            tried, profile, pads[post.footing], post.mark, post.width, force, post_weight(tried, post)
        )
        footings.append(footing)
        checks += more
    worst = next((c for v in (Verdict.FAIL, Verdict.OUTSIDE) for c in checks if c.verdict is v), None)
    return PostCount(
        number, build, span, _cost(beams, build, own, footings),
        worst.verdict if worst else Verdict.PASS, worst.reason if worst else "",
    )  # fmt: skip


@lru_cache(maxsize=1)
def _prices() -> Prices:
    return read_prices()


def _cost(
    beams: Iterable[Member], build: str, own: Iterable[Post], footings: Iterable[FootingDesign]
) -> float:
    """Return what a line costs [dollars]: plies by the foot of stock, posts by the foot, the rest each.

    By the program's invented list, which compares and offers nothing. Notched posts have bolts in place of a cap, of
    much the same price.
    """
    prices, made = _prices(), read_size(build)
    total = 0.0
    for beam in beams:
        stock = max(beam.length, shortest_stock(min(beam.length, LONGEST), STOCK))
        total += made.plies * stock / 12 * prices.of(made.ply)
    for post in own:
        total += post.length / 12 * prices.of(post.size) + prices.of("post base") + prices.of("post cap")
    for footing in footings:
        volume = pier_volume(footing.diameter, footing.top - footing.bottom)
        total += prices.of("hole") + prices.of("concrete") * volume
    return total
