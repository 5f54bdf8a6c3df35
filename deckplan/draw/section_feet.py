"""Posts on a lower frame as a section shows them: the blocks under their feet, the boards cut round them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from deckplan.draw.cut import Cut
from deckplan.draw.draft import Draft
from deckplan.draw.scene import Role
from deckplan.draw.shapes import rectangle
from deckplan.draw.subject import Subject
from deckplan.geometry import point_to_line
from deckplan.layout.model import Kind, Member, Post
from deckplan.plan.model import Platform


def frame_below(study: Subject, post: Post) -> str:
    """Return the platform whose frame a post stands on, nothing for one on a footing."""
    below = study.layout.by_mark.get(post.stands_on)
    return below.platform if isinstance(below, Member) else ""


def draw_blocks_under(draft: Draft, study: Subject, cut: Cut, post: Post) -> None:
    """Draw the blocks between the joists that a post on a lower frame stands on."""
    lower = frame_below(study, post)
    if not lower:
        return
    for block in study.layout.of(lower, Kind.BLOCKING):
        if point_to_line(post.at, block.line) > post.width / 2:
            continue
        low, high = sorted((cut.across(block.start), cut.across(block.end)))
        if high - low < block.width:  # seen from its end
            low, high = cut.across(block.start) - block.width / 2, cut.across(block.start) + block.width / 2
        draft.area(rectangle(low, block.bottom, high, block.top), Role.BLOCKING, block.mark)


def clear_stretches(
    study: Subject, cut: Cut, one: Platform, posts: Iterable[Post], stretch: tuple[float, float]
) -> Iterator[tuple[float, float]]:
    """Yield the parts of a stretch of boards [in along the cut] that no post on this platform's frame passes."""
    low, high = stretch
    for post in sorted(
        (p for p in posts if frame_below(study, p) == one.name), key=lambda p: cut.across(p.at)
    ):
        left, right = cut.across(post.at) - post.width / 2, cut.across(post.at) + post.width / 2
        if low < left < high:
            yield low, left
        if right > low:
            low = max(low, min(right, high))
    if low < high:
        yield low, high
