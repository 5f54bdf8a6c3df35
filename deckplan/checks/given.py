"""What the plan was given to work with: loads under the code's, flights where the house stands."""

from __future__ import annotations

from deckplan.geometry import Point, along, cross
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Levels, Rise
from deckplan.levels.places import TOUCH
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Verdict, at_least

GEOMETRY = Source("geometry of the plan", "", "derived")

INTO = 12.0
"""A flight that stands this far behind a wall runs into the house [in]."""


def check_given(plan: Plan, profile: Profile, levels: Levels) -> list[Check]:
    """Check the live load against the rules' least, and every flight against the house walls."""
    found: list[Check] = []
    live = plan.site.live_load
    if live is not None:
        least = profile.live_load
        reason = f"site.live_load: {live:g} psf is under the {least.value:g} psf of {least.source}"
        found += [
            at_least(
                each.name, "live load of the rules", least.source, live, least.value, "psf", reason=reason
            )
            for each in plan.platforms
        ]
    found += [check for rise in levels.flights if (check := _into_house(plan, rise))]
    return found


def _into_house(plan: Plan, rise: Rise) -> Check | None:
    """Say where a flight from a platform runs through a wall; one from a door comes out of it."""
    if plan.door(rise.upper) is not None or rise.rise <= 0:
        return None
    for wall in plan.house.walls:
        for a, b in zip(wall.line, wall.line[1:], strict=False):
            if _crosses(rise, a, b):
                reason = f'{flight_mark(rise.index)} runs into wall "{wall.name}": leave the platform by another edge'
                mark = flight_mark(rise.index)
                return Check(
                    mark, "flight clear of the house", GEOMETRY, None, None, "", Verdict.FAIL, reason=reason
                )
    return None


def _crosses(rise: Rise, a: Point, b: Point) -> bool:
    """Tell whether a flight's way, from just inside its edge to its landing, crosses a stretch of wall.

    Its middle is followed, and its two sides, an inch and a half in from them.
    """
    reach, inset = max(rise.run, INTO), min(0.5, TOUCH / rise.width)
    for share in (inset, 0.5, 1.0 - inset):
        x, y = along(rise.along, share)
        start = (x - rise.down[0], y - rise.down[1])
        end = (start[0] + rise.down[0] * (reach + 1.0), start[1] + rise.down[1] * (reach + 1.0))
        if cross((start, end), (a, b)):
            return True
    return False
