"""The site plan: house, platforms, lines to keep clear of, and the measured ground."""

from __future__ import annotations

from functools import partial
from itertools import pairwise

from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.labels import round_about
from deckplan.draw.plan_parts import clip, draw_house, draw_north, flight_corners
from deckplan.draw.scene import Box, Role, Scene, box_of, text_box
from deckplan.draw.setback_words import setback_words
from deckplan.draw.shapes import inside, shifted, square
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject, letter
from deckplan.geometry import Line, Point, along, distance, middle, point_to_line, unit
from deckplan.plan.model import BoundaryLine, Platform


def site_view(study: Subject, *, sheet: Sheet | None = None, titled: bool = True) -> Scene:
    """Return the site plan: outlines with names and levels, boundary lines with setbacks and the shortest
    distance to the deck, spot elevations of the ground.

    sheet: the room there is, else the usual one of the plan's units; titled: with title, scale and caution
    below.
    """
    plan = study.plan
    corners = _built(study)
    corners += [spot.at for spot in plan.site.ground]
    corners += [corner for wall in plan.house.walls for corner in wall.line]
    deck = box_of(
        [corner for one in plan.platforms for corner in one.outline] or [(0.0, 0.0), (120.0, 120.0)]
    )
    near = deck.grown(1.5 * max(deck.width, deck.height))
    lines = [line for boundary in plan.site.boundary for line in pairwise(boundary.line)]
    feet = [_foot(line, deck.centre) for line in lines]
    corners += [foot for foot in feet if near.holds(box_of([foot]))]
    core = box_of(corners or [(0.0, 0.0), (120.0, 120.0)])
    beside = FIRST_ROW + ROW + 3.0
    room = Room(beside, 3.0, beside, 9.0 if titled else 4.0)
    draft = Draft("Site plan", plan, sheet or usual_sheet(plan), core, room)
    draw_north(draft, plan, core)
    draw_house(draft, plan, core)
    for index, one in enumerate(plan.platforms):
        draft.area(one.outline, Role.PLATFORM, letter(index))
    for index, rise in enumerate(study.levels.flights):
        if rise.run > 0:
            draft.area(flight_corners(rise), Role.STEP, f"S{index + 1}")
    for boundary in plan.site.boundary:
        _boundary(draft, study, boundary)
    for spot in plan.site.ground:
        _spot(draft, spot.at, draft.level(spot.elevation))
    for index, one in enumerate(plan.platforms):
        _name(draft, study, one, letter(index))
    built = box_of([*_built(study), (deck.left, deck.bottom), (deck.right, deck.top)])
    draft.chain([deck.left, deck.right], "x", 0, built.top, 1)
    draft.chain([deck.bottom, deck.top], "y", 0, built.left, -1)
    return draft.scene(titled=titled)


def _built(study: Subject) -> list[Point]:
    """Return the corners of everything that is built: platforms and flights [in]."""
    corners = [corner for one in study.plan.platforms for corner in one.outline]
    return corners + [corner for rise in study.levels.flights for corner in flight_corners(rise)]


def _foot(line: Line, at: Point) -> Point:
    """Return the point of a stretch of line that is nearest to a point [in]."""
    (x0, y0), (x1, y1) = line
    dx, dy = x1 - x0, y1 - y0
    square_length = dx * dx + dy * dy or 1.0
    share = ((at[0] - x0) * dx + (at[1] - y0) * dy) / square_length
    return along(line, min(1.0, max(0.0, share)))


def _boundary(draft: Draft, study: Subject, boundary: BoundaryLine) -> None:
    """Draw a line to keep clear of, its setback, and the shortest way from it to the deck."""
    near = draft.core.grown(4.0 * draft.letter)
    corners = _built(study)
    for line in pairwise(boundary.line):
        kept = clip(line[0], line[1], near)
        if kept is None:
            continue
        draft.stroke(kept, Role.BOUNDARY)
        spots = [along(kept, share) for share in (0.2, 0.8, 0.35, 0.65)]
        beside = [(x, y + up * 0.9 * draft.letter) for x, y in spots for up in (1, -1)]
        draft.wish(f"{boundary.kind} line", middle(kept), beside, Role.NOTE, plate=True, urgency=5)
        if not corners:
            continue
        nearest = min(corners, key=partial(point_to_line, line=line))
        foot = _foot(line, nearest)
        if line[0] != line[1]:
            for setback, text in setback_words(draft, boundary):
                _setback(draft, line, _square_to(line, box_of(corners).centre), setback, text, near)
        if distance(nearest, foot) > 2 * draft.letter:
            draft.arrow(nearest, foot, both=True)
            text = draft.figure(distance(nearest, foot))
            half = middle((nearest, foot))
            places = [half, *round_about(half, text, draft.letter, 0.3 * draft.letter)]
            draft.wish(text, half, places, Role.DIMENSION, plate=True, urgency=7)


def _square_to(line: Line, at: Point) -> Point:
    """Return the unit vector square to a stretch of line, towards the side that a point lies on."""
    (dx, dy), (x, y) = unit(*line), line[0]
    side = 1.0 if (at[0] - x) * -dy + (at[1] - y) * dx >= 0 else -1.0
    return (-dy * side, dx * side)


def _setback(draft: Draft, line: Line, towards: Point, setback: float, text: str, near: Box) -> None:
    """Draw one setback [in] of a stretch of line as far as it is in sight, with its words."""
    moved = [shifted(end, towards, setback) for end in line]
    kept = clip(moved[0], moved[1], near)
    if kept is None:
        return
    draft.stroke(kept, Role.SETBACK)
    spots = [along(kept, share) for share in (0.2, 0.8, 0.35, 0.65, 0.5)]
    at = [(x, y + up * 0.9 * draft.letter) for x, y in spots for up in (1, -1)]
    draft.wish(text, middle(kept), at, Role.NOTE, plate=True, needed=draft.sheet.full, urgency=3)


def _spot(draft: Draft, at: Point, text: str) -> None:
    """Draw a measured height: a small cross and its elevation."""
    (x, y), arm = at, 0.4 * draft.letter
    draft.stroke(((x - arm, y - arm), (x + arm, y + arm)), Role.SPOT)
    draft.stroke(((x - arm, y + arm), (x + arm, y - arm)), Role.SPOT)
    draft.ground.solids.append(box_of(square(at, 2 * arm)))
    draft.wish(
        text, at, round_about(at, text, 0.9 * draft.letter, arm), Role.SPOT, size=0.9, plate=True, urgency=4
    )


def _name(draft: Draft, study: Subject, one: Platform, mark: str) -> None:
    text = f"{mark}  {one.name}\n{draft.level(study.levels.elevation(one.name))}"
    box = box_of(one.outline)
    shares = (0.5, 0.35, 0.65, 0.25, 0.75)
    spots = [(box.left + a * box.width, box.bottom + b * box.height) for a in shares for b in shares]
    spots.sort(key=lambda at: distance(at, box.centre))
    good = []
    for at in spots:
        room = text_box(text, at, draft.letter)
        ends = (
            (room.left, room.bottom),
            (room.right, room.bottom),
            (room.right, room.top),
            (room.left, room.top),
        )
        if all(inside(end, one.outline) for end in ends):
            good.append(at)
    draft.wish(text, box.centre, good, Role.LEVEL, mark, plate=True, urgency=9)
