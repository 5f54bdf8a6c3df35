"""A schedule beside a drawing: ruled rows under a heading, as on the sheets of the trade."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from deckplan.draw.draft import Draft
from deckplan.draw.letters import height_of, width_of
from deckplan.draw.scene import Box, Role
from deckplan.draw.sheet import Room, Sheet, choose_scale
from deckplan.units import Units

ROW = 1.5
"""Height of a row, in letter heights."""

PAD = 0.7
"""Clear room on both sides of a column's texts, in letter heights."""

GAP = 3.0
"""Clear room between a plan and its schedule [letter heights]."""


@dataclass(frozen=True, slots=True)
class Schedule:
    """What a schedule says.

    title: above it; columns: headings of one or two lines; rows: as many texts each; breaks: numbers of the rows that
    begin a new group, ruled off; notes: lines below it.
    """

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    breaks: frozenset[int] = frozenset()
    notes: tuple[str, ...] = ()

    @property
    def widths(self) -> tuple[float, ...]:
        """Width of each column [letter heights]."""
        across = zip(self.columns, *self.rows, strict=True)
        return tuple(max(width_of(text, 1.0) for text in texts) + 2 * PAD for texts in across)

    @property
    def head(self) -> float:
        """Height of the title and the headings [letter heights]."""
        return 2.4 + max(height_of(text, 1.0) for text in self.columns) + 0.6

    def size(self, blocks: int = 1) -> tuple[float, float]:
        """Return width and height [letter heights] where the rows stand in blocks side by side."""
        own = max(sum(self.widths), 0.0)
        wide = blocks * own + (blocks - 1) * 2 * PAD
        wide = max(wide, width_of(self.title, 1.2), *(width_of(note, 0.9) for note in self.notes), 0.0)
        longest = -(-len(self.rows) // blocks)
        return wide, self.head + ROW * longest + 0.6 + 1.2 * len(self.notes)


def draw_schedule(draft: Draft, schedule: Schedule, left: float, top: float, blocks: int = 1) -> None:
    """Draw a schedule whose upper left corner lies at a point [in], its rows in blocks side by side."""
    h = draft.letter
    draft.fix(schedule.title, (left, top - 0.9 * h), Role.SCHEDULE, size=1.2, anchor=-1)
    per = -(-len(schedule.rows) // blocks)
    step = (sum(schedule.widths) + 2 * PAD) * h
    for block in range(blocks):
        start, stop = block * per, min((block + 1) * per, len(schedule.rows))
        _block(draft, schedule, left + block * step, top - 2.0 * h, range(start, stop))
    foot = top - (schedule.head + ROW * per + 0.6) * h
    for number, note in enumerate(schedule.notes):
        draft.fix(note, (left, foot - 1.2 * (number + 0.5) * h), Role.SCHEDULE, size=0.9, anchor=-1)


def _block(draft: Draft, schedule: Schedule, left: float, top: float, numbers: Sequence[int]) -> None:
    """Draw headings and some of the rows, with rules above, between groups and below."""
    h, wide = draft.letter, sum(schedule.widths) * draft.letter
    high = (schedule.head - 2.0) * h

    def rule(y: float) -> None:
        draft.stroke(((left, y), (left + wide, y)), Role.SCHEDULE)

    rule(top)
    rule(top - high)
    x = left
    for width, heading in zip(schedule.widths, schedule.columns, strict=True):
        draft.fix(heading, (x + width * h / 2, top - high / 2), Role.SCHEDULE)
        x += width * h
    y = top - high
    for number in numbers:
        if number in schedule.breaks and number != numbers[0]:
            rule(y)
        x = left
        for width, text in zip(schedule.widths, schedule.rows[number], strict=True):
            draft.fix(text, (x + width * h / 2, y - ROW * h / 2), Role.SCHEDULE)
            x += width * h
        y -= ROW * h
    rule(y)


@dataclass(frozen=True, slots=True)
class Plot:
    """Where the schedule stands: to the right of the plan or below it, in how many blocks; the room round the plan."""

    room: Room
    right: bool = True
    blocks: int = 1


def set_out(table: Schedule, deck: Box, bare: Room, paper: Sheet, units: Units) -> Plot | None:
    """Return where the schedule stands so that the plan becomes largest, to its right where that is all the same.

    None where it finds no place on the sheet.
    """
    most = paper.height / paper.lettering - bare.below - 2.0
    found: list[tuple[float, int, Plot]] = []
    for blocks in (1, 2, 3):
        wide, high = table.size(blocks)
        if high <= most:
            beside = Room(bare.left, bare.right + GAP + wide, bare.above, bare.below)
            found.append(
                (choose_scale(deck, beside, paper, units)[0], 2 * blocks, Plot(beside, True, blocks))
            )
        if bare.left + wide <= paper.width / paper.lettering and high <= most:
            under = Room(bare.left, bare.right, bare.above, bare.below + GAP + high)
            found.append(
                (choose_scale(deck, under, paper, units)[0], 2 * blocks + 1, Plot(under, False, blocks))
            )
    return min(found, key=lambda one: (round(one[0], 3), one[1]))[2] if found else None


def place_schedule(draft: Draft, table: Schedule, plot: Plot, deck: Box) -> None:
    """Draw a schedule where it was set out to stand, beside the deck or below it."""
    h = draft.letter
    if plot.right:
        draw_schedule(
            draft,
            table,
            deck.right + (plot.room.right - table.size(plot.blocks)[0]) * h,
            deck.top,
            plot.blocks,
        )
    else:
        draw_schedule(draft, table, deck.left, deck.bottom - (GAP + 4.0) * h, plot.blocks)
