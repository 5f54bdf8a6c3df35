"""The panels on their bench: a text typed into a field reaches every view; picking a part reaches the checks."""

from __future__ import annotations

import re
from base64 import b64decode
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from deckplan.panels.fields import spelled_like
from deckplan.panels.framing import FramingPanel
from deckplan.panels.looks import ABOVE, CUT, SIDE
from deckplan.panels.session import Session
from deckplan.panels.widgets import Form
from deckplan.panels.workbench import Pair, Workbench, open_bench
from deckplan.reference import data_path
from deckplan.units import read_length
from deckplan.verdict import Verdict

DINING = "platform.dining.elevation"
PLANS = ("alder-point.toml", "chestnut-school.toml", "heron-pond.toml")


@pytest.fixture
def bench() -> Workbench:
    return open_bench(data_path("plans", "alder-point.toml"))


def field(form: Form, place: str) -> dict[str, Any]:
    return next(found for found in form.fields if found["place"] == place)


@pytest.mark.parametrize("name", PLANS)
def test_every_field_takes_its_own_text_and_changes_nothing(name: str) -> None:
    bench = open_bench(data_path("plans", name))
    plan = bench.session.plan
    for form in (bench.levels, bench.framing, bench.steps, bench.site):
        for found in form.fields:
            form.type(found["place"], found["text"])
            assert form.wrong(found["place"]) == "", found["place"]
    assert bench.session.plan == plan
    assert not bench.session.can_undo


def test_a_level_typed_into_its_field_reaches_drawing_table_and_steps(bench: Workbench) -> None:
    drawing, table, steps = (
        bench.drawing.svg,
        bench.tables.html,
        field(bench.steps, "flight.2.kind")["follows"],
    )
    # 10-1/2 in is two risers of 5-1/4 in (common practice); an inch more is two of 5-3/4 in.
    assert "2 risers of 5 1/4" in steps
    bench.below.show("Tables")
    bench.levels.type(DINING, "31 in")
    bench.forms.show("Steps")
    assert "2 risers of 5 3/4" in field(bench.steps, "flight.2.kind")["follows"]
    assert bench.drawing.svg != drawing
    assert bench.tables.html != table
    assert field(bench.levels, DINING)["text"] == "31 in"


def test_a_wrong_text_leaves_the_drawing_and_names_what_would_do(bench: Workbench) -> None:
    drawing = bench.drawing.svg
    bench.levels.type(DINING, "thirty")
    shown = field(bench.levels, DINING)
    assert shown["text"] == "thirty"
    assert "a length such as" in shown["wrong"]
    assert bench.drawing.svg == drawing
    bench.levels.type(DINING, "30 in")
    assert field(bench.levels, DINING)["wrong"] == ""


def test_a_slider_writes_in_the_spelling_that_stood_there(bench: Workbench) -> None:
    bench.levels.type(DINING, "2 ft 6 in")
    answered = bench.levels.answered
    bench.levels.value = {"n": 99, "place": DINING, "text": "31.25 in", "gesture": "pull 1"}
    assert field(bench.levels, DINING)["text"] == "2 ft 7 1/4 in"
    assert field(bench.levels, DINING)["value"] == 31.25
    assert bench.levels.answered == answered + 1


@pytest.mark.parametrize("before", ["30 in", "2'-6\"", "2 ft 6 in", '30"', "762 mm"])
@pytest.mark.parametrize("inches", [-11.5, 0.0, 7.25, 30.5, 149.9375])
def test_every_spelling_reads_back(before: str, inches: float) -> None:
    near = 0.5 / 25.4 / 2 if "mm" in before else 0.0
    assert read_length(spelled_like(before, inches, "us")) == pytest.approx(inches, abs=near + 1e-12)


def test_a_panel_knows_its_own_fields_only(bench: Workbench) -> None:
    with pytest.raises(KeyError):
        bench.levels.type("platform.dining.joists.size", "2x10")


