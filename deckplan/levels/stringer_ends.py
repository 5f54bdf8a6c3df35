"""The ends of a stringer: what its head puts on a hanger, what its foot puts on the ground.

People stand or snow lies all over the stair, or one heavy step stands right at the end: the larger counts, with the
dead load.
"""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.engineering.bending import bearing_capacity
from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.lumber import design_values, read_size
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Note, Rise
from deckplan.levels.stair_loads import stair_load
from deckplan.levels.stringers import STRINGER
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import SAME, Check, Source, Step, Verdict, at_most

SEAT = 1.5
"""Bearing of a stringer in its hanger [in]. Source: IRC R507.6.1, least bearing on metal."""

PAD_DEPTH = 12.0
"""How far a pad under the stringers' feet reaches along the flight [in]. Source: common practice."""

PAD_THICK = 4.0
"""Thickness of that pad, of concrete [in]. Source: common practice."""

STATICS = Source("statics", "half of the stair, or one heavy step at its end", "derived")
BEARING = Source("NDS 2018", "3.10.2", "two published copies")
SOIL = Source("IRC 2018", "R401.4.1; a landing below by R311.7.6", "two published copies")

SEAT_RULE = "stringer in its hanger"
FEET_RULE = "ground under the inner stringers' feet"


@dataclass(frozen=True, slots=True)
class EndForce:
    """What one end of an inner stringer carries [lb], with the sum and its combination."""

    value: float
    steps: tuple[Step, ...]
    combination: str


def end_force(plan: Plan, rise: Rise, apart: float, profile: Profile) -> EndForce:
    """Return what the head or the foot of an inner stringer hands on; apart [in]: between stringers.

    Source: IRC Table R301.5 and its note, by the profile; statics.
    """
    half = apart * rise.run / 144 / 2
    dead, spread, heavy = profile.dead_load_min.value, stair_load(plan, profile), profile.tread_point_load
    numbers = f"{apart:.4g} × {rise.run:.5g} / 144 / 2"
    area = Step("A", "half of what one stringer carries", "s l / 2", numbers, half, "sq ft", STATICS)
    if spread.psf * half >= heavy.value:
        value = (dead + spread.psf) * half
        line = Step("R", f"all over the stair, {spread.name}", "q A", f"({dead:g} + {spread.psf:.4g}) × {half:.4g}",
                    value, "lb", spread.source)  # fmt: skip
        return EndForce(value, (area, line), spread.name)
    value = dead * half + heavy.value
    line = Step("R", "one heavy step at its end", "D A + P", f"{dead:g} × {half:.4g} + {heavy.value:g}", value, "lb",
                heavy.source)  # fmt: skip
    return EndForce(value, (area, line), f"D + {heavy.value:g} lb on a tread")


def check_seat(plan: Plan, rise: Rise, force: EndForce) -> Check:
    """Check the head of an inner stringer in bearing on its hanger's seat.

    The seat is level and the grain is not, which only helps: the value across the grain is taken.
    """
    size = read_size(STRINGER)
    values = design_values(plan.materials.species, plan.materials.grade, size)
    allowed = adjusted(values, size, Service(incised=plan.materials.incised))
    capacity = bearing_capacity(allowed, size, SEAT)
    lines = (*force.steps, *capacity.steps)
    mark = f"{flight_mark(rise.index)}-S1"
    return at_most(
        mark, SEAT_RULE, BEARING, force.value, capacity.value, "lb", lines, combination=force.combination
    )


def heave_notes(plan: Plan, rise: Rise, inner: int) -> tuple[Note, ...]:
    """Warn of a pad that lies above the frost beside piers that go below it; inner: feet on that pad."""
    frost = plan.site.frost_depth
    if not frost or not inner:
        return ()
    feet = "the inner stringer stands" if inner == 1 else f"{inner} inner stringers stand"
    text = (
        f"{flight_mark(rise.index)}: {feet} on a pad above the frost, {format_short(frost, plan.units)} down: "
        "frost may lift the pad and not the piers beside it. Dig it as deep, or set a pier under each stringer"
    )
    return (Note("caution", text),)


def check_feet(plan: Plan, rise: Rise, apart: float, force: EndForce) -> Check:
    """Check the soil under the inner stringers, which no pier reaches: they stand on a pad as wide as the flight."""
    mark, soil = flight_mark(rise.index), plan.site.soil_bearing
    area = apart * PAD_DEPTH / 144
    pressure = force.value / area
    steps = (
        *force.steps,
        Step("A", f"of the pad under one stringer, {PAD_DEPTH:g} in along the flight", "s d",
             f"{apart:.4g} × {PAD_DEPTH:g} / 144", area, "sq ft", SOIL),
        Step("q", "pressure on the soil", "R / A", f"{force.value:.4g} / {area:.4g}", pressure, "psf", SOIL),
    )  # fmt: skip
    required = (
        f"required: the inner stringers of {mark} stand on a level pad of concrete or stone as wide as the flight, "
        f"{format_short(PAD_DEPTH, plan.units)} or more along it; no pier is under them"
    )
    weak = f"{mark}: {pressure:.0f} psf under the feet of its inner stringers: a pad that reaches farther"
    if pressure > soil * (1 + SAME):
        return at_most(mark, FEET_RULE, SOIL, pressure, soil, "psf", steps, reason=weak)
    return Check(
        mark, FEET_RULE, SOIL, pressure, soil, "psf", Verdict.PASS, steps, False, force.combination, required
    )
