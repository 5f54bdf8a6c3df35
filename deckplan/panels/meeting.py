"""The panel of levels that meet: the ways to stand each pair, computed, and the plan changed to the one that is chosen.

Five studies a pair take a moment, so they are made when somebody looks, and made again when somebody asks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from deckplan.explore.alike import alike, names_of
from deckplan.explore.connections import Choice, Connection, NoConnection, connect, told
from deckplan.explore.connections_table import CUBIC_METRE
from deckplan.explore.touching import Touch
from deckplan.explore.ways import pairs, ways_of
from deckplan.panels.follow import Follower
from deckplan.panels.html import SIGNS, framed
from deckplan.panels.session import Session
from deckplan.panels.widgets import Page
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Verdict

KEPT = 12
"""For how many plans the ways are remembered, so that an undo shows them at once."""

TOLD = 3
"""How many reasons of a kind are said of one way."""

INTRO = (
    "Two levels that touch can stand in five ways, one that lies over another in two. Each line is your whole plan "
    "changed to that way and checked again; holes, concrete, hardware and cost count the two levels and the steps "
    "between them. Prices are invented: they put one way beside another, no more."
)


Key = tuple[str, str, bool]
"""Names of the upper and the lower level, and whether the one lies over the other instead of beside it."""


@dataclass(frozen=True)
class Computed:
    """The ways of one pair, as they were computed for a plan."""

    plan: Plan
    pair: Key
    choices: tuple[Choice, ...]


class MeetingPanel(Follower, Page):
    """The connection chooser of a session."""

    def __init__(self, session: Session, shown: bool = True) -> None:
        """Bind the panel to a session; shown: whether it is seen at once, else nothing is computed yet."""
        super().__init__()
        self._session = session
        self._pair: Key = ("", "", False)
        self._known: list[Computed] = []
        self._said = ""
        self._shown, self._behind = shown, not shown
        self._ends = (session.listen(self._changed),)
        self.observe(lambda change: session.trying(self._pressed), names="value")
        if shown:
            self._compute()
            self._look_now()

    def pairs(self) -> tuple[Touch, ...]:
        """Return the pairs of levels that touch, or of which one lies over the other."""
        study = self._session.study
        return pairs(study.asked, study.levels)

    def choices(self) -> tuple[Choice, ...]:
        """Return the ways of the pair that is looked at, computed if nobody has yet."""
        found = self._found()
        return found.choices if found else self._compute()

    def use(self, way: str) -> None:
        """Change the plan to a way, as a press on its button does, e.g. "shared post line"."""
        self.value = {"n": self.value.get("n", 0) + 1, "pick": f"use {way}"}

    def freshen(self) -> None:
        """Compute the ways where that is still to be done."""
        if self._behind and self._found() is None:
            self._compute()
        super().freshen()

    def _changed(self, study: Study) -> None:
        self._said = ""
        self._news()

    def _touch(self) -> Touch | None:
        """Return the pair that is looked at, the first where there is none or it has gone."""
        pairs = self.pairs()
        return next((one for one in pairs if _key(one) == self._pair), pairs[0] if pairs else None)

    def _found(self) -> Computed | None:
        """Return the ways of the pair for the plan as it is, None where they are not computed yet."""
        touch, plan = self._touch(), self._session.plan
        if touch is None:
            return Computed(plan, ("", "", False), ())
        same = (one for one in self._known if one.pair == _key(touch) and one.plan == plan)
        return next(same, None)

    def _compute(self) -> tuple[Choice, ...]:
        touch, study = self._touch(), self._session.study
        if touch is None:
            return ()
        choices = tuple(connect(study, touch, manner) for manner in ways_of(touch))
        self._known = [*self._known, Computed(study.asked, _key(touch), choices)][-KEPT:]
        return choices

    def _pressed(self) -> None:
        pick = self.value["pick"]
        if pick == "again":
            self._compute()
        elif pick.startswith("pair "):
            pairs = self.pairs()
            self._pair = _key(pairs[int(pick.removeprefix("pair "))])
            self._said = ""
            self.choices()
        elif pick.startswith("use "):
            self._use(pick.removeprefix("use "))
        else:
            raise ValueError(f"nothing here is called {pick}")
        self._look_now()

    def _use(self, way: str) -> None:
        choice = next(one for one in self.choices() if str(one.manner) == way)
        if isinstance(choice, Connection):
            self._session.change_to(choice.plan)
            self._compute()
            self._said = f"The plan now has: {way}, {_called(choice.touch)}. Undo takes it back."
        else:
            self._said = f"{way} cannot be: {choice.reason}"

    def _look_now(self) -> None:
        touch = self._touch()
        if touch is None:
            self.html = "<p>No two levels of this plan touch, so there is nothing to choose here.</p>"
            return
        said = f'<p role="status"><b>{escape(self._said)}</b></p>' if self._said else ""
        found, stale = self._found(), ""
        if found is None:
            last = [one for one in self._known if one.pair == _key(touch)]
            stale = (
                '<p class="dk-stale" role="status">The plan has changed since these were computed. '
                '<button type="button" data-pick="again">compute again</button></p>'
            )
            found = last[-1] if last else Computed(self._session.plan, _key(touch), ())
        body = _table(found.choices, self._session.study, bool(stale)) if found.choices else ""
        self.html = f"<p>{escape(INTRO)}</p>{self._pairs(touch)}{said}{stale}{body}"

    def _pairs(self, touch: Touch) -> str:
        """Write the choice of a pair, its names alone where there is one."""
        pairs = self.pairs()
        if len(pairs) == 1:
            return f"<h3>{escape(_called(touch))}</h3>"
        chosen = [" selected" if _key(one) == _key(touch) else "" for one in pairs]
        options = "".join(
            f'<option value="{index}"{chosen[index]}>{escape(_called(one))}</option>'
            for index, one in enumerate(pairs)
        )
        return f'<p><label>Levels that meet <select data-pick="pair ">{options}</select></label></p>'


def _key(touch: Touch) -> Key:
    return (touch.upper, touch.lower, touch.over)


def _called(touch: Touch) -> str:
    return f"{touch.upper} {'over' if touch.over else 'and'} {touch.lower}"


def _table(choices: Sequence[Choice], study: Study, stale: bool) -> str:
    """Write the ways as a table; stale: nothing can be chosen, since the plan has moved on."""
    metric = study.plan.units == "metric"
    volume = "m3" if metric else "cu ft"
    heads = [
        "way",
        "",
        "holes",
        f"concrete [{volume}]",
        "cost [invented $]",
        "fails",
        "outside the tables",
        "",
    ]
    stands = [one.cost for one in choices if isinstance(one, Connection) and one.feasible]
    least = min(stands, default=0.0) if len(stands) > 1 else None
    rows = [_row(group, study, CUBIC_METRE if metric else 1.0, stale, least) for group in alike(choices)]
    marks = [f'<th class="n">{h}</th>' if h in heads[2:7] else f"<th>{h}</th>" for h in heads]
    return f'<div class="dk-ways">{framed(marks, rows, "Ways to stand two levels")}</div>'


def _row(group: Sequence[Choice], study: Study, each: float, stale: bool, least: float | None) -> str:
    """Write one way, or some that are one plan: its figures, what it changes and what speaks against it."""
    choice = group[0]
    way = escape(names_of(group))
    if isinstance(choice, NoConnection):
        words = f"Not possible: {choice.reason}. What would help: {choice.remedy}."
        return (
            f'<tr class="dk-NOT_APPLICABLE"><td><b>{way}</b></td><td>{_sign("–", "not possible")}</td>'
            f'<td colspan="6"></td></tr><tr class="dk-more"><td colspan="8">{escape(words)}</td></tr>'
        )
    drawn = choice.plan == study.asked
    verdict = Verdict.FAIL if choice.failing else Verdict.OUTSIDE if choice.outside else Verdict.PASS
    words = {Verdict.FAIL: "fails", Verdict.OUTSIDE: "stands, an engineer decides", Verdict.PASS: "stands"}[
        verdict
    ]
    figures = [
        ("holes", f"{choice.holes}"),
        ("concrete", f"{choice.concrete * each:.{2 if each < 1 else 1}f}"),
        ("cost", f"{choice.cost:,.0f}" + (" (least)" if least is not None and choice.cost == least else "")),
        ("fails", f"{len(choice.failing)}"),
        ("outside the tables", f"{len(choice.outside)}"),
    ]
    cells = "".join(f'<td class="n" data-label="{label}">{value}</td>' for label, value in figures)
    said = escape(f"use {choice.manner} for {_called(choice.touch)}")
    off, use = " disabled" if stale else "", escape(str(choice.manner))
    button = (
        f'<button type="button" data-pick="use {use}" aria-label="{said}"{off}>use this way</button>'
        if not drawn
        else "as drawn"
    )
    picked = " is-picked" if drawn else ""
    return (
        f'<tr class="dk-{verdict}{picked}"><td><b>{way}</b></td><td>{_sign(SIGNS[verdict], words)}</td>{cells}'
        f'<td>{button}</td></tr><tr class="dk-more{picked}"><td colspan="8">{_more(choice)}</td></tr>'
    )


def _sign(sign: str, words: str) -> str:
    return f'<span class="dk-sign" aria-hidden="true">{sign}</span> {words}'


def _first(reasons: Sequence[str]) -> str:
    """Write the first few reasons; the checks have them all once the way is used."""
    more = f"; and {len(reasons) - TOLD} more" if len(reasons) > TOLD else ""
    return "; ".join(reasons[:TOLD]) + more


def _more(choice: Connection) -> str:
    """Write what a way changes, the hardware that it asks for, what fails and what no table covers."""
    parts = ["; ".join(choice.moves) or "Nothing is changed"]
    parts += [f"Hardware: {'; '.join(f'{item.count} {item.item}, {item.basis}' for item in choice.hardware)}"]
    parts += [f"Tied below the frost: {'; '.join(choice.deeper)}"] if choice.deeper else []
    parts += [f"Fails: {_first(told(choice.failing))}"] if choice.failing else []
    parts += [f"Outside the tables: {_first(told(choice.outside))}"] if choice.outside else []
    return "".join(f"<div>{escape(part[0].upper() + part[1:])}.</div>" for part in parts if part)
