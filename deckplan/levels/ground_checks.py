"""What the ground says under each post and landing: measured or not, too steep or not."""

from __future__ import annotations

from collections.abc import Iterable

from deckplan.geometry import Point
from deckplan.levels.model import Ground, Note
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, at_most, outside


def check_ground(places: Iterable[tuple[str, Point]], ground: Ground, profile: Profile) -> tuple[Check, ...]:
    """Check the ground's slope under marks: steeper than the profile's limit is outside its rules.

    places: mark and place [in] each, posts and landings alike.
    """
    limit = profile.ground_slope_max
    found = []
    for mark, at in places:
        slope = ground.slope_at(at)
        if slope > limit.value:
            reason = f"the ground falls {slope:.2f} in 1 here, over {limit.value:g}: an engineer's matter"
            found.append(
                outside(
                    mark,
                    "ground slope",
                    limit.source,
                    reason,
                    demand=slope,
                    capacity=limit.value,
                    unit="in/in",
                )
            )
        else:
            found.append(at_most(mark, "ground slope", limit.source, slope, limit.value, "in/in"))
    return tuple(found)


def unmeasured(places: Iterable[tuple[str, Point]], ground: Ground) -> tuple[Note, ...]:
    """Ask for a measurement under every mark that stands where nobody measured."""
    marks = [mark for mark, at in places if not ground.measured_at(at)]
    if not marks:
        return ()
    return (
        Note("ask", f"measure the ground under {', '.join(marks)}: the nearest measured height is taken"),
    )
