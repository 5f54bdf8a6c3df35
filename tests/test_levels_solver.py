"""The elevation solver: against brute force, on trees and cycles, and where nothing is legal."""

from __future__ import annotations

import itertools
import random
from typing import Any

import numpy as np
import pytest
from scipy.optimize import linprog

from deckplan.levels.best_walk import find_best
from deckplan.levels.conflicts import nearest_heights, smallest_conflict
from deckplan.levels.raise_levels import raise_levels
from deckplan.levels.walk import Climb, Stop, Walk, Way, ways_between
from deckplan.plan.model import Plan
from deckplan.rules import load_profile
from deckplan.verdict import Verdict
from tests.decks import make_plan, platform, rectangle

LOCAL = load_profile("local-example")


def random_walk(rng: random.Random, platforms: int, width: float, cycles: int, grounds: int) -> Walk:
    """A walk around a legal one, so that most cases have a solution."""
    stops, heights, links = [Stop("door", 0.0, 0.0)], {"door": 0.0}, []
    for number in range(platforms):
        upper = rng.choice(list(heights)[-3:])
        name = f"p{number}"
        heights[name] = heights[upper] - rng.randint(1, 3) * rng.uniform(4.5, 7.6)
        middle = heights[name] + rng.uniform(-2, 2)
        half = rng.uniform(abs(middle - heights[name]), width / 2 + 2)
        stops.append(Stop(name, round(middle - half, 2), round(middle + half, 2)))
        links.append((upper, name))
    for _ in range(cycles * 4):
        upper, lower = sorted(rng.sample(list(heights), 2), key=heights.__getitem__, reverse=True)
        fall = heights[upper] - heights[lower]
        legal = any(4 * count <= fall <= 7.75 * count for count in range(1, 9))
        if legal and (upper, lower) not in links and len(links) < platforms + cycles:
            links.append((upper, lower))
    by_name = {stop.name: stop for stop in stops}
    climbs = []
    for number, (upper, lower) in enumerate(links):
        high, low = by_name[upper], by_name[lower]
        ways = ways_between(high.low - low.high, high.high - low.low, 4.0, lambda _: 7.75, range(1, 16))
        climbs.append(Climb(f"S{number}", upper, lower, ways, 11.0))
    for number in range(grounds):
        upper = rng.choice(list(heights)[1:])
        ground = heights[upper] - rng.randint(1, 4) * rng.uniform(4.2, 7.5)
        ways = tuple(Way(count, 4.0 * count, 7.75 * count, ground - 0.3 * count) for count in range(1, 7))
        climbs.append(Climb(f"G{number}", upper, "", ways, 11.0))
    alike = ((0, len(climbs) - 1, 0.375),) if rng.random() < 0.4 and len(climbs) > 1 else ()
    return Walk(tuple(stops), tuple(climbs), alike)


def brute_force(walk: Walk) -> tuple[float, int, float] | None:
    """Every combination of ways, each a small linear program: least spread, then risers, then strain."""
    names = {stop.name: place for place, stop in enumerate(walk.stops)}
    size = len(names) + 2  # elevations, smallest riser, largest riser
    legal = []
    for picked in itertools.product(*(climb.ways for climb in walk.climbs)):
        rows: list[Any] = []
        limits: list[float] = []
        risers = []
        for climb, way in zip(walk.climbs, picked, strict=True):
            rise = np.zeros(size)
            rise[names[climb.upper]] += 1
            if climb.lower:
                rise[names[climb.lower]] -= 1
            below = 0.0 if climb.lower else way.bottom
            rows += [rise, -rise]
            limits += [way.high + below, -way.low - below]
            riser, shift = rise / way.risers, -below / way.risers
            risers.append((riser, shift, way.risers, climb.tread))
            if way.counts:
                largest, smallest = riser.copy(), -riser
                largest[-1], smallest[-2] = -1, 1
                rows += [largest, smallest]
                limits += [-shift, shift]
        for one, other, apart in walk.alike:
            gap = risers[one][0] - risers[other][0]
            shift = risers[one][1] - risers[other][1]
            rows += [gap, -gap]
            limits += [apart - shift, apart + shift]
        cost = np.zeros(size)
        cost[-2:] = (-1, 1)
        bounds = [(stop.low, stop.high) for stop in walk.stops] + [(0, 20), (0, 20)]
        found = linprog(cost, A_ub=np.array(rows), b_ub=limits, bounds=bounds)
        if found.status == 0:
            spread = found.fun if any(way.counts for way in picked) else 0.0
            legal.append((spread, sum(way.risers for way in picked), rows, limits, bounds, risers))
    if not legal:
        return None
    spread = min(case[0] for case in legal)
    tied = [case for case in legal if case[0] <= spread + 1e-6]
    count = min(case[1] for case in tied)
    strain = min(_strain(walk, case, spread) for case in tied if case[1] == count)
    return max(0.0, spread), count, strain


