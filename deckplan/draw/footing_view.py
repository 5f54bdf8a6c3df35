"""The footing plan: where to dig, how wide and how deep, measured along and square to the house."""

from __future__ import annotations

from collections.abc import Sequence

from deckplan.build.stake_out import BaseLine, base_line, stake_out
from deckplan.draw.chains import chain_rows, rows_of
from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.labels import CROWDED, crowding, round_about
from deckplan.draw.letters import width_of
from deckplan.draw.plan_parts import WALL, clip, draw_house, draw_north, flight_corners
from deckplan.draw.plan_words import called, draw_cross, name_platform
from deckplan.draw.scene import Box, Role, Scene, box_of
from deckplan.draw.schedule import Schedule, place_schedule, set_out
from deckplan.draw.shapes import post_shape, square
from deckplan.draw.sheet import Room, Sheet, choose_scale, usual_sheet
from deckplan.draw.subject import SizedFooting, Subject, letter
from deckplan.geometry import Point, distance, unit
from deckplan.units import Units, format_inches, format_length, shown


def footing_view(
    study: Subject, *, sheet: Sheet | None = None, titled: bool = True, schedule: bool | None = None
) -> Scene:
    """Return the footing plan: every footing with its mark and its post, the outlines of the platforms, chains of
    dimensions to the middle of every footing, and a schedule of places and sizes.

    The schedule gives each footing its distances along and out from a base line, and from two house corners, for two
    tapes; its size, depth and load. Without one, diameter and bottom stand at each footing.

    sheet: the room there is, else the usual one of the plan's units; titled: with title, scale and caution below;
    schedule: whether there is one, else on paper yes and on a screen no. Without one, the tapes from both corners stand
    at each footing where there is room; the corners are marked all the same, for a table beneath the drawing.
    """
    plan = study.plan
    corners = [corner for one in plan.platforms for corner in one.outline]
    corners += [end for one in study.footings for end in square(one.at, one.diameter)]
    # Walls belong to it, for everything is measured from the house.
    deck = box_of(corners or [(0.0, 0.0), (120.0, 120.0)])
    paper = sheet or usual_sheet(plan)
    base = base_line(plan)
    listed = paper.to_scale and paper.full if schedule is None else schedule
    table = footing_schedule(study, base) if listed and study.footings else None
    least = 2.0 * paper.lettering * choose_scale(deck, Room(), paper, plan.units)[0]
    rows = [rows_of(study.footings, axis, least) for axis in (0, 1)]
    above, beside = (FIRST_ROW + ROW * (len(own) + 1) + 2.0 for own in rows)
    bare = Room(beside, 6.0, above, 11.0 if titled else 4.0)
    plot = set_out(table, deck, bare, paper, plan.units) if table else None
    draft = Draft("Footing plan", plan, paper, deck, plot.room if plot else bare)
    draw_north(draft, plan, deck)
    draw_house(draft, plan, deck)
    _outlines(draft, study)
    _footings(draft, study, None if plot else _tapes(base, study), in_words=plot is None)
    if base is not None and study.footings:
        _corners(draft, base, deck, [corner for one in plan.platforms for corner in one.outline])
    for axis, edge, side in ((0, deck.top, 1), (1, deck.left, -1)):
        ends = [corner[axis] for one in plan.platforms for corner in one.outline]
        if ends:
            taken = chain_rows(draft, rows[axis], plan, axis, edge, side)
            draft.chain([min(ends), max(ends)], "x" if axis == 0 else "y", taken, edge, side)
    if table and plot:
        place_schedule(draft, table, plot, deck)
    draft.notes.append("Dimensions run to the middle of each footing; elevations from the benchmark.")
    return draft.scene(titled=titled)


def _outlines(draft: Draft, study: Subject) -> None:
    """Draw what lies over the footings in thin dashes: platforms with their names, flights with their marks."""
    for index, one in enumerate(study.plan.platforms):
        draft.area(one.outline, Role.SURFACE)
        draft.stroke((*one.outline, one.outline[0]), Role.DATUM, letter(index))
        name_platform(draft, study, one, called(draft, study, one, 1.2))
    standing = {one.mark.partition("-")[0] for one in study.footings}
    for number, rise in enumerate(study.levels.flights, 1):
        if f"S{number}" in standing:
            corners = flight_corners(rise)
            draft.stroke((*corners, corners[0]), Role.DATUM, f"S{number}")


def _tapes(base: BaseLine | None, study: Subject) -> dict[str, str]:
    """Return the tapes from corners 1 and 2 to each footing, in words."""
    units = study.plan.units
    staked = stake_out(base, study.footings) if base else ()
    return {
        one.mark: f"from 1: {_tape(one.from_first, units)}\nfrom 2: {_tape(one.from_second, units)}"
        for one in staked
    }


