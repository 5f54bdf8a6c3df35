"""Plain text for terminals: aligned tables, wrapped sentences, sums."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import Any

from deckplan.units import written_out
from deckplan.verdict import Step

WIDTH = 100
"""Lines are wrapped at this many letters; tables may be wider."""


def table(headings: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Set rows under headings, numbers to the right; a number is what starts with a digit or a minus."""
    cells = [["" if cell is None else str(cell) for cell in row] for row in rows]
    if not cells:
        return "  none"
    columns = list(zip(*cells, strict=True))
    right = [
        all(not c or c[0].isdigit() or (c[0] == "-" and len(c) > 1) for c in column) for column in columns
    ]
    wide = [
        max(len(head), *(len(cell) for cell in column))
        for head, column in zip(headings, columns, strict=True)
    ]
    lines = []
    for row in [list(headings), *cells]:
        parts = [
            cell.rjust(width) if number else cell.ljust(width)
            for cell, width, number in zip(row, wide, right, strict=True)
        ]
        lines.append(("  " + "  ".join(parts)).rstrip())
    return "\n".join(lines)


def section(title: str, body: str) -> str:
    """Put a title over a part of the text."""
    return f"{title}\n{body}"


def wrapped(text: str, lead: str = "  ", further: str = "    ") -> str:
    """Wrap a sentence under its first line."""
    return textwrap.fill(text, WIDTH, initial_indent=lead, subsequent_indent=further, break_long_words=False)


def steps_text(steps: Iterable[Step]) -> str:
    """Write a sum, one line a step."""
    return "\n".join(wrapped(written_out(str(step))) for step in steps)


def step_to_json(step: Step) -> dict[str, Any]:
    """Write a step of a sum with plain values."""
    return {
        "symbol": step.symbol,
        "words": step.words,
        "formula": step.formula,
        "numbers": step.numbers,
        "value": number(step.value),
        "unit": step.unit,
        "source": str(step.source),
    }


def number(value: float | None, places: int = 9) -> float | None:
    """Return a number that JSON can hold: without the noise of float sums, nothing where it has no end."""
    if value is None or value != value or value in (float("inf"), float("-inf")):
        return None
    rounded = round(float(value), places)
    return rounded + 0.0
