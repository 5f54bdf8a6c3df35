"""Which breaker boards and first rows make sense."""

from __future__ import annotations

from collections.abc import Iterator

from deckplan.errors import Problem
from deckplan.geometry import turned
from deckplan.plan.model import Decking, Platform
from deckplan.units import format_inches


def boards_of(platform: Platform, lead: str, decking: Decking | None, across: float) -> Iterator[Problem]:
    """Find what makes no sense about a platform's boards; across: angle of the way across its joists [degrees]."""
    boards, place = platform.boards, f"{lead}, boards"
    if decking is not None and boards.first != "whole" and boards.first > decking.width:
        limit = f"at most the width of a board, {format_inches(decking.width)}"
        yield Problem(f"{place}.first", limit, format_inches(boards.first))
    if isinstance(boards.breaker, tuple):
        us = [turned(corner, -across)[0] for corner in platform.outline]
        width = max(us) - min(us)
        for offset in boards.breaker:
            if not 0 < offset < width:
                limit = f"offsets across the joists, over 0 and under {format_inches(width)}"
                yield Problem(f"{place}.breaker", limit, format_inches(offset))
