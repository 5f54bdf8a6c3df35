"""What stands beside a field whose text could not be taken: what to write there, in the words of a builder."""

from __future__ import annotations

import re

from deckplan.errors import InputError, Problem

_INSIDE = {"from": "lower end of the range: ", "to": "upper end of the range: "}
"""What the ends of a range are called."""


def wanted(error: InputError, place: str, text: str) -> str:
    """Say that a text will not do in the field of a place, and what would; and what else stands against it.

    >>> from deckplan.errors import Problem
    >>> wrong = InputError([Problem('platform "a", elevation.to', "a length", '"x"')])
    >>> wanted(wrong, "platform.a.elevation", "1 ft to x")
    'upper end of the range: x will not do: a length'
    """
    return "; ".join(dict.fromkeys(_said(problem, place, text) for problem in error.problems))


def _said(problem: Problem, place: str, text: str) -> str:
    """Leave out the place where it is the field itself, since the message stands beside it."""
    whole, field = _dotted(problem.place), _dotted(place)
    if not f"{whole}.".startswith(f"{field}."):
        return str(problem)
    if not text.strip():
        return f"nothing is written here: {problem.expected}"
    inside = whole.removeprefix(field).strip(".")
    came = problem.came.strip('"')
    if not inside or not came or "{" in came:  # the text as it was typed, not as a plan file would hold it
        return f"{text.strip()} will not do: {problem.expected}"
    number = re.fullmatch(r"(?:entry|point)\.(\d+)(?:\..*)?", inside)
    lead = f"number {number[1]}: " if number else _INSIDE.get(inside, "")
    return f"{lead}{came} will not do: {problem.expected}"


def _dotted(place: str) -> str:
    """Write a place of an error, or of a field, in one manner, so that they can be compared."""
    return re.sub(r"[\s.,]+", ".", place.replace('"', "")).strip(".")
