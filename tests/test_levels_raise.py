"""From a plan to levels: where flights leave, where they land, what is checked."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deckplan.errors import InputError
from deckplan.levels.raise_levels import raise_levels
from deckplan.plan.model import ElevationRange, Plan
from deckplan.rules import load_profile
from deckplan.units import format_short
from deckplan.verdict import Verdict
from tests.decks import make_plan, platform, rectangle

IRC, LOCAL = load_profile("irc-2021"), load_profile("local-example")


def two(upper: float, lower: float, flight: dict[str, Any] | None = None, **more: Any) -> Plan:
    """An upper platform to the left of a lower one; they share the edge x = 120."""
    return make_plan(
        platform("upper", rectangle(0, 0, 120, 144), upper),
        platform("lower", rectangle(120, 24, 250, 132), lower),
        flight=[{"from": "upper", "to": "lower", **(flight or {})}],
        **more,
    )


def to_ground(elevation: float, ground: list[tuple[float, float, float]], **flight: Any) -> Plan:
    spots = [{"at": (x, y), "elevation": z} for x, y, z in ground]
    return make_plan(
        platform("deck", rectangle(0, 0, 120, 144), elevation),
        flight=[{"from": "deck", "to": "ground", "along": ((36.0, 144.0), (84.0, 144.0)), **flight}],
        site={"ground": spots},
    )


def failed(plan: Plan, profile=IRC) -> dict[str, str]:
    levels = raise_levels(plan, profile)
    return {check.rule: check.reason for check in levels.checks if check.verdict is Verdict.FAIL}


def test_a_box_step_between_two_levels() -> None:
    # common practice: 10-1/2 in: one box step, 2 x 5-1/4
    rise = raise_levels(two(30.0, 19.5), IRC).flights[0]
    assert (rise.kind, rise.risers, rise.riser) == ("box", 2, 5.25)
    assert rise.down == (1.0, 0.0)


def test_the_middle_of_the_shared_edge_is_chosen() -> None:
    rise = raise_levels(two(30.0, 19.5), IRC).flights[0]
    assert {x for x, _ in rise.along} == {120.0}
    assert sum(y for _, y in rise.along) / 2 == 78.0  # shared from y = 24 to 132
    assert rise.width == 48.0


@pytest.mark.parametrize(
    ("upper", "kind"), [(7.0, "direct"), (7.75, "direct"), (8.0, "box"), (15.75, "box"), (23.5, "stringer")]
)
def test_the_kind_goes_by_the_risers(upper: float, kind: str) -> None:
    assert raise_levels(two(upper, 0.0), IRC).flights[0].kind == kind


@pytest.mark.parametrize(
    ("upper", "kind"), [(10.5, "box"), (10.75, "stringer"), (15.75, "box"), (16.0, "stringer")]
)
def test_a_box_that_no_screw_could_hold_is_not_chosen(upper: float, kind: str) -> None:
    # common practice: screws through the box's back into the rim; a 2x8 rim, 7 1/4 in, leaves 2 in for them beside a
    # riser of 5 1/4 in: 1 in to either edge
    assert raise_levels(two(upper, 0.0), IRC).flights[0].kind == kind


def test_a_rise_is_taken_where_the_flight_lands() -> None:
    # trade literature: measured where the flight lands, not under the edge. One in twelve downhill: 30 in down to
    # the ground at the edge makes 4 risers, but four risers run 33 in out, where the ground is 2.75 in lower:
    # 32.75 in are over 4 x 7-3/4 = 31, five run 44 in: 33-2/3 in.
    plan = to_ground(30.0, [(0, 144, 0), (0, 1344, -100)])
    rise = raise_levels(plan, IRC).flights[0]
    assert rise.risers == 5
    assert rise.bottom == pytest.approx(-44 / 12)
    assert rise.riser == pytest.approx((30 + 44 / 12) / 5)
    assert rise.landing == pytest.approx((60.0, 188.0))


@given(st.floats(5.0, 90.0), st.floats(-0.3, 0.3))
def test_no_flight_with_fewer_risers_lands_within_the_limit(elevation: float, slope: float) -> None:
    plan = to_ground(elevation, [(0, 144, 0), (0, 1344, -1200 * slope)])
    rise = raise_levels(plan, IRC).flights[0]
    assert rise.bottom == pytest.approx(-slope * rise.run)
    assert rise.riser <= 7.75 * (1 + 1e-9)
    for fewer in range(1, rise.risers):
        riser = (elevation + slope * (fewer - 1) * 11.0) / fewer
        # legal, but cut for an 11 in tread it would leave under 5 in of a 2x12 (AWC DCA6, from memory)
        thin = 1 < fewer <= 7 and 11.25 - riser * 11.0 / math.hypot(riser, 11.0) < 5.0 + 1e-6
        assert riser > 7.75 or thin


def test_ground_that_falls_as_fast_as_the_flight_fails_and_is_outside() -> None:
    levels = raise_levels(to_ground(30.0, [(0, 144, 0), (0, 1344, -1200)]), IRC)
    verdicts = {check.rule: check.verdict for check in levels.checks}
    assert verdicts["riser, largest"] is Verdict.FAIL
    assert verdicts["ground slope"] is Verdict.OUTSIDE


def test_steep_ground_is_outside_and_two_to_one_is_not() -> None:
    # code text: ground steeper than 2:1
    def slope(fall: float) -> Verdict:
        levels = raise_levels(to_ground(30.0, [(0, -1344, 1344 * fall), (0, 1344, -1344 * fall)]), IRC)
        return next(check.verdict for check in levels.checks if check.rule == "ground slope")

    assert slope(0.5) is Verdict.PASS
    assert slope(0.51) is Verdict.OUTSIDE


@pytest.mark.parametrize(("upper", "lower"), [(10.0, 20.0), (20.0, 20.0)])
def test_a_flight_that_does_not_go_down_is_told_and_does_not_crash(upper: float, lower: float) -> None:
    assert set(failed(two(upper, lower))) == {"way down"}


def test_dead_bands_name_the_nearest_heights() -> None:
    assert 'nearest heights that can: 7 3/4" and 8"' in failed(two(27.375, 19.5), LOCAL)["riser, least"]
    assert failed(two(27.375, 19.5), IRC) == {}


def test_switching_the_profile_flags_again() -> None:
    plan = two(30.0, 22.5)  # 7-1/2 in: one riser
    assert failed(plan, IRC) == {}
    assert set(failed(plan, load_profile("ibc-2021"))) == {"riser, least"}  # 2 x 3-3/4 under 4 in


@pytest.mark.parametrize(
    ("flight", "rule"),
    [
        ({"tread": 9.5}, "tread depth"),
        ({"along": ((120.0, 60.0), (120.0, 90.0))}, "flight width"),
        ({"along": ((90.0, 60.0), (90.0, 110.0))}, "place of the flight"),
        ({"kind": "direct"}, "riser, largest"),
        ({"tread": 96.0, "along": ((120.0, 60.0), (120.0, 100.0))}, "landing depth below"),
        ({"along": ((30.0, 144.0), (80.0, 144.0))}, "landing depth below"),
    ],
)
def test_each_rule_fails_for_its_own_reason(flight: dict[str, Any], rule: str) -> None:
    reasons = failed(two(30.0, 19.5, flight))
    assert rule in reasons
    assert reasons[rule]


def test_a_landing_that_is_missed_or_short_says_by_how_much() -> None:
    # two risers, a tread of 11 in, down at y = 155 with its middle at x = 55; the lower platform begins at x = 120 and
    # ends at y = 132: 69 in off by Pythagoras. With a tread of 96 in 130 - 96 = 34 in are left of it, 2 in short of the
    # 36 in of IRC R311.7.6 (from memory)
    beside = failed(two(30.0, 19.5, {"along": ((30.0, 144.0), (80.0, 144.0)), "tread": 11.0}))[
        "landing depth below"
    ]
    assert f'comes down {format_short(math.hypot(120 - 55, 155 - 132))} beside "lower"' in beside
    short = failed(two(30.0, 19.5, {"tread": 96.0, "along": ((120.0, 60.0), (120.0, 100.0))}))[
        "landing depth below"
    ]
    assert 'riser: 34", where 36" is wanted, 2" more' in short


def test_a_flight_at_every_limit_passes() -> None:
    flight = {"tread": 10.0, "along": ((120.0, 60.0), (120.0, 96.0))}
    assert failed(two(15.5, 0.0, flight)) == {}


def test_a_name_that_is_not_there_is_an_input_error() -> None:
    with pytest.raises(InputError, match="attic"):
        raise_levels(two(30.0, 19.5, {"from": "attic"}), IRC)


def doors(step: float, flight: bool) -> Plan:
    house = {
        "wall": [{"name": "wall", "line": [(-50, 0), (200, 0)], "ledger": True}],
        "door": [{"name": "door", "at": (60, 0), "width": 36, "sill": 30.0}],
    }
    flights = [{"from": "door", "to": "deck"}] if flight else []
    return make_plan(platform("deck", rectangle(0, 0, 120, 144), 30.0 - step), house=house, flight=flights)


@pytest.mark.parametrize(
    ("step", "verdict"), [(-0.5, "FAIL"), (0.0, "PASS"), (1.5, "PASS"), (7.75, "PASS"), (7.8125, "FAIL")]
)
def test_the_step_at_a_door(step: float, verdict: str) -> None:
    # IRC R311.3.2, from memory: a landing at most 7-3/4 in below the threshold
    checks = raise_levels(doors(step, False), IRC).checks
    assert [str(check.verdict) for check in checks if check.rule == "door step"] == [verdict]


def test_a_threshold_is_no_riser() -> None:
    levels = raise_levels(doors(1.5, True), LOCAL)
    assert all(check.verdict is not Verdict.FAIL for check in levels.checks)
    assert levels.flights[0].down == (0.0, 1.0)
    assert levels.flights[0].width == 36.0


def test_more_than_two_risers_outside_a_door_want_a_landing() -> None:
    # IRC R311.3.2 exception, from memory
    assert failed(doors(15.5, True)) == {}
    assert set(failed(doors(16.0, True))) == {"door landing"}


def test_cautions_follow_the_count_of_risers() -> None:
    def words(upper: float) -> str:
        return " ".join(note.text for note in raise_levels(two(upper, 0.0), IRC).notes)

    assert "single step" in words(6.0)
    assert "two steps" in words(12.0)
    assert "handrail" not in words(22.5)  # 3 risers
    assert "handrail" in words(24.0)  # IRC R311.7.8: 4 risers


def test_unmeasured_ground_is_asked_for() -> None:
    texts = [
        note.text for note in raise_levels(to_ground(20.0, [(0, 0, 0), (10, 0, 0), (0, 10, 0)]), IRC).notes
    ]
    assert any("measure the ground" in text for text in texts)
    nobody = make_plan(platform("deck", rectangle(0, 0, 120, 144), 20.0), site={})
    assert any("nobody measured" in note.text for note in raise_levels(nobody, IRC).notes)


def shallow(first: float, depth: float = 24.0) -> Plan:
    """Two flights over a platform in between, too shallow for a landing."""
    return make_plan(
        platform("top", rectangle(0, 0, 144, 144), 14.0),
        platform("step", rectangle(144, 0, 144 + depth, 144), 14.0 - first),
        platform("foot", rectangle(144 + depth, 0, 400, 144), 0.0),
        flight=[{"from": "top", "to": "step"}, {"from": "step", "to": "foot"}],
    )


def test_a_platform_too_shallow_for_a_landing_is_a_tread() -> None:
    # IRC R311.7.6 (from memory): a landing of 36 in; R311.7.5.1: 3/8 in within a flight
    assert failed(shallow(7.0)) == {}
    assert failed(shallow(7.1875)) == {}  # 7-3/16 and 6-13/16: 3/8 apart
    assert set(failed(shallow(7.25))) == {"riser spread with S2"}
    assert failed(shallow(7.25, depth=36.0)) == {}
    assert "landing depth below" in failed(shallow(7.0, depth=9.0))


def test_a_quarter_inch_where_the_place_says_so() -> None:
    # local example: 1/4 in
    assert failed(shallow(7.125), LOCAL) == {}
    assert set(failed(shallow(7.1875), LOCAL)) == {"riser spread with S2"}


def mirrored(plan: Plan) -> Plan:
    """The plan seen in a mirror along x = 0."""

    def flip(value: Any, key: str = "") -> Any:
        if key in ("at",):
            return (-value[0], value[1])
        if key in ("outline", "along", "line") and value is not None:
            return [(-x, y) for x, y in value]
        if isinstance(value, dict):
            return {name: flip(part, name) for name, part in value.items()}
        if isinstance(value, (list, tuple)):
            return [flip(part) for part in value]
        return value

    return Plan.model_validate(flip(plan.model_dump(by_alias=True)))


def test_a_mirrored_plan_gives_mirrored_flights() -> None:
    plan = two(
        30.0, 14.0, site={"ground": [{"at": (0, 0), "elevation": 0}, {"at": (90, 40), "elevation": -9}]}
    )
    one, other = raise_levels(plan, IRC).flights[0], raise_levels(mirrored(plan), IRC).flights[0]
    assert (other.risers, other.riser, other.kind) == (one.risers, one.riser, one.kind)
    assert other.down == (-one.down[0], one.down[1])
    assert other.landing == pytest.approx((-one.landing[0], one.landing[1]))


@pytest.mark.parametrize(
    ("upper", "tread", "said"),
    [(19.5, 11.0, False), (12.0, 10.0, False), (12.0, 18.5, True), (8.0, 11.0, True)],
)
def test_the_sum_of_two_risers_and_a_tread(upper: float, tread: float, said: bool) -> None:
    # trade literature: 2R + T = 22 to 30 in outdoors. 3 x 6.5 + 11 = 24; 2 x 6 + 10 = 22; 2 x 6 + 18.5 = 30.5;
    # 2 x 4 + 11 = 19
    texts = [note.text for note in raise_levels(two(upper, 0.0, {"tread": tread}), IRC).notes]
    assert any("2R + T" in text for text in texts) is said


def test_indoors_it_is_24_to_25() -> None:
    # trade literature
    assert (IRC.comfort_indoor_low.value, IRC.comfort_indoor_high.value) == (24.0, 25.0)
    assert (IRC.comfort_low.value, IRC.comfort_high.value) == (22.0, 30.0)


@pytest.mark.parametrize(
    ("elevation", "kind", "risers"),
    [
        (
            30.38,
            "auto",
            4,
        ),  # 4 of 7.595 in: cut for 11 in they leave 11-1/4 - 6-1/4 = 5 in of a 2x12 (AWC DCA6)
        (30.4, "auto", 5),
        (31.0, "auto", 5),  # 4 of 7-3/4 would leave 4.91 in: 7.75 x 11 / 13.456 = 6.336
        (31.0, "stringer", 5),
        (61.9, "auto", 8),  # a run of 77 in is over the 6 ft of cut stringers: solid ones have no throat
        (7.75, "auto", 1),
        (31.0, "box", 4),
    ],
)
def test_one_more_riser_where_a_cut_stringer_would_be_too_thin(
    elevation: float, kind: str, risers: int
) -> None:
    plan = to_ground(elevation, [(0, 0, 0)], kind=kind)
    rise = raise_levels(plan, IRC).flights[0]
    assert rise.risers == risers
    checks = [check for check in raise_levels(plan, IRC).checks if check.rule == "riser, largest"]
    more = "would leave too little of a cut stringer" in str(checks[0].steps[0])
    assert more is (elevation in (30.4, 31.0) and kind != "box")


def test_a_range_is_chosen_so_that_the_stringers_keep_their_throat() -> None:
    # 30.9 to 31 in over level ground: 4 risers of 7-3/4 are legal and too thin, 5 of 6.2 are taken
    plan = to_ground(31.0, [(0, 0, 0)])
    free = plan.platforms[0].model_copy(
        update={"elevation": ElevationRange.model_validate({"from": 30.9, "to": 31.0})}
    )
    levels = raise_levels(plan.model_copy(update={"platforms": (free,)}), IRC)
    assert levels.flights[0].risers == 5
    assert any("proven the least" in note.text for note in levels.notes)


def test_where_nothing_leaves_enough_wood_the_legal_choice_stands_and_its_check_speaks() -> None:
    # a least riser of 7 in leaves 31 in only 4 risers of 7-3/4
    tall = IRC.model_copy(update={"riser_min": IRC.riser_max.__class__(7.0, "in", IRC.riser_max.source)})
    plan = to_ground(31.0, [(0, 0, 0)])
    assert raise_levels(plan, tall).flights[0].risers == 4
    free = plan.platforms[0].model_copy(
        update={"elevation": ElevationRange.model_validate({"from": 30.9, "to": 31.0})}
    )
    levels = raise_levels(plan.model_copy(update={"platforms": (free,)}), tall)
    assert levels.flights[0].risers == 4
    assert not [check for check in levels.checks if check.rule == "elevations that agree"]
