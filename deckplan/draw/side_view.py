"""The side view (elevation drawing): the deck seen from outside, what is near hiding what is behind.

Across the sheet runs the distance to the right as the onlooker sees it, upward the elevation above the
benchmark [in].
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from typing import Literal

from deckplan.draw.draft import FIRST_ROW, ROW, Draft, signed
from deckplan.draw.labels import spread
from deckplan.draw.letters import width_of
from deckplan.draw.north import find_north
from deckplan.draw.post_shape import post_outline, tongue_outline, tongue_place
from deckplan.draw.profile_parts import STEPS, footing_of, sill_of, step_profile
from deckplan.draw.scene import Box, Role, Scene
from deckplan.draw.shapes import inside, rectangle, shifted
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import SizedFooting, Subject, letter
from deckplan.geometry import Point, middle, unit
from deckplan.layout.model import GuardStretch, Kind
from deckplan.levels.model import Rise
from deckplan.plan.model import Plan, Platform

Side = Literal["garden", "left", "right"]
"""Where the onlooker stands: in the garden facing the house, or left or right as seen from the house."""

_LOOKS: dict[Side, Point] = {"garden": (0.0, -1.0), "left": (1.0, 0.0), "right": (-1.0, 0.0)}
POST_APART, BALUSTER_APART = 72.0, 4.75
"""How far guard posts and balusters are drawn apart at most [in]; common practice, for show only."""


Job = tuple[float, int, Callable[[], None]]
"""How far away, which of those equally far comes first, and what draws it."""


@dataclass(frozen=True, slots=True)
class Onlooker:
    """Someone who looks along a unit vector in plan."""

    look: Point

    def across(self, point: Point) -> float:
        """Return the distance of a point to the right [in]."""
        return point[0] * self.look[1] - point[1] * self.look[0]

    @property
    def right(self) -> Point:
        """The unit vector in plan to the onlooker's right."""
        return (self.look[1], -self.look[0])

    def far(self, point: Point) -> float:
        """Return how far a point lies along the look [in]; the greater is hidden by the smaller."""
        return point[0] * self.look[0] + point[1] * self.look[1]


def side_name(plan: Plan, side: Side) -> str:
    """Name a side view by the side of the compass that is looked at, where the plan tells north."""
    (nx, ny), true = find_north(plan)
    if not true:
        return f"Side view from the {side}" if side == "garden" else f"Side view from the {side} of the house"
    lx, ly = _LOOKS[side]
    turn = math.degrees(math.atan2(nx * -ly - ny * -lx, nx * -lx + ny * -ly))
    names = ("north", "west", "south", "east")
    return f"Side view from the {names[round(turn / 90) % 4]}"


def side_view(
    study: Subject,
    *,
    side: Side = "garden",
    sheet: Sheet | None = None,
    titled: bool = True,
) -> Scene:
    """Return the view from one side: house, posts, beams, edges, guards, steps and the ground.

    sheet: the room there is, else the usual one of the plan's units; titled: with title, scale and caution
    below.
    """
    plan = study.plan
    eye = Onlooker(_LOOKS[side])
    guard_height = study.profile.guard_height.value
    core = _core(study, eye, guard_height)
    paper = sheet or usual_sheet(plan)
    tags = [_tag(study, one, paper.full) for one in plan.platforms]
    beside = 4.0 + max((width_of(tag, 1.0) for tag in tags), default=0.0)
    room = Room(
        beside, FIRST_ROW + ROW + 2.0, 1.5, 10.2 + FIRST_ROW + 2 * ROW if titled else 3.0 + FIRST_ROW + ROW
    )
    draft = Draft(side_name(plan, side), plan, paper, core, room)
    _house(draft, study, eye, core)
    _terrain(draft, study, eye, core)
    jobs: list[Job] = []
    for one in plan.platforms:
        jobs += _edges(draft, study, eye, one)
    jobs += _supports(draft, study, eye, core)
    for guard in study.layout.guards:
        if guard.required:
            jobs.append(
                (
                    eye.far(middle((guard.start, guard.end))),
                    3,
                    _railing(draft, study, eye, guard, guard_height),
                )
            )
    for index, rise in enumerate(study.levels.flights):
        jobs.append((eye.far(rise.landing), 4, _steps(draft, eye, rise, f"S{index + 1}")))
    for _, _, job in sorted(jobs, key=lambda job: (-job[0], job[1])):
        job()
    _front_ground(draft, study, eye, core)
    _tags(draft, study, eye, core)
    if any(guard.required for guard in study.layout.guards):
        draft.notes.append(f"Guards {draft.short(guard_height)} high, measured from the boards.")
    return draft.scene(titled=titled, stacked=True)


