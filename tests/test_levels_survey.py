"""From rod readings to ground: sums worked by hand, loops, mistakes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deckplan.errors import InputError
from deckplan.levels.ground import lay_ground
from deckplan.levels.survey import Reading, SetUp, reduce_survey
from deckplan.verdict import Verdict

# Worked by hand (invented lot). Sill at 0; level set up once by the house and once down the slope.
# HI 1 = 0 + 38.5 = 38.5: corner 38.5 - 52 = -13.5, turning stone 38.5 - 70.25 = -31.75.
# HI 2 = -31.75 + 44 = 12.25: yard 12.25 - 61.75 = -49.5, sill again 12.25 - 12 = 0.25: misclosure + 1/4.
LOOP = (
    SetUp(
        Reading("sill", 38.5), (Reading("corner", 52.0, (0.0, 120.0)), Reading("stone", 70.25, (60.0, 240.0)))
    ),
    SetUp(Reading("stone", 44.0), (Reading("yard", 61.75, (0.0, 360.0)), Reading("sill", 12.0))),
)


def test_a_loop_worked_by_hand() -> None:
    survey = reduce_survey({"sill": 0.0}, LOOP)
    assert survey.misclosures == {"sill": pytest.approx(0.25)}
    # one half of the misclosure comes off after the first set-up, all of it after the second
    assert survey.elevations["corner"] == pytest.approx(-13.5 - 0.125)
    assert survey.elevations["stone"] == pytest.approx(-31.75 - 0.125)
    assert survey.elevations["yard"] == pytest.approx(-49.5 - 0.25)
    assert survey.elevations["sill"] == 0.0
    assert [step.value for step in survey.steps[:3]] == [38.5, -13.5, -31.75]


@pytest.mark.parametrize(("rod", "verdict"), [(12.0, Verdict.PASS), (11.9375, Verdict.FAIL)])
def test_a_loop_that_closes_badly_is_read_again(rod: float, verdict: Verdict) -> None:
    # common practice: a builder's level closes a house lot to 1/4 in
    last = SetUp(LOOP[1].back, (Reading("sill", rod),))
    assert [check.verdict for check in reduce_survey({"sill": 0.0}, (LOOP[0], last)).checks] == [verdict]


def test_without_a_loop_nothing_is_corrected() -> None:
    survey = reduce_survey({"sill": 0.0}, (LOOP[0],))
    assert survey.elevations["stone"] == -31.75
    assert survey.checks == ()


def test_spots_lay_the_ground() -> None:
    ground = lay_ground(reduce_survey({"sill": 0.0}, LOOP).spots)
    assert ground.elevation_at((60.0, 240.0)) == pytest.approx(-31.875)


def test_looking_back_on_an_unknown_point_is_an_input_error() -> None:
    with pytest.raises(InputError, match="set-up 1"):
        reduce_survey({"sill": 0.0}, (SetUp(Reading("tree", 30.0), ()),))


@given(st.lists(st.integers(-60, 60), min_size=1, max_size=6), st.integers(10, 90))
def test_a_perfect_survey_gives_back_the_ground(heights: list[int], rod: int) -> None:
    points = {f"p{number}": float(height) for number, height in enumerate(heights)}
    set_ups, known = [], ("sill", 0.0)
    for name, height in points.items():
        set_ups.append(SetUp(Reading(known[0], float(rod)), (Reading(name, known[1] + rod - height),)))
        known = (name, height)
    set_ups.append(SetUp(Reading(known[0], float(rod)), (Reading("sill", known[1] + rod),)))
    survey = reduce_survey({"sill": 0.0}, tuple(set_ups))
    assert survey.misclosures["sill"] == pytest.approx(0.0, abs=1e-9)
    assert all(survey.elevations[name] == pytest.approx(height) for name, height in points.items())
