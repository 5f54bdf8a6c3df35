"""The treatment plan: which wood wants treatment for ground contact, by its height over the ground."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely import LineString, Polygon

from deckplan.checks.ground_contact import Alike, alike, marks_in_words
from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.frame_parts import flights_at, room_of
from deckplan.draw.labels import round_about
from deckplan.draw.plan_parts import draw_house, draw_north, flight_corners, name_openings
from deckplan.draw.plan_view import lie_over_each_other
from deckplan.draw.plan_words import called, name_platform
from deckplan.draw.scene import Role, Scene, box_of
from deckplan.draw.schedule import Schedule, place_schedule, set_out
from deckplan.draw.shapes import piece, post_shape, square
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject, letter
from deckplan.geometry import middle
from deckplan.layout.ends import cut_ends
from deckplan.layout.model import Kind, Layout, Member
from deckplan.plan.model import Platform
from deckplan.units import format_short

LEGEND: dict[Role, str] = {
    Role.GROUND_CONTACT: "wood treated for ground contact",
    Role.POST: "post, treated for ground contact",
    Role.ABOVE_GROUND: "wood treated for use above ground",
    Role.NEAR_GROUND: "here the frame is near the ground",
}
"""What the fillings of a treatment plan mean."""


def treatment_view(
    study: Subject,
    *,
    platform: str = "",
    frame: Layout | None = None,
    sheet: Sheet | None = None,
    titled: bool = True,
) -> Scene:
    """Return the treatment plan: wood for ground contact black, the rest clear, with a schedule of the black pieces.

    platform: the name of one platform to draw alone, all of them where it is empty; frame: what is drawn, else the
    study's layout (`study.built` has the wood below seams and borders as well); sheet: the room there is, else the
    usual one of the plan's units; titled: with title, scale, key and caution below.

    Raises KeyError for a platform that the plan does not know.
    """
    plan, built = study.plan, frame or study.layout
    shown = plan.platforms if not platform else (plan.platform(platform),)
    names = {one.name for one in shown}
    name = "Treatment plan"
    if platform:
        name += f", {letter(plan.platforms.index(shown[0]))} {platform}"
    core, paper = room_of(study, names), sheet or usual_sheet(plan)
    leads = flights_at(study, names)
    groups = [
        one
        for one in alike(study.profile, study.levels, built)
        if one.where in names or f"{one.where}-" in leads
    ]
    table = _schedule(study, groups) if paper.to_scale and paper.full and groups else None
    bare = Room(FIRST_ROW + ROW + 2.0, 4.0, FIRST_ROW + ROW + 2.0, 13.0 if titled else 4.0)
    plot = set_out(table, core, bare, paper, plan.units) if table else None
    draft = Draft(name, plan, paper, core, plot.room if plot else bare)
    draw_north(draft, plan, core)
    draw_house(draft, plan, core)
    near = {mark for one in groups if one.treatment == "ground contact" for mark in one.marks}
    for one in shown:
        draft.area(one.outline, Role.SURFACE)
        _zone(draft, one, built, near)
    _members(draft, [m for m in built.members if m.platform in names or m.mark.startswith(leads)], near)
    for post in built.posts:
        if post.platform in names:
            draft.area(post_shape(post), Role.POST, post.mark)
            draft.ground.heavy.append(box_of(square(post.at, post.width)))
    for number, rise in enumerate(study.levels.flights, 1):
        if f"S{number}-" in leads and rise.run > 0:
            corners = flight_corners(rise)
            draft.stroke((*corners, corners[0]), Role.DATUM, f"S{number}")
            at = box_of(corners).centre
            draft.wish(f"S{number}", at, round_about(at, f"S{number}", draft.letter, 0.0), Role.NOTE, plate=True,
                       needed=False)  # fmt: skip
    for one in shown:
        name_openings(draft, one)
        name_platform(draft, study, one, _words(draft, study, one, groups), needed=True)
    if paper.full:
        _marks(draft, built, groups)
    for axis, edge, side in ((0, core.top, 1), (1, core.left, -1)):
        ends = [corner[axis] for one in shown for corner in one.outline]
        if ends:
            draft.chain([min(ends), max(ends)], "x" if axis == 0 else "y", 0, edge, side)
    if table and plot:
        place_schedule(draft, table, plot, core)
    draft.notes += said(study)
    if lie_over_each_other(shown):
        draft.notes.append(
            "Levels lie over each other here: the treatment plan of each level shows it alone."
        )
    draft.legend |= LEGEND
    return draft.scene(titled=titled)


def said(study: Subject) -> list[str]:
    """Say what asks for which treatment, and on whose word."""
    limit = study.profile.ground_contact_clearance
    near = format_short(limit.value, study.plan.units)
    return [
        f"Treatment for ground contact: wood less than {near} over the ground, and every post, which is hard to "
        f"replace ({limit.source}). All other framing: treatment for use above ground.",
        "Heights run from the highest ground under a piece to its underside. Brush cut ends and holes with "
        "preservative (common practice).",
    ]


def _zone(draft: Draft, one: Platform, built: Layout, near: set[str]) -> None:
    """Hatch what of a platform lies over joists near the ground."""
    joists = [m for m in built.of(one.name, Kind.JOIST) if m.mark in near and m.length]
    if not joists:
        return
    half = one.joists.spacing / 2 + 1.0
    bands = [LineString(m.line).buffer(half, cap_style="flat") for m in joists]
    holes = [Polygon(opening.outline) for opening in one.openings]
    shape = shapely.union_all(bands).intersection(Polygon(one.outline)).difference(shapely.union_all(holes))
    for part in getattr(shape, "geoms", [shape]):
        if part.geom_type == "Polygon":
            draft.area([(float(x), float(y)) for x, y in part.exterior.coords[:-1]], Role.NEAR_GROUND)


def _members(draft: Draft, members: Sequence[Member], near: set[str]) -> None:
    cuts = cut_ends(members)
    for member in members:
        if member.kind not in (Kind.BOARD, Kind.TREAD):
            role = Role.GROUND_CONTACT if member.mark in near else Role.ABOVE_GROUND
            draft.area(piece(member, cuts), role, member.mark)


def _words(draft: Draft, study: Subject, one: Platform, groups: Sequence[Alike]) -> str:
    """Say a platform's name and how much of its frame wants ground-contact treatment; posts go without saying."""
    name = called(draft, study, one, 1.2)
    own = [each for each in groups if each.where == one.name and each.kind is not Kind.POST]
    count = sum(len(each.marks) for each in own)
    near = sum(len(each.marks) for each in own if each.treatment == "ground contact")
    if not count:
        return name
    low, high = min(each.low for each in own), max(each.high for each in own)
    what = "frame above ground" if not near else f"{near} of {count} pieces for ground contact"
    what = "whole frame for ground contact" if near == count else what
    if not draft.sheet.full:
        return f"{name}\n{what}"
    return f"{name}\n{what}\n{_between(draft, low, high)} over the ground"


