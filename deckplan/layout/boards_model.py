"""What laying the boards gives: every board as cut, what its ends lie on, and the wood still missing below."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from deckplan.geometry import Line, Point, area, distance, middle, unit
from deckplan.layout.ends import Cuts, angle_between

BoardKind = Literal["field", "border", "breaker"]
NeedKind = Literal["joist", "ply", "blocking"]


@dataclass(frozen=True, slots=True)
class BoardEnd:
    """An end of a board [in]; bears_on: the mark of what it lies over, or of the wood that is still needed there."""

    line: Line
    bears_on: str

    @property
    def at(self) -> Point:
        """Middle of the end [in]."""
        return middle(self.line)


@dataclass(frozen=True, slots=True)
class Board:
    """One board as cut.

    row: counted from the edge where laying starts, border rows from outside; outline: its corners in plan [in];
    length: long point to long point [in]; width: of the row, less than the board's own where it is ripped [in];
    screws: two for each piece of framing that it crosses; run: unit vector along it.
    """

    platform: str
    mark: str
    kind: BoardKind
    row: int
    outline: tuple[Point, ...]
    length: float
    width: float
    ends: tuple[BoardEnd, ...]
    screws: int
    run: Point

    @property
    def area(self) -> float:
        """Area in plan [in^2]."""
        return abs(area(self.outline))

    @property
    def cuts(self) -> Cuts:
        """How its first and its last end are cut off square [degrees], see `deckplan.layout.ends`."""
        (dx, dy), order = (
            self.run,
            sorted(self.ends, key=lambda end: self.run[0] * end.at[0] + self.run[1] * end.at[1]),
        )
        first, last = (angle_between((dx, dy), unit(*end.line)) for end in (order[0], order[-1]))
        return (first, last) if len(order) > 1 else (0.0, last)


@dataclass(frozen=True, slots=True)
class SupportNeeded:
    """Wood under the boards that the frame does not have yet.

    kind: "joist" (a further joist line, width says how many plies), "ply" (one more ply beside `beside`) or
    "blocking" (a piece between joists, or flat under a mitre or a seam); line: its centre line [in], trimmed to the
    wood that is there; width [in]: all plies; reason: what it is for.
    """

    mark: str
    platform: str
    kind: NeedKind
    line: Line
    width: float
    beside: str
    reason: str

    @property
    def length(self) -> float:
        """Length along its centre line [in]."""
        return distance(*self.line)


@dataclass(frozen=True, slots=True)
class Rip:
    """A row that an edge cuts lengthwise: where (middle of the edge) [in], the width that is left, how long [in]."""

    row: int
    at: Point
    width: float
    length: float
    sliver: bool


@dataclass(frozen=True, slots=True)
class Remedy:
    """A way round a sliver.

    kind: "start" moves the first row so that first and last are ripped alike, "gap" opens or closes the gaps; value
    [in]: the first row's width, or the gap; first, last [in]: widths of the outer rows then; text: in words.
    """

    kind: Literal["start", "gap"]
    value: float
    first: float
    last: float
    text: str


@dataclass(frozen=True, slots=True)
class Seam:
    """A line where boards meet end to end, or where border and field meet [in]."""

    line: Line
    kind: Literal["border", "breaker", "butt"]


@dataclass(frozen=True)
class PlatformBoards:
    """The boards of one platform.

    direction: unit vector along the field boards; start: which way rows are counted, unit vector across them; rows:
    how many rows of field; first, last: width of the outer rows [in]; faults: what could not be laid as asked.
    """

    platform: str
    direction: Point
    across: Point
    rows: int
    first: float
    last: float
    boards: tuple[Board, ...]
    seams: tuple[Seam, ...]
    supports_needed: tuple[SupportNeeded, ...]
    rips: tuple[Rip, ...]
    remedies: tuple[Remedy, ...]
    faults: tuple[str, ...]

    @cached_property
    def area(self) -> float:
        """Area of the boards in plan, gaps not counted [in^2]."""
        return sum(board.area for board in self.boards)

    @cached_property
    def screws(self) -> int:
        """Screws in all: two for each board on each piece of framing under it."""
        return sum(board.screws for board in self.boards)

    @property
    def slivers(self) -> tuple[Rip, ...]:
        """The ripped rows that are too narrow to be screwed and to look right."""
        return tuple(rip for rip in self.rips if rip.sliver)

    def of(self, kind: BoardKind) -> tuple[Board, ...]:
        """Return the boards of one kind."""
        return tuple(board for board in self.boards if board.kind == kind)


@dataclass(frozen=True)
class Boards:
    """The boards of a deck, by the name of the platform."""

    platforms: Mapping[str, PlatformBoards]

    def __getitem__(self, platform: str) -> PlatformBoards:
        """Return a platform's boards; raises KeyError for a name it does not know."""
        return self.platforms[platform]

    @cached_property
    def all(self) -> tuple[Board, ...]:
        """Every board of the deck."""
        return tuple(board for one in self.platforms.values() for board in one.boards)

    @cached_property
    def supports_needed(self) -> tuple[SupportNeeded, ...]:
        """All wood under the boards that the frames do not have yet."""
        return tuple(need for one in self.platforms.values() for need in one.supports_needed)

    @property
    def screws(self) -> int:
        """Screws in all."""
        return sum(one.screws for one in self.platforms.values())
