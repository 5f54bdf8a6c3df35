"""What no longer stands, and why: in sight while something is being changed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import escape

from deckplan.checks.pairs import worst_pairs
from deckplan.levels.model import Note
from deckplan.panels.follow import Follower
from deckplan.panels.html import SIGNS, reason_of
from deckplan.panels.session import Session
from deckplan.panels.widgets import Page
from deckplan.study import Study
from deckplan.tabulate import sorted_checks
from deckplan.units import restate
from deckplan.verdict import Check, Verdict

MOST = 5
"""How many are said in full; the checks have them all."""

NAMED = 4
"""How many further marks of one sentence are named before the rest is counted."""

HEADS = {Verdict.FAIL: "What does not stand", Verdict.OUTSIDE: "Outside the rules: an engineer decides"}
OPEN = "Asked for, and not drawn"

_MARK = re.compile(r"\b[A-Z]{1,2}-[A-Z]+\d+\b|\bS\d+(?:-[A-Z]+\d+)?\b")


def faults_of(study: Study) -> list[tuple[Check, tuple[str, ...]]]:
    """Return what fails or lies outside the rules, each sentence once: its first check, the marks it holds for as well.

    Sentences that differ only in the marks they name are one.
    """
    found: dict[tuple[Verdict, str], list[Check]] = {}
    for check in worst_pairs(sorted_checks(study.checks)):
        if check.verdict in (Verdict.FAIL, Verdict.OUTSIDE):
            said = _MARK.sub("_", reason_of(check, study.plan.units))
            found.setdefault((check.verdict, said), []).append(check)
    return [
        (checks[0], tuple(dict.fromkeys(c.mark for c in checks if c.mark != checks[0].mark)))
        for checks in found.values()
    ]


def open_notes(study: Study) -> tuple[Note, ...]:
    """Return what the rules ask for and the plan neither draws nor buys."""
    return tuple(note for note in study.notes if note.open)


def _said(verdict: Verdict, more: Sequence[str]) -> str:
    """Say after the first mark which others the sentence holds for; the heading says what an engineer decides."""
    named = ", ".join(more[:NAMED]) + (f" and {len(more) - NAMED} more" if len(more) > NAMED else "")
    verb = "" if verdict is not Verdict.FAIL else " fail" if more else " fails"
    return (f" and {named}" if more else "") + verb


class FaultsPanel(Follower, Page):
    """What fails and what lies outside the rules, each with its reason; press one to look at the part."""

    def __init__(self, session: Session, notes: bool = False) -> None:
        """Bind the panel to a session; notes: whether the panel of notes is at hand, for what no rule covers."""
        super().__init__()
        self._session = session
        self._passes = "Every check passes."
        if notes:
            self._passes += " What no rule here covers is under <i>To mind</i>."
        self._ends = (session.listen(self._news),)
        self.observe(lambda change: self._session.pick(change["new"]["pick"]), names="value")
        self._look_now()

    def _look_now(self) -> None:
        study = self._session.study
        bad, units = faults_of(study), study.plan.units
        parts = []
        for verdict, head in HEADS.items():
            own = [one for one in bad if one[0].verdict is verdict]
            items = "".join(
                f'<li class="dk-{verdict}"><button type="button" data-pick="{escape(check.mark)}">'
                f'<span class="dk-sign" aria-hidden="true">{SIGNS[verdict]}</span> {escape(check.mark)}</button>'
                f"{escape(_said(verdict, more))}: {escape(reason_of(check, units))}</li>"
                for check, more in own[:MOST]
            )
            rest = f"<li>and {len(own) - MOST} more, see the checks</li>" if len(own) > MOST else ""
            parts += [f"<h3>{head}</h3><ul>{items}{rest}</ul>"] if own else []
        parts = parts or [f"<p>{self._passes}</p>"]
        if still := open_notes(study):
            items = "".join(f"<li>{escape(restate(note.text, units))}</li>" for note in still)
            parts.append(f"<h3>{OPEN}</h3><ul>{items}</ul>")
        self.html = f'<div class="dk-faults" role="status" aria-live="polite">{"".join(parts)}</div>'