def _corners(study: Subject) -> list[Point]:
    corners = [corner for one in study.plan.platforms for corner in one.outline]
    for rise in study.levels.flights:
        corners += [shifted(end, rise.down, max(rise.run, rise.tread)) for end in rise.along]
    return corners or [(0.0, 0.0), (120.0, 120.0)]


def _core(study: Subject, eye: Onlooker, guard_height: float) -> Box:
    spots = [eye.across(corner) for corner in _corners(study)]
    elevations = [level.elevation for level in study.levels.levels] or [0.0]
    bottoms = [one.bottom for one in study.footings] + [0.0]
    sill = sill_of(study)
    high = max([*(one + guard_height for one in elevations), *([sill + 90.0] if sill is not None else [])])
    return Box(min(spots) - 18, min(bottoms), max(spots) + 18, high + 6)


def _house(draft: Draft, study: Subject, eye: Onlooker, core: Box) -> None:
    """Draw walls that face the onlooker with their doors, and walls seen end on as the side of the house."""
    base = min(study.levels.ground.elevation_at(corner) for corner in _corners(study))
    for wall in study.plan.house.walls:
        for a, b in pairwise(wall.line):
            low, high = sorted((eye.across(a), eye.across(b)))
            if high - low < 1.0:
                sign = 1.0 if low > core.centre[0] else -1.0
                low, high = sorted((low, core.right + 12 if sign > 0 else core.left - 12))
            low, high = max(low, core.left - 12), min(high, core.right + 12)
            if low < high:
                draft.area(rectangle(low, base, high, core.top), Role.HOUSE)
    for door in study.plan.house.doors:
        facing = [s for wall in study.plan.house.walls for s in pairwise(wall.line)]
        facing = [s for s in facing if abs(eye.across(s[1]) - eye.across(s[0])) > 1.0]
        at = eye.across(door.at)
        if any(min(map(eye.across, s)) <= at <= max(map(eye.across, s)) for s in facing):
            half, top = door.width / 2, door.sill + 80.0
            draft.area(rectangle(at - half, door.sill, at + half, top), Role.HOUSE)
            if door.width > 48:
                draft.stroke(((at, door.sill), (at, top)), Role.HOUSE)


def _profile(study: Subject, eye: Onlooker, core: Box, far: float) -> list[Point]:
    """Return the ground's profile [in] along the line that lies `far` [in] from the onlooker."""
    (lx, ly), out = eye.look, []
    for i in range(STEPS + 1):
        s = core.left - 12 + (core.width + 24) * i / STEPS
        # The point whose distance across is s and whose distance along the look is far.
        at = (lx * far + ly * s, ly * far - lx * s)
        out.append((s, study.levels.ground.elevation_at(at)))
    return out


def _on_profile(profile: list[Point], at: float) -> float:
    """Return the height of a profile [in] at a place, straight between its points."""
    for (a, low), (b, high) in pairwise(profile):
        if a <= at <= b:
            return low + (high - low) * (at - a) / (b - a)
    return profile[-1][1]


def _terrain(draft: Draft, study: Subject, eye: Onlooker, core: Box) -> None:
    """Draw the ground that rises behind the front line."""
    fars = [eye.far(corner) for corner in _corners(study)]
    back, front = _profile(study, eye, core, max(fars)), _profile(study, eye, core, min(fars))
    seen = [(s, max(z, near)) for (s, z), (_, near) in zip(back, front, strict=True)]
    if any(z > near + 0.5 for (_, z), (_, near) in zip(seen, front, strict=True)):
        draft.area((*seen, *reversed(front)), Role.LAWN)


