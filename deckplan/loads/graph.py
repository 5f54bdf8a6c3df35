"""The way of every pound from the boards to the soil, as a graph that can be asked.

      surface A   flight S1
          \\        /   \\
          A-J4 ..        ground
         /      \\
      A-L1      A-B1
       |        /   \\
      house  A-P1   A-P2  <- a neighbour's beam that hangs there
              |      |
             A-F1   A-F2
               \\   /
                soil

Nodes are marks: a platform's letter, a flight's mark, joists, beams, ledgers, posts, footings (a flight's own too), and
where it ends: the soil under the footings, the house, the ground under a flight's foot without footings. Edges carry
the force handed over. A post's and a footing's own weight is not on the path: the sum of the footing counts its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from deckplan.layout.model import Kind, Layout, Member
from deckplan.layout.platform_frame import letter
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Levels
from deckplan.loads.flight_loads import FlightLoads
from deckplan.loads.model import Force, Loads
from deckplan.loads.portions import Portion, Portions, merged, of_flight
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile

if TYPE_CHECKING:
    import networkx as nx

SOIL = "soil"
HOUSE = "house"
GROUND = "ground"
NOWHERE = "no support"
ENDS = (SOIL, HOUSE, GROUND, NOWHERE)
"""Where a path ends: under a footing, at the house, under a flight's foot, or at a piece that rests on too little."""

PIECES = (Kind.STRINGER, Kind.TREAD, Kind.STEP, Kind.HEADER)
"""Kinds of a flight's own wood, for which the flight answers as a whole."""


@dataclass(frozen=True, slots=True)
class Stands:
    """What one surface puts on a mark.

    surface: its mark; name: the platform's name, or the flight's two ends; area [sq ft]: the platform's surface that
    counts there, nil for flights; dead, live, snow [lb]: with all live load on; through: the joists it comes by.
    """

    surface: str
    name: str
    area: float
    dead: float
    live: float
    snow: float
    through: tuple[str, ...]

    @property
    def full(self) -> float:
        """Everything on at once [lb]."""
        return self.dead + self.live + self.snow


@dataclass(frozen=True, slots=True)
class Goes:
    """The share of a load [1] that ends at one support, how much that is [lb], and the last mark it comes through."""

    support: str
    through: str
    share: float
    force: float


@dataclass(frozen=True, slots=True)
class NodeBalance:
    """What arrives at a node and what leaves it [lb], with all live load on."""

    mark: str
    arriving: Force
    leaving: Force

    @property
    def off(self) -> float:
        """Largest difference between what comes and what goes, among dead, live and snow load [lb]."""
        a, b = self.arriving, self.leaving
        return max(abs(a.dead - b.dead), abs(a.live - b.live), abs(a.snow - b.snow))


