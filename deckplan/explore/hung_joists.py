"""Joists of the lower level hung on the upper one's beam, that beam moved to the edge where it has to be."""

from __future__ import annotations

import math
from itertools import product

from deckplan.engineering.lumber import read_size
from deckplan.explore.changes import nearest_line, with_line
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
    carrier = nearest_line(upper, ours.at)
    against = [_askew(side, name, what) for side, name, what in (
        (theirs, touch.lower, "no joist ends there"), (ours, touch.upper, "no beam can lie along it"),
    ) if not side.across]  # fmt: skip
    if carrier is None:
        against.append(Refused(f'"{touch.upper}" has no beam line', f'a beam line of "{touch.upper}" there'))
    if carrier is None or against:
        reason, remedy = (
            "; ".join(words) for words in zip(*((o.reason, o.remedy) for o in against), strict=True)
        )
        return Refused(reason, remedy if carrier is None else f"{remedy}: {_once_turned(study, plan, touch)}")
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


def _askew(side: Side, name: str, what: str) -> Refused:
    """Say that a platform's joists do not run square to the shared edge."""
    how = "along" if side.along else "aslant to"
    return Refused(
        f'the joists of "{name}" run {how} the shared edge: {what}',
        f'turn the joists of "{name}" square to that edge',
    )


def _once_turned(study: Study, plan: Plan, touch: Touch) -> str:
    """Say what comes of hanging the joists once those of both levels run square to the edge, all else as it is."""
    (x0, y0), (x1, y1) = touch.edge
    degrees = math.degrees(math.atan2(y1 - y0, x1 - x0)) % 180.0
    direction: str | float = {0.0: "y", 90.0: "x"}.get(degrees, (degrees + 90.0) % 180.0)
    turned = tuple(
        one.model_copy(update={"joists": one.joists.model_copy(update={"direction": direction})})
        if one.name in (touch.upper, touch.lower) and not Side.of(one, touch.edge).across
        else one
        for one in plan.platforms
    )
    found = hung(Study(plan.model_copy(update={"platforms": turned})), touch)
    if isinstance(found, Refused):
        return f"computed, and even then {found.reason}"
    known = {check.rule for check in study.checks if check.verdict is Verdict.FAIL}
    new = [c for c in found.study.checks if c.verdict is Verdict.FAIL and c.rule not in known]
    failing = list({check.rule: check.reason or check.rule for check in reversed(new)}.values())[::-1]
    if not failing:
        return "computed, the joists then hang there"
    more = f" (and {len(failing) - 1} more rules)" if len(failing) > 1 else ""
    return f"computed, but with the supports as they are that plan fails: {failing[0]}{more}"


def _let_hang(plan: Plan, touch: Touch, side: Side) -> Plan:
    """Let the lower level's joists hang at the edge in place of the beam line nearest to it, if that is near."""
    lower = plan.platform(touch.lower)
    supports = list(lower.supports)
    near = nearest_line(lower, side.at)
    if near is not None and abs(near[1].set_at - side.at) < side.frame.depth / 3:
        supports[near[0]] = Hung(kind="hung", on=touch.upper)
    else:
        supports.insert(0, Hung(kind="hung", on=touch.upper))
    return plan.with_supports(touch.lower, supports)


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
