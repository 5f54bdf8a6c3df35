"""Where the head of a stringer meets the rim it hangs on, and the board that stands in where the rim is too shallow.

::

    boards ========+                   The first tread lies one riser down, its stringer a board lower: a shallow
       rim |     | |__                 rim has little left at that height for a hanger to nail to.
           |     |H|  |__  stringer
           +-----|H|  |                lap: from the stringer's upper edge down to the lower edge of what it hangs on
                 |H|  |
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from deckplan.layout.flight_frame import Axes
from deckplan.layout.flight_hanger_board import BLOCKS, check_hanger_board
from deckplan.layout.model import Kind, Member
from deckplan.levels.box_steps import PLY
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Note, Rise
from deckplan.levels.stringer_ends import EndForce
from deckplan.levels.stringers import lay_out_stringer
from deckplan.plan.model import Plan
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, Verdict, at_least, not_applicable, outside

HEAD = "stringer head meets its rim"
LAP_MIN = 3.5
"""Least height of rim behind a stringer's head, for a hanger to nail to [in]. Source: common practice."""
PRACTICE = Source("common practice", "a hanger's height on the rim", "common practice")
BOARD, BOARD_DEPTH = "2x12", 11.25
"""The hanger board and its dressed depth [in]."""

Rims = tuple[tuple[Member, float, float], ...]


@dataclass(frozen=True, slots=True)
class Heads:
    """How the stringers of a flight hang: by stringer the mark behind its head, the added board, and what is said."""

    behind: tuple[str, ...]
    boards: tuple[Member, ...] = ()
    checks: tuple[Check, ...] = ()
    notes: tuple[Note, ...] = ()


def lap_on(top: float, head: float, rim: Member) -> float:
    """Return the height that a stringer's head and a rim share [in], under 0 where they miss each other.

    top [in]: elevation of the head's upper edge; head [in]: its height on the plumb cut.
    """
    return min(top, rim.top) - max(rim.bottom, top - head)


def hang_heads(
    plan: Plan, rise: Rise, rims: Rims, places: tuple[float, ...], top: float, force: EndForce
) -> Heads:
    """Return what each stringer hangs on, with a hanger board before the rim where its lap is too small.

    rims: the pieces along the edge with their reach [in]; places: middles of the stringers along the edge [in];
    top [in]: elevation of the stringers' upper edges; force: on one inner head.

    Source: common practice.
    """
    mark = flight_mark(rise.index)
    if rise.upper not in {platform.name for platform in plan.platforms}:
        reason = "it leaves from the house, whose framing is not known here: look what the hangers nail to"
        return Heads((rise.upper,) * len(places), checks=(not_applicable(mark, HEAD, PRACTICE, reason),))
    if not rims:
        reason = f'no rim of "{rise.upper}" was found along the edge to hang its stringers on'
        return Heads((rise.upper,) * len(places), checks=(outside(mark, HEAD, PRACTICE, reason),))
    own = [_nearest(rims, place) for place in places]
    head = _head_height(plan, rise, top)
    laps = [lap_on(top, head, rim) for rim in own]
    worst = laps.index(min(laps))
    behind = tuple(rim.mark for rim in own)
    if laps[worst] >= LAP_MIN:
        return Heads(behind, checks=(_check(plan, f"{mark}-S{worst + 1}", own[worst], top, head),))
    board = _board(rise, min(rim.top for rim in own))
    if board.bottom < rise.bottom:  # it would stand in the landing
        return Heads(behind, checks=(_check(plan, f"{mark}-S{worst + 1}", own[worst], top, head),))
    units = plan.units
    found = _check(plan, f"{mark}-S{worst + 1}", board, top, head)
    some = f"only {format_short(laps[worst], units)}" if laps[worst] > 0 else "nothing"
    small = f"{some} of {own[worst].mark} ({own[worst].size})"
    if found.verdict is Verdict.PASS:
        reason = f"required: hanger board {board.mark}, {BOARD}: the stringers meet {small}"
        found = replace(found, reason=reason)
    screws, checks = check_hanger_board(plan, board, own[worst], places[1] - places[0], force)
    blocked = ", blocked from behind below it" if any(c.reason.startswith(BLOCKS) for c in checks) else ""
    text = (
        f"{mark}: its stringers would meet {small}: hang them on {board.mark}, a {BOARD} in the fascia's place on the "
        f"rim's face, flush with its top, by {screws} structural screws a stringer{blocked}"
    )
    return Heads((board.mark,) * len(places), (board,), (found, *checks), (Note("advice", text),))


def _nearest(rims: Rims, place: float) -> Member:
    """Return the piece of the edge at a place along it [in], or the nearest one."""
    return min(rims, key=lambda item: max(item[1] - place, place - item[2], 0.0))[0]


def _head_height(plan: Plan, rise: Rise, top: float) -> float:
    """Return the height of the plumb cut [in]: throat over the slope's cosine, no lower than the landing."""
    layout = lay_out_stringer(rise.rise, rise.risers, rise.tread, plan.materials.decking.thickness)
    return min(layout.throat * layout.pitch_length / layout.tread, top - rise.bottom)


def _board(rise: Rise, top: float) -> Member:
    mark, axes = flight_mark(rise.index), Axes.of(rise)
    ends = (axes.site(0.0, PLY / 2), axes.site(rise.width, PLY / 2))
    return Member(f"{mark}-H1", mark, Kind.HEADER, BOARD, *ends, top, PLY, BOARD_DEPTH)


def _check(plan: Plan, mark: str, rim: Member, top: float, head: float) -> Check:
    lap = lap_on(top, head, rim)
    upper, lower = min(top, rim.top), max(rim.bottom, top - head)
    step = Step(
        "", f"height that the head and {rim.mark} share", "upper edge - lower edge", f"{upper:.5g} - {lower:.5g}",
        lap, "in", PRACTICE,
    )  # fmt: skip
    units = plan.units
    meets = f"by {format_short(lap, units)}" if lap > 0 else "nowhere"
    reason = (
        f"the head of {mark} meets {rim.mark} ({rim.size}) {meets}, a hanger wants {format_short(LAP_MIN, units)}: a "
        f"drop header under the rim, a deeper rim, or the first tread level with the deck"
    )
    return at_least(mark, HEAD, PRACTICE, lap, LAP_MIN, "in", (step,), reason=reason)
