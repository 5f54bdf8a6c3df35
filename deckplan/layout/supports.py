"""What a platform stands on: its ledger on the house, its beam lines clipped to the outline, their posts."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from deckplan.geometry import Point, distance, point_to_line
from deckplan.layout.frame import ON_LINE, Frame, Interval, Run
from deckplan.plan.model import BeamLine, House, Ledger

# An edge this close to a wall's line lies on it [in]: what a tape and a crooked wall leave open.
AT_WALL = 1.0

SAME_SLOPE = 1e-6
"""Lines that rise by no more than this differ in nothing [1]."""

SLANT_NEAR = 0.01
"""An edge this close to a beam's end is the one that it ends at [in]."""

LEAST_SINE = 0.2
"""Edges flatter to a beam than by this sine run along it, and do not end it [1]."""

LONGEST_AUTO_SPAN = 96.0
"""Longest beam span that "auto" posts are set for [in]. Source: common practice (posts 6 to 8 ft apart)."""


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """A ledger in the frame: stretch of u [in] on an edge along a run; low: the edge at the joists' lower end."""

    support: int
    wall: str
    reach: Interval
    run: Run
    low: bool


@dataclass(frozen=True, slots=True)
class BeamStretch:
    """A beam in the frame: its centre line on a run over a stretch of u [in] inside the outline.

    wood: the stretch of u that its centre line takes as a piece [in], shorter than its reach where it ends on a rim, a
    ledger or another beam; slants: at its lower and upper end, by how much an edge there leans, along the beam for each
    inch across it towards higher v [1]; hung_on: marks of the beams of its platform that it hangs on at its ends;
    places: where its posts stand, from its lower end [in], where it is one piece of a longer line, else None: as the
    line says; spliced: whether its lower and its upper end meet the next piece over a post.
    """

    support: int
    line: BeamLine
    run: Run
    reach: Interval
    wood: Interval
    slants: tuple[float, float] = (0.0, 0.0)
    hung_on: tuple[str, str] = ("", "")
    places: tuple[float, ...] | None = None
    spliced: tuple[bool, bool] = (False, False)

    @property
    def length(self) -> float:
        """Its true length as a piece [in], along its centre line."""
        return (self.wood[1] - self.wood[0]) * self.run.secant


def find_ledger(frame: Frame, house: House, index: int, ledger: Ledger) -> tuple[LedgerLine, ...]:
    """Find the edges of a platform that lie on the ledger's wall, flatter to its joists than `LEAST_ANGLE` not."""
    wall = next((wall for wall in house.walls if wall.name == ledger.wall), None)
    if wall is None:
        return ()
    return tuple(
        LedgerLine(index, ledger.wall, reach, run, low)
        for a, b in pairwise(wall.line)
        for reach, run, low in along_edges(frame, a, b, AT_WALL)
    )


def along_edges(frame: Frame, a: Point, b: Point, near: float) -> Iterator[tuple[Interval, Run, bool]]:
    """Yield where the edges of a platform lie along a line from a to b on the site, no farther off than `near` [in].

    Each with the stretch of u [in], the edge's run, and whether it is the edge at the joists' lower end.
    """
    (ua, va), (ub, vb) = frame.local(a), frame.local(b)
    for (u0, v0), (u1, v1) in frame.edges:
        run = Run.through((u0, v0), (u1, v1))
        if run is None or max(run.off(ua, va), run.off(ub, vb)) > near:
            continue
        low, high = max(min(u0, u1), min(ua, ub)), min(max(u0, u1), max(ua, ub))
        if high - low > ON_LINE:
            yield (low, high), run, lower_end(frame, run, (low + high) / 2)


def lower_end(frame: Frame, run: Run, u: float) -> bool:
    """Tell whether an edge is where joists at u begin, not where they end."""
    return any(low < run.at(u) + 1.0 < high for low, high in frame.along_at(u))


def run_of(frame: Frame, line: BeamLine) -> Run | None:
    """Return where a beam line runs in the frame; None where it says nothing, or lies too flat along the joists."""
    if line.line is not None:
        return Run.through(frame.local(line.line[0]), frame.local(line.line[1]))
    return None if line.offset is None else Run(line.offset)


def find_beams(frame: Frame, index: int, line: BeamLine, width: float) -> tuple[BeamStretch, ...]:
    """Clip a beam line to the outline; an outline with bays gives more than one stretch.

    width [in]: of the beam; one whose line, as two points give it, lies nearer to an edge stands inside that edge.
    """
    run = run_of(frame, line)
    if run is None:
        return ()
    if line.line is not None:
        run = _inside_edges(frame, run, width)
    return tuple(
        BeamStretch(
            index, line, run, reach, reach, (_slant(frame, run, reach[0]), _slant(frame, run, reach[1]))
        )
        for reach in frame.across_on(run)
    )


