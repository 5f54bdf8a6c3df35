"""Ways to stand two levels, each as a changed plan that a study then judges; or why it cannot be.

Nothing is decided here by rule of thumb: what the layout accepts is asked of the layout, by a study of the changed
plan.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum

from deckplan.explore.hung_joists import hung
from deckplan.explore.outcome import Outcome
from deckplan.explore.shared_posts import shared
from deckplan.explore.touching import Touch, touching
from deckplan.explore.ways_apart import independent, platform_step, set_back
from deckplan.explore.ways_over import lying_over, on_frame, through
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan
from deckplan.study import Study

Way = Callable[[Study, Touch], Outcome]


class Manner(StrEnum):
    """How two touching levels stand."""

    INDEPENDENT = "independent posts"
    SHARED = "shared post line"
    HUNG = "hung joists"
    STEP = "platform step"
    SET_BACK = "set-back under overhang"
    THROUGH = "posts through to the ground"
    ON_FRAME = "posts on the lower frame"


WAYS: dict[Manner, Way] = {
    Manner.INDEPENDENT: independent,
    Manner.SHARED: shared,
    Manner.HUNG: hung,
    Manner.STEP: platform_step,
    Manner.SET_BACK: set_back,
}
"""Every way for two levels side by side, in the order in which it is shown."""

WAYS_OVER: dict[Manner, Way] = {Manner.THROUGH: through, Manner.ON_FRAME: on_frame}
"""Every way for a level that lies over another."""


def pairs(plan: Plan, levels: Levels) -> tuple[Touch, ...]:
    """Return every pair of platforms that there is a choice for: those that touch, then those that lie over one."""
    return (*touching(plan, levels), *lying_over(plan, levels))


def ways_of(touch: Touch) -> dict[Manner, Way]:
    """Return the ways that a pair can stand."""
    return WAYS_OVER if touch.over else WAYS
