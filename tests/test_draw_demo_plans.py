"""Every view of every demo plan on every kind of sheet: no text on another, paper size kept."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest

from deckplan.draw.cut import choose_cut
from deckplan.draw.flight_view import flight_view
from deckplan.draw.footing_view import footing_view
from deckplan.draw.guard_view import guard_view
from deckplan.draw.labels import overlaps
from deckplan.draw.levels_view import levels_view
from deckplan.draw.paint_svg import paint_svg
from deckplan.draw.plan_view import plan_view
from deckplan.draw.scene import Role, Scene
from deckplan.draw.section_view import section_view
from deckplan.draw.sheet import LETTER, PHONE, SCREEN, Sheet, usual_sheet
from deckplan.draw.side_view import side_view
from deckplan.draw.site_view import site_view
from deckplan.draw.treatment_view import treatment_view
from deckplan.plan.file import read_plan
from deckplan.study import Study

PLANS = sorted((Path(__file__).parents[1] / "data" / "plans").glob("*.toml"))
VIEWS: dict[str, Callable[[Study, Sheet], list[Scene]]] = {
    "plan": lambda study, sheet: [plan_view(study, sheet=sheet, cuts=[choose_cut(study.plan, study)])],
    "platforms": lambda study, sheet: [
        plan_view(study, sheet=sheet, platform=one.name) for one in study.plan.platforms
    ],
    "section": lambda study, sheet: [section_view(study, sheet=sheet)],
    "sides": lambda study, sheet: [
        side_view(study, sheet=sheet, side="garden"),
        side_view(study, sheet=sheet, side="left"),
        side_view(study, sheet=sheet, side="right"),
    ],
    "footings": lambda study, sheet: [footing_view(study, sheet=sheet)],
    "treatment": lambda study, sheet: [treatment_view(study, sheet=sheet)],
    "site": lambda study, sheet: [site_view(study, sheet=sheet)],
    "guards": lambda study, sheet: [guard_view(study, sheet=sheet)],
    "levels": lambda study, sheet: [levels_view(study, sheet=sheet)],
    "flights": lambda study, sheet: [
        flight_view(study, index, sheet=sheet) for index in range(len(study.levels.flights))
    ],
}


@cache
def study_of(path: Path) -> Study:
    return Study(read_plan(path))


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize(
    "sheet", [None, LETTER, SCREEN, PHONE], ids=lambda sheet: sheet.name if sheet else "usual"
)
def test_no_texts_overlap(path: Path, view: str, sheet: Sheet | None) -> None:
    study = study_of(path)
    for scene in VIEWS[view](study, sheet or usual_sheet(study.plan)):
        assert overlaps(scene.text_boxes) == [], scene.name
        ElementTree.fromstring(paint_svg(scene, study.describe))


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
@pytest.mark.parametrize("view", VIEWS)
def test_a_printed_drawing_keeps_to_its_sheet(path: Path, view: str) -> None:
    study = study_of(path)
    sheet = usual_sheet(study.plan)
    for scene in VIEWS[view](study, sheet):
        assert scene.scale_text.startswith("Scale "), scene.name
        assert scene.box.width / scene.scale <= 1.06 * sheet.width, scene.name
        assert scene.box.height / scene.scale <= 1.06 * sheet.height, scene.name


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_the_plan_view_shows_every_part_of_the_layout(path: Path) -> None:
    study = study_of(path)
    scene = plan_view(study)
    footings = {one.mark for one in study.footings}
    drawn = {post.footing for post in study.layout.posts} & footings
    wanted = {part.mark for part in (*study.layout.members, *study.layout.posts)} | drawn
    assert wanted <= set(scene.marks())


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_the_section_meets_as_many_levels_as_any_straight_cut_can(path: Path) -> None:
    study = study_of(path)
    scene = section_view(study)
    levels = {shape.mark for shape in scene.of(Role.BOARD)} | {
        shape.mark for shape in scene.of(Role.EDGE_BEYOND)
    }
    assert len({mark for mark in levels if "-" not in mark}) >= min(2, len(study.plan.platforms))
