"""Fasteners and connectors beyond hangers, caps and bases: at the house, of flights, of guard posts, against uplift."""

from __future__ import annotations

import math
from collections import Counter, defaultdict

from deckplan.buy.connectors import asked
from deckplan.buy.item import Item
from deckplan.buy.lumber import spliced
from deckplan.checks.lateral import hold_downs
from deckplan.checks.uplift import find_lifted
from deckplan.engineering.prescriptive import ledger_placement
from deckplan.layout.flight_model import FlightFrames
from deckplan.layout.model import Kind, Layout
from deckplan.layout.parts import find_parts
from deckplan.levels.model import Levels
from deckplan.loads.model import Loads
from deckplan.plan.model import Ledger, Plan
from deckplan.rules.profile import Profile

_WORDS = {
    "hanger": "sloped hanger for a stringer",
    "bracket": "bracket at the foot of a flight",
    "angle": "angle under a step",
    "screw": "structural screw through a step into the rim",
}
"""What each kind of a flight's fixings is bought as; a pier is concrete, counted there."""


def ledger_fasteners(length: float, spacing: float) -> int:
    """Return the fasteners of one piece of ledger [in] at a spacing [in], the first and last at their end distance.

    They stand in two staggered rows; the spacing goes from one to the next along the ledger.
    Source: IRC 2018 R507.9.1.3 and its Table (2), 2 in from the ends.

    >>> ledger_fasteners(144.0, 15.0)
    11
    """
    between = length - 2 * ledger_placement("ledger")["ends"]
    return max(2, math.ceil(between / spacing - 1e-9) + 1)


def count_ledger_fasteners(plan: Plan, layout: Layout) -> tuple[Item, ...]:
    """Count what fastens each ledger to the house's band joist."""
    found: dict[str, list[tuple[str, int]]] = defaultdict(list)
    for member in layout.members:
        if member.kind is not Kind.LEDGER or member.support is None:
            continue
        support = plan.platform(member.platform).supports[member.support]
        if isinstance(support, Ledger) and support.spacing != "auto":
            count = sum(ledger_fasteners(part, support.spacing) for part in spliced(member.length, ()))
            found[support.fastener].append((member.mark, count))
    return tuple(
        _pieces(f"ledger fastener, {fastener.replace(' ', ' in ')}", sum(n for _, n in counts),
                ", ".join(f"{mark}: {n}" for mark, n in counts))
        for fastener, counts in sorted(found.items())
    )  # fmt: skip


def count_hold_downs(plan: Plan, profile: Profile, levels: Levels, layout: Layout) -> tuple[Item, ...]:
    """Count the hold-downs of every part that is attached to the house."""
    found = []
    for part in find_parts(plan, levels, layout):
        if part.ledgers:
            count, force = hold_downs(profile, layout, part)
            if count:
                basis = f"{part.named}: each for {asked(force.value)} lb or more"
                found.append(_pieces("hold-down to the house", count, basis))
    return tuple(found)


def count_flight_fixings(flights: FlightFrames) -> tuple[Item, ...]:
    """Count the hangers, brackets, angles and screws of the flights, each kind with the largest force on one."""
    forces: dict[str, list[float]] = defaultdict(list)
    for flight in flights.flights:
        for fixing in flight.fixings:
            if fixing.kind in _WORDS:
                forces[_WORDS[fixing.kind]].append(fixing.force)
    return tuple(
        _pieces(what, len(each), f"each for {asked(max(each))} lb or more") for what, each in forces.items()
    )


def count_guard_connectors(layout: Layout) -> tuple[Item, ...]:
    """Count the connectors of the guard posts: one at the upper and one at the lower fastener of each.

    The lower one is pushed, so that the upper one's force sets both. Source: common practice.
    """
    if not layout.guard_posts:
        return ()
    alike = Counter(asked(post.connector) for post in layout.guard_posts)
    return tuple(
        _pieces("tension connector of a guard post", count,
                f"{count} post{'s' * (count > 1)}, the upper fastener of each: for {force} lb or more")
        for force, count in sorted(alike.items())
    )  # fmt: skip


def count_ties(plan: Plan, profile: Profile, layout: Layout, loads: Loads) -> tuple[Item, ...]:
    """Count the ties where a load on an overhang lifts a member off what it lies on, on every joist of that support.

    Hangers, caps and bolts take uplift themselves.
    """
    counts: dict[str, int] = {}
    pulls = []
    for (what, lower), (delivery, pull) in find_lifted(plan, profile, layout, loads).items():
        tied = sum(
            1
            for member in layout.members
            if member.mark == delivery.upper or (what == "joists" and member.kind is Kind.JOIST)
            for bearing in member.bearings
            if bearing.on == lower and bearing.manner == "bearing"
        )
        if tied:
            counts[lower] = counts.get(lower, 0) + tied
            pulls.append(pull.force)
    if not pulls:
        return ()
    where = ", ".join(f"{lower}: {count}" for lower, count in counts.items())
    basis = f"{where}; each for {asked(max(pulls))} lb or more"
    return (_pieces("tie against uplift", sum(counts.values()), basis),)


def _pieces(item: str, count: int, basis: str) -> Item:
    return Item("connectors", item, None, float(count), 0.0, count, "pieces", basis)
