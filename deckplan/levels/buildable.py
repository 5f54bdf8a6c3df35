"""How many risers a flight can be built with: the rules' largest riser, and the wood that is left of a cut stringer.

A 7 3/4 in riser is legal, yet cut for an 11 in tread it leaves 4.9 in of a 2x12, under the 5 that are asked. Where
the program chooses how many risers a flight has, one more is taken then.
"""

from __future__ import annotations

import math

from deckplan.engineering.lumber import read_size
from deckplan.levels.box_steps import EDGE
from deckplan.levels.risers import count_risers
from deckplan.plan.model import Flight, Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import SAME

BOX_RISERS = 3
"""A flight of up to this many risers is built of box steps unless the plan says otherwise (common
practice).
"""

LEAST_RISERS = {"auto": 1, "direct": 1, "box": 2, "stringer": 2}
"""Fewest risers of a flight by its kind: a box or a stringer has at least one tread."""

STRINGER_DEPTH = 11.25
"""Dressed depth of the plank that stringers are cut from, a 2x12 [in]."""

THROAT_MIN = 5.0
"""Least wood left at the throat of a cut stringer [in]. Source: AWC DCA6, from memory."""

MORE = 4
"""How many risers more than the fewest are looked at; two are always enough where the rules state no least riser."""


def tallest_riser(tread: float, depth: float = STRINGER_DEPTH, throat: float = THROAT_MIN) -> float:
    """Return the tallest riser [in] whose cut leaves the throat: R T / sqrt(R2 + T2) = d - throat, solved for R.

    tread, depth, throat [in]. Without end where the tread itself takes no more than that.
    Source: geometry.

    >>> round(tallest_riser(11.0), 3)
    7.595
    """
    cut = depth - throat
    return math.inf if tread <= cut else cut * tread / (tread**2 - cut**2) ** 0.5


def rim_depth(plan: Plan, upper: str) -> float:
    """Return the depth [in] of the rim that a flight leaves; a house wall is deep enough, "auto" counts as 2x8."""
    platform = next((each for each in plan.platforms if each.name == upper), None)
    if platform is None:
        return math.inf
    return read_size("2x8" if platform.joists.size == "auto" else platform.joists.size).depth


def highest_riser(kind: str, risers: int, tread: float, rim: float, profile: Profile) -> float:
    """Return the tallest riser [in] that a flight of so many risers can be built with.

    kind: as the plan asks; tread, rim [in]: depth of one step, and of the rim that the flight leaves. The largest riser
    of the rules, less where the flight would be cut from stringers too thin at the throat. "auto" has a box to turn to
    where it has few risers and a row of screws finds room in the rim.
    """
    most = profile.riser_max.value
    if risers < 2 or kind in ("direct", "box") or (risers - 1) * tread > profile.stringer_run_max_cut.value:
        return most  # no stringer, or one that is not cut
    cut = tallest_riser(tread)
    if kind == "auto" and risers <= BOX_RISERS:
        cut = max(cut, rim - 2 * EDGE)
    return min(most, cut)


def count_between(rise: float, flight: Flight, rim: float, profile: Profile) -> int:
    """Return the fewest risers for a rise [in] that the flight can be built with; rim [in]: depth of the rim it leaves.

    Where none of those looked at can be built, the fewest that the rules allow: the checks say what is wrong.
    """
    if flight.kind == "direct" or rise <= 0:
        return 1
    fewest = max(LEAST_RISERS[flight.kind], count_risers(rise, profile.riser_max.value))
    for risers in range(fewest, fewest + MORE):
        if can_be_built(rise, risers, flight, rim, profile):
            return risers
    return fewest


def can_be_built(rise: float, risers: int, flight: Flight, rim: float, profile: Profile) -> bool:
    """Tell whether a rise [in] in so many risers is within the rules and leaves enough of its stringers."""
    most = risers * highest_riser(flight.kind, risers, flight.tread, rim, profile)
    least = risers * profile.riser_min.value if profile.riser_min else 0.0
    near = SAME * max(1.0, rise)
    return least - near <= rise <= most + near


def why_more(plan: Plan, flight: Flight, rise: float, risers: int, profile: Profile) -> str:
    """Return why a flight has more risers than its rise [in] asks for, as a piece of a sentence; empty: it has not."""
    fewest = count_risers(rise, profile.riser_max.value)
    if rise <= 0 or risers <= fewest:
        return ""
    if fewest < LEAST_RISERS[flight.kind]:
        return f"a {flight.kind} has {LEAST_RISERS[flight.kind]} at least"
    if not can_be_built(rise, fewest, flight, rim_depth(plan, flight.upper), profile):
        return f"{fewest} of {rise / fewest:.4g} in would leave too little of a cut stringer"
    return "so that it lands, or agrees with the other risers of the walk"
