"""Beams under joists: the longest span by the NDS, or by the published tables' own assumptions.

    joist          beam
|-----------------^-------|        w = q L (1 + r)^2 / 2    L: joist span, r L: its overhang beyond the beam
"""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from deckplan.engineering.answers import Answer, smallest, step
from deckplan.engineering.bending import (
    bearing_length,
    lateral_support_rule,
    uniform_span_by_bending,
    uniform_span_by_deflection,
    uniform_span_by_shear,
)
from deckplan.engineering.factors import AdjustedValues, Service, adjusted, size_factors
from deckplan.engineering.joists import AreaLoads
from deckplan.engineering.lumber import DesignValues, Size, design_values, read_size, read_species
from deckplan.errors import RangeError
from deckplan.reference import read_table
from deckplan.verdict import Source, Step

Basis = Literal["nds", "table"]

TABLE = "IRC 2015/2018 Table R507.5"
_TABLE_LOADS = AreaLoads(40.0, 10.0)
_TABLE_JOISTS = (72.0, 216.0)  # joist spans of the printed table [in]
# The printed tables' factor on bending by plies; 1.10 for two is theirs, not the NDS's: C_r needs three.
_TABLE_PLIES = {1: 1.0, 2: 1.10, 3: 1.15}
_TABLE_DEPTHS = (6, 8, 10, 12)


def tributary_width(joist_span: float, overhang: float) -> float:
    """Return the width of deck (L + a)2 / (2 L) [in] that a beam carries from joists on one side.

    joist_span [in]: between ledger and beam; overhang [in]: of the joists beyond the beam.
    Source: AWC Design Aid 6, beam overhanging one support, uniform load: R2 = w (L + a)2 / (2 L).

    >>> tributary_width(1.0, 0.25)
    0.78125
    """
    return (joist_span + overhang) ** 2 / (2 * joist_span)


def beam_span(
    species: str,
    grade: str,
    build: Size | str,
    joist_span: float,
    loads: AreaLoads | None = None,
    *,
    wet: bool = True,
    incised: bool = False,
    overhang: float | None = None,
    part: float = 360.0,
    basis: Basis = "nds",
) -> Answer:
    """Return the longest span [in] of a beam, post centre to post centre, under joists from one side.

    species, grade, build: e.g. "southern pine", "No. 2", "2-2x10"; a group gives the least of its members;
    joist_span [in]; loads [psf]; overhang [in]: of the joists beyond the beam, a quarter of their span unless
    said; part [1]: 360 for L/360; basis: "nds", strictly by the standard (simple span; shear at the support;
    L/part under the variable load with E' and, as the tables demand, under the total load with E), or
    "table", the printed table's own assumptions (no incising). A group of species inside the table's range
    never gets more than the printed table allows it.
    Governs: "bending", "shear", "deflection" or "prescriptive table". Raises RangeError on the table basis
    out of the table's range.

    Source: NDS 2018 3.3, 3.4, 3.5; IRC 2015/2018 Table R507.5 for the table basis.

    >>> round(beam_span("southern pine", "No. 2", "2-2x10", 120.0, basis="table").value)
    96
    """
    size = read_size(build) if isinstance(build, str) else build
    loads = AreaLoads() if loads is None else loads
    beyond = joist_span / 4 if overhang is None else overhang
    if joist_span <= 0 or beyond < 0 or not loads.cases():
        raise RangeError("a beam needs a joist span over 0 in, no overhang under 0 in and a load over 0 psf")
    members = read_species(species)
    outside = _out_of_table(size, grade, joist_span, beyond, loads, wet)
    if basis == "table":
        if outside:
            raise RangeError(f"{TABLE} covers only {'; '.join(outside)}: outside it, use the nds basis")
        answers = _printed(members, grade, size, joist_span)
    elif basis == "nds":
        width = tributary_width(joist_span, beyond)
        service = Service(wet=wet, incised=incised, repetitive=size.plies >= 3)
        answers = [_by_nds(member, grade, size, width, loads, service, part) for member in members]
        row = _printed_group(members)
        # longer joists than the table's never allow more than its last column does
        column = min(joist_span, _TABLE_JOISTS[1])
        if row and not _out_of_table(size, grade, column, min(beyond, column / 4), loads, wet):
            printed = _printed(row, grade, size, column)
            answers.extend(replace(answer, governs="prescriptive table") for answer in printed)
    else:
        raise RangeError(f'a basis is "nds" or "table", not "{basis}"')
    return min(answers, key=lambda answer: answer.value)


