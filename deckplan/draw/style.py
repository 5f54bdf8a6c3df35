"""How each role looks: line weight, dash, grey, hatch. Every role reads without colour; colour is a second
voice.

Weights and dashes are points on paper (1/72 in). Greys run from 0 (black) to 1 (paper). The look is our own:
a quiet ground, wood in warm greys by strength of duty (joist light, beam dark), cut wood with a grain hatch,
one accent.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from deckplan.draw.scene import Role

Hatch = Literal["", "slant", "grain", "cross", "earth", "speckle"]

INK = "#1c1b19"
PAPER = "#ffffff"
ACCENT = "#b3261e"
POINT = 1 / 72
"""One point [in]."""


@dataclass(frozen=True, slots=True)
class Pen:
    """The look of one role.

    weight [points], 0 for no line; line, fill: grey 0 to 1, fill below 0 never, `filled` tells whether there
    is one; dash [points]: on, off, ...; tint: a colour that replaces the grey of the line on a screen, of the
    same darkness.
    """

    weight: float
    line: float = 0.0
    filled: bool = False
    fill: float = 1.0
    dash: tuple[float, ...] = ()
    hatch: Hatch = ""
    tint: str = ""


def grey(value: float) -> str:
    """Return a grey (0 black, 1 white) as a hexadecimal colour, a shade warm so that wood looks like wood.

    >>> grey(0.0), grey(1.0)
    ('#000000', '#ffffff')
    """
    red = round(255 * value)
    blue = round(255 * (value - 0.035 * 4 * value * (1 - value)))
    return f"#{red:02x}{(red + blue + 1) // 2:02x}{blue:02x}"


PENS: dict[Role, Pen] = {
    Role.GROUND: Pen(1.5, 0.0),
    Role.EARTH: Pen(0.0, 0.45, True, 1.0, hatch="earth"),
    Role.FLOOR: Pen(1.2, 0.1, True, 0.86, hatch="cross"),
    Role.LAWN: Pen(0.4, 0.65, True, 0.955),
    Role.HOUSE: Pen(0.5, 0.5, True, 0.985),
    Role.WALL: Pen(1.6, 0.05, True, 0.9, hatch="slant"),
    Role.SURFACE: Pen(0.0, 0.0, True, 0.965),
    Role.PLATFORM: Pen(1.3, 0.1, True, 0.95),
    Role.KEEP_HEAT_OUT: Pen(0.5, 0.55, True, 0.97, (3, 2), hatch="cross"),
    Role.KEEP_SEATS_OUT: Pen(0.4, 0.5, True, 1.0, hatch="slant"),
    Role.WAY: Pen(0.0, 0.6, True, 0.87),
    Role.NEAR_GROUND: Pen(0.0, 0.6, True, 0.93, hatch="slant"),
    Role.FOOTING: Pen(0.7, 0.3, True, 0.9, (3, 1.6)),
    Role.CONCRETE: Pen(0.9, 0.15, True, 0.93, hatch="speckle"),
    Role.BREAK: Pen(0.0, 0.0, True, 1.0),
    Role.POST_BEYOND: Pen(0.45, 0.5, True, 0.94),
    Role.TONGUE: Pen(0.5, 0.4, True, 0.96),
    Role.BEAM_BEYOND: Pen(0.55, 0.45, True, 0.86),
    Role.EDGE_BEYOND: Pen(0.4, 0.55, True, 0.975),
    Role.JOIST: Pen(0.4, 0.25, True, 1.0),
    Role.BLOCKING: Pen(0.4, 0.2, True, 0.72),
    Role.RIM: Pen(0.8, 0.1, True, 0.82),
    Role.LEDGER: Pen(1.0, 0.0, True, 0.6),
    Role.HEADER: Pen(0.7, 0.1, True, 0.76),
    Role.BEAM: Pen(1.0, 0.0, True, 0.68),
    Role.ABOVE_GROUND: Pen(0.4, 0.4, True, 1.0),
    Role.GROUND_CONTACT: Pen(1.0, 0.0, True, 0.0),
    Role.BEAM_BELOW: Pen(1.15, 0.0, dash=(5, 2)),
    Role.BRACE: Pen(0.6, 0.2, True, 0.97, (2, 1)),
    Role.BOARD: Pen(0.3, 0.45, True, 0.98),
    Role.BORDER_BOARD: Pen(0.45, 0.2, True, 0.86),
    Role.BREAKER: Pen(0.45, 0.2, True, 0.8),
    Role.WOOD_BELOW: Pen(0.4, 0.5, dash=(4, 3)),
    Role.WOOD_NEEDED: Pen(0.5, 0.1, True, 0.66),
    Role.STRINGER: Pen(0.6, 0.1, True, 0.9),
    Role.STEP: Pen(0.6, 0.0, True, 0.94),
    Role.TREAD: Pen(0.65, 0.15, True, 0.99),
    Role.POST: Pen(0.6, 0.0, True, 0.15),
    Role.POST_ON_FRAME: Pen(0.6, 0.1, True, 1.0),
    Role.LEVEL_ABOVE: Pen(1.1, 0.1, dash=(7, 2.5)),
    Role.CLEARANCE: Pen(0.6, 0.3, dash=(4, 2)),
    Role.OPEN_EDGE: Pen(1.6, 0.3, dash=(6, 3)),
    Role.SEAT: Pen(0.5, 0.2, True, 1.0),
    Role.FURNITURE: Pen(0.9, 0.05, True, 0.97),
    Role.CUT: Pen(1.5, 0.0, True, 1.0, hatch="grain"),
    Role.FIXING: Pen(1.7, 0.0),
    Role.GUARD: Pen(1.3, 0.15, dash=(0.8, 1.6)),
    Role.GUARD_NEEDED: Pen(3.2, 0.15, dash=(4, 1.2)),
    Role.RAILING: Pen(0.55, 0.2, True, 0.92),
    Role.BALUSTER: Pen(0.35, 0.4),
    Role.DOOR: Pen(0.8, 0.0, True, 1.0),
    Role.BOUNDARY: Pen(1.2, 0.1, dash=(9, 2, 1.5, 2, 1.5, 2)),
    Role.SETBACK: Pen(0.7, 0.35, dash=(6, 3)),
    Role.FROST: Pen(0.8, 0.2, dash=(8, 2, 2, 2)),
    Role.DATUM: Pen(0.35, 0.45, dash=(5, 2.5)),
    Role.SPOT: Pen(0.55, 0.25),
    Role.CUTTING: Pen(1.4, 0.0, dash=(10, 3, 2, 3)),
    Role.FLAG: Pen(2.2, 0.2, tint=ACCENT),
    Role.ARROW: Pen(0.75, 0.0, True, 0.0),
    Role.LEADER: Pen(0.5, 0.05, True, 1.0),
    Role.DIMENSION: Pen(0.35, 0.3),
    Role.LEVEL: Pen(0.7, 0.0, True, 0.05),
    Role.CELL_CLOSE: Pen(0.4, 0.55, True, 1.0),
    Role.CELL_NEAR: Pen(0.4, 0.55, True, 0.91),
    Role.CELL_WITHIN: Pen(0.4, 0.55, True, 0.8),
    Role.CELL_OVER: Pen(0.5, 0.45, True, 1.0, hatch="slant"),
    Role.CELL_KEPT: Pen(0.5, 0.45, True, 1.0, (2, 1.6)),
    Role.CELL_OFF: Pen(2.0, 0.0, True, 0.66),
    Role.SCHEDULE: Pen(0.5, 0.1),
    Role.MARK: Pen(0.0, 0.0),
    Role.NOTE: Pen(0.0, 0.12),
    Role.TITLE: Pen(0.9, 0.0),
    Role.NORTH: Pen(0.8, 0.05, True, 0.02),
    Role.SCALE: Pen(0.6, 0.0, True, 0.0, tint=""),
}
