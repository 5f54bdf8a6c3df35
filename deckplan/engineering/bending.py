"""What a bending member can take: moment, shear, bearing, and whether it stays upright."""

from __future__ import annotations

from deckplan.engineering.answers import Capacity, step
from deckplan.engineering.factors import (
    MOST_SLENDER_BEAM,
    AdjustedValues,
    LoadCase,
    beam_buckling_stress,
    beam_slenderness,
    beam_stability_factor,
    bearing_area_factor,
    effective_length,
    effective_length_terms,
)
from deckplan.engineering.lumber import Size
from deckplan.errors import RangeError
from deckplan.verdict import Step

# NDS 2018 4.4.1.2: nominal depth over breadth at most this needs that much support; then C_L = 1.
_STEADYING = (
    (2.0, "no lateral support"),
    (4.0, "ends held in position (blocking, hangers, bridging or rim)"),
    (5.0, "compression edge held along its length, ends held"),
    (6.0, "bridging or blocking at most 8 ft apart, compression edge and ends held"),
    (7.0, "both edges held along their length, ends held"),
)


def bending_stress(moment: float, section_modulus: float) -> float:
    """Return fb = M / S [psi]. moment [lb in]; section_modulus [in3].

    Source: NDS 2018 Equation 3.3-1.

    >>> bending_stress(21600.0, 21.390625) > 1009
    True
    """
    return moment / section_modulus


def shear_stress(shear: float, area: float) -> float:
    """Return fv = 3 V / (2 A) [psi] of a rectangle. shear [lb]; area [in2].

    Source: NDS 2018 Equation 3.4-2.
    """
    return 1.5 * shear / area


def bearing_stress(force: float, area: float) -> float:
    """Return fc_perp = R / A [psi]. force [lb]; area [in2].

    Source: NDS 2018 3.10.2.
    """
    return force / area


def uniform_span_by_bending(Fb: float, section_modulus: float, line_load: float) -> float:
    """Return the simple span L = sqrt(8 Fb' S / w) [in]. Fb [psi]; section_modulus [in3]; line_load [lb/in].

    Source: AWC Design Aid 6, simple beam, uniform load.
    """
    span: float = (8 * Fb * section_modulus / line_load) ** 0.5
    return span


def uniform_span_by_shear(Fv: float, area: float, line_load: float) -> float:
    """Return the simple span L = 4 Fv' A / (3 w) [in], shear taken at the support.

    Fv [psi]; area [in2]; line_load [lb/in]. Source: NDS 2018 3.4.2 with V = w L / 2.
    """
    return 4 * Fv * area / (3 * line_load)


def uniform_span_by_deflection(E: float, moment_of_inertia: float, line_load: float, part: float) -> float:
    """Return the simple span that sinks L/part: L = (384 E' I / (5 w part))^(1/3) [in].

    E [psi]; moment_of_inertia [in4]; line_load [lb/in]; part [1]: 360 for L/360.
    Source: AWC Design Aid 6, simple beam, uniform load.
    """
    span: float = (384 * E * moment_of_inertia / (5 * line_load * part)) ** (1 / 3)
    return span


def bending_capacity(adjusted: AdjustedValues, size: Size, stability: float = 1.0) -> Capacity:
    """Return the moment M' = Fb' S [lb in] that a member takes; stability [1]: C_L.

    Source: NDS 2018 3.3.
    """
    S, Fb = size.section_modulus, adjusted.Fb * stability
    steps = [adjusted.steps["Fb"], _section(size, "S", "b d² / 6", S, "in³")]
    if stability != 1.0:
        numbers = f"{adjusted.Fb:.5g} × {stability:.4g}"
        steps.append(step("Fb'", "with beam stability", "Fb' × C_L", numbers, Fb, "psi", "3.3.3"))
    steps.append(step("M'", "moment allowed", "Fb' S", f"{Fb:.5g} × {S:.5g}", Fb * S, "lb in", "3.3"))
    return Capacity(Fb * S, "lb in", tuple(steps))


def shear_capacity(adjusted: AdjustedValues, size: Size, notched_depth: float | None = None) -> Capacity:
    """Return the shear V' = 2/3 Fv' b d [lb]; at a notch on the tension side 2/3 Fv' b dn (dn/d)².

    notched_depth [in]: depth left above an end notch. Raises RangeError where the notch is deeper than a
    quarter of the depth. Source: NDS 2018 3.4.2, 3.4.3.2, 4.4.3.
    """
    d, b = size.depth, size.thickness
    depth = d if notched_depth is None else notched_depth
    if not 0.75 * d - 1e-9 <= depth <= d:
        raise RangeError(
            f"an end notch leaves {depth:g} in of {d:g} in: at most a quarter may go (NDS 4.4.3)"
        )
    value = 2 / 3 * adjusted.Fv * b * depth * (depth / d) ** 2
    if depth < d:
        formula, numbers = (
            "2/3 Fv' b dn (dn/d)²",
            f"2/3 × {adjusted.Fv:.5g} × {b:g} × {depth:g} × ({depth:g}/{d:g})²",
        )
    else:
        formula, numbers = "2/3 Fv' b d", f"2/3 × {adjusted.Fv:.5g} × {b:g} × {d:g}"
    last = step("V'", "shear allowed", formula, numbers, value, "lb", "3.4")
    return Capacity(value, "lb", (adjusted.steps["Fv"], last))


