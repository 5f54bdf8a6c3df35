"""A drawing under way: collects pieces and wishes for texts, draws dimensions and the title, gives the scene."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from deckplan.draw.labels import Ground, Wish, place
from deckplan.draw.letters import height_of, width_of
from deckplan.draw.scene import Area, Box, Dimension, Disc, Label, Role, Scene, Stroke, box_of, joined, text_box
from deckplan.draw.sheet import Sheet, choose_scale
from deckplan.geometry import Line, Point
from deckplan.units import Units, format_length

CAUTION = "Planning aid. Local code, product instructions and licensed practice decide. Call before you dig."

ROUND, BELOW = 9.0, 9.0
"""Room kept round the drawing and for the title below it, in letter heights."""


class Draft:
    """A drawing under way. Sizes that belong to paper (letters, ticks) are multiples of `letter` [model in]."""

    def __init__(self, name: str, plan: str, units: Units, sheet: Sheet, core: Box) -> None:
        self.name, self.plan, self.units, self.sheet, self.core = name, plan, units, sheet, core
        round_it, below = ROUND * sheet.lettering, BELOW * sheet.lettering
        self.scale, self.scale_text = choose_scale(core, round_it, below, sheet, units)
        self.letter = sheet.lettering * self.scale
        self.strokes: list[Stroke] = []
        self.areas: list[Area] = []
        self.discs: list[Disc] = []
        self.dimensions: list[Dimension] = []
        self.fixed: list[Label] = []
        self.wishes: list[Wish] = []
        self.ground = Ground()

    def stroke(self, points: Sequence[Point], role: Role, mark: str = "") -> None:
        """Draw an open line [in]."""
        self.strokes.append(Stroke(tuple(points), role, mark))

    def area(self, points: Sequence[Point], role: Role, mark: str = "", *, solid: bool = False) -> None:
        """Draw a closed outline [in]; solid: texts had better keep off it."""
        self.areas.append(Area(tuple(points), role, mark))
        if solid:
            self.ground.solids.append(box_of(points))

    def disc(self, centre: Point, radius: float, role: Role, mark: str = "") -> None:
        """Draw a circle [in]."""
        self.discs.append(Disc(centre, radius, role, mark))

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
    ) -> None:
        """Ask for a text: see `labels.Wish`; size: in letter heights."""
        height = size * self.letter
        self.wishes.append(
            Wish(text, target, tuple(places), height, role, mark, angle, plate, needed, urgency)
        )

    def arrow(self, start: Point, end: Point, role: Role = Role.ARROW, mark: str = "", *, both: bool = False) -> None:
        """Draw an arrow [in] with a slim head at its end, or at both ends."""
        self.stroke((start, end), role, mark)
        for tail, tip in ((start, end), (end, start))[: 2 if both else 1]:
            dx, dy = tip[0] - tail[0], tip[1] - tail[1]
            long = (dx * dx + dy * dy) ** 0.5 or 1.0
            ux, uy = dx / long, dy / long
            back, half = 1.0 * self.letter, 0.22 * self.letter
            bx, by = tip[0] - ux * back, tip[1] - uy * back
            self.area((tip, (bx - uy * half, by + ux * half), (bx + uy * half, by - ux * half)), role, mark)

    def chain(self, stops: Sequence[float], axis: Literal["x", "y"], row: int, edge: float, side: int = 1) -> None:
        """Draw a chain of dimensions outside the drawing.

        stops [in]: what is measured between, along the axis; row: 0 next to the drawing, then outward; edge [in]:
        where the drawing ends on that side; side: 1 above or to the right, -1 below or to the left.
        """
        away = edge + side * (1.6 + 2.7 * row) * self.letter
        cleaned = merged(stops, 0.5)
        for low, high in zip(cleaned, cleaned[1:], strict=False):
            self.dimension(low, high, axis, away, edge + side * 0.5 * self.letter, side)

    def dimension(self, low: float, high: float, axis: Literal["x", "y"], away: float, foot: float, side: int) -> None:
        """Draw one dimension: between two coordinates, its line at `away`, its extensions from `foot` [all in]."""

        def turn(along: float, across: float) -> Point:
            return (along, across) if axis == "x" else (across, along)

        over = side * 0.45 * self.letter
        text = self.figure(high - low)
        angle = 0.0 if axis == "x" else 90.0
        # Figures stand above a level line and to the left of an upright one, turned to be read from the right.
        up = 0.72 * self.letter * (1 if axis == "x" else -1)
        middle = (low + high) / 2
        spare = 0.5 * (width_of(text, self.letter) + self.letter) + (high - low) / 2
        tries = [(middle, away + up), (middle, away - up), (middle + spare, away + up), (middle - spare, away + up)]
        tries += [(middle, away + up * 2.6), (middle, away - up * 2.6)]
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
        """Write a length [in] as a figure of a dimension: in metric drawings the unit stands once, in the title."""
        return format_length(length, self.units).removesuffix(" mm")

    def level(self, elevation: float) -> str:
        """Write an elevation [in] with its sign."""
        text = format_length(abs(elevation), self.units)
        zero = text in ("0'-0\"", "0 mm")
        return ("±" if zero else "+" if elevation > 0 else "−") + text

    def fix(self, text: str, at: Point, role: Role, *, size: float = 1.0, anchor: float = 0.0) -> Label:
        """Set a text where it must be; anchor: -1 its left end, 0 its middle, 1 its right end is at the point."""
        height = size * self.letter
        middle = (at[0] - anchor * width_of(text, height) / 2, at[1])
        label = Label(text, middle, height, role)
        self.fixed.append(label)
        self.ground.texts.append(label.box)
        return label

    def settle(self) -> tuple[Label, ...]:
        """Place every wished text; called once, after all dimensions are drawn."""
        labels = place(self.wishes, self.ground, 0.25 * self.letter)
        self.wishes = []
        return (*self.fixed, *labels)

    def scene(self, *, titled: bool = True) -> Scene:
        """Finish: place the texts, set the title below where asked, and give the scene."""
        labels = self.settle()
        pieces = (*self.strokes, *self.areas, *self.discs, *self.dimensions)
        drawn = joined([piece.box for piece in pieces] + [label.box for label in labels] or [self.core])
        self.fixed = []
        if titled:
            self._title(drawn)
        return Scene(
            self.name, self.plan, self.scale, self.scale_text, 0.8 * self.letter, tuple(self.strokes), tuple(self.areas),
            tuple(self.discs), (*labels, *self.fixed), tuple(self.dimensions),
        )  # fmt: skip

    def _title(self, drawn: Box) -> None:
        h = self.letter
        left, top = drawn.left, drawn.bottom - 1.0 * h
        note = "lengths in mm" if self.units == "metric" else ""
        under = " · ".join(part for part in (self.plan, self.scale_text, note) if part)
        bar = self._bar_length()
        wide = max(drawn.width, width_of(self.name, 1.7 * h) + bar + 8 * h)
        self.stroke(((left, top), (left + wide, top)), Role.TITLE)
        self.fix(self.name, (left, top - 1.5 * h), Role.TITLE, size=1.7, anchor=-1)
        row = top - 3.3 * h
        for text in (*wrapped(under, wide - bar - 8 * h, h), *wrapped(CAUTION, wide, 0.9 * h)):
            size = 0.9 if text in CAUTION else 1.0
            self.fix(text, (left, row), Role.TITLE, size=size, anchor=-1)
            row -= height_of(text, h)
        self._bar((left + wide - bar - 2.5 * h, top - 1.4 * h), bar)

    def _bar_length(self) -> float:
        foot = 12.0 if self.units == "us" else 1000 / 25.4
        wanted = 14 * self.letter
        steps = [n * foot for n in (0.5, 1, 2, 4, 8, 10, 20, 40, 80, 100, 200, 400)]
        return max([step for step in steps if step <= wanted] or [steps[0]])

    def _bar(self, at: Point, length: float) -> None:
        """Draw the graphic scale: four parts, black and clear by turns."""
        (x, y), high = at, 0.45 * self.letter
        for part in range(4):
            a, b = x + length * part / 4, x + length * (part + 1) / 4
            corners = ((a, y), (b, y), (b, y + high), (a, y + high))
            if part % 2 == 0:
                self.area(corners, Role.SCALE)
            else:
                self.stroke((*corners, corners[0]), Role.SCALE)
        for share in (0.0, 0.5, 1.0):
            text = format_length(length * share, self.units).replace("-0\"", "") if share else "0"
            self.fix(text, (x + length * share, y - 0.8 * self.letter), Role.SCALE, size=0.85)


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


def wrapped(text: str, width: float, height: float) -> list[str]:
    """Break a text into lines no wider than `width` [in] where its words allow."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, height) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines
