"""Checks of ledgers: what fastens them to the house, by the printed table and by the load that really comes."""

from __future__ import annotations

import math
from contextlib import suppress
from dataclasses import dataclass
from itertools import pairwise

from deckplan.checks.printed_joists import is_skewed
from deckplan.engineering.joists import AreaLoads
from deckplan.engineering.lumber import read_size
from deckplan.engineering.prescriptive import ledger_capacity, ledger_placement, ledger_spacing
from deckplan.errors import RangeError
from deckplan.layout.model import Kind, Layout, Member
from deckplan.loads.model import Loads
from deckplan.loads.path import place_on
from deckplan.plan.model import Ledger, Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, Verdict, at_least, at_most, not_applicable, outside

TABLE = Source("IRC 2018", "Table R507.9.1.3(1)", "most rows from memory, re-derived")
SIZE = Source("IRC 2018", "R507.9.1.1", "one published copy")
PLACE = Source("IRC 2018", "Table R507.9.1.3(2)", "one published copy")
WALL = Source(
    "IRC 2018", "R507.9, no stone or masonry veneer; R507.8 what cannot be verified", "two published copies"
)

LEAST_SIZE = "2x8"
"""Smallest ledger. Source: IRC 2018 R507.9.1.1."""


WIDEST_PRINTED = 36.0
"""Widest spacing of the printed table [in]. Source: IRC 2018 Table R507.9.1.3(1)."""


def check_ledgers(plan: Plan, profile: Profile, layout: Layout, loads: Loads) -> list[Check]:
    """Check every ledger that carries joists."""
    found: list[Check] = []
    platforms = {platform.name: platform for platform in plan.platforms}
    for member in layout.members:
        if member.kind is not Kind.LEDGER or member.support is None:
            continue
        support = platforms[member.platform].supports[member.support]
        assert isinstance(support, Ledger)
        found.append(_wall(plan, member, support))
        least = read_size(LEAST_SIZE).depth
        found.append(at_least(member.mark, "ledger size", SIZE, member.depth, least, "in"))
        if support.spacing != "auto":
            found += check_fasteners(member, support, layout, loads, support.spacing)
        found.append(_rows(member))
    return found


def _wall(plan: Plan, member: Member, support: Ledger) -> Check:
    wall = plan.wall(support.wall)
    if wall is not None and wall.ledger:
        return Check(member.mark, "wall may carry a ledger", WALL, None, None, "", Verdict.PASS)
    reason = (
        f'wall "{support.wall}" is not said to carry a ledger: where that cannot be verified the platform '
        f"stands on its own posts"
    )
    return Check(member.mark, "wall may carry a ledger", WALL, None, None, "", Verdict.FAIL, reason=reason)


def _rows(member: Member) -> Check:
    """Two staggered rows need their distances from each other and from the ledger's edges."""
    place = ledger_placement("ledger")
    needed = place["top edge"] + place["bottom edge"] + place["row spacing"]
    words = "top edge + bottom edge + rows apart"
    numbers = f"{place['top edge']:g} + {place['bottom edge']:g} + {place['row spacing']:g}"
    line = Step("h", "depth that two staggered rows take", words, numbers, needed, "in", PLACE)
    return at_least(member.mark, "room for two rows of fasteners", PLACE, member.depth, needed, "in", (line,))


def joist_span_on(member: Member, loads: Loads) -> float:
    """Return the longest span [in] of the joists that hang on a ledger; 0 where none does."""
    spans = []
    for delivery in loads.onto.get(member.mark, ()):
        analysis = loads.demands[delivery.upper].analysis
        spans.append(analysis.spans[0] if delivery.at <= analysis.supports[0] + 1e-6 else analysis.spans[-1])
    return max(spans, default=0.0)


def check_fasteners(
    member: Member, support: Ledger, layout: Layout, loads: Loads, spacing: float
) -> list[Check]:
    """Check fasteners at a spacing [in]: the printed table for the joists' span, and the load on one of them."""
    mark = member.mark
    if mark not in loads.onto:
        return []
    found = [_by_the_table(member, support, layout, loads, spacing)]
    heaviest = heaviest_stretch(member, layout, loads)
    capacity = ledger_capacity(support.fastener)
    one = heaviest.per_inch * spacing
    steps = (
        Step("R", f"what {heaviest.who} put on the ledger, {heaviest.combination}", "", "", heaviest.load, "lb", TABLE),
        Step("p", "load on one fastener", "R s / length", f"{heaviest.load:.5g} × {spacing:g} / {heaviest.length:.5g}",
             one, "lb", TABLE),
        *capacity.steps,
    )  # fmt: skip
    found.append(
        at_most(
            mark, f"load on one {support.fastener}", TABLE, one, capacity.value, "lb", steps,
            combination=heaviest.combination,
        )
    )  # fmt: skip
    return found


