"""Which pieces want treatment for ground contact: those near the ground, and the posts, which are hard to replace."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from deckplan.geometry import Point
from deckplan.layout.model import Kind, Layout
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.ground import NEAR, Surface
from deckplan.levels.model import Ground, Levels
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, at_least

Treatment = Literal["ground contact", "above ground"]

DRY = Source("Common practice", "wood clear of the ground", "common practice")


NAMED = 6
"""So many marks, or runs of marks, a reason names."""


@dataclass(frozen=True, slots=True)
class Clearance:
    """How far a piece's underside stays above the ground [in], and the treatment that follows."""

    mark: str
    platform: str
    clear: float
    treatment: Treatment


def elevations(ground: Ground, places: Sequence[Point]) -> list[float]:
    """Return the ground's elevations [in] at many places: the same as one by one, in a tenth of the time."""
    if not isinstance(ground, Surface) or not places:
        return [ground.elevation_at(place) for place in places]
    import numpy as np

    x, y = np.array(places).T
    found = np.full(len(places), np.nan)
    for triangle in ground.triangles:
        turns = [
            ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
            for (ax, ay), (bx, by) in triangle.edges
        ]
        low, high = np.minimum.reduce(turns), np.maximum.reduce(turns)
        inside = np.isnan(found) & ((low >= -NEAR) | (high <= NEAR))
        (x0, y0), (gx, gy) = triangle.corners[0], triangle.gradient
        found[inside] = (triangle.height + gx * (x - x0) + gy * (y - y0))[inside]
    # outside the measured points the nearest one counts, which the ground itself knows
    return [
        ground.elevation_at(place) if np.isnan(z) else float(z)
        for place, z in zip(places, found, strict=True)
    ]


def find_clearances(profile: Profile, levels: Levels, layout: Layout) -> tuple[Clearance, ...]:
    """Return the clearance and treatment of every framing member, post and step frame.

    Clear over the highest ground at the member's ends and middle; one that slopes, at its lower end. A post's foot
    stands at the ground and cannot be changed without taking the deck apart: ground contact, always.
    """
    limit = profile.ground_contact_clearance.value
    members = [m for m in layout.members if m.kind not in (Kind.BOARD, Kind.TREAD)]
    middles = [((m.start[0] + m.end[0]) / 2, (m.start[1] + m.end[1]) / 2) for m in members]
    places = [*(m.start for m in members), *middles, *(m.end for m in members)]
    heights = elevations(levels.ground, places)
    count = len(members)
    feet = {flight_mark(rise.index): rise.bottom for rise in levels.flights}
    found = []
    for number, member in enumerate(members):
        below = heights[number::count]
        # one that slopes comes nearest at its lower end; a stringer is cut off level where its flight lands
        lowest = max(member.bottom - member.drop, feet.get(member.platform, -math.inf))
        clear = lowest - below[-1] if member.drop else member.bottom - max(below)
        treatment: Treatment = "ground contact" if clear < limit else "above ground"
        found.append(Clearance(member.mark, member.platform, clear, treatment))
    found += [Clearance(post.mark, post.platform, 0.0, "ground contact") for post in layout.posts]
    return tuple(found)


def treatments(profile: Profile, levels: Levels, layout: Layout) -> dict[str, Treatment]:
    """Return the treatment that each mark asks for, for tables and drawings."""
    return {found.mark: found.treatment for found in find_clearances(profile, levels, layout)}


@dataclass(frozen=True, slots=True)
class Alike:
    """Pieces of one platform or flight, of one kind, size and treatment.

    marks; low, high [in]: the least and the most that stays clear under one; of: how many such pieces there are in all,
    whatever their treatment.
    """

    where: str
    kind: Kind
    size: str
    treatment: Treatment
    marks: tuple[str, ...]
    low: float
    high: float
    of: int


def alike(profile: Profile, levels: Levels, layout: Layout) -> tuple[Alike, ...]:
    """Return the frame by platform or flight, kind, size and treatment; each place together, as the layout has them."""
    groups: dict[tuple[str, Kind, str, Treatment], list[Clearance]] = {}
    counts: Counter[tuple[str, Kind, str]] = Counter()
    posts = {post.mark: post.size for post in layout.posts}
    members = {member.mark: member for member in layout.members}
    for found in find_clearances(profile, levels, layout):
        is_post = found.mark in posts
        kind = Kind.POST if is_post else members[found.mark].kind
        size = posts[found.mark] if is_post else members[found.mark].size
        groups.setdefault((found.platform, kind, size, found.treatment), []).append(found)
        counts[(found.platform, kind, size)] += 1
    places = list(dict.fromkeys(where for where, *_ in groups))
    return tuple(
        Alike(where, kind, size, treatment, tuple(one.mark for one in those),
              min(one.clear for one in those), max(one.clear for one in those), counts[(where, kind, size)])
        for (where, kind, size, treatment), those in sorted(groups.items(), key=lambda one: places.index(one[0][0]))
    )  # fmt: skip


def marks_in_words(marks: Sequence[str]) -> str:
    """Name marks, those that follow each other by the first and the last.

    >>> marks_in_words(["A-J1", "A-J2", "A-J3", "A-J7", "A-B1"])
    'A-J1 to A-J3, A-J7, A-B1'
    """
    runs: list[list[str]] = []
    for mark in marks:
        if runs and _number(mark) == (_number(runs[-1][-1])[0], _number(runs[-1][-1])[1] + 1):
            runs[-1].append(mark)
        else:
            runs.append([mark])
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs)


def _number(mark: str) -> tuple[str, int]:
    lead = mark.rstrip("0123456789")
    return lead, int(mark[len(lead) :] or 0)


def check_ground_contact(plan: Plan, profile: Profile, levels: Levels, layout: Layout) -> list[Check]:
    """Check that each platform's frame stays out of the ground; the reason says what wants ground-contact wood."""
    limit = profile.ground_contact_clearance
    by_platform: dict[str, list[Clearance]] = {platform.name: [] for platform in plan.platforms}
    posts = {post.mark for post in layout.posts}
    for clearance in find_clearances(profile, levels, layout):
        if clearance.platform in by_platform and clearance.mark not in posts:
            by_platform[clearance.platform].append(clearance)
    found: list[Check] = []
    for name, those in by_platform.items():
        if those:
            found.append(_check(plan, name, those, limit.value, limit.source))
    return found


def _check(plan: Plan, name: str, those: list[Clearance], limit: float, source: Source) -> Check:
    lowest = min(those, key=lambda c: c.clear)
    near = [c.mark for c in those if c.treatment == "ground contact"]
    units = plan.units
    step = Step("c", f"clearance under {lowest.mark}, the lowest", "", "", lowest.clear, "in", DRY)
    least = Step("c min", "clearance from which above-ground treatment does", "", "", limit, "in", source)
    buried = (
        f'"{name}": {lowest.mark} lies {format_short(-lowest.clear, units)} in the ground: raise the level, use '
        f"shallower joists or flush beams, or dig the ground away"
    )
    check = at_least(
        name, "frame clear of the ground", DRY, lowest.clear, 0.0, "in", (step, least), reason=buried
    )
    if check.reason or not near:
        return check
    runs = marks_in_words(near).split(", ")
    named = ", ".join(runs[:NAMED]) + (" and more, see the treatment plan" if len(runs) > NAMED else "")
    reason = (
        f"required: ground-contact treatment for {named}, within {format_short(limit, units)} of the ground"
    )
    return replace(check, reason=reason)
