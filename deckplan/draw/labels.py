"""Placing texts so that none lies on another, with a leader where one has to stand away."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from deckplan.draw.scene import Box, Label, Role, text_box
from deckplan.geometry import Line, Point, cross


@dataclass(frozen=True, slots=True)
class Wish:
    """A text that wants a place.

    target: the point it names [in]; places: where its middle would best be [in], best first; needed: it must
    be placed, if need be with a leader; one that is not needed is left out where there is no room; shun:
    boxes [in] that it had better keep off, as the platform next door.
    """

    text: str
    target: Point
    places: tuple[Point, ...]
    height: float
    role: Role
    mark: str = ""
    angle: float = 0.0
    plate: bool = False
    needed: bool = True
    urgency: int = 0
    shun: tuple[Box, ...] = ()


def round_about(
    target: Point, text: str, height: float, clear: float, angle: float = 0.0
) -> tuple[Point, ...]:
    """Return eight places [in] for a text round a point, `clear` [in] away from it, the upper right first."""
    box = text_box(text, target, height, angle)
    dx, dy = box.width / 2 + clear, box.height / 2 + clear
    x, y = target
    turns = ((1, 1), (-1, 1), (1, -1), (-1, -1), (1, 0), (-1, 0), (0, 1), (0, -1))
    return tuple((x + a * dx, y + b * dy) for a, b in turns)


CROWDED = 0.3
"""The share of a drawing that texts at its points may take before they hide it."""


def crowding(texts: Sequence[str], height: float, drawn: Box) -> float:
    """Return the share [1] of a drawing's box that texts of a height [in] would take."""
    boxes = (text_box(text, (0.0, 0.0), height) for text in texts)
    return sum(box.width * box.height for box in boxes) / (drawn.width * drawn.height or 1.0)


def crosses(line: Line, box: Box) -> bool:
    """Tell whether a stretch of line passes through a box (Liang and Barsky's clipping).

    >>> crosses(((0, 0), (10, 10)), Box(4, 4, 6, 6)), crosses(((0, 0), (10, 0)), Box(4, 4, 6, 6))
    (True, False)
    """
    (x0, y0), (x1, y1) = line
    enter, leave = 0.0, 1.0
    for delta, low, high in (
        (x1 - x0, box.left - x0, box.right - x0),
        (y1 - y0, box.bottom - y0, box.top - y0),
    ):
        if delta == 0:
            if low >= 0 or high <= 0:
                return False
            continue
        first, second = sorted((low / delta, high / delta))
        enter, leave = max(enter, first), min(leave, second)
        if enter >= leave:
            return False
    return True


LEADER, RING, SHUNNED, HEAVY = 0.3, 0.06, 0.5, 6.0
"""What a place costs, in shares of the text's box over solids: a leader, each ring farther out, standing
where the text had better not; and how much more a post or a footing counts than a plain solid."""

RINGS = 60
"""On how many rings round its target a text looks for room."""

TURNS = np.array(
    [(math.cos(a), math.sin(a)) for a in (math.tau * (turn / 24 + 1 / 16) for turn in range(24))]
)
"""Directions in which it looks on each ring."""


@dataclass
class Ground:
    """What is on the sheet: texts (never to be covered), leaders, and what is better left clear."""

    texts: list[Box] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    solids: list[Box] = field(default_factory=list)
    heavy: list[Box] = field(default_factory=list)

    def free(self, box: Box) -> bool:
        """Tell whether a text may stand in the box."""
        left, bottom, right, top = box
        # Spelled out, for this is asked some tens of thousands of times while a level is dragged.
        for x0, y0, x1, y1 in self.texts:
            if left < x1 and x0 < right and bottom < y1 and y0 < top:
                return False
        return self.clear_of_leaders(box)

    def clear_of_leaders(self, box: Box) -> bool:
        """Tell whether no leader runs through the box."""
        left, bottom, right, top = box
        for line in self.lines:
            (xa, ya), (xb, yb) = line
            if (xa >= right and xb >= right) or (xa <= left and xb <= left):
                continue
            if (ya >= top and yb >= top) or (ya <= bottom and yb <= bottom):
                continue
            if crosses(line, box):
                return False
        return True

    def covered(self, box: Box) -> float:
        """Return the share [1] of the box that lies on solids, each counted for itself, heavy ones more."""
        left, bottom, right, top = box
        total = 0.0
        for weight, solids in ((1.0, self.solids), (HEAVY, self.heavy)):
            for x0, y0, x1, y1 in solids:
                if left < x1 and x0 < right and bottom < y1 and y0 < top:
                    total += weight * (min(right, x1) - max(left, x0)) * (min(top, y1) - max(bottom, y0))
        return total / (box.width * box.height or 1.0)

    def leader_free(self, line: Line) -> bool:
        """Tell whether a leader may run here: over no text, across no other leader.

        A text that already stands over the target cannot be helped.
        """
        (x0, y0), (x, y) = line
        low, high, bottom, top = min(x0, x), max(x0, x), min(y0, y), max(y0, y)
        # Spelled out, for a crowded sheet asks this millions of times: most stand nowhere near.
        for box in self.texts:
            if box[0] > high or box[2] < low or box[1] > top or box[3] < bottom:
                continue
            if not (box.left <= x <= box.right and box.bottom <= y <= box.top) and crosses(line, box):
                return False
        for other in self.lines:
            (xa, ya), (xb, yb) = other
            if (xa > high and xb > high) or (xa < low and xb < low):
                continue
            if (ya > top and yb > top) or (ya < bottom and yb < bottom):
                continue
            if cross(line, other):
                return False
        return True


