"""The wood that boards ask for below them, as members: doubled joists under seams and borders, blocking at mitres."""

from __future__ import annotations

from deckplan.engineering.lumber import read_size
from deckplan.layout.boards_model import Boards, SupportNeeded
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Layout, Member


def wood_under_boards(boards: Boards, layout: Layout) -> tuple[Member, ...]:
    """Return what the boards' ends and borders lie on and the frame lacks, as deep as the platform's joists.

    It carries boards, not the deck: the sums of the joists do not count on it. It goes in before the boards.
    """
    joists: dict[str, Member] = {}
    for member in layout.members:
        if member.kind is Kind.JOIST:
            joists.setdefault(member.platform, member)
    return tuple(
        _member(need, joists[need.platform]) for need in boards.supports_needed if need.platform in joists
    )


def _member(need: SupportNeeded, joist: Member) -> Member:
    ply = read_size(joist.size).ply
    plies = max(1, round(need.width / JOIST_THICKNESS))
    return Member(
        mark=need.mark,
        platform=need.platform,
        kind=Kind.BLOCKING if need.kind == "blocking" else Kind.JOIST,
        size=ply if plies == 1 else f"{plies}-{ply}",
        start=need.line[0],
        end=need.line[1],
        top=joist.top,
        width=need.width,
        depth=joist.depth,
    )
