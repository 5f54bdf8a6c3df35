"""Posts and footings under every beam line, posts on a lower frame, and beams that hang on a neighbour's post."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from itertools import pairwise

from deckplan.engineering.lumber import Size, read_size
from deckplan.geometry import Point, distance, middle, point_to_line, unit
from deckplan.layout.joist_pieces import HANGER_SEAT
from deckplan.layout.model import Bearing, Member, Miss, Notch, OnFrame, Pad, Post, Sharing
from deckplan.layout.notches import notch_for, seat_place
from deckplan.layout.platform_frame import SetOut
from deckplan.layout.shared_ends import meet, said, splice_at
from deckplan.layout.shared_pads import post_beside
from deckplan.layout.stands import Foot, covers, find_foot, leans_on, places_on, places_that_would_do
from deckplan.layout.supports import BeamStretch, post_places
from deckplan.layout.ties import frost_founded
from deckplan.levels.model import Ground, Levels
from deckplan.plan.model import House, Plan
from deckplan.rules.profile import Profile

# Posts this close are one [in].
SAME_PLACE = 0.01


WishLine = tuple[str, int, str]
"""A beam line that is to share posts: its platform, its place among the supports, the neighbour."""


@dataclass
class Standing:
    """Posts, footings and beams as they come together, one platform after the other."""

    posts: list[Post] = field(default_factory=list)
    pads: list[Pad] = field(default_factory=list)
    beams: dict[str, Member] = field(default_factory=dict)
    sharing: list[Sharing] = field(default_factory=list)
    missed: dict[WishLine, list[tuple[str, Miss]]] = field(default_factory=dict)
    on_frame: list[OnFrame] = field(default_factory=list)
    feet: list[Foot] = field(default_factory=list)
    counts: dict[str, int] = field(default_factory=dict)
    founded: frozenset[str] = frozenset()


def stand_posts(plan: Plan, levels: Levels, profile: Profile, platforms: tuple[SetOut, ...]) -> Standing:
    """Put posts under every beam: first the beams on posts of their own, then those that share a neighbour's."""
    standing = Standing(founded=frost_founded(plan, levels))
    by_name = {set_out.platform.name: set_out for set_out in platforms}
    queue = [(set_out, stretch, beam) for set_out in platforms for stretch, beam in set_out.beams]
    queue.sort(key=lambda item: bool(item[1].line.shares_posts_with or item[1].line.shares_footings_with))
    for set_out, stretch, beam in queue:
        lower = by_name.get(stretch.line.stands_on)
        _stand(plan, levels.ground, profile, standing, set_out, stretch, beam, lower)
    standing.sharing += _unshared(standing, plan)
    return standing


def _unshared(standing: Standing, plan: Plan) -> list[Sharing]:
    """Return one wish that did not come true for every line none of whose ends hangs: that of the nearest end."""
    shared = {(wish.platform, wish.support) for wish in standing.sharing}
    found = []
    for (platform, support, neighbour), missed in standing.missed.items():
        if (platform, support) not in shared and missed:
            beam, miss = min(missed, key=lambda each: each[1].far)
            why = said(miss, beam, neighbour, plan.units)
            found.append(Sharing(platform, beam, neighbour, "", why, support, miss))
    return found


def _stand(
    plan: Plan,
    ground: Ground,
    profile: Profile,
    standing: Standing,
    set_out: SetOut,
    stretch: BeamStretch,
    beam: Member,
    lower: SetOut | None,
) -> None:
    """Stand one beam on its posts; lower: the platform whose frame they are to stand on, if any."""
    size = read_size(plan.materials.post)
    width = size.thickness
    set_at = (
        post_places(stretch.line, beam.length, width, stretch.slants)
        if stretch.places is None
        else stretch.places
    )
    if lower is not None and not any(stretch.spliced):
        set_at = places_on(lower, stretch, beam, set_at, width)
    places = list(set_at)
    bearings = [*_on_beams(stretch, beam, places, width), *_hang(standing, stretch, beam, places, width)]
    for along_beam in places:
        low, high = along_beam <= SAME_PLACE, along_beam >= beam.length - SAME_PLACE
        spliced = (low and stretch.spliced[0]) or (high and stretch.spliced[1])
        notch = notch_for(set_out, stretch, beam, along_beam, width)
        place = seat_place(beam, along_beam, width, notch)
        mark = _post_under(standing, set_out, place) if low and spliced else None
        foot = None if lower is None or mark else _foot(plan, standing, set_out, beam, place, lower, width)
        pad = stretch.line.shares_footings_with
        mark = mark or _new_post(
            plan, ground, profile, standing, set_out, beam, place, size, notch, foot, pad
        )
        if spliced:
            bearings.append(Bearing(along_beam, mark, "splice", width / 2))
        else:
            # a post that stands under the very end is borne on as far as the beam reaches
            reach = min(along_beam + width / 2, beam.length) - max(along_beam - width / 2, 0.0)
            bearings.append(Bearing(along_beam, mark, stretch.line.seat, reach))
    bearings.sort(key=lambda b: b.at)
    standing.beams[beam.mark] = replace(beam, bearings=tuple(bearings))


