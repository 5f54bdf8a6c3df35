"""Checks that joists and beams share: bending, shear, bearing, deflection, overhang, of one analysed member."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.checks.combinations import Combination, analyses
from deckplan.engineering.answers import Capacity
from deckplan.engineering.bending import bearing_capacity, bending_capacity, shear_capacity, stability
from deckplan.engineering.factors import AdjustedValues, Service, adjusted
from deckplan.engineering.lumber import DesignValues, Size
from deckplan.engineering.statics import BeamAnalysis
from deckplan.errors import RangeError
from deckplan.layout.model import Member
from deckplan.loads.model import Analysed, Demand
from deckplan.rules.profile import Limit
from deckplan.verdict import Check, Source, Step, Verdict, at_least, at_most

BENDING = Source("NDS 2018", "3.3.1", "two published copies")
SHEAR = Source("NDS 2018", "3.4.2, 3.4.3.1", "two published copies")
BEARING = Source("NDS 2018", "3.10.2", "two published copies")
SECTION = Source("NDS Supplement 2018", "Table 1B", "two published copies")
TWICE = Source("IRC", "Table R301.7 note b: a cantilever counts twice its length", "one published copy")
OVER_SUPPORT = "bending over a support"
TIP_RULE = "deflection of an overhang under live load"
STATICS = Source("statics", "three-moment equation, live load where it hurts", "derived")


@dataclass(frozen=True, slots=True)
class Wood:
    """One member's size and values: how it is used and what holds its edges.

    repetitive: C_r applies; brace_top, brace_bottom [in]: longest stretch of the compression edge without a brace,
    in sagging and in hogging; 0 where it is held all along; hung_on: its loads hang on its side, so that shear counts
    at the face of the support; seat [in]: width of what it bears on, where that may be less than its own.
    """

    size: Size
    values: DesignValues
    wet: bool
    incised: bool
    repetitive: bool
    brace_top: float
    brace_bottom: float
    hung_on: bool = False
    seat: float | None = None

    def adjusted(self, duration: float) -> AdjustedValues:
        """Return the adjusted values [psi] for a duration factor [1]."""
        return adjusted(self.values, self.size, Service(duration, self.wet, self.incised, self.repetitive))


def check_member(
    member: Member,
    demand: Demand,
    wood: Wood,
    deflection: Limit,
    least_bearing: Limit,
) -> list[Check]:
    """Check one bending member under every combination; of each rule the worst combination is kept."""
    worst: dict[str, Check] = {}
    for combination, analysed in analyses(demand):
        analysis = analysed.analysis
        for check in (
            *_bend(member.mark, analysis, wood, combination),
            _shear(member.mark, analysed, wood, combination),
            *_bear(member, analysis, wood, combination, least_bearing),
            *_deflect(member.mark, analysed, wood, combination, deflection),
            *_tips(member, analysed, wood, combination, deflection),
        ):
            known = worst.get(check.rule)
            if known is None or (check.utilisation or 0.0) > (known.utilisation or 0.0):
                worst[check.rule] = check
    return list(worst.values())


def _bend(mark: str, analysis: BeamAnalysis, wood: Wood, combination: Combination) -> list[Check]:
    values = wood.adjusted(combination.duration)
    found = []
    cases = (
        ("bending in the span", analysis.moment_max.value, analysis.moment_max.at, wood.brace_top),
        (OVER_SUPPORT, -analysis.moment_min.value, analysis.moment_min.at, wood.brace_bottom),
    )
    for rule, moment, at, unbraced in cases:
        if moment <= 1e-9:
            continue
        try:
            factor, held = stability(values, wood.size, unbraced)
        except RangeError as error:
            reason = f"{error}: hold it closer, or take more plies"
            found.append(Check(mark, rule, BENDING, None, None, "", Verdict.FAIL, (), reason=reason))
            continue
        capacity = bending_capacity(values, wood.size, factor)
        between = all(abs(at - place) > 1e-6 for place in analysis.supports)
        lifted = "lifted, " if rule == OVER_SUPPORT and between else ""
        words = f"largest moment, {lifted}{at:.4g} in from the start, {combination.name}"
        steps = (Step("M", words, "", "", moment, "lb in", STATICS), *held, *capacity.steps)
        found.append(
            at_most(mark, rule, BENDING, moment, capacity.value, "lb in", steps, combination=combination.name)
        )
    return found


def _shear(mark: str, analysed: Analysed, wood: Wood, combination: Combination) -> Check:
    capacity = shear_capacity(wood.adjusted(combination.duration), wood.size)
    # loads within d of the support are left out only where they stand on the member (NDS 3.4.3.1)
    depth = 0.0 if wood.hung_on else wood.size.depth
    peak = analysed.shear_at(depth)
    where = "at the face of" if wood.hung_on else "d from"
    words = f"largest shear {where} the support at {peak.at:.4g} in, {combination.name}"
    steps = (Step("V", words, "", "", peak.value, "lb", STATICS), *capacity.steps)
    return at_most(
        mark, "shear", SHEAR, peak.value, capacity.value, "lb", steps, combination=combination.name
    )


def _bear(
    member: Member, analysis: BeamAnalysis, wood: Wood, combination: Combination, least: Limit
) -> list[Check]:
    """Check crushing across the grain at the worst support, and the least length of bearing."""
    values = wood.adjusted(combination.duration)
    found: list[Check] = []
    lengths = {round(b.at, 6): b for b in member.bearings}
    for reaction in analysis.reactions:
        bearing = lengths.get(round(reaction.at, 6))
        if bearing is None or reaction.largest <= 0:
            continue
        to_end = max(0.0, min(reaction.at, member.length - reaction.at) - bearing.length / 2)
        capacity = bearing_capacity(values, wood.size, bearing.length, to_end)
        if wood.seat is not None and wood.seat < wood.size.thickness:
            capacity = _narrower(capacity, wood)
        words = f"reaction on {bearing.on}, {combination.name}"
        steps = (Step("R", words, "", "", reaction.largest, "lb", STATICS), *capacity.steps)
        found.append(
            at_most(
                member.mark, "bearing", BEARING, reaction.largest, capacity.value, "lb", steps,
                combination=combination.name,
            )
        )  # fmt: skip
    found.sort(key=lambda check: check.utilisation or 0.0)
    shortest = min(member.bearings, key=lambda b: b.length)
    there = at_least(
        member.mark, "length of bearing", least.source, shortest.length, least.value, "in",
        reason=f"only {shortest.length:g} in of bearing on {shortest.on}",
    )  # fmt: skip
    return [*found[-1:], there]


def _narrower(capacity: Capacity, wood: Wood) -> Capacity:
    """Return what a bearing takes where the member is wider than its seat: only what lies on the seat counts."""
    assert wood.seat is not None
    value = capacity.value * wood.seat / wood.size.thickness
    numbers = f"{capacity.value:.5g} × {wood.seat:g} / {wood.size.thickness:g}"
    line = Step("R'", "only the width over the post bears", "R' b_post / b", numbers, value, "lb", BEARING)
    return Capacity(value, "lb", (*capacity.steps, line))


def _deflect(
    mark: str, analysed: Analysed, wood: Wood, combination: Combination, limit: Limit
) -> list[Check]:
    """Check the spans' deflection under live load (or snow) alone."""
    values = wood.adjusted(1.0)
    inertia = wood.size.moment_of_inertia
    stiffness = values.E * inertia
    spans = [
        (peak.value / stiffness, span, span / limit.value)
        for peak, span in zip(analysed.bent.spans_live, analysed.analysis.spans, strict=True)
    ]
    worst = max(range(len(spans)), key=lambda at: spans[at][0] / spans[at][2])
    sinks, span, allowed = spans[worst]
    steps = (
        values.steps["E"],
        Step("I", "moment of inertia", "b d³ / 12", f"{wood.size.thickness:g} × {wood.size.depth:g}³ / 12", inertia,
             "in⁴", SECTION),
        Step("Δ", f"deflection of span {worst + 1}, {combination.name} without D, where it hurts", "statics, E' I",
             "", sinks, "in", STATICS),
        Step("Δ max", "allowed", f"L / {limit.value:g}", f"{span:.5g} / {limit.value:g}", allowed, "in",
             limit.source),
    )  # fmt: skip
    return [
        at_most(mark, "deflection", limit.source, sinks, allowed, "in", steps, combination=combination.name)
    ]


