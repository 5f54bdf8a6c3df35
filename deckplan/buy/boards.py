"""Boards and the screws that hold them."""

from __future__ import annotations

import math

from deckplan.buy.item import Item
from deckplan.geometry import unit
from deckplan.layout.model import Kind, Layout, Member
from deckplan.plan.model import Plan, Platform

WASTE = 0.10
"""Share added for cutting boards square across the joists (common practice); 0.15 at an angle."""

WASTE_AT_AN_ANGLE = 0.15
BOARD_STOCK = 192.0
"""The board length that is counted in [in], 16 ft (common practice)."""


def rows(length: float, width: float, gap: float) -> int:
    """Return how many rows of boards cover a length [in]: the gap stands between rows only, the last may be
    ripped.

    >>> rows(120.0, 5.5, 0.125)
    22
    """
    return max(0, math.ceil((length + gap) / (width + gap) - 1e-9))


def crossing(joist: Member, platform: Platform) -> float:
    """Return the length [in] of platform that a joist's line crosses, rims on both sides included."""
    from shapely import LineString, Polygon

    if joist.length == 0:
        return 0.0
    dx, dy = unit(joist.start, joist.end)
    far = 24.0
    line = LineString(
        [
            (joist.start[0] - dx * far, joist.start[1] - dy * far),
            (joist.end[0] + dx * far, joist.end[1] + dy * far),
        ]
    )
    inside = line.intersection(Polygon(platform.outline).buffer(0.01))
    return float(inside.length) - 0.02 if not inside.is_empty else joist.length


def count_screws(platform: Platform, joists: tuple[Member, ...], width: float, gap: float) -> int:
    """Return the screws that hold a platform's boards: two in each row on each joist.

    Source: association guidance, two fasteners a board a joist (10 x 10 ft, joists at 16 in, 5-1/2 in
    boards with 1/8 in gaps: 9 x 22 x 2 = 396).
    """
    return sum(2 * rows(crossing(joist, platform), width, gap) for joist in joists)


def count_boards(plan: Plan, layout: Layout) -> tuple[Item, ...]:
    """Count boards by length of board and screws by joist, platform by platform, then treads of flights."""
    from shapely import Polygon

    decking = plan.materials.decking
    name = f"{decking.kind} board {decking.width:g} x {decking.thickness:g} in"
    found, screws = [], []
    for platform in plan.platforms:
        net = float(Polygon(platform.outline).area) / (decking.width + decking.gap)
        waste = WASTE_AT_AN_ANGLE if platform.boards.angle else WASTE
        found.append(_boards(name, net, waste, f"surface of {platform.name}"))
        joists = layout.of(platform.name, Kind.JOIST)
        count = count_screws(platform, joists, decking.width, decking.gap)
        basis = f"{platform.name}: two a row of boards on each of {len(joists)} joists"
        screws.append(Item("screws", "board screw", None, float(count), 0.0, count, "pieces", basis))
    treads = [member for member in layout.members if member.kind is Kind.TREAD]
    net = sum(tread.length * max(1, round(tread.width / (decking.width + decking.gap))) for tread in treads)
    if net:
        found.append(_boards(name, net, WASTE, f"{len(treads)} treads of the flights"))
    return (*found, *screws)


def _boards(name: str, net: float, waste: float, basis: str) -> Item:
    count = math.ceil(net * (1 + waste) / BOARD_STOCK - 1e-9)
    return Item(
        "boards", name, BOARD_STOCK, net / 12, waste, count, "pieces", f"{basis}, {net / 12:.0f} ft of board"
    )
