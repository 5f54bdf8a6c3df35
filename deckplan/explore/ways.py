"""Five ways to stand two touching levels, each as a changed plan that a study then judges; or why it cannot be.

Nothing is decided here by rule of thumb: what the layout accepts is asked of the layout, by a study of the changed
plan.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum

from deckplan.explore.hung_joists import hung
from deckplan.explore.outcome import Outcome
from deckplan.explore.shared_posts import shared
from deckplan.explore.touching import Touch
from deckplan.explore.ways_apart import independent, platform_step, set_back
from deckplan.study import Study

Way = Callable[[Study, Touch], Outcome]


class Manner(StrEnum):
    """How two touching levels stand."""

    INDEPENDENT = "independent posts"
    SHARED = "shared post line"
    HUNG = "hung joists"
    STEP = "platform step"
    SET_BACK = "set-back under overhang"


WAYS: dict[Manner, Way] = {
    Manner.INDEPENDENT: independent,
    Manner.SHARED: shared,
    Manner.HUNG: hung,
    Manner.STEP: platform_step,
    Manner.SET_BACK: set_back,
}
"""Every way, in the order in which it is shown."""
