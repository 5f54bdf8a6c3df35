"""Open sides of flights: where the treads stand too high over what lies beside them, a guard is required.

::

      deck ===+
              |__      |<-- look-out -->|
              :  |__                             Each tread is judged by itself, both its sides together: its height
              :  :  |__      ____                over the lowest walking surface or ground within the look-out of a
     _________:  :  :  |____/    \\___            side that is open, as the edge of a platform is.
"""

from __future__ import annotations

from shapely import box, union_all

from deckplan.layout.edges import (
    ARC,
    ROUND,
    Surface,
    behind_walls,
    closed_along,
    ground_about,
    lowest_of,
    open_part,
    surfaces_about,
)
from deckplan.layout.flight_frame import Axes, footprint
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Levels, Note, Rise
from deckplan.levels.places import outline_of
from deckplan.levels.terrain import FlatPiece
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Step, Verdict, at_most, not_applicable

OPEN_SIDE = "guard on the open sides of a flight"


def check_sides(
    plan: Plan, rise: Rise, levels: Levels, profile: Profile
) -> tuple[tuple[Check, ...], tuple[Note, ...]]:
    """Check how far a person falls from a flight's open sides, and say so where that asks for a guard.

    Sides are closed along house walls and beside platforms as high as the tread or up to a foot higher.

    Source: IRC R312.1.1 and its relatives, by the profile.
    """
    mark, trigger, units = flight_mark(rise.index), profile.guard_trigger_drop, plan.units
    if rise.rise <= 0 or rise.risers < 2:
        return (), ()
    found = _falls(plan, rise, levels, profile)
    if not found:
        reason = "no side of its treads is open"
        return (not_applicable(mark, OPEN_SIDE, trigger.source, reason),), ()
    drop, under, tread = max(found)
    within = f"within {format_short(profile.guard_lookout.value, units)} of an open side"
    step = Step("h", f"tread {tread} over the lowest of {under} {within}", "", "", drop, "in", trigger.source)
    check = at_most(mark, OPEN_SIDE, trigger.source, drop, trigger.value, "in", (step,))
    if check.verdict is Verdict.PASS:
        return (check,), ()
    high = format_short(profile.stair_guard_height.value, units)
    words = (
        f"its treads stand up to {format_short(drop, units)} over {under} {within}, more than "
        f"{format_short(trigger.value, units)}: a guard {high} high on its open sides ({trigger.source})"
    )
    stated = Check(
        mark,
        OPEN_SIDE,
        trigger.source,
        None,
        None,
        "",
        Verdict.PASS,
        (step,),
        False,
        "",
        f"required: {words}",
    )
    return (stated,), (Note("caution", f"{mark}: {words}"),)


def _falls(plan: Plan, rise: Rise, levels: Levels, profile: Profile) -> list[tuple[float, str, int]]:
    """Return the falls from a flight's treads, from the top down, as long as a lower tread can still fall farther."""
    axes, look = Axes.of(rise), profile.guard_lookout.value * ROUND + 1.0
    corners = [axes.site(s, q) for s in (-look, rise.width + look) for q in (-look, rise.run + look)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    ground = ground_about(plan, levels, profile)
    around = box(min(xs), min(ys), max(xs), max(ys))
    bare = lowest_of((Surface("the ground", ground),), around)
    lows = [bare[0]] if bare else []
    lows += [levels.elevation(p.name) for p in plan.platforms if outline_of(p).intersects(around)]
    others = [other for other in levels.flights if other.index != rise.index]
    lows += [other.bottom for other in others if footprint(other).intersects(around)]
    found: list[tuple[float, str, int]] = []
    bound = rise.top - rise.riser - min(lows)
    if bound <= profile.guard_trigger_drop.value:
        # even the lowest place anywhere about lies no deeper than the trigger under the highest tread
        return [(max(0.0, bound), "whatever lies about the flight", 1)]
    for count in range(1, rise.risers):
        deepest = rise.top - count * rise.riser - min(lows)
        if found and deepest <= max(found)[0]:
            break
        fall = _fall(plan, rise, levels, profile, count, ground)
        if fall is not None:
            found.append(fall)
    return found


def _fall(
    plan: Plan, rise: Rise, levels: Levels, profile: Profile, count: int, ground: tuple[FlatPiece, ...]
) -> tuple[float, str, int] | None:
    """Return how high a tread stands over the lowest place by its open sides [in], what lies there, and its count."""
    axes, here = Axes.of(rise), rise.top - count * rise.riser
    back, front = (count - 1) * rise.tread, count * rise.tread
    lines = [(axes.site(s, back), axes.site(s, front)) for s in (0.0, rise.width)]
    free = [open_part(line, closed_along(plan, levels, here, line)) for line in lines]
    free = [part for part in free if not part.is_empty]
    if not free:
        return None
    # the polygon holds the whole circle, so that nothing within the look-out is missed
    near = union_all([part.buffer(profile.guard_lookout.value * ROUND, quad_segs=ARC) for part in free])
    own = footprint(rise)
    if plan.house.walls:
        near = near.difference(behind_walls(plan, own, 4 * profile.guard_lookout.value))
    if near.is_empty:
        return None
    low = lowest_of(surfaces_about(plan, levels, own, here, near, ground), near)
    return None if low is None else (max(0.0, here - low[0]), low[1], count)
