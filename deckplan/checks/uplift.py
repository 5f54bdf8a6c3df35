"""Uplift: where a load on an overhang lifts a member off its other end, what must hold it down."""

from __future__ import annotations

from deckplan.layout.model import Layout
from deckplan.loads.model import Loads
from deckplan.verdict import Check, Source, Step, Verdict

RULE = "tie against uplift"
SOURCE = Source("IRC 2018", "R507.8", "two published copies")
STATICS = Source("ASCE 7-16", "2.4.1: 0.6 D with live load where it lifts", "from memory")

LEAST = 5.0
"""Uplift under this is float and nails [lb]."""


def check_uplift(layout: Layout, loads: Loads) -> list[Check]:
    """Return a stated requirement for every bearing that live load lifts; members alike are said once."""
    found: list[Check] = []
    said: set[tuple[str, str]] = set()
    for delivery in loads.deliveries:
        pull = delivery.force.uplift
        demand = loads.demands.get(delivery.upper)
        # a post that stands on a lower frame is like no other
        like = delivery.upper if demand is None else demand.like
        if pull <= LEAST or (like, delivery.lower) in said:
            continue
        said.add((like, delivery.lower))
        force = delivery.force
        lift = force.dead - force.least
        line = Step("U", "uplift: live load where it lifts, less 0.6 of the dead load", "L − 0.6 D",
                    f"{lift:.4g} − 0.6 × {force.dead:.4g}", pull, "lb", STATICS)  # fmt: skip
        reason = f"required: {delivery.upper} is tied down to {delivery.lower} for {pull:.0f} lb or more"
        found.append(
            Check(
                delivery.upper,
                RULE,
                SOURCE,
                pull,
                None,
                "lb",
                Verdict.PASS,
                (line,),
                False,
                "0.6 D + L",
                reason,
            )
        )
    return found
