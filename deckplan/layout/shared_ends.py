"""Beam ends that are to hang on a neighbour's posts: the post that an end meets, or what keeps it off.

::

      neighbour's post     beam that is to hang on it
          |     |          ________________________
          |     |<- back ->|                       |  <- its top at the post's or lower
          |     |          |_______________________|
          |     |
"""

from __future__ import annotations

from collections.abc import Iterable

from deckplan.geometry import distance, unit
from deckplan.layout.model import Bearing, Member, Miss, MissKind, Post
from deckplan.units import Units, format_length, format_short

HANG_GAP = 1.0
"""How far a beam's end may stand off a post's face and still be hung on it with an ordinary hanger [in]."""

NEAR = 0.01
"""Lengths this close are equal [in]."""


def meet(beam: Member, end: float, theirs: Iterable[Post]) -> Post | Miss:
    """Return the nearest of the neighbour's posts that a beam's end hangs on, or what keeps it off the nearest."""
    place = beam.point(end)
    posts = sorted(theirs, key=lambda post: distance(post.at, place))
    misses: list[Miss] = []
    for post in posts:
        miss = _miss(beam, end, post)
        if miss is None:
            return post
        misses.append(miss)
    return misses[0] if misses else Miss("none", "", 0.0, place, _outward(beam, end), 0.0)


def _outward(beam: Member, end: float) -> tuple[float, float]:
    ux, uy = unit(beam.start, beam.end)
    return (ux, uy) if end else (-ux, -uy)


def _miss(beam: Member, end: float, post: Post) -> Miss | None:
    """Return what keeps a beam's end off a post, None where it hangs there."""
    place, (ox, oy) = beam.point(end), _outward(beam, end)
    dx, dy = post.at[0] - place[0], post.at[1] - place[1]
    aside, gap = abs(dx * oy - dy * ox), dx * ox + dy * oy - post.width / 2
    far = distance(post.at, place)

    def miss(kind: MissKind, by: float) -> Miss:
        return Miss(kind, post.mark, by, place, (ox, oy), far)

    if beam.width > post.width + NEAR:
        return miss("wide", beam.width - post.width)
    if aside > (post.width - beam.width) / 2 + NEAR:
        return miss("aside", aside)
    if gap > HANG_GAP:
        return miss("back", gap)
    if gap < -post.width:
        return miss("past", -gap)
    if post.top < beam.top - NEAR:
        return miss("low" if post.notch is None else "notched", beam.top - post.top)
    if beam.bottom < post.bottom:
        return miss("ground", post.bottom - beam.bottom)
    return None


def splice_at(beam: Member, end: float, post: Post) -> Miss:
    """Return what keeps an end off a post that it meets: it is a splice, and a splice bears over a post."""
    place = beam.point(end)
    return Miss("splice", post.mark, 0.0, place, _outward(beam, end), distance(post.at, place))


def said(miss: Miss, beam: str, neighbour: str, units: Units) -> str:
    """Say what keeps a beam's end off a neighbour's post; beam: its mark."""
    post = f"post {miss.post}"
    if miss.kind == "none":
        return f'"{neighbour}" has no posts of its own'
    if miss.kind == "wide":
        return f"the beam is {format_short(miss.by, units)} wider than {post}"
    if miss.kind == "aside":
        return f"{post} stands {format_length(miss.by, units)} aside of the beam's line"
    if miss.kind == "back":
        return f"{post} stands {format_length(miss.by, units)} back from the beam's end"
    if miss.kind == "past":
        return f"the beam runs past {post}"
    if miss.kind == "low":
        return f"{post} ends {format_short(miss.by, units)} below the top of the beam"
    if miss.kind == "notched":
        return (
            f"{post} is notched: its full section ends {format_short(miss.by, units)} below the top of the beam, "
            f"and nothing hangs on the tongue above it"
        )
    if miss.kind == "ground":
        return f"the beam would lie {format_short(miss.by, units)} deep in the ground at {post}"
    return f"the end of {beam} at {post} is a splice: two pieces meet over a post of their own there"


def spliced_on(beams: Iterable[Member], post: str) -> bool:
    """Tell whether pieces of a beam are spliced over a post."""
    return any(_splice(bearing, post) for beam in beams for bearing in beam.bearings)


def _splice(bearing: Bearing, post: str) -> bool:
    return bearing.on == post and bearing.manner == "splice"
