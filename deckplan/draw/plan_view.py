"""The framing plan: every piece of the frame seen from above, of all platforms together or of one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations
from typing import Literal

from deckplan.draw.chains import Row, chain_rows, rows_of
from deckplan.draw.cut import Cut
from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.frame_parts import LEGEND, draw_members, flights_at, room_of
from deckplan.draw.labels import round_about
from deckplan.draw.opening_parts import measure_openings
from deckplan.draw.plan_parts import (
    draw_boundary,
    draw_flights,
    draw_guards,
    draw_house,
    draw_north,
    flight_corners,
    name_openings,
)
from deckplan.draw.plan_words import draw_flight_footings, draw_posts, platform_texts
from deckplan.draw.scene import Box, Role, Scene, box_of
from deckplan.draw.shapes import shifted, square, strip
from deckplan.draw.sheet import Room, Sheet, choose_scale, usual_sheet
from deckplan.draw.subject import Subject, letter
from deckplan.layout.model import Layout, Member
from deckplan.plan.model import Platform

ON_SCREEN = 2
"""Rows of dimensions to posts that a screen has room for."""


def plan_view(
    study: Subject,
    *,
    platform: str = "",
    frame: Layout | None = None,
    sheet: Sheet | None = None,
    titled: bool = True,
    flags: Mapping[str, str] | None = None,
    cuts: Sequence[Cut] = (),
) -> Scene:
    """Return the framing plan.

    platform: the name of one platform to draw alone, all of them where it is empty; frame: what is drawn, else the
    study's layout (`study.built` has the wood that seams and borders of the boards ask for as well); sheet: the room
    there is, else the usual one of the plan's units; titled: with title, scale and caution below; flags: marks to be
    ringed, e.g. what fails, with a short word each; cuts: where sections are taken, each marked at both ends.

    Raises KeyError for a platform that the plan does not know.
    """
    plan = study.plan
    shown = plan.platforms if not platform else (plan.platform(platform),)
    names = {one.name for one in shown}
    core = room_of(study, names)
    name = "Framing plan"
    if platform:
        name += f", {letter(plan.platforms.index(shown[0]))} {platform}"
    paper = sheet or usual_sheet(plan)
    rows = _rows(study, names, paper, core)
    above, beside = (FIRST_ROW + ROW * (len(own) + 1) + 2.0 for own in rows)
    below = 4.0 if not titled else 11.5 if paper.full else 9.0
    draft = Draft(name, plan, paper, core, Room(beside, 2.5, above, below))
    for one in shown:
        draft.area(one.outline, Role.SURFACE)
        for opening in one.openings:
            draft.stroke((*opening.outline, opening.outline[0]), Role.DATUM)
    draw_north(draft, plan, core)
    draw_house(draft, plan, core)
    draw_members(draft, study, frame or study.layout, names)
    draw_posts(draft, study, names)
    draw_flights(draft, study, names)
    draw_flight_footings(draft, study, flights_at(study, names))
    draw_guards(draft, study, names)
    draw_boundary(draft, plan, core)
    reach = _dimensions(draft, study, shown, rows, core)
    for one in shown:
        name_openings(draft, one)
        measure_openings(draft, one)
        platform_texts(draft, study, one)
    for number, cut in enumerate(cuts, 1):
        _cut_mark(draft, cut, core, reach, str(number))
    if flags:
        _flags(draft, study, flags)
    if paper.full:
        draft.legend |= LEGEND
        if lie_over_each_other(shown):
            draft.notes.append(
                "Levels lie over each other here: the framing plan of each level shows it alone."
            )
    return draft.scene(titled=titled)


def lie_over_each_other(platforms: Sequence[Platform]) -> bool:
    """Tell whether any two platforms share ground in plan, a square foot of it or more."""
    from shapely import Polygon

    for one, other in combinations(platforms, 2):
        apart = not box_of(one.outline).meets(box_of(other.outline))
        if not apart and Polygon(one.outline).intersection(Polygon(other.outline)).area > 144.0:
            return True
    return False


def _rows(study: Subject, names: set[str], paper: Sheet, core: Box) -> tuple[list[Row], list[Row]]:
    """Return the rows of the chains to the posts, along x and along y; none where the room is small for them."""
    posts = [post for post in study.layout.posts if post.platform in names]
    if not paper.full or not posts:
        return [], []
    apart = 2.0 if paper.to_scale else 1.0
    least = apart * paper.lettering * choose_scale(core, Room(), paper, study.plan.units)[0]
    along, out = (rows_of(posts, axis, least) for axis in (0, 1))
    if paper.to_scale:
        return along, out
    return (along if len(along) <= ON_SCREEN else []), (out if len(out) <= ON_SCREEN else [])


def _dimensions(
    draft: Draft, study: Subject, shown: Sequence[Platform], rows: Sequence[list[Row]], core: Box
) -> tuple[float, float]:
    """Chains on top and on the left, away from the house: posts and beams, platform edges, overall.

    Return how far they reach out above and to the left [in].
    """
    reach = [0.0, 0.0]
    for axis, edge, side in ((0, core.top, 1), (1, core.left, -1)):
        edges = [corner[axis] for one in shown for corner in one.outline]
        if not edges:
            continue
        way: Literal["x", "y"] = "x" if axis == 0 else "y"
        taken = chain_rows(draft, rows[axis], study.plan, axis, edge, side)
        if len(set(edges)) > 2:
            draft.chain(edges, way, taken, edge, side)
            taken += 1
        draft.chain([min(edges), max(edges)], way, taken, edge, side)
        reach[axis] = (FIRST_ROW + ROW * taken + 1.2) * draft.letter
    return reach[0], reach[1]


def _cut_mark(draft: Draft, cut: Cut, core: Box, reach: tuple[float, float], number: str) -> None:
    """Mark a section at both ends: a heavy stroke, an arrow the way it is looked at, its number.

    reach [in]: how far chains of dimensions stand out above and to the left; the marks keep beyond them.
    """
    h, look = draft.letter, cut.look
    low, high = (core.bottom, core.top + reach[0]) if cut.axis == 0 else (core.left - reach[1], core.right)
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
