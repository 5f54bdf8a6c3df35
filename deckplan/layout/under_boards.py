"""The frame as it is built: with the wood that boards ask for below them, and the blocking cut to make way for it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import shapely
from shapely import Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from deckplan.engineering.lumber import read_size
from deckplan.geometry import unit
from deckplan.layout.boards_model import Boards, SupportNeeded
from deckplan.layout.boards_room import SAWN, band, free_of_wood, shared
from deckplan.layout.ends import LEVEL_KINDS, cut_ends, shape_of
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Bearing, Kind, Layout, Member

ON_FACE = 0.35
"""A joist's end within this of a carrier's face hangs there [in]."""


CUT_BACK = (0.0, 0.1, 0.1)
"""How much shorter than fits [in] blocking is cut, each time that it is cut: in a corner it keeps off all faces."""


def build(boards: Boards, layout: Layout) -> Layout:
    """Return the frame as it is built: the layout, and what the boards' ends and borders lie on and it lacks.

    That wood is as deep as the platform's joists, rests where those rest and goes in before the boards. It carries
    boards, not the deck: the sums of the joists do not count on it. Blocking is cut where it or other blocking
    stands in the way; the longest piece keeps the mark.
    """
    members = list(layout.members)
    for name, one in boards.platforms.items():
        joists = layout.of(name, Kind.JOIST)
        if joists and one.supports_needed:
            carriers = _carriers(joists, layout)
            members += [_member(need, joists[0], carriers) for need in one.supports_needed]
    for back in CUT_BACK:
        before, members = members, _make_way(members, back)
        if members is before:
            break
    return replace(layout, members=tuple(members))


def _carriers(joists: Sequence[Member], layout: Layout) -> list[tuple[Member, Bearing]]:
    """Return what the joists of a platform rest on, each with one of their bearings there."""
    found: dict[str, Bearing] = {}
    for joist in joists:
        for bearing in joist.bearings:
            found.setdefault(bearing.on, bearing)
    parts = [(layout.by_mark.get(mark), bearing) for mark, bearing in found.items()]
    return [(part, bearing) for part, bearing in parts if isinstance(part, Member) and part.length > 0]


def _member(need: SupportNeeded, joist: Member, carriers: list[tuple[Member, Bearing]]) -> Member:
    ply = read_size(joist.size).ply
    plies = max(1, round(need.width / JOIST_THICKNESS))
    made = Member(
        mark=need.mark,
        platform=need.platform,
        kind=Kind.BLOCKING if need.kind == "blocking" else Kind.JOIST,
        size=ply if plies == 1 else f"{plies}-{ply}",
        start=need.line[0],
        end=need.line[1],
        top=joist.top,
        width=need.width,
        depth=joist.depth,
    )
    return made if need.kind == "blocking" else replace(made, bearings=_rests(made, carriers))


def _rests(joist: Member, carriers: list[tuple[Member, Bearing]]) -> tuple[Bearing, ...]:
    """Return where a further joist rests: in a hanger at the face of what others hang on, on the beams it crosses."""
    (dx, dy), found = unit(*joist.line), []
    for carrier, like in carriers:
        (ux, uy), (x, y) = unit(*carrier.line), carrier.start
        sine = dx * uy - dy * ux
        if abs(sine) < 0.2:
            continue
        off = ((x - joist.start[0]) * uy - (y - joist.start[1]) * ux) / sine
        on = ((x - joist.start[0]) * dy - (y - joist.start[1]) * dx) / sine
        if not -joist.width <= on <= carrier.length + joist.width:
            continue
        face = carrier.width / 2 / abs(sine)
        if like.manner == "bearing":
            if 0.0 <= off <= joist.length:
                found.append(replace(like, at=off))
        elif abs(off + face) <= ON_FACE:
            found.append(replace(like, at=0.0))
        elif abs(off - face - joist.length) <= ON_FACE:
            found.append(replace(like, at=joist.length))
        else:
            continue  # it stops short of it, as at a header beside it
    # over a splice two pieces of a beam meet: it rests on the first
    places = {round(bearing.at, 1): bearing for bearing in reversed(found)}
    return tuple(places[at] for at in sorted(places))


def _make_way(members: list[Member], back: float) -> list[Member]:
    """Cut the blocking where other wood of its platform stands: joists first of all, then blocking set before it."""
    cuts = cut_ends(members)
    level = [m for m in members if m.kind in LEVEL_KINDS and m.length > 0]
    shapes = [Polygon(shape_of(member, cuts)) for member in level]
    tree = STRtree(shapes)
    clashing: set[str] = set()
    before: dict[str, list[int]] = {}
    for i, j in zip(*tree.query(shapes, predicate="intersects"), strict=True):
        one, other = level[int(i)], level[int(j)]
        if one.kind is not Kind.BLOCKING or one.platform != other.platform or i == j:
            continue
        first = other.kind is not Kind.BLOCKING or j < i
        if first and min(one.top, other.top) - max(one.bottom, other.bottom) > 0.01:
            before.setdefault(one.mark, []).append(int(j))
            if shared(shapes[int(i)], shapes[int(j)]).area > SAWN:
                clashing.add(one.mark)
    if not clashing:
        return members
    numbers = _free_numbers(members)
    found: list[Member] = []
    for member in members:
        if member.mark not in clashing:
            found.append(member)
            continue
        # cut square, it must clear what it was cut along as well
        wood = shapely.union_all([shapes[at] for at in before[member.mark]])
        found += _pieces_of(member, wood, numbers, back)
    return found


def _pieces_of(member: Member, wood: BaseGeometry, numbers: dict[str, int], back: float) -> list[Member]:
    pieces = free_of_wood(member.line, member.width, wood, back)
    pieces.sort(key=lambda piece: -Polygon(band(piece, member.width)).area)
    made = []
    for count, (start, end) in enumerate(pieces):
        mark = member.mark
        if count:
            lead = mark.rpartition("-")[0]
            numbers[lead] = numbers.get(lead, 0) + 1
            mark = f"{lead}-K{numbers[lead]}"
        made.append(replace(member, mark=mark, start=start, end=end))
    return made


def _free_numbers(members: Iterable[Member]) -> dict[str, int]:
    """Return the highest number of blocking that each platform's letter has."""
    highest: dict[str, int] = {}
    for member in members:
        lead, _, number = member.mark.rpartition("-K")
        if lead and number.isdigit():
            highest[lead] = max(highest.get(lead, 0), int(number))
    return highest
