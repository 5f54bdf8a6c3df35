"""The head of the bench: plan, verdict, undo and save, what went wrong; and below, the notes."""

from __future__ import annotations

from html import escape
from typing import Any

from deckplan.errors import InputError
from deckplan.panels.faults import open_notes
from deckplan.panels.follow import Follower
from deckplan.panels.html import SIGNS
from deckplan.panels.session import Session, own_path
from deckplan.panels.widgets import Page
from deckplan.study import Study
from deckplan.verdict import Verdict

CAUTION = (
    "Planning aid: local code, product instructions and licensed practice decide; call before you dig. "
    "Nothing here is a permit or an engineer's seal."
)
SAID = {
    Verdict.PASS: "every check passes",
    Verdict.FAIL: "something fails",
    Verdict.OUTSIDE: "something lies outside the rules: an engineer decides",
    Verdict.NOT_APPLICABLE: "nothing to check",
}
_LEVELS = {"caution": "caution", "advice": "advice", "ask": "ask first"}


def verdict_line(study: Study) -> str:
    """Say in one line how the plan stands: how many checks fail or lie outside the rules, and what is left open."""
    counts = {v: sum(check.verdict is v for check in study.checks) for v in (Verdict.FAIL, Verdict.OUTSIDE)}
    words = [
        f"{counts[Verdict.FAIL]} fail",
        f"{counts[Verdict.OUTSIDE]} outside the rules, an engineer decides",
    ]
    shown = [word for word, count in zip(words, counts.values(), strict=True) if count]
    said = f"{len(study.checks)} checks: " + (", ".join(shown) if shown else SAID[study.verdict])
    count = len(open_notes(study))
    return said + (
        f"; {count} {'thing' if count == 1 else 'things'} asked for and not drawn" if count else ""
    )


class HeadPanel(Follower, Page):
    """Name, verdict, undo, redo, save; the visible line for what goes wrong inside."""

    def __init__(self, session: Session) -> None:
        """Bind the panel to a session."""
        super().__init__()
        self._session = session
        self._said = ""
        self._ends = (session.watch(self._news),)
        self.observe(self._pressed, names="value")
        self._look_now()

    def _pressed(self, change: Any) -> None:
        pick = change["new"]["pick"]
        self._said = ""
        deeds = {"undo": self._session.undo, "redo": self._session.redo, "save": self._save}
        deeds[pick]()
        self._look_now()

    def _save(self) -> None:
        try:
            path = self._session.save(own_path(self._session.path))
        except InputError as error:
            self._said = f"Not saved. {error}"
        else:
            self._said = f"Saved in {path.name}."

    def _look_now(self) -> None:
        session, study = self._session, self._session.study
        trouble = ""
        if session.trouble:
            trouble = (
                f'<p class="dk-trouble" role="alert"><b>Something went wrong inside the program</b>, the last good '
                f"drawing stays: {escape(session.trouble)}</p>"
            )
        deeds = "".join(
            f'<button type="button" data-pick="{pick}"{"" if can else " disabled"}>{pick}</button>'
            for pick, can in (
                ("undo", session.can_undo),
                ("redo", session.can_redo),
                ("save", not session.saved),
            )
        )
        said = f'<span class="dk-quiet" role="status">{escape(self._said)}</span>'
        rules = study.profile.title or study.profile.name
        verdict = study.verdict
        if verdict is Verdict.PASS and open_notes(study):
            verdict = Verdict.OUTSIDE  # not the green tick: somebody has to decide what is still open
        self.html = (
            f'{trouble}<div class="dk-head"><div><h2>{escape(study.plan.name)}</h2>'
            f'<span class="dk-verdict dk-{verdict}"><span class="dk-sign" aria-hidden="true">{SIGNS[verdict]}</span> '
            f'{escape(verdict_line(study))}</span> <span class="dk-quiet">by {escape(rules)}</span></div>'
            f'<div class="dk-deeds">{said}{deeds}</div></div>'
            f'<p class="dk-caution">{escape(CAUTION)}</p>'
        )


class NotesPanel(Follower, Page):
    """Cautions, advice, and what to ask before building."""

    def __init__(self, session: Session) -> None:
        """Bind the panel to a session."""
        super().__init__()
        self._session = session
        self._ends = (session.listen(self._news),)
        self._look_now()

    def _look_now(self) -> None:
        items = "".join(
            f"<li><b>{_LEVELS[note.level]}</b> {escape(note.text)}</li>"
            for level in _LEVELS
            for note in self._session.study.notes
            if note.level == level
        )
        self.html = f'<h3>To mind</h3><ul class="dk-notes">{items}</ul>'
