"""The connection chooser as a table: one line for every way to stand every pair of touching levels."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap

from deckplan.buy.item import Item
from deckplan.buy.prices import Prices
from deckplan.explore.alike import alike, names_of
from deckplan.explore.connections import Choice, Connection, NoConnection, choose_connections, told
from deckplan.study import Study
from deckplan.tabulate import Cell, Sheet, Table, frame
from deckplan.units import restate

CUBIC_METRE = 0.3048**3
"""One cubic foot [m3]. Source: international foot of 1959."""


WIDE = 96
"""How many letters a line of text may have: a page would break longer ones inside words."""


def connections_table(study: Study, prices: Prices | None = None) -> Table:
    """Return the ways to stand every pair of touching levels of a study as a DataFrame; prices are invented ones."""
    return frame(connections_sheet(study, prices))


def connections_sheet(study: Study, prices: Prices | None = None) -> Sheet:
    """Tabulate the ways to stand every pair of touching levels: what is changed, counted, checked, and why not.

    prices: whose, else the invented ones that come with the program.
    """
    metric = study.plan.units == "metric"
    volume = "m3" if metric else "cu ft"
    columns = ("upper", "lower", "way", "as drawn", "stands", "holes", f"concrete [{volume}]", "below the frost",
               "hangers", "caps", "bases", "fails", "outside the tables", "cost [invented $]", "changed",
               "why not, or what fails", "what would help")  # fmt: skip
    groups = alike(choose_connections(study, prices))
    rows = tuple(_row(study, group, CUBIC_METRE if metric else 1.0) for group in groups)
    return Sheet("Connections", columns, rows)


def _row(study: Study, group: tuple[Choice, ...], each: float) -> tuple[Cell, ...]:
    choice = group[0]
    head = (choice.touch.upper, choice.touch.lower, names_of(group))
    units = study.plan.units
    if isinstance(choice, NoConnection):
        return (*head, "", "no", None, None, "", "", "", "", None, None, None, "",
                restate(choice.reason, units), restate(choice.remedy, units))  # fmt: skip
    return (
        *head, "yes" if choice.plan == study.asked else "", "yes" if choice.feasible else "no", choice.holes,
        round(choice.concrete * each, 2 if each < 1 else 1),
        "; ".join(choice.deeper), *(_pieces(choice, word) for word in ("hanger", "post cap", "post base")),
        len(choice.failing), len(choice.outside), round(choice.cost), "; ".join(choice.moves),
        restate(choice.reason, units), "",
    )  # fmt: skip


def _pieces(choice: Connection, word: str) -> str:
    units = choice.study.plan.units
    return "; ".join(f"{item.count} {restate(item.basis, units)}" for item in _with(choice.hardware, word))


def _with(items: Iterable[Item], word: str) -> list[Item]:
    return [item for item in items if word in item.item.partition(",")[0]]


def hardware_sheet(choice: Connection) -> Sheet:
    """Tabulate the hangers, caps and bases of one way: kind, pieces, the capacity that each must have."""
    units = choice.study.plan.units
    rows = tuple((item.item, item.count, restate(item.basis, units)) for item in choice.hardware)
    return Sheet("Hardware", ("kind", "pieces", "capacity"), rows)


def outside_sheet(choice: Connection) -> Sheet:
    """Tabulate what of one way lies outside the published tables, reason by reason."""
    units = choice.study.plan.units
    return Sheet(
        "Outside the tables", ("reason",), tuple((restate(one, units),) for one in told(choice.outside))
    )


def connections_text(study: Study, prices: Prices | None = None) -> str:
    """Say in plain lines what each way of standing each pair changes, what fails, and what would make it possible."""
    lines: list[str] = []
    pair = ("", "")
    for group in alike(choose_connections(study, prices)):
        choice = group[0]
        if pair != (pair := (choice.touch.upper, choice.touch.lower)):
            lines.append(f"{pair[0]} and {pair[1]}")
        words = restate(f"{names_of(group)}: {_in_words(choice)}", study.plan.units)
        lines += wrap(words, WIDE, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False)
    return "\n".join(lines)


def _in_words(choice: Choice) -> str:
    if isinstance(choice, NoConnection):
        return f"not possible, since {choice.reason}. What would help: {choice.remedy}"
    words = "; ".join(choice.moves) or "as drawn"
    if choice.deeper:
        words += f". Tied below the frost: {'; '.join(choice.deeper)}"
    if choice.failing:
        return f"{words}. Fails: {choice.reason}"
    if choice.outside:
        return f"{words}. Outside the tables: {'; '.join(told(choice.outside))}"
    return f"{words}. Nothing fails"
