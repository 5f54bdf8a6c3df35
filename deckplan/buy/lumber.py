"""Framing lumber by size, treatment and stock length: which sticks the pieces of a frame come out of."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from deckplan.buy.cutting import SAME, Cutting, Piece, Stick, cut
from deckplan.buy.item import Item, Lot, items_of
from deckplan.engineering.lumber import read_size
from deckplan.errors import InputError
from deckplan.geometry import point_to_line, unit
from deckplan.layout.ends import SQUARE, Cuts, cut_ends, longest
from deckplan.layout.model import Kind, Layout, Member
from deckplan.plan.model import Materials

STOCK = tuple(12.0 * feet for feet in (8, 10, 12, 14, 16, 18, 20))
"""Lengths that framing lumber is sold in [in]: even feet from 8 to 20 (common practice)."""

LONGEST = STOCK[-1]

SHARED = 192.0
"""Longest stock that short pieces are cut from together [in]; longer ones are bought for long pieces only, for they are
dear and hard to carry (common practice)."""

WET_DENSITY = 72.5
"""Weight of wet treated lumber [lb/cu ft], by which 2x12 weighs 8.5 lb and 2x10 7.0 lb a foot. Source: trade
literature for those two, others in proportion to their section."""

ONE_PERSON = 51.0
"""Heaviest piece for one person [lb]: the load constant of the revised NIOSH lifting equation, which holds for a lift
under the best conditions. Source: NIOSH 94-110, 51 lb (23 kg), as several published copies give it."""

TO_ORDER = "longer than the trade stocks, to order"
"""What is said of a stick longer than `LONGEST`."""

_ORDERED_STEP = 24.0
_WHOLE = (Kind.STRINGER, Kind.BRACE)
_BOARDS = (Kind.BOARD, Kind.TREAD)


@dataclass(frozen=True, slots=True)
class Timber:
    """A piece of framing lumber to cut: size of one ply, the treatment that it wants in words, or none, the piece."""

    size: str
    treatment: str
    piece: Piece


def wet_weight(size: str) -> float:
    """Return what one ply of a size weighs wet [lb/ft].

    Source: trade literature (2x12 about 8.5, 2x10 7.0); others by their section.

    >>> [round(wet_weight(size), 1) for size in ("2x12", "2x10")]
    [8.5, 7.0]
    """
    section = read_size(size)
    return WET_DENSITY * section.ply_thickness * section.depth / 144


def spliced(length: float, joints: Iterable[float]) -> list[float]:
    """Cut a piece [in] that is longer than any stock at joints [in along it], each part as long as can be.

    Joints are the places where a splice may stand: a beam's posts, a rim's joists. Where none lies within reach, the
    rest is cut into equal parts: then somebody has to look where the splice bears.

    >>> spliced(300.0, (0.0, 100.0, 200.0, 300.0))
    [200.0, 100.0]
    >>> spliced(480.0, ())
    [240.0, 240.0]
    """
    stops = sorted(joints)
    parts: list[float] = []
    start = 0.0
    while length - start > LONGEST + 1e-6:
        within = [stop for stop in stops if start + 1.0 < stop <= start + LONGEST]
        if not within:
            rest = length - start
            count = math.ceil(rest / LONGEST - 1e-9)
            return parts + [rest / count] * count
        parts.append(within[-1] - start)
        start = within[-1]
    return [*parts, length - start]


def is_lumber(member: Member) -> bool:
    """Tell whether a member is framing lumber of a known size, not a board."""
    if member.kind in _BOARDS:
        return False
    try:
        read_size(member.size)
    except InputError:
        return False
    return True


def cut_length(member: Member, cuts: Cuts = SQUARE) -> float:
    """Return the length of a member from long point to long point [in]; cuts: of its ends, off square [degrees].

    Its centre line is measured along the slope; see `ends_cut` for a brace's ends.
    """
    return longest(math.hypot(member.length, member.drop), member.width, cuts)


def ends_cut(member: Member, cuts: Mapping[str, Cuts]) -> Cuts:
    """Return how a member's ends are cut off square [degrees]; cuts: of the pieces that lie level, by mark.

    A brace is cut plumb at its post and level at its beam, with both long points on its lower side.
    """
    if member.kind is Kind.BRACE and member.length and member.drop:
        plumb = math.degrees(math.atan2(abs(member.drop), member.length))
        return (plumb, plumb - 90.0)
    return cuts.get(member.mark, SQUARE)


def frame_timbers(
    layout: Layout, treated: Mapping[str, str] | None = None, planks: Mapping[str, float] | None = None
) -> list[Timber]:
    """Return every piece of framing lumber of a frame, its posts with it, ply by ply and between splices.

    treated: the treatment that a mark wants, in words; planks [in]: by the mark of a flight, the length of plank that
    each of its stringers is cut from, else the length of its slope.
    """
    wants, lengths = treated or {}, planks or {}
    by_platform: dict[str, list[Member]] = {}
    for member in layout.members:
        by_platform.setdefault(member.platform, []).append(member)
    cuts = cut_ends(layout.members)
    found: list[Timber] = []
    for member in layout.members:
        if not is_lumber(member):
            continue
        own = ends_cut(member, cuts)
        length = cut_length(member, own)
        if member.kind is Kind.STRINGER:
            length = lengths.get(member.platform, length)
        size, treatment = read_size(member.size), wants.get(member.mark, "")
        joints = _joints(member, by_platform[member.platform]) if length > LONGEST else []
        parts = [length] if member.kind in _WHOLE else spliced(length, joints)
        for number, part in enumerate(parts):
            ends = (own[0] if number == 0 else 0.0, own[1] if number == len(parts) - 1 else 0.0)
            piece = Piece(member.mark, part, str(member.kind), ends)
            found += [Timber(size.ply, treatment, piece)] * size.plies
    for post in layout.posts:
        if post.length > 0:
            found.append(Timber(post.size, wants.get(post.mark, ""), Piece(post.mark, post.length, "post")))
    return found


def _joints(member: Member, others: Iterable[Member]) -> list[float]:
    """Return where a piece may be joined [in along it]: over its bearings; a rim or ledger where a joist meets it."""
    found = [bearing.at for bearing in member.bearings]
    if member.kind in (Kind.RIM, Kind.LEDGER):
        ux, uy = unit(*member.line)
        found += [
            (end[0] - member.start[0]) * ux + (end[1] - member.start[1]) * uy
            for other in others
            if other.kind is Kind.JOIST
            for end in other.line
            if point_to_line(end, member.line) <= member.width
        ]
    return found


def lumber_lots(timbers: Iterable[Timber], materials: Materials) -> tuple[Lot, ...]:
    """Cut framing lumber from stock, by size and treatment, the smallest size first.

    A post, a stringer or a brace bears in one piece: one longer than all stock is a stick of its own, in the next even
    foot, that the list calls to order.
    """
    wood = f"{materials.species} {materials.grade}"
    together: dict[tuple[str, str, bool], list[Piece]] = {}
    for timber in timbers:
        ordered = timber.piece.length > LONGEST + SAME
        together.setdefault((timber.size, timber.treatment, ordered), []).append(timber.piece)
    return tuple(
        Lot("lumber", ", ".join(filter(None, (f"{size} {wood}", treatment, TO_ORDER if ordered else ""))),
            _to_order(pieces) if ordered else cut(pieces, STOCK, SHARED), wet_weight(size), size)
        for (size, treatment, ordered), pieces in sorted(
            together.items(), key=lambda each: (*_nominal(each[0][0]), *each[0][1:])
        )
    )  # fmt: skip


def _to_order(pieces: Iterable[Piece]) -> Cutting:
    """Give every piece a stick of its own, in the next even foot."""
    sticks = [
        Stick(math.ceil((piece.length - SAME) / _ORDERED_STEP) * _ORDERED_STEP, (piece,))
        for piece in sorted(pieces, key=lambda piece: -piece.length)
    ]
    return Cutting(tuple(sticks), sum(stick.stock for stick in sticks))


def _nominal(size: str) -> tuple[int, int]:
    section = read_size(size)
    return section.nominal_thickness, section.nominal_depth


def count_lumber(layout: Layout, materials: Materials) -> tuple[Item, ...]:
    """Count the framing lumber of a frame, posts with it, by size and stock length."""
    return items_of(lumber_lots(frame_timbers(layout), materials))
