"""Ways in which two touching levels stand each on posts of their own: side by side, a step between, or set back."""

from __future__ import annotations

from deckplan.engineering.lumber import read_size
from deckplan.explore.changes import lines_of, nearest_line, with_line
from deckplan.explore.moved_back import stand_apart
from deckplan.explore.outcome import Built, Outcome, Refused, apart
from deckplan.explore.touching import Side, Touch
from deckplan.geometry import along
from deckplan.layout.supports import auto_post_count
from deckplan.plan.model import Flight, Plan
from deckplan.study import Study
from deckplan.units import format_short
from deckplan.verdict import Verdict

SET_BACK = 24
"""How far a post line stands back under an overhang at most [in]. Source: common practice."""

LEAST_BACK = 12
"""How far at least, else the overhang keeps no hole clear of the other level's [in]. Our own choice."""

STEP_WIDTH = 48.0
"""Width of a step that the plan does not have yet [in] (common practice)."""


def independent(study: Study, touch: Touch) -> Outcome:
    """Stand each level on its own posts."""
    return Built(stand_apart(study, touch))


def platform_step(study: Study, touch: Touch) -> Outcome:
    """Set a box step between two levels that stand each on its own posts."""
    most = study.profile.riser_max.value
    if touch.drop <= most:
        units = study.asked.units
        return Refused(
            f"the surfaces lie {format_short(touch.drop, units)} apart, no more than one riser: no step goes between",
            f"a step goes between where they lie more than {format_short(most, units)} apart",
        )
    plan = stand_apart(study, touch).asked
    both = {touch.upper, touch.lower}
    at = next((n for n, f in enumerate(plan.flights) if {f.upper, f.lower} == both), None)
    flights = list(plan.flights)
    if at is None:
        half = min(STEP_WIDTH, touch.length) / touch.length / 2
        stretch = (along(touch.edge, 0.5 - half), along(touch.edge, 0.5 + half))
        step = {"from": touch.upper, "to": touch.lower, "along": stretch, "kind": "box"}
        flights.append(Flight.model_validate(step))
    else:
        flights[at] = flights[at].model_copy(update={"kind": "box"})
    return Built(Study(plan.model_copy(update={"flights": tuple(flights)})))


def set_back(study: Study, touch: Touch) -> Outcome:
    """Stand the upper level's posts back from the edge, so that the lower level's stay clear of them.

    24 in, or the most in whole inches at which no overhang fails; 24 in again where none would do.
    """
    plan = apart(study, touch).asked
    most = _set_back(plan, touch, SET_BACK)
    if isinstance(most, Refused) or not _overhangs_too_far(most.study, touch.upper):
        return most
    least = _set_back(plan, touch, LEAST_BACK)
    if isinstance(least, Refused) or _overhangs_too_far(least.study, touch.upper):
        return most
    found, low, high = least, LEAST_BACK, SET_BACK  # it stands at low and fails at high
    while high - low > 1:
        middle = (low + high) // 2
        tried = _set_back(plan, touch, middle)
        if isinstance(tried, Refused) or _overhangs_too_far(tried.study, touch.upper):
            high = middle
        else:
            found, low = tried, middle
    return found


def _overhangs_too_far(study: Study, platform: str) -> bool:
    """Tell whether an overhang of a platform's joists or beams fails."""
    own = {member.mark for member in study.layout.of(platform)}
    return any("overhang" in c.rule and c.mark in own for c in study.checks if c.verdict is Verdict.FAIL)


def _set_back(plan: Plan, touch: Touch, back: int) -> Outcome:
    upper = plan.platform(touch.upper)
    side = Side.of(upper, touch.edge)
    if side.across:
        carrier = nearest_line(upper, side.at)
        if carrier is None:
            return Refused(f'"{touch.upper}" has no beam line', "a beam line near the shared edge")
        index, _ = carrier
        to = side.at + side.inward * back
        if not 0 < to < side.frame.depth:
            return Refused(f'"{touch.upper}" is no deeper than the overhang', "a deeper platform")
        return Built(Study(with_line(plan, touch.upper, index, offset=to, style="drop")))
    if not side.along:
        return Refused(
            f'the shared edge runs aslant to the joists of "{touch.upper}": no post line stands along it',
            f'turn the joists of "{touch.upper}" square to that edge',
        )
    width = read_size(plan.materials.post).thickness
    for index, line in lines_of(upper):
        for low, high in side.frame.across_at(line.set_at):
            length = high - low
            if min(abs(low - side.at), abs(high - side.at)) > 1.0 or length <= back + width:
                continue
            count = auto_post_count(length - back + width / 2, width)
            step = (length - back - width / 2) / (count - 1)
            first = width / 2 if side.inward < 0 else back
            posts = tuple(first + step * number for number in range(count))
            plan = with_line(plan, touch.upper, index, posts=posts)
    return Built(Study(plan))
