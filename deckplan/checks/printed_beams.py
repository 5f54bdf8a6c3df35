"""The printed beam spans: a second, prescriptive answer beside the beam's sum, in the table's own conditions.

The table is for joists from one side that may overhang the beam by up to a quarter of their span, and prints the same
span whether they do or not: with less overhang the sum allows more, and the stricter answer governs.
"""

from __future__ import annotations

import math
import re
from functools import cache

from deckplan.checks.printed_joists import is_skewed
from deckplan.engineering.beams import beam_span
from deckplan.engineering.lumber import read_size
from deckplan.errors import DeckplanError
from deckplan.layout.model import Kind, Layout, Member
from deckplan.loads.model import AreaLoad, Demand, Loads
from deckplan.plan.model import Plan
from deckplan.reference import read_table
from deckplan.verdict import Check, Source, Step, at_most, not_applicable

PRINTED = Source(
    "IRC 2018", "Table R507.5", "one published copy; cells between the known ones by the same sum"
)
RECALLED = Source("IRC 2018", "Table R507.5", "second species group from memory")
RULE = "printed beam span"

# The table's own conditions. Source: IRC 2018 Table R507.5, its head and notes.
TABLE_LIVE, TABLE_DEAD = 40.0, 10.0
SHORTEST_JOISTS, LONGEST_JOISTS = 72.0, 216.0
COLUMN = 24.0
"""The columns of the table are so far apart [in]: 6, 8, .. 18 ft; a span between two takes the longer."""
QUARTER = 0.25
NO_2 = re.compile(r"(no\.? ?|#)?2", re.IGNORECASE)
BIT = 0.05
"""What a load may be over the table's by rounding [psf]."""


@cache
def printed_beam_span(species: str, size: str, joist_span: float) -> float | None:
    """Return the printed span [in] of a beam for a joist span [in], or None where the table names no such beam.

    The cell of the species' group in the next column up, by the sum that reproduces the printed cells, to the inch.
    Source: IRC 2018 Table R507.5.

    >>> printed_beam_span("southern pine", "2-2x10", 120.0)
    96.0
    """
    groups = read_table("reference", "species_groups.csv").where(table="beam", member=species.strip().lower())
    if not groups or joist_span > LONGEST_JOISTS + 1e-6:
        return None
    column = max(SHORTEST_JOISTS, math.ceil((joist_span - 1e-6) / COLUMN) * COLUMN)
    try:
        answer = beam_span(groups[0]["group"], "No. 2", size, column, basis="table")
    except DeckplanError:
        return None
    return float(math.floor(answer.value + 0.5))


def joists_on(beam: Member, layout: Layout, loads: Loads) -> tuple[float, float] | None:
    """Return the longest span and overhang [in] of the joists on a beam, or None where they come from both sides.

    None also where something other than joists rests on the beam, or joists that cross it at an angle.
    """
    spans, overhangs = [0.0], [0.0]
    for delivery in loads.onto.get(beam.mark, ()):
        upper = layout.by_mark[delivery.upper]
        if not isinstance(upper, Member) or upper.kind is not Kind.JOIST or upper.platform != beam.platform:
            return None
        analysis = loads.demands[upper.mark].analysis
        if len(analysis.supports) != 2 or is_skewed(upper, beam.mark):
            return None
        first = delivery.at <= analysis.supports[0] + 1e-6
        spans.append(analysis.spans[0])
        overhangs.append(analysis.overhangs[0 if first else 1])
    return max(spans), max(overhangs)


def check_printed_beam(
    plan: Plan, beam: Member, demand: Demand, size: str, joists: tuple[float, float] | None, area: AreaLoad
) -> Check:
    """Check a beam's longest span against the printed one, where the table speaks of such a beam.

    size: of the beam, as it is tried; joists: span and overhang of what rests on it [in]; area: what they carry.
    """
    mark, species = beam.mark, plan.materials.species
    if joists is None or joists[1] > QUARTER * joists[0] + 1e-6:
        return not_applicable(
            mark,
            RULE,
            PRINTED,
            "the table is for joists from one side, square to the beam, overhanging a quarter of their span at most",
        )
    if not NO_2.fullmatch(plan.materials.grade.strip()):
        return not_applicable(mark, RULE, PRINTED, "the table is for No. 2")
    if area.live > TABLE_LIVE + BIT or area.dead > TABLE_DEAD + BIT or area.snow > 0:
        return not_applicable(
            mark, RULE, PRINTED, "the table is for 40 psf live and 10 psf dead load, no snow"
        )
    printed = printed_beam_span(species, read_size(size).name, round(joists[0], 3))
    if printed is None:
        return not_applicable(mark, RULE, PRINTED, f"the table has no {size} of {species} under such joists")
    there = max(demand.analysis.spans)
    source = PRINTED if species.strip().lower() == "southern pine" else RECALLED
    step = Step(
        "L", f"printed span of {size} under joists of {joists[0] / 12:.4g} ft", "", "", printed, "in", source
    )
    reason = f"{mark} spans {there:.4g} in between posts; the table prints {printed:g} in under such joists"
    return at_most(mark, RULE, source, there, printed, "in", (step,), reason=reason)
