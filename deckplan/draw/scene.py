"""A scene: what a drawing shows, in model inches, before anything decides how it looks.

Views make scenes, painters turn them into pictures. Each piece has a role (what it is to the reader) and,
where it stands for a part of the deck, that part's mark. Letters and boxes are in model inches too: a letter
that is 0.1 in high on paper is 4.8 in high in a scene drawn at 1/4 in = 1 ft.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from itertools import groupby
from typing import NamedTuple

from deckplan.draw.letters import height_of, width_of
from deckplan.geometry import Line, Point


class Role(StrEnum):
    """What a piece is to the reader of the drawing. The order is the order of painting."""

    GROUND = "ground"
    EARTH = "earth"
    FLOOR = "floor"
    LAWN = "ground beyond"
    HOUSE = "house beyond"
    WALL = "wall"
    SURFACE = "surface"
    PLATFORM = "platform"
    KEEP_HEAT_OUT = "no fire or grill here"
    KEEP_SEATS_OUT = "no seats here"
    WAY = "way"
    NEAR_GROUND = "frame near the ground"
    FROST = "frost line"
    FOOTING = "footing"
    CONCRETE = "concrete"
    BREAK = "part left out"
    POST_BEYOND = "post beyond"
    BEAM_BEYOND = "beam beyond"
    EDGE_BEYOND = "platform beyond"
    JOIST = "joist"
    BLOCKING = "blocking"
    RIM = "rim"
    LEDGER = "ledger"
    HEADER = "header"
    BEAM = "beam"
    TONGUE = "tongue of a post"
    ABOVE_GROUND = "wood above ground"
    GROUND_CONTACT = "wood for ground contact"
    BEAM_BELOW = "beam below"
    BRACE = "brace"
    BOARD = "board"
    BORDER_BOARD = "border board"
    BREAKER = "breaker board"
    WOOD_BELOW = "wood below"
    WOOD_NEEDED = "wood needed"
    STRINGER = "stringer"
    STEP = "step"
    TREAD = "tread"
    POST = "post"
    POST_ON_FRAME = "post on a frame"
    LEVEL_ABOVE = "level above"
    CLEARANCE = "clearance"
    OPEN_EDGE = "open edge"
    SEAT = "seat"
    FURNITURE = "furniture"
    CUT = "cut wood"
    FIXING = "fixing"
    GUARD = "guard"
    GUARD_NEEDED = "guard needed"
    RAILING = "railing"
    BALUSTER = "baluster"
    DOOR = "door"
    BOUNDARY = "boundary"
    SETBACK = "setback"
    DATUM = "level line"
    SPOT = "spot elevation"
    CUTTING = "cutting line"
    FLAG = "flag"
    ARROW = "arrow"
    LEADER = "leader"
    DIMENSION = "dimension"
    LEVEL = "level tag"
    CELL_CLOSE = "agrees closely"
    CELL_NEAR = "agrees"
    CELL_WITHIN = "agrees barely"
    CELL_OVER = "print governs"
    CELL_KEPT = "looked up, not computed"
    CELL_OFF = "does not agree"
    SCHEDULE = "schedule"
    MARK = "mark"
    NOTE = "note"
    TITLE = "title"
    NORTH = "north"
    SCALE = "scale bar"


MANY, TABULAR, SHOWN = 40, 8, 2
"""How many texts of a role a summary says one by one, how many of a table's, and how many at each end of more."""


