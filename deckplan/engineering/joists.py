"""Joists: the longest span and overhang that strength, stiffness and the tables' cap allow."""

from __future__ import annotations

from dataclasses import dataclass, replace

from deckplan.engineering.answers import Answer, smallest, step
from deckplan.engineering.bending import (
    bearing_length,
    uniform_span_by_bending,
    uniform_span_by_deflection,
    uniform_span_by_shear,
)
from deckplan.engineering.factors import DURATIONS, AdjustedValues, Service, adjusted, root
from deckplan.engineering.lumber import Size, design_values, read_size, read_species
from deckplan.errors import RangeError
from deckplan.verdict import Step

JOIST_CAP = 216.0  # [in] AWC DCA6 Table 2 note: joist length limit 18 ft
TIP_LOAD = 220.0  # [lb] AWC DCA6 Table 2 note
TIP_ALLOWANCE = 3.0  # [in] inferred: reproduces all 36 printed overhangs; without it 10
WIDEST_REPETITIVE = 24.0  # [in] NDS 2018 4.3.9


@dataclass(frozen=True, slots=True)
class AreaLoads:
    """Loads on a deck's surface [psf].

    concurrent: whether snow and live load also act together at three quarters each (ASCE 7-16 2.4.1); the
    prescriptive deck tables take one or the other.
    """

    live: float = 40.0
    dead: float = 10.0
    snow: float = 0.0
    concurrent: bool = False

    def cases(self) -> tuple[tuple[str, float, float, float], ...]:
        """Return the combinations: name, variable part [psf], total [psf], C_D [1]."""
        cases = [("D + L", self.live, self.live + self.dead, DURATIONS["live"])]
        if self.snow > 0:
            cases.append(("D + S", self.snow, self.snow + self.dead, DURATIONS["snow"]))
        if self.snow > 0 and self.concurrent:
            both = 0.75 * (self.live + self.snow)
            cases.append(("D + 0.75 L + 0.75 S", both, both + self.dead, DURATIONS["snow"]))
        return tuple(case for case in cases if case[2] > 0)


def joist_span(
    species: str,
    grade: str,
    size: Size | str,
    spacing: float,
    loads: AreaLoads | None = None,
    *,
    wet: bool = True,
    incised: bool = False,
    part: float = 360.0,
    cap: float = JOIST_CAP,
) -> Answer:
    """Return the longest clear span [in] of a joist on two supports, not counting its overhang.

    species: one, or a group such as "Douglas fir-larch, hem-fir, spruce-pine-fir" (the least over its
    members); spacing [in]: on centre; loads [psf]; wet: over 19 % moisture, as outdoors; incised: for
    treatment; part [1]: 360 for L/360 under the variable load; cap [in]: longest joist of the tables.
    Governs: "bending", "deflection", "shear" or "cap". The bearing that the span needs is a step: it is made
    longer, not the joist shorter. Raises InputError, RangeError for names and figures that make no joist.

    Source: NDS 2018 3.3, 3.4, 3.5; reproduces AWC DCA6-2012 Table 2 to the inch.

    >>> answer = joist_span("southern pine", "No. 2", "2x10", 16.0)
    >>> round(answer.value), answer.governs
    (168, 'bending')
    """
    size = read_size(size) if isinstance(size, str) else size
    loads = AreaLoads() if loads is None else loads
    if not spacing > 0 or not loads.cases():
        raise RangeError("a joist needs a spacing over 0 in and a load over 0 psf")
    service = Service(wet=wet, incised=incised, repetitive=spacing <= WIDEST_REPETITIVE)
    answers = [
        _span_of(member, grade, size, spacing, loads, service, part, cap) for member in read_species(species)
    ]
    return min(answers, key=lambda answer: answer.value)


def _span_of(
    species: str,
    grade: str,
    size: Size,
    spacing: float,
    loads: AreaLoads,
    service: Service,
    part: float,
    cap: float,
) -> Answer:
    values = design_values(species, grade, size)
    limits = {"bending": float("inf"), "deflection": float("inf"), "shear": float("inf"), "cap": cap}
    steps: dict[str, list[Step]] = {name: [] for name in limits}
    heaviest = 0.0
    for name, variable, total, duration in loads.cases():
        allowed = adjusted(values, size, replace(service, duration=duration))
        for rule, span, lines in _rules(allowed, size, spacing, name, variable, total, part):
            if span < limits[rule]:
                limits[rule], steps[rule] = span, lines
        heaviest = max(heaviest, total)
    steps["cap"].append(
        step("L", "longest joist of the tables", "", "", cap, "in", "Table 2 note", "AWC DCA6-2012")
    )
    answer = smallest(limits, "in", [line for lines in steps.values() for line in lines])
    at_rest = adjusted(values, size, service)
    reaction = heaviest / 144 * spacing * answer.value / 2
    needed = bearing_length(at_rest, size, reaction)
    numbers = f"{reaction:.4g} / ({at_rest.Fc_perp:.4g} × {size.thickness:g})"
    bearing = step("lb", "bearing length needed", "R / (Fc_perp' b)", numbers, needed, "in", "3.10.2")
    return replace(answer, steps=(*answer.steps, at_rest.steps["Fc_perp"], bearing))


