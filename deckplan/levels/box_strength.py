"""The frame of a box step on the ground: its rims span between piers, its joists from rim to rim.

On boards a frame lies on the platform all along and bends nowhere; on piers it is a small deck of its own.
"""

from __future__ import annotations

from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import design_values, read_size
from deckplan.engineering.stairs import Stress, stringer_shear, stringer_stress
from deckplan.levels.box_steps import PLY, BoxTier
from deckplan.levels.stair_loads import stair_load
from deckplan.levels.stringer_strength import AS_JOISTS
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, at_most

NDS = Source("NDS 2018", "3.3, 3.4", "two published copies")
STATICS = Source("statics", "simple span, one heavy step or people all over it", "derived")


def check_box_frame(
    plan: Plan, mark: str, tier: BoxTier, piers: float, profile: Profile
) -> tuple[Check, ...]:
    """Check the rims and the joists of the lowest frame of a box that stands on piers.

    mark: of the flight; piers [in]: farthest that two of them stand apart along a rim. Ripped to the frame's height,
    the wood keeps the values of the size it is ripped from (common practice; a grade holds for the whole piece alone).
    """
    clear = tier.depth - 2 * PLY
    apart = max(b - a for a, b in zip(tier.joists, tier.joists[1:], strict=False))
    return (
        *_check(plan, f"{mark}-R1", "rim of a box between piers", tier, piers, tier.depth / 2, profile),
        *_check(plan, f"{mark}-J1", "joist of a box", tier, clear, apart, profile),
    )


def _check(
    plan: Plan, mark: str, what: str, tier: BoxTier, span: float, width: float, profile: Profile
) -> tuple[Check, ...]:
    """Check one piece that spans so far [in] and carries a strip so wide [in]; of two loads the harder."""
    size = read_size(tier.size)
    values = design_values(plan.materials.species, plan.materials.grade, size)
    allowed = adjusted(values, size, Service(incised=plan.materials.incised))
    most, heavy = stair_load(plan, profile), profile.tread_point_load
    dead, spread = profile.dead_load_min.value * width / 144, most.psf * width / 144
    crowd = stringer_stress(PLY, tier.height, span, 0.0, dead + spread, allowed.E)
    person = stringer_stress(PLY, tier.height, span, 0.0, dead, allowed.E, heavy.value)
    sag = stringer_stress(PLY, tier.height, span, 0.0, spread, allowed.E)
    near, lines = stringer_shear(PLY, tier.height, span, 0.0, dead, heavy.value)
    hard, part = person.bending > crowd.bending, profile.joist_live_deflection.value

    def load(alone: bool) -> Step:
        psf = profile.dead_load_min.value + (0.0 if alone else most.psf)
        words = "dead load" if alone else "dead load and what lies all over the step"
        numbers, value = f"{psf:g} × {width:.4g} / 144", psf * width / 144
        return Step("w", f"{words}, on one piece", "q s / 144", numbers, value, "lb/in", STATICS)

    def of(stress: Stress, *symbols: str) -> tuple[Step, ...]:
        return tuple(step for step in stress.steps if step.symbol in symbols)

    step = f"D + {heavy.value:g} lb"
    bends = person if hard else crowd
    shears = near > crowd.shear
    cure = f"{what}: {tier.height:.3g} in of {tier.size} on {span:.4g} in: higher risers, or more piers"
    return (
        at_most(mark, f"bending, {what}", NDS, bends.bending, allowed.Fb, "psi",
                (load(hard), *of(bends, "S", "M", "fb"), allowed.steps["Fb"]), combination=step if hard else most.name,
                reason=cure),
        at_most(mark, f"shear, {what}", NDS, near if shears else crowd.shear, allowed.Fv, "psi",
                (load(shears), *(lines if shears else of(crowd, "A", "cos", "V", "fv")), allowed.steps["Fv"]),
                combination=step if shears else most.name, reason=cure),
        at_most(mark, f"deflection, {what}", AS_JOISTS, sag.deflection, span / part, "in",
                (*of(sag, "I", "wn", "L"), allowed.steps["E"], sag.steps[-1],
                 Step("Δ max", "allowed", f"l / {part:g}", f"{span:.5g} / {part:g}", span / part, "in", AS_JOISTS)),
                combination=most.name.removeprefix("D + "), reason=cure),
    )  # fmt: skip
