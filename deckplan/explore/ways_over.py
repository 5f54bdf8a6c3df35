"""Ways in which a level that lies over another stands: its posts on the frame below, or through it to the ground."""

from __future__ import annotations

from deckplan.explore.changes import lines_of, with_line
from deckplan.explore.outcome import Built, Outcome, Refused
from deckplan.explore.touching import Touch
from deckplan.geometry import Line, distance
from deckplan.layout.frame import Frame
from deckplan.layout.over import overlapping
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan, Platform
from deckplan.study import Study

IN_REACH = 24.0
"""How far a beam line is moved to come over a beam below [in]. Our own choice, about a joist bay and a half."""


def lying_over(plan: Plan, levels: Levels) -> tuple[Touch, ...]:
    """Return every pair of platforms of which one lies over the other, in plan order of the upper ones.

    Its edge is the longest stretch of the upper one's outline inside the lower one.
    """
    from shapely import LineString

    found: list[Touch] = []
    pairs = sorted(overlapping(plan, levels), key=lambda pair: plan.platforms.index(pair[1]))
    for lower, upper, common in pairs:
        drop = levels.elevation(upper.name) - levels.elevation(lower.name)
        if drop > 0:
            inside = [(LineString(edge).intersection(common).length, edge) for edge in _edges(upper)]
            found.append(Touch(upper.name, lower.name, max(inside)[1], drop, over=True))
    return tuple(found)


def _edges(platform: Platform) -> list[Line]:
    corners = platform.outline
    edges = zip(corners, (*corners[1:], corners[0]), strict=True)
    return [edge for edge in edges if distance(*edge) > 0]


def through(study: Study, touch: Touch) -> Outcome:
    """Let the upper level's posts go down through the lower one to footings of their own."""
    if not touch.over:
        return _beside(touch)
    plan = study.asked
    upper = plan.platform(touch.upper)
    for index, line in lines_of(upper):
        if line.stands_on == touch.lower:
            plan = with_line(plan, touch.upper, index, stands_on="")
    return Built(study if plan == study.asked else Study(plan))


def on_frame(study: Study, touch: Touch) -> Outcome:
    """Stand the upper level's posts on the lower one's frame, its lines moved over a beam there where one is near."""
    if not touch.over:
        return _beside(touch)
    plan = study.asked
    upper, lower = plan.platform(touch.upper), plan.platform(touch.lower)
    lines = lines_of(upper)
    if not lines:
        return Refused(
            f'"{touch.upper}" has no posts: it hangs', f'a beam line of its own over "{touch.lower}"'
        )
    changed = plan
    for index, line in lines:
        if line.stands_on == touch.lower:
            continue
        moves: dict[str, object] = {"stands_on": touch.lower, "shares_posts_with": ""}
        near = _beam_below(upper, lower, line.set_at)
        if near is not None:
            moves["offset"] = near
        changed = with_line(changed, touch.upper, index, **moves)
    found = study if changed == plan else Study(changed)
    if any(each.on for each in found.layout.on_frame if each.platform == touch.upper):
        return Built(found)
    why = next((each.reason for each in found.layout.on_frame if each.platform == touch.upper), "")
    reason = why or f'none of the posts of "{touch.upper}" lies over "{touch.lower}"'
    return Refused(reason, f'a beam line of "{touch.lower}" under the posts of "{touch.upper}"')


def _beam_below(upper: Platform, lower: Platform, offset: float) -> float | None:
    """Return the offset [in] at which a beam line lies over the nearest beam line below that runs its way, in reach."""
    above, below = Frame.of(upper), Frame.of(lower)
    if abs(above.along[0] * below.along[1] - above.along[1] * below.along[0]) > 1e-9:
        return None
    offsets = [above.local(below.site(0.0, line.set_at))[1] for _, line in lines_of(lower)]
    near = [at for at in offsets if abs(at - offset) <= IN_REACH and 0 <= at <= above.depth]
    return min(near, key=lambda at: abs(at - offset), default=None)


def _beside(touch: Touch) -> Refused:
    return Refused(
        f'"{touch.upper}" lies beside "{touch.lower}", not over it',
        "outlines of which one lies over the other",
    )
