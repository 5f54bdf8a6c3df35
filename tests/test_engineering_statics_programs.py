"""Beam statics against two frame programs, PyNiteFEA and anastruct, on random beams."""

import itertools
import math
import os
import random

import numpy as np
import pytest

from deckplan.engineering.deflection import find_deflections
from deckplan.engineering.statics import analyse_beam

os.environ.setdefault("MPLBACKEND", "Agg")


def reactions(found):
    return [reaction.full for reaction in found.reactions]


# ---- two frame programs ----


def any_beam(seed):
    """Two to five supports, overhangs or not, one or two line loads, up to three point loads; seeded."""
    dice = random.Random(seed)
    supports = [dice.choice([0.0, dice.uniform(6, 60)])]
    for _ in range(dice.randint(1, 4)):
        supports.append(supports[-1] + dice.uniform(40, 200))
    length = supports[-1] + dice.choice([0.0, dice.uniform(6, 60)])
    uniform = [(0.0, length, dice.uniform(0.5, 3), 0.0)]
    if dice.random() < 0.5:
        start, end = sorted(dice.uniform(0, length) for _ in range(2))
        uniform.append((start, end, dice.uniform(1, 20), 0.0))
    points = [(dice.uniform(0, length), dice.uniform(50, 900), 0.0) for _ in range(dice.randint(0, 3))]
    return length, supports, uniform, points


def by_pynite(length, supports, uniform, points, stiffness=1.0e6):
    from Pynite import FEModel3D

    model = FEModel3D()
    places = sorted({0.0, length, *supports})
    for number, at in enumerate(places):
        model.add_node(f"N{number}", at, 0, 0)
    model.add_material("wood", 1.0, 1.0, 0.3, 0)
    model.add_section("beam", 1e3, stiffness, stiffness, 1.0)
    model.add_member("beam", "N0", f"N{len(places) - 1}", "wood", "beam")
    names = [f"N{places.index(at)}" for at in supports]
    for name in names:
        first = name == names[0]
        model.def_support(name, first, True, True, first, False, False)
    for start, end, load, *_ in uniform:
        model.add_member_dist_load("beam", "Fy", -load, -load, start, end)
    for at, load, *_ in points:
        model.add_member_pt_load("beam", "Fy", -load, at)
    model.analyze_linear()
    return model, [model.nodes[name].RxnFY["Combo 1"] for name in names]


def by_anastruct(length, supports, uniform, points):
    """Moments over the supports and reactions from a mesh with a node at every load's end."""
    from anastruct import SystemElements

    places = sorted({0.0, length, *supports, *(x for u in uniform for x in u[:2]), *(p[0] for p in points)})
    frame = SystemElements(EI=1.0e6, EA=1e9)
    for a, b in itertools.pairwise(places):
        frame.add_element([[a, 0], [b, 0]])
    for number, at in enumerate(supports):
        node = places.index(at) + 1
        if number:
            frame.add_support_roll(node)
        else:
            frame.add_support_hinged(node)
    for index, (a, b) in enumerate(itertools.pairwise(places)):
        load = sum(u[2] for u in uniform if u[0] <= a + 1e-9 and u[1] >= b - 1e-9)
        if load:
            frame.q_load(-load, index + 1)
    for at, load, *_ in points:
        frame.point_load(places.index(at) + 1, Fy=-load)
    frame.solve()
    forces = [-frame.get_node_results_system(places.index(at) + 1)["Fy"] for at in supports]
    return [abs(force) for force in forces], forces


def compare_with_pynite(seed):
    length, supports, uniform, points = any_beam(seed)
    found = analyse_beam(length, supports, uniform, points)
    scale = max(found.moment_max.value, -found.moment_min.value)
    model, forces = by_pynite(length, supports, uniform, points)
    member = model.members["beam"]
    assert reactions(found) == pytest.approx(forces, abs=1e-6 * sum(map(abs, forces)))
    for peak in found.span_moments:
        assert abs(abs(member.moment("Mz", peak.at)) - abs(peak.value)) < 1e-6 * scale
    largest = max(abs(member.max_moment("Mz")), abs(member.min_moment("Mz")))
    assert largest <= scale * (1 + 1e-6)
    moved = find_deflections(found, 1.0e6)
    deepest = max(peak.value for peak in moved.spans_total)
    for peak in moved.spans_total:
        if peak.value > 1e-6 * deepest:
            assert -member.deflection("dy", peak.at) == pytest.approx(peak.value, abs=1e-6 * deepest)
    for name, down, up, there in (
        ("N0", moved.tips_total[0], moved.tips_up[0], supports[0] > 0),
        (f"N{len(model.nodes) - 1}", moved.tips_total[1], moved.tips_up[1], supports[-1] < length),
    ):
        if there:
            size = max(deepest, down, up)
            assert -model.nodes[name].DY["Combo 1"] == pytest.approx(down - up, abs=1e-6 * size)


def compare_with_anastruct(seed):
    length, supports, uniform, points = any_beam(seed)
    found = analyse_beam(length, supports, uniform, points)
    sizes, _ = by_anastruct(length, supports, uniform, points)
    assert [abs(force) for force in reactions(found)] == pytest.approx(sizes, abs=1e-6 * sum(sizes))


@pytest.mark.parametrize("seed", range(12))
def test_against_pynite(seed):
    compare_with_pynite(seed)


@pytest.mark.parametrize("seed", range(12))
def test_against_anastruct(seed):
    compare_with_anastruct(seed)


