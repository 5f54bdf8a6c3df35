"""Beams at any angle to their joists: what rests on them, how, and with what force, by hand."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest

from deckplan.buy.connectors import count_connectors
from deckplan.buy.lumber import cut_length
from deckplan.checks.joists import overhang_counted
from deckplan.checks.ledgers import heaviest_stretch
from deckplan.checks.printed_beams import RULE as PRINTED_BEAM
from deckplan.checks.printed_joists import RULE as PRINTED_SPAN
from deckplan.draw.shapes import post_shape
from deckplan.geometry import distance, point_to_line
from deckplan.layout.ends import cut_ends, shape_of
from deckplan.layout.model import Bearing, Kind, Layout, Member
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import HOUSE, LEDGER, beam, make_plan, platform, rectangle


def line(a: tuple[float, float], b: tuple[float, float], **more: Any) -> dict[str, Any]:
    return {"kind": "beam", "line": [a, b], **more}


def skewed_deck(**beam_keys: Any) -> Study:
    """Return a deck 96 in wide and 180 deep: joists along y from a ledger over a beam at 45 degrees to them."""
    deck = platform(
        "deck",
        rectangle(0, 0, 96, 180),
        40,
        LEDGER,
        line((0, 72), (96, 168), build="2-2x12", **beam_keys),
        joists={"size": "2x10", "spacing": 16.0},
    )
    return Study(make_plan(deck, house=HOUSE))


def on_beam(joist: Member) -> Bearing:
    return next(bearing for bearing in joist.bearings if bearing.on == "A-B1")


def joist_at(layout: Layout, x: float, y: float = 2.0) -> Member:
    return next(
        m
        for m in layout.of("deck", Kind.JOIST)
        if m.start[0] == pytest.approx(x) and m.start[1] < y < m.end[1]
    )


def test_each_joist_crosses_the_beam_at_its_own_place() -> None:
    layout = skewed_deck().layout
    for joist in layout.of("deck", Kind.JOIST):
        there = joist.point(on_beam(joist).at)
        # the line y = x + 72
        assert there[1] == pytest.approx(joist.start[0] + 72.0)


def test_reactions_are_those_of_a_simple_beam_with_an_overhang() -> None:
    # Closed form: moments about the hanger. A joist 16 in from the next, 10 + 40 psf, from the ledger's face at 1.5 in
    # to the rim's at 178.5 in; the last 1.5 in of boards bear on its very end.
    study = skewed_deck()
    w = 16.0 * 50.0 / 144.0
    for x in (32.0, 48.0, 64.0):
        joist = joist_at(study.layout, x)
        a, length = x + 72.0 - 1.5, 177.0
        beam_force = w * (length**2 / 2 + 1.5 * length) / a
        found = {d.lower: d.force.full for d in study.loads.out_of[joist.mark]}
        assert found["A-B1"] == pytest.approx(beam_force, rel=1e-9)
        assert found["A-L1"] == pytest.approx(w * 180.0 - beam_force, rel=1e-9)


@pytest.mark.parametrize("skew", [0.0, 30.0, 45.0, 60.0])
def test_a_joist_bears_on_the_thickness_over_the_cosine(skew: float) -> None:
    # Geometry: two plies of 1.5 in, cut at an angle; 60 degrees off square leaves 30 to the joists, the least.
    rise = 48.0 * math.tan(math.radians(skew))
    deck = platform(
        "deck", rectangle(0, 0, 48, 240), 60, LEDGER, line((0, 100), (48, 100 + rise), build="2-2x12"),
        joists={"size": "2x12"},
    )  # fmt: skip
    layout = Study(make_plan(deck, house=HOUSE)).layout
    bearing = on_beam(joist_at(layout, 16.0))
    assert bearing.length == pytest.approx(3.0 / math.cos(math.radians(skew)))
    assert abs(bearing.skew) == pytest.approx(skew)


def test_joists_hang_on_the_faces_of_a_flush_beam_along_its_slant() -> None:
    layout = skewed_deck(style="flush").layout
    joist, beyond = joist_at(layout, 32.0), joist_at(layout, 32.0, 170.0)
    # half of 3 in over the cosine of 45 degrees before and behind the middle, at 32 + 72
    assert joist.end[1] == pytest.approx(104.0 - 1.5 * math.sqrt(2))
    assert beyond.start[1] == pytest.approx(104.0 + 1.5 * math.sqrt(2))
    assert on_beam(joist).manner == "hanger"
    assert abs(on_beam(joist).skew) == pytest.approx(45.0)


def test_skewed_hangers_are_bought_by_name_and_angle() -> None:
    study = skewed_deck(style="flush")
    names = {item.item: item.count for item in count_connectors(study.layout, study.loads)}
    hung = [b for m in study.layout.of("deck", Kind.JOIST) for b in m.bearings if b.on == "A-B1"]
    assert names["joist hanger, 2x10, skewed by 45 degrees"] == len(hung)
    assert names["joist hanger, 2x10"] == len(study.layout.of("deck", Kind.JOIST)) - sum(
        1 for m in study.layout.of("deck", Kind.JOIST) if m.start[1] > 10
    )


def test_posts_stand_along_the_true_length() -> None:
    study = skewed_deck(posts=3)
    (made,) = study.layout.of("deck", Kind.BEAM)
    assert made.length == pytest.approx(96.0 * math.sqrt(2))
    at = [bearing.at for bearing in made.bearings]
    # a 5.5 in post at an edge that leans by 45 degrees stands back by its half and as much again
    assert at == pytest.approx([5.5, made.length / 2, made.length - 5.5])
    for post in study.layout.posts:
        assert point_to_line(post.at, made.line) < 1e-9
        # turned with its beam: a corner touches the edge, none stands out
        xs = [x for x, _ in post_shape(post)]
        assert min(xs) >= -1e-9
        assert max(xs) <= 96.0 + 1e-9
        assert max(xs) - min(xs) == pytest.approx(5.5 * math.sqrt(2))


def test_blocking_lies_over_the_beam_at_its_slant() -> None:
    study = skewed_deck()
    (made,) = study.layout.of("deck", Kind.BEAM)
    rows = [
        m
        for m in study.layout.of("deck", Kind.BLOCKING)
        if point_to_line(m.start, made.line) < 0.01 and point_to_line(m.end, made.line) < 0.01
    ]
    joists = sorted({m.start[0] for m in study.layout.of("deck", Kind.JOIST)})
    assert len(rows) == len(joists) - 1


def test_the_printed_tables_do_not_speak_of_it() -> None:
    checks = skewed_deck().checks
    said = {c.rule: c for c in checks if c.rule in (PRINTED_BEAM, PRINTED_SPAN)}
    assert set(said) == {PRINTED_BEAM, PRINTED_SPAN}
    assert all(c.verdict is Verdict.NOT_APPLICABLE and "square" in c.reason for c in said.values())


# -- beams that meet --


def corner_deck() -> Study:
    """Return a deck 12 ft square with joists at 45 degrees: a ledger, and flush beams along the other edges."""
    deck = platform(
        "deck",
        rectangle(0, 0, 144, 144),
        36,
        LEDGER,
        line((0, 144), (144, 144), style="flush"),
        line((0, 0), (0, 144), style="flush", posts=(30.0, 120.0)),
        line((144, 0), (144, 144), style="flush", posts=(30.0, 120.0)),
        joists={"direction": 45.0, "spacing": 12.0},
    )
    return Study(make_plan(deck, house=HOUSE))


def test_a_later_beam_hangs_on_the_face_of_an_earlier_one_and_stops_at_the_ledger() -> None:
    layout = corner_deck().layout
    first, second, _ = layout.of("deck", Kind.BEAM)
    assert [b.manner for b in second.bearings if b.on == first.mark] == ["hanger"]
    top, low = max(second.line, key=lambda p: p[1]), min(second.line, key=lambda p: p[1])
    # three inches of beam along y = 144, an inch and a half of ledger along y = 0
    assert top == pytest.approx((1.5, 141.0))
    assert low == pytest.approx((1.5, 1.5))
    assert first.depth >= second.depth


def test_a_carrier_too_shallow_for_what_hangs_on_it_fails() -> None:
    deck = platform(
        "deck", rectangle(0, 0, 144, 144), 60,
        line((0, 144), (144, 144), style="flush", build="2-2x8"),
        line((0, 0), (144, 0), style="flush", build="3-2x12"),
        line((0, 0), (0, 144), style="flush", build="2-2x10"),
        line((144, 0), (144, 144), style="flush", build="2-2x8"),
        joists={"direction": 45.0, "size": "2x8"},
    )  # fmt: skip
    checks = [c for c in Study(make_plan(deck)).checks if "in its whole depth" in c.rule]
    found = {(c.mark, c.rule.split()[3]): c.verdict for c in checks}
    assert found[("A-B3", "A-B1")] is Verdict.FAIL
    assert found[("A-B3", "A-B2")] is Verdict.PASS
    assert found[("A-B4", "A-B1")] is Verdict.PASS


def test_what_is_left_beyond_another_beam_is_left_out_where_it_is_a_stub() -> None:
    def lengths(back: float) -> int:
        deck = platform(
            "deck",
            [(0, 0), (192, 0), (192, 96), (144, 144), (0, 144)],
            36,
            LEDGER,
            line((144, 144 - back), (192, 96 - back)),
            beam(110.0),
        )
        beams = Study(make_plan(deck, house=HOUSE)).layout.of("deck", Kind.BEAM)
        return len([b for b in beams if b.support == 2])

    # along y = 110 the piece beyond the clip's beam is as long as that stands back, along y
    assert lengths(20.0) == 1
    assert lengths(40.0) == 2


def test_near_where_beams_meet_a_joist_rests_on_one_of_them() -> None:
    deck = platform(
        "deck", rectangle(0, 0, 144, 160), 36, LEDGER, beam(120.0), line((0, 112), (144, 148)),
        joists={"size": "2x10"},
    )  # fmt: skip
    layout = Study(make_plan(deck, house=HOUSE)).layout
    for joist in layout.of("deck", Kind.JOIST):
        places = [b.at for b in joist.bearings]
        assert min(b - a for a, b in pairwise(places)) >= 12.0
        assert len(places) >= 2


def test_an_overhang_counts_from_the_best_of_the_last_bearings() -> None:
    # by hand: 30 in over 12 in behind it is no quarter; without the last bearing 42 over 168 in is exactly one
    assert overhang_counted(30.0, (12.0, 168.0), 0.25) == (42.0, 168.0)
    assert overhang_counted(30.0, (120.0, 12.0), 0.25) == (30.0, 120.0)
    # an inch more passes nowhere: what was drawn is judged, not a length that nobody drew
    assert overhang_counted(31.0, (12.0, 168.0), 0.25) == (31.0, 12.0)


# -- ledgers --


def test_a_ledger_at_an_angle_is_fastened_for_its_heaviest_stretch() -> None:
    study = corner_deck()
    (ledger,) = study.layout.of("deck", Kind.LEDGER)
    heaviest = heaviest_stretch(ledger, study.layout, study.loads)
    average = study.loads.ledgers[ledger.mark].governing[0] / ledger.length
    # joists from the left end run to the top, from the right end into the corner: they put on less and less
    assert heaviest.per_inch > 1.2 * average
    # and no stretch can carry more than a joist of the greatest length on it, half of 50 psf over its span, by the
    # sine of 45 degrees along the wall: 25 psf x 144 x sqrt 2 / sqrt 2 a foot of wall, and what a corner adds
    assert heaviest.per_inch < 1.1 * 25.0 * 144.0 / 144.0
    said = next(c for c in study.checks if c.mark == ledger.mark and c.rule.endswith("by the table"))
    assert said.verdict is Verdict.NOT_APPLICABLE
    one = next(c for c in study.checks if c.mark == ledger.mark and c.rule.startswith("load on one"))
    assert one.verdict is Verdict.PASS


def test_a_square_ledger_carries_alike_all_along() -> None:
    deck = platform("deck", rectangle(0, 0, 192, 144), 36, LEDGER, beam(120.0), joists={"size": "2x10"})
    study = Study(make_plan(deck, house=HOUSE))
    (ledger,) = study.layout.of("deck", Kind.LEDGER)
    heaviest = heaviest_stretch(ledger, study.layout, study.loads)
    assert heaviest.per_inch == pytest.approx(study.loads.ledgers[ledger.mark].governing[0] / 192.0, rel=1e-6)


# -- what is said where they do not stand --


def test_loose_corner_joists_are_told_which_edges_want_a_beam() -> None:
    octagon = [(48, 0), (144, 0), (192, 48), (192, 120), (144, 168), (48, 168), (0, 120), (0, 48)]
    deck = platform("deck", octagon, 30, beam(40.0), beam(128.0))
    reasons = [c.reason for c in Study(make_plan(deck)).checks if c.verdict is Verdict.FAIL]
    assert any(
        "a beam, flush or set back, along the edges from" in reason and "(12'-0\", 0'-0\")" in reason
        for reason in reasons
    )


def test_a_beam_is_cut_along_the_edge_that_ends_it_and_bought_to_its_long_points() -> None:
    # Geometry: 96 in across at 45 degrees, two plies of 1.5 in, both ends along edges that run with the joists
    study = skewed_deck()
    (made,) = study.layout.of("deck", Kind.BEAM)
    assert [abs(cut) for cut in made.cuts] == pytest.approx([45.0, 45.0])
    shape = shape_of(made, cut_ends(study.layout.members))
    xs = [x for x, _ in shape]
    assert [min(xs), max(xs)] == pytest.approx([0.0, 96.0])
    assert sum(abs(x - 0.0) < 1e-6 for x in xs) == 2
    assert cut_length(made, made.cuts) == pytest.approx(96.0 * math.sqrt(2) + 3.0)


def test_an_edge_that_a_tape_leaves_off_the_joists_runs_along_them() -> None:
    # 6 ft 11 1/8 in over 12 ft is 60.005 degrees: no rim is wanted beside the end joist for that
    corners = [(0, 0), (192, 0), (275.125, 144), (83.125, 144)]
    deck = platform("deck", corners, 30, LEDGER, line((60, 126), (240, 126)), joists={"direction": 60.0})
    layout = Study(make_plan(deck, house=HOUSE)).layout
    assert len(layout.of("deck", Kind.RIM)) == 1
    exact = 144 / math.tan(math.radians(60.0))
    same = [(0, 0), (192, 0), (192 + exact, 144), (exact, 144)]
    other = Study(make_plan({**deck, "outline": same}, house=HOUSE)).layout
    assert len(layout.of("deck", Kind.JOIST)) == len(other.of("deck", Kind.JOIST))


def test_guard_posts_stand_clear_of_both_rims_of_an_acute_corner() -> None:
    corners = [(0, 0), (192, 0), (275.125, 144), (83.125, 144)]
    deck = platform("deck", corners, 40, LEDGER, line((60, 126), (240, 126)),
                    joists={"direction": 60.0, "spacing": 12.0})  # fmt: skip
    study = Study(make_plan(deck, house=HOUSE))
    assert not [c for c in study.checks if c.rule == "guard posts land on framing"]
    edges = list(zip(corners, corners[1:] + corners[:1], strict=True))
    # half a 4x4 and the rim, less what a post shifts beside a joist's thickness of slack
    assert all(min(point_to_line(post.at, edge) for edge in edges) > 3.0 for post in study.layout.guard_posts)


def test_joists_that_end_on_too_flat_an_edge_are_told_to_turn() -> None:
    # an edge from (168, 0) to (192, 144) lies at atan(24 / 144), 9.46 degrees, to joists along y
    deck = platform("deck", [(0, 0), (168, 0), (192, 144), (0, 144)], 30, LEDGER, beam(120.0))
    wide = platform("deck", [(0, 0), (168, 0), (240, 144), (0, 144)], 30, LEDGER, beam(120.0))
    reasons = [
        [
            c.reason
            for c in Study(make_plan(each, house=HOUSE)).checks
            if c.rule == "joists rest on two supports"
        ]
        for each in (deck, wide)
    ]
    assert "turn the joists: an edge lies at 9 degrees to them, and under 30 nothing" in reasons[0][0]
    assert "turn the joists: an edge lies at 27 degrees" in reasons[1][0]


def test_joists_hang_aslant_on_a_neighbours_beam() -> None:
    # the upper level's flush beam runs along x; the lower level's joists leave it at 60 degrees
    upper = platform("upper", rectangle(0, 0, 192, 144), 40, LEDGER, beam(142.5, style="flush", build="2-2x10"),
                     joists={"size": "2x10"})  # fmt: skip
    lower = platform("lower", [(0, 144), (192, 144), (247.4, 240), (55.4, 240)], 40,
                     {"kind": "hung", "on": "upper"}, line((60, 222), (230, 222)),
                     joists={"size": "2x10", "direction": 60.0})  # fmt: skip
    study = Study(make_plan(upper, lower, house=HOUSE))
    joists = study.layout.of("lower", Kind.JOIST)
    hung = [b for m in joists for b in m.bearings if b.on == "A-B1"]
    assert len(hung) == len(joists)
    assert all(abs(abs(b.skew) - 30.0) < 0.1 for b in hung)
    assert study.loads.lost.full == 0.0


def test_notched_posts_stand_square_behind_a_beam_at_an_angle() -> None:
    # 5.5 in posts, 3 in cut away: the axis stands (5.5 - 3) / 2 in off the beam's middle, square to the beam
    study = skewed_deck(seat="notch")
    (made,) = study.layout.of("deck", Kind.BEAM)
    for post in study.layout.posts:
        assert point_to_line(post.at, made.line) == pytest.approx(1.25)
    assert not [c for c in study.checks if c.verdict is Verdict.FAIL and "tongue" in c.rule]


def test_a_beam_that_hangs_aslant_on_a_neighbours_post_is_told_its_skew() -> None:
    # the upper beam begins 1.5 in from x = 0, so its last post stands at 189.25, its face on the edge; the lower one's
    # line runs from that post's middle by 36 in over 146.75: atan, 13.78 degrees off the face
    upper = platform(
        "upper", rectangle(0, 0, 192, 144), 60, LEDGER, beam(120.0, posts=(2.75, 94.5, 187.75), style="flush")
    )
    lower = platform("lower", rectangle(192, 0, 336, 144), 40, beam(20.0),
                     line((189.25, 120.0), (336.0, 84.0), shares_posts_with="upper"))  # fmt: skip
    layout = Study(make_plan(upper, lower, house=HOUSE)).layout
    (wish,) = layout.sharing
    (hung,) = [b for m in layout.of("lower", Kind.BEAM) for b in m.bearings if b.on == wish.post]
    assert hung.manner == "hanger"
    assert abs(hung.skew) == pytest.approx(math.degrees(math.atan(36.0 / 146.75)), abs=0.01)


def test_a_line_near_an_edge_stands_inside_it() -> None:
    clip = [(0, 0), (192, 0), (192, 96), (144, 144), (0, 144)]
    deck = platform("deck", clip, 36, LEDGER, line((144, 144), (192, 96), style="flush", build="2-2x10"),
                    line((0, 144), (144, 144), style="flush", build="2-2x10"), joists={"size": "2x10"})  # fmt: skip
    made = Study(make_plan(deck, house=HOUSE)).layout.of("deck", Kind.BEAM)[0]
    for end in made.line:
        assert point_to_line(end, ((120, 168), (216, 72))) == pytest.approx(1.5)
    assert distance(*made.line) < distance((144, 144), (192, 96)) + 3.01
