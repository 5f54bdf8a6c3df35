"""The panel of drawings: from above, cut through, from the side, details; alive, and readable without a kernel."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from deckplan.draw.paint_svg import paint_svg
from deckplan.draw.scene import Scene
from deckplan.draw.sheet import PHONE, SCREEN
from deckplan.panels.details import own_details
from deckplan.panels.fields import spelled_like
from deckplan.panels.follow import Follower
from deckplan.panels.looks import ABOVE, CUT, DETAILS, LOOKS, SIDE, Ask, Look, Wish, settled
from deckplan.panels.session import Session
from deckplan.panels.widgets import Drawing, image
from deckplan.tabulate import letter_of

PULLED = (CUT, SIDE)
"""Where heights are seen, so that a level can be pulled up or down."""


class DrawingPanel(Follower, Drawing):
    """The live drawing of a session. Only the look that is seen is computed."""

    def __init__(self, session: Session, view: str = ABOVE, shows: str = "") -> None:
        """Bind the drawing to a session.

        view: the tab shown first; shows: which of its looks, e.g. "Load path", its first where it is empty.
        """
        self._session = session
        self._pulled: tuple[str, float] = ("", 0.0)
        self._wish = Wish()
        self._shows = {tab: next(iter(looks)) for tab, looks in LOOKS.items()}
        self._asks: tuple[Ask, ...] = ()
        super().__init__(views=list(LOOKS), view=view)
        if shows:
            self._shows[view] = shows
        self._ends = (session.listen(self._news), session.on_pick(self._picked))
        self.observe(lambda change: self._session.pick(change["new"]), names="value")
        self.observe(lambda change: self._session.trying(self._look_now), names=["view", "room"])
        self.observe(lambda change: self._session.trying(self._choose), names="chosen")
        self.observe(self._pull, names="pull")
        self._look_now()

    @property
    def look(self) -> Look:
        """The look that is seen."""
        return LOOKS[self.view][self._shows[self.view]]

    def show(self, shows: str) -> None:
        """Show a look by its name, e.g. "Boards", or a tab, as a press on it does; raises KeyError for another."""
        for tab, looks in LOOKS.items():
            if shows in (tab, *looks):
                if shows in looks:
                    self._shows[tab] = shows
                self.view = tab
                self._look_now()
                return
        raise KeyError(shows)

    def choose(self, name: str, value: str) -> None:
        """Choose something beside the look, as the browser does; raises KeyError where that is not to be chosen."""
        if value not in [option[0] for ask in self._asks if ask.name == name for option in ask.options]:
            raise KeyError(f"{name}, {value}")
        self.chosen = {"n": self.chosen.get("n", 0) + 1, "name": name, "value": value}

    def scene(self) -> Scene:
        """Return what the panel shows now."""
        wish, _ = self._settled()
        return self.look.scene(self._session.study, wish)

    def _settled(self) -> tuple[Wish, tuple[Ask, ...]]:
        sheet = PHONE if self.room == "narrow" else SCREEN
        return settled(self.look, self._session.study, replace(self._wish, sheet=sheet))

    def fallback(self) -> str:
        """Show what is seen, and the section, as images."""
        study = self._session.study
        seen = {f"{self.view} {self._shows[self.view]}".strip(): self.look, CUT: LOOKS[CUT][""]}
        pictures = []
        for name, look in seen.items():
            wish, _ = settled(look, study, self._wish)
            pictures.append(image(paint_svg(look.scene(study, wish)), f"{name}: {study.plan.name}"))
        return "".join(f"<p>{picture}</p>" for picture in pictures)

    def _look_now(self) -> None:
        study = self._session.study
        grips = (
            {letter_of(study, p.name): p.name for p in study.plan.platforms} if self.view in PULLED else {}
        )
        wish, self._asks = self._settled()
        prefix = f"{self.view} {self._shows[self.view]}".strip().lower().replace(" ", "-")
        picture = paint_svg(self.look.scene(study, wish), study.describe, prefix=f"{prefix}-")
        beneath = self.look.beneath(study, wish)
        with self.hold_sync():
            self.grips, self.svg, self.beneath, self.choices = grips, picture, beneath, self._choices()

    def _choices(self) -> list[dict[str, Any]]:
        """Return what there is to choose: the looks of this tab, then what the look asks."""
        found: list[dict[str, Any]] = []
        looks = list(LOOKS[self.view])
        if len(looks) > 1:
            options = [[name, name, ""] for name in looks]
            found.append({"name": "shows", "label": "What is drawn", "value": self._shows[self.view],
                          "options": options, "kind": "row"})  # fmt: skip
        asked = [
            {"name": ask.name, "label": ask.label, "value": ask.value,
             "options": [list(option) for option in ask.options], "kind": "select"}
            for ask in self._asks
        ]  # fmt: skip
        return found + asked

    def _choose(self) -> None:
        name, value = self.chosen["name"], self.chosen["value"]
        if name == "shows":
            self.show(value)
        elif name == "mark":
            self._wish = replace(self._wish, mark=value)
            self._session.pick(value)  # the other panels look at it as well
            self._look_now()
        else:
            self._wish = self._wish.with_(name, value)
            self._look_now()

    def _picked(self, mark: str) -> None:
        """Follow a mark that is picked here or elsewhere: to its load path, to its details where it has some."""
        self.value = mark
        if not mark:
            return
        look, study = self.look, self._session.study
        if look is not LOOKS[DETAILS][""] or any(own_details(study, mark)):
            keep = any(one.key == self._wish.detail for one in own_details(study, mark))
            self._wish = replace(self._wish, mark=mark, detail=self._wish.detail if keep else "")
            if look.of_a_mark:
                self._news()

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
