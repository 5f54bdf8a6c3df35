"""Beams that share a neighbour's posts: what no table covers there, what frost asks of both, or why they cannot."""

from __future__ import annotations

from deckplan.checks.pulled import Pulled
from deckplan.layout.model import Kind, Layout, Sharing
from deckplan.layout.shared_ends import spliced_on
from deckplan.layout.ties import frost_founded
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan
from deckplan.verdict import Check, Source, Verdict, outside

RULE = "beam shares a neighbour's post"
PRACTICE = Source("common practice", "", "common practice")
TABLES = Source("AWC DCA6-2015", "scope: single level", "one published copy")


def check_sharing(plan: Plan, levels: Levels, layout: Layout, pulled: tuple[Pulled, ...]) -> list[Check]:
    """Return a check for every post that a neighbour's beam hangs on, and for every line that shares none.

    pulled: the free-standing levels that ties bring below the frost.
    """
    return [
        _shared(layout, wish, _deeper(plan, levels, wish, pulled)) if wish.post else _alone(wish)
        for wish in layout.sharing
    ]


def _shared(layout: Layout, wish: Sharing, deeper: str) -> Check:
    reason = (
        f'{wish.beam} hangs on post {wish.post} of "{wish.neighbour}": the published tables cover one level, '
        f"so no table covers a shared post; its load, post and footing are computed"
    )
    if spliced_on(layout.of(wish.neighbour, Kind.BEAM), wish.post):
        reason += (
            f"; {wish.post} carries a splice as well: its cap and this hanger need room on the same post"
        )
    return outside(wish.post, RULE, TABLES, reason + deeper)


def _deeper(plan: Plan, levels: Levels, wish: Sharing, pulled: tuple[Pulled, ...]) -> str:
    """Say which levels go below the frost only because these two are tied to each other."""
    if not pulled:
        return ""
    without = frost_founded(plan, levels, untied=frozenset((wish.platform, wish.neighbour)))
    return "".join(
        f'. Other frost class: the tie brings "{each.platform}", which stands free otherwise, below the frost: '
        f"{each.went(plan.units)}"
        for each in pulled
        if each.platform not in without
    )


def _alone(wish: Sharing) -> Check:
    reason = f'{wish.beam} cannot share a post of "{wish.neighbour}": {wish.reason}'
    return Check(wish.beam, RULE, PRACTICE, None, None, "", Verdict.FAIL, (), False, "", reason)