def test_picking_a_part_in_the_drawing_opens_its_checks(bench: Workbench) -> None:
    bench.drawing.value = "A-B1"
    assert bench.session.selected == "A-B1"
    assert "A-B1: beam" in bench.checks.html
    assert "dk-why" in bench.checks.html, "the sum of the most used check is open"
    assert "B-F1" not in bench.checks.html
    bench.checks.value = {"n": 1, "pick": "everything"}
    assert bench.drawing.value == ""
    assert "B-F1" in bench.checks.html or "F5" in bench.checks.html


def test_why_shows_every_step_with_its_source(bench: Workbench) -> None:
    check = next(c for c in bench.session.study.checks_of("A-B1") if c.rule == "bending in the span")
    bench.session.pick("A-B1")
    bench.checks.ask_why("A-B1", "shear")
    bench.checks.ask_why("A-B1", check.rule)
    shown = bench.checks.html
    assert len(check.steps) >= 3
    assert shown.count("<li>") == len(check.steps)
    for step in check.steps:
        assert str(step.source).split("(")[0].strip() in shown


def test_what_fails_stands_first_with_its_sign_and_is_ringed_in_the_drawing() -> None:
    bench = open_bench(data_path("plans", "chestnut-school.toml"))
    failing = [check for check in bench.session.study.checks if check.verdict is Verdict.FAIL]
    assert failing, "the classroom plan has a mistake on purpose"
    rows = re.findall(r'<tr class="dk-(\w+)', bench.checks.html)
    assert rows[0] == "FAIL"
    assert sorted(rows, key=["FAIL", "OUTSIDE", "PASS", "NOT_APPLICABLE"].index) == rows
    assert "✕" in bench.head.html
    assert f"{len(failing)} fail" in bench.head.html


def test_what_no_longer_stands_is_said_with_its_reason_and_leads_to_its_part() -> None:
    bench = open_bench(data_path("plans", "chestnut-school.toml"))
    failing = next(check for check in bench.session.study.checks if check.verdict is Verdict.FAIL)
    assert failing.mark in bench.faults.html
    assert "fails:" in bench.faults.html
    bench.faults.value = {"n": 1, "pick": failing.mark}
    assert bench.drawing.value == failing.mark
    bench.framing.type("platform.reading deck.support.2.posts", "3")
    assert "Every check passes" in bench.faults.html


def test_no_panel_ever_says_safe(bench: Workbench) -> None:
    for view in (ABOVE, CUT, SIDE):
        bench.drawing.view = view
        pages = (
            bench.head.html,
            bench.faults.html,
            bench.checks.html,
            bench.notes.html,
            bench.tables.html,
            bench.drawing.svg,
        )
        assert not any(re.search(r"\bsafe\b", page, re.I) for page in pages)


def test_the_caution_stands_in_the_head(bench: Workbench) -> None:
    assert "Planning aid" in bench.head.html
    assert "call before you dig" in bench.head.html


@pytest.mark.parametrize("view", [CUT, SIDE])
def test_pulling_a_level_in_the_drawing_moves_it_to_quarter_inches(bench: Workbench, view: str) -> None:
    bench.drawing.view = view
    assert bench.drawing.grips["A"] == "dining"
    for by in (0.4, 0.7, 1.05):
        bench.drawing.pull = {"n": by, "letter": "A", "by": by, "gesture": "one"}
    assert bench.session.study.levels.elevation("dining") == 31
    assert field(bench.levels, DINING)["text"] == "31 in"
    bench.session.undo()
    assert bench.session.study.levels.elevation("dining") == 30


def test_nothing_is_pulled_from_above(bench: Workbench) -> None:
    assert bench.drawing.grips == {}


@pytest.mark.parametrize("room", ["wide", "narrow"])
@pytest.mark.parametrize("name", PLANS)
def test_every_view_is_sound_svg_and_names_its_parts(name: str, room: str) -> None:
    bench = open_bench(data_path("plans", name))
    bench.drawing.room = room
    for view in (ABOVE, CUT, SIDE):
        bench.drawing.view = view
        root = ElementTree.fromstring(bench.drawing.svg)
        space = "{http://www.w3.org/2000/svg}"
        parts = [g for g in root.iter(f"{space}g") if "dp-part" in g.get("class", "")]
        assert parts, view
        assert all(part.find(f"{space}title") is not None for part in parts)


