"""Room for a flight and its landing: what else stands where it goes down, and where a person steps off it.

::

      upper ====+  - - - - - - - - - headroom - - -      What hangs this high over the line of the nosings, or lies
                |__                                      under the flight altogether, is not in its way.
                |  |__
                |  |  |__
                 \\_|__|__|<- landing ->|                  Its body, run by width, and one landing's depth beyond it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from shapely import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Point
from deckplan.layout.flight_frame import Axes, footprint
from deckplan.layout.flight_headroom import corners_of, nosing_line
from deckplan.layout.model import Layout
from deckplan.layout.over import lowest_over
from deckplan.levels.buildable import STRINGER_DEPTH
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Levels, Rise
from deckplan.levels.places import TOUCH, outline_of
from deckplan.levels.raise_levels import raise_levels
from deckplan.plan.model import Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import format_length, format_short
from deckplan.verdict import Check, Source, Verdict, at_least, at_most

CLEAR = Source("Geometry", "two things do not stand in one place", "derived")
BODY = "flight clear of what stands about it"
LANDING = "landing of a flight kept clear"


@dataclass(frozen=True, slots=True)
class InTheWay:
    """What stands where a flight goes: words for it, what to do, where that is [in].

    wide, long [in]: how much of the flight's width and of its length it takes; clear [in]: how much of the landing's
    depth is left before it, None where it stands in the flight itself.
    """

    words: str
    help: str
    wide: float
    long: float
    at: Point
    clear: float | None


@dataclass(frozen=True, slots=True)
class Way:
    """One flight as it stands: body and landing in plan [in], and its heights at any place of them."""

    plan: Plan
    rise: Rise
    axes: Axes
    depth: float
    body: Polygon
    landing: BaseGeometry

    @classmethod
    def of(cls, plan: Plan, rise: Rise, profile: Profile) -> Way:
        """Return the way of a flight; on a platform its landing ends where that ends."""
        axes, depth = Axes.of(rise), profile.landing_depth_min.value
        corners = (
            (0.0, rise.run),
            (rise.width, rise.run),
            (rise.width, rise.run + depth),
            (0.0, rise.run + depth),
        )
        landing: BaseGeometry = Polygon([axes.site(s, q) for s, q in corners])
        lower = next((each for each in plan.platforms if each.name == rise.lower), None)
        if lower is not None:
            landing = landing.intersection(outline_of(lower))
        return cls(plan, rise, axes, depth, footprint(rise), landing)

    @property
    def mark(self) -> str:
        """The flight's mark."""
        return flight_mark(self.rise.index)

    def surface(self, at: Point) -> float:
        """Return the elevation of the line of the nosings at a place, of the landing beyond it [in]."""
        return nosing_line(self.rise, self.axes.local(at)[1])

    def underside(self, at: Point) -> float:
        """Return the elevation of the lower edges of its stringers at a place [in]; a box stands on what is below."""
        rise, away = self.rise, self.axes.local(at)[1]
        if rise.kind != "stringer":
            return rise.bottom
        plumb = STRINGER_DEPTH * math.hypot(rise.riser, rise.tread) / rise.tread
        upper = rise.top - self.plan.materials.decking.thickness - rise.riser * away / rise.tread
        return max(rise.bottom, upper - plumb)

    def reach(self, common: BaseGeometry) -> tuple[float, float, float, Point]:
        """Return how much of a flight's width and length something takes, where that begins, its middle [in]."""
        places = [self.axes.local(at) for at in corners_of(common)]
        ss, qs = [s for s, _ in places], [q for _, q in places]
        middle = self.axes.site((min(ss) + max(ss)) / 2, (min(qs) + max(qs)) / 2)
        return max(ss) - min(ss), max(qs) - min(qs), min(qs), middle


def check_flight_room(plan: Plan, profile: Profile, levels: Levels, layout: Layout) -> list[Check]:
    """Check that nothing stands in a flight or on its landing: flights, platforms, posts, the house.

    What hangs the rules' headroom over it is not in its way; of frames that lie wholly above the flight's upper end
    the check of headroom speaks. An inch and a half is let pass, since outlines are drawn so.

    Source: geometry; the landing's depth by IRC R311.7.6, headroom by R311.7.2, both by the profile.
    """
    ways = [Way.of(plan, rise, profile) for rise in levels.flights if rise.rise > 0]
    found: list[Check] = []
    for number, way in enumerate(ways):
        met = [
            *_flights(way, ways[:number], ways, profile),
            *_platforms(way, plan, levels, layout, profile),
            *_posts(way, layout, profile),
            *_walls(way, plan),
        ]
        found += _checks(way, met, profile)
    return found


