"""Checks of ledgers: what fastens them to the house, by the printed table and by the load that really comes."""

from __future__ import annotations

import math

from deckplan.engineering.joists import AreaLoads
from deckplan.engineering.lumber import read_size
from deckplan.engineering.prescriptive import ledger_capacity, ledger_placement, ledger_spacing
from deckplan.errors import RangeError
from deckplan.layout.model import Kind, Layout, Member
from deckplan.loads.model import Loads
from deckplan.plan.model import Ledger, Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, Verdict, at_least, at_most, outside

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
            found += check_fasteners(member, support, loads, support.spacing)
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


def check_fasteners(member: Member, support: Ledger, loads: Loads, spacing: float) -> list[Check]:
    """Check fasteners at a spacing [in]: the printed table for the joists' span, and the load on one of them."""
    mark = member.mark
    if mark not in loads.onto:
        return []
    area = loads.areas[member.platform]
    span = joist_span_on(member, loads)
    rule = f"spacing of {support.fastener} fasteners by the table"
    found: list[Check] = []
    try:
        printed = ledger_spacing(support.fastener, span, AreaLoads(area.live, area.dead, area.snow))
    except RangeError as error:
        found.append(outside(mark, rule, TABLE, f"{mark}: {error}", demand=span, unit="in joist span"))
    else:
        source = printed.steps[0].source
        source = Source(source.document, "Table R507.9.1.3(1)", source.confirmed)
        found.append(at_most(mark, rule, source, spacing, printed.value, "in", printed.steps))
    load, combination = loads.ledgers[mark].governing
    capacity = ledger_capacity(support.fastener)
    per_inch = load / member.length
    steps = (
        Step("R", f"all that the joists put on the ledger, {combination}", "", "", load, "lb", TABLE),
        Step("p", "load on one fastener", "R s / length", f"{load:.5g} × {spacing:g} / {member.length:.5g}",
             per_inch * spacing, "lb", TABLE),
        *capacity.steps,
    )  # fmt: skip
    found.append(
        at_most(
            mark, f"load on one {support.fastener}", TABLE, per_inch * spacing, capacity.value, "lb", steps,
            combination=combination,
        )
    )  # fmt: skip
    return found


def widest_spacing(member: Member, support: Ledger, loads: Loads) -> float:
    """Return the widest whole inch at which fasteners pass, by the table and by the load; 1 where none does."""
    if member.mark not in loads.onto:
        return WIDEST_PRINTED
    load, _ = loads.ledgers[member.mark].governing
    widest = ledger_capacity(support.fastener).value * member.length / load if load > 0 else WIDEST_PRINTED
    area = loads.areas[member.platform]
    try:
        printed = ledger_spacing(
            support.fastener, joist_span_on(member, loads), AreaLoads(area.live, area.dead, area.snow)
        ).value
    except RangeError:
        printed = WIDEST_PRINTED  # the check says that no table covers it
    return float(max(1, math.floor(min(widest, printed, WIDEST_PRINTED) + 1e-9)))
