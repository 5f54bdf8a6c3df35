"""Posts of an upper level that come down through a lower platform: do they miss what carries that platform?"""

from __future__ import annotations

from collections.abc import Iterator
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
        met: list[tuple[float, Member]] = []
        for name, shape in shapes.items():
            # a level that this post carries meets it on purpose
            if name in post.carries or heights[name] >= heights[post.platform]:
                continue
            if shape.intersects(body) and shape.intersection(body).area > TOUCH:
                met += _apart(layout, post, body, name)
        if met:
            found.append(_check(plan, post, *min(met, key=lambda item: item[0])))
    return found


def _apart(layout: Layout, post: Post, body: BaseGeometry, lower: str) -> Iterator[tuple[float, Member]]:
    """Yield how far a post stands clear of each member of a lower platform that reaches as high as it does [in].

    Under nothing where it stands in the member, by as much as one of them must move.
    """
    from shapely import LineString

    for member in layout.of(lower, *IN_THE_WAY):
        if member.top <= post.bottom or member.bottom >= post.top:
            continue
        wood = LineString(member.line).buffer(member.width / 2, cap_style="flat")
        common = wood.intersection(body)
        if common.area > 1e-6:
            x0, y0, x1, y1 = common.bounds
            yield -min(x1 - x0, y1 - y0), member
        else:
            yield float(wood.distance(body)), member


def _check(plan: Plan, post: Post, clear: float, member: Member) -> Check:
    """Check the nearest member that a post comes down beside."""
    lower = member.platform
    reason = (
        f'{post.mark} of "{post.platform}" comes down through "{lower}" and meets {member.kind} {member.mark} '
        f"by {format_short(-clear, plan.units)}: move the post, move the joists (joists.start), frame an opening, "
        f'or let the line stand on that frame (stands_on = "{lower}")'
    )
    return at_least(post.mark, RULE, CLEAR, clear, 0.0, "in", reason=reason)
