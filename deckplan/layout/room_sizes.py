"""Sizes of furniture and the room that people need, read from the data with their sources."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from deckplan.reference import read_table
from deckplan.units import Units, format_length, format_short
from deckplan.verdict import Source

_STANDING = {"D": "derived", "T": "trade guidance", "C": "code, by town", "P": "common practice"}


@dataclass(frozen=True, slots=True)
class Clearance:
    """A value with its unit, its source and what it means."""

    name: str
    value: float
    unit: str
    source: Source
    note: str

    @property
    def by_town(self) -> bool:
        """Whether codes of some places ask for it."""
        return self.source.confirmed == _STANDING["C"]


@dataclass(frozen=True, slots=True)
class Size:
    """A piece of furniture: width along the side that is used, depth across [in], seats, whether it is round."""

    name: str
    width: float
    depth: float
    seats: int
    is_round: bool


@cache
def clearance(name: str) -> Clearance:
    """Return a clearance by its name; raises KeyError for a name that the data do not have."""
    for row in read_table("furniture", "clearances.csv"):
        if row["name"] == name:
            standing = _STANDING[row["standing"]]
            return Clearance(
                name, row.number("value"), row["unit"], Source("Room to live", name, standing), row["note"]
            )
    raise KeyError(name)


def room_for(name: str) -> float:
    """Return the value of a clearance by its name [the unit that it is given in]."""
    return clearance(name).value


def in_words(length: float, units: Units) -> str:
    """Write a distance [in] as people say it: short ones in inches, from 6 ft on in feet.

    >>> in_words(36.0, "us"), in_words(120.0, "us")
    ('36"', '10\'-0"')
    """
    return format_length(length, units) if length >= 72.0 else format_short(length, units)


@cache
def piece_size(name: str) -> Size:
    """Return a piece's size by its name; raises KeyError for one that the data do not have."""
    for row in read_table("furniture", "pieces.csv"):
        if row["piece"] == name:
            return Size(
                name, row.number("width"), row.number("depth"), int(row.number("seats")), row.has("round")
            )
    raise KeyError(name)


@cache
def table_for(people: int) -> Size:
    """Return the smallest dining table for some people; the largest where none is large enough.

    >>> table = table_for(6)
    >>> table.width, table.depth
    (84.0, 36.0)
    """
    rows = sorted(read_table("furniture", "tables.csv"), key=lambda row: row.number("seats"))
    row = next((row for row in rows if row.number("seats") >= people), rows[-1])
    return Size("table", row.number("length"), row.number("depth"), int(row.number("seats")), False)


def dining_room(people: int, clear: float) -> tuple[float, float]:
    """Return width and length [in] of the room for a table with some people, `clear` [in] all round.

    Source: derived from trade guidance: six at a 36 x 84 in table with 36 in all round take 9 x 13 ft.

    >>> [side / 12 for side in dining_room(6, 36.0)]
    [9.0, 13.0]
    """
    table = table_for(people)
    return (table.depth + 2 * clear, table.width + 2 * clear)


def fire_circle() -> float:
    """Return the diameter [in] of the room round a fire: the feature and its ring on both sides.

    Source: derived from trade guidance: 36 in and 84 in on each side are 17 ft.

    >>> fire_circle() / 12
    17.0
    """
    return piece_size("fire feature").width + 2 * room_for("fire ring")


def standing_area(people: int) -> float:
    """Return the area [sq ft] that some guests need standing.

    Source: trade guidance, 15 sq ft a guest: 20 guests, 300 sq ft.

    >>> standing_area(20)
    300.0
    """
    return people * room_for("standing guest")


def standing_guests(area: float) -> int:
    """Return how many guests stand on an area [sq ft]."""
    return math.floor(area / room_for("standing guest") + 1e-9)


def tub_load() -> float:
    """Return the area load of the tub [psf].

    Source: derived: an 8 x 8 ft tub of 6,500 lb is 102 psf.

    >>> round(tub_load())
    102
    """
    tub = piece_size("tub")
    return room_for("tub weight") / (tub.width * tub.depth / 144)
