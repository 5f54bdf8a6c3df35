"""What boards lie on: the frame's wood seen from above, and the wood that seams, borders and ends still need."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import shapely
from shapely import LineString, Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Line, Point, distance
from deckplan.layout.boards_model import BoardEnd, NeedKind, SupportNeeded
from deckplan.layout.boards_room import (
    SAWN,
    SHORTEST_PIECE,
    band,
    cut_between,
    fit_blocks,
    free_of,
    lines_of,
    parallel,
    shared,
)
from deckplan.layout.ends import CLOSING, LEVEL_KINDS, cut_ends, shape_of
from deckplan.layout.frame import Frame, Interval
from deckplan.layout.guard_posts import POST
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Layout, Member

__all__ = ["BORDER_BLOCKING", "Bearers", "band", "lines_of", "parallel"]

BORDER_BLOCKING = 16.0
"""Farthest apart that pieces of framing cross under a border [in]; common practice, the board maker's value decides."""

FILLER = 0.5
"""Between two joists that stand so close, a ply is ripped to what room there is, from this on [in]."""

LEVEL = 0.01
"""Tops that differ by less are level [in]."""

LEAST_BEARING = 0.6
"""Wood under each board at a seam [in]: less splits at the screws. Common practice: three quarters with the gap."""

LEAST_AT_POST = 0.5
"""Wood under a border's inner edge where a doubled joist makes way for guard posts [in]; crosswise blocks carry it
there as well. Common practice."""

COVERED = 0.75
"""Share of a board's end that has to lie over wood; the rest is the corner where two members meet."""

_NEAR = 0.3
_HAIR = 1e-6


