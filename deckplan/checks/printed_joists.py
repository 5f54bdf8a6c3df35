"""The printed joist spans: a second, prescriptive answer beside the joist's sum, in the table's own conditions.

The table puts several species into one group and prints what the weakest of them reaches. The sum of a stronger one
allows more; the stricter answer governs.
"""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise

from deckplan.engineering.lumber import read_size
from deckplan.layout.model import Kind, Member
from deckplan.loads.model import Demand
from deckplan.plan.model import Plan
from deckplan.reference import read_table
from deckplan.verdict import Check, Source, Step, at_most, not_applicable, outside

PRINTED = Source("AWC DCA6-2012", "Table 2", "one or two published copies")
RECALLED = Source("AWC DCA6-2012", "Table 2", "one or two published copies; who is in the group from memory")
RULE = "printed joist span"

# The table's own conditions. Source: AWC DCA6-2012 Table 2, its head.
TABLE_LIVE, TABLE_DEAD = 40.0, 10.0
NO_2 = re.compile(r"(no\.? ?|#)?2", re.IGNORECASE)
BIT = 0.05
"""What a load may be over the table's by rounding [psf]."""
EDGE = 3.0
"""How near to a bearing a load counts as resting on it [in]."""


@cache
def printed_spans(species: str, size: str) -> dict[float, float]:
    """Return the printed clear spans [in] by spacing [in] of a species' group, nothing for one that is not named.

    Source: AWC DCA6-2012 Table 2.

    >>> printed_spans("hem-fir", "2x8")
    {12.0: 150.0, 16.0: 133.0, 24.0: 109.0}
    """
    name = species.strip().lower()
    groups = {
        row["group"]
        for row in read_table("reference", "species_groups.csv").where(table="joist", member=name)
    }
    rows = [
        row
        for row in read_table("reference", "joist_spans.csv").where(size=size)
        if row["species group"] in groups
    ]
    return {row.number("spacing"): row.number("span") for row in rows}


@cache
def _source(species: str) -> Source:
    """Return the table as a source, with its reservation where only memory puts the species into its group."""
    groups = read_table("reference", "species_groups.csv").where(
        table="joist", member=species.strip().lower()
    )
    return RECALLED if any("memory" in row["confirmed"] for row in groups) else PRINTED


SQUARE = 5.0
"""Up to this angle off square the tables that speak of square framing still count [degrees]. Our own choice: bearings
and spans differ by 0.4 % there."""


def is_skewed(joist: Member, on: str = "") -> bool:
    """Tell whether a joist meets what it bears on or hangs on, or one mark of it, at an angle no table speaks of."""
    return any(abs(bearing.skew) > SQUARE for bearing in joist.bearings if on in ("", bearing.on))


def check_printed_span(plan: Plan, joist: Member, demand: Demand, size: str, spacing: float) -> Check:
    """Check a joist's longest clear span against the printed one, where the table speaks of such a joist.

    size: of the joist, as it is tried; spacing [in]: between joists; one between two printed spacings takes the wider.
    """
    mark, species = joist.mark, plan.materials.species
    first, last = demand.analysis.supports[0], demand.analysis.supports[-1]
    # what rests on the ends or on an overhang's tip does not bend the span further
    loaded = any(first + EDGE < at < last - EDGE for at, *_ in demand.points)
    if joist.kind is not Kind.JOIST or read_size(size).plies > 1 or loaded:
        return not_applicable(
            mark, RULE, PRINTED, "the table is for single joists with nothing but area loads"
        )
    if is_skewed(joist):
        return not_applicable(mark, RULE, PRINTED, "the table is for joists square to what they bear on")
    if not NO_2.fullmatch(plan.materials.grade.strip()):
        return not_applicable(mark, RULE, PRINTED, "the table is for No. 2")
    if not _within(demand, spacing):
        return not_applicable(
            mark, RULE, PRINTED, "the table is for 40 psf live and 10 psf dead load, no snow"
        )
    printed = printed_spans(species, read_size(size).name)
    if not printed:
        return not_applicable(mark, RULE, PRINTED, f"the table does not name {size} of {species}")
    wider = [each for each in printed if each >= spacing - 1e-6]
    if not wider:
        return outside(mark, RULE, PRINTED, f"{mark}: the table ends at a spacing of {max(printed):g} in")
    most, there = printed[min(wider)], longest_clear_span(joist, demand)
    words = f"printed span of its species group, {size} at {min(wider):g} in"
    reason = (
        f"{mark} spans {there:.4g} in; the table prints {most:g} in for the group that {species} belongs to"
    )
    source = _source(species)
    step = Step("L", words, "", "", most, "in", source)
    return at_most(mark, RULE, source, there, most, "in", (step,), reason=reason)


OVERHANG = "printed joist overhang"


@cache
def printed_overhangs(species: str, size: str) -> dict[float, float]:
    """Return the printed overhangs [in] by spacing [in] of a species' group, nothing for one that is not named.

    Source: AWC DCA6-2012 Table 2.

    >>> printed_overhangs("southern pine", "2x8")[16.0]
    24.0
    """
    name = species.strip().lower()
    groups = {
        row["group"]
        for row in read_table("reference", "species_groups.csv").where(table="joist", member=name)
    }
    rows = read_table("reference", "joist_spans.csv").where(size=size)
    return {
        row.number("spacing"): row.number("overhang")
        for row in rows
        if row["species group"] in groups and row.has("overhang")
    }


def check_printed_overhang(
    plan: Plan, joist: Member, demand: Demand, size: str, spacing: float
) -> tuple[Check, ...]:
    """Check a joist's longest overhang against the printed one, where the table speaks of such a joist."""
    half = max((b.length / 2 for b in joist.bearings if b.manner == "bearing"), default=0.0)
    longest = max(demand.analysis.overhangs) - half
    if longest <= EDGE or joist.kind is not Kind.JOIST or read_size(size).plies > 1 or is_skewed(joist):
        return ()
    if not NO_2.fullmatch(plan.materials.grade.strip()) or not _within(demand, spacing):
        return ()
    printed = printed_overhangs(plan.materials.species, read_size(size).name)
    wider = [each for each in printed if each >= spacing - 1e-6]
    if not wider:
        return ()
    most = printed[min(wider)]
    source = _source(plan.materials.species)
    step = Step("a", f"printed overhang, {size} at {min(wider):g} in", "", "", most, "in", source)
    reason = f"{joist.mark} runs {longest:.4g} in past its beam; the table prints {most:g} in"
    return (at_most(joist.mark, OVERHANG, source, longest, most, "in", (step,), reason=reason),)


def _within(demand: Demand, spacing: float) -> bool:
    """Tell whether a joist carries no more than the table's loads over its spacing [in]."""
    per_foot = 144 / spacing
    return all(
        dead * per_foot <= TABLE_DEAD + BIT and live * per_foot <= TABLE_LIVE + BIT and snow == 0
        for _, _, dead, live, snow in demand.uniform
    )


def longest_clear_span(joist: Member, demand: Demand) -> float:
    """Return the longest span [in] of a joist from face to face of what it rests on or hangs on."""
    lengths = {round(b.at, 3): b.length if b.manner == "bearing" else 0.0 for b in joist.bearings}
    halves = [(at, lengths.get(round(at, 3), 0.0) / 2) for at in demand.analysis.supports]
    return max((b - a - before - after for (a, before), (b, after) in pairwise(halves)), default=0.0)
