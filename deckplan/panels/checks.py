"""The panel of checks: what fails first, and for each the sum behind it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from html import escape
from typing import Any

from deckplan.panels.follow import Follower
from deckplan.panels.html import amount, framed, meter, sign, why
from deckplan.panels.session import Session
from deckplan.panels.widgets import Page
from deckplan.study import Study
from deckplan.tabulate import grouped_checks
from deckplan.verdict import Check, Verdict

Group = tuple[Check, tuple[str, ...]]
SHOWN = 14
"""How many checks stand in the table before somebody asks for all."""


class ChecksPanel(Follower, Page):
    """Checks of the whole deck, or of the mark that is picked; press one to read why."""

    def __init__(self, session: Session) -> None:
        """Bind the panel to a session."""
        super().__init__()
        self._session = session
        self._asked = ""
        self._all = False
        self._ends = (session.listen(self._news), session.on_pick(self._picked))
        self.observe(self._pressed, names="value")
        self._look_now()

    def groups(self) -> list[Group]:
        """Return the checks that the panel is about: the picked mark's, or all."""
        study, mark = self._session.study, self._session.selected
        return grouped_checks(study.checks_of(mark)) if mark else grouped_checks(study.checks)

    def ask_why(self, mark: str, rule: str) -> None:
        """Open the sum behind a check, as a press on its row does."""
        self.value = {"n": self.value.get("n", 0) + 1, "pick": f"why {mark}|{rule}"}

    def _picked(self, mark: str) -> None:
        self._all = False
        groups = self.groups()
        self._asked = _key(groups[0][0]) if mark and groups else ""
        self._news()

    def _pressed(self, change: Any) -> None:
        pick = change["new"]["pick"]
        if pick == "everything":
            self._session.pick("")
        elif pick == "more":
            self._all = not self._all
        elif pick.startswith("why "):
            key = pick.removeprefix("why ")
            self._asked = "" if key == self._asked else key
        else:
            raise ValueError(f"nothing here is called {pick}")
        self._look_now()

    def _look_now(self) -> None:
        study, mark = self._session.study, self._session.selected
        groups = self.groups()
        shown = groups if self._all or mark else _first(groups)
        head = _about(study, mark) if mark else _summary(study.checks)
        rest = len(groups) - len(shown)
        more = ""
        if rest or (self._all and not mark):
            words = f"show {rest} more" if rest else "show fewer"
            more = f'<p><button type="button" data-pick="more">{words}</button></p>'
        asked = next((group for group in groups if _key(group[0]) == self._asked), None)
        if asked is not None and asked not in shown:
            shown = [*shown, asked]
        reason = why(asked[0], asked[1], study.plan.units) if asked else ""
        rows = [self._row(study, group) for group in shown]
        heads = [f"<th>{name}</th>" for name in ("part", "rule", "verdict", "used", "found", "limit", "why")]
        self.html = head + framed(heads, rows, "Checks") + more + reason

    def _row(self, study: Study, group: Group) -> str:
        check, marks = group
        units = study.plan.units
        key = _key(check)
        more = f' <span class="dk-quiet">of {len(marks)}</span>' if len(marks) > 1 else ""
        open_now = "true" if key == self._asked else "false"
        button = (
            f'<button type="button" data-pick="why {escape(key)}" aria-expanded="{open_now}" '
            f'aria-label="why {escape(check.mark)} {escape(check.rule)}">why</button>'
        )
        picked = " is-picked" if key == self._asked else ""
        return (
            f'<tr class="dk-{check.verdict}{picked}"><td>{escape(check.mark)}{more}</td><td>{escape(check.rule)}</td>'
            f"<td>{sign(check.verdict)}</td><td>{meter(check.utilisation)}</td>"
            f'<td class="n">{escape(amount(check.demand, check.unit, units))}</td>'
            f'<td class="n">{check.side} {escape(amount(check.capacity, check.unit, units))}</td><td>{button}</td></tr>'
        )


def _key(check: Check) -> str:
    return f"{check.mark}|{check.rule}"


def _first(groups: Sequence[Group]) -> list[Group]:
    bad = [group for group in groups if group[0].verdict in (Verdict.FAIL, Verdict.OUTSIDE)]
    return list(groups[: max(SHOWN, len(bad))])


def _summary(checks: Sequence[Check]) -> str:
    """Say how many checks there are of each verdict."""
    counts = Counter(check.verdict for check in checks)
    words = [f"{counts[v]} {word}" for v, word in _COUNTED if counts[v]]
    order = "What fails comes first, then what is used most; each line speaks of the part that is used most."
    return f"<p>{', '.join(words)}. {order}</p>"


_COUNTED = (
    (Verdict.FAIL, "fail"),
    (Verdict.OUTSIDE, "outside the rules"),
    (Verdict.PASS, "pass"),
    (Verdict.NOT_APPLICABLE, "do not apply"),
)


def _about(study: Study, mark: str) -> str:
    return (
        f"<p><b>{escape(study.describe(mark))}</b></p>"
        '<p><button type="button" data-pick="everything">back to the whole deck</button></p>'
    )
