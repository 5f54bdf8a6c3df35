"""Words on a plan: what a platform is, what its joists are, where its posts stand."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from deckplan.draw.draft import Draft
from deckplan.draw.labels import crowding, round_about
from deckplan.draw.scene import Box, Role, box_of, text_box
from deckplan.draw.shapes import inside, post_shape, shifted, square
from deckplan.draw.subject import SizedFooting, Subject, letter
from deckplan.draw.title import folded
from deckplan.geometry import Line, Point, along, area, distance, unit
from deckplan.layout.model import Kind, Member, Post
from deckplan.plan.model import Platform

WORDY = 0.1
"""The share of a framing plan that the words at its posts may take: beams and joists have words too."""

LETTERS_A_POST = 50.0
"""Room for each post [square letter heights] below which a framing plan is packed."""


def _post(draft: Draft, post: Post) -> None:
    """Draw a post in plan: solid over its footing, open and crossed where it stands on a lower frame."""
    if not post.stands_on:
        draft.area(post_shape(post), Role.POST, post.mark)
        return
    corners = post_shape(post)
    draft.area(corners, Role.POST_ON_FRAME, post.mark)
    for one, other in ((corners[0], corners[2]), (corners[1], corners[3])):
        draft.stroke((one, other), Role.POST_ON_FRAME, post.mark)


def draw_posts(draft: Draft, study: Subject, names: set[str]) -> None:
    """Draw the posts of some platforms with their footings, and ask for the marks of both.

    Where that many words would hide the drawing the posts' own marks are left, and where even these would, those that
    find a place; on a small screen none.
    """
    sizes = {one.mark: one for one in study.footings}
    posts = [post for post in study.layout.posts if post.platform in names]
    packed = is_packed(draft, len(posts))
    words = [post.mark + _foot(draft, post, sizes.get(post.footing)) for post in posts]
    if crowding(words, draft.letter, draft.core) > WORDY:
        words = [post.mark for post in posts]
    for post, text in zip(posts, words, strict=True):
        footing = sizes.get(post.footing)
        reach = post.width / 2
        if footing is not None:
            reach = footing.diameter / 2
            draft.disc(footing.at, reach, Role.FOOTING, footing.mark)
        _post(draft, post)
        draft.ground.heavy.append(box_of(square(post.at, max(2 * reach, post.width))))
        if not draft.sheet.full or (packed and not draft.sheet.to_scale):
            continue  # on a screen a pointer names each post, and one level alone has room for the marks
        places = round_about(post.at, text, draft.letter, reach + 0.2 * draft.letter)
        near = tuple((x - math.copysign(reach * 0.5, x - post.at[0]), y) for x, y in places[:4])
        # A mark reads best over the platform that the post carries, not out among the dimensions.
        one = study.plan.platform(post.platform)
        others = [other.outline for other in study.plan.platforms if other.name in names - {one.name}]
        own = [at for at in (*near, *places) if not any(inside(at, outline) for outline in others)]
        best = sorted(own, key=lambda at: not _inside_box(text_box(text, at, draft.letter), one))
        next_door = [box_of(outline) for outline in others]
        draft.wish(
            text, post.at, best, Role.MARK, post.mark, plate=True, needed=not packed, urgency=4,
            shun=next_door,
        )  # fmt: skip


def called(draft: Draft, study: Subject, one: Platform, size: float) -> str:
    """Return a platform's letter and name, in several lines where it is wider than the platform.

    size: of the letters, in letter heights.
    """
    room = max(0.85 * box_of(one.outline).width, 9.0 * draft.letter)
    return folded(f"{letter(study.plan.platforms.index(one))}  {one.name}", room, size * draft.letter)


def name_platform(draft: Draft, study: Subject, one: Platform, text: str, *, needed: bool = False) -> None:
    """Ask for a platform's name near the middle of it, across no edge of another and under no higher one."""
    box, mark = box_of(one.outline), letter(study.plan.platforms.index(one))
    height = study.levels.elevation(one.name)
    shares = (0.5, 0.38, 0.62, 0.26, 0.74, 0.14, 0.86)
    near = sorted(((a, b) for a in shares for b in shares), key=lambda s: abs(s[0] - 0.5) + abs(s[1] - 0.5))
    spots = [(box.left + a * box.width, box.bottom + b * box.height) for a, b in near]

    def misplaced(at: Point) -> int:
        room = text_box(text, at, 1.2 * draft.letter).grown(0.4 * draft.letter)
        ends = [(x, y) for x in (room.left, at[0], room.right) for y in (room.bottom, at[1], room.top)]
        score = 0 if all(inside(end, one.outline) for end in ends) else 2
        for other in study.plan.platforms:
            within = sum(inside(end, other.outline) for end in ends) if other is not one else 0
            higher = within and study.levels.elevation(other.name) > height
            score += 1 if 0 < within < len(ends) or higher else 0
        return score

    places = sorted(spots, key=misplaced)
    draft.wish(text, places[0], places, Role.LEVEL, mark, size=1.2, plate=True, needed=needed, urgency=9)


def is_packed(draft: Draft, posts: int) -> bool:
    """Tell whether posts stand so close on the sheet that marks led away from them would hide the drawing."""
    letters = draft.core.width * draft.core.height / draft.letter**2
    return letters < LETTERS_A_POST * posts