def _strain(walk: Walk, case: Any, spread: float) -> float:
    """Least distance from comfort and from the middles, for one combination of ways."""
    _, _, rows, limits, bounds, risers = case
    size = len(bounds)
    free = [place for place, stop in enumerate(walk.stops) if not stop.given]
    more = len(risers) + len(free)
    wide = [np.concatenate([row, np.zeros(more)]) for row in rows]
    limits = list(limits)

    def add(terms: dict[int, float], most: float, row: Any = None) -> None:
        line = np.zeros(size + more)
        if row is not None:
            line[:size] = row
        for place, value in terms.items():
            line[place] += value
        wide.append(line)
        limits.append(most)

    add({size - 1: 1.0, size - 2: -1.0}, spread + 1e-6)
    low, high = walk.comfort
    for number, (riser, shift, count, tread) in enumerate(risers):
        if count > 1:
            add({size + number: -1.0}, high - tread - 2 * shift, 2 * riser)
            add({size + number: -1.0}, tread + 2 * shift - low, -2 * riser)
    for number, place in enumerate(free):
        off, middle = size + len(risers) + number, walk.stops[place].middle
        add({place: 1.0, off: -1.0}, middle)
        add({place: -1.0, off: -1.0}, -middle)
    cost = np.concatenate([np.zeros(size), np.ones(more)])
    found = linprog(cost, A_ub=np.array(wide), b_ub=limits, bounds=[*bounds, *[(0, None)] * more])
    return float(found.fun) if found.status == 0 else np.inf


def compare(seed: int, cases: int, most: int) -> int:
    rng = random.Random(seed)
    done = 0
    while done < cases:
        walk = random_walk(
            rng, rng.randint(1, 3), rng.choice([1.0, 3.0, 6.0]), rng.randint(0, 1), rng.randint(0, 1)
        )
        if rng.random() < 0.3:  # a range that may leave nothing legal
            last = walk.stops[-1]
            stops = (*walk.stops[:-1], Stop(last.name, last.high, last.high + 0.5))
            walk = Walk(stops, walk.climbs, walk.alike)
        if np.prod([len(climb.ways) for climb in walk.climbs]) > most:
            continue
        done += 1
        expected, found = brute_force(walk), find_best(walk)
        if expected is None or found is None:
            assert expected is None, walk
            assert found is None, walk
            continue
        assert found.proven
        assert found.spread == pytest.approx(expected[0], abs=2e-6), walk
        assert found.risers == expected[1], walk
        assert found.strain == pytest.approx(expected[2], abs=1e-4), walk
    return done


def test_equal_to_brute_force_on_random_cases() -> None:
    assert compare(seed=4, cases=80, most=60) == 80


@pytest.mark.slow
def test_equal_to_brute_force_on_hundreds_of_random_cases() -> None:
    assert compare(seed=5, cases=800, most=200) == 800


def test_what_is_found_is_legal_and_within_its_ranges() -> None:
    rng = random.Random(6)
    for _ in range(10):
        walk = random_walk(rng, 6, 6.0, 2, 1)
        best = find_best(walk)
        assert best is not None
        for stop in walk.stops:
            assert stop.low - 1e-6 <= best.elevations[stop.name] <= stop.high + 1e-6
        for climb, number in zip(walk.climbs, best.ways, strict=True):
            way = climb.ways[number]
            bottom = best.elevations[climb.lower] if climb.lower else way.bottom
            rise = best.elevations[climb.upper] - bottom
            assert way.low - 1e-6 <= rise <= way.high + 1e-6


def chain(*stops: Stop, least: float = 4.0) -> Walk:
    climbs = tuple(
        Climb(f"S{n}", a.name, b.name, tuple(Way(k, least * k, 7.75 * k) for k in range(1, 9)), 11.0)
        for n, (a, b) in enumerate(itertools.pairwise(stops), start=1)
    )
    return Walk(stops, climbs)


def test_equal_risers_are_found_where_they_exist() -> None:
    # 42 in in two flights with the landing free: 6 risers of 7 either way round, so no spread
    best = find_best(chain(Stop("top", 42, 42), Stop("mid", 12, 16), Stop("foot", 0, 0)))
    assert best is not None
    assert best.spread == pytest.approx(0.0, abs=1e-6)
    assert best.risers == 6
    assert best.elevations["mid"] == pytest.approx(14.0, abs=1e-5)


