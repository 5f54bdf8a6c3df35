"""The upright plane of a connection detail: where it stands, what it cuts, what runs in it, how much is shown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from deckplan.draw.scene import Box
from deckplan.draw.subject import Subject
from deckplan.geometry import Point, unit
from deckplan.layout.model import Bearing, Kind, Member, Post
from deckplan.loads.model import Loads

BEYOND, BACK = 26.0, 16.0
"""How much is shown along the carried piece and to the other side of the bearing [in]."""

ACROSS = 18.0
"""How much is shown to either side of a beam that is looked at along itself [in]."""

BELOW = 14.0
"""How much of a post is shown under the lowest piece on it [in]."""

FOOTING_SHOWN = 8.0
"""How much of a pier is shown under a post that stands on it in sight, before it is broken off [in]."""

WOOD = (Kind.JOIST, Kind.BEAM, Kind.RIM, Kind.LEDGER, Kind.HEADER)


class Loaded(Subject, Protocol):
    """A subject whose loads are traced. A study is one."""

    @property
    def loads(self) -> Loads:
        """The demand on each mark and the way it takes."""
        ...


@dataclass(frozen=True, slots=True)
class Plane:
    """The upright plane along a piece, from the place where it bears: a point [in] and the way along the piece.

    back, beyond: how far it is shown to the left and to the right of that place [in].
    """

    at: Point
    way: Point
    back: float = -BACK
    beyond: float = BEYOND

    @classmethod
    def of(cls, member: Member, bearing: Bearing) -> Plane:
        """Stand the plane along a member, looking from the bearing towards the longer part of it."""
        way = unit(member.start, member.end)
        if bearing.at > member.length / 2:
            way = (-way[0], -way[1])
        return cls(member.point(bearing.at), way)

    @classmethod
    def across(cls, member: Member, bearing: Bearing, way: Point) -> Plane:
        """Stand the plane square to a member, so that one looks along it; way: what is to the right."""
        return cls(member.point(bearing.at), way, -ACROSS, ACROSS)

    def along(self, point: Point) -> float:
        """Return how far a point lies along the plane from the bearing [in]."""
        return (point[0] - self.at[0]) * self.way[0] + (point[1] - self.at[1]) * self.way[1]

    def point(self, along: float) -> Point:
        """Return the place in plan [in] of what lies that far along the plane [in]."""
        return self.at[0] + along * self.way[0], self.at[1] + along * self.way[1]

    def aside(self, point: Point) -> float:
        """Return how far a point lies beside the plane [in]."""
        return (point[0] - self.at[0]) * self.way[1] - (point[1] - self.at[1]) * self.way[0]

    def meets(self, member: Member) -> tuple[float, float] | None:
        """Return where a member that runs across is cut, its near and far face [in]; None for one that is not."""
        a, b = self.aside(member.start), self.aside(member.end)
        if member.length == 0 or abs(b - a) < 0.5 * member.length or not min(a, b) <= 0.1 <= max(a, b) + 0.2:
            return None
        s0, s1 = self.along(member.start), self.along(member.end)
        middle = s0 + (s1 - s0) * -a / (b - a)
        half = member.width * member.length / abs(b - a) / 2
        return middle - half, middle + half

    def within(self, member: Member) -> tuple[float, float] | None:
        """Return the stretch along the plane of a member that runs in it [in]; None for one that does not."""
        a, b = self.aside(member.start), self.aside(member.end)
        if abs(b - a) > 0.1 * member.length or abs(a + b) / 2 > member.width / 2 + 0.8:
            return None
        low, high = sorted((self.along(member.start), self.along(member.end)))
        return low, high


def core_of(study: Subject, piece: Member, carrier: Member | Post | object, plane: Plane) -> Box:
    """Return the window of the detail: the piece, what carries it, what stands on the same post."""
    tops, lows = [piece.top], [piece.bottom]
    if isinstance(carrier, Member):
        tops.append(carrier.top)
        lows.append(carrier.bottom)
    if isinstance(carrier, Post):
        over = [m for m in study.layout.members if any(b.on == carrier.mark for b in m.bearings)]
        tops += [m.top for m in over]
        lows += [m.bottom for m in over]
        lows = [max(min(lows) - BELOW, min(carrier.bottom - FOOTING_SHOWN, min(lows) - 4.0))]
    tops += [
        m.top
        for m in study.layout.members
        if m.kind in WOOD and (face := plane.meets(m)) is not None and plane.back < face[0] < plane.beyond
    ]
    board = study.plan.materials.decking.thickness
    return Box(plane.back, min(lows) - 2.0, plane.beyond, max(tops) + board + 1.0)
