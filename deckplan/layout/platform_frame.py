"""Set out one platform: ledger, beams, joists, rims, each with its mark and what it bears on."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from deckplan.engineering.lumber import Size, read_size
from deckplan.geometry import Point, distance
from deckplan.layout.frame import ON_LINE, Frame, Interval
from deckplan.layout.joists import JOIST_THICKNESS, JoistLine, set_out
from deckplan.layout.model import Bearing, Kind, Member, Strip
from deckplan.layout.supports import BeamStretch, LedgerLine, beams_of, find_ledger
from deckplan.plan.model import House, Ledger, Platform

LONGEST_STOCK = 240.0
"""Longest piece of framing lumber in stock [in]; a longer joist line laps over a beam. Source: common practice."""

HANGER_SEAT = 1.5
"""Bearing length in a joist hanger or on a ledger's hanger [in]. Source: IRC R507.6.1 (minimum on metal)."""

FIRST_TRY = {"joist": "2x10", "beam": "2-2x10"}
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


def set_out_platform(index: int, platform: Platform, house: House, elevation: float, board: float) -> SetOut:
    """Set out the wood of one platform whose finished surface lies at an elevation [in] under boards [in] thick."""
    frame = Frame.of(platform)
    mark = letter(index)
    top = elevation - board
    joist = size_or(platform.joists.size, "joist")
    ledgers = tuple(
        line
        for at, support in enumerate(platform.supports)
        if isinstance(support, Ledger)
        for line in find_ledger(frame, house, at, support)
    )
    beams = _beams(frame, platform, mark, top, joist.depth)
    ledger_members = _ledgers(frame, platform, mark, ledgers, joist, top)
    rims = _rims(frame, platform, mark, _covered(frame, ledgers, beams), joist, top)
    joists = _joists(frame, platform, mark, ledgers, ledger_members, beams, joist, top)
    members = (*ledger_members, *(beam for _, beam in beams), *joists, *rims)
    return SetOut(mark, platform, frame, top, ledgers, beams, members)


def _beams(
    frame: Frame, platform: Platform, mark: str, top: float, joist_depth: float
) -> tuple[tuple[BeamStretch, Member], ...]:
    made = []
    for number, stretch in enumerate(beams_of(frame, platform), 1):
        size = size_or(stretch.line.build, "beam")
        flush = stretch.line.style == "flush"
        low, high = stretch.reach
        if flush and _at_edge(frame, stretch, size.thickness) is None:
            low, high = low + JOIST_THICKNESS, high - JOIST_THICKNESS
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
            alike=f"{mark}-B{number}",
            support=stretch.support,
        )
        made.append((replace(stretch, reach=(low, high)), member))
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
                alike=f"{mark}-L{number}",
                support=line.support,
            )
        )
    return tuple(made)


Cover = tuple[Interval, float, float]
"""A stretch of u on the edge at v that a ledger or a flush beam closes, and how thick it is [in]."""


def _at_edge(frame: Frame, stretch: BeamStretch, width: float) -> float | None:
    """Return the v of the edge that a flush beam stands in for a rim on, where it lies that near to one."""
    if stretch.line.style != "flush":
        return None
    middle = (stretch.reach[0] + stretch.reach[1]) / 2
    for low, high in frame.along_at(middle):
        for edge in (low, high):
            if abs(stretch.v - edge) - width / 2 < JOIST_THICKNESS:
                return edge
    return None


def _covered(
    frame: Frame, ledgers: tuple[LedgerLine, ...], beams: tuple[tuple[BeamStretch, Member], ...]
) -> tuple[Cover, ...]:
    """Return where ledgers and flush beams stand in for a rim."""
    covers: list[Cover] = [(line.reach, line.v, JOIST_THICKNESS) for line in ledgers]
    for stretch, beam in beams:
        edge = _at_edge(frame, stretch, beam.width)
        if edge is not None:
            covers.append((stretch.reach, edge, abs(stretch.v - edge) + beam.width / 2))
    return tuple(covers)


