"""Joists as pieces of wood: joist lines cut at flush beams, openings and the end of stock, with their bearings."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from deckplan.engineering.lumber import Size, read_size
from deckplan.layout.closing import ON_EDGE, Cover, carries, end_cut
from deckplan.layout.frame import DOUBLED, ON_LINE, Frame, Interval
from deckplan.layout.joists import JOIST_THICKNESS, JoistLine, set_out
from deckplan.layout.model import Bearing, Kind, Manner, Member, Strip
from deckplan.layout.supports import BeamStretch, LedgerLine
from deckplan.plan.model import Platform

LONGEST_STOCK = 240.0
"""Longest piece of framing lumber in stock [in]; a longer joist line laps over a beam. Source: common practice."""

HANGER_SEAT = 1.5
"""Length of the seat in a hanger for a joist, header or beam [in]. Source: IRC R507.6.1 (minimum on metal)."""


@dataclass(frozen=True, slots=True)
class Carriers:
    """What can carry the joists of one platform, and what closes its edges.

    ledgers: its ledgers, and neighbours' beams that its joists hang on; beams: its own.
    """

    ledgers: tuple[tuple[LedgerLine, Member], ...]
    beams: tuple[tuple[BeamStretch, Member], ...]
    covers: tuple[Cover, ...]


@dataclass(frozen=True)
class Crossing:
    """A beam that a joist line crosses: at which v along the joist [in]."""

    v: float
    stretch: BeamStretch
    beam: Member

    @property
    def flush(self) -> bool:
        """Tell whether the joist hangs on its face instead of standing on it."""
        return self.stretch.line.style == "flush"

    @cached_property
    def face(self) -> float:
        """From its middle to its face, along the joist [in]: half its width over the cosine of the skew."""
        return self.beam.width / 2 * self.stretch.run.secant

    @property
    def skew(self) -> float:
        """Angle by which the joist crosses it off square [degrees]."""
        return self.stretch.run.skew


def header_mark(letter: str, hole: int, high: bool) -> str:
    """Return the mark of an opening's header: the lower one or the higher one along the joists."""
    return f"{letter}-H{2 * hole + 1 + high}"


def joists_of(
    frame: Frame,
    platform: Platform,
    letter: str,
    carriers: Carriers,
    joist: Size,
    top: float,
    start: float = 0.0,
) -> tuple[Member, ...]:
    """Return every joist of a platform, trimmers doubled, each with its bearings and the surface it carries."""
    made: list[Member] = []
    lines = set_out(frame, platform.joists.spacing, start)
    for line, wood in _long_enough(frame, carriers.covers, lines):
        size = joist if line.plies == 1 else read_size(f"{line.plies}-{joist.ply}")
        rests, ends = _end_bearings(frame, letter, carriers, line)
        low, high = line.reach
        over = [
            Crossing(stretch.run.at(line.u), stretch, beam)
            for stretch, beam in carriers.beams
            if carries(stretch.reach, line.u) and low - ON_LINE <= stretch.run.at(line.u) <= high + ON_LINE
        ]
        # over a splice two pieces meet: the joist rests on the first
        crossed = list({(one.stretch.support, one.v): one for one in reversed(over)}.values())
        crossed.sort(key=lambda one: one.v)
        for begin, end, bearings, strips in _pieces(line, wood, rests, ends, crossed):
            name = f"{letter}-J{len(made) + 1}"
            made.append(
                Member(
                    mark=name,
                    platform=platform.name,
                    kind=Kind.JOIST,
                    size=size.name,
                    start=frame.site(line.u, begin),
                    end=frame.site(line.u, end),
                    top=top,
                    width=size.thickness,
                    depth=size.depth,
                    bearings=bearings,
                    strips=strips,
                )
            )
    return tuple(made)


