"""Connection details: what is drawn, what is written and measured, on every kind of sheet."""

from __future__ import annotations

from functools import cache
from xml.etree import ElementTree

import pytest

from deckplan.draw.connection_view import connection_view
from deckplan.draw.labels import overlaps
from deckplan.draw.paint_svg import paint_svg
from deckplan.draw.scene import Area, Role, Scene, Stroke
from deckplan.draw.sheet import LETTER, PHONE, SCREEN, TABLOID
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study

DETAILS = {
    "beam on a neighbour's post": ("frames-shared-post", "B-B2", "A-P3"),
    "post cap": ("frames-shared-post", "A-B1", "A-P3"),
    "joist hung on a neighbour's beam": ("frames-hung-joists", "B-J3", "A-B2"),
    "ledger": ("frames-shared-post", "A-L1", "garden wall"),
    "joist over a beam": ("frames-shared-post", "A-J3", "A-B1"),
    "metric post cap": ("heron-pond", "A-B1", "A-P1"),
    "joist in a flush beam": ("heron-pond", "B-J2", "B-B1"),
    "notched post": ("frames-notched", "A-B1", "A-P2"),
    "splice over a notch": ("frames-notched", "A-B2", "A-P4"),
    "post on a lower frame": ("frames-stacked", "B-P2", "A-B2"),
}


@cache
def study(name: str) -> Study:
    return Study(read_plan(data_path("plans", f"{name}.toml")))


@cache
def detail(name: str) -> Scene:
    plan, mark, on = DETAILS[name]
    return connection_view(study(plan), mark, on, sheet=LETTER)


def texts(scene: Scene) -> str:
    return "\n".join(label.text for label in scene.labels)


def figures(scene: Scene) -> list[float]:
    return [round(dimension.length, 3) for dimension in scene.dimensions]


@pytest.mark.parametrize("name", DETAILS)
@pytest.mark.parametrize("sheet", [LETTER, TABLOID, SCREEN, PHONE], ids=lambda sheet: sheet.name)
def test_no_texts_overlap_and_the_picture_is_sound(name: str, sheet: object) -> None:
    plan, mark, on = DETAILS[name]
    scene = connection_view(study(plan), mark, on, sheet=sheet)  # type: ignore[arg-type]
    assert overlaps(scene.text_boxes) == []
    ElementTree.fromstring(paint_svg(scene, study(plan).describe))
    assert mark in scene.marks()


def test_a_hung_beam_shows_post_hanger_and_capacity() -> None:
    scene = detail("beam on a neighbour's post")
    assert "face-mount hanger for the beam" in texts(scene)
    force = next(d.force for d in study("frames-shared-post").loads.out_of["B-B2"] if d.lower == "A-P3")
    asked = int(
        next(line for line in texts(scene).split("\n") if " lb or more" in line).split()[1].replace(",", "")
    )
    assert 0 <= asked - force.governing[0] < 50  # asked for in steps of 50 lb
    # dressed sizes, PS 20: a 6x6 is 5 1/2 in wide, a 2x6 5 1/2 in deep, a 2x8 7 1/4 in
    size = study("frames-shared-post").layout.by_mark["B-B2"].size  # type: ignore[union-attr]
    assert {5.5, {"2-2x6": 5.5, "2-2x8": 7.25}[size]} <= set(figures(scene))
    assert {"A-P3", "B-B2", "A-B1"} <= set(scene.marks())


def test_the_hangers_seat_lies_under_the_beam_at_the_posts_face() -> None:
    scene = detail("beam on a neighbour's post")
    beam = study("frames-shared-post").layout.by_mark["B-B2"]
    post = next(p for p in scene.shapes if isinstance(p, Area) and p.mark == "A-P3")
    hanger = next(
        p for p in scene.shapes
        if isinstance(p, Stroke) and p.role is Role.FIXING and abs(p.points[-1][1] - beam.bottom) < 1e-6
    )  # fmt: skip
    assert hanger.points[1][0] == pytest.approx(max(x for x, _ in post.points))
    assert hanger.points[2][0] > hanger.points[1][0]


def test_a_hung_joist_shows_how_far_its_top_lies_under_the_beams() -> None:
    scene = detail("joist hung on a neighbour's beam")
    # 21 in and 15 1/2 in finished: 5 1/2 in between; a 2x12 is 11 1/4 in deep, three plies 4 1/2 in (PS 20)
    assert sorted(figures(scene)) == [4.5, 5.5, 5.5, 11.25]
    assert "joist hanger" in texts(scene)


