"""The panel of tables: levels, flights, frame, posts, buy list; written out as CSV on request."""

from __future__ import annotations

from html import escape
from typing import Any

from deckplan.packet.tables_file import write_tables
from deckplan.panels.follow import Follower
from deckplan.panels.html import table
from deckplan.panels.session import Session, own_path
from deckplan.panels.widgets import Page
from deckplan.tabulate import SHEETS

NAMES = {
    "levels": "Levels",
    "flights": "Flights",
    "story": "Story pole",
    "framing": "Framing",
    "posts": "Posts",
    "footings": "Footings",
    "buy": "Buy list",
}
"""The tables that the panel shows, by their short names, with what stands on their tabs."""


class TablesPanel(Follower, Page):
    """Tables of the study, one at a time."""

    def __init__(self, session: Session, first: str = "levels") -> None:
        """Bind the panel to a session; first: the short name of the table shown first."""
        super().__init__()
        self._session = session
        self._table = first
        self._said = ""
        self._ends = (session.listen(self._news),)
        self.observe(self._pressed, names="value")
        self._look_now()

    def show(self, name: str) -> None:
        """Show a table by its short name, as a press on its tab does."""
        self.value = {"n": self.value.get("n", 0) + 1, "pick": name}

    def _pressed(self, change: Any) -> None:
        pick = change["new"]["pick"]
        self._said = ""
        if pick == "csv":
            self._write()
        else:
            self._table = pick
        self._look_now()

    def _write(self) -> None:
        """Write every table next to the plan file; what was written, or why not, stands under the tabs."""
        target = own_path(self._session.path).with_suffix(".csv")
        try:
            written = write_tables(self._session.study, target)
        except OSError as error:
            self._said = f"Not written: {error.strerror or error}"
        else:
            self._said = (
                f"{len(written)} tables written: {written[0].name} and those beside it in {target.parent}"
            )

    def _look_now(self) -> None:
        tabs = "".join(
            f'<button type="button" role="tab" data-pick="{name}" aria-selected="{str(name == self._table).lower()}" '
            f'tabindex="{0 if name == self._table else -1}">{words}</button>'
            for name, words in NAMES.items()
        )
        sheet = SHEETS[self._table](self._session.study)
        self.html = (
            f'<div class="dk-tabs" role="tablist" aria-label="Tables">{tabs}</div>{table(sheet)}'
            f'<p class="dk-quiet"><button type="button" data-pick="csv">write all tables as CSV</button> '
            f"{escape(self._said)}</p>"
        )
