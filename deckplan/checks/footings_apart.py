"""Footings and what lies beside them: each other, the house's own footing, the slope of the ground.

   shallow one          A footing spreads its load downwards at 45 degrees. A deeper hole inside that spread
___|_____|___  <- d ->  takes its ground away, so the clear distance d is at least the difference h of the bottoms.
       \\               |  |
        \\  45°      h  |  |  deep one
         \\             |__|
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise

from deckplan.checks.flight_cures import clear_of_walls
from deckplan.checks.footings import FootingDesign
from deckplan.geometry import distance, point_to_line
from deckplan.layout.platform_frame import letter
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Levels, Note
from deckplan.plan.model import Ledger, Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, Verdict, at_least, at_most, outside

SPREAD = 1.0
"""Clear distance over difference of bottoms [1]: 45 degrees. Source: trade literature."""

CAREFUL_SPREAD = 2.0
"""The same in loose ground, 2 along for 1 down [1]. Source: trade literature."""

GENTLE = 1 / 3
"""Slope up to which the code asks no distance from a footing to the slope [1]. Source: IRC R403.1.7 (from memory)."""

SLOPE_SHARE = 1 / 3
"""Least cover towards the slope over the slope's height [1]. Source: IRC R403.1.7.2 (from memory)."""

SOIL_BETWEEN = 12.0
"""Soil between two open holes that stands by itself [in]. Source: common practice, from memory."""

NAMED = 6
"""How many pairs a note names before it counts the rest."""

CLEAR = "footings clear of each other"
DEPTHS = "footings at different depths"
"""Rules that speak of two footings at a time, under the mark of one."""
APART = Source("Trade literature", "footings at different depths, 45 degrees", "trade literature")
OWN_HOLE = Source("Geometry", "two footings do not fill the same ground", "derived")
NO_KEY = "an engineer's: no key of a plan asks for it, or it would be 36 in across or more"

OneForTwo = Callable[[FootingDesign, FootingDesign], str]
BESIDE_SLOPE = Source("IRC 2021", "R403.1.7.2", "from memory")


@dataclass(frozen=True, slots=True)
class Pair:
    """Two footings: the shallower and the deeper, clear distance [in] and difference of their bottoms [in]."""

    shallow: FootingDesign
    deep: FootingDesign
    clear: float
    difference: float

    @classmethod
    def of(cls, one: FootingDesign, other: FootingDesign) -> Pair:
        """Measure two footings."""
        shallow, deep = (one, other) if one.bottom >= other.bottom else (other, one)
        clear = distance(one.at, other.at) - (one.diameter + other.diameter) / 2
        return cls(shallow, deep, clear, shallow.bottom - deep.bottom)


def never(one: FootingDesign, other: FootingDesign) -> str:
    """Advise one footing for no two."""
    return ""


def check_footings_apart(
    plan: Plan,
    profile: Profile,
    levels: Levels,
    footings: tuple[FootingDesign, ...],
    one_for_two: OneForTwo = never,
) -> list[Check]:
    """Check all footings against each other, the house walls and the ground; the tightest speaks for all that pass.

    one_for_two: says how wide one footing in the place of two would be, nothing where none is to be advised.
    """
    return [
        *_apart(plan, footings, one_for_two),
        *_clear_of_the_house(plan, footings),
        *_by_the_house(plan, profile, levels, footings),
        *_on_slopes(plan, profile, levels, footings),
    ]


def needed_clear(difference: float, spread: float = SPREAD) -> float:
    """Return the clear distance [in] between footings whose bottoms differ by `difference` [in].

    spread [1]: along over down, 1 for 45 degrees, 2 for loose ground.

    Source: trade literature.

    >>> needed_clear(36.0), needed_clear(36.0, CAREFUL_SPREAD)
    (36.0, 72.0)
    """
    return difference * spread


def _apart(plan: Plan, footings: tuple[FootingDesign, ...], one_for_two: OneForTwo) -> Iterator[Check]:
    pairs = [Pair.of(one, other) for one, other in combinations(footings, 2)]
    # a pier under a flight fills a narrow drilled hole at once: it is held to standing clear, not to depth
    pairs = [pair for pair in pairs if pair.clear < 0 or (pair.shallow.post and pair.deep.post)]
    if not pairs:
        return
    checks = [(_pair_check(plan, pair, one_for_two), pair) for pair in _worth_a_look(pairs)]
    failing = [check for check, _ in checks if check.verdict is not Verdict.PASS]
    if failing:
        yield from failing
    else:
        yield min(checks, key=lambda item: item[1].clear - needed_clear(item[1].difference))[0]


