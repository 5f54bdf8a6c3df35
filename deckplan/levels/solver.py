"""Choosing elevations within the ranges a plan allows, so that risers come out legal and alike."""

from __future__ import annotations

from dataclasses import dataclass, field

from deckplan.geometry import middle
from deckplan.levels.buildable import (
    LEAST_RISERS,
    MORE,
    can_be_built,
    count_between,
    highest_riser,
    rim_depth,
)
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.landings import depth_from
from deckplan.levels.model import Ground, Note
from deckplan.levels.places import Place, door_platform, outline_of
from deckplan.levels.walk import ROOM, Climb, Stop, Walk, Way, ways_between
from deckplan.plan.model import ElevationRange, Flight, Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import SAME, Check, Source, Verdict

LEAST_CHOSEN = 4.0
"""Least riser that the solver chooses where the profile states none [in]. Source: IBC 1011.5.2."""

MOST_RISERS = 60
"""A flight that has not landed after so many risers runs down a slope as steep as itself."""

_LOWEST_THRESHOLD = 0.25
# A chosen height this near a 64th of an inch is that 64th: what is left is noise of the sums.
_SNAP = 1e-5
_GEOMETRY = Source("Riser limits of the profile, together", "", "derived")


@dataclass(frozen=True, slots=True)
class Choice:
    """Chosen elevations [in] by platform and door name, riser counts by flight where the solver chose them.

    spread [in]: largest less smallest riser over the walk; proven: nothing better exists, by proof.
    """

    elevations: dict[str, float]
    risers: dict[int, int] = field(default_factory=dict)
    checks: tuple[Check, ...] = ()
    notes: tuple[Note, ...] = ()


def land_on_ground(
    top: float, place: Place, flight: Flight, ground: Ground, profile: Profile, rim: float
) -> tuple[int, float]:
    """Return how many risers a flight down to the ground has, and the ground [in] where the lowest one lands.

    Each riser more carries the foot one tread further, where the ground may be lower; the fewest risers whose own
    landing they reach, and which can be built so, are the answer. Ground that falls as fast as the flight is never
    reached: then the most that is tried is returned, with risers over the maximum for the checks to name.
    rim [in]: depth of the rim that it leaves.
    """
    if flight.kind == "direct":
        return 1, ground_under(place, flight, ground, 1)
    reached: list[tuple[int, float]] = []
    for risers in range(LEAST_RISERS[flight.kind], MOST_RISERS + 1):
        bottom = ground_under(place, flight, ground, risers)
        most = risers * profile.riser_max.value
        if top - bottom <= most + SAME * max(1.0, most):
            if can_be_built(top - bottom, risers, flight, rim, profile):
                return risers, bottom
            reached.append((risers, bottom))
        if len(reached) == MORE:
            break
    return reached[0] if reached else (MOST_RISERS, bottom)


def ground_under(place: Place, flight: Flight, ground: Ground, risers: int) -> float:
    """Return the ground [in] where the lowest of so many risers lands."""
    (x, y), run = middle(place.along), (risers - 1) * flight.tread
    return ground.elevation_at((x + place.down[0] * run, y + place.down[1] * run))


def choose_elevations(plan: Plan, profile: Profile, ground: Ground, places: tuple[Place, ...]) -> Choice:
    """Return every elevation: as given, or chosen within its range.

    Of all legal choices whose stringers keep their throat: the one with the least spread of risers over the whole
    walk, then the fewest risers, then the nearest to comfort (2R + T) and to the middles of the ranges, proven. Where
    no choice leaves the stringers enough wood, that wish is dropped and their checks speak. Where no choice is legal:
    the middle of each range, and a check that names the smallest set of wishes that conflict and the nearest heights
    that would do.
    """
    given = {door.name: door.sill for door in plan.house.doors}
    ranges: dict[str, ElevationRange] = {}
    for platform in plan.platforms:
        if isinstance(platform.elevation, ElevationRange):
            ranges[platform.name] = platform.elevation
            given[platform.name] = (platform.elevation.lowest + platform.elevation.highest) / 2
        else:
            given[platform.name] = platform.elevation
    if not ranges:
        return Choice(given)
    walk, flights = _walk(plan, profile, ground, places, ranges, given, throats=True)
    if not walk.climbs:
        return Choice(given)
    from deckplan.levels.best_walk import find_best

    best = find_best(walk)
    if best is None:
        walk, flights = _walk(plan, profile, ground, places, ranges, given, throats=False)
        best = find_best(walk)
    if best is None:
        return _conflict(plan, walk, given, ranges)
    elevations = given | {name: _snapped(best.elevations[name]) for name in ranges if name in best.elevations}
    counts = {
        index: climb.ways[way].risers
        for index, climb, way in zip(flights, walk.climbs, best.ways, strict=True)
        if index >= 0 and (climb.upper in ranges or climb.lower in ranges)
    }
    proof = "proven the least" if best.proven else "not proven the least in the time allowed"
    heights = ", ".join(f'"{name}" {format_short(elevations[name], plan.units)}' for name in ranges)
    spread = format_short(best.spread, plan.units)
    text = f"chosen within their ranges: {heights}; risers over the walk differ by {spread}, {proof}"
    return Choice(elevations, counts, notes=(Note("advice", text),))