def _front_ground(draft: Draft, study: Subject, eye: Onlooker, core: Box) -> None:
    front = _profile(study, eye, core, min(eye.far(corner) for corner in _corners(study)))
    deep = 1.1 * draft.letter
    draft.area((*front, *((s, z - deep) for s, z in reversed(front))), Role.EARTH)
    draft.stroke(front, Role.GROUND)


def _edges(draft: Draft, study: Subject, eye: Onlooker, one: Platform) -> list[Job]:
    """Give the edges of a platform that face the onlooker: rim and boards."""
    top, board = study.levels.elevation(one.name), study.plan.materials.decking.thickness
    joists = study.layout.of(one.name, Kind.JOIST, Kind.RIM)
    deep = max((part.depth for part in joists), default=7.25)
    mark = letter(study.plan.platforms.index(one))
    jobs: list[Job] = []
    for a, b in pairwise((*one.outline, one.outline[0])):
        if a == b:
            continue
        normal = _outward(a, b, one)
        if normal[0] * eye.look[0] + normal[1] * eye.look[1] > -0.05:
            continue
        low, high = sorted((eye.across(a), eye.across(b)))

        rim = rectangle(low, top - board - deep, high, top - board)
        boards = rectangle(low, top - board, high, top)
        draw = partial(_draw_all, draft, ((rim, Role.RIM, mark), (boards, Role.BOARD, mark)))
        jobs.append((eye.far(middle((a, b))), 2, draw))
    return jobs


def _draw_all(draft: Draft, areas: Sequence[tuple[Sequence[Point], Role, str]]) -> None:
    for corners, role, mark in areas:
        draft.area(corners, role, mark)


def _outward(a: Point, b: Point, one: Platform) -> Point:
    dx, dy = unit(a, b)
    normal = (-dy, dx)
    return (dy, -dx) if inside(shifted(middle((a, b)), normal, 0.5), one.outline) else normal


def _hole(
    eye: Onlooker, footing: SizedFooting, top: float, front: list[Point]
) -> tuple[tuple[Point, ...], Role, str]:
    """Return the outline of a footing below the ground in front of it, its role and mark; top: its own [in]."""
    at, half = eye.across(footing.at), footing.diameter / 2
    seen = min(top, _on_profile(front, at))
    return rectangle(at - half, min(footing.bottom, seen), at + half, seen), Role.FOOTING, footing.mark


def _supports(draft: Draft, study: Subject, eye: Onlooker, core: Box) -> list[Job]:
    jobs: list[Job] = []
    front = _profile(study, eye, core, min(eye.far(corner) for corner in _corners(study)))
    first = {post.footing: post.mark for post in reversed(study.layout.posts)}
    for one in study.footings:
        if one.mark not in first:
            dug = partial(_draw_all, draft, [_hole(eye, one, one.top, front)])
            jobs.append((eye.far(one.at), 0, dug))
    for post in study.layout.posts:
        at, half = eye.across(post.at), post.width / 2
        footing = footing_of(study, post.footing)
        areas = [(post_outline(post, at, eye.right), Role.POST_BEYOND, post.mark)]
        if footing is not None and first[post.footing] == post.mark:
            areas.insert(0, _hole(eye, footing, post.bottom, front))
        draw = partial(_draw_all, draft, areas)
        jobs.append((eye.far(post.at) - half, 1, draw))
        before = eye.far(tongue_place(post)) < eye.far(post.at)
        if tongue := tongue_outline(post, at, eye.right, front=before):
            rises = partial(_draw_all, draft, ((tongue, Role.POST_BEYOND, post.mark),))
            jobs.append((eye.far(tongue_place(post)) - post.tongue / 2, 1, rises))
    rims = {part.platform: part.bottom for part in study.layout.members if part.kind is Kind.JOIST}
    for beam in study.layout.members:
        if beam.kind is not Kind.BEAM or beam.top > rims.get(beam.platform, -math.inf) + 0.25:
            continue
        low, high = sorted((eye.across(beam.start), eye.across(beam.end)))
        if high - low < beam.width:
            low, high = low - beam.width / 2, low + beam.width / 2

        seen = rectangle(low, beam.bottom, high, beam.top)
        show = partial(_draw_all, draft, ((seen, Role.BEAM_BEYOND, beam.mark),))
        jobs.append((eye.far(middle(beam.line)), 0, show))
    return jobs


