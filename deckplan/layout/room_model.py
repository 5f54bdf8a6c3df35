"""What furnishing gives: pieces where they stand, the room they need, the ways between doors and flights."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from shapely import Polygon

from deckplan.geometry import Line, Point
from deckplan.levels.model import Note
from deckplan.verdict import Check


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of furniture: its name, its corners in plan [in], whether people sit on it."""

    name: str
    outline: tuple[Point, ...]
    seats: int = 0


@dataclass(frozen=True, slots=True)
class Group:
    """Pieces that belong together, as placed.

    name: in words; seats: how many; pieces; zone: the room they need [in], corners; taken: what nobody walks through
    while people sit there, corners; swing: how far chairs slide, corners; clearance [in]: behind the chairs, or the
    width of the room round the group.
    """

    name: str
    seats: int
    pieces: tuple[Piece, ...]
    zone: tuple[Point, ...]
    taken: tuple[Point, ...]
    swing: tuple[Point, ...]
    clearance: float

    @property
    def centre(self) -> Point:
        """Middle of the zone [in]."""
        spot = Polygon(self.zone).centroid
        return (float(spot.x), float(spot.y))


@dataclass(frozen=True, slots=True)
class Gate:
    """Where people come onto a platform or leave it: its name, its line [in], the unit vector into the platform.

    level: onto a platform beside at the same height; it needs no landing.
    """

    name: str
    line: Line
    inward: Point
    level: bool = False


@dataclass(frozen=True, slots=True)
class Way:
    """A way between two gates: its width [in] and the points of its middle line [in]; none where it is barred."""

    start: str
    end: str
    width: float
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Cover:
    """A level above: its name, its parts over the platform, corners [in], how much stays clear under it [in].

    low: too low to stand under, so that furniture and ways end at it.
    """

    level: str
    outlines: tuple[tuple[Point, ...], ...]
    clear: float
    low: bool


@dataclass(frozen=True, slots=True)
class KeepOut:
    """Where something is not to stand: what, how far off [in] what, and the corners of those parts [in]."""

    what: str
    far: float
    off: tuple[str, ...]
    outlines: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True)
class Room:
    """One platform as a room to live in.

    people: as the plan says; seated: for how many there is room; groups; not_placed: names of what did not fit;
    gates and ways; open_edges: edges with a drop and no guard; checks and advice; covers: levels above it; posts:
    corners of those that come through it or stand on it [in]; keep_outs: where a fire, a grill, seats are not to stand.
    """

    platform: str
    mark: str
    use: str
    people: int
    seated: int
    groups: tuple[Group, ...]
    not_placed: tuple[str, ...]
    gates: tuple[Gate, ...]
    ways: tuple[Way, ...]
    open_edges: tuple[Line, ...]
    checks: tuple[Check, ...]
    notes: tuple[Note, ...]
    covers: tuple[Cover, ...] = ()
    posts: tuple[tuple[Point, ...], ...] = ()
    keep_outs: tuple[KeepOut, ...] = ()


@dataclass(frozen=True)
class Rooms:
    """The platforms of a deck as rooms, by name."""

    platforms: Mapping[str, Room]

    def __getitem__(self, platform: str) -> Room:
        """Return a platform's room; raises KeyError for a name it does not know."""
        return self.platforms[platform]

    @property
    def checks(self) -> tuple[Check, ...]:
        """Every check of comfort; none of them fails a plan, see `deckplan.layout.room_comfort`."""
        return tuple(check for room in self.platforms.values() for check in room.checks)

    @property
    def notes(self) -> tuple[Note, ...]:
        """All advice."""
        return tuple(note for room in self.platforms.values() for note in room.notes)
