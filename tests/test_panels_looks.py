"""What the drawing can show beside framing: boards, furniture, load paths, details; made only where somebody looks."""

from __future__ import annotations

from typing import Any
from xml.etree import ElementTree

import pytest

from deckplan.panels.details import details_of
from deckplan.panels.looks import ABOVE, BOARDS, DETAILS, FOOTINGS, FRAMING, FURNITURE, LOADS, LOOKS, SIDE
from deckplan.panels.session import Session
from deckplan.panels.views import DrawingPanel
from deckplan.panels.workbench import open_bench
from deckplan.reference import data_path

ALL = sorted(path.stem for path in data_path("plans").glob("*.toml"))
SPACE = "{http://www.w3.org/2000/svg}"


def drawing_of(name: str) -> DrawingPanel:
    return DrawingPanel(Session.open(data_path("plans", f"{name}.toml")))


def choice(panel: DrawingPanel, name: str) -> Any:
    return next(one for one in panel.choices if one["name"] == name)


@pytest.mark.parametrize("name", ALL)
def test_every_look_of_every_plan_is_sound_svg_with_parts(name: str) -> None:
    panel = drawing_of(name)
    for tab, looks in LOOKS.items():
        for shows in looks:
            for room in ("wide", "narrow"):
                panel.room = room
                panel.show(shows or tab)
                root = ElementTree.fromstring(panel.svg)
                parts = [g for g in root.iter(f"{SPACE}g") if "dp-part" in g.get("class", "")]
                assert parts or shows in (FURNITURE, FOOTINGS), (tab, shows)
                ElementTree.fromstring(f"<div>{panel.beneath}</div>")


@pytest.mark.parametrize("name", ["frames-shared-post", "frames-hung-joists", "alder-point"])
def test_every_detail_that_is_offered_can_be_drawn_and_names_its_pieces(name: str) -> None:
    panel = drawing_of(name)
    panel.show(DETAILS)
    offered = [value for value, _, _ in choice(panel, "detail")["options"]]
    assert len(offered) == len(set(offered)) > 3
    for key in offered:
        panel.choose("detail", key)
        assert key.partition("|")[0] in panel.svg


def test_a_picked_part_leads_to_its_own_details() -> None:
    panel = drawing_of("frames-shared-post")
    panel.value = "A-P3"
    panel.show(DETAILS)
    options = choice(panel, "detail")["options"]
    own = [value for value, _, group in options if group == "of A-P3"]
    assert own == ["A-B1|A-P3", "B-B2|A-P3"]
    assert choice(panel, "detail")["value"] == own[0]
    panel.choose("detail", own[1])
    panel.value = "B-B2"  # its details hold the one that is seen, so that it stays
    assert choice(panel, "detail")["value"] == own[1]


def test_the_load_path_begins_with_the_footing_that_levels_share() -> None:
    panel = drawing_of("frames-shared-post")
    panel.show(LOADS)
    assert choice(panel, "mark")["value"] == "A-F3"
    assert "What stands on A-F3" in panel.beneath
    assert all(name in panel.beneath for name in ("terrace", "court"))
    assert "Where that load goes" not in panel.beneath, "it is there already"


def test_pressing_a_part_or_choosing_it_shows_its_path() -> None:
    bench = open_bench(data_path("plans", "frames-shared-post.toml"))
    panel = bench.drawing
    panel.show(LOADS)
    before = panel.svg
    panel.value = "B-B2"
    assert panel.svg != before
    assert "Where that load goes" in panel.beneath
    assert "A-F3" in panel.beneath, "the court's beam ends on the terrace's footing too"
    panel.choose("mark", "B-F1")
    assert bench.session.selected == "B-F1"
    assert "What stands on B-F1" in panel.beneath
    with pytest.raises(KeyError):
        panel.choose("mark", "Z-F9")