def _railing(
    draft: Draft, study: Subject, eye: Onlooker, guard: GuardStretch, high: float
) -> Callable[[], None]:
    """Draw posts, two rails and balusters of a guard; one seen end on as its post."""
    base = study.levels.elevation(guard.platform)
    left, right = sorted((eye.across(guard.start), eye.across(guard.end)))

    def draw() -> None:
        posts = max(1, math.ceil((right - left) / POST_APART))
        if right - left > 8:
            for low in (base + 3.0, base + high - 3.5):
                draft.area(
                    rectangle(left, low, right, low + (1.5 if low == base + 3.0 else 3.5)), Role.RAILING
                )
            count = math.ceil((right - left) / BALUSTER_APART)
            for i in range(1, count):
                s = left + (right - left) * i / count
                draft.stroke(((s, base + 4.5), (s, base + high - 3.5)), Role.BALUSTER)
        for i in range(posts + 1):
            s = left + (right - left - 3.5) * i / posts if right - left > 8 else left - 1.75
            draft.area(rectangle(s, base, s + 3.5, base + high), Role.RAILING)
            if right - left <= 8:
                break

    return draw


def _steps(draft: Draft, eye: Onlooker, rise: Rise, mark: str) -> Callable[[], None]:
    """Draw a flight: its profile where it runs across, its risers where it comes towards the onlooker."""
    way = eye.across(rise.down)
    towards = -eye.far(rise.down)
    starts = [eye.across(end) for end in rise.along]

    def draw() -> None:
        if abs(way) > 0.5:
            points = step_profile(rise, starts[0], 1.0 if way > 0 else -1.0)
            draft.area((*points[1:], (starts[0], points[-1][1])), Role.STEP, mark)
            draft.stroke(points, Role.TREAD, mark)
        elif towards > 0.5:
            low, high = sorted(starts)
            for step in range(1, rise.risers):
                top = rise.top - step * rise.riser
                draft.area(rectangle(low, rise.bottom, high, top), Role.STEP, mark)
        else:
            pass  # it goes down on the far side and is not seen

    return draw


def _tag(study: Subject, one: Platform, full: bool) -> str:
    """Write letter, name and finished elevation of a platform; without the name where room is short."""
    mark = letter(study.plan.platforms.index(one))
    level = signed(study.levels.elevation(one.name), study.plan.units)
    return f"{mark}  {one.name}  {level}" if full else f"{mark}  {level}"


def _tags(draft: Draft, study: Subject, eye: Onlooker, core: Box) -> None:
    """Set the finished levels at the left, the heights between them at the right, the width below."""
    h, x = draft.letter, core.left - 2.5 * draft.letter
    heights = [study.levels.elevation(one.name) for one in study.plan.platforms]
    for one, z, at in zip(study.plan.platforms, heights, spread(heights, 1.25 * h), strict=True):
        draft.stroke(((x - 0.9 * h, at), (x - 0.5 * h, z), (x + 1.6 * h, z)), Role.LEADER)
        mark = letter(study.plan.platforms.index(one))
        draft.area(((x, z), (x - 0.35 * h, z + 0.6 * h), (x + 0.35 * h, z + 0.6 * h)), Role.LEVEL, mark)
        draft.fix(_tag(study, one, draft.sheet.full), (x - 1.1 * h, at), Role.LEVEL, anchor=1)
    spots = [eye.across(corner) for one in study.plan.platforms for corner in one.outline]
    if not spots:
        return
    elevations = [level.elevation for level in study.levels.levels]
    ground = _profile(study, eye, core, min(eye.far(corner) for corner in _corners(study)))[-1][1]
    draft.chain([ground, *elevations], "y", 0, core.right + 12, 1)
    if len(elevations) > 1:
        draft.chain([ground, max(elevations)], "y", 1, core.right + 12, 1)
    draft.chain(spots, "x", 0, core.bottom, -1)
    if len({round(spot, 2) for spot in spots}) > 2:
        draft.chain([min(spots), max(spots)], "x", 1, core.bottom, -1)