def _snapped(height: float) -> float:
    near = round(height * 64) / 64
    return near if abs(near - height) < _SNAP else height


def _walk(
    plan: Plan,
    profile: Profile,
    ground: Ground,
    places: tuple[Place, ...],
    ranges: dict[str, ElevationRange],
    given: dict[str, float],
    throats: bool,
) -> tuple[Walk, list[int]]:
    """Put the plan as a problem of heights; beside each climb its flight's place in the plan, -1 for a door's step.

    throats: whether risers that leave too little of a cut stringer are ruled out.
    """
    stops = {name: Stop(name, height, height) for name, height in given.items()}
    stops |= {name: Stop(name, wish.lowest, wish.highest) for name, wish in ranges.items()}
    climbs: list[Climb] = []
    flights: list[int] = []
    for index, (flight, place) in enumerate(zip(plan.flights, places, strict=True)):
        free = flight.upper in ranges or flight.lower in ranges
        ways = _ways(plan, flight, place, stops, ground, profile, free, throats)
        # a flight between given heights that cannot be split fails by its own check, and hinders nothing else
        if free or _legal(flight, ways, stops):
            climbs.append(Climb(flight_mark(index), flight.upper, _below(flight), ways, flight.tread))
            flights.append(index)
    leaving = {flight.upper for flight in plan.flights}
    lowest = {name: stop.low for name, stop in stops.items()}
    for door in plan.house.doors:
        platform = door_platform(plan, door, lowest)
        if platform and platform.name in ranges and door.name not in leaving:
            step = Way(1, 0.0, profile.door_step_max.value, counts=False)
            climbs.append(Climb(f'step at "{door.name}"', door.name, platform.name, (step,), 0.0))
            flights.append(-1)
    used = {name for climb in climbs for name in (climb.upper, climb.lower) if name}
    comfort = (profile.comfort_low.value, profile.comfort_high.value)
    kept = tuple(stop for stop in stops.values() if stop.name in used)
    return Walk(kept, tuple(climbs), _alike(plan, profile, places, flights), comfort), flights


def _legal(flight: Flight, ways: tuple[Way, ...], stops: dict[str, Stop]) -> bool:
    """Tell whether a flight between given heights is legal in the one way open to it."""
    for way in ways:
        bottom = way.bottom if flight.lower == "ground" else stops[flight.lower].low
        if way.low - SAME <= stops[flight.upper].low - bottom <= way.high + SAME:
            return True
    return False


def _below(flight: Flight) -> str:
    return "" if flight.lower == "ground" else flight.lower


