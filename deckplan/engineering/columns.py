"""Posts: what a height takes, how tall a post may stand, loads that come in beside the middle."""

from __future__ import annotations

from dataclasses import replace

from deckplan.engineering.answers import Answer, Capacity, smallest, step
from deckplan.engineering.factors import (
    MOST_SLENDER_COLUMN,
    AdjustedValues,
    Service,
    adjusted,
    column_buckling_stress,
    column_stability_factor,
    root,
)
from deckplan.engineering.lumber import Size, design_values, read_size, read_species
from deckplan.errors import InputError, Problem, RangeError
from deckplan.reference import read_table
from deckplan.verdict import Step

_SAWN = 0.8  # c of NDS 2018 3.7.1.5
_NAILED = 0.6  # Kf of NDS 2018 15.3.2.4, built-up columns about the weak axis of their plies


def axial_stress(force: float, area: float) -> float:
    """Return fc = P / A [psi]. force [lb]; area [in2].

    Source: NDS 2018 3.6.3.
    """
    return force / area


def post_capacity(
    allowed: AdjustedValues,
    size: Size,
    height: float,
    *,
    height_strong: float | None = None,
    fixity: float = 1.0,
) -> Capacity:
    """Return the axial load P' = Fc* C_P A [lb] of a post, the weaker of its two axes.

    height [in]: between points held sideways, about the weak axis; height_strong [in]: about the strong axis,
    the same unless said; fixity [1]: Ke, 1 for pinned ends. Built-up posts: nailed, Kf 0.6 about the plies'
    weak axis. Raises RangeError for a slenderness over 50.

    Source: NDS 2018 3.7.1, 15.3.
    """
    if height <= 0:
        raise RangeError(f"a post has a height over 0 in, not {height:g}")
    axes = [("weak", min(size.thickness, size.depth), height)]
    axes.append(
        ("strong", max(size.thickness, size.depth), height if height_strong is None else height_strong)
    )
    worst = 1.0
    kept: tuple[Step, ...] = ()
    for name, side, length in axes:
        slender = fixity * length / side
        if slender > MOST_SLENDER_COLUMN:
            raise RangeError(f"{size.name}, {length:g} in tall: le/d is {slender:.3g}, over 50 (NDS 3.7.1.4)")
        across_plies = size.plies > 1 and side == size.thickness
        FcE = column_buckling_stress(allowed.Emin, slender)
        Kf = _NAILED if across_plies else 1.0
        CP = column_stability_factor(allowed.Fc, FcE, _SAWN, Kf)
        if worst > CP:
            worst = CP
            numbers = f"{fixity:g} × {length:g} / {side:g}"
            ratio, c = FcE / allowed.Fc, _SAWN
            inner = "((1 + F)/(2 c) − √(((1 + F)/(2 c))² − F/c))"
            put_in = f"((1 + {ratio:.5g})/{2 * c:g} − √(((1 + {ratio:.5g})/{2 * c:g})² − {ratio:.5g}/{c:g}))"
            built = f", Kf = {Kf:g} nailed plies" if across_plies else ""
            kept = (
                step("le/d", f"slenderness, {name} axis", "Ke l / d", numbers, slender, "", "3.7.1.3"),
                step(
                    "FcE",
                    "buckling stress",
                    "0.822 Emin' / (le/d)²",
                    f"0.822 × {allowed.Emin:.6g} / {slender:.4g}²",
                    FcE,
                    "psi",
                    "3.7.1.5",
                ),
                step(
                    "C_P",
                    f"column stability factor, F = FcE/Fc* = {FcE:.5g} / {allowed.Fc:.5g} = {ratio:.5g}, "
                    f"c = {c:g} sawn{built}",
                    f"Kf {inner}" if across_plies else inner[1:-1],
                    f"{Kf:g} × {put_in}" if across_plies else put_in[1:-1],
                    CP,
                    "",
                    "3.7.1.5",
                ),
            )
    value = allowed.Fc * worst * size.area
    last = step(
        "P'",
        "axial load allowed",
        "Fc* C_P A",
        f"{allowed.Fc:.5g} × {worst:.4g} × {size.area:.5g}",
        value,
        "lb",
        "3.6.3",
    )
    return Capacity(value, "lb", (allowed.steps["Fc"], allowed.steps["Emin"], *kept, last))