def _rims(
    frame: Frame, platform: Platform, mark: str, covers: tuple[Cover, ...], joist: Size, top: float
) -> tuple[Member, ...]:
    """Close the frame along every edge that does not run along the joists and that nothing else closes."""
    made: list[Member] = []
    for (u0, v0), (u1, v1) in frame.edges:
        if abs(u1 - u0) <= ON_LINE:
            continue
        inward = 1.0 if _inside_above(frame, ((u0, v0), (u1, v1))) else -1.0
        length = distance((u0, v0), (u1, v1))
        # unit normal of the edge that points into the platform
        normal = (-(v1 - v0) / length, (u1 - u0) / length)
        if normal[1] * inward < 0:
            normal = (-normal[0], -normal[1])
        half = JOIST_THICKNESS / 2
        for low, high in _without(covers, (u0, v0), (u1, v1)):
            ends = [_on_edge((u0, v0), (u1, v1), u) for u in (low, high)]
            start, end = (frame.site(u + normal[0] * half, v + normal[1] * half) for u, v in ends)
            made.append(
                Member(
                    mark=f"{mark}-R{len(made) + 1}",
                    platform=platform.name,
                    kind=Kind.RIM,
                    size=joist.name,
                    start=start,
                    end=end,
                    top=top,
                    width=JOIST_THICKNESS,
                    depth=joist.depth,
                    alike=f"{mark}-R{len(made) + 1}",
                )
            )
    return tuple(made)


def _on_edge(a: Point, b: Point, u: float) -> Point:
    return (u, a[1] + (b[1] - a[1]) * (u - a[0]) / (b[0] - a[0]))


def _inside_above(frame: Frame, edge: tuple[Point, Point]) -> bool:
    (u0, v0), (u1, v1) = edge
    u, v = (u0 + u1) / 2, (v0 + v1) / 2
    return any(low - ON_LINE <= v + 1e-3 <= high for low, high in frame.along_at(u))


def _without(covers: tuple[Cover, ...], a: Point, b: Point) -> list[Interval]:
    """Return the stretches of u of an edge that no ledger or flush beam closes."""
    left = [(min(a[0], b[0]), max(a[0], b[0]))]
    for reach, edge, _ in covers:
        if abs(a[1] - edge) > ON_LINE or abs(b[1] - edge) > ON_LINE:
            continue
        cut: list[Interval] = []
        for low, high in left:
            cut += [(low, min(high, reach[0])), (max(low, reach[1]), high)]
        left = [(low, high) for low, high in cut if high - low > ON_LINE]
    return left


def _joists(
    frame: Frame,
    platform: Platform,
    mark: str,
    ledgers: tuple[LedgerLine, ...],
    ledger_members: tuple[Member, ...],
    beams: tuple[tuple[BeamStretch, Member], ...],
    joist: Size,
    top: float,
) -> tuple[Member, ...]:
    made: list[Member] = []
    first: dict[object, str] = {}
    covers = _covered(frame, ledgers, beams)
    for line, wood in _long_enough(frame, covers, set_out(frame, platform.joists.spacing)):
        low, high = line.reach
        rests = [Bearing(low, m.mark, "ledger", HANGER_SEAT) for g, m in zip(ledgers, ledger_members, strict=True)
                 if g.low and _carries(g.reach, line.u) and abs(g.v - low) <= ON_LINE]  # fmt: skip
        ends = [Bearing(high, m.mark, "ledger", HANGER_SEAT) for g, m in zip(ledgers, ledger_members, strict=True)
                if not g.low and _carries(g.reach, line.u) and abs(g.v - high) <= ON_LINE]  # fmt: skip
        crossed = [
            (s, m) for s, m in beams if _carries(s.reach, line.u) and low - ON_LINE <= s.v <= high + ON_LINE
        ]
        crossed.sort(key=lambda pair: pair[0].v)
        for piece in _pieces(line, wood, rests, ends, crossed):
            start, end, bearings, strips = piece
            shape = (
                round(end - start, 4),
                tuple((round(b.at, 4), b.on, b.manner) for b in bearings),
                tuple((round(s.start, 3), round(s.end, 3), round(s.width, 3)) for s in strips),
            )
            name = f"{mark}-J{len(made) + 1}"
            made.append(
                Member(
                    mark=name,
                    platform=platform.name,
                    kind=Kind.JOIST,
                    size=joist.name,
                    start=frame.site(line.u, start),
                    end=frame.site(line.u, end),
                    top=top,
                    width=joist.thickness,
                    depth=joist.depth,
                    alike=first.setdefault(shape, name),
                    bearings=bearings,
                    strips=strips,
                )
            )
    return tuple(made)


