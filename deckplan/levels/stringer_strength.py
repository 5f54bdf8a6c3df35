"""Whether stringers are strong enough: people all over the stair, or one heavy step in its middle."""

from __future__ import annotations

from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import design_values, read_size
from deckplan.engineering.stairs import Stress, stringer_shear, stringer_stress
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Rise
from deckplan.levels.stair_loads import stair_load
from deckplan.levels.stringers import STRINGER, lay_out_stringer
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, at_most

_THICKNESS = 1.5

AS_JOISTS = Source("common practice, as for joists", "no limit for stringers is published", "common practice")
STATICS = Source("statics", "", "derived")


def check_strength(plan: Plan, rise: Rise, spacing: float, profile: Profile) -> tuple[Check, ...]:
    """Check an inner stringer in bending, shear and deflection.

    spacing [in]: between stringers, the width each carries. Cut where the profile's span for cut stringers holds, with
    the throat for its depth, else solid. Two loads, never together: people and snow over the stair's area, or the
    concentrated one of a tread, all of it on one stringer: at mid-span for bending, a depth from its end for shear.
    Wet, no increase for duration.

    No deflection limit for stringers is published: that of joists under live load is taken (common practice).

    Source: NDS 2018 3.3, 3.4; IRC Table R301.5, by the profile.
    """
    layout = lay_out_stringer(rise.rise, rise.risers, rise.tread, plan.materials.decking.thickness)
    cut = rise.run <= profile.stringer_run_max_cut.value
    depth = layout.throat if cut else layout.depth
    size = read_size(STRINGER)
    values = design_values(plan.materials.species, plan.materials.grade, size)
    allowed = adjusted(values, size, Service(incised=plan.materials.incised))
    wide = spacing / 144  # psf on this width to lb per inch of run
    most = stair_load(plan, profile)
    dead, live = profile.dead_load_min.value * wide, most.psf * wide
    slope = rise.riser / rise.tread
    point = profile.tread_point_load.value
    spread = stringer_stress(_THICKNESS, depth, rise.run, slope, dead + live, allowed.E)
    heavy = stringer_stress(_THICKNESS, depth, rise.run, slope, dead, allowed.E, point)
    sag = stringer_stress(_THICKNESS, depth, rise.run, slope, live, allowed.E)
    part = profile.joist_live_deflection.value
    words = f"deflection allowed, l/{part:g} as for joists"
    allow = Step("", words, "l / n", f"{rise.run:g} / {part:g}", rise.run / part, "in", AS_JOISTS)
    mark = f"{flight_mark(rise.index)}-S1"
    kind = "cut" if cut else "solid"
    bending = max((spread, heavy), key=lambda stress: stress.bending)
    near, lines = stringer_shear(_THICKNESS, depth, rise.run, slope, dead, point)
    hard = near > spread.shear

    def load(of: object) -> str:
        return f"D + {point:g} lb on a tread" if of is heavy else most.name

    def sum_of(stress: Stress, *symbols: str) -> tuple[Step, ...]:
        return tuple(step for step in stress.steps if step.symbol in symbols)

    def on_one(words: str, psf: float) -> Step:
        numbers = f"{psf:g} × {spacing:.4g} / 144"
        return Step("w", f"{words} on one stringer", "q s / 144", numbers, psf * wide, "lb/in", STATICS)

    def weight(of: Stress) -> Step:
        if of is heavy:
            return on_one("dead load", profile.dead_load_min.value)
        return on_one("dead load, people and snow", profile.dead_load_min.value + most.psf)

    nds = Source("NDS 2018", "3.3, 3.4", "two published copies")
    return (
        at_most(mark, f"bending, {kind} stringer", nds, bending.bending, allowed.Fb, "psi",
                (weight(bending), *sum_of(bending, "S", "M", "fb"), allowed.steps["Fb"]), combination=load(bending)),
        at_most(mark, f"shear, {kind} stringer", nds, near if hard else spread.shear, allowed.Fv, "psi",
                (weight(heavy if hard else spread), *(lines if hard else sum_of(spread, "A", "cos", "V", "fv")),
                 allowed.steps["Fv"]), combination=load(heavy if hard else spread)),
        at_most(mark, f"deflection, {kind} stringer", AS_JOISTS, sag.deflection, rise.run / part, "in",
                (on_one("live load and snow", most.psf), *sum_of(sag, "cos", "I", "L", "wn"),
                 allowed.steps["E"], sag.steps[-1], allow), combination=most.name.removeprefix("D + ")),
    )  # fmt: skip
