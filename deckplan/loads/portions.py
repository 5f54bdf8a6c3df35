"""How much of each surface's load passes through a mark: reactions taken apart by what caused them.

A beam is linear: the reaction from several loads is the sum of the reactions from each. So the share that one
platform or flight has in a post follows from the same statics as the whole, load by load, without a rule of thumb.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from deckplan.engineering.statics import analyse_beam
from deckplan.layout.model import Kind, Layout, Member, Post
from deckplan.levels.model import Levels, Rise
from deckplan.loads.flight_loads import FlightLoads, flight_loads
from deckplan.loads.model import Delivery, Loads
from deckplan.loads.path import place_on
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile


@dataclass(frozen=True, slots=True)
class Portion:
    """Part of a load [lb] with all live load on, and the surface that it comes from [sq ft].

    The area is the one that would put the same reaction there if it were loaded evenly; it is negative where
    an overhang lifts a support.
    """

    dead: float = 0.0
    live: float = 0.0
    snow: float = 0.0
    area: float = 0.0

    def __add__(self, other: Portion) -> Portion:
        """Add two portions part by part."""
        return Portion(
            self.dead + other.dead, self.live + other.live, self.snow + other.snow, self.area + other.area
        )

    def times(self, share: float) -> Portion:
        """Return a share [1] of it."""
        return Portion(self.dead * share, self.live * share, self.snow * share, self.area * share)

    @property
    def full(self) -> float:
        """Everything on at once [lb]."""
        return self.dead + self.live + self.snow


Sources = Mapping[str, Portion]
"""Portions by the mark of the surface they come from: a platform's letter or a flight's mark."""


def merged(*parts: Sources) -> dict[str, Portion]:
    """Add up portions by surface."""
    found: dict[str, Portion] = {}
    for part in parts:
        for surface, portion in part.items():
            found[surface] = found.get(surface, Portion()) + portion
    return found


def own_weight(post: str) -> str:
    """Return the name under which the weight of a post on a lower frame is listed beside the surfaces."""
    return f"{post} itself"


def of_flight(rise: Rise, plan: Plan, levels: Levels, layout: Layout, profile: Profile) -> FlightLoads:
    """Return where the load of one flight alone goes."""
    return flight_loads(plan, replace(levels, flights=(rise,)), layout, profile)


@dataclass(frozen=True)
class Portions:
    """Takes every delivery of a deck apart by the surfaces behind it; each answer is worked out once.

    letters: a platform's mark by its name; flights: each flight's own loads by its mark.
    """

    layout: Layout
    loads: Loads
    letters: Mapping[str, str]
    flights: Mapping[str, FlightLoads]
    _known: dict[str, dict[Delivery, dict[str, Portion]]] = field(default_factory=dict)
    _reactions: dict[tuple[str, float], tuple[float, ...]] = field(default_factory=dict)

    def delivered(self, delivery: Delivery) -> dict[str, Portion]:
        """Return what a delivery carries, by surface."""
        upper = delivery.upper
        if upper not in self._known:
            part = self.layout.by_mark[upper]
            if isinstance(part, Post):
                own = {own_weight(upper): Portion(dead=self.loads.weights.get(upper, 0.0))}
                self._known[upper] = {delivery: merged(self.arriving(upper), own)}
            else:
                assert isinstance(part, Member)
                self._known[upper] = self._of_joist(part) if part.kind is Kind.JOIST else self._of_beam(part)
        return self._known[upper][delivery]

    def arriving(self, mark: str) -> dict[str, Portion]:
        """Return what arrives on a mark, by surface."""
        return merged(*(self.delivered(delivery) for delivery in self.loads.onto.get(mark, ())))

    def passed_on(self, delivery: Delivery) -> tuple[tuple[Delivery, float], ...]:
        """Return the deliveries of the mark below that a delivery takes part in, and its share in each [1]."""
        lower = self.layout.by_mark.get(delivery.lower)
        upper = self.layout.by_mark.get(delivery.upper)
        if isinstance(lower, Post) and lower.stands_on:
            return tuple((each, 1.0) for each in self.loads.out_of.get(lower.mark, ()))
        if not isinstance(lower, Member) or upper is None:
            return ()
        place = place_on(lower, upper, delivery.at)
        onward = self.loads.out_of.get(lower.mark, ())
        return tuple((each, self._share(lower, place, each.at)) for each in onward)

    def _of_joist(self, joist: Member) -> dict[Delivery, dict[str, Portion]]:
        """What no flight and no post of an upper level put on a joist is its platform's."""
        load = self.loads.areas[joist.platform]
        per_foot = load.dead + load.live + load.snow
        found: dict[Delivery, dict[str, Portion]] = {}
        for delivery in self.loads.out_of.get(joist.mark, ()):
            parts: dict[str, Portion] = {}
            rest = Portion(delivery.force.dead, delivery.force.live, delivery.force.snow)
            for mark, flight in self.flights.items():
                own = Portion()
                for at, dead, live, snow in flight.points.get(joist.mark, ()):
                    own = own + Portion(dead, live, snow).times(self._share(joist, at, delivery.at))
                if flight.points.get(joist.mark):
                    parts[mark] = own
                    rest = rest + own.times(-1.0)
            for standing in self._posts_on(joist):
                share = self._share(
                    joist, place_on(joist, self.layout.by_mark[standing.upper], 0.0), delivery.at
                )
                brought = {surface: part.times(share) for surface, part in self.delivered(standing).items()}
                parts = merged(parts, brought)
                for part in brought.values():
                    rest = rest + part.times(-1.0)
            area = rest.full / per_foot if per_foot else 0.0
            parts = merged(parts, {self.letters[joist.platform]: replace(rest, area=area)})
            found[delivery] = parts
        return found

    def _posts_on(self, joist: Member) -> Iterator[Delivery]:
        """Yield what the posts of upper levels that stand on a joist hand to it."""
        for delivery in self.loads.onto.get(joist.mark, ()):
            if isinstance(self.layout.by_mark[delivery.upper], Post):
                yield delivery

    def _of_beam(self, beam: Member) -> dict[Delivery, dict[str, Portion]]:
        found: dict[Delivery, dict[str, Portion]] = {d: {} for d in self.loads.out_of.get(beam.mark, ())}
        for arriving in self.loads.onto.get(beam.mark, ()):
            sources = self.delivered(arriving)
            for onward, share in self.passed_on(arriving):
                found[onward] = merged(
                    found[onward], {surface: part.times(share) for surface, part in sources.items()}
                )
        return found

    def _share(self, member: Member, place: float, support: float) -> float:
        """Return the reaction at a support [1] of a member under a load of one at a place along it [in]."""
        supports = tuple(dict.fromkeys(round(b.at, 6) for b in member.bearings))
        key = (member.mark, round(place, 6))
        if key not in self._reactions:
            length = max(member.length, supports[-1])
            # a flight's place is rounded to a millionth, which can lie past the tip of a piece cut aslant
            analysis = analyse_beam(length, supports, (), ((min(max(place, 0.0), length), 1.0, 0.0),))
            self._reactions[key] = tuple(reaction.dead for reaction in analysis.reactions)
        return self._reactions[key][supports.index(round(support, 6))]
