"""Joists of the lower level hung on the upper one's beam, that beam moved to the edge where it has to be."""

from __future__ import annotations

from itertools import product

from deckplan.engineering.lumber import read_size
from deckplan.explore.changes import nearest_line, with_line, with_supports
from deckplan.explore.outcome import Built, Outcome, Refused, apart
from deckplan.explore.touching import Side, Touch
from deckplan.layout.hung import RULE as HUNG_RULE
from deckplan.layout.model import Kind
from deckplan.plan.model import Hung, Plan
from deckplan.study import Study
from deckplan.units import format_short
from deckplan.verdict import Verdict

DEEPEST = "3-2x12"
"""The beam tried where the smallest that carries is not deep enough for a hanger on its face."""

THICK = 4.5
"""Thickness of a beam of three plies [in], with which the line is set out first."""


def hung(study: Study, touch: Touch) -> Outcome:
    """Hang the lower level's joists on the upper one's beam, that beam moved to the edge where it has to be."""
    plan = apart(study, touch).asked
    lower, upper = plan.platform(touch.lower), plan.platform(touch.upper)
    theirs, ours = Side.of(lower, touch.edge), Side.of(upper, touch.edge)
    for side, name, what in (
        (theirs, touch.lower, "no joist ends there"),
        (ours, touch.upper, "no beam can lie along it"),
    ):
        if not side.across:
            how = "along" if side.along else "aslant to"
            reason = f'the joists of "{name}" run {how} the shared edge: {what}'
            return Refused(reason, f'turn the joists of "{name}" square to that edge')
    carrier = nearest_line(upper, ours.at)
    if carrier is None:
        return Refused(
            f'"{touch.upper}" has no beam line', f'a beam line of "{touch.upper}" along the shared edge'
        )
    hanging = _let_hang(plan, touch, theirs)
    index, _ = carrier
    drawn = Study(hanging)
    if not _refused(drawn):
        return Built(drawn)
    tries = [
        _with_edge_beam(hanging, touch, ours, index, style, build)
        for style, build in product(("flush", "drop"), ("auto", DEEPEST))
    ]
    found = next((tried for tried in tries if not _refused(tried)), None)
    return Built(found) if found is not None else _no_hanger(tries[0], touch)


def _let_hang(plan: Plan, touch: Touch, side: Side) -> Plan:
    """Let the lower level's joists hang at the edge in place of the beam line nearest to it, if that is near."""
    lower = plan.platform(touch.lower)
    supports = list(lower.supports)
    near = nearest_line(lower, side.at)
    if near is not None and abs(near[1].set_at - side.at) < side.frame.depth / 3:
        supports[near[0]] = Hung(kind="hung", on=touch.upper)
    else:
        supports.insert(0, Hung(kind="hung", on=touch.upper))
    return with_supports(plan, touch.lower, supports)


def _with_edge_beam(plan: Plan, touch: Touch, side: Side, index: int, style: str, build: str) -> Study:
    """Return the study with the upper level's beam at the edge, its face on it.

    The beam's thickness follows from its load, so that its line is set out once more when that is known.
    """

    def at(back: float) -> Study:
        offset = side.at + side.inward * back
        return Study(with_line(plan, touch.upper, index, offset=offset, style=style, build=build))

    first = at(THICK / 2)
    thick = next((m.width for m in first.layout.of(touch.upper, Kind.BEAM) if m.support == index), THICK)
    return first if thick == THICK else at(thick / 2)


def _refused(study: Study) -> str:
    """Return why joists cannot hang on the beam, or nothing where they can."""
    return next((c.reason for c in study.checks if c.rule == HUNG_RULE and c.verdict is Verdict.FAIL), "")


def _no_hanger(study: Study, touch: Touch) -> Refused:
    """Say why no beam at the edge takes the hangers, and within which drop one of the deepest would."""
    units = study.plan.units
    reason = _refused(study)
    below = study.layout.of(touch.lower, Kind.JOIST)
    above = study.layout.of(touch.upper, Kind.JOIST)
    if not below or not above:
        return Refused(reason, "joists on both sides")
    deep = read_size(DEEPEST).depth
    flush = max(0.0, deep - below[0].depth)
    low, high = above[0].depth, above[0].depth + flush
    return Refused(
        reason,
        f"a beam {format_short(deep, units)} deep takes joists of {format_short(below[0].depth, units)} where the "
        f"surfaces lie up to {format_short(flush, units)} apart (flush beam), or {format_short(low, units)} to "
        f"{format_short(high, units)} (drop beam); here it is {format_short(touch.drop, units)}",
    )
