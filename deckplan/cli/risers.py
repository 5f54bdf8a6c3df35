"""`deckplan risers`: one rise, split."""

from __future__ import annotations

from typing import Any

from deckplan.cli.text import number, step_to_json, steps_text, table, wrapped
from deckplan.levels.risers import split_rise
from deckplan.rules import load_profile
from deckplan.units import Units, format_short


def answer_risers(rise: float, rules: str, board: float, units: Units) -> tuple[dict[str, Any], str]:
    """Split a rise [in] under the boards [in] of its steps; return the JSON object and the text.

    Raises InputError where the rule profile cannot be read.
    """
    split = split_rise(rise, load_profile(rules), board, units)
    data = {
        "risers": split.risers,
        "riser_in": number(split.riser),
        "verdict": split.verdict.value,
        "marks_in": [number(mark) for mark in split.marks],
        "reason": split.reason,
        "rise_in": number(rise),
        "nearest_in": [number(height) for height in split.nearest],
        "rules": rules,
        "steps": [step_to_json(step) for step in split.steps],
    }
    if board:
        data["frame_in"] = number(split.frame)
    marks = [
        (count, format_short(mark, units), f"{mark:.4f} in")
        for count, mark in enumerate(split.marks, start=1)
    ]
    lines = [
        f"{split.verdict.value}: {format_short(rise, units)} under {rules}",
        wrapped(split.reason),
        "",
        "Marks on the story pole, from the lower surface",
        table(("riser", "height above the foot", "exact"), marks),
    ]
    if board:
        lines += [
            "",
            f"A step frame under boards of {format_short(board, units)}: {format_short(split.frame, units)} high",
        ]
    return data, "\n".join([*lines, "", "The sum", steps_text(split.steps)])
