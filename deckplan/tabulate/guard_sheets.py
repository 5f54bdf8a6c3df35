"""The table of guards: every edge that asks for one, by the marks of the guard plan."""

from __future__ import annotations

from deckplan.layout.model import numbered_guards
from deckplan.study import Study
from deckplan.tabulate.sheet import Scale, Sheet


def guards_sheet(study: Study) -> Sheet:
    """Tabulate the edges that ask for a guard: whose, how long, how deep the drop, how high the guard.

    The drop goes to the lowest ground or level within the look-out of the rule, not to what lies right below.
    """
    to = Scale(study.plan.units)
    reach = to.small(study.profile.guard_lookout.value)
    columns = ("guard", "platform", "length", f"drop within {reach}", "height", "opening")
    numbered = numbered_guards(study.layout.guards)
    high = to.small(study.profile.guard_height.value)
    rows = tuple(
        (mark, one.platform, to.tape(one.length), to.small(one.drop), high, one.opening or None)
        for mark, one in numbered
    )
    return Sheet("Guards", columns, rows, tuple(mark for mark, _ in numbered))
