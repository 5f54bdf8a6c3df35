"""Box steps: how high the frame is ripped, where its screws and angles go, what each has to hold.

::

      platform boards  =============+
      rim              |   |        |riser
                       |   |--------+=========   step boards
            overlap -> |   |o step            |
                       |___|  frame           |riser
                           |__________________|
      boards or pad   ==================================
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from deckplan.levels.model import Rise
from deckplan.verdict import Source

PRACTICE = Source("Common practice", "box steps", "common practice")
PLY = 1.5
"""Thickness of the frame's lumber [in], dressed 2x."""

EDGE = 1.0
"""Least distance from a screw to the upper or lower edge of either piece [in]. Source: four diameters of a
1/4 in screw at a loaded edge (NDS 2018 Table 12.5.1C, from memory)."""

CLEAR = 1.25
"""Least distance from a screw or angle to the middle of a joist of the frame, room for the tool [in]."""

STRIP = 0.65
"""Share of a board's width under which what is ripped is a strip [1] (common practice)."""

THINNEST = 1.5
"""A frame ripped lower than this holds no screw [in] (common practice)."""

_RIPPED_FROM = ((3.5, "2x4"), (5.5, "2x6"), (7.25, "2x8"), (9.25, "2x10"), (11.25, "2x12"))


@dataclass(frozen=True, slots=True)
class FixingBasis:
    """What the fixings of a box step are held to: an assumption for the person to change, for no code
    states one.

    push_per_foot [lb/ft], push_least [lb]: horizontal force on the box; uplift_each [lb]: on every angle;
    screw_apart [in]: farthest that two screws stand apart; angles: how many at least.
    """

    push_per_foot: float = 40.0
    push_least: float = 200.0
    uplift_each: float = 100.0
    screw_apart: float = 24.0
    words: str = (
        "assumed: 200 lb sideways, as for a guard (IRC Table R301.5), or 40 lb a foot of width where that is more; "
        "100 lb of uplift an angle; screws at most 24 in apart; change it where you know better"
    )

    def push(self, width: float) -> float:
        """Return the horizontal force [lb] on a box of that width [in]."""
        return max(self.push_least, self.push_per_foot * width / 12)


@dataclass(frozen=True, slots=True)
class Zone:
    """Heights in which two pieces overlap [in]; empty where top is not above bottom."""

    bottom: float
    top: float

    @property
    def height(self) -> float:
        """Height of the overlap [in], nil where they do not meet."""
        return max(0.0, self.top - self.bottom)

    @property
    def screw(self) -> float:
        """Elevation of a row of screws [in]: the middle of the overlap."""
        return (self.bottom + self.top) / 2

    @property
    def holds(self) -> bool:
        """Tell whether a row of screws has its edge distance to both pieces."""
        return self.height >= 2 * EDGE


@dataclass(frozen=True, slots=True)
class BoxTier:
    """One frame of a box flight: its count from below, outline across and away from the edge [in], top [in].

    left, right: its ends along the edge; depth: from the rim to its front; top: of the frame, under its
    boards; height: ripped; size: what it is ripped from; joists [in]: their middles along the edge.
    """

    count: int
    left: float
    right: float
    depth: float
    top: float
    height: float
    size: str
    joists: tuple[float, ...]
    spacing: float

    @property
    def bottom(self) -> float:
        """Elevation of what the frame stands on [in]."""
        return self.top - self.height

    @property
    def bays(self) -> tuple[tuple[float, float], ...]:
        """Stretches along the edge in which screws and angles have room [in]."""
        pairs = zip(self.joists, self.joists[1:], strict=False)
        return tuple((a + CLEAR, b - CLEAR) for a, b in pairs if b - a >= 2 * CLEAR)


def ripped_from(height: float) -> str:
    """Return the lumber that a frame of that height [in] is ripped from.

    >>> ripped_from(4.25)
    '2x6'
    """
    return next((name for depth, name in _RIPPED_FROM if height <= depth + 1e-9), _RIPPED_FROM[-1][1])


def joist_places(left: float, right: float, spacing: float) -> tuple[float, ...]:
    """Return the middles of the joists [in] of a frame between two ends [in], the last bay what is left over.

    ceil(length between the outer middles / spacing) + 1 joists, first and last always.
    """
    first, last = left + PLY / 2, right - PLY / 2
    spaces = max(1, math.ceil((last - first) / spacing - 1e-9))
    return (*(first + spacing * count for count in range(spaces)), last)


@dataclass(frozen=True, slots=True)
class Ends:
    """How a box ends along the edge, at its start and its end.

    "exposed": it stands back by the fascia; "runs on": past a corner, to fill it; "butts": against the box that does.
    """

    start: str = "exposed"
    end: str = "exposed"

    def beyond(self, which: str, depth: float, fascia: float) -> float:
        """Return how far the frame reaches beyond that end of its stretch [in], below nil where it stands back."""
        return {"exposed": -fascia, "runs on": depth - fascia, "butts": 0.0}[which]


EXPOSED = Ends()


