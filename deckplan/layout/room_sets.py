"""Sets of furniture by use and people, set out round their own middle, with the room that each needs.

::

    +-----------------------------+   zone: table and `clear` all round
    |    [ ] [ ] [ ]              |
    |   +-----------+             |   x along the table
    |   |   table   |   clear     |
    |   +-----------+             |
    |    [ ] [ ] [ ]              |
    +-----------------------------+
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from deckplan.geometry import Point, turned
from deckplan.layout.room_model import Group, Piece
from deckplan.layout.room_sizes import Size, piece_size, room_for, table_for

Outline = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class FurnitureSet:
    """A set round its own middle: see `Group` for its parts [in].

    against_edge: its back (towards -y) may stand at an edge of the platform.
    """

    name: str
    seats: int
    pieces: tuple[Piece, ...]
    zone: Outline
    taken: Outline
    swing: Outline
    clearance: float
    against_edge: bool = False

    def placed(self, at: Point, degrees: float) -> Group:
        """Return the set turned counter-clockwise and moved to a place [in]."""

        def move(corners: Outline) -> Outline:
            spots = (turned(corner, degrees) for corner in corners)
            return tuple((x + at[0], y + at[1]) for x, y in spots)

        pieces = tuple(Piece(p.name, move(p.outline), p.seats) for p in self.pieces)
        return Group(
            self.name, self.seats, pieces, move(self.zone), move(self.taken), move(self.swing), self.clearance
        )


def box(width: float, depth: float, at: Point = (0.0, 0.0)) -> Outline:
    """Return the corners of a rectangle round a point [in]."""
    (x, y), w, d = at, width / 2, depth / 2
    return ((x - w, y - d), (x + w, y - d), (x + w, y + d), (x - w, y + d))


def circle(diameter: float, at: Point = (0.0, 0.0), sides: int = 48) -> Outline:
    """Return the corners of a circle round a point [in], drawn outside the true one so that it holds it."""
    radius = diameter / 2 / math.cos(math.pi / sides)
    return tuple(
        (at[0] + radius * math.cos(math.tau * k / sides), at[1] + radius * math.sin(math.tau * k / sides))
        for k in range(sides)
    )


def _piece(size: Size, at: Point, degrees: float = 0.0) -> Piece:
    if size.is_round:
        return Piece(size.name, circle(size.width, at, 24), size.seats)
    corners = (turned(corner, degrees) for corner in box(size.width, size.depth))
    return Piece(size.name, tuple((x + at[0], y + at[1]) for x, y in corners), size.seats)


def dining_set(people: int, clear: float) -> FurnitureSet:
    """Return a table with chairs on both long sides and `clear` [in] all round."""
    table, chair = table_for(people), piece_size("chair")
    here = min(people, table.seats)
    below, above = here // 2, here - here // 2
    pieces = [Piece("table", box(table.width, table.depth))]
    for count, side in ((above, 1.0), (below, -1.0)):
        for k in range(count):
            x = table.width * ((k + 0.5) / count - 0.5)
            # half under the table, as people leave them
            at = (x, side * (table.depth / 2 + chair.depth * 0.15))
            pieces.append(_piece(chair, at, 180.0 if side > 0 else 0.0))
    chairs_first = (*pieces[1:], pieces[0])
    zone = box(table.width + 2 * clear, table.depth + 2 * clear)
    taken = box(table.width, table.depth + 2 * room_for("seated depth"))
    swing = box(table.width, table.depth + 2 * room_for("rise behind a chair"))
    return FurnitureSet(f"table for {here}", here, chairs_first, zone, taken, swing, clear)


def _row(count: int, step: float) -> list[float]:
    return [(k - (count - 1) / 2) * step for k in range(count)]


def lounge_set(people: int, clear: float) -> FurnitureSet:
    """Return sofas and armchairs on both sides of a low table, `clear` [in] round the group."""
    sofa, chair, table = piece_size("sofa"), piece_size("armchair"), piece_size("low table")
    gap, here = room_for("low table to seat"), min(people, 8)
    off = table.depth / 2 + gap
    if here <= 2:
        side = piece_size("side table")
        apart = (side.width + chair.width) / 2 + 4.0
        pieces = [_piece(chair, (x, 0.0)) for x in ((-apart, apart) if here == 2 else (-apart,))]
        return _lounge(here, [*pieces, _piece(side, (0.0, 0.0))], clear)
    pieces = [_piece(table, (0.0, 0.0)), _piece(sofa, (0.0, -off - sofa.depth / 2))]
    if here >= 6:
        pieces.append(_piece(sofa, (0.0, off + sofa.depth / 2), 180))
        out = table.width / 2 + gap + chair.depth / 2
        pieces += [_piece(chair, (out, 0.0), 90.0), _piece(chair, (-out, 0.0), 270.0)][: here - 6]
    else:
        places = _row(here - sofa.seats, chair.width + 12.0)
        pieces += [_piece(chair, (x, off + chair.depth / 2), 180) for x in places]
    return _lounge(here, pieces, clear)


def corner_set(people: int, clear: float) -> FurnitureSet:
    """Return a sofa with more seats at its right, an L round a low table, `clear` [in] round the group."""
    sofa, chair, table = piece_size("sofa"), piece_size("armchair"), piece_size("low table")
    gap, here = room_for("low table to seat"), max(4, min(people, 6))
    pieces = [_piece(table, (0.0, 0.0)), _piece(sofa, (0.0, -(table.depth + sofa.depth) / 2 - gap))]
    side = table.width / 2 + gap
    if here == 6:
        # the second sofa begins beside the front of the first
        low = -table.depth / 2 - gap
        pieces.append(_piece(sofa, (side + sofa.depth / 2, low + sofa.width / 2), 90))
    else:
        places = _row(here - sofa.seats, chair.width + 6.0)
        pieces += [_piece(chair, (side + chair.depth / 2, y), 90) for y in places]
    return _lounge(here, pieces, clear)


def _lounge(here: int, pieces: list[Piece], clear: float) -> FurnitureSet:
    """Move the pieces of a group round its middle and give it its room."""
    xs, ys = zip(*(corner for piece in pieces for corner in piece.outline), strict=True)
    x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    moved = tuple(Piece(p.name, tuple((a - x, b - y) for a, b in p.outline), p.seats) for p in pieces)
    wide, deep = max(xs) - min(xs), max(ys) - min(ys)
    zone, taken = box(wide + 2 * clear, deep + 2 * clear), box(wide, deep)
    name = f"seats for {here}" if here > 1 else "seat for 1"
    return FurnitureSet(name, here, moved, zone, taken, taken, clear, against_edge=True)


def sun_set(people: int, clear: float) -> FurnitureSet:
    """Return loungers side by side with room to walk between and a way of `clear` [in] at their feet."""
    size, between = piece_size("lounger"), room_for("between loungers")
    here = min(people, 6)
    step = size.width + between
    pieces = tuple(_piece(size, ((k - (here - 1) / 2) * step, 0.0)) for k in range(here))
    wide = here * size.width + (here - 1) * between
    corners, taken = box(wide, size.depth + clear, (0.0, clear / 2)), box(wide, size.depth)
    name = f"{here} loungers" if here > 1 else "1 lounger"
    return FurnitureSet(name, here, pieces, corners, taken, taken, clear, against_edge=True)


def fire_set(people: int, clear: float) -> FurnitureSet:
    """Return a fire feature with chairs round it; clear [in]: the ring on each side."""
    fire, chair = piece_size("fire feature"), piece_size("fire chair")
    most = 10
    here = min(people or 4, most)
    radius = fire.width / 2 + 36.0 + chair.depth / 2
    pieces = [_piece(fire, (0.0, 0.0))]
    for k in range(here):
        turn = 360.0 * k / here
        pieces.append(_piece(chair, turned((0.0, -radius), turn), turn))
    zone = circle(fire.width + 2 * clear)
    taken = circle(2 * (radius + chair.depth / 2))
    return FurnitureSet(f"fire for {here}", here, tuple(pieces), zone, taken, taken, clear)


def cooking_set(people: int, clear: float) -> FurnitureSet:
    """Return a grill with working room in front of it [in], off the rails behind it and beside it."""
    del people
    grill, back = piece_size("grill"), room_for("grill to rails")
    corners = box(grill.width + 2 * back, grill.depth + clear + back, (0.0, (clear - back) / 2))
    taken = box(grill.width, grill.depth + back, (0.0, -back / 2))
    return FurnitureSet(
        "grill", 0, (_piece(grill, (0.0, 0.0)),), corners, taken, taken, clear, against_edge=True
    )


def planting_set(people: int, clear: float) -> FurnitureSet:
    """Return a planting bench with working room in front of it [in]."""
    del people
    bench = piece_size("planting bench")
    corners = box(bench.width, bench.depth + clear, (0.0, clear / 2))
    pieces = (_piece(bench, (0.0, 0.0)),)
    return FurnitureSet(
        "planting bench",
        0,
        pieces,
        corners,
        box(bench.width, bench.depth),
        box(bench.width, bench.depth),
        clear,
        against_edge=True,
    )


def tub_set(people: int, clear: float) -> FurnitureSet:
    """Return a tub with service room on one side [in]."""
    del people
    tub = piece_size("tub")
    corners = box(tub.width, tub.depth + clear, (0.0, clear / 2))
    return FurnitureSet(
        "tub",
        0,
        (_piece(tub, (0.0, 0.0)),),
        corners,
        box(tub.width, tub.depth),
        box(tub.width, tub.depth),
        clear,
        against_edge=True,
    )
