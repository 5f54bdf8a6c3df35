"""Posts of an upper level that come down through a lower platform: do they miss what carries that platform?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from deckplan.layout.model import Kind, Layout, Member, Post
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan
from deckplan.units import format_short
from deckplan.verdict import Check, Source, at_least

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

CLEAR = Source("Geometry", "a post and a member do not fill the same space", "derived")
RULE = "post comes down clear of a lower frame"

IN_THE_WAY = (Kind.JOIST, Kind.BEAM, Kind.HEADER, Kind.LEDGER, Kind.RIM)
"""What carries a platform and may not be cut for a post; blocking can stand elsewhere."""

TOUCH = 0.5
"""A post that stands this little over an edge only touches it [sq in]."""


def check_through(plan: Plan, levels: Levels, layout: Layout) -> list[Check]:
    """Check every post that goes to the ground through the frame of a platform below its own."""
    if len(plan.platforms) < 2:
        return []
    from shapely import Polygon, box

    found: list[Check] = []
    heights = {platform.name: levels.elevation(platform.name) for platform in plan.platforms}
    shapes = {platform.name: Polygon(platform.outline).buffer(0) for platform in plan.platforms}
    for post in layout.posts:
        half = post.width / 2
        x, y = post.at
        body = box(x - half, y - half, x + half, y + half)
        for name, shape in shapes.items():
            # a level that this post carries meets it on purpose
            if name in post.carries or heights[name] >= heights[post.platform]:
                continue
            if shape.intersects(body) and shape.intersection(body).area > TOUCH:
                found += _check(plan, layout, post, body, name)
    return found


def _check(plan: Plan, layout: Layout, post: Post, body: BaseGeometry, lower: str) -> list[Check]:
    """Check one post against the members of one lower platform that reach as high as it does."""
    from shapely import LineString

    apart: list[tuple[float, Member]] = []
    for member in layout.of(lower, *IN_THE_WAY):
        if member.top <= post.bottom or member.bottom >= post.top:
            continue
        wood = LineString(member.line).buffer(member.width / 2, cap_style="flat")
        common = wood.intersection(body)
        if common.area > 1e-6:
            x0, y0, x1, y1 = common.bounds
            apart.append((-min(x1 - x0, y1 - y0), member))
        else:
            apart.append((float(wood.distance(body)), member))
    if not apart:
        return []
    clear, member = min(apart, key=lambda item: item[0])
    reason = (
        f'{post.mark} of "{post.platform}" comes down through "{lower}" and meets {member.kind} {member.mark} '
        f"by {format_short(-clear, plan.units)}: move the post, move the joists (joists.start), frame an opening, "
        f'or let the line stand on that frame (stands_on = "{lower}")'
    )
    return [at_least(post.mark, RULE, CLEAR, clear, 0.0, "in", reason=reason)]
