"""Blocking under the boards of the lower platform, for the angles of a box step to bite into."""

from __future__ import annotations

import math
from dataclasses import dataclass

from deckplan.geometry import Line, Point, cross, distance, middle
from deckplan.layout.frame import Frame
from deckplan.layout.model import Kind, Member

# Farthest that blocking spans between two joists [in]: beyond, its ends are not where the joists are.
_LONGEST = 60.0
_NEAR_JOIST = 1.25


@dataclass(frozen=True, slots=True)
class Bed:
    """Where one angle lands: a piece of blocking between two members, or the member that it lands on."""

    start: Point
    end: Point
    between: tuple[Member, Member]


def level_frame(members: tuple[Member, ...], platform: str) -> tuple[Member, ...]:
    """Return what blocking can be set between in a platform: joists, rims, whatever lies in the joists' plane."""
    kinds = (Kind.JOIST, Kind.RIM, Kind.LEDGER, Kind.BEAM)
    near = [m for m in members if m.platform == platform and m.kind in kinds]
    top = max((m.top for m in near if m.kind is Kind.JOIST), default=0.0)
    return tuple(member for member in near if abs(member.top - top) < 0.5)


def crossing(at: Point, way: Point, member: Member) -> tuple[float, float] | None:
    """Return how far along a way from a point a member is crossed [in], and the sine between them; None: it is not."""
    (x0, y0), (x1, y1) = member.start, member.end
    mx, my = x1 - x0, y1 - y0
    length = math.hypot(mx, my)
    cross = (way[0] * my - way[1] * mx) / length
    if abs(cross) < 0.5 - 1e-3:  # flatter than 30 degrees: it runs alongside
        return None
    t = ((x0 - at[0]) * my - (y0 - at[1]) * mx) / (cross * length)
    share = ((at[0] + way[0] * t - x0) * mx + (at[1] + way[1] * t - y0) * my) / length**2
    return (t, abs(cross)) if -1e-6 <= share <= 1 + 1e-6 else None


def bed_between(at: Point, way: Point, frame: tuple[Member, ...], floor: Frame) -> Bed | None:
    """Return the piece that fits along a way through a point, between the next members on both sides.

    floor: the platform's outline and openings. None: no member on a side, or floor is missing between the two.
    """
    crossed = [(found, member) for member in frame if (found := crossing(at, way, member))]
    before = max((item for item in crossed if item[0][0] <= 0), key=lambda item: item[0][0], default=None)
    behind = min((item for item in crossed if item[0][0] > 0), key=lambda item: item[0][0], default=None)
    if not before or not behind:
        return None
    (t0, sine0), one = before
    (t1, sine1), other = behind
    if t1 - t0 > _LONGEST:
        return None
    low, high = t0 + one.width / 2 / sine0, t1 - other.width / 2 / sine1
    if high - low < 1.0:
        return None
    start = (at[0] + way[0] * low, at[1] + way[1] * low)
    end = (at[0] + way[0] * high, at[1] + way[1] * high)
    return Bed(start, end, (one, other)) if on_floor((start, end), floor) else None


def on_floor(line: Line, floor: Frame) -> bool:
    """Tell whether a stretch of line lies on a platform, across no edge of it and no opening."""
    start, end = floor.local(line[0]), floor.local(line[1])
    u, v = middle((start, end))
    return any(low < v < high for low, high in floor.wood_at(u)) and not any(
        cross((start, end), edge) for edge in floor.edges
    )


def clear_of_joists(at: Point, frame: tuple[Member, ...], way: Point) -> bool:
    """Tell whether a place lies beside the joists that a row of blocking meets, not over one."""
    return all(
        found is None or abs(found[0]) * found[1] >= _NEAR_JOIST
        for member in frame
        for found in (crossing(at, way, member),)
    )


def bed_for(at: Point, frame: tuple[Member, ...], floor: Frame, along_edge: Point, away: Point) -> Bed | None:
    """Return the blocking that an angle at a place needs between the members of the lower platform's frame.

    A row along the step's edge where the joists run across it; a piece square to that where they run with
    it. None where no two members stand on both sides.
    """
    for way in (along_edge, away):
        found = bed_between(at, way, frame, floor)
        if found:
            return found
    return None


def blocking_members(beds: list[Bed], letter: str, taken: int) -> list[Member]:
    """Return the pieces of blocking, each once, as members of the lower platform; marks run on from `taken`."""
    found: list[Member] = []
    for bed in beds:
        joist = bed.between[0]
        centre = middle((bed.start, bed.end))
        if any(distance(middle(piece.line), centre) < 0.01 for piece in found):
            continue
        found.append(
            Member(
                mark=f"{letter}-K{taken + len(found) + 1}",
                platform=joist.platform,
                kind=Kind.BLOCKING,
                size=joist.size,
                start=bed.start,
                end=bed.end,
                top=joist.top,
                width=joist.width,
                depth=joist.depth,
            )
        )
    return found
