"""The shape of a post seen from the side: cut off square, or with the tongue that rises behind a notch."""

from __future__ import annotations

from deckplan.draw.shapes import rectangle
from deckplan.geometry import Point
from deckplan.layout.model import Post

SIDEWAYS = 0.5
"""From this share of its way on, a tongue is seen from its side, else from its front or its back."""


def post_outline(post: Post, at: float, across: Point, low: float | None = None) -> tuple[Point, ...]:
    """Return a post's outline as (distance, elevation) [in]; its tongue with it where that is seen from its side.

    at: where its axis stands across the drawing [in]; across: unit vector in plan to the right of the drawing; low:
    elevation from which it is shown [in], its foot unless said.

    ::

              __          way of the tongue: to the right
         ____|  |         full section up to the floor of the notch
        |       |
    """
    half, foot = post.width / 2, post.bottom if low is None else low
    notch, turn = post.notch, _turn(post, across)
    if notch is None or abs(turn) < SIDEWAYS or post.tongue <= 0:
        return tuple(rectangle(at - half, foot, at + half, post.top))
    side = 1.0 if turn > 0 else -1.0
    outer, inner, back = at + side * half, at + side * (half - post.tongue), at - side * half
    tip = post.top + notch.rise
    return ((back, foot), (outer, foot), (outer, tip), (inner, tip), (inner, post.top), (back, post.top))


def tongue_outline(post: Post, at: float, across: Point, *, front: bool = False) -> tuple[Point, ...]:
    """Return the outline of a tongue seen from its front or its back, nothing where there is none to see so.

    front: it stands before its beam, so that the whole face of the post is seen, from the foot to the tip.
    """
    notch = post.notch
    if notch is None or abs(_turn(post, across)) >= SIDEWAYS or post.tongue <= 0:
        return ()
    half = post.width / 2
    low = post.bottom if front else post.top
    return tuple(rectangle(at - half, low, at + half, post.top + notch.rise))


def tongue_place(post: Post) -> Point:
    """Return where the middle of a post's tongue stands in plan [in], its axis where it has none."""
    if post.notch is None:
        return post.at
    off = (post.width - post.tongue) / 2
    return (post.at[0] + post.notch.way[0] * off, post.at[1] + post.notch.way[1] * off)


def _turn(post: Post, across: Point) -> float:
    if post.notch is None:
        return 0.0
    return post.notch.way[0] * across[0] + post.notch.way[1] * across[1]
