"""Tables as DataFrames: the only module that knows pandas."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import cast

import pandas as pd

from deckplan.engineering.agreement import Comparison
from deckplan.study import Study
from deckplan.tabulate.agreement_sheets import figures_sheet, summary_sheet
from deckplan.tabulate.buy_sheets import boards_sheet, buy_sheet, cuts_sheet, waste_sheet
from deckplan.tabulate.checks_sheets import checks_sheet, steps_sheet
from deckplan.tabulate.count_sheets import post_counts_sheet
from deckplan.tabulate.frame_sheets import (
    footings_sheet,
    framing_sheet,
    members_sheet,
    posts_sheet,
    stakes_sheet,
    treatment_sheet,
)
from deckplan.tabulate.guard_sheets import guards_sheet
from deckplan.tabulate.levels_sheets import flights_sheet, levels_sheet, story_sheet
from deckplan.tabulate.path_sheets import path_sheet
from deckplan.tabulate.room_sheets import furniture_sheet, rooms_sheet
from deckplan.tabulate.sheet import Cell, Sheet


class Table(pd.DataFrame):
    """A DataFrame whose empty cells look empty to people; in it they are NaN or NA, as sums and sorts want them."""

    @property
    def _constructor(self) -> type[Table]:
        return Table

    def _as_read(self) -> pd.DataFrame:
        """Return the table as people read it: columns with gaps as text and figures, nothing in the gaps."""
        shown = pd.DataFrame(self)
        for at, gaps in enumerate(shown.isna().any()):
            if gaps:
                column = shown.iloc[:, at]
                shown.isetitem(at, column.astype(object).where(column.notna(), "").to_numpy())
        return shown

    def __repr__(self) -> str:
        """Write the table as text, gaps blank."""
        return repr(self._as_read())

    def _repr_html_(self) -> str | None:
        # the page's own way of showing a DataFrame, which the stubs do not know
        return cast("str | None", self._as_read()._repr_html_())  # type: ignore[operator]


def show_in_full(figure: Callable[[float], str]) -> None:
    """Let pages show every cell whole, and floats by `figure`: a sum that is cut off cannot be redone by hand."""
    pd.set_option("display.max_colwidth", None, "display.float_format", figure)


def frame(sheet: Sheet) -> Table:
    """Return a table as a DataFrame: text, whole numbers or floats by column.

    Where a cell is empty, text has "", whole numbers are of the type that knows gaps (Int64), floats NaN.
    """
    columns = list(zip(*sheet.rows, strict=True)) if sheet.rows else [()] * len(sheet.columns)
    series = [_column(cells) for cells in columns]
    table = Table(dict(enumerate(series)))
    table.columns = pd.Index(sheet.columns)
    return table


def _column(cells: Sequence[Cell]) -> pd.Series:
    there = [cell for cell in cells if cell is not None]
    if not there or any(isinstance(cell, str) for cell in there):
        numbers = any(not isinstance(cell, str) for cell in there)
        return pd.Series(["" if cell is None else cell for cell in cells], dtype=object if numbers else "str")
    if all(isinstance(cell, bool) for cell in cells):
        return pd.Series(cells, dtype="bool")
    if any(isinstance(cell, float) for cell in there):
        return pd.Series(cells, dtype="float64")
    return pd.Series(cells, dtype="int64" if len(there) == len(cells) else "Int64")


def levels(study: Study) -> Table:
    """Return the levels as a DataFrame."""
    return frame(levels_sheet(study))


def flights(study: Study) -> Table:
    """Return the flights, with how each is split into risers, as a DataFrame."""
    return frame(flights_sheet(study))


def story_pole(study: Study, mark: str) -> Table:
    """Return the cumulative heights of one flight's steps; raises KeyError for a mark that no flight has."""
    whole = story_sheet(study)
    rows = tuple(row for row in whole.rows if row[0] == mark)
    if not rows:
        raise KeyError(mark)
    return frame(Sheet(whole.name, whole.columns, rows))


def members(study: Study) -> Table:
    """Return every member as a DataFrame."""
    return frame(members_sheet(study))


def framing(study: Study) -> Table:
    """Return the frame in brief as a DataFrame."""
    return frame(framing_sheet(study))


def post_counts(study: Study) -> Table:
    """Return the numbers of posts tried under each "auto" line as a DataFrame."""
    return frame(post_counts_sheet(study))


def posts(study: Study) -> Table:
    """Return the posts as a DataFrame."""
    return frame(posts_sheet(study))


def footings(study: Study) -> Table:
    """Return the footings as a DataFrame."""
    return frame(footings_sheet(study))


def stakes(study: Study) -> Table:
    """Return where each footing is staked out as a DataFrame."""
    return frame(stakes_sheet(study))


def treatment(study: Study) -> Table:
    """Return which wood wants which treatment as a DataFrame."""
    return frame(treatment_sheet(study))


def guards(study: Study) -> Table:
    """Return the edges that ask for a guard as a DataFrame."""
    return frame(guards_sheet(study))


def checks(study: Study, *, worst: int | None = None) -> Table:
    """Return the checks as a DataFrame, failures first; worst: only so many of them."""
    whole = checks_sheet(study)
    return frame(Sheet(whole.name, whole.columns, whole.rows[:worst], whole.marks[:worst]))


def steps(study: Study, mark: str, rule: str) -> Table:
    """Return the sum behind a check line by line, complete enough to redo by hand.

    Raises KeyError where the mark has no such check.
    """
    return frame(steps_sheet(study, mark, rule))


def buy(study: Study) -> Table:
    """Return the buy list as a DataFrame."""
    return frame(buy_sheet(study))


def cuts(study: Study) -> Table:
    """Return the cut list of all stock, stick by stick, as a DataFrame."""
    return frame(cuts_sheet(study))


def waste(study: Study) -> Table:
    """Return what cutting wastes, with the least that any cutting buys, as a DataFrame."""
    return frame(waste_sheet(study))


def boards(study: Study) -> Table:
    """Return the boards, treads and fascia as cut as a DataFrame."""
    return frame(boards_sheet(study))


def rooms(study: Study) -> Table:
    """Return the platforms as rooms as a DataFrame."""
    return frame(rooms_sheet(study))


def furniture(study: Study) -> Table:
    """Return the furniture as it is placed as a DataFrame."""
    return frame(furniture_sheet(study))


def load_path(study: Study) -> Table:
    """Return every force that one part hands to the next as a DataFrame."""
    return frame(path_sheet(study))


def agreement_summary(found: Sequence[Comparison]) -> Table:
    """Return, table by table, how many published figures agree with ours and how closely, as a DataFrame."""
    return frame(summary_sheet(found))


def agreement_table(found: Sequence[Comparison], *, worst: int | None = None) -> Table:
    """Return published figures beside ours as a DataFrame; worst: only so many of them, the farthest off first."""
    return frame(figures_sheet(found, worst))
