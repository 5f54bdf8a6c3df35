"""Small pieces of HTML: tables, verdicts, sums. Quick enough to follow a slider."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from deckplan.tabulate import Cell, Sheet, shown
from deckplan.units import Units, written_out
from deckplan.verdict import Check, Step, Verdict, after_comparison, comparison, figure, said

SIGNS = {Verdict.PASS: "✓", Verdict.FAIL: "✕", Verdict.OUTSIDE: "◇", Verdict.NOT_APPLICABLE: "–"}
WORDS = {
    Verdict.PASS: "passes",
    Verdict.FAIL: "fails",
    Verdict.OUTSIDE: "outside the rules",
    Verdict.NOT_APPLICABLE: "does not apply",
}


def cell(value: Cell) -> str:
    """Write one cell of a table; numbers stand to the right."""
    if value is None or value != value:
        return "<td></td>"
    if isinstance(value, float):
        return f'<td class="n">{value:.6g}</td>'
    if isinstance(value, int):
        return f'<td class="n">{value}</td>'
    return f"<td>{escape(value)}</td>"


def table(sheet: Sheet) -> str:
    """Write a table that scrolls in its own frame."""
    heads = []
    for index, column in enumerate(sheet.columns):
        numeric = all(isinstance(row[index], (int, float, type(None))) for row in sheet.rows)
        heads.append(f'<th class="n">{escape(column)}</th>' if numeric else f"<th>{escape(column)}</th>")
    rows = ["<tr>" + "".join(map(cell, row)) + "</tr>" for row in sheet.rows]
    return framed(heads, rows, sheet.name)


def framed(heads: Iterable[str], rows: Iterable[str], name: str) -> str:
    """Put headings and rows into a table of the panels' look; name: for those who hear it."""
    return (
        f'<div class="dk-scroll" tabindex="0" role="region" aria-label="{escape(name)}">'
        f'<table class="dk-table"><thead><tr>{"".join(heads)}</tr></thead><tbody>{"".join(rows)}</tbody></table></div>'
    )


def sign(verdict: Verdict) -> str:
    """Write a verdict as a sign and a word."""
    return f'<span class="dk-sign" aria-hidden="true">{SIGNS[verdict]}</span> {WORDS[verdict]}'


def meter(share: float | None) -> str:
    """Write how far something is used: a bar, and the figure."""
    if share is None:
        return ""
    full = min(max(share, 0.0), 1.0)
    return (
        f'<span class="dk-meter" aria-hidden="true"><i style="width:{100 * full:.0f}%"></i></span>{share:.0%}'
    )


def amount(value: float | None, unit: str, units: Units) -> str:
    """Write a value [unit] with its unit, as people of that system read it."""
    if value is None:
        return ""
    number, name = shown(value, unit, units)
    return f"{figure(number)} {said(name)}".strip()


def reason_of(check: Check, units: Units) -> str:
    """Return the reason of a check, or its rule; where it compares two figures, in the units of the plan."""
    cure = after_comparison(check)
    if check.demand is None or check.capacity is None or cure is None:
        return check.reason or check.rule
    (there, unit), (limit, _) = (shown(value, check.unit, units) for value in (check.demand, check.capacity))
    return comparison(check.rule, there, limit, unit, check.at_least) + cure


def step(line: Step) -> str:
    """Write one line of a sum: words, then the line itself, then where it comes from."""
    left = written_out(" = ".join(part for part in (line.symbol, line.formula, line.numbers) if part))
    value = f"{figure(line.value)} {said(line.unit)}".strip()
    return (
        f'<li>{escape(line.words)}<span class="dk-line">{escape(left)} = <b>{escape(value)}</b></span>'
        f'<span class="dk-quiet">{escape(str(line.source))}</span></li>'
    )


def why(check: Check, marks: Sequence[str], units: Units) -> str:
    """Write out a check: what was found and its limit, the reason, the sum step by step, the sources."""
    sides = ""
    if check.demand is not None and check.capacity is not None:
        sides = (
            f"<p>found <b>{escape(amount(check.demand, check.unit, units))}</b>, must be {check.side} "
            f"<b>{escape(amount(check.capacity, check.unit, units))}</b> {meter(check.utilisation)}</p>"
        )
    reason = f"<p>{escape(reason_of(check, units))}</p>" if check.reason else ""
    combination = (
        f'<p class="dk-quiet">Loads combined: {escape(check.combination)}</p>' if check.combination else ""
    )
    steps = "".join(map(step, check.steps))
    body = f'<ol class="dk-sum">{steps}</ol>' if steps else ""
    more = ""
    if len(marks) > 1:
        more = f'<p class="dk-quiet">Used most of {len(marks)} parts: {escape(", ".join(marks))}</p>'
    return (
        f'<section class="dk-why dk-{check.verdict}" aria-label="why" aria-live="polite">'
        f"<h3>{escape(check.mark)}: {escape(check.rule)}, {sign(check.verdict)}</h3>"
        f"{more}{sides}{reason}{combination}{body}"
        f'<p class="dk-quiet">Rule: {escape(str(check.source))}</p></section>'
    )
