"""Parts that every plan drawing shares: house, flights, guards, boundary, north."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.draw.draft import Draft
from deckplan.draw.labels import round_about
from deckplan.draw.letters import width_of
from deckplan.draw.north import find_north, outward
from deckplan.draw.scene import Box, Role, box_of, text_box
from deckplan.draw.setback_words import setback_words
from deckplan.draw.shapes import shifted
from deckplan.draw.subject import Subject, letter
from deckplan.geometry import Point, along, distance, middle, point_to_line, unit
from deckplan.layout.holes import onto_floor
from deckplan.levels.model import Rise
from deckplan.levels.risers import risers_in_words
from deckplan.plan.model import Plan, Platform
from deckplan.units import format_short

WALL = 6.0
"""How thick a house wall is drawn [in]; the plan gives its face only."""


def clip(a: Point, b: Point, box: Box) -> tuple[Point, Point] | None:
    """Return the stretch of a line that lies in a box, or None where none does."""
    enter, leave = 0.0, 1.0
    for d, low, high in (
        (b[0] - a[0], box.left - a[0], box.right - a[0]),
        (b[1] - a[1], box.bottom - a[1], box.top - a[1]),
    ):
        if d == 0:
            if low > 0 or high < 0:
                return None
            continue
        first, second = sorted((low / d, high / d))
        enter, leave = max(enter, first), min(leave, second)
    if a == b or enter >= leave:
        return None
    return (along((a, b), enter), along((a, b), leave))


def draw_house(draft: Draft, plan: Plan, core: Box) -> None:
    """Draw house walls near the deck, cut off a little beyond it, and the doors in them."""
    near = core.grown(3.0 * draft.letter)
    for index, wall in enumerate(plan.house.walls):
        ox, oy = outward(plan, index)
        for stretch in zip(wall.line, wall.line[1:], strict=False):
            kept = clip(*stretch, near)
            if kept is None:
                continue
            a, b = kept
            behind = (shifted(b, (ox, oy), -WALL), shifted(a, (ox, oy), -WALL))
            draft.area((a, b, *behind), Role.WALL, solid=True)
        for door in plan.house.doors:
            stretches = list(zip(wall.line, wall.line[1:], strict=False))
            nearest = min(stretches, key=lambda s: point_to_line(door.at, s))
            shown = clip(*nearest, near) is not None and near.holds(Box(*door.at, *door.at))
            if shown and point_to_line(door.at, nearest) < WALL and nearest[0] != nearest[1]:
                along_wall = unit(*nearest)
                a, b = (shifted(door.at, along_wall, half * door.width / 2) for half in (-1, 1))
                back = (shifted(b, (ox, oy), -WALL), shifted(a, (ox, oy), -WALL))
                draft.area((a, b, *back), Role.DOOR)
                draft.stroke((along((a, back[1]), 0.5), along((b, back[0]), 0.5)), Role.DOOR)
                text = f"{door.name}, sill {draft.level(door.sill)}"
                at = shifted(door.at, (ox, oy), -WALL - 0.8 * draft.letter)
                half = 0.5 * width_of(text, draft.letter)
                beside = [shifted(at, along_wall, side * (half + 2.0 * draft.letter)) for side in (1, -1)]
                draft.wish(text, door.at, (at, *beside), Role.NOTE, needed=draft.sheet.full, urgency=6)


@dataclass(frozen=True, slots=True)
class Shown:
    """What a plan shows, of one platform or of all: platforms, room that they and their flights take [in], title."""

    platforms: tuple[Platform, ...]
    core: Box
    title: str

    @property
    def names(self) -> set[str]:
        """The platforms' names."""
        return {one.name for one in self.platforms}

    @property
    def corners(self) -> list[Point]:
        """Every corner of the platforms' outlines [in]."""
        return [corner for one in self.platforms for corner in one.outline]


