"""What a platform stands on: its ledger on the house, its beam lines clipped to the outline, their posts."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from deckplan.layout.frame import ON_LINE, Frame, Interval
from deckplan.plan.model import BeamLine, House, Ledger, Platform

# An edge this close to a wall's line lies on it [in]: what a tape and a crooked wall leave open.
AT_WALL = 1.0

LONGEST_AUTO_SPAN = 96.0
"""Longest beam span that "auto" posts are set for [in]. Source: common practice (posts 6 to 8 ft apart)."""


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """A ledger in the frame: stretch of u [in] on the edge at v [in]; low: the edge at the joists' lower end."""

    support: int
    wall: str
    reach: Interval
    v: float
    low: bool


@dataclass(frozen=True, slots=True)
class BeamStretch:
    """A beam in the frame: its centre line at v [in] over a stretch of u [in] inside the outline.

    places: where its posts stand, from its lower end [in], where it is one piece of a longer line, else None: as the
    line says; spliced: whether its lower and its upper end meet the next piece over a post.
    """

    support: int
    line: BeamLine
    v: float
    reach: Interval
    places: tuple[float, ...] | None = None
    spliced: tuple[bool, bool] = (False, False)


def find_ledger(frame: Frame, house: House, index: int, ledger: Ledger) -> tuple[LedgerLine, ...]:
    """Find the edges of a platform that lie on the ledger's wall, square to the joists."""
    wall = next((wall for wall in house.walls if wall.name == ledger.wall), None)
    if wall is None:
        return ()
    stretches = [(a, b) for a, b in pairwise(wall.line)]
    found = []
    for (u0, v0), (u1, v1) in frame.edges:
        if abs(v1 - v0) > ON_LINE or abs(u1 - u0) <= ON_LINE:
            continue
        for a, b in stretches:
            (ua, va), (ub, vb) = frame.local(a), frame.local(b)
            if max(abs(va - v0), abs(vb - v0)) > AT_WALL:
                continue
            low, high = max(min(u0, u1), min(ua, ub)), min(max(u0, u1), max(ua, ub))
            if high - low > ON_LINE:
                inside = any(lo < v0 + 1.0 < hi for lo, hi in frame.along_at((low + high) / 2))
                found.append(LedgerLine(index, ledger.wall, (low, high), v0, inside))
    return tuple(found)


def find_beams(frame: Frame, index: int, line: BeamLine) -> tuple[BeamStretch, ...]:
    """Clip a beam line to the outline; an outline with bays gives more than one stretch."""
    return tuple(BeamStretch(index, line, line.offset, reach) for reach in frame.across_at(line.offset))


def auto_post_count(length: float, post: float) -> int:
    """Return how many posts an "auto" beam of that length [in] gets on posts that wide [in].

    Source: common practice, spans of at most `LONGEST_AUTO_SPAN`; end posts stand flush with the beam's ends.
    """
    return max(1, math.ceil((length - post - ON_LINE) / LONGEST_AUTO_SPAN)) + 1


def post_places(line: BeamLine, length: float, post: float) -> tuple[float, ...]:
    """Return where posts stand along a beam [in], from its lower end to the post's centre."""
    if isinstance(line.posts, tuple):
        return tuple(sorted(at for at in line.posts if -ON_LINE <= at <= length + ON_LINE))
    count = auto_post_count(length, post) if line.posts == "auto" else line.posts
    if count == 1 or length <= post:
        return (length / 2,)
    clear = length - post
    return tuple(post / 2 + clear * i / (count - 1) for i in range(count))


def cut_to_stock(stretch: BeamStretch, post: float, stock: float) -> tuple[BeamStretch, ...]:
    """Cut a beam line that is longer than stock [in] into pieces that meet over posts: as few as stock allows.

    post [in]: width of the posts. Where no post stands within a length of stock the piece stays too long, and the
    checks say so. Source: IRC 2018 R507.5: splices over posts only.
    """
    low, high = stretch.reach
    length = high - low
    if length <= stock:
        return (stretch,)
    places = post_places(stretch.line, length, post)
    cuts = [0.0]
    while length - cuts[-1] > stock + ON_LINE:
        ahead = [at for at in places if cuts[-1] + post < at <= cuts[-1] + stock and at < length - post]
        if not ahead:
            break
        cuts.append(ahead[-1])
    cuts.append(length)
    last = len(cuts) - 2
    return tuple(
        replace(
            stretch,
            reach=(low + start, low + end),
            places=tuple(at - start for at in places if start - ON_LINE <= at <= end + ON_LINE),
            spliced=(number > 0, number < last),
        )
        for number, (start, end) in enumerate(pairwise(cuts))
    )


def beams_of(frame: Frame, platform: Platform) -> tuple[BeamStretch, ...]:
    """Return every beam stretch of a platform, by support, then across."""
    return tuple(
        stretch
        for index, support in enumerate(platform.supports)
        if isinstance(support, BeamLine)
        for stretch in find_beams(frame, index, support)
    )
