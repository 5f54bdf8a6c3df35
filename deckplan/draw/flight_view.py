"""The detail of one flight: cut through its middle, with frames, boards, fixings and every riser.

Across the sheet runs the distance from the upper edge down the flight [in], upward the elevation [in].
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.labels import round_about
from deckplan.draw.plan_parts import WALL
from deckplan.draw.profile_parts import level_tag, stringer_outline
from deckplan.draw.scene import Box, Role, Scene, box_of, text_box
from deckplan.draw.shapes import rectangle
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import SizedFooting, Subject, letter
from deckplan.geometry import Point, distance, unit
from deckplan.layout.flight_model import Fixing, FlightFrame, FlightFrames
from deckplan.layout.model import Kind, Member
from deckplan.levels.model import Rise
from deckplan.levels.risers import risers_in_words
from deckplan.levels.stringer_ends import PAD_DEPTH, PAD_THICK
from deckplan.levels.stringers import StringerLayout
from deckplan.units import format_length, format_short

UP, DOWN = 20.0, 24.0
"""How much of the upper platform and of the landing is shown [in]."""

SILL = 1.5
"""How thick a door's sill is drawn [in]."""

BELOW = 6.0
"""How much deeper than the flight is high a footing is drawn before it is broken [in]."""


class Framed(Subject, Protocol):
    """A subject whose flights are framed. A study is one."""

    @property
    def flights(self) -> FlightFrames:
        """The framing of every flight."""
        ...


@dataclass(frozen=True, slots=True)
class Slice:
    """The upright plane down the middle of a flight."""

    rise: Rise

    def down(self, at: Point) -> float:
        """Return how far down the flight a point lies from the upper edge [in]."""
        (x0, y0), (dx, dy) = self.rise.along[0], self.rise.down
        return (at[0] - x0) * dx + (at[1] - y0) * dy

    def aside(self, at: Point) -> float:
        """Return how far beside the middle of the flight a point lies [in]."""
        (x0, y0), (ex, ey) = self.rise.along[0], unit(*self.rise.along)
        return (at[0] - x0) * ex + (at[1] - y0) * ey - self.rise.width / 2

    def meets(self, part: Member) -> tuple[float, float] | None:
        """Return where a member that runs across passes through the plane and how wide it is there [in]."""
        a, b = self.aside(part.start), self.aside(part.end)
        if part.length == 0 or abs(b - a) < 0.2 * part.length or not min(a, b) <= 0 <= max(a, b):
            return None
        u0, u1 = self.down(part.start), self.down(part.end)
        return u0 + (u1 - u0) * -a / (b - a), part.width * part.length / abs(b - a)


def flight_view(study: Framed, flight: int, *, sheet: Sheet | None = None, titled: bool = True) -> Scene:
    """Return the detail of a flight; flight: its place in the plan, from nought.

    sheet: the room there is, else the usual one of the plan's units; titled: with title, scale and caution
    below.

    Raises IndexError for a flight that the plan does not have.
    """
    plan, rise = study.plan, study.levels.flights[flight]
    frame = study.flights.flights[flight]
    cut = Slice(rise)
    core = _core(study, rise, frame)
    room = Room(9.0, FIRST_ROW + ROW + 9.0, FIRST_ROW + ROW + 2.0, 13.0 if titled else 5.0)
    name = f"{frame.mark}  {rise.upper} to {rise.lower}"
    draft = Draft(name, plan, sheet or usual_sheet(plan), core, room)
    draft.small = True
    board = plan.materials.decking.thickness
    ends = {rise.upper: (-UP, 0.0, rise.top), rise.lower: (0.0, core.right, rise.bottom)}
    for one in plan.platforms:
        if one.name in ends:
            low, high, z = ends[one.name]
            _frame(draft, cut, study.layout.of(one.name), Box(low - 3.0, z - 30.0, high, z))
            draft.area(rectangle(low, z - board, high, z), Role.BOARD)
            mark = letter(plan.platforms.index(one))
            tag = f"{mark}  {one.name}  {draft.level(z)}" if draft.sheet.full else f"{mark}  {draft.level(z)}"
            at = 0.5 * low if one.name == rise.upper else high - 0.35 * DOWN
            level_tag(draft, tag, (at, z), (low, high), mark)
    if rise.upper not in {one.name for one in plan.platforms}:
        _door(draft, rise, core)
    if rise.lower == "ground":
        _landing(draft, study, cut, core)
    if rise.kind == "stringer":
        _stringer(draft, study, rise, frame, board)
    _frame(draft, cut, [part for part in frame.members if part.kind is not Kind.STRINGER], core)
    if frame.inner_feet:
        _pad(draft, rise, frame)
    _footings(draft, cut, rise, [one for one in study.footings if one.mark.startswith(f"{frame.mark}-")])
    _frames(draft, frame)
    _fixings(draft, cut, frame)
    _dimensions(draft, rise, core)
    risers = risers_in_words(rise.risers, rise.riser, plan.units)
    treads = f", treads of {format_short(rise.tread, plan.units)}" if rise.risers > 1 else ""
    draft.notes.append(f"{risers}{treads}, {format_length(rise.width, plan.units)} wide")
    return draft.scene(titled=titled)


