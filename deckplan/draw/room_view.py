"""The furniture plan: what stands where, the room that it needs, the ways between doors and flights."""

from __future__ import annotations

import math
from itertools import pairwise

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.keep_outs import draw_keep_out
from deckplan.draw.labels import round_about
from deckplan.draw.plan_parts import draw_flights, draw_guards, draw_house, draw_north, name_openings, show
from deckplan.draw.plan_words import called
from deckplan.draw.scene import Box, Role, Scene, box_of, joined, text_box
from deckplan.draw.shapes import inside, shifted
from deckplan.draw.sheet import Room as Margins
from deckplan.draw.sheet import Sheet, usual_sheet
from deckplan.draw.subject import Subject, letter
from deckplan.geometry import Line, Point, along, distance, middle, unit
from deckplan.layout.room_model import Group, Piece, Room, Rooms, Way
from deckplan.plan.model import Platform
from deckplan.units import format_length

LEGEND: dict[Role, str] = {
    Role.KEEP_HEAT_OUT: "no fire or grill here",
    Role.KEEP_SEATS_OUT: "no seats here",
    Role.CLEARANCE: "room that a group needs",
    Role.WAY: "way",
    Role.LEVEL_ABOVE: "level above",
    Role.POST: "post that rises from here",
    Role.GUARD: "edge with a guard",
    Role.OPEN_EDGE: "edge with a drop and no guard asked for",
}
"""What the lines of a furniture plan mean."""


def room_view(
    study: Subject, rooms: Rooms, *, platform: str = "", sheet: Sheet | None = None, titled: bool = True
) -> Scene:
    """Return the furniture plan.

    rooms: the study's rooms; platform: the name of one platform to draw alone, all of them where it is empty; sheet:
    the room there is, else the usual one of the plan's units; titled: with title, scale, advice and caution below.

    Raises KeyError for a platform that the plan does not know.
    """
    plan = study.plan
    view = show(study, platform, "Furniture plan")
    shown, names, corners, core, name = view.platforms, view.names, view.corners, view.core, view.title
    advice = _advice(shown, rooms)
    beside = FIRST_ROW + ROW + 2.0
    paper = sheet or usual_sheet(plan)
    below = 9.0 + 1.3 * (2 + len(advice)) if titled else 4.0
    draft = Draft(name, plan, paper, core, Margins(beside, 4.0, beside, below))
    draw_north(draft, plan, core)
    draw_house(draft, plan, core)
    # the upper ones last: they lie over the lower ones
    for one in sorted(shown, key=lambda each: study.levels.elevation(each.name)):
        draft.area(one.outline, Role.PLATFORM)
        for opening in one.openings:
            draft.area(opening.outline, Role.EDGE_BEYOND)
    for one in shown:
        room = rooms[one.name]
        seen = _seen(one, room, set(names))
        for keep in room.keep_outs:
            draw_keep_out(draft, keep, seen)
        for way in room.ways:
            _way(draft, way, seen)
        for edge in room.open_edges:
            _open_edge(draft, edge, one)
        for group in room.groups:
            if seen.buffer(0.1).covers(Polygon(group.zone)):
                _group(draft, group)
        if len(shown) == 1:
            _above(draft, room)
    draw_flights(draft, study, names)
    draw_guards(draft, study, names)
    for one in shown:
        name_openings(draft, one)
        _name(draft, study, one, rooms[one.name], _seen(one, rooms[one.name], set(names)))
    for axis, edge_at, side in (("x", core.top, 1), ("y", core.left, -1)):
        index = 0 if axis == "x" else 1
        stops = [corner[index] for corner in corners]
        if stops:
            rows = [stops, [min(stops), max(stops)]] if len(set(stops)) > 2 else [stops]
            for row, own in enumerate(rows):
                draft.chain(own, "x" if axis == "x" else "y", row, edge_at, side)
    fires = any(rooms[one.name].use == "fire" for one in shown)
    but = "it, but how far a fire stays off goes by town" if fires else "any of it"
    draft.notes.append(f"Comfort only: no code asks for {but}.")
    if any(cover.level in names for one in shown for cover in rooms[one.name].covers):
        draft.notes.append("Levels lie over each other: see each level.")
    draft.legend |= LEGEND
    draft.notes += advice
    return draft.scene(titled=titled)