def _rules(
    allowed: AdjustedValues, size: Size, spacing: float, name: str, variable: float, total: float, part: float
) -> list[tuple[str, float, list[Step]]]:
    """Spans by bending, shear and deflection of one combination, each with its steps."""
    w, v = total / 144 * spacing, variable / 144 * spacing
    area, S, inertia = size.area, size.section_modulus, size.moment_of_inertia
    load = step(
        "w", f"line load, {name}", "q s / 144", f"{total:g} × {spacing:g} / 144", w, "lb/in", "2.4", "ASCE 7"
    )
    rules = []
    span = uniform_span_by_bending(allowed.Fb, S, w)
    line = step(
        "L",
        f"span by bending, {name}",
        "√(8 Fb' S / w)",
        f"√(8 × {allowed.Fb:.5g} × {S:.5g} / {w:.4g})",
        span,
        "in",
        "3.3",
    )
    rules.append(("bending", span, [load, allowed.steps["Fb"], line]))
    span = uniform_span_by_shear(allowed.Fv, area, w)
    line = step(
        "L",
        f"span by shear, {name}",
        "4 Fv' A / (3 w)",
        f"4 × {allowed.Fv:.5g} × {area:.5g} / (3 × {w:.4g})",
        span,
        "in",
        "3.4",
    )
    rules.append(("shear", span, [allowed.steps["Fv"], line]))
    if v > 0:
        span = uniform_span_by_deflection(allowed.E, inertia, v, part)
        numbers = f"(384 × {allowed.E:.6g} × {inertia:.5g} / (5 × {v:.4g} × {part:g}))^(1/3)"
        words = f"span by deflection L/{part:g} under the variable load, {name}"
        line = step("L", words, "(384 E' I / (5 v n))^(1/3)", numbers, span, "in", "3.5")
        rules.append(("deflection", span, [allowed.steps["E"], line]))
    return rules


def joist_overhang(
    species: str,
    grade: str,
    size: Size | str,
    spacing: float,
    span: float | None = None,
    loads: AreaLoads | None = None,
    *,
    wet: bool = True,
    incised: bool = False,
    tip_load: float = TIP_LOAD,
    part: float = 180.0,
    share: float = 0.25,
) -> Answer:
    """Return the longest overhang [in] of a joist beyond its bearing, for its span.

    span [in]: between bearings; left out, each species stands on its own longest span, as in the printed
    table (the longer the span, the less the overhang by deflection). tip_load [lb]: moving load at the tip,
    which may sink a'/part, where a' is the overhang and 3 in (inferred from the printed table); share [1]:
    the overhang's largest part of the span; the other arguments as in joist_span. Governs: "deflection",
    "quarter of the span" or "bending" (line load and tip load together over the bearing).

    Source: AWC DCA6-2012 Table 2 and its notes; NDS 2018 3.3, 3.5; the 3 in are derived.

    >>> round(joist_overhang("southern pine", "No. 2", "2x10", 16.0, 168.0).value)
    41
    """
    size = read_size(size) if isinstance(size, str) else size
    loads = AreaLoads() if loads is None else loads
    service = Service(wet=wet, incised=incised, repetitive=spacing <= WIDEST_REPETITIVE)
    members = read_species(species)
    if span is None:
        own = [
            joist_span(each, grade, size, spacing, loads, wet=wet, incised=incised).value for each in members
        ]
    else:
        own = [span] * len(members)
    answers = []
    for member, between in zip(members, own, strict=True):
        values = design_values(member, grade, size)
        allowed = adjusted(values, size, service)
        reach = (
            root((between / 2) ** 2 + 3 * allowed.E * size.moment_of_inertia / (tip_load * part))
            - between / 2
        )
        limits = {"deflection": reach - TIP_ALLOWANCE, "quarter of the span": share * between}
        half, sinks = f"{between:.6g}/2", f"{tip_load:g} × {part:g}"
        steps = [
            allowed.steps["E"],
            step(
                "a'",
                f"reach whose tip sinks a'/{part:g} under the moving load: P a'² (L + a') / (3 E' I) = a'/{part:g}",
                f"√((L/2)² + 3 E' I / (P × {part:g})) − L/2",
                f"√(({half})² + 3 × {allowed.E:.6g} × {size.moment_of_inertia:.6g} / ({sinks})) − {half}",
                reach,
                "in",
                "3.5",
            ),
            step(
                "a",
                "overhang by deflection, the reach less what the printed table leaves off",
                "a' − 3 in",
                f"{reach:.6g} − {TIP_ALLOWANCE:g}",
                limits["deflection"],
                "in",
                "Table 2 note (less 3 in, derived)",
                "AWC DCA6-2012",
            ),
            step(
                "a",
                "overhang by the share of the span",
                "L × share",
                f"{between:.6g} × {share:g}",
                share * between,
                "in",
                "Table 2 note",
                "AWC DCA6-2012",
            ),
        ]
        bent: list[Step] = []
        limits["bending"] = float("inf")
        for name, _, total, duration in loads.cases():
            strong = adjusted(values, size, replace(service, duration=duration))
            w, moment = total / 144 * spacing, strong.Fb * size.section_modulus
            length = (root(tip_load**2 + 2 * w * moment) - tip_load) / w
            if length < limits["bending"]:
                limits["bending"] = length
                load = f"{total:g} × {spacing:g} / 144"
                bent = [
                    strong.steps["Fb"],
                    step("w", f"line load, {name}", "q s / 144", load, w, "lb/in", "2.4", "ASCE 7"),
                    step(
                        "M'", "moment allowed over the bearing", "Fb' S",
                        f"{strong.Fb:.6g} × {size.section_modulus:.6g}", moment, "lb in", "3.3",
                    ),
                    step(
                        "a",
                        f"overhang by bending, {name}: w a²/2 + P a = M'",
                        "(√(P² + 2 w M') − P) / w",
                        f"(√({tip_load:g}² + 2 × {w:.6g} × {moment:.6g}) − {tip_load:g}) / {w:.6g}",
                        length,
                        "in",
                        "3.3",
                    ),
                ]  # fmt: skip
        answers.append(smallest(limits, "in", [*steps, *bent]))
    return min(answers, key=lambda answer: answer.value)
