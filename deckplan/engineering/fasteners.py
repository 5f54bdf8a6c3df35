"""Fasteners in a joint: withdrawal, pull-through, combined load, groups, geometry, service.

Lateral values of one fastener come from `dowels`. Lengths [in], loads [lb].
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from deckplan.engineering.answers import Capacity, step
from deckplan.engineering.dowels import Dowel
from deckplan.engineering.factors import root
from deckplan.errors import RangeError
from deckplan.verdict import Step

CONNECTION_DURATION = 1.6  # most C_D for connections, NDS 2018 11.3.2
GROUP_FROM = 0.25  # [in] C_g and C_delta count from this diameter on, NDS 2018 11.3.6, 12.5.1


def lag_withdrawal(G: float, diameter: float) -> float:
    """Return W = 1800 G^1.5 D^0.75 [lb/in] per inch of thread in side grain. G [1]; diameter [in].

    Empirical: in, lb. Source: NDS 2018 Equation 12.2-1.

    >>> round(lag_withdrawal(0.42, 0.375))
    235
    """
    strength: float = 1800.0 * G**1.5 * diameter**0.75
    return strength


def screw_withdrawal(G: float, diameter: float) -> float:
    """Return W = 2850 G2 D [lb/in] per inch of thread of a wood screw in side grain. G [1]; diameter [in].

    Empirical: in, lb. Source: NDS 2018 Equation 12.2-2.

    >>> round(screw_withdrawal(0.42, 0.164))
    82
    """
    return 2850.0 * G**2 * diameter


def nail_withdrawal(G: float, diameter: float) -> float:
    """Return W = 1380 G^2.5 D [lb/in] per inch of a smooth nail in side grain. G [1]; diameter [in].

    Empirical: in, lb. Source: NDS 2018 Equation 12.2-3.

    >>> round(nail_withdrawal(0.5, 0.148))
    36
    """
    strength: float = 1380.0 * G**2.5 * diameter
    return strength


def pull_through(G: float, head: float, thickness: float) -> float:
    """Return WH [lb], the load that pulls a round head through the side member.

    G [1]: of the side member; head [in]: diameter DH; thickness [in]: of the side member. 690 pi DH G2 t up to
    t = 2.5 DH, 1725 pi DH2 G2 beyond. Empirical: in, lb.
    Source: NDS 2018 12.2.5 (Equations 12.2-6a and 12.2-6b).

    >>> round(pull_through(0.5, 0.312, 0.75))
    127
    """
    if thickness <= 2.5 * head:
        return 690.0 * math.pi * head * G**2 * thickness
    return 1725.0 * math.pi * head**2 * G**2


def withdrawal_value(dowel: Dowel, G: float, depth: float, *, threaded: float | None = None) -> Capacity:
    """Return the reference withdrawal value [lb] of a screw or nail from the side grain of its main member.

    G [1]; depth [in]: penetration in the main member; threaded [in]: length of thread there, two thirds of the
    screw's length but not over the penetration unless said; a lag's tip does not count.
    Raises RangeError for bolts (their withdrawal is their washer's matter).

    Source: NDS 2018 12.2.1 to 12.2.3.
    """
    if dowel.kind == "bolt":
        raise RangeError("a bolt is held by its washer, not by its thread")
    if dowel.kind == "nail":
        per_inch, counted, clause = nail_withdrawal(G, dowel.diameter), depth, "12.2.3"
    else:
        thread = min(2 / 3 * dowel.length if threaded is None else threaded, depth)
        lag = dowel.kind == "lag"
        per_inch = lag_withdrawal(G, dowel.diameter) if lag else screw_withdrawal(G, dowel.diameter)
        counted, clause = (thread - dowel.tip, "12.2.1") if lag else (thread, "12.2.2")
    if counted <= 0:
        raise RangeError(f"a {dowel.name} has no thread in the main member")
    value = per_inch * counted
    steps = (
        step(
            "W",
            f"withdrawal of a {dowel.name} per inch",
            f"Equation of {clause}",
            f"G {G:g}, D {dowel.diameter:g}",
            per_inch,
            "lb/in",
            clause,
        ),
        step("W p", "withdrawal value", "W × length", f"{per_inch:.4g} × {counted:.4g}", value, "lb", clause),
    )
    return Capacity(value, "lb", steps)


def combined_value(withdrawal: float, lateral: float, angle: float, kind: Literal["screw", "nail"]) -> float:
    """Return Z_alpha' [lb] of a fastener loaded at an angle to the wood's surface.

    withdrawal, lateral [lb]: W' p and Z'; angle [degrees]: 0 along the surface, 90 straight out.
    Lags and screws W'pZ' / (W'p cos2 + Z' sin2); nails W'pZ' / (W'p cos + Z' sin).

    Source: NDS 2018 Equations 12.4-1 and 12.4-2.
    """
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    if kind == "screw":
        c, s = c * c, s * s
    return withdrawal * lateral / (withdrawal * c + lateral * s)


def group_factor(
    count: int,
    spacing: float,
    diameter: float,
    main: tuple[float, float],
    side: tuple[float, float],
    metal: bool = False,
) -> float:
    """Return C_g [1] of a row of fasteners in the direction of the load; 1 under 1/4 in.

    count: in the row; spacing [in]; diameter [in]; main, side: cross-section [in2] and E [psi] of each member;
    metal: steel side plates. Source: NDS 2018 Equation 11.3-1.

    >>> E = 1.4e6
    >>> round(group_factor(8, 4.0, 1.0, (10.0, E), (5.0, E)), 2)
    0.55
    """
    if count <= 1 or diameter < GROUP_FROM:
        return 1.0
    stiff_main, stiff_side = main[0] * main[1], side[0] * side[1]
    ratio = min(stiff_main / stiff_side, stiff_side / stiff_main)
    slip = (270000.0 if metal else 180000.0) * diameter**1.5
    u = 1 + slip * spacing / 2 * (1 / stiff_main + 1 / stiff_side)
    m = u - root(u * u - 1)
    n = count
    top = m * (1 - m ** (2 * n))
    bottom = n * ((1 + ratio * m**n) * (1 + m) - 1 + m ** (2 * n))
    factor: float = top / bottom * (1 + ratio) / (1 - m)
    return factor


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a fastener of 1/4 in and more sits [in]; distances from its centre.

    end, edge: to the member's end and nearest edge; loaded_edge: to the edge the load pushes towards; spacing:
    to the next in the row; rows: between rows. load: "parallel in tension", "parallel in compression" or
    "perpendicular" to the grain.
    """

    end: float
    edge: float
    loaded_edge: float
    spacing: float
    rows: float
    load: Literal["parallel in tension", "parallel in compression", "perpendicular"]


def geometry_factor(diameter: float, placement: Placement) -> tuple[float, tuple[str, ...]]:
    """Return C_delta [1] of a fastener's placement, and what falls short of the least distances.

    diameter [in]. Between the distances for the full and the least value C_delta is their share; below the
    least, or with edge or row distances too small, the placement is not allowed: the reasons are returned.
    Softwood. Source: NDS 2018 12.5.1, Tables 12.5.1A to 12.5.1D.

    >>> geometry_factor(0.5, Placement(2.0, 2.0, 2.0, 4.0, 2.0, "perpendicular"))
    (1.0, ())
    """
    if diameter < GROUP_FROM:
        return 1.0, ()
    D = diameter
    full_end, least_end = (7.0, 3.5) if placement.load == "parallel in tension" else (4.0, 2.0)
    faults = []
    factor = 1.0
    for words, there, full, least in (
        ("end distance", placement.end, full_end * D, least_end * D),
        ("spacing in a row", placement.spacing, 4 * D, 3 * D),
    ):
        if there < least - 1e-9:
            faults.append(f"{words} {there:.4g} in is under {least:.4g} in")
        factor = min(factor, there / full)
    across = placement.load == "perpendicular"
    for words, there, least in (
        ("edge distance", placement.edge, 1.5 * D),
        ("loaded edge distance", placement.loaded_edge if across else 4 * D, 4 * D if across else 0.0),
        ("spacing of rows", placement.rows, 1.5 * D),
    ):
        if there < least - 1e-9:
            faults.append(f"{words} {there:.4g} in is under {least:.4g} in")
    return factor, tuple(faults)


def wet_connection_factor(
    dowel: Dowel, when: Literal["wet", "drying", "dry"], single_row: bool = True
) -> float:
    """Return C_M [1] on lateral loads: "wet" in service, "drying": fastened wet and dry in service, or "dry".

    single_row: one fastener, or one row along the grain, or separate splice plates for each row: then wood that
    dries costs nothing from 1/4 in diameter on. Source: NDS 2018 Table 11.3.3.
    """
    if when == "dry":
        return 1.0
    if when == "wet":
        return 0.7
    if dowel.diameter < GROUP_FROM:
        return 0.7
    return 1.0 if single_row else 0.4


def wet_withdrawal_factor(dowel: Dowel, changing: bool) -> float:
    """Return C_M [1] on withdrawal outdoors: screws 0.7; nails 0.25 where moisture changes, else 1.

    Source: NDS 2018 Table 11.3.3.
    """
    if dowel.kind == "nail":
        return 0.25 if changing else 1.0
    return 0.7


def adjust_connection(
    reference: Capacity,
    *,
    duration: float = 1.0,
    wet: float = 1.0,
    group: float = 1.0,
    geometry: float = 1.0,
    end_grain: bool = False,
    withdrawal: bool = False,
    toenailed: bool = False,
) -> Capacity:
    """Return Z' or W' [lb]: a reference value times the factors of its joint.

    duration [1]: C_D, at most 1.6 in connections; wet, group, geometry [1]: C_M, C_g, C_delta;
    end_grain: C_eg 0.67 lateral, 0.75 lag withdrawal; toenailed: C_tn 0.83 lateral, 0.67 withdrawal.
    Source: NDS 2018 Table 11.3.1.
    """
    factors = {"C_D": min(duration, CONNECTION_DURATION), "C_M": wet, "C_g": group, "C_Δ": geometry}
    factors["C_eg"] = (0.75 if withdrawal else 0.67) if end_grain else 1.0
    factors["C_tn"] = (0.67 if withdrawal else 0.83) if toenailed else 1.0
    active = {name: factor for name, factor in factors.items() if factor != 1.0}
    value = reference.value
    for factor in active.values():
        value *= factor
    symbol = "W" if withdrawal else "Z"
    numbers = " × ".join([f"{reference.value:.5g}", *(f"{factor:.4g}" for factor in active.values())])
    line = step(
        f"{symbol}'",
        "value in this joint",
        " × ".join([symbol, *active]),
        numbers,
        value,
        "lb",
        "Table 11.3.1",
    )
    steps: tuple[Step, ...] = (*reference.steps, line)
    return Capacity(value, "lb", steps)