def _door(draft: Draft, rise: Rise, core: Box) -> None:
    """Draw the wall that a flight leaves through a door: wall below the sill, the sill, the floor behind."""
    sill = rise.top
    draft.area(rectangle(-WALL, core.bottom, 0.0, sill - SILL), Role.WALL, solid=True)
    draft.area(rectangle(-WALL - 0.5, sill - SILL, 0.75, sill), Role.DOOR)
    draft.area(rectangle(core.left, sill - 11.0, -WALL, sill - 0.5), Role.FLOOR, solid=True)
    text = f"{rise.upper}, sill {draft.level(sill)}"
    high = 0.5 * text_box(text, (0.0, 0.0), draft.letter).width
    places = [(x, sill + up * draft.letter) for up in (1.0, 2.3) for x in (core.left + high, -WALL, 0.0)]
    draft.wish(text, (-WALL / 2, sill), places, Role.LEVEL, plate=True, urgency=8)


def _core(study: Framed, rise: Rise, frame: FlightFrame) -> Box:
    reach = max(rise.run, rise.tread)
    slice_ = Slice(rise)
    reach = max([reach, *(slice_.down(end) for part in frame.members for end in (part.start, part.end))])
    deep = 12.0 if rise.lower != "ground" else 8.0
    rims = [part.depth for part in study.layout.of(rise.upper, Kind.RIM, Kind.JOIST, Kind.BEAM)]
    low = min(rise.bottom - deep, rise.top - max(rims, default=0.0) - 3.0)
    own = [one for one in study.footings if one.mark.startswith(f"{frame.mark}-")]
    low = min([low, *(one.top - _shown_depth(one, rise) for one in own)])
    return Box(-UP, low, reach + DOWN, rise.top + 3.0)


def _frame(draft: Draft, cut: Slice, parts: Iterable[Member], window: Box) -> None:
    """Draw what the plane cuts, and of what runs along it the piece nearest behind, within a window."""
    behind: dict[tuple[Kind, int, int], Member] = {}
    for part in parts:
        spot = cut.meets(part)
        if spot is not None:
            u, wide = spot
            if window.left <= u <= window.right:
                role = {Kind.TREAD: Role.TREAD, Kind.BOARD: Role.BOARD}.get(part.kind, Role.CUT)
                corners = rectangle(u - wide / 2, part.bottom, u + wide / 2, part.top)
                draft.area(corners, role, part.mark, solid=True)
        elif abs(cut.aside(part.end) - cut.aside(part.start)) < 0.1 * part.length:
            key = (part.kind, round(part.top), round(min(cut.down(part.start), cut.down(part.end)) / 6))
            nearest = behind.get(key)
            if nearest is None or abs(cut.aside(part.start)) < abs(cut.aside(nearest.start)):
                behind[key] = part
        else:
            pass  # it runs aslant and clear of the plane
    for part in behind.values():
        low, high = sorted((cut.down(part.start), cut.down(part.end)))
        low, high = max(low, window.left), min(high, window.right)
        if low < high:
            role = Role.BLOCKING if part.kind is Kind.BLOCKING else Role.JOIST
            draft.area(rectangle(low, part.bottom, high, part.top), role, part.mark)


