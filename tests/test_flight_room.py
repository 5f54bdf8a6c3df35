"""Flights and their landings are clear of each other, of platforms, posts and walls.

Geometry; a landing's depth of 36 in is IRC R311.7.6 (from memory), headroom of 80 in R311.7.2 (two published copies).
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from deckplan.checks.flight_room import BODY, LANDING
from deckplan.plan.file import read_plan
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import Corner, beam, make_plan, platform, rectangle

DEMOS = sorted((Path(__file__).parents[1] / "data" / "plans").glob("*.toml"))


def deck(name: str, outline: list[Corner], elevation: float, **more: Any) -> dict[str, Any]:
    depth = max(y for _, y in outline) - min(y for _, y in outline)
    return platform(name, outline, elevation, beam(12), beam(depth - 12), joists={"size": "2x10"}, **more)


def down(upper: str, a: Corner, b: Corner, lower: str = "ground", kind: str = "stringer") -> dict[str, Any]:
    return {"from": upper, "to": lower, "along": [a, b], "kind": kind}


def room(*platforms: dict[str, Any], flight: list[dict[str, Any]], **more: Any) -> list[Check]:
    study = Study(make_plan(*platforms, flight=flight, **more))
    return [check for check in study.checks if check.rule in (BODY, LANDING)]


def failing(checks: list[Check]) -> list[Check]:
    return [check for check in checks if check.verdict is Verdict.FAIL]


# 30 in down to the ground: 4 risers of 7-1/2 in, so 3 treads of 11 in: 33 in of run, a landing from there to 69 in.
UPPER = deck("a", rectangle(0, 0, 240, 144), 30.0)
RUN = 33.0


@pytest.mark.parametrize(("start", "fails"), [(108.0, False), (106.5, False), (106.4, True), (72.0, True)])
def test_two_flights_from_one_edge_stand_beside_each_other(start: float, fails: bool) -> None:
    flights = [down("a", (60, 144), (108, 144)), down("a", (start, 144), (start + 48, 144))]
    found = failing(room(UPPER, flight=flights))
    assert [(check.mark, check.rule) for check in found] == [("S2", BODY)] * fails
    assert all("S2 and S1 stand in one place" in check.reason for check in found)


def test_the_reason_says_how_far_and_where() -> None:
    (check,) = failing(
        room(UPPER, flight=[down("a", (60, 144), (108, 144)), down("a", (72, 144), (120, 144))])
    )
    assert 'over 36" of its width and 33" of its length about (7\'-6", 13\'-4 1/2")' in check.reason
    assert "move one of them along its edge" in check.reason
    assert check.demand == pytest.approx(33.0)


@pytest.mark.parametrize(("apart", "fails"), [(RUN + 37, False), (RUN + 36, False), (RUN + 35.9, True)])
def test_a_landing_ends_before_another_platform(apart: float, fails: bool) -> None:
    other = deck("b", rectangle(0, 144 + apart, 240, 400), 30.0)
    found = failing(room(UPPER, other, flight=[down("a", (60, 144), (108, 144))]))
    assert [check.rule for check in found] == [LANDING] * fails
    assert all(check.demand == pytest.approx(apart - RUN) and '"b"' in check.reason for check in found)


def test_a_flight_to_the_ground_does_not_run_into_a_platform_but_goes_to_it() -> None:
    upper, other = deck("a", rectangle(0, 0, 240, 144), 44.0), deck("b", rectangle(0, 144, 240, 288), 30.0)
    through = failing(room(upper, other, flight=[down("a", (60, 144), (96, 144))]))
    assert [check.rule for check in through] == [BODY]
    assert 'let the flight go to "b"' in through[0].reason
    assert not failing(room(upper, other, flight=[down("a", (60, 144), (96, 144), "b", "auto")]))


@pytest.mark.parametrize(("gap", "fails"), [(36.0, False), (35.9, True)])
def test_opposite_flights_may_share_their_landings(gap: float, fails: bool) -> None:
    apart = 2 * RUN + gap
    other = deck("b", rectangle(0, 144 + apart, 240, 420), 30.0)
    flights = [down("a", (60, 144), (108, 144)), down("b", (60, 144 + apart), (108, 144 + apart))]
    found = failing(room(UPPER, other, flight=flights))
    assert [(check.mark, check.rule) for check in found] == [("S1", LANDING), ("S2", LANDING)] * fails


@pytest.mark.parametrize(("end", "fails"), [(147.25, False), (148.75, False), (148.85, True), (160.0, True)])
def test_no_post_stands_in_a_flight(end: float, fails: bool) -> None:
    # a 6x6 of a level far above, its middle at x = 150, reaches from 147-1/4 to 152-3/4
    posts = [12.0, 150.0, 228.0]
    high = platform("b", rectangle(0, 145, 240, 288), 250.0, beam(18, posts=posts), beam(125, posts=posts))
    found = failing(room(UPPER, high, flight=[down("a", (end - 40, 144), (end, 144))]))
    assert [("post B-P2" in check.reason, check.rule, check.mark) for check in found] == [
        (True, BODY, "S1")
    ] * fails


def test_the_upper_platform_itself_comes_round() -> None:
    outline = [(0.0, 0.0), (240.0, 0.0), (240.0, 300.0), (0.0, 300.0), (0.0, 204.0), (180.0, 204.0), (180.0, 96.0),
               (0.0, 96.0)]  # fmt: skip
    bay = platform("a", outline, 30.0, beam(12), beam(84), beam(216), beam(288), joists={"size": "2x10"})
    found = failing(room(bay, flight=[down("a", (60, 96), (108, 96))]))
    assert not found  # 108 in between the legs, 33 + 36 are asked
    narrow = [(x, y if y != 204 else 164.9) for x, y in outline]
    bay = platform("a", narrow, 30.0, beam(12), beam(84), beam(216), beam(288), joists={"size": "2x10"})
    (check,) = failing(room(bay, flight=[down("a", (60, 96), (108, 96))]))
    assert (check.rule, check.demand) == (LANDING, pytest.approx(35.9))
    assert "an edge that faces away" in check.reason


# From 150 in: 20 risers of 7-1/2 in, 19 treads of 11 in: 209 in of run.
HIGH = deck("a", rectangle(0, 0, 240, 144), 150.0)


@pytest.mark.parametrize(("elevation", "fails"), [(91.0, False), (90.25, False), (90.2, True)])
def test_a_landing_under_a_level_has_headroom(elevation: float, fails: bool) -> None:
    # boards 1 in, 2x10 joists 9-1/4 in: 80 in are left under 90-1/4, a tread beyond the lowest nosing
    other = platform(
        "b", rectangle(0, 144 + 209 + 11, 240, 720), elevation, beam(120), beam(330), joists={"size": "2x10"}
    )
    found = failing(room(HIGH, other, flight=[down("a", (60, 144), (108, 144))]))
    assert [check.rule for check in found] == [LANDING] * fails


@pytest.mark.parametrize(("elevation", "fails"), [(101.0, False), (101.29, False), (101.31, True)])
def test_a_flight_passes_over_a_lower_level(elevation: float, fails: bool) -> None:
    # under the stringers at 50 in out: 150 - 1 - 7.5/11 x 50 - 11.25 x sqrt(7.5^2 + 11^2)/11 = 101.29 in
    other = platform("b", rectangle(0, 164, 240, 194), elevation, beam(6), beam(24), joists={"size": "2x6"})
    found = failing(room(HIGH, other, flight=[down("a", (60, 144), (108, 144))]))
    assert [check.rule for check in found if '"b"' in check.reason and "platform" in check.reason] == [
        BODY
    ] * fails


@pytest.mark.parametrize(("wall", "fails"), [(144 + RUN + 36, False), (144 + RUN + 35.9, True)])
def test_a_wall_leaves_room_to_step_off(wall: float, fails: bool) -> None:
    house = {"wall": [{"name": "shed", "line": [(-60.0, wall), (300.0, wall)]}]}
    found = failing(room(UPPER, flight=[down("a", (60, 144), (108, 144))], house=house))
    assert [check.rule for check in found] == [LANDING] * fails
    assert all('wall "shed" leaves 35 7/8"' in check.reason for check in found)


def test_a_wall_through_one_side_of_a_flight_is_found() -> None:
    house = {"wall": [{"name": "shed", "line": [(-60.0, 160.0), (64.0, 160.0)]}]}
    study = Study(make_plan(UPPER, flight=[down("a", (60, 144), (108, 144))], house=house))
    (check,) = [check for check in study.checks if check.rule == "flight clear of the house"]
    assert check.verdict is Verdict.FAIL
    beside = {"wall": [{"name": "shed", "line": [(-60.0, 160.0), (60.0, 160.0)]}]}
    study = Study(make_plan(UPPER, flight=[down("a", (60, 144), (108, 144))], house=beside))
    assert not [check for check in study.checks if check.rule == "flight clear of the house"]


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_in_the_demo_plans_nothing_stands_in_a_flight(path: Path) -> None:
    plan = read_plan(path)
    checks = [check for check in Study(plan).checks if check.rule in (BODY, LANDING)]
    assert len([check for check in checks if check.rule == BODY]) == len(plan.flights)
    assert not failing(checks)