def _by_nds(
    species: str, grade: str, size: Size, width: float, loads: AreaLoads, service: Service, part: float
) -> Answer:
    values = design_values(species, grade, size)
    limits = {name: float("inf") for name in ("bending", "shear", "deflection")}
    steps: dict[str, list[Step]] = {name: [] for name in limits}
    heaviest = 0.0
    for name, variable, total, duration in loads.cases():
        allowed = adjusted(values, size, replace(service, duration=duration))
        w, v = total / 144 * width, variable / 144 * width
        load = _line_load(name, total, width, w)
        for rule, span, lines in (
            _bending(allowed.Fb, allowed.steps["Fb"], size, w, name),
            _shear(allowed.Fv, allowed.steps["Fv"], size, w, name),
            _deflection(allowed.E, allowed.steps["E"], size, v, part, f"variable load, {name}"),
            _deflection(values.E, _reference_E(values), size, w, part, f"total load, {name}, as the tables"),
        ):
            if span < limits[rule]:
                limits[rule], steps[rule] = span, [load, *lines]
        heaviest = max(heaviest, w)
    lines = [line for rule in steps.values() for line in rule]
    answer = smallest(limits, "in", tuple(dict.fromkeys(lines)))
    allowed = adjusted(values, size, service)
    return replace(answer, steps=(*answer.steps, *_ends(allowed, size, heaviest * answer.value / 2)))


def _ends(allowed: AdjustedValues, size: Size, reaction: float) -> tuple[Step, ...]:
    """What the ends need: bearing on the post, and support sideways."""
    needed = bearing_length(allowed, size, reaction)
    numbers = f"{reaction:.5g} / ({allowed.Fc_perp:.4g} × {size.thickness:g})"
    ratio = size.nominal_depth / (size.plies * size.nominal_thickness)
    words = f"depth over breadth; C_L = 1 with {lateral_support_rule(size)}"
    return (
        allowed.steps["Fc_perp"],
        step("lb", "bearing length needed at an end", "R / (Fc_perp' b)", numbers, needed, "in", "3.10.2"),
        step("d/b", words, "nominal", size.name, ratio, "", "4.4.1.2"),
    )


def _printed_group(members: tuple[str, ...]) -> tuple[str, ...]:
    """Species of the printed row that speaks for these: a single one is held to the least of its group."""
    if len(members) > 1:
        return members
    rows = read_table("reference", "species_groups.csv").where(
        table="beam", member=members[0].strip().lower()
    )
    return read_species(rows[0]["group"]) if rows else ()


def _printed(members: tuple[str, ...], grade: str, size: Size, joist_span: float) -> list[Answer]:
    """The printed table's answers for each species and each build that its row names."""
    builds = _row_of(size, len(members) > 1)
    return [_by_table(member, grade, build, joist_span) for member in members for build in builds]


def _by_table(species: str, grade: str, size: Size, joist_span: float) -> Answer:
    """The printed table's sum: C_F of 2x even for 4x10 and 4x12, C_M as in the NDS, no C_i, E as tabulated.

    No C_i: 82 of the 84 cells of the second species group, recalled, come out without it, 73 with it.
    """
    values = design_values(species, grade, size)
    service = Service()
    twin = replace(size, nominal_thickness=2)
    if values.table == "4A":
        allowed = adjusted(values, twin, service)
        note = f"C_F of 2x: {size_factors(values, twin)[0]:g}"
    else:
        allowed = adjusted(values, size, service)
        note = "C_F in the tabulated value"
    plies = _TABLE_PLIES[size.plies]
    # 4x8 keeps the 4x factor: it reproduces the printed rows, as 1.1 and 1.0 do for 4x10 and 4x12
    four = 1.3 / 1.2 if values.table == "4A" and size.ply == "4x8" else 1.0
    Fb = allowed.Fb * plies * four
    width = tributary_width(joist_span, joist_span / 4)
    total = _TABLE_LOADS.live + _TABLE_LOADS.dead
    w = total / 144 * width
    bend = Step(
        "Fb'",
        f"bending value of the table ({note})",
        "Fb' × factor for plies",
        f"{allowed.Fb:.5g} × {plies:g}",
        Fb,
        "psi",
        Source(TABLE, "derived", "derived"),
    )
    rules = (
        _bending(Fb, bend, size, w, "D + L"),
        _shear(allowed.Fv, allowed.steps["Fv"], size, w, "D + L"),
        _deflection(values.E, _reference_E(values), size, w, 360.0, "total load"),
    )
    steps = [_line_load("D + L", total, width, w), *(line for _, _, lines in rules for line in lines)]
    return smallest({rule: span for rule, span, _ in rules}, "in", steps)