def height_for_stability(Fc: float, Emin: float, stress: float, side: float) -> float:
    """Return the height [in] at which Fc* C_P falls to a stress: Equation 3.7-1 solved for le, Ke = 1, sawn.

    Fc [psi]: Fc*; Emin [psi]; stress [psi]: fc; side [in]: d.
    Raises RangeError where even a stub is too weak.
    Source: NDS 2018 3.7.1.5.
    """
    share = stress / Fc
    if share >= 1:
        raise RangeError("the load is over what the section takes in plain compression")
    ratio = share * (1 - _SAWN * share) / (1 - share)
    return side * root(0.822 * Emin / (ratio * Fc))


def height_cap(size: Size, edition: str = "2018") -> float | None:
    """Return the prescriptive post height [in] of an edition ("2015", "2018", "Wisconsin"), None without one.

    Where the table's copies disagree the lower height is taken.
    Source: IRC 2015/2018 Table R507.4; Wisconsin SPS 320-325 Appendix B.
    """
    rows = [row for row in read_table("reference", "post_height_caps.csv") if edition in row["edition"]]
    if not rows:
        expected = "an edition with post heights: 2015, 2018 or Wisconsin"
        raise InputError([Problem("edition", expected, edition)])
    heights = [row.number("height") for row in rows if row["post"] == size.name]
    return min(heights) if heights else None


def post_height(
    species: str,
    grade: str,
    size: Size | str,
    load: float,
    *,
    duration: float = 1.0,
    wet: bool = True,
    incised: bool = False,
    edition: str = "2018",
    prescriptive: bool = True,
) -> Answer:
    """Return the tallest post [in] under an axial load [lb], pinned at both ends.

    species, grade, size: e.g. "southern pine", "No. 2", "6x6"; a group gives the least of its members;
    duration [1]: C_D; edition: of the prescriptive height caps; prescriptive: whether they count.
    Governs: "column stability", "slenderness" (le/d 50) or "prescriptive cap". Raises RangeError where no
    height carries the load. Computed heights are never under those printed in AWC DCA6-2012 Table 4 and up to
    8 ft over: the printed ones include effects that the table does not state; treat ours as upper bounds.

    Source: NDS 2018 3.7.1; caps as in height_cap.
    """
    size = read_size(size) if isinstance(size, str) else size
    if load <= 0:
        raise RangeError(f"a post carries a load over 0 lb, not {load:g}")
    if size.plies > 1:
        raise RangeError("tallest post: one solid piece; a built-up post is not sized here")
    service = Service(duration=duration, wet=wet, incised=incised)
    side = min(size.thickness, size.depth)
    answers = []
    for member in read_species(species):
        allowed = adjusted(design_values(member, grade, size), size, service)
        stress = axial_stress(load, size.area)
        by_stability = height_for_stability(allowed.Fc, allowed.Emin, stress, side)
        by_slenderness = MOST_SLENDER_COLUMN * side
        limits = {"column stability": by_stability, "slenderness": by_slenderness}
        steps = [
            allowed.steps["Fc"],
            allowed.steps["Emin"],
            step("fc", "stress", "P / A", f"{load:g} / {size.area:.5g}", stress, "psi", "3.6.3"),
            step(
                "l",
                "height at which Fc* C_P = fc",
                "Equation 3.7-1 solved for le",
                f"Fc* {allowed.Fc:.5g}, Emin' {allowed.Emin:.6g}, d {side:g}",
                by_stability,
                "in",
                "3.7.1.5",
            ),
            step("l", "height by slenderness", "50 d", f"50 × {side:g}", by_slenderness, "in", "3.7.1.4"),
        ]
        cap = height_cap(size, edition) if prescriptive else None
        if cap is not None:
            limits["prescriptive cap"] = cap
            steps.append(
                step("l", f"prescriptive height, {edition}", "", "", cap, "in", "Table R507.4", "IRC")
            )
        answers.append(smallest(limits, "in", steps))
    return min(answers, key=lambda answer: answer.value)