def _foot(draft: Draft, post: Post, footing: SizedFooting | None) -> str:
    """Say what a post stands on: its footing with its size, or a lower frame's member."""
    if footing is not None:
        return f"\n{footing.mark} {draft.short(footing.diameter)} dia."
    return f"\non {post.stands_on}" if post.stands_on else ""


def draw_flight_footings(draft: Draft, study: Subject, flights: tuple[str, ...]) -> None:
    """Draw the footings that flights stand on themselves; flights: how their marks begin."""
    for footing in study.footings:
        if not flights or not footing.mark.startswith(flights):
            continue
        draft.disc(footing.at, footing.diameter / 2, Role.FOOTING, footing.mark)
        draw_cross(draft, footing.at, 0.4 * draft.letter, footing.mark)
        text = f"{footing.mark} {draft.short(footing.diameter)} dia."
        places = round_about(footing.at, text, draft.letter, footing.diameter / 2 + 0.2 * draft.letter)
        if draft.sheet.full and draft.sheet.to_scale:
            draft.wish(text, footing.at, places, Role.MARK, footing.mark, plate=True, needed=False, urgency=2)


def draw_cross(draft: Draft, at: Point, arm: float, mark: str = "") -> None:
    """Draw a small upright cross at a point, its arms as long as said [in]."""
    x, y = at
    draft.stroke(((x - arm, y), (x + arm, y)), Role.SPOT, mark)
    draft.stroke(((x, y - arm), (x, y + arm)), Role.SPOT, mark)


def platform_texts(draft: Draft, study: Subject, one: Platform) -> None:
    """Write name and finished elevation, then what the joists are, with an arrow across them."""
    mark = letter(study.plan.platforms.index(one))
    name = called(draft, study, one, 1.35) + f"\n{draft.level(study.levels.elevation(one.name))}"
    box = box_of(one.outline)
    draft.wish(
        name, box.centre, _spots(draft, one, name, 1.35), Role.LEVEL, mark, size=1.35, plate=True, urgency=9
    )
    joists = study.layout.of(one.name, Kind.JOIST)
    if not joists:
        return
    sizes = [Counter(joist.size for joist in joists).most_common(1)[0][0]]  # others carry their own marks
    if not draft.sheet.full:
        sizes = list(dict.fromkeys(joist.size for joist in joists))
    first, last = joists[0].mark, joists[-1].mark
    said = f"{first} to {last}\n{' and '.join(sizes)} joists at {draft.short(one.joists.spacing)}"
    if not draft.sheet.full:
        said = f"{' and '.join(sizes)} at {draft.short(one.joists.spacing)}"
    ends = _across(joists)
    if distance(*ends) > 4 * draft.letter:
        draft.arrow(*ends, both=True)
    spots = [along(ends, share) for share in (0.5, 0.35, 0.65, 0.25, 0.75)]
    fits = [spot for spot in spots if _inside_box(text_box(said, spot, draft.letter), one)]
    draft.wish(
        said, along(ends, 0.5), (*fits, *_spots(draft, one, said, 1.0)), Role.NOTE, plate=True,
        needed=draft.sheet.full and not is_packed(draft, len(study.layout.posts)), urgency=7,
    )  # fmt: skip


def _across(joists: Sequence[Member]) -> Line:
    """Return the line square across the joists, low on one of them, that spans the most of them."""
    low, high = _ends_of(joists[0])
    dx, dy = unit(low, high)
    found: list[tuple[float, Point, Point]] = []
    for lead in joists:
        foot = _point_on(lead, 0.28)
        level = foot[0] * dx + foot[1] * dy
        met = [j for j in joists if _reaches(j, (dx, dy), level)]
        offsets = [(j.start[1] - foot[1]) * dx - (j.start[0] - foot[0]) * dy for j in met]
        first, last = (shifted(foot, (-dy, dx), offset) for offset in (max(offsets), min(offsets)))
        found.append((round(distance(first, last), 3), first, last))
    _, first, last = max(found, key=lambda line: line[0])
    return first, last


def _reaches(joist: Member, direction: Point, level: float) -> bool:
    """Tell whether a joist crosses a line square to the direction, at a level along it [in]."""
    low, high = sorted(x * direction[0] + y * direction[1] for x, y in (joist.start, joist.end))
    return low <= level <= high


def _ends_of(joist: Member) -> Line:
    low, high = sorted((joist.start, joist.end), key=lambda p: (round(p[1], 3), round(p[0], 3)))
    return low, high


def _point_on(joist: Member, share: float) -> Point:
    """Return the point at a share of a joist, counted from its lower end whichever way it was laid."""
    return along(_ends_of(joist), share)


def _inside_box(box: Box, one: Platform) -> bool:
    whole = box_of(one.outline)
    if not whole.holds(box):
        return False
    if abs(area(one.outline)) >= whole.width * whole.height - 1e-6:
        return True  # a rectangle, nothing else to ask
    corners = ((box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top))
    return all(inside(corner, one.outline) for corner in corners)


def _spots(draft: Draft, one: Platform, text: str, size: float) -> list[Point]:
    """Return places inside a platform where a text fits wholly, the middle first."""
    box = box_of(one.outline)
    shares = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
    order = sorted(((a, b) for a in shares for b in shares), key=lambda s: abs(s[0] - 0.5) + abs(s[1] - 0.55))
    spots = [(box.left + a * box.width, box.bottom + b * box.height) for a, b in order]
    return [spot for spot in spots if _inside_box(text_box(text, spot, size * draft.letter), one)]
