"""The board that stringers hang on where the rim is too shallow: its screws into the rim, its bending, its splitting.

::

        rim       board
      +-----+  o  |--- o  upper row: takes its share of the load, and the pull that keeps the board from turning
      |     |     |       about its lower edge
      |     |  o  |--- o  lower row, an inch over the rim's lower edge
      +-----+     |
         z        |==== hanger below the rim: it would split the board along the lower row
                  |
"""

from __future__ import annotations

import math
from dataclasses import replace

from deckplan.engineering.answers import Capacity
from deckplan.engineering.bending import bending_capacity
from deckplan.engineering.dowels import Joint, lag_screw, lateral_value
from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.fasteners import (
    adjust_connection,
    combined_value,
    wet_connection_factor,
    wet_withdrawal_factor,
    withdrawal_value,
)
from deckplan.engineering.lumber import design_values, read_size
from deckplan.layout.model import Member
from deckplan.levels.box_fixings import SCREW_DIAMETER, SCREW_LENGTH
from deckplan.levels.box_steps import EDGE, PLY
from deckplan.levels.stringer_ends import SEAT, EndForce
from deckplan.plan.model import Plan
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, Verdict, at_most

SCREWS_AT_ONE = (2, 4, 6, 8)
"""Screws beside one stringer that are tried, half of them in each row."""

STATICS = Source("statics", "", "derived")
SCREWED = Source("NDS 2018", "12.2, 12.3, 12.4", "two published copies")
BENDING = Source("NDS 2018", "3.3", "two published copies")
SPLITTING = Source("NDS 2018", "3.4.3.3", "from memory")

BLOCKS = "required: blocks"
"""How a hanger board's check begins where screws alone would split it."""

SCREW_RULE = "screws of the hanger board"
BOARD_RULE = "hanger board in bending"
SPLIT_RULE = "hanger board at its lower screws"


def check_hanger_board(
    plan: Plan, board: Member, rim: Member, apart: float, force: EndForce
) -> tuple[int, tuple[Check, ...]]:
    """Return the screws that a hanger board takes beside each stringer, and its checks.

    rim: the piece behind it; apart [in]: between stringers; force: on one of them.
    """
    count, screwed = _screws(plan, board, rim, force)
    return count, (screwed, _bends(plan, board, apart, force), _splits(plan, board, rim, force))


def _screws(plan: Plan, board: Member, rim: Member, force: EndForce) -> tuple[int, Check]:
    """Check one stringer's screws, each under its share of the load and the upper ones under the pull as well."""
    G = design_values(plan.materials.species, plan.materials.grade, board.size).G
    screw = lag_screw(SCREW_DIAMETER, SCREW_LENGTH)
    out = withdrawal_value(screw, G, SCREW_LENGTH - PLY)
    out = adjust_connection(out, wet=wet_withdrawal_factor(screw, changing=True), withdrawal=True)
    joint = Joint(main=PLY, side=PLY, main_gravity=G, side_gravity=G, main_angle=90.0, side_angle=90.0)
    down = adjust_connection(lateral_value(screw, joint), wet=wet_connection_factor(screw, "wet"))
    tried = [(count, _in_use(plan, board, rim, force, out, down, count)) for count in SCREWS_AT_ONE]
    return next((pair for pair in tried if pair[1].verdict is Verdict.PASS), tried[-1])


