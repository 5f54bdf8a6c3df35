"""Rooms: furniture with its clearances, ways that stay open, and that comfort is advice and never a failure."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from deckplan.layout.room import furnish
from deckplan.layout.room_model import Gate, Room
from deckplan.layout.room_sets import cooking_set, corner_set, dining_set, fire_set, lounge_set, sun_set
from deckplan.layout.room_sizes import (
    clearance,
    dining_room,
    fire_circle,
    piece_size,
    room_for,
    standing_area,
    standing_guests,
    table_for,
    tub_load,
)
from deckplan.layout.room_uses import kind_of
from deckplan.layout.room_ways import find_ways
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import beam, make_plan, platform, rectangle

HOUSE = {
    "wall": [{"name": "house", "line": [(-600.0, 0.0), (1200.0, 0.0)], "ledger": True}],
    "door": [{"name": "kitchen door", "at": (60.0, 0.0), "width": 36.0, "sill": 20.0}],
}


def deck(width: float, depth: float, use: str, people: int, elevation: float = 20.0, **more: Any) -> Plan:
    one = platform(
        "deck", rectangle(0, 0, width, depth), elevation, {"kind": "ledger", "wall": "house"}, beam(depth - 18),
        use=use, people=people,
    )  # fmt: skip
    flights = more.pop(
        "flight", [{"from": "deck", "to": "ground", "along": [(width - 54, depth), (width - 6, depth)]}]
    )
    return make_plan(one, house=HOUSE, flight=flights, **more)


def room_of(plan: Plan) -> Room:
    study = Study(plan)
    return furnish(study.plan, study.profile, study.levels, study.layout)["deck"]


# -- published figures: T trade guidance, D derived from it, C code, P common practice --


def test_dining_for_six() -> None:
    """[D from T] Six at a 36 x 84 in table: 9 x 13 ft with 36 in all round."""
    assert (table_for(6).depth, table_for(6).width) == (36, 84)
    assert dining_room(6, room_for("edge past a chair")) == (9 * 12, 13 * 12)
    xs, ys = zip(*dining_set(6, 36.0).zone, strict=True)
    assert sorted((max(xs) - min(xs), max(ys) - min(ys))) == [108, 156]


@pytest.mark.parametrize(
    ("name", "inches"),
    [("table edge a person", 24), ("rise behind a chair", 32), ("edge past a chair", 36), ("walk behind a chair", 44),
     ("path", 36), ("good path", 48)],
)  # fmt: skip
def test_clearances(name: str, inches: float) -> None:
    """[T] 24 in of table edge a person; behind it 32 in to rise, 36 to edge past, 44 to walk; paths 36, better 48."""
    assert clearance(name).value == inches
    assert clearance(name).source.confirmed == "trade guidance"


@pytest.mark.parametrize("people", range(2, 13))
def test_each_has_an_edge_of_table(people: int) -> None:
    """[T] 24 in of table edge a person, half of them on each long side."""
    assert table_for(people).width >= 24 * -(-people // 2)


def test_fire_circle() -> None:
    """[D] A 36 in feature and an 84 in ring on each side: a circle of 17 ft."""
    assert fire_circle() == 17 * 12


def test_standing_guests() -> None:
    """[T] 15 sq ft a guest standing: 20 guests, 300 sq ft."""
    assert standing_area(20) == 300
    assert standing_guests(300) == 20
    assert standing_guests(299) == 19


def test_tub_load() -> None:
    """[D] An 8 x 8 ft tub of 6,500 lb is 102 psf."""
    assert tub_load() == pytest.approx(102, abs=0.5)


# -- placing --


def holds_together(plan: Plan, room: Room) -> None:
    """Furniture stands on the platform, off the landings, nothing on anything else; ways cross none of it."""
    outline = Polygon(plan.platforms[0].outline).buffer(0.05)
    taken = [Polygon(group.taken) for group in room.groups]
    for group in room.groups:
        assert outline.covers(Polygon(group.zone))
        assert Polygon(group.zone).buffer(0.05).covers(Polygon(group.taken))
        for piece in group.pieces:
            assert outline.covers(Polygon(piece.outline))
        assert sum(piece.seats for piece in group.pieces) == group.seats
    for a, b in combinations(taken, 2):
        assert a.intersection(b).area < 0.1
    for gate in room.gates:
        (x0, y0), (x1, y1) = gate.line
        dx, dy = gate.inward
        landing = Polygon([(x0, y0), (x1, y1), (x1 + 36 * dx, y1 + 36 * dy), (x0 + 36 * dx, y0 + 36 * dy)])
        assert all(landing.intersection(body).area < 0.5 for body in taken)
    for way in room.ways:
        if way.points:
            broad = LineString(way.points).buffer(
                way.width / 2 - 0.5, quad_segs=2, cap_style="flat", join_style="bevel"
            )
            assert all(broad.intersection(body).area < 2.0 for body in taken)


def test_eight_dine_where_there_is_room() -> None:
    plan = deck(264, 216, "dining", 8)
    room = room_of(plan)
    holds_together(plan, room)
    assert (room.seated, room.not_placed) == (8, ())
    assert [group.clearance for group in room.groups] == [44.0]
    assert {way.width for way in room.ways} == {48.0}
    assert {check.verdict for check in room.checks} == {Verdict.PASS}
    assert not room.notes


def test_six_in_nine_by_thirteen_and_not_in_less() -> None:
    """[D from T] 9 x 13 ft hold six with 36 in all round; the landing at a door comes on top, so none is here.

    At 44 in there are guards all round: chairs may slide up to them.
    """
    bare = {"house": {"wall": HOUSE["wall"]}, "flight": []}
    one = platform("deck", rectangle(0, 0, 156, 108), 44.0, {"kind": "ledger", "wall": "house"}, beam(90.0),
                   use="dining", people=6)  # fmt: skip
    room = room_of(make_plan(one, **bare))
    assert (room.seated, room.groups[0].clearance) == (6, 36.0)
    less = {**one, "outline": rectangle(0, 0, 154, 108)}
    tight = room_of(make_plan(less, **bare))
    assert (tight.seated, tight.groups[0].clearance) == (6, 32.0)
    assert any("edge past" in note.text for note in tight.notes)


def test_too_many_people_is_advice_and_no_failure() -> None:
    room = room_of(deck(120, 120, "dining", 12))
    assert room.seated < 12
    assert room.not_placed
    (seats,) = [check for check in room.checks if check.rule == "seats with their room"]
    assert seats.verdict is Verdict.NOT_APPLICABLE
    assert "no code asks for it" in seats.reason
    assert {note.level for note in room.notes} == {"advice"}
    assert not {check.verdict for check in room.checks} & {Verdict.FAIL, Verdict.OUTSIDE}


def test_fire_needs_seventeen_feet() -> None:
    """[D] 17 ft across: a platform of 17 ft holds the ring, one of 16 ft 11 in does not."""
    wide = make_plan(
        platform("deck", rectangle(0, 0, 205, 205), 8.0, beam(12.0), beam(190.0), use="gas fire", people=6)
    )
    assert room_of(wide).seated == 6
    narrow = make_plan(
        platform("deck", rectangle(0, 0, 203, 230), 8.0, beam(12.0), beam(215.0), use="gas fire", people=6)
    )
    assert room_of(narrow).seated == 0
    assert any("no circle of 17'-0\"" in note.text or "circle" in note.text for note in room_of(narrow).notes)


def test_grill_near_a_door_is_advice() -> None:
    """[T] Ten feet from openings are advised: 8 ft of deck cannot give them, 20 ft can."""
    near = room_of(deck(144, 96, "cooking", 0))
    assert any("grill stands" in note.text and "kitchen door" in note.text for note in near.notes)
    far = room_of(deck(288, 240, "cooking", 0))
    assert len(far.groups) == 1
    assert not any("kitchen door" in note.text and "grill stands" in note.text for note in far.notes)


def test_chairs_keep_off_open_edges() -> None:
    """At 20 in no guard is asked for, so the edges are open; 12 in are kept where there is room (common practice)."""
    room = room_of(deck(264, 216, "dining", 6))
    assert room.open_edges
    edges = [LineString(edge) for edge in room.open_edges]
    assert min(Polygon(group.swing).distance(edge) for group in room.groups for edge in edges) >= 12 - 0.02
    high = room_of(deck(264, 216, "dining", 6, elevation=60.0, flight=[]))
    assert not high.open_edges  # guards all round


def test_ways_by_width() -> None:
    """A bar across a platform of 10 ft leaves 50, 40 and 30 in beside it: a good path, a path, none."""
    outline = Polygon(rectangle(0, 0, 120, 120))
    low = Gate("low", ((70.0, 0.0), (120.0, 0.0)), (0.0, 1.0))
    high = Gate("high", ((70.0, 120.0), (120.0, 120.0)), (0.0, -1.0))
    for left, width in ((50.0, 48.0), (40.0, 36.0), (30.0, 0.0)):
        bar = Polygon(rectangle(0, 50, 120 - left, 70))
        (way,) = find_ways(outline, [bar], (low, high), (48.0, 36.0))
        assert way.width == width
        assert bool(way.points) is bool(width)


def test_way_goes_round_a_corner() -> None:
    """The shortest line of a 36 in way keeps 18 in off the corner of what it passes."""
    outline = Polygon(rectangle(0, 0, 200, 200))
    block = Polygon(rectangle(60, 60, 140, 140))
    gates = (
        Gate("a", ((0.0, 80.0), (0.0, 120.0)), (1.0, 0.0)),
        Gate("b", ((200.0, 80.0), (200.0, 120.0)), (-1.0, 0.0)),
    )
    (way,) = find_ways(outline, [block], gates, (36.0,))
    line = LineString(way.points)
    assert line.distance(block) == pytest.approx(18, abs=1.5)
    assert 200 < line.length < 260


def test_seats_give_way_to_ways() -> None:
    """Six loungers of 27 in with 24 in between are 282 in wide and would bar a platform of 288: no row of six."""
    room = room_of(deck(288, 172, "sun", 6))
    assert max(group.seats for group in room.groups) < 6
    assert all(way.width >= 36 for way in room.ways)


def test_no_way_is_advice() -> None:
    """A tub of 8 ft on a platform of 9 ft bars the way to the steps beyond it: told as advice, by name."""
    room = room_of(deck(108, 220, "hot tub", 0))
    assert [way.width for way in room.ways] == [0.0]
    assert any('no way 36"' in note.text and "S1" in note.text for note in room.notes)


def test_levels_beside_each_other_are_one_floor() -> None:
    """Two platforms at one height that share 10 ft of edge: one walks over, and no landing is kept clear there."""
    left = platform(
        "deck",
        rectangle(0, 0, 180, 120),
        20.0,
        {"kind": "ledger", "wall": "house"},
        beam(100.0),
        use="dining",
    )
    right = platform(
        "other", rectangle(180, 0, 300, 120), 20.0, {"kind": "ledger", "wall": "house"}, beam(100.0)
    )
    room = room_of(make_plan(left, right, house=HOUSE))
    over = next(gate for gate in room.gates if gate.name == "other")
    assert over.level
    assert sorted(over.line) == [(180.0, 0.0), (180.0, 120.0)]
    assert over.inward == pytest.approx((-1.0, 0.0))
    assert {way.end for way in room.ways} | {way.start for way in room.ways} == {"other", "kitchen door"}


@pytest.mark.parametrize(
    "use",
    [("dining for the family", "dining"), ("Gas fire", "fire"), ("hot tub", "tub"), ("outdoor kitchen", "cooking"),
     ("sun", "sun"), ("Sunday rest", ""), ("storage", ""), ("", "")],
)  # fmt: skip
def test_uses_in_free_words(use: tuple[str, str]) -> None:
    assert kind_of(use[0]) == use[1]


@pytest.mark.parametrize("people", range(1, 9))
def test_sets_seat_whom_they_say(people: int) -> None:
    makers = [dining_set, lounge_set, sun_set, fire_set] + ([corner_set] if 4 <= people <= 6 else [])
    for maker in makers:
        made = maker(people, 36.0)
        assert made.seats == min(people, 6 if maker is sun_set else 8)
        bodies = [Polygon(p.outline) for p in made.pieces if p.name not in ("chair", "table")]
        assert all(a.intersection(b).area < 0.01 for a, b in combinations(bodies, 2))
    assert len(cooking_set(0, 36.0).pieces) == 1
    assert piece_size("sofa").seats == 3


@settings(max_examples=25, deadline=None)
@given(
    st.integers(8, 24), st.integers(8, 20), st.sampled_from(["dining", "lounge", "sun", "fire", "cooking", "planting"]),
    st.integers(0, 14), st.sampled_from([12.0, 20.0, 44.0]),
)  # fmt: skip
def test_any_room_holds_together(wide: int, deep: int, use: str, people: int, elevation: float) -> None:
    plan = deck(wide * 12, deep * 12, use, people, elevation)
    room = room_of(plan)
    holds_together(plan, room)
    assert room.seated <= max(people, 0 if use != "fire" else 4)
    assert not {check.verdict for check in room.checks} & {Verdict.FAIL, Verdict.OUTSIDE}