def _between(draft: Draft, low: float, high: float) -> str:
    least, most = (format_short(each, draft.units) for each in (low, high))
    return least if least == most else f"{least} to {most}"


def _marks(draft: Draft, built: Layout, groups: Sequence[Alike]) -> None:
    """Write the marks of the pieces for ground contact, those alike together, at the middle one of them."""
    for group in groups:
        if group.treatment != "ground contact" or group.kind is Kind.POST:
            continue
        part = built.by_mark[group.marks[len(group.marks) // 2]]
        if not isinstance(part, Member):
            continue
        text = marks_in_words(group.marks)
        at = middle(part.line)
        places = round_about(at, text, draft.letter, 0.4 * draft.letter)
        draft.wish(text, at, places, Role.MARK, part.mark, plate=True, needed=len(group.marks) < 4, urgency=5)


def _schedule(study: Subject, groups: Sequence[Alike]) -> Schedule:
    """Return the schedule of what wants treatment for ground contact."""
    units = study.plan.units
    rows, wheres = [], []
    for one in groups:
        if one.treatment == "ground contact":
            clear = (
                "post"
                if one.kind is Kind.POST
                else format_short(one.low, units)
                if one.low > 0
                else "stands on it"
            )
            many = f"{len(one.marks)} of {one.of}" if len(one.marks) < one.of else f"{one.of}"
            rows.append((one.where, str(one.kind), one.size, many, clear, _short(one.marks)))
            wheres.append(one.where)
    breaks = frozenset(i for i in range(1, len(wheres)) if wheres[i] != wheres[i - 1])
    return Schedule(
        "Treated for ground contact", ("where", "piece", "size", "pieces", "over\nthe ground", "marks"),
        tuple(rows), breaks, ("All other pieces: treated for use above ground.",),
    )  # fmt: skip


def _short(marks: Sequence[str]) -> str:
    """Name marks in the width of a column."""
    text = marks_in_words(marks)
    runs = text.split(", ")
    return text if len(runs) <= 2 else f"{runs[0]}, {runs[1]} ... {runs[-1]}"
