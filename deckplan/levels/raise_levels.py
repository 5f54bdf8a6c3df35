"""The levels stage: from a plan to finished elevations and flights with equal risers."""

from __future__ import annotations

from deckplan.levels.box_steps import EDGE
from deckplan.levels.buildable import BOX_RISERS, count_between, rim_depth
from deckplan.levels.flight_checks import check_flight, door_checks, door_notes, flight_mark, flight_notes
from deckplan.levels.ground import lay_ground
from deckplan.levels.model import FlightKind, Ground, Level, Levels, Note, Rise
from deckplan.levels.places import Place, place_flight
from deckplan.levels.solver import Choice, choose_elevations, ground_under, land_on_ground
from deckplan.plan.model import Flight, Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check


def raise_levels(plan: Plan, profile: Profile) -> Levels:
    """Return a plan's finished elevations, its flights split into equal risers, and what the rules say of
    them.

    Elevations stand as given; within ranges the solver chooses. A rise is taken finished surface to
    finished surface where the flight lands, which on sloping ground depends on how many risers it has.

    Raises InputError where a flight names something that is not there, or the ground has two elevations at
    a place.
    """
    ground = lay_ground([(spot.at, spot.elevation) for spot in plan.site.ground])
    places = tuple(place_flight(plan, flight, profile) for flight in plan.flights)
    choice = choose_elevations(plan, profile, ground, places)
    flights = tuple(
        _land(index, flight, place, choice, ground, profile, rim_depth(plan, flight.upper))
        for index, (flight, place) in enumerate(zip(plan.flights, places, strict=True))
    )
    checks: list[Check] = list(choice.checks)
    notes: list[Note] = list(choice.notes)
    for rise, place in zip(flights, places, strict=True):
        checks += check_flight(plan, rise, place, flights, ground, profile)
        notes += flight_notes(plan, rise, ground, profile)
    checks += door_checks(plan, choice.elevations, flights, profile)
    notes += door_notes(plan, choice.elevations, flights, ground, profile)
    if not plan.site.ground:
        notes.append(Note("ask", "nobody measured the ground: it is taken as level at 0"))
    levels = tuple(
        Level(platform.name, choice.elevations[platform.name], not isinstance(platform.elevation, float))
        for platform in plan.platforms
    )
    return Levels(levels, flights, ground, tuple(checks), tuple(notes))


def _land(
    index: int, flight: Flight, place: Place, choice: Choice, ground: Ground, profile: Profile, rim: float
) -> Rise:
    """Split one flight and find where it lands; rim [in]: depth of the rim that it leaves."""
    top = choice.elevations[flight.upper]
    if flight.lower == "ground" and index in choice.risers:
        risers = choice.risers[index]
        bottom = ground_under(place, flight, ground, risers)
    elif flight.lower == "ground":
        risers, bottom = land_on_ground(top, place, flight, ground, profile, rim)
    else:
        bottom = choice.elevations[flight.lower]
        risers = choice.risers.get(index) or count_between(top - bottom, flight, rim, profile)
    return Rise(
        index=index,
        upper=flight.upper,
        lower=flight.lower,
        kind=_kind(flight.kind, risers, (top - bottom) / risers, rim),
        along=place.along,
        down=place.down,
        top=top,
        bottom=bottom,
        risers=risers,
        tread=flight.tread,
    )


def _kind(asked: str, risers: int, riser: float, rim: float) -> FlightKind:
    """Return how a flight is built; "auto" goes by its risers and by what a box could be screwed to.

    riser [in]; rim [in]: depth of the rim that it leaves. The top of a box stands one riser under the boards; the rim
    must reach far enough below that for a row of screws.
    """
    if asked == "direct" or (asked == "auto" and risers == 1):
        return "direct"
    screws = rim - riser >= 2 * EDGE - 1e-6
    if asked == "box" or (asked == "auto" and risers <= BOX_RISERS and screws):
        return "box"
    return "stringer"


__all__ = ["flight_mark", "land_on_ground", "raise_levels"]