BEARING_ALONE = 3.0
"""An overhang up to this, or no longer than its bearing, is the bearing itself [in]: two thicknesses of a joist."""


def _tips(
    member: Member, analysed: Analysed, wood: Wood, combination: Combination, limit: Limit
) -> list[Check]:
    """Check how far overhangs' tips sink under live load (or snow) alone; a span there is twice the overhang.

    Source: IRC Table R301.7 note b (one published copy).
    """
    analysis = analysed.analysis
    bearing = max((b.length for b in member.bearings), default=0.0)
    if max(analysis.overhangs) <= max(BEARING_ALONE, bearing):
        return []
    values, inertia = wood.adjusted(1.0), wood.size.moment_of_inertia
    found = []
    for overhang, sag in zip(analysis.overhangs, analysed.bent.tips_live, strict=True):
        if overhang <= max(BEARING_ALONE, bearing):
            continue
        sinks, allowed = sag / (values.E * inertia), 2 * overhang / limit.value
        steps = (
            values.steps["E"],
            Step("I", "moment of inertia", "b d³ / 12", f"{wood.size.thickness:g} × {wood.size.depth:g}³ / 12", inertia,
                 "in⁴", SECTION),
            Step("Δ", f"the tip of an overhang of {overhang:.5g} in, {combination.name} without D, where it hurts",
                 "statics, E' I", "", sinks, "in", STATICS),
            Step("Δ max", "allowed, twice the overhang for its span", f"2 a / {limit.value:g}",
                 f"2 × {overhang:.5g} / {limit.value:g}", allowed, "in", TWICE),
        )  # fmt: skip
        found.append(
            at_most(member.mark, TIP_RULE, TWICE, sinks, allowed, "in", steps, combination=combination.name)
        )
    return found