@pytest.mark.slow
def test_five_hundred_beams_against_both_programs():
    for seed in range(100, 600):
        compare_with_pynite(seed)
        compare_with_anastruct(seed)


def test_the_beam_both_programs_agree_on():
    """Spans 10, 12, 10 ft, two 4 ft overhangs, 120 lb/ft, 500 lb at mid-length."""
    found = analyse_beam(480.0, [48.0, 168.0, 312.0, 432.0], [(0.0, 480.0, 10.0, 0.0)], [(240.0, 500.0, 0.0)])
    _, forces = by_pynite(
        480.0, [48.0, 168.0, 312.0, 432.0], [(0.0, 480.0, 10.0, 0.0)], [(240.0, 500.0, 0.0)]
    )
    assert reactions(found) == pytest.approx([998.786, 1651.214, 1651.214, 998.786], abs=5e-4)
    assert reactions(found) == pytest.approx(forces)
    assert found.moment_max.value == pytest.approx(22654.286, abs=5e-4)
    assert found.moment_min.value == pytest.approx(-21265.714, abs=5e-4)


@pytest.mark.parametrize("seed", range(4))
def test_pattern_envelope_against_enumeration_by_pynite(seed):
    """Every pattern of live load solved by the frame program, its largest effects against ours."""
    dice = random.Random(seed)
    supports = [dice.uniform(10, 50)]
    for _ in range(2):
        supports.append(supports[-1] + dice.uniform(80, 160))
    length = supports[-1] + dice.uniform(10, 50)
    dead, live = dice.uniform(0.5, 2), dice.uniform(4, 9)
    found = analyse_beam(length, supports, [(0.0, length, dead, live)])
    moved = find_deflections(found, 1.0e6)
    bounds = [0.0, *supports, length]
    stretches = list(itertools.pairwise(bounds))
    most, least = [-math.inf] * len(supports), [math.inf] * len(supports)
    sagging, tips = -math.inf, [0.0, 0.0]
    for pattern in itertools.product((0, 1), repeat=len(stretches)):
        loads = [(a, b, dead + on * live) for (a, b), on in zip(stretches, pattern, strict=True)]
        model, forces = by_pynite(length, supports, loads, [])
        most = [max(x, y) for x, y in zip(most, forces, strict=True)]
        least = [min(x, y) for x, y in zip(least, forces, strict=True)]
        member = model.members["beam"]
        inside = np.linspace(supports[0], supports[-1], 400)
        sagging = max(sagging, *(-member.moment("Mz", float(x)) for x in inside))
        for number, name in enumerate(("N0", f"N{len(model.nodes) - 1}")):
            tips[number] = max(tips[number], -model.nodes[name].DY["Combo 1"])
    assert [reaction.largest for reaction in found.reactions] == pytest.approx(most, rel=1e-9)
    assert [reaction.least for reaction in found.reactions] == pytest.approx(least, rel=1e-9)
    assert moved.tips_total == pytest.approx(tuple(tips), rel=1e-9)
    assert sagging == pytest.approx(found.moment_max.value, rel=1e-3)  # sampled at 400 places
    assert sagging <= found.moment_max.value * (1 + 1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_envelope_of_loads_that_press_or_lift_against_enumeration_by_pynite(seed):
    """Joists on a beam press it or, with their far spans loaded, lift it: each either way, or not at all."""
    dice = random.Random(1000 + seed)
    supports = [dice.uniform(5, 30)]
    for _ in range(dice.choice([1, 2])):
        supports.append(supports[-1] + dice.uniform(60, 140))
    length = supports[-1] + dice.uniform(5, 30)
    spots = sorted(dice.uniform(0, length) for _ in range(3))
    dead = [dice.uniform(0, 40) for _ in spots]
    press, lift = [dice.uniform(0, 120) for _ in spots], [-dice.uniform(20, 300) for _ in spots]
    steady = list(zip(spots, dead, [0.0] * len(spots), strict=True))
    moving = [(at, 0.0, load) for loads in (press, lift) for at, load in zip(spots, loads, strict=True)]
    found = analyse_beam(length, supports, [(0.0, length, 0.3, 0.0)], [*steady, *moving])
    places = [*np.linspace(0.0, length, 300), *supports, *spots]
    high, low, most, least, shear = -math.inf, math.inf, [-math.inf] * 9, [math.inf] * 9, 0.0
    for pattern in itertools.product((0, 1, 2), repeat=len(spots)):
        sizes = [d + (0.0, p, n)[on] for d, p, n, on in zip(dead, press, lift, pattern, strict=True)]
        points = list(zip(spots, sizes, strict=True))
        model, forces = by_pynite(length, supports, [(0.0, length, 0.3)], points)
        member = model.members["beam"]
        bent = [-member.moment("Mz", float(x)) for x in places]
        high, low = max(high, *bent), min(low, *bent)
        shear = max(shear, abs(member.max_shear("Fy")), abs(member.min_shear("Fy")))
        most = [max(x, y) for x, y in zip(most, forces, strict=False)]
        least = [min(x, y) for x, y in zip(least, forces, strict=False)]
    assert [r.largest for r in found.reactions] == pytest.approx(most, rel=1e-9, abs=1e-6)
    assert [r.least for r in found.reactions] == pytest.approx(least, rel=1e-9, abs=1e-6)
    size = max(high, -low)
    for sampled, exact in ((high, found.moment_max.value), (-low, -found.moment_min.value)):
        assert sampled <= exact + 1e-6 * size
        assert sampled == pytest.approx(exact, abs=1e-3 * size)
    assert shear == pytest.approx(found.shear.value, rel=1e-6)