def _checks(way: Way, met: list[InTheWay], profile: Profile) -> Iterator[Check]:
    """Yield a check for everything that stands in the way, or the one that says that nothing does."""
    limit, units = profile.landing_depth_min, way.plan.units
    blocked = {each.words for each in met if each.clear is None}
    for each in met:
        if each.clear is not None and each.words in blocked:
            continue  # what stands in the flight itself needs no second word
        place = ", ".join(format_length(x, units) for x in each.at)
        if each.clear is None:
            reason = (
                f"{way.mark} and {each.words} stand in one place, over {format_short(each.wide, units)} of its width "
                f"and {format_short(each.long, units)} of its length about ({place}): {each.help}"
            )
            yield at_most(way.mark, BODY, CLEAR, min(each.wide, each.long), TOUCH, "in", reason=reason)
        else:
            reason = (
                f"{each.words} leaves {format_short(each.clear, units)} before the lowest riser of {way.mark} at "
                f"({place}), a landing wants {format_short(limit.value, units)}: {each.help}"
            )
            yield at_least(way.mark, LANDING, limit.source, each.clear, limit.value, "in", reason=reason)
    if not blocked:
        yield at_most(way.mark, BODY, CLEAR, 0.0, TOUCH, "in")
    if not any(each.clear is not None for each in met) and way.rise.lower == "ground":
        yield at_least(way.mark, LANDING, limit.source, way.depth, limit.value, "in")


def _in_body(way: Way, common: BaseGeometry, words: str, help_: str) -> Iterator[InTheWay]:
    if common.is_empty:
        return
    wide, long, _, at = way.reach(common)
    if min(wide, long) > TOUCH:
        yield InTheWay(words, help_, wide, long, at, None)


def _on_landing(way: Way, common: BaseGeometry, words: str, help_: str) -> Iterator[InTheWay]:
    if common.is_empty:
        return
    wide, long, begins, at = way.reach(common)
    # along its sides an inch and a half is let pass, before its front nothing
    if wide > TOUCH:
        yield InTheWay(words, help_, wide, long, at, max(0.0, begins - way.rise.run))


def _flights(way: Way, before: list[Way], ways: list[Way], profile: Profile) -> Iterator[InTheWay]:
    """Yield the flights that stand in this one, each pair once, and those that stand on its landing."""
    headroom = profile.headroom_min.value
    for other in before:
        common = way.body.intersection(other.body)
        if common.area > 0 and max(_over(other, way, common), _over(way, other, common)) < headroom:
            help_ = "move one of them along its edge, or let it go down elsewhere"
            yield from _in_body(way, common, other.mark, help_)
    for other in ways:
        common = way.landing.intersection(other.body)
        if other is way or common.area <= 0 or _over(other, way, common) >= headroom:
            continue
        if max(other.surface(at) for at in corners_of(common)) <= way.rise.bottom + 1e-6:
            continue  # it goes down below this landing
        yield from _on_landing(way, common, other.mark, f"move {way.mark} or {other.mark} along its edge")


def _over(upper: Way, lower: Way, common: BaseGeometry) -> float:
    """Return how far the underside of one flight clears the surface of another where both are [in]."""
    return min(upper.underside(at) - lower.surface(at) for at in corners_of(common))


def _platforms(way: Way, plan: Plan, levels: Levels, layout: Layout, profile: Profile) -> Iterator[InTheWay]:
    """Yield the platforms in the way; the upper one too where its outline comes round, never the one it lands on."""
    rise, headroom = way.rise, profile.headroom_min.value
    for platform in plan.platforms:
        here = levels.elevation(platform.name)
        if platform.name == rise.lower:
            continue
        shape = outline_of(platform)
        if not shape.intersects(box(*_bounds(way))):
            continue
        name = f'platform "{platform.name}"'
        body, landing = way.body.intersection(shape), way.landing.intersection(shape)
        if (
            body.area > 0
            and any(way.underside(at) < here - 1e-6 for at in corners_of(body))
            and not _passes(way, platform, here, layout, body, headroom)
        ):
            yield from _in_body(way, body, name, _part(way, platform, profile))
        if (
            landing.area > 0
            and here > rise.bottom + 1e-6
            and not _passes(way, platform, here, layout, landing, headroom)
        ):
            yield from _on_landing(way, landing, name, _part(way, platform, profile))