def show(study: Subject, platform: str, title: str) -> Shown:
    """Return what to show of a study: one platform by its name, or all of them where it is empty.

    Raises KeyError for a platform that the plan does not know.
    """
    plan = study.plan
    platforms = plan.platforms if not platform else (plan.platform(platform),)
    names = {one.name for one in platforms}
    corners = [corner for one in platforms for corner in one.outline]
    for rise in study.levels.flights:
        if {rise.upper, rise.lower} & names:
            corners += (*flight_corners(rise), arrow_head(rise))
    core = box_of(corners or [(0.0, 0.0), (120.0, 120.0)])
    if platform:
        title += f", {letter(plan.platforms.index(platforms[0]))} {platform}"
    return Shown(platforms, core, title)


def flight_corners(rise: Rise) -> tuple[Point, ...]:
    """Return the corners of a flight in plan [in]; a single riser counts the tread that it steps on."""
    a, b = rise.along
    run = max(rise.run, rise.tread)
    return (a, b, shifted(b, rise.down, run), shifted(a, rise.down, run))


def arrow_head(rise: Rise) -> Point:
    """Return where the arrow down a flight ends in plan [in]: half a tread beyond its last nosing."""
    return shifted(middle(rise.along), rise.down, rise.run + 0.5 * rise.tread)


def draw_flights(draft: Draft, study: Subject, names: set[str]) -> None:
    """Draw every flight at one of the platforms: its nosings, an arrow down, its risers in words."""
    for index, rise in enumerate(study.levels.flights):
        if not {rise.upper, rise.lower} & names:
            continue
        mark = f"S{index + 1}"
        a, b = rise.along
        if rise.run > 0:
            draft.area(flight_corners(rise), Role.STEP, mark)
        for step in range(rise.risers):
            out = step * rise.tread
            draft.stroke((shifted(a, rise.down, out), shifted(b, rise.down, out)), Role.TREAD, mark)
        head = arrow_head(rise)
        behind = 0.9 if rise.upper in {one.name for one in study.plan.platforms} else 0.1
        tail = shifted(middle(rise.along), rise.down, -behind * rise.tread)
        draft.arrow(tail, head, mark=mark)
        risers = risers_in_words(rise.risers, rise.riser, draft.units)
        way = "down" if rise.riser >= 0 else "as drawn"
        text = f"{mark} {way}\n{risers}" if draft.sheet.full else f"{mark} {risers.partition(' of ')[0]}"
        corners = flight_corners(rise)
        arrow = box_of((tail, head)).grown(0.3 * draft.letter)
        box = box_of(corners)
        draft.ground.solids += [arrow, box]
        # On the flight, clear of its arrow, where it is wide enough; else beside it.
        room = text_box(text, (0.0, 0.0), draft.letter).grown(0.2 * draft.letter)
        mids = [middle((corners[i], corners[j])) for i, j in ((1, 2), (0, 3))]
        on_it = [along((mids[0], mids[1]), share) for share in (0.25, 0.75, 0.2, 0.8)]
        fits = [at for at in on_it if box.holds(text_box(text, at, draft.letter))]
        fits = [at for at in fits if not arrow.meets(text_box(text, at, draft.letter))]
        wide, high = room.width / 2, room.height / 2
        (cx, cy), places = box.centre, list(fits)
        for up in (0.0, 0.3, -0.3):
            places += [(side, cy + up * box.height) for side in (box.right + wide, box.left - wide)]
            places += [(cx + up * box.width, side) for side in (box.top + high, box.bottom - high)]
        if fits:
            draft.fix(text, fits[0], Role.NOTE, plate=True)
        else:
            draft.wish(text, box.centre, places, Role.NOTE, mark, plate=True, urgency=10)


def draw_guards(draft: Draft, study: Subject, names: set[str]) -> None:
    """Draw a row of dots just inside every edge that asks for a guard."""
    for guard in study.layout.guards:
        if guard.platform not in names or not guard.required or guard.start == guard.end:
            continue
        normal = onto_floor(study.plan.platform(guard.platform), guard.start, guard.end)
        off = max(3.0, 0.45 * draft.letter)
        draft.stroke((shifted(guard.start, normal, off), shifted(guard.end, normal, off)), Role.GUARD)


