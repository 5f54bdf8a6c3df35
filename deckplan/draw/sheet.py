"""Sheets and scales: how large a drawing may be on paper, and which of the usual scales it then takes."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.draw.scene import Box, box_of
from deckplan.plan.model import Plan
from deckplan.units import Units


@dataclass(frozen=True, slots=True)
class Sheet:
    """The room for one drawing.

    width, height [in of paper]: the most that it may take; lettering [in of paper]: height of ordinary
    letters; to_scale: one of the usual scales is taken, else the drawing fills the room; full: every
    dimension and every mark is wanted, else only those that matter on a small screen.
    """

    name: str
    width: float
    height: float
    lettering: float
    to_scale: bool = True
    full: bool = True


TABLOID = Sheet("11 x 17", 16.0, 10.0, 0.1)
A3 = Sheet("A3", 15.7, 10.9, 0.1)
ARCH_C = Sheet("18 x 24", 22.5, 16.5, 0.1)
A2 = Sheet("A2", 22.4, 15.5, 0.1)
ARCH_D = Sheet("24 x 36", 34.5, 22.5, 0.1)
A1 = Sheet("A1", 32.1, 22.4, 0.1)
LETTER = Sheet("letter", 10.0, 7.5, 0.09)
A4 = Sheet("A4", 10.9, 7.5, 0.09)
SCREEN = Sheet("screen", 9.5, 7.5, 0.125, to_scale=False)
WALL_SCREEN = Sheet("projector", 8.0, 5.0, 0.14, to_scale=False, full=False)
PHONE = Sheet("phone", 4.2, 6.5, 0.115, to_scale=False, full=False)

# Model inches to an inch of paper, as drawn in the trade (common practice): 1 in, 3/4, 1/2 ... = 1 ft, then
# engineers'.
US_SCALES: tuple[tuple[float, str], ...] = (
    (4.0, "3 in = 1 ft"), (8.0, "1 1/2 in = 1 ft"), (12.0, "1 in = 1 ft"), (16.0, "3/4 in = 1 ft"),
    (24.0, "1/2 in = 1 ft"), (32.0, "3/8 in = 1 ft"), (48.0, "1/4 in = 1 ft"), (64.0, "3/16 in = 1 ft"),
    (96.0, "1/8 in = 1 ft"), (192.0, "1/16 in = 1 ft"), (240.0, "1 in = 20 ft"), (360.0, "1 in = 30 ft"),
    (480.0, "1 in = 40 ft"), (600.0, "1 in = 50 ft"), (1200.0, "1 in = 100 ft"), (2400.0, "1 in = 200 ft"),
    (4800.0, "1 in = 400 ft"),
)  # fmt: skip
METRIC_SCALES: tuple[tuple[float, str], ...] = tuple(
    (float(n), f"1:{n}") for n in (5, 10, 20, 25, 50, 75, 100, 200, 250, 500, 1000, 2000, 5000)
)


@dataclass(frozen=True, slots=True)
class Room:
    """Room kept free round what is drawn, in letter heights: for dimensions, texts and the title below."""

    left: float = 4.0
    right: float = 4.0
    above: float = 4.0
    below: float = 9.0


USUAL = {"us": (TABLOID, ARCH_C, ARCH_D), "metric": (A3, A2, A1)}
"""Sheets that a set of drawings is printed on, the handiest first."""

LARGEST = {"us": 48.0, "metric": 50.0}
"""Scale that a framing plan is read at on a site: 1/4 in = 1 ft, 1:50 (common practice)."""

ROUND_DECK = Room(11.0, 9.0, 11.0, 10.0)
"""What stands round the platforms on their framing plan: chains of dimensions, flights, the title."""


def usual_sheet(plan: Plan) -> Sheet:
    """Return the smallest usual sheet that shows the plan's platforms at the scale of a framing plan, else the largest.

    >>> usual_sheet(Plan()).name
    '11 x 17'
    """
    corners = [corner for platform in plan.platforms for corner in platform.outline]
    deck = box_of(corners or [(0.0, 0.0)])
    sheets = USUAL[plan.units]
    fits = (
        one for one in sheets if choose_scale(deck, ROUND_DECK, one, plan.units)[0] <= LARGEST[plan.units]
    )
    return next(fits, sheets[-1])


LEAST = 0.5
"""What is left of a sheet for the drawing itself, however much stands round it [in of paper]."""


def choose_scale(box: Box, room: Room, sheet: Sheet, units: Units) -> tuple[float, str]:
    """Return a scale [model inches to an inch of paper] and its name, the largest that fits.

    box [in]: what is drawn; room: what else has to go round it.

    >>> choose_scale(Box(0, 0, 600, 300), Room(), TABLOID, "us")
    (48.0, 'Scale 1/4 in = 1 ft')
    """
    wide = max(LEAST, sheet.width - (room.left + room.right) * sheet.lettering)
    high = max(LEAST, sheet.height - (room.above + room.below) * sheet.lettering)
    least = max(box.width / wide, box.height / high, 1e-3)
    if sheet.to_scale:
        scales = US_SCALES if units == "us" else METRIC_SCALES
        for scale, text in scales:
            if scale >= least:
                return scale, f"Scale {text}"
    return least, "Scale by the bar"