def _open_edge(draft: Draft, edge: Line, one: Platform) -> None:
    """Draw long dashes just inside an edge with a drop and no guard, where a guard's dots would stand."""
    dx, dy = unit(*edge)
    off = max(3.0, 0.45 * draft.letter)
    within = inside(shifted(middle(edge), (-dy, dx), 1.0), one.outline)
    normal = (-dy, dx) if within else (dy, -dx)
    draft.stroke((shifted(edge[0], normal, off), shifted(edge[1], normal, off)), Role.OPEN_EDGE)


def _seen(one: Platform, room: Room, names: set[str]) -> BaseGeometry:
    """Return what of a platform lies uppermost among the platforms that are drawn."""
    over = [Polygon(part) for cover in room.covers if cover.level in names for part in cover.outlines]
    return Polygon(one.outline).difference(shapely.union_all(over))


def _above(draft: Draft, room: Room) -> None:
    """Draw the levels above with how much stays clear under them, and the posts that come through or stand here."""
    for post in room.posts:
        draft.area(post, Role.POST, solid=True)
    for cover in room.covers:
        clear = f"{draft.short(cover.clear)} clear" if cover.clear > 0 else "no room under it"
        for part in cover.outlines:
            draft.stroke((*part, part[0]), Role.LEVEL_ABOVE)
            box = box_of(part)
            text = f"{cover.level} above, {clear}"
            spots = [
                (box.left + a * box.width, box.bottom + b * box.height)
                for b in (0.5, 0.7, 0.3, 0.85, 0.15)
                for a in (0.5, 0.35, 0.65)
            ]
            draft.wish(text, box.centre, spots, Role.NOTE, plate=True, urgency=6)


def _advice(shown: tuple[Platform, ...], rooms: Rooms) -> list[str]:
    return [note.text[0].upper() + note.text[1:] + "." for one in shown for note in rooms[one.name].notes]


def _way(draft: Draft, way: Way, seen: BaseGeometry) -> None:
    """Draw a way as a band as wide as it is where the platform is seen, and its middle as a line."""
    if len(way.points) < 2:
        return
    band = LineString(way.points).buffer(way.width / 2, quad_segs=6, cap_style="flat")
    shape = band.intersection(seen)
    for part in getattr(shape, "geoms", [shape]):
        if part.geom_type == "Polygon" and not part.is_empty:
            draft.area([(float(x), float(y)) for x, y in part.exterior.coords[:-1]], Role.WAY)
    if not seen.buffer(1.0).covers(LineString(way.points)):
        return
    draft.stroke(way.points, Role.DATUM)
    text = draft.short(way.width)
    a, b = max(pairwise(way.points), key=lambda leg: distance(*leg))
    spots = tuple(along((a, b), share) for share in (0.5, 0.35, 0.65, 0.2, 0.8))
    draft.wish(text, spots[0], spots, Role.NOTE, plate=True, needed=False, urgency=3)


BACKS = {"sofa": 7.0, "armchair": 6.0, "chair": 3.0, "fire chair": 6.0, "lounger": 24.0}
"""How deep the back of a seat is drawn [in]: it shows which way people face."""


def _piece(draft: Draft, piece: Piece) -> None:
    """Draw a piece; a seat with its back, and a line between its places."""
    role = Role.SEAT if piece.seats else Role.FURNITURE
    draft.area(piece.outline, role, piece.name)
    back = BACKS.get(piece.name)
    if back is None or len(piece.outline) != 4:
        return
    a, b, c, d = piece.outline
    share = back / distance(a, d)
    left, right = along((a, d), share), along((b, c), share)
    draft.stroke((left, right), role)
    for k in range(1, piece.seats):
        draft.stroke((along((left, right), k / piece.seats), along((d, c), k / piece.seats)), role)