def _by_the_table(member: Member, support: Ledger, layout: Layout, loads: Loads, spacing: float) -> Check:
    """Check a spacing [in] against the printed one, where joists meet the ledger as the table has them."""
    mark, area = member.mark, loads.areas[member.platform]
    rule = f"spacing of {support.fastener} fasteners by the table"
    if _is_skewed(member, layout, loads):
        words = "the table is for joists square to the ledger; the load on one fastener governs"
        return not_applicable(mark, rule, TABLE, words)
    span = joist_span_on(member, loads)
    try:
        printed = ledger_spacing(support.fastener, span, AreaLoads(area.live, area.dead, area.snow))
    except RangeError as error:
        return outside(mark, rule, TABLE, f"{mark}: {error}", demand=span, unit="in joist span")
    source = printed.steps[0].source
    source = Source(source.document, "Table R507.9.1.3(1)", source.confirmed)
    return at_most(mark, rule, source, spacing, printed.value, "in", printed.steps)


def _is_skewed(member: Member, layout: Layout, loads: Loads) -> bool:
    """Tell whether joists meet a ledger at an angle that the table does not speak of."""
    uppers = (layout.by_mark[delivery.upper] for delivery in loads.onto.get(member.mark, ()))
    return any(isinstance(upper, Member) and is_skewed(upper, member.mark) for upper in uppers)


NEIGHBOURS = 3
"""So many joists beside each other are looked at together: a ledger spreads a heavy one over its neighbours' fasteners.
Source: common practice."""


@dataclass(frozen=True, slots=True)
class Heaviest:
    """A stretch of ledger: who loads it, with how much [lb] in which combination, over what length [in]."""

    who: str
    load: float
    combination: str
    length: float

    @property
    def per_inch(self) -> float:
        """Load per inch of wall [lb/in]."""
        return self.load / self.length


def heaviest_stretch(member: Member, layout: Layout, loads: Loads) -> Heaviest:
    """Return where a ledger carries most for its length: all of it, or a few joists beside each other.

    Joists that get longer along the wall, as at an angle or before a slanting edge, load one end of it more than the
    other. Each joist's share of the wall reaches half way to its neighbours.
    """
    load, combination = loads.ledgers[member.mark].governing
    worst = Heaviest("all joists", load, combination, member.length)
    there = sorted(
        (place_on(member, layout.by_mark[each.upper], each.at), each.upper, each.force.governing)
        for each in loads.onto.get(member.mark, ())
    )
    bounds = [0.0, *((a[0] + b[0]) / 2 for a, b in pairwise(there)), member.length]
    for first in range(len(there) - NEIGHBOURS + 1):
        group = there[first : first + NEIGHBOURS]
        length = bounds[first + NEIGHBOURS] - bounds[first]
        heaviest = max(group, key=lambda each: each[2][0])[2][1]
        found = Heaviest(
            f"{group[0][1]} to {group[-1][1]}", sum(force for _, _, (force, _) in group), heaviest, length
        )
        if length > 0 and found.per_inch > worst.per_inch * (1.0 + 1e-6):
            worst = found
    return worst


def widest_spacing(member: Member, support: Ledger, layout: Layout, loads: Loads) -> float:
    """Return the widest whole inch at which fasteners pass, by the table and by the load; 1 where none does."""
    if member.mark not in loads.onto:
        return WIDEST_PRINTED
    per_inch = heaviest_stretch(member, layout, loads).per_inch
    widest = ledger_capacity(support.fastener).value / per_inch if per_inch > 0 else WIDEST_PRINTED
    area = loads.areas[member.platform]
    printed = WIDEST_PRINTED
    if not _is_skewed(member, layout, loads):
        # where no table covers it the check says so
        with suppress(RangeError):
            printed = ledger_spacing(
                support.fastener, joist_span_on(member, loads), AreaLoads(area.live, area.dead, area.snow)
            ).value
    return float(max(1, math.floor(min(widest, printed, WIDEST_PRINTED) + 1e-9)))
