"""What no longer stands, and why: in sight while something is being changed."""

from __future__ import annotations

from html import escape

from deckplan.panels.follow import Follower
from deckplan.panels.html import SIGNS, WORDS, reason_of
from deckplan.panels.session import Session
from deckplan.panels.widgets import Page
from deckplan.tabulate import sorted_checks
from deckplan.verdict import Verdict

MOST = 5
"""How many are said in full; the checks have them all."""


class FaultsPanel(Follower, Page):
    """What fails and what lies outside the rules, each with its reason; press one to look at the part."""

    def __init__(self, session: Session) -> None:
        """Bind the panel to a session."""
        super().__init__()
        self._session = session
        self._ends = (session.listen(self._news),)
        self.observe(lambda change: self._session.pick(change["new"]["pick"]), names="value")
        self._look_now()

    def _look_now(self) -> None:
        study = self._session.study
        bad = [c for c in sorted_checks(study.checks) if c.verdict in (Verdict.FAIL, Verdict.OUTSIDE)]
        items = "".join(
            f'<li class="dk-{check.verdict}"><button type="button" data-pick="{escape(check.mark)}">'
            f'<span class="dk-sign" aria-hidden="true">{SIGNS[check.verdict]}</span> {escape(check.mark)}</button> '
            f"{WORDS[check.verdict]}: {escape(reason_of(check, study.plan.units))}</li>"
            for check in bad[:MOST]
        )
        rest = f"<li>and {len(bad) - MOST} more, see the checks</li>" if len(bad) > MOST else ""
        if bad:
            body = f"<h3>What does not stand</h3><ul>{items}{rest}</ul>"
        else:
            body = "<p>Every check passes. What no rule here covers is under <i>To mind</i>.</p>"
        self.html = f'<div class="dk-faults" role="status" aria-live="polite">{body}</div>'
