"""What levels above take of a platform as a room: the part nobody can stand under, and posts that rise from it."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Point
from deckplan.layout.model import Layout
from deckplan.layout.over import Over
from deckplan.layout.room_model import Cover
from deckplan.levels.model import Levels
from deckplan.levels.places import outline_of
from deckplan.plan.model import Platform
from deckplan.rules.profile import Profile

ROUND_A_POST = 1.0
"""Furniture and ways keep this far off a post [in]. Our own choice: boards are cut round it, nothing touches it."""

SMALLEST_RISE = 1.0
"""A post whose top rises no more than this over the surface stands in nobody's way [in]. Our own choice."""


def covers_of(overs: Sequence[Over], profile: Profile, platform: Platform) -> tuple[Cover, ...]:
    """Return the levels above a platform, each with its part over it and whether a person can stand under it."""
    return tuple(
        Cover(
            over.upper.name, _corners(over.common), over.clear, over.clear < profile.headroom_min.value - 1e-6
        )
        for over in overs
        if over.lower.name == platform.name
    )


def _corners(shape: BaseGeometry) -> tuple[tuple[Point, ...], ...]:
    parts = [part for part in getattr(shape, "geoms", [shape]) if part.geom_type == "Polygon"]
    return tuple(tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1]) for part in parts)


def posts_on(levels: Levels, layout: Layout, platform: Platform) -> tuple[tuple[Point, ...], ...]:
    """Return the squares, corners [in], of posts that come through a platform or stand on it."""
    here, outline = levels.elevation(platform.name), outline_of(platform)
    found = []
    for post in layout.posts:
        (x, y), half = post.at, post.width / 2
        square = ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
        rises = post.top > here + SMALLEST_RISE and post.bottom <= here
        if rises and outline.intersection(Polygon(square)).area > 0:
            found.append(square)
    return tuple(found)


def held_back(covers: Sequence[Cover], posts: Sequence[tuple[Point, ...]]) -> BaseGeometry:
    """Return what they take of the surface: all under a level that is too low, and each post with its clearance."""
    low = [Polygon(part) for cover in covers if cover.low for part in cover.outlines]
    around = [Polygon(post).buffer(ROUND_A_POST, join_style="mitre") for post in posts]
    return shapely.union_all([*low, *around])
