"""Splitting rises: published and stated splits, dead bands, properties."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deckplan.levels.box_steps import boards_over, joist_places
from deckplan.levels.risers import count_risers, nearest_rises, split_rise
from deckplan.levels.stringers import lay_out_stringer
from deckplan.rules import load_profile
from deckplan.verdict import Verdict

IRC, LOCAL, CANADA = load_profile("irc-2021"), load_profile("local-example"), load_profile("canada")

# rise, largest riser, risers, one riser; the mark of the source
SPLITS = [
    (102.5, 7.75, 14, 7.3214, "trade literature: 14 risers of 7-5/16"),
    (16.0, 7.75, 3, 5.3333, "derived: two of 8 are over the maximum"),
    (10.5, 7.75, 2, 5.25, "common practice: one box, 2 x 5-1/4"),
    (27.5, 7.75, 4, 6.875, "trade literature: 4 risers of 6-7/8"),
    (151.0, 7.75, 20, 7.55, "published: 20 risers x 7.55 in, the tallest flight of IRC R311.7.3"),
    (7.75, 7.75, 1, 7.75, "derived: at the limit"),
    (15.5, 7.75, 2, 7.75, "derived: at the limit"),
    (15.5625, 7.75, 3, 5.1875, "derived: a sixteenth over"),
]


@pytest.mark.parametrize(("rise", "most", "risers", "riser", "source"), SPLITS)
def test_splits(rise: float, most: float, risers: int, riser: float, source: str) -> None:
    assert IRC.riser_max.value == most
    split = split_rise(rise, IRC)
    assert split.risers == risers, source
    assert split.riser == pytest.approx(riser, abs=5e-5)
    assert split.verdict is Verdict.PASS


def test_the_fraction_is_only_how_it_is_shown() -> None:
    split = split_rise(102.5, IRC)
    assert '7 5/16"' in split.reason
    assert split.riser * split.risers == pytest.approx(102.5, rel=1e-15)


@pytest.mark.parametrize("rise", [7.7501, 7.8, 7.875, 7.999])
def test_under_a_minimum_of_4_and_a_maximum_of_7_3_4_a_band_cannot_be_split(rise: float) -> None:
    # derived: 7-3/4 to 8 in, exclusive
    split = split_rise(rise, LOCAL)
    assert split.verdict is Verdict.FAIL
    assert split.nearest == (7.75, 8.0)
    assert "nearest heights" in split.reason


@pytest.mark.parametrize("rise", [7.75, 8.0, 15.5, 15.6, 12.0])
def test_at_and_beside_the_band_it_can(rise: float) -> None:
    assert split_rise(rise, LOCAL).verdict is Verdict.PASS


# (largest, least, from, to) in millimetres; derived
@pytest.mark.parametrize(
    ("most", "least", "low", "high", "where"),
    [(200, 125, 200, 250, "Canada"), (190, 115, 190, 230, "Australia")],
)
def test_metric_dead_bands(most: float, least: float, low: float, high: float, where: str) -> None:
    profile = CANADA.with_values(riser_max=most / 25.4, riser_min=least / 25.4)
    inside = split_rise((low + high) / 2 / 25.4, profile, units="metric")
    assert [round(height * 25.4, 6) for height in inside.nearest] == [low, high], where
    assert f"{high} mm" in inside.reason
    for edge in (low, high):
        assert split_rise(edge / 25.4, profile).verdict is Verdict.PASS


def test_too_low_a_step_names_the_least() -> None:
    assert split_rise(3.0, LOCAL).nearest == (4.0,)
    assert split_rise(3.0, IRC).verdict is Verdict.PASS  # the IRC states no minimum
    assert "4 in" in split_rise(3.0, IRC).reason


@pytest.mark.parametrize("rise", [0.0, -2.0])
def test_no_way_down_is_said(rise: float) -> None:
    split = split_rise(rise, IRC)
    assert split.verdict is Verdict.FAIL
    assert "no way down" in split.reason


def test_boards_are_taken_off_the_first_frame() -> None:
    # common practice: 5-1/4 riser, 1 in boards: frame 4-1/4
    assert split_rise(10.5, IRC, board=1.0).frame == 4.25


def test_a_stringers_bottom_cut_is_short_by_one_board() -> None:
    # trade literature: 27.5 in, 4 risers, 15/16 in boards: 5-15/16
    assert lay_out_stringer(27.5, 4, 10.5, 15 / 16).bottom_cut == 5.9375


def test_a_stringers_corners_step_by_whole_risers_above_the_first() -> None:
    corners = lay_out_stringer(27.5, 4, 10.5, 15 / 16).marks
    heights = sorted({height for _, height in corners})
    assert heights[1] == 5.9375
    assert [round(b - a, 9) for a, b in pairwise(heights[1:])] == [6.875, 6.875]
    # with its board on, the top tread lies one riser under the upper surface
    assert heights[-1] + 15 / 16 == pytest.approx(27.5 - 6.875)


@given(st.floats(0.05, 400.0), st.sampled_from([IRC, LOCAL, CANADA]))
def test_risers_add_up_to_the_rise_and_are_the_fewest(rise: float, profile) -> None:
    split = split_rise(rise, profile)
    assert split.marks[-1] == pytest.approx(rise, rel=1e-15)
    assert len(split.marks) == split.risers
    gaps = [b - a for a, b in zip((0.0, *split.marks), split.marks, strict=False)]
    assert max(gaps) - min(gaps) <= 1e-9 * max(1.0, rise)
    most = profile.riser_max.value
    assert split.riser <= most * (1 + 1e-9)
    if split.risers > 1:
        assert rise / (split.risers - 1) > most


@given(st.integers(1, 40), st.sampled_from([7.75, 7.0, 200 / 25.4, 190 / 25.4]))
def test_whole_numbers_of_largest_risers_take_just_that_many(count: int, most: float) -> None:
    summed = sum([most] * count)  # with the noise of a float sum
    assert count_risers(summed, most) == count
    assert count_risers(summed + 1e-4, most) == count + 1


@given(st.floats(0.1, 60.0))
def test_the_nearest_heights_can_be_split_and_nothing_between_can(rise: float) -> None:
    near = nearest_rises(rise, 7.75, 4.0)
    for height in near:
        assert nearest_rises(height, 7.75, 4.0) == ()
    if len(near) == 2:
        assert near[0] < rise < near[1]


def test_joists_of_a_frame_are_ceil_of_length_over_spacing_and_one() -> None:
    # common practice: ceil(L / s) + 1, first and last always; 69 in between the outer middles at 12 in
    assert len(joist_places(0.0, 70.5, 12.0)) == 7
    places = joist_places(0.75, 71.25, 12.0)
    assert places[0] == 1.5
    assert places[-1] == 70.5
    assert all(b - a <= 12.0 + 1e-9 for a, b in pairwise(places))


@given(st.floats(4.0, 60.0), st.sampled_from([3.5, 5.5]), st.sampled_from([0.125, 0.1875, 0.25]))
def test_boards_cover_a_tread_whole(depth: float, width: float, gap: float) -> None:
    count, last, nose = boards_over(depth, width, gap)
    covered = (count - 1) * (width + gap) + last - nose
    assert covered == pytest.approx(depth, abs=gap + 1e-9)
    assert 0 <= nose <= 1.25 + 1e-9
    assert 0 < last <= max(width, depth)


def test_heights_that_are_named_can_be_split_as_they_are_written() -> None:
    # NBC risers 125 to 200 mm: 200 mm is 7 7/8 in less a hair, so 7 13/16 in is said
    from deckplan.units import read_length

    profile = load_profile("canada")
    said = split_rise(8.0, profile).reason.rsplit("can: ", 1)[1]
    for height in said.split(" and "):
        assert split_rise(read_length(height), profile).verdict is Verdict.PASS
