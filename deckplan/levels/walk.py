"""The walk over a deck as a problem of heights: places with ranges, flights with the riser counts open to them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

NEAR = 1e-9
ROOM = 36.0
"""How far a platform may be moved when its own wish is set aside [in]."""


@dataclass(frozen=True, slots=True)
class Stop:
    """A door or platform: its name and the range its elevation may lie in [in]; equal ends: it is given."""

    name: str
    low: float
    high: float

    @property
    def given(self) -> bool:
        """Tell whether there is nothing to choose."""
        return self.high - self.low <= NEAR

    @property
    def middle(self) -> float:
        """The middle of the range [in]."""
        return (self.low + self.high) / 2


@dataclass(frozen=True, slots=True)
class Way:
    """One way to build a flight: so many risers, the rises that make them legal [in].

    bottom [in]: where it lands, for flights down to the ground (it moves with the count of risers), else 0;
    counts: whether its risers are compared with the others'; the threshold of a door is not.
    """

    risers: int
    low: float
    high: float
    bottom: float = 0.0
    counts: bool = True


@dataclass(frozen=True, slots=True)
class Climb:
    """A flight: from its upper stop to its lower one ("" is the ground), the ways open to it, its tread [in]."""

    name: str
    upper: str
    lower: str
    ways: tuple[Way, ...]
    tread: float


@dataclass(frozen=True, slots=True)
class Walk:
    """The whole problem.

    alike: pairs of flights (by place in `climbs`) that count as one, and how far their risers may differ [in];
    comfort: the band of 2R + T that walks well [in].
    """

    stops: tuple[Stop, ...]
    climbs: tuple[Climb, ...]
    alike: tuple[tuple[int, int, float], ...] = ()
    comfort: tuple[float, float] = (22.0, 30.0)

    def stop(self, name: str) -> Stop:
        """Return a stop by its name."""
        return next(stop for stop in self.stops if stop.name == name)

    def with_risers(self, low: float, high: float) -> Walk | None:
        """Return the walk with every riser that counts between two heights [in], narrowed; None: nothing is left."""
        climbs = []
        for climb in self.climbs:
            ways = []
            for way in climb.ways:
                if way.counts:
                    least, most = max(way.low, way.risers * low), min(way.high, way.risers * high)
                    if least > most + NEAR:
                        continue
                    ways.append(Way(way.risers, least, max(least, most), way.bottom, way.counts))
                else:
                    ways.append(way)
            if not ways:
                return None
            climbs.append(Climb(climb.name, climb.upper, climb.lower, tuple(ways), climb.tread))
        return replace(self, climbs=tuple(climbs)).narrowed()

    def narrowed(self) -> Walk | None:
        """Return the walk with every range and every choice cut to what the flights leave open; None: nothing is.

        What is cut off holds no solution, so nothing is lost; searches get faster.
        """
        stops = {stop.name: stop for stop in self.stops}
        climbs = list(self.climbs)
        for _ in range(4 * len(stops) + 4):
            before = (dict(stops), tuple(climbs))
            for number, climb in enumerate(climbs):
                ways = tuple(
                    way for way in climb.ways if _possible(way, stops[climb.upper], _lower(climb, way, stops))
                )
                if not ways:
                    return None
                if len(ways) < len(climb.ways):
                    climbs[number] = replace(climb, ways=ways)
                if not _pull(stops, climbs[number]):
                    return None
            if (stops, tuple(climbs)) == before:
                break
        return replace(self, stops=tuple(stops.values()), climbs=tuple(climbs))


def _lower(climb: Climb, way: Way, stops: dict[str, Stop]) -> Stop:
    return stops[climb.lower] if climb.lower else Stop("", way.bottom, way.bottom)


def _possible(way: Way, upper: Stop, lower: Stop) -> bool:
    least, most = upper.low - lower.high, upper.high - lower.low
    return least <= way.high + NEAR and most >= way.low - NEAR


def _pull(stops: dict[str, Stop], climb: Climb) -> bool:
    """Narrow both ends of a flight to what its ways allow; say whether anything is left."""
    spans = [(way, _lower(climb, way, stops)) for way in climb.ways]
    upper = stops[climb.upper]
    if not upper.given:
        low = max(upper.low, min(lower.low + way.low for way, lower in spans))
        high = min(upper.high, max(lower.high + way.high for way, lower in spans))
        if low > high + NEAR:
            return False
        stops[climb.upper] = Stop(upper.name, min(low, high), max(low, high))
    if climb.lower and not stops[climb.lower].given:
        upper, lower = stops[climb.upper], stops[climb.lower]
        low = max(lower.low, min(upper.low - way.high for way in climb.ways))
        high = min(lower.high, max(upper.high - way.low for way in climb.ways))
        if low > high + NEAR:
            return False
        stops[climb.lower] = Stop(lower.name, min(low, high), max(low, high))
    return True


def ways_between(
    least: float, most: float, riser_low: float, riser_high: Callable[[int], float], counts: Iterable[int]
) -> tuple[Way, ...]:
    """Return the ways open to a flight whose rise lies between two heights [in], for the riser counts given.

    riser_low, riser_high [in]: least riser, and the largest by the count of risers.
    """
    return tuple(
        Way(count, count * riser_low, count * riser_high(count))
        for count in counts
        if count * riser_low <= most + NEAR and count * riser_high(count) >= least - NEAR
    )