def _end_bearings(
    frame: Frame, letter: str, carriers: Carriers, line: JoistLine
) -> tuple[list[Bearing], list[Bearing]]:
    """Return what carries a joist line at its lower and at its higher end: a ledger or an opening's header."""
    low, high = line.reach
    rests: list[Bearing] = []
    ends: list[Bearing] = []
    for ledger, member in carriers.ledgers:
        if carries(ledger.reach, line.u):
            manner: Manner = "ledger" if member.kind is Kind.LEDGER else "hanger"
            v, skew = ledger.run.at(line.u), ledger.run.skew
            if ledger.low and abs(v - low) <= ON_EDGE:
                rests.append(Bearing(low, member.mark, manner, HANGER_SEAT, skew))
            elif not ledger.low and abs(v - high) <= ON_EDGE:
                ends.append(Bearing(high, member.mark, manner, HANGER_SEAT, skew))
            else:
                continue
    for number, hole in enumerate(frame.holes):
        if hole.u0 < line.u < hole.u1:
            if abs(hole.v1 + DOUBLED - low) <= ON_LINE:
                rests.append(Bearing(low, header_mark(letter, number, True), "hanger", HANGER_SEAT))
            if abs(hole.v0 - DOUBLED - high) <= ON_LINE:
                ends.append(Bearing(high, header_mark(letter, number, False), "hanger", HANGER_SEAT))
    return rests, ends


def headers_of(
    frame: Frame, platform: Platform, letter: str, joists: tuple[Member, ...], joist: Size, top: float
) -> tuple[Member, ...]:
    """Return the headers of the openings that joists hang on; each hangs between its trimmers."""
    wanted = {bearing.on for member in joists for bearing in member.bearings}
    size = read_size(f"2-{joist.ply}")
    made = []
    for number, hole in enumerate(frame.holes):
        for high in (False, True):
            mark = header_mark(letter, number, high)
            if mark not in wanted:
                continue
            v = hole.v1 + DOUBLED / 2 if high else hole.v0 - DOUBLED / 2
            ends = []
            for at, u in ((0.0, hole.u0 - DOUBLED / 2), (hole.u1 - hole.u0, hole.u1 + DOUBLED / 2)):
                trimmer = _trimmer_at(frame, joists, u, v)
                if trimmer is not None:
                    ends.append(Bearing(at, trimmer.mark, "hanger", HANGER_SEAT))
            made.append(
                Member(
                    mark=mark,
                    platform=platform.name,
                    kind=Kind.HEADER,
                    size=size.name,
                    start=frame.site(hole.u0, v),
                    end=frame.site(hole.u1, v),
                    top=top,
                    width=size.thickness,
                    depth=size.depth,
                    bearings=tuple(ends),
                )
            )
    return tuple(made)


def _trimmer_at(frame: Frame, joists: tuple[Member, ...], u: float, v: float) -> Member | None:
    """Return the doubled joist that stands at u and runs past v; None where none does, so that nothing hangs in air.

    One that stands a little aside, as where an edge or another opening leaves no room, does not touch the header.
    """
    for joist in joists:
        at, start = frame.local(joist.start)
        if (
            joist.width > JOIST_THICKNESS + ON_LINE
            and abs(at - u) <= TOUCHES
            and start - ON_LINE <= v <= start + joist.length + ON_LINE
        ):
            return joist
    return None


TOUCHES = 1 / 16
"""Pieces whose faces lie this close touch [in]. Source: common practice."""

SHORTEST_JOIST = 6.0
"""A corner that leaves less wood than this between its rims gets no joist [in]. Source: common practice.

A strip as narrow as that gets blocks all the same: its boards have nothing else to lie on.
"""


