"""Footings too near each other, said once a footing: the worst of its pairs, and how many more there are."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from deckplan.checks.footings_apart import CLEAR, DEPTHS
from deckplan.verdict import Check, Verdict

PAIRWISE = (CLEAR, DEPTHS)


def worst_pairs(checks: Iterable[Check]) -> list[Check]:
    """Return checks in their order, of a footing's failing pairs under one rule the worst alone with their count.

    The study keeps every pair; this is for people to read.
    """
    given = list(checks)
    groups: dict[tuple[str, str], list[Check]] = {}
    for check in given:
        if _of_a_pair(check):
            groups.setdefault((check.mark, check.rule), []).append(check)
    found: list[Check] = []
    for check in given:
        alike = groups.pop((check.mark, check.rule), []) if _of_a_pair(check) else [check]
        if len(alike) == 1:
            found.append(check)
        elif alike:
            more = len(alike) - 1
            worst = min(alike, key=_to_spare)
            words = f"{worst.reason}; and {more} more pair{'s' if more > 1 else ''} of {check.mark}"
            found.append(replace(worst, reason=words))
    return found


def _of_a_pair(check: Check) -> bool:
    return check.rule in PAIRWISE and check.verdict is Verdict.FAIL


def _to_spare(check: Check) -> float:
    return (check.demand or 0.0) - (check.capacity or 0.0)
