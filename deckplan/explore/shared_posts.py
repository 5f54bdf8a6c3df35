"""A beam of the lower level hung on the upper one's post, its line moved to the post where it has to be."""

from __future__ import annotations

from deckplan.engineering.lumber import read_size
from deckplan.explore.changes import lines_of, with_line
from deckplan.explore.outcome import Built, Outcome, Refused, apart
from deckplan.explore.touching import Side, Touch
from deckplan.geometry import point_to_line
from deckplan.layout.model import Post, Sharing
from deckplan.layout.share_cures import find_cures
from deckplan.layout.shared_ends import HANG_GAP, said
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Verdict

IN_LINE = 1.25
"""How far a beam's line may pass beside a post's axis and hang on its face [in]: two plies on a 6x6."""

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
    first: tuple[Plan, Study] | None = None
    for _, index, post in _meetings(base, touch, side)[:MOST_TRIES]:
        to = side.frame.local(post.at)[1]
        changed = with_line(plan, touch.lower, index, offset=to, shares_posts_with=touch.upper)
        tried = Study(changed)
        if _hang(tried, touch):
            return Built(_with_lines_in_line(changed, tried, touch, side))
        first = first or (changed, tried)
    if first is None:
        return Refused(
            f'no post of "{touch.upper}" stands beside the shared edge, or no beam of "{touch.lower}" ends there',
            "a post at the shared edge, and a beam line that ends at it",
        )
    return _refused(*first, touch)


def _with_lines_in_line(plan: Plan, study: Study, touch: Touch, side: Side) -> Study:
    """Let the other lines of the lower level hang as well that lie in line with a post of the upper one as they are."""
    places = [side.frame.local(p.at)[1] for p in study.layout.posts if p.platform == touch.upper]
    for index, line in lines_of(plan.platform(touch.lower)):
        if line.shares_posts_with or not any(abs(at - line.set_at) <= IN_LINE for at in places):
            continue
        more = with_line(plan, touch.lower, index, shares_posts_with=touch.upper)
        tried = Study(more)
        if all(wish.post for wish in _wishes(tried, touch)):
            plan, study = more, tried
    return study


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
                found.append(((round(max(back, HANG_GAP)), abs(line.set_at - v)), index, post))
    return sorted(found, key=lambda item: (item[0], item[1], item[2].mark))


def _wishes(study: Study, touch: Touch) -> list[Sharing]:
    """Return what came of each wish of the lower level to hang on the upper one's posts."""
    return [
        wish
        for wish in study.layout.sharing
        if wish.platform == touch.lower and wish.neighbour == touch.upper
    ]


def _hang(study: Study, touch: Touch) -> bool:
    """Tell whether a beam of the lower level hangs on the upper one's posts, and every line of it that is to."""
    wishes = _wishes(study, touch)
    return bool(wishes) and all(wish.post for wish in wishes)


def _refused(plan: Plan, tried: Study, touch: Touch) -> Refused:
    """Say what keeps the beam off the post, and the first change of which a study finds that it helps."""
    wish = next((wish for wish in _wishes(tried, touch) if wish.miss is not None), None)
    if wish is None or wish.miss is None:
        return Refused(f'no beam of "{touch.lower}" is laid out there', "a beam line that crosses its level")
    reason = said(wish.miss, wish.beam, wish.neighbour, plan.units)
    cure = next(find_cures(plan, tried.layout, wish, lambda changed: Study(changed).layout), None)
    if cure is None:
        return Refused(reason, "posts of its own: none of the changes that were computed lets it hang there")
    more = _fails_more(tried, Study(cure.change(plan)))
    even = f"; even so, that plan fails: {more}" if more else ""
    return Refused(reason, f"{cure.words}: computed, the beam then hangs there{even}")


def _fails_more(before: Study, after: Study) -> str:
    """Return why the first check fails of those rules that did not fail before, empty where there is none."""
    known = {check.rule for check in before.checks if check.verdict is Verdict.FAIL}
    new = (check for check in after.checks if check.verdict is Verdict.FAIL and check.rule not in known)
    return next((check.reason or check.rule for check in new), "")
