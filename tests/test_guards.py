"""Guards by stretch of edge: the drop anywhere within the look-out."""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

from deckplan.buy.fixings import count_guard_connectors
from deckplan.geometry import distance, point_to_line
from deckplan.layout.edges import find_guards
from deckplan.layout.guard_posts import place_guard_posts
from deckplan.layout.model import GuardStretch, Kind
from deckplan.levels.raise_levels import raise_levels
from deckplan.plan.model import Plan
from deckplan.rules import load_profile
from deckplan.study import Study
from tests.decks import beam, make_plan, platform, rectangle
from tests.test_levels_raise import mirrored

IRC, WISCONSIN, CANADA = load_profile("irc-2021"), load_profile("wisconsin"), load_profile("canada")


def guards(plan: Plan, profile=IRC) -> tuple[GuardStretch, ...]:
    return find_guards(plan, raise_levels(plan, profile), profile)


def required(plan: Plan, name: str = "deck", profile=IRC) -> float:
    """Length of edge that wants a guard [in]."""
    stretches = guards(plan, profile)
    return sum(distance(g.start, g.end) for g in stretches if g.platform == name and g.required)


def lone(elevation: float, **more: Any) -> Plan:
    return make_plan(platform("deck", rectangle(0, 0, 120, 144), elevation), **more)


@pytest.mark.parametrize(("drop", "wanted"), [(29.9375, False), (30.0, False), (30.0625, True)])
def test_a_guard_where_the_drop_is_over_30_in(drop: float, wanted: bool) -> None:
    # IRC R312.1.1: more than 30 in
    assert required(lone(drop)) == pytest.approx(528.0 if wanted else 0.0)


def test_other_places_have_other_triggers() -> None:
    # Wisconsin SPS 320-325 Appendix B: 24 in; Canada: 600 mm (NBC 9.8.8.1, from memory)
    assert required(lone(25.0), profile=WISCONSIN) == pytest.approx(528.0)
    assert required(lone(24.0), profile=WISCONSIN) == 0.0
    assert required(lone(600 / 25.4), profile=CANADA) == 0.0
    assert required(lone(605 / 25.4), profile=CANADA) == pytest.approx(528.0)


def beside(width: float, drop: float = 40.0) -> Plan:
    """A deck with a lower platform of a width along the whole of its edge x = 120."""
    return make_plan(
        platform("deck", rectangle(0, 0, 120, 144), drop),
        platform("ledge", rectangle(120, -100, 120 + width, 244), drop - 8.0),
    )


def test_a_24_in_wide_platform_below_a_40_in_drop_does_not_remove_the_guard() -> None:
    # derived from IRC R312.1.1: the ground is still within 36 in
    edge = [g for g in guards(beside(24.0)) if g.platform == "deck" and g.start[0] == g.end[0] == 120.0]
    assert [g.required for g in edge] == [True]
    assert edge[0].drop == 40.0
    assert "the ground" in edge[0].reason
    assert "R312.1.1" in edge[0].reason


@pytest.mark.parametrize(("width", "wanted"), [(35.0, True), (35.9, True), (36.1, False), (60.0, False)])
def test_a_platform_wider_than_the_look_out_does(width: float, wanted: bool) -> None:
    # looked at in the middle of the edge, out of reach of what lies round its corners
    edge = [g for g in guards(beside(width)) if g.platform == "deck" and g.start[0] == g.end[0] == 120.0]
    at_middle = [g for g in edge if min(g.start[1], g.end[1]) < 72 < max(g.start[1], g.end[1])]
    assert [g.required for g in at_middle] == [wanted]


def test_stretches_end_where_the_look_out_does() -> None:
    # A wide ledge along y from 40 on: 36 in into it the ground beside it is out of reach, until the look-out
    # reaches round the far corner of the deck, whose other edge stands over the ground.
    plan = make_plan(
        platform("deck", rectangle(0, 0, 120, 144), 40.0),
        platform("ledge", rectangle(120, 40, 300, 400), 32.0),
    )
    edge = [g for g in guards(plan) if g.platform == "deck" and g.start[0] == g.end[0] == 120.0]
    assert [g.required for g in edge] == [True, False, True]
    assert [g.start[1] for g in edge] == [0.0, pytest.approx(76.0, abs=0.1), pytest.approx(108.0, abs=0.1)]
    assert [g.end[1] for g in edge] == [pytest.approx(76.0, abs=0.1), pytest.approx(108.0, abs=0.1), 144.0]
    assert edge[1].drop == pytest.approx(8.0)