def _landing(draft: Draft, study: Framed, cut: Slice, core: Box) -> None:
    """Draw the ground in front of the upper edge and the piers that the flight stands on."""
    (x0, y0), (x1, y1), (dx, dy) = *cut.rise.along, cut.rise.down
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    spots = [core.left + core.width * i / 12 for i in range(13)]
    line = [(u, study.levels.ground.elevation_at((middle[0] + dx * u, middle[1] + dy * u))) for u in spots]
    deep = 1.1 * draft.letter
    draft.area((*line, *((u, z - deep) for u, z in reversed(line))), Role.EARTH)
    draft.stroke(line, Role.GROUND)


def _shown_depth(footing: SizedFooting, rise: Rise) -> float:
    """Return how much of a footing's depth is drawn [in]: all of it, or as much as the flight is high and a little."""
    return min(footing.top - footing.bottom, rise.rise + BELOW)


def _footings(draft: Draft, cut: Slice, rise: Rise, footings: Sequence[SizedFooting]) -> None:
    """Draw the footings that the flight itself stands on, one behind another as one; a deep one is broken."""
    rows: dict[int, list[SizedFooting]] = {}
    for one in footings:
        rows.setdefault(round(cut.down(one.at)), []).append(one)
    for row in rows.values():
        for one in row:
            u, half, low = cut.down(one.at), one.diameter / 2, one.top - _shown_depth(one, rise)
            draft.area(rectangle(u - half, low, u + half, one.top), Role.CONCRETE, one.mark)
        first = row[0]
        u, half, low = cut.down(first.at), first.diameter / 2, first.top - _shown_depth(first, rise)
        if low > first.bottom + 0.1:
            _break(draft, u, half, low + 0.35 * (first.top - low))
        marks = ", ".join(one.mark for one in row)
        depth = draft.short(first.top - first.bottom)
        text = (
            f"{marks}\n{draft.short(first.diameter)} dia., {depth} deep\nbottom {draft.level(first.bottom)}"
        )
        box = text_box(text, (0.0, 0.0), draft.letter)
        at = (u, low + (first.top - low) / 2)
        off = half + box.width / 2 + draft.letter
        places = [
            (u + side * off, low + box.height / 2 + up * draft.letter) for up in (0, 2) for side in (1, -1)
        ]
        draft.wish(text, at, places, Role.MARK, first.mark, plate=True, urgency=6)


def _pad(draft: Draft, rise: Rise, frame: FlightFrame) -> None:
    """Draw the pad between the piers, which the inner stringers stand on."""
    low, u = rise.bottom - PAD_THICK, rise.run - PAD_DEPTH
    draft.area(rectangle(u, low, rise.run, rise.bottom), Role.CONCRETE, frame.mark)
    size = f"{draft.short(PAD_DEPTH)} along, {draft.short(PAD_THICK)} thick"
    text = f"pad under {frame.inner_feet} inner feet,\nas wide as the flight,\n{size}"
    box = text_box(text, (0.0, 0.0), draft.letter)
    places = [
        (u - aside * draft.letter - box.width / 2, low - down * draft.letter - box.height / 2)
        for aside, down in ((1, 1), (1, 3), (4, 2))
    ]
    draft.wish(text, (u + 1.0, low + 1.0), places, Role.NOTE, frame.mark, plate=True, urgency=6)


def _break(draft: Draft, u: float, half: float, z: float) -> None:
    """Draw the sign of a piece left out: two zigzags across a footing, the ground between them clear."""
    gap, tooth, out = 0.5 * draft.letter, 0.4 * draft.letter, half + 0.6 * draft.letter
    turns = ((-out, 0.0), (-tooth, 0.0), (-tooth / 2, tooth), (tooth / 2, -tooth), (tooth, 0.0), (out, 0.0))
    lower, upper = ([(u + x, z + side * gap + y) for x, y in turns] for side in (-1, 1))
    draft.area((*lower, *reversed(upper)), Role.BREAK)
    draft.stroke(lower, Role.LEADER)
    draft.stroke(upper, Role.LEADER)


