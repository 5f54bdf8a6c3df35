"""The loads stage: surface to joists, joists to beams and ledgers, beams to posts, posts to footings.

Each step down takes the reactions of the step above by statics, not by a rule of thumb, so that whatever is put on
the boards arrives on the soil to the pound::

      boards  ->  joists  ->  beams  ->  posts  ->  footings
                     \\->  ledger (house)    \\->  a neighbour's post
                                    posts  ->  a lower platform's beam or joist
"""

from __future__ import annotations

from functools import lru_cache
from graphlib import CycleError, TopologicalSorter

from deckplan.engineering.influence import LineLoad, PointLoad
from deckplan.engineering.statics import analyse_beam, find_reactions
from deckplan.layout.model import Kind, Layout, Member, Pad, Post
from deckplan.levels.model import Levels
from deckplan.loads.areas import area_load, post_weight
from deckplan.loads.flight_loads import flight_loads
from deckplan.loads.model import Analysed, AreaLoad, Delivery, Demand, Force, Loads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile

_SQUARE_INCHES = 144.0
_CARRIERS = (Kind.JOIST, Kind.HEADER, Kind.BEAM)

_LEAST_PULL = 0.01
"""A pull upwards under this is rounding [lb]."""


Known = dict[object, Analysed]
"""Beams that statics has seen already: a plan that is settled in rounds asks for most of them again."""


class _Way:
    """Collects demands and deliveries on the way down."""

    def __init__(self, known: Known) -> None:
        self.demands: dict[str, Demand] = {}
        self.deliveries: list[Delivery] = []
        self.known = known
        self.first: dict[object, str] = {}
        self.stuck: dict[str, Force] = {}

    def carry(
        self,
        member: Member,
        uniform: tuple[LineLoad, ...],
        points: tuple[PointLoad, ...],
        full: tuple[PointLoad, ...],
    ) -> tuple[Delivery, ...]:
        """Analyse one member, hand its reactions on and return them.

        points: the worst presses, and what pulls it up where live load elsewhere does; full: with every live load on.
        """
        supports = tuple(dict.fromkeys(round(b.at, 6) for b in member.bearings))
        if len(supports) < 2:
            self.stuck[member.mark] = _sum(uniform, full)
            return ()
        shape = (round(member.length, 4), supports)
        key = (*shape, _rounded(uniform), _rounded(points), _rounded(full))
        analysed = self.known.get(key)
        if analysed is None:
            analysed = self.known[key] = _analyse(member.length, supports, uniform, points, full)
        like = self.first.setdefault((key, member.size), member.mark)
        self.demands[member.mark] = Demand(member.mark, uniform, points, analysed, like)
        at = dict(zip(supports, analysed.forces, strict=True))
        # two supports at one place, a ledger over a beam say: the first takes the reaction, it is not there twice
        rests = {round(bearing.at, 6): bearing for bearing in reversed(member.bearings)}
        handed = tuple(
            Delivery(member.mark, rests[place].at, rests[place].on, at[place]) for place in supports
        )
        self.deliveries += handed
        return handed


@lru_cache(maxsize=1024)
def _rounded(loads: tuple[LineLoad, ...] | tuple[PointLoad, ...]) -> tuple[tuple[float, ...], ...]:
    """Round loads, so that a hair does not keep two members apart; most joists of a platform carry the same."""
    return tuple([tuple([round(part, 4) for part in load]) for load in loads])


def _sum(uniform: tuple[LineLoad, ...], points: tuple[PointLoad, ...]) -> Force:
    dead = sum((u[1] - u[0]) * u[2] for u in uniform) + sum(p[1] for p in points)
    live = sum((u[1] - u[0]) * u[3] for u in uniform) + sum(p[2] for p in points)
    snow = sum((u[1] - u[0]) * u[4] for u in uniform) + sum(p[3] for p in points)
    return Force(dead, live, snow, live, snow, dead)


@lru_cache(maxsize=512)
def _analyse(
    length: float,
    supports: tuple[float, ...],
    uniform: tuple[LineLoad, ...],
    points: tuple[PointLoad, ...],
    full: tuple[PointLoad, ...],
) -> Analysed:
    """Analyse one member once: an edit of a plan leaves most of its members with the loads they had."""
    length = max(length, supports[-1])
    analysis = analyse_beam(length, supports, uniform, points)
    balance = analysis.reactions if full == points else find_reactions(length, supports, uniform, full)
    snowy = any(load[-1] for load in (*uniform, *points, *full))
    snow = find_reactions(length, supports, uniform, points, (0.0, 0.0, 1.0)) if snowy else ()
    still = find_reactions(length, supports, uniform, full, (0.0, 0.0, 1.0)) if snowy else ()
    forces = []
    for number, (worst, all_on) in enumerate(zip(analysis.reactions, balance, strict=True)):
        snow_lift = min(0.0, snow[number].least) if snow else 0.0
        forces.append(
            Force(
                dead=worst.dead,
                live=all_on.full - all_on.dead,
                snow=still[number].full if still else 0.0,
                # with everything on, a pull at one end may press another support down
                live_most=max(worst.largest, all_on.full) - worst.dead,
                snow_most=max(snow[number].largest, still[number].full) if snow and still else 0.0,
                least=worst.least + snow_lift,
                snow_least=snow_lift,
            )
        )
    return Analysed(analysis, tuple(forces))


