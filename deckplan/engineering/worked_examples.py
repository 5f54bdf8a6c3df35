"""Published worked examples, computed with the same functions that check a plan.

Each function takes the example's inputs as printed and gives its answers by the names used in the data.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from deckplan.engineering import dowels, fasteners
from deckplan.engineering.bending import bearing_stress, bending_stress, shear_stress, stability
from deckplan.engineering.columns import post_capacity
from deckplan.engineering.deflection import find_deflections
from deckplan.engineering.dowels import Joint, lateral_value
from deckplan.engineering.factors import (
    AdjustedValues,
    Service,
    adjusted,
    beam_buckling_stress,
    beam_slenderness,
    beam_stability_factor,
    bearing_area_factor,
    column_buckling_stress,
    column_stability_factor,
    effective_length,
)
from deckplan.engineering.lumber import Size, design_values, read_size
from deckplan.engineering.statics import analyse_beam

Given = Mapping[str, float]
Answers = dict[str, float]
_DEEP = 99.0  # [in] a main member that the nail does not pass


def _allowed(species: str, grade: str, size: Size, service: Service) -> AdjustedValues:
    return adjusted(design_values(species, grade, size), size, service)


def unbraced_beam(given: Given) -> Answers:
    """4x16 Douglas fir-larch under a load at mid-span. Source: AWC Solved Example Problems E1.2a."""
    size = Size("4x16", "4x16", 1, given["b"], given["d"], 4, 16, "")
    le = effective_length(given["lu_in"], given["d"], "centre point")
    slender = beam_slenderness(le, given["b"], given["d"])
    FbE = beam_buckling_stress(given["Emin"], slender)
    CL = beam_stability_factor(given["Fb"] * given["CD"] * given["CF"], FbE)
    found = {"A": size.area, "S": size.section_modulus, "I": size.moment_of_inertia, "le": le, "RB": slender}
    return found | {"FbE": FbE, "CL": CL, "Fb_prime": given["Fb"] * CL}


def truss_chord(given: Given) -> Answers:
    """2x8 hem-fir No. 2 in tension and bending. Source: AWC Solved Example Problems E1.6."""
    size = read_size("2x8")
    allowed = _allowed("hem-fir", "No. 2", size, Service(duration=given["CD"], wet=False))
    CL, _ = stability(allowed, size, given["L_ft"] * 12, "uniform")
    found = {"ft": given["T_lb"] / size.area, "Ft_star": allowed.Ft, "Fb_star": allowed.Fb, "CL": CL}
    return found | {"Fb_2star": allowed.Fb * CL}


def sheathed_stud(given: Given) -> Answers:
    """2x6 southern pine No. 1 stud, braced flatwise. Source: AWC Solved Example Problems E1.7."""
    allowed = _allowed("southern pine", "No. 1", read_size("2x6"), Service(duration=given["CD"], wet=False))
    FcE = column_buckling_stress(allowed.Emin, given["L_in"] / given["d"])
    CP = column_stability_factor(allowed.Fc, FcE)
    return {"Fc_star": allowed.Fc, "CP": CP, "Fc_2star": allowed.Fc * CP}


def strut(given: Given) -> Answers:
    """2x4 southern pine No. 2 strut. Source: AWC Solved Example Problems E1.8."""
    size = read_size("2x4")
    allowed, flat = (
        _allowed("southern pine", "No. 2", size, Service(duration=given["CD"], wet=False, flat=flatwise))
        for flatwise in (False, True)
    )
    stress = post_capacity(allowed, size, given["L_in"]).value / size.area
    return {"CP": stress / allowed.Fc, "Fc_2star": stress, "Fb2": flat.Fb}


def nail_withdrawal(given: Given) -> Answers:
    """8d common nail through a strap. Source: AWC Solved Example Problems E2.1a."""
    depth = given["L"] - given["ts"]
    whole = fasteners.withdrawal_value(dowels.nail(given["D"], given["L"]), given["G"], depth)
    return {"W_lb_in": fasteners.nail_withdrawal(given["G"], given["D"]), "pt": depth, "Wp_t": whole.value}


def nail_in_shear(given: Given) -> Answers:
    """Nail through wood or a steel strap (Fes given). Source: NDS 2018 Table 12N; a textbook, p. 12.16."""
    joint = Joint(_DEEP, given["ts"], given["G"], given["G"], side_bearing=given.get("Fes", 0.0))
    return {"Z": lateral_value(dowels.nail(given["D"], given["L"]), joint).value}


def wet_joist(given: Given) -> Answers:
    """2x8 Douglas fir-larch No. 1, wet, snow. Source: CE 479 course note."""
    service = Service(duration=given["CD"], wet=True)
    allowed = _allowed("douglas fir-larch", "No. 1", read_size("2x8"), service)
    return {"Fb_prime": allowed.Fb, "Ft_prime": allowed.Ft, "Fv_prime": allowed.Fv}


def slender_beam(given: Given) -> Answers:
    """C_L from a given slenderness. Source: an engineer's calculation sheet."""
    FbE = beam_buckling_stress(given["Emin"], given["RB"])
    return {"FbE": FbE, "CL": beam_stability_factor(given["Fb_star"], FbE)}


