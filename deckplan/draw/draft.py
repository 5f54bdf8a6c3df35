"""A drawing under way: collects pieces and wishes for texts, draws dimensions, gives the scene."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from deckplan.draw.labels import Ground, Wish, place
from deckplan.draw.letters import width_of
from deckplan.draw.scene import (
    Area,
    Box,
    Dimension,
    Disc,
    Label,
    Role,
    Scene,
    Shape,
    Stroke,
    box_of,
    joined,
    text_box,
)
from deckplan.draw.sheet import Room, Sheet, choose_scale
from deckplan.draw.title import draw_title
from deckplan.geometry import Line, Point
from deckplan.plan.model import Plan
from deckplan.units import Units, format_inches, format_length, format_short

FIRST_ROW, ROW = 1.6, 2.7
"""Where the first dimension line runs, and how far the rows lie apart, in letter heights."""


class Draft:
    """A drawing under way; what belongs to paper (letters, ticks) is a multiple of `letter` [model in]."""

    def __init__(self, name: str, plan: Plan, sheet: Sheet, core: Box, room: Room) -> None:
        """Begin: core is what is drawn [in], room what is kept free round it [letter heights].

        notes: further lines for the title; legend: what the lines of a role mean, said there too; small: figures are
        inches without feet, as in a detail.
        """
        self.name, self.plan, self.units, self.sheet, self.core = name, plan.name, plan.units, sheet, core
        self.scale, self.scale_text = choose_scale(core, room, sheet, plan.units)
        self.letter = sheet.lettering * self.scale
        self.shapes: list[Shape] = []
        self.dimensions: list[Dimension] = []
        self.fixed: list[Label] = []
        self.wishes: list[Wish] = []
        self.ground = Ground()
        self.notes: list[str] = []
        self.legend: dict[Role, str] = {}
        self.key: list[Shape] = []
        self.small = False

    def stroke(self, points: Sequence[Point], role: Role, mark: str = "") -> None:
        """Draw an open line [in]."""
        self.shapes.append(Stroke(tuple(points), role, mark))

    def area(self, points: Sequence[Point], role: Role, mark: str = "", *, solid: bool = False) -> None:
        """Draw a closed outline [in]; solid: texts had better keep off it."""
        self.shapes.append(Area(tuple(points), role, mark))
        if solid:
            self.ground.solids.append(box_of(points))

    def disc(self, centre: Point, radius: float, role: Role, mark: str = "") -> None:
        """Draw a circle [in]."""
        self.shapes.append(Disc(centre, radius, role, mark))

    def wish(
        self,
        text: str,
        target: Point,
        places: Sequence[Point],
        role: Role,
        mark: str = "",
        *,
        size: float = 1.0,
        angle: float = 0.0,
        plate: bool = False,
        needed: bool = True,
        urgency: int = 0,
        shun: Sequence[Box] = (),
    ) -> None:
        """Ask for a text: see `labels.Wish`; size: in letter heights."""
        height = size * self.letter
        self.wishes.append(
            Wish(text, target, tuple(places), height, role, mark, angle, plate, needed, urgency, tuple(shun))
        )

    def arrow(
        self, start: Point, end: Point, role: Role = Role.ARROW, mark: str = "", *, both: bool = False
    ) -> None:
        """Draw an arrow [in] with a slim head at its end, or at both ends."""
        self.stroke((start, end), role, mark)
        for tail, tip in ((start, end), (end, start))[: 2 if both else 1]:
            dx, dy = tip[0] - tail[0], tip[1] - tail[1]
            long = (dx * dx + dy * dy) ** 0.5 or 1.0
            ux, uy = dx / long, dy / long
            back, half = 1.0 * self.letter, 0.22 * self.letter
            bx, by = tip[0] - ux * back, tip[1] - uy * back
            self.area((tip, (bx - uy * half, by + ux * half), (bx + uy * half, by - ux * half)), role, mark)

    def chain(
        self,
        stops: Sequence[float],
        axis: Literal["x", "y"],
        row: int,
        edge: float,
        side: int = 1,
        *,
        name: str = "",
    ) -> None:
        """Draw a chain of dimensions outside the drawing.

        stops [in]: what is measured between, along the axis; row: 0 next to the drawing, then outward; edge
        [in]: where the drawing ends on that side; side: 1 above or to the right, -1 below or to the left; name: whose
        places they are, written at the chain's beginning.
        """
        away = edge + side * (FIRST_ROW + ROW * row) * self.letter
        cleaned = merged(stops, 0.5)
        for low, high in pairwise(cleaned):
            lean = -1 if low == cleaned[0] else 1 if high == cleaned[-1] else 0
            self.dimension(low, high, axis, away, edge + side * 0.5 * self.letter, side, lean=lean)
        if name and cleaned:
            self._name_chain(name, axis, cleaned, away)

    def _name_chain(self, name: str, axis: Literal["x", "y"], stops: Sequence[float], away: float) -> None:
        """Write whose places a chain measures, where there is room: right of a level one, below an upright one."""
        angle, wide = (0.0 if axis == "x" else 90.0), width_of(name, self.letter)
        for step in range(24):
            off = wide / 2 + (1.0 + 0.5 * step) * self.letter
            at = (stops[-1] + off, away) if axis == "x" else (away, stops[0] - off)
            box = text_box(name, at, self.letter, angle).grown(0.3 * self.letter)
            if self.ground.free(box) and not self.ground.covered(box):
                label = Label(name, at, self.letter, Role.NOTE, angle=angle)
                self.fixed.append(label)
                self.ground.texts.append(label.box)
                return

    def dimension(
        self,
        low: float,
        high: float,
        axis: Literal["x", "y"],
        away: float,
        foot: float,
        side: int,
        *,
        lean: int = 0,
    ) -> None:
        """Draw one dimension: between two coordinates, its line at `away`, its extensions from `foot` [all
        in].

        lean: where a figure goes that is wider than what it measures, -1 before it, 1 behind it, 0 across the
        line.
        """

        def turn(along: float, across: float) -> Point:
            return (along, across) if axis == "x" else (across, along)

        over = side * 0.45 * self.letter
        text = self.figure(high - low)
        angle = 0.0 if axis == "x" else 90.0
        # Figures stand above a level line and to the left of an upright one, turned to be read from the
        # right.
        up = 0.72 * self.letter * (1 if axis == "x" else -1)
        middle = (low + high) / 2
        spare = 0.5 * (width_of(text, self.letter) + self.letter) + (high - low) / 2
        outside = [(middle + spare * (lean or 1), away + up), (middle - spare * (lean or 1), away + up)]
        across = [(middle, away - up), (middle, away + up * 2.4), (middle, away - up * 2.4)]
        narrow = width_of(text, self.letter) > high - low - 0.3 * self.letter
        if narrow:
            tries = [*(outside[:1] if lean else across[:1]), *across, *outside, (middle, away + up)]
        else:
            tries = [(middle, away + up), *across, *outside]
        at = next((turn(*t) for t in tries if self._figure_free(text, turn(*t), angle)), None)
        if at is None:
            return
        label = Label(text, at, self.letter, Role.DIMENSION, angle=angle, plate=True)
        self.ground.texts.append(label.box)
        line: Line = (turn(low, away), turn(high, away))
        extensions = tuple((turn(stop, foot), turn(stop, away + over)) for stop in (low, high))
        self.dimensions.append(Dimension(high - low, line, extensions, label, 0.6 * self.letter))

    def _figure_free(self, text: str, at: Point, angle: float) -> bool:
        return self.ground.free(text_box(text, at, self.letter, angle))

    def figure(self, length: float) -> str:
        """Write a length [in] as a figure; in metric drawings the unit stands once, in the title."""
        if self.small:
            return format_short(length, self.units).removesuffix(" mm")
        return format_length(length, self.units).removesuffix(" mm")

    def short(self, length: float) -> str:
        """Write a size [in] as people say it: inches, or whole millimetres."""
        return format_inches(length) if self.units == "us" else format_length(length, self.units)

    def level(self, elevation: float) -> str:
        """Write an elevation [in] with its sign."""
        return signed(elevation, self.units)

    def fix(
        self, text: str, at: Point, role: Role, *, size: float = 1.0, anchor: float = 0.0, plate: bool = False
    ) -> Label:
        """Set a text where it must be; anchor: -1 its left end, 0 its middle, 1 its right end."""
        height = size * self.letter
        middle = (at[0] - anchor * width_of(text, height) / 2, at[1])
        label = Label(text, middle, height, role, plate=plate, align=round(anchor))
        self.fixed.append(label)
        self.ground.texts.append(label.box)
        return label

    def settle(self) -> tuple[Label, ...]:
        """Place every wished text; called once, after all dimensions are drawn."""
        labels = place(self.wishes, self.ground, 0.25 * self.letter)
        self.wishes = []
        return (*self.fixed, *labels)

    def scene(self, *, titled: bool = True, stacked: bool = False) -> Scene:
        """Finish: place the texts, set the title below where asked, give the scene (stacked: see there)."""
        labels = self.settle()
        boxes = [piece.box for piece in self.shapes]
        boxes += [dim.box for dim in self.dimensions] + [label.box for label in labels]
        drawn = joined(boxes or [self.core])
        self.fixed = []
        if titled:
            draw_title(self, drawn)
        return Scene(
            self.name,
            self.plan,
            self.scale,
            self.scale_text,
            margin=0.8 * self.letter,
            stacked=stacked,
            shapes=tuple(self.shapes),
            labels=(*labels, *self.fixed),
            dimensions=tuple(self.dimensions),
            key=tuple(self.key),
        )


def signed(elevation: float, units: Units) -> str:
    """Write an elevation [in] with its sign.

    >>> print(signed(30.0, "us"), signed(-0.01, "us"), signed(-12.0, "metric"))
    +2'-6" ±0'-0" −305 mm
    """
    text = format_length(abs(elevation), units)
    zero = text == format_length(0.0, units)
    return ("±" if zero else "+" if elevation > 0 else "−") + text


def merged(stops: Sequence[float], apart: float) -> list[float]:
    """Sort coordinates [in] and drop those closer than `apart` [in] to the one before.

    >>> merged([24, 0, 24.2, 96], 0.5)
    [0, 24, 96]
    """
    kept: list[float] = []
    for stop in sorted(stops):
        if not kept or stop - kept[-1] > apart:
            kept.append(stop)
    return kept
