"""Where the marks of joists begin, so that joists of levels that meet end to end stand in line."""

from __future__ import annotations

from itertools import combinations, pairwise

from deckplan.geometry import Point, distance
from deckplan.layout.frame import ON_LINE, Frame
from deckplan.levels.model import Note
from deckplan.plan.model import Plan, Platform

# Outlines drawn this close are meant to touch [in]: rims and fascias lie between.
TOUCHING = 1.5

# Two levels meet end to end where they share at least this much edge across their joists [in].
LEAST_SHARED = 6.0


def starts_of(plan: Plan) -> tuple[float, ...]:
    """Return for each platform where its marks on centre begin [in], from its lower edge across the joists.

    As the plan says; with "auto" at the lower edge, or in line with the joists of an earlier platform that it meets end
    to end under the same direction and spacing.

    Source: common practice: boards, hangers and blocking line up across levels.
    """
    frames = [Frame.of(platform) for platform in plan.platforms]
    starts: list[float] = []
    for index, platform in enumerate(plan.platforms):
        if platform.joists.start != "auto":
            starts.append(platform.joists.start % platform.joists.spacing)
            continue
        start = 0.0
        for earlier in range(index):
            other = plan.platforms[earlier]
            if _alike(platform, frames[index], other, frames[earlier]) and shared_end(
                frames[index], frames[earlier]
            ):
                offset = _across(frames[earlier]) + starts[earlier] - _across(frames[index])
                start = offset % platform.joists.spacing
                break
        starts.append(0.0 if min(start, platform.joists.spacing - start) <= 1e-3 else start)
    return tuple(starts)


def alignment_notes(plan: Plan) -> tuple[Note, ...]:
    """Say where levels meet end to end and their joists cannot line up."""
    frames = [Frame.of(platform) for platform in plan.platforms]
    found: list[Note] = []
    for a, b in combinations(range(len(frames)), 2):
        first, second = plan.platforms[a], plan.platforms[b]
        if not shared_end(frames[a], frames[b]) or _alike(first, frames[a], second, frames[b]):
            continue
        if not _parallel(frames[a], frames[b]):
            why = "run in different directions"
        else:
            why = f"are spaced {first.joists.spacing:g} in and {second.joists.spacing:g} in"
        found.append(
            Note(
                "advice",
                f'joists of "{first.name}" and "{second.name}" meet but {why}: they do not stand in line',
            )
        )
    return tuple(found)


def _across(frame: Frame) -> float:
    """Return the site coordinate across the joists at which a platform begins [in]."""
    return frame.low[0]


def _parallel(one: Frame, other: Frame) -> bool:
    return abs(one.along[0] * other.along[1] - one.along[1] * other.along[0]) <= 1e-9


def _alike(platform: Platform, frame: Frame, other: Platform, theirs: Frame) -> bool:
    """Tell whether two platforms' joists run the same way at the same spacing."""
    return _parallel(frame, theirs) and abs(platform.joists.spacing - other.joists.spacing) <= ON_LINE


def shared_end(one: Frame, other: Frame) -> float:
    """Return the length of edge [in] that two platforms share across the joists of the first; 0 where there is none."""
    total = 0.0
    outline = [other.site(*corner) for corner in other.corners]
    theirs = [one.local(place) for place in outline]
    for a, b in one.edges:
        if abs(b[1] - a[1]) > abs(b[0] - a[0]):
            continue
        for c, d in pairwise([*theirs, theirs[0]]):
            total += _overlap(a, b, c, d)
    return total if total >= LEAST_SHARED else 0.0


def _overlap(a: Point, b: Point, c: Point, d: Point) -> float:
    """Return how much [in] of two nearly parallel, touching edges lies side by side."""
    length = distance(a, b)
    if length <= ON_LINE:
        return 0.0
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    off = [abs((p[0] - a[0]) * uy - (p[1] - a[1]) * ux) for p in (c, d)]
    if max(off) > TOUCHING:
        return 0.0
    along = sorted((p[0] - a[0]) * ux + (p[1] - a[1]) * uy for p in (c, d))
    return max(0.0, min(length, along[1]) - max(0.0, along[0]))