def porch_post(given: Given) -> Answers:
    """4x4 spruce-pine-fir No. 2 post. Source: HUD Residential Structural Design Guide 2nd ed., example 5.6."""
    size = read_size("4x4")
    allowed = _allowed("spruce-pine-fir", "No. 2", size, Service(wet=False))
    capacity = post_capacity(allowed, size, given["L_in"]).value
    stress = capacity / size.area
    return {"CP": stress / allowed.Fc, "Fc_prime": stress, "ratio": given["P"] / capacity}


def timber_post(given: Given) -> Answers:
    """6x6 southern pine No. 2 post, wet-service row, snow. Source: a public calculation note."""
    size = read_size("6x6")
    allowed = _allowed("southern pine", "No. 2", size, Service(duration=given["CD"]))
    slender = given["L_in"] / size.depth
    capacity = post_capacity(allowed, size, given["L_in"]).value
    found = {"slend": slender, "Fc_star": allowed.Fc, "FcE": column_buckling_stress(allowed.Emin, slender)}
    CP = capacity / size.area / allowed.Fc
    return found | {"CP": CP, "cap_lb": capacity, "dc": given["P"] / capacity}


def floor_joist(given: Given) -> Answers:
    """2x10 spruce-pine-fir No. 2, 12 ft, 40 and 60 lb/ft. Source: a public hand calculation."""
    size, span, dead, live = read_size("2x10"), 144.0, 40 / 12, 60 / 12
    allowed = _allowed("spruce-pine-fir", "No. 2", size, Service(wet=False, repetitive=True))
    beam = analyse_beam(span, (0.0, span), [(0.0, span, dead, live)])
    reaction = beam.reactions[0].largest
    sag = find_deflections(beam, given["E"] * size.moment_of_inertia)
    fb = bending_stress(beam.moment_max.value, size.section_modulus)
    bears = bearing_stress(reaction, size.thickness * 1.5) / (allowed.Fc_perp * bearing_area_factor(1.5, 3.0))
    return {
        "fb": fb,
        "Fb_prime": allowed.Fb,
        "bend": fb / allowed.Fb,
        "shear": shear_stress(reaction, size.area) / allowed.Fv,
        "dL": sag.spans_live[0].value,
        "dT": sag.spans_total[0].value,
        "bearing": bears,
    }


EXAMPLES: dict[str, Callable[[Given], Answers]] = {
    "AWC-E1.2a": unbraced_beam,
    "AWC-E1.6-CD1.25": truss_chord,
    "AWC-E1.7-CD1.6": sheathed_stud,
    "AWC-E1.7-CD0.9": sheathed_stud,
    "AWC-E1.8-CD1.15": strut,
    "AWC-E2.1a": nail_withdrawal,
    "AWC-E2.x-nail": nail_in_shear,
    "textbook-12.4": nail_in_shear,
    "CE479-F06": wet_joist,
    "sheet-cantilever": slender_beam,
    "HUD-RSDG-col": porch_post,
    "post-6x6-SP": timber_post,
    "joist-2x10-SPF": floor_joist,
}
