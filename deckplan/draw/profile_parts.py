"""Parts that sections and side views share: ground, footings, posts, steps, tags of levels."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from deckplan.draw.draft import Draft
from deckplan.draw.post_shape import post_outline
from deckplan.draw.scene import Box, Role, text_box
from deckplan.draw.shapes import rectangle
from deckplan.draw.subject import SizedFooting, Subject
from deckplan.geometry import Point
from deckplan.layout.model import Member, Post
from deckplan.levels.model import Rise
from deckplan.levels.risers import risers_in_words

STEPS = 24
"""In how many stretches the ground is drawn."""


def ground_at(study: Subject, walk: Point, axis: int, spot: float) -> float:
    """Return the ground's elevation [in] under a spot of a line along y (axis 0) or x (axis 1)."""
    return study.levels.ground.elevation_at((walk[0], spot) if axis == 0 else (spot, walk[1]))


def sill_of(study: Subject) -> float | None:
    """Return the elevation of the highest door sill [in], or None where the house has no door."""
    return max((door.sill for door in study.plan.house.doors), default=None)


def draw_ground(
    draft: Draft, study: Subject, across: Callable[[Point], float], walk: Point, core: Box, frost: float
) -> None:
    """Draw the ground along a line, the earth under it, and the frost line where there is frost."""
    axis = 0 if across((0.0, 1.0)) else 1
    reach = 2.5 * draft.letter
    left, right = core.left - reach, core.right + reach
    spots = [left + (right - left) * i / STEPS for i in range(STEPS + 1)]
    line = [(spot, ground_at(study, walk, axis, spot)) for spot in spots]
    deep = 1.1 * draft.letter
    draft.area((*line, *((x, z - deep) for x, z in reversed(line))), Role.EARTH)
    draft.stroke(line, Role.GROUND)
    if frost > 0:
        draft.stroke([(x, z - frost) for x, z in line], Role.FROST)
        x, z = line[-2]
        text = f"frost line {draft.figure(frost)} down"
        start = right - 0.5 * text_box(text, (0, 0), draft.letter).width
        places = [(start, z - frost + s * 0.9 * draft.letter) for s in (1, -1)]
        draft.wish(text, (x, z - frost), places, Role.NOTE, plate=True, needed=draft.sheet.full, urgency=5)


def footing_of(study: Subject, mark: str) -> SizedFooting | None:
    """Return the sized footing of that mark, or None where it has none of its own."""
    return next((one for one in study.footings if one.mark == mark), None)


def draw_post(
    draft: Draft, study: Subject, post: Post, at: float, role: Role, across: Point, *, foot: bool = True
) -> None:
    """Draw a post at a place along the line [in] and the footing under it; across: unit vector of the line in plan.

    foot: whether its footing is drawn with it, which a post before it on the same footing may have brought already.
    A tongue seen from its front or back is drawn by itself: before the beam or after it.
    """
    footing = footing_of(study, post.footing)
    if footing is not None and foot:
        off = (footing.at[0] - post.at[0]) * across[0] + (footing.at[1] - post.at[1]) * across[1]
        draw_footing(draft, footing, at + off, post.bottom)
    half = post.width / 2
    draft.area(post_outline(post, at, across), role, post.mark)
    if draft.sheet.full and post.height > 2 * draft.letter:
        off = half + 0.5 * text_box(post.mark, (0, 0), draft.letter).width + 0.3 * draft.letter
        middle = (post.bottom + post.top) / 2
        places = [(at + off, middle), (at - off, middle)]
        draft.wish(post.mark, (at, middle), places, Role.MARK, post.mark, plate=True, needed=False, urgency=2)


def draw_footing(draft: Draft, footing: SizedFooting, at: float, top: float) -> None:
    """Draw a footing at a place along the line, up to an elevation [in], with its mark and diameter."""
    half = footing.diameter / 2
    draft.area(rectangle(at - half, footing.bottom, at + half, top), Role.CONCRETE, footing.mark)
    if not draft.sheet.full:
        return
    text = f"{footing.mark}\n{draft.short(footing.diameter)} dia."
    places = [(at, footing.bottom + (top - footing.bottom) * share) for share in (0.3, 0.5)]
    places.append((at, footing.bottom - 1.5 * draft.letter))
    draft.wish(text, (at, footing.bottom), places, Role.MARK, footing.mark, plate=True, urgency=3)