def trace(plan: Plan, levels: Levels, layout: Layout, profile: Profile, known: Known | None = None) -> Loads:
    """Carry every load of a laid-out plan down to the soil; known: beams that an earlier round has analysed."""
    way = _Way({} if known is None else known)
    areas = {p.name: area_load(plan, profile, layout, p) for p in plan.platforms}
    flights = flight_loads(plan, levels, layout, profile)
    applied = flights.applied
    for load in areas.values():
        applied = applied + Force(load.dead * load.area, load.live * load.area, load.snow * load.area)
    arriving: dict[str, list[Delivery]] = {}
    by_mark = layout.by_mark
    standing: dict[str, list[Post]] = {}
    weights = {post.mark: post_weight(plan, post) for post in layout.posts if post.stands_on}
    for post in layout.posts:
        standing.setdefault(post.stands_on, []).append(post)
    for member in _downwards(layout):
        for post in standing.get(member.mark, ()):
            own_weight = _dead(weights[post.mark])
            applied = applied + own_weight
            step = Delivery(post.mark, 0.0, member.mark, _total(arriving.get(post.mark, [])) + own_weight)
            way.deliveries.append(step)
            arriving.setdefault(member.mark, []).append(step)
        uniform, points = _on_joist(member, areas[member.platform]) if member.strips else ((), ())
        # a place rounded for merging must not fall a hair off the end
        put_on = [(min(at, member.length), *parts) for at, *parts in flights.points.get(member.mark, ())]
        own = (*points, *put_on)
        worst, full = list(own), list(own)
        for delivery in arriving.get(member.mark, ()):
            at = place_on(member, by_mark[delivery.upper], delivery.at)
            force = delivery.force
            worst.append((at, force.dead, force.live_most, force.snow_most))
            full.append((at, force.dead, force.live, force.snow))
            if force.least < force.dead - _LEAST_PULL:
                # a load of its own: on where it hurts, and then no press is
                worst.append((at, 0.0, force.least - force.dead - force.snow_least, force.snow_least))
        for delivery in way.carry(member, uniform, tuple(worst), tuple(full)):
            arriving.setdefault(delivery.lower, []).append(delivery)
    for mark, steps in arriving.items():
        part = by_mark.get(mark)
        if part is None or (isinstance(part, Member) and part.kind not in (*_CARRIERS, Kind.LEDGER)):
            way.stuck[mark] = _total(steps)
    posts = {post.mark: _total(arriving.get(post.mark, [])) for post in layout.posts}
    ledgers = {m.mark: _total(arriving.get(m.mark, [])) for m in layout.members if m.kind is Kind.LEDGER}
    return Loads(
        areas, way.demands, tuple(way.deliveries), posts, ledgers, flights.ground, applied, way.stuck, weights
    )  # fmt: skip


def _dead(weight: float) -> Force:
    """Return a weight [lb] as a force: it is there whatever else is on."""
    return Force(dead=weight, least=weight)


def _downwards(layout: Layout) -> tuple[Member, ...]:
    """Return the members that carry, each before whatever it bears on.

    Raises RuntimeError where two members bear on each other in a ring, which no layout makes.
    """
    carry = {m.mark: m for m in layout.members if m.kind in _CARRIERS}
    above: dict[str, list[str]] = {mark: [] for mark in carry}
    through = {post.mark: post.stands_on for post in layout.posts if post.stands_on}
    for member in carry.values():
        for bearing in member.bearings:
            on = through.get(bearing.on, bearing.on)
            if on in above:
                above[on].append(member.mark)
    try:
        order = tuple(TopologicalSorter(above).static_order())
    except CycleError as ring:
        raise RuntimeError(f"members bear on each other: {ring.args[1]}") from ring
    return tuple(carry[mark] for mark in order)


def _total(deliveries: list[Delivery]) -> Force:
    total = Force()
    for delivery in deliveries:
        total = total + delivery.force
    return total


def place_on(beam: Member, upper: Member | Post | Pad, at: float) -> float:
    """Return where on a member [in] bears what crosses it, `at` [in] along itself, or a post that stands on it.

    The end joists stand over a beam's very ends.
    """
    x, y = upper.point(at) if isinstance(upper, Member) else upper.at
    (x0, y0), (x1, y1) = beam.line
    place = ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / beam.length
    return min(beam.length, max(0.0, place))


def _on_joist(joist: Member, load: AreaLoad) -> tuple[tuple[LineLoad, ...], tuple[PointLoad, ...]]:
    """Turn strips of surface into loads on a joist; what lies beyond its ends bears on the very end."""
    uniform: list[LineLoad] = []
    ends: dict[float, float] = {}
    length = joist.length
    for strip in joist.strips:
        low, high = max(0.0, strip.start), min(length, strip.end)
        if high > low:
            share = strip.width / _SQUARE_INCHES
            uniform.append((low, high, load.dead * share, load.live * share, load.snow * share))
        before = max(0.0, min(strip.end, 0.0) - strip.start)
        after = max(0.0, strip.end - max(strip.start, length))
        ends[0.0] = ends.get(0.0, 0.0) + before * strip.width / _SQUARE_INCHES
        ends[length] = ends.get(length, 0.0) + after * strip.width / _SQUARE_INCHES
    points: list[PointLoad] = [
        (at, load.dead * share, load.live * share, load.snow * share)
        for at, share in ends.items()
        if share > 0
    ]
    return tuple(uniform), tuple(points)
