"""The ground between and beyond its measured points."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point as Spot
from shapely import box

from deckplan.errors import InputError
from deckplan.levels.ground import LevelGround, Strip, Surface, lay_ground
from deckplan.levels.terrain import flat_pieces

# A plane that falls 2 in over 40 ft along x and 9 in over 30 ft along y, read by hand: z = -x/240 - y/40.
PLANE = [((0.0, 0.0), 0.0), ((480.0, 0.0), -2.0), ((0.0, 360.0), -9.0)]


def test_no_point_is_level_at_nought_and_nobody_measured_it() -> None:
    ground = lay_ground([])
    assert ground == LevelGround(0.0, False)
    assert not ground.measured_at((0.0, 0.0))


def test_one_point_is_level_ground() -> None:
    ground = lay_ground([((10.0, 10.0), -7.5)])
    assert ground.elevation_at((1000.0, -300.0)) == -7.5
    assert ground.slope_at((0.0, 0.0)) == 0.0
    assert ground.measured_at((0.0, 0.0))


def test_two_points_are_a_strip_level_across_and_flat_beyond() -> None:
    ground = lay_ground([((0.0, 0.0), 0.0), ((0.0, 120.0), -12.0)])
    assert isinstance(ground, Strip)
    assert ground.elevation_at((500.0, 60.0)) == pytest.approx(-6.0)
    assert ground.elevation_at((0.0, 500.0)) == -12.0
    assert ground.elevation_at((0.0, -500.0)) == 0.0
    assert ground.slope_at((0.0, 60.0)) == pytest.approx(0.1)
    assert ground.measured_at((500.0, 60.0))
    assert not ground.measured_at((0.0, 121.0))


def test_points_in_a_row_are_linear_between_neighbours() -> None:
    ground = lay_ground([((0.0, 0.0), 0.0), ((240.0, 0.0), -30.0), ((120.0, 0.0), -6.0)])
    assert ground.elevation_at((60.0, 9.0)) == pytest.approx(-3.0)
    assert ground.elevation_at((180.0, 9.0)) == pytest.approx(-18.0)


def test_three_points_are_a_plane() -> None:
    ground = lay_ground(PLANE)
    assert ground.elevation_at((120.0, 120.0)) == pytest.approx(-0.5 - 3.0)
    assert ground.slope_at((100.0, 100.0)) == pytest.approx(((1 / 240) ** 2 + (1 / 40) ** 2) ** 0.5)


def test_outside_the_measured_points_the_nearest_measured_place_stands() -> None:
    ground = lay_ground(PLANE)
    assert ground.elevation_at((240.0, -600.0)) == pytest.approx(-1.0)  # foot of the perpendicular on y = 0
    assert ground.elevation_at((-50.0, -50.0)) == pytest.approx(0.0)
    assert not ground.measured_at((240.0, -1.0))
    assert ground.measured_at((240.0, 0.0))


def test_two_elevations_at_one_place_are_refused_and_a_repeat_is_not() -> None:
    with pytest.raises(InputError, match=r"site\.ground"):
        lay_ground([((0.0, 0.0), 0.0), ((0.0, 0.0), 1.0)])
    assert lay_ground([((0.0, 0.0), 2.0), ((0.0, 0.0), 2.0)]) == LevelGround(2.0, True)


coordinate = st.integers(-40, 40).map(lambda n: 12.0 * n)
spots = st.lists(
    st.tuples(st.tuples(coordinate, coordinate), st.integers(-40, 40).map(float)),
    min_size=3, max_size=9, unique_by=lambda spot: spot[0],
)  # fmt: skip


@given(spots, st.tuples(coordinate, coordinate))
def test_ground_stays_between_its_lowest_and_highest_point(points, at) -> None:
    ground = lay_ground(points)
    heights = [z for _, z in points]
    assert min(heights) - 1e-6 <= ground.elevation_at(at) <= max(heights) + 1e-6
    for place, height in points:
        assert ground.elevation_at(place) == pytest.approx(height, abs=1e-6)


@given(spots, st.tuples(coordinate, coordinate))
def test_flat_pieces_say_the_same_as_the_ground(points, at) -> None:
    ground = lay_ground(points)
    if isinstance(ground, Surface) and any(t.slope > 50 for t in ground.triangles):
        return  # slivers along the hull: no ground looks so
    pieces = flat_pieces(ground, (at[0] - 12, at[1] - 12, at[0] + 12, at[1] + 12))
    there = [piece for piece in pieces if piece.shape.distance(Spot(at)) < 1e-9]
    assert there
    assert min(abs(piece.elevation_at(at) - ground.elevation_at(at)) for piece in there) < 1e-3


def test_the_part_of_a_slope_below_a_height_is_exact() -> None:
    ground = lay_ground([((0.0, 0.0), 0.0), ((0.0, 120.0), -12.0)])
    pieces = flat_pieces(ground, (0.0, 0.0, 100.0, 120.0))
    # one in ten: below -3 in from y = 30 on, so 90 x 100 sq in
    assert sum(piece.below(-3.0).area for piece in pieces) == pytest.approx(9000.0)
    assert min(piece.lowest_in(box(0, 0, 50, 60)) for piece in pieces) == pytest.approx(-6.0)