def _part(way: Way, platform: Platform, profile: Profile) -> str:
    """Say what parts a flight and a platform; that it may end there only where it was laid out and lands there."""
    if platform.name == way.rise.upper:
        return "let the flight go down from an edge that faces away"
    if _lands_on(way, platform, profile):
        return f'move the flight or the outline, or let the flight go to "{platform.name}"'
    return "move the flight or the outline"


def _lands_on(way: Way, platform: Platform, profile: Profile) -> bool:
    """Tell whether the flight, sent to a platform, would land on it and keep the rules of flights."""
    flights = list(way.plan.flights)
    flights[way.rise.index] = flights[way.rise.index].model_copy(update={"lower": platform.name})
    sent = raise_levels(way.plan.model_copy(update={"flights": tuple(flights)}), profile)
    rises = any(rise.index == way.rise.index and rise.rise > 0 for rise in sent.flights)
    return rises and not any(c.mark == way.mark and c.verdict is Verdict.FAIL for c in sent.checks)


def _passes(
    way: Way, platform: Platform, here: float, layout: Layout, common: BaseGeometry, headroom: float
) -> bool:
    """Tell whether a person passes under a platform with headroom, or another check says how much is missing."""
    rise = way.rise
    lowest = lowest_over(layout, platform.name, common)
    bottom = lowest.bottom if lowest else here - way.plan.materials.decking.thickness
    if lowest and bottom > rise.top and platform.name != rise.upper:
        return True
    return all(bottom - way.surface(at) >= headroom for at in corners_of(common))


def _posts(way: Way, layout: Layout, profile: Profile) -> Iterator[InTheWay]:
    """Yield the posts that stand in a flight or on its landing."""
    rise, headroom = way.rise, profile.headroom_min.value
    x0, y0, x1, y1 = _bounds(way)
    for post in layout.posts:
        (x, y), half = post.at, post.width / 2
        if not (x0 - half < x < x1 + half and y0 - half < y < y1 + half):
            continue
        wood = box(x - half, y - half, x + half, y + half)
        help_ = f"move the post along its beam, or {way.mark} along its edge"
        words = f'post {post.mark} of "{post.platform}"'
        body, landing = way.body.intersection(wood), way.landing.intersection(wood)
        if body.area > 0:
            under = min(way.underside(at) for at in corners_of(body))
            over = max(way.surface(at) for at in corners_of(body)) + headroom
            if under + 1e-6 < post.top and post.bottom < over:
                yield from _in_body(way, body, words, help_)
        if landing.area > 0 and rise.bottom + 1e-6 < post.top and post.bottom < rise.bottom + headroom:
            yield from _on_landing(way, landing, words, help_)


def _walls(way: Way, plan: Plan) -> Iterator[InTheWay]:
    """Yield the house walls that leave too little of a landing on the ground; given.py has those in the flight."""
    rise, axes = way.rise, way.axes
    if rise.lower != "ground":
        return
    near, far = rise.run, rise.run + way.depth
    sides = ((TOUCH, near), (rise.width - TOUCH, near), (rise.width - TOUCH, far), (TOUCH, far))
    narrowed = Polygon([axes.site(s, q) for s, q in sides])
    for wall in plan.house.walls:
        for a, b in pairwise(wall.line):
            common = narrowed.intersection(LineString([a, b]))
            if not common.is_empty:
                wide, long, begins, at = way.reach(common)
                help_ = "let the flight go down from another edge"
                yield InTheWay(f'wall "{wall.name}"', help_, wide, long, at, max(0.0, begins - rise.run))


def _bounds(way: Way) -> tuple[float, float, float, float]:
    both = [*way.body.bounds, *way.landing.bounds]
    xs, ys = both[0::2], both[1::2]
    return min(xs), min(ys), max(xs), max(ys)
