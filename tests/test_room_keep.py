"""What is kept out of where: grills and fires off house, levels above, posts and rails; seats off open drops."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from deckplan.draw.labels import overlaps
from deckplan.draw.room_view import room_view
from deckplan.draw.scene import Area, Role
from deckplan.draw.sheet import PHONE, SCREEN, WALL_SCREEN
from deckplan.draw.style import PENS
from deckplan.explore.surface_tables import rooms_sheet
from deckplan.layout.room_comfort import ADVICE, BY_TOWN, Sayings
from deckplan.layout.room_keep import SEATED, Obstacle, obstacles_of, plain_parts, say_distances
from deckplan.layout.room_model import Gate, Group, Piece, Room
from deckplan.layout.room_sizes import clearance
from deckplan.layout.room_ways import widest
from deckplan.plan.file import read_plan
from deckplan.plan.model import Plan
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import HOUSE, LEDGER, beam, make_plan, platform, rectangle

PLANS = sorted(data_path("plans").glob("*.toml"))


@cache
def study_of(path: Path) -> Study:
    return Study(read_plan(path))


def deck(width: float, depth: float, use: str, people: int, elevation: float, **more: Any) -> Plan:
    one = platform(
        "deck", rectangle(0, 0, width, depth), elevation, LEDGER, beam(depth - 18), use=use, people=people
    )
    return make_plan(one, **{"house": HOUSE, **more})


def room_of(plan: Plan) -> Room:
    return Study(plan).rooms["deck"]


def notes(room: Room) -> str:
    return "\n".join(note.text for note in room.notes)


def hot_of(room: Room) -> list[Polygon]:
    pieces = [p for group in room.groups for p in group.pieces if p.name in ("grill", "fire feature")]
    return [Polygon(piece.outline) for piece in pieces]


def under(plan: Plan, use: str) -> Study:
    """The terrace under a gallery that stands 104 in over it on three posts, put to another use."""
    platforms = tuple(
        one.model_copy(update={"use": use, "people": 0}) if one.name == "terrace" else one
        for one in plan.platforms
    )
    return Study(plan.model_copy(update={"platforms": platforms}))


# -- how far: C by town, T trade guidance, P common practice --


@pytest.mark.parametrize(
    ("name", "inches", "standing"),
    [
        ("fire to house", 120, "code, by town"),  # wood fires 10 to 25 ft from structures
        ("fire to rails", 36, "common practice"),
        ("grill to openings", 120, "trade guidance"),  # 10 ft from openings and overhangs advised
        ("grill to walls", 120, "common practice"),
        ("grill to posts", 24, "common practice"),
        ("grill to rails", 24, "common practice"),
        ("back from an open edge", 12, "common practice"),
    ],
)
def test_distances_and_on_whose_word(name: str, inches: float, standing: str) -> None:
    assert (clearance(name).value, clearance(name).source.confirmed) == (inches, standing)


@pytest.mark.parametrize("name", ["grill to walls", "grill to rails", "fire to rails", "fire to house"])
@pytest.mark.parametrize(("off", "verdict"), [(-0.1, "no"), (0.0, "yes"), (0.1, "yes")])
def test_at_the_distance_under_it_and_over_it(name: str, off: float, verdict: str) -> None:
    far = clearance(name)
    use, what = ("fire", "fire feature") if name.startswith("fire") else ("cooking", "grill")
    outline = ((0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0))
    group = Group("set", 0, (Piece(what, outline),), outline, outline, outline, 0.0)
    line = LineString([(20 + far.value + off, -50), (20 + far.value + off, 50)])
    say = Sayings("deck")
    say_distances(say, use, [Obstacle("the line", line, far)], [group], "us")
    (check,) = say.checks
    assert check.verdict is (Verdict.PASS if verdict == "yes" else Verdict.NOT_APPLICABLE)
    assert len(say.notes) == (verdict == "no")
    assert check.reason.startswith({"yes": "", "no": BY_TOWN if far.by_town else ADVICE}[verdict])


# -- against what --


def test_a_grill_keeps_off_a_wall_without_doors() -> None:
    """8 ft of deck cannot give 10 ft, 20 ft can."""
    near, far = room_of(deck(240, 96, "cooking", 0, 60.0)), room_of(deck(240, 240, "cooking", 0, 60.0))
    assert "the grill stands " in notes(near)
    assert "from house, 10'-0\" is advised" in notes(near)
    (grill,) = hot_of(far)
    assert grill.distance(LineString([(0, 0), (240, 0)])) >= 120
    assert notes(far) == ""
    assert {check.rule for check in far.checks} >= {"grill to house", "grill to the rails"}


def test_a_fire_keeps_off_rails_and_walls() -> None:
    """At 60 in a guard goes all round; 26 x 26 ft hold the ring of 17 ft and 10 ft to the house."""
    room = room_of(deck(312, 312, "gas fire", 4, 60.0))
    (fire,) = hot_of(room)
    found = {check.rule: check for check in room.checks}
    assert found["fire to house"].demand == pytest.approx(fire.distance(LineString([(0, 0), (312, 0)])))
    rails = LineString([(0, 0), (0, 312), (312, 312), (312, 0)])
    assert found["fire to the rails"].demand == pytest.approx(fire.distance(rails))
    assert {check.verdict for check in found.values()} == {Verdict.PASS}
    small = room_of(deck(312, 205, "gas fire", 4, 60.0))
    assert "the fire stands 7'-0" in notes(small), "the ring of 7 ft just fits"
    (short,) = [check for check in small.checks if check.rule == "fire to house"]
    assert short.reason.startswith(BY_TOWN)


@pytest.mark.parametrize("use", ["cooking", "gas fire"])
def test_a_level_above_and_its_posts_are_kept_clear_of(use: str) -> None:
    study = under(read_plan(data_path("plans", "frames-overlapping.toml")), use)
    room, kind = study.rooms["terrace"], "cooking" if use == "cooking" else "fire"
    terrace = study.plan.platform("terrace")
    found = obstacles_of(study.plan, study.levels, study.layout, terrace, kind, room.covers, room.posts)
    assert [one.name for one in found] == [
        "garden wall", "garden door", "the level above, gallery", "the posts that rise from here"
    ]  # fmt: skip
    # the gallery's part over the terrace: 0 to 14 ft by 1 to 7 ft; its beam's posts stand 6 ft from the wall
    assert found[2].shape.equals(box(0, 12, 168, 84))
    assert found[2].far.value == 120
    assert found[3].shape.centroid.y == pytest.approx(72.0)


def test_a_grill_goes_where_the_level_above_is_far() -> None:
    """A gallery over the west end of a long terrace: the grill goes to the east end, off its posts and overhang."""
    terrace = platform("deck", rectangle(0, 0, 480, 168), 14.0, beam(12.0), beam(156.0), use="cooking")
    gallery = platform("gallery", rectangle(0, 0, 96, 96), 120.0, beam(12.0, posts=2), beam(84.0, posts=2))
    room = room_of(make_plan(terrace, gallery))
    (grill,) = hot_of(room)
    assert grill.distance(box(0, 0, 96, 96)) >= 120
    assert notes(room) == ""
    (keep,) = [keep for keep in room.keep_outs if keep.far == 120]
    zone = [Polygon(part) for part in keep.outlines]
    for x in range(3, 480, 23):
        for y in range(3, 168, 19):
            near = Point(x, y).distance(box(0, 0, 96, 96)) < 120
            on_rim = abs(Point(x, y).distance(box(0, 0, 96, 96)) - 120) < 0.5
            assert on_rim or near is any(part.covers(Point(x, y)) for part in zone)


def test_a_grill_keeps_off_the_rails_of_the_level_beside() -> None:
    """The upper level stands 34 in higher and has a rail along the edge that both share."""
    low = platform("deck", rectangle(0, 0, 240, 168), 24.0, beam(12.0), beam(156.0), use="cooking")
    high = platform("upper", rectangle(240, 0, 360, 168), 58.0, beam(12.0), beam(156.0))
    study = Study(make_plan(low, high))
    shared = [
        g
        for g in study.layout.guards
        if g.platform == "upper" and g.required and g.start[0] == g.end[0] == 240
    ]
    assert shared
    room = study.rooms["deck"]
    (check,) = [check for check in room.checks if check.rule == "grill to the rails"]
    (grill,) = hot_of(room)
    assert check.demand == pytest.approx(min(grill.distance(LineString([g.start, g.end])) for g in shared))
    assert any(Polygon(part).covers(Point(230, 84)) for keep in room.keep_outs for part in keep.outlines)


def test_a_zone_with_a_hole_is_cut_into_plain_parts() -> None:
    ring = box(0, 0, 100, 100).difference(box(40, 40, 60, 60))
    parts = [Polygon(part) for part in plain_parts(ring)]
    assert sum(part.area for part in parts) == pytest.approx(100 * 100 - 20 * 20)
    assert not any(part.contains(Point(50, 50)) for part in parts)


# -- seats off open drops --


@pytest.mark.parametrize(
    ("elevation", "kept"),
    # R312.1.1 asks for a guard over 30 in; 4 in tip a chair (common practice)
    [(3.9, False), (4.0, True), (25.0, True), (30.0, True), (30.5, False)],
)
def test_loungers_keep_off_a_drop_without_a_guard(elevation: float, kept: bool) -> None:
    joists = {"size": "2x6", "spacing": 16.0}
    one = platform("deck", rectangle(0, 0, 168, 144), elevation, beam(12.0), beam(120.0), use="sun", people=3,
                   joists=joists)  # fmt: skip
    room = room_of(make_plan(one))
    assert bool(room.open_edges) is bool(room.keep_outs) is kept
    assert room.seated > 0
    edges = LineString([(0, 0), (168, 0), (168, 144), (0, 144), (0, 0)])
    gap = min(Polygon(p.outline).distance(edges) for group in room.groups for p in group.pieces)
    assert gap >= 12 - 0.02 if kept else gap < 12


def test_no_seat_is_put_at_a_drop_for_want_of_room() -> None:
    """8 ft less 12 in on both sides are 72 in: a lounger of 78 in finds no place either way, and gets none."""
    one = platform("deck", rectangle(0, 0, 96, 96), 25.0, beam(12.0), beam(84.0), use="sun", people=1)
    room = room_of(make_plan(one))
    assert room.seated == 0
    assert (
        'room for 0 of 1 to sit with the landings and 12" along open edges kept clear: a larger platform'
        in notes(room)
    )


def off_edges(room: Room) -> None:
    for group in room.groups:
        for edge in room.open_edges:
            assert Polygon(group.swing).distance(LineString(edge)) >= 12 - 0.02


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_no_seat_of_any_demonstration_plan_stands_at_a_drop(path: Path) -> None:
    for room in study_of(path).rooms.platforms.values():
        if any(keep.what in SEATED.values() for keep in room.keep_outs):
            off_edges(room)


@settings(max_examples=20, deadline=None)
@given(st.integers(96, 300), st.integers(96, 240), st.sampled_from(["dining", "lounge", "sun", "fire"]),
       st.integers(1, 10), st.integers(4, 30))  # fmt: skip
def test_no_seat_anywhere_stands_at_a_drop(
    wide: int, deep: int, use: str, people: int, elevation: int
) -> None:
    room = room_of(deck(wide, deep, use, people, elevation))
    off_edges(room)
    assert all(check.verdict is Verdict.PASS for check in room.checks if "off edges" in check.rule)


# -- a platform too narrow --


NECK = [(0, 0), (120, 0), (120, 30), (192, 30), (192, 0), (288, 0), (288, 60), (0, 60)]
DOOR = {**HOUSE, "door": [{"name": "back door", "at": (72.0, 0.0), "width": 36.0, "sill": 41.0}]}
DOWN = [{"from": "deck", "to": "ground", "along": [(288, 12), (288, 48)]}]


def test_a_narrow_platform_is_not_blamed_on_furniture() -> None:
    """The neck is 60 - 30 in wide by the outline."""
    one = platform("deck", NECK, 40.0, LEDGER, beam(54.0))
    room = room_of(make_plan(one, house=DOOR, flight=DOWN))
    assert not room.groups
    assert 'the platform itself leaves no more than 30" wide' in notes(room)
    assert "beside the furniture" not in notes(room)


def test_furniture_is_blamed_where_the_platform_is_wide_enough() -> None:
    room = room_of(deck(108, 220, "hot tub", 0, 20.0, house=DOOR, flight=[
        {"from": "deck", "to": "ground", "along": [(54, 220), (102, 220)]}]))  # fmt: skip
    assert "beside the furniture" in notes(room)
    assert "the platform itself" not in notes(room)


@pytest.mark.parametrize("left", [12.0, 30.0, 35.0, 50.0])
def test_the_widest_way_past_a_bar(left: float) -> None:
    outline = Polygon(rectangle(0, 0, 120, 120))
    gates = (
        Gate("low", ((70.0, 0.0), (120.0, 0.0)), (0.0, 1.0)),
        Gate("high", ((70.0, 120.0), (120.0, 120.0)), (0.0, -1.0)),
    )
    bar = Polygon(rectangle(0, 50, 120 - left, 70))
    assert widest(outline, [bar], gates, 36.0) == pytest.approx(min(left, 36.0), abs=0.3)


# -- drawn --


def test_zones_are_hatched_and_say_what_is_kept_out() -> None:
    study = under(read_plan(data_path("plans", "frames-overlapping.toml")), "cooking")
    scene = room_view(study, study.rooms, platform="terrace")
    zones = [s for s in scene.shapes if isinstance(s, Area) and s.role is Role.KEEP_HEAT_OUT]
    assert sum(Polygon(zone.points).area for zone in zones) == pytest.approx(
        sum(Polygon(part).area for keep in study.rooms["terrace"].keep_outs for part in keep.outlines),
        rel=1e-3,
    )
    texts = " ".join(label.text.replace("\n", " ") for label in scene.labels)
    assert "no grill here: 10'-0\" off garden wall, garden door and the level above, gallery" in texts
    assert PENS[Role.KEEP_HEAT_OUT].hatch != PENS[Role.KEEP_SEATS_OUT].hatch != ""
    assert "no fire or grill here" in texts


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
@pytest.mark.parametrize(
    "sheet", [None, SCREEN, WALL_SCREEN, PHONE], ids=lambda one: one.name if one else "usual"
)
def test_the_furniture_plan_can_be_read(path: Path, sheet: Any) -> None:
    study = study_of(path)
    for name in ("", *(one.name for one in study.plan.platforms)):
        scene = room_view(study, study.rooms, platform=name, sheet=sheet)
        assert overlaps(scene.text_boxes) == []
        shown = [keep for room in study.rooms.platforms.values() for keep in room.keep_outs
                 if name in ("", room.platform)]  # fmt: skip
        if name:
            drawn = {s.role for s in scene.shapes} & {Role.KEEP_HEAT_OUT, Role.KEEP_SEATS_OUT}
            assert len(drawn) == len({keep.what in SEATED.values() for keep in shown})


def test_the_table_says_why_not() -> None:
    study = under(read_plan(data_path("plans", "frames-overlapping.toml")), "cooking")
    rows = rooms_sheet(study, "terrace").rows
    assert [row[3:7:3] for row in rows if "grill" in str(row[3])] == [("grill without room", "no")]
