"""A beam of the lower level hung on the upper one's post, its line moved to the post where it has to be."""

from __future__ import annotations

from deckplan.engineering.lumber import read_size
from deckplan.explore.changes import lines_of, with_line
from deckplan.explore.outcome import Built, Outcome, Refused, apart
from deckplan.explore.touching import Side, Touch
from deckplan.geometry import point_to_line
from deckplan.layout.model import Kind, Post, Sharing
from deckplan.layout.posts import HANG_GAP
from deckplan.plan.model import BeamLine, Plan
from deckplan.study import Study
from deckplan.units import format_length

MOST_TRIES = 4
"""How many posts are tried before the best one's reason is given."""


def shared(study: Study, touch: Touch) -> Outcome:
    """Hang the lower level's beam on a post of the upper one, its line moved to the post where it has to."""
    base = apart(study, touch)
    plan = base.asked
    side = Side.of(plan.platform(touch.lower), touch.edge)
    if not side.along:
        how = "square to" if side.across else "aslant to"
        return Refused(
            f'the joists of "{touch.lower}" run {how} the shared edge: its beams do not end there',
            f'turn the joists of "{touch.lower}" to run along that edge, or let them hang on a beam of "{touch.upper}"',
        )
    if any(wish.post for wish in _wishes(study, touch)):
        return Built(study)
    first: Refused | None = None
    for _, index, post in _meetings(base, touch, side)[:MOST_TRIES]:
        to = side.frame.local(post.at)[1]
        changed = with_line(plan, touch.lower, index, offset=to, shares_posts_with=touch.upper)
        tried = Study(changed)
        found = _on(tried, touch)
        if found == "":
            return Built(tried)
        if first is None:
            first = Refused(found, _cure(changed, tried, touch, post, found))
    if first is None:
        return Refused(
            f'no post of "{touch.upper}" stands beside the shared edge, or no beam of "{touch.lower}" ends there',
            "a post at the shared edge, and a beam line that ends at it",
        )
    return first


def _meetings(study: Study, touch: Touch, side: Side) -> list[tuple[tuple[int, float], int, Post]]:
    """Return the beam lines of the lower level that end at the edge with the upper one's posts there, best first.

    First the posts that stand at the edge or nearest to it, then those that need the shortest move.
    """
    half = read_size(study.plan.materials.post).thickness / 2
    found = []
    for post in study.layout.posts:
        if post.platform != touch.upper:
            continue
        v = side.frame.local(post.at)[1]
        if not side.reach[0] <= v <= side.reach[1]:
            continue
        back = point_to_line(post.at, touch.edge) - half
        for index, line in lines_of(study.asked.platform(touch.lower)):
            stretches = side.frame.across_at(v)
            if any(min(abs(end - side.at) for end in ends) <= HANG_GAP for ends in stretches):
                found.append(((round(max(back, HANG_GAP)), abs(line.offset - v)), index, post))
    return sorted(found, key=lambda item: (item[0], item[1], item[2].mark))


def _wishes(study: Study, touch: Touch) -> list[Sharing]:
    """Return what came of each wish of the lower level to hang on the upper one's posts."""
    return [
        wish
        for wish in study.layout.sharing
        if wish.platform == touch.lower and wish.neighbour == touch.upper
    ]


def _on(study: Study, touch: Touch) -> str:
    """Return why no beam of the lower level hangs on the upper one's posts, or nothing where one does."""
    wishes = _wishes(study, touch)
    if any(wish.post for wish in wishes):
        return ""
    return wishes[0].reason if wishes else f'no beam of "{touch.lower}" is laid out there'


def _cure(plan: Plan, tried: Study, touch: Touch, post: Post, reason: str) -> str:
    """Say what would let the beam hang there, and what a study of that plan finds."""
    units = plan.units
    side = Side.of(plan.platform(touch.upper), touch.edge)
    under = next(
        (m for m in tried.layout.of(touch.upper, Kind.BEAM) if any(b.on == post.mark for b in m.bearings)),
        None,
    )
    beam = plan.platform(touch.upper).supports[under.support] if under and under.support is not None else None
    if not isinstance(beam, BeamLine) or under is None or under.support is None:
        return _without(reason, touch)
    if "back from" in reason and side.across:
        to = side.at + side.inward * post.width / 2
        better = with_line(plan, touch.upper, under.support, offset=to)
        words = f'move the post line of "{touch.upper}" {format_length(abs(to - beam.offset), units)} out to the edge'
    elif "below the top" in reason and beam.style == "drop":
        better = with_line(plan, touch.upper, under.support, style="flush")
        words = f'make the beam of "{touch.upper}" flush'
    else:
        return _without(reason, touch)
    left = _on(Study(better), touch)
    return f"{words}: computed, the beam then hangs there" if left == "" else f"{words}; even so, {left}"


def _without(reason: str, touch: Touch) -> str:
    """Return the cure that the reason itself names, or that the level lies too low."""
    _, said, cure = reason.rpartition(": ")
    return cure if said else f'a higher level of "{touch.lower}", or ground cut away there'