def close_hole_notes(plan: Plan, footings: tuple[FootingDesign, ...]) -> list[Note]:
    """Warn of holes with so little soil between them that it may fall in; those that overlap fail a check."""
    pairs = [
        (one.mark, other.mark, clear)
        for one, other in combinations(footings, 2)
        if abs(one.at[0] - other.at[0]) < (reach := SOIL_BETWEEN + (one.diameter + other.diameter) / 2)
        and abs(one.at[1] - other.at[1]) < reach
        and 0 <= (clear := Pair.of(one, other).clear) < SOIL_BETWEEN - 1e-9
    ]
    if not pairs:
        return []
    pairs.sort(key=lambda pair: pair[2])
    named = [f"{one} and {other} ({format_short(clear, plan.units)})" for one, other, clear in pairs[:NAMED]]
    more = f" and {len(pairs) - NAMED} more pairs" if len(pairs) > NAMED else ""
    text = (
        f"holes less than {format_short(SOIL_BETWEEN, plan.units)} apart (common practice, from memory): "
        f"{', '.join(named)}{more}: the soil between may fall in. Pour one and let it set before digging the other, "
        f"dig them as one, or move a beam line so that they share a post or stand farther apart"
    )
    return [Note("caution", text)]


def _worth_a_look(pairs: list[Pair]) -> list[Pair]:
    """Return the pairs that are too close, and of the others the closest."""
    close = [pair for pair in pairs if pair.clear < needed_clear(pair.difference)]
    return close or [min(pairs, key=lambda pair: pair.clear - needed_clear(pair.difference))]


def _pair_check(plan: Plan, pair: Pair, one_for_two: OneForTwo) -> Check:
    shallow, deep, units = pair.shallow, pair.deep, plan.units
    clear = Step(
        "d", f"clear distance of {shallow.mark} and {deep.mark}", "s − (D1 + D2) / 2",
        f"{distance(shallow.at, deep.at):.5g} − ({shallow.diameter:g} + {deep.diameter:g}) / 2", pair.clear, "in",
        OWN_HOLE,
    )  # fmt: skip
    if pair.clear < 0:
        there = distance(shallow.at, deep.at)
        wide = one_for_two(shallow, deep)
        one = f"shares_footings_with on the beam line of one of them ({wide})" if wide else NO_KEY
        reason = (
            f"{shallow.mark} and {deep.mark} overlap by {format_short(-pair.clear, units)}: as wide as they are now "
            f"they want {format_short(there - pair.clear, units)} from middle to middle, not "
            f"{format_short(there, units)}, or one footing: {one}"
        )
        return at_least(
            shallow.mark,
            CLEAR,
            OWN_HOLE,
            pair.clear,
            0.0,
            "in",
            (clear,),
            reason=reason,
        )
    needed = needed_clear(pair.difference)
    steps = (
        clear,
        Step("h", "difference of their bottoms", "", f"{shallow.bottom:.5g} − ({deep.bottom:.5g})", pair.difference,
             "in", OWN_HOLE),
        Step("d min", "clear distance at 45 degrees", f"{SPREAD:g} h", f"{SPREAD:g} × {pair.difference:.5g}", needed,
             "in", APART),
        Step("d loose", "the same in loose ground, for comparison", f"{CAREFUL_SPREAD:g} h",
             f"{CAREFUL_SPREAD:g} × {pair.difference:.5g}", needed_clear(pair.difference, CAREFUL_SPREAD), "in", APART),
    )  # fmt: skip
    reason = (
        f"{shallow.mark} stands {format_short(pair.clear, units)} clear of {deep.mark}, whose bottom lies "
        f"{format_short(pair.difference, units)} deeper: dig it as deep, or keep {format_short(needed, units)} clear"
    )
    return at_least(shallow.mark, DEPTHS, APART, pair.clear, needed, "in", steps, reason=reason)


def _clear_of_the_house(plan: Plan, footings: tuple[FootingDesign, ...]) -> Iterator[Check]:
    """A footing does not reach into the house wall; the nearest speaks for all that are clear of every wall."""
    stands = [
        (min(point_to_line(footing.at, line) for line in pairwise(wall.line)), footing, wall.name)
        for wall in plan.house.walls
        for footing in footings
    ]
    clear = sorted(
        ((far - footing.diameter / 2, footing, wall) for far, footing, wall in stands),
        key=lambda item: item[0],
    )
    inside = [item for item in clear if item[0] < 0]
    for room, footing, wall in inside or clear[:1]:
        reason = (
            f'{footing.mark} reaches {format_short(-room, plan.units)} into "{wall}": set its post farther from the '
            f"house" + ("" if _hangs_on(plan, footing, wall) else ", or hang the level on a ledger there")
        )
        step = Step("d", "from the wall's face to the footing's edge", "s − D / 2",
                    f"{room + footing.diameter / 2:.5g} − {footing.diameter:g} / 2", room, "in", OWN_HOLE)  # fmt: skip
        yield at_least(
            footing.mark, "footing clear of the house wall", OWN_HOLE, room, 0.0, "in", (step,), reason=reason
        )