def bearing_capacity(
    adjusted: AdjustedValues, size: Size, length: float, to_end: float = 0.0, plies: int | None = None
) -> Capacity:
    """Return the reaction R' = Fc_perp' C_b b lb [lb] that a bearing of a length [in] takes.

    length [in]: along the member; to_end [in]: from the bearing to the member's end (C_b from 3 in on);
    plies: how many of a built-up member's plies bear, all of them unless said.
    Source: NDS 2018 3.10.2 and 3.10.4.
    """
    width = size.ply_thickness * (size.plies if plies is None else plies)
    area_factor = bearing_area_factor(length, to_end)
    value = adjusted.Fc_perp * area_factor * width * length
    numbers = f"{adjusted.Fc_perp:.5g} × {area_factor:.4g} × {width:g} × {length:g}"
    last = step("R'", "reaction allowed in bearing", "Fc_perp' C_b b lb", numbers, value, "lb", "3.10")
    return Capacity(value, "lb", (adjusted.steps["Fc_perp"], last))


def bearing_length(adjusted: AdjustedValues, size: Size, reaction: float) -> float:
    """Return the least bearing length lb = R / (Fc_perp' b) [in] at a member's end; reaction [lb].

    Source: NDS 2018 3.10.2.
    """
    return reaction / (adjusted.Fc_perp * size.thickness)


def stability(
    adjusted: AdjustedValues, size: Size, unbraced: float, case: LoadCase = "unspecified"
) -> tuple[float, tuple[Step, ...]]:
    """Return C_L [1] of a member held sideways only every `unbraced` [in], and its steps.

    A member not deeper than wide, or held all along (unbraced 0), has C_L = 1.
    Raises RangeError for R_B over 50. Source: NDS 2018 3.3.3.
    """
    if size.depth <= size.thickness or unbraced <= 0:
        return 1.0, ()
    b, d = size.thickness, size.depth
    le = effective_length(unbraced, d, case)
    slender = beam_slenderness(le, b, d)
    if slender > MOST_SLENDER_BEAM:
        raise RangeError(
            f"{size.name} held every {unbraced:g} in: R_B is {slender:.3g}, over 50 (NDS 3.3.3.7)"
        )
    star = adjusted.Fb
    FbE = beam_buckling_stress(adjusted.Emin, slender)
    CL = beam_stability_factor(star, FbE)
    a, times = effective_length_terms(unbraced, d, case)
    ratio = FbE / star
    return CL, (
        step(
            "le",
            f"effective length, load {case}, lu/d {unbraced / d:.3g}",
            f"{a:g} lu + {times:g} d" if times else f"{a:g} lu",
            f"{a:g} × {unbraced:g} + {times:g} × {d:g}" if times else f"{a:g} × {unbraced:g}",
            le,
            "in",
            "Table 3.3.3",
        ),
        step("R_B", "slenderness", "√(le d / b²)", f"√({le:.5g} × {d:g} / {b:g}²)", slender, "", "3.3.3.6"),
        step(
            "FbE",
            "buckling stress",
            "1.20 Emin' / R_B²",
            f"1.20 × {adjusted.Emin:.6g} / {slender:.4g}²",
            FbE,
            "psi",
            "3.3.3.8",
        ),
        step(
            "C_L",
            f"beam stability factor, F = FbE/Fb* = {FbE:.5g} / {star:.5g} = {ratio:.5g}",
            "(1 + F)/1.9 − √(((1 + F)/1.9)² − F/0.95)",
            f"(1 + {ratio:.5g})/1.9 − √(((1 + {ratio:.5g})/1.9)² − {ratio:.5g}/0.95)",
            CL,
            "",
            "3.3.3.8",
        ),
    )


def lateral_support_rule(size: Size) -> str:
    """Return the lateral support that makes C_L = 1 by the rule of depth over breadth (nominal sizes).

    A built-up member counts with the breadth of all its plies, well nailed. Raises RangeError over 7 : 1.
    Source: NDS 2018 4.4.1.2.

    >>> from deckplan.engineering.lumber import read_size
    >>> lateral_support_rule(read_size("2x8"))
    'ends held in position (blocking, hangers, bridging or rim)'
    """
    ratio = size.nominal_depth / (size.plies * size.nominal_thickness)
    for most, words in _STEADYING:
        if ratio <= most:
            return words
    raise RangeError(f"{size.name} is {ratio:g} times deeper than wide: over 7 no rule holds (NDS 4.4.1.2)")


def _section(size: Size, symbol: str, formula: str, value: float, unit: str) -> Step:
    numbers = f"b {size.thickness:g} in, d {size.depth:g} in"
    return step(
        symbol, f"section of {size.name}", formula, numbers, value, unit, "Table 1B", "NDS Supplement 2018"
    )
