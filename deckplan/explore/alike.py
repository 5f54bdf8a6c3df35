"""Ways that come to the same plan: said once, under all their names."""

from __future__ import annotations

from collections.abc import Sequence

from deckplan.explore.connections import Choice, Connection


def alike(choices: Sequence[Choice]) -> tuple[tuple[Choice, ...], ...]:
    """Return the ways in their order, those of one pair that are the same plan together under the first of them."""
    found: list[list[Choice]] = []
    for choice in choices:
        same = next((group for group in found if _same(group[0], choice)), None)
        if same is None:
            found.append([choice])
        else:
            same.append(choice)
    return tuple(map(tuple, found))


def names_of(group: Sequence[Choice]) -> str:
    """Return the names of ways that are the same plan.

    >>> from types import SimpleNamespace as One
    >>> names_of([One(manner="independent posts"), One(manner="platform step")])
    'independent posts, platform step'
    """
    return ", ".join(str(choice.manner) for choice in group)


def _same(one: Choice, other: Choice) -> bool:
    return (
        isinstance(one, Connection)
        and isinstance(other, Connection)
        and one.touch == other.touch
        and one.plan == other.plan
    )