class Box(NamedTuple):
    """An upright rectangle [in]: left, bottom, right, top."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Width [in]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height [in]."""
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        """Middle of the box [in]."""
        return ((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def grown(self, by: float) -> Box:
        """Return the box with `by` [in] added on every side."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def meets(self, other: Box) -> bool:
        """Tell whether the two boxes share any area."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )

    def holds(self, other: Box) -> bool:
        """Tell whether the other box lies wholly inside this one."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.bottom <= other.bottom
            and other.top <= self.top
        )


def box_of(points: Iterable[Point]) -> Box:
    """Return the smallest box round some points [in]; raises ValueError where there are none."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def joined(boxes: Iterable[Box]) -> Box:
    """Return the smallest box round some boxes [in]; raises ValueError where there are none."""
    found = list(boxes)
    return Box(
        min(box.left for box in found),
        min(box.bottom for box in found),
        max(box.right for box in found),
        max(box.top for box in found),
    )


@dataclass(frozen=True, slots=True)
class Stroke:
    """An open line through points [in]."""

    points: tuple[Point, ...]
    role: Role
    mark: str = ""

    @property
    def box(self) -> Box:
        """The room it takes [in], line weight not counted."""
        return box_of(self.points)


@dataclass(frozen=True, slots=True)
class Area:
    """A closed outline through points [in]; its role decides filling and hatching."""

    points: tuple[Point, ...]
    role: Role
    mark: str = ""

    @property
    def box(self) -> Box:
        """The room it takes [in], line weight not counted."""
        return box_of(self.points)


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle: centre and radius [in]."""

    centre: Point
    radius: float
    role: Role
    mark: str = ""

    @property
    def box(self) -> Box:
        """The room it takes [in]."""
        (x, y), r = self.centre, self.radius
        return Box(x - r, y - r, x + r, y + r)


@dataclass(frozen=True, slots=True)
class Label:
    """Text, its middle at a point [in], letters `height` [in] high, turned counter-clockwise by `angle`
    [degrees].

    leader: a line from the text to what it names, empty where the text stands beside it; plate: the ground
    behind the letters is cleared; align: -1 where lines begin at the left end of the box, 1 where they end at its
    right end, whatever the font that is really used.
    """

    text: str
    at: Point
    height: float
    role: Role
    mark: str = ""
    angle: float = 0.0
    plate: bool = False
    leader: tuple[Point, ...] = ()
    align: int = 0

    @property
    def box(self) -> Box:
        """The room that the letters take [in]."""
        return text_box(self.text, self.at, self.height, self.angle)


def text_box(text: str, at: Point, height: float, angle: float = 0.0) -> Box:
    """Return the room [in] that a text takes whose middle is at a point [in]; angle in degrees."""
    wide, high = width_of(text, height), height_of(text, height)
    if angle % 180 == 90:
        wide, high = high, wide
    elif angle % 180:
        cosine, sine = abs(math.cos(math.radians(angle))), abs(math.sin(math.radians(angle)))
        wide, high = wide * cosine + high * sine, wide * sine + high * cosine
    else:
        pass  # level text keeps its measures
    return Box(at[0] - wide / 2, at[1] - high / 2, at[0] + wide / 2, at[1] + high / 2)


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension: the dimension line [in], its two extension lines, and the figure.

    length [in]: what is measured (never scaled off the drawing); tick [in]: size of the slashes at the ends.
    """

    length: float
    line: Line
    extensions: tuple[Line, ...]
    label: Label
    tick: float

    def strokes(self) -> tuple[Line, ...]:
        """Return every line of the dimension [in]: the line itself, extensions, slashes at both ends."""
        half = self.tick / 2
        slashes = tuple(((x - half, y - half), (x + half, y + half)) for x, y in self.line)
        return (self.line, *self.extensions, *slashes)

    @property
    def box(self) -> Box:
        """The room it takes [in], with its figure."""
        points = [point for line in self.strokes() for point in line]
        return joined((box_of(points), self.label.box))


Shape = Area | Disc | Stroke
Piece = Shape | Dimension | Label


def role_of(piece: Piece) -> Role:
    """Return what a piece is to the reader."""
    return Role.DIMENSION if isinstance(piece, Dimension) else piece.role


@dataclass(frozen=True)
class Scene:
    """A whole drawing. scale: model inches to one inch of paper; margin [in]: clear ground round it.

    key: samples beside the title that say what a line means; they are painted, but stand for no part of the deck;
    stacked: shapes hide what was drawn before them, as in a view from the side; else the roles decide.
    """

    name: str
    plan: str
    scale: float
    scale_text: str
    margin: float
    stacked: bool = False
    shapes: tuple[Shape, ...] = ()
    labels: tuple[Label, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    key: tuple[Shape, ...] = ()

    def runs(self) -> Iterator[tuple[Role, tuple[Shape, ...]]]:
        """Give the shapes in the order of painting: role by role, or as drawn where one hides another; the key last."""
        ranks = {role: rank for rank, role in enumerate(Role)}
        ordered = self.shapes if self.stacked else sorted(self.shapes, key=lambda shape: ranks[shape.role])
        ordered = [*ordered, *self.key]
        for role, found in groupby(ordered, key=lambda shape: shape.role):
            yield role, tuple(found)

    def pieces(self) -> Iterator[Piece]:
        """Give every piece, shapes first."""
        yield from self.shapes
        yield from self.dimensions
        yield from self.labels

    @cached_property
    def box(self) -> Box:
        """The room that the drawing takes [in], margin included."""
        found = [piece.box for piece in (*self.pieces(), *self.key)]
        leaders = [box_of(label.leader) for label in self.labels if label.leader]
        return joined([*found, *leaders] or [Box(0.0, 0.0, 1.0, 1.0)]).grown(self.margin)

    def leader_dots(self) -> tuple[Disc, ...]:
        """Return the dots in which leaders end."""
        led = [label for label in self.labels if label.leader]
        return tuple(Disc(label.leader[-1], 0.16 * label.height, Role.LEADER) for label in led)

    @cached_property
    def text_boxes(self) -> tuple[tuple[str, Box], ...]:
        """Every text with the room it takes [in], figures of dimensions included."""
        figures = tuple((dim.label.text, dim.label.box) for dim in self.dimensions)
        return tuple((label.text, label.box) for label in self.labels) + figures

    def marks(self) -> tuple[str, ...]:
        """Return the marks of every part shown, each once, in order."""
        shown = [piece.mark for piece in self.shapes if piece.mark]
        return tuple(dict.fromkeys(shown))

    def of(self, *roles: Role) -> tuple[Piece, ...]:
        """Return the pieces of the given roles."""
        return tuple(piece for piece in self.pieces() if role_of(piece) in roles)

    def summary(self) -> str:
        """Say in plain lines what the drawing shows: counts by role, figures of the dimensions, texts.

        Of many texts of a role (cells of a table, marks of a large deck) the number, the first and the last stand.
        """
        counts: Counter[Role] = Counter(piece.role for piece in self.shapes)
        lines = [f"{self.name}, {self.scale_text}"]
        lines += [f"  {role}: {counts[role]}" for role in Role if counts[role]]
        figures = Counter(dimension.label.text for dimension in self.dimensions)
        listed = ", ".join(text + (f" (x{n})" if n > 1 else "") for text, n in figures.items())
        lines.append(f"  dimensions: {listed or 'none'}")
        texts: dict[Role, list[str]] = {}
        for label in self.labels:
            if label.role is not Role.TITLE and label.text:
                texts.setdefault(label.role, []).append(label.text.replace("\n", " / "))
        for role, said in texts.items():
            many = TABULAR if role is Role.SCHEDULE else MANY
            if len(said) <= many:
                lines += [f"  {text}" for text in said]
            else:
                first, last = ", ".join(said[:SHOWN]), ", ".join(said[-SHOWN:])
                lines.append(f"  {len(said)} texts ({role}): {first} ... {last}")
        return "\n".join(lines)
