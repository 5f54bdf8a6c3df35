"""Blocking between joists: over beams that joists run past, where deep joists ask for bridging, under posts' feet."""

from __future__ import annotations

from itertools import pairwise

from deckplan.engineering.lumber import read_size
from deckplan.layout.frame import ON_LINE
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Member
from deckplan.layout.platform_frame import SetOut
from deckplan.layout.stands import Foot

BLOCKING_APART = 96.0
"""Farthest that rows stand apart in joists over five times deeper than wide [in]. Source: NDS 2018 4.4.1.2."""

# A joist that ends within this of its bearing is held there by the rim nailed to its end [in].
AT_END = 6.0


def block(set_out: SetOut, feet: tuple[Foot, ...] = ()) -> tuple[Member, ...]:
    """Return the blocking of a platform: one piece between each pair of neighbouring joists in a row.

    Rows stand over every drop beam that joists run past, since nothing else holds them upright there (IRC R507.6.2),
    and between supports where the joists are over five times deeper than wide (NDS 4.4.1.2). Under the feet of an upper
    level's posts, or beside the joist that carries one, stand blocks as many beside each other as the beam has plies
    (common practice).
    """
    lines: dict[float, list[tuple[float, float, Member]]] = {}
    for joist in set_out.members:
        if joist.kind is Kind.JOIST:
            u, v = set_out.frame.local(joist.start)
            lines.setdefault(round(u, 3), []).append((v, v + joist.length, joist))
    slopes = {beam.mark: stretch.run.slope for stretch, beam in set_out.beams}
    order = sorted(lines)
    pieces: list[Member] = []
    for u0, u1 in pairwise(order):
        here = [foot for foot in feet if foot.plies and foot.touches(u0, u1)]
        rows = {
            (round(v, 3), round(slope, 9))
            for start, _, joist in lines[u0]
            for v, slope in _rows(joist, start, slopes)
        }
        if here:  # a row that a foot stands on is that foot's own
            rows = {
                row for row in rows if all(abs(row[0] + row[1] * (f.u - u0) - f.v) > f.half for f in here)
            }
        for v, slope in sorted(rows | {(round(foot.v, 3), 0.0) for foot in here}):
            plies = max((foot.plies for foot in here if abs(foot.v - v) < ON_LINE + 1e-3), default=1)
            left, right = _at(lines[u0], v), _at(lines[u1], v + slope * (u1 - u0))
            if left is None or right is None or u1 - u0 <= (left.width + right.width) / 2 + ON_LINE:
                continue
            ends = u0 + left.width / 2, u1 - right.width / 2
            pieces.append(
                Member(
                    mark=f"{set_out.letter}-K{len(pieces) + 1}",
                    platform=left.platform,
                    kind=Kind.BLOCKING,
                    size=_beside(read_size(left.size).ply, plies),
                    start=set_out.frame.site(ends[0], v + slope * (ends[0] - u0)),
                    end=set_out.frame.site(ends[1], v + slope * (ends[1] - u0)),
                    top=left.top,
                    width=JOIST_THICKNESS * plies,
                    depth=left.depth,
                )
            )
    return tuple(pieces)


def _beside(ply: str, plies: int) -> str:
    """Return the size of so many pieces beside each other."""
    return ply if plies == 1 else f"{plies}-{ply}"


def _at(line: list[tuple[float, float, Member]], v: float) -> Member | None:
    """Return the joist of a line whose wood reaches over v [in], ends not counted."""
    for start, end, joist in line:
        if start + ON_LINE < v < end - ON_LINE:
            return joist
    return None


def _rows(joist: Member, start: float, slopes: dict[str, float]) -> list[tuple[float, float]]:
    """Return every blocking row that a joist asks for: its v there [in], and how it rises across the joists [1].

    slopes: of the platform's beams, by mark: a row stands over its beam, at any angle.
    """
    last = joist.length - AT_END
    rows = [
        (start + b.at, slopes.get(b.on, 0.0))
        for b in joist.bearings
        if b.manner == "bearing" and AT_END < b.at < last
    ]
    size = read_size(joist.size)
    if size.nominal_depth / size.nominal_thickness > 5:
        places = [b.at for b in joist.bearings]
        for low, high in pairwise(places):
            count = int((high - low) // BLOCKING_APART)
            rows += [(start + low + (high - low) * (n + 1) / (count + 1), 0.0) for n in range(count)]
    return rows
