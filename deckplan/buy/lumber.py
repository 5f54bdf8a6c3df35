"""Framing lumber by size and stock length: which sticks the pieces of a frame come out of."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable

from deckplan.buy.item import Item
from deckplan.engineering.lumber import read_size
from deckplan.errors import InputError
from deckplan.layout.model import Kind, Layout, Member
from deckplan.plan.model import Materials
from deckplan.units import Units, format_length

STOCK_FEET = (8, 10, 12, 14, 16, 18, 20)
"""Lengths that framing lumber is sold in [ft]: even feet to 20 (common practice)."""

LONGEST = 12.0 * STOCK_FEET[-1]
KERF = 0.125
"""What a saw cut takes [in] (common practice)."""

_BOARDS = (Kind.BOARD, Kind.TREAD)


def stock_for(length: float) -> float | None:
    """Return the shortest stock [in] that a piece [in] comes out of, or None where none is long enough.

    >>> stock_for(144.0), stock_for(145.0), stock_for(241.0)
    (144.0, 168.0, None)
    """
    return next((12.0 * feet for feet in STOCK_FEET if length <= 12.0 * feet + 1e-6), None)


def spliced(length: float, joints: Iterable[float]) -> list[float]:
    """Cut a piece [in] that is longer than any stock at joints [in along it], each part as long as can be.

    Joints are the places where a splice may stand (a beam's posts). Where none lies within reach, the rest
    is cut into equal parts: then somebody has to look where the splice bears.

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


def sticks(pieces: Iterable[float]) -> Counter[float]:
    """Return how many sticks of which stock [in] give the pieces [in].

    The longest piece first, each into the first stick with room left (the first-fit rule), every cut taking
    a kerf; then every stick is shortened to the shortest stock that holds what it gives. No proof that it
    is the fewest.

    >>> sorted(sticks([120.0, 60.0, 60.0, 30.0]).items())
    [(96.0, 1), (192.0, 1)]
    """
    used: list[float] = []
    for piece in sorted(pieces, reverse=True):
        most = stock_for(piece) or LONGEST
        # A long piece takes its own stock; short ones share sticks of a length that two people carry.
        room = most if piece > 96.0 else 192.0
        for index, taken in enumerate(used):
            if taken + KERF + piece <= max(room, stock_for(taken) or 0.0) + 1e-6:
                used[index] = taken + KERF + piece
                break
        else:
            used.append(piece)
    return Counter(stock_for(taken) or LONGEST for taken in used)


def pieces_of(member: Member) -> list[tuple[str, float]]:
    """Return what a member is cut from: the size of one ply and the length [in] of each piece."""
    size = read_size(member.size)
    reach = ((member.length**2) + member.drop**2) ** 0.5
    joints = [bearing.at for bearing in member.bearings]
    return [(size.ply, part) for part in spliced(reach, joints)] * size.plies


def is_lumber(member: Member) -> bool:
    """Tell whether a member is framing lumber of a known size, not a board."""
    if member.kind in _BOARDS:
        return False
    try:
        read_size(member.size)
    except InputError:
        return False
    return True


def count_lumber(layout: Layout, materials: Materials, units: Units) -> tuple[Item, ...]:
    """Count the framing lumber of a frame, posts with it, by size and stock length."""
    wood = f"{materials.species} {materials.grade}"
    cut: dict[str, list[float]] = defaultdict(list)
    for member in layout.members:
        if is_lumber(member):
            for ply, length in pieces_of(member):
                cut[ply].append(length)
    for post in layout.posts:
        cut[post.size].append(max(post.height, 0.0))
    found = []
    for size in sorted(
        cut, key=lambda name: (read_size(name).nominal_thickness, read_size(name).nominal_depth)
    ):
        lengths = [length for length in cut[size] if length > 0]
        for stock, count in sorted(sticks(lengths).items()):
            basis = f"{len(lengths)} pieces of {size}, {format_length(sum(lengths), units)} in all"
            found.append(Item("lumber", f"{size} {wood}", stock, float(count), 0.0, count, "pieces", basis))
    return tuple(found)
