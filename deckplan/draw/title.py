"""The line under every drawing: its name, the plan, the scale in words and as a bar, the caution."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deckplan.draw.letters import height_of, width_of
from deckplan.draw.scene import Area, Box, Disc, Role, Shape, Stroke
from deckplan.draw.shapes import rectangle
from deckplan.geometry import Point
from deckplan.units import Units, format_length

if TYPE_CHECKING:
    from deckplan.draw.draft import Draft

CAUTION = "Planning aid. Local code, product instructions and licensed practice decide. Call before you dig."

BESIDE = 4.0
"""How far down the graphic scale reaches, in letter heights."""

SAMPLE = 2.4
"""Length of a sample in the key, in letter heights."""


def draw_title(draft: Draft, drawn: Box) -> None:
    """Set name, plan, scale and caution under what is drawn, with the graphic scale at the right."""
    h = draft.letter
    left, top = drawn.left, drawn.bottom - 1.0 * h
    note = "lengths in mm" if draft.units == "metric" else ""
    under = " · ".join(part for part in (draft.plan, draft.scale_text, note) if part)
    bar = _bar_length(draft)
    limit = draft.sheet.width * draft.scale - 2 * h
    beside = width_of(draft.name, 1.7 * h) + bar + 7 * h
    wide = max(drawn.width, min(beside, limit))
    stands_beside = beside <= wide
    draft.stroke(((left, top), (left + wide, top)), Role.TITLE)
    row = top - 1.6 * h
    for line in wrapped(draft.name, wide, 1.7 * h):
        draft.fix(line, (left, row), Role.TITLE, size=1.7, anchor=-1)
        row -= 1.8 * h
    for words in (under, *draft.notes):
        # the graphic scale stands beside the first lines only
        taken = bar + 7 * h if stands_beside and row > top - BESIDE * h else 0.0
        for line in wrapped(words, wide - taken, h):
            draft.fix(line, (left, row), Role.TITLE, anchor=-1)
            row -= height_of(line, h)
    row = draw_key(draft, left, row, wide)
    for line in wrapped(CAUTION, wide, 0.9 * h):
        draft.fix(line, (left, row), Role.TITLE, size=0.9, anchor=-1)
        row -= height_of(line, h)
    at = (left + wide - bar - 2.5 * h, top - 1.4 * h) if stands_beside else (left + 0.5 * h, row - 0.4 * h)
    _bar(draft, at, bar)


def draw_key(draft: Draft, left: float, top: float, wide: float) -> float:
    """Draw a sample of each kind of line that the drawing has and its legend names; return where it ends [in]."""
    h = draft.letter
    drawn = {shape.role: type(shape) for shape in reversed(draft.shapes)}
    said = [(role, words) for role, words in draft.legend.items() if role in drawn]
    x, y = left, top - 0.4 * h
    for role, words in said:
        needs = (SAMPLE + 0.6) * h + width_of(words, 0.9 * h)
        if x > left and x + needs > left + wide:
            x, y = left, y - 1.5 * h
        draft.key.append(_sample(drawn[role], role, x, y, h))
        draft.fix(words, (x + (SAMPLE + 0.6) * h, y), Role.TITLE, size=0.9, anchor=-1)
        x += needs + 1.6 * h
    return y - 1.4 * h if said else top


def _sample(kind: type[Shape], role: Role, x: float, y: float, h: float) -> Shape:
    """Return a sample of a role: a piece of line, a small box or a disc."""
    if kind is Stroke:
        return Stroke(((x, y), (x + SAMPLE * h, y)), role)
    if kind is Disc:
        return Disc((x + SAMPLE * h / 2, y), 0.5 * h, role)
    return Area(rectangle(x, y - 0.4 * h, x + SAMPLE * h, y + 0.4 * h), role)


def _bar_length(draft: Draft) -> float:
    foot = 12.0 if draft.units == "us" else 1000 / 25.4
    wanted = 18 * draft.letter
    steps = [n * foot for n in (0.5, 1, 2, 4, 8, 10, 20, 40, 80, 100, 200, 400)]
    return max([step for step in steps if step <= wanted] or [steps[0]])


def _bar(draft: Draft, at: Point, length: float) -> None:
    """Draw the graphic scale: four parts, black and clear by turns."""
    (x, y), high = at, 0.45 * draft.letter
    for part in range(4):
        a, b = x + length * part / 4, x + length * (part + 1) / 4
        corners = ((a, y), (b, y), (b, y + high), (a, y + high))
        if part % 2 == 0:
            draft.area(corners, Role.SCALE)
        else:
            draft.stroke((*corners, corners[0]), Role.SCALE)
    for share in (0.0, 0.5, 1.0):
        text = _bar_text(length * share, draft.units) if share else "0"
        draft.fix(text, (x + length * share, y - 0.8 * draft.letter), Role.SCALE, size=0.85)


def _bar_text(length: float, units: Units) -> str:
    """Write a mark of the graphic scale [in]: feet, or metres."""
    return format_length(length, units).replace('-0"', "") if units == "us" else f"{length * 0.0254:g} m"


def folded(text: str, width: float, height: float) -> str:
    """Break a text into lines no wider than `width` [in] where its words allow, as one text of several lines.

    >>> folded("A  the long terrace", 8.0, 1.0)
    'A  the long\\nterrace'
    """
    return "\n".join(line.strip() for line in wrapped(text, width, height))


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
