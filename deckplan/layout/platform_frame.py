"""Set out one platform: ledger, beams, joists, rims, each with its mark and what it bears on."""

from __future__ import annotations

import math
from dataclasses import dataclass

from deckplan.engineering.lumber import Size, read_size
from deckplan.layout.beam_ends import end_beams
from deckplan.layout.closing import covers_of, rims_of
from deckplan.layout.frame import Frame
from deckplan.layout.hung import HungWish
from deckplan.layout.joist_pieces import LONGEST_STOCK, Carriers, headers_of, joists_of
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Member
from deckplan.layout.supports import BeamStretch, LedgerLine, cut_to_stock, find_beams, find_ledger
from deckplan.plan.model import BeamLine, House, Ledger, Platform

FIRST_TRY = {"joist": "2x8", "beam": "2-2x8"}
"""Sizes that stand in for "auto" until the sizing has chosen."""


def letter(index: int) -> str:
    """Return the letter of the platform at that place in the plan: A, B, .. Z, AA, AB.."""
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


@dataclass(frozen=True, slots=True)
class Begun:
    """One platform begun: its letter, frame, heights, ledgers and beams, before its joists know what carries them."""

    letter: str
    platform: Platform
    frame: Frame
    joist: Size
    joist_top: float
    ledgers: tuple[LedgerLine, ...]
    beams: tuple[tuple[BeamStretch, Member], ...]


@dataclass(frozen=True, slots=True)
class SetOut:
    """One platform set out: its letter, frame, supports and members; posts come with the neighbours in sight."""

    letter: str
    platform: Platform
    frame: Frame
    joist_top: float
    ledgers: tuple[LedgerLine, ...]
    beams: tuple[tuple[BeamStretch, Member], ...]
    members: tuple[Member, ...]


def size_or(text: str, kind: str) -> Size:
    """Read a size, or the first try for that kind of member where the plan says "auto"."""
    return read_size(FIRST_TRY[kind] if text == "auto" else text)


def begin_platform(
    index: int, platform: Platform, house: House, elevation: float, board: float, post: float
) -> Begun:
    """Begin one platform whose finished surface lies at an elevation [in] under boards [in] thick: ledgers, beams.

    post [in]: width of the posts, over which beams longer than stock are spliced.
    """
    frame = Frame.of(platform)
    mark = letter(index)
    joist = size_or(platform.joists.size, "joist")
    top = elevation - board
    ledgers = tuple(
        line
        for at, support in enumerate(platform.supports)
        if isinstance(support, Ledger)
        for line in find_ledger(frame, house, at, support)
    )
    beams = _beams(frame, platform, mark, top, joist.depth, post, ledgers)
    return Begun(mark, platform, frame, joist, top, ledgers, beams)


def set_out_platform(begun: Begun, hung: tuple[HungWish, ...], start: float = 0.0) -> SetOut:
    """Set out the rest of a platform's wood: ledgers, joists, headers, rims.

    hung: the neighbours' beams that its joists hang on; start [in]: where the joists' marks begin.
    """
    frame, platform, mark, joist, top = (
        begun.frame,
        begun.platform,
        begun.letter,
        begun.joist,
        begun.joist_top,
    )
    ledgers = begun.ledgers
    ledger_members = _ledgers(frame, platform, mark, ledgers, joist, top)
    neighbours = tuple(line for wish in hung for line in wish.lines)
    covers = (
        *covers_of(frame, ledgers, begun.beams),
        *((line.reach, line.run, 0.0) for line, _ in neighbours),
    )
    rims = rims_of(frame, platform, mark, covers, joist, top)
    carriers = Carriers((*zip(ledgers, ledger_members, strict=True), *neighbours), begun.beams, covers)
    joists = joists_of(frame, platform, mark, carriers, joist, top, start)
    headers = headers_of(frame, platform, mark, joists, joist, top)
    members = (*ledger_members, *(beam for _, beam in begun.beams), *joists, *headers, *rims)
    return SetOut(mark, platform, frame, top, ledgers, begun.beams, members)


def _beams(
    frame: Frame,
    platform: Platform,
    mark: str,
    top: float,
    joist_depth: float,
    post: float,
    ledgers: tuple[LedgerLine, ...],
) -> tuple[tuple[BeamStretch, Member], ...]:
    made: list[tuple[BeamStretch, Member]] = []
    for index, line in enumerate(platform.supports):
        if not isinstance(line, BeamLine):
            continue
        size = size_or(line.build, "beam")
        flush = line.style == "flush"
        pieces = [
            piece
            for stretch in find_beams(frame, index, line, size.thickness)
            for part in end_beams(frame, stretch, size.thickness, made, ledgers)
            for piece in cut_to_stock(part, post, LONGEST_STOCK)
        ]
        for stretch in pieces:
            low, high = stretch.wood
            member = Member(
                mark=f"{mark}-B{len(made) + 1}",
                platform=platform.name,
                kind=Kind.BEAM,
                size=size.name,
                start=frame.site(low, stretch.run.at(low)),
                end=frame.site(high, stretch.run.at(high)),
                top=top if flush else top - joist_depth,
                width=size.thickness,
                depth=size.depth,
                support=stretch.support,
                cuts=_cuts(frame, stretch),
            )
            made.append((stretch, member))
    return tuple(made)


def _cuts(frame: Frame, stretch: BeamStretch) -> tuple[float, float]:
    """Return how a beam's ends are cut off square [degrees], over 0 where its left face runs farther."""
    low, high = (math.degrees(math.atan(slant)) * frame.left + 0.0 for slant in stretch.slants)
    return low, high


def _ledgers(
    frame: Frame, platform: Platform, mark: str, ledgers: tuple[LedgerLine, ...], joist: Size, top: float
) -> tuple[Member, ...]:
    half = JOIST_THICKNESS / 2
    made = []
    for number, line in enumerate(ledgers, 1):
        # half its thickness inside the edge, square to it
        inward = half / line.run.secant * (1.0 if line.low else -1.0)
        ends = [(u - inward * line.run.slope, line.run.at(u) + inward) for u in line.reach]
        made.append(
            Member(
                mark=f"{mark}-L{number}",
                platform=platform.name,
                kind=Kind.LEDGER,
                size=joist.name,
                start=frame.site(*ends[0]),
                end=frame.site(*ends[1]),
                top=top,
                width=JOIST_THICKNESS,
                depth=joist.depth,
                support=line.support,
            )
        )
    return tuple(made)