def level_tag(draft: Draft, text: str, at: Point, reach: tuple[float, float], mark: str) -> None:
    """Draw the tag of a finished level: a small triangle that stands on the surface, its text above."""
    (x, z), h = at, draft.letter
    draft.area(((x, z), (x - 0.45 * h, z + 0.8 * h), (x + 0.45 * h, z + 0.8 * h)), Role.LEVEL, mark)
    draft.ground.solids.append(Box(x - 0.45 * h, z, x + 0.45 * h, z + 0.8 * h))
    low, high = reach
    places = [(x, z + up * h) for up in (1.7, 3.0, 4.3)]
    places += [(low + (high - low) * s, z + 1.7 * h) for s in (0.35, 0.65)]
    draft.wish(text, at, places, Role.LEVEL, mark, size=1.15, plate=True, urgency=9)


def step_profile(rise: Rise, start: float, way: float) -> list[Point]:
    """Return the profile of a flight [in] from its upper edge at `start` down; way: 1 right, -1 left."""
    points: list[Point] = [(start, rise.top)]
    for step in range(1, rise.risers + 1):
        z = rise.top - step * rise.riser
        x = start + way * (step - 1) * rise.tread
        points.append((x, z))
        if step < rise.risers:
            points.append((x + way * rise.tread, z))
    return points


def stringer_outline(rise: Rise, start: float, way: float, board: float, depth: float) -> list[Point]:
    """Return the outline of a cut stringer [in], its back at `start`; way: 1 to the right, -1 to the left.

    ::

        (start)---1          1, 2: outer corners, one board under the finished treads
           |      |---2      the lower edge runs a plank's depth square below the line through them
           |          |      the last corner stands a riser less a board above the landing
             `--------|
    """
    slope = rise.riser / rise.tread
    drop = depth * math.hypot(1.0, slope)
    upper = [(u, z - board) for u, z in ((abs(x - start), z) for x, z in step_profile(rise, start, way))]
    corners = upper[1:-1]  # from the back at the first tread to the front of the last
    if not corners:
        return [(start, rise.bottom)] * 3
    first = rise.top - rise.riser - board

    def lower(u: float) -> float:
        return first - slope * (u - rise.tread) - drop

    outline = [*corners, (corners[-1][0], rise.bottom)]
    meets = rise.tread + (first - drop - rise.bottom) / slope
    if 0.0 < meets < corners[-1][0]:
        outline += [(meets, rise.bottom), (0.0, min(first, max(rise.bottom, lower(0.0))))]
    elif meets <= 0.0:
        outline.append((0.0, rise.bottom))
    else:
        outline[-1] = (corners[-1][0], max(rise.bottom, lower(corners[-1][0])))
        outline.append((0.0, min(first, lower(0.0))))
    return [(start + way * u, z) for u, z in outline]


def draw_steps(draft: Draft, study: Subject, rise: Rise, mark: str, start: float, way: float) -> None:
    """Draw a flight that is cut along its way down, with its risers in words."""
    points = step_profile(rise, start, way)
    if rise.risers > 1:
        end = points[-1]
        plank = study.layout.by_mark.get(f"{mark}-S1")
        if isinstance(plank, Member):
            board = study.plan.materials.decking.thickness
            draft.area(stringer_outline(rise, start, way, board, plank.depth), Role.STRINGER, plank.mark)
        else:
            draft.area((*points[1:], (start, end[1])), Role.STEP, mark)
    draft.stroke(points, Role.TREAD, mark)
    text = f"{mark}: {risers_in_words(rise.risers, rise.riser, draft.units)}"
    middle = (start + way * rise.run / 2, (rise.top + rise.bottom) / 2)
    wide = 0.5 * text_box(text, (0, 0), draft.letter).width
    places = [
        (middle[0] + way * (rise.run / 2 + wide + draft.letter) * s, rise.bottom + up * draft.letter)
        for up in (1.2, 2.5, 4.0)
        for s in (1, 0.6)
    ]
    places += [
        (middle[0] + way * s * wide, rise.top + up * draft.letter) for up in (1.2, 2.5) for s in (1, 0.5, 0)
    ]
    # beside the ends of the drawing stand its dimensions
    left, right = draft.core.left + wide, draft.core.right - wide
    places.sort(key=lambda at: not left <= at[0] <= right)
    if rise.risers > 1:
        for (x0, z), (x1, _) in pairwise(points[1:]):
            if x0 != x1:
                draft.ground.solids.append(Box(min(x0, x1), rise.bottom, max(x0, x1), z))
    draft.wish(text, middle, places, Role.NOTE, mark, plate=True, needed=draft.sheet.full, urgency=8)
