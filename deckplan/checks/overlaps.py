"""One level over another: do their frames clear each other, and can a person walk under the upper one?"""

from __future__ import annotations

from deckplan.layout.model import Layout
from deckplan.layout.over import Over, levels_over
from deckplan.levels.model import Levels, Note
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, at_least, not_applicable

WALKED_UNDER = 36.0
"""Clear height under which nobody walks below a frame [in]: a crawl space. Source: common practice."""

CLEAR = Source("Geometry", "two frames do not fill the same space", "derived")
CRAWL = Source("Common practice", "nobody walks under so low a frame", "common practice")
COLLIDE = "frames clear of each other"
HEADROOM = "headroom under the upper level"


def check_overlaps(plan: Plan, profile: Profile, levels: Levels, layout: Layout) -> list[Check]:
    """Check every pair of levels of which one lies over the other."""
    return [_check(plan, profile, over) for over in levels_over(plan, levels, layout)]


def low_notes(plan: Plan, levels: Levels, layout: Layout) -> list[Note]:
    """Say of levels that leave less than a crawl space over another that the lower one ends there for a person."""
    return [
        Note(
            "advice",
            f'"{over.upper.name}" leaves {format_short(over.clear, plan.units)} clear over "{over.lower.name}", too '
            f'low to walk under: for a person "{over.lower.name}" ends there',
        )
        for over in levels_over(plan, levels, layout)
        if 0 <= over.clear < WALKED_UNDER
    ]


def _check(plan: Plan, profile: Profile, over: Over) -> Check:
    lower, upper, lowest, bottom, here = over.lower, over.upper, over.lowest, over.bottom, over.surface
    clear, units = over.clear, plan.units
    mark = upper.name
    words = lowest.mark if lowest else f'the boards of "{upper.name}"'
    step = Step(
        "c",
        f'from "{lower.name}" up to {words}',
        "underside − surface",
        f"{bottom:.5g} − {here:.5g}",
        clear,
        "in",
        CLEAR,
    )
    limit = profile.headroom_min
    if clear < 0:
        reason = (
            f'"{upper.name}" lies over "{lower.name}" and its {words} reaches {format_short(-clear, units)} into it: '
            f"cut the lower outline back, or part the levels"
        )
        return at_least(mark, COLLIDE, CLEAR, clear, 0.0, "in", (step,), reason=reason)
    if clear < WALKED_UNDER:
        reason = (
            f'"{upper.name}" lies {format_short(clear, units)} over "{lower.name}": too low to walk under, '
            f"so the lower one ends there for a person"
        )
        return not_applicable(mark, HEADROOM, CRAWL, reason)
    reason = (
        f'under {words} of "{upper.name}" {format_short(clear, units)} are clear over "{lower.name}", '
        f"{format_short(limit.value, units)} is asked where people walk"
    )
    return at_least(mark, HEADROOM, limit.source, clear, limit.value, "in", (step,), reason=reason)