def _stringer(draft: Draft, study: Framed, rise: Rise, frame: FlightFrame, board: float) -> None:
    """Draw one cut stringer with the figures a carpenter lays it out by."""
    stringers = [part for part in frame.members if part.kind is Kind.STRINGER]
    if not stringers:
        return
    depth = stringers[0].depth
    layout = StringerLayout(rise.risers, rise.riser, rise.tread, board, depth)
    outline = stringer_outline(rise, 0.0, 1.0, board, depth)
    draft.area(outline, Role.STRINGER, stringers[0].mark)
    draft.ground.solids.append(box_of(outline))
    mark = stringers[0].mark
    across = sorted(distance(stringers[0].start, one.start) for one in stringers)
    apart = max((b - a for a, b in pairwise(across)), default=0.0)
    size = f"{len(stringers)} stringers {stringers[0].size}, {draft.short(apart)} apart at most"
    size += f"\nplank {draft.short(layout.plank)}"
    notes = [
        (
            f"bottom cut {format_short(layout.bottom_cut, draft.units)}",
            (rise.run, rise.bottom + layout.bottom_cut / 2),
        ),
        (size, (rise.run * 0.4, rise.top - 0.55 * rise.rise - board)),
    ]
    if rise.risers > 2:
        # The throat: square to the slope, from an inner corner to the lower edge.
        step, long = rise.risers // 2 + 1, layout.pitch_length
        corner = ((step - 1) * rise.tread, rise.top - step * rise.riser - board)
        foot = (corner[0] - layout.throat * rise.riser / long, corner[1] - layout.throat * rise.tread / long)
        draft.stroke((corner, foot), Role.LEADER)
        half = ((corner[0] + foot[0]) / 2, (corner[1] + foot[1]) / 2)
        notes.append((f"throat {format_short(layout.throat, draft.units)}", half))
    for text, at in notes:
        draft.wish(text, at, (), Role.NOTE, mark, plate=True, urgency=5)


def _frames(draft: Draft, frame: FlightFrame) -> None:
    for tier in frame.frames:
        height = format_short(tier.height, draft.units)
        spacing = draft.short(tier.spacing)
        text = f"frame ripped to {height}\n{tier.joists} joists at {spacing}"
        at = (tier.depth - 0.75, tier.top - tier.height / 2)
        draft.wish(text, at, (), Role.NOTE, frame.mark, plate=True, urgency=4)


def _fixings(draft: Draft, cut: Slice, frame: FlightFrame) -> None:
    """Draw each row of fixings once, with its count."""
    rows: dict[tuple[str, int, int], list[Fixing]] = {}
    for one in frame.fixings:
        if one.kind == "pier":
            continue  # the footing itself is drawn
        rows.setdefault((one.kind, round(cut.down(one.at)), round(one.elevation)), []).append(one)
    for (kind, _, _), row in rows.items():
        u, z = cut.down(row[0].at), row[0].elevation
        if kind == "screw":
            draft.stroke(((u - 2.0, z), (u + 1.5, z)), Role.FIXING)
            draft.stroke(((u + 1.5, z - 0.35), (u + 1.5, z + 0.35)), Role.FIXING)
        else:
            draft.stroke(((u - 2.5, z), (u, z), (u, z + 2.5)), Role.FIXING)
        word = kind if len(row) == 1 else f"{kind}s"
        into = " into blocking" if kind == "angle" and any("-K" in mark for mark in row[0].joins) else ""
        text = f"{len(row)} {word}{into}"
        if kind == "bracket" and frame.inner_feet:
            piers = len(row) - frame.inner_feet
            text = f"{piers} {word} on the piers,\n{frame.inner_feet} on the pad between"
        draft.wish(
            text,
            (u, z),
            round_about((u, z), text, draft.letter, draft.letter),
            Role.NOTE,
            urgency=3,
            plate=True,
        )


def _dimensions(draft: Draft, rise: Rise, core: Box) -> None:
    heights = [rise.top - number * rise.riser for number in range(rise.risers + 1)]
    draft.chain(heights, "y", 0, core.right, 1)
    treads = [number * rise.tread for number in range(rise.risers)]
    draft.chain(treads, "x", 0, core.top, 1)
    if rise.risers > 2:
        draft.chain([heights[0], heights[-1]], "y", 1, core.right, 1)
        draft.chain([treads[0], treads[-1]], "x", 1, core.top, 1)