def test_the_ground_is_taken_as_it_falls() -> None:
    # level at 0 up to y = 144, then one in two: 36 in out it is 18 in lower
    spots = [
        {"at": (0, 0), "elevation": 0},
        {"at": (0, 144), "elevation": 0},
        {"at": (0, 384), "elevation": -120},
    ]
    plan = lone(20.0, site={"ground": spots})
    far = [g for g in guards(plan) if g.start[1] == g.end[1] == 144.0]
    assert far[0].required
    assert far[0].drop == pytest.approx(38.0, abs=0.1)
    near = [g for g in guards(plan) if g.start[1] == g.end[1] == 0.0]
    assert not near[0].required


def test_house_walls_and_flights_are_no_open_edges() -> None:
    house = {"wall": [{"name": "wall", "line": [(-50, 0), (300, 0)], "ledger": True}]}
    flight = [{"from": "deck", "to": "ground", "along": ((36, 144), (84, 144))}]
    found = guards(lone(40.0, house=house, flight=flight))
    edges = [LineString([g.start, g.end]) for g in found]
    assert all(edge.distance(Point(60, 0)) > 30 for edge in edges)
    assert all(edge.distance(Point(60, 144)) >= 24 - 1e-6 for edge in edges)
    assert sum(edge.length for edge in edges) == pytest.approx(144 * 2 + 120 - 48)


def test_nobody_falls_into_the_house() -> None:
    # the deck stands 20 in above the ground in front of it; behind the wall lies a hollow, inside the house
    house = {"wall": [{"name": "wall", "line": [(-50, 0), (300, 0)], "ledger": True}]}
    spots = [
        {"at": (0, 0), "elevation": 0},
        {"at": (0, -30), "elevation": -100},
        {"at": (0, 200), "elevation": 0},
    ]
    assert required(lone(20.0, house=house, site={"ground": spots})) == 0.0


def test_an_edge_against_a_platform_a_step_higher_is_closed() -> None:
    plan = make_plan(
        platform("deck", rectangle(0, 0, 120, 144), 40.0),
        platform("upper", rectangle(120, 0, 240, 144), 47.0),
    )
    assert not [g for g in guards(plan) if g.platform == "deck" and g.start[0] == g.end[0] == 120.0]


def test_under_a_much_higher_platform_a_person_can_fall() -> None:
    plan = make_plan(
        platform("deck", rectangle(0, 0, 120, 144), 40.0),
        platform("upper", rectangle(120, 0, 240, 144), 120.0),
    )
    edge = [g for g in guards(plan) if g.platform == "deck" and g.start[0] == g.end[0] == 120.0]
    assert edge[0].required


corner = st.integers(0, 20).map(lambda n: 12.0 * n)
height = st.integers(4, 70).map(float)


@st.composite
def plans(draw) -> Plan:
    parts = []
    for number in range(draw(st.integers(1, 3))):
        x, y = draw(corner), draw(corner)
        parts.append(
            platform(
                f"p{number}", rectangle(x, y, x + 12 + draw(corner), y + 12 + draw(corner)), draw(height)
            )
        )
    spots = [{"at": (0, 0), "elevation": 0.0}, {"at": (300, 0), "elevation": draw(st.integers(-40, 40))},
             {"at": (0, 300), "elevation": draw(st.integers(-40, 40))}]  # fmt: skip
    return make_plan(*parts, site={"ground": spots})


def drop_at(plan: Plan, at: tuple[float, float], name: str) -> float:
    """The largest drop to ground or platform within 36 in, by sampling: another road to the same answer."""

    levels = raise_levels(plan, IRC)
    own, here = Polygon(plan.platform(name).outline), levels.elevation(name)
    others = [(Polygon(p.outline), levels.elevation(p.name)) for p in plan.platforms if p.name != name]
    others = [(shape, z) for shape, z in others if z <= here + 12.0]
    worst = 0.0
    steps = range(-35, 36, 5)
    for dx in steps:
        for dy in steps:
            spot = (at[0] + dx, at[1] + dy)
            if dx * dx + dy * dy > 35.5**2 or own.covers(Point(spot)):
                continue
            on = [z for shape, z in others if shape.covers(Point(spot))]
            worst = max(worst, here - (max(on) if on else levels.ground.elevation_at(spot)))
    return worst


@settings(max_examples=40, deadline=None)
@given(plans(), st.data())
def test_no_stretch_without_guard_has_a_drop_over_the_trigger(plan: Plan, data) -> None:
    found = [g for g in guards(plan) if distance(g.start, g.end) > 8.0]
    if not found:
        return
    stretch = data.draw(st.sampled_from(found))
    share = data.draw(st.floats(0.05, 0.95))
    (x0, y0), (x1, y1) = stretch.start, stretch.end
    drop = drop_at(plan, (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share), stretch.platform)
    if not stretch.required:
        assert drop <= 30.0 + 1e-6
    assert drop <= stretch.drop + 1e-6


