"""Rooms under other levels: nothing is put where a person cannot stand, nor on a post of the level above."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from shapely import LineString, Polygon, box

from deckplan.draw.room_view import room_view
from deckplan.draw.scene import Area, Role, Stroke
from deckplan.layout.over import levels_over
from deckplan.layout.room_model import Room
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.verdict import Verdict

OVER = {
    # the lookout's outline as the file gives it, 8 to 18 ft by 6 to 14 ft [in]
    "frames-stacked": (box(96, 72, 216, 168), "lookout"),
    # the gallery's part over the terrace: 0 to 14 ft by 1 to 7 ft [in]
    "frames-overlapping": (box(0, 12, 168, 84), "gallery"),
}


@cache
def study_of(name: str, use: str = "", people: int = 0) -> Study:
    plan = read_plan(data_path("plans", f"{name}.toml"))
    if use:
        platforms = tuple(
            one.model_copy(update={"use": use, "people": people}) if one.name == "terrace" else one
            for one in plan.platforms
        )
        plan = plan.model_copy(update={"platforms": platforms})
    return Study(plan)


def bodies(room: Room) -> list[Any]:
    return [Polygon(group.zone) for group in room.groups] + [
        LineString(way.points).buffer(way.width / 2 - 1.0, cap_style="flat")
        for way in room.ways
        if way.points
    ]


@pytest.mark.parametrize("name", OVER)
def test_the_part_above_and_its_clear_height(name: str) -> None:
    """Outlines from the file. Clear heights by hand: the gallery's surface at 118 in less 1 in of boards, less its
    2x8 joists (7 1/4 in) and, under them, its beam; both values are those of the headroom check.
    """
    study = study_of(name)
    (over,) = levels_over(study.plan, study.levels, study.layout)
    (cover,) = study.rooms["terrace"].covers
    shape, upper = OVER[name]
    assert cover.level == upper == over.upper.name
    assert Polygon(cover.outlines[0]).equals(shape)
    # lookout: 54 - 1 - 5 1/2 (2x6) - 5 1/2 (2x6 beam) - 24; gallery: 118 - 1 - 7 1/4 - 5 1/2 (2x6 beam) - 14
    assert cover.clear == pytest.approx({"lookout": 18.0, "gallery": 90.25}[upper])
    assert cover.low is (upper == "lookout")


@pytest.mark.parametrize("use", ["dining", "lounge", "sun", "fire"])
def test_nothing_under_a_low_level(use: str) -> None:
    """R311.7.2 asks 80 in of headroom where people walk; under the lookout are 18 in."""
    room = study_of("frames-stacked", use, 6).rooms["terrace"]
    shape, _ = OVER["frames-stacked"]
    assert room.ways
    assert all(body.intersection(shape).area < 1.0 for body in bodies(room))
    assert any("lookout" in note.text and "80 sq ft" in note.text for note in room.notes)


def test_no_table_for_six_beside_the_lookout() -> None:
    """By hand: beside the lookout are strips 8 ft and 6 ft wide; a table and chairs take 36 + 2 x 32 = 100 in."""
    room = study_of("frames-stacked", "dining", 6).rooms["terrace"]
    assert room.seated == 0
    assert any("room for 0 of 6" in note.text for note in room.notes)


@pytest.mark.parametrize("use", ["lounge", "sun"])
def test_furniture_under_a_high_level_keeps_off_its_posts(use: str) -> None:
    room = study_of("frames-overlapping", use, 6).rooms["terrace"]
    shape, _ = OVER["frames-overlapping"]
    posts = [Polygon(post) for post in room.posts]
    # three posts of the gallery, 6x6: 5 1/2 in square, under its beam 6 ft from the wall
    assert [round(post.area, 3) for post in posts] == [30.25] * 3
    assert {round(post.centroid.y, 3) for post in posts} == {72.0}
    assert room.groups
    assert any(body.intersects(shape) for body in bodies(room))
    assert all(body.distance(post) >= 1.0 - 0.02 for body in bodies(room) for post in posts)
    assert not any("gallery" in note.text for note in room.notes)


@pytest.mark.parametrize("name", OVER)
def test_the_demonstration_plans_seat_their_people(name: str) -> None:
    study = study_of(name)
    room = study.rooms["terrace"]
    assert room.seated == room.people > 0
    assert study.verdict is (Verdict.OUTSIDE if name == "frames-stacked" else Verdict.PASS)
    assert not any(check.verdict is Verdict.FAIL for check in study.checks)


@pytest.mark.parametrize("name", OVER)
def test_the_drawing_of_one_level_shows_what_is_above(name: str) -> None:
    study = study_of(name)
    scene = room_view(study, study.rooms, platform="terrace")
    shape, upper = OVER[name]
    dashed = [s for s in scene.shapes if isinstance(s, Stroke) and s.role is Role.LEVEL_ABOVE]
    assert [Polygon(stroke.points).equals(shape) for stroke in dashed] == [True]
    posts = [s for s in scene.shapes if isinstance(s, Area) and s.role is Role.POST]
    assert len(posts) == len(study.rooms["terrace"].posts)
    assert any(f"{upper} above, " in label.text and "clear" in label.text for label in scene.labels)


@pytest.mark.parametrize("name", OVER)
def test_the_drawing_of_all_levels_draws_no_furniture_on_furniture(name: str) -> None:
    study = study_of(name)
    scene = room_view(study, study.rooms)
    shape, upper = OVER[name]
    lower = {piece.outline for group in study.rooms["terrace"].groups for piece in group.pieces}
    shown = [s for s in scene.shapes if isinstance(s, Area) and s.points in lower]
    assert all(Polygon(s.points).intersection(shape).area < 1.0 for s in shown)
    assert any("Levels lie over each other" in str(label.text) for label in scene.labels)
    assert study.rooms[upper].groups
