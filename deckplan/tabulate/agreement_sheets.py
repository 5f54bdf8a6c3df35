"""Tables of how published figures agree with ours."""

from __future__ import annotations

from collections.abc import Sequence

from deckplan.engineering.agreement import Comparison
from deckplan.tabulate.sheet import Sheet


def summary_sheet(found: Sequence[Comparison]) -> Sheet:
    """Tabulate, table by table, how many published figures agree with ours and how closely."""
    columns = ("table", "figures", "agree", "held from", "tolerance", "worst [% of it]", "from memory")
    rows = []
    for name in dict.fromkeys(each.table for each in found):
        of = [each for each in found if each.table == name]
        kept, one = of[0].tolerance == 0, of[0].bound != "both"
        worst = None if kept or one else round(100 * max(abs(e.difference) / e.tolerance for e in of))
        held = "looked up" if kept else "below" if one else "both sides"
        recalled = sum("memory" in each.confirmed.lower() for each in of)
        sizes = (
            {f"{e.tolerance:g} {e.unit}" for e in of},
            {f"{e.tolerance / (e.printed or 1):.1%}" for e in of},
        )
        allowed = next((one.pop() for one in sizes if len(one) == 1), "half a printed step")
        rows.append((name, len(of), sum(e.agrees for e in of), held, allowed, worst, recalled))
    return Sheet("Agreement", columns, tuple(rows))


def figures_sheet(found: Sequence[Comparison], worst: int | None = None) -> Sheet:
    """Tabulate published figures beside ours; worst: only so many of them, the farthest off first."""
    columns = ("table", "cell", "printed", "ours", "difference", "unit", "agrees", "confirmed")
    if worst is not None:
        both = [each for each in found if each.bound == "both" and each.tolerance > 0]
        found = sorted(both, key=lambda each: -abs(each.difference) / each.tolerance)[:worst]
    rows = tuple(
        (e.table, e.cell, e.printed, float(f"{e.ours:.6g}"), float(f"{e.difference:.3g}"), e.unit, e.agrees,
         e.confirmed)
        for e in found
    )  # fmt: skip
    return Sheet("Figures", columns, rows)