def test_the_table_of_a_footing_sums_to_what_stands_on_it() -> None:
    """What stands on the shared footing comes from the two levels and the flights at them, as the load path says."""
    session = Session.open(data_path("plans", "frames-shared-post.toml"))
    panel = DrawingPanel(session, shows=LOADS)
    stands = session.study.load_path.what_stands_on("A-F3")
    for one in stands:
        assert f">{round(one.full)}<" in panel.beneath
    assert f"{round(sum(one.full for one in stands)):,} lb" in panel.beneath


def test_one_level_alone() -> None:
    panel = drawing_of("alder-point")
    for look in (FRAMING, BOARDS, FURNITURE):
        panel.show(look)
        panel.choose("level", "lounge")
        assert "lounge" in panel.svg
        assert "+0'-3 1/2\"" not in panel.svg, "the garden level is not drawn"
    assert "dining" not in panel.beneath


def test_the_side_seen_from_can_be_chosen() -> None:
    panel = drawing_of("alder-point")
    panel.show(SIDE)
    before = panel.svg
    panel.choose("side", "left")
    assert panel.svg != before


def test_a_level_that_is_gone_is_no_longer_asked_for() -> None:
    session = Session.open(data_path("plans", "alder-point.toml"))
    panel = DrawingPanel(session)
    panel.choose("level", "lounge")
    session.change("platform.lounge.name", "den")
    assert choice(panel, "level")["value"] == ""
    assert "dining" in panel.svg


def test_boards_and_furniture_are_computed_only_where_somebody_looks() -> None:
    bench = open_bench(data_path("plans", "alder-point.toml"))
    asked = ("boards", "rooms", "load_path")
    bench.levels.type("platform.dining.elevation", "31 in")
    assert not [name for name in asked if name in vars(bench.session.study)]
    bench.drawing.show(BOARDS)
    assert "boards" in vars(bench.session.study)
    assert "rooms" not in vars(bench.session.study)


def test_what_is_hidden_waits_and_catches_up() -> None:
    bench = open_bench(data_path("plans", "alder-point.toml"))
    steps, tables = bench.steps.fields, bench.tables.html
    bench.levels.type("platform.dining.elevation", "31 in")
    assert bench.steps.fields == steps
    assert bench.tables.html == tables
    bench.forms.show("Steps")
    bench.below.show("Tables")
    assert bench.steps.fields != steps
    assert bench.tables.html != tables


def test_a_plan_of_one_level_asks_for_none() -> None:
    panel = drawing_of("chestnut-school")
    names = [one["name"] for one in panel.choices]
    assert names == ["shows"] if len(panel._session.plan.platforms) == 1 else ["shows", "level"]


def test_trouble_in_a_look_shows_in_the_head(monkeypatch: pytest.MonkeyPatch) -> None:
    bench = open_bench(data_path("plans", "alder-point.toml"))

    def stumble(*_: object) -> None:
        raise RuntimeError("the saw broke")

    monkeypatch.setattr("deckplan.study.lay_boards", stumble)
    with pytest.raises(RuntimeError):
        bench.drawing.chosen = {"n": 1, "name": "shows", "value": BOARDS}
    assert "the saw broke" in bench.head.html


@pytest.mark.parametrize("name", ALL)
def test_details_of_any_mark_can_be_asked(name: str) -> None:
    study = Session.open(data_path("plans", f"{name}.toml")).study
    for mark in (*study.layout.by_mark, "S1", "A", "nothing"):
        found = details_of(study, mark)
        assert len({one.key for one in found}) == len(found), mark
    assert LOOKS[ABOVE][FRAMING]


@pytest.mark.slow
@pytest.mark.parametrize("name", ALL)
def test_whatever_is_picked_or_chosen_can_be_shown(name: str) -> None:
    panel = drawing_of(name)
    session = panel._session
    for look in (LOADS, DETAILS):
        panel.show(look)
        for one in list(panel.choices):
            for value, _, _ in one["options"]:
                if one["name"] != "shows":
                    panel.choose(one["name"], value)
        for mark in session.study.layout.by_mark:
            session.pick(mark)
            ElementTree.fromstring(panel.svg)