def test_a_conflict_is_the_smallest_and_the_nearest_heights_do() -> None:
    # 7-3/4 to 8 in cannot be split (derived); the third stop has nothing to do with it
    walk = chain(Stop("door", 30, 30), Stop("deck", 22.05, 22.2), Stop("yard", 10, 12))
    conflict = smallest_conflict(walk, frozenset({"door"}))
    assert {(wish.kind, wish.name) for wish in conflict} == {("stop", "deck"), ("climb", "S1")}
    near = nearest_heights(walk, frozenset({"door"}))
    assert near is not None
    assert near["deck"] in (pytest.approx(22.0), pytest.approx(22.25))
    assert 10 - 1e-6 <= near["yard"] <= 12 + 1e-6


def test_a_walk_without_conflict_has_none() -> None:
    walk = chain(Stop("door", 30, 30), Stop("deck", 20, 24))
    assert smallest_conflict(walk, frozenset({"door"})) == ()


def test_wishes_that_conflict_only_together_are_all_named() -> None:
    # The deck at 22 splits the way down from the door (8 in: 2 x 4) but not the 7.9 in to the yard; at 22.1 it
    # splits those 8 in, but not the 7.9 in from the door: each flight can have its way, not both.
    walk = chain(Stop("door", 30, 30), Stop("deck", 22.0, 22.1), Stop("yard", 14.1, 14.1))
    assert find_best(walk) is None
    conflict = {(wish.kind, wish.name) for wish in smallest_conflict(walk, frozenset({"door"}))}
    assert conflict == {("stop", "deck"), ("stop", "yard"), ("climb", "S1"), ("climb", "S2")}


def ranged(*elevations: Any, **more: Any) -> Plan:
    """Platforms in a row, 12 ft each, each a flight below the last; ranges where a pair is given."""
    parts = []
    for number, elevation in enumerate(elevations):
        wish = {"from": elevation[0], "to": elevation[1]} if isinstance(elevation, tuple) else elevation
        parts.append(platform(f"p{number}", rectangle(144 * number, 0, 144 * number + 144, 144), wish))
    flights = [{"from": f"p{n}", "to": f"p{n + 1}"} for n in range(len(elevations) - 1)]
    return make_plan(*parts, flight=flights, **more)


def test_ranges_in_a_plan_are_chosen_and_said_so() -> None:
    levels = raise_levels(ranged(42.0, (28.0, 31.0), (14.0, 20.0), 0.0), LOCAL)
    assert [level.chosen for level in levels.levels] == [False, True, True, False]
    risers = [rise.riser for rise in levels.flights]
    assert max(risers) - min(risers) == pytest.approx(0.0, abs=1e-4)
    assert all(check.verdict is not Verdict.FAIL for check in levels.checks)
    assert any("proven" in note.text for note in levels.notes)


def test_a_plan_with_no_legal_choice_fails_with_names_and_cure() -> None:
    levels = raise_levels(ranged(42.0, (34.05, 34.2), 20.0), LOCAL)
    failed = [check for check in levels.checks if check.rule == "elevations that agree"]
    assert len(failed) == 1
    assert failed[0].verdict is Verdict.FAIL
    for word in ('"p1"', "S1", "nearest heights"):
        assert word in failed[0].reason


def test_a_platform_too_shallow_for_a_landing_makes_its_flights_one() -> None:
    # A 24 in deep platform is no landing (IRC R311.7.6, from memory: 36 in): its risers must agree within 1/4 in,
    # here at the price of the walk's last flight.
    parts = [
        platform("top", rectangle(0, 0, 144, 144), 21.0),
        platform("step", rectangle(144, 0, 168, 144), {"from": 13.3, "to": 17.0}),
        platform("foot", rectangle(168, 0, 300, 144), 10.0),
    ]
    flights = [{"from": "top", "to": "step"}, {"from": "step", "to": "foot"}]
    levels = raise_levels(make_plan(*parts, flight=flights), LOCAL)
    first, second = levels.flights
    assert abs(first.riser - second.riser) <= 0.25 + 1e-6


def test_elevations_as_given_never_wake_the_solver(monkeypatch: pytest.MonkeyPatch) -> None:
    def wake(*_: Any) -> None:
        raise AssertionError("nothing to choose")

    monkeypatch.setattr("deckplan.levels.best_walk.find_best", wake)
    assert raise_levels(ranged(30.0, 19.5), LOCAL).elevation("p0") == 30.0
