"""Where the wood of a beam ends: at a rim, at a ledger's face, on the face of another beam of its platform.

::

     =========+====== earlier beam, or one given first     The later beam hangs on the earlier one's face; what is left
             /                                             of it beyond is left out where it is no more than a stub.
            /  later beam
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from deckplan.layout.closing import at_edge
from deckplan.layout.frame import ON_LINE, Frame, Interval, Run
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Member
from deckplan.layout.supports import SAME_SLOPE, BeamStretch, LedgerLine, lean_of

SHORTEST_STUB = 24.0
"""What is left of a beam beyond another one, up to the edge, is left out up to this length [in]: joists
overhang so far. Our own choice."""


LEAST_WOOD = 1.0
"""Where a line only grazes a corner, rims and end joists leave no beam of it; shorter ones are none [in]."""


def end_beams(
    frame: Frame,
    stretch: BeamStretch,
    width: float,
    earlier: Sequence[tuple[BeamStretch, Member]],
    ledgers: Sequence[LedgerLine],
) -> tuple[BeamStretch, ...]:
    """End a beam so wide [in] where its wood ends, and cut it where it crosses a beam of its platform given before it.

    A flush beam within the platform stops at the rims or end joists, at a wall at the ledger; where a ledger lies in
    line with it, it ends where that begins.
    """
    return tuple(
        piece
        for part in beside_ledgers(stretch, width, ledgers)
        for piece in _end_beams(frame, part, stretch, width, earlier, ledgers)
    )


def beside_ledgers(
    stretch: BeamStretch, width: float, ledgers: Sequence[LedgerLine]
) -> tuple[BeamStretch, ...]:
    """Leave out what of a beam so wide [in] would lie along a ledger, in its place: that carries the joists there."""
    left = [stretch]
    for ledger in ledgers:
        if lies_along(stretch.run, width, ledger):
            left = [part for one in left for part in _beyond(one, ledger.reach)]
    return tuple(left)


def lies_along(run: Run, width: float, ledger: LedgerLine) -> bool:
    """Tell whether a beam so wide [in] on a run would take the place of a ledger, in plan."""
    if abs(ledger.run.slope - run.slope) > SAME_SLOPE:
        return False
    # how far inside the edge its middle lies, square to it; the ledger fills its own thickness there
    off = (run.v - ledger.run.v) / ledger.run.secant * (1.0 if ledger.low else -1.0)
    return -width / 2 < off < width / 2 + JOIST_THICKNESS


def _beyond(stretch: BeamStretch, taken: Interval) -> list[BeamStretch]:
    """Return what of a beam lies beyond a stretch of u [in] that a ledger takes."""
    low, high = stretch.reach
    if taken[1] <= low + ON_LINE or taken[0] >= high - ON_LINE:
        return [stretch]
    ends = ((low, taken[0], (stretch.slants[0], 0.0)), (taken[1], high, (0.0, stretch.slants[1])))
    return [
        replace(stretch, reach=(a, b), wood=(a, b), slants=slants) for a, b, slants in ends if b - a > ON_LINE
    ]


def _end_beams(
    frame: Frame,
    stretch: BeamStretch,
    whole: BeamStretch,
    width: float,
    earlier: Sequence[tuple[BeamStretch, Member]],
    ledgers: Sequence[LedgerLine],
) -> tuple[BeamStretch, ...]:
    """End one stretch that lies along no ledger; whole: the line that it is left of."""
    flush = stretch.line.style == "flush"
    if flush and at_edge(frame, stretch, width) is None:
        low, high = (stretch.reach[end] == whole.reach[end] for end in (0, 1))
        stretch = _stopped(stretch, (JOIST_THICKNESS * low, JOIST_THICKNESS * high))
    if flush:
        stretch = _at_ledgers(stretch, ledgers)
    if stretch.wood[1] - stretch.wood[0] <= LEAST_WOOD:
        return ()
    pieces = [stretch]
    for other, beam in earlier:
        if other.line.style == stretch.line.style:
            pieces = [part for piece in pieces for part in _cut_at(piece, other, beam)]
    if len(pieces) > 1 or pieces != [stretch]:
        pieces = [piece for piece in pieces if not _is_stub(piece) and _is_meant(frame, piece)]
    return tuple(pieces)


def _stopped(stretch: BeamStretch, thick: tuple[float, float]) -> BeamStretch:
    """Shorten the wood by what closes the edges at its ends, so thick [in]; more where the edge leans."""
    low, high = (
        each * (1.0 + slant * slant) ** 0.5 / stretch.run.secant
        for each, slant in zip(thick, stretch.slants, strict=True)
    )
    return replace(stretch, wood=(stretch.wood[0] + low, stretch.wood[1] - high))


def _at_ledgers(stretch: BeamStretch, ledgers: Sequence[LedgerLine]) -> BeamStretch:
    """Shorten the wood to the face of a ledger that it runs against."""
    low, high = stretch.wood
    for ledger in ledgers:
        at = _crossing(stretch.run, ledger.run)
        if at is None or not ledger.reach[0] - JOIST_THICKNESS <= at <= ledger.reach[1] + JOIST_THICKNESS:
            continue
        trim = JOIST_THICKNESS / _sine(stretch.run, ledger.run) / stretch.run.secant
        if abs(at - stretch.reach[0]) <= ON_LINE + 1e-3:
            low = max(low, at + trim)
        elif abs(at - stretch.reach[1]) <= ON_LINE + 1e-3:
            high = min(high, at - trim)
        else:
            continue
    return replace(stretch, wood=(low, high))


def _cut_at(piece: BeamStretch, other: BeamStretch, beam: Member) -> list[BeamStretch]:
    """Cut a piece at an earlier beam that it crosses: what is left on either side hangs on that beam's face."""
    at = _crossing(piece.run, other.run)
    if at is None or not _within(piece, at) or not _within(other, at):
        return [piece]
    sine = _sine(piece.run, other.run)
    trim = beam.width / 2 / sine / piece.run.secant
    lean = lean_of(piece.run, (1.0 / other.run.secant, other.run.slope / other.run.secant)) or 0.0
    low = replace(
        piece,
        reach=(piece.reach[0], at),
        wood=(piece.wood[0], at - trim),
        slants=(piece.slants[0], lean),
        hung_on=(piece.hung_on[0], beam.mark),
    )
    high = replace(
        piece,
        reach=(at, piece.reach[1]),
        wood=(at + trim, piece.wood[1]),
        slants=(lean, piece.slants[1]),
        hung_on=(beam.mark, piece.hung_on[1]),
    )
    return [part for part in (low, high) if part.wood[1] - part.wood[0] > ON_LINE]


def _within(stretch: BeamStretch, u: float) -> bool:
    return stretch.reach[0] - ON_LINE <= u <= stretch.reach[1] + ON_LINE


def _crossing(one: Run, other: Run) -> float | None:
    """Return the u [in] where two lines across cross, None where they run beside each other."""
    if abs(one.slope - other.slope) <= SAME_SLOPE:
        return None
    return (other.v - one.v) / (one.slope - other.slope)


def _sine(one: Run, other: Run) -> float:
    """Return the sine of the angle between two lines across [1]."""
    return abs(one.slope - other.slope) / (one.secant * other.secant)


def _is_stub(piece: BeamStretch) -> bool:
    """Tell whether a piece is a stub between another beam and the edge."""
    return piece.length <= SHORTEST_STUB and not all(piece.hung_on)


def _is_meant(frame: Frame, piece: BeamStretch) -> bool:
    """Tell whether the two points that give a line lie over a piece of it; an offset means all of them."""
    if piece.line.line is None:
        return True
    ends = sorted(frame.local(point)[0] for point in piece.line.line)
    return min(ends[1], piece.wood[1]) - max(ends[0], piece.wood[0]) > 1.0