@dataclass
class Bearers:
    """The wood under one platform's boards: the frame's, and what is found to be needed, in order.

    shapes: the frame's pieces in plan as they are cut; needed: those of the needs; posts: where guard posts stand,
    which carry no boards and leave no room; reaching: how far ends reach past their wood where no block fits [in].
    """

    platform: str
    letter: str
    frame: Frame
    outline: BaseGeometry
    members: tuple[Member, ...]
    shapes: tuple[Polygon, ...]
    posts: tuple[Point, ...] = ()
    needs: list[SupportNeeded] = field(default_factory=list)
    needed: list[Polygon] = field(default_factory=list)
    reaching: list[float] = field(default_factory=list)
    _joined: BaseGeometry | None = None
    _counted: int = 0

    @classmethod
    def of(cls, letter: str, frame: Frame, outline: BaseGeometry, platform: str, layout: Layout) -> Bearers:
        """Gather the level wood of a platform."""
        wood = [m for m in layout.of(platform, *LEVEL_KINDS) if m.length > 0]
        top = max((m.top for m in wood if m.kind is Kind.JOIST), default=0.0)
        members = tuple(m for m in wood if abs(m.top - top) <= LEVEL)
        cuts = cut_ends(members)
        shapes = tuple(Polygon(shape_of(m, cuts)) for m in members)
        posts = tuple(post.at for post in layout.guard_posts if post.platform == platform)
        return cls(platform, letter, frame, outline, members, shapes, posts)

    # -- what is there --

    def joist_lines(self) -> dict[float, list[tuple[Interval, Member]]]:
        """Return the joists by their u [in], each with its stretch of v [in]."""
        found: dict[float, list[tuple[Interval, Member]]] = {}
        for member in self.members:
            if member.kind is Kind.JOIST:
                (u, v0), (_, v1) = self.frame.local(member.start), self.frame.local(member.end)
                found.setdefault(round(u, 4), []).append(((min(v0, v1), max(v0, v1)), member))
        return found

    @cached_property
    def closing(self) -> BaseGeometry:
        """What a joist stops at, as one shape: rims, ledgers, flush beams, headers."""
        return shapely.union_all(
            [shape for m, shape in zip(self.members, self.shapes, strict=True) if m.kind in CLOSING]
        )

    @property
    def wood(self) -> BaseGeometry:
        """All wood as one shape, with what is needed so far."""
        if self._joined is None or self._counted < len(self.needs):
            shapes = self.needed[self._counted :]
            if self._joined is None:
                shapes += self.shapes
            self._joined = shapely.union_all([*shapes, *([self._joined] if self._joined is not None else [])])
            self._counted = len(self.needs)
        return self._joined

    @cached_property
    def _standing(self) -> BaseGeometry:
        return shapely.union_all(
            [LineString((at, at)).buffer(POST / 2, cap_style="square") for at in self.posts]
        )

    # -- what is needed --

    def need(
        self,
        kind: NeedKind,
        line: Line,
        width: float,
        reason: str,
        beside: str = "",
        shape: Polygon | None = None,
    ) -> SupportNeeded:
        """Put down one piece of wood that is needed; shape: as it is cut, where its ends are not square."""
        made = SupportNeeded(
            f"{self.letter}-N{len(self.needs) + 1}", self.platform, kind, line, width, beside, reason
        )
        self.needs.append(made)
        self.needed.append(shape or Polygon(band(line, width)))
        return made

    def hold_seam(self, line: Line, reason: str, *, whole: bool = True) -> None:
        """See to it that wood lies under both sides of a seam [in]: joists, further plies, or blocks between joists.

        whole: joists and plies run from rim to rim, else only along the line.
        """
        if parallel(line, self.frame.along):
            self._joists_under(line, reason, whole)
        else:
            self.blocks(line, JOIST_THICKNESS * 2, reason)

    def blocks(self, line: Line, width: float, reason: str) -> list[SupportNeeded]:
        """Put blocks of a width [in] along a line wherever it has no wood under it yet, and where they have room."""
        faces = [(m.line, m.width) for m in self.members] + [(n.line, n.width) for n in self.needs]
        return [
            self.need("blocking", piece, width, reason, shape=shape)
            for piece, shape in fit_blocks(line, width, self.wood.union(self._standing), faces)
        ]

    def _joists_under(self, line: Line, reason: str, whole: bool) -> None:
        strip = LineString(line).buffer(LEAST_BEARING, cap_style="flat")
        if strip.intersection(self.wood).area > 0.98 * strip.area:
            return
        u = self.frame.local(line[0])[0]
        reach = sorted((self.frame.local(line[0])[1], self.frame.local(line[1])[1]))
        near = [
            (at, joist)
            for at, joists in self.joist_lines().items()
            for (low, high), joist in joists
            if abs(at - u) < joist.width / 2 + JOIST_THICKNESS - _HAIR
            and min(high, reach[1]) - max(low, reach[0]) > SHORTEST_PIECE
        ]
        if near:
            at, joist = min(near, key=lambda pair: abs(pair[0] - u) - pair[1].width / 2)
            side = 1.0 if u >= at else -1.0
            # within half a thickness of its face the joint between two plies is near enough; farther off it takes two
            plies = 1 if abs(u - at) <= (joist.width + JOIST_THICKNESS) / 2 else 2
            u = at + side * (joist.width + JOIST_THICKNESS * plies) / 2
            kind, beside = "ply", joist.mark
        else:
            plies, kind, beside = 2, "joist", ""
            u += self._aside(u, JOIST_THICKNESS * plies, reach)
        wide = JOIST_THICKNESS * plies
        for run in self._runs(u, wide, reach):
            ends = run if whole else (max(run[0], reach[0]), min(run[1], reach[1]))
            for (left, right), (begin, end) in free_of((u - wide / 2, u + wide / 2), ends, self._beside_it()):
                middle, own = (left + right) / 2, right - left
                if own < FILLER:
                    continue
                # a narrower one meets a slanted rim elsewhere
                for low, high in [run] if own > wide - _HAIR else self._runs(middle, own, [begin, end]):
                    stop = (
                        low if begin == run[0] else max(begin, low),
                        high if end == run[1] else min(end, high),
                    )
                    if stop[1] - stop[0] > SHORTEST_PIECE:
                        laid = (self.frame.site(middle, stop[0]), self.frame.site(middle, stop[1]))
                        self.need("ply" if kind == "ply" else "joist", laid, own, reason, beside)

    def _aside(self, u: float, wide: float, reach: list[float]) -> float:
        """Return how far a joist moves over for guard posts beside it [in]; nothing where its seam would lose it."""
        moves = [0.0]
        for post in self.posts:
            at, v = self.frame.local(post)
            over = (wide + POST) / 2 - abs(u - at)
            if over > 0 and min(reach[1], v + POST / 2) > max(reach[0], v - POST / 2):
                moves.append(over if u >= at else -over)
        move = max(moves, key=abs)
        return move if abs(move) <= wide / 2 - LEAST_AT_POST else 0.0

    def _beside_it(self) -> list[tuple[Interval, Interval]]:
        """Return what a joist has no room in [in]: as stretches of u and of v, other joists and openings."""
        along = [(m.line, m.width) for m in self.members if m.kind is Kind.JOIST]
        along += [(need.line, need.width) for need in self.needs if need.kind != "blocking"]
        found = [((hole.u0, hole.u1), (hole.v0, hole.v1)) for hole in self.frame.holes]
        for line, width in along:
            (u, v0), (_, v1) = self.frame.local(line[0]), self.frame.local(line[1])
            found.append(((u - width / 2, u + width / 2), (min(v0, v1), max(v0, v1))))
        return found

    def _runs(self, u: float, wide: float, reach: list[float]) -> list[Interval]:
        """Return the stretches of v [in] from rim to rim at u [in] that pass a wished one, for a joist so wide [in]."""
        faces = [(m.line, m.width) for m in self.members if m.kind in CLOSING]
        found = []
        for run in self._between(u):
            line = (self.frame.site(u, run[0]), self.frame.site(u, run[1]))
            ends = run
            if shared(cut_between(line, wide, faces), self.closing).area > SAWN:
                # rims meet over it: it is cut square, short of both
                sides = [
                    side
                    for at in (u - wide / 2 + 0.01, u + wide / 2 - 0.01)
                    for side in self._between(at)
                    if min(side[1], run[1]) - max(side[0], run[0]) > SHORTEST_PIECE
                ]
                ends = (max(low for low, _ in [run, *sides]), min(high for _, high in [run, *sides]))
            if min(ends[1], reach[1]) - max(ends[0], reach[0]) > SHORTEST_PIECE:
                found.append(ends)
        return found

    def _between(self, u: float) -> list[Interval]:
        """Return the stretches of v [in] between what closes the frame at u [in]."""
        far = (self.frame.site(u, -12.0), self.frame.site(u, self.frame.depth + 12.0))
        inside = LineString(far).intersection(self.outline).difference(self.closing)
        found = []
        for piece in lines_of(inside):
            low, high = sorted((self.frame.local(piece[0])[1], self.frame.local(piece[1])[1]))
            found.append((low, high))
        return found

    # -- ends --

    def settle_ends(self, ends: list[Line], inward: list[Point]) -> list[BoardEnd]:
        """Say what each end [in] lies on; a block goes under every end that lies on nothing.

        inward: unit vector square to each end, into its board.
        """
        if not ends:
            return []
        marks = [m.mark for m in self.members] + [n.mark for n in self.needs]
        shapes = [shape.buffer(_NEAR, join_style="mitre") for shape in (*self.shapes, *self.needed)]
        lines = np.array([shapely.LineString(end) for end in ends], dtype=object)
        lengths = np.atleast_1d(shapely.length(lines))
        covered: list[dict[int, float]] = [{} for _ in ends]
        if shapes:
            which, what = STRtree(shapes).query(lines, predicate="intersects")
            shared = shapely.intersection(lines[which], np.array(shapes, dtype=object)[what])
            shares = np.atleast_1d(shapely.length(shared))
            for i, j, share in zip(which, what, shares, strict=True):
                covered[int(i)][int(j)] = float(share)
        found = []
        for i, line in enumerate(ends):
            own = covered[i]
            if own and min(sum(own.values()), lengths[i]) >= COVERED * lengths[i] - _HAIR:
                found.append(BoardEnd(line, marks[max(own, key=lambda j: own[j])]))
                continue
            dx, dy = inward[i]
            half = JOIST_THICKNESS / 2
            (x0, y0), (x1, y1) = line
            under = ((x0 + dx * half, y0 + dy * half), (x1 + dx * half, y1 + dy * half))
            more = self.blocks(under, JOIST_THICKNESS, "under a board's end")
            if more:
                found.append(BoardEnd(line, max(more, key=lambda need: need.length).mark))
            else:  # as much wood as there is room for lies there
                nearest, off = self._nearest(line)
                found.append(BoardEnd(line, nearest))
                self.reaching.append(off)
        return found

    def _nearest(self, line: Line) -> tuple[str, float]:
        """Return the mark of the wood nearest to an end and how far off it lies [in]."""
        marks = [m.mark for m in self.members] + [need.mark for need in self.needs]
        end = LineString(line)
        off = [float(shape.distance(end)) for shape in (*self.shapes, *self.needed)]
        return marks[off.index(min(off))], min(off)

    # -- screws --

    def screw_lines(self) -> list[Line]:
        """Return the lines that screws go into: one for each line of joists and each ply, and blocks of borders."""
        found = []
        for u, joists in self.joist_lines().items():
            for low, high in _merged([reach for reach, _ in joists]):
                # a joist stops at the rim; the board over the rim is screwed in the same line
                found.append((self.frame.site(u, low - 2.0), self.frame.site(u, high + 2.0)))
        for need in self.needs:
            if distance(*need.line) <= _HAIR:
                continue
            if need.kind == "joist":
                corners = band(need.line, JOIST_THICKNESS)
                found += [(corners[0], corners[1]), (corners[3], corners[2])]
            else:
                found.append(need.line)
        return found


def _merged(reaches: list[Interval]) -> list[Interval]:
    """Join stretches that overlap or nearly touch, as where two joists lap over a beam or meet at one."""
    found: list[Interval] = []
    for low, high in sorted(reaches):
        if found and low - found[-1][1] < 8.0:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found
