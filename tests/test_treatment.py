"""Which wood wants treatment for ground contact: by height, drawn, tabulated, bought alike."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from deckplan import tabulate
from deckplan.checks.ground_contact import alike, find_clearances, marks_in_words, treatments
from deckplan.draw.drawings import DRAWINGS
from deckplan.draw.scene import Role, Scene
from deckplan.draw.sheet import SCREEN
from deckplan.draw.style import PENS
from deckplan.draw.treatment_view import treatment_view
from deckplan.layout.model import Kind
from deckplan.panels.looks import LOOKS, TREATMENT
from deckplan.panels.session import Session
from deckplan.panels.views import DrawingPanel
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study
from tests.decks import beam, make_plan, platform, rectangle

PLANS = sorted(data_path("plans").glob("*.toml"))


@cache
def study_of(path: Path) -> Study:
    return Study(read_plan(path))


def low_deck(clear: float, joists: str = "2x8", beams: str = "2-2x8") -> Study:
    """A deck whose joists' undersides lie `clear` over level ground: boards 1 in, 2x8 7-1/4 in (PS 20)."""
    one = platform(
        "deck", rectangle(0, 0, 144, 120), 1 + 7.25 + clear, beam(12.0, build=beams), beam(108.0, build=beams),
        joists={"size": joists},
    )  # fmt: skip
    return Study(make_plan(one))


def said(scene: Scene) -> str:
    return "\n".join(label.text for label in scene.labels)


def marks(scene: Scene, role: Role) -> set[str]:
    return {shape.mark for shape in scene.shapes if shape.role is role and shape.mark}


@pytest.mark.parametrize(
    ("clear", "black"),
    [
        # 6 in (trade literature): drop beams of 7-1/4 in hang under the joists
        (13.26, {Kind.POST}),
        (13.24, {Kind.POST, Kind.BEAM}),
        (5.9, {Kind.POST, Kind.BEAM, Kind.JOIST}),
    ],
)
def test_the_lower_the_deck_the_more_of_it_is_black(clear: float, black: set[Kind]) -> None:
    study = low_deck(clear)
    scene = treatment_view(study)
    near = marks(scene, Role.GROUND_CONTACT)
    kinds = {member.kind for member in study.layout.members if member.mark in near}
    if marks(scene, Role.POST) == {post.mark for post in study.layout.posts}:
        kinds.add(Kind.POST)
    assert kinds == black | ({Kind.RIM, Kind.BLOCKING} & kinds if Kind.JOIST in black else set())
    assert bool(scene.of(Role.NEAR_GROUND)) is (Kind.JOIST in black)


def test_a_stringer_stands_on_the_ground_however_high_its_head_hangs() -> None:
    study = study_of(data_path("plans", "shape-ell.toml"))
    heads = [m for m in study.layout.members if m.kind is Kind.STRINGER]
    assert min(m.bottom for m in heads) > 6.0
    treated = treatments(study.profile, study.levels, study.layout)
    assert {treated[m.mark] for m in heads if m.platform == "S2"} == {"ground contact"}


def test_a_brace_comes_nearest_the_ground_at_its_lower_end() -> None:
    study = study_of(data_path("plans", "every-key.toml"))
    clear = {one.mark: one.clear for one in find_clearances(study.profile, study.levels, study.layout)}
    braces = study.layout.of("potting", Kind.BRACE)
    assert braces
    for brace in braces:
        foot = brace.top - brace.depth - brace.drop - study.levels.ground.elevation_at(brace.end)
        assert clear[brace.mark] == pytest.approx(foot)


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_the_drawing_the_table_and_the_buy_list_speak_alike(path: Path) -> None:
    study = study_of(path)
    asked = treatments(study.profile, study.levels, study.layout)
    near = {mark for mark, treatment in asked.items() if treatment == "ground contact"}
    scene = treatment_view(study)
    assert marks(scene, Role.GROUND_CONTACT) | marks(scene, Role.POST) == near
    assert marks(scene, Role.ABOVE_GROUND) == asked.keys() - near
    table = tabulate.members(study).set_index("mark")["treatment"]
    assert {mark: said for mark, said in table.items() if said} == {
        mark: treatment for mark, treatment in asked.items() if mark in table.index
    }
    rows = tabulate.treatment(study)
    assert rows["pieces"].sum() == len(asked)
    assert rows[rows["treatment"] == "ground contact"]["pieces"].sum() == len(near)
    assert "every post" in said(scene)


def test_it_can_be_read_in_black_and_white() -> None:
    black, clear, hatched = (
        PENS[role] for role in (Role.GROUND_CONTACT, Role.ABOVE_GROUND, Role.NEAR_GROUND)
    )
    assert (black.fill, clear.fill) == (0.0, 1.0)
    assert hatched.hatch
    assert [black.tint, clear.tint, hatched.tint] == ["", "", ""]
    key = said(treatment_view(low_deck(4.0)))
    assert "wood treated for ground contact" in key
    assert "here the frame is near the ground" in key


def test_what_the_drawing_says_of_a_level_can_be_redone_by_hand() -> None:
    """Alder Point's garden: beams 2x8 under 2x8; the table counts 10 joists and one beam of fifteen pieces."""
    study = study_of(data_path("plans", "alder-point.toml"))
    scene = treatment_view(study, platform="garden")
    own = [one for one in alike(study.profile, study.levels, study.layout) if one.where == "garden"]
    frame = [one for one in own if one.kind is not Kind.POST]
    count, near = sum(len(one.marks) for one in frame), [o for o in frame if o.treatment == "ground contact"]
    assert f"{sum(len(one.marks) for one in near)} of {count} pieces for ground contact" in said(scene)
    limit = study.profile.ground_contact_clearance.value
    assert max(one.high for one in near) < limit <= min(o.low for o in frame if o not in near)
    assert "dining" not in said(scene)


def test_marks_that_follow_each_other_are_named_by_the_ends() -> None:
    assert marks_in_words(["A-J9", "A-J10", "A-J11", "A-B1", "B-J12"]) == "A-J9 to A-J11, A-B1, B-J12"


def test_the_check_names_all_that_wants_it() -> None:
    study = study_of(data_path("plans", "alder-point.toml"))
    (check,) = [c for c in study.checks if c.rule == "frame clear of the ground" and c.mark == "garden"]
    assert "ground-contact treatment for C-B1, C-J1 to C-J10" in check.reason


def test_the_panel_shows_it_with_its_table() -> None:
    panel = DrawingPanel(Session.open(data_path("plans", "alder-point.toml")))
    panel.show(TREATMENT)
    assert "dp-wood-for-ground-contact" in panel.svg
    assert "Black: treated for ground contact" in panel.beneath
    assert "C-J1 to C-J10" in panel.beneath
    panel.choose("level", "dining")
    assert "C-J1" not in panel.beneath
    assert (
        LOOKS["From above"][TREATMENT]
        .scene(panel._session.study, panel._settled()[0])
        .name.endswith("dining")
    )
    assert treatment_view(panel._session.study, sheet=SCREEN, titled=False).of(Role.SCHEDULE) == ()


def test_levels_over_each_other_are_drawn_alone_as_well() -> None:
    stacked = [
        scene.name
        for scene in DRAWINGS["treatment plan"](study_of(data_path("plans", "frames-stacked.toml")), None)
    ]
    assert stacked == ["Treatment plan", "Treatment plan, A terrace", "Treatment plan, B lookout"]
    beside = DRAWINGS["treatment plan"](study_of(data_path("plans", "alder-point.toml")), None)
    assert [scene.name for scene in beside] == ["Treatment plan"]
