"""Posts of two levels that stand so close together that one footing is made under both.

::

          |  |    |  |
        __|__|____|__|__
       |        :       |   laid out half-way between the posts; their loads move it (`checks/shared_footings`)
       |________:_______|
"""

from __future__ import annotations

from collections.abc import Sequence

from deckplan.geometry import distance
from deckplan.layout.model import Pad, Post

REACH = 12.0
"""How far apart two posts on one footing may stand, middle to middle [in]. Our own choice.

People on one level alone pull the resultant so far to one side that a pad gets about 2.7 times as wide as this.
"""


def post_beside(posts: Sequence[Post], platform: str, at: tuple[float, float]) -> Post | None:
    """Return the nearest post of a platform in reach of a place that has a footing to itself."""
    taken = [post.footing for post in posts if post.footing]
    near = [
        (distance(post.at, at), post.mark, post)
        for post in posts
        if post.platform == platform and post.footing and taken.count(post.footing) == 1
    ]
    found = min(near, default=None)
    return found[2] if found is not None and found[0] <= REACH else None


def posts_on(posts: Sequence[Post], pads: Sequence[Pad]) -> dict[str, tuple[Post, ...]]:
    """Return the posts on every footing, by its mark: one, or two where levels share it."""
    return {pad.mark: tuple(post for post in posts if post.footing == pad.mark) for pad in pads}
