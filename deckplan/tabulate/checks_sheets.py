"""The table of checks, and the order in which people read them."""

from __future__ import annotations

from collections.abc import Sequence

from deckplan.study import Study
from deckplan.tabulate.sheet import Cell, Sheet, percent, shown
from deckplan.verdict import Check, Verdict, is_strength

_ORDER = (Verdict.FAIL, Verdict.OUTSIDE, Verdict.PASS, Verdict.NOT_APPLICABLE)


def sorted_checks(checks: Sequence[Check]) -> list[Check]:
    """Put what fails first, then what lies outside the rules, then strength by use, then limits of size."""
    return sorted(
        checks,
        key=lambda check: (_ORDER.index(check.verdict), not is_strength(check), -(check.utilisation or 0.0)),
    )


def grouped_checks(checks: Sequence[Check]) -> list[tuple[Check, tuple[str, ...]]]:
    """Put checks under one rule together, sorted: the part that is used most, and the marks of all, most used first.

    Only parts of one kind are put together (joists with joists, footings with footings), and only where they pass or
    the rule does not apply: what fails or lies outside the rules stands by itself.
    """
    groups: dict[tuple[str, ...], list[Check]] = {}
    for check in sorted_checks(checks):
        kind = check.mark.partition("-")[2].rstrip("0123456789") or check.mark.rstrip("0123456789")
        alone = check.mark if check.verdict in (Verdict.FAIL, Verdict.OUTSIDE) else ""
        groups.setdefault((kind, check.rule, check.verdict, check.unit, alone), []).append(check)
    return [
        (members[0], tuple(dict.fromkeys(check.mark for check in members))) for members in groups.values()
    ]


def checks_sheet(study: Study) -> Sheet:
    """Tabulate the checks: what was found, its limit and on which side of it, how far it is used, the verdict.

    A line speaks of the part that is used most; `parts` says how many are held to the same rule.
    """
    columns = ("mark", "parts", "rule", "found", "must be", "limit", "unit", "used [%]", "verdict", "source")
    rows, marks = [], []
    for check, same in grouped_checks(study.checks):
        sides: list[Cell] = []
        unit = check.unit
        for value in (check.demand, check.capacity):
            if value is None:
                sides.append(None)
            else:
                number, unit = shown(value, check.unit, study.plan.units)
                sides.append(float(f"{number:.4g}"))
        found, limit = sides
        rows.append((check.mark, len(same), check.rule, found, check.side, limit, unit, percent(check.utilisation),
                     str(check.verdict), str(check.source)))  # fmt: skip
        marks.append(check.mark)
    return Sheet("Checks", columns, tuple(rows), tuple(marks))


def steps_sheet(study: Study, mark: str, rule: str) -> Sheet:
    """Tabulate the sum behind a check line by line; raises KeyError where the mark has no such check."""
    columns = ("words", "symbol", "formula", "with numbers", "value", "unit", "source")
    for check in study.checks_of(mark):
        if check.rule == rule:
            rows = tuple(
                (line.words, line.symbol, line.formula, line.numbers, float(f"{line.value:.6g}"), line.unit,
                 str(line.source))
                for line in check.steps
            )  # fmt: skip
            return Sheet(f"{mark}, {rule}", columns, rows, (mark,) * len(rows))
    raise KeyError(f"{mark}, {rule}")
