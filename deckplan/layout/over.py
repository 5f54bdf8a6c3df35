"""One level over another: what of them lies over each other, and how much stays clear between them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import permutations
from typing import TYPE_CHECKING

from deckplan.layout.model import Kind, Layout, Member
from deckplan.levels.model import Levels
from deckplan.levels.places import whole
from deckplan.plan.model import Plan, Platform

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

SMALLEST = 144.0
"""Overlaps up to this area are crooked outlines, not one level over another [sq in]. Source: common practice."""


@dataclass(frozen=True, slots=True)
class Over:
    """Two levels of which one lies over the other.

    common: where they do, in plan [in]; lowest: the lowest member over it, None where only boards lie there;
    surface: elevation of the lower level [in]; bottom: elevation of what lies lowest over it [in].
    """

    lower: Platform
    upper: Platform
    common: BaseGeometry
    lowest: Member | None
    surface: float
    bottom: float

    @property
    def clear(self) -> float:
        """Clear height between them [in]; negative where the upper frame reaches into the lower level."""
        return self.bottom - self.surface


def overlapping(plan: Plan, levels: Levels) -> list[tuple[Platform, Platform, BaseGeometry]]:
    """Return every pair of levels of which one lies over the other: the lower, the upper, where they do in plan [in].

    Of two levels at one height the later in the plan counts as the upper.
    """
    if len(plan.platforms) < 2:
        return []
    shapes = {platform.name: whole(platform.outline) for platform in plan.platforms}
    found: list[tuple[Platform, Platform, BaseGeometry]] = []
    for (i, lower), (j, upper) in permutations(enumerate(plan.platforms), 2):
        here, above = levels.elevation(lower.name), levels.elevation(upper.name)
        if above < here or (above == here and j < i):
            continue
        if not shapes[lower.name].intersects(shapes[upper.name]):
            continue
        common = shapes[lower.name].intersection(shapes[upper.name])
        if common.area > SMALLEST:
            found.append((lower, upper, common))
    return found


def levels_over(plan: Plan, levels: Levels, layout: Layout) -> list[Over]:
    """Return every pair of levels of which one lies over the other, with what stays clear between them."""
    found: list[Over] = []
    for lower, upper, common in overlapping(plan, levels):
        lowest = lowest_over(layout, upper.name, common)
        boards = levels.elevation(upper.name) - plan.materials.decking.thickness
        bottom = boards if lowest is None else lowest.bottom
        found.append(Over(lower, upper, common, lowest, levels.elevation(lower.name), bottom))
    return found


def lowest_over(layout: Layout, upper: str, common: BaseGeometry) -> Member | None:
    """Return the lowest member of a level's frame over an area."""
    from shapely import LineString

    over = [
        m for m in layout.of(upper, Kind.JOIST, Kind.BEAM, Kind.RIM, Kind.LEDGER)
        if LineString(m.line).buffer(m.width / 2 + 0.1, cap_style="flat").intersects(common)
    ]  # fmt: skip
    return min(over, key=lambda m: m.bottom, default=None)
