"""Connectors by kind and the capacity that each must have; never by a maker's name."""

from __future__ import annotations

import math
from collections import defaultdict

from deckplan.buy.item import Item
from deckplan.layout.model import Bearing, Kind, Layout, Member
from deckplan.loads.model import Force, Loads

_STEP = 50.0
"""Capacities are asked for in steps of this many pounds-force."""


def asked(force: float) -> int:
    """Round a force [lb] up to the capacity that is asked for [lb].

    >>> asked(612.0), asked(650.0)
    (650, 650)
    """
    return int(math.ceil(force / _STEP - 1e-9) * _STEP)


def _force_at(loads: Loads, member: Member, bearing: Bearing) -> Force:
    total = Force()
    for delivery in loads.out_of.get(member.mark, ()):
        if delivery.lower == bearing.on and abs(delivery.at - bearing.at) < 1.0:
            total += delivery.force
    return total


def count_connectors(layout: Layout, loads: Loads) -> tuple[Item, ...]:
    """Count hangers, post caps and bases, each kind and size once, with the largest capacity one needs."""
    needs: dict[str, list[float]] = defaultdict(list)
    for member in layout.members:
        for bearing in member.bearings:
            force, _ = _force_at(loads, member, bearing).governing
            if bearing.manner == "hanger":
                what = "joist hanger" if member.kind is Kind.JOIST else f"hanger for a {member.kind}"
                needs[f"{what}, {member.size}"].append(force)
            elif bearing.manner == "cap" or (bearing.manner == "splice" and bearing.at > 0):
                # one cap takes both ends of a splice
                post = next((post for post in layout.posts if post.mark == bearing.on), None)
                size = f"{post.size} under " if post else ""
                needs[f"post cap, {size}{member.size}"].append(force)
            else:
                pass  # bears, is notched or nailed: no connector is counted here
    for post in layout.posts:
        force, _ = loads.posts.get(post.mark, Force()).governing
        needs[f"post base, {post.size}"].append(force)
    return tuple(
        Item("connectors", what, None, float(len(forces)), 0.0, len(forces), "pieces",
             f"each for {asked(max(forces))} lb or more")
        for what, forces in sorted(needs.items())
    )  # fmt: skip