def place(wishes: Sequence[Wish], ground: Ground, gap: float) -> tuple[Label, ...]:
    """Give every text a place, the most urgent first; no two boxes meet.

    ground: what is there already, added to here; gap [in]: clear room between texts. A wished place that
    covers nothing is best; else the place that costs least, on a wished spot or on rings round the target
    with a leader.
    """
    placed: list[Label] = []
    for wish in sorted(wishes, key=lambda w: -w.urgency):
        found, cost = _beside(wish, ground, gap)
        if wish.needed and cost > LEADER:
            found = _away(wish, ground, gap, cost) or found
        if found is not None:
            placed.append(found)
            ground.texts.append(found.box.grown(gap / 2))
            ground.lines += list(pairwise(found.leader))
    return tuple(placed)


def _label(wish: Wish, at: Point, leader: tuple[Point, ...] = ()) -> Label:
    return Label(wish.text, at, wish.height, wish.role, wish.mark, wish.angle, wish.plate, leader)


def _beside(wish: Wish, ground: Ground, gap: float) -> tuple[Label | None, float]:
    """Return the wished place that costs least, earlier ones being cheaper, with its cost."""
    best, least = None, math.inf
    for rank, at in enumerate(wish.places):
        box = text_box(wish.text, at, wish.height, wish.angle).grown(gap / 2)
        if not ground.free(box):
            continue
        covered = ground.covered(box)
        if not covered:
            return _label(wish, at), 0.0
        if covered + 0.02 * rank < least:
            best, least = _label(wish, at), covered + 0.02 * rank
    return best, least


def _away(wish: Wish, ground: Ground, gap: float, beaten: float) -> Label | None:
    """Search outward ring by ring for a place with a leader that costs less than what there is.

    The sheet has no edge here, so some ring is free. Where no leader gets through on any of them, the first
    free place is taken all the same: a text that is needed is never lost.
    """
    size = text_box(wish.text, (0.0, 0.0), wish.height, wish.angle)
    start = math.hypot(size.width, size.height) / 2 + wish.height
    wide, high = (size.width + gap) / 2, (size.height + gap) / 2
    texts = np.array(ground.texts, dtype=float).reshape(-1, 4)
    best = last = None
    for ring in range(RINGS):
        toll = LEADER + RING * ring
        if toll >= beaten:
            return best
        radius = start + ring * wish.height
        spots = np.asarray(wish.target) + radius * TURNS
        half = np.array((wide, high))
        boxes = np.hstack((spots - half, spots + half))
        clear = _clear(boxes, texts)
        for spot, edges in zip(spots[clear].tolist(), boxes[clear].tolist(), strict=True):
            at, box = (spot[0], spot[1]), Box(*edges)
            if not ground.clear_of_leaders(box):
                continue
            cost = toll + ground.covered(box) + (SHUNNED if any(box.meets(one) for one in wish.shun) else 0.0)
            if cost >= beaten and last:
                continue
            leader = _leader(box, wish.target)
            if not ground.leader_free(leader):
                last = last or _label(wish, at, leader)
                continue
            if cost < beaten:
                best, beaten = _label(wish, at, leader), cost
    return best or last


def _clear(boxes: NDArray[np.float64], texts: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Tell which of some boxes, one a row, meet none of some texts: a whole ring of them is asked at once."""
    left, bottom, right, top = (boxes[:, None, side] for side in range(4))
    meets = (left < texts[:, 2]) & (right > texts[:, 0]) & (bottom < texts[:, 3]) & (top > texts[:, 1])
    free: NDArray[np.bool_] = np.logical_not(np.any(meets, axis=1))
    return free


def _leader(box: Box, target: Point) -> tuple[Point, Point]:
    """Run a leader from the nearest side's middle or corner of a text's box to the target."""
    x = min(box.right, max(box.left, target[0]))
    y = min(box.top, max(box.bottom, target[1]))
    return ((x, y), target)


def overlaps(boxes: Sequence[tuple[str, Box]]) -> list[tuple[str, str]]:
    """Return every pair of texts whose boxes meet: the test of a drawing."""
    shrunk = [(text, box.grown(-1e-6)) for text, box in boxes]
    return [
        (a, b) for i, (a, first) in enumerate(shrunk) for b, second in shrunk[i + 1 :] if first.meets(second)
    ]


def spread(values: Sequence[float], apart: float) -> list[float]:
    """Move values [in] apart to at least a distance [in], as little as need be, in their order.

    >>> spread([10.0, 9.0, 0.0], 4.0)
    [11.5, 7.5, 0.0]
    """
    order = sorted(range(len(values)), key=lambda i: -values[i])
    groups: list[tuple[float, list[int]]] = []  # middle of each group of touching texts, from the top
    for i in order:
        groups.append((values[i], [i]))
        while len(groups) > 1:
            (upper, above), (lower, below) = groups[-2:]
            if upper - lower >= apart * (len(above) + len(below)) / 2 - 1e-9:
                break
            members = above + below
            groups[-2:] = [(sum(values[k] for k in members) / len(members), members)]
    moved = list(values)
    for centre, members in groups:
        for rank, i in enumerate(members):
            moved[i] = centre + apart * ((len(members) - 1) / 2 - rank)
    return moved
