"""Connectors by kind and the capacity that each must have; never by a maker's name."""

from __future__ import annotations

import math
from collections import defaultdict

from deckplan.buy.item import Item
from deckplan.engineering.lumber import read_size
from deckplan.engineering.notches import BOLTS
from deckplan.geometry import Point, unit
from deckplan.layout.model import Bearing, Kind, Layout, Member
from deckplan.loads.model import Force, Loads
from deckplan.units import write_length

Hung = tuple[Member, Point, float]
"""A joist, the place where it hangs [in], the force there [lb]."""

_NEAR = 0.1
SQUARE_HANGER = 5.0
"""Up to this angle a square hanger is nailed on as it is [degrees]. Source: common practice."""

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


def hung_together(joists: list[Hung], aslant: int = 0) -> list[list[Hung]]:
    """Group the joists that hang on one carrier by the hangers they hang in: those that lie side by side share one.

    aslant: by how much they meet it off square [degrees].
    """
    groups: list[list[Hung]] = []
    for one in joists:
        beside = [group for group in groups if any(_side_by_side(one, other, aslant) for other in group)]
        groups = [group for group in groups if group not in beside]
        groups.append([*(each for group in beside for each in group), one])
    return groups


def _side_by_side(one: Hung, other: Hung, aslant: int) -> bool:
    (a, (x0, y0), _), (b, (x1, y1), _) = one, other
    dx, dy = unit(*a.line)
    along, across = (x1 - x0) * dx + (y1 - y0) * dy, abs((x1 - x0) * dy - (y1 - y0) * dx)
    # along a slanting face the next one begins that much later
    return (
        abs(along) < _NEAR + across * math.tan(math.radians(aslant))
        and across < (a.width + b.width) / 2 + _NEAR
    )


def count_connectors(layout: Layout, loads: Loads) -> tuple[Item, ...]:
    """Count hangers, post caps and bases, each kind and size once, with the largest capacity one needs.

    Joists that lie against each other hang in one hanger as wide as they are. A notched post has no cap but two through
    bolts in every piece of its beam.
    """
    needs: dict[str, list[float]] = defaultdict(list)
    bolts: dict[str, int] = defaultdict(int)
    posts = {post.mark: post for post in layout.posts}
    hung: dict[tuple[str, int], list[Hung]] = defaultdict(list)
    for member in layout.members:
        for bearing in member.bearings:
            force, _ = _force_at(loads, member, bearing).governing
            post = posts.get(bearing.on)
            if bearing.manner in ("hanger", "ledger"):  # joists hang on a ledger's face
                aslant = round(abs(bearing.skew)) if abs(bearing.skew) > SQUARE_HANGER else 0
                if member.kind is Kind.JOIST:
                    hung[bearing.on, aslant].append((member, member.point(bearing.at), force))
                else:
                    needs[_hanger(f"hanger for a {member.kind}", member.size, aslant)].append(force)
            elif bearing.manner not in ("cap", "notch", "splice"):
                pass  # bears or is nailed: no connector is counted here
            elif post is not None and post.notch is not None:
                long = write_length(bolt_length(post.notch.depth + post.tongue))
                bolts[f"through bolt, 1/2 in x {long}, two washers, notched {post.size}"] += BOLTS
            elif bearing.manner == "cap" or bearing.at > 0:
                # one cap takes both ends of a splice
                size = f"{post.size} under " if post else ""
                needs[f"post cap, {size}{member.size}"].append(force)
            else:
                pass  # the piece before has counted the cap of this splice
    for (_, aslant), joists in hung.items():
        most = max(force for _, _, force in joists)
        for together in hung_together(joists, aslant):
            ply = read_size(together[0][0].size).ply
            plies = sum(read_size(joist.size).plies for joist, _, _ in together)
            # what the sums leave out carries boards all the same: no less than the joists beside it
            force = sum(force for _, _, force in together) or most
            needs[_hanger("joist hanger", ply if plies == 1 else f"{plies}-{ply}", aslant)].append(force)
    for post in layout.posts:
        force, _ = loads.posts.get(post.mark, Force()).governing
        # one made for concrete does not do on the beam or joist of a frame below
        where = " on wood" if post.stands_on else ""
        needs[f"post base{where}, {post.size}"].append(force)
    counted = [
        Item("connectors", what, None, float(len(forces)), 0.0, len(forces), "pieces",
             f"each for {asked(max(forces))} lb or more", goods="post base" if what.startswith("post base") else "")
        for what, forces in needs.items()
    ]  # fmt: skip
    counted += [
        Item("connectors", what, None, float(count), 0.0, count, "pieces",
             f"{BOLTS} in each piece of beam; they hold it to the tongue, its weight bears on the post")
        for what, count in bolts.items()
    ]  # fmt: skip
    return tuple(sorted(counted, key=lambda item: item.item))


def _hanger(what: str, size: str, aslant: int) -> str:
    """Name a hanger for a size; aslant: how far off square its piece runs into it [degrees], 0 where it does not."""
    return f"{what}, {size}, skewed by {aslant} degrees" if aslant else f"{what}, {size}"


def bolt_length(grip: float) -> float:
    """Return the length [in] of a 1/2 in bolt through a grip [in]: two washers, a nut, and thread to spare.

    Source: common practice, the grip and 1 in, bolts sold by the half inch to 8 in and by the inch beyond.

    >>> bolt_length(5.5), bolt_length(7.5)
    (6.5, 9.0)
    """
    step = 0.5 if grip + 1.0 <= 8.0 else 1.0
    return math.ceil((grip + 1.0) / step - 1e-9) * step