def tiers(
    rise: Rise, board: float, fascia: float, spacing: float, ends: Ends = EXPOSED
) -> tuple[BoxTier, ...]:
    """Return the frames of a box flight from below: each stands on the boards of the one under it.

    board, fascia [in]: thickness; spacing [in]: of joists under steps, by the boards' own limit; ends: how it ends
    along the edge. A frame is one riser less one board high, and stands back at exposed ends by the fascia, so that
    fascias come flush. Its front stands the full treads away from the rim, for the platform's own fascia stands proud
    of the rim by the same thickness.

    Source: common practice (10-1/2 in between two levels: one box, 2 x 5-1/4, its frame 4-1/4 under 1 in boards).
    """
    height = rise.riser - board
    found = []
    for count in range(1, rise.risers):
        depth = (rise.risers - count) * rise.tread
        left = -ends.beyond(ends.start, depth, fascia)
        right = rise.width + ends.beyond(ends.end, depth, fascia)
        found.append(
            BoxTier(
                count=count,
                left=left,
                right=right,
                depth=depth,
                top=rise.bottom + count * rise.riser - board,
                height=height,
                size=ripped_from(height),
                joists=joist_places(left, right, spacing),
                spacing=spacing,
            )
        )
    return tuple(found)


def overlap(tier: BoxTier, rim_top: float, rim_bottom: float) -> Zone:
    """Return the heights in which the back of a frame and a rim lie against each other [in]."""
    return Zone(max(tier.bottom, rim_bottom), min(tier.top, rim_top))


def _into_bay(place: float, bays: tuple[tuple[float, float], ...]) -> float:
    """Move a place along the edge into the nearest bay [in]."""
    if not bays:
        return place
    return min((min(max(place, low), high) for low, high in bays), key=lambda spot: abs(spot - place))


def screw_places(
    tier: BoxTier, needed: int, apart: float, rim: tuple[float, float] = (-math.inf, math.inf)
) -> tuple[float, ...]:
    """Return where screws go along the back of a frame [in]: both ends, the middle, and between as asked.

    needed: how many the demand asks for; apart [in]: farthest that two may stand; rim [in]: from where to
    where there is a rim behind the frame.
    """
    cut = [(max(low, rim[0] + EDGE), min(high, rim[1] - EDGE)) for low, high in tier.bays]
    bays = tuple((low, high) for low, high in cut if low <= high)
    if not bays:
        return ()
    first, last = bays[0][0], bays[-1][1]
    count = max(3, needed, math.ceil((last - first) / apart) + 1)
    count += 1 - count % 2  # odd, so that one is in the middle
    even = [first + (last - first) * number / (count - 1) for number in range(count)]
    return tuple(dict.fromkeys(_into_bay(place, bays) for place in even))


def angle_places(tier: BoxTier) -> tuple[float, ...]:
    """Return where L angles go along the front of a frame [in]: in both end bays and in the middle one."""
    bays = tier.bays
    if not bays:
        return ()
    centre = (tier.left + tier.right) / 2
    middles = [(low + high) / 2 for low, high in bays]
    if len(bays) == 1:
        (low, high), middle = bays[0], middles[0]
        return tuple(dict.fromkeys((low, middle, high)))
    return tuple(dict.fromkeys((middles[0], _into_bay(centre, bays), middles[-1])))


def boards_over(depth: float, width: float, gap: float, nose: float = 1.25) -> tuple[int, float, float]:
    """Return how many boards cover a depth, how wide the last is ripped, and how far the front one
    overhangs [in].

    depth, width, gap [in]: what is covered, one board, the gap between two; nose [in]: largest overhang.

    >>> boards_over(11.0, 5.5, 0.1875)
    (2, 5.5, 0.1875)
    >>> boards_over(14.0, 5.5, 0.1875)
    (3, 2.625, 0.0)
    """
    whole = max(1, math.floor((depth + nose + gap) / (width + gap) + 1e-9))
    covered = whole * width + (whole - 1) * gap
    if covered >= depth - 1e-9 and covered <= depth + nose + 1e-9:
        return whole, width, max(0.0, covered - depth)
    if covered > depth:
        return 1, depth, 0.0
    rest = depth - covered - gap
    if rest <= 0:  # only a gap is left: the front board reaches out to close it
        return whole, width, 0.0
    return whole + 1, rest, 0.0


def board_widths(
    depth: float, width: float, gap: float, nose: float = 1.25
) -> tuple[tuple[float, ...], float]:
    """Return the widths of the boards over a step from its front to its back [in], and the front one's overhang [in].

    As `boards_over`, but where less than three quarters of a board are left the last two are ripped alike, or as many
    as it takes for none to be a strip: strips split at their screws and are weak under a heavy step (common practice).

    >>> board_widths(14.0, 5.5, 0.1875)
    ((5.5, 4.0625, 4.0625), 0.0)
    """
    count, last, over = boards_over(depth, width, gap, nose)
    alike = 1
    while alike < count and last < (0.75 if alike == 1 else STRIP) * width:
        alike += 1
        last = (last * (alike - 1) + width) / alike
    return (*(width,) * (count - alike), *(last,) * alike), over
