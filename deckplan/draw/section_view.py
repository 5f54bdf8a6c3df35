"""The section: the deck cut through all its levels along one line, with the ground it stands on.

Across the sheet runs the distance along the cutting line [in], upward the elevation above the benchmark [in].
A line along y is looked at with the house on the left, a line along x with x to the right.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

from deckplan.draw.cut import Cut, between, choose_cut
from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.letters import width_of
from deckplan.draw.post_shape import tongue_outline, tongue_place
from deckplan.draw.profile_parts import (
    draw_footing,
    draw_ground,
    draw_post,
    draw_steps,
    ground_at,
    level_tag,
    sill_of,
)
from deckplan.draw.scene import Box, Role, Scene
from deckplan.draw.section_feet import clear_stretches, draw_blocks_under
from deckplan.draw.shapes import crossings, rectangle
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import SizedFooting, Subject, letter
from deckplan.geometry import Point
from deckplan.layout.model import Kind, Member, Post
from deckplan.plan.model import Platform


def section_view(
    study: Subject,
    *,
    cut: Cut | None = None,
    sheet: Sheet | None = None,
    titled: bool = True,
    name: str = "Section",
) -> Scene:
    """Return the section along a cutting line, the one that passes through the most levels where none is
    given.

    sheet: the room there is, else the usual one of the plan's units; titled: with title, scale and caution
    below; name: what stands in the title, e.g. with the number that the framing plan marks the cut by.
    """
    plan = study.plan
    line = cut or choose_cut(plan, study)
    paper = sheet or usual_sheet(plan)
    core = _core(study, line)
    room = Room(
        3.0, FIRST_ROW + ROW + 8.0, 5.0, 9.0 + FIRST_ROW + 2 * ROW if titled else 4.0 + FIRST_ROW + ROW
    )
    draft = Draft(name, plan, paper, core, room)
    draw_ground(draft, study, line.across, _walk(line), core, plan.site.frost_depth)
    _house(draft, study, line, core)
    across = (0.0, 1.0) if line.axis == 0 else (1.0, 0.0)
    shown = _posts(study, line)
    first = {post.footing: post.mark for post in reversed(shown)}
    for post in shown:
        role = Role.CUT if abs(line.beyond(post.at)) < post.width / 2 else Role.POST_BEYOND
        draw_post(
            draft, study, post, line.across(post.at), role, across, foot=first[post.footing] == post.mark
        )
        _tongue(draft, post, line, across, front=False)
    crossed = [one for one, _ in _crossed(study, line)]
    for one in plan.platforms:
        if one in crossed:
            _platform(draft, study, line, one, shown)
        elif min(line.beyond(corner) for corner in one.outline) >= 0:
            _beyond(draft, study, line, one)
        else:
            pass  # it stands in front of the cut and is taken away
    for post in shown:
        draw_blocks_under(draft, study, line, post)
        _tongue(draft, post, line, across, front=True)
    for index, rise in enumerate(study.levels.flights):
        if between(line, rise.along):
            draw_steps(
                draft, study, rise, f"S{index + 1}", line.across(rise.along[0]), line.across(rise.down)
            )
            _flight_footings(draft, study, line, f"S{index + 1}-")
            for part in study.layout.members:
                if part.kind in (Kind.STEP, Kind.TREAD, Kind.HEADER) and part.mark.startswith(
                    f"S{index + 1}-"
                ):
                    _cut_face(draft, part, line)
    _dimensions(draft, study, line, core)
    return draft.scene(titled=titled)


def _flight_footings(draft: Draft, study: Subject, cut: Cut, lead: str) -> None:
    """Draw the footings under a flight that lie behind the plane, of those in one line the nearest."""
    nearest: dict[int, SizedFooting] = {}
    for one in study.footings:
        if one.mark.startswith(lead) and cut.beyond(one.at) >= -one.diameter / 2:
            key = round(cut.across(one.at))
            if key not in nearest or cut.beyond(one.at) < cut.beyond(nearest[key].at):
                nearest[key] = one
    for one in nearest.values():
        draw_footing(draft, one, cut.across(one.at), one.top)


def _tongue(draft: Draft, post: Post, cut: Cut, across: Point, *, front: bool) -> None:
    """Draw the tongue of a notched post that stands square to the view, in front of its beam or behind it."""
    outline = tongue_outline(post, cut.across(post.at), across, front=front)
    off = cut.beyond(tongue_place(post)) - cut.beyond(post.at)
    if outline and (off < 0) == front:
        draft.area(outline, Role.TONGUE if front else Role.POST_BEYOND, post.mark)


def _walk(cut: Cut) -> Point:
    """Return where the cutting line starts: its coordinate is put in later."""
    return (cut.at, 0.0) if cut.axis == 0 else (0.0, cut.at)


def _crossed(study: Subject, cut: Cut) -> list[tuple[Platform, list[float]]]:
    found = [(one, crossings(one.outline, cut.axis, cut.at)) for one in study.plan.platforms]
    return [(one, stops) for one, stops in found if stops]


def _core(study: Subject, cut: Cut) -> Box:
    crossed = _crossed(study, cut)
    spots = [stop for _, stops in crossed for stop in stops]
    tops = [study.levels.elevation(one.name) for one, _ in crossed]
    for rise in study.levels.flights:
        if between(cut, rise.along):
            start = cut.across(rise.along[0])
            spots.append(start + cut.across(rise.down) * max(rise.run, rise.tread))
    if not spots:
        return Box(0.0, -48.0, 120.0, 48.0)
    for one in study.plan.platforms:
        if not crossings(one.outline, cut.axis, cut.at) and min(map(cut.beyond, one.outline)) >= 0:
            spots += [cut.across(corner) for corner in one.outline]
            tops.append(study.levels.elevation(one.name))
    left, right = min(spots) - 24, max(spots) + 30
    bottoms = [one.bottom for one in study.footings] or [0.0]
    grounds = [ground_at(study, _walk(cut), cut.axis, spot) for spot in (left, right)]
    high = max(tops) + 40
    if (sill := sill_of(study)) is not None:
        high = max(high, sill + 30)
    frost = study.plan.site.frost_depth
    return Box(left, min(*bottoms, *(ground - frost for ground in grounds)) - 2, right, high)


def _posts(study: Subject, cut: Cut) -> list[Post]:
    """Return of every platform that is cut the posts behind the plane, of those in one line the nearest."""
    names = {one.name for one, _ in _crossed(study, cut)}
    nearest: dict[tuple[str, int], Post] = {}
    for post in study.layout.posts:
        if post.platform in names and cut.beyond(post.at) >= -post.width / 2:
            key = (post.platform, round(cut.across(post.at) / 6))
            if key not in nearest or cut.beyond(post.at) < cut.beyond(nearest[key].at):
                nearest[key] = post
    return list(nearest.values())


def _platform(draft: Draft, study: Subject, cut: Cut, one: Platform, posts: list[Post]) -> None:
    stops = crossings(one.outline, cut.axis, cut.at)
    top = study.levels.elevation(one.name)
    board = study.plan.materials.decking.thickness
    members = study.layout.of(one.name)
    for part in _seen(members, cut):
        low, high = sorted((cut.across(part.start), cut.across(part.end)))
        role = Role.BEAM_BEYOND if part.kind is Kind.BEAM else Role.JOIST
        draft.area(rectangle(low, part.bottom, high, part.top), role, part.mark)
    for part in members:
        _cut_face(draft, part, cut)
    if draft.sheet.to_scale:
        _sizes(draft, study, cut, one)
    mark = letter(study.plan.platforms.index(one))
    for low, high in zip(stops[::2], stops[1::2], strict=False):
        for left, right in clear_stretches(study, cut, one, posts, (low, high)):
            draft.area(rectangle(left, top - board, right, top), Role.BOARD, mark)
        name = f"{mark}  {one.name}" if draft.sheet.full else mark
        level_tag(draft, f"{name}  {draft.level(top)}", ((low + high) / 2, top), (low, high), mark)
    for guard in study.layout.guards:
        if guard.platform == one.name and guard.required and between(cut, (guard.start, guard.end)):
            at = cut.across(guard.start)
            inward = 2.0 if abs(at - stops[0]) < abs(at - stops[-1]) else -2.0
            low, high = sorted((at, at + inward))
            draft.area(rectangle(low, top, high, top + study.profile.guard_height.value), Role.RAILING, mark)


def _sizes(draft: Draft, study: Subject, cut: Cut, one: Platform) -> None:
    """Write what beams and joists are, where there is room beside or below them."""
    members = study.layout.of(one.name)
    beams = [part for part in _seen(members, cut) if part.kind is Kind.BEAM]
    for beam in beams:
        at, low = (cut.across(beam.start) + cut.across(beam.end)) / 2, beam.bottom
        text = f"{beam.mark}  {beam.size}"
        spots = [(at, (low + beam.top) / 2), (at, low - 0.8 * draft.letter)]
        draft.wish(text, (at, low), spots, Role.MARK, beam.mark, plate=True, needed=False, urgency=2)
    for part in members:
        spot = _where_cut(part, cut) if part.kind is Kind.BEAM else None
        if spot is not None:
            text = f"{part.mark}  {part.size}"
            off = spot[1] / 2 + 0.5 * width_of(text, draft.letter) + 0.4 * draft.letter
            places = [
                (spot[0] + side * off, part.bottom + up * draft.letter) for up in (0.7, 0) for side in (1, -1)
            ]
            draft.wish(
                text,
                (spot[0], part.bottom),
                places,
                Role.MARK,
                part.mark,
                plate=True,
                needed=False,
                urgency=2,
            )
    joists = [part for part in members if part.kind is Kind.JOIST]
    if joists:
        size, _ = Counter(part.size for part in joists).most_common(1)[0]
        text = f"{size} joists at {draft.short(one.joists.spacing)}"
        stops = crossings(one.outline, cut.axis, cut.at)
        low, high, under = stops[0], stops[-1], joists[0].bottom
        rows = (under + joists[0].depth / 2, under - 0.8 * draft.letter)
        places = [(low + (high - low) * share, row) for row in rows for share in (0.5, 0.3, 0.7, 0.2, 0.8)]
        draft.wish(text, (low, under), places, Role.NOTE, plate=True, needed=False, urgency=1)


def _cut_face(draft: Draft, part: Member, cut: Cut) -> None:
    spot = _where_cut(part, cut)
    if spot is not None:
        at, wide = spot
        role = Role.BOARD if part.kind is Kind.TREAD else Role.CUT
        draft.area(rectangle(at - wide / 2, part.bottom, at + wide / 2, part.top), role, part.mark)


def _beyond(draft: Draft, study: Subject, cut: Cut, one: Platform) -> None:
    """Draw a platform that lies behind the cut: its edge, its posts, its name and level."""
    top, board = study.levels.elevation(one.name), study.plan.materials.decking.thickness
    deep = max((part.depth for part in study.layout.of(one.name, Kind.JOIST, Kind.RIM)), default=7.25)
    spots = [cut.across(corner) for corner in one.outline]
    low, high = min(spots), max(spots)
    mark = letter(study.plan.platforms.index(one))
    draft.area(rectangle(low, top - board - deep, high, top), Role.EDGE_BEYOND, mark)
    for post in study.layout.posts:
        if post.platform == one.name:
            at, half = cut.across(post.at), post.width / 2
            draft.area(rectangle(at - half, post.bottom, at + half, post.top), Role.POST_BEYOND, post.mark)
    text = f"{mark}  {one.name}  {draft.level(top)}  (behind)"
    places = [(low + (high - low) * share, top + 0.9 * draft.letter) for share in (0.5, 0.3, 0.7, 0.15, 0.85)]
    draft.wish(
        text, ((low + high) / 2, top), places, Role.NOTE, mark, plate=True, needed=draft.sheet.full, urgency=6
    )  # fmt: skip


def _seen(members: tuple[Member, ...], cut: Cut) -> list[Member]:
    """Return of the members that run along the cut those right behind the plane, one of a kind and line."""
    nearest: dict[tuple[Kind, int, int], Member] = {}
    for part in members:
        across = abs(cut.across(part.end) - cut.across(part.start))
        if part.kind not in (Kind.JOIST, Kind.BEAM, Kind.RIM) or across < 0.9 * part.length:
            continue
        behind = cut.beyond(part.start)
        if behind < -part.width / 2:
            continue
        kind = Kind.BEAM if part.kind is Kind.BEAM else Kind.JOIST
        key = (kind, round(min(cut.across(part.start), cut.across(part.end)) / 6), round(part.top))
        if key not in nearest or behind < cut.beyond(nearest[key].start):
            nearest[key] = part
    return list(nearest.values())


def _where_cut(part: Member, cut: Cut) -> tuple[float, float] | None:
    """Return where a member passes through the plane [in] and how wide its cut face is [in], or None."""
    a, b = part.start[cut.axis], part.end[cut.axis]
    if a == b or not min(a, b) <= cut.at <= max(a, b):
        return None
    share = (cut.at - a) / (b - a)
    at = cut.across(part.start) + share * (cut.across(part.end) - cut.across(part.start))
    sine = abs(b - a) / part.length
    return None if sine < 0.2 else (at, part.width / sine)


def _house(draft: Draft, study: Subject, cut: Cut, core: Box) -> None:
    """Draw a house wall that the line cuts, its floor behind, its own footing where that is known."""
    plan = study.plan
    sill = sill_of(study)
    middle = sum(c[1 - cut.axis] for one in plan.platforms for c in one.outline)
    middle /= max(1, sum(len(one.outline) for one in plan.platforms))
    for wall in plan.house.walls:
        for stretch in pairwise(wall.line):
            if not between(cut, stretch):
                continue
            (a, b) = stretch
            share = (cut.at - a[cut.axis]) / (b[cut.axis] - a[cut.axis])
            face = cut.across(a) + share * (cut.across(b) - cut.across(a))
            side = -1.0 if middle >= face else 1.0
            ground = ground_at(study, _walk(cut), cut.axis, face)
            foot = max(core.bottom, ground - (wall.footing_depth or 30.0))
            low, high = sorted((face, face + side * 6.0))
            top = core.top
            draft.area(rectangle(low, foot, high, top), Role.WALL)
            if sill is not None:
                f0, f1 = sorted((face + side * 6.0, face + side * 24.0))
                draft.area(rectangle(f0, sill - 11.0, f1, sill - 0.5), Role.FLOOR)
                text = f"floor {draft.level(sill)}"
                # clear of the wall, however wide it is
                out = 6.0 + 0.5 * width_of(text, draft.letter) + 0.5 * draft.letter
                at = (face + side * max(15.0, out), sill + 0.9 * draft.letter)
                draft.wish(text, (face + side * 15.0, sill), (at,), Role.LEVEL, plate=True, urgency=8)


def _dimensions(draft: Draft, study: Subject, cut: Cut, core: Box) -> None:
    crossed = _crossed(study, cut)
    stops = [stop for _, found in crossed for stop in found]
    if not stops:
        return
    draft.chain(stops, "x", 0, core.bottom, -1)
    if len({round(stop, 2) for stop in stops}) > 2:
        draft.chain([min(stops), max(stops)], "x", 1, core.bottom, -1)
    heights = [study.levels.elevation(one.name) for one, _ in crossed]
    ground = ground_at(study, _walk(cut), cut.axis, core.right)
    walls = [stretch for wall in study.plan.house.walls for stretch in pairwise(wall.line)]
    sill = sill_of(study)
    if sill is not None and draft.sheet.full and any(between(cut, stretch) for stretch in walls):
        heights.append(sill)
    draft.chain([ground, *heights], "y", 0, core.right, 1)
    if len(heights) > 1:
        draft.chain([ground, max(heights)], "y", 1, core.right, 1)
