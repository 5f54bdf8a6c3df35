"""The footing plan: marks, sizes, chains of dimensions, and the schedule with tapes from two corners."""

from __future__ import annotations

import math
from html import escape
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point as ShapelyPoint

from deckplan import tabulate
from deckplan.build.stake_out import BaseLine, base_line, stake_out
from deckplan.draw.chains import split_rows
from deckplan.draw.footing_view import footing_schedule, footing_view
from deckplan.draw.labels import overlaps
from deckplan.draw.scene import Disc, Role, Scene
from deckplan.draw.sheet import ARCH_C, PHONE, SCREEN, TABLOID, Sheet, usual_sheet
from deckplan.panels.beneath import footings as footings_beneath
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study
from tests.test_draw_cases import Footing, deck

PLANS = sorted(data_path("plans").glob("*.toml"))
PLACES = st.tuples(st.floats(-500, 500), st.floats(-500, 500))


def texts(scene: Scene) -> list[str]:
    return [label.text for label in scene.labels]


def test_the_schedule_says_where_how_wide_and_how_deep() -> None:
    scene = footing_view(deck())
    assert len(scene.of(Role.FOOTING)) == 7
    study = deck()
    rows = {row[0]: row[1:] for row in footing_schedule(study, base_line(study.plan)).rows}
    # A-F2 at (120, 120), the house's corners at 0 and 360: root of 2 x 120^2 is 169.71, of 240^2 + 120^2 268.33 in.
    # The ground there lies 2 1/2 in below the benchmark, the frost line 42 in under it.
    assert rows["A-F2"] == (
        "10'-0\"", "10'-0\"", "14'-1 11/16\"", "22'-4 5/16\"", '16"', '42"', '8"', "−3'-8 1/2\"", "2,000 lb"
    )  # fmt: skip
    assert set(rows["A-F2"]) <= set(texts(scene))
    assert "corner 1\n2'-0\" past the deck" in texts(scene), "the deck's edge is at x = 24"
    assert "Each is a round pier of its diameter, filled to its full depth." in texts(scene)
    assert "Corners 1 and 2: the corners of the south wall, 30'-0\" apart." in texts(scene)


def test_on_a_screen_the_words_stand_at_each_footing() -> None:
    # Ground at y = 120 lies 2 1/2 in below the benchmark, the frost line 42 in under it; tapes as above.
    roomy = Sheet("large screen", 30.0, 24.0, 0.125, to_scale=False)
    tapes = "from 1: 14'-1 11/16\"\nfrom 2: 22'-4 5/16\""
    assert f'A-F2\n16" dia.\nbottom −3\'-8 1/2"\n{tapes}' in texts(footing_view(deck(), sheet=roomy))
    assert any(text.startswith("A-F2\n16") for text in texts(footing_view(deck(), sheet=SCREEN)))
    assert not footing_view(deck(), sheet=SCREEN).of(Role.SCHEDULE)
    assert footing_view(deck(), sheet=SCREEN, schedule=True).of(Role.SCHEDULE)


def test_chains_run_from_each_platforms_edges_to_its_footings() -> None:
    figures = [dimension.label.text for dimension in footing_view(deck()).dimensions]
    # Footings of the upper level at x = 26 3/4 and 120 in, its edge at 24.
    assert {"7'-9 1/4\"", "0'-2 3/4\""} <= set(figures)


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_every_footing_is_drawn_at_its_size_and_listed_once(path: Path) -> None:
    study = Study(read_plan(path))
    scene = footing_view(study)
    drawn = {d.mark: d for d in scene.of(Role.FOOTING) if isinstance(d, Disc)}
    assert list(drawn) == [one.mark for one in study.footings]
    for one in study.footings:
        assert drawn[one.mark].centre == one.at
        assert 2 * drawn[one.mark].radius == one.diameter
    schedule = footing_schedule(study, base_line(study.plan))
    assert [row[0] for row in schedule.rows] == [one.mark for one in study.footings]
    listed = [label.text for label in scene.labels if label.role is Role.SCHEDULE]
    assert all(listed.count(one.mark) == 1 for one in study.footings)
    assert overlaps(scene.text_boxes) == []
    piers = {pad.mark for pad in study.flights.pads}
    assert piers <= set(drawn), "flights' own footings too"


