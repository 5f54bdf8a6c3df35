"""What panels say: every failing part ringed, counts that agree, figures that are read on a site."""

from __future__ import annotations

import re

import pytest

from deckplan.draw.plan_view import plan_view
from deckplan.draw.scene import Stroke
from deckplan.panels.checks import ChecksPanel
from deckplan.panels.faults import FaultsPanel
from deckplan.panels.html import reason_of
from deckplan.panels.levels import LevelsPanel
from deckplan.panels.looks import flags_of
from deckplan.panels.session import Session
from deckplan.reference import data_path
from deckplan.verdict import Verdict


def opened(name: str) -> Session:
    return Session.open(data_path("plans", f"{name}.toml"))


def test_a_joist_that_another_one_speaks_for_is_ringed_as_well() -> None:
    session = opened("alder-point")
    assert flags_of(session.study) == {}
    session.change("platform.dining.joists.size", "2x6")
    flags = flags_of(session.study)
    assert {f"A-J{number}" for number in range(1, 14)} <= set(flags), "all thirteen are too small"
    said = [mark for mark, word in flags.items() if word == "fails" and mark.startswith("A-J")]
    assert len(said) == 1, "one word for the joists of a level: thirteen hide the drawing"


@pytest.mark.parametrize("name", ["alder-point", "chestnut-school", "frames-shared-post", "heron-pond"])
def test_the_counts_of_the_list_are_those_of_the_head(name: str) -> None:
    session = opened(name)
    first = ChecksPanel(session).html.split("</p>")[0]
    counts = [int(number) for number in re.findall(r"(\d+) (?:fail|outside|pass|do not)", first)]
    assert sum(counts) == len(session.study.checks)


def test_a_least_is_called_one() -> None:
    session = opened("alder-point")
    session.change("door.kitchen door.sill", "20 in")
    row = re.search(r"<tr[^>]*><td>S1</td><td>way down</td>.*?</tr>", ChecksPanel(session).html)
    assert row is not None
    assert "at least 30 in" in row[0]


def test_a_door_below_its_level_goes_up() -> None:
    session = opened("alder-point")
    panel = LevelsPanel(session)
    session.change("door.kitchen door.sill", "20 in")
    said = [field.follows for field in panel.fields_of(session.study) if field.place.startswith("door.")]
    assert said == ['10" up to dining']
    assert session.study.describe("S1").startswith('S1: kitchen door to dining, 10" up, not down')
    texts = [label.text for label in plan_view(session.study).labels if label.text.startswith("S1")]
    assert texts == ['S1 as drawn\n10" up, not down']


def test_no_powers_of_ten_and_no_inches_in_millimetres() -> None:
    school = FaultsPanel(opened("chestnut-school")).html
    assert "77,421 lb in is over the 34,137 lb in allowed" in school
    pond = opened("heron-pond")
    pond.change("platform.lookout.joists.size", "2x4")
    failing = [check for check in pond.study.checks if check.verdict is Verdict.FAIL]
    said = [reason_of(check, "metric") for check in failing]
    assert any(text.startswith("deflection: ") and " mm allowed: " in text for text in said)
    assert not any(re.search(r"\d (in|lb|psi|lb in)\b", text) for text in said)


@pytest.mark.parametrize("name", ["six-terraces", "shape-ell", "shape-tree-bay"])
def test_the_arrow_across_joists_is_square_to_them(name: str) -> None:
    """Also where joists are cut over a beam or are of several lengths; they run along y in these plans."""
    scene = plan_view(opened(name).study)
    long = [
        shape.points for shape in scene.shapes
        if isinstance(shape, Stroke) and len(shape.points) == 2 and shape.role.name == "ARROW"
        and abs(shape.points[1][0] - shape.points[0][0]) > 100
    ]  # fmt: skip
    assert long
    assert all(a[1] == pytest.approx(b[1]) for a, b in long)


def test_a_flight_and_its_footing_say_what_they_are() -> None:
    study = opened("chestnut-school").study
    assert study.describe("S2").startswith('S2: reading deck to ground, 3 risers of 7"')
    assert study.describe("S2-F1").startswith("S2-F1: footing under a flight")


REFUSED = {
    "platform.dining.elevation": {
        "5 to 3": "5 to 3 will not do: a range from low to high, such as 28 in to 31 in",
        "abc to 5": "lower end of the range: abc will not do: a length such as",
        "28 in to x": "upper end of the range: x will not do: a length such as",
        "30 bananas": "30 bananas will not do: a length such as 12'-6 1/2\"",
        "": "nothing is written here: a length such as",
    },
    "platform.dining.support.2.posts": {
        "abc": "abc will not do: auto, a count such as 3, or distances along the beam such as 1 ft, 9 ft",
        "-3": "-3 will not do: auto, a count such as 3",
        "1000": "1000 will not do: from 1 to 60 posts",
        "2 ft, x": "number 2: x will not do: a length such as",
        "9 ft, 2 ft": "9 ft, 2 ft will not do: offsets in rising order",
    },
    "platform.dining.support.2.offset": {"-5 ft": "-5 ft will not do: on the platform"},
    "flight.2.along": {"abc": "such as 2 ft, 13 ft; 6 ft, 13 ft"},
    "flight.2.from": {"attic": "attic will not do: "},
}


@pytest.mark.parametrize(
    ("place", "text"), [(place, text) for place, texts in REFUSED.items() for text in texts]
)
def test_a_refused_text_says_what_to_write_and_not_how_a_plan_file_would_hold_it(
    place: str, text: str
) -> None:
    session = opened("alder-point")
    assert not session.change(place, text)
    said = session.refused[place].reason
    assert REFUSED[place][text] in said
    assert not re.search(r'[{}\[\]]|entry|from =|\bnot ""', said), said


def test_posts_can_be_parted_by_semicolons_too() -> None:
    commas, semicolons = opened("alder-point"), opened("alder-point")
    assert commas.change("platform.dining.support.2.posts", "1 ft, 8 ft, 15 ft")
    assert semicolons.change("platform.dining.support.2.posts", "1 ft; 8 ft; 15 ft")
    assert semicolons.plan == commas.plan != opened("alder-point").plan


def test_one_reason_that_hits_many_parts_is_said_once() -> None:
    session = opened("alder-point")
    session.change("platform.dining.joists.size", "2x4")
    said = FaultsPanel(session).html
    reasons = re.findall(r"fails?: ([^<]*)</li>", said)
    assert len(reasons) == len(set(reasons))
    assert re.search(r"A-J\d+</button> and A-J\d+, [^<]* and \d+ more fail:", said)