def unlike(one: tuple[GuardStretch, ...], other: tuple[GuardStretch, ...]) -> list[GuardStretch]:
    """Stretches of one without a mirror image in the other; ends may differ by what a circle of chords makes them."""

    def alike(a: GuardStretch, b: GuardStretch) -> bool:
        ends = [(-x, y) for x, y in (b.end, b.start)]
        ends = min((ends, ends[::-1]), key=lambda pair: distance(a.start, pair[0]))
        near = all(distance(p, q) < 0.5 for p, q in zip((a.start, a.end), ends, strict=True))
        return near and a.required == b.required and a.platform == b.platform and abs(a.drop - b.drop) < 0.05

    return [a for a in one if distance(a.start, a.end) > 2 and not any(alike(a, b) for b in other)]


@settings(max_examples=25, deadline=None)
@given(plans())
def test_a_mirrored_plan_has_mirrored_guards(plan: Plan) -> None:
    here, there = guards(plan), guards(mirrored(plan))
    assert not unlike(here, there)


@settings(max_examples=25, deadline=None)
@given(height, st.floats(0.0, 30.0))
def test_raising_a_level_never_removes_a_guard_on_its_outer_edges(elevation: float, more: float) -> None:
    before, after = beside(24.0, elevation), beside(24.0, elevation + more)
    assert required(after) >= required(before) - 1e-6


def framed(direction: str, elevation: float = 40.0) -> Any:

    joists = {"direction": direction, "size": "2x10"}
    deck = platform("deck", rectangle(0, 0, 144, 120), elevation, beam(12), beam(100), joists=joists)
    study = Study(make_plan(deck))
    return study, place_guard_posts(study.plan, study.layout.guards, study.layout.members, IRC)


@pytest.mark.parametrize("direction", ["x", "y"])
def test_guard_posts_stand_inside_the_rim_and_land_on_framing(direction: str) -> None:
    study, found = framed(direction)
    assert not found.missing
    blocks = {member.mark: member for member in (*study.layout.members, *found.members)}
    joists = [m for m in study.layout.members if m.kind in (Kind.JOIST, Kind.RIM)]
    for post in found.posts:
        x, y = post.at
        assert min(x, y, 144 - x, 120 - y) == pytest.approx(1.5 + 1.75)  # 4x4 against the inside of a 2x rim
        assert post.blocking
        for mark in post.blocking:
            block = blocks[mark]
            touching = point_to_line(post.at, block.line) - block.width / 2 - 1.75
            assert touching == pytest.approx(0.0, abs=1e-6)
            for end in block.line:
                assert min(point_to_line(end, joist.line) for joist in joists) == pytest.approx(
                    0.75, abs=1e-6
                )


def test_one_post_stands_in_a_corner_for_both_edges() -> None:
    # by hand: 12 x 10 ft, all four edges open, at most 6 ft apart: 3 along each edge, 4 x 3 less the 4 that meet
    study, found = framed("y")
    assert len(found.posts) == 4 * 3 - 4
    assert [post.mark for post in found.posts] == [f"A-G{number}" for number in range(1, 9)]
    blocks = [m for m in study.layout.members if m.kind is Kind.BLOCKING]
    middles = {
        (round(sum(x) / 2, 2), round(sum(y) / 2, 2)) for x, y in (zip(*m.line, strict=True) for m in blocks)
    }
    assert len(middles) == len(blocks)


def test_guard_posts_are_at_most_6_ft_apart_and_half_a_bay() -> None:
    # common practice: 6 ft; a post may move to the joist nearest to its place
    _, found = framed("y")
    for low in (
        [p.at[0] for p in found.posts if p.at[1] < 10],
        [p.at[1] for p in found.posts if p.at[0] < 10],
    ):
        places = sorted(low)
        assert len(places) >= 3
        assert max(b - a for a, b in pairwise(places)) <= 72.0 + 16.0


def test_the_check_and_the_connector_rest_on_the_same_sum() -> None:
    # by hand, 2x10 frame, 1 in boards: 9-1/4 - 4 = 5-1/4 in between, 1 + 2 = 3 in down: 200 x 44.25 / 5.25 = 1686 lb
    deck = platform("deck", rectangle(0, 0, 120, 144), 48.0, beam(12), beam(130), joists={"size": "2x10"})
    study = Study(make_plan(deck, materials={"decking": {"thickness": 1.0, "width": 5.5, "gap": 0.1875}}))
    (check,) = [check for check in study.checks if check.rule == "guard post in bending"]
    (pull,) = [step.value for step in check.steps if step.symbol == "T" and "upper" in step.words]
    assert pull == pytest.approx(1686, abs=1)
    assert study.layout.guard_posts
    assert all(post.connector == pytest.approx(pull) for post in study.layout.guard_posts)


