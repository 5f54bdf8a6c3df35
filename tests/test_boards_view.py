"""The board plan and the furniture plan: what they show and say, on every sheet, without texts on each other."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from shapely import Polygon

from deckplan.draw.board_view import board_view
from deckplan.draw.labels import overlaps
from deckplan.draw.paint_matplotlib import paint
from deckplan.draw.paint_svg import paint_svg
from deckplan.draw.room_view import room_view
from deckplan.draw.scene import Role, Scene
from deckplan.draw.sheet import A3, LETTER, PHONE, SCREEN, TABLOID, usual_sheet
from deckplan.draw.title import CAUTION
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.verdict import Verdict

PLANS = ["alder-point", "heron-pond", "chestnut-school"]


@cache
def study_of(name: str) -> Study:
    return Study(read_plan(str(data_path("plans", f"{name}.toml"))))


def scene_of(view: str, name: str, **more: object) -> Scene:
    study = study_of(name)
    if view == "boards":
        return board_view(study, study.boards, **more)  # type: ignore[arg-type]
    return room_view(study, study.rooms, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("sheet", [TABLOID, A3, LETTER, SCREEN, PHONE], ids=lambda sheet: sheet.name)
@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("view", ["boards", "rooms"])
def test_no_text_lies_on_another(view: str, name: str, sheet) -> None:
    scene = scene_of(view, name, sheet=sheet)
    assert overlaps(scene.text_boxes) == []


@pytest.mark.parametrize("path", sorted(data_path("plans").glob("*.toml")), ids=lambda path: path.stem)
def test_every_demo_plan_is_laid_and_furnished(path: Path) -> None:
    """Boards fill every platform, a few scraps apart; drawings keep to the sheet; comfort fails nothing."""
    study = study_of(path.stem)
    gap, width = study.plan.materials.decking.gap, study.plan.materials.decking.width
    for one in study.plan.platforms:
        open_area = Polygon(one.outline).area - sum(Polygon(hole.outline).area for hole in one.openings)
        # boards take width / (width + gap) of the surface; the edges have boards without a gap beyond them
        share = study.boards[one.name].area / open_area
        assert width / (width + gap) - 0.012 < share < 1.0
        assert all(end.bears_on for board in study.boards[one.name].boards for end in board.ends)
    assert not {check.verdict for check in study.rooms.checks} & {Verdict.FAIL, Verdict.OUTSIDE}
    for view in ("boards", "rooms"):
        scene = scene_of(view, path.stem)
        assert overlaps(scene.text_boxes) == []
        sheet = usual_sheet(study.plan)
        assert scene.box.width / scene.scale <= 1.1 * sheet.width
        assert scene.box.height / scene.scale <= 1.1 * sheet.height


@pytest.mark.parametrize("view", ["boards", "rooms"])
def test_they_carry_plan_caution_and_stay_on_the_sheet(view: str) -> None:
    scene = scene_of(view, "alder-point")
    words = " ".join(label.text for label in scene.labels)
    assert CAUTION in words
    assert "Alder Point terraces" in words
    assert scene.box.width / scene.scale <= TABLOID.width
    assert scene.box.height / scene.scale <= TABLOID.height
    assert not scene_of(view, "alder-point", titled=False).of(Role.TITLE)


def test_the_board_plan_shows_every_board_and_what_is_needed() -> None:
    study, scene = study_of("alder-point"), scene_of("boards", "alder-point")
    shown = Counter(shape.role for shape in scene.shapes)
    kinds = Counter(board.kind for board in study.boards.all)
    assert (shown[Role.BOARD], shown[Role.BORDER_BOARD]) == (kinds["field"], kinds["border"])
    assert shown[Role.WOOD_NEEDED] == len(study.boards.supports_needed)
    marks = set(scene.marks())
    assert {board.mark for board in study.boards.all} <= marks
    words = " ".join(label.text.replace("\n", " ") for label in scene.labels)
    # by hand: 13 ft less two borders of 5-1/2 and their gaps of 3/16 in is 144.625 in: 26 rows, the last 2-7/16 in
    assert '26 rows of 5 1/2", gaps 3/16" last row 2 7/16"' in words
    assert "start here" in words
    # by hand: 10 ft less 21 boards and gaps of 3/16 in leaves 9/16 in, under a third of a board
    assert 'ripped to 9/16": sliver' in words


def test_one_platform_alone() -> None:
    scene = scene_of("boards", "alder-point", platform="dining")
    assert scene.name == "Board plan, A dining"
    assert not any(mark.startswith(("B-", "C-")) for mark in scene.marks())
    assert scene_of("rooms", "alder-point", platform="lounge").name == "Furniture plan, B lounge"
    with pytest.raises(KeyError):
        scene_of("rooms", "alder-point", platform="attic")


def test_the_furniture_plan_shows_pieces_room_and_ways() -> None:
    study, scene = study_of("alder-point"), scene_of("rooms", "alder-point")
    groups = [group for room in study.rooms.platforms.values() for group in room.groups]
    pieces = [
        shape
        for shape in scene.shapes
        if shape.role in (Role.SEAT, Role.FURNITURE) and hasattr(shape, "mark")
    ]
    assert {piece.name for group in groups for piece in group.pieces} == {
        shape.mark for shape in pieces if shape.mark
    }
    assert sum(shape.role is Role.CLEARANCE for shape in scene.shapes) == len(groups)
    assert any(shape.role is Role.WAY for shape in scene.shapes)
    texts = [label.text for label in scene.labels]
    assert "table for 8" in texts
    assert any(text.startswith('"dining":') for text in texts)  # advice stands below


@pytest.mark.parametrize("view", ["boards", "rooms"])
def test_both_painters_take_them(view: str) -> None:
    scene = scene_of(view, "heron-pond")
    assert paint(scene, dpi=40)
    assert "<svg" in paint_svg(scene)
    assert not any('"' in label.text and label.role is not Role.TITLE for label in scene.labels)  # metric
