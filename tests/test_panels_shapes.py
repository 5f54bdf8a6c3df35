"""The fields for a platform's shape on the bench, and what is said beside a field after its text was taken."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from deckplan.panels.session import Session
from deckplan.panels.widgets import Form
from deckplan.panels.workbench import Workbench, open_bench
from deckplan.reference import data_path

WIDTH, DEPTH = "platform.dining.width", "platform.dining.depth"


@pytest.fixture
def bench() -> Workbench:
    return open_bench(data_path("plans", "alder-point.toml"))


def field(form: Form, place: str) -> dict[str, Any]:
    return next(found for found in form.fields if found["place"] == place)


def test_a_depth_typed_reaches_the_drawing_and_says_what_went_along(bench: Workbench) -> None:
    drawing, first = bench.drawing.svg, bench.session.plan
    assert field(bench.levels, DEPTH)["text"] == "13 ft"
    bench.levels.type(DEPTH, "12 ft")
    assert field(bench.levels, DEPTH)["text"] == "12 ft"
    said = field(bench.levels, DEPTH)["remark"]
    assert 'moved the beam line of "dining" 1\'-0"' in said
    assert "S4 moved with its edge" in said
    assert bench.drawing.svg != drawing
    bench.session.undo()
    assert bench.session.plan == first
    assert field(bench.levels, DEPTH)["remark"] == ""
    assert field(bench.levels, DEPTH)["text"] == "13 ft"


def test_a_purpose_is_given_and_furniture_follows(bench: Workbench) -> None:
    assert field(bench.levels, "platform.lounge.use")["text"] == "lounge"
    before = bench.session.study.rooms["lounge"]
    bench.levels.type("platform.lounge.use", "dining")
    bench.levels.type("platform.lounge.people", "4")
    assert bench.session.plan.platform("lounge").people == 4
    assert bench.session.study.rooms["lounge"] != before
    bench.levels.type("platform.lounge.people", "four")
    assert "four will not do: a whole number" in field(bench.levels, "platform.lounge.people")["wrong"]


def test_levels_that_part_are_said(bench: Workbench) -> None:
    bench.levels.type(WIDTH, "15 ft")
    assert "dining and lounge meet no longer" in field(bench.levels, WIDTH)["remark"]
    bench.levels.type(WIDTH, "16 ft")
    assert "dining and lounge meet now" in field(bench.levels, WIDTH)["remark"]


@pytest.mark.parametrize(
    ("place", "text", "words"),
    [
        (DEPTH, "twelve", "twelve will not do: a length such as"),
        (DEPTH, "3 ft", "3 ft will not do: so large that flight S2 keeps the edge"),
        (WIDTH, "0", "0 will not do: over 0 and at most 1000 ft"),
        ("platform.dining.outline.3.x", "-9 ft", "-9 ft will not do: an outline whose edges do not cross"),
        ("platform.dining.corner.out", "2", "flight S2 one whole edge to leave by"),
    ],
)
def test_a_wrong_shape_is_refused_beside_its_field_and_the_old_one_stays(
    bench: Workbench, place: str, text: str, words: str
) -> None:
    plan, drawing = bench.session.plan, bench.drawing.svg
    bench.levels.type(place, text)
    assert words in field(bench.levels, place)["wrong"]
    assert bench.session.plan == plan
    assert bench.drawing.svg == drawing


def test_a_corner_is_added_moved_and_taken_out_in_the_panel(bench: Workbench) -> None:
    first = bench.session.plan
    bench.levels.type("platform.lounge.corner.add", "2")
    assert field(bench.levels, "platform.lounge.corner.add")["text"] == "", "done once, nothing stays chosen"
    bench.levels.type("platform.lounge.outline.3.x", "33 ft")
    assert len(bench.session.plan.platform("lounge").outline) == 5
    assert not any(found["place"] == "platform.lounge.width" for found in bench.levels.fields)
    bench.levels.type("platform.lounge.corner.out", "3")
    assert bench.session.plan == first


def test_a_changed_shape_is_saved_and_read_again(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_bytes(data_path("plans", "alder-point.toml").read_bytes())
    session = Session.open(path)
    assert session.change(DEPTH, "12 ft")
    assert session.change("platform.lounge.corner.add", "2")
    assert session.change("platform.lounge.outline.3.x", "33 ft")
    session.save()
    assert Session.open(path).plan == session.plan
    comments = [
        line for line in data_path("plans", "alder-point.toml").read_text().splitlines() if line[:1] == "#"
    ]
    assert all(line in path.read_text() for line in comments)


def test_a_text_that_fits_no_longer_gives_way_to_the_value(bench: Workbench) -> None:
    bench.framing.type("platform.dining.support.2.offset", "11 ft 6 in")
    bench.levels.type(DEPTH, "10 ft")
    assert bench.session.text("platform.dining.support.2.offset") == "8 ft 6 in"


@pytest.mark.parametrize(
    ("place", "text", "remark", "shown"),
    [
        # a bare number is inches in this program (plan format); 8 ft would have been nearer to 11 ft
        ("platform.dining.support.2.offset", "8", "8 taken as 8 in; write 8 ft for feet", "8 in"),
        ("platform.dining.support.2.offset", "130", "", "10 ft 10 in"),
        ("platform.dining.support.2.offset", "8 in", "", "8 in"),
        ("platform.dining.elevation", "29", "", "29 in"),
        ("platform.dining.people", "3", "", "3"),
        ("platform.dining.support.2.posts", "3", "", "3"),
    ],
)
def test_a_bare_number_far_off_what_stood_there_says_its_unit(
    place: str, text: str, remark: str, shown: str
) -> None:
    session = Session.open(data_path("plans", "alder-point.toml"))
    assert session.change(place, text)
    assert session.remarks.get(place, "") == remark
    assert session.text(place) == shown


def test_a_bare_number_in_a_metric_plan_says_that_it_is_inches() -> None:
    session = Session.open(data_path("plans", "alder-point.toml"))
    session.change("units", "metric")
    session.change("platform.dining.support.2.offset", "3000")
    assert "3000 will not do" in session.refused["platform.dining.support.2.offset"].reason
    session.change("platform.dining.elevation", "750")
    assert session.remarks["platform.dining.elevation"].startswith(
        "750 taken as 750 in = 19050 mm; write 750 mm"
    )
