"""Structurally independent parts of a deck, and the knee braces of those that stand free and tall.

Levels that share a post push and sway together; levels side by side on posts of their own do not help each other.

::

       beam ==========+=========
                  \\   |
           24 in   \\  |  24 in
                    \\ |
                      | post
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from deckplan.geometry import Point, distance, unit
from deckplan.layout.model import Kind, Layout, Member, Post
from deckplan.layout.ties import groups
from deckplan.levels.model import Levels
from deckplan.plan.model import BeamLine, Plan, Platform
from deckplan.rules.profile import Profile

BRACE_LEG = 24.0
"""How far a knee brace reaches along the beam and down the post [in]. Source: AWC DCA6, 2 ft at 45 degrees (memory)."""

BRACE = ("4x4", 3.5)
"""Size of a knee brace and its dressed side [in]. Source: common practice, 2x6 or 4x4."""

STRAIGHT = 1.0
"""Posts that stand off a straight line by no more than this stand in it [in]."""

LEAST_LEG = 6.0
"""A brace shorter than this along its legs holds nothing [in]. Source: common practice."""


LINES_APART = 12.0
"""Braced lines less than this apart hold nothing against turning in plan [in]. Our own choice."""


@dataclass(frozen=True, slots=True)
class Part:
    """A structurally independent part: platforms on shared posts, their ledgers and posts, greatest height [in]."""

    platforms: tuple[Platform, ...]
    ledgers: tuple[Member, ...]
    posts: tuple[Post, ...]
    height: float

    @property
    def named(self) -> str:
        """The platforms' names, quoted."""
        return " and ".join(f'"{platform.name}"' for platform in self.platforms)

    def wants_braces(self, profile: Profile) -> bool:
        """Tell whether it stands free and over the profile's bracing height."""
        return not self.ledgers and self.height > profile.bracing_height.value


def height_over_ground(levels: Levels, platform: Platform) -> float:
    """Return how high a platform's surface lies over the lowest ground at its corners [in]."""
    lowest = min(levels.ground.elevation_at(corner) for corner in platform.outline)
    return levels.elevation(platform.name) - lowest


def find_parts(plan: Plan, levels: Levels, layout: Layout) -> tuple[Part, ...]:
    """Return the structurally independent parts of a deck, in plan order."""
    shared = [(post.platform, other) for post in layout.posts for other in post.carries]
    found = []
    for names in groups([platform.name for platform in plan.platforms], shared):
        platforms = tuple(plan.platform(name) for name in names)
        found.append(
            Part(
                platforms,
                tuple(m for name in names for m in layout.of(name, Kind.LEDGER)),
                tuple(post for post in layout.posts if post.platform in names),
                max(height_over_ground(levels, platform) for platform in platforms),
            )
        )
    return tuple(found)


def brace_posts(plan: Plan, levels: Levels, profile: Profile, layout: Layout) -> tuple[Member, ...]:
    """Return the knee braces of every part that stands free and tall: at its corner posts, both ways, where they fit.

    Inner posts get none: they carry most already, and a brace would draw a sideways push to them as well.
    Source: AWC DCA6 (bracing above 24 in, at corner posts; the second from its publisher's answers).
    """
    made: list[Member] = []
    counts: dict[str, int] = {}
    for part in find_parts(plan, levels, layout):
        if not part.wants_braces(profile):
            continue
        for post in corner_posts(part, layout):
            # on a short post half of its height is left free below the brace
            leg = min(BRACE_LEG, post.height / 2)
            if leg < LEAST_LEG:
                continue
            for way, top in _ways(layout, post):
                lead = post.mark.partition("-")[0]
                counts[lead] = counts.get(lead, 0) + 1
                end = (post.at[0] + way[0] * leg, post.at[1] + way[1] * leg)
                made.append(
                    Member(
                        mark=f"{lead}-X{counts[lead]}",
                        platform=post.platform,
                        kind=Kind.BRACE,
                        size=BRACE[0],
                        start=end,
                        end=post.at,
                        top=top,
                        width=BRACE[1],
                        depth=BRACE[1],
                        drop=leg,
                    )
                )
    return tuple(made)


