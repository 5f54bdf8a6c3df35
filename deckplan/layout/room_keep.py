"""What is kept out of where: fires and grills off the house, levels above, posts and rails; seats off open drops.

::

    house wall, door      level above
    ====[    ]=====      +- - - - - -+
    x x x x x x x x x x x|x x x x x x|    x  no grill, no fire
    x x x x x x x x x x x x x x x x x
    . . . . . . . . . . . . . . . . .|
    . . . . . . . . . . . . . . . / /|    /  no seats: an edge with a drop and no guard
    - - - - - - - - - - - - - - - - -+
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Line, Point
from deckplan.layout.boards_bearing import lines_of
from deckplan.layout.model import Layout
from deckplan.layout.room_comfort import Sayings
from deckplan.layout.room_model import Cover, Group, KeepOut
from deckplan.layout.room_sizes import Clearance, clearance, in_words, room_for
from deckplan.levels.model import Levels
from deckplan.levels.places import outline_of
from deckplan.plan.model import Plan, Platform
from deckplan.units import Units, format_short

SEATED: dict[str, str] = {"dining": "chairs", "lounge": "chairs", "fire": "chairs", "sun": "loungers"}
"""Uses in which people sit or lie on something that can slide or tip over an edge, and what that is."""

HOT: dict[str, tuple[str, str]] = {"fire": ("fire", "fire feature"), "cooking": ("grill", "grill")}
"""Uses with something hot: what it is called, and the name of its piece."""

_OFF: dict[str, dict[str, str]] = {
    "fire": {"openings": "fire to house", "walls": "fire to house", "above": "fire to house",
             "posts": "fire to house", "rails": "fire to rails"},
    "cooking": {"openings": "grill to openings", "walls": "grill to walls", "above": "grill to openings",
                "posts": "grill to posts", "rails": "grill to rails"},
}  # fmt: skip
"""The names, in the data, of how far each of them stays off what."""

BESIDE = 36.0
"""A level that rises this much over its neighbour is one above it, even where it lies beside [in]. Our own choice: heat
and smoke reach its frame."""


HAIR = 0.02
"""Places are found to a hundredth of an inch, and circles are drawn with many sides [in]."""


@dataclass(frozen=True)
class Obstacle:
    """Something that a fire or a grill stays off: its name, its shape in plan [in], how far and on whose word."""

    name: str
    shape: BaseGeometry
    far: Clearance


def open_edges(plan: Plan, levels: Levels, layout: Layout, platform: str) -> tuple[Line, ...]:
    """Return the edges with a drop that tips a chair and no guard asked for; a higher platform beside closes one."""
    least = room_for("drop that tips a chair")
    here = levels.elevation(platform)
    higher = shapely.union_all(
        [outline_of(one).buffer(1.0) for one in plan.platforms if levels.elevation(one.name) > here + least]
    )
    found: list[Line] = []
    for guard in layout.guards:
        if (
            guard.platform == platform
            and not guard.required
            and guard.drop >= least
            and guard.start != guard.end
        ):
            found += lines_of(LineString((guard.start, guard.end)).difference(higher), 1.5)
    return tuple(found)


def strips_along(edges: Iterable[Line]) -> BaseGeometry:
    """Return where nobody sits: the strips along open edges."""
    back = room_for("back from an open edge")
    return shapely.union_all([LineString(edge).buffer(back, quad_segs=32) for edge in edges])


def obstacles_of(
    plan: Plan,
    levels: Levels,
    layout: Layout,
    platform: Platform,
    use: str,
    covers: Sequence[Cover],
    posts: Sequence[tuple[Point, ...]],
) -> tuple[Obstacle, ...]:
    """Return what a fire or a grill on a platform stays off, as far as it lies near enough to matter.

    House walls and doors, levels above (over it, or much higher beside it), their posts, rails of the level itself
    and of its neighbours.
    """
    if use not in HOT:
        return ()
    far = {what: clearance(name) for what, name in _OFF[use].items()}
    here, over = levels.elevation(platform.name), {cover.level for cover in covers}
    found = [Obstacle(wall.name, LineString(wall.line), far["walls"]) for wall in plan.house.walls]
    found += [
        Obstacle(door.name, shapely.Point(door.at).buffer(door.width / 2), far["openings"])
        for door in plan.house.doors
    ]
    for cover in covers:
        shape = shapely.union_all([Polygon(part) for part in cover.outlines])
        found.append(Obstacle(f"the level above, {cover.level}", shape, far["above"]))
    found += [
        Obstacle(f"the higher level, {other.name}", outline_of(other), far["above"])
        for other in plan.platforms
        if other.name not in (platform.name, *over) and levels.elevation(other.name) > here + BESIDE
    ]
    if posts:
        shape = shapely.union_all([Polygon(post) for post in posts])
        found.append(Obstacle("the posts that rise from here", shape, far["posts"]))
    rails = [
        LineString((g.start, g.end))
        for g in layout.guards
        if g.required and abs(levels.elevation(g.platform) - here) <= BESIDE
    ]
    if rails:
        found.append(Obstacle("the rails", shapely.union_all(rails), far["rails"]))
    outline = outline_of(platform)
    return tuple(one for one in found if one.shape.distance(outline) < one.far.value)


def keep_outs_of(
    surface: BaseGeometry, use: str, obstacles: Sequence[Obstacle], edges: Sequence[Line]
) -> tuple[KeepOut, ...]:
    """Return where on a surface a fire or a grill is not to stand, the farthest reach first, and where no seats are."""
    found = []
    taken: BaseGeometry = Polygon()
    for far in sorted({one.far.value for one in obstacles}, reverse=True):
        alike = [one for one in obstacles if one.far.value == far]
        zone = shapely.union_all([one.shape.buffer(far) for one in alike]).intersection(surface)
        parts = plain_parts(zone.difference(taken))
        taken = taken.union(zone)
        if parts:
            found.append(KeepOut(HOT[use][0], far, tuple(one.name for one in alike), parts))
    if use in SEATED and edges:
        parts = plain_parts(strips_along(edges).intersection(surface))
        back = room_for("back from an open edge")
        found.append(KeepOut(SEATED[use], back, ("an edge with a drop and no guard",), parts))
    return tuple(found)


def plain_parts(shape: BaseGeometry) -> tuple[tuple[Point, ...], ...]:
    """Return the corners of a shape's parts; one with a hole is cut in two through it."""
    found: list[tuple[Point, ...]] = []
    parts = [
        part for part in getattr(shape, "geoms", [shape]) if part.geom_type == "Polygon" and part.area > 1.0
    ]
    for part in parts:
        if not part.interiors:
            found.append(tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1]))
            continue
        x0, y0, x1, y1 = part.bounds
        at = Polygon(part.interiors[0]).centroid.x
        for half in (shapely.box(x0, y0, at, y1), shapely.box(at, y0, x1, y1)):
            found += plain_parts(part.intersection(half))
    return tuple(found)