def _carries(reach: Interval, u: float) -> bool:
    """Tell whether a support over that stretch carries the joist at u; end joists stand just inside it."""
    return reach[0] - JOIST_THICKNESS - ON_LINE <= u <= reach[1] + JOIST_THICKNESS + ON_LINE


def _end_cut(frame: Frame, covers: tuple[Cover, ...], u: float, v: float) -> float:
    """Return how much of a joist's end [in] what closes its edge takes; more where the edge slants."""
    for reach, edge, thickness in covers:
        if _carries(reach, u) and abs(edge - v) <= 1e-3:
            return thickness
    for (u0, v0), (u1, v1) in frame.edges:
        if min(u0, u1) - ON_LINE <= u <= max(u0, u1) + ON_LINE and abs(u1 - u0) > ON_LINE:
            at = v0 + (v1 - v0) * (u - u0) / (u1 - u0)
            if abs(at - v) < 1e-3:
                length = distance((u0, v0), (u1, v1))
                return JOIST_THICKNESS * length / abs(u1 - u0)
    return JOIST_THICKNESS


SHORTEST_JOIST = 6.0
"""A corner that leaves less wood than this between its rims gets no joist [in]. Source: common practice."""


def _long_enough(
    frame: Frame, covers: tuple[Cover, ...], lines: tuple[JoistLine, ...]
) -> list[tuple[JoistLine, Interval]]:
    """Return the joist lines with the wood between what closes their ends; too short ones give theirs to the nearest."""
    fit: list[tuple[JoistLine, Interval]] = []
    short: list[JoistLine] = []
    for line in lines:
        low, high = line.reach
        wood = (low + _end_cut(frame, covers, line.u, low), high - _end_cut(frame, covers, line.u, high))
        if wood[1] - wood[0] >= SHORTEST_JOIST:
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


Piece = tuple[float, float, tuple[Bearing, ...], tuple[Strip, ...]]


def _pieces(
    line: JoistLine,
    wood: Interval,
    rests: list[Bearing],
    ends: list[Bearing],
    crossed: list[tuple[BeamStretch, Member]],
) -> list[Piece]:
    """Cut a joist line into pieces: at flush beams, and at drop beams where stock runs out.

    Bearings and strips of a piece are measured from its own start.
    """
    cuts = _cuts(wood, crossed)
    pieces: list[Piece] = []
    for number, (start, end) in enumerate(pairwise(cuts)):
        first, last = number == 0, number == len(cuts) - 2
        begin, finish = start[1], end[0]
        if finish - begin <= ON_LINE:
            continue
        bearings = [replace(b, at=0.0) for b in rests] if first else []
        for stretch, beam in crossed:
            if stretch.line.style == "flush":
                face = beam.width / 2
                if abs(stretch.v - face - finish) < 0.01:
                    bearings.append(Bearing(finish - begin, beam.mark, "hanger", HANGER_SEAT))
                elif abs(stretch.v + face - begin) < 0.01:
                    bearings.append(Bearing(0.0, beam.mark, "hanger", HANGER_SEAT))
                else:
                    continue
            elif begin - ON_LINE <= stretch.v <= finish + ON_LINE:
                bearings.append(Bearing(stretch.v - begin, beam.mark, "bearing", beam.width))
            else:
                continue
        bearings += [replace(b, at=finish - begin) for b in ends] if last else []
        bearings.sort(key=lambda b: b.at)
        # the surface over the rim, the ledger or half a flush beam belongs to the piece that ends there
        from_v = -1e9 if first else (start[0] + start[1]) / 2
        to_v = 1e9 if last else (end[0] + end[1]) / 2
        strips = tuple(
            Strip(max(s.start, from_v) - begin, min(s.end, to_v) - begin, s.width)
            for s in line.strips
            if min(s.end, to_v) - max(s.start, from_v) > ON_LINE
        )
        pieces.append((begin, finish, tuple(bearings), strips))
    return pieces


def _cuts(wood: Interval, crossed: list[tuple[BeamStretch, Member]]) -> list[Interval]:
    """Return where the wood of a joist line is cut: (end of one piece, start of the next), ends included."""
    cuts: list[Interval] = [(wood[0], wood[0])]
    drops: list[float] = []
    for stretch, beam in crossed:
        if stretch.line.style == "flush":
            face = beam.width / 2
            if wood[0] + face < stretch.v < wood[1] - face:
                cuts.append((stretch.v - face, stretch.v + face))
        else:
            drops.append(stretch.v)
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
