"""The whole bench: fields on one side, the drawing on the other, checks, tables and notes below."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import ipywidgets

from deckplan.panels.checks import ChecksPanel
from deckplan.panels.faults import FaultsPanel
from deckplan.panels.fields import FieldsPanel
from deckplan.panels.follow import Follower
from deckplan.panels.framing import FramingPanel
from deckplan.panels.head import HeadPanel, NotesPanel
from deckplan.panels.levels import LevelsPanel
from deckplan.panels.looks import ABOVE
from deckplan.panels.meeting import MeetingPanel
from deckplan.panels.session import Session
from deckplan.panels.site import SitePanel
from deckplan.panels.steps import StepsPanel
from deckplan.panels.tables import TablesPanel
from deckplan.panels.views import DrawingPanel
from deckplan.panels.widgets import Page, with_fallback

_FORMS = ("Levels", "Framing", "Steps", "Rules and wood")
_BELOW = ("Checks", "Where levels meet", "Tables", "To mind")


class Choice(Page):
    """Tabs that show one of several panels; the others are hidden, not gone, and catch up when they are shown."""

    def __init__(self, names: tuple[str, ...], panels: tuple[Follower, ...], label: str) -> None:
        """Bind tabs to panels; label: what the tabs choose between, for those who hear it."""
        super().__init__()
        self._names, self._panels, self._label = names, panels, label
        self.observe(lambda change: self.show(change["new"]["pick"]), names="value")
        self.show(names[0])

    def show(self, name: str) -> None:
        """Show the panel of that name; raises KeyError for another."""
        if name not in self._names:
            raise KeyError(name)
        for other, panel in zip(self._names, self._panels, strict=True):
            panel.shown = other == name
            panel.layout.display = None if other == name else "none"
        tabs = "".join(
            f'<button type="button" role="tab" data-pick="{one}" aria-selected="{str(one == name).lower()}" '
            f'tabindex="{0 if one == name else -1}">{one}</button>'
            for one in self._names
        )
        self.html = f'<div class="dk-tabs" role="tablist" aria-label="{self._label}">{tabs}</div>'


def _halves(
    tabs: list[ipywidgets.DOMWidget],
    fields: list[ipywidgets.DOMWidget],
    faults: FaultsPanel,
    drawing: DrawingPanel,
) -> ipywidgets.Box:
    """Put fields and the drawing side by side; one under the other, the drawing first, where it is narrow.

    The fields scroll between their tabs and what does not stand, so that this and the drawing stay in sight.
    """
    rolling = ipywidgets.VBox(fields)
    side, main = ipywidgets.VBox([*tabs, rolling, faults]), ipywidgets.VBox([drawing])
    rolling.add_class("dk-rolling")
    faults.add_class("dk-pinned")
    side.add_class("dk-side")
    main.add_class("dk-main")
    halves = ipywidgets.Box([side, main])
    halves.add_class("dk-halves")
    return halves


class Pair(ipywidgets.VBox):  # type: ignore[misc]  # ipywidgets has no types
    """One panel of fields beside the drawing, for workbooks about one thing.

    fields: the panel; drawing: the live drawing; head: name, verdict, undo and save above them.
    """

    def __init__(self, session: Session, panel: type[FieldsPanel], view: str = ABOVE) -> None:
        """Set up the pair; panel: which fields, e.g. LevelsPanel; view: the drawing shown first."""
        self.head, self.drawing = HeadPanel(session), DrawingPanel(session, view)
        self.fields = panel(session)  # type: ignore[call-arg]  # each panel names itself
        self.faults = FaultsPanel(session)
        super().__init__([self.head, _halves([], [self.fields], self.faults, self.drawing)])
        self.add_class("dk-bench")

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        bundle = super()._repr_mimebundle_(**kwargs)
        return with_fallback(bundle, self.fallback())

    def fallback(self) -> str:
        """Show head, drawings and fields where no kernel runs."""
        return "".join(part.fallback() for part in (self.head, self.faults, self.drawing, self.fields))


class Workbench(ipywidgets.VBox):  # type: ignore[misc]  # ipywidgets has no types
    """Every panel of a session on one bench.

    levels, framing, steps, site: the fields; faults, drawing, checks, meeting, tables, notes: what follows; forms,
    below: the tabs.
    """

    def __init__(self, session: Session, view: str = ABOVE) -> None:
        """Set up a bench for a session; view: the drawing shown first."""
        self.session = session
        self.head = HeadPanel(session)
        self.levels, self.framing = LevelsPanel(session), FramingPanel(session)
        self.steps, self.site = StepsPanel(session), SitePanel(session)
        self.drawing = DrawingPanel(session, view)
        self.checks, self.tables, self.notes = ChecksPanel(session), TablesPanel(session), NotesPanel(session)
        fields = (self.levels, self.framing, self.steps, self.site)
        self.forms = Choice(_FORMS, fields, "What to change")
        self.faults = FaultsPanel(session, notes=True)
        halves = _halves([self.forms], [*fields], self.faults, self.drawing)
        self.meeting = MeetingPanel(session, shown=False)
        views = (self.checks, self.meeting, self.tables, self.notes)
        self.below = Choice(_BELOW, views, "What to read")
        super().__init__([self.head, halves, self.below, *views])
        self.add_class("dk-bench")

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        bundle = super()._repr_mimebundle_(**kwargs)
        return with_fallback(bundle, self.fallback())

    def fallback(self) -> str:
        """Show head, drawings, fields of the levels and tables where no kernel runs."""
        return "".join(
            part.fallback() for part in (self.head, self.faults, self.drawing, self.levels, self.tables)
        )


def open_bench(path: str | Path, view: str = ABOVE) -> Workbench:
    """Open a plan file on a bench; raises InputError with every problem of the file."""
    return Workbench(Session.open(path), view)
