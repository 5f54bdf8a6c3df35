"""The largest shear of a beam under every pattern of its loads, at its supports and between them.

Under loads that only press, it stands beside a support. Where some loads press and others lift, it may stand between
the two. Source: structural mechanics; NDS 2018 3.4.3.1. Lengths [in], forces [lb].
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from deckplan.engineering.influence import NEAR, Unit

Shear = tuple[float, float]
"""A shear [lb] and where along the beam it stands [in]."""


def largest_shear(units: list[Unit], places: list[float], spans: list[float], depth: float = 0.0) -> Shear:
    """Return the largest shear over all patterns at a depth [in] from a support, or at its face."""
    last = len(spans)
    # shear right of support i stands at 2i+1, left of it at 2i: largest and least
    high, low = [0.0] * (2 * last + 2), [0.0] * (2 * last + 2)
    for unit in units:
        moments, dead, live, place = unit.moments, unit.dead, unit.live, unit.place
        for index, span in enumerate(spans):
            share = (moments[index + 1] - moments[index]) / span
            slot = 2 * index + 1
            if index == place:
                left, right = share + unit.left, share + unit.left - unit.load
                if depth > 0:
                    left = _shear_at_depth(unit, span, depth, left, True)
                    right = _shear_at_depth(unit, span, depth, right, False)
                _gather(high, low, slot, left, dead, live)
                _gather(high, low, slot + 1, right, dead, live)
                continue
            steady, moving = share * dead, share * live
            if moving > 0:
                high[slot] += steady + moving
                high[slot + 1] += steady + moving
                low[slot] += steady
                low[slot + 1] += steady
            else:
                high[slot] += steady
                high[slot + 1] += steady
                low[slot] += steady + moving
                low[slot + 1] += steady + moving
        if place < 0 or place == last:
            slot = 0 if place < 0 else 2 * last + 1
            _gather(high, low, slot, _past_depth(unit, depth) if depth > 0 else unit.load, dead, live)
    at_supports = _largest(high, low, places)
    if not lifted(units):
        return at_supports
    return max((at_supports, *_shears_between(units, places, spans, depth)), key=lambda shear: shear[0])


def _shears_between(
    units: list[Unit], places: list[float], spans: list[float], depth: float
) -> Iterator[Shear]:
    """Yield the largest shear on both sides of every load's ends, at a depth [in] or more from the supports."""
    for index, span in enumerate(spans):
        ends = {end for unit in units if unit.place == index for end in (unit.start, unit.end)}
        slopes = [(unit.moments[index + 1] - unit.moments[index]) / span for unit in units]
        for end in ends:
            if not depth - NEAR <= end <= span - depth + NEAR:
                continue
            for cut in (end - NEAR, end + NEAR):
                shares = (
                    slope + unit.left - unit.load + _beyond(unit, cut) if unit.place == index else slope
                    for slope, unit in zip(slopes, units, strict=True)
                )
                yield _either_way(zip(shares, units, strict=True)), places[index] + end
    for place, at, way in ((-1, places[0], -1.0), (len(spans), places[-1], 1.0)):
        own = [unit for unit in units if unit.place == place]
        for end in {end for unit in own for end in (unit.start, unit.end)}:
            if end >= depth - NEAR:
                yield _either_way((_beyond(unit, end - NEAR), unit) for unit in own), at + way * end


def _either_way(shares: Iterable[tuple[float, Unit]]) -> float:
    """Return the larger of the most upwards and the most downwards that units come to by their shares."""
    up = down = 0.0
    for share, unit in shares:
        steady, moving = share * unit.dead, share * unit.live
        up += steady + max(0.0, moving)
        down += steady + min(0.0, moving)
    return max(up, -down)


def _beyond(unit: Unit, cut: float) -> float:
    """Return how much of a unit's load stands farther along its span or overhang than a cut [lb]."""
    if unit.point:
        return unit.load if unit.start > cut else 0.0
    return min(max(unit.end - cut, 0.0), unit.load)


def lifted(units: list[Unit]) -> bool:
    """Tell whether any load acts upwards."""
    return any(unit.dead < 0 or unit.live < 0 for unit in units)


def _gather(high: list[float], low: list[float], slot: int, share: float, dead: float, live: float) -> None:
    """Add a unit's share to the largest and least sums."""
    steady, moving = share * dead, share * live
    if share * live > 0:
        high[slot] += steady + moving
        low[slot] += steady
    else:
        high[slot] += steady
        low[slot] += steady + moving


def _largest(high: list[float], low: list[float], places: list[float]) -> Shear:
    sizes = [max(up, -down) for up, down in zip(high, low, strict=True)]
    value = max(sizes)
    return value, places[sizes.index(value) // 2]


def _shear_at_depth(unit: Unit, span: float, depth: float, face: float, left: bool) -> float:
    """Shear of a unit at depth from a support of its own span; a point load nearer than that counts x/d."""
    reach = min(depth, span / 2)
    if unit.point:
        away = unit.start if left else span - unit.start
        return face if away >= reach else face * away / reach
    if left:
        return face - max(0.0, min(unit.end, reach) - unit.start)
    return face + max(0.0, unit.end - max(unit.start, span - reach))


def _past_depth(unit: Unit, depth: float) -> float:
    """Load of an overhang's unit that counts at depth from the support."""
    if unit.point:
        return unit.load if unit.start >= depth else unit.start / depth
    return _beyond(unit, depth)