def _hangs_on(plan: Plan, footing: FootingDesign, wall: str) -> bool:
    """Tell whether the platform that a footing is of hangs on a ledger on a wall already."""
    return any(
        isinstance(support, Ledger) and support.wall == wall
        for index, platform in enumerate(plan.platforms)
        if letter(index) == footing.mark.partition("-")[0]
        for support in platform.supports
    )


def _by_the_house(
    plan: Plan, profile: Profile, levels: Levels, footings: tuple[FootingDesign, ...]
) -> Iterator[Check]:
    """Close to a house wall a footing bears as deep as the house's own."""
    zone = profile.house_footing_zone
    near: list[tuple[FootingDesign, float, str]] = [
        (footing, wall.footing_depth, wall.name)
        for wall in plan.house.walls
        if wall.footing_depth is not None
        for footing in footings
        if any(point_to_line(footing.at, line) <= zone.value for line in pairwise(wall.line))
    ]
    if not near:
        return
    footing, depth, wall = min(near, key=lambda item: item[0].top - item[0].bottom - item[1])
    there = footing.top - footing.bottom
    cure = _away(plan, levels, footings, footing, zone.value) if there < depth else ""
    reason = (
        f'{footing.mark} stands within {format_short(zone.value, plan.units)} of "{wall}", whose footing lies '
        f"{format_short(depth, plan.units)} deep: {cure}"
    )
    yield at_least(footing.mark, "footing by the house wall", zone.source, there, depth, "in", reason=reason)


def _away(
    plan: Plan, levels: Levels, footings: tuple[FootingDesign, ...], footing: FootingDesign, zone: float
) -> str:
    """Say what takes a footing out of the zone of a wall's own [in]: its post line out, or its flight elsewhere."""
    if footing.post:
        return "bear at that depth, or move the post line out"
    for rise in levels.flights:
        own = f"{flight_mark(rise.index)}-F"
        if footing.mark.startswith(own):
            feet = [each.at for each in footings if each.mark.startswith(own)]
            found = clear_of_walls(plan, rise, feet, zone)
            if found:
                return " or ".join(found)
    return "bear at that depth"


def _on_slopes(
    plan: Plan, profile: Profile, levels: Levels, footings: tuple[FootingDesign, ...]
) -> Iterator[Check]:
    """Steeper than the limit is for an engineer; between gentle and that, a footing keeps cover towards the slope."""
    if not footings:
        return
    limit = profile.ground_slope_max
    slopes = [(levels.ground.slope_at(footing.at), footing) for footing in footings]
    steepest, at = max(slopes, key=lambda item: item[0])
    rule = "ground slope at the footings"
    if steepest <= limit.value:
        yield at_most(at.mark, rule, limit.source, steepest, limit.value, "1")
    for slope, footing in slopes:
        if slope > limit.value:
            reason = (
                f"the ground at {footing.mark} rises {slope:.2g} in an inch, steeper than {limit.value:g}"
            )
            yield outside(
                footing.mark, rule, limit.source, reason, demand=slope, capacity=limit.value, unit="1"
            )
        elif slope > GENTLE:
            yield _cover(plan, slope, footing)


def _cover(plan: Plan, slope: float, footing: FootingDesign) -> Check:
    heights = [spot.elevation for spot in plan.site.ground]
    height = max(heights) - min(heights)
    depth = footing.top - footing.bottom
    cover = depth / slope - footing.diameter / 2
    needed = height * SLOPE_SHARE
    steps = (
        Step("H", "height of the slope, highest to lowest measured point", "", "", height, "in", BESIDE_SLOPE),
        Step("c", "level distance from the footing's lower edge to the slope", "t / slope − D / 2",
             f"{depth:.5g} / {slope:.3g} − {footing.diameter:g} / 2", cover, "in", BESIDE_SLOPE),
        Step("c min", "least cover", "H / 3", f"{height:.5g} / 3", needed, "in", BESIDE_SLOPE),
    )  # fmt: skip
    rule = "footing beside a slope"
    if math.isclose(cover, needed) or cover > needed:
        return at_least(footing.mark, rule, BESIDE_SLOPE, cover, needed, "in", steps)
    reason = f"{footing.mark} lies close under the face of a slope steeper than 1 in 3: dig deeper, or ask an engineer"
    return outside(
        footing.mark, rule, BESIDE_SLOPE, reason, demand=cover, capacity=needed, unit="in", steps=steps
    )
