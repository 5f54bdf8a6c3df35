"""Adjustment factors of the NDS, each a function of its own, and the adjusted design values they give.

    Fb' = Fb C_D C_M C_t C_L C_F C_fu C_i C_r        Fv' = Fv C_D C_M C_t C_i
    Fc' = Fc C_D C_M C_t C_F C_i C_P                 Fc_perp' = Fc_perp C_M C_t C_i C_b
    E'  = E C_M C_t C_i                              Emin' = Emin C_M C_t C_i

C_L, C_P and C_b depend on the member's place and are applied where it is known; C_D never touches Fc_perp, E
and Emin (NDS 2018 Table 4.3.1).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from deckplan.engineering.lumber import DesignValues, Size
from deckplan.errors import RangeError
from deckplan.verdict import Source, Step

Duration = Literal["permanent", "live", "snow", "construction", "wind", "impact"]
LoadCase = Literal["uniform", "centre point", "overhang uniform", "overhang tip", "unspecified"]

DURATIONS: dict[Duration, float] = {
    "permanent": 0.9,
    "live": 1.0,
    "snow": 1.15,
    "construction": 1.25,
    "wind": 1.6,
    "impact": 2.0,
}
REPETITIVE = 1.15  # C_r, NDS 2018 4.3.9
MOST_SLENDER_BEAM = 50.0  # R_B, NDS 2018 3.3.3.7
MOST_SLENDER_COLUMN = 50.0  # le/d, NDS 2018 3.7.1.4

# C_F of NDS Supplement 2018 Table 4A by nominal width; last width stands for 14 in and wider.
_SIZE_WIDTHS = (4, 5, 6, 8, 10, 12)
_CF_BENDING_2_3 = (1.5, 1.4, 1.3, 1.2, 1.1, 1.0, 0.9)
_CF_BENDING_4 = (1.5, 1.4, 1.3, 1.3, 1.2, 1.1, 1.0)
_CF_COMPRESSION = (1.15, 1.1, 1.1, 1.05, 1.0, 1.0, 0.9)
_CFU_2_3 = (1.0, 1.1, 1.15, 1.15, 1.2)  # by nominal width 2-3, 4-5, 6, 8, 10 and wider
_CFU_4 = (1.0, 1.0, 1.05, 1.05, 1.1)


def root(square: float) -> float:
    """Return the square root of a number or a quantity: a power, so that it also runs on quantities."""
    result: float = square**0.5
    return result


def duration_factor(duration: Duration) -> float:
    """Return C_D [1] of the shortest load in a combination.

    Source: NDS 2018 Table 2.3.2. Connections take at most 1.6 (NDS 2018 11.3.2).

    >>> duration_factor("snow")
    1.15
    """
    return DURATIONS[duration]


def _by_width(nominal_depth: int, row: tuple[float, ...]) -> float:
    for width, value in zip(_SIZE_WIDTHS, row, strict=False):
        if nominal_depth <= width:
            return value
    return row[-1]


def size_factors(values: DesignValues, size: Size) -> tuple[float, float, float]:
    """Return C_F on bending, on tension, on compression parallel [1].

    Southern pine carries C_F in its tabulated values; what is left is 1.1 on bending for 4 in thick, 8 in and
    wider, and 0.9 over 12 in. Timbers: (12/d)^(1/9) on bending over 12 in deep.

    Source: NDS Supplement 2018 Tables 4A, 4B, 4D; the Stud row from memory.
    """
    thick_and_wide = size.nominal_thickness == 4 and size.nominal_depth >= 8
    if values.table == "4D":
        deep = (12.0 / size.depth) ** (1 / 9) if size.depth > 12.0 else 1.0
        return deep, 1.0, 1.0
    if values.table == "4B":
        wide = 0.9 if size.nominal_depth > 12 else 1.0
        return (1.1 if thick_and_wide else 1.0) * wide, wide, wide
    if values.grade == "Stud":
        return (1.1, 1.1, 1.05) if size.nominal_depth <= 4 else (1.0, 1.0, 1.0)
    bending = _CF_BENDING_4 if size.nominal_thickness == 4 else _CF_BENDING_2_3
    return (
        _by_width(size.nominal_depth, bending),
        _by_width(size.nominal_depth, _CF_BENDING_2_3),
        _by_width(size.nominal_depth, _CF_COMPRESSION),
    )


def flat_use_factor(size: Size) -> float:
    """Return C_fu [1] for lumber 2 to 4 in thick bent about its weak axis; 1 for timbers.

    Source: NDS Supplement 2018 Tables 4A and 4B.
    """
    if size.nominal_thickness > 4:
        return 1.0
    row = _CFU_4 if size.nominal_thickness == 4 else _CFU_2_3
    place = sum(size.nominal_depth >= width for width in (4, 6, 8, 10))
    return row[place]


def wet_factors(values: DesignValues, size_bending: float, size_compression: float) -> dict[str, float]:
    """Return C_M [1] by symbol for wood that stays above 19 % moisture.

    size_bending, size_compression [1]: C_F. Lumber: Fb 0.85 only where Fb C_F is over 1150 psi, Fc 0.8 only
    where Fc C_F is over 750 psi. Timbers: Fc_perp 0.67, Fc 0.91; southern pine timbers are tabulated wet.

    Source: NDS Supplement 2018 Tables 4A, 4B, 4D.
    """
    if values.wet_already:
        return dict.fromkeys(("Fb", "Ft", "Fv", "Fc_perp", "Fc", "E", "Emin"), 1.0)
    if values.table == "4D":
        return {"Fb": 1.0, "Ft": 1.0, "Fv": 1.0, "Fc_perp": 0.67, "Fc": 0.91, "E": 1.0, "Emin": 1.0}
    return {
        "Fb": 0.85 if values.Fb * size_bending > 1150.0 else 1.0,
        "Ft": 1.0,
        "Fv": 0.97,
        "Fc_perp": 0.67,
        "Fc": 0.8 if values.Fc * size_compression > 750.0 else 1.0,
        "E": 0.9,
        "Emin": 0.9,
    }


def incising_factors(values: DesignValues) -> tuple[float, float, float]:
    """Return C_i [1] on strengths, on E and Emin, on Fc_perp, of incised dimension lumber; timbers: 1.

    Source: NDS 2018 4.3.8 and Table 4.3.8 (dimension lumber, incised parallel to grain, at most 0.4 in deep).
    """
    return (1.0, 1.0, 1.0) if values.table == "4D" else (0.8, 0.95, 1.0)


def temperature_factors(degrees: float, wet: bool) -> tuple[float, float]:
    """Return C_t [1] on strengths, and on Ft, E and Emin, at a sustained temperature [degrees Fahrenheit].

    Raises RangeError over 150 degrees. Source: NDS 2018 Table 2.3.3.
    """
    if degrees > 150.0:
        raise RangeError(f"C_t is defined up to 150 degrees Fahrenheit, not {degrees:g}")
    if degrees <= 100.0:
        return 1.0, 1.0
    if degrees <= 125.0:
        return (0.7 if wet else 0.8), 0.9
    return (0.5 if wet else 0.7), 0.9


def bearing_area_factor(length: float, to_end: float) -> float:
    """Return C_b = (lb + 0.375) / lb [1] for a bearing of length lb under 6 in and 3 in or more from an end.

    length [in]: along the grain; to_end [in]: from the bearing to the member's end.
    Raises RangeError for no length. Empirical: in. Source: NDS 2018 3.10.4.

    >>> round(bearing_area_factor(1.5, 12.0), 2)
    1.25
    """
    if length <= 0:
        raise RangeError(f"a bearing needs a length over 0 in, not {length:g}")
    return (length + 0.375) / length if length < 6.0 and to_end >= 3.0 else 1.0


# le = a lu + b d: a for short lengths (lu/d under 7, b nil) and a, with b = 3, for longer ones.
_EFFECTIVE: dict[str, tuple[float, float]] = {
    "uniform": (2.06, 1.63),
    "centre point": (1.80, 1.37),
    "overhang uniform": (1.33, 0.90),
    "overhang tip": (1.87, 1.44),
    "unspecified": (2.06, 1.63),
}


def effective_length_terms(unbraced: float, depth: float, case: LoadCase) -> tuple[float, float]:
    """Return a and b [1] of le = a lu + b d for a bending member.

    unbraced, depth [in]: lu and d. Raises RangeError for a load case that the table does not name.
    Source: NDS 2018 Table 3.3.3.

    >>> effective_length_terms(240.0, 15.25, "centre point")
    (1.37, 3.0)
    """
    if case not in _EFFECTIVE:
        raise RangeError(f"no effective length for the load case {case!r}")
    short, long = _EFFECTIVE[case]
    slender = unbraced / depth
    if slender < 7:
        return short, 0.0
    if case == "unspecified" and slender > 14.3:
        return 1.84, 0.0
    return long, 3.0


def effective_length(unbraced: float, depth: float, case: LoadCase) -> float:
    """Return le [in] of a bending member from its unbraced length lu.

    unbraced, depth [in]. The 1.84 lu limb belongs to unspecified loading only.
    Source: NDS 2018 Table 3.3.3.

    >>> effective_length(240.0, 15.25, "centre point")
    374.55
    """
    a, b = effective_length_terms(unbraced, depth, case)
    return a * unbraced + b * depth


def beam_slenderness(effective: float, thickness: float, depth: float) -> float:
    """Return R_B = sqrt(le d / b2) [1]. effective, thickness, depth [in].

    Source: NDS 2018 Equation 3.3-5.
    """
    return root(effective * depth / thickness**2)


def beam_buckling_stress(Emin: float, slenderness: float) -> float:
    """Return FbE = 1.20 Emin' / R_B2 [psi]. Emin [psi]; slenderness [1].

    Source: NDS 2018 3.3.3.8.
    """
    return 1.20 * Emin / slenderness**2


def beam_stability_factor(Fb_star: float, FbE: float) -> float:
    """Return C_L [1] from Fb* and the buckling stress.

    Fb_star [psi]: with all factors but C_fu, C_V and C_L; FbE [psi].

    Source: NDS 2018 Equation 3.3-6.

    >>> round(beam_stability_factor(1500.0, 1776.0), 3)
    0.876
    """
    ratio = FbE / Fb_star
    middle = (1 + ratio) / 1.9
    return middle - root(middle**2 - ratio / 0.95)


def column_buckling_stress(Emin: float, slenderness: float) -> float:
    """Return FcE = 0.822 Emin' / (le/d)2 [psi]. Emin [psi]; slenderness [1].

    Source: NDS 2018 3.7.1.5.
    """
    return 0.822 * Emin / slenderness**2


def column_stability_factor(Fc_star: float, FcE: float, c: float = 0.8, Kf: float = 1.0) -> float:
    """Return C_P [1] from Fc* and the buckling stress.

    Fc_star [psi]: with all factors but C_P; FcE [psi];
    c [1]: 0.8 sawn lumber, 0.85 round poles, 0.9 glued; Kf [1]: 1, or 0.6 nailed and 0.75 bolted built-up
    columns that buckle about the weak axis of the plies.
    Source: NDS 2018 Equations 3.7-1 and 15.3-1.
    """
    ratio = FcE / Fc_star
    middle = (1 + ratio) / (2 * c)
    return Kf * (middle - root(middle**2 - ratio / c))


@dataclass(frozen=True, slots=True)
class Service:
    """How a member serves: the circumstances behind its factors.

    duration [1]: C_D; wet: over 19 % moisture in service, the default outdoors; incised: for treatment;
    repetitive: three or more in contact, or at most 24 in apart under decking; flat: bent about the weak
    axis; degrees [degrees Fahrenheit]: sustained temperature.
    """

    duration: float = 1.0
    wet: bool = True
    incised: bool = False
    repetitive: bool = False
    flat: bool = False
    degrees: float = 100.0


@dataclass(frozen=True, slots=True)
class AdjustedValues:
    """Design values times every factor but C_L, C_P and C_b [psi], each with its step.

    factors: by value symbol, the factors by their symbols, only those that are not 1.
    """

    Fb: float
    Ft: float
    Fv: float
    Fc_perp: float
    Fc: float
    E: float
    Emin: float
    steps: dict[str, Step]
    factors: dict[str, dict[str, float]]


@lru_cache(maxsize=4096)
def adjusted(values: DesignValues, size: Size, service: Service) -> AdjustedValues:
    """Multiply reference design values by the factors of the size and the service.

    Fb comes without C_L, Fc without C_P, Fc_perp without C_b.
    Source: NDS 2018 Table 4.3.1.
    """
    bend, pull, push = size_factors(values, size)
    wet = wet_factors(values, bend, push) if service.wet else {}
    strength, stiffness, perp = incising_factors(values) if service.incised else (1.0, 1.0, 1.0)
    hot, warm = temperature_factors(service.degrees, service.wet)
    repeat = REPETITIVE if service.repetitive and not size.is_timber else 1.0
    flat = flat_use_factor(size) if service.flat else 1.0
    d = service.duration
    lists: dict[str, dict[str, float]] = {
        "Fb": {"C_D": d, "C_t": hot, "C_F": bend, "C_fu": flat, "C_i": strength, "C_r": repeat},
        "Ft": {"C_D": d, "C_t": warm, "C_F": pull, "C_i": strength},
        "Fv": {"C_D": d, "C_t": hot, "C_i": strength},
        "Fc_perp": {"C_t": hot, "C_i": perp},
        "Fc": {"C_D": d, "C_t": hot, "C_F": push, "C_i": strength},
        "E": {"C_t": warm, "C_i": stiffness},
        "Emin": {"C_t": warm, "C_i": stiffness},
    }
    results: dict[str, float] = {}
    steps: dict[str, Step] = {}
    used: dict[str, dict[str, float]] = {}
    for symbol, factors in lists.items():
        everything = {**factors, "C_M": wet.get(symbol, 1.0)}
        active = {name: factor for name, factor in everything.items() if factor != 1.0}
        reference = float(getattr(values, symbol))
        result = reference
        for factor in active.values():
            result *= factor
        results[symbol], used[symbol] = result, active
        steps[symbol] = Step(
            symbol=f"{symbol}'",
            words=_WORDS[symbol] + _why_dry(symbol, values, bend, push, service),
            formula=" × ".join([symbol, *active]),
            numbers=" × ".join([f"{reference:g}", *(f"{factor:.4g}" for factor in active.values())]),
            value=result,
            unit="psi",
            source=Source(
                "NDS 2018",
                f"Table 4.3.1 ({values.species} {values.grade}, Table {values.table})",
                values.confirmed,
            ),
        )
    return AdjustedValues(**results, steps=steps, factors=used)


def _why_dry(symbol: str, values: DesignValues, bend: float, push: float, service: Service) -> str:
    """Say why a value of wet wood carries no C_M, where a threshold or the table decides it."""
    if not service.wet or symbol not in ("Fb", "Fc"):
        return ""
    if values.wet_already:
        return ", tabulated wet: C_M = 1"
    if values.table == "4D":
        return ", C_M = 1 for timbers" if symbol == "Fb" else ""
    product, limit = {"Fb": (values.Fb * bend, 1150.0), "Fc": (values.Fc * push, 750.0)}[symbol]
    return (
        f", C_M = 1 because {symbol} C_F = {product:.5g} psi is at most {limit:g}" if product <= limit else ""
    )


_WORDS = {
    "Fb": "adjusted bending design value",
    "Ft": "adjusted tension design value",
    "Fv": "adjusted shear design value",
    "Fc_perp": "adjusted bearing design value across the grain",
    "Fc": "adjusted compression design value along the grain",
    "E": "adjusted modulus of elasticity",
    "Emin": "adjusted modulus of elasticity for stability",
}
