"""The framing plan: every piece of the frame seen from above, of all platforms together or of one."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from deckplan.draw.cut import Cut
from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.labels import round_about
from deckplan.draw.plan_parts import (
    arrow_head,
    draw_boundary,
    draw_flights,
    draw_guards,
    draw_house,
    draw_north,
    flight_corners,
    name_openings,
)
from deckplan.draw.scene import Box, Role, Scene, box_of, joined, text_box
from deckplan.draw.shapes import inside, shifted, square, strip
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject, letter
from deckplan.geometry import Line, Point, along, area, distance, middle, unit
from deckplan.layout.model import Kind, Member, Post
from deckplan.plan.model import Platform

ROLES: dict[Kind, Role] = {
    Kind.JOIST: Role.JOIST,
    Kind.RIM: Role.RIM,
    Kind.BEAM: Role.BEAM,
    Kind.LEDGER: Role.LEDGER,
    Kind.BLOCKING: Role.BLOCKING,
    Kind.HEADER: Role.HEADER,
    Kind.STRINGER: Role.STRINGER,
    Kind.TREAD: Role.TREAD,
    Kind.STEP: Role.STEP,
    Kind.BRACE: Role.BRACE,
    Kind.BOARD: Role.BOARD,
    Kind.POST: Role.POST,
}
"""The role that a member of each kind plays on a drawing."""


def plan_view(
    study: Subject,
    *,
    platform: str = "",
    sheet: Sheet | None = None,
    titled: bool = True,
    flags: Mapping[str, str] | None = None,
    cuts: Sequence[Cut] = (),
) -> Scene:
    """Return the framing plan.

    platform: the name of one platform to draw alone, all of them where it is empty; sheet: the room there is,
    else the usual one of the plan's units; titled: with title, scale and caution below; flags: marks to be
    ringed, e.g. what fails, with a short word each; cuts: where sections are taken, each marked at both ends.

    Raises KeyError for a platform that the plan does not know.
    """
    plan = study.plan
    shown = plan.platforms if not platform else (plan.platform(platform),)
    names = {one.name for one in shown}
    core = _core(study, names)
    name = (
        "Framing plan"
        if not platform
        else f"Framing plan, {letter(plan.platforms.index(shown[0]))} {platform}"
    )
    paper = sheet or usual_sheet(plan)
    rows = 3 if paper.full else 2
    beside = FIRST_ROW + ROW * (rows - 1) + 2.0
    draft = Draft(name, plan, paper, core, Room(beside, 2.5, beside, 9.0 if titled else 4.0))
    for one in shown:
        draft.area(one.outline, Role.SURFACE)
        for opening in one.openings:
            draft.stroke((*opening.outline, opening.outline[0]), Role.DATUM)
    draw_north(draft, plan, core)
    draw_house(draft, plan, core)
    _members(draft, study, names)
    _supports(draft, study, names)
    draw_flights(draft, study, names)
    draw_guards(draft, study, names)
    draw_boundary(draft, plan, core)
    _dimensions(draft, study, names, core)
    for one in shown:
        name_openings(draft, one)
        _platform_texts(draft, study, one)
    for number, cut in enumerate(cuts, 1):
        _cut_mark(draft, cut, core, str(number))
    if flags:
        _flags(draft, study, flags)
    return draft.scene(titled=titled)


def _core(study: Subject, names: set[str]) -> Box:
    """Return the room of what is drawn: outlines, posts with their footings, flights, house walls near by."""
    boxes = [box_of(one.outline) for one in study.plan.platforms if one.name in names]
    sizes = {one.mark: one.diameter for one in study.footings}
    boxes += [
        box_of(square(post.at, max(post.width, sizes.get(post.footing, 0.0))))
        for post in study.layout.posts
        if post.platform in names
    ]
    flights = _flights_at(study, names)
    boxes += [
        box_of((*flight_corners(rise), arrow_head(rise)))
        for rise in study.levels.flights
        if {rise.upper, rise.lower} & names
    ]
    boxes += [
        box_of(strip(part.line, part.width)) for part in study.layout.members if part.mark.startswith(flights)
    ]
    if not boxes:
        return Box(0.0, 0.0, 120.0, 120.0)
    return joined(boxes)


def _flights_at(study: Subject, names: set[str]) -> tuple[str, ...]:
    """Return how the marks of the pieces begin that belong to flights at some platforms."""
    rises = enumerate(study.levels.flights, 1)
    return tuple(f"S{number}-" for number, rise in rises if {rise.upper, rise.lower} & names)


def _members(draft: Draft, study: Subject, names: set[str]) -> None:
    flights = _flights_at(study, names)
    bottoms = {m.platform: m.bottom for m in study.layout.members if m.kind is Kind.JOIST}
    for member in study.layout.members:
        if member.platform not in names and not member.mark.startswith(flights):
            continue
        role = ROLES[member.kind]
        if member.kind is Kind.BEAM and member.top <= bottoms.get(member.platform, -math.inf) + 0.25:
            role = Role.BEAM_BELOW
        keep_clear = member.kind in (Kind.BEAM, Kind.RIM, Kind.LEDGER) and _is_level(member)
        draft.area(strip(member.line, member.width), role, member.mark, solid=keep_clear)
        if member.kind in (Kind.BEAM, Kind.LEDGER):
            _beside(draft, member)


def _is_level(member: Member) -> bool:
    """Tell whether a member runs along x or y, so that its box is no larger than itself."""
    (x0, y0), (x1, y1) = member.line
    return abs(x1 - x0) < 1e-6 or abs(y1 - y0) < 1e-6


def _beside(draft: Draft, member: Member) -> None:
    """Ask for a beam's or a ledger's mark and size along it."""
    if member.length == 0:
        return
    dx, dy = unit(member.start, member.end)
    angle = math.degrees(math.atan2(dy, dx))
    angle = angle - 180 if angle > 90.001 else angle + 180 if angle <= -90 else angle
    text = f"{member.mark}  {member.size}" + (" ledger" if member.kind is Kind.LEDGER else "")
    off = member.width / 2 + 0.75 * draft.letter
    places = []
    for share in (0.5, 0.38, 0.62, 0.25, 0.75, 0.15, 0.85):
        x, y = along(member.line, share)
        places += [(x - dy * off, y + dx * off), (x + dy * off, y - dx * off)]
    draft.wish(
        text,
        middle(member.line),
        places,
        Role.MARK,
        member.mark,
        angle=round(angle, 6),
        plate=True,
        urgency=5,
    )


def _post(draft: Draft, post: Post) -> None:
    """Draw a post in plan: solid over its footing, open and crossed where it stands on a lower frame."""
    if not post.stands_on:
        draft.area(square(post.at, post.width), Role.POST, post.mark)
        return
    corners = square(post.at, post.width)
    draft.area(corners, Role.POST_ON_FRAME, post.mark)
    for one, other in ((corners[0], corners[2]), (corners[1], corners[3])):
        draft.stroke((one, other), Role.POST_ON_FRAME, post.mark)


def _supports(draft: Draft, study: Subject, names: set[str]) -> None:
    sizes = {one.mark: one for one in study.footings}
    for post in study.layout.posts:
        if post.platform not in names:
            continue
        footing = sizes.get(post.footing)
        reach = post.width / 2
        text = post.mark
        if footing is not None:
            reach = footing.diameter / 2
            draft.disc(footing.at, reach, Role.FOOTING, footing.mark)
            if draft.sheet.full:
                text += f"\n{footing.mark} {draft.short(footing.diameter)} dia."
        elif draft.sheet.full and post.stands_on:
            text += f"\non {post.stands_on}"
        else:
            pass  # a small picture names no footing
        _post(draft, post)
        draft.ground.heavy.append(box_of(square(post.at, max(2 * reach, post.width))))
        if not draft.sheet.full:
            continue
        places = round_about(post.at, text, draft.letter, reach + 0.2 * draft.letter)
        near = tuple((x - math.copysign(reach * 0.5, x - post.at[0]), y) for x, y in places[:4])
        # A mark reads best over the platform that the post carries, not out among the dimensions.
        one = study.plan.platform(post.platform)
        others = [other.outline for other in study.plan.platforms if other.name in names - {one.name}]
        own = [at for at in (*near, *places) if not any(inside(at, outline) for outline in others)]
        best = sorted(own, key=lambda at: not _inside_box(text_box(text, at, draft.letter), one))
        next_door = [box_of(outline) for outline in others]
        draft.wish(text, post.at, best, Role.MARK, post.mark, plate=True, urgency=4, shun=next_door)


def _dimensions(draft: Draft, study: Subject, names: set[str], core: Box) -> None:
    """Chains on top and on the left, away from the house: posts and beams, platform edges, overall."""
    outlines = [one.outline for one in study.plan.platforms if one.name in names]
    posts = [post.at for post in study.layout.posts if post.platform in names]
    for axis, edge, side in (("x", core.top, 1), ("y", core.left, -1)):
        index = 0 if axis == "x" else 1
        edges = [corner[index] for outline in outlines for corner in outline]
        if not edges:
            continue
        rows = []
        if draft.sheet.full and posts:
            rows.append([*(post[index] for post in posts), min(edges), max(edges)])
        rows += [edges, [min(edges), max(edges)]]
        distinct = [row for i, row in enumerate(rows) if i + 1 == len(rows) or len(set(row)) > 2]
        for row, stops in enumerate(distinct):
            draft.chain(stops, "x" if axis == "x" else "y", row, edge, side)


def _platform_texts(draft: Draft, study: Subject, one: Platform) -> None:
    """Write name and finished elevation, then what the joists are, with an arrow across them."""
    mark = letter(study.plan.platforms.index(one))
    name = f"{mark}  {one.name}\n{draft.level(study.levels.elevation(one.name))}"
    box = box_of(one.outline)
    draft.wish(
        name, box.centre, _spots(draft, one, name, 1.35), Role.LEVEL, mark, size=1.35, plate=True, urgency=9
    )
    joists = study.layout.of(one.name, Kind.JOIST)
    if not joists:
        return
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
        needed=draft.sheet.full, urgency=7,
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


def _cut_mark(draft: Draft, cut: Cut, core: Box, number: str) -> None:
    """Mark a section at both ends: a heavy stroke, an arrow the way it is looked at, its number."""
    h, look = draft.letter, cut.look
    low, high = (core.bottom, core.top) if cut.axis == 0 else (core.left, core.right)
    for end, away in ((low - 0.4 * h, -1.0), (high + 0.4 * h, 1.0)):
        inner, outer = cut.point(end - away * 1.6 * h), cut.point(end + away * 0.4 * h)
        draft.stroke((inner, outer), Role.CUTTING)
        draft.arrow(outer, shifted(outer, look, 1.8 * h))
        draft.wish(number, outer, (shifted(outer, look, 2.6 * h),), Role.LEVEL, plate=True, urgency=11)


def _flags(draft: Draft, study: Subject, flags: Mapping[str, str]) -> None:
    """Ring what needs a look, in the one accent; a mark that this drawing does not show is passed over."""
    parts = study.layout.by_mark
    sizes = {one.mark: one.diameter for one in study.footings}
    flights = {f"S{i}": rise for i, rise in enumerate(study.levels.flights, 1)}
    shown = {shape.mark for shape in draft.shapes}
    for mark, word in flags.items():
        if mark not in shown:
            continue
        part = parts.get(mark)
        if isinstance(part, Member):
            corners = strip(part.line, part.width + 0.5 * draft.letter)
        elif part is not None:
            corners = square(part.at, max(1.6 * draft.letter, sizes.get(mark, 0.0) + 0.4 * draft.letter))
        elif mark in flights:
            corners = flight_corners(flights[mark])
        else:
            continue
        at = box_of(corners).centre
        draft.stroke((*corners, corners[0]), Role.FLAG)
        if word:
            beside = round_about(at, word, draft.letter, 0.5 * draft.letter)
            draft.wish(word, at, beside, Role.FLAG, plate=True, needed=draft.sheet.full)
