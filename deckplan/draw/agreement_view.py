"""Published tables laid out as printed, our figure beside each: a sheet that shades every cell by how far they differ.

::

    joist spans [in], printed / ours            head     column   column
    what makes them come out                    row    119/118.81   ...

Shades run from paper (close) to grey (barely within the tolerance); what is no agreement at all has a look of its own,
so that the sheet reads in grey: a heavy frame where the figures do not agree, stripes where ours may only be
larger and the print governs, dashes where the figure is only looked up.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby

from deckplan.draw.letters import width_of
from deckplan.draw.scene import Area, Label, Role, Scene, Shape
from deckplan.draw.title import wrapped
from deckplan.engineering.agreement import Comparison
from deckplan.geometry import Point

LETTER, SMALL = 0.1, 0.085
"""Height of letters, of cells and of notes [in of paper]."""
HIGH, APART, WIDE = 0.2, 0.35, 10.6
"""Height of a row, room between tables, width of the sheet [in of paper]."""

# How a comparison's cell names its place in the printed table: row and column.
_PLACES = {
    "joist spans": r"(?P<column>.+), (?P<row>2x\d+ at \d+ in)",
    "joist overhangs": r"(?P<column>.+), (?P<row>2x\d+ at \d+ in)",
    "beam spans": r"(?P<row>[^,]+), (?P<column>joists \d+ ft), (?P<group>.+)",
    "footings": r"(?P<column>\w+), (?P<row>.+)",
    "post heights": r"(?P<column>.+), (?P<row>beam \d+ ft, .+)",
    "ledgers": r"(?P<row>.+), (?P<column>joists \d+ ft)",
    "worked examples": r"(?P<row>[^:]+): (?P<name>.+)",
}
_LISTED = {"fasteners": 27}
"""Tables without columns, and after how many rows the list goes on beside itself."""
MOST = 5
"""Answers of one example side by side; more go on below."""

MEANINGS = {
    Role.CELL_CLOSE: "within a third of the tolerance",
    Role.CELL_NEAR: "within two thirds",
    Role.CELL_WITHIN: "within the tolerance",
    Role.CELL_OVER: "ours as much or more: the print governs",
    Role.CELL_KEPT: "looked up, not computed",
    Role.CELL_OFF: "does not agree",
}
"""What each look of a cell says."""


def look_of(each: Comparison) -> Role:
    """Return how the cell of a comparison looks."""
    off = abs(each.difference)
    if not each.agrees:
        return Role.CELL_OFF
    if each.tolerance == 0:
        return Role.CELL_KEPT
    if each.bound == "not under":  # even where the two are equal: held from one side, nothing is reproduced
        return Role.CELL_OVER
    for share, role in ((1 / 3, Role.CELL_CLOSE), (2 / 3, Role.CELL_NEAR)):
        if off <= share * each.tolerance:
            return role
    return Role.CELL_WITHIN


def figures_of(each: Comparison) -> str:
    """Write a comparison as printed / ours; what does not agree says by how much.

    >>> figures_of(Comparison("joist spans", "c", 119.0, 118.80905, "in", 0.5, "both", "", ""))
    '119 / 118.81'
    """
    ours = f"{each.ours:.2f}".rstrip("0").rstrip(".") if each.unit else f"{each.ours:.5g}"
    text = f"{each.printed:g} / {ours}"
    return text if each.agrees else f"{text}, off"


@dataclass(slots=True)
class _Block:
    """One table while it is laid out, its upper left corner at the origin [in of paper]."""

    shapes: list[Shape] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    width: float = 0.0
    height: float = 0.0

    def say(
        self, text: str, at: Point, height: float = LETTER, role: Role = Role.NOTE, side: int = -1
    ) -> None:
        """Set a text; side: -1 its left end at the point, 0 its middle, 1 its right end."""
        x = at[0] - side * width_of(text, height) / 2
        self.labels.append(Label(text, (x, at[1]), height, role))
        self.width = max(self.width, x + width_of(text, height) / 2)

    def cell(self, left: float, top: float, wide: float, role: Role, mark: str = "") -> None:
        """Draw the ground of a cell."""
        right, low = left + wide, top - HIGH
        self.shapes.append(Area(((left, low), (right, low), (right, top), (left, top)), role, mark))
        self.width, self.height = max(self.width, right), max(self.height, -low)


def agreement_view(found: Sequence[Comparison], *tables: str) -> Scene:
    """Return a sheet with the tables named, or with all: every cell as printed and as computed, shaded by difference.

    Raises KeyError for a table that has no comparison.
    """
    names = tables or tuple(dict.fromkeys(each.table for each in found))
    blocks = []
    for name in names:
        chosen = [each for each in found if each.table == name]
        if not chosen:
            raise KeyError(name)
        blocks.append(_block(name, chosen))
    shapes, labels, low = _flow(blocks)
    key = _key(Counter(shape.role for shape in shapes))
    shapes += [_moved(shape, 0.0, low) for shape in key.shapes]
    labels += [_set(label, 0.0, low) for label in key.labels]
    title = f"Printed and computed: {', '.join(names)}"
    return Scene(title, "", 1.0, "Not to scale", 0.15, shapes=tuple(shapes), labels=tuple(labels))


def _block(name: str, chosen: Sequence[Comparison]) -> _Block:
    """Lay out one table: its name, what it rests on, heads, cells."""
    rows, columns = _grid(name, chosen)
    block = _Block()
    unit = f" [{chosen[0].unit}]" if chosen[0].unit else ""
    block.say(f"{name}{unit}, printed / ours", (0.0, -0.1), 1.3 * LETTER)
    cells = [pair for _, cells in rows for pair in cells.items()]
    wide = max(width_of(_text(name, each), LETTER) for name, each in cells) + 0.16
    # short heads stay on one line, long ones break between words
    words = [part for head in columns for part in ([head] if len(head) <= 12 else head.split(" "))]
    wide = max([wide, *(width_of(word, SMALL) + 0.1 for word in words)])
    count = max(len(columns), max(len(row[1]) for row in rows))
    room = max(width_of(row[0], LETTER) for row in rows) + 0.15
    per = _LISTED.get(name, len(rows))
    beside = -(-len(rows) // per)
    across = beside * (room + count * wide) + (beside - 1) * 0.25
    top = -0.3
    for line in _assumptions(name, chosen, max(across, 4.5)):
        block.say(line, (0.0, top), SMALL)
        top -= 1.25 * SMALL
    heads = [wrapped(head, wide - 0.06, SMALL) for head in columns]
    tall = max((len(lines) for lines in heads), default=0)
    for at, lines in enumerate(heads):
        for number, line in enumerate(reversed(lines)):
            x = room + (at + 0.5) * wide
            block.say(line, (x, top - (tall - number - 0.3) * 1.2 * SMALL), SMALL, Role.SCHEDULE, side=0)
    top -= tall * 1.2 * SMALL + 0.08
    for number, (head, found) in enumerate(rows):
        left = (number // per) * (room + count * wide + 0.25)
        y = top - (number % per) * HIGH
        block.say(head, (left + room - 0.08, y - HIGH / 2), LETTER, Role.SCHEDULE, side=1)
        for at, (key, each) in enumerate(found.items()):
            x = left + room + (columns.index(key) if columns else at) * wide
            block.cell(x, y, wide, look_of(each), each.cell)
            text = _text(key, each)
            middle = (x + wide / 2, y - HIGH / 2)
            look = look_of(each)
            # what does not agree is never lost among the many in the scene's summary
            role = Role.FLAG if look is Role.CELL_OFF else Role.MARK
            block.labels.append(Label(text, middle, LETTER, role, each.cell, plate=look is Role.CELL_OVER))
    return block


def _text(key: str, each: Comparison) -> str:
    """Write what stands in a cell; examples name each answer there."""
    return f"{key}: {figures_of(each)}" if each.table == "worked examples" else figures_of(each)


def _grid(
    name: str, chosen: Sequence[Comparison]
) -> tuple[list[tuple[str, dict[str, Comparison]]], list[str]]:
    """Return rows with their cells by column, and the columns in order; none where cells name themselves."""
    rows: dict[str, dict[str, Comparison]] = {}
    columns: dict[str, None] = {}
    pattern = re.compile(_PLACES.get(name, "(?P<row>.+)"))
    for each in chosen:
        match = pattern.fullmatch(each.cell)
        assert match is not None, each.cell
        place = match.groupdict()
        head = ", ".join(part for part in (place["row"], place.get("group")) if part)
        column = place.get("column") or ""
        if column:
            columns[column] = None
        rows.setdefault(head, {})[place.get("name") or column] = each
    if not columns:
        return [part for head, cells in rows.items() for part in _parted(head, cells)], []
    return list(rows.items()), sorted(columns, key=_numbers) if name == "beam spans" else list(columns)


def _parted(head: str, cells: dict[str, Comparison]) -> list[tuple[str, dict[str, Comparison]]]:
    """Break a row that is too long for the sheet; what goes on below has no head of its own."""
    pairs = list(cells.items())
    return [(head if at == 0 else "", dict(pairs[at : at + MOST])) for at in range(0, len(pairs), MOST)]


def _numbers(text: str) -> int:
    return int(re.sub(r"\D", "", text))


def _assumptions(name: str, chosen: Sequence[Comparison], width: float) -> list[str]:
    """Say under which assumptions the table comes out, each once; examples carry titles instead."""
    if name == "worked examples":
        return wrapped("each by its own statement; names as the example writes them", width, SMALL)
    said = [text for text, _ in groupby(chosen, key=lambda each: each.assumption)]
    return [line for text in dict.fromkeys(said) for line in wrapped(text, width, SMALL)]


def _key(used: Mapping[Role, int]) -> _Block:
    """Explain the looks that occur, and say how many cells have each."""
    block, x = _Block(), 0.0
    for role, text in MEANINGS.items():
        if role in used:
            block.cell(x, 0.0, 0.4, role)
            said = f"{text}: {used[role]}"
            block.say(said, (x + 0.48, -HIGH / 2), SMALL)
            x += 0.7 + width_of(said, SMALL)
    return block


def _flow(blocks: Sequence[_Block]) -> tuple[list[Shape], list[Label], float]:
    """Put tables beside each other while the sheet is wide enough, else below; return also where they end."""
    shapes: list[Shape] = []
    labels: list[Label] = []
    x = y = lowest = 0.0
    for block in blocks:
        if x and x + block.width > WIDE:
            x, y = 0.0, lowest - APART
        shapes += [_moved(shape, x, y) for shape in block.shapes]
        labels += [_set(label, x, y) for label in block.labels]
        lowest = min(lowest, y - block.height)
        x += block.width + APART
    return shapes, labels, lowest - 0.2


def _moved(shape: Shape, dx: float, dy: float) -> Shape:
    assert isinstance(shape, Area)
    return Area(tuple((x + dx, y + dy) for x, y in shape.points), shape.role, shape.mark)


def _set(label: Label, dx: float, dy: float) -> Label:
    x, y = label.at
    return Label(label.text, (x + dx, y + dy), label.height, label.role, label.mark, plate=label.plate)