def _long_enough(
    frame: Frame, covers: tuple[Cover, ...], lines: tuple[JoistLine, ...]
) -> list[tuple[JoistLine, Interval]]:
    """Return the joist lines with the wood between their ends' closures; too short ones give theirs to the nearest."""
    woods: list[Interval] = []
    for line in lines:
        low, high = line.reach
        low_cut, high_cut = (end_cut(frame, covers, line.u, v, line.plies) for v in line.reach)
        woods.append((low + low_cut, high - high_cut))
    long = [high - low >= SHORTEST_JOIST for low, high in woods]
    fit: list[tuple[JoistLine, Interval]] = []
    short: list[JoistLine] = []
    for index, (line, wood) in enumerate(zip(lines, woods, strict=True)):
        if long[index] or (wood[1] - wood[0] > SHORTEST_PIECE and _in_strip(lines, long, index)):
            fit.append((line, wood))
        else:
            short.append(line)
    for line in short if fit else ():
        middle = (line.reach[0] + line.reach[1]) / 2
        nearest = min(
            range(len(fit)),
            key=lambda i: (abs(fit[i][0].u - line.u), max(fit[i][1][0] - middle, middle - fit[i][1][1], 0.0)),
        )
        heir, wood = fit[nearest]
        fit[nearest] = (replace(heir, strips=(*heir.strips, *line.strips)), wood)
    return fit


def _in_strip(lines: tuple[JoistLine, ...], long: list[bool], index: int) -> bool:
    """Tell whether the line beside a short one, in the same strip of surface, is about as short: no corner, then."""
    line = lines[index]
    low, high = line.reach
    beside = [
        at
        for at, one in enumerate(lines)
        if one.u != line.u and min(one.reach[1], high) - max(one.reach[0], low) > ON_LINE
    ]
    for way in (-1.0, 1.0):
        near = min(
            (at for at in beside if (lines[at].u - line.u) * way > 0),
            key=lambda at: abs(lines[at].u - line.u),
            default=None,
        )
        if near is not None and not long[near]:
            there = lines[near].reach[1] - lines[near].reach[0]
            if max(there, high - low) <= 2 * min(there, high - low):
                return True
    return False


TOGETHER = 12.0
"""Beams that run at an angle to each other and carry a joist this close together count as one bearing [in]. Our own
choice."""

CORNER_CUT = 5.5
"""How far a joist's middle may end before a flush beam's face and hang there [in]: its thickness, by the tangents of 60
degrees that the beam and the one round the corner may lie off square."""

LAP = 6.0
"""How far a piece reaches past a beam's middle where two lap over it [in]. Source: common practice."""

SHORTEST_PIECE = 1.0
"""What two beams side by side leave between them is filled, not framed, up to this length [in]."""

# Beyond any platform: the strips at the ends of a line reach as far as they like [in].
_FAR = 1e9

Piece = tuple[float, float, tuple[Bearing, ...], tuple[Strip, ...]]


def _pieces(
    line: JoistLine,
    wood: Interval,
    rests: list[Bearing],
    ends: list[Bearing],
    crossed: list[Crossing],
) -> list[Piece]:
    """Cut a joist line into pieces: at flush beams, and at drop beams where stock runs out.

    Bearings and strips of a piece are measured from its own start.
    """
    cuts = _cuts(wood, crossed)
    stretches = [
        (start[1], end[0]) for start, end in pairwise(cuts) if end[0] - start[1] > SHORTEST_PIECE
    ] or [wood]
    # the surface over the rim, the ledger or half a flush beam belongs to the piece that ends there
    bounds = [-_FAR, *((before[1] + after[0]) / 2 for before, after in pairwise(stretches)), _FAR]
    pieces: list[Piece] = []
    for (begin, finish), from_v, to_v in zip(stretches, bounds, bounds[1:], strict=False):
        bearings = [replace(b, at=0.0) for b in rests] if begin == wood[0] else []
        # where a line laps over a beam both pieces reach across all of it
        near = begin if begin == wood[0] else begin - LAP
        far = finish if finish == wood[1] else finish + LAP
        bearings += [b for one in crossed if (b := _on_beam(one, (begin, finish), (near, far)))]
        bearings += [replace(b, at=finish - begin) for b in ends] if finish == wood[1] else []
        bearings = _apart(bearings)
        strips = tuple(
            Strip(max(s.start, from_v) - begin, min(s.end, to_v) - begin, s.width)
            for s in line.strips
            if min(s.end, to_v) - max(s.start, from_v) > ON_LINE
        )
        pieces.append((begin, finish, tuple(bearings), strips))
    return pieces