@dataclass(frozen=True)
class LoadPath:
    """The graph of a deck's loads and the questions it answers.

    graph: networkx DiGraph; a node's `applied` is what is put on it, an edge's `force` the Force it hands over, `worst`
    [lb] and `combination` the governing sum. names: what each surface is called; under: the footings of each flight.
    """

    graph: nx.DiGraph[str]
    layout: Layout
    loads: Loads
    portions: Portions
    names: dict[str, str]
    under: Mapping[str, Sequence[str]]

    def what_stands_on(self, mark: str) -> tuple[Stands, ...]:
        """Return what each surface puts on a mark, the most first; a surface bears its own load.

        Nothing where the mark carries none of the deck (a rim, blocking); a piece of a flight answers for the flight.

        Raises KeyError for a mark that the deck does not have.
        """
        posts = self._posts_over(self.answers_for(mark))
        if posts[0] in self.names or posts[0] in self._flight_over:
            return self._own(posts[0])
        sources = merged(*(self._sources(post) for post in posts))
        above = set[str]().union(*(self._above(post) for post in posts))
        found = [
            Stands(surface, self.names.get(surface, "a post's own weight"), part.area, part.dead, part.live, part.snow,
                   tuple(j for j in self.graph.successors(surface) if j in above) if surface in self.names else ())
            for surface, part in sources.items()
        ]  # fmt: skip
        return tuple(sorted(found, key=lambda stands: -stands.full))

    def area_on(self, mark: str) -> float:
        """Return the area of platforms that loads a post, footing, beam or ledger [sq ft]; flights not counted."""
        letters = set(self.portions.letters.values())
        return sum(stands.area for stands in self.what_stands_on(mark) if stands.surface in letters)

    def where_does_it_go(self, mark: str) -> tuple[Goes, ...]:
        """Return where the load of a mark ends, the largest share first; nothing where it carries none of the deck.

        Raises KeyError for a mark that the deck does not have. A negative share is an uplift that the others carry.
        """
        mark = self.answers_for(mark)
        if mark not in self.graph:
            return ()
        ends: dict[tuple[str, str], float] = {}
        for (support, through), portion in self._ends_of(mark):
            ends[support, through] = ends.get((support, through), 0.0) + portion.full
        total = sum(ends.values())
        found = [Goes(*end, force / total if total else 0.0, force) for end, force in ends.items()]
        return tuple(sorted(found, key=lambda goes: -goes.force))

    def balance(self) -> tuple[NodeBalance, ...]:
        """Return what arrives and what leaves at every node between the surfaces and the ends."""
        found = []
        for node, data in self.graph.nodes(data=True):
            if node in ENDS:
                continue
            arriving = _total(
                (data["applied"], *(e["force"] for _, _, e in self.graph.in_edges(node, data=True)))
            )
            leaving = _total(e["force"] for _, _, e in self.graph.out_edges(node, data=True))
            found.append(NodeBalance(node, arriving, leaving))
        return tuple(found)

    def arrived(self) -> dict[str, Force]:
        """Return what arrives at each end of the path."""
        return {
            end: _total(e["force"] for _, _, e in self.graph.in_edges(end, data=True))
            for end in ENDS
            if end in self.graph
        }

    def marks_on_path(self, mark: str) -> frozenset[str]:
        """Return the marks above and below a mark, itself with them: what a drawing lights up.

        Of a flight every piece of its frame belongs to it; a mark that carries nothing lights up alone.
        """
        import networkx as nx

        mark = self.answers_for(mark)
        if mark not in self.graph:
            return frozenset({mark})
        found = {mark} | nx.ancestors(self.graph, mark) | nx.descendants(self.graph, mark)
        flights = {m for m in found if m in self.portions.flights}
        pieces = {m.mark for m in self.layout.members if m.mark.partition("-")[0] in flights}
        return frozenset(found | pieces) - set(ENDS)

    def answers_for(self, mark: str) -> str:
        """Return the mark that answers for a load: the letter for a platform's name, the flight for its pieces.

        Raises KeyError for a mark that the deck does not have.
        """
        mark = self.portions.letters.get(mark, mark)
        part, flight = self.layout.by_mark.get(mark), mark.partition("-")[0]
        if isinstance(part, Member) and part.kind in PIECES and flight in self.portions.flights:
            return flight
        if part is None and (mark not in self.graph or mark in ENDS) and mark not in self._guard_posts:
            raise KeyError(mark)
        return mark

    def _own(self, mark: str) -> tuple[Stands, ...]:
        """Return the load of a surface itself, or of the flight on one of its own footings."""
        surface = self._flight_over.get(mark, mark)
        force = (
            self.graph.edges[surface, mark]["force"] if mark != surface else self.graph.nodes[mark]["applied"]
        )
        area = next(
            (self.loads.areas[n].area for n, each in self.portions.letters.items() if each == mark), 0.0
        )
        through = tuple(self.graph.successors(mark)) if mark == surface else ()
        joists = tuple(each for each in through if each not in ENDS and each not in self._flight_over)
        return (Stands(surface, self.names[surface], area, force.dead, force.live, force.snow, joists),)

    @cached_property
    def _guard_posts(self) -> frozenset[str]:
        return frozenset(post.mark for post in self.layout.guard_posts)

    @cached_property
    def _flight_over(self) -> dict[str, str]:
        return {pad: flight for flight, pads in self.under.items() for pad in pads}

    @cached_property
    def _posts(self) -> dict[str, tuple[str, ...]]:
        found: dict[str, tuple[str, ...]] = {}
        for post in self.layout.posts:
            if post.footing:
                found[post.footing] = (*found.get(post.footing, ()), post.mark)
        return found

    def _posts_over(self, mark: str) -> tuple[str, ...]:
        """Return the posts that stand on a footing; any other mark is its own answer."""
        return self._posts.get(mark, (mark,))

    def _sources(self, mark: str) -> dict[str, Portion]:
        # what a member hands on is what comes onto it and its own strip of surface, so that is asked first
        handed = merged(*(self.portions.delivered(d) for d in self.loads.out_of.get(mark, ())))
        return handed or self.portions.arriving(mark)

    def _above(self, mark: str) -> set[str]:
        import networkx as nx

        return {mark} | set(nx.ancestors(self.graph, mark)) if mark in self.graph else {mark}

    def _ends_of(self, mark: str) -> list[tuple[tuple[str, str], Portion]]:
        if mark in self.names:
            return self._ends_of_surface(mark)
        if mark in self._flight_over:
            force = self.graph.edges[mark, SOIL]["force"]
            return [((mark, self._flight_over[mark]), Portion(force.dead, force.live, force.snow))]
        found: list[tuple[tuple[str, str], Portion]] = []
        open_ends = [
            (d, Portion(d.force.dead, d.force.live, d.force.snow)) for d in self.loads.out_of.get(mark, ())
        ]
        if len(posts := self._posts_over(mark)) > 1:
            each = ((self._end_under(post), self.loads.posts[post]) for post in posts)
            return [(end, Portion(force.dead, force.live, force.snow)) for end, force in each]
        if not open_ends:
            end, through = self._end_under(mark)
            force = _total(e["force"] for _, _, e in self.graph.out_edges(mark, data=True))
            found.append(((end, through), Portion(force.dead, force.live, force.snow)))
        while open_ends:
            delivery, portion = open_ends.pop()
            onward = self.portions.passed_on(delivery)
            if onward:
                open_ends += [(each, portion.times(share)) for each, share in onward]
            else:
                found.append((self._end_under(delivery.lower), portion))
        return found

    def _ends_of_surface(self, mark: str) -> list[tuple[tuple[str, str], Portion]]:
        onward = {post.mark for post in self.layout.posts if post.stands_on}
        last = [m for m in (*self.loads.posts, *self.loads.ledgers) if m in self.graph and m not in onward]
        arriving = ((through, self.portions.arriving(through).get(mark)) for through in last)
        found = [(self._end_under(through), portion) for through, portion in arriving if portion]
        for end in (HOUSE, GROUND, NOWHERE, *self.under.get(mark, ())):
            if self.graph.has_edge(mark, end):
                force = self.graph.edges[mark, end]["force"]
                found.append(((end, mark), Portion(force.dead, force.live, force.snow)))
        # what a piece on too little support lost on the way, in the proportion of what arrived on it
        for piece in self.graph.predecessors(NOWHERE) if NOWHERE in self.graph else ():
            if piece in self.names:
                continue
            if self.graph.has_edge(mark, piece):
                force = self.graph.edges[mark, piece]["force"]
                found.append(((NOWHERE, piece), Portion(force.dead, force.live, force.snow)))
            elif portion := self.portions.arriving(piece).get(mark):
                found.append(((NOWHERE, piece), portion))
        return found

    def _end_under(self, mark: str) -> tuple[str, str]:
        """Return the support below a post, ledger or footing, and the mark it is reached through."""
        post, *_ = self._posts_over(mark)
        if post in self.loads.posts:
            footing = next(p.footing for p in self.layout.posts if p.mark == post)
            return footing, post
        if mark in self.loads.ledgers:
            return HOUSE, mark
        return NOWHERE, mark


