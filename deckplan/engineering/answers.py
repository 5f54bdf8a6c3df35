"""What the engineering functions give back: a value with its steps, and what decided it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from deckplan.verdict import Source, Step

NDS = "NDS 2018"


@dataclass(frozen=True, slots=True)
class Capacity:
    """What a member or a fastener can take, in `unit`, with the sum behind it."""

    value: float
    unit: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """The largest span, height or spacing that every rule allows.

    value [unit]; governs: the rule that decides; limits [unit]: what each rule alone would allow;
    steps: the sum.
    """

    value: float
    unit: str
    governs: str
    steps: tuple[Step, ...]
    limits: Mapping[str, float]


def smallest(limits: Mapping[str, float], unit: str, steps: tuple[Step, ...] | list[Step]) -> Answer:
    """Return the answer that the strictest of several limits gives; the first named wins a tie."""
    governs = min(limits, key=lambda name: limits[name])
    return Answer(limits[governs], unit, governs, tuple(steps), dict(limits))


def step(
    symbol: str,
    words: str,
    formula: str,
    numbers: str,
    value: float,
    unit: str,
    clause: str,
    document: str = NDS,
) -> Step:
    """Write one step of a sum; document: the NDS unless another is named."""
    return Step(symbol, words, formula, numbers, value, unit, _clause(document, clause))


@cache
def _clause(document: str, clause: str) -> Source:
    """Return a clause as a source: a study cites a few of them a thousand times."""
    return Source(document, clause)
