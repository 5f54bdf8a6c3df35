"""Checks of openings: headers hang on two trimmers, doubled where the rule asks for it, and no beam runs through."""

from __future__ import annotations

from deckplan.engineering.lumber import read_size
from deckplan.layout.frame import DOUBLED, ON_LINE, Frame, Hole, Run
from deckplan.layout.model import Kind, Layout, Member
from deckplan.plan.model import BeamLine, Plan, Platform
from deckplan.units import format_length, format_short
from deckplan.verdict import Check, Source, Verdict, at_least

STATICS = Source("statics", "a header hangs on two trimmers", "derived")
DOUBLED_FROM = Source("IRC 2018", "R502.10", "one published copy, in part")
PRACTICE = Source("common practice", "an opening is clear of what stands below it", "common practice")

ON_TWO_TRIMMERS = "header hangs on two trimmers"
ARE_DOUBLED = "header and trimmers doubled"
CLEAR = "opening clear of beams"

LONGEST_SINGLE = 48.0
"""Longest header that may be one ply [in]; beyond, header and trimmers are doubled. Source: IRC 2018 R502.10."""


def check_openings(plan: Plan, layout: Layout) -> list[Check]:
    """Check the wood round every opening, and what runs through it."""
    found: list[Check] = []
    for platform in plan.platforms:
        if not platform.openings:
            continue
        for header in layout.of(platform.name, Kind.HEADER):
            found.append(_on_two_trimmers(plan, header))
            found.append(_doubled(plan, layout, header))
        found += _beams_through(plan, layout, platform)
    return found


def _on_two_trimmers(plan: Plan, header: Member) -> Check:
    places = sorted({round(bearing.at, 3) for bearing in header.bearings})
    lone = [header.start, header.end]
    if len(places) == 1:
        lone = [header.end if places[0] < header.length / 2 else header.start]
    where = " and ".join(
        f"{format_length(x, plan.units)}, {format_length(y, plan.units)}" for x, y in lone[: 2 - len(places)]
    )
    reason = (
        f'{header.mark}, a header of an opening of platform "{header.platform}": no trimmer runs past its end at '
        f"{where}: an edge, an inner corner, a flush beam or another opening takes its place; move the opening, or "
        f"draw it as a notch of the outline"
    )
    return at_least(header.mark, ON_TWO_TRIMMERS, STATICS, len(places), 2, "supports", reason=reason)


def _doubled(plan: Plan, layout: Layout, header: Member) -> Check:
    """Check the plies of a header and of the trimmers that it hangs on, all together."""
    trimmers = [layout.by_mark[bearing.on] for bearing in header.bearings]
    sizes = [header.size, *(trimmer.size for trimmer in trimmers if isinstance(trimmer, Member))]
    fewest = min(read_size(size).plies for size in sizes)
    least = 2 if header.length > LONGEST_SINGLE + ON_LINE else 1
    reason = (
        f"{header.mark} spans {format_length(header.length, plan.units)}: over "
        f"{format_length(LONGEST_SINGLE, plan.units)} the header and its trimmers are doubled"
    )
    return at_least(header.mark, ARE_DOUBLED, DOUBLED_FROM, fewest, least, "plies", reason=reason)


def _beams_through(plan: Plan, layout: Layout, platform: Platform) -> list[Check]:
    """One check an opening: a drop beam crosses what should be clear below it, a flush beam its headers as well."""
    frame = Frame.of(platform)
    found: list[Check] = []
    for number, hole in enumerate(frame.holes, start=1):
        place = f'platform "{platform.name}", opening {number}'
        ways = [
            (beam, _way_out(frame, hole, beam, _is_flush(platform, beam)))
            for beam in layout.of(platform.name, Kind.BEAM)
        ]
        crossing = [(beam, off) for beam, off in ways if off > ON_LINE]
        if not crossing:
            found.append(Check(platform.name, CLEAR, PRACTICE, 0, 0, "beams", Verdict.PASS))
        for beam, off in crossing:
            reason = (
                f"{place}: {beam.mark} runs through it; "
                f"move the opening or the beam line by {format_short(off, plan.units)}"
            )
            found.append(Check(beam.mark, CLEAR, PRACTICE, 1, 0, "beams", Verdict.FAIL, reason=reason))
    return found


def _is_flush(platform: Platform, beam: Member) -> bool:
    line = platform.supports[beam.support] if beam.support is not None else None
    return isinstance(line, BeamLine) and line.style == "flush"


def _way_out(frame: Frame, hole: Hole, beam: Member, flush: bool) -> float:
    """Return how far [in] a beam, or the opening, moves along the joists until it is clear; nothing where it is.

    A beam that lies aslant counts as it lies over the width of the opening, as thick there as the joists cross it.
    """
    (u0, v0), (u1, v1) = sorted(frame.local(end) for end in beam.line)
    first, last = max(u0, hole.u0), min(u1, hole.u1)
    if last - first <= ON_LINE:
        return 0.0
    slope = (v1 - v0) / (u1 - u0)
    ends = [v0 + slope * (u - u0) for u in (first, last)]
    half = beam.width / 2 * Run(0.0, slope).secant
    more = DOUBLED if flush else 0.0
    up, down = hole.v1 + more - (min(ends) - half), max(ends) + half - (hole.v0 - more)
    return max(0.0, min(up, down))
