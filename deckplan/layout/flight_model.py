"""What the framing of flights gives: frames, fixings, blocking, piers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from deckplan.geometry import Line, Point
from deckplan.layout.model import Kind, Member, Pad
from deckplan.levels.model import Note
from deckplan.verdict import Check

FixingKind = Literal["screw", "angle", "pier", "bracket", "hanger"]


@dataclass(frozen=True, slots=True)
class StepFrame:
    """One frame of a box flight: ripped height [in], joists, their spacing [in], width and depth in plan [in]."""

    height: float
    joists: int
    spacing: float
    width: float
    depth: float
    top: float


@dataclass(frozen=True, slots=True)
class Fixing:
    """One fixing by kind: its place in plan [in], its elevation [in], the marks it joins, the force on it
    [lb].

    edge [in]: distance to the nearest edge of either piece, for screws; nil for the others.
    """

    kind: FixingKind
    at: Point
    elevation: float
    joins: tuple[str, ...]
    force: float
    edge: float = 0.0


@dataclass(frozen=True, slots=True)
class FlightFrame:
    """How one flight is built."""

    index: int
    mark: str
    frames: tuple[StepFrame, ...] = ()
    fixings: tuple[Fixing, ...] = ()
    blocking: tuple[Line, ...] = ()
    members: tuple[Member, ...] = ()
    pads: tuple[Pad, ...] = ()
    checks: tuple[Check, ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def inner_feet(self) -> int:
        """How many stringers stand on the pad between the piers under the outer two."""
        stringers = sum(1 for member in self.members if member.kind is Kind.STRINGER)
        return max(0, stringers - len(self.pads)) if self.pads else 0


@dataclass(frozen=True, slots=True)
class FlightFrames:
    """The framing of all flights, in plan order."""

    flights: tuple[FlightFrame, ...]

    @property
    def members(self) -> tuple[Member, ...]:
        """Every piece of wood of the flights, blocking in the platforms included."""
        return tuple(member for flight in self.flights for member in flight.members)

    @property
    def pads(self) -> tuple[Pad, ...]:
        """The piers that flights stand on."""
        return tuple(pad for flight in self.flights for pad in flight.pads)

    @property
    def checks(self) -> tuple[Check, ...]:
        """What the rules say of their fixings and stringers."""
        return tuple(check for flight in self.flights for check in flight.checks)

    @property
    def notes(self) -> tuple[Note, ...]:
        """What a person should know of them."""
        return tuple(note for flight in self.flights for note in flight.notes)

    def of(self, index: int) -> FlightFrame:
        """Return the framing of a flight by its place in the plan; raises KeyError where there is none."""
        for flight in self.flights:
            if flight.index == index:
                return flight
        raise KeyError(index)
