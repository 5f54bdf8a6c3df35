"""Footings beside footings, frost, lines to keep away from, levels over levels."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from deckplan.checks.footings import FootingDesign
from deckplan.checks.footings_apart import CAREFUL_SPREAD, check_footings_apart, needed_clear
from deckplan.checks.frost import check_frost
from deckplan.checks.overlaps import check_overlaps
from deckplan.checks.setbacks import check_setbacks
from deckplan.layout.ties import find_ties, frost_founded
from deckplan.plan.model import Flight
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import HOUSE, LEDGER, attached, beam, hung_pair, make_plan, platform, rectangle


def footing(
    mark: str, x: float, bottom: float, top: float = 0.0, diameter: float = 12.0, y: float = 200.0
) -> FootingDesign:
    return FootingDesign(mark, mark.replace("F", "P"), (x, y), diameter, 8.0, top, bottom, 1000.0, 1000.0)


def apart(study: Study, *footings: FootingDesign) -> dict[str, Check]:
    found = check_footings_apart(study.plan, study.profile, study.levels, footings or study.footings)
    return {check.rule: check for check in found}


# Footings beside each other


def test_bottoms_36_in_apart_want_36_in_clear_or_72_in_loose_ground() -> None:
    # trade literature: 45 degrees, or 2 along for 1 down
    assert needed_clear(36) == 36
    assert needed_clear(36, CAREFUL_SPREAD) == 72


@pytest.mark.parametrize(("clear", "verdict"), [(35.9, "FAIL"), (36.0, "PASS"), (36.1, "PASS")])
def test_a_deep_footing_keeps_clear_of_a_shallow_one(clear: float, verdict: str) -> None:
    study = Study(attached(192, 144))
    pair = (footing("A-F1", 0, -48), footing("A-F2", clear + 12, -12))
    check = apart(study, *pair)["footings at different depths"]
    assert check.verdict == verdict
    assert check.mark == "A-F2"  # the shallow one loses its ground
    assert check.demand == pytest.approx(clear)
    assert check.capacity == pytest.approx(36)
    assert apart(study, *reversed(pair))["footings at different depths"].verdict == verdict


def test_footings_in_one_place_overlap() -> None:
    study = Study(attached(192, 144))
    check = apart(study, footing("A-F1", 0, -12), footing("A-F2", 11, -12))["footings clear of each other"]
    assert check.verdict is Verdict.FAIL
    assert "overlap by 1" in check.reason
    assert 'want 12" from middle to middle, not 11"' in check.reason
    assert "no key of a plan asks for it" in check.reason
    touching = apart(study, footing("A-F1", 0, -12), footing("A-F2", 12, -12))
    assert touching["footings at different depths"].verdict is Verdict.PASS


def test_a_pier_under_a_flight_is_held_to_standing_clear_only() -> None:
    study = Study(attached(192, 144))
    pier = replace(footing("S1-F1", 20, -48, diameter=8.0), post="")
    assert "footings at different depths" not in apart(study, footing("A-F1", 0, -12), pier)
    over = replace(pier, at=(9.0, 200.0))
    assert apart(study, footing("A-F1", 0, -12), over)["footings clear of each other"].verdict is Verdict.FAIL


def test_every_pair_that_is_too_close_is_named_and_one_speaks_for_the_rest() -> None:
    study = Study(attached(192, 144))
    many = [footing(f"A-F{n}", 20.0 * n, -48.0 if n % 2 else -12.0) for n in range(1, 5)]
    found = check_footings_apart(study.plan, study.profile, study.levels, tuple(many))
    assert sum(c.rule == "footings at different depths" for c in found) == 3
    level = [replace(f, bottom=-48.0) for f in many]
    found = check_footings_apart(study.plan, study.profile, study.levels, tuple(level))
    assert sum(c.rule == "footings at different depths" for c in found) == 1


@pytest.mark.parametrize(("depth", "verdict"), [(59.0, "FAIL"), (60.0, "PASS")])
def test_within_5_ft_of_the_house_a_footing_bears_at_the_house_footings_depth(
    depth: float, verdict: str
) -> None:
    # code text of some places: 5 ft
    wall = {"wall": [{**HOUSE["wall"][0], "footing_depth": 60.0}]}
    study = Study(make_plan(platform("p", rectangle(0, 0, 192, 144), 48, LEDGER, beam(120)), house=wall))
    near = apart(study, footing("A-F1", 60, -depth, y=60.0))["footing by the house wall"]
    assert near.verdict == verdict
    assert "footing by the house wall" not in apart(study, footing("A-F1", 60, -12, y=60.1))


def test_the_layout_digs_to_the_house_footing_by_itself() -> None:
    wall = {"wall": [{**HOUSE["wall"][0], "footing_depth": 60.0}]}
    study = Study(make_plan(platform("p", rectangle(0, 0, 192, 84), 48, LEDGER, beam(58)), house=wall))
    assert apart(study)["footing by the house wall"].verdict is Verdict.PASS


# Slopes


def sloping(fall: float) -> Study:
    """Ground that falls `fall` [1] away from the house."""
    ground = [
        {"at": (0.0, 0.0), "elevation": 0.0},
        {"at": (240.0, 0.0), "elevation": 0.0},
        {"at": (0.0, 240.0), "elevation": -240 * fall},
        {"at": (240.0, 240.0), "elevation": -240 * fall},
    ]
    deck = platform("p", rectangle(0, 0, 192, 144), 48, LEDGER, beam(120))
    return Study(make_plan(deck, house=HOUSE, site={"ground": ground, "frost_depth": 60.0}))


@pytest.mark.parametrize(("fall", "verdict"), [(0.3, "PASS"), (0.5, "PASS"), (0.51, "OUTSIDE")])
def test_ground_steeper_than_2_to_1_is_outside(fall: float, verdict: str) -> None:
    # code text: steeper than 2:1 is for an engineer
    assert apart(sloping(fall))["ground slope at the footings"].verdict == verdict


def test_between_1_in_3_and_2_to_1_a_footing_keeps_cover_towards_the_slope() -> None:
    # IRC R403.1.7.2, H / 3 (from memory): 96 in of slope ask 32 in; level cover under 60 in at 0.4 is 150 in less half
    # the footing, under 12 in of depth 30 in less half the footing: by hand
    assert "footing beside a slope" not in apart(sloping(0.3))
    study = sloping(0.4)
    assert apart(study)["footing beside a slope"].verdict is Verdict.PASS
    shallow = footing("A-F1", 60, -60.0, top=-48.0, y=120.0)
    check = apart(study, shallow)["footing beside a slope"]
    assert check.verdict is Verdict.OUTSIDE
    assert check.demand == pytest.approx(24)
    assert check.capacity == pytest.approx(32)


# Frost


def terraces(flight_kind: str = "", frost: float = 42.0, **more: Any) -> Study:
    """A level at the house and one in front of it, a box step or stringers down where asked."""
    upper = platform("upper", rectangle(0, 0, 192, 144), 40, LEDGER, beam(120), joists={"size": "2x10"})
    lower = platform("lower", rectangle(0, 144, 192, 288), 29.5, beam(24), beam(120), joists={"size": "2x10"})
    flights = [
        {"from": "upper", "to": "lower", "along": [(60, 144), (120, 144)], "kind": flight_kind, "tread": 14}
    ]
    return Study(
        make_plan(
            upper, lower, house=HOUSE, site={"ground": [], "frost_depth": frost}, flight=flights if flight_kind else [],
            **more,
        )
    )  # fmt: skip


def frost(study: Study, *footings: FootingDesign) -> dict[str, Check]:
    found = check_frost(study.plan, study.profile, study.levels, study.layout, footings or study.footings)
    return {check.mark: check for check in found}


def with_depth(study: Study, depth: float) -> tuple[FootingDesign, ...]:
    """All footings of the lower level that deep."""
    return tuple(replace(f, bottom=f.top - depth) if f.mark.startswith("B-") else f for f in study.footings)


def test_attached_stands_below_the_frost_and_free_standing_need_not() -> None:
    # IRC R507.3.2 and its exception for free-standing decks
    study = terraces()
    assert frost_founded(study.plan, study.levels) == {"upper"}
    found = frost(study, *with_depth(study, 12.0))
    assert found["upper"].verdict is Verdict.PASS
    assert found["upper"].capacity == 42
    assert found["lower"].verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(("depth", "verdict"), [(12.0, "FAIL"), (41.9, "FAIL"), (42.0, "PASS")])
def test_a_floating_level_is_never_tied_to_a_frost_founded_one(depth: float, verdict: str) -> None:
    # trade literature; a box step is screwed to both
    study = terraces("box")
    assert [(tie.kind, tie.by) for tie in find_ties(study.plan, study.levels)] == [("box", "S1")]
    assert frost_founded(study.plan, study.levels) == {"upper", "lower"}
    check = frost(study, *with_depth(study, depth))["lower"]
    assert check.verdict == verdict
    if verdict == "FAIL":
        assert "box step S1" in check.reason
        assert "upper" in check.reason


def test_a_single_riser_ties_nothing_and_two_free_levels_move_together() -> None:
    study = terraces()
    riser = Flight.model_validate(
        {"from": "upper", "to": "lower", "along": [(60, 144), (120, 144)], "kind": "direct"}
    )
    direct = Study(study.asked.model_copy(update={"flights": (riser,)}))
    assert find_ties(direct.plan, direct.levels) == ()
    one = platform("one", rectangle(0, 0, 192, 144), 40, beam(24), beam(120))
    two = platform("two", rectangle(0, 144, 192, 288), 29.5, beam(24), beam(120))
    flight = {"from": "one", "to": "two", "along": [(60, 144), (120, 144)], "kind": "box", "tread": 14}
    free = Study(make_plan(one, two, flight=[flight], site={"ground": [], "frost_depth": 42.0}))
    assert len(find_ties(free.plan, free.levels)) == 1
    assert frost_founded(free.plan, free.levels) == frozenset()
    assert {check.verdict for check in frost(free).values()} == {Verdict.NOT_APPLICABLE}


def test_joists_hung_on_an_attached_level_tie_to_it() -> None:
    study = Study(hung_pair(frost_depth=42.0))
    assert [tie.kind for tie in find_ties(study.plan, study.levels)] == ["beam"]
    assert frost_founded(study.plan, study.levels) == {"upper", "lower"}
    check = frost(study, *with_depth(study, 12.0))["lower"]
    assert check.verdict is Verdict.FAIL
    assert "joists hung on its beam" in check.reason


def test_no_frost_depth_no_frost_check() -> None:
    assert {c.verdict for c in frost(terraces(frost=0.0)).values()} == {Verdict.NOT_APPLICABLE}


# Lines to keep away from


def setback(kind: str, line: list[tuple[float, float]], asked: float) -> list[Check]:
    study = Study(
        attached(192, 144, site={"ground": [], "boundary": [{"kind": kind, "line": line, "setback": asked}]})
    )
    return check_setbacks(study.plan, study.levels, study.footings)


@pytest.mark.parametrize(("y", "verdict"), [(263.0, "FAIL"), (264.0, "PASS"), (265.0, "PASS")])
def test_a_deck_keeps_its_setback_from_a_property_line(y: float, verdict: str) -> None:
    # the deck ends at 144 in, 120 in are asked: arithmetic
    (check,) = setback("property", [(-300.0, y), (600.0, y)], 120.0)
    assert (check.verdict, check.mark) == (verdict, "deck")
    assert check.demand == pytest.approx(y - 144)


@pytest.mark.parametrize("asked", [0.0, 60.0])
@pytest.mark.parametrize(("y", "across"), [(100.0, 44.0), (-100.0, None)])
def test_crossing_a_property_line_or_lying_beyond_it_fails_whatever_the_setback(
    asked: float, y: float, across: float | None
) -> None:
    (check,) = setback("property", [(-300.0, y), (600.0, y)], asked)
    if across is None:
        # behind the house: the line lies on the other side, 100 in off
        assert check.demand == pytest.approx(100)
        assert check.verdict is Verdict.PASS
    else:
        assert check.demand == pytest.approx(-across)
        assert check.verdict is Verdict.FAIL
    (beyond,) = setback("property", [(-300.0, 0.001), (600.0, 0.001)], asked)
    assert beyond.verdict is Verdict.FAIL


def test_septic_and_buried_lines_keep_footings_away_as_well() -> None:
    # a septic tank under the outer edge: a closed line is an area to keep out of
    tank = [(60.0, 100.0), (120.0, 100.0), (120.0, 160.0), (60.0, 160.0), (60.0, 100.0)]
    deck, holes = setback("septic", tank, 60.0)
    assert deck.verdict is Verdict.FAIL
    assert deck.demand == pytest.approx(-44)
    assert holes.verdict is Verdict.FAIL
    assert holes.mark.startswith("A-F")
    line = [(-300.0, 400.0), (600.0, 400.0)]
    assert [c.verdict for c in setback("utility", line, 36.0)] == [Verdict.PASS, Verdict.PASS]
    assert len(setback("easement", line, 36.0)) == 1


def test_stairs_keep_the_setback_too() -> None:
    flight = Flight.model_validate(
        {"from": "deck", "to": "ground", "along": [(60, 144), (108, 144)], "kind": "stringer"}
    )
    boundary = [{"kind": "property", "line": [(-300.0, 200.0), (600.0, 200.0)], "setback": 50.0}]
    plan = attached(192, 144, site={"ground": [], "boundary": boundary})
    (bare,) = check_setbacks(plan, Study(plan).levels, ())
    stairs = Study(plan.model_copy(update={"flights": (flight,)}))
    (check,) = check_setbacks(stairs.plan, stairs.levels, ())
    assert bare.verdict is Verdict.PASS
    assert (check.mark, check.verdict) == ("S1", Verdict.FAIL)
    assert check.demand == pytest.approx(56 - stairs.levels.flights[0].run)


# Levels over levels


def stacked(rise: float, reach: float = 60.0) -> Study:
    """A level whose edge reaches over a lower one by `reach` [in], its surface `rise` [in] higher; 2x10 joists."""
    lower = platform("lower", rectangle(0, 0, 192, 144), 24, beam(18), beam(126), joists={"size": "2x8"})
    upper = platform(
        "upper", rectangle(0, 144 - reach, 192, 288), 24 + rise, beam(reach + 24), beam(reach + 120),
        joists={"size": "2x10"},
    )  # fmt: skip
    return Study(make_plan(lower, upper, site={"ground": []}))


def over(study: Study) -> list[Check]:
    return check_overlaps(study.plan, study.profile, study.levels, study.layout)


@pytest.mark.parametrize(
    ("clear", "verdict"),
    [
        (-0.25, "FAIL"),
        (0.0, "NOT_APPLICABLE"),
        (35.0, "NOT_APPLICABLE"),
        (36.0, "FAIL"),
        (79.9, "FAIL"),
        (80.0, "PASS"),
    ],
)
def test_headroom_under_an_upper_level(clear: float, verdict: str) -> None:
    # IRC R311.7.2: 80 in; underside of the joists: boards 1 in and 9-1/4 in of 2x10 (PS 20)
    (check,) = over(stacked(clear + 1 + 9.25))
    assert check.verdict == verdict
    assert check.mark == "upper"
    assert check.reason or verdict == "PASS"


def test_levels_side_by_side_do_not_overlap() -> None:
    assert over(stacked(10.0, 0.0)) == []
    assert over(stacked(10.0, 0.5)) == []


def test_a_beam_over_the_lower_level_counts() -> None:
    # the beam line 24 in inside the overlap hangs below the joists by its depth
    lower = platform("lower", rectangle(0, 0, 192, 144), 24, beam(18), beam(126), joists={"size": "2x8"})
    upper = platform(
        "upper", rectangle(0, 84, 192, 288), 120, beam(24, build="2-2x12"), beam(180, build="2-2x12"),
        joists={"size": "2x10"},
    )  # fmt: skip
    (check,) = over(Study(make_plan(lower, upper, site={"ground": []})))
    assert check.demand == pytest.approx(120 - 1 - 9.25 - 11.25 - 24)
    assert check.verdict is Verdict.FAIL


@pytest.mark.parametrize(("back", "verdict"), [(7.9, Verdict.FAIL), (8.0, Verdict.PASS), (8.1, Verdict.PASS)])
def test_a_footing_does_not_reach_into_the_house_wall(back: float, verdict: Verdict) -> None:
    """Geometry: a footing 16 in across, its middle so far from the wall's face, reaches 8 in to every side."""
    footing = FootingDesign("A-F1", "A-P1", (60.0, back), 16.0, 8.0, 0.0, -42.0, 1000.0, 1000.0)
    plan = make_plan(platform("deck", rectangle(0, 0, 120, 96), 30, beam(24), beam(72)), house=HOUSE)
    study = Study(plan)
    found = check_footings_apart(plan, study.profile, study.levels, (footing,))
    (check,) = [check for check in found if check.rule == "footing clear of the house wall"]
    assert check.verdict is verdict
    assert check.demand == pytest.approx(back - 8.0)


@pytest.mark.parametrize(("support", "hang"), [(beam(24), True), (LEDGER, False)])
def test_a_level_that_hangs_on_a_wall_is_not_told_to_hang_there(support: dict[str, Any], hang: bool) -> None:
    footing = FootingDesign("A-F1", "A-P1", (60.0, 7.0), 16.0, 8.0, 0.0, -42.0, 1000.0, 1000.0)
    plan = make_plan(platform("deck", rectangle(0, 0, 120, 96), 30, support, beam(72)), house=HOUSE)
    study = Study(plan)
    found = check_footings_apart(plan, study.profile, study.levels, (footing,))
    (check,) = [check for check in found if check.rule == "footing clear of the house wall"]
    assert ("hang the level on a ledger there" in check.reason) is hang
    assert "set its post farther from the house" in check.reason
