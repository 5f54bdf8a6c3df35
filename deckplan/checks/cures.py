"""What helps where a check only says that one figure is over another: one sentence by kind of member and rule."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from deckplan.checks.bending_members import BEARING_ALONE, OVER_SUPPORT, TIP_RULE
from deckplan.checks.joists import bears_post
from deckplan.engineering.lumber import read_size
from deckplan.layout.model import Kind, Layout, Member, Post
from deckplan.loads.model import Loads
from deckplan.units import listed
from deckplan.verdict import Check, Verdict, only_compares

DEEPEST = 11.25
"""Depth of the deepest lumber, 2x12 [in]. Source: PS 20."""

MOST_PLIES = 3
"""Plies of the widest beam that is built of lumber on site [1]. Source: IRC Table R507.5 prints no more."""

WIDEST_POST = 7.5
"""Side of an 8x8 [in]. Source: PS 20."""

BY_RULE = {
    "flight height": "a level between, and two shorter flights",
    "flight width": "a longer stretch of edge for it",
    "tread depth": "a deeper tread",
    "joist spacing by the rules": "closer joists",
    "joist spacing under wood boards by the table": "closer joists",
    "longest joist span of the tables": "a beam line between",
    "beam overhang within its share of the span": "set its end post nearer to the end",
    "door step": "bring the level nearer to the sill",
}
"""What helps where the rule alone says it."""


def with_cures(checks: tuple[Check, ...], layout: Layout, loads: Loads) -> tuple[Check, ...]:
    """Return checks, those that fail with the bare comparison of two figures with what would help added to it."""
    return tuple(
        replace(check, reason=f"{check.reason}: {cure}")
        if check.verdict is Verdict.FAIL and only_compares(check) and (cure := _cure(check, layout, loads))
        else check
        for check in checks
    )


def _cure(check: Check, layout: Layout, loads: Loads) -> str:
    """Say what would help, "" where no more can be said."""
    if check.rule in BY_RULE:
        return BY_RULE[check.rule]
    part = layout.by_mark.get(check.mark)
    if isinstance(part, Post):
        return _post(check, part)
    if not isinstance(part, Member):
        return ""
    if part.kind is Kind.BEAM:
        return _beam(check, part, layout)
    if part.kind in (Kind.JOIST, Kind.HEADER):
        return _joist(check, part, bears_post(layout, loads, part.mark))
    if part.kind is Kind.LEDGER and check.rule.startswith(("load on one", "spacing of")):
        return "fasteners closer together, or a beam line between the house and the next"
    if part.kind is Kind.LEDGER:
        return "deeper joists, whose depth it has"
    return "a level between, and two shorter flights" if part.kind is Kind.STRINGER else ""


def _post(check: Check, post: Post) -> str:
    """Only what makes the post itself stronger or its load less."""
    helps = {"post as a column": "posts closer together", "slenderness": "a lower level"}.get(check.rule, "")
    return f"wider posts or {helps}" if helps and post.width < WIDEST_POST else helps


def _joist(check: Check, joist: Member, under_post: bool) -> str:
    """More joists take less each; a line more shortens spans; depth helps in all but bearing."""
    if under_post:
        return "set the post of the upper level over a beam, or a beam line under that post"
    places = sorted(bearing.at for bearing in joist.bearings)
    if any(b - a < joist.depth for a, b in pairwise(places)):
        return "it bends over two bearings that lie close to each other: set those beam lines farther apart"
    over_end = max(places[0], joist.length - places[-1]) > BEARING_ALONE if places else False
    at_end = check.rule in (TIP_RULE, "deflection of the overhang's tip") or "person at the tip" in check.rule
    shorter = at_end or (over_end and check.rule == OVER_SUPPORT)
    cures = []
    if joist.kind is Kind.HEADER or read_size(joist.size).plies > 1:
        cures.append("a smaller opening")
    elif not at_end or check.rule == TIP_RULE:
        cures.append("closer joists")
    if check.rule != "bearing" and joist.depth < DEEPEST:
        cures.append("deeper joists")
    cures.append("a shorter overhang" if shorter else "a beam line between")
    return listed(cures, "or")


def _beam(check: Check, beam: Member, layout: Layout) -> str:
    """Posts closer together leave less to each span and each post; more wood helps in all but bearing."""
    places = sorted(bearing.at for bearing in beam.bearings)
    if any(b - a < beam.depth for a, b in pairwise(places)):
        return "two of its bearings lie close to each other: set them farther apart"
    posts = [part for b in beam.bearings if isinstance(part := layout.by_mark.get(b.on), Post)]
    at_end = check.rule == TIP_RULE
    cures = ["set its end post nearer to the end" if at_end else "posts closer together"]
    size = read_size(beam.size)
    if check.rule != "bearing" and beam.depth < DEEPEST:
        cures.append("a deeper beam")
    elif check.rule != "bearing" and size.plies < MOST_PLIES:
        cures.append("more plies")
    elif check.rule == "bearing" and posts and posts[0].width < WIDEST_POST:
        cures.append("wider posts")
    return listed(cures, "or")
