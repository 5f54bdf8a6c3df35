"""Where each footing goes, for people with a tape: from a base line, and from two corners by the diagonals.

::

      corner 1 ---------------- along ------.---------- corner 2      house wall
              `  .                          |        .  '
                    `  .   from corner 1    | out .  '  from corner 2
                          `   .             |. '
                                 `  .   .  'o  footing

Two tapes that meet fix a point without a square angle; the distances along and out check it. All are taken level.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from deckplan.geometry import Line, Point, distance, point_to_line, unit
from deckplan.plan.model import Plan


class Placed(Protocol):
    """Anything with a mark and a place in plan [in]."""

    @property
    def mark(self) -> str:
        """Its mark."""
        ...

    @property
    def at(self) -> Point:
        """Its middle in plan [in]."""
        ...


@dataclass(frozen=True, slots=True)
class BaseLine:
    """What is measured from: two corners in plan [in], of the house where there is one.

    of: the wall's name, or the platform's; house: whether they are the house's corners.
    """

    first: Point
    second: Point
    of: str
    house: bool

    @property
    def length(self) -> float:
        """Distance between the corners [in]."""
        return distance(self.first, self.second)


@dataclass(frozen=True, slots=True)
class Staked:
    """One place as it is taped [in]: along the base line from corner 1, square out from it, from each corner."""

    mark: str
    along: float
    out: float
    from_first: float
    from_second: float


def base_line(plan: Plan) -> BaseLine | None:
    """Return the two corners to tape from, or None for a plan without a wall or a platform.

    The corners are the ends of the stretch of house wall nearest to the platforms, the longest among those alike; where
    there is no house, the ends of the first platform's longest edge, which is set out first.
    """
    corners = [corner for platform in plan.platforms for corner in platform.outline]
    found: list[tuple[float, float, str, Line]] = []
    for wall in plan.house.walls:
        for stretch in zip(wall.line, wall.line[1:], strict=False):
            if stretch[0] != stretch[1]:
                near = min((point_to_line(corner, stretch) for corner in corners), default=0.0)
                found.append((round(near), -distance(*stretch), wall.name, stretch))
    if found:
        _, _, name, line = min(found, key=lambda one: one[:2])
        return BaseLine(*_ordered(line, corners), name, True)
    if not plan.platforms:
        return None
    first = plan.platforms[0]
    edges = list(zip(first.outline, (*first.outline[1:], first.outline[0]), strict=True))
    # the edge that the fewest corners lie behind: everything is then measured to one side
    line = min(edges, key=lambda edge: (_behind(edge, corners), -distance(*edge)))
    return BaseLine(*_ordered(line, corners), first.name, False)


def _behind(edge: Line, corners: Iterable[Point]) -> int:
    sides = [_out(edge, corner) for corner in corners]
    return min(sum(side < -0.5 for side in sides), sum(side > 0.5 for side in sides))


def _ordered(line: Line, corners: Iterable[Point]) -> Line:
    """Return a line with the platforms on its left, so that what is measured out is positive."""
    return line if sum(_out(line, corner) for corner in corners) >= 0 else (line[1], line[0])


def _out(line: Line, at: Point) -> float:
    """Return how far a point lies to the left of a line [in]."""
    (dx, dy), (x, y) = unit(*line), line[0]
    return -(at[0] - x) * dy + (at[1] - y) * dx


def stake_out(base: BaseLine, places: Iterable[Placed]) -> tuple[Staked, ...]:
    """Return each place as it is taped from the base line and its two corners.

    Source: Pythagoras; taping from two points is common practice.

    >>> from types import SimpleNamespace
    >>> stake_out(BaseLine((0, 0), (225, 0), "house", True), [SimpleNamespace(mark="A-F1", at=(144, 108))])
    (Staked(mark='A-F1', along=144.0, out=108.0, from_first=180.0, from_second=135.0),)
    """
    (dx, dy), (x, y) = unit(base.first, base.second), base.first
    return tuple(
        Staked(
            place.mark,
            (place.at[0] - x) * dx + (place.at[1] - y) * dy,
            _out((base.first, base.second), place.at),
            distance(base.first, place.at),
            distance(base.second, place.at),
        )
        for place in places
    )
