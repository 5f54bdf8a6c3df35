"""Setbacks by a level's height: which one holds, how high a level counts, what is said and drawn.

The rule itself is the plan's own (local ordinances write it each in their way); what is tested is that the plan is
followed to the letter. Figures are arithmetic on the stated elevations.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deckplan.checks.setbacks import check_setbacks, governing, setback_notes
from deckplan.draw.plan_view import plan_view
from deckplan.draw.scene import Role
from deckplan.draw.site_view import site_view
from deckplan.errors import InputError
from deckplan.levels.ground import lay_ground
from deckplan.levels.terrain import lowest_along
from deckplan.plan.file import parse_plan, read_plan
from deckplan.plan.model import BoundaryLine, Plan
from deckplan.plan.places import edit, value_text
from deckplan.plan.saving import changed_text, plan_to_toml
from deckplan.plan.tables import plan_from_data
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import attached, beam, make_plan, platform, rectangle

LINE = [(-300.0, 240.0), (600.0, 240.0)]
OVER_30 = [{"over": 30.0, "setback": 120.0}]


def boundary(*by_height: tuple[float, float], setback: float = 60.0, **more: Any) -> dict[str, Any]:
    ladder = [{"over": over, "setback": asked} for over, asked in by_height]
    return {"kind": "property", "line": LINE, "setback": setback, "by_height": ladder, **more}


def deck(elevation: float, *lines: dict[str, Any], depth: float = 144.0, **more: Any) -> Plan:
    """A deck on level ground at 0 that ends at y = 144; the line lies at y = 240: 96 in apart."""
    ground = more.pop("ground", [{"at": (0.0, 0.0), "elevation": 0.0}])
    return attached(192, depth, elevation, site={"ground": ground, "boundary": list(lines)}, **more)


def checked(plan: Plan) -> list[Check]:
    study = Study(plan)
    return check_setbacks(study.plan, study.levels, study.footings)


# Which setback holds


@pytest.mark.parametrize(("height", "asked"), [(29.99, 60.0), (30.0, 60.0), (30.01, 120.0), (96.01, 240.0)])
def test_the_highest_height_that_is_exceeded_governs(height: float, asked: float) -> None:
    # over 30 in: 10 ft; over 96 in: 20 ft; else the line's own 5 ft. At a height itself nothing is over it.
    line = BoundaryLine.model_validate(boundary((96.0, 240.0), (30.0, 120.0)))
    entry = governing(line, height)
    assert (line.setback if entry is None else entry.setback) == asked


@pytest.mark.parametrize(
    ("elevation", "verdict", "asked"), [(29.0, "PASS", 60.0), (30.0, "PASS", 60.0), (31.0, "FAIL", 120.0)]
)
def test_a_level_keeps_the_setback_of_its_height(elevation: float, verdict: str, asked: float) -> None:
    (check,) = checked(deck(elevation, boundary((30.0, 120.0))))
    assert (check.mark, check.verdict, check.demand, check.capacity) == ("deck", verdict, 96.0, asked)


@pytest.mark.parametrize(("y", "verdict"), [(263.9, "FAIL"), (264.0, "PASS"), (264.1, "PASS")])
def test_a_high_level_at_its_distance_a_step_nearer_and_a_step_farther(y: float, verdict: str) -> None:
    # 144 in deep, 120 in asked
    (check,) = checked(deck(36.0, boundary((30.0, 120.0), line=[(-300.0, y), (600.0, y)])))
    assert check.verdict == verdict


def test_every_level_is_held_to_its_own() -> None:
    high = platform("high", rectangle(0, 0, 120, 120), 40, beam(12), beam(108))
    low = platform("low", rectangle(120, 0, 240, 170), 20, beam(12), beam(150))
    line = boundary((30.0, 120.0))
    site = {"ground": [{"at": (0.0, 0.0), "elevation": 0.0}], "boundary": [line]}
    found = {check.mark: check for check in checked(make_plan(high, low, site=site))}
    # the low one stands nearer, 240 - 170 = 70 in, and may; the high one keeps its 120 in exactly
    assert [(c.demand, c.capacity, c.verdict.value) for c in (found["high"], found["low"])] == [
        (120.0, 120.0, "PASS"),
        (70.0, 60.0, "PASS"),
    ]


def test_a_line_without_heights_is_checked_as_before_at_its_nearest() -> None:
    (check,) = checked(deck(36.0, boundary()))
    assert check.rule == "deck clear of the property line 1"
    assert (check.demand, check.capacity) == (96.0, 60.0)


def test_holes_keep_the_lines_own_setback_from_what_is_dug() -> None:
    found = checked(deck(36.0, boundary((30.0, 120.0), kind="septic")))
    assert [check.capacity for check in found] == [120.0, 60.0]
    assert found[1].mark.startswith("A-F")


# How high a level counts


def test_the_lowest_ground_may_lie_between_the_corners() -> None:
    # a swale along the house, 72 in out: -10 in; 0 at the house, -3 in at the deck's far corners
    spots = [((x, y), z) for x in (-50.0, 400.0) for y, z in ((0.0, 0.0), (72.0, -10.0), (144.0, -3.0))]
    lowest, at = lowest_along(lay_ground(spots), rectangle(0, 0, 192, 144))
    assert (lowest, at[1]) == (pytest.approx(-10.0), pytest.approx(72.0))
    ground = [{"at": at, "elevation": z} for at, z in spots]
    # 25 in is 28 in over the corners, 35 in over the swale
    (check,) = checked(deck(25.0, boundary((30.0, 120.0)), ground=ground))
    assert check.verdict is Verdict.FAIL
    values = {step.symbol: step.value for step in check.steps}
    assert values == {"z": 25.0, "g": pytest.approx(-10.0), "h": pytest.approx(35.0), "s": 120.0, "d": 96.0}
    assert 'lower it by 5"' in check.reason


def test_a_strip_of_ground_and_ground_beyond_what_was_measured_count_too() -> None:
    # along a line of points: the lowest station lies under the deck's long edges; beyond the last, level
    strip = lay_ground([((0.0, 0.0), 0.0), ((0.0, 60.0), -12.0), ((0.0, 120.0), -6.0)])
    assert lowest_along(strip, rectangle(0, 0, 96, 144))[0] == pytest.approx(-12.0)
    assert lowest_along(strip, rectangle(0, 100, 96, 300))[0] == pytest.approx(-8.0)
    patch = lay_ground([((0.0, 0.0), 0.0), ((48.0, 0.0), -4.0), ((0.0, 48.0), -9.0)])
    # outside the triangle the nearest measured place stands: its lowest corner, along the edge x = -20
    lowest, at = lowest_along(patch, rectangle(-20, -10, -10, 100))
    assert lowest == pytest.approx(-9.0)
    assert at[1] >= 48.0 - 1e-6


@given(
    heights=st.lists(st.floats(-40, 40), min_size=9, max_size=9),
    corner=st.tuples(st.floats(-60, 60), st.floats(-60, 60)),
    wide=st.floats(20, 200),
    deep=st.floats(20, 200),
)
def test_no_place_along_the_outline_lies_lower(
    heights: list[float], corner: tuple[float, float], wide: float, deep: float
) -> None:
    spots = [((60.0 * (i % 3), 60.0 * (i // 3)), z) for i, z in enumerate(heights)]
    ground = lay_ground(spots)
    x, y = corner
    outline = rectangle(x, y, x + wide, y + deep)
    lowest, at = lowest_along(ground, outline)
    around = [
        (a[0] + (b[0] - a[0]) * k / 40, a[1] + (b[1] - a[1]) * k / 40)
        for a, b in zip(outline, [*outline[1:], outline[0]], strict=True)
        for k in range(40)
    ]
    assert all(ground.elevation_at(place) >= lowest - 1e-6 for place in around)
    assert ground.elevation_at(at) == pytest.approx(lowest, abs=1e-6)


def test_a_flight_is_as_high_as_its_highest_tread() -> None:
    flight = {"from": "deck", "to": "ground", "along": [(60, 144), (108, 144)], "kind": "stringer"}
    plan = deck(36.0, boundary((30.0, 120.0), line=[(-300.0, 330.0), (600.0, 330.0)]), flight=[flight])
    study = Study(plan)
    level, stairs = check_setbacks(study.plan, study.levels, ())
    rise = study.levels.flights[0]
    assert (level.capacity, stairs.mark) == (120.0, "S1")
    # 36 in in five risers of 7.2 in: the highest tread lies 28.8 in up, not over 30 in
    assert rise.risers == 5
    assert next(step.value for step in stairs.steps if step.symbol == "h") == pytest.approx(28.8)
    assert stairs.capacity == 60.0
    (note,) = setback_notes(study.plan, study.levels)
    assert note.level == "ask"
    assert "10'-0\" instead of 5'-0\"" in note.text


# What is said


def test_the_reason_says_how_high_how_near_and_what_would_help() -> None:
    (check,) = checked(deck(36.0, boundary((30.0, 120.0))))
    for words in (
        'stands 96"',
        '36" over the ground',
        "10'-0\" is asked",
        'more than 30" high',
        'lower it by 6"',
    ):
        assert words in check.reason
    # where the line's own setback is not kept either, lowering does not help
    (check,) = checked(deck(36.0, boundary((30.0, 120.0), setback=100.0)))
    assert "lower" not in check.reason


def test_metric_plans_are_told_in_millimetres() -> None:
    plan = deck(36.0, boundary((750 / 25.4, 3000 / 25.4)), units="metric")
    (check,) = checked(plan)
    assert "3000 mm is asked of what is more than 750 mm high" in check.reason
    assert '"' not in check.reason.replace('"deck"', "")
    assert "3000 over 750 high" in {label.text for label in site_view(Study(plan)).labels}


def test_a_setback_that_shrinks_with_height_is_asked_about_and_kept() -> None:
    plan = deck(36.0, boundary((30.0, 36.0)))
    study = Study(plan)
    (note,) = setback_notes(study.plan, study.levels)
    assert note.level == "advice"
    assert "is that meant?" in note.text
    assert note in study.notes
    (check,) = check_setbacks(study.plan, study.levels, ())
    assert check.capacity == 36.0
    ladder = deck(36.0, boundary((30.0, 120.0), (96.0, 240.0)))
    assert list(setback_notes(ladder, Study(ladder).levels)) == []


# The plan file


def test_two_entries_for_one_height_are_refused_by_their_place() -> None:
    data = deck(36.0, boundary((30.0, 120.0), (96.0, 240.0), (30.0, 60.0))).model_dump(by_alias=True)
    with pytest.raises(
        InputError, match=r"site\.boundary 1, by_height 3, over: another height than by_height 1"
    ):
        plan_from_data(data)


TEXT = """
[[site.boundary]]
kind = "property"
line = [["-20 ft", "45 ft"], ["60 ft", "45 ft"]]
setback = "5 ft"
by_height = [{ over = "30 in", setback = "10 ft" }]   # the town's
[[platform]]
name = "a"
outline = [["0 ft", "0 ft"], ["8 ft", "0 ft"], ["8 ft", "8 ft"]]
elevation = "20 in"
"""


def test_heights_survive_saving_and_are_edited_by_their_place() -> None:
    plan = parse_plan(TEXT, "town.toml")
    assert parse_plan(plan_to_toml(plan), "town.toml") == plan
    place = "site.boundary.1.by_height.1.over"
    assert value_text(plan, place) == "30 in"
    changed = edit(plan, place, "2 ft")
    assert changed.site.boundary[0].by_height[0].over == 24.0
    after = changed_text(TEXT, plan, changed, "town.toml")
    assert 'by_height = [{ over = "24 in", setback = "10 ft" }]   # the town\'s' in after
    assert parse_plan(after, "town.toml") == changed


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ('{ over = "30 in" }', "by_height 1, setback: needed, but missing"),
        ('{ over = "30 in", setback = "10 ft", under = 3 }', "by_height 1, under: no such key"),
        ('{ over = "-1 in", setback = "10 ft" }', "by_height 1, over:"),
    ],
)
def test_what_is_wrong_in_an_entry_is_told_with_its_number(wrong: str, said: str) -> None:
    with pytest.raises(InputError) as error:
        parse_plan(TEXT.replace('{ over = "30 in", setback = "10 ft" }', wrong), "town.toml")
    assert f"site.boundary 1, {said}" in str(error.value)


# Drawn


def test_site_plan_and_framing_plan_draw_each_setback_with_its_words() -> None:
    study = Study(read_plan(data_path("plans", "site-setbacks.toml")))
    for view in (site_view(study), plan_view(study)):
        texts = [label.text for label in view.labels]
        assert texts.count('10\'-0" over 30" high') == 2  # beside both stretches of the line
        assert "setback 5'-0\"" in texts
    lines = site_view(study).of(Role.SETBACK)
    # the line runs up x = 34 ft and back along y = 23 ft: 5 and 10 ft inside it, square to it
    across = sorted(
        {round(shape.points[0][0], 3) for shape in lines if shape.points[0][0] == shape.points[1][0]}
    )  # type: ignore[union-attr]
    along = sorted(
        {round(shape.points[0][1], 3) for shape in lines if shape.points[0][1] == shape.points[1][1]}
    )  # type: ignore[union-attr]
    assert across == [288.0, 348.0]
    assert along == [156.0, 216.0]


def test_the_demo_counts_its_swale() -> None:
    study = Study(read_plan(data_path("plans", "site-setbacks.toml")))
    found = {c.mark: c for c in study.checks if c.rule.endswith("by its height")}
    assert [found[name].capacity for name in ("terrace", "court")] == [120.0, 60.0]
    assert all(check.verdict is Verdict.PASS for check in found.values())
    filled = study.asked
    for number in (3, 4):
        filled = edit(filled, f"site.ground.{number}.elevation", "-3 in")
    again = {c.mark: c for c in Study(filled).checks if c.rule.endswith("by its height")}
    assert again["terrace"].capacity == 60.0


# Every footing that stands too near is named


def buried(setback: float, line: list[tuple[float, float]]) -> Check:
    plan = deck(36.0, {"kind": "utility", "line": line, "setback": setback})
    (check,) = [check for check in checked(plan) if check.rule == "footings clear of the buried line 1"]
    return check


def footings_by(line_y: float) -> list[tuple[str, float]]:
    """Every footing of the deck with its clear distance from a line along the house, the nearest first."""
    study = Study(deck(36.0))
    return sorted(
        ((f.mark, abs(line_y - f.at[1]) - f.diameter / 2) for f in study.footings), key=lambda item: item[1]
    )


def test_every_footing_too_near_a_buried_line_is_named_once() -> None:
    marks = footings_by(120.0)
    assert len(marks) > 2
    # the line runs under the beam line: all footings stand on it
    check = buried(0.0, [(-300.0, 120.0), (600.0, 120.0)])
    assert check.verdict is Verdict.FAIL
    assert all(check.reason.count(f"{mark} ") + check.reason.count(f"{mark},") == 1 for mark, _ in marks)
    assert " stand too near as well; " in check.reason
    assert check.reason.endswith("move or cut them back")
    assert len(check.steps) == len(marks)


@pytest.mark.parametrize(("off", "verdict"), [(-0.01, "PASS"), (0.0, "PASS"), (0.01, "FAIL")])
def test_footings_at_their_distance_are_not_named(off: float, verdict: str) -> None:
    nearest, near = footings_by(180.0)[0]
    check = buried(near + off, [(-300.0, 180.0), (600.0, 180.0)])
    assert (check.mark, check.verdict) == (nearest, verdict)


def test_one_footing_too_near_is_told_alone() -> None:
    study = Study(deck(36.0))
    first = min(study.footings, key=lambda footing: footing.at[0])
    x = first.at[0] - first.diameter / 2 - 6
    check = buried(12.0, [(x, -300.0), (x, 600.0)])
    assert (
        check.reason
        == f'footing {first.mark} stands 6" from the buried line; 12" is asked: move or cut it back'
    )