def eccentric_utilisation(
    Fc: float, FcE: float, Fb: float, axial: float, eccentric: float, eccentricity: float, side: float
) -> float:
    """Return the interaction [1] of a post under central and eccentric load; over 1 fails.

    Fc [psi]: Fc' with C_P; FcE [psi]: buckling stress in the plane of bending; Fb [psi]: Fb';
    axial [psi]: stress of all loads together; eccentric [psi]: stress P / A of the load beside the middle;
    eccentricity [in]: of that load; side [in]: d in the plane of bending.
    (fc/Fc')2 + fe (6 e/d)(1 + 0.234 fc/FcE) / (Fb' (1 - fc/FcE)). With one load the equation is the
    standard's; with two, the eccentric part takes its own stress and the amplification of the whole.

    Source: NDS 2018 15.4.1 (Equation 15.4-1; from memory).
    """
    share = axial / FcE
    return (axial / Fc) ** 2 + eccentric * (6 * eccentricity / side) * (1 + 0.234 * share) / (
        Fb * (1 - share)
    )


def bracket_side_load(P: float, eccentricity: float, bracket_height: float, height: float) -> float:
    """Return the mid-height side load 3 P a lp / l2 [lb] that stands for a bracket's moment.

    P [lb]; eccentricity [in]: a, from the post's middle to the load; bracket_height [in]: lp, from the
    bottom; height [in]: l.
    Source: NDS 2018 15.4.2 (side brackets, in the upper quarter of the post; from memory).
    """
    return 3 * P * eccentricity * bracket_height / height**2


def post_utilisation(
    allowed: AdjustedValues,
    size: Size,
    height: float,
    central: float,
    beside: float = 0.0,
    eccentricity: float = 0.0,
) -> tuple[float, tuple[Step, ...]]:
    """Return asked over allowed [1] of a post under a central load and one at its side, and the steps.

    height [in]; central, beside [lb]; eccentricity [in]: from the post's middle to the line of the load;
    for a hanger on one face half the post and half the hanger's seat.
    Bending about the weaker axis is assumed.
    Over 1 fails. Raises RangeError where the load reaches the buckling load.

    Source: NDS 2018 3.7.1, 3.9.2, 15.4.1.
    """
    capacity = post_capacity(allowed, size, height)
    total = central + beside
    axial_share = total / capacity.value
    if beside <= 0 or eccentricity <= 0:
        line = step(
            "", "axial use", "P / P'", f"{total:.5g} / {capacity.value:.5g}", axial_share, "", "3.6.3"
        )
        return axial_share, (*capacity.steps, line)
    side = min(size.thickness, size.depth)
    FcE = column_buckling_stress(allowed.Emin, height / side)
    fc, fe = axial_stress(total, size.area), axial_stress(beside, size.area)
    if fc >= FcE:
        raise RangeError(f"{size.name}, {height:g} in tall: the load reaches its buckling load (NDS 3.9.2)")
    use = eccentric_utilisation(capacity.value / size.area, FcE, allowed.Fb, fc, fe, eccentricity, side)
    numbers = (
        f"fc {fc:.4g}, Fc' {capacity.value / size.area:.4g}, fe {fe:.4g}, e {eccentricity:g}, d {side:g}, "
    )
    numbers += f"FcE {FcE:.4g}, Fb' {allowed.Fb:.4g}"
    formula = "(fc/Fc')² + fe (6e/d)(1 + 0.234 fc/FcE) / (Fb' (1 − fc/FcE))"
    line = step("", "use with the eccentric load", formula, numbers, use, "", "15.4.1 (from memory)")
    lines = (*capacity.steps, allowed.steps["Fb"], line)
    return max(use, axial_share), lines


def rotate(size: Size) -> Size:
    """Return the size turned by a quarter: thickness and depth exchanged (one piece only).

    Raises RangeError for a built-up member.
    """
    if size.plies > 1:
        raise RangeError("only a solid piece can be turned")
    return replace(size, ply_thickness=size.depth, depth=size.ply_thickness)
