"""Set out one platform: ledger, beams, joists, rims, each with its mark and what it bears on."""

from __future__ import annotations

from dataclasses import dataclass, replace

from deckplan.engineering.lumber import Size, read_size
from deckplan.layout.closing import at_edge, covers_of, rims_of
from deckplan.layout.frame import Frame
from deckplan.layout.hung import HungWish
from deckplan.layout.joist_pieces import LONGEST_STOCK, Carriers, headers_of, joists_of
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Member
from deckplan.layout.supports import BeamStretch, LedgerLine, beams_of, cut_to_stock, find_ledger
from deckplan.plan.model import House, Ledger, Platform

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
    """One platform begun: its letter, frame, heights and beams, before its joists know what carries them."""

    letter: str
    platform: Platform
    frame: Frame
    joist: Size
    joist_top: float
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


def begin_platform(index: int, platform: Platform, elevation: float, board: float, post: float) -> Begun:
    """Begin one platform whose finished surface lies at an elevation [in] under boards [in] thick: its beams.

    post [in]: width of the posts, over which beams longer than stock are spliced.
    """
    frame = Frame.of(platform)
    mark = letter(index)
    joist = size_or(platform.joists.size, "joist")
    top = elevation - board
    return Begun(mark, platform, frame, joist, top, _beams(frame, platform, mark, top, joist.depth, post))


def set_out_platform(begun: Begun, house: House, hung: tuple[HungWish, ...], start: float = 0.0) -> SetOut:
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
    ledgers = tuple(
        line
        for at, support in enumerate(platform.supports)
        if isinstance(support, Ledger)
        for line in find_ledger(frame, house, at, support)
    )
    ledger_members = _ledgers(frame, platform, mark, ledgers, joist, top)
    neighbours = tuple(line for wish in hung for line in wish.lines)
    covers = (*covers_of(frame, ledgers, begun.beams), *((line.reach, line.v, 0.0) for line, _ in neighbours))
    rims = rims_of(frame, platform, mark, covers, joist, top)
    carriers = Carriers((*zip(ledgers, ledger_members, strict=True), *neighbours), begun.beams, covers)
    joists = joists_of(frame, platform, mark, carriers, joist, top, start)
    headers = headers_of(frame, platform, mark, joists, joist, top)
    members = (*ledger_members, *(beam for _, beam in begun.beams), *joists, *headers, *rims)
    return SetOut(mark, platform, frame, top, ledgers, begun.beams, members)


def _beams(
    frame: Frame, platform: Platform, mark: str, top: float, joist_depth: float, post: float
) -> tuple[tuple[BeamStretch, Member], ...]:
    pieces: list[BeamStretch] = []
    for line in beams_of(frame, platform):
        if (
            line.line.style == "flush"
            and at_edge(frame, line, size_or(line.line.build, "beam").thickness) is None
        ):
            reach = (line.reach[0] + JOIST_THICKNESS, line.reach[1] - JOIST_THICKNESS)
            line = replace(line, reach=reach)
        pieces += cut_to_stock(line, post, LONGEST_STOCK)
    made = []
    for number, stretch in enumerate(pieces, 1):
        size = size_or(stretch.line.build, "beam")
        flush = stretch.line.style == "flush"
        low, high = stretch.reach
        member = Member(
            mark=f"{mark}-B{number}",
            platform=platform.name,
            kind=Kind.BEAM,
            size=size.name,
            start=frame.site(low, stretch.v),
            end=frame.site(high, stretch.v),
            top=top if flush else top - joist_depth,
            width=size.thickness,
            depth=size.depth,
            support=stretch.support,
        )
        made.append((stretch, member))
    return tuple(made)


def _ledgers(
    frame: Frame, platform: Platform, mark: str, ledgers: tuple[LedgerLine, ...], joist: Size, top: float
) -> tuple[Member, ...]:
    half = JOIST_THICKNESS / 2
    made = []
    for number, line in enumerate(ledgers, 1):
        v = line.v + half if line.low else line.v - half
        made.append(
            Member(
                mark=f"{mark}-L{number}",
                platform=platform.name,
                kind=Kind.LEDGER,
                size=joist.name,
                start=frame.site(line.reach[0], v),
                end=frame.site(line.reach[1], v),
                top=top,
                width=JOIST_THICKNESS,
                depth=joist.depth,
                support=line.support,
            )
        )
    return tuple(made)
