"""What makes a readable plan meaningless: names twice, references to nothing, supports beside the platform.

Each function looks at the parts that could be read and returns problems; none judges strength or rules of
building, which is the work of the checks.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, count
from pathlib import Path

from deckplan.engineering.lumber import design_values
from deckplan.errors import InputError, Problem
from deckplan.geometry import Line, Point, point_to_line
from deckplan.plan.model import (
    BeamLine,
    Door,
    ElevationRange,
    Flight,
    Hung,
    Ledger,
    Materials,
    Platform,
    Site,
    Wall,
)
from deckplan.plan.problems import came, head, listed, nearest
from deckplan.plan.sense_beams import beam_place, joist_angle
from deckplan.plan.sense_boards import boards_of
from deckplan.plan.sense_openings import openings
from deckplan.units import format_length

GROUND = "ground"
_SHAPE = frozenset({"outline", "elevation"})
"""Keys without which nobody knows where a platform lies."""

# Lines that a person means to be one are drawn this close [in]: a gap for drainage, a rounding of a tape.
TOUCHING = 1.5


@dataclass(frozen=True)
class Sketch:
    """The readable parts of a plan, each with its number in the file and its keys that could not be read.

    names: of platforms, walls and doors, as typed, also of those that could not be read; unread: lists that
    could not be read at all, so that nothing can be missed in them.
    """

    site: Site | None
    materials: Materials | None
    walls: tuple[tuple[int, Wall], ...]
    doors: tuple[tuple[int, Door], ...]
    platforms: tuple[tuple[int, Platform, frozenset[str]], ...]
    flights: tuple[tuple[int, Flight, frozenset[str]], ...]
    platform_names: tuple[str, ...]
    wall_names: tuple[str, ...]
    door_names: tuple[str, ...]
    rules: str
    folder: Path
    unread: frozenset[str] = frozenset()


def every_problem(sketch: Sketch) -> list[Problem]:
    """Return everything that has no meaning, in the order of the file."""
    found = [*_names(sketch), *_rules(sketch)]
    if sketch.site:
        found += _site(sketch.site)
    if sketch.materials:
        found += _materials(sketch.materials)
    for number, platform, unread in sketch.platforms:
        lead = head("platform", number, {"name": platform.name}, sketch.platform_names)
        if not unread & {"outline", "joists", "joists.direction", "support"}:
            found += _supports(platform, lead, unread, sketch)
        if not unread & {"outline", "joists", "joists.direction", "opening"}:
            found += openings(platform, lead, joist_angle(platform))
        if not unread & {"outline", "joists", "joists.direction", "boards"}:
            decking = sketch.materials.decking if sketch.materials else None
            found += boards_of(platform, lead, decking, joist_angle(platform) - 90.0)
    found += _overlaps([p for _, p, unread in sketch.platforms if not unread & _SHAPE])
    for number, flight, unread in sketch.flights:
        found += _flight(number, flight, unread, sketch)
    return found


def _names(sketch: Sketch) -> Iterator[Problem]:
    groups = {"platform": sketch.platform_names, "wall": sketch.wall_names, "door": sketch.door_names}
    for word, names in groups.items():
        for name, times in Counter(names).items():
            if times > 1:
                yield Problem(
                    f'{word} "{name}", name', f"a name of its own for each {word}", f"{times} times the same"
                )
    for name in dict.fromkeys(sketch.platform_names):
        if name.lower() == GROUND:
            yield Problem(
                f'platform "{name}", name', 'a name other than "ground", which flights use for the terrain'
            )
        elif name in sketch.door_names:
            yield Problem(
                f'platform "{name}", name', "a name that no door has, since flights name both", f'"{name}"'
            )
        else:
            continue


def _rules(sketch: Sketch) -> Iterator[Problem]:
    from deckplan.rules import load_profile

    try:
        load_profile(sketch.rules, sketch.folder)
    except InputError as error:
        for problem in error.problems:
            place = f"rules, {error.file}, {problem.place}" if error.file else problem.place
            yield Problem(place, problem.expected, problem.came)


def _site(site: Site) -> Iterator[Problem]:
    seen: dict[Point, int] = {}
    for number, spot in enumerate(site.ground, start=1):
        first = seen.setdefault(spot.at, number)
        if first != number and site.ground[first - 1].elevation != spot.elevation:
            yield Problem(
                f"site.ground {number}",
                f"one elevation for one place; ground {first} says another",
                _height(spot.elevation),
            )
    for number, boundary in enumerate(site.boundary, start=1):
        heights: dict[float, int] = {}
        for entry, by_height in enumerate(boundary.by_height, start=1):
            first = heights.setdefault(by_height.over, entry)
            if first != entry:
                place = f"site.boundary {number}, by_height {entry}, over"
                yield Problem(place, f"another height than by_height {first}", _height(by_height.over))


def _height(inches: float) -> str:
    return f"{inches:g} in"


def _materials(materials: Materials) -> Iterator[Problem]:
    try:
        design_values(materials.species, materials.grade, "2x8")
    except InputError as error:
        for problem in error.problems:
            key = "grade" if problem.place.startswith("grade") else "species"
            yield Problem(f"materials.{key}", problem.expected, problem.came)
        return
    try:
        design_values(materials.species, materials.grade, materials.post)
    except InputError:
        # the species is known, but not in that size: another post will do
        expected = (
            f"a size that the tables have values for in {materials.species} {materials.grade}, such as 4x4"
        )
        yield Problem("materials.post", expected, materials.post)


# -- platforms --


def _edges(platform: Platform) -> list[Line]:
    corners = platform.outline
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def _supports(platform: Platform, lead: str, unread: frozenset[str], sketch: Sketch) -> Iterator[Problem]:
    beams: dict[int, BeamLine] = {}
    ledgers: dict[str, int] = {}
    read = (number for number in count(1) if f"support.{number}" not in unread)
    for number, support in zip(read, platform.supports, strict=False):
        place = f"{lead}, support {number}"
        if isinstance(support, Ledger):
            first = ledgers.setdefault(support.wall, number)
            if first != number:
                yield Problem(f"{place}, wall", f"another wall than support {first}", f'"{support.wall}"')
            yield from _ledger(support, place, sketch)
        elif isinstance(support, Hung):
            yield from _neighbour(platform, support.on, f"{place}, on", sketch)
        else:
            yield from beam_place(platform, support, place, beams)
            beams[number] = support
            yield from _leans_on(platform, support, place, sketch)


def _ledger(support: Ledger, place: str, sketch: Sketch) -> Iterator[Problem]:
    if "wall" in sketch.unread:
        return
    if support.wall not in sketch.wall_names:
        yield _no_such(f"{place}, wall", "a wall of the house", support.wall, sketch.wall_names)
        return
    wall = next((wall for _, wall in sketch.walls if wall.name == support.wall), None)
    if wall is None:
        return
    if not wall.ledger:
        yield Problem(
            f"{place}, wall",
            "a wall that may carry a ledger (ledger = true in its table)",
            f'"{support.wall}"',
        )


def _leans_on(platform: Platform, support: BeamLine, place: str, sketch: Sketch) -> Iterator[Problem]:
    if support.shares_posts_with:
        yield from _neighbour(platform, support.shares_posts_with, f"{place}, shares_posts_with", sketch)
    if support.stands_on:
        yield from _neighbour(platform, support.stands_on, f"{place}, stands_on", sketch)
    if support.shares_footings_with:
        yield from _neighbour(
            platform, support.shares_footings_with, f"{place}, shares_footings_with", sketch
        )


def _neighbour(platform: Platform, name: str, place: str, sketch: Sketch) -> Iterator[Problem]:
    if name == platform.name:
        yield Problem(place, "another platform", "itself")
    elif name not in sketch.platform_names:
        yield _no_such(place, "a platform", name, sketch.platform_names)
    else:
        return


def _no_such(place: str, wanted: str, name: str, known: Sequence[str]) -> Problem:
    guess = nearest(name, known)
    hint = (
        f'{wanted} (did you mean "{guess}"?)' if guess else f"{wanted}: one of {listed(dict.fromkeys(known))}"
    )
    return Problem(place, hint, came(f"{name}") if not name[:1].isdigit() else f'"{name}"')


def _overlaps(platforms: Sequence[Platform]) -> Iterator[Problem]:
    """Find platforms that fill the same place: outlines over each other at one height."""
    if len(platforms) < 2:
        return
    from shapely import Polygon

    shapes = [Polygon(platform.outline) for platform in platforms]
    for (one, shape), (other, second) in combinations(zip(platforms, shapes, strict=True), 2):
        fixed = not isinstance(one.elevation, ElevationRange) and not isinstance(
            other.elevation, ElevationRange
        )
        if fixed and one.elevation == other.elevation and shape.intersection(second).area > 1.0:
            square_feet = shape.intersection(second).area / 144
            yield Problem(
                f'platform "{other.name}", outline',
                f'beside platform "{one.name}", which has the same elevation',
                f"over it on {square_feet:.3g} sq ft",
            )


# -- flights --


def _flight(number: int, flight: Flight, unread: frozenset[str], sketch: Sketch) -> Iterator[Problem]:
    lead = f"flight {number}"
    platforms, doors = sketch.platform_names, sketch.door_names
    if flight.upper == flight.lower:
        yield Problem(f"{lead}, to", "another level than the one it comes from", f'"{flight.lower}"')
        return
    if sketch.unread & {"door", "platform"}:
        return
    if flight.upper.lower() == GROUND:
        yield Problem(f"{lead}, from", "the upper level: a platform or a door", '"ground"')
    elif flight.upper not in (*platforms, *doors):
        yield _no_such(f"{lead}, from", "a platform or a door", flight.upper, (*platforms, *doors))
    elif "along" not in unread:
        yield from _along(flight, lead, sketch)
    else:
        pass  # the stretch could not be read, which is a problem of its own already
    if flight.lower in doors and flight.lower not in platforms:
        yield Problem(f"{lead}, to", 'the lower level: a platform or "ground"', f'the door "{flight.lower}"')
    elif flight.lower != GROUND and flight.lower not in platforms:
        yield _no_such(f"{lead}, to", 'a platform or "ground"', flight.lower, (*platforms, GROUND))
    else:
        return


def _along(flight: Flight, lead: str, sketch: Sketch) -> Iterator[Problem]:
    upper = next(
        (p for _, p, unread in sketch.platforms if p.name == flight.upper and "outline" not in unread), None
    )
    if flight.along is None or upper is None:
        return
    ends = flight.along
    on_one = any(all(point_to_line(end, edge) <= TOUCHING for end in ends) for edge in _edges(upper))
    if not on_one:
        text = " to ".join(f"({format_length(x)}, {format_length(y)})" for x, y in ends)
        yield Problem(f"{lead}, along", f'a stretch of one edge of platform "{upper.name}"', text)
