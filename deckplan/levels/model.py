"""What the levels stage gives: finished elevations, the ground, flights with their risers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from deckplan.geometry import Line, Point, distance
from deckplan.verdict import Check

FlightKind = Literal["direct", "box", "stringer"]


class Ground(Protocol):
    """The terrain: anything that knows its elevation [in] and slope [1] at a point [in]."""

    def elevation_at(self, at: Point) -> float:
        """Return the ground's elevation [in] at a point."""
        ...

    def slope_at(self, at: Point) -> float:
        """Return the steepest slope [rise over run, 1] at a point."""
        ...

    def measured_at(self, at: Point) -> bool:
        """Tell whether the point lies inside the measured area, so that nothing is extrapolated there."""
        ...


@dataclass(frozen=True, slots=True)
class Level:
    """A platform's finished elevation [in]; chosen: the solver chose it within a range."""

    platform: str
    elevation: float
    chosen: bool


@dataclass(frozen=True, slots=True)
class Rise:
    """One flight, split into equal risers.

    index: its place in the plan's flights; along: the stretch of the upper edge that it leaves [in],
    ordered so that the way down is to the right when looking from its start to its end or not, see `down`;
    down: unit vector in plan, from the upper edge towards the way down; top, bottom: finished elevations
    [in], the bottom taken where the flight lands; risers: how many; tread [in]: run of one step.
    """

    index: int
    upper: str
    lower: str
    kind: FlightKind
    along: Line
    down: Point
    top: float
    bottom: float
    risers: int
    tread: float

    @property
    def rise(self) -> float:
        """Total rise [in], finished surface to finished surface."""
        return self.top - self.bottom

    @property
    def riser(self) -> float:
        """One riser [in], kept exact."""
        return self.rise / self.risers

    @property
    def width(self) -> float:
        """Width along the edge [in]."""
        return distance(*self.along)

    @property
    def run(self) -> float:
        """Horizontal length [in]: one tread fewer than risers."""
        return (self.risers - 1) * self.tread

    @property
    def landing(self) -> Point:
        """Where the lowest riser lands, middle of the width [in]."""
        (x0, y0), (x1, y1) = self.along
        return ((x0 + x1) / 2 + self.down[0] * self.run, (y0 + y1) / 2 + self.down[1] * self.run)


@dataclass(frozen=True, slots=True)
class Note:
    """Something that a person should know and no check expresses: "caution", "advice", or "ask" before
    building; open: it asks for something that is neither drawn nor bought.
    """

    level: Literal["caution", "advice", "ask"]
    text: str
    open: bool = False


@dataclass(frozen=True, slots=True)
class Levels:
    """The levels of a deck: every platform's elevation, every flight, the ground, and what the rules
    say of them.
    """

    levels: tuple[Level, ...]
    flights: tuple[Rise, ...]
    ground: Ground
    checks: tuple[Check, ...]
    notes: tuple[Note, ...] = ()

    @property
    def elevations(self) -> dict[str, float]:
        """Every platform's finished elevation [in], by its name."""
        return {level.platform: level.elevation for level in self.levels}

    def elevation(self, platform: str) -> float:
        """Return a platform's finished elevation [in]; raises KeyError for a name it does not know."""
        for level in self.levels:
            if level.platform == platform:
                return level.elevation
        raise KeyError(platform)