def _group(draft: Draft, group: Group) -> None:
    """Draw a group with its room, and write its name on or beside it."""
    draft.stroke((*group.zone, group.zone[0]), Role.CLEARANCE)
    for piece in group.pieces:
        _piece(draft, piece)
    named = [piece for piece in group.pieces if not piece.seats] or group.pieces
    biggest = max(named, key=lambda piece: _size(box_of(piece.outline)))
    if biggest.name in ("low table", "side table"):
        biggest = max(group.pieces, key=lambda piece: piece.seats)
    draft.ground.solids += [box_of(piece.outline) for piece in group.pieces]
    draft.ground.solids += [
        box_of(side).grown(0.1) for side in zip(group.zone, (*group.zone[1:], group.zone[0]), strict=True)
    ]
    text = group.name
    on_it = box_of(biggest.outline).centre
    box = joined(box_of(piece.outline) for piece in group.pieces)
    beside = round_about(box.centre, text, draft.letter, 0.0)
    wide, high = text_box(text, (0.0, 0.0), draft.letter).width / 2, 0.9 * draft.letter
    cx, cy = box.centre
    places = [(cx, box.top + high), (cx, box.bottom - high), (box.right + wide, cy), (box.left - wide, cy)]
    room = text_box(text, on_it, draft.letter)
    if box_of(biggest.outline).holds(room) and draft.ground.free(room):
        draft.fix(text, on_it, Role.NOTE)
    else:
        draft.wish(text, on_it, (*places, *beside), Role.NOTE, urgency=8)
    if draft.sheet.full:
        _clearance(draft, group)


def _sides(box: Box) -> tuple[float, float, float, float]:
    return (box.left, box.bottom, box.right, box.top)


def _size(box: Box) -> float:
    return box.width * box.height


def _clearance(draft: Draft, group: Group) -> None:
    """Write how much room lies round a group, inside the zone, by the side before it."""
    zone = group.zone
    if len(zone) > 4:
        box = box_of(zone)
        spot = (box.centre[0], box.top - 0.9 * draft.letter)
        # the corners lie a hair outside the circle, so that it is held by them
        across = box.height * math.cos(math.pi / len(zone))
        text = f"{format_length(across, draft.units)} circle"
        draft.wish(text, spot, (spot, (spot[0], box.bottom + 0.9 * draft.letter)), Role.DIMENSION, size=0.9, plate=True,
                   needed=False, urgency=2)  # fmt: skip
        return
    sides = list(zip(zone, (*zone[1:], zone[0]), strict=True))
    cx, cy = group.centre
    text = f"{draft.short(group.clearance)} clear"
    spots: list[Point] = []
    # a set with a back has its room before it: the third side
    for a, b in (sides[2], sides[0], sides[1], sides[3]):
        for share in (0.5, 0.3, 0.7):
            x, y = along((a, b), share)
            far = distance((x, y), (cx, cy)) or 1.0
            by = 0.9 * draft.letter
            spots.append((x + (cx - x) / far * by, y + (cy - y) / far * by))
    draft.wish(text, spots[0], spots, Role.DIMENSION, size=0.9, plate=True, needed=False, urgency=2)


def _name(draft: Draft, study: Subject, one: Platform, room: Room, seen: BaseGeometry) -> None:
    """Write a platform's name where it lies uppermost, clear of furniture where there is such a place."""
    mark = letter(study.plan.platforms.index(one))
    text = called(draft, study, one, 1.2)
    if room.people and (room.seated or room.not_placed) and draft.sheet.full:
        text += f"\nseats {room.seated} of {room.people}"
    elif room.people and draft.sheet.full:
        text += f"\nfor {room.people}"
    box = box_of(one.outline)
    size = 1.2
    shares = [k / 24 for k in range(2, 23)]
    spots = []
    for b in reversed(shares):
        for a in shares:
            spot = (box.left + a * box.width, box.bottom + b * box.height)
            own = text_box(text, spot, size * draft.letter).grown(0.3 * draft.letter)
            ends = (
                (own.left, own.bottom),
                (own.right, own.bottom),
                (own.right, own.top),
                (own.left, own.top),
            )
            if all(inside(end, one.outline) for end in ends):
                spots.append(spot)
    shown = [
        spot for spot in spots if seen.covers(shapely.box(*_sides(text_box(text, spot, size * draft.letter))))
    ]
    spots = shown or spots
    # furniture is drawn already: the clearest places first, from the far corner on among those alike
    spots.sort(key=lambda at: round(draft.ground.covered(text_box(text, at, size * draft.letter)), 2))
    draft.wish(text, box.centre, spots, Role.LEVEL, mark, size=size, plate=True, urgency=7)
