"""`deckplan study`: the object that others build on, and the text that a person reads."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from deckplan.cli.main import main
from deckplan.cli.study import study_text, study_to_json
from deckplan.plan.file import parse_plan, read_plan
from deckplan.plan.places import edit
from deckplan.reference import data_path
from deckplan.study import Study

DEMOS = sorted(data_path("plans").glob("*.toml"))
ALDER = data_path("plans", "alder-point.toml")
ODD = {
    path.stem: path
    for path in sorted((Path(__file__).parent / "plans").glob("*.toml"))
    if "wrong" not in path.stem
}

NUMBER, TEXT, LIST, FLAG = (int, float), str, list, bool
MAYBE = (int, float, type(None))
# The form that others build on, format 1: every key with the kind of its value.
FORM: dict[str, dict[str, Any]] = {
    "levels": {"platform": TEXT, "elevation_in": NUMBER, "chosen": FLAG, "area_sqft": NUMBER},
    "flights": {
        "from": TEXT, "to": TEXT, "kind": TEXT, "rise_in": NUMBER, "risers": int, "riser_in": NUMBER,
        "tread_in": NUMBER, "width_in": NUMBER, "frames": LIST, "fixings": LIST, "blocking": LIST,
    },
    "members": {
        "mark": TEXT, "platform": TEXT, "kind": TEXT, "size": TEXT, "length_in": NUMBER, "from": LIST, "to": LIST,
        "elevation_in": NUMBER,
    },
    "posts": {
        "mark": TEXT, "at": LIST, "size": TEXT, "height_in": NUMBER, "load_lb": NUMBER, "carries": LIST,
        "footing": TEXT,
    },
    "footings": {
        "mark": TEXT, "at": LIST, "diameter_in": NUMBER, "thickness_in": NUMBER, "bottom_in": NUMBER, "load_lb": NUMBER,
    },
    "guards": {"platform": TEXT, "from": LIST, "to": LIST, "drop_in": NUMBER, "required": FLAG},
    "checks": {
        "mark": TEXT, "rule": TEXT, "source": TEXT, "demand": MAYBE, "capacity": MAYBE, "unit": TEXT,
        "utilisation": MAYBE, "verdict": TEXT, "steps": LIST,
    },
    "notes": {"level": TEXT, "text": TEXT},
}  # fmt: skip
INNER = {
    "frames": {"height_in", "joists", "spacing_in"},
    "fixings": {"kind", "at", "elevation_in"},
    "blocking": {"from", "to"},
}


def printed(capsys: pytest.CaptureFixture[str], path: Path) -> tuple[int, dict[str, Any]]:
    status = main(["study", str(path), "--json"])
    caught = capsys.readouterr()
    assert caught.err == ""
    return status, json.loads(caught.out)


@pytest.mark.parametrize("path", [*DEMOS, *ODD.values()], ids=lambda path: path.stem)
def test_the_object_keeps_its_form(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, data = printed(capsys, path)
    assert data["format"] == 1
    assert data["plan"] == read_plan(path).name
    assert data["verdict"] in ("PASS", "FAIL", "OUTSIDE")
    assert status == (0 if data["verdict"] == "PASS" else 1)
    for key, form in FORM.items():
        assert data[key] or path not in DEMOS, key
        for row in data[key]:
            for inner, kind in form.items():
                assert isinstance(row[inner], kind), (key, inner, row)
    for flight in data["flights"]:
        assert flight["kind"] in ("direct", "box", "stringer")
        for name, keys in INNER.items():
            assert all(keys <= set(row) for row in flight[name])
    assert {check["verdict"] for check in data["checks"]} <= {"PASS", "FAIL", "OUTSIDE", "NOT_APPLICABLE"}
    assert {note["level"] for note in data["notes"]} <= {"caution", "advice", "ask"}


@pytest.mark.parametrize("path", [*DEMOS, *ODD.values()], ids=lambda path: path.stem)
def test_every_mark_that_is_named_is_there(path: Path) -> None:
    data = study_to_json(Study(read_plan(path)))
    footings = [footing["mark"] for footing in data["footings"]]
    platforms = {level["platform"] for level in data["levels"]}
    assert len(footings) == len(set(footings))
    members = [member["mark"] for member in data["members"]]
    assert len(members) == len(set(members))
    for post in data["posts"]:
        if post["stands_on"]:
            assert post["footing"] == ""
            assert post["stands_on"] in members
        else:
            assert post["footing"] in footings
        assert set(post["carries"]) <= platforms
    for member in data["members"]:
        run = math.dist(member["from"], member["to"])
        if member["kind"] == "post":
            assert run == 0
        elif member["kind"] == "board":  # cut to its long point; an end may slant
            assert run <= member["length_in"] + 1 / 16
        else:
            assert run == pytest.approx(member["length_in"], abs=1e-6)
    for flight in data["flights"]:
        assert flight["riser_in"] * flight["risers"] == pytest.approx(flight["rise_in"], abs=1e-6)


def test_demo_plans_end_as_their_comments_say() -> None:
    verdicts = {path.stem: Study(read_plan(path)) for path in DEMOS}
    assert verdicts["alder-point"].verdict == "PASS"
    assert verdicts["heron-pond"].verdict == "PASS"
    school = verdicts["chestnut-school"]
    assert school.verdict == "FAIL"
    assert {check.mark for check in school.checks if check.verdict == "FAIL"} == {"A-B1"}
    cured = Study(edit(school.asked, "platform.reading deck.support.2.posts", "3"))
    assert cured.verdict == "PASS"


def test_an_inch_more_moves_risers_posts_and_checks() -> None:
    plan = read_plan(ALDER)
    before = study_to_json(Study(plan))
    after = study_to_json(Study(edit(plan, "platform.dining.elevation", "31 in")))

    def heights(data: dict[str, Any], letter: str) -> list[float]:
        return [post["height_in"] for post in data["posts"] if post["mark"].startswith(f"{letter}-")]

    # the threshold stays, the deck comes nearer to it; every way down is an inch longer
    assert [round(f["rise_in"], 6) for f in before["flights"][:2]] == [1.5, 10.5]
    assert [round(f["rise_in"], 6) for f in after["flights"][:2]] == [0.5, 11.5]
    assert heights(after, "A") == pytest.approx([height + 1 for height in heights(before, "A")])
    assert heights(after, "B") == heights(before, "B")

    def demand(data: dict[str, Any], mark: str, rule: str) -> float:
        return next(c["demand"] for c in data["checks"] if c["mark"] == mark and rule in c["rule"])

    assert demand(after, "S2", "riser, largest") - demand(before, "S2", "riser, largest") == pytest.approx(
        0.5
    )


def test_what_no_rule_covers_is_outside_and_not_a_pass(capsys: pytest.CaptureFixture[str]) -> None:
    status, data = printed(capsys, ODD["shared-post"])
    assert (status, data["verdict"]) == (1, "OUTSIDE")
    assert any(set(post["carries"]) == {"upper", "lower"} for post in data["posts"])


def test_levels_that_are_wishes_are_chosen() -> None:
    data = study_to_json(Study(read_plan(ODD["all-ranges"])))
    assert all(level["chosen"] for level in data["levels"])
    assert {flight["risers"] for flight in data["flights"]} >= {2, 3}


def test_a_failing_plan_says_why_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["study", str(data_path("plans", "chestnut-school.toml"))])
    out = capsys.readouterr().out
    assert status == 1
    assert "FAIL: " in out
    assert "What fails, and why\n  A-B1: bending" in out
    assert "Planning aid." in out
    assert " safe" not in out.lower()


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_the_text_is_in_the_plans_own_units_and_fits_a_page(path: Path) -> None:
    study = Study(read_plan(path))
    text = study_text(study)
    assert text.count("\n") < max(150, 50 * len(study.plan.platforms))
    assert ("kN" in text) == (study.plan.units == "metric")
    longer = study_text(study, everything=True)
    assert all(member.mark in longer for member in study.layout.members)


def test_the_smallest_plan_there_is() -> None:
    text = """
    [[platform]]
    name = "step"
    outline = [["0 ft", "0 ft"], ["4 ft", "0 ft"], ["4 ft", "4 ft"], ["0 ft", "4 ft"]]
    elevation = "16 in"
    """
    study = Study(parse_plan(text))
    data = study_to_json(study)
    assert data["verdict"] == "FAIL"  # nothing holds it up
    assert json.dumps(data, allow_nan=False)
    assert "What fails, and why" in study_text(study)


def test_a_beam_too_slender_to_be_held_fails_by_its_mark_and_stops_nothing(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """NDS 2018 3.3.3.7: the slenderness ratio R_B is at most 50; one 2x12 over 30 ft is past that."""
    plan = tmp_path / "slender.toml"
    plan.write_text(
        """
        format = 1
        name = "slender"
        [[platform]]
        name = "field"
        outline = [["0 ft", "0 ft"], ["30 ft", "0 ft"], ["30 ft", "9 ft"], ["0 ft", "9 ft"]]
        elevation = "24 in"
          [[platform.support]]
          kind = "beam"
          offset = "1 ft"
          build = "2x12"
          posts = 2
          [[platform.support]]
          kind = "beam"
          offset = "8 ft"
        """,
        encoding="utf-8",
    )
    status = main(["study", str(plan), "--json"])
    found = json.loads(capsys.readouterr().out)
    assert status == 1
    bad = [check for check in found["checks"] if "R_B is" in check["reason"]]
    assert {(check["mark"], check["verdict"]) for check in bad} == {("A-B1", "FAIL")}
    assert "over 50 (NDS 3.3.3.7)" in bad[0]["reason"]
