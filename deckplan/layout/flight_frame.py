"""The frame of reference of one flight: along the edge, away from it, and pieces drawn in it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from shapely import Polygon

from deckplan.geometry import Point, unit
from deckplan.layout.model import Kind, Member
from deckplan.levels.box_steps import EXPOSED, PLY, Ends, board_widths
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Rise
from deckplan.plan.model import Decking
from deckplan.units import Units, format_short

# Members within this of a flight's edge and alongside it are what it is fixed to [in].
_AT_EDGE = 2.5


@dataclass(frozen=True, slots=True)
class Axes:
    """A flight's own axes: s along its edge from the start, q away from the edge on the way down [in]."""

    origin: Point
    along: Point
    away: Point

    @classmethod
    def of(cls, rise: Rise) -> Axes:
        """Return the axes of a flight."""
        return cls(rise.along[0], unit(*rise.along), rise.down)

    def site(self, s: float, q: float) -> Point:
        """Return a place on the site [in]."""
        x, y = self.origin
        return (x + self.along[0] * s + self.away[0] * q, y + self.along[1] * s + self.away[1] * q)

    def local(self, at: Point) -> tuple[float, float]:
        """Return a place of the site in the flight's axes [in]."""
        dx, dy = at[0] - self.origin[0], at[1] - self.origin[1]
        return (dx * self.along[0] + dy * self.along[1], dx * self.away[0] + dy * self.away[1])


@lru_cache(maxsize=64)
def footprint(rise: Rise) -> Polygon:
    """Return what a flight covers in plan [in]; drawn once for all that ask."""
    axes = Axes.of(rise)
    corners = ((0.0, 0.0), (rise.width, 0.0), (rise.width, rise.run), (0.0, rise.run))
    return Polygon([axes.site(s, q) for s, q in corners])


def rims_at(rise: Rise, members: tuple[Member, ...]) -> tuple[tuple[Member, float, float], ...]:
    """Return the pieces of the upper platform that lie along a flight's edge, each with its reach along it [in]."""
    axes = Axes.of(rise)
    found = []
    for member in members:
        if member.platform != rise.upper or member.kind not in (Kind.RIM, Kind.JOIST, Kind.BEAM):
            continue
        (s0, q0), (s1, q1) = axes.local(member.start), axes.local(member.end)
        if max(abs(q0), abs(q1)) <= _AT_EDGE and abs(s1 - s0) > PLY:
            found.append((member, min(s0, s1), max(s0, s1)))
    order = {Kind.RIM: 0, Kind.JOIST: 1}
    return tuple(sorted(found, key=lambda item: (order.get(item[0].kind, 2), item[1])))


def tread_boards(
    rise: Rise,
    count: int,
    start: float,
    depth: float,
    top: float,
    decking: Decking,
    fascia: float,
    units: Units,
    ends: Ends = EXPOSED,
) -> list[Member]:
    """Return the boards over one step, from its back to its front; marks run on from count [in].

    start: where its back is, from the edge; depth: from riser face to riser face; top: finished surface [in];
    units: those that the size is written in; ends: boards end over the fascia of an exposed end, over the whole corner
    where the box runs on past it, and against the other box's boards where it butts on them.
    """
    axes, mark = Axes.of(rise), flight_mark(rise.index)
    widths, nose = board_widths(depth, decking.width, decking.gap)
    found = []
    over = {"exposed": 0.0, "runs on": depth + fascia + nose, "butts": fascia - decking.gap}
    left, right = -over[ends.start], rise.width + over[ends.end]
    q = start + fascia + depth + nose  # from the front, so that what is ripped lies at the back
    for number, width in enumerate(widths):
        q -= width / 2
        found.append(
            Member(
                mark=f"{mark}-T{count + number + 1}",
                platform=mark,
                kind=Kind.TREAD,
                size=f"board {format_short(decking.thickness, units)} x {format_short(width, units)}",
                start=axes.site(left, q),
                end=axes.site(right, q),
                top=top,
                width=width,
                depth=decking.thickness,
            )
        )
        q -= width / 2 + decking.gap
    return found
