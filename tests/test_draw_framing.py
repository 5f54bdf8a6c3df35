"""The framing plan of real studies: headers, trimmers, openings, hangers, wood below the boards, and its key."""

from __future__ import annotations

from functools import cache

import pytest

from deckplan.draw.labels import overlaps
from deckplan.draw.plan_view import plan_view
from deckplan.draw.scene import Dimension, Role, Scene
from deckplan.draw.sheet import PHONE, SCREEN
from deckplan.layout.model import Kind
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study
from tests.test_draw_cases import deck


@cache
def study_of(name: str) -> Study:
    return Study(read_plan(data_path("plans", f"{name}.toml")))


def texts(scene: Scene) -> list[str]:
    return [label.text for label in scene.labels]


def figures(scene: Scene) -> list[str]:
    return [one.label.text for one in scene.dimensions]


def test_headers_and_trimmers_of_an_opening_carry_their_marks() -> None:
    study = study_of("shape-tree-bay")
    said = texts(plan_view(study))
    headers = [m for m in study.layout.members if m.kind is Kind.HEADER and m.platform == "bay"]
    assert len(headers) == 2
    for header in headers:
        assert f"{header.mark}  2-2x10 header" in said
    trimmers = {bearing.on for header in headers for bearing in header.bearings}
    assert len(trimmers) == 2
    assert {f"{mark}  2-2x10 trimmer" for mark in trimmers} <= set(said)
    assert 'A-J1 to A-J16\n2x10 joists at 16"' in said, "doubled ones are named by themselves"


def test_an_opening_is_measured_across_and_from_the_nearer_edges() -> None:
    # The plan: platform 18 ft wide; the hole from x 8 ft to 10 ft 8 in and y 2 ft to 4 ft 8 in, so 7 ft 4 in to the
    # right edge, 2 ft to the lower one.
    with_hole, without = (
        figures(plan_view(study_of("shape-tree-bay"))),
        figures(plan_view(study_of("shape-ell"))),
    )
    assert with_hole.count("2'-8\"") == 2
    assert {"7'-4\"", "2'-0\""} <= set(with_hole)
    assert "2'-8\"" not in without
    inside = [
        one for one in plan_view(study_of("shape-tree-bay"), sheet=PHONE).dimensions if one.length == 32.0
    ]
    assert inside == [], "a phone has the size in the hole"


def test_wood_below_seams_and_borders_is_drawn_where_the_built_frame_is_asked_for() -> None:
    study = study_of("alder-point")
    added = {m.mark for m in study.built.members} - set(study.layout.by_mark)
    assert len(added) > 10
    built = plan_view(study, frame=study.built)
    assert {one.mark for one in built.of(Role.WOOD_NEEDED)} == added  # type: ignore[union-attr]
    assert plan_view(study).of(Role.WOOD_NEEDED) == ()
    assert overlaps(built.text_boxes) == []


def test_every_joist_that_hangs_has_its_hanger() -> None:
    study = study_of("alder-point")
    hung = [
        member.mark
        for member in study.layout.members
        if member.kind is Kind.JOIST
        for bearing in member.bearings
        if bearing.manner in ("hanger", "ledger")
    ]
    drawn = [one.mark for one in plan_view(study).of(Role.FIXING)]  # type: ignore[union-attr]
    assert sorted(drawn) == sorted(hung)
    assert drawn.count("A-J3") == 1, "one end on the ledger's face, the other over a drop beam"


def test_the_key_names_what_is_drawn_and_stands_for_no_part() -> None:
    scene = plan_view(deck())
    assert {shape.role for shape in scene.key} <= {shape.role for shape in scene.shapes}
    said = texts(scene)
    assert {"drop beam, under the joists", "flush beam", "footing", "edge that asks for a guard"} <= set(said)
    assert not {"brace", "hanger", "post on a frame below"} & set(said)
    assert "flush beam" not in scene.summary()
    assert scene.box.holds(scene.key[0].box)
    assert plan_view(deck(), titled=False).key == plan_view(deck(), sheet=PHONE).key == ()


@pytest.mark.parametrize("name", ["six-terraces", "alder-point"])
def test_posts_in_several_lines_are_measured_in_rows_that_can_be_read(name: str) -> None:
    scene = plan_view(study_of(name))
    level = [one for one in scene.dimensions if one.line[0][1] == one.line[1][1]]
    rows: dict[float, list[Dimension]] = {}
    for one in level:
        rows.setdefault(round(one.line[0][1], 3), []).append(one)
    letter = scene.dimensions[0].label.height
    for row in rows.values():
        inner = sorted(row, key=lambda one: one.line[0][0])[1:-1]
        assert all(one.length >= 2 * letter for one in inner)


def test_where_posts_are_packed_no_mark_is_led_away() -> None:
    scene = plan_view(study_of("six-terraces"), sheet=SCREEN)
    assert [one.text for one in scene.labels if one.leader and one.role is Role.MARK] == []
    paper = texts(plan_view(study_of("six-terraces")))
    posts = study_of("six-terraces").layout.posts
    assert all(any(text.startswith(f"{post.mark}\n{post.footing} ") for text in paper) for post in posts)


def test_footings_of_flights_are_on_the_framing_plan() -> None:
    study = study_of("chestnut-school")
    scene = plan_view(study)
    assert {pad.mark for pad in study.flights.pads} <= set(scene.marks())
    assert 'S2-F1 8" dia.' in texts(scene)
