"""One level over another: do their frames clear each other, and can a person walk under the upper one?"""

from __future__ import annotations

from itertools import permutations
from typing import TYPE_CHECKING

from deckplan.layout.model import Kind, Layout
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, at_least, not_applicable

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

WALKED_UNDER = 36.0
"""Clear height under which nobody walks below a frame [in]: a crawl space. Source: common practice."""

SMALLEST = 144.0
"""Overlaps up to this area are crooked outlines, not one level over another [sq in]. Source: common practice."""

CLEAR = Source("Geometry", "two frames do not fill the same space", "derived")
CRAWL = Source("Common practice", "nobody walks under so low a frame", "common practice")
COLLIDE = "frames clear of each other"
HEADROOM = "headroom under the upper level"


def check_overlaps(plan: Plan, profile: Profile, levels: Levels, layout: Layout) -> list[Check]:
    """Check every pair of levels of which one lies over the other."""
    if len(plan.platforms) < 2:
        return []
    from shapely import Polygon, prepare

    shapes = {platform.name: Polygon(platform.outline).buffer(0) for platform in plan.platforms}
    for shape in shapes.values():
        prepare(shape)
    found: list[Check] = []
    for (i, lower), (j, upper) in permutations(enumerate(plan.platforms), 2):
        here, above = levels.elevation(lower.name), levels.elevation(upper.name)
        if above < here or (above == here and j < i):
            continue
        if not shapes[lower.name].intersects(shapes[upper.name]):
            continue
        common = shapes[lower.name].intersection(shapes[upper.name])
        if common.area > SMALLEST:
            found.append(_check(plan, profile, layout, lower, upper, (here, above), common))
    return found


def _check(
    plan: Plan,
    profile: Profile,
    layout: Layout,
    lower: Platform,
    upper: Platform,
    heights: tuple[float, float],
    common: BaseGeometry,
) -> Check:
    from shapely import LineString

    here, above = heights
    over = [
        m for m in layout.of(upper.name, Kind.JOIST, Kind.BEAM, Kind.RIM, Kind.LEDGER)
        if LineString(m.line).buffer(m.width / 2 + 0.1, cap_style="flat").intersects(common)
    ]  # fmt: skip
    lowest = min(over, key=lambda m: m.bottom, default=None)
    bottom = above - plan.materials.decking.thickness if lowest is None else lowest.bottom
    clear, units = bottom - here, plan.units
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
