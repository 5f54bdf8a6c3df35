"""What flights put on the platforms they leave and reach, as point loads on the joists nearest to them."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.engineering.influence import PointLoad
from deckplan.geometry import Line, Point, along, point_to_line
from deckplan.layout.model import Kind, Layout, Member
from deckplan.levels.model import Levels, Rise
from deckplan.loads.model import Force
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile

# A flight's load is spread over this many points along its width: close enough to a line for joists at any spacing.
POINTS = 12


@dataclass(frozen=True, slots=True)
class FlightLoads:
    """Point loads by joist mark (at, dead, live, snow), and what goes straight to the ground or the house."""

    points: dict[str, tuple[PointLoad, ...]]
    ground: Force
    applied: Force


def flight_loads(plan: Plan, levels: Levels, layout: Layout, profile: Profile) -> FlightLoads:
    """Put every flight's load where it goes.

    A stringer flight hands half its load to each end. A box step stands on the lower platform: its weight counts
    there; the people and the snow on it are the platform's own, which the box takes from the boards under it.
    """
    points: dict[str, list[PointLoad]] = {}
    names = {platform.name for platform in plan.platforms}
    ground, applied = Force(), Force()
    for rise in levels.flights:
        if rise.kind == "direct" or rise.risers < 2:
            continue
        square_feet = rise.width * rise.run / 144
        dead = profile.dead_load_min.value * square_feet
        stands_alone = rise.kind == "stringer" or rise.lower not in names
        live = profile.stair_live_load.value * square_feet if stands_alone else 0.0
        snow = plan.site.snow_load * square_feet if stands_alone else 0.0
        whole = Force(dead, live, snow, live, snow, dead)
        applied = applied + whole
        for name, line, share in _ends(rise):
            part = Force(*(load * share for load in (dead, live, snow, live, snow, dead)))
            joists = layout.of(name, Kind.JOIST) if name in names else ()
            if not joists:
                ground = ground + part
                continue
            for mark, load in _spread(joists, line, part):
                points.setdefault(mark, []).append(load)
    return FlightLoads({mark: tuple(_merged(loads)) for mark, loads in points.items()}, ground, applied)


def _ends(rise: Rise) -> tuple[tuple[str, Line, float], ...]:
    """Return who carries which share of a flight along which line in plan."""
    dx, dy = rise.down[0] * rise.run, rise.down[1] * rise.run
    (x0, y0), (x1, y1) = rise.along
    landing = ((x0 + dx, y0 + dy), (x1 + dx, y1 + dy))
    if rise.kind == "box":
        middle = ((x0 + dx / 2, y0 + dy / 2), (x1 + dx / 2, y1 + dy / 2))
        return ((rise.lower, middle, 1.0),)
    return ((rise.upper, rise.along, 0.5), (rise.lower, landing, 0.5))


def _spread(joists: tuple[Member, ...], line: Line, force: Force) -> list[tuple[str, PointLoad]]:
    """Share a line of force among the joists beside each of its points, by the lever rule."""
    found: list[tuple[str, PointLoad]] = []
    lines = [(joist.line, joist) for joist in joists]
    for number in range(POINTS):
        place = along(line, (number + 0.5) / POINTS)
        near = sorted([(point_to_line(place, own), joist) for own, joist in lines], key=lambda pair: pair[0])
        (first_off, first), rest = near[0], near[1:]
        second = next(((off, joist) for off, joist in rest if _other_side(first, joist, place)), None)
        shares = [(first, 1.0)]
        if second is not None and first_off > 1e-6:
            total = first_off + second[0]
            shares = [(first, second[0] / total), (second[1], first_off / total)]
        for joist, share in shares:
            part = share / POINTS
            put_on = (force.dead * part, force.live * part, force.snow * part)
            found.append((joist.mark, (_at(joist, place), *put_on)))
    return found


def _other_side(first: Member, other: Member, place: Point) -> bool:
    """Tell whether two joists stand on either side of a place, and the second reaches as far along."""
    (x0, y0), (x1, y1) = first.line
    nx, ny = -(y1 - y0), x1 - x0
    side = (place[0] - x0) * nx + (place[1] - y0) * ny
    across = (other.start[0] - x0) * nx + (other.start[1] - y0) * ny
    return side * across > 0 and abs(across) > abs(side)


def _at(joist: Member, place: Point) -> float:
    (x0, y0), (x1, y1) = joist.line
    length = joist.length
    at = ((place[0] - x0) * (x1 - x0) + (place[1] - y0) * (y1 - y0)) / length
    return min(length, max(0.0, at))


def _merged(loads: list[PointLoad]) -> list[PointLoad]:
    """Add up loads at the same place."""
    sums: dict[float, tuple[float, float, float]] = {}
    for at, dead, live, snow in loads:
        key = round(at, 6)
        d, v, s = sums.get(key, (0.0, 0.0, 0.0))
        sums[key] = (d + dead, v + live, s + snow)
    return [(at, *parts) for at, parts in sorted(sums.items())]
