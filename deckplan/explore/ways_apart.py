"""Ways in which two touching levels stand each on posts of their own: side by side, a step between, or set back."""

from __future__ import annotations

from deckplan.engineering.lumber import read_size
from deckplan.explore.changes import lines_of, nearest_line, with_line
from deckplan.explore.outcome import Built, Outcome, Refused, apart
from deckplan.explore.touching import Side, Touch
from deckplan.geometry import along
from deckplan.layout.supports import auto_post_count
from deckplan.plan.model import Flight
from deckplan.study import Study
from deckplan.units import format_short

SET_BACK = 24.0
"""How far a post line stands back under an overhang [in]. Source: common practice."""

STEP_WIDTH = 48.0
"""Width of a step that the plan does not have yet [in] (common practice)."""


def independent(study: Study, touch: Touch) -> Outcome:
    """Stand each level on its own posts."""
    return Built(apart(study, touch))


def platform_step(study: Study, touch: Touch) -> Outcome:
    """Set a box step between two levels that stand each on its own posts."""
    most = study.profile.riser_max.value
    if touch.drop <= most:
        units = study.asked.units
        return Refused(
            f"the surfaces lie {format_short(touch.drop, units)} apart, no more than one riser: no step goes between",
            f"a step goes between where they lie more than {format_short(most, units)} apart",
        )
    plan = apart(study, touch).asked
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
    """Stand the upper level's posts 24 in back from the edge, so that the lower level's stay clear of them."""
    plan = apart(study, touch).asked
    upper = plan.platform(touch.upper)
    side = Side.of(upper, touch.edge)
    if side.across:
        carrier = nearest_line(upper, side.at)
        if carrier is None:
            return Refused(f'"{touch.upper}" has no beam line', "a beam line near the shared edge")
        index, _ = carrier
        to = side.at + side.inward * SET_BACK
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
            if min(abs(low - side.at), abs(high - side.at)) > 1.0 or length <= SET_BACK + width:
                continue
            count = auto_post_count(length - SET_BACK + width / 2, width)
            step = (length - SET_BACK - width / 2) / (count - 1)
            first = width / 2 if side.inward < 0 else SET_BACK
            posts = tuple(first + step * number for number in range(count))
            plan = with_line(plan, touch.upper, index, posts=posts)
    return Built(Study(plan))
