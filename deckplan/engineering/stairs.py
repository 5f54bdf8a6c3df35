"""Stringers, treads and guards: concentrated loads of people on small members."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.engineering.answers import step
from deckplan.engineering.bending import bending_stress, shear_stress
from deckplan.engineering.factors import AdjustedValues, root
from deckplan.errors import RangeError
from deckplan.verdict import Step

TREAD_LOAD = 300.0  # [lb] on 4 sq in, IRC Table R301.5 note
TREAD_PATCH = 2.0  # [in] side of that area
GUARD_LOAD = 200.0  # [lb] at the top of a guard in any direction, IRC Table R301.5


@dataclass(frozen=True, slots=True)
class Stress:
    """Stresses that a load makes in a member [psi], its deflection [in], and the sum."""

    bending: float
    shear: float
    deflection: float
    steps: tuple[Step, ...]


def throat_depth(depth: float, riser: float, tread: float) -> float:
    """Return the depth [in] left in a cut stringer, square to its lower edge: d - r t / sqrt(r2 + t2).

    depth [in]: of the uncut board; riser, tread [in]: of the notch.
    Raises RangeError where nothing is left. Source: geometry.

    >>> round(throat_depth(11.25, 7.0, 11.0), 2)
    5.34
    """
    left = depth - riser * tread / root(riser**2 + tread**2)
    if left <= 0 * depth:
        raise RangeError("the notch leaves nothing of the stringer")
    return left


def stringer_stress(
    thickness: float, depth: float, run: float, slope: float, line_load: float, E: float, point: float = 0.0
) -> Stress:
    """Return the stresses of a stringer that spans a horizontal run.

    thickness [in]; depth [in]: whole for a solid stringer, the throat for a cut one; run [in]: horizontal
    distance between supports; slope [1]: rise over run; line_load [lb/in]: per horizontal length; E [psi]:
    adjusted; point [lb]: one load at mid-span, not with the line load in one check unless wanted.
    The sloped member carries the same moment as its horizontal projection; its length, not the run, sags.

    Source: statics (sloped simple beam); AWC Design Aid 6.
    """
    if run <= 0 or depth <= 0:
        raise RangeError("a stringer needs a run and a depth over 0 in")
    area, S, inertia = thickness * depth, thickness * depth**2 / 6, thickness * depth**3 / 12
    length = run * root(1 + slope**2)
    cosine = run / length
    moment = line_load * run**2 / 8 + point * run / 4
    shear = (line_load * run / 2 + point / 2) * cosine
    across = line_load * cosine**2  # load per inch of slope, square to the stringer
    sag = 5 * across * length**4 / (384 * E * inertia) + point * cosine * length**3 / (48 * E * inertia)
    fb, fv = bending_stress(moment, S), shear_stress(shear, area)
    steps = (
        _section("S", "section modulus", "b d²/6", f"{thickness:g} × {depth:.5g}²/6", S, "in³"),
        step(
            "M",
            "moment",
            "w l²/8 + P l/4",
            f"{line_load:.4g} × {run:g}²/8 + {point:g} × {run:g}/4",
            moment,
            "lb in",
            "",
            "statics",
        ),
        step("fb", "bending stress", "M / S", f"{moment:.5g} / {S:.4g}", fb, "psi", "3.3.2"),
        *_sloped_shear(
            (thickness, depth),
            slope,
            shear,
            fv,
            step(
                "V",
                "shear square to the stringer",
                "(w l/2 + P/2) cos",
                f"({line_load:.4g} × {run:g}/2 + {point:g}/2) × {cosine:.4g}",
                shear,
                "lb",
                "",
                "statics",
            ),
        ),
        _section("I", "moment of inertia", "b d³/12", f"{thickness:g} × {depth:.5g}³/12", inertia, "in⁴"),
        step(
            "L", "length along the slope", "l / cos", f"{run:g} / {cosine:.4g}", length, "in", "", "statics"
        ),
        step(
            "wn",
            "load square to the stringer, per inch of slope",
            "w cos²",
            f"{line_load:.4g} × {cosine:.4g}²",
            across,
            "lb/in",
            "",
            "statics",
        ),
        step(
            "Δ",
            "deflection square to the stringer",
            "5 wn L⁴/(384 E' I) + P cos L³/(48 E' I)",
            f"5 × {across:.4g} × {length:.5g}⁴/(384 × {E:g} × {inertia:.4g}) + "
            f"{point:g} × {cosine:.4g} × {length:.5g}³/(48 × {E:g} × {inertia:.4g})",
            sag,
            "in",
            "",
            "AWC Design Aid 6",
        ),
    )
    return Stress(fb, fv, sag, steps)


def stringer_shear(
    thickness: float, depth: float, run: float, slope: float, line_load: float, point: float
) -> tuple[float, tuple[Step, ...]]:
    """Return the shear stress [psi] of a stringer with one load a depth away from its end, and the sum.

    thickness [in]; depth [in]: whole, or the throat of a cut one; run [in]: horizontal; slope [1]; line_load [lb/in]:
    per horizontal length; point [lb]. Nearer than its depth the load goes straight into the support.

    Source: NDS 2018 3.4.3.1; statics.
    """
    area, away = thickness * depth, min(depth, run / 2)
    cosine = 1 / root(1 + slope**2)
    shear = (line_load * run / 2 + point * (1 - away / run)) * cosine
    fv = shear_stress(shear, area)
    return fv, _sloped_shear(
        (thickness, depth), slope, shear, fv,
        step("V", "shear square to the stringer, the load a depth from its end", "(w l/2 + P (1 − d/l)) cos",
             f"({line_load:.4g} × {run:g}/2 + {point:g} × (1 − {away:.4g}/{run:g})) × {cosine:.4g}", shear, "lb",
             "3.4.3.1"),
    )  # fmt: skip


def _sloped_shear(
    section: tuple[float, float], slope: float, shear: float, fv: float, force: Step
) -> tuple[Step, ...]:
    """Return the sum of a stringer's shear stress: section b by d [in], slope [1], the force V with its own step."""
    thickness, depth = section
    area, cosine = thickness * depth, 1 / root(1 + slope**2)
    return (
        _section("A", "section", "b d", f"{thickness:g} × {depth:.5g}", area, "in²"),
        step(
            "cos",
            "cosine of the slope",
            "1 / √(1 + (R/T)²)",
            f"1 / √(1 + {slope:.4g}²)",
            cosine,
            "",
            "",
            "statics",
        ),
        force,
        step("fv", "shear stress", "3 V / (2 A)", f"1.5 × {shear:.4g} / {area:.4g}", fv, "psi", "3.4.2"),
    )