def _out_of_table(
    size: Size, grade: str, joist_span: float, overhang: float, loads: AreaLoads, wet: bool
) -> list[str]:
    """What the table covers and the case does not keep; empty inside the table's range."""
    low, high = _TABLE_JOISTS
    return [
        words
        for words, ok in (
            (f"joist spans of {low:g} to {high:g} in", low - 1e-6 <= joist_span <= high + 1e-6),
            ("joists that overhang by a quarter of their span at most", overhang <= joist_span / 4 + 1e-6),
            ("40 psf live and 10 psf dead, no snow", loads == _TABLE_LOADS),
            ("wet service", wet),
            ("grade No. 2", grade.lower().replace(".", "").replace(" ", "") in ("no2", "2", "#2", "no1/no2")),
            ("6 to 12 in deep: one 3x or 4x, two or three 2x", _is_row(size)),
        )
        if not ok
    ]


def _is_row(size: Size) -> bool:
    solid = size.plies == 1 and size.nominal_thickness in (3, 4)
    built = size.plies in (2, 3) and size.nominal_thickness == 2
    return (solid or built) and size.nominal_depth in _TABLE_DEPTHS


def _row_of(size: Size, group: bool) -> tuple[Size, ...]:
    """The printed group rows read "3x8 or 2-2x8": the shorter span of both."""
    if group and size.plies == 2:
        return size, read_size(f"3x{size.nominal_depth}")
    if group and size.plies == 1 and size.nominal_thickness == 3:
        return size, read_size(f"2-2x{size.nominal_depth}")
    return (size,)


def _line_load(name: str, total: float, width: float, w: float) -> Step:
    numbers = f"{total:g} × {width:.5g} / 144"
    return step("w", f"line load, {name}", "q × tributary width / 144", numbers, w, "lb/in", "2.4", "ASCE 7")


def _reference_E(values: DesignValues) -> Step:  # noqa: N802
    return Step(
        "E", "modulus of elasticity, not reduced", "E", f"{values.E:g}", values.E, "psi", values.source
    )


def _bending(Fb: float, given: Step, size: Size, w: float, name: str) -> tuple[str, float, list[Step]]:
    span = uniform_span_by_bending(Fb, size.section_modulus, w)
    numbers = f"√(8 × {Fb:.5g} × {size.section_modulus:.5g} / {w:.4g})"
    return (
        "bending",
        span,
        [given, step("L", f"span by bending, {name}", "√(8 Fb' S / w)", numbers, span, "in", "3.3")],
    )


def _shear(Fv: float, given: Step, size: Size, w: float, name: str) -> tuple[str, float, list[Step]]:
    span = uniform_span_by_shear(Fv, size.area, w)
    numbers = f"4 × {Fv:.5g} × {size.area:.5g} / (3 × {w:.4g})"
    return (
        "shear",
        span,
        [given, step("L", f"span by shear, {name}", "4 Fv' A / (3 w)", numbers, span, "in", "3.4")],
    )


def _deflection(
    E: float, given: Step, size: Size, w: float, part: float, name: str
) -> tuple[str, float, list[Step]]:
    span = uniform_span_by_deflection(E, size.moment_of_inertia, w, part) if w > 0 else float("inf")
    numbers = f"(384 × {E:.6g} × {size.moment_of_inertia:.5g} / (5 × {w:.4g} × {part:g}))^(1/3)"
    words = f"span by deflection L/{part:g}, {name}"
    return (
        "deflection",
        span,
        [given, step("L", words, "(384 E I / (5 w n))^(1/3)", numbers, span, "in", "3.5")],
    )