def name_openings(draft: Draft, one: Platform) -> None:
    """Write what every hole in a platform is, and its size, in the hole where it fits, else beside it."""
    for opening in one.openings:
        box = box_of(opening.outline)
        sizes = [format_short(size, draft.units) for size in (box.width, box.height)]
        text = f"{opening.kind}\n{sizes[0]} x {sizes[1]}" if draft.sheet.full else opening.kind
        places = (box.centre, *round_about(box.centre, text, draft.letter, box.height / 2))
        draft.wish(text, box.centre, places, Role.NOTE, plate=True, urgency=10)


def draw_boundary(draft: Draft, plan: Plan, core: Box) -> None:
    """Draw the lines to be kept clear of, with their setback, where they pass near the deck."""
    near = core.grown(7.0 * draft.letter)
    for boundary in plan.site.boundary:
        for stretch in zip(boundary.line, boundary.line[1:], strict=False):
            kept = clip(*stretch, near)
            if kept is None or distance(*kept) == 0:
                continue
            draft.stroke(kept, Role.BOUNDARY)
            beside = [(x, y + up * 0.9 * draft.letter) for x, y in [middle(kept)] for up in (1, -1)]
            text = f"{boundary.kind} line"
            draft.wish(text, middle(kept), beside, Role.NOTE, plate=True, needed=draft.sheet.full)
        for a, b in zip(boundary.line, boundary.line[1:], strict=False):
            if a == b:
                continue
            (dx, dy), (cx, cy) = unit(a, b), core.centre
            side = 1 if (cx - a[0]) * -dy + (cy - a[1]) * dx >= 0 else -1
            for setback, text in setback_words(draft, boundary):
                moved = [shifted(p, (-dy * side, dx * side), setback) for p in (a, b)]
                kept = clip(moved[0], moved[1], near)
                if kept is None or distance(*kept) == 0:
                    continue
                draft.stroke(kept, Role.SETBACK)
                if boundary.by_height:
                    spots = [along(kept, share) for share in (0.5, 0.2, 0.8, 0.35, 0.65)]
                    beside = [(x, y + up * 0.9 * draft.letter) for x, y in spots for up in (1, -1)]
                    draft.wish(text, middle(kept), beside, Role.NOTE, plate=True, needed=draft.sheet.full)


def draw_north(draft: Draft, plan: Plan, core: Box) -> None:
    """Draw the north arrow in the corner between the two chains of dimensions."""
    (dx, dy), true = find_north(plan)
    h = draft.letter
    x, y = core.left - 3.4 * h - 0.9 * h * dx, core.top + 3.2 * h - 0.9 * h * dy
    tip, tail = (x + 1.8 * h * dx, y + 1.8 * h * dy), (x - 1.8 * h * dx, y - 1.8 * h * dy)
    side = (-dy * 0.8 * h, dx * 0.8 * h)
    draft.area(
        (tip, (x - 1.3 * h * dx + side[0], y - 1.3 * h * dy + side[1]), (x - 0.7 * h * dx, y - 0.7 * h * dy)),
        Role.NORTH,
    )
    other = (x - 1.3 * h * dx - side[0], y - 1.3 * h * dy - side[1])
    draft.stroke((tip, other, (x - 0.7 * h * dx, y - 0.7 * h * dy)), Role.NORTH)
    draft.stroke((tail, tip), Role.NORTH)
    draft.ground.texts.append(Box(x - 1.8 * h, y - 1.8 * h, x + 1.8 * h, y + 1.8 * h))
    text = "N" if true else "plan\nnorth"
    away = 2.7 * h if true else 3.2 * h
    draft.fix(text, (x + away * dx, y + away * dy), Role.NORTH, size=1.3 if true else 0.9)