def say_distances(
    say: Sayings, use: str, obstacles: Sequence[Obstacle], groups: Sequence[Group], units: Units
) -> None:
    """Hold the fire or the grill against house, openings, levels above, posts and rails."""
    if use not in HOT:
        return
    what, name = HOT[use]
    hot = [Polygon(p.outline) for group in groups for p in group.pieces if p.name == name]
    if not hot:
        return
    for one in obstacles:
        gap, least = min(float(shape.distance(one.shape)) for shape in hot), one.far.value
        where = f"stands {in_words(gap, units)} from {one.name}" if gap > 0 else f"stands under {one.name}"
        say.at_least(f"{what} to {one.name}", gap, least, "in", one.far,
                     f"the {what} {where}, {in_words(least, units)} is advised: {one.far.note}")  # fmt: skip


def say_edges(say: Sayings, use: str, groups: Sequence[Group], edges: Sequence[Line], units: Units) -> None:
    """Hold what people sit on against edges with a drop and no guard."""
    if use not in SEATED or not groups or not edges:
        return
    back = clearance("back from an open edge")
    gap = min(Polygon(group.swing).distance(LineString(edge)) for group in groups for edge in edges)
    gap = back.value if abs(gap - back.value) < HAIR else gap
    what = SEATED[use]
    say.at_least(f"{what} off edges without a guard", gap, back.value, "in", back,
                 f"{what} come within {format_short(gap, units)} of an edge with a drop and no guard: "
                 "a curb, a planter, a bench or a guard there keeps them on")  # fmt: skip
