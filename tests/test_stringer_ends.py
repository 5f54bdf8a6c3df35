"""Ends of stringers: hangers, the board before a shallow rim with its screws, the ground and the platform below."""

from __future__ import annotations

import math

import pytest

from deckplan.draw.flight_view import flight_view
from deckplan.engineering.stairs import stringer_shear
from deckplan.layout.flight_feet import RULE as FRAMING
from deckplan.layout.flight_hanger_board import BOARD_RULE, SCREW_RULE, SPLIT_RULE
from deckplan.layout.model import Kind, Member
from deckplan.levels.stringer_ends import FEET_RULE, SEAT_RULE
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle
from tests.test_stringer_heads import down_to_ground


def of(study: Study, rule: str) -> Check:
    (check,) = [check for check in study.checks if check.rule == rule]
    return check


def test_a_head_hangs_one_heavy_step() -> None:
    # 15-1/2 in apart, 33 in run: 10 x 15.5 x 33 / 144 / 2 + 300 = 317.8 lb; 1-1/2 x 1-1/2 in of seat at 565 x 0.67 psi
    # (southern pine, NDS Supplement 2018 Table 4B): 851.7 lb
    check = of(Study(down_to_ground(28.0, "2x12")), SEAT_RULE)
    assert check.demand == pytest.approx(317.76, abs=0.01)
    assert check.capacity == pytest.approx(565 * 0.67 * 2.25)
    assert "300 lb" in check.combination


def test_a_crowd_on_a_long_stair_is_more_than_one_heavy_step() -> None:
    # 15-1/2 in apart, 12 treads of 10 in: 6.458 sq ft, at 40 psf 258 lb, under the 300; at 100 psf 646
    plan = down_to_ground(100.0, "2x12", tread=10.0)
    assert "300 lb" in of(Study(plan), SEAT_RULE).combination
    crowd = Study(plan)
    busy = crowd.profile.with_values(stair_live_load=100.0)
    crowd.__dict__["profile"] = busy
    check = of(crowd, SEAT_RULE)
    assert check.combination == "D + L"
    assert check.demand == pytest.approx(110 * 15.5 * 120 / 144 / 2)


@pytest.mark.parametrize(
    ("size", "screws", "blocks"),
    [("2x6", 4, True), ("2x8", 4, False)],
)
def test_the_board_before_a_shallow_rim_by_hand(size: str, screws: int, blocks: bool) -> None:
    # 317.8 lb stand 1-1/2 + 3/4 = 2-1/4 in off the rim. Rim 2x8: the upper row lies 7-1/4 - 1 = 6-1/4 in over its lower
    # edge. 4 screws: 79.4 lb down on each, 317.8 x 2.25 / 6.25 / 2 = 57.2 lb out on the upper two: 97.9 lb at 35.8 deg.
    depth = {"2x6": 5.5, "2x8": 7.25}[size]
    study = Study(down_to_ground(28.0, size))
    check = of(study, SCREW_RULE)
    down, out = 317.76 / screws, 317.76 * 2.25 / (depth - 1) / (screws / 2)
    assert check.demand == pytest.approx(math.hypot(down, out), abs=0.05)
    assert check.verdict is Verdict.PASS
    assert f"required: {screws} structural screws" in check.reason
    # NDS 2018 Equation 12.4-1 with W'p = 1800 G^1.5 D^0.75 (1.5 - 5/32) 0.7 and Z' of the 1/4 in lag, both wet
    pulled = 1800 * 0.55**1.5 * 0.25**0.75 * (1.5 - 0.15625) * 0.7
    pushed = next(step.value for step in check.steps if step.symbol == "Z'")
    share = (down / check.demand) ** 2  # cos2 of the angle
    assert check.capacity == pytest.approx(
        pulled * pushed / (pulled * share + pushed * (1 - share)), rel=1e-3
    )
    # NDS 2018 3.4.3.3: 2/3 x 169.75 x 1.5 de (de / 11.25)2 with de to the lower row: 328 lb at 6-1/4, 122 lb at 4-1/2
    split = of(study, SPLIT_RULE)
    de = depth - 1
    holds = 2 / 3 * 169.75 * 1.5 * de * (de / 11.25) ** 2
    assert (split.capacity is None) is blocks
    assert split.reason.startswith("required: blocks") is blocks
    assert (holds < 317.76 / 2) is blocks
    # 317.8 x 15.5 / 2 = 2,463 lb in on a 2x12: 750 x 31.64 = 23,730 lb in (NDS Supplement 2018 Tables 1B and 4B)
    bends = of(study, BOARD_RULE)
    assert bends.demand == pytest.approx(317.76 * 15.5 / 2, abs=0.1)
    assert bends.capacity == pytest.approx(750 * 1.5 * 11.25**2 / 6)


