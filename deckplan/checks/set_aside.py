"""Prescriptive limits that give way to an engineered sum, where the rule profile lets them.

Two answers stand side by side wherever both exist, and the stricter governs. A profile may name limits in
`may_set_aside`; then a check by such a limit that fails, or that no table covers, does not apply, as long as the sum
that answers the same question was done for the same mark and passes in all its parts.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from deckplan.checks.bending_members import TIP_RULE
from deckplan.checks.braced_posts import POST_RULE as BRACED
from deckplan.checks.guard_edges import RULE as EDGE_LEAN
from deckplan.checks.posts import NOTCH_RULE, SIDE_RULE
from deckplan.checks.printed_beams import RULE as PRINTED_BEAM
from deckplan.checks.printed_joists import RULE as PRINTED_SPAN
from deckplan.checks.printed_posts import RULE as PRINTED_HEIGHT
from deckplan.checks.tip_loads import AT_TIP, LEANING
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Verdict

SET_ASIDE = (Verdict.FAIL, Verdict.OUTSIDE)
"""Verdicts that may give way; a pass has nothing to give."""


@dataclass(frozen=True, slots=True)
class Replacement:
    """What may stand in a prescriptive rule's place.

    rule: of the prescriptive check; sums: rules of the engineered checks, each with its other names: one of each must
    be there and pass; also: engineered checks that need not be there, but must not fail.
    """

    rule: str
    sums: tuple[tuple[str, ...], ...]
    also: tuple[str, ...] = ()


_COLUMN = (("post as a column", SIDE_RULE, NOTCH_RULE), ("slenderness",))

_JOIST = (("bending in the span",), ("shear",), ("bearing",), ("deflection",))
_JOIST_ALSO = (
    "bending over a support",
    AT_TIP,
    LEANING,
    EDGE_LEAN,
    TIP_RULE,
    "deflection of the overhang's tip",
    "joist stays upright",
)

REPLACEMENTS: Mapping[str, Replacement] = {
    "joist_span_cap": Replacement("longest joist span of the tables", _JOIST, _JOIST_ALSO),
    "printed_joist_spans": Replacement(PRINTED_SPAN, _JOIST, _JOIST_ALSO),
    "printed_beam_spans": Replacement(PRINTED_BEAM, _JOIST, ("bending over a support", TIP_RULE)),
    "post_height_caps": Replacement("prescriptive post height", _COLUMN, (BRACED,)),
    "printed_post_heights": Replacement(PRINTED_HEIGHT, _COLUMN, (BRACED,)),
}
"""By the name that a profile uses. Not among them, since no sum here answers the whole question:

- overhangs as a share of the span: tips are checked for strength and for how far they sink, with one person, with a
  lean on the guard and with live load; the share itself, which the code states, no sum gives;
- ledger fasteners: the load on one is held to what the printed table itself puts on it.
"""


def apply_set_aside(checks: Sequence[Check], profile: Profile) -> tuple[Check, ...]:
    """Return the checks, those that the profile sets aside as not applicable, each with what stands in its place."""
    rules = {REPLACEMENTS[name].rule: REPLACEMENTS[name] for name in profile.may_set_aside}
    if not rules:
        return tuple(checks)
    of_mark: dict[str, list[Check]] = defaultdict(list)
    for check in checks:
        of_mark[check.mark].append(check)
    return tuple(
        _replaced(check, rules[check.rule], of_mark[check.mark], profile) if check.rule in rules else check
        for check in checks
    )


def _replaced(check: Check, how: Replacement, own: Sequence[Check], profile: Profile) -> Check:
    """Set one check aside, or leave it as it is."""
    sums = [[each for each in own if each.rule in names] for names in how.sums]
    also = [each for each in own if each.rule in how.also and each.verdict is not Verdict.NOT_APPLICABLE]
    complete = all(sums) and all(
        each.verdict is Verdict.PASS for each in (*also, *(found for part in sums for found in part))
    )
    if check.verdict not in SET_ASIDE or not complete:
        return check
    hardest = max((found for part in sums for found in part), key=lambda each: each.utilisation or 0.0)
    names = ", ".join(dict.fromkeys(found.rule for part in sums for found in part))
    reason = (
        f"set aside, as {profile.name} allows: {check.reason}; in its place stand {names}, "
        f"the hardest used {hardest.utilisation or 0.0:.0%} ({hardest.rule})"
    )
    return replace(check, demand=None, capacity=None, verdict=Verdict.NOT_APPLICABLE, reason=reason)