def _inside_edges(frame: Frame, run: Run, width: float) -> Run:
    """Move a line [in] that lies on an edge, or nearer to it than half a beam's width, to where the beam is inside."""
    for a, b in frame.edges:
        edge = Run.through(a, b)
        if edge is None or abs(edge.slope - run.slope) > SAME_SLOPE:
            continue
        middle = (a[0] + b[0]) / 2
        if edge.off(middle, run.at(middle)) < width / 2:
            inward = 1.0 if lower_end(frame, edge, middle) else -1.0
            return Run(edge.v + inward * width / 2 * edge.secant, edge.slope)
    return run


@lru_cache(maxsize=256)
def _slant(frame: Frame, run: Run, u: float) -> float:
    """Return by how much the edge at a beam's end leans, along the beam for each inch across it; 0 for a square end."""
    worst = 0.0
    for (u0, v0), (u1, v1) in frame.edges:
        length = distance((u0, v0), (u1, v1))
        if point_to_line((u, run.at(u)), ((u0, v0), (u1, v1))) > SLANT_NEAR or length <= ON_LINE:
            continue
        lean = lean_of(run, ((u1 - u0) / length, (v1 - v0) / length))
        if lean is not None and abs(lean) > abs(worst):
            worst = lean
    return worst if abs(worst) > SAME_SLOPE else 0.0


def lean_of(run: Run, way: Point) -> float | None:
    """Return how far a line along a unit vector leans from square to a run: along it for each inch across [1].

    None where the line runs beside it.
    """
    along = (1.0 / run.secant, run.slope / run.secant)
    across = along[0] * way[1] - along[1] * way[0]
    return (along[0] * way[0] + along[1] * way[1]) / across if abs(across) > LEAST_SINE else None


def auto_post_count(length: float, post: float) -> int:
    """Return how many posts an "auto" beam of that length [in] gets on posts that wide [in].

    Source: common practice, spans of at most `LONGEST_AUTO_SPAN`; end posts stand flush with the beam's ends.
    """
    return max(1, math.ceil((length - post - ON_LINE) / LONGEST_AUTO_SPAN)) + 1


def post_places(
    line: BeamLine, length: float, post: float, slants: tuple[float, float] = (0.0, 0.0)
) -> tuple[float, ...]:
    """Return where posts stand along a beam [in], from its lower end to the post's centre.

    slants [1]: how its ends' edges lean (`BeamStretch`); an end post stands back until all of it is inside.
    """
    if isinstance(line.posts, tuple):
        return tuple(sorted(at for at in line.posts if -ON_LINE <= at <= length + ON_LINE))
    first, last = (post / 2 * (1.0 + abs(slant)) for slant in slants)
    clear = length - first - last
    count = auto_post_count(clear + post, post) if line.posts == "auto" else line.posts
    if count == 1 or clear <= 0:
        return (length / 2,)
    return tuple(first + clear * i / (count - 1) for i in range(count))


def cut_to_stock(stretch: BeamStretch, post: float, stock: float) -> tuple[BeamStretch, ...]:
    """Cut a beam line that is longer than stock [in] into pieces that meet over posts: as few as stock allows.

    post [in]: width of the posts. Where no post stands within a length of stock the piece stays too long, and the
    checks say so. Source: IRC 2018 R507.5: splices over posts only.
    """
    length = stretch.length
    if length <= stock:
        return (stretch,)
    places = post_places(stretch.line, length, post, stretch.slants)
    cuts = [0.0]
    while length - cuts[-1] > stock + ON_LINE:
        ahead = [at for at in places if cuts[-1] + post < at <= cuts[-1] + stock and at < length - post]
        if not ahead:
            break
        cuts.append(ahead[-1])
    cuts.append(length)
    last = len(cuts) - 2
    ends = [stretch.wood[0] + at / stretch.run.secant for at in cuts]
    return tuple(
        replace(
            stretch,
            reach=(stretch.reach[0] if number == 0 else low, stretch.reach[1] if number == last else high),
            wood=(low, high),
            slants=(stretch.slants[0] if number == 0 else 0.0, stretch.slants[1] if number == last else 0.0),
            hung_on=(stretch.hung_on[0] if number == 0 else "", stretch.hung_on[1] if number == last else ""),
            places=tuple(at - start for at in places if start - ON_LINE <= at <= end + ON_LINE),
            spliced=(number > 0, number < last),
        )
        for number, ((start, end), (low, high)) in enumerate(zip(pairwise(cuts), pairwise(ends), strict=True))
    )