def test_a_cap_holds_beam_and_post_together() -> None:
    scene = detail("post cap")
    post = study("frames-shared-post").layout.by_mark["A-P3"]
    plates = [
        p for p in scene.shapes if isinstance(p, Stroke) and p.role is Role.FIXING and len(p.points) == 5
    ]
    (plate,) = plates
    assert min(y for _, y in plate.points) < post.top < max(y for _, y in plate.points)
    assert 'bearing 5 1/2"' in texts(scene)


def test_a_short_post_stands_on_a_pier_that_goes_on_below_the_ground() -> None:
    scene = detail("beam on a neighbour's post")
    (pier,) = [one for one in study("frames-shared-post").footings if one.mark == "A-F3"]
    said = f'pier A-F3, {pier.diameter:g}"\nacross, {pier.top - pier.bottom:g}" deep,\nbase turned'
    assert said in texts(scene)
    (drawn,) = [p for p in scene.shapes if isinstance(p, Area) and p.role is Role.CONCRETE]
    low = min(y for _, y in drawn.points)
    broken = [p for p in scene.shapes if isinstance(p, Stroke) and p.role is Role.LEADER]
    assert low > pier.bottom
    assert any(line.points[0][1] == low for line in broken), "it is broken off where it goes on"
    ground = [p for p in scene.shapes if isinstance(p, Stroke) and p.role is Role.GROUND]
    assert len(ground) == 2, "the ground lies to both sides of it"
    assert all(abs(y - pier.top) < 1.0 for line in ground for _, y in line.points)


def test_a_notch_shows_seat_tongue_and_bolts_to_one_who_looks_along_the_beam() -> None:
    scene = detail("notched post")
    (post,) = [p for p in scene.shapes if isinstance(p, Area) and p.mark == "A-P2"]
    assert len(post.points) == 6  # one outline with its tongue
    # dressed sizes, PS 20: 3 in of beam, 2 1/2 in left of a 6x6; a 2x8 is 7 1/4 in deep, bolts 2 in from its edges
    assert sorted(figures(scene)) == [2.0, 2.0, 2.5, 3.0, 3.25, 7.25]
    assert "2 bolts of 1/2 in\nthrough both" in texts(scene)
    assert 'bears on 3" x 5 1/2"' in texts(scene)
    assert 'axes of beam and post\n1 1/4" apart' in texts(scene)
    assert "cap" not in texts(scene)
    beam = study("frames-notched").layout.by_mark["A-B1"]
    (cut,) = [p for p in scene.shapes if isinstance(p, Area) and p.mark == "A-B1"]
    assert {y for _, y in cut.points} == {beam.bottom, beam.top}  # type: ignore[union-attr]
    bolts = [
        p for p in scene.shapes
        if isinstance(p, Stroke) and p.role is Role.FIXING and p.points[0][1] == p.points[1][1]
    ]  # fmt: skip
    through = [p for p in bolts if p.points[0][0] < -1.5 and p.points[1][0] > 1.5 + 2.5]
    assert len(through) == 2


def test_a_splice_over_a_notch_has_bolts_in_each_piece() -> None:
    scene = detail("splice over a notch")
    assert "through each piece" in texts(scene)
    assert 'this piece bears on 3" x 2 3/4"' in texts(scene)


def test_a_ledgers_fasteners_keep_their_distances() -> None:
    scene = detail("ledger")
    # IRC Table R507.9.1.3(2), one published copy: 2 in from the top edge, 3/4 in from the bottom edge
    assert {2.0, 0.75} <= set(figures(scene))
    assert "1/2 in lags at" in texts(scene)
    assert len(scene.of(Role.WALL)) == 1


def test_a_joist_over_a_beam_bears_and_has_no_hanger() -> None:
    scene = detail("joist over a beam")
    assert "hanger" not in texts(scene)
    assert 'bears over 3"' in texts(scene)  # two plies of 1 1/2 in, PS 20
    assert len(scene.of(Role.FIXING)) == 1


def test_metric_details_speak_kilonewtons() -> None:
    assert " kN or more" in texts(detail("metric post cap"))
    assert " lb" not in texts(detail("metric post cap"))


def test_what_does_not_bear_there_is_refused() -> None:
    for mark, on in (("B-B2", "A-P1"), ("A-P1", "A-F1"), ("Z-B1", "A-P1")):
        with pytest.raises(KeyError):
            connection_view(study("frames-shared-post"), mark, on)
