"""The words every room shares: a source, a step of a sum, a check and its verdict."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Verdict(StrEnum):
    """What a check found. OUTSIDE: no rule here covers the case, a licensed engineer must."""

    PASS = "PASS"
    FAIL = "FAIL"
    OUTSIDE = "OUTSIDE"
    NOT_APPLICABLE = "NOT_APPLICABLE"


@dataclass(frozen=True, slots=True)
class Source:
    """Where a number or a rule comes from.

    document: title and edition, e.g. "NDS 2018"; clause: section or table; confirmed: how far it was confirmed
    ("two published copies", "from memory", "common practice", "derived", "invented").
    """

    document: str
    clause: str = ""
    confirmed: str = ""

    def __str__(self) -> str:
        """Write document and clause, with the reservation where there is one."""
        text = f"{self.document} {self.clause}".strip()
        reserved = "memory" in self.confirmed.lower() and "memory" not in text.lower()
        return f"{text} (from memory)" if reserved else text


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a sum, complete enough to redo by hand.

    symbol: the code book's symbol; words: its meaning; formula: in symbols; numbers: the same with figures put
    in; value [unit]: what it gives; source: the clause behind the line.
    """

    symbol: str
    words: str
    formula: str
    numbers: str
    value: float
    unit: str
    source: Source

    def __str__(self) -> str:
        """Write the step on one line: words, symbol = formula = numbers = value unit [source]."""
        middle = " = ".join(part for part in (self.symbol, self.formula, self.numbers) if part)
        return f"{self.words}: {middle} = {self.value:.6g} {said(self.unit)}".rstrip() + f" [{self.source}]"


@dataclass(frozen=True, slots=True)
class Check:
    """Demand against capacity for one mark under one rule.

    demand, capacity [unit]: None where the case lies outside every rule or the rule does not apply.
    at_least: True where the demand is a minimum that the capacity side must reach from above, e.g. a tread of
    at least 10 in: then `demand` is what is there, `capacity` the least allowed.
    combination: the load combination that governs, empty where no load is involved.
    reason: one sentence for the person, always there when the verdict is not PASS.
    """

    mark: str
    rule: str
    source: Source
    demand: float | None
    capacity: float | None
    unit: str
    verdict: Verdict
    steps: tuple[Step, ...] = ()
    at_least: bool = False
    combination: str = ""
    reason: str = ""

    @property
    def side(self) -> str:
        """Say which side of its limit a check asks for: "at most" or "at least"; nothing without a limit."""
        if self.capacity is None:
            return ""
        return "at least" if self.at_least else "at most"

    @property
    def utilisation(self) -> float | None:
        """Asked over allowed [1], a least over what is there; over 1 fails. None without a figure or a limit."""
        if self.demand is None or self.capacity is None:
            return None
        above, below = (self.capacity, self.demand) if self.at_least else (self.demand, self.capacity)
        if below == 0:
            return None if above else 0.0
        return above / below


def after_comparison(check: Check) -> str | None:
    """Return what a reason says after the bare comparison of its two figures; None if it does not begin with it."""
    there, limit = check.demand, check.capacity
    if there is None or limit is None:
        return None
    bare = comparison(check.rule, there, limit, check.unit, check.at_least)
    return check.reason[len(bare) :] if check.reason.startswith(bare) else None


def only_compares(check: Check) -> bool:
    """Tell whether the reason of a check is the bare comparison of its two figures, in its own unit, and no more."""
    return after_comparison(check) == ""


def is_strength(check: Check) -> bool:
    """Tell whether a check weighs a load or a bend against what wood or soil can take, not a limit of size."""
    return "lb" in check.unit or check.unit in ("psi", "psf", "plf") or "deflection" in check.rule


# Two figures that differ by less than this share are the same figure: sums of sixteenths in floats.
SAME = 1e-9


def figure(number: float) -> str:
    """Write a number with four figures, thousands whole and parted: nobody reads powers of ten on a site.

    >>> figure(37190.4), figure(0.0946381)
    ('37,190', '0.09464')
    """
    return f"{number:,.0f}" if abs(number) >= 1000 else f"{number:.4g}"


def comparison(rule: str, there: float, limit: float, unit: str, least: bool = False) -> str:
    """Say that a demand is over what is allowed, or what is there under the least required, both in one unit."""
    found, asked = (f"{figure(value)} {said(unit)}".rstrip() for value in (there, limit))
    if least:
        return f"{rule}: {found} is under the {asked} required"
    return f"{rule}: {found} is over the {asked} allowed"


def said(unit: str) -> str:
    """Return a unit as it is read behind a figure: nothing of a bare ratio, "1" or "in/in".

    >>> said("1"), said("in/in"), said("psi")
    ('', '', 'psi')
    """
    return "" if unit in ("1", "in/in") else unit


def at_most(
    mark: str,
    rule: str,
    source: Source,
    demand: float,
    capacity: float,
    unit: str,
    steps: tuple[Step, ...] = (),
    *,
    combination: str = "",
    reason: str = "",
) -> Check:
    """Check that demand [unit] is not over capacity [unit]; reason is used where it is."""
    passes = demand <= capacity or demand <= capacity + SAME * max(1.0, abs(capacity))
    verdict = Verdict.PASS if passes else Verdict.FAIL
    words = "" if passes else reason or comparison(rule, demand, capacity, unit)
    return Check(mark, rule, source, demand, capacity, unit, verdict, steps, False, combination, words)


def at_least(
    mark: str,
    rule: str,
    source: Source,
    there: float,
    least: float,
    unit: str,
    steps: tuple[Step, ...] = (),
    *,
    reason: str = "",
) -> Check:
    """Check that what is there [unit] is not under the least allowed [unit]; reason is used where it is."""
    passes = there >= least or there >= least - SAME * max(1.0, abs(least))
    verdict = Verdict.PASS if passes else Verdict.FAIL
    words = "" if passes else reason or comparison(rule, there, least, unit, least=True)
    return Check(mark, rule, source, there, least, unit, verdict, steps, True, "", words)


def outside(
    mark: str,
    rule: str,
    source: Source,
    reason: str,
    *,
    demand: float | None = None,
    capacity: float | None = None,
    unit: str = "",
    steps: tuple[Step, ...] = (),
) -> Check:
    """Say that no rule here covers the case, and why."""
    return Check(mark, rule, source, demand, capacity, unit, Verdict.OUTSIDE, steps, False, "", reason)


def not_applicable(mark: str, rule: str, source: Source, reason: str) -> Check:
    """Say that the rule does not apply to this mark, and why."""
    return Check(mark, rule, source, None, None, "", Verdict.NOT_APPLICABLE, (), False, "", reason)


def overall(checks: tuple[Check, ...] | list[Check]) -> Verdict:
    """Return the verdict of a whole list: a FAIL wins over OUTSIDE, OUTSIDE over PASS."""
    found = {check.verdict for check in checks}
    for verdict in (Verdict.FAIL, Verdict.OUTSIDE):
        if verdict in found:
            return verdict
    return Verdict.PASS
