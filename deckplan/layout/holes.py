"""Holes in a platform that a person could fall into, and the floor that is left round them.

::

    +-------------------------------+      Guards stand on the doubled wood that frames an opening, the rectangle
    |        .=======.              |      round its outline; a sphere of 4 in (by the profile) that passes makes a
    |        :  /--\\ :  guard       |      hole of it. A hatch has a lid. Nothing that stands in an opening is
    |        :  \\--/ :              |      counted, a tree's trunk neither: nobody told the plan how thick it is.
    |        .=======.              |
    +-------------------------------+
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from shapely import Point as Spot
from shapely import Polygon, union_all
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Point, middle, unit
from deckplan.layout.frame import Frame
from deckplan.levels.places import outline_of
from deckplan.plan.model import Platform

LID = re.compile(r"\bhatch(es)?\b|\blid\b|\btrap[ -]?door\b", re.IGNORECASE)
"""Openings whose kind says that a lid closes them. Source: common practice; the lid carries the deck's live load."""
TREE = re.compile(r"\b(tree|trunk)s?\b", re.IGNORECASE)

SPHERE = 4.0
"""A sphere that passes makes an opening a hole [in]. Source: IRC R312.1.3, as every profile here has it or nearly."""

_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class Open:
    """One hole: its number in the plan, from 1, its kind, its outline and the rectangle that frames it [in]."""

    number: int
    kind: str
    outline: Polygon
    frame: Polygon

    @property
    def named(self) -> str:
        """What a person calls it."""
        return f"opening {self.number}" + ("" if self.kind == "opening" else f' "{self.kind}"')


def holes_of(platform: Platform, sphere: float = SPHERE) -> tuple[Open, ...]:
    """Return the holes of a platform: openings without a lid that a sphere larger than the given one [in] passes."""
    return _holes(platform, sphere) if platform.openings else ()


@lru_cache(maxsize=256)
def _holes(platform: Platform, sphere: float) -> tuple[Open, ...]:
    """Find the holes once: every stage of a study asks for them."""
    frame = Frame.of(platform)
    found = []
    for number, opening in enumerate(platform.openings, start=1):
        outline = Polygon(opening.outline)
        if LID.search(opening.kind) or outline.buffer(-sphere / 2 - _SAME).is_empty:
            continue
        places = [frame.local(corner) for corner in opening.outline]
        us, vs = [u for u, _ in places], [v for _, v in places]
        corners = ((min(us), min(vs)), (max(us), min(vs)), (max(us), max(vs)), (min(us), max(vs)))
        found.append(Open(number, opening.kind, outline, Polygon([frame.site(u, v) for u, v in corners])))
    return tuple(found)


def floor_of(platform: Platform) -> BaseGeometry:
    """Return what of a platform carries a person: its outline without its holes [in]."""
    holes = holes_of(platform)
    return (
        outline_of(platform).difference(union_all([hole.outline for hole in holes]))
        if holes
        else outline_of(platform)
    )


def onto_floor(platform: Platform, start: Point, end: Point) -> Point:
    """Return the unit vector from a stretch of guard towards the floor that it guards."""
    (x, y), (ux, uy) = middle((start, end)), unit(start, end)
    for way in ((-uy, ux), (uy, -ux)):
        spot = Spot((x + way[0] * 0.5, y + way[1] * 0.5))
        if outline_of(platform).covers(spot) and not any(
            hole.frame.covers(spot) for hole in holes_of(platform)
        ):
            return way
    return (uy, -ux)