def test_weak_wood_takes_more_screws() -> None:
    plan = down_to_ground(28.0, "2x6")
    soft = plan.model_copy(
        update={"materials": plan.materials.model_copy(update={"species": "western cedars"})}
    )
    few, more = (of(Study(each), SCREW_RULE) for each in (plan, soft))
    assert "required: 4 " in few.reason
    assert "required: 6 " in more.reason or "required: 8 " in more.reason


@pytest.mark.parametrize(
    ("soil", "verdict"), [(250.0, Verdict.PASS), (246.01, Verdict.PASS), (245.9, Verdict.FAIL)]
)
def test_the_pad_under_the_inner_feet(soil: float, verdict: Verdict) -> None:
    # 317.8 lb on 15.5 x 12 in = 1.292 sq ft: 246.0 psf
    plan = down_to_ground(28.0, "2x12")
    plan = plan.model_copy(update={"site": plan.site.model_copy(update={"soil_bearing": soil})})
    check = of(Study(plan), FEET_RULE)
    assert check.demand == pytest.approx(317.76 / (15.5 / 12), abs=0.01)
    assert check.verdict is verdict
    assert check.reason.startswith("required:") is (verdict is Verdict.PASS)


@pytest.mark.parametrize(("frost", "warned"), [(0.0, False), (0.5, True), (42.0, True)])
def test_a_pad_between_piers_may_heave_where_the_ground_freezes(frost: float, warned: bool) -> None:
    plan = down_to_ground(28.0, "2x12")
    plan = plan.model_copy(update={"site": plan.site.model_copy(update={"frost_depth": frost})})
    study = Study(plan)
    inner = study.flights.flights[0].inner_feet
    stringers = [part for part in study.flights.flights[0].members if part.kind is Kind.STRINGER]
    assert inner == len(stringers) - 2, "a pier stands under each of the outer two"
    said = [note for note in study.notes if "frost may lift the pad" in note.text]
    assert [note.level for note in said] == ["caution"] * warned
    brackets = next(label.text for label in flight_view(study, 0).labels if "bracket" in label.text)
    assert brackets == f"2 brackets on the piers,\n{inner} on the pad between"


def down_to_platform(direction: str, start: float) -> Plan:
    joists = {"direction": direction, "size": "2x10", "spacing": 16.0, "start": start}
    above = {"direction": "y", "size": "2x10"}
    return make_plan(
        platform("upper", rectangle(0, 0, 120, 144), 56.0, beam(12), beam(108), joists=above),
        platform("lower", rectangle(120, 0, 300, 144), 28.0, beam(12), beam(132), joists=joists),
        flight=[{"from": "upper", "to": "lower", "along": ((120.0, 40.0), (120.0, 88.0)), "kind": "stringer"}],
    )  # fmt: skip


@pytest.mark.parametrize(
    ("direction", "start", "blocked"), [("x", 0.0, True), ("y", 8.0, True), ("y", 0.0, False)]
)
def test_feet_on_a_platform_stand_on_joists_or_on_blocking(
    direction: str, start: float, blocked: bool
) -> None:
    # The toes stand 33 in out, at x = 153; joists along y at 120 + 32 carry them all, joists at 144 and 160 do not.
    study = Study(down_to_platform(direction, start))
    check = of(study, FRAMING)
    assert check.verdict is Verdict.PASS
    flight = study.flights.of(0)
    blocks = [m for m in flight.members if m.kind is Kind.BLOCKING]
    assert bool(blocks) is blocked
    assert all(block.platform == "lower" for block in blocks)
    wood = [m for m in study.layout.of("lower") if m.kind in (Kind.JOIST, Kind.BLOCKING)]
    feet = [m for m in flight.members if m.kind is Kind.STRINGER]
    for foot in feet:
        at = foot.point(foot.length - 2.0)
        assert min(_off(at, member) for member in wood) <= 2.5


def _off(at: tuple[float, float], member: Member) -> float:
    from deckplan.geometry import point_to_line

    return point_to_line(at, member.line) - member.width / 2


def test_a_step_a_depth_from_the_end_shears_most() -> None:
    """Statics of a level beam: R = P (l - d) / l; NDS 2018 3.4.3.1 leaves out what is nearer."""
    fv, _ = stringer_shear(1.5, 5.0, 50.0, 0.0, 0.0, 300.0)
    assert fv == pytest.approx(1.5 * 300 * 45 / 50 / 7.5)
    short, _ = stringer_shear(1.5, 11.25, 11.0, 0.0, 0.0, 300.0)
    assert short == pytest.approx(1.5 * 150 / (1.5 * 11.25))


def test_solid_stringers_say_what_their_treads_stand_on() -> None:
    said = [
        any("they stay whole" in note.text for note in Study(down_to_ground(at, "2x12")).notes)
        for at in (28, 80)
    ]
    assert said == [False, True]
