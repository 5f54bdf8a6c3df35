"""Layout: where joists, beams, posts stand, for rectangles and for any simple outline at any angle."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckplan.geometry import area, distance
from deckplan.layout.frame import Frame
from deckplan.layout.joists import joist_positions, set_out
from deckplan.layout.model import Kind
from deckplan.plan.model import Platform
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import attached, beam, make_plan, platform, rectangle


def test_ten_feet_at_sixteen_takes_nine_joists() -> None:
    # ceil(L / s) + 1, first and last always: common practice
    assert len(joist_positions(120.0, 16.0)) == 9


@pytest.mark.parametrize(
    ("width", "spacing", "count"), [(144, 16, 10), (192, 12, 17), (121, 16, 9), (24, 24, 2)]
)
def test_joist_counts_by_the_rule(width: float, spacing: float, count: int) -> None:
    # ceil(L / s) + 1: common practice
    assert len(joist_positions(width, spacing)) == count


@given(st.floats(6, 900), st.floats(6, 24))
def test_gaps_never_exceed_spacing_and_joists_never_overlap(width: float, spacing: float) -> None:
    places = joist_positions(width, spacing)
    gaps = [b - a for a, b in pairwise(places)]
    assert max(gaps, default=0.0) <= spacing + 1e-6
    assert min(gaps, default=1.5) >= 1.5 - 1e-6
    assert places[0] == pytest.approx(0.75)
    assert places[-1] == pytest.approx(width - 0.75)


def _platform(outline: list[tuple[float, float]], direction: object = "y") -> Platform:
    return Platform.model_validate(
        {"name": "p", "outline": outline, "elevation": 0.0, "joists": {"direction": direction}}
    )


SHAPES = {
    "rectangle": rectangle(10, 20, 130, 200),
    "clipped corner": [(0, 0), (144, 0), (144, 96), (108, 144), (0, 144)],
    "ell": [(0, 0), (192, 0), (192, 96), (96, 96), (96, 192), (0, 192)],
    "cee": [(0, 0), (192, 0), (192, 192), (120, 192), (120, 72), (72, 72), (72, 192), (0, 192)],
    "triangle": [(0, 0), (240, 0), (60, 200)],
}


@pytest.mark.parametrize("direction", ["x", "y", 0.0, 30.0, 45.0, 137.0])
@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())
def test_strips_of_surface_sum_to_the_outline(shape: list[tuple[float, float]], direction: object) -> None:
    frame = Frame.of(_platform(shape, direction))
    surface = sum(s.width * (s.end - s.start) for line in set_out(frame, 16.0) for s in line.strips)
    assert surface == pytest.approx(abs(area(tuple(shape))), rel=1e-6)


@given(st.floats(0, 180), st.floats(-50, 50), st.floats(-50, 50))
def test_frame_and_site_coordinates_round_trip(angle: float, u: float, v: float) -> None:
    frame = Frame.of(_platform(SHAPES["ell"], angle))
    back = frame.local(frame.site(u, v))
    assert back == pytest.approx((u, v), abs=1e-6)


def test_joists_stop_at_rim_and_ledger_and_rest_on_ledger_and_beam() -> None:
    study = Study(attached(192, 144))
    joist = study.layout.of("deck", Kind.JOIST)[3]
    assert joist.start[1] == pytest.approx(1.5)
    assert joist.end[1] == pytest.approx(144 - 1.5)
    assert [(b.on, b.manner) for b in joist.bearings] == [("A-L1", "ledger"), ("A-B1", "bearing")]
    assert joist.bearings[1].at == pytest.approx(120 - 1.5)
    assert joist.top == pytest.approx(36 - 1)


def test_elevations_follow_from_boards_joists_and_beam() -> None:
    # finished surface, minus boards, minus joist, minus beam, down to the ground
    study = Study(attached(192, 144, elevation=48.0))
    joist, line = study.layout.of("deck", Kind.JOIST)[0], study.layout.of("deck", Kind.BEAM)[0]
    post = study.layout.posts[0]
    assert line.top == pytest.approx(48 - 1 - joist.depth)
    assert post.top == pytest.approx(48 - 1 - joist.depth - line.depth)
    assert post.height == pytest.approx(post.top)


def test_posts_stand_flush_with_the_beams_ends_and_equally_apart() -> None:
    plan = make_plan(
        platform("p", rectangle(0, 0, 240, 96), 36, beam(12, posts=4), beam(84, posts=[12.0, 228.0]))
    )
    study = Study(plan)
    first, second = study.layout.of("p", Kind.BEAM)
    assert [b.at for b in first.bearings] == pytest.approx(
        [2.75, 2.75 + 234.5 / 3, 2.75 + 2 * 234.5 / 3, 237.25]
    )
    assert [b.at for b in second.bearings] == pytest.approx([12, 228])


def test_flush_beam_at_the_edge_takes_the_rims_place() -> None:
    plan = make_plan(
        platform("p", rectangle(0, 0, 144, 120), 24, beam(1.5, style="flush"), beam(118.5, style="flush"))
    )
    study = Study(plan)
    assert study.layout.of("p", Kind.RIM) == ()
    joist = study.layout.of("p", Kind.JOIST)[2]
    assert [b.manner for b in joist.bearings] == ["hanger", "hanger"]
    beams = study.layout.of("p", Kind.BEAM)
    assert joist.length == pytest.approx(117 - beams[0].width)  # from face to face, centres 117 in apart
    assert beams[0].top == pytest.approx(joist.top)


def test_flush_beam_inside_cuts_the_joists() -> None:
    plan = make_plan(
        platform("p", rectangle(0, 0, 144, 200), 36, beam(6), beam(100, style="flush", posts=3), beam(194))
    )
    joists = Study(plan).layout.of("p", Kind.JOIST)
    at_sixteen = [j for j in joists if j.start[0] == pytest.approx(16.0)]
    assert len(at_sixteen) == 2
    assert at_sixteen[0].end[1] == pytest.approx(100 - 1.5)
    assert at_sixteen[1].start[1] == pytest.approx(100 + 1.5)


def test_joists_longer_than_stock_lap_over_a_beam() -> None:
    plan = make_plan(platform("p", rectangle(0, 0, 96, 300), 36, beam(6), beam(150), beam(294)))
    joists = [j for j in Study(plan).layout.of("p", Kind.JOIST) if j.start[0] == pytest.approx(16.0)]
    assert [round(j.length, 3) for j in joists] == [148.5, 148.5]
    assert all(len(j.bearings) == 2 for j in joists)


def test_what_stands_on_too_little_is_named() -> None:
    study = Study(make_plan(platform("p", rectangle(0, 0, 96, 96), 36, beam(48))))
    found = [c for c in study.checks if c.rule == "joists rest on two supports"]
    assert found[0].verdict is Verdict.FAIL
    assert '"p"' in found[0].reason
    assert "A-J1" in found[0].reason


def test_ledger_that_meets_no_edge_is_named() -> None:
    plan = attached(192, 144)
    moved = plan.model_copy(
        update={
            "house": plan.house.model_copy(
                update={
                    "walls": (plan.house.walls[0].model_copy(update={"line": ((0.0, -40.0), (90.0, -40.0))}),)
                }
            )
        }
    )
    found = [c for c in Study(moved).checks if c.rule == "ledger lies on its wall"]
    assert found[0].verdict is Verdict.FAIL
    assert '"house"' in found[0].reason


def test_blocking_stands_over_a_beam_that_joists_run_past() -> None:
    # lateral restraint at bearings: IRC 2018 R507.6.2
    study = Study(attached(192, 144, elevation=24.0))  # too low for guards, whose posts ask for more
    blocking = [m for m in study.layout.members if m.kind is Kind.BLOCKING]
    joists = study.layout.of("deck", Kind.JOIST)
    assert len(blocking) == len(joists) - 1
    assert {round(m.start[1], 3) for m in blocking} == {120.0}


def test_deep_joists_get_rows_of_bridging_at_most_eight_feet_apart() -> None:
    # NDS 2018 4.4.1.2: six times deeper than wide
    deck = platform("p", rectangle(0, 0, 96, 216), 48, beam(3), beam(213), joists={"size": "2x12"})
    study = Study(make_plan(deck))
    rows = sorted({round(m.start[1], 2) for m in study.layout.members if m.kind is Kind.BLOCKING})
    bounds = [3.0, *rows, 213.0]
    assert rows
    assert max(b - a for a, b in pairwise(bounds)) <= 96 + 1e-6


def test_house_wall_zone_takes_a_footing_to_the_house_footings_depth() -> None:
    plan = attached(192, 144, offset=48.0)
    house = plan.house.model_copy(
        update={"walls": (plan.house.walls[0].model_copy(update={"footing_depth": 60.0}),)}
    )
    near = Study(plan.model_copy(update={"house": house})).layout.pads[0]
    assert near.top - near.bottom == pytest.approx(60)
    far = Study(plan).layout.pads[0]
    assert far.top - far.bottom == pytest.approx(12)  # IRC R403.1.4, no frost depth given


def _shared(gap: float = 0.0, lower: float = 12.0) -> Study:
    """Upper platform with its posts at x = 0..120, y = 96; lower one to its right with a beam along x at y = 96."""
    upper = platform("upper", rectangle(0, 0, 120, 120), 48, beam(6), beam(96))
    low = platform(
        "low", rectangle(120 + gap, 60, 240, 132), 48 - lower, beam(36, shares_posts_with="upper", posts=3),
        beam(66, posts=3), joists={"size": "2x8"},
    )  # fmt: skip
    return Study(make_plan(upper, low))


def test_beam_end_at_a_neighbours_post_hangs_there_and_saves_a_hole() -> None:
    study = _shared()
    hung = next(m for m in study.layout.members if m.platform == "low" and m.kind is Kind.BEAM)
    assert [(b.on[:1], b.manner) for b in hung.bearings if b.manner == "hanger"] == [("A", "hanger")]
    post = study.layout.by_mark[hung.bearings[0].on]
    assert post.carries == ("upper", "low")  # type: ignore[union-attr]
    apart = _shared(gap=24.0)
    assert len(apart.layout.pads) == len(study.layout.pads) + 1
    # no table covers a shared post: the scope of the published tables is one level (AWC DCA6)
    assert any(
        c.rule == "beam shares a neighbour's post" and c.verdict is Verdict.OUTSIDE for c in study.checks
    )


def test_post_that_stands_back_cannot_be_shared_and_says_how_far() -> None:
    # a post set back under an overhang does not meet the neighbour's beam: common practice
    found = [c for c in _shared(gap=24.0).checks if c.rule == "beam shares a neighbour's post"]
    assert found[0].verdict is Verdict.FAIL
    assert "2'-0\" back" in found[0].reason


@settings(max_examples=25, deadline=None)
@given(st.floats(60, 300), st.floats(60, 300), st.integers(0, 359))
def test_turned_platform_has_the_same_frame(width: float, depth: float, degrees: int) -> None:
    turn = math.radians(degrees)
    corners = [
        (x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn))
        for x, y in rectangle(0, 0, width, depth)
    ]
    straight = Frame.of(_platform(rectangle(0, 0, width, depth), "y"))
    turned = Frame.of(_platform(corners, float((90 + degrees) % 180)))
    assert (turned.width, turned.depth) == pytest.approx((straight.width, straight.depth))
    a, b = set_out(straight, 16.0), set_out(turned, 16.0)
    assert [line.u for line in a] == pytest.approx([line.u for line in b], abs=1e-6)


def test_every_member_lies_within_its_platform() -> None:
    study = Study(attached(200, 150))
    for m in study.layout.members:
        for x, y in m.line:
            assert -1e-6 <= x <= 200 + 1e-6
            assert -1e-6 <= y <= 150 + 1e-6
        assert m.length == pytest.approx(distance(m.start, m.end))


HATCH = {"kind": "tree", "outline": rectangle(60, 50, 100, 90)}


def test_opening_is_framed_with_doubled_trimmers_and_headers() -> None:
    # headers hang between doubled trimmers, cut joists hang on the headers: common practice
    deck = platform("p", rectangle(0, 0, 192, 144), 36, beam(12), beam(132), opening=[HATCH])
    study = Study(make_plan(deck))
    joists, headers = study.layout.of("p", Kind.JOIST), study.layout.of("p", Kind.HEADER)
    assert len(headers) == 2
    trimmers = {j.mark for j in joists if j.size.startswith("2-")}
    assert len(trimmers) == 2
    assert {b.on for h in headers for b in h.bearings} == trimmers
    for joist in joists:
        inside = 60 < joist.start[0] < 100
        assert not inside or max(joist.start[1], 50) >= 90 or joist.end[1] <= 50
        assert len(joist.bearings) == 2
    surface = sum(s.width * (s.end - s.start) for j in joists for s in j.strips)
    assert surface == pytest.approx(192 * 144 - 40 * 40)
    arrived = sum(force.full for force in study.loads.posts.values())
    assert arrived == pytest.approx(study.loads.applied.full)
    assert study.loads.lost.full == pytest.approx(0)
    assert any(c.mark == headers[0].mark and c.rule == "bending in the span" for c in study.checks)


def test_trimmers_take_what_hangs_on_their_headers() -> None:
    deck = platform("p", rectangle(0, 0, 192, 144), 36, beam(12), beam(132), opening=[HATCH])
    study = Study(make_plan(deck))
    for header in study.layout.of("p", Kind.HEADER):
        taken = sum(d.force.full for d in study.loads.onto[header.mark])
        handed = study.loads.out_of[header.mark]
        assert taken > 0
        assert sum(d.force.full for d in handed) == pytest.approx(taken)
        assert all(d in study.loads.onto[d.lower] for d in handed)


def test_joists_of_levels_that_meet_end_to_end_stand_in_line() -> None:
    # common practice: boards, hangers and blocking line up across levels
    upper = platform("upper", rectangle(0, 0, 120, 96), 48, beam(6), beam(90))
    lower = platform("lower", rectangle(26, 96, 140, 190), 38, beam(6), beam(88))
    study = Study(make_plan(upper, lower))
    xs = [
        sorted(round(j.start[0], 3) for j in study.layout.of(name, Kind.JOIST)) for name in ("upper", "lower")
    ]
    inner = [x for x in xs[1][1:-1] if x <= 118]
    assert inner
    assert set(inner) <= set(xs[0])
    gaps = [b - a for a, b in pairwise(xs[1])]
    assert max(gaps) <= 16 + 1e-6


def test_levels_whose_joists_cannot_line_up_are_reported() -> None:
    upper = platform("upper", rectangle(0, 0, 120, 96), 48, beam(6), beam(90))
    lower = platform("lower", rectangle(0, 96, 120, 190), 38, beam(6), beam(88), joists={"spacing": 12.0})
    texts = [note.text for note in Study(make_plan(upper, lower)).notes]
    assert any('"upper" and "lower"' in text and "16 in and 12 in" in text for text in texts)


def _hung(lower: float = 24.0, offset: float = 118.5) -> Study:
    """Upper platform with a flush beam at its far edge, y = 120; the lower one hangs its joists on it."""
    upper = platform(
        "upper", rectangle(0, 0, 144, 120), 36, beam(12), beam(offset, style="flush", build="3-2x12"),
        joists={"size": "2x8"},
    )  # fmt: skip
    low = platform(
        "low", rectangle(0, 120, 144, 220), 36 - lower, {"kind": "hung", "on": "upper"}, beam(88),
        joists={"size": "2x6"},
    )  # fmt: skip
    return Study(make_plan(upper, low, site={"ground": [{"at": (0.0, 0.0), "elevation": -40.0}]}))


def test_joists_hang_on_a_neighbours_beam_along_the_shared_edge() -> None:
    study = _hung(lower=2.0)
    joist = study.layout.of("low", Kind.JOIST)[3]
    assert [(b.on, b.manner) for b in joist.bearings] == [("A-B2", "hanger"), ("B-B1", "bearing")]
    under = [p for p in study.layout.posts if p.mark in {b.on for b in study.layout.by_mark["A-B2"].bearings}]  # type: ignore[union-attr]
    assert all(p.carries == ("upper", "low") for p in under)
    arrived = sum(force.full for force in study.loads.posts.values())
    assert arrived == pytest.approx(study.loads.applied.full)
    found = [c for c in study.checks if c.rule == "joists hang on a neighbour's beam"]
    assert [c.verdict for c in found] == [Verdict.OUTSIDE]


def test_joists_that_hang_too_low_on_a_beam_are_refused_with_the_cure() -> None:
    found = [c for c in _hung(lower=20.0).checks if c.rule == "joists hang on a neighbour's beam"]
    assert [c.verdict for c in found] == [Verdict.FAIL]
    assert "under the underside" in found[0].reason
    # a 2x12 beam, 11 1/4 in deep, carries joists of 2x6, 5 1/2 in deep, down to 5 3/4 in under its top (PS 20)
    assert found[0].reason.endswith('"low" 14 1/4" higher would do')
    found = [c for c in _hung(lower=5.75).checks if c.rule == "joists hang on a neighbour's beam"]
    assert [c.verdict for c in found] == [Verdict.OUTSIDE]


def test_beam_set_back_from_the_edge_carries_no_hung_joists() -> None:
    found = [c for c in _hung(lower=2.0, offset=90.0).checks if c.rule == "joists hang on a neighbour's beam"]
    assert found[0].verdict is Verdict.FAIL
    assert "back from the edge" in found[0].reason


def test_a_beam_longer_than_stock_is_spliced_over_a_post_and_is_not_continuous_there() -> None:
    # splices at interior posts: IRC 2018 R507.5; stock of 20 ft: common practice
    deck = platform("p", rectangle(0, 0, 360, 120), 48, beam(12, posts=5), beam(108, posts=5))
    study = Study(make_plan(deck))
    line = [m for m in study.layout.of("p", Kind.BEAM) if m.support == 0]
    assert sum(m.length for m in line) == pytest.approx(360)
    assert all(m.length <= 240 for m in line)
    assert len([p for p in study.layout.posts if p.at[1] == pytest.approx(12)]) == 5
    first, second = sorted(line, key=lambda m: m.start[0])
    meet = first.bearings[-1]
    assert (meet.manner, meet.on) == ("splice", second.bearings[0].on)
    # each end has half the post to stand on
    assert meet.length == pytest.approx(5.5 / 2)
    # no moment over the splice, where a continuous beam would have its largest
    assert study.loads.demands[first.mark].analysis.support_moments[-1].value == pytest.approx(0)
    assert study.loads.lost.full == pytest.approx(0)
    rules = [c.verdict for c in study.checks if c.rule == "splices over posts"]
    assert rules == [Verdict.PASS] * len(rules)