def braces_hold(braces: Sequence[Member]) -> bool:
    """Tell whether a part's braces hold it both ways and against turning in plan: two braced lines or more each way.

    Braces in one line are one: at a single corner post they hold nothing against turning. Source: common practice.
    """
    if not braces:
        return False
    ways = [unit(brace.start, brace.end) for brace in braces]
    ux, uy = ways[0]
    for wx, wy in ((ux, uy), (-uy, ux)):
        # how far each brace within 45 degrees of the way stands off to its side
        off = [
            brace.end[1] * wx - brace.end[0] * wy
            for brace, (x, y) in zip(braces, ways, strict=True)
            if abs(x * wx + y * wy) >= math.sqrt(0.5) - 1e-9
        ]
        if not off or max(off) - min(off) < LINES_APART:
            return False
    return True


def corner_posts(part: Part, layout: Layout) -> tuple[Post, ...]:
    """Return the posts at the ends of each platform's outermost beam lines, those that carry two levels left out.

    Where every one of them is shared, they are braced all the same: nothing else holds the part.
    """
    own = {post.mark: post for post in part.posts}
    corners: dict[str, Post] = {}
    for platform in part.platforms:
        lines: dict[int, list[tuple[float, Post]]] = {}
        for beam in layout.of(platform.name, Kind.BEAM):
            (x0, y0), (ux, uy) = beam.start, unit(beam.start, beam.end)
            for bearing in beam.bearings:
                if (post := own.get(bearing.on)) is not None and beam.support is not None:
                    # along the line from the site's own corner, so that pieces of a spliced beam compare
                    reach = x0 * ux + y0 * uy + bearing.at
                    lines.setdefault(beam.support, []).append((reach, post))
        if not lines:
            continue
        supports = [platform.supports[at] for at in lines]
        offsets = [line.offset for line in supports if isinstance(line, BeamLine) and line.offset is not None]
        ends = {at: (min(line, key=_reach_of)[1], max(line, key=_reach_of)[1]) for at, line in lines.items()}
        if len(offsets) == len(lines):
            outer = (min(offsets), max(offsets))
            found = [
                post
                for (_, those), offset in zip(ends.items(), offsets, strict=True)
                if offset in outer
                for post in those
            ]
        else:
            found = _outermost([post for those in ends.values() for post in those])
        corners |= {post.mark: post for post in found}
    single = tuple(post for post in corners.values() if len(post.carries) < 2)
    return single or tuple(corners.values())


def _outermost(posts: list[Post]) -> list[Post]:
    """Return the posts at the corners of the line drawn round them all, for beam lines that run at angles."""
    from shapely import MultiPoint

    hull = MultiPoint([post.at for post in posts]).convex_hull.simplify(STRAIGHT)
    ring = hull.exterior if hull.geom_type == "Polygon" else hull
    return [post for post in posts if any(distance(post.at, corner) <= STRAIGHT for corner in ring.coords)]


def _reach_of(item: tuple[float, Post]) -> float:
    return item[0]


def _ways(layout: Layout, post: Post) -> Iterator[tuple[Point, float]]:
    """Return the directions in plan of a post's braces and the elevation of their upper ends [in]."""
    for beam in layout.of(post.platform, Kind.BEAM):
        at = next((b.at for b in beam.bearings if b.on == post.mark), None)
        if at is None:
            continue
        along = unit(beam.start, beam.end)
        # towards the middle of the beam
        yield (along if at <= beam.length / 2 else (-along[0], -along[1])), beam.bottom
        crossing = [
            (distance(joist.point(bearing.at), post.at), joist.mark, joist, bearing.at)
            for joist in layout.of(post.platform, Kind.JOIST)
            for bearing in joist.bearings
            if bearing.on == beam.mark
        ]
        if crossing:
            # the joist beside the post is the one that the brace meets, towards its longer part
            _, _, joist, place = min(crossing)
            along = unit(joist.start, joist.end)
            yield (along if place <= joist.length / 2 else (-along[0], -along[1])), beam.top