def _apart(bearings: list[Bearing]) -> list[Bearing]:
    """Return a piece's bearings in order, those left out that two beams at an angle bring close to each other.

    Near where beams meet, a joist cannot rest on both: the outer one would lift it off the inner, or pull it down with
    many times its load. The outer one counts, and what a joist hangs in before what it lies on.
    """
    found: list[Bearing] = []
    ordered = sorted(bearings, key=lambda b: b.at)
    if len({b.skew for b in ordered}) < 2 and len({b.at for b in ordered}) == len(ordered):
        return ordered  # no two of them meet
    middle = (ordered[0].at + ordered[-1].at) / 2 if ordered else 0.0
    for one in sorted(ordered, key=lambda b: (b.manner == "bearing", -abs(b.at - middle))):
        near = (b for b in found if abs(b.at - one.at) < TOGETHER - 1e-4 and abs(b.skew - one.skew) > 1e-6)
        if one.manner != "bearing" or not any(near):
            found.append(one)
    if len(found) < 2:  # a short one in a corner needs both
        found = [ordered[0], ordered[-1]] if len(ordered) > 1 else ordered
    return sorted(found, key=lambda b: b.at)


def _on_beam(one: Crossing, piece: Interval, reach: Interval) -> Bearing | None:
    """Return how a piece of joist rests on a beam: in a hanger at its end, over the top, or not at all.

    Over a beam at an angle it bears on the beam's thickness over the cosine of the skew, less what its end cuts off.
    piece: its stretch of v [in]; reach: the same with what laps past its ends over a beam.
    """
    begin, finish = piece
    low, high, mark = one.v - one.face, one.v + one.face, one.beam.mark
    if one.flush:
        # by a corner its end may be cut shorter than the face, for what closes the edge round it
        if -0.01 < low - finish <= CORNER_CUT:
            return Bearing(finish - begin, mark, "hanger", HANGER_SEAT, one.skew)
        if -0.01 < begin - high <= CORNER_CUT:
            return Bearing(0.0, mark, "hanger", HANGER_SEAT, one.skew)
        return None
    there = min(high, reach[1]) - max(low, reach[0])
    if begin - ON_LINE <= one.v <= finish + ON_LINE or there >= HANGER_SEAT:
        at = min(max(one.v, begin), finish)
        return Bearing(at - begin, mark, "bearing", there, one.skew)
    return None


def _cuts(wood: Interval, crossed: list[Crossing]) -> list[Interval]:
    """Return where the wood of a joist line is cut: (end of one piece, start of the next), ends included."""
    cuts: list[Interval] = [(wood[0], wood[0])]
    drops: list[float] = []
    for one in crossed:
        if one.flush:
            if wood[0] + ON_LINE < one.v + one.face and one.v - one.face < wood[1] - ON_LINE:
                cuts.append((one.v - one.face, one.v + one.face))
        else:
            drops.append(one.v)
    cuts.append((wood[1], wood[1]))
    return [cuts[0]] + [
        cut for before, after in pairwise(cuts) for cut in (*_laps(before[1], after[0], drops), after)
    ]


def _laps(start: float, end: float, drops: list[float]) -> list[Interval]:
    """Return the drop beams over which a line too long for stock is lapped: as few as stock allows."""
    laps: list[Interval] = []
    here = start
    while end - here > LONGEST_STOCK:
        within = [v for v in drops if here + ON_LINE < v <= here + LONGEST_STOCK and v < end - ON_LINE]
        if not within:
            break
        here = within[-1]
        laps.append((here, here))
    return laps
