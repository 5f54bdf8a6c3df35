"""Where a post can stand on a lower platform's frame, and the blocks that carry it there.

::

        |  |  post of the upper level           |  |
     ===|  |===  boards, cut round it        ===|  |===
      +------+                                +------+
      |blocks|  between the joists            |joist |  with a block on either side
      +------+                                +------+
      [ beam ]  drop beam                     (or a flush beam's top)

The boards carry nothing of it: the foot stands on the wood below them, at the joists' top.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from deckplan.geometry import Point
from deckplan.layout.frame import ON_LINE
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Member, Post
from deckplan.layout.platform_frame import SetOut
from deckplan.layout.supports import BeamStretch
from deckplan.plan.model import BeamLine, Hung, Plan
from deckplan.units import Units, format_length, format_short

SLACK = 0.01
"""What a foot may reach past the wood below it and still stand fully on it [in]."""

TO_A_BEAM = 24.0
"""How far posts move along their beam to stand on a beam below [in]. Our own choice, a bay and a half."""

TO_A_JOIST = 12.0
"""How far they move to stand on a joist below [in]. Our own choice, half of the widest spacing."""


@dataclass(frozen=True, slots=True)
class Foot:
    """A post's foot on a lower frame.

    on: the member that carries it; platform: that member's; u: of the post's axis, v: of the blocks under or beside it,
    in that platform's frame [in]: over the middle of a beam, from which a post's axis may stand off; top: its elevation
    [in]; half: half its width [in]; plies: of the blocks beside each other.
    """

    on: str
    platform: str
    u: float
    v: float
    top: float
    half: float
    plies: int

    def touches(self, low: float, high: float) -> bool:
        """Tell whether it stands over, or beside, the bay between two joists at u [in]."""
        return self.u - self.half < high - ON_LINE and self.u + self.half > low + ON_LINE


def covers(set_out: SetOut, place: Point) -> bool:
    """Tell whether a platform's outline lies under a place on the site [in]."""
    u, v = set_out.frame.local(place)
    over = any(low - SLACK <= v <= high + SLACK for low, high in set_out.frame.along_at(u))
    return over and not any(h.u0 < u < h.u1 and h.v0 < v < h.v1 for h in set_out.frame.holes)


def leans_on(plan: Plan, name: str) -> frozenset[str]:
    """Return the platforms that one leans on by the plan's wish, itself or by others: hung, shared, stood on."""
    found: set[str] = set()
    open_names = [name]
    while open_names:
        here = open_names.pop()
        for support in next((p.supports for p in plan.platforms if p.name == here), ()):
            others: tuple[str, ...]
            if isinstance(support, Hung):
                others = (support.on,)
            elif isinstance(support, BeamLine):
                others = (support.shares_posts_with, support.stands_on)
            else:
                others = ()
            fresh = {other for other in others if other} - found
            found |= fresh
            open_names += fresh
    return frozenset(found)


def find_foot(lower: SetOut, place: Point, width: float, units: Units) -> Foot | str:
    """Find what of a lower frame a post so wide [in] can stand on at a place [in]; else say what lies nearest.

    A beam goes before a joist: it takes the load straight on, a joist bends under it. The post's axis stands over the
    wood; at a beam's or a joist's very end only part of its foot bears, which the check of the foot counts.
    """
    u, v = lower.frame.local(place)
    near: list[tuple[float, str]] = []
    for stretch, beam in lower.beams:
        low, high = stretch.reach
        if not low - SLACK <= u <= high + SLACK:
            continue
        off = stretch.run.off(u, v)
        if off <= abs(width - beam.width) / 2 + SLACK:
            plies = max(1, round(beam.width / JOIST_THICKNESS)) if beam.top < lower.joist_top - SLACK else 0
            return Foot(beam.mark, beam.platform, u, stretch.run.at(u), lower.joist_top, width / 2, plies)
        near.append((off, f"the middle of beam {beam.mark}"))
    for joist in lower.members:
        if joist.kind is not Kind.JOIST:
            continue
        joist_u, start = lower.frame.local(joist.start)
        if not start - SLACK <= v <= start + joist.length + SLACK:
            continue
        off = abs(u - joist_u)
        if off <= abs(width - joist.width) / 2 + SLACK:
            return Foot(joist.mark, joist.platform, u, v, lower.joist_top, width / 2, 1)
        near.append((off, f"the middle of joist {joist.mark}"))
    if not near:
        return "no beam and no joist lies under it"
    off, what = min(near)
    return f"it stands {format_short(off, units)} beside {what}, which it must stand on in full width"


