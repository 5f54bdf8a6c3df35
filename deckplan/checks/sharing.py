"""Beams that share a neighbour's posts: what no table covers there, or why they cannot."""

from __future__ import annotations

from deckplan.layout.model import Kind, Layout, Sharing
from deckplan.layout.shared_ends import spliced_on
from deckplan.verdict import Check, Source, Verdict, outside

RULE = "beam shares a neighbour's post"
PRACTICE = Source("common practice", "", "common practice")
TABLES = Source("AWC DCA6-2015", "scope: single level", "one published copy")


def check_sharing(layout: Layout) -> list[Check]:
    """Return a check for every post that a neighbour's beam hangs on, and for every line that shares none."""
    return [_shared(layout, wish) if wish.post else _alone(wish) for wish in layout.sharing]


def _shared(layout: Layout, wish: Sharing) -> Check:
    reason = (
        f'{wish.beam} hangs on post {wish.post} of "{wish.neighbour}": the published tables cover one level, '
        f"so no table covers a shared post; its load, post and footing are computed"
    )
    if spliced_on(layout.of(wish.neighbour, Kind.BEAM), wish.post):
        reason += (
            f"; {wish.post} carries a splice as well: its cap and this hanger need room on the same post"
        )
    return outside(wish.post, RULE, TABLES, reason)


def _alone(wish: Sharing) -> Check:
    reason = f'{wish.beam} cannot share a post of "{wish.neighbour}": {wish.reason}'
    return Check(wish.beam, RULE, PRACTICE, None, None, "", Verdict.FAIL, (), False, "", reason)
