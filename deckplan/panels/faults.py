"""What no longer stands, and why: in sight while something is being changed."""

from __future__ import annotations

from html import escape

from deckplan.panels.follow import Follower
from deckplan.panels.html import SIGNS, WORDS, reason_of
from deckplan.panels.session import Session
from deckplan.panels.widgets import Page
from deckplan.study import Study
from deckplan.tabulate import sorted_checks
from deckplan.verdict import Check, Verdict

MOST = 5
"""How many are said in full; the checks have them all."""


def faults_of(study: Study) -> list[tuple[Check, int]]:
    """Return what fails or lies outside the rules, each reason once: its first check, how many more parts it hits."""
    found: dict[tuple[Verdict, str], list[Check]] = {}
    for check in sorted_checks(study.checks):
        if check.verdict in (Verdict.FAIL, Verdict.OUTSIDE):
            found.setdefault((check.verdict, reason_of(check, study.plan.units)), []).append(check)
    return [(checks[0], len({check.mark for check in checks}) - 1) for checks in found.values()]


def _said(verdict: Verdict, more: int) -> str:
    if not more:
        return WORDS[verdict]
    return f"and {more} more {'fail' if verdict is Verdict.FAIL else WORDS[verdict]}"


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
        bad = faults_of(study)
        items = "".join(
            f'<li class="dk-{check.verdict}"><button type="button" data-pick="{escape(check.mark)}">'
            f'<span class="dk-sign" aria-hidden="true">{SIGNS[check.verdict]}</span> {escape(check.mark)}</button> '
            f"{_said(check.verdict, more)}: "
            f"{escape(reason_of(check, study.plan.units))}</li>"
            for check, more in bad[:MOST]
        )
        rest = f"<li>and {len(bad) - MOST} more, see the checks</li>" if len(bad) > MOST else ""
        body = f"<h3>What does not stand</h3><ul>{items}{rest}</ul>" if bad else f"<p>{self._passes}</p>"
        self.html = f'<div class="dk-faults" role="status" aria-live="polite">{body}</div>'
