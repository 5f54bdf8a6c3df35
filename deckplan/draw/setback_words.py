"""The setbacks that a line asks for, each with the words that stand beside it on a plan."""

from __future__ import annotations

from deckplan.draw.draft import Draft
from deckplan.plan.model import BoundaryLine


def setback_words(draft: Draft, boundary: BoundaryLine) -> tuple[tuple[float, str], ...]:
    """Return every setback of a line [in] with its words: its own first, then those of heights, lowest first.

    Heights that ask for the same share a line. A setback of nothing has no line to draw.
    """
    words: dict[float, list[str]] = {}
    if boundary.setback:
        words[boundary.setback] = [f"setback {draft.figure(boundary.setback)}"]
    for entry in sorted(boundary.by_height, key=lambda each: each.over):
        high = draft.short(entry.over).removesuffix(" mm")
        text = f"{draft.figure(entry.setback)} over {high} high"
        words.setdefault(entry.setback, []).append(text)
    return tuple((setback, "\n".join(lines)) for setback, lines in words.items() if setback)