def test_hover_names_member_size_and_use(bench: Workbench) -> None:
    titles = re.findall(r'data-mark="A-B1"[^>]*><title>([^<]*)', bench.drawing.svg)
    assert titles
    beam = bench.session.study.layout.by_mark["A-B1"]
    assert all(re.search(rf"A-B1: beam {re.escape(beam.size)}.*used \d+%", title) for title in titles)


def test_without_a_kernel_the_bench_still_shows_plan_and_tables(bench: Workbench) -> None:
    bundle = bench._repr_mimebundle_()
    data = bundle[0] if isinstance(bundle, tuple) else bundle
    assert "application/vnd.jupyter.widget-view+json" in data
    html = data["text/html"]
    pictures = re.findall(r'src="data:image/svg\+xml;base64,([^"]+)"', html)
    assert len(pictures) == 2
    for picture in pictures:
        ElementTree.fromstring(b64decode(picture))
    assert "lounge" in html
    assert "<script" not in html


def test_tables_turn_and_are_written_beside_the_plan(tmp_path: Path) -> None:
    path = tmp_path / "deck.toml"
    path.write_bytes(data_path("plans", "alder-point.toml").read_bytes())
    bench = open_bench(path)
    bench.tables.show("buy")
    assert "dry mix" in bench.tables.html
    bench.tables.show("csv")
    assert (tmp_path / "deck.csv").is_file()
    assert (tmp_path / "deck-levels.csv").is_file()
    assert "tables written" in bench.tables.html


def test_undo_in_the_head_follows_the_session(bench: Workbench) -> None:
    assert 'data-pick="undo" disabled' in bench.head.html
    bench.levels.type(DINING, "31 in")
    assert 'data-pick="undo" disabled' not in bench.head.html
    bench.head.value = {"n": 1, "pick": "undo"}
    assert field(bench.levels, DINING)["text"] == "30 in"


def test_save_never_writes_over_a_demo_plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    demo = data_path("plans", "alder-point.toml")
    before = demo.read_bytes()
    for name in ("my-alder-point.toml", "my-alder-point-2.toml"):
        bench = open_bench(demo)
        bench.levels.type(DINING, "31 in")
        bench.head.value = {"n": 1, "pick": "save"}
        assert f"Saved in {name}" in bench.head.html
        assert Session.open(tmp_path / name).plan == bench.session.plan
    assert demo.read_bytes() == before


def test_trouble_shows_in_the_head(bench: Workbench) -> None:
    def stumble(study: object) -> None:
        raise RuntimeError("the <pencil> broke")

    bench.session.listen(stumble)
    with pytest.raises(RuntimeError):
        bench.levels.type(DINING, "31 in")
    assert "the &lt;pencil&gt; broke" in bench.head.html
    assert bench.levels.answered == 1, "the browser is not left waiting"


def test_a_pair_fixes_the_classroom_deck() -> None:
    session = Session.open(data_path("plans", "chestnut-school.toml"))
    pair = Pair(session, FramingPanel)
    assert {c.mark for c in session.study.checks if c.verdict is Verdict.FAIL} == {"A-B1"}
    # The plan's own answer: a third post in the middle.
    pair.fields.type("platform.reading deck.support.2.posts", "3")
    assert session.study.verdict is Verdict.PASS


def test_a_closed_panel_follows_no_more(bench: Workbench) -> None:
    shown = bench.tables.html
    bench.tables.close()
    bench.levels.type(DINING, "31 in")
    assert bench.tables.html == shown


def test_rules_switch_at_once(bench: Workbench) -> None:
    bench.site.type("rules", "canada")
    assert bench.session.study.profile.name.startswith("canada") or "Canada" in bench.head.html
    riser = [c for c in bench.session.study.checks if c.rule == "riser, largest"]
    # National Building Code of Canada 9.8.4.1: risers up to 200 mm (7.874 in).
    assert riser[0].capacity == pytest.approx(200 / 25.4, rel=1e-6)
