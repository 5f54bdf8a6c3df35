"""The panel of drawings: from above, cut through, from the side; alive, and readable without a kernel."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from deckplan.draw.paint_svg import paint_svg
from deckplan.draw.plan_view import plan_view
from deckplan.draw.scene import Scene
from deckplan.draw.section_view import section_view
from deckplan.draw.sheet import PHONE, SCREEN, Sheet
from deckplan.draw.side_view import side_view
from deckplan.panels.fields import spelled_like
from deckplan.panels.session import Session
from deckplan.panels.widgets import Drawing, image
from deckplan.study import Study
from deckplan.tabulate import letter_of
from deckplan.verdict import Verdict

ABOVE, CUT, SIDE = "From above", "Cut through", "From the side"


def flags_of(study: Study) -> dict[str, str]:
    """Return the marks that a drawing should ring: what fails, and what lies outside the rules.

    A member for which another one speaks is ringed with it, without the word once more.
    """
    words = {Verdict.FAIL: "fails", Verdict.OUTSIDE: "outside"}
    bad = [check for check in study.checks if check.verdict in words]
    flags = {
        check.mark: words[check.verdict] for check in sorted(bad, key=lambda c: c.verdict is Verdict.FAIL)
    }
    spoken_for = (mark for mark in study.layout.by_mark if mark not in flags)
    silent = {mark: "" for mark in spoken_for if any(c.verdict in words for c in study.checks_of(mark))}
    return flags | silent


def _above(study: Study, sheet: Sheet) -> Scene:
    return plan_view(study, sheet=sheet, titled=False, flags=flags_of(study))


def _cut(study: Study, sheet: Sheet) -> Scene:
    return section_view(study, sheet=sheet, titled=False)


def _side(study: Study, sheet: Sheet) -> Scene:
    return side_view(study, sheet=sheet, titled=False)


VIEWS: dict[str, Callable[[Study, Sheet], Scene]] = {ABOVE: _above, CUT: _cut, SIDE: _side}
"""Every view of the panel by the name on its tab."""


class DrawingPanel(Drawing):
    """The live drawing of a session."""

    def __init__(self, session: Session, view: str = ABOVE) -> None:
        """Bind the drawing to a session; view: the one shown first."""
        self._session = session
        self._pulled: tuple[str, float] = ("", 0.0)
        super().__init__(views=list(VIEWS), view=view)
        self._stop = (session.listen(self._look), session.on_pick(self._picked))
        self.observe(lambda change: self._session.pick(change["new"]), names="value")
        self.observe(lambda change: self._look(self._session.study), names=["view", "room"])
        self.observe(self._pull, names="pull")
        self._look(session.study)

    def close(self) -> None:
        """Stop following the session and close the widget."""
        for stop in self._stop:
            stop()
        super().close()

    def scene(self, study: Study | None = None) -> Scene:
        """Return what the panel shows now."""
        sheet = PHONE if self.room == "narrow" else SCREEN
        return VIEWS[self.view](study or self._session.study, sheet)

    def fallback(self) -> str:
        """Show plan and section as images."""
        study = self._session.study
        shown = dict.fromkeys((self.view, CUT))
        pictures = [
            image(paint_svg(VIEWS[view](study, SCREEN)), f"{view}: {study.plan.name}") for view in shown
        ]
        return "".join(f"<p>{picture}</p>" for picture in pictures)

    def _look(self, study: Study) -> None:
        heights = self.view != ABOVE
        grips = {letter_of(study, p.name): p.name for p in study.plan.platforms} if heights else {}
        picture = paint_svg(self.scene(study), study.describe, prefix=f"{VIEWS_KEYS[self.view]}-")
        with self.hold_sync():
            self.grips, self.svg = grips, picture

    def _picked(self, mark: str) -> None:
        self.value = mark

    def _pull(self, change: Any) -> None:
        """Follow a level that is pulled up or down: to the quarter inch, or to 5 mm."""
        pull = change["new"]
        try:
            study = self._session.study
            name = self.grips[pull["letter"]]
            if self._pulled[0] != pull["gesture"]:
                self._pulled = (pull["gesture"], study.levels.elevation(name))
            place = f"platform.{name}.elevation"
            step = 5 / 25.4 if study.asked.units == "metric" else 0.25
            inches = step * round((self._pulled[1] + pull["by"]) / step)
            before = self._session.text(place)
            text = spelled_like(before if " to " not in before else "", inches, study.asked.units)
            self._session.change(place, text, gesture=pull["gesture"])
        finally:
            self.answered += 1


VIEWS_KEYS = {ABOVE: "above", CUT: "cut", SIDE: "side"}
