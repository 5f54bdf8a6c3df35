"""The whole set of drawings, of the demonstration plans and of decks that are hard to draw."""

from __future__ import annotations

import inspect
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest

from deckplan.draw import drawings
from deckplan.draw.drawings import DRAWINGS, connections, draw_set
from deckplan.draw.labels import overlaps
from deckplan.draw.paint_matplotlib import paint
from deckplan.draw.paint_svg import paint_svg
from deckplan.draw.scene import Role, Scene
from deckplan.draw.sheet import usual_sheet
from deckplan.draw.title import CAUTION
from deckplan.plan.file import read_plan
from deckplan.plan.model import Flight, Plan
from deckplan.reference import data_path
from deckplan.study import Study
from tests.decks import beam, make_plan, platform, rectangle

PLANS = sorted(data_path("plans").glob("*.toml"))
ELL = [(0, 0), (288, 0), (288, 120), (144, 120), (144, 240), (0, 240)]
LONG = "Große Frühstücksterrasse über dem Weiher, 庭の縁側, сад & <jardín ensoleillé>"


def with_flight(plan: Plan, along: list[tuple[float, float]]) -> Plan:
    first = plan.platforms[0].name
    flight = Flight.model_validate({"from": first, "to": "ground", "along": along, "kind": "stringer"})
    return plan.model_copy(update={"flights": (flight,)})


def hard_to_draw() -> dict[str, Plan]:
    """Invented decks: joists aslant in an L, names nobody should give, 4 ft square, 60 ft long, in millimetres."""
    aslant = platform(
        "yard", ELL, 28.0, beam(24.0), beam(108.0), beam(192.0), beam(264.0), joists={"direction": 30.0}
    )
    small = platform("step", rectangle(0, 0, 48, 48), 20.0, beam(6.0, posts=2), beam(42.0, posts=2))
    long = platform("promenade", rectangle(0, 0, 720, 240), 40.0, beam(24.0), beam(120.0), beam(216.0))
    named = platform(LONG, rectangle(0, 0, 168, 120), 30.0, beam(18.0, posts=3), beam(102.0, posts=3))
    return {
        "aslant": with_flight(make_plan(aslant), [(144, 144), (144, 192)]),
        "small": with_flight(make_plan(small), [(48, 0), (48, 48)]),
        "long": with_flight(make_plan(long), [(720, 60), (720, 160)]),
        "named": with_flight(make_plan(named, name=LONG), [(168, 40), (168, 80)]),
        "metric": with_flight(make_plan(aslant, units="metric"), [(144, 144), (144, 192)]),
    }


@cache
def study_of(name: str) -> Study:
    hard = hard_to_draw()
    return Study(hard[name] if name in hard else read_plan(data_path("plans", f"{name}.toml")))


def hold_to_the_sheet(study: Study, scene: Scene) -> None:
    sheet = usual_sheet(study.plan)
    assert overlaps(scene.text_boxes) == [], scene.name
    assert scene.scale_text.startswith("Scale "), scene.name
    assert scene.box.width / scene.scale <= 1.06 * sheet.width, scene.name
    assert scene.box.height / scene.scale <= 1.06 * sheet.height, scene.name
    words = " ".join(label.text for label in scene.labels if label.role is Role.TITLE)
    assert CAUTION in words, scene.name


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_every_sheet_of_the_set_can_be_read_and_keeps_to_its_paper(path: Path) -> None:
    study = study_of(path.stem)
    for _, scene in draw_set(study):
        hold_to_the_sheet(study, scene)


@pytest.mark.parametrize("name", hard_to_draw())
def test_decks_that_are_hard_to_draw_can_be_read_too(name: str) -> None:
    study = study_of(name)
    found = list(draw_set(study))
    assert len(found) >= 14
    for _, scene in found:
        hold_to_the_sheet(study, scene)
        ElementTree.fromstring(paint_svg(scene, study.describe))


@pytest.mark.filterwarnings("error::UserWarning")
def test_names_in_any_script_are_painted_without_complaint() -> None:
    study = study_of("named")
    scene = next(iter(DRAWINGS["framing plan"](study, None)))
    assert paint(scene, dpi=40)._repr_png_().startswith(b"\x89PNG")
    (name,) = [label for label in scene.labels if label.role is Role.LEVEL and "庭" in label.text]
    assert name.box.width < 168, "folded to the platform"


def test_the_set_has_every_drawing_that_a_deck_is_built_and_checked_by() -> None:
    names = [name for name, _ in draw_set(study_of("alder-point"))]
    assert list(dict.fromkeys(names)) == list(DRAWINGS)
    assert names.count("framing plan") == 1
    assert names.count("framing plan of each level") == 3
    assert names.count("flights") == 5
    single = [name for name, _ in draw_set(study_of("chestnut-school"))]
    assert "framing plan of each level" not in single, "one level is on the framing plan already"


def test_every_view_is_public_and_says_what_it_draws() -> None:
    views = [getattr(drawings, name) for name in drawings.__all__ if name.endswith("_view")]
    assert len(views) == 13
    for view in views:
        assert inspect.getdoc(view), view.__name__
        assert f"`{view.__name__}`" in (drawings.__doc__ or ""), view.__name__


def test_each_kind_of_connection_is_drawn_once() -> None:
    study = study_of("alder-point")
    pairs = connections(study)
    assert ("A-L1", "south wall") in pairs
    manners = set()
    for mark, on in pairs[1:]:
        member = study.layout.by_mark[mark]
        manners |= {bearing.manner for bearing in member.bearings if bearing.on == on}  # type: ignore[union-attr]
    assert manners == {"cap", "bearing", "hanger"}
    assert len(pairs) == len(set(pairs)) < 12


def test_sections_and_sides_show_the_footings_of_flights() -> None:
    study = study_of("chestnut-school")
    piers = {pad.mark for pad in study.flights.pads}
    (section,) = DRAWINGS["section"](study, None)
    assert piers & {shape.mark for shape in section.of(Role.CONCRETE)}  # type: ignore[union-attr]
    for side in DRAWINGS["side views"](study, None):
        assert piers <= {shape.mark for shape in side.of(Role.FOOTING)}  # type: ignore[union-attr]
    said = [label.text for label in section.labels]
    assert any(text.endswith('joists at 16"') for text in said)
    beams = {m.mark: m.size for m in study.layout.members if m.kind == "beam"}
    assert all(f"{mark}  {size}" in said for mark, size in beams.items())
