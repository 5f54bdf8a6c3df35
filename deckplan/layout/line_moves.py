"""Would a beam line, moved along the joists, hold every joist that misses it now: laid out, not guessed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from deckplan.layout.model import Kind, Member
from deckplan.layout.platform_frame import SetOut
from deckplan.plan.model import BeamLine, Plan

SetOutAgain = Callable[[Plan], tuple[SetOut, ...]]
"""Sets the platforms of a changed plan out."""


@dataclass(frozen=True, slots=True)
class Moved:
    """What tries a move: the plan, the hand that sets it out anew, how far joists may overhang [1]."""

    plan: Plan
    again: SetOutAgain
    share: float

    def holds(self, set_out: SetOut, support: int, by: float, joists: set[str]) -> bool:
        """Tell whether a beam line moved by so much along the joists [in] holds these of them and loses none.

        Nor may a joist that bears on it then reach too far over an end: what that asks would move the line back.
        """
        name = set_out.platform.name
        changed = _with_line(self.plan, set_out, support, math.copysign(_up(abs(by), self.plan), by))
        if changed is None:
            return False
        after = next(each for each in self.again(changed) if each.platform.name == name)
        beams = {beam.mark for _, beam in after.beams if beam.support == support}
        before = {m.mark for m in _joists(set_out) if not stands(m)}
        return all(
            m.mark in before - joists
            if not stands(m)
            else not (_bears_on(m, beams) and _reaches(m, self.share))
            for m in _joists(after)
        )


def stands(member: Member) -> bool:
    """Tell whether a member rests on two places."""
    return len({round(b.at, 3) for b in member.bearings}) >= 2


def loose_ends(joist: Member, share: float) -> list[float]:
    """Return the ends [in along it] that something must hold: the farther from its one bearing, the other if too far.

    share: of an overhang to its span by the rules [1].
    """
    ends = [0.0, joist.length]
    if not joist.bearings:
        return ends
    at = joist.bearings[0].at
    near, far = sorted(ends, key=lambda end: abs(end - at))
    held = abs(near - at) <= share * abs(far - at)
    return [far] if held else ends


def _joists(set_out: SetOut) -> list[Member]:
    return [m for m in set_out.members if m.kind is Kind.JOIST]


def _bears_on(joist: Member, beams: set[str]) -> bool:
    return any(bearing.on in beams for bearing in joist.bearings)


def _reaches(joist: Member, share: float) -> bool:
    """Tell whether a joist reaches past an end bearing by more than its share of the span behind."""
    places = sorted({round(bearing.at, 3) for bearing in joist.bearings})
    ends = ((places[0], places[1] - places[0]), (joist.length - places[-1], places[-1] - places[-2]))
    return any(over > share * span + 1e-3 and over > 2 * joist.width for over, span in ends)


def _with_line(plan: Plan, set_out: SetOut, support: int, by: float) -> Plan | None:
    """Return a plan with a beam line moved along the joists [in], None where no key says where it lies."""
    platform = set_out.platform
    line = platform.supports[support]
    if not isinstance(line, BeamLine):
        return None
    if line.offset is not None:
        there = line.model_copy(update={"offset": line.offset + by})
    elif line.line is not None:
        (x, y), ends = set_out.frame.along, line.line
        there = line.model_copy(update={"line": tuple((a + x * by, b + y * by) for a, b in ends)})
    else:
        return None
    supports = (*platform.supports[:support], there, *platform.supports[support + 1 :])
    return plan.with_supports(platform.name, supports)


def _up(by: float, plan: Plan) -> float:
    """Return a length [in] rounded up to what is written: sixteenths, or half millimetres."""
    part = 0.5 / 25.4 if plan.units == "metric" else 1 / 16
    return math.ceil(by / part - 1e-6) * part