def places_on(
    lower: SetOut, stretch: BeamStretch, beam: Member, places: tuple[float, ...], width: float
) -> tuple[float, ...]:
    """Move places of posts along their beam [in] to where the frame below can take them; offsets typed stay.

    Each goes to the nearest beam below within `TO_A_BEAM`, else to the nearest joist within `TO_A_JOIST`; a place that
    nothing lies near to, or that lies beside the lower platform, stays. Places that fall together are one.
    """
    if isinstance(stretch.line.posts, tuple):
        return places
    beams = sorted(_crossings(lower, beam, (m for _, m in lower.beams)))
    joists = sorted(_crossings(lower, beam, (m for m in lower.members if m.kind is Kind.JOIST)))
    moved: list[float] = []
    for at in places:
        here = at
        if covers(lower, beam.point(at)) and isinstance(find_foot(lower, beam.point(at), width, "us"), str):
            for crossed, reach in ((beams, TO_A_BEAM), (joists, TO_A_JOIST)):
                close = [there for there in crossed if abs(there - at) <= reach]
                if close:
                    here = min(close, key=lambda there: abs(there - at))
                    break
        if all(abs(here - other) > width for other in moved):
            moved.append(here)
    return tuple(sorted(moved))


def places_that_would_do(lower: SetOut, beam: Member, units: Units) -> str:
    """Say where along a beam [in] its posts would stand on the frame below, for a person to type: beams, joists."""

    def listed(below: Iterator[Member]) -> str:
        there = sorted(_crossings(lower, beam, below))
        more = ", .." if len(there) > 6 else ""
        return ", ".join(format_length(at, units) for at in there[:6]) + more

    beams = listed(m for _, m in lower.beams)
    joists = listed(m for m in lower.members if m.kind is Kind.JOIST)
    found = [f"{what} at {where}" for what, where in (("its beams", beams), ("its joists", joists)) if where]
    if not found:
        return "move the line over a beam of it, or give it a beam there"
    return f"under this line lie {' and '.join(found)} from its lower end"


def _crossings(lower: SetOut, beam: Member, below: Iterator[Member]) -> Iterator[float]:
    """Yield where a beam crosses members of the frame below, along the beam [in]."""
    (x0, y0), (x1, y1) = beam.line
    along = ((x1 - x0) / beam.length, (y1 - y0) / beam.length)
    for member in below:
        (a0, b0), (a1, b1) = member.line
        way = (a1 - a0, b1 - b0)
        cross = along[0] * way[1] - along[1] * way[0]
        if abs(cross) <= 1e-6 * member.length:
            continue
        at = ((a0 - x0) * way[1] - (b0 - y0) * way[0]) / cross
        share = ((a0 - x0) * along[1] - (b0 - y0) * along[0]) / cross
        if -ON_LINE <= share <= 1 + ON_LINE and -ON_LINE <= at <= beam.length + ON_LINE:
            yield min(max(at, 0.0), beam.length)


def carried_by(members: tuple[Member, ...], posts: tuple[Post, ...]) -> tuple[Post, ...]:
    """Return the posts, those below a frame that others stand on naming the upper platforms too."""
    by_mark: dict[str, Member | Post] = {member.mark: member for member in members}
    by_mark |= {post.mark: post for post in posts}
    more: dict[str, list[str]] = {}
    for post in posts:
        if not post.stands_on:
            continue
        below, seen = [post.stands_on], {post.mark}
        while below:
            mark = below.pop()
            part = by_mark.get(mark)
            if part is None or mark in seen:
                continue
            seen.add(mark)
            if isinstance(part, Post):
                more.setdefault(mark, []).extend(post.carries)
                below += [part.stands_on] if part.stands_on else []
            else:
                below += [bearing.on for bearing in part.bearings]
    return tuple(
        _also(post, tuple(dict.fromkeys(more[post.mark]))) if post.mark in more else post for post in posts
    )


def _also(post: Post, names: tuple[str, ...]) -> Post:
    return replace(post, carries=(*post.carries, *(name for name in names if name not in post.carries)))
