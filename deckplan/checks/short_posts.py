"""Posts too short to build: the straps of a base below and the plates of a cap above both want wood of the post.

::

      beam |_______|
     cap  ||       ||   plates down the post
          ||  post ||
    base  ||       ||   straps up the post
    ______|_________|____ pier
"""

from __future__ import annotations

from collections.abc import Iterator

from deckplan.geometry import unit
from deckplan.layout.model import Layout, Member, Post
from deckplan.levels.model import Note
from deckplan.plan.model import Plan
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, Verdict, at_least

BASE_STRAP = 3.0
"""How far the straps of a post base reach up two faces of the post [in]. Source: common practice, from memory."""

CAP_PLATE = 2.5
"""How far the plates of a post cap reach down the post [in]. Source: common practice, from memory."""

LEAST_POST = BASE_STRAP + CAP_PLATE
"""A post shorter than this has no room for both [in]; a notched one has no cap."""

PRACTICE = Source("common practice", "a base's straps and a beam hanger on faces of their own", "from memory")
RULE = "room for hangers above the post base"
NAMED = 6
"""How many posts a note names before it counts the rest."""


def too_short(post: Post) -> bool:
    """Tell whether a post has no room for its base and its cap."""
    return 0 < post.height < (LEAST_POST if post.notch is None else BASE_STRAP) - 1e-9


def low_hangers(layout: Layout, post: Post) -> tuple[Member, ...]:
    """Return the beams hung on a post so low that their hangers reach into where the base's straps would be."""
    return tuple(member for where, member in _low(layout) if where is post)


def _low(layout: Layout) -> Iterator[tuple[Post, Member]]:
    posts = {post.mark: post for post in layout.posts}
    for member in layout.members:
        for bearing in member.bearings:
            post = posts.get(bearing.on) if bearing.manner == "hanger" else None
            if post is not None and member.bottom < post.bottom + BASE_STRAP - 1e-9:
                yield post, member


def check_short_posts(plan: Plan, layout: Layout) -> list[Check]:
    """Check every post on which beams hang low: the base turns its straps to the free faces, where two are free."""
    hung: dict[str, list[Member]] = {}
    for post, member in _low(layout):
        hung.setdefault(post.mark, []).append(member)
    return [check for post in layout.posts for check in _check(plan, post, tuple(hung.get(post.mark, ())))]


def _check(plan: Plan, post: Post, hung: tuple[Member, ...]) -> Iterator[Check]:
    if not hung:
        return
    lowest = min(hung, key=lambda member: member.bottom)
    there = lowest.bottom - post.bottom
    units, marks = plan.units, " and ".join(member.mark for member in hung)
    step = Step(
        "h", f"from the foot of {post.mark} to the seat of {lowest.mark}", "", "", there, "in", PRACTICE
    )
    if _one_way(hung):
        reason = (
            f"required: {marks} hangs {format_short(there, units)} over the foot of {post.mark}: the base's straps go "
            f"on the other two faces"
        )
        yield Check(post.mark, RULE, PRACTICE, None, None, "", Verdict.PASS, (step,), False, "", reason)
        return
    reason = (
        f"{post.mark}: {marks} hang on faces at right angles, {format_short(there, units)} over its foot: no two faces "
        f"are left for a base's straps of {format_short(BASE_STRAP, units)}; dig the pier's top down, raise the level, "
        f"or give a beam a post of its own"
    )
    yield at_least(post.mark, RULE, PRACTICE, there, BASE_STRAP, "in", (step,), reason=reason)


def _one_way(hung: tuple[Member, ...]) -> bool:
    """Tell whether all beams run the same way, so that two faces of the post are free of them."""
    (x, y), *others = [unit(member.start, member.end) for member in hung]
    return all(abs(x * a + y * b) > 0.7 for a, b in others)


ON_PIER = "bear the beam on a bracket cast into the pier, or dig the pier's top down"
ON_FRAME = "raise the level, or bear its joists on the frame below"


def short_post_notes(plan: Plan, layout: Layout) -> list[Note]:
    """Advise what to build where a post is too short for its connectors."""
    groups: dict[tuple[bool, bool], list[Post]] = {}
    for post in layout.posts:
        if too_short(post):
            groups.setdefault((post.notch is not None, bool(post.stands_on)), []).append(post)
    return [
        _advice(plan, posts, notched, ON_FRAME if on_frame else ON_PIER)
        for (notched, on_frame), posts in groups.items()
    ]


def _advice(plan: Plan, posts: list[Post], notched: bool, remedy: str) -> Note:
    short = format_short(min(post.height for post in posts), plan.units)
    high = f"only {short} high" if len(posts) == 1 else f"down to {short} high"
    words = "the straps of a base" if notched else "the straps of a base and the plates of a cap"
    least = format_short(BASE_STRAP if notched else LEAST_POST, plan.units)
    text = (
        f"{_named(posts)}: {high}, too short for {words}, which take {least} (common practice, from memory)"
    )
    return Note("advice", f"{text}: {remedy}")


def _named(posts: list[Post]) -> str:
    more = f" and {len(posts) - NAMED} more" if len(posts) > NAMED else ""
    return ", ".join(post.mark for post in posts[:NAMED]) + more
