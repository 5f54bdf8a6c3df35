"""Chains of dimensions to many footings or posts: as few rows as let every figure be read."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol, TypeVar

from deckplan.draw.draft import Draft, merged
from deckplan.draw.subject import letter
from deckplan.geometry import Point
from deckplan.plan.model import Plan

SAME = 0.5
"""Places closer than this are one [in]."""


Key = TypeVar("Key")

WORDY = 2
"""Names at a chain's beginning; one that takes more places than that is of the other lines."""


class Standing(Protocol):
    """Anything with a mark and a place in plan [in]."""

    @property
    def mark(self) -> str:
        """Its mark."""
        ...

    @property
    def at(self) -> Point:
        """Its middle in plan [in]."""
        ...


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a chain: whose places it measures, empty where it is the only one; places [in]; their letters."""

    name: str
    places: tuple[float, ...]
    letters: frozenset[str]


def rows_of(standing: Iterable[Standing], axis: int, least: float) -> list[Row]:
    """Return rows of places along an axis [in], with whose places they are where there is more than one row.

    Those of the platforms come first; those of flights stand in rows of their own, since they break up no spacing of
    posts. least [in]: how close to one another places of a row may lie.
    """
    lines: dict[tuple[str, int], list[Standing]] = {}
    for one in standing:
        lines.setdefault((one.mark.partition("-")[0], round(one.at[1 - axis])), []).append(one)
    rows: list[tuple[list[tuple[str, int]], list[float]]] = []
    for of_flights in (False, True):
        keys = [key for key in lines if any(sign.isdigit() for sign in key[0]) is of_flights]
        rows += split_rows({key: [one.at[axis] for one in lines[key]] for key in keys}, least)
    return [
        Row(_name(keys, lines) if len(rows) > 1 else "", tuple(places), frozenset(key[0] for key in keys))
        for keys, places in rows
    ]


def _name(keys: Sequence[tuple[str, int]], lines: Mapping[tuple[str, int], Sequence[Standing]]) -> str:
    """Say whose places a row measures: platforms by their letters, single lines by their marks."""
    whole = [
        lead
        for lead in dict.fromkeys(key[0] for key in keys)
        if all(key in keys for key in lines if key[0] == lead)
    ]
    parts = [", ".join(whole)] if whole else []
    for key in keys:
        if key[0] not in whole:
            first, last = lines[key][0].mark, lines[key][-1].mark
            parts.append(first if first == last else f"{first} to {last}")
    return ", ".join(parts) if len(parts) <= WORDY else "other lines"


def chain_rows(draft: Draft, rows: Sequence[Row], plan: Plan, axis: int, edge: float, side: int) -> int:
    """Draw rows of a chain outside the drawing, each from end to end of its platforms; return how many."""
    outlines = {
        letter(index): [corner[axis] for corner in one.outline] for index, one in enumerate(plan.platforms)
    }
    everywhere = [place for own in outlines.values() for place in own]
    for number, row in enumerate(rows):
        ends = [place for lead in row.letters for place in outlines.get(lead, everywhere)]
        stops = [*row.places, min(ends), max(ends)]
        draft.chain(stops, "x" if axis == 0 else "y", number, edge, side, name=row.name)
    return len(rows)


def split_rows(
    groups: Mapping[Key, Sequence[float]], least: float, most: int = 4
) -> list[tuple[list[Key], list[float]]]:
    """Share places [in] out among rows so that none stands closer to the next in its row than `least` [in].

    groups: the places of each line of posts, kept together; most: rows at the most, the last one takes what is left.
    Returns the keys and the places of each row.

    >>> split_rows({"A": [0, 80, 160], "B": [0, 80], "C": [1.5, 81.5]}, 12.0)
    [(['A', 'B'], [0, 80, 160]), (['C'], [1.5, 81.5])]
    """
    rows: list[tuple[list[Key], list[float]]] = []
    for key, places in groups.items():
        if not places:
            continue
        for index, (keys, taken) in enumerate(rows):
            together = merged([*taken, *places], SAME)
            if _closest(together) >= min(least, _closest(merged(places, SAME)), _closest(taken)):
                rows[index] = ([*keys, key], together)
                break
        else:
            if len(rows) == most:
                keys, taken = rows[-1]
                rows[-1] = ([*keys, key], merged([*taken, *places], SAME))
            else:
                rows.append(([key], merged(places, SAME)))
    return rows


def _closest(places: Sequence[float]) -> float:
    return min((b - a for a, b in pairwise(places)), default=float("inf"))