def _section(symbol: str, words: str, formula: str, numbers: str, value: float, unit: str) -> Step:
    return step(symbol, f"{words}, b thick, d deep", formula, numbers, value, unit, "", "geometry")


def tread_stress(
    thickness: float, width: float, span: float, E: float, load: float = TREAD_LOAD, boards: int = 1
) -> Stress:
    """Return the stresses of a tread board, flat, under a person's step at the worst place.

    thickness [in]; width [in]: of one board; span [in]: clear between stringers; E [psi]: adjusted; load [lb]:
    spread over 2 in of the span; boards: that share the load (1: the patch stands on one board).
    Bending with the load in the middle, shear with it against a stringer.

    Source: IRC Table R301.5 note (300 lb on 4 sq in); statics.
    """
    if span <= TREAD_PATCH:
        raise RangeError(f"a tread spans more than {TREAD_PATCH:g} in, not {span:g}")
    b = width * boards
    area, S, inertia = b * thickness, b * thickness**2 / 6, b * thickness**3 / 12
    moment = load / 4 * (span - TREAD_PATCH / 2)
    shear = load * (span - TREAD_PATCH / 2) / span
    sag = load * span**3 / (48 * E * inertia)
    fb, fv = bending_stress(moment, S), shear_stress(shear, area)
    steps = (
        step(
            "M",
            "moment, load over 2 in at mid-span",
            "P/4 (l − 1)",
            f"{load:g}/4 × ({span:g} − 1)",
            moment,
            "lb in",
            "",
            "statics",
        ),
        step("fb", "bending stress", "M / S", f"{moment:.5g} / {S:.4g}", fb, "psi", "3.3.2"),
        step(
            "V",
            "shear, load beside the stringer",
            "P (l − 1) / l",
            f"{load:g} × ({span:g} − 1) / {span:g}",
            shear,
            "lb",
            "",
            "statics",
        ),
        step(
            "fv",
            "shear stress, load beside the stringer",
            "3 V / (2 A)",
            f"1.5 × {shear:.4g} / {area:.4g}",
            fv,
            "psi",
            "3.4.2",
        ),
        step(
            "Δ",
            "deflection, load at mid-span",
            "P l³/(48 E I)",
            f"{load:g} × {span:g}³ / (48 × {E:g} × {inertia:.4g})",
            sag,
            "in",
            "",
            "AWC Design Aid 6",
        ),
    )
    return Stress(fb, fv, sag, steps)


