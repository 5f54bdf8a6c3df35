"""What boards lie on: the frame's wood seen from above, and the wood that seams, borders and ends still need."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np
import shapely
from shapely import LineString, Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from deckplan.geometry import Line, Point, distance, unit
from deckplan.layout.boards_model import BoardEnd, NeedKind, SupportNeeded
from deckplan.layout.frame import Frame, Interval
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import Kind, Layout, Member

BORDER_BLOCKING = 16.0
"""Farthest apart that pieces of framing cross under a border [in]; common practice, the board maker's value decides."""

SHORTEST_PIECE = 1.0
"""Wood shorter than this between two members is left out [in]: what it would hold lies on them already."""

UNDER = (Kind.JOIST, Kind.RIM, Kind.LEDGER, Kind.BLOCKING, Kind.BEAM, Kind.HEADER)
"""Kinds that boards can lie on, where their tops are level with the joists'."""

LEVEL = 0.01
"""Tops that differ by less are level [in]."""

LEAST_BEARING = 0.6
"""Wood under each board at a seam [in]: less splits at the screws. Common practice: three quarters with the gap."""

COVERED = 0.75
"""Share of a board's end that has to lie over wood; the rest is the corner where two members meet."""

_NEAR = 0.3
_HAIR = 1e-6


def band(line: Line, width: float) -> tuple[Point, ...]:
    """Return the corners of a strip of a width [in] round a centre line [in]."""
    (x0, y0), (x1, y1) = line
    dx, dy = unit(*line)
    nx, ny = -dy * width / 2, dx * width / 2
    return ((x0 + nx, y0 + ny), (x1 + nx, y1 + ny), (x1 - nx, y1 - ny), (x0 - nx, y0 - ny))


def parallel(a: Line, direction: Point) -> bool:
    """Tell whether a line runs along a unit vector."""
    ux, uy = unit(*a)
    return abs(ux * direction[1] - uy * direction[0]) < 1e-4


def lines_of(shape: Any, least: float = SHORTEST_PIECE) -> list[Line]:
    """Return the straight pieces of a shape that are long enough [in]."""
    found = []
    for part in getattr(shape, "geoms", [shape]):
        if part.geom_type == "LineString" and part.length > least:
            (x0, y0), (x1, y1) = part.coords[0], part.coords[-1]
            found.append(((float(x0), float(y0)), (float(x1), float(y1))))
    return found


@dataclass
class Bearers:
    """The wood under one platform's boards: the frame's, and what is found to be needed, in order."""

    platform: str
    letter: str
    frame: Frame
    outline: BaseGeometry
    members: tuple[Member, ...]
    needs: list[SupportNeeded] = field(default_factory=list)
    _joined: BaseGeometry | None = None
    _counted: int = 0

    @classmethod
    def of(cls, letter: str, frame: Frame, outline: BaseGeometry, platform: str, layout: Layout) -> Bearers:
        """Gather the level wood of a platform."""
        wood = [m for m in layout.of(platform, *UNDER) if m.length > 0]
        top = max((m.top for m in wood if m.kind is Kind.JOIST), default=0.0)
        return cls(platform, letter, frame, outline, tuple(m for m in wood if abs(m.top - top) <= LEVEL))

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
        """What closes the edges, as one shape: rims, ledgers, flush beams."""
        kinds = (Kind.RIM, Kind.LEDGER, Kind.BEAM)
        return shapely.union_all([Polygon(band(m.line, m.width)) for m in self.members if m.kind in kinds])

    @property
    def wood(self) -> BaseGeometry:
        """All wood as one shape, with what is needed so far."""
        if self._joined is None or self._counted < len(self.needs):
            shapes = [Polygon(band(need.line, need.width)) for need in self.needs[self._counted :]]
            if self._joined is None:
                shapes += [Polygon(band(m.line, m.width)) for m in self.members]
            self._joined = shapely.union_all([*shapes, *([self._joined] if self._joined is not None else [])])
            self._counted = len(self.needs)
        return self._joined

    # -- what is needed --

    def need(self, kind: NeedKind, line: Line, width: float, reason: str, beside: str = "") -> SupportNeeded:
        """Put down one piece of wood that is needed."""
        made = SupportNeeded(
            f"{self.letter}-N{len(self.needs) + 1}", self.platform, kind, line, width, beside, reason
        )
        self.needs.append(made)
        return made

    def hold_seam(self, line: Line, reason: str, *, whole: bool = True) -> None:
        """See to it that wood lies under both sides of a seam [in]: joists, further plies, or blocks between joists.

        whole: joists and plies run from rim to rim, else only along the line.
        """
        if parallel(line, self.frame.along):
            self._joists_under(line, reason, whole)
        else:
            self.blocks(line, JOIST_THICKNESS * 2, reason)

    def blocks(self, line: Line, width: float, reason: str) -> None:
        """Put blocks of a width [in] along a line wherever it has no wood under it yet."""
        for piece in lines_of(LineString(line).difference(self.wood)):
            self.need("blocking", piece, width, reason)

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
            if abs(at - u) < 1.5 * JOIST_THICKNESS - _HAIR
            and min(high, reach[1]) - max(low, reach[0]) > SHORTEST_PIECE
        ]
        if near:
            at, joist = min(near, key=lambda pair: abs(pair[0] - u))
            side = 1.0 if u >= at else -1.0
            # within one thickness the joint between two plies is near enough; farther off it takes a third
            plies = 1 if abs(u - at) <= JOIST_THICKNESS else 2
            u, kind, beside = at + side * JOIST_THICKNESS * (1 + plies) / 2, "ply", joist.mark
        else:
            plies, kind, beside = 2, "joist", ""
        for low, high in self._runs(u, reach):
            ends = (low, high) if whole else (max(low, reach[0]), min(high, reach[1]))
            run = (self.frame.site(u, ends[0]), self.frame.site(u, ends[1]))
            self.need("ply" if kind == "ply" else "joist", run, JOIST_THICKNESS * plies, reason, beside)

    def _runs(self, u: float, reach: list[float]) -> list[Interval]:
        """Return the stretches of v [in] from rim to rim at u [in] that pass a wished one."""
        far = (self.frame.site(u, -12.0), self.frame.site(u, self.frame.depth + 12.0))
        inside = LineString(far).intersection(self.outline).difference(self.closing)
        found = []
        for piece in lines_of(inside):
            low, high = sorted((self.frame.local(piece[0])[1], self.frame.local(piece[1])[1]))
            if min(high, reach[1]) - max(low, reach[0]) > SHORTEST_PIECE:
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
        shapes = [Polygon(band(m.line, m.width)).buffer(_NEAR, join_style="mitre") for m in self.members]
        shapes += [Polygon(band(n.line, n.width)).buffer(_NEAR, join_style="mitre") for n in self.needs]
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
            found.append(
                BoardEnd(line, self.need("blocking", under, JOIST_THICKNESS, "under a board's end").mark)
            )
        return found

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
