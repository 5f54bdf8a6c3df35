"""Joists that hang on a neighbour's beam along the edge that both platforms share.

::

      upper platform            lower platform
    ---------------------+
      joists   [beam]====|==== joist in a hanger on the beam's face
                  |
                 post
"""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.layout.frame import ON_LINE, Frame, Run
from deckplan.layout.model import Member
from deckplan.layout.supports import AT_WALL, LedgerLine, lower_end
from deckplan.plan.model import Hung, Platform
from deckplan.units import Units, format_length, format_short
from deckplan.verdict import Check, Source, Verdict, outside

PRACTICE = Source("common practice", "joists in hangers on a beam's face", "common practice")
TABLES = Source("AWC DCA6-2015", "scope: single level", "one published copy")
RULE = "joists hang on a neighbour's beam"

DEEPEST = 11.25
"""Depth of the deepest lumber for beams, 2x12 [in]. Source: PS 20."""

HungLine = tuple[LedgerLine, Member]
"""The stretch of edge that a neighbour's beam carries, and that beam."""


@dataclass(frozen=True, slots=True)
class HungWish:
    """What came of a platform's wish to hang on a neighbour: the lines found, or why there are none.

    nearest: the beam that lies along the edge and too far back from it, where that is why.
    """

    platform: str
    on: str
    lines: tuple[HungLine, ...]
    reason: str
    nearest: Member | None = None


def find_hung(
    platform: Platform, frame: Frame, index: int, support: Hung, beams: tuple[Member, ...], units: Units
) -> HungWish:
    """Find the neighbour's beams that lie along an edge of a platform which its joists meet."""
    found: list[HungLine] = []
    nearest: tuple[float, Member] | None = None
    for (u0, v0), (u1, v1) in frame.edges:
        run = Run.through((u0, v0), (u1, v1))
        if run is None:
            continue
        for beam in beams:
            (ua, va), (ub, vb) = frame.local(beam.start), frame.local(beam.end)
            low, high = max(min(u0, u1), min(ua, ub)), min(max(u0, u1), max(ua, ub))
            off, aslant = run.off(ua, va), abs(run.off(ua, va) - run.off(ub, vb))
            if aslant > AT_WALL or high - low <= ON_LINE:
                continue
            back = off - beam.width / 2
            nearest = (back, beam) if nearest is None or back < nearest[0] else nearest
            if back <= AT_WALL:
                inside = lower_end(frame, run, (low + high) / 2)
                found.append((LedgerLine(index, support.on, (low, high), run, inside), beam))
    if found:
        return HungWish(platform.name, support.on, tuple(found), "")
    if nearest is None:
        reason = f'no beam of "{support.on}" runs along an edge of "{platform.name}" that its joists meet'
        return HungWish(platform.name, support.on, (), reason)
    reason = (
        f'the nearest beam of "{support.on}" stands {format_length(nearest[0], units)} back from the edge'
    )
    return HungWish(platform.name, support.on, (), reason, nearest[1])


def check_hung(wish: HungWish, joist: Member, carried: Member | None, units: Units) -> list[Check]:
    """Check that hung joists meet a beam deep enough, at a height that a hanger on its face can take.

    joist, carried: a joist of the platform that hangs, and one of the platform that it hangs on.
    """
    mark, joist_top, joist_depth = joist.mark, joist.top, joist.depth
    if not wish.lines:
        cure = f": {_at_edge(wish, joist, carried, units)}" if wish.nearest and carried else ""
        return [
            Check(mark, RULE, PRACTICE, None, None, "", Verdict.FAIL, reason=f"{mark}: {wish.reason}{cure}")
        ]
    found: list[Check] = []
    for _, beam in wish.lines:
        above, below = joist_top - beam.top, beam.bottom - (joist_top - joist_depth)
        if above > 0.01 or below > 0.01:
            off = (
                f"{format_short(above, units)} over the top"
                if above > 0.01
                else (f"{format_short(below, units)} under the underside")
            )
            reason = (
                f"{mark}: the joists would reach {off} of {beam.mark}; a hanger needs the whole depth on the beam's "
                f"face: {_height_cures(wish.platform, beam, above, below, joist_depth, units)}"
            )
            found.append(Check(beam.mark, RULE, PRACTICE, None, None, "", Verdict.FAIL, reason=reason))
        else:
            reason = (
                f'{beam.mark} carries the joists of "{wish.platform}" as well: the published tables cover one level; '
                f"its load, its posts and their footings are computed"
            )
            found.append(outside(beam.mark, RULE, TABLES, reason))
    return found


def _at_edge(wish: HungWish, joist: Member, carried: Member, units: Units) -> str:
    """Say which beam at the edge would take the joists of both: in its top and its depth both find their whole face.

    A flush beam is as high as the joists that it carries, a drop beam lies under them.
    """
    bottom = joist.top - joist.depth
    for style, top, least in (
        ("drop", carried.top - carried.depth, 0.0),
        ("flush", carried.top, carried.depth),
    ):
        deep = max(top - bottom, least)
        if joist.top <= top + 0.01 and deep <= DEEPEST + 0.01:
            return (
                f'a {style} beam of "{wish.on}" at the edge, its face in line with it and '
                f"{format_short(deep, units)} deep or more, would carry them"
            )
    return (
        f'the heights of "{wish.platform}" and "{wish.on}" let no one beam at the edge take both: '
        f'a beam line of "{wish.platform}" there'
    )


def _height_cures(
    platform: str, beam: Member, above: float, below: float, joist_depth: float, units: Units
) -> str:
    """Say which level or which beam brings the joists onto the beam's face: what its top and depth leave open."""
    cures = []
    if joist_depth <= beam.depth + 0.01:
        by, way = (above, "lower") if above > 0.01 else (below, "higher")
        cures.append(f'"{platform}" {format_short(by, units)} {way}')
    if above <= 0.01 and beam.depth + below <= DEEPEST:
        cures.append(f"a beam {format_short(beam.depth + below, units)} deep")
    deep = format_short(joist_depth, units)
    return f"{' or '.join(cures)} would do" if cures else f"the beam is shallower than the joists, {deep}"
