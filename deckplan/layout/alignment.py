"""Where the marks of joists begin, so that joists of levels that meet end to end stand in line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise

from deckplan.geometry import Point, area, distance
from deckplan.layout.frame import ON_LINE, Frame
from deckplan.levels.model import Note
from deckplan.plan.model import Plan, Platform
from deckplan.units import format_short

MEETING = 6.0
"""Outlines that leave no more than this between them meet [in]: rims, fascias and the boards' overhang lie there."""

LEAST_SHARED = 6.0
"""Two levels meet end to end where they share at least this much edge across their joists [in]."""

IN_LINE = 1 / 16
"""Joists this close to one line stand in it [in]: no tape is read finer."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two platforms that meet end to end, by their places in the plan, over so much edge [in]."""

    one: int
    other: int
    shared: float


def starts_of(plan: Plan) -> tuple[float, ...]:
    """Return for each platform where its marks on centre begin [in], from its lower edge across the joists.

    As the plan says; with "auto" at the lower edge, or so that its joists stand in line with those of as many platforms
    as can be that it meets end to end: all of them under one spacing, every second one at 12 against 24 in.

    Source: common practice: boards, hangers and blocking line up across levels.
    """
    return _starts(plan, *_meetings(plan))


def _starts(plan: Plan, frames: Sequence[Frame], meetings: Sequence[Meeting]) -> tuple[float, ...]:
    spacings = [one.joists.spacing for one in plan.platforms]
    firm = {
        at: one.joists.start % one.joists.spacing
        for at, one in enumerate(plan.platforms)
        if one.joists.start != "auto"
    }
    ties: dict[int, dict[int, float]] = {at: {} for at in range(len(frames))}
    for pair in meetings:
        if _can_line_up(plan, frames, pair):
            ties[pair.one][pair.other] = ties[pair.other][pair.one] = pair.shared
    while len(firm) < len(frames):
        # next comes the one that shares most with those that stand firm, else the first in the plan
        at = max(
            (k for k in range(len(frames)) if k not in firm),
            key=lambda k: (sum(shared for other, shared in ties[k].items() if other in firm), -k),
        )
        near = {other: shared for other, shared in ties[at].items() if other in firm}
        wishes = [0.0]
        for other in near:
            apart = frames[other].low[0] + firm[other] - frames[at].low[0]
            count = max(1, round(spacings[at] / spacings[other]))
            wishes += [(apart + k * spacings[other]) % spacings[at] for k in range(count)]

        def pleased(start: float, at: int = at, near: dict[int, float] = near) -> float:
            return sum(
                shared
                for other, shared in near.items()
                if _off_line(plan, frames, (at, start), (other, firm[other])) <= IN_LINE
            )

        best = max(wishes, key=pleased)
        firm[at] = 0.0 if min(best, spacings[at] - best) <= 1e-3 else best
    return tuple(firm[at] for at in range(len(frames)))


def alignment_notes(plan: Plan) -> tuple[Note, ...]:
    """Say of every two levels that meet end to end and whose joists do not stand in line why, and what would help."""
    frames, meetings = _meetings(plan)
    starts = _starts(plan, frames, meetings)
    found: list[Note] = []
    for pair in meetings:
        first, second = plan.platforms[pair.one], plan.platforms[pair.other]
        both = f'joists of "{first.name}" and "{second.name}" meet but'
        if not _parallel(frames[pair.one], frames[pair.other]):
            found.append(Note("advice", f"{both} run in different directions: they do not stand in line"))
        elif not _can_line_up(plan, frames, pair):
            spaced = f"{first.joists.spacing:g} in and {second.joists.spacing:g} in"
            found.append(Note("advice", f"{both} are spaced {spaced}: they do not stand in line"))
        else:
            ends = (pair.one, starts[pair.one]), (pair.other, starts[pair.other])
            off = _off_line(plan, frames, *ends)
            if off > IN_LINE:
                text = f"{both} stand {format_short(off, plan.units)} off one line: {_remedy(plan, frames, *ends)}"
                found.append(Note("advice", text))
    return tuple(found)


