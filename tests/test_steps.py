"""Framing of flights: frames, fixings inside both members, blocking under every angle, stringers, piers."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckplan.geometry import distance, point_to_line
from deckplan.layout.flight_model import FlightFrame
from deckplan.layout.model import Kind, Layout
from deckplan.levels.box_steps import EDGE, FixingBasis
from deckplan.levels.stringers import lay_out_stringer
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import beam, make_plan, platform, rectangle
from tests.test_levels_raise import mirrored

DECKING = {"kind": "composite", "thickness": 1.0, "width": 5.5, "gap": 0.1875, "spacing_step": 12.0}
MATERIALS = {"decking": DECKING, "fascia": {"thickness": 0.75}}


def two(rise: float, direction: str = "y", turn: str = "y", width: float = 72.0, **flight: Any) -> Plan:
    """Two platforms that share the edge x = 120; joists of the upper one by `turn`, of the lower by `direction`."""
    low = 48.0 - rise
    middle = 72.0
    asked = {"along": ((120.0, middle - width / 2), (120.0, middle + width / 2)), **flight}
    over, under = ({"direction": way, "size": "2x10"} for way in (turn, direction))
    return make_plan(
        platform("upper", rectangle(0, 0, 120, 144), 48.0, beam(12), beam(100), joists=over),
        platform("lower", rectangle(120, 0, 264, 144), low, beam(12), beam(130), joists=under),
        flight=[{"from": "upper", "to": "lower", **asked}],
        materials=MATERIALS,
    )  # fmt: skip


def build(plan: Plan) -> tuple[Layout, FlightFrame]:
    study = Study(plan)
    return study.layout, study.flights.of(0)


def test_one_box_step_of_10_1_2_in() -> None:
    # common practice: 2 x 5-1/4, frame 4-1/4 under 1 in boards, joists at 12 in where the platform is at 16
    _, flight = build(two(10.5))
    frame = flight.frames[0]
    assert len(flight.frames) == 1
    assert frame.height == pytest.approx(4.25)
    assert frame.spacing == 12.0
    assert frame.joists == 7
    assert frame.width == 72.0 - 2 * 0.75  # stands back at both ends by the fascia


def test_two_frames_for_three_risers_each_on_the_boards_of_the_other() -> None:
    # derived: 16 in: 3 x 5-1/3, frames 4-1/3 under 1 in boards
    _, flight = build(two(16.0))
    assert [frame.height for frame in flight.frames] == [pytest.approx(16 / 3 - 1)] * 2
    assert [frame.depth for frame in flight.frames] == [22.0, 11.0]
    lower, upper = flight.frames
    assert upper.top - upper.height == pytest.approx(lower.top + 1.0)


def test_fascias_come_flush_with_the_treads_apart() -> None:
    # Fronts of the frames lie whole treads from the rim: with a fascia on each, fascias lie whole treads apart.
    _, flight = build(two(16.0))
    fronts = sorted({m.start[0] + 0.75 for m in flight.members if m.kind is Kind.STEP and "-R" in m.mark})
    assert [x - 120.0 for x in fronts if x > 122] == [pytest.approx(11.0), pytest.approx(22.0)]


def test_a_direct_step_needs_no_frame() -> None:
    _, flight = build(two(7.0))
    assert flight.frames == flight.fixings == flight.members == ()


def test_a_flight_that_goes_up_gets_no_frame() -> None:
    _, flight = build(two(-4.0))
    assert flight.members == ()


def rise_cases():
    return st.tuples(
        st.floats(9.0, 23.0), st.sampled_from(["x", "y"]), st.sampled_from(["x", "y"]), st.floats(36.0, 140.0),
        st.sampled_from([10.0, 11.0, 14.0]),
    )  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(rise_cases())
def test_every_screw_lies_in_both_members_with_its_edge_distance(case) -> None:
    rise, direction, turn, width, tread = case
    layout, flight = build(two(rise, direction, turn, width, tread=tread, kind="box"))
    parts = {member.mark: member for member in layout.members}
    screws = [fixing for fixing in flight.fixings if fixing.kind == "screw"]
    refused = [check for check in flight.checks if check.verdict is Verdict.FAIL]
    assert screws or refused
    for screw in screws:
        assert len(screw.joins) == 2
        for mark in screw.joins:
            member = parts[mark]
            assert member.bottom + EDGE <= screw.elevation + 1e-9
            assert screw.elevation <= member.top - EDGE + 1e-9
            assert point_to_line(screw.at, member.line) <= member.width / 2 + 1e-6
            assert min(distance(screw.at, end) for end in member.line) >= EDGE
        assert screw.edge >= EDGE - 1e-9


@settings(max_examples=40, deadline=None)
@given(rise_cases())
def test_every_angle_lands_on_blocking(case) -> None:
    rise, direction, turn, width, tread = case
    layout, flight = build(two(rise, direction, turn, width, tread=tread, kind="box"))
    parts = {member.mark: member for member in layout.members}
    angles = [fixing for fixing in flight.fixings if fixing.kind == "angle"]
    assert len(angles) >= 3 * len(flight.frames)
    for angle in angles:
        block = parts[angle.joins[1]]
        assert block.kind is Kind.BLOCKING
        assert point_to_line(angle.at, block.line) <= block.width / 2 + 1e-6
        assert block.top == pytest.approx(angle.elevation - 1.0)  # one board under what the frame stands on
    assert len(flight.blocking) == sum(1 for member in flight.members if member.kind is Kind.BLOCKING)


@pytest.mark.parametrize("direction", ["x", "y"])
def test_blocking_goes_between_the_joists_of_the_lower_platform(direction: str) -> None:
    layout, flight = build(two(10.5, direction))
    joists = [m for m in layout.members if m.platform == "lower" and m.kind in (Kind.JOIST, Kind.RIM)]
    for block in (m for m in flight.members if m.kind is Kind.BLOCKING):
        assert block.platform == "lower"
        for end in block.line:
            assert min(point_to_line(end, joist.line) for joist in joists) == pytest.approx(0.75, abs=1e-6)
    marks = [member.mark for member in layout.members]
    assert len(marks) == len(set(marks))
    assert any("before its boards" in note.text for note in flight.notes)


def test_too_small_an_overlap_is_refused_with_the_cure() -> None:
    # A 2x6 rim reaches 6-1/2 in down from the surface; a step 7-3/4 in down begins lower: nothing overlaps.
    plan = two(15.5, kind="box")
    parts = plan.model_dump(by_alias=True)
    for part in parts["platform"]:
        part["joists"]["size"] = "2x6"
    _, flight = build(Plan.model_validate(parts))
    failed = [check for check in flight.checks if check.verdict is Verdict.FAIL]
    assert [check.rule for check in failed] == ["screws into the rim"]
    assert "cleat" in failed[0].reason
    assert not [fixing for fixing in flight.fixings if fixing.kind == "screw"]


def test_too_thin_a_step_is_refused() -> None:
    _, flight = build(two(4.5, kind="box"))  # 2 x 2-1/4: a frame of 1-1/4 in
    assert flight.frames == ()
    assert flight.checks[0].verdict is Verdict.FAIL


def test_screws_share_the_push_that_is_assumed() -> None:
    _, flight = build(two(10.5))
    screws = [fixing for fixing in flight.fixings if fixing.kind == "screw"]
    assert sum(screw.force for screw in screws) == pytest.approx(FixingBasis().push(70.5))
    places = sorted(screw.at[1] for screw in screws)
    assert len(places) >= 3
    assert max(b - a for a, b in pairwise(places)) <= 24.0
    assert (places[0] + places[-1]) / 2 == pytest.approx(72.0)


def ground_flight(elevation: float, kind: str) -> Plan:
    deck = platform(
        "deck", rectangle(0, 0, 120, 144), elevation, beam(12), beam(130), joists={"size": "2x10"}
    )
    flight = {"from": "deck", "to": "ground", "along": ((24, 144), (96, 144)), "kind": kind}
    site = {"ground": [{"at": (0, 0), "elevation": 0}], "frost_depth": 42.0}
    return make_plan(deck, flight=[flight], site=site, materials=MATERIALS)


def test_a_box_on_the_ground_stands_on_piers_tied_with_brackets() -> None:
    # common practice: piers cast in forming tubes, brackets; its frame is a riser less a board, from the pad's top
    _, flight = build(ground_flight(14.0, "box"))
    kinds = [fixing.kind for fixing in flight.fixings]
    assert kinds.count("pier") == kinds.count("bracket") == len(flight.pads)
    assert "angle" not in kinds
    assert flight.frames[0].height == pytest.approx(6.0)
    assert flight.frames[0].top - flight.frames[0].height == pytest.approx(0.0)
    # a free-standing deck need not reach the frost line, nor do the steps screwed to it: IRC R507.3.2 exc. 2
    assert all(pad.top - pad.bottom == 12.0 for pad in flight.pads)


def test_steps_of_an_attached_deck_go_as_deep_as_its_footings() -> None:
    # IRC R507.3.2: an attached deck is founded below the frost line; what is screwed to it moves with it
    plan = ground_flight(14.0, "box")
    deck = plan.platforms[0].model_dump(by_alias=True)
    deck["support"] = [{"kind": "ledger", "wall": "house"}, beam(130)]
    house = {"wall": [{"name": "house", "line": [(-50.0, 0.0), (300.0, 0.0)], "ledger": True}]}
    attached = plan.model_dump(by_alias=True) | {"platform": [deck], "house": house}
    _, flight = build(Plan.model_validate(attached))
    assert all(pad.top - pad.bottom == 42.0 for pad in flight.pads)


def test_stringers_hang_one_riser_down_and_stand_where_the_flight_lands() -> None:
    # 27-1/2 in: 4 risers of 6-7/8
    _, flight = build(ground_flight(27.5, "stringer"))
    stringers = [member for member in flight.members if member.kind is Kind.STRINGER]
    assert len(stringers) == 7  # 70-1/2 in between the outer middles at most 12 in apart
    assert stringers[0].top == pytest.approx(27.5 - 6.875 - 1.0)
    assert stringers[0].length == pytest.approx(33.0 - 1.5)  # its head stands against a hanger board, 2x
    assert stringers[0].drop == pytest.approx(3 * 6.875)
    treads = [member for member in flight.members if member.kind is Kind.TREAD]
    assert sorted({round(27.5 - tread.top, 6) for tread in treads}) == [6.875, 13.75, 20.625]
    assert len(treads) == 6  # two 5-1/2 in boards cover 11 in
    assert len({fixing.joins[0] for fixing in flight.fixings if fixing.kind == "hanger"}) == 7


@pytest.mark.parametrize(
    ("elevation", "tread", "rule", "verdict"),
    [
        (41.4, 14.4, "stringer span in plan, cut", "PASS"),  # 5 treads of 14.4 in: 72 in, AWC DCA6
        (41.4, 14.5, "stringer span in plan, solid", "PASS"),
        (93.0, 14.4, "stringer span in plan, solid", "PASS"),  # 11 x 14.4 = 158.4 in, 13 ft 3 in = 159 in
        (93.0, 14.5, "stringer span in plan", "OUTSIDE"),
    ],
)
def test_stringer_spans_by_the_published_limits(
    elevation: float, tread: float, rule: str, verdict: str
) -> None:
    plan = ground_flight(elevation, "stringer")
    data = plan.model_dump(by_alias=True)
    data["flight"][0]["tread"] = tread
    _, flight = build(Plan.model_validate(data))
    assert {check.rule: str(check.verdict) for check in flight.checks}[rule] == verdict


def test_the_throat_of_a_cut_stringer() -> None:
    # by hand: 7 and 11 in on 11-1/4: hypotenuse 13.04, 11.25 - 77 / 13.04 = 5.34
    assert lay_out_stringer(28.0, 4, 11.0, 1.0).throat == pytest.approx(5.34, abs=0.006)


def shape(plan: Plan, flip: float) -> set[tuple[Any, ...]]:
    _, flight = build(plan)
    fixed = {
        (f.kind, round(flip * f.at[0], 3), round(f.at[1], 3), round(f.elevation, 3)) for f in flight.fixings
    }
    wood = {
        (m.kind, *sorted((round(flip * x, 3), round(y, 3)) for x, y in m.line), round(m.top, 3))
        for m in flight.members
    }
    return fixed | wood


@pytest.mark.parametrize("rise", [10.5, 16.0])
@pytest.mark.parametrize("direction", ["x", "y"])
def test_a_mirrored_plan_has_mirrored_steps(rise: float, direction: str) -> None:
    plan = two(rise, direction)
    assert shape(plan, 1.0) == shape(mirrored(plan), -1.0)


def under(clear: float) -> Plan:
    """A flight down to the ground under a high platform, the underside of whose beams lies `clear` over its top."""
    deck = platform("deck", rectangle(0, 0, 120, 144), 30.0, beam(12), beam(130), joists={"size": "2x10"})
    high = platform(
        "high",
        rectangle(0, 140, 144, 300),
        30.0 + clear + 1.0 + 9.25,
        joists={"size": "2x10", "direction": "y"},
    )
    high["support"] = [beam(1, style="flush", build="2-2x10"), beam(150, style="flush", build="2-2x10")]
    flight = {"from": "deck", "to": "ground", "along": ((24, 144), (96, 144)), "kind": "stringer"}
    return make_plan(deck, high, flight=[flight], materials=MATERIALS)


@pytest.mark.parametrize(("clear", "verdict"), [(80.0, "PASS"), (79.9, "FAIL"), (90.0, "PASS")])
def test_headroom_under_a_higher_platform(clear: float, verdict: str) -> None:
    # IRC R311.7.2: 80 in from the line of the nosings; it is least at the top of the flight
    _, flight = build(under(clear))
    found = [check for check in flight.checks if check.rule == "headroom"]
    assert [str(check.verdict) for check in found] == [verdict]
    assert found[0].demand == pytest.approx(clear, abs=0.02)


def test_a_cut_stringers_bending_by_hand() -> None:
    # 27-1/2 in, 4 risers of 6-7/8 on 11 in treads, run 33 in; throat 11.25 - 6.875 x 11 / 12.97 = 5.42 in,
    # S = 1.5 x 5.42^2 / 6 = 7.344 in3. Seven stringers 11-3/4 in apart: dead 10 psf = 0.816 lb/in.
    # One heavy step: 300 x 33 / 4 + 0.816 x 33^2 / 8 = 2475 + 111 = 2586 lb in; / 7.344 = 352 psi.
    _, flight = build(ground_flight(27.5, "stringer"))
    check = next(check for check in flight.checks if check.rule.startswith("bending"))
    assert check.demand == pytest.approx(352, abs=1.5)
    # NDS Supplement 2018 Table 4B: southern pine No. 2 2x12, Fb 750 psi, no wet factor under 1150
    assert check.capacity == pytest.approx(750.0)
    assert "300 lb" in check.combination


@pytest.mark.parametrize(("species", "said"), [("southern pine", False), ("hem-fir", True)])
def test_stringer_spans_are_published_for_southern_pine_alone(species: str, said: bool) -> None:
    # AWC DCA6: cut 6 ft, solid 13 ft 3 in, southern pine; that other species share them is from memory
    plan = ground_flight(27.5, "stringer")
    data = plan.model_dump(by_alias=True)
    data["materials"]["species"] = species
    _, flight = build(Plan.model_validate(data))
    check = next(check for check in flight.checks if check.rule.startswith("stringer span"))
    assert ("from memory" in str(check.source)) is said
    assert ("published for southern pine" in str(check.source)) is said


def corner(kind: str = "box") -> Plan:
    """Two box flights down to one big platform, round the corner (120, 144) of the upper one."""
    joists = {"direction": "y", "size": "2x10"}
    return make_plan(
        platform("upper", rectangle(0, 0, 120, 144), 48.0, beam(12), beam(130), joists=joists),
        platform("lower", [(120, 0), (264, 0), (264, 288), (0, 288), (0, 144), (120, 144)], 32.0,
                 beam(12), beam(150), beam(276), joists=joists),
        flight=[
            {"from": "upper", "to": "lower", "along": ((120.0, 72.0), (120.0, 144.0)), "kind": kind},
            {"from": "upper", "to": "lower", "along": ((120.0, 144.0), (48.0, 144.0)), "kind": kind},
        ],
        materials=MATERIALS,
    )  # fmt: skip


def test_boxes_that_meet_at_a_corner_fill_it() -> None:
    # 16 in: two frames, 22 and 11 in deep. The first runs on past the corner, the second butts on it.
    study = Study(corner())
    first, second = study.flights.of(0), study.flights.of(1)
    assert [frame.width for frame in first.frames] == [72.0 + 22.0 - 1.5, 72.0 + 11.0 - 1.5]
    assert [frame.width for frame in second.frames] == [72.0 - 0.75] * 2
    fronts = [m for m in second.members if m.mark in ("S2-R2", "S2-R4")]
    ends = [m for m in first.members if m.mark in ("S1-R2", "S1-R4")]
    # the corner's frames end where the other flight's fronts stand, less the fascia that covers both
    for front, end in zip(fronts, ends, strict=True):
        assert max(y for _, y in end.line) == pytest.approx(front.start[1] + 0.75 - 0.75)
    parts = {member.mark: member for member in study.layout.members}
    for flight in (first, second):
        for fixing in flight.fixings:
            block = parts[fixing.joins[1]]
            if fixing.kind == "angle":
                assert point_to_line(fixing.at, block.line) <= block.width / 2 + 1e-6
            else:
                assert min(distance(fixing.at, end) for end in block.line) >= EDGE


def test_other_flights_end_exposed() -> None:
    study = Study(two(16.0))
    assert {frame.width for frame in study.flights.of(0).frames} == {70.5}
