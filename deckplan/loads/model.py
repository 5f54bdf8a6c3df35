"""What the loads stage gives: the demand on each mark, with the path it took to the soil."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from deckplan.engineering.deflection import Deflections, find_deflections
from deckplan.engineering.influence import LineLoad, PointLoad
from deckplan.engineering.statics import BeamAnalysis, Peak, shear_at_depth
from deckplan.verdict import Step


@dataclass(frozen=True, slots=True)
class Force:
    """A force by what causes it [lb], downwards positive.

    dead, live, snow: with every live load on; live_most, snow_most: where live or snow lies only where it adds;
    least: smallest sum over every pattern, under nothing for uplift; snow_least: what of it snow does, 0 or less.
    """

    dead: float = 0.0
    live: float = 0.0
    snow: float = 0.0
    live_most: float = 0.0
    snow_most: float = 0.0
    least: float = 0.0
    snow_least: float = 0.0

    def __add__(self, other: Force) -> Force:
        """Add two forces part by part."""
        return Force(
            self.dead + other.dead,
            self.live + other.live,
            self.snow + other.snow,
            self.live_most + other.live_most,
            self.snow_most + other.snow_most,
            self.least + other.least,
            self.snow_least + other.snow_least,
        )

    @property
    def uplift(self) -> float:
        """Return the pull upwards [lb] under 0.6 D and live load only where it lifts; 0 where nothing lifts.

        Source: ASCE 7-16 2.4.1 (0.6 D, from memory).
        """
        return max(0.0, -(dead_share(self.dead) * self.dead + (self.least - self.dead)))

    @property
    def full(self) -> float:
        """Everything on at once [lb]: for the balance of forces, not a design combination where it snows."""
        return self.dead + self.live + self.snow

    @property
    def governing(self) -> tuple[float, str]:
        """Largest of the allowable stress combinations [lb] and its name.

        Source: ASCE 7-16 2.4.1 combinations 1 to 4 (numbering from memory); partial loading 4.3.3.
        """
        sums = (
            (self.dead + self.live_most, "D + L"),
            (self.dead + self.snow_most, "D + S"),
            (self.dead + 0.75 * self.live_most + 0.75 * self.snow_most, "D + 0.75 L + 0.75 S"),
        )
        return max(sums, key=lambda item: item[0])


def dead_share(dead: float) -> float:
    """Return what share of a dead load [lb] counts against a lift [1]: 0.6; all of one that lifts by itself.

    Source: ASCE 7-16 2.4.1 (0.6 D, and D in D + L; from memory).
    """
    return 0.6 if dead > 0 else 1.0


@dataclass(frozen=True, slots=True)
class AreaLoad:
    """What a platform's surface weighs and carries [psf], with the sum behind the dead load; area [sq ft]."""

    dead: float
    live: float
    snow: float
    area: float
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class Analysed:
    """A beam as statics sees it: its analysis under D + L, and the force on each of its supports, in their order."""

    analysis: BeamAnalysis
    forces: tuple[Force, ...]

    @cached_property
    def _shears(self) -> dict[float, Peak]:
        return {}

    def shear_at(self, depth: float) -> Peak:
        """Return the largest shear [lb] at a depth [in] from a support; sizes of one depth ask for it once."""
        if depth not in self._shears:
            self._shears[depth] = shear_at_depth(self.analysis, depth)
        return self._shears[depth]

    @cached_property
    def bent(self) -> Deflections:
        """Deflections under D + L of a stiffness E' I of one [lb in2]: divide by the real one."""
        return find_deflections(self.analysis, 1.0)


@dataclass(frozen=True, slots=True)
class Demand:
    """What acts on one member: loads along it, and the forces inside it under live and dead load.

    uniform, points: (from, to, dead, live, snow) [in, lb/in] and (at, dead, live, snow) [in, lb], worst pattern of
    whatever stands on it; live or snow under 0 is what it may pull up with instead; like: mark of the first member
    with the same loads and bearings, and the same size.
    """

    mark: str
    uniform: tuple[LineLoad, ...]
    points: tuple[PointLoad, ...]
    analysed: Analysed
    like: str

    @property
    def analysis(self) -> BeamAnalysis:
        """Moments, shears and reactions under D + L."""
        return self.analysed.analysis

    @property
    def bent(self) -> Deflections:
        """Deflections under D + L of a stiffness E' I of one [lb in2]: divide by the real one."""
        return self.analysed.bent


@dataclass(frozen=True, slots=True)
class Delivery:
    """One bearing's force on its way down: from a mark, at a distance along it [in], to the next mark."""

    upper: str
    at: float
    lower: str
    force: Force


@dataclass(frozen=True)
class Loads:
    """Every load of a deck on its way from the boards to the soil.

    areas: by platform; demands: by mark of joists and beams; deliveries: every bearing's force; posts: by mark;
    applied: everything that was put on; stuck: what found no way down, by the mark of the member it stays on (a joist
    that rests on nothing);
    weights [lb]: what posts on a lower frame weigh, by mark; of posts on footings the footing's sum counts it.
    """

    areas: dict[str, AreaLoad]
    demands: dict[str, Demand]
    deliveries: tuple[Delivery, ...]
    posts: dict[str, Force]
    ledgers: dict[str, Force]
    ground: Force
    applied: Force
    stuck: Mapping[str, Force]
    weights: Mapping[str, float] = field(default_factory=dict)

    @cached_property
    def lost(self) -> Force:
        """Everything that found no way down, of all members together."""
        total = Force()
        for force in self.stuck.values():
            total = total + force
        return total

    @cached_property
    def onto(self) -> dict[str, tuple[Delivery, ...]]:
        """Every delivery under the mark it arrives at."""
        found: dict[str, list[Delivery]] = {}
        for delivery in self.deliveries:
            found.setdefault(delivery.lower, []).append(delivery)
        return {mark: tuple(those) for mark, those in found.items()}

    @cached_property
    def out_of(self) -> dict[str, tuple[Delivery, ...]]:
        """Every delivery under the mark it leaves."""
        found: dict[str, list[Delivery]] = {}
        for delivery in self.deliveries:
            found.setdefault(delivery.upper, []).append(delivery)
        return {mark: tuple(those) for mark, those in found.items()}
