"""Errors that speak of the place: which file, which table, which key, what was expected, what came."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with an input.

    place: where, in the user's words, e.g. `platform "upper", joists.spacing`; expected: what would do; came:
    what was found there (empty where nothing was).
    """

    place: str
    expected: str
    came: str = ""

    def __str__(self) -> str:
        """Write `place: expected, not came`."""
        return f"{self.place}: {self.expected}" + (f", not {self.came}" if self.came else "")


class DeckplanError(Exception):
    """Base of every error that deckplan raises on purpose."""


class InputError(DeckplanError):
    """An input that cannot be read: carries every problem found, and the file where there is one."""

    def __init__(self, problems: tuple[Problem, ...] | list[Problem], file: str = "") -> None:
        self.problems = tuple(problems)
        self.file = file
        super().__init__(str(self))

    def __str__(self) -> str:
        """Write one line a problem, each led by the file."""
        lead = f"{self.file}: " if self.file else ""
        return "\n".join(f"{lead}{problem}" for problem in self.problems)


class RangeError(DeckplanError, ValueError):
    """A number outside what a rule of engineering is defined for."""