def load_path(
    plan: Plan,
    profile: Profile,
    levels: Levels,
    layout: Layout,
    loads: Loads,
    under: Mapping[str, Sequence[str]],
) -> LoadPath:
    """Build the graph of a deck's loads; under: the marks of the footings that each flight stands on."""
    import networkx as nx

    letters = {platform.name: letter(index) for index, platform in enumerate(plan.platforms)}
    rises = {flight_mark(rise.index): rise for rise in levels.flights}
    flights = {mark: of_flight(rise, plan, levels, layout, profile) for mark, rise in rises.items()}
    names = {mark: name for name, mark in letters.items()}
    names |= {mark: f"{rise.upper} to {rise.lower}" for mark, rise in rises.items()}
    graph: nx.DiGraph[str] = nx.DiGraph()
    _add_surfaces(graph, layout, loads, letters)
    for mark, rise in rises.items():
        from_house = rise.kind == "stringer" and rise.upper not in letters
        _add_flight(graph, mark, flights[mark], from_house, under.get(mark, ()))
    for delivery in loads.deliveries:
        _add(graph, delivery.upper, delivery.lower, delivery.force)
    for post in layout.posts:
        if post.stands_on:
            # its way down is a delivery already, with its own weight put on there
            graph.nodes[post.mark]["applied"] = _force(loads.weights[post.mark], 0.0, 0.0)
            continue
        _add(graph, post.mark, post.footing, loads.posts[post.mark])
        _add(graph, post.footing, SOIL, loads.posts[post.mark])
    for mark, force in loads.ledgers.items():
        _add(graph, mark, HOUSE, force)
    for member in layout.members:
        if member.mark in graph and not graph.out_degree(member.mark):
            lost = _total(e["force"] for _, _, e in graph.in_edges(member.mark, data=True))
            _add(graph, member.mark, NOWHERE, lost)
    return LoadPath(graph, layout, loads, Portions(layout, loads, letters, flights), names, under)