def test_a_guard_posts_connector_takes_what_a_lean_on_the_rail_asks() -> None:
    # by hand: 200 lb at 36 in, upper connector 3 in down, 5-1/4 in between: 200 x (39 + 5.25) / 5.25 = 1686 lb
    _, found = framed("y")
    assert found.posts[0].connector == pytest.approx(1686, abs=1)


def test_posts_on_unlike_frames_ask_for_unlike_connectors() -> None:
    # by hand as above: 1,686 lb in 2x10; in 2x6 5-1/2 - 4 = 1-1/2 in between fasteners: 200 x 40.5 / 1.5 = 5,400 lb
    high = platform("high", rectangle(0, 0, 144, 120), 40, beam(12), beam(100), joists={"size": "2x10"})
    small = platform("small", rectangle(400, 0, 448, 48), 40, beam(6), beam(42), joists={"size": "2x6"})
    study = Study(make_plan(high, small))
    many = {name: sum(p.platform == name for p in study.layout.guard_posts) for name in ("high", "small")}
    (told,) = [note.text for note in study.notes if "tension connector" in note.text]
    assert told.startswith(f"{sum(many.values())} guard posts:")
    assert told.endswith(f": {many['high']} of 1686 lb or more, {many['small']} of 5400 lb or more")
    bought = {item.basis.rpartition(": ")[2]: item.count for item in count_guard_connectors(study.layout)}
    assert bought == {"for 1700 lb or more": many["high"], "for 5400 lb or more": many["small"]}


def test_no_guard_no_posts() -> None:
    assert framed("y", 20.0)[1].posts == ()


def test_a_trigger_of_one_metre() -> None:
    # New Zealand: 1 m (stated without a clause)
    profile = IRC.with_values(guard_trigger_drop=1000 / 25.4)
    assert required(lone(1000 / 25.4), profile=profile) == 0.0
    assert required(lone(1001 / 25.4), profile=profile) == pytest.approx(528.0)


def test_a_rule_that_asks_for_more_over_high_drops_is_told() -> None:
    # NBC 9.8.8.3 (from memory): 900 mm, 1070 mm where the drop is over 1.8 m
    deck = platform("deck", rectangle(0, 0, 120, 144), 80.0, beam(12), beam(130), joists={"size": "2x10"})
    told = [
        note.text
        for note in Study(make_plan(deck, rules="canada", units="metric")).notes
        if "1070 mm" in note.text
    ]
    assert len(told) == 1
    assert "2032 mm" in told[0]  # 80 in
    assert "from memory" in told[0]
    assert not [note for note in Study(make_plan(deck)).notes if "the rules add" in note.text]


@pytest.mark.parametrize("direction", ["x", "y", 45.0, 60.0])
@pytest.mark.parametrize("slot", [3.0, 6.0, 20.0])
def test_no_post_is_blocked_across_a_gap_in_the_floor(direction: str | float, slot: float) -> None:
    """A slot between two legs holds no wood: what is nailed to a leg's rim from outside hangs in the air."""
    outline = [
        (0.0, 0.0), (96.0, 0.0), (96.0, 96.0), (30.0 + slot, 96.0), (30.0 + slot, 30.0), (30.0, 30.0), (30.0, 96.0),
        (0.0, 96.0),
    ]  # fmt: skip
    deck = platform("deck", outline, 60.0, beam(20.0), beam(70.0), joists={"direction": direction})
    study = Study(make_plan(deck))
    floor = Polygon(outline).buffer(0.01)
    assert study.layout.guard_posts
    for post in study.layout.guard_posts:
        assert floor.covers(Point(post.at)), post
        for mark in post.blocking:
            assert floor.covers(LineString(study.layout.by_mark[mark].line)), (post, mark)


@pytest.mark.parametrize(("size", "asks"), [((600, 600), False), ((144, 96), True)])
def test_where_dead_load_has_no_room_for_guards_it_is_asked(size: tuple[int, int], asks: bool) -> None:
    """Rails of 10 lb/ft (common practice): a small deck has more of them for its surface than a large one."""
    lines = [beam(share * size[1]) for share in (0.1, 0.3, 0.5, 0.7, 0.9)]
    deck = platform("deck", rectangle(0, 0, *size), 60.0, *lines, joists={"direction": "y"})
    study = Study(make_plan(deck))
    said = [note.text for note in study.notes if note.text.startswith("guards weigh")]
    load = study.loads.areas["deck"]
    room = (load.dead - load.steps[0].value - load.steps[1].value) * size[0] * size[1] / 144
    feet = 2 * (size[0] + size[1]) / 12
    assert (10 * feet > room) is asks
    assert bool(said) is asks
    if asks:
        assert f"wants {10 * feet:.0f} lb and has {room:.0f} lb" in said[0]