def _on_beams(stretch: BeamStretch, beam: Member, places: list[float], width: float) -> list[Bearing]:
    """Hang a beam's ends on the beams of its platform that they meet; the posts of its own there are not needed."""
    hung = []
    for end, on, lean in zip((0.0, beam.length), stretch.hung_on, stretch.slants, strict=True):
        if on:
            hung.append(Bearing(end, on, "hanger", HANGER_SEAT, math.degrees(math.atan(lean))))
            _take_away(places, places, end, max(width, beam.length / 8))
    return hung


def _off_square(beam: Member, post: Post) -> float:
    """Return by how much a beam meets the nearest face of a post off square [degrees], 45 at the most."""
    (ux, uy), (wx, wy) = unit(*beam.line), post.way
    turn = math.degrees(math.atan2(wx * uy - wy * ux, wx * ux + wy * uy)) % 90.0
    off = turn if turn <= 45.0 else turn - 90.0
    return off if abs(off) > 1e-6 else 0.0


def _take_away(places: list[float], free: list[float], end: float, near: float) -> None:
    """Take away the free place nearest to a beam's end [in], if it is that near: something else carries the end."""
    own = min(free, key=lambda at: abs(at - end), default=None)
    if own is not None and abs(own - end) <= near:
        places.remove(own)


def _hang(
    standing: Standing, stretch: BeamStretch, beam: Member, places: list[float], width: float
) -> list[Bearing]:
    """Hang a beam's free ends on the neighbour's posts that they meet; the posts of its own there are not needed.

    An end that meets none, or is a splice, is noted: of a line none of whose ends hangs somebody must say why.
    """
    neighbour = stretch.line.shares_posts_with
    if not neighbour:
        return []
    theirs = [post for post in standing.posts if post.platform == neighbour]
    hung: list[Bearing] = []
    missed = standing.missed.setdefault((beam.platform, stretch.support, neighbour), [])
    ends = zip((0.0, beam.length), stretch.spliced, stretch.hung_on, strict=True)
    for end, spliced in ((end, spliced) for end, spliced, on in ends if not on):
        found = meet(beam, end, theirs)
        if isinstance(found, Miss):
            if not spliced:
                missed.append((beam.mark, found))
            continue
        if spliced:
            missed.append((beam.mark, splice_at(beam, end, found)))
            continue
        hung.append(Bearing(end, found.mark, "hanger", HANGER_SEAT, _off_square(beam, found)))
        # the post of its own that stands there; never one under a splice, which carries the next piece as well
        first, last = stretch.spliced[0], stretch.spliced[1]
        free = [
            at
            for at in places
            if not (first and at <= SAME_PLACE) and not (last and at >= beam.length - SAME_PLACE)
        ]
        _take_away(places, free, end, max(width, beam.length / 8))
        at = standing.posts.index(found)
        carries = found.carries if beam.platform in found.carries else (*found.carries, beam.platform)
        standing.posts[at] = theirs[theirs.index(found)] = replace(found, carries=carries)
        standing.sharing.append(Sharing(beam.platform, beam.mark, neighbour, found.mark, "", stretch.support))
    return hung


def _post_under(standing: Standing, set_out: SetOut, place: Point) -> str | None:
    """Return the post of a platform that stands at a place already, under the end of the piece before."""
    name = set_out.platform.name
    near = (p.mark for p in standing.posts if p.platform == name and distance(p.at, place) <= SAME_PLACE)
    return next(near, None)