def _remedy(plan: Plan, frames: Sequence[Frame], one: tuple[int, float], other: tuple[int, float]) -> str:
    """Name the start that lines two platforms up, of one whose start the plan gives; one: place in the plan, start."""
    for (at, start), (to, _) in ((one, other), (other, one)):
        moved = plan.platforms[to]
        if moved.joists.start != "auto":
            wanted = (frames[at].low[0] + start - frames[to].low[0]) % moved.joists.spacing
            said = format_short(wanted, plan.units)
            return f'a joists.start of {said} in "{moved.name}" lines them up'
    return "other levels that both meet hold them there"


def _meetings(plan: Plan) -> tuple[list[Frame], list[Meeting]]:
    """Return every platform's frame, and which of them meet end to end."""
    frames = [Frame.of(platform) for platform in plan.platforms]
    boxes = [_box(platform) for platform in plan.platforms]
    found = []
    for a, b in combinations(range(len(frames)), 2):
        (x0, y0, x1, y1), (x2, y2, x3, y3) = boxes[a], boxes[b]
        if max(x0, x2) > min(x1, x3) + MEETING or max(y0, y2) > min(y1, y3) + MEETING:
            continue
        shared = shared_end(frames[a], frames[b])
        if shared:
            found.append(Meeting(a, b, shared))
    return frames, found


def _box(platform: Platform) -> tuple[float, float, float, float]:
    xs, ys = zip(*platform.outline, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _parallel(one: Frame, other: Frame) -> bool:
    return abs(one.along[0] * other.along[1] - one.along[1] * other.along[0]) <= 1e-9


def _can_line_up(plan: Plan, frames: Sequence[Frame], pair: Meeting) -> bool:
    """Tell whether two platforms' joists run the same way, at one spacing or at a multiple of it."""
    if not _parallel(frames[pair.one], frames[pair.other]):
        return False
    low, high = sorted(plan.platforms[at].joists.spacing for at in (pair.one, pair.other))
    return abs(high / low - round(high / low)) * low <= ON_LINE * 10


def _off_line(plan: Plan, frames: Sequence[Frame], one: tuple[int, float], other: tuple[int, float]) -> float:
    """Return how far the joists of two platforms with their starts [in] stand off one line [in]."""
    fine = min(plan.platforms[at].joists.spacing for at in (one[0], other[0]))
    apart = (frames[one[0]].low[0] + one[1] - frames[other[0]].low[0] - other[1]) % fine
    return min(apart, fine - apart)


@lru_cache(maxsize=256)
def shared_end(one: Frame, other: Frame) -> float:
    """Return the length of edge [in] that two platforms share across the joists of the first; 0 where there is none.

    Their surfaces lie on both sides of it, up to `MEETING` apart.
    """
    total = 0.0
    theirs = [one.local(other.site(*corner)) for corner in other.corners]
    # edges that run against each other have their surfaces on both sides
    turn = 1.0 if area(one.corners) * area(tuple(theirs)) > 0 else -1.0
    for a, b in one.edges:
        if abs(b[1] - a[1]) > abs(b[0] - a[0]):
            continue
        for c, d in pairwise([*theirs, theirs[0]]):
            if ((b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1])) * turn < 0:
                total += overlap(a, b, c, d)
    return total if total >= LEAST_SHARED else 0.0


def overlap(a: Point, b: Point, c: Point, d: Point) -> float:
    """Return how much [in] of two nearly parallel edges that meet lies side by side."""
    length = distance(a, b)
    if length <= ON_LINE:
        return 0.0
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    off = [(p[0] - a[0]) * uy - (p[1] - a[1]) * ux for p in (c, d)]
    if max(abs(by) for by in off) > MEETING or abs(off[0] - off[1]) > 0.05 * distance(c, d) + 1.5:
        return 0.0
    along = sorted((p[0] - a[0]) * ux + (p[1] - a[1]) * uy for p in (c, d))
    return max(0.0, min(length, along[1]) - max(0.0, along[0]))