@dataclass(frozen=True, slots=True)
class GuardPost:
    """What a load at the top of a guard asks of the post and of its two fasteners at the rim.

    moment [lb in]: at the top fastener; shear [lb]: of the load; outward, inward [lb]: largest pull on a
    fastener when the load pushes out and in; steps: the sum.
    """

    moment: float
    shear: float
    outward: float
    inward: float
    steps: tuple[Step, ...]


def guard_post(height: float, to_upper: float, apart: float, load: float = GUARD_LOAD) -> GuardPost:
    """Return the forces that a load at the top of a guard puts on a post at the face of the frame.

    height [in]: of the load above the boards; to_upper [in]: from the top of the boards down to the upper
    fastener; apart [in]: between the upper and the lower fastener; load [lb].

        load ->|  h                push out: the upper fastener pulls T = P (h + u + a) / a
        _______|__ boards          push in: the lower one pulls    T = P (h + u) / a,
               o  u                         the post's foot bears on the rim
               o  a                each time the other holds the difference

    Source: IRC Table R301.5 (200 lb at the top in any direction); statics.

    >>> round(guard_post(36.0, 3.0, 5.0).outward)
    1760
    """
    if height <= 0 or apart <= 0 or to_upper < 0:
        raise RangeError("a guard post needs a height and a distance between its fasteners over 0 in")
    arm = height + to_upper
    moment = load * arm
    outward, inward = load * (arm + apart) / apart, load * arm / apart
    steps = (
        step(
            "M",
            "moment at the upper fastener",
            "P (h + u)",
            f"{load:g} × ({height:g} + {to_upper:g})",
            moment,
            "lb in",
            "Table R301.5",
            "IRC",
        ),
        step(
            "T",
            "pull on the upper fastener, push outwards",
            "P (h + u + a) / a",
            f"{load:g} × {arm + apart:g} / {apart:g}",
            outward,
            "lb",
            "",
            "statics",
        ),
        step(
            "T",
            "pull on the lower fastener, push inwards",
            "P (h + u) / a",
            f"{load:g} × {arm:g} / {apart:g}",
            inward,
            "lb",
            "",
            "statics",
        ),
    )
    return GuardPost(moment, load, outward, inward, steps)


def guard_post_use(
    allowed: AdjustedValues, thickness: float, depth: float, moment: float
) -> tuple[float, tuple[Step, ...]]:
    """Return the bending use [1] of a guard post under its moment [lb in], over 1 fails, and the steps.

    allowed: with the C_D the profile grants; thickness, depth [in]: depth in the direction of the load, less
    what bolt holes or notches take. Source: NDS 2018 3.3.
    """
    S = thickness * depth**2 / 6
    fb = bending_stress(moment, S)
    use = fb / allowed.Fb
    return use, (
        step(
            "fb", "bending stress of the guard post", "M / S", f"{moment:.5g} / {S:.4g}", fb, "psi", "3.3.2"
        ),
        allowed.steps["Fb"],
        step("", "use in bending", "fb / Fb'", f"{fb:.4g} / {allowed.Fb:.4g}", use, "", "3.3"),
    )
