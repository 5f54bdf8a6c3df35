"""Whether the boards of a tread carry one heavy step: wood by a sum, composites by their makers' own span.

::

          300 lb on 4 sq in
               |
        =======v========   board, flat, one of the tread's
        |      span     |  clear between two stringers, or two joists of a box
"""

from __future__ import annotations

from dataclasses import replace

from deckplan.engineering.factors import AdjustedValues, Service, adjusted
from deckplan.engineering.lumber import Size, design_values, read_size, size_names
from deckplan.engineering.stairs import TREAD_PATCH, Stress, tread_stress
from deckplan.levels.box_steps import PLY
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, at_most, not_applicable

MAKER = Source("decking", "span of steps by the boards' maker, as the plan states it", "the plan")
GEOMETRY = Source("geometry", "", "derived")
NDS = Source("NDS 2018", "3.3, 3.4", "two published copies")

TREAD_DEFLECTION = 288.0
"""A tread sinks at most its span over this under the concentrated load. Source: Wisconsin SPS 320-325 Appendix B,
Table 7 note 1 (one published copy); the deck guide that it follows says the same (from memory)."""

SINKS = Source("Wisconsin SPS 320-325", "Appendix B, Table 7 note 1", "one published copy")

DIMENSION_LUMBER = 1.5
"""Dressed thickness from which design values are published [in]; thinner boards borrow them. Source: NDS Supplement."""

RULE = "tread under one heavy step"


def check_treads(
    plan: Plan, mark: str, apart: float, narrowest: float, profile: Profile
) -> tuple[Check, ...]:
    """Check the boards of a flight's treads, or of a box's top, where their span is largest.

    mark: of the board that speaks for all; apart [in]: middle to middle of the pieces under them, 1-1/2 in thick;
    narrowest [in]: width of the narrowest board, on which the patch of the load stands whole where it is 2 in or more.
    Wood: one board alone, flat, wet, no increase for duration; its own weight, a hundredth of the load, is left out, as
    the printed tread sizes come out with it. Species and grade are those of the frame: the plan names no others.

    Source: IRC Table R301.5 note, by the profile; NDS 2018 3.3, 3.4.
    """
    decking, load = plan.materials.decking, profile.tread_point_load
    if decking.kind != "wood":
        return (
            at_most(mark, f"{RULE}, span by the boards' maker", MAKER, apart, decking.spacing_step, "in"),
        )
    span = apart - PLY
    if span <= TREAD_PATCH:
        reason = f"{span:.3g} in clear between the pieces under it: the load stands on them"
        return (not_applicable(mark, RULE, load.source, reason),)
    size = _sold_as(decking.width)
    values = design_values(plan.materials.species, plan.materials.grade, size)
    allowed = adjusted(values, size, Service(incised=plan.materials.incised, flat=True))
    stress = tread_stress(decking.thickness, narrowest, span, allowed.E, load.value)
    lead = (
        Step("P", f"on {TREAD_PATCH:g} x {TREAD_PATCH:g} in", "", "", load.value, "lb", load.source),
        Step("l", "clear span of the board", "apart − 1 1/2", f"{apart:.5g} − {PLY:g}", span, "in", GEOMETRY),
    )
    return _of_wood(mark, lead, stress, allowed, (narrowest, decking.thickness), span)


def _of_wood(
    mark: str,
    lead: tuple[Step, ...],
    stress: Stress,
    allowed: AdjustedValues,
    section: tuple[float, float],
    span: float,
) -> tuple[Check, ...]:
    """Compare a wood board's stresses and its sag with what they may be; section: width and thickness [in]."""
    width, thickness = section
    steps = {step.symbol: step for step in stress.steps}
    S, inertia, limit = width * thickness**2 / 6, width * thickness**3 / 12, span / TREAD_DEFLECTION
    modulus = Step("S", "of the board, flat", "b t²/6", f"{width:.4g} × {thickness:g}²/6", S, "in³", GEOMETRY)
    bent = Step(
        "I", "of the board, flat", "b t³/12", f"{width:.4g} × {thickness:g}³/12", inertia, "in⁴", GEOMETRY
    )
    narrow = (
        f"a board {width:.3g} in wide, {thickness:g} in thick spans {span:.4g} in: closer pieces under it "
    )
    narrow += "(decking.spacing_step), thicker boards, or a tread that whole boards cover"
    most = Step(
        "Δ max",
        "allowed",
        f"l / {TREAD_DEFLECTION:g}",
        f"{span:.5g} / {TREAD_DEFLECTION:g}",
        limit,
        "in",
        SINKS,
    )
    sums = (
        ("bending", NDS, stress.bending, allowed.Fb, "psi",
         (steps["M"], modulus, steps["fb"], _borrowed(allowed, "Fb", thickness))),
        ("shear", NDS, stress.shear, allowed.Fv, "psi", (steps["V"], steps["fv"], _borrowed(allowed, "Fv", thickness))),
        ("deflection", SINKS, stress.deflection, limit, "in",
         (_borrowed(allowed, "E", thickness), bent, steps["Δ"], most)),
    )  # fmt: skip
    return tuple(
        at_most(mark, f"{RULE}, {name}", source, asked, can, unit, (*lead, *lines), reason=narrow)
        for name, source, asked, can, unit, lines in sums
    )


def _borrowed(allowed: AdjustedValues, symbol: str, thickness: float) -> Step:
    """Return the step behind a design value, and say so where boards thinner than 2 in lumber borrow it."""
    step = allowed.steps[symbol]
    if thickness >= DIMENSION_LUMBER - 1e-9:
        return step
    words = f"{step.words}, borrowed from lumber 2 in thick: the boards' own grade governs"
    source = Source(step.source.document, step.source.clause, "common practice for boards 5/4 in thick")
    return replace(step, words=words, source=source)


def _sold_as(width: float) -> Size:
    """Return the lumber 2 in thick as wide as a board [in], or the next wider one; the widest for wider boards."""
    sizes = [read_size(name) for name in size_names() if name.startswith("2x")]
    return next((size for size in sizes if size.depth >= width - 0.01), sizes[-1])
