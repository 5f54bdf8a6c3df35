"""The detail of a post's foot on a lower frame: what is drawn, written and measured."""

from __future__ import annotations

import pytest

from deckplan.draw.connection_view import connection_view
from deckplan.draw.foot_view import foot_view
from deckplan.draw.labels import overlaps
from deckplan.draw.scene import Area, Role, Scene
from deckplan.draw.sheet import LETTER
from deckplan.layout.model import Kind
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study
from tests.decks import beam, make_plan, platform, rectangle


def _words(scene: Scene) -> str:
    return "\n".join(label.text for label in scene.labels)


def _areas(scene: Scene, role: Role) -> list[Area]:
    return [shape for shape in scene.shapes if isinstance(shape, Area) and shape.role is role]


def test_on_a_drop_beam_the_blocks_lie_between_the_foot_and_the_beam() -> None:
    study = Study(read_plan(data_path("plans", "frames-stacked.toml")))
    scene = connection_view(study, "B-P2", "A-B2", sheet=LETTER)
    assert "stands on blocks" in _words(scene)
    post = next(area for area in _areas(scene, Role.POST_BEYOND) if area.mark == "B-P2")
    under = [area for area in _areas(scene, Role.BLOCKING) if area.mark in _words(scene)]
    # the foot stands at the joists' top: 24 in less boards of 1 in
    assert min(y for _, y in post.points) == 23.0
    assert {max(y for _, y in area.points) for area in under} == {23.0}
    # dressed sizes, PS 20: a 6x6 is 5 1/2 in wide, a 2x8 7 1/4 in deep
    assert {5.5, 7.25} <= {round(dimension.length, 3) for dimension in scene.dimensions}


def test_on_a_joist_one_looks_along_it_and_sees_blocks_on_both_sides() -> None:
    terrace = platform("terrace", rectangle(0, 0, 192, 144), 30, beam(24), beam(120), joists={"size": "2x8"})
    lookout = platform(
        "lookout",
        rectangle(48, 24, 144, 120),
        72,
        beam(30, stands_on="terrace", posts=(16.0, 80.0)),
        beam(90),
    )
    study = Study(make_plan(terrace, lookout, units="metric"))
    post = next(post for post in study.layout.posts if post.stands_on)
    assert study.layout.by_mark[post.stands_on].kind is Kind.JOIST  # type: ignore[union-attr]
    scene = foot_view(study, post.mark, sheet=LETTER)
    assert overlaps(scene.text_boxes) == []
    assert any(area.mark == post.stands_on for area in _areas(scene, Role.CUT))
    sides = [sum(x for x, _ in area.points) for area in _areas(scene, Role.BLOCKING)]
    assert min(sides) < 0 < max(sides)
    assert " kN" in _words(scene)


def test_a_post_on_its_own_footing_has_no_such_detail() -> None:
    study = Study(read_plan(data_path("plans", "frames-stacked.toml")))
    with pytest.raises(KeyError):
        foot_view(study, "A-P1")