def _in_use(
    plan: Plan, board: Member, rim: Member, force: EndForce, out: Capacity, down: Capacity, count: int
) -> Check:
    lever = min(board.top, rim.top) - max(board.bottom, rim.bottom) - EDGE
    off = PLY + SEAT / 2
    along, pull = force.value / count, force.value * off / lever / (count / 2)
    asked = (along**2 + pull**2) ** 0.5
    angle = math.degrees(math.atan2(pull, along))
    holds = combined_value(out.value, down.value, angle, "screw")
    steps = (
        *force.steps,
        Step("V", f"on each of {count} screws beside one stringer", "R / n", f"{force.value:.4g} / {count}", along,
             "lb", STATICS),
        Step("T", "pull on each upper screw: the hanger's seat stands off the rim, the board turns about its edge",
             "R e / z / (n/2)", f"{force.value:.4g} × {off:g} / {lever:.4g} / {count // 2}", pull, "lb", STATICS),
        *out.steps,
        *down.steps,
        Step("α", "angle of both together, 0 along the board", "atan(T / V)", f"atan({pull:.4g} / {along:.4g})", angle,
             "degrees", STATICS),
        Step("Zα'", "one screw under both", "W'p Z' / (W'p cos² α + Z' sin² α)",
             f"{out.value:.4g} × {down.value:.4g} / ({out.value:.4g} cos² α + {down.value:.4g} sin² α)", holds, "lb",
             SCREWED),
    )  # fmt: skip
    few = f"{count} screws beside each stringer do not hold {board.mark} to {rim.mark}: hang the stair on a deeper rim"
    check = at_most(
        board.mark, SCREW_RULE, SCREWED, asked, holds, "lb", steps, combination=force.combination, reason=few
    )
    if check.verdict is Verdict.PASS:
        thick, long, edge = (format_short(each, plan.units) for each in (SCREW_DIAMETER, SCREW_LENGTH, EDGE))
        said = (
            f"required: {count} structural screws, {thick} x {long}, beside each stringer hold {board.mark} to "
            f"{rim.mark}, half of them in each of two rows {edge} from the rim's edges"
        )
        check = replace(check, reason=said)
    return check


def _bends(plan: Plan, board: Member, apart: float, force: EndForce) -> Check:
    """Check the board in bending as if one stringer's own screws had worked loose: those of its neighbours hold it."""
    size = read_size(board.size)
    values = design_values(plan.materials.species, plan.materials.grade, size)
    capacity = bending_capacity(adjusted(values, size, Service(incised=plan.materials.incised)), size)
    moment = force.value * apart / 2
    lines = (
        *force.steps,
        Step("M", "between the screws of the stringers on both sides", "R (2 s) / 4",
             f"{force.value:.4g} × 2 × {apart:.4g} / 4", moment, "lb in", STATICS),
        *capacity.steps,
    )  # fmt: skip
    return at_most(
        board.mark, BOARD_RULE, BENDING, moment, capacity.value, "lb in", lines, combination=force.combination
    )


def _splits(plan: Plan, board: Member, rim: Member, force: EndForce) -> Check:
    """Say whether the board hangs on its screws alone, or wants blocks behind its lower edge.

    Only the wood between its upper edge and the lower row of screws carries shear there, less so the deeper the board
    reaches below.
    """
    size = read_size(board.size)
    values = design_values(plan.materials.species, plan.materials.grade, size)
    allowed = adjusted(values, size, Service(incised=plan.materials.incised))
    effective = board.top - max(board.bottom, rim.bottom) - EDGE
    holds = 2 / 3 * allowed.Fv * board.width * effective * (effective / size.depth) ** 2
    shear = force.value / 2
    steps = (
        *force.steps,
        Step("V", "on each side of a stringer", "R / 2", f"{force.value:.4g} / 2", shear, "lb", STATICS),
        Step("de", "from the upper edge to the lower screws", "", "", effective, "in", STATICS),
        allowed.steps["Fv"],
        Step("V'", "shear allowed at screws near an end", "2/3 Fv' b de (de/d)²",
             f"2/3 × {allowed.Fv:.5g} × {board.width:g} × {effective:.4g} × ({effective:.4g}/{size.depth:g})²", holds,
             "lb", SPLITTING),
    )  # fmt: skip
    if shear <= holds:
        return at_most(
            board.mark, SPLIT_RULE, SPLITTING, shear, holds, "lb", steps, combination=force.combination
        )
    reason = (
        f"{BLOCKS} behind {board.mark} below {rim.mark}, one at each stringer, fastened to joist and board, "
        f"hold its lower edge for {force.value:.0f} lb: screws into the rim alone would split it"
    )
    return Check(
        board.mark,
        SPLIT_RULE,
        SPLITTING,
        force.value,
        None,
        "lb",
        Verdict.PASS,
        steps,
        False,
        force.combination,
        reason,
    )