def _ways(
    plan: Plan,
    flight: Flight,
    place: Place,
    stops: dict[str, Stop],
    ground: Ground,
    profile: Profile,
    free: bool,
    throats: bool,
) -> tuple[Way, ...]:
    """Return the ways open to a flight; between given heights the one that the rules of splitting give, if legal."""
    high = profile.riser_max.value
    low = profile.riser_min.value if profile.riser_min else LEAST_CHOSEN if free else SAME
    upper, rim = stops[flight.upper], rim_depth(plan, flight.upper)
    door = plan.door(flight.upper)

    def tallest(count: int) -> float:
        return highest_riser(flight.kind, count, flight.tread, rim, profile) if free and throats else high

    counts: range | tuple[int, ...] = range(LEAST_RISERS[flight.kind], MOST_RISERS + 1)
    if flight.kind == "direct":
        counts = (1,)
    if door is not None and free:
        counts = tuple(count for count in counts if count <= profile.door_flight_risers.value)
    if not free:
        if flight.lower == "ground":
            counts = (land_on_ground(upper.low, place, flight, ground, profile, rim)[0],)
        else:
            counts = (count_between(upper.low - stops[flight.lower].low, flight, rim, profile),)
    threshold = Way(1, min(_LOWEST_THRESHOLD, low), profile.egress_door_step_max.value, counts=False)
    extra = (threshold,) if door is not None and flight.kind in ("auto", "direct") else ()
    if flight.lower != "ground":
        lower = stops[flight.lower]
        # wide enough that a platform whose wish is set aside still finds its way
        least, most = upper.low - lower.high - ROOM, upper.high - lower.low + ROOM
        return (*(way for way in extra if least <= way.high and most >= way.low),
                *ways_between(least, most, low, tallest, counts))  # fmt: skip
    found = []
    for count in counts:
        bottom = ground_under(place, flight, ground, count)
        way = Way(count, count * low, count * tallest(count), bottom)
        if way.low <= upper.high - bottom + ROOM and way.high >= upper.low - bottom - ROOM:
            found.append(way)
    return tuple(found)


def _alike(
    plan: Plan, profile: Profile, places: tuple[Place, ...], flights: list[int]
) -> tuple[tuple[int, int, float], ...]:
    """Return the pairs of flights that a platform too shallow for a landing makes one flight of."""
    tolerance = (profile.riser_neighbours_max or profile.riser_spread_max).value
    found = []
    for one, index in enumerate(flights):
        if index < 0 or plan.flights[index].lower == "ground":
            continue
        platform = plan.platform(plan.flights[index].lower)
        depth = depth_from(outline_of(platform), middle(places[index].along), places[index].down)
        if not 0 < depth < profile.landing_depth_min.value:
            continue
        for other, next_ in enumerate(flights):
            if next_ >= 0 and plan.flights[next_].upper == platform.name:
                found.append((one, other, tolerance))
    return tuple(found)


def _conflict(plan: Plan, walk: Walk, given: dict[str, float], ranges: dict[str, ElevationRange]) -> Choice:
    """Say which wishes conflict and which heights would do."""
    from deckplan.levels.conflicts import nearest_heights, smallest_conflict

    fixed = frozenset(door.name for door in plan.house.doors)
    wishes = smallest_conflict(walk, fixed)
    said = []
    for wish in wishes:
        if wish.kind == "climb":
            climb = next(climb for climb in walk.climbs if climb.name == wish.name)
            lower = f'"{climb.lower}"' if climb.lower else "the ground"
            least = min((way.risers for way in climb.ways), default=1)
            kind = f", of {least} risers at least," if least > 1 else ""
            said.append(f'{climb.name}{kind} from "{climb.upper}" to {lower}')
        else:
            said.append(_wish_words(plan, walk.stop(wish.name)))
    near = nearest_heights(walk, fixed) or {}
    moved = {name: height for name, height in near.items() if _outside(walk.stop(name), height)}
    heights = ", ".join(f'"{name}" at {format_short(height, plan.units)}' for name, height in moved.items())
    cure = f"; nearest heights that would do: {heights}" if moved else ""
    reason = f"these wishes cannot hold together: {', '.join(said)}{cure}"
    marks = [wish.name for wish in wishes if wish.kind == "stop"] or list(ranges)
    check = Check(marks[0], "elevations that agree", _GEOMETRY, None, None, "", Verdict.FAIL, reason=reason)
    best = {
        name: min(max(near.get(name, given[name]), wish.lowest), wish.highest)
        for name, wish in ranges.items()
    }
    return Choice(given | best, checks=(check,))


def _outside(stop: Stop, height: float) -> bool:
    return not stop.low - 1e-4 <= height <= stop.high + 1e-4


def _wish_words(plan: Plan, stop: Stop) -> str:
    low, high = format_short(stop.low, plan.units), format_short(stop.high, plan.units)
    return f'"{stop.name}" at {low}' if stop.given else f'"{stop.name}" between {low} and {high}'
