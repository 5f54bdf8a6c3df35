"""What the fixings of a box step can take: screws into the rim, angles screwed into blocking."""

from __future__ import annotations

from deckplan.engineering.answers import Capacity
from deckplan.engineering.dowels import Joint, lag_screw, lateral_value, wood_screw
from deckplan.engineering.fasteners import (
    adjust_connection,
    wet_connection_factor,
    wet_withdrawal_factor,
    withdrawal_value,
)
from deckplan.levels.box_steps import PLY

SCREW_DIAMETER, SCREW_LENGTH = 0.25, 3.0
"""The structural screw that is meant [in]: counted as a lag screw of that size, which it is not weaker than."""

ANGLE_SCREW = (10, 2.5)
"""Gauge and length [in] of the wood screws through an angle and the boards into the blocking."""
ANGLE_SCREWS = 2


def screw_capacity(G: float) -> Capacity:
    """Return what one screw through the back of a box into a rim can take [lb], outwards or sideways, outdoors.

    G [1]: specific gravity of both pieces, each 1-1/2 in thick. The lesser of withdrawal (the box pulled off the rim)
    and lateral load (the box pushed along it), wet, no increase for duration.

    Source: NDS 2018 12.2.1, 12.3.1, Tables 11.3.1 and 11.3.3.
    """
    screw = lag_screw(SCREW_DIAMETER, SCREW_LENGTH)
    out = withdrawal_value(screw, G, SCREW_LENGTH - PLY)
    out = adjust_connection(out, wet=wet_withdrawal_factor(screw, changing=True), withdrawal=True)
    joint = Joint(main=PLY, side=PLY, main_gravity=G, side_gravity=G)
    along = adjust_connection(lateral_value(screw, joint), wet=wet_connection_factor(screw, "wet"))
    return min(out, along, key=lambda capacity: capacity.value)


def angle_capacity(G: float, board: float) -> Capacity:
    """Return what the screws of one angle hold down [lb]: through the boards into the blocking, outdoors.

    G [1]: specific gravity of the blocking; board [in]: thickness that the screws pass first. The angle itself is
    named by its required capacity.

    Source: NDS 2018 12.2.2, Table 11.3.3.
    """
    screw = wood_screw(*ANGLE_SCREW)
    one = withdrawal_value(screw, G, screw.length - board)
    one = adjust_connection(one, wet=wet_withdrawal_factor(screw, changing=True), withdrawal=True)
    return Capacity(one.value * ANGLE_SCREWS, "lb", one.steps)