def test_a_deck_of_fifty_footings_is_drawn_at_a_quarter_inch_on_a_larger_sheet() -> None:
    study = Study(read_plan(data_path("plans", "six-terraces.toml")))
    assert len(study.footings) > 50
    assert usual_sheet(study.plan) == ARCH_C
    scene = footing_view(study)
    assert scene.scale_text == "Scale 1/4 in = 1 ft"
    assert scene.box.width / scene.scale <= ARCH_C.width
    assert scene.box.height / scene.scale <= ARCH_C.height
    leaders = [label for label in scene.labels if label.leader and label.role is Role.MARK]
    assert len(leaders) <= 5, "marks stand beside their footings"
    small = Study(read_plan(data_path("plans", "alder-point.toml")))
    assert usual_sheet(small.plan) == TABLOID


def test_places_too_close_for_a_figure_go_into_another_row() -> None:
    rows = split_rows({"A": [0.0, 84.0], "E": [1.5, 85.5], "B": [84.2, 168.0]}, 9.6)
    assert rows == [(["A", "B"], [0.0, 84.0, 168.0]), (["E"], [1.5, 85.5])]
    assert split_rows({"A": [0.0], "B": [5.0], "C": [10.0]}, 20.0, most=2) == [
        (["A"], [0.0]), (["B", "C"], [5.0, 10.0])
    ]  # fmt: skip


@given(PLACES, PLACES, PLACES)
def test_tapes_from_two_corners_meet_at_the_footing(first, second, at) -> None:
    if math.dist(first, second) < 1.0:
        return
    (staked,) = stake_out(BaseLine(first, second, "wall", True), [Footing("A-F1", at, 12, 8, 0, -42, 0)])
    # Source: shapely (GEOS) as reference library for distances; Pythagoras for along and out.
    assert staked.from_first == pytest.approx(ShapelyPoint(first).distance(ShapelyPoint(at)), abs=1e-6)
    assert staked.from_second == pytest.approx(ShapelyPoint(second).distance(ShapelyPoint(at)), abs=1e-6)
    assert math.hypot(staked.along, staked.out) == pytest.approx(staked.from_first, abs=1e-6)
    rest = math.dist(first, second) - staked.along
    assert math.hypot(rest, staked.out) == pytest.approx(staked.from_second, abs=1e-6)


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_footings_are_measured_out_from_the_house_on_the_decks_side(path: Path) -> None:
    study = Study(read_plan(path))
    base = base_line(study.plan)
    assert base is not None
    assert base.house == bool(study.plan.house.walls)
    under_posts = [one for one in study.footings if one.post]
    assert all(one.out > -12.0 for one in stake_out(base, under_posts))


def test_a_wall_drawn_the_other_way_is_turned_about_and_none_is_no_base() -> None:
    plan = deck().plan
    wall = plan.house.walls[0].model_copy(update={"line": ((360.0, 0.0), (0.0, 0.0))})
    plan = plan.model_copy(update={"house": plan.house.model_copy(update={"walls": (wall,)})})
    turned = base_line(plan)
    assert turned is not None
    assert (turned.first, turned.second) == ((0.0, 0.0), (360.0, 0.0))
    empty = plan.model_copy(
        update={"platforms": (), "house": plan.house.model_copy(update={"walls": ()}), "flights": ()}
    )
    assert base_line(empty) is None


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_the_screen_gives_both_tapes_on_the_plan_or_beneath_it(path: Path) -> None:
    study = Study(read_plan(path))
    base = base_line(study.plan)
    assert base is not None
    beneath = footings_beneath(study)
    table = tabulate.stakes(study).set_index("footing")
    assert list(table.index) == [one.mark for one in study.footings]
    long, inch = ("mm", 25.4) if study.plan.units == "metric" else ("in", 1.0)
    for one in study.footings:
        for number, corner in enumerate((base.first, base.second), 1):
            # Source: shapely (GEOS) as reference library for distances.
            far = ShapelyPoint(corner).distance(ShapelyPoint(one.at)) * inch
            assert table.loc[one.mark, f"from corner {number} [{long}]"] == pytest.approx(far, abs=0.26)
            assert escape(str(table.loc[one.mark, f"from corner {number}"])) in beneath
    assert "Corners 1 and 2: " in beneath
    for sheet in (SCREEN, PHONE):
        scene = footing_view(study, sheet=sheet, titled=False)
        said = [text.partition("\n")[0] for text in texts(scene)]
        assert {"corner 1", "corner 2"} <= set(said)
        assert overlaps(scene.text_boxes) == []


def test_a_small_deck_has_its_tapes_on_the_screen_plan() -> None:
    study = Study(read_plan(data_path("plans", "chestnut-school.toml")))
    rows = {row[0]: row[3:5] for row in footing_schedule(study, base_line(study.plan)).rows}
    said = texts(footing_view(study, sheet=SCREEN, titled=False))
    for mark, (first, second) in rows.items():
        assert any(
            text.startswith(mark) and text.endswith(f"from 1: {first}\nfrom 2: {second}") for text in said
        )
