"""Lateral load on one dowel-type fastener: the yield-limit equations.

         side member   main member
        |     ls     |      lm      |
    Z <-|============|==============|     six ways to yield: wood crushes (I), fastener tips (II) or bends once
        |            |              |-> Z (III) or twice (IV); the least, over its reduction term, is the value

Solved in the general form with a gap g between the members (sheathing counts as a gap); with g = 0 the equations
are those of NDS 2018 Table 12.3.1A. Lengths [in], stresses [psi], loads [lb].
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from deckplan.engineering.answers import Capacity, step
from deckplan.engineering.factors import root
from deckplan.errors import RangeError
from deckplan.verdict import Step

Kind = Literal["bolt", "lag", "wood screw", "nail"]

STEEL_A36 = 87000.0  # Fe of a 1/4 in A36 side plate [psi], NDS 2018 Table 12.3.3 note (from memory)
STEEL_A653 = 61850.0  # Fe of A653 sheet steel [psi], NDS 2018 Table 12P note

# Bending yield strength of nails and wood screws up to a diameter [in, psi], NDS 2018 Table I1.
_FYB = (
    (0.142, 100000.0),
    (0.177, 90000.0),
    (0.236, 80000.0),
    (0.273, 70000.0),
    (0.344, 60000.0),
    (9.0, 45000.0),
)
_LAG_ROOTS = {  # nominal: root diameter Dr, tip length E [in], NDS 2018 Table L2 (from memory)
    0.25: (0.173, 0.15625),
    0.3125: (0.227, 0.1875),
    0.375: (0.265, 0.21875),
    0.4375: (0.328, 0.28125),
    0.5: (0.371, 0.3125),
    0.625: (0.471, 0.40625),
    0.75: (0.579, 0.5),
    0.875: (0.683, 0.59375),
    1.0: (0.780, 0.6875),
}
_SCREWS = {  # gauge: nominal, root diameter [in], NDS 2018 Table L3 (from memory)
    6: (0.138, 0.113),
    7: (0.151, 0.122),
    8: (0.164, 0.131),
    9: (0.177, 0.142),
    10: (0.190, 0.152),
    12: (0.216, 0.171),
    14: (0.242, 0.196),
    16: (0.268, 0.209),
    18: (0.294, 0.232),
    20: (0.320, 0.255),
    24: (0.372, 0.298),
}
_NAILS = {  # common, box and sinker nails: diameter, length [in], NDS 2018 Table L4 (from memory)
    "6d common": (0.113, 2.0), "8d common": (0.131, 2.5), "10d common": (0.148, 3.0), "12d common": (0.148, 3.25),
    "16d common": (0.162, 3.5), "20d common": (0.192, 4.0), "30d common": (0.207, 4.5), "40d common": (0.225, 5.0),
    "50d common": (0.244, 5.5), "60d common": (0.263, 6.0),
    "6d box": (0.099, 2.0), "8d box": (0.113, 2.5), "10d box": (0.128, 3.0), "12d box": (0.128, 3.25),
    "16d box": (0.135, 3.5), "20d box": (0.148, 4.0),
    "6d sinker": (0.092, 1.875), "8d sinker": (0.113, 2.375), "10d sinker": (0.120, 2.875),
    "12d sinker": (0.135, 3.125), "16d sinker": (0.148, 3.25), "20d sinker": (0.177, 3.75),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Dowel:
    """A bolt, lag screw, wood screw or nail.

    diameter [in]: nominal, for the wood's bearing strength; bending_diameter [in]: root of the thread for lags
    and wood screws, for the yield equations; Fyb [psi]: bending yield strength; length [in]: whole, 0 for a
    bolt; tip [in]: tapered point.
    """

    kind: Kind
    name: str
    diameter: float
    bending_diameter: float
    Fyb: float
    length: float
    tip: float


def bending_yield(diameter: float) -> float:
    """Return Fyb [psi] of nails and wood screws. diameter [in]: of the shank. Empirical table.

    Source: NDS 2018 Table I1.

    >>> bending_yield(0.148)
    90000.0
    """
    return next(strength for most, strength in _FYB if diameter <= most)


def bolt(diameter: float) -> Dowel:
    """Return a bolt of full body diameter [in]. Source: NDS 2018 Table I1 (Fyb 45,000 psi)."""
    return Dowel("bolt", f"{diameter:g} in bolt", diameter, diameter, 45000.0, 0.0, 0.0)


def lag_screw(diameter: float, length: float) -> Dowel:
    """Return a lag screw, threaded in the shear plane. diameter, length [in].

    Raises RangeError for other than the standard diameters. Source: NDS 2018 Tables I1, L2.
    """
    if diameter not in _LAG_ROOTS:
        raise RangeError(
            f"lag screws come in {', '.join(f'{each:g}' for each in _LAG_ROOTS)} in, not {diameter:g}"
        )
    inner, tip = _LAG_ROOTS[diameter]
    strength = 70000.0 if diameter <= 0.25 else 60000.0 if diameter <= 0.3125 else 45000.0
    return Dowel("lag", f"{diameter:g} x {length:g} in lag screw", diameter, inner, strength, length, tip)


def wood_screw(gauge: int, length: float) -> Dowel:
    """Return a wood screw by gauge number, threaded in the shear plane. length [in].

    Source: NDS 2018 Tables I1, L3; the tip counts two diameters.
    """
    if gauge not in _SCREWS:
        raise RangeError(
            f"wood screws come in gauges {', '.join(str(each) for each in _SCREWS)}, not {gauge}"
        )
    diameter, inner = _SCREWS[gauge]
    return Dowel(
        "wood screw",
        f"No. {gauge} x {length:g} in wood screw",
        diameter,
        inner,
        bending_yield(diameter),
        length,
        2 * diameter,
    )


def nail(diameter: float, length: float) -> Dowel:
    """Return a nail by shank diameter and length [in]. Source: NDS 2018 Table I1; tip of two diameters."""
    name = f"{diameter:g} x {length:g} in nail"
    return Dowel("nail", name, diameter, diameter, bending_yield(diameter), length, 2 * diameter)


def named_nail(name: str) -> Dowel:
    """Return a nail by pennyweight and kind: "10d common", "16d box", "10d sinker".

    Source: NDS 2018 Table L4 (from memory).

    >>> named_nail("10d common").diameter
    0.148
    """
    if name not in _NAILS:
        raise RangeError(f"nails known by name: {', '.join(_NAILS)}; not {name}")
    return nail(*_NAILS[name])


def bearing_parallel(G: float) -> float:
    """Return Fe parallel = 11200 G [psi] for D of 1/4 in and more. G [1].

    Empirical: psi. Source: NDS 2018 12.3.3.
    """
    return 11200.0 * G


def bearing_perpendicular(G: float, diameter: float) -> float:
    """Return Fe perpendicular = 6100 G^1.45 / sqrt(D) [psi]. G [1]; diameter [in]. Empirical: in, psi.

    Source: NDS 2018 12.3.3.
    """
    strength: float = 6100.0 * G**1.45 / root(diameter)
    return strength


def bearing_small(G: float) -> float:
    """Return Fe = 16600 G^1.84 [psi] for D under 1/4 in, in any direction. G [1].

    Empirical: psi. Source: NDS 2018 12.3.3.
    """
    strength: float = 16600.0 * G**1.84
    return strength


def at_angle(parallel: float, perpendicular: float, angle: float) -> float:
    """Return Hankinson's value [psi] between two strengths at an angle to the grain.

    parallel, perpendicular [psi]; angle [degrees].

    Source: NDS 2018 Equation 12.3-11.

    >>> at_angle(5600.0, 3150.0, 90.0)
    3150.0
    """
    if angle == 0:
        return parallel
    if angle == 90:
        return perpendicular
    from math import cos, radians, sin

    s, c = sin(radians(angle)) ** 2, cos(radians(angle)) ** 2
    return parallel * perpendicular / (parallel * s + perpendicular * c)


def bearing_strength(G: float, dowel: Dowel, angle: float = 0.0) -> float:
    """Return Fe [psi] of wood of specific gravity G [1] under a dowel at an angle [degrees] to the grain.

    Parallel and perpendicular values are rounded to 50 psi, as printed. Source: NDS 2018 Table 12.3.3.

    >>> bearing_strength(0.5, bolt(0.5), 90.0)
    3150.0
    """
    if dowel.diameter < 0.25:
        return _to_50(bearing_small(G))
    return at_angle(_to_50(bearing_parallel(G)), _to_50(bearing_perpendicular(G, dowel.diameter)), angle)


def _to_50(strength: float) -> float:
    return 50.0 * int(strength / 50.0 + 0.5)


def reduction_terms(dowel: Dowel, angle: float) -> dict[str, float]:
    """Return R_d [1] by yield mode; angle [degrees]: the largest to the grain in any member.

    Source: NDS 2018 Table 12.3.1B.
    """
    D, turned = dowel.bending_diameter, 1 + 0.25 * angle / 90
    if D >= 0.25:
        return {"I": 4 * turned, "II": 3.6 * turned, "III": 3.2 * turned, "IV": 3.2 * turned}
    small = 2.2 if D <= 0.17 else 10 * D + 0.5
    return dict.fromkeys(("I", "II", "III", "IV"), small * (turned if dowel.diameter >= 0.25 else 1.0))


def yield_loads(
    main: float, side: float, Fem: float, Fes: float, Fyb: float, D: float, gap: float, double: bool
) -> dict[str, float]:
    """Return the load [lb] at which each mode yields, before the reduction term.

    main, side [in]: lengths in bearing; Fem, Fes [psi]: bearing strengths; Fyb [psi]; D [in]: in bending;
    gap [in]: between the members; double: double shear (no modes II, IIIm; side member on both sides).
    With no gap: NDS 2018 Table 12.3.1A. Source: AWC Technical Report 12, general dowel equations.
    """
    qm, qs, moment = Fem * D, Fes * D, Fyb * D**3 / 6
    rigid_m, rigid_s = qm * main**2 / 4, qs * side**2 / 4
    shears = 2 if double else 1

    def solve(a: float, b: float, c: float) -> float:
        return (root(b**2 + 4 * a * c) - b) / (2 * a)

    modes = {"Im": qm * main, "Is": qs * side * shears}
    if not double:
        modes["II"] = solve(1 / (4 * qs) + 1 / (4 * qm), side / 2 + gap + main / 2, rigid_s + rigid_m)
        modes["IIIm"] = solve(1 / (2 * qs) + 1 / (4 * qm), gap + main / 2, moment + rigid_m)
    modes["IIIs"] = solve(1 / (4 * qs) + 1 / (2 * qm), side / 2 + gap, rigid_s + moment) * shears
    modes["IV"] = solve(1 / (2 * qs) + 1 / (2 * qm), gap, moment + moment) * shears
    return modes


@dataclass(frozen=True, slots=True)
class Joint:
    """One fastener's joint of a side member on a main member.

    main, side [in]: thickness, or for the main member of a screw or nail the fastener's penetration is found
    from its length; main_gravity, side_gravity [1]: specific gravity; main_angle, side_angle [degrees]: load to grain;
    side_bearing [psi]: of a steel side plate, in place of wood, 0 for wood; gap [in]: sheathing between the members;
    double: double shear.
    """

    main: float
    side: float
    main_gravity: float
    side_gravity: float
    main_angle: float = 0.0
    side_angle: float = 0.0
    side_bearing: float = 0.0
    gap: float = 0.0
    double: bool = False


def penetration(dowel: Dowel, joint: Joint) -> float:
    """Return the length [in] of a dowel within the main member, tip included; a bolt goes through.

    Raises RangeError where it does not reach the main member. Source: NDS 2018 12.1.
    """
    if dowel.kind == "bolt":
        return joint.main
    reach = min(joint.main, dowel.length - joint.side - joint.gap)
    if reach <= 0:
        raise RangeError(f"a {dowel.name} does not reach through {joint.side + joint.gap:g} in")
    return reach


def least_penetration(dowel: Dowel) -> float:
    """Return the least penetration [in] for lateral load: 4D of lags (less the tip), 6D of screws and nails.

    Source: NDS 2018 12.1.4.6, 12.1.5.6, 12.1.6.5.
    """
    return 0.0 if dowel.kind == "bolt" else (4 if dowel.kind == "lag" else 6) * dowel.diameter


def lateral_value(dowel: Dowel, joint: Joint) -> Capacity:
    """Return the reference lateral design value Z [lb] of one fastener, unrounded.

    Raises RangeError for too little penetration. Source: NDS 2018 12.3.

    >>> joint = Joint(main=1.5, side=1.5, main_gravity=0.5, side_gravity=0.5)
    >>> round(lateral_value(bolt(0.5), joint).value, -1)
    480.0
    """
    inside = penetration(dowel, joint)
    bearing = inside
    if dowel.kind != "bolt":
        whole = inside - (dowel.tip if dowel.kind == "lag" else 0.0)
        if whole < least_penetration(dowel) - 1e-6:
            least = least_penetration(dowel)
            raise RangeError(
                f"a {dowel.name} is {whole:.3g} in deep in the main member: at least {least:.3g} in"
            )
        through = dowel.length - joint.side - joint.gap > joint.main + dowel.tip
        bearing = inside if through else inside - dowel.tip / 2
    Fem = bearing_strength(joint.main_gravity, dowel, joint.main_angle)
    Fes = joint.side_bearing or bearing_strength(joint.side_gravity, dowel, joint.side_angle)
    D = dowel.bending_diameter
    loads = yield_loads(bearing, joint.side, Fem, Fes, dowel.Fyb, D, joint.gap, joint.double)
    angle = max(joint.main_angle, 0.0 if joint.side_bearing else joint.side_angle)
    terms = reduction_terms(dowel, angle)
    values = {mode: load / terms[mode.rstrip("ms")] for mode, load in loads.items()}
    return Capacity(min(values.values()), "lb", _steps(dowel, bearing, joint, Fem, Fes, values, terms))


def _steps(
    dowel: Dowel,
    bearing: float,
    joint: Joint,
    Fem: float,
    Fes: float,
    values: Mapping[str, float],
    terms: Mapping[str, float],
) -> tuple[Step, ...]:
    mode = min(values, key=lambda name: values[name])
    term = terms[mode.rstrip("ms")]
    numbers = f"lm {bearing:.4g}, ls {joint.side:.4g}, g {joint.gap:g}, D {dowel.bending_diameter:g}, Fyb {dowel.Fyb:g}"
    others = ", ".join(f"{name} {value:.0f}" for name, value in values.items())
    return (
        step(
            "Fem",
            f"bearing of the main member under a {dowel.name}",
            "Table 12.3.3",
            f"G {joint.main_gravity:g}, {joint.main_angle:g}°",
            Fem,
            "psi",
            "12.3.3",
        ),
        step(
            "Fes",
            "bearing of the side member",
            "Table 12.3.3",
            "steel" if joint.side_bearing else f"G {joint.side_gravity:g}, {joint.side_angle:g}°",
            Fes,
            "psi",
            "12.3.3",
        ),
        step("R_d", f"reduction term, mode {mode}", "Table 12.3.1B", "", term, "", "12.3.1"),
        step(
            "Z",
            f"lateral design value, mode {mode}",
            f"least of {others}",
            numbers,
            values[mode],
            "lb",
            "12.3.1",
        ),
    )
