"""Whether boards of levels that meet line up: seams from level to level, rows that run on at one height."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import combinations

from deckplan.geometry import Point, area, middle
from deckplan.layout.alignment import IN_LINE, LEAST_SHARED, overlap
from deckplan.layout.boards_model import Boards, PlatformBoards
from deckplan.layout.boards_rows import SLIVER_SHARE
from deckplan.levels.model import Note
from deckplan.plan.model import Decking, Plan, Platform
from deckplan.units import Units, format_short


def board_notes(plan: Plan, heights: Mapping[str, float], boards: Boards) -> tuple[Note, ...]:
    """Say where boards that run the same way meet and do not line up; heights: of the levels, by name [in].

    Source: common practice.
    """
    found: list[Note] = []
    for one, other in combinations(plan.platforms, 2):
        first, second = boards[one.name], boards[other.name]
        (dx, dy), (ex, ey) = first.direction, second.direction
        if abs(dx * ey - dy * ex) > 1e-6:
            continue
        if shares_edge(one, other, first.direction):
            off = _seams_off(first, second)
            if off > IN_LINE:
                said = f"{format_short(off, plan.units)} off one line"
                found.append(
                    Note("advice", f'seams of the boards of "{one.name}" and "{other.name}" meet {said}: '
                         "boards.breaker of either may put them where the other's are")
                )  # fmt: skip
        level = abs(heights[one.name] - heights[other.name]) <= IN_LINE
        # a border stands between rows, so that nobody sees whether they run on
        if level and not (one.boards.border or other.boards.border) and shares_edge(one, other, (-dy, dx)):
            text = _rows_off(one, other, first, second, plan.materials.decking, plan.units)
            found += [Note("advice", text)] if text else []
    return tuple(found)


def shares_edge(one: Platform, other: Platform, way: Point) -> bool:
    """Tell whether two platforms meet along an edge that runs roughly along a unit vector."""
    turn = 1.0 if area(one.outline) * area(other.outline) > 0 else -1.0
    total = 0.0
    for a, b in zip(one.outline, one.outline[1:] + one.outline[:1], strict=True):
        (ux, uy) = (b[0] - a[0], b[1] - a[1])
        if abs(ux * way[0] + uy * way[1]) < abs(ux * way[1] - uy * way[0]):
            continue
        for c, d in zip(other.outline, other.outline[1:] + other.outline[:1], strict=True):
            if (ux * (d[0] - c[0]) + uy * (d[1] - c[1])) * turn < 0:
                total += overlap(a, b, c, d)
    return total >= LEAST_SHARED


def seam_places(laid: PlatformBoards, way: Point) -> list[float]:
    """Return where boards end along a way at breakers or butt seams [in]."""
    middles = [middle(seam.line) for seam in laid.seams if seam.kind != "border"]
    return sorted({round(x * way[0] + y * way[1], 3) for x, y in middles})


def _reach(laid: PlatformBoards, way: Point) -> tuple[float, float]:
    along = [x * way[0] + y * way[1] for board in laid.boards for x, y in board.outline]
    return min(along), max(along)


def _seams_off(first: PlatformBoards, second: PlatformBoards) -> float:
    """Return how far the seams of two levels miss each other [in] where both have some; 0 where they line up."""
    way = first.direction
    ours, theirs = seam_places(first, way), seam_places(second, way)
    if not ours or not theirs:
        return 0.0
    (low, high), (least, most) = _reach(first, way), _reach(second, way)
    shared = [at for at in ours if least < at < most], [at for at in theirs if low < at < high]
    fewer, more = sorted(shared, key=len)
    return max((min(abs(at - to) for to in more) for at in fewer), default=0.0)


def _rows_off(
    one: Platform,
    other: Platform,
    first: PlatformBoards,
    second: PlatformBoards,
    decking: Decking,
    units: Units,
) -> str:
    """Say how far the rows of two levels side by side miss each other, and which first row lines them up."""
    across, pitch = first.across, decking.width + decking.gap
    ours, theirs = (_row_edge(laid, across, decking.width) for laid in (first, second))
    if ours is None or theirs is None:
        return ""
    apart = (ours - theirs) % pitch
    off = min(apart, pitch - apart)
    if off <= IN_LINE:
        return ""
    same = second.across[0] * across[0] + second.across[1] * across[1] > 0
    wanted = (second.first + (apart if same else pitch - apart)) % pitch
    said = f'rows of the boards of "{one.name}" and "{other.name}" run on {format_short(off, units)} off one line'
    if not SLIVER_SHARE * decking.width <= wanted <= decking.width:
        return f"{said}: a border, or a breaker between them, hides it"
    return f'{said}: a boards.first of {format_short(wanted, units)} in "{other.name}" lines them up'


def _row_edge(laid: PlatformBoards, across: Point, width: float) -> float | None:
    """Return where the edge of a row of whole boards lies across the rows [in]."""
    for board in laid.of("field"):
        reach = [x * across[0] + y * across[1] for x, y in board.outline]
        if abs(max(reach) - min(reach) - width) < 1e-3:
            return min(reach)
    return None
