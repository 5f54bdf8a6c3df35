"""Details of flights: what they are cut from, what they stand on, and how deep that goes."""

from __future__ import annotations

from pathlib import Path

import pytest

from deckplan.draw.flight_view import BELOW, flight_view
from deckplan.draw.scene import Area, Role
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study

PLANS = sorted(data_path("plans").glob("*.toml"))


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_a_flight_shows_the_footings_that_it_stands_on_with_their_depth(path: Path) -> None:
    study = Study(read_plan(path))
    for flight in study.flights.flights:
        scene = flight_view(study, flight.index)
        drawn = {one.mark: one for one in scene.of(Role.CONCRETE) if isinstance(one, Area)}
        own = {one.mark: one for one in study.footings if one.mark.startswith(f"{flight.mark}-")}
        between = {flight.mark} if flight.inner_feet else set()
        assert set(drawn) - between == {pad.mark for pad in flight.pads} == set(own)
        assert between <= set(drawn), "the pad between the piers bears the flight's own mark"
        rise = study.levels.flights[flight.index]
        for mark, footing in own.items():
            box = drawn[mark].box
            assert box.width == footing.diameter
            assert box.top == pytest.approx(footing.top)
            deep = footing.top - footing.bottom
            assert box.height == pytest.approx(min(deep, rise.rise + BELOW))
            assert (box.height < deep - 0.1) <= bool(scene.of(Role.BREAK)), "a deep one is broken"
        said = " ".join(label.text for label in scene.labels if label.role is Role.MARK)
        assert all(mark in said for mark in own)


def test_a_stringer_flight_says_what_to_cut_and_how_far_to_dig() -> None:
    study = Study(read_plan(data_path("plans", "chestnut-school.toml")))
    said = [label.text for label in flight_view(study, 1).labels]
    # The plan's frost depth is 30 in, and its yard lies at the benchmark.
    (footing,) = [text for text in said if text.startswith("S2-F1, S2-F2")]
    assert '8" dia., 30" deep\nbottom −2\'-6"' in footing
    (stringers,) = [text for text in said if "stringers 2x12" in text]
    apart = study.profile.stringer_spacing_max.value
    assert " apart at most\nplank " in stringers
    gap = float(stringers.split(", ")[1].split('"')[0].split()[0])
    assert gap <= apart
    assert '3 risers of 7", treads of 11", 4\'-0" wide' in said


def test_a_flight_from_a_door_shows_wall_sill_and_floor_and_levels_carry_their_heights() -> None:
    study = Study(read_plan(data_path("plans", "alder-point.toml")))
    from_door, between = flight_view(study, 0), flight_view(study, 1)
    said = [label.text for label in from_door.labels]
    # The plan's sill stands 31 1/2 in above the benchmark, its levels 30 and 19 1/2 in.
    assert "kitchen door, sill +2'-7 1/2\"" in said
    assert len(from_door.of(Role.WALL, Role.DOOR, Role.FLOOR)) == 3
    assert "A  dining  +2'-6\"" in said
    assert {"A  dining  +2'-6\"", "B  lounge  +1'-7 1/2\""} <= {label.text for label in between.labels}
    assert not between.of(Role.WALL)
