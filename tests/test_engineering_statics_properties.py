"""Beam statics: what must hold for every beam, and many beams at once."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckplan.engineering.statics import analyse_beam, shear_at_depth
from deckplan.engineering.statics_batch import analyse_beams
from deckplan.errors import RangeError

# ---- properties ----

LENGTHS = st.floats(24.0, 240.0)
LOADS = st.floats(0.0, 30.0)


@st.composite
def beams(draw):
    left, right = draw(st.sampled_from([0.0, 12.0, 37.5])), draw(st.sampled_from([0.0, 20.0]))
    supports = [left]
    for span in draw(st.lists(LENGTHS, min_size=1, max_size=4)):
        supports.append(supports[-1] + span)
    length = supports[-1] + right
    points = [
        (draw(st.floats(0.0, 1.0)) * length, draw(LOADS) * 10, draw(LOADS) * 10)
        for _ in range(draw(st.integers(0, 2)))
    ]
    return length, supports, [(0.0, length, draw(LOADS), draw(LOADS))], points


@given(beams())
def test_reactions_sum_to_the_loads(case):
    length, _, uniform, points = case
    found = analyse_beam(*case)
    dead = sum(u[2] * length for u in uniform) + sum(p[1] for p in points)
    live = sum(u[3] * length for u in uniform) + sum(p[2] for p in points)
    assert sum(r.full for r in found.reactions) == pytest.approx(dead + live, abs=1e-6)
    assert sum(r.dead for r in found.reactions) == pytest.approx(dead, abs=1e-6)


@given(beams())
def test_the_mirrored_beam_gives_mirrored_answers(case):
    length, supports, uniform, points = case
    found = analyse_beam(*case)
    mirrored = analyse_beam(
        length,
        [length - at for at in reversed(supports)],
        [(length - b, length - a, d, w) for a, b, d, w in uniform],
        [(length - at, d, w) for at, d, w in points],
    )
    scale = 1e-7 * (1 + sum(r.largest for r in found.reactions))
    assert [r.largest for r in mirrored.reactions] == pytest.approx(
        [r.largest for r in reversed(found.reactions)], abs=scale
    )
    assert [p.value for p in mirrored.span_moments] == pytest.approx(
        [p.value for p in reversed(found.span_moments)], abs=scale * length
    )
    assert mirrored.shear.value == pytest.approx(found.shear.value, abs=scale)
    there, here = (shear_at_depth(beam, 9.25).value for beam in (mirrored, found))
    assert there == pytest.approx(here, abs=scale)


@given(beams(), st.floats(1.0, 3.0))
def test_more_load_never_asks_less(case, more):
    length, supports, uniform, points = case
    found = analyse_beam(*case)
    heavier = analyse_beam(length, supports, [(a, b, d, w * more) for a, b, d, w in uniform], points)
    slack = 1e-6 * (1 - found.moment_min.value + abs(found.moment_max.value))
    assert heavier.moment_max.value >= found.moment_max.value - slack
    assert heavier.moment_min.value <= found.moment_min.value + slack
    assert heavier.shear.value >= found.shear.value - slack
    for one, other in zip(found.reactions, heavier.reactions, strict=True):
        assert other.largest >= one.largest - slack
        assert other.least <= one.least + slack


@settings(max_examples=30)
@given(beams())
def test_no_place_of_a_span_exceeds_its_peak(case):
    """The envelope's peak against the moment of every pattern at 60 places, load by load."""
    found = analyse_beam(*case)
    for index, span in enumerate(found.spans):
        for share in range(61):
            x = span * share / 60
            total = 0.0
            for unit in found.units:
                left, right = unit.moments[index], unit.moments[index + 1]
                moment = left + (right - left) * x / span
                if unit.place == index:
                    moment += unit.left * x
                    past = min(max(x - unit.start, 0.0), unit.end - unit.start)
                    beyond = max(x - unit.start, 0.0)
                    moment -= beyond if unit.point else past * (beyond - past / 2)
                total += unit.dead * moment + max(0.0, unit.live * moment)
            assert total <= found.span_moments[index].value + 1e-6 * (1 + abs(total))


# ---- many at once ----


@pytest.mark.parametrize("spans", [1, 2, 3, 5])
def test_the_batch_agrees_with_one_by_one(spans):
    dice = np.random.default_rng(spans)
    count = 40
    lengths = dice.uniform(40, 200, (count, spans))
    left, right = (dice.uniform(0, 60, count) * dice.integers(0, 2, count) for _ in range(2))
    dead = dice.uniform(0, 3, count) * dice.integers(0, 2, count)
    live = dice.uniform(0, 20, count) * dice.integers(0, 3, count)
    many = analyse_beams(lengths, left, right, dead, live, chunk=16)
    for number in range(count):
        supports = [left[number], *(left[number] + np.cumsum(lengths[number]))]
        length = supports[-1] + right[number]
        one = analyse_beam(length, supports, [(0.0, length, dead[number], live[number])])
        assert many.span_moments[number] == pytest.approx(
            [p.value for p in one.span_moments], rel=1e-9, abs=1e-6
        )
        assert many.support_moments[number] == pytest.approx(
            [p.value for p in one.support_moments], rel=1e-9, abs=1e-6
        )
        assert many.reactions_largest[number] == pytest.approx([r.largest for r in one.reactions], rel=1e-9)
        assert many.reactions_least[number] == pytest.approx(
            [r.least for r in one.reactions], rel=1e-9, abs=1e-6
        )
        assert many.reactions_full[number] == pytest.approx(
            [r.full for r in one.reactions], rel=1e-9, abs=1e-6
        )
        assert many.shear[number] == pytest.approx(one.shear.value)


def test_a_batch_that_makes_no_sense_is_refused():
    one = np.ones(2)
    with pytest.raises(RangeError):
        analyse_beams(np.array([[0.0, 1.0], [1.0, 1.0]]), one, one, one, one)
    with pytest.raises(RangeError):
        analyse_beams(np.ones((2, 2)), one, one, -one, one)
