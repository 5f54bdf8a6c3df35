"""Rows of boards by their real width and gap, the ripped last row, and ways round a sliver.

::

    |<---------------- extent ---------------->|
    |##board##| |##board##| |##board##| |##rip#|
               gap         gap         gap   last
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from deckplan.layout.boards_model import PlatformBoards, Remedy
from deckplan.units import Units, format_length, format_short

SLIVER_SHARE = 1 / 3
"""A row ripped to less than this share of a board is a sliver: screws split it, the eye finds it. Common practice."""

GAP_LEAST, GAP_MOST = 1 / 8, 1 / 4
"""The gaps [in] that a remedy may choose from. Common practice; the board maker's instructions decide."""

_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class Row:
    """One row: where it starts across the rows [in] and how wide it is [in]."""

    start: float
    width: float

    @property
    def end(self) -> float:
        """Where it ends [in]."""
        return self.start + self.width


def lay_rows(extent: float, width: float, gap: float, first: float | None = None) -> tuple[Row, ...]:
    """Return the rows that cover an extent; the last one is ripped, or two rows end flush.

    extent, width, gap [in]; first [in]: width of the first row where it is ripped too.

    Source: common practice; 10 ft of 5-1/2 in boards with 1/8 in gaps are 22 rows (association guidance).

    >>> rows = lay_rows(120.0, 5.5, 0.125)
    >>> len(rows), rows[-1].width
    (22, 1.875)
    """
    rows: list[Row] = []
    at = 0.0
    while at < extent - _HAIR:
        own = first if first is not None and not rows else width
        rows.append(Row(at, min(own, extent - at)))
        at += own + gap
    return tuple(rows)


def is_sliver(ripped: float, width: float) -> bool:
    """Tell whether a row ripped to a width [in] is a sliver of a board of a width [in].

    >>> is_sliver(1.8, 5.5), is_sliver(1.9, 5.5)
    (True, False)
    """
    return _HAIR < ripped < width * SLIVER_SHARE - _HAIR


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge of the field along the rows: where it lies across them [in], and whether the field lies below it."""

    at: float
    below: bool


def left_of(edge: Edge, rows: tuple[Row, ...], width: float) -> tuple[int, float] | None:
    """Return the row that an edge cuts lengthwise and what is left of it [in], or None where none is ripped.

    width [in]: of a whole board.
    """
    for number, row in enumerate(rows):
        if not row.start - _HAIR <= edge.at <= row.end + _HAIR:
            continue
        left = edge.at - row.start if edge.below else row.end - edge.at
        return (number, left) if _HAIR < left < width - _HAIR else None
    return None


def _narrowest(edges: tuple[Edge, ...], rows: tuple[Row, ...], width: float) -> float:
    """Return the narrowest rip along any edge [in], a whole board where nothing is ripped."""
    found = [left[1] for edge in edges if (left := left_of(edge, rows, width)) is not None]
    return min(found, default=width)


def find_remedies(
    edges: tuple[Edge, ...],
    extent: float,
    width: float,
    gap: float,
    units: Units,
    first: float | None = None,
) -> tuple[Remedy, ...]:
    """Return the ways to lay a field without a sliver along any edge, or none where there is no sliver.

    edges: those along the rows; extent, width, gap [in]. Either the gaps change a little, or the first row is ripped
    so that the narrowest row is as wide as it can be; for a rectangle first and last are then alike. first [in]: width
    of the first row as the plan has it, where it is ripped.
    """
    rows = lay_rows(extent, width, gap, first)
    if len(rows) < 2 or not is_sliver(_narrowest(edges, rows, width), width):
        return ()
    found = []
    for whole in (len(rows) - 1, len(rows)):
        even = (extent - whole * width) / (whole - 1) if whole > 1 else math.inf
        if not GAP_LEAST - _HAIR <= even <= GAP_MOST + _HAIR:
            continue
        if not is_sliver(_narrowest(edges, lay_rows(extent, width, even), width), width):
            text = f"{whole} whole rows with gaps (decking.gap) of {_fine(even, units)} instead of {_fine(gap, units)}"
            found.append(Remedy("gap", even, width, width, text))
    # what is left of the extent beside whole rows goes to both ends alike: best for a rectangle
    alike = (extent - (len(rows) - 2) * width - (len(rows) - 1) * gap) / 2
    steps = [width * (1 - share / 44) for share in range(1, 30)]
    tries = [own for own in (alike, *steps) if SLIVER_SHARE * width <= own <= width]
    best, own = max(
        ((min(own, _narrowest(edges, lay_rows(extent, width, gap, own), width)), own) for own in tries),
        key=lambda pair: pair[0],
        default=(0.0, width),
    )
    if best > 0 and not is_sliver(best, width):
        last = lay_rows(extent, width, gap, own)[-1].width
        text = (
            f"rip the first row (boards.first) to {format_short(own, units)}; "
            f"the last is then {format_short(last, units)}"
        )
        found.append(Remedy("start", own, own, last, text))
    return tuple(found)


def sliver_notes(laid: PlatformBoards, units: Units) -> tuple[str, ...]:
    """Say where a platform's boards are ripped to a sliver, and which key of the plan file helps."""
    if not laid.slivers:
        return ()
    least = format_short(min(rip.width for rip in laid.slivers), units)
    ways = (
        " or ".join(remedy.text for remedy in laid.remedies)
        or "move an edge, or take boards of another width"
    )
    return (f'boards of "{laid.platform}" are ripped to {least}, a sliver: {ways}',)


def _fine(gap: float, units: Units) -> str:
    """Write a gap [in] to the thousandth: a sixteenth is too coarse over twenty rows."""
    return f"{gap:.3f} in" if units == "us" else format_length(gap, units)
