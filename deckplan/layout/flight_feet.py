"""Under the feet of stringers that come down on a platform: a joist, or blocking between two, never boards alone."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.layout.flight_blocking import Bed, bed_for, blocking_members, clear_of_joists, level_frame
from deckplan.layout.flight_frame import Axes
from deckplan.layout.frame import Frame
from deckplan.layout.model import Member
from deckplan.layout.platform_frame import letter
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Note, Rise
from deckplan.plan.model import Plan
from deckplan.verdict import Check, Source, Verdict

RULE = "framing under the stringers' feet"
PRACTICE = Source("common practice", "posts and stringers bear on framing", "common practice")

BACK = 2.0
"""From the toe of a stringer to the middle of what it bears on [in]. Source: common practice."""


@dataclass(frozen=True, slots=True)
class Feet:
    """What lies under a flight's feet in the lower platform: blocking to add, what is missing, what to say."""

    blocks: tuple[Member, ...] = ()
    checks: tuple[Check, ...] = ()
    notes: tuple[Note, ...] = ()


def block_feet(plan: Plan, rise: Rise, members: tuple[Member, ...], places: tuple[float, ...]) -> Feet:
    """Return the blocking that the feet of stringers ask for.

    members: the frames known so far; places: middles of the stringers along the edge [in].
    """
    names = [platform.name for platform in plan.platforms]
    if rise.lower not in names:
        return Feet()
    axes, mark = Axes.of(rise), flight_mark(rise.index)
    frame, floor = level_frame(members, rise.lower), Frame.of(plan.platform(rise.lower))
    beds: list[Bed] = []
    missing = 0
    for s in places:
        at = axes.site(s, rise.run - BACK)
        if not all(clear_of_joists(at, frame, way) for way in (axes.along, axes.away)):
            continue  # on a joist, or across one
        bed = bed_for(at, frame, floor, axes.along, axes.away)
        if bed is None:
            missing += 1
        else:
            beds.append(bed)
    lead = letter(names.index(rise.lower))
    taken = sum(1 for member in members if member.mark.startswith(f"{lead}-K"))
    blocks = tuple(blocking_members(beds, lead, taken))
    notes: tuple[Note, ...] = ()
    if blocks:
        pieces = f"{len(blocks)} pieces of blocking go" if len(blocks) > 1 else "a piece of blocking goes"
        text = f'{mark}: under its stringers\' feet {pieces} into "{rise.lower}" before its boards are laid'
        notes = (Note("caution", text),)
    return Feet(blocks, (_check(mark, rise, missing, len(places)),), notes)


def _check(mark: str, rise: Rise, missing: int, count: int) -> Check:
    if not missing:
        return Check(mark, RULE, PRACTICE, None, None, "", Verdict.PASS)
    reason = (
        f'{missing} of {count} stringers come down on no framing of "{rise.lower}" and none to block between'
    )
    return Check(mark, RULE, PRACTICE, None, None, "", Verdict.FAIL, reason=reason)