def _new_post(
    plan: Plan,
    ground: Ground,
    profile: Profile,
    standing: Standing,
    set_out: SetOut,
    beam: Member,
    place: Point,
    size: Size,
    notch: Notch | None,
    foot: Foot | None,
    beside: str = "",
) -> str:
    """Stand a post and its footing under a beam, or on a lower frame, and return its mark.

    beside: the platform with whose posts in reach it shares a footing.
    """
    mark, number = _next_post(standing, set_out)
    standing.counts[set_out.letter] = number
    if foot is not None:
        standing.posts.append(
            Post(
                mark, set_out.platform.name, place, size.name, size.thickness, beam.bottom, foot.top,
                (beam.platform,), "", foot.on, notch, unit(*beam.line),
            )
        )  # fmt: skip
        return mark
    other = post_beside(standing.posts, beside, place)
    spot = place if other is None else middle((other.at, place))
    bottom = ground.elevation_at(spot)
    name = set_out.platform.name
    founded = name in standing.founded
    depth = footing_depth(place, plan.house, plan.site.frost_depth, profile, founded)
    pad = Pad(f"{set_out.letter}-F{number}" if other is None else other.footing, spot, bottom, bottom - depth)
    if other is None:
        standing.pads.append(pad)
    else:
        _put_under_both(standing, pad)
    standing.posts.append(
        Post(
            mark, name, place, size.name, size.thickness, beam.bottom, bottom, (beam.platform,), pad.mark, "", notch,
            unit(*beam.line),
        )
    )  # fmt: skip
    return mark


def _put_under_both(standing: Standing, pad: Pad) -> None:
    """Put a footing in the place of the one under a neighbour's post, no shallower than that."""
    at = next(at for at, each in enumerate(standing.pads) if each.mark == pad.mark)
    deep = max(pad.top - pad.bottom, standing.pads[at].top - standing.pads[at].bottom)
    standing.pads[at] = replace(pad, bottom=pad.top - deep)
    for number, post in enumerate(standing.posts):
        if post.footing == pad.mark:
            standing.posts[number] = replace(post, bottom=pad.top)


def _next_post(standing: Standing, set_out: SetOut) -> tuple[str, int]:
    """Return the mark and the number that a platform's next post takes."""
    number = standing.counts.get(set_out.letter, 0) + 1
    return f"{set_out.letter}-P{number}", number


def _foot(
    plan: Plan,
    standing: Standing,
    set_out: SetOut,
    beam: Member,
    place: Point,
    lower: SetOut,
    width: float,
) -> Foot | None:
    """Find the foot of a post that is to stand on a lower frame, and note what came of the wish.

    A post beside the lower platform goes to the ground without a word: the line reaches past it.
    """
    if not covers(lower, place):
        return None
    mark, _ = _next_post(standing, set_out)
    name = lower.platform.name
    if beam.platform in leans_on(plan, name):
        why = f'"{name}" leans on "{beam.platform}" itself, and one of the two must stand first'
    elif beam.bottom <= lower.joist_top:
        why = f'its beam lies no higher than the frame of "{name}"'
    else:
        found = find_foot(lower, place, width, plan.units)
        if isinstance(found, Foot):
            standing.feet.append(found)
            standing.on_frame.append(OnFrame(beam.platform, beam.mark, mark, name, found.on, ""))
            return found
        why = f"{found}; {places_that_would_do(lower, beam, plan.units)}"
    standing.on_frame.append(OnFrame(beam.platform, beam.mark, mark, name, "", why))
    return None


def also_carried(standing: Standing, carried: dict[str, str]) -> tuple[Post, ...]:
    """Return the posts, those under a beam that a neighbour's joists hang on naming that neighbour too."""
    under: dict[str, set[str]] = {}
    for mark, platform in carried.items():
        for bearing in standing.beams[mark].bearings:
            under.setdefault(bearing.on, set()).add(platform)
    return tuple(
        replace(post, carries=(*post.carries, *sorted(under[post.mark] - set(post.carries))))
        if post.mark in under
        else post
        for post in standing.posts
    )


def footing_depth(at: Point, house: House, frost: float, profile: Profile, founded: bool) -> float:
    """Return how deep [in] below the ground a footing's bottom lies.

    frost [in]: the place's frost depth, asked where the deck is founded below it (attached, or tied to what is), and of
    free-standing decks where the profile does not exempt them; close to the
    house wall the house's own footing depth counts, so that the deck does not load the backfill.

    Source: IRC R403.1.4, R507.3.2; house wall zone: common practice where the place asks for it.
    """
    depth = profile.footing_depth_min.value
    if founded or not profile.frost_exempt_freestanding.value:
        depth = max(depth, frost)
    for wall in house.walls:
        if wall.footing_depth is None:
            continue
        for line in pairwise(wall.line):
            if point_to_line(at, line) <= profile.house_footing_zone.value:
                depth = max(depth, wall.footing_depth)
    return depth