def _footings(draft: Draft, study: Subject, tapes: dict[str, str] | None, *, in_words: bool) -> None:
    words = [(one.mark, draft.short(one.diameter), draft.level(one.bottom)) for one in study.footings]
    said = [[mark for mark, _, _ in words]]
    if in_words and draft.sheet.full:
        said.insert(0, [f"{mark}\n{across} dia." for mark, across, _ in words])
        said.insert(0, [f"{mark}\n{across} dia.\nbottom {level}" for mark, across, level in words])
        if tapes:
            said.insert(
                0, [f"{text}\n{tapes[mark]}" for text, (mark, _, _) in zip(said[0], words, strict=True)]
            )
    texts = next((each for each in said if crowding(each, draft.letter, draft.core) < CROWDED), said[-1])
    for footing, text in zip(study.footings, texts, strict=True):
        draft.disc(footing.at, footing.diameter / 2, Role.FOOTING, footing.mark)
        draft.ground.heavy.append(box_of(square(footing.at, footing.diameter)))
        posts = [post for post in study.layout.posts if post.footing == footing.mark]
        for post in posts:
            draft.area(post_shape(post), Role.POST, post.mark)
        if not posts:
            draw_cross(draft, footing.at, 0.5 * draft.letter, footing.mark)
        places = round_about(footing.at, text, draft.letter, footing.diameter / 2 + 0.2 * draft.letter)
        draft.wish(text, footing.at, places, Role.MARK, footing.mark, plate=True, urgency=4)


def footing_schedule(study: Subject, base: BaseLine | None = None) -> Schedule:
    """Return the schedule of a study's footings, with tapes from a base line where there is one."""
    units = study.plan.units
    taped = {one.mark: one for one in stake_out(base, study.footings)} if base else {}
    tapes = ("along", "out", "from\ncorner 1", "from\ncorner 2") if base else ("x", "y")
    columns = ("mark", *tapes, "dia.", "depth", "least\nthick", "bottom", "load")
    rows = []
    for one in study.footings:
        tape = taped.get(one.mark)
        places = (tape.along, tape.out, tape.from_first, tape.from_second) if tape else one.at
        rows.append((one.mark, *(_tape(each, units) for each in places), *_size(one, units)))
    groups = [one.mark.partition("-")[0] for one in study.footings]
    breaks = frozenset(i for i in range(1, len(groups)) if groups[i] != groups[i - 1])
    return Schedule("Footings", columns, tuple(rows), breaks, tuple(_said(base, study)))


def _said(base: BaseLine | None, study: Subject) -> list[str]:
    return [
        *corners_in_words(base, study),
        "Each is a round pier of its diameter, filled to its full depth.",
        "Load: what sizes it. Depth: below its top, at the ground there.",
        "Least thick: what such a pad alone would take.",
    ]


def corners_in_words(base: BaseLine | None, study: Subject) -> list[str]:
    """Say what is taped from, where there is anything, and how."""
    if base is None:
        return []
    whose = f"the corners of the {base.of}" if base.house else f"two corners of {base.of}"
    apart = _tape(base.length, study.plan.units)
    return [
        f"Corners 1 and 2: {whose}, {apart} apart.",
        "Along: from corner 1 towards corner 2; out: square to that line. Tapes held level.",
    ]


def _size(one: SizedFooting, units: Units) -> tuple[str, ...]:
    load, unit_name = shown(one.design, "lb", units)
    weight = f"{load:.1f}" if units == "metric" else f"{load:,.0f}"
    level = _tape(abs(one.bottom), units)
    sign = "" if level == _tape(0.0, units) else "−" if one.bottom < 0 else "+"
    sizes = (
        _inches(one.diameter, units),
        _inches(one.top - one.bottom, units),
        _inches(one.thickness, units),
    )
    return (*sizes, sign + level, f"{weight} {unit_name}")


def _tape(length: float, units: Units) -> str:
    text = format_length(abs(length), units)
    sign = "−" if length < 0 and text != format_length(0.0, units) else ""
    return sign + text.removesuffix(" mm")


def _inches(length: float, units: Units) -> str:
    return format_inches(length) if units == "us" else _tape(length, units)


def _corners(draft: Draft, base: BaseLine, deck: Box, ends: Sequence[Point]) -> None:
    """Mark the two corners that are taped from; one out of sight is named where its wall is broken off.

    ends: corners of the platforms [in]; how far past the last of them a corner lies is said with it.
    """
    kept = clip(base.first, base.second, deck.grown(3.0 * draft.letter))
    if kept is None:
        return
    dx, dy = unit(base.first, base.second)
    reach = [(x - base.first[0]) * dx + (y - base.first[1]) * dy for x, y in ends]
    past = (min(reach), base.length - max(reach))
    for number, (corner, end, way) in enumerate(
        ((base.first, kept[0], -1), (base.second, kept[1], 1)), start=1
    ):
        text = f"corner {number}"
        if distance(corner, end) > 1.0:
            text += f"\n{draft.figure(past[number - 1])} past the deck"
            draft.arrow((end[0] - way * dx * 2.0 * draft.letter, end[1] - way * dy * 2.0 * draft.letter), end)
        else:
            draft.disc(end, 0.55 * draft.letter, Role.SPOT)
            draw_cross(draft, end, 0.8 * draft.letter)
        about = round_about(end, text, draft.letter, 0.8 * draft.letter)
        # behind the wall, where neither chains nor footings stand
        off, half = WALL + 1.8 * draft.letter, width_of(text, draft.letter) / 2
        behind = [
            (end[0] + dy * off - way * dx * by, end[1] - dx * off - way * dy * by)
            for by in (half, 0.0, -half, 1.5 * half, 2.0 * half)
        ]
        places = (*behind, *about) if base.house else about
        draft.wish(text, end, places, Role.NOTE, plate=True, urgency=8)
