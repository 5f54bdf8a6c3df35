"""The connection chooser: what the ways of standing two levels cost and save, and why some cannot be."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckplan.buy.concrete import pier_volume
from deckplan.buy.prices import read_prices
from deckplan.buy.takeoff import take_off
from deckplan.engineering.concrete import footing_size
from deckplan.explore.changes import lines_of
from deckplan.explore.connections import (
    Choice,
    Connection,
    NoConnection,
    choose_connections,
    connect,
    part_of,
    told,
)
from deckplan.explore.connections_table import (
    connections_sheet,
    connections_table,
    hardware_sheet,
    outside_sheet,
)
from deckplan.explore.differences import differences
from deckplan.explore.moved_back import FARTHEST, STEP
from deckplan.explore.touching import Side, Touch, touching
from deckplan.explore.ways import WAYS, Manner
from deckplan.geometry import distance
from deckplan.layout.model import Kind
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import beam, make_plan, platform, rectangle


@cache
def demo(name: str) -> Study:
    return Study(read_plan(data_path("plans", f"{name}.toml")))


@cache
def ways(name: str) -> dict[Manner, Choice]:
    """The ways of the first pair of a demo plan."""
    study = demo(name)
    (touch, *_) = touching(study.asked, study.levels)
    return {manner: connect(study, touch, manner) for manner in WAYS}


def built(choice: Choice) -> Connection:
    assert isinstance(choice, Connection), choice.reason
    return choice


def refused(choice: Choice) -> NoConnection:
    assert isinstance(choice, NoConnection)
    return choice


# -- facts of frames that meet --


def test_a_shared_post_saves_a_hole_and_not_concrete() -> None:
    # 5 ft + 4 ft tributary by 8 ft = 72 sq ft at 50 psf: 3,600 lb -> 21 in round on 1,500 psf, own weight left out;
    # apart 2,000 lb -> 16 in and 1,600 lb -> 14 in; 42 in deep 8.4 against 8.6 cu ft. Arithmetic from the spans.
    together = footing_size(72 * 50.0, 1500.0).bare_diameter
    apart = [footing_size(area * 50.0, 1500.0).bare_diameter for area in (40, 32)]
    assert (together, apart) == (21, [16, 14])
    assert pier_volume(together, 42.0) == pytest.approx(8.4, abs=0.05)
    assert sum(pier_volume(one, 42.0) for one in apart) == pytest.approx(8.6, abs=0.05)


def test_the_chooser_finds_the_72_square_feet_under_the_shared_post() -> None:
    # the same spans as a plan: 10 ft deep to a ledger, 8 ft deep on two beams, 16 ft from post to post
    upper = platform(
        "upper", rectangle(0, 0, 192, 120), 60, {"kind": "ledger", "wall": "house"},
        beam(118.5, posts=(2.75, 189.25), build="3-2x12"), joists={"size": "2x10"},
    )  # fmt: skip
    lower = platform(
        "lower", rectangle(192, 24, 384, 120), 20, beam(1.5, posts=2),
        beam(94.5, posts=(0.0, 192.0), build="3-2x12", shares_posts_with="upper"), joists={"size": "2x8"},
    )  # fmt: skip
    house = {"wall": [{"name": "house", "line": [(-120.0, 0.0), (400.0, 0.0)], "ledger": True}]}
    site = {"ground": [], "frost_depth": 42.0}
    study = Study(make_plan(upper, lower, house=house, site=site))
    (touch,) = touching(study.asked, study.levels)
    shared, alone = (
        built(connect(study, touch, Manner.SHARED)),
        built(connect(study, touch, Manner.INDEPENDENT)),
    )
    (wish,) = shared.study.layout.sharing
    path = shared.study.load_path
    assert path.area_on(wish.post) == pytest.approx(72, rel=0.02)
    assert sum(s.full for s in path.what_stands_on(wish.post)) == pytest.approx(3600, rel=0.02)
    assert shared.holes == alone.holes - 1


# -- which levels touch --


def test_only_outlines_that_share_an_edge_touch_and_the_higher_is_the_upper() -> None:
    plan = make_plan(
        platform("low", rectangle(0, 0, 96, 96), 20, beam(6), beam(90)),
        platform("high", rectangle(96, 24, 200, 120), 34, beam(6), beam(90)),
        platform("corner", rectangle(200, 120, 300, 200), 20, beam(6), beam(70)),
        platform("far", rectangle(400, 0, 500, 96), 20, beam(6), beam(90)),
    )
    (touch,) = touching(plan, Study(plan).levels)
    assert (touch.upper, touch.lower, touch.drop) == ("high", "low", 14.0)
    assert touch.length == pytest.approx(72)  # y from 24 to 96


def test_a_side_knows_how_the_joists_run_to_the_edge() -> None:
    deck = make_plan(platform("deck", rectangle(0, 0, 96, 60), 20, beam(6), beam(50))).platforms[0]
    end, flank = Side.of(deck, ((0.0, 60.0), (96.0, 60.0))), Side.of(deck, ((96.0, 0.0), (96.0, 60.0)))
    assert (end.across, end.along, end.at, end.inward) == (True, False, 60.0, -1)
    assert (flank.across, flank.along, flank.at, flank.inward) == (False, True, 96.0, -1)
    assert Side.of(deck, ((0.0, 0.0), (96.0, 0.0))).inward == 1


# -- the ways --


def test_moving_the_line_to_the_neighbours_post_saves_a_hole_and_leaves_the_tables() -> None:
    found = ways("frames-apart")
    alone, shared = built(found[Manner.INDEPENDENT]), built(found[Manner.SHARED])
    assert alone.moves == ()
    assert alone.plan == demo("frames-apart").asked
    assert shared.moves == (
        'move the beam line of "court" 1\'-6", from 9\'-6" to 8\'-0"',
        'let the beam of "court" hang on a post of "terrace"',
    )
    assert shared.holes == alone.holes - 1
    assert shared.feasible
    assert alone.outside == ()
    assert [check.mark for check in shared.outside] == ["A-P3"]
    assert shared.cost < alone.cost
    size = shared.study.layout.by_mark["B-B2"].size  # type: ignore[union-attr]
    (hanger,) = [item for item in shared.hardware if item.item.startswith("hanger")]
    assert (hanger.item, hanger.count) == (f"hanger for a beam, {size}", 1)
    assert not any(item.item.startswith("hanger") for item in alone.hardware)


def test_a_post_set_back_cannot_be_shared_and_the_cure_was_computed() -> None:
    found = refused(ways("frames-set-back")[Manner.SHARED])
    assert found.reason.startswith("post A-P6 stands 1'-9 1/4\" back from the beam's end")
    assert found.remedy.startswith(
        'the post line of "terrace" 1\'-9 1/4" farther out: computed, the beam then hangs there; even so'
    )
    assert not found.feasible


def test_joists_that_run_the_other_way_neither_hang_nor_share() -> None:
    walk = ways("frames-hung-joists")
    assert "run square to the shared edge" in refused(walk[Manner.SHARED]).reason
    court = ways("frames-apart")
    assert 'the joists of "court" run along the shared edge' in refused(court[Manner.HUNG]).reason


def test_hung_joists_save_a_line_of_posts() -> None:
    found = ways("frames-hung-joists")
    hung, alone = built(found[Manner.HUNG]), built(found[Manner.INDEPENDENT])
    assert hung.plan == demo("frames-hung-joists").asked
    assert hung.holes == alone.holes - 3
    assert [check.rule for check in hung.outside] == ["joists hang on a neighbour's beam"]
    assert 'give "walk" a beam line of its own' in alone.moves[0]


def test_too_great_a_drop_for_a_hanger_is_said_in_inches() -> None:
    study = demo("alder-point")
    touch = next(t for t in touching(study.asked, study.levels) if t.lower == "garden")
    found = refused(connect(study, touch, Manner.HUNG))
    # a 2x12 is 11 1/4 in deep, a 2x8 7 1/4 in (PS 20): 4 in between; under 2x10 joists 9 1/4 to 13 1/4 in
    assert 'up to 4" apart' in found.remedy
    assert '9 1/4" to 13 1/4" (drop beam); here it is 16"' in found.remedy


def test_a_step_goes_between_only_where_one_riser_is_not_enough() -> None:
    assert "no more than one riser" in refused(ways("frames-hung-joists")[Manner.STEP]).reason
    plan = make_plan(
        platform("high", rectangle(0, 0, 120, 96), 40, beam(12), beam(84), joists={"size": "2x10"}),
        platform("low", rectangle(0, 96, 120, 192), 27, beam(30), beam(84)),
    )
    study = Study(plan)
    (touch,) = touching(plan, study.levels)
    step, alone = built(connect(study, touch, Manner.STEP)), built(connect(study, touch, Manner.INDEPENDENT))
    assert step.moves == ('add a box step 4\'-0" wide from "high" to "low"',)
    assert step.holes == alone.holes
    treads = [m for m in part_of(step.study, touch).members if m.kind is Kind.TREAD]
    assert treads
    assert step.cost > alone.cost + sum(t.length for t in treads) / 12 * read_prices().of("board")


def back_from_the_edge(found: Connection, upper: str) -> float:
    (x0, y0), (x1, y1) = found.touch.edge
    return min(
        abs((p.at[0] - x0) * (y1 - y0) - (p.at[1] - y0) * (x1 - x0)) / found.touch.length
        for p in found.study.layout.posts
        if p.platform == upper
    )


def test_posts_set_back_stand_two_feet_from_the_edge_or_as_far_as_the_overhang_may() -> None:
    # the table prints 13 in for its joists (DCA 6 Table 2); with half the beam's plies and the rim that is 16 in
    hung = built(ways("frames-hung-joists")[Manner.SET_BACK])
    assert back_from_the_edge(hung, "landing") == 16
    assert not any("overhang" in check.rule for check in hung.failing)
    # 192 in of beam on three posts, the first 2 3/4 in in: an overhang a leaves two spans of (189 1/4 - a) / 2, and may
    # be a quarter of one (IRC 2018 R507.5, DCA 6: beams overhang up to a quarter of their span): a = 189.25 / 9 = 21.03
    found = built(ways("frames-apart")[Manner.SET_BACK])
    assert back_from_the_edge(found, "terrace") == 21
    assert found.feasible


def test_what_fails_is_named_with_its_marks_once() -> None:
    study = demo("frames-apart")
    (touch,) = touching(study.asked, study.levels)
    low = study.asked.model_copy(
        update={
            "platforms": tuple(
                one.model_copy(update={"elevation": 8.0}) if one.name == touch.lower else one
                for one in study.asked.platforms
            )
        }
    )
    found = built(connect(Study(low), touch, Manner.INDEPENDENT))
    assert not found.feasible
    assert len(told(found.failing)) <= len(found.failing)
    assert found.reason == "; ".join(told(found.failing))


def test_what_was_shared_stands_apart_again_where_two_holes_can_be_dug() -> None:
    # 17 and 14 in round footings overlap in one line; the program moves the line and checks that plan
    shared = built(ways("frames-apart")[Manner.SHARED]).study
    (touch,) = touching(shared.asked, shared.levels)
    for manner in (Manner.INDEPENDENT, Manner.STEP, Manner.SET_BACK):
        found = built(connect(shared, touch, manner))
        assert found.feasible, manner
    alone = built(connect(shared, touch, Manner.INDEPENDENT))
    moved = (
        dict(lines_of(alone.plan.platform("court")))[1].offset
        - dict(lines_of(shared.asked.platform("court")))[1].offset
    )
    assert 0 < abs(moved) <= FARTHEST
    assert moved % STEP == 0
    assert any(words.startswith('move the beam line of "court"') for words in alone.moves)
    one, other = (f for f in alone.study.footings if f.mark in ("A-F3", "B-F4"))
    assert distance(one.at, other.at) > (one.diameter + other.diameter) / 2


def test_every_obstacle_is_named_at_once_and_what_comes_of_the_cure() -> None:
    found = refused(ways("frames-apart")[Manner.HUNG])
    for name in ("court", "terrace"):
        assert f'the joists of "{name}" run along the shared edge' in found.reason
        assert f'turn the joists of "{name}" square to that edge' in found.remedy
    assert "computed, but with the supports as they are that plan fails" in found.remedy


# -- counting and prices --


def test_the_pairs_hardware_is_that_of_the_whole_plan_where_there_are_but_two() -> None:
    shared = built(ways("frames-shared-post")[Manner.SHARED])
    study = shared.study
    whole = take_off(study)
    assert set(shared.hardware) <= set(whole)
    (hanger,) = [item for item in shared.hardware if item.item.startswith("hanger for a beam")]
    assert hanger.count == 1
    force = next(d.force for d in study.loads.out_of["B-B2"] if d.lower == "A-P3").governing[0]
    assert force <= float(hanger.basis.split()[2]) < force + 50  # asked for in steps of 50 lb


@pytest.mark.parametrize("name", ["alder-point", "heron-pond", "frames-shared-post", "six-terraces"])
def test_every_choice_of_the_demo_plans_is_complete(name: str) -> None:
    study = demo(name)
    choices = choose_connections(study)
    assert len(choices) == 5 * len(touching(study.asked, study.levels)) > 0
    for choice in choices:
        if isinstance(choice, NoConnection):
            assert choice.reason
            assert choice.remedy
        else:
            assert choice.holes > 0
            assert choice.cost > 0
            assert choice.moves == differences(study.asked, choice.plan)
            assert (choice.moves == ()) == (choice.plan == study.asked)
            fails = [check for check in choice.study.checks if check.verdict is Verdict.FAIL]
            assert set(map(id, choice.failing)) <= set(map(id, fails))


def test_the_table_has_a_line_a_way() -> None:
    study = demo("frames-apart")
    table = connections_table(study)
    drawn = "independent posts, platform step"  # the plan has the step: the same plan is one line
    assert list(table["way"]) == [drawn, *(str(m) for m in WAYS if str(m) not in drawn)]
    assert table["holes"].astype(object).where(table["holes"].notna(), None).tolist()[:3] == [9, 8, None]
    assert "invented" in " ".join(table.columns)
    shared = built(ways("frames-apart")[Manner.SHARED])
    assert len(hardware_sheet(shared).rows) == len(shared.hardware)
    assert "no table covers a shared post" in str(outside_sheet(shared).rows[0][0])


def test_metric_tables_count_cubic_metres() -> None:
    sheet = connections_sheet(demo("heron-pond"))
    at = sheet.columns.index("concrete [m3]")
    first = built(choose_connections(demo("heron-pond"))[0])
    assert sheet.rows[0][at] == pytest.approx(first.concrete * 0.0283168, abs=0.006)  # NIST SP 811


# -- properties --


@st.composite
def pairs(draw: Any) -> Study:
    """Two levels of odd outlines side by side along x = 0, on every kind of support."""

    def deck(name: str, sign: int, other: str) -> dict[str, Any]:
        width, depth = draw(st.floats(90, 200)), draw(st.floats(90, 200))
        a, b = 0.6 * width, 0.55 * depth
        corners = draw(
            st.sampled_from([
                [(0, 0), (width, 0), (width, depth), (0, depth)],
                [(0, 0), (width, 0), (width, b), (a, b), (a, depth), (0, depth)],
                [(0, 0), (width, 0), (width, b), (a, depth), (0, depth)],
                [(0, 0), (a, 0), (width, b), (a, depth), (0, depth)],
            ])
        )  # fmt: skip
        shift = draw(st.floats(0, 30))
        outline = [(sign * x, y + shift) for x, y in corners]
        way = draw(st.sampled_from(["x", "y", "y", 30.0]))
        deep = {"x": width, "y": depth}.get(str(way), 90.0)
        lines: list[dict[str, Any]] = []
        for share in draw(st.lists(st.floats(0.05, 0.95), min_size=1, max_size=3, unique=True)):
            line = beam(share * deep, style=draw(st.sampled_from(["drop", "flush"])))
            line["posts"] = draw(st.sampled_from(["auto", 2, 4]))
            if draw(st.booleans()):
                line["shares_posts_with"] = other
            lines.append(line)
        if draw(st.booleans()):
            lines.append({"kind": "hung", "on": other})
        elevation = draw(st.floats(8, 60))
        return platform(name, outline, elevation, *lines, joists={"direction": way})

    return Study(make_plan(deck("left", -1, "right"), deck("right", 1, "left")))


@settings(max_examples=20, deadline=None)
@given(pairs())
def test_no_way_loses_a_pound_or_ends_without_an_answer(study: Study) -> None:
    (touch,) = touching(study.asked, study.levels)
    for manner in Manner:
        choice = connect(study, touch, manner)
        if isinstance(choice, NoConnection):
            assert choice.reason
            assert choice.remedy
            continue
        loads = choice.study.loads
        down = sum(force.full for force in (*loads.posts.values(), *loads.ledgers.values()))
        assert down + loads.ground.full + loads.lost.full == pytest.approx(loads.applied.full, rel=1e-3)
        assert (choice.moves == ()) == (choice.plan == study.asked)
        if manner is Manner.SHARED:
            assert any(wish.post and wish.platform == touch.lower for wish in choice.study.layout.sharing)
        elif manner is Manner.HUNG:
            below = choice.study.layout.of(touch.lower, Kind.JOIST)
            beams = {m.mark for m in choice.study.layout.of(touch.upper, Kind.BEAM)}
            assert any(b.on in beams for joist in below for b in joist.bearings)
        else:
            carried = [post.carries for post in choice.study.layout.posts]
            assert all(len(names) == 1 for names in carried)


def test_touch_lengths_are_measured() -> None:
    assert Touch("a", "b", ((0.0, 0.0), (30.0, 40.0)), 5.0).length == 50.0