def _add_surfaces(graph: nx.DiGraph[str], layout: Layout, loads: Loads, letters: dict[str, str]) -> None:
    """Add each platform's surface, and what of it each joist takes straight from the boards."""
    for name, mark in letters.items():
        load = loads.areas[name]
        applied = _force(load.dead * load.area, load.live * load.area, load.snow * load.area)
        graph.add_node(mark, applied=applied)
        joists = layout.of(name, Kind.JOIST)
        for joist in joists:
            area = sum((strip.end - strip.start) * strip.width for strip in joist.strips) / 144
            _add(graph, mark, joist.mark, _force(load.dead * area, load.live * area, load.snow * area))
        if not joists:
            _add(graph, mark, NOWHERE, applied)


def _add_flight(
    graph: nx.DiGraph[str], mark: str, flight: FlightLoads, from_house: bool, pads: Sequence[str]
) -> None:
    """Add a flight: to the joists under its ends, to its footings, to the house where it hangs at a door."""
    graph.add_node(mark, applied=flight.applied)
    for joist, points in flight.points.items():
        dead, live, snow = (sum(point[part] for point in points) for part in (1, 2, 3))
        _add(graph, mark, joist, _force(dead, live, snow))
    ground = flight.ground
    if from_house:
        half = _force(flight.applied.dead / 2, flight.applied.live / 2, flight.applied.snow / 2)
        _add(graph, mark, HOUSE, half)
        ground = _force(ground.dead - half.dead, ground.live - half.live, ground.snow - half.snow)
    each = 1 / max(1, len(pads))
    for pad in pads:
        share = _force(ground.dead * each, ground.live * each, ground.snow * each)
        _add(graph, mark, pad, share)
        _add(graph, pad, SOIL, share)
    if ground.full > 0 and not pads:
        _add(graph, mark, GROUND, ground)


def _add(graph: nx.DiGraph[str], upper: str, lower: str, force: Force) -> None:
    """Add a force from one node to the next; two bearings on the same mark make one edge."""
    for node in (upper, lower):
        if node not in graph:
            graph.add_node(node, applied=Force())
    if graph.has_edge(upper, lower):
        force = graph.edges[upper, lower]["force"] + force
    worst, combination = force.governing
    graph.add_edge(upper, lower, force=force, worst=worst, combination=combination)


def _force(dead: float, live: float, snow: float) -> Force:
    return Force(dead, live, snow, live, snow, dead)


def _total(forces: Iterable[Force]) -> Force:
    total = Force()
    for force in forces:
        total = total + force
    return total
