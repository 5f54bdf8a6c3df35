"""The load path: every pound on its way from the boards to the soil, and the questions one asks of it."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deckplan.engineering.concrete import footing_size
from deckplan.loads.graph import HOUSE, NOWHERE, SOIL, LoadPath
from deckplan.plan.file import read_plan
from deckplan.plan.model import Flight, Plan
from deckplan.reference import data_path
from deckplan.study import Study
from tests.decks import HOUSE as HOUSE_WALL
from tests.decks import LEDGER, attached, beam, hung_pair, make_plan, platform, rectangle


def path_of(study: Study) -> LoadPath:
    return study.load_path


def side_by_side(
    first: float = 120.0, second: float = 96.0, width: float = 192.0, snow: float = 0.0, **more: Any
) -> Plan:
    """Two levels whose beams lie in one line, the lower one's hung on the upper one's last post.

    The upper: joists `first` long to a ledger, a beam at their tips on two posts. The lower: its beam in the same line.
    """
    upper = platform(
        "upper", rectangle(0, 0, width, first + 1.5), 60, LEDGER,
        beam(first, posts=(2.75, width - 2.75), build="3-2x12"),
        joists={"direction": "y", "size": "2x10", "spacing": 16},
    )  # fmt: skip
    lower = platform(
        "lower", rectangle(width, first - second - 1.5, 2 * width, first + 1.5), 20,
        beam(1.5, posts=2),
        beam(second + 1.5, shares_posts_with="upper", posts=(0.0, width), build="3-2x12"),
        joists={"direction": "y", "size": "2x8", "spacing": 16},
    )  # fmt: skip
    return make_plan(upper, lower, house=HOUSE_WALL, site={"ground": [], "snow_load": snow}, **more)


def assert_balanced(study: Study) -> None:
    path, applied = path_of(study), study.loads.applied.full
    for node in path.balance():
        assert node.off <= 1e-3 * max(1.0, node.arriving.full), node
    arrived = sum(force.full for force in path.arrived().values())
    assert arrived == pytest.approx(applied, rel=1e-3)


@settings(max_examples=30, deadline=None)
@given(
    st.floats(96, 400), st.floats(100, 220), st.floats(0, 30), st.floats(8, 24), st.sampled_from(["x", "y", 30.0, 45.0])
)  # fmt: skip
def test_forces_balance_at_every_node(
    width: float, depth: float, snow: float, spacing: float, way: object
) -> None:
    deck = platform(
        "p", rectangle(0, 0, width, depth), 60, beam(20), beam(60), joists={"direction": way, "spacing": spacing}
    )  # fmt: skip
    assert_balanced(Study(make_plan(deck, site={"snow_load": snow, "ground": []})))


@settings(max_examples=15, deadline=None)
@given(st.floats(84, 168), st.floats(72, 120), st.floats(96, 240), st.floats(0, 40))
def test_forces_balance_through_shared_posts(first: float, second: float, width: float, snow: float) -> None:
    study = Study(side_by_side(first, second, width, snow))
    assert any(wish.post for wish in study.layout.sharing)
    assert_balanced(study)


@settings(max_examples=15, deadline=None)
@given(st.floats(24, 90), st.floats(36, 100), st.floats(10, 60), st.sampled_from(["stringer", "box"]))
def test_forces_balance_with_a_flight(elevation: float, stairs: float, start: float, kind: str) -> None:
    flight = Flight.model_validate(
        {"from": "deck", "to": "ground", "along": [(start, 144), (start + stairs, 144)], "kind": kind}
    )
    study = Study(attached(192, 144, elevation=elevation).model_copy(update={"flights": (flight,)}))
    assert_balanced(study)
    path = path_of(study)
    on_own = [one for pad in study.flights.pads for one in path.what_stands_on(pad.mark)]
    assert sum(one.full for one in on_own) == pytest.approx(study.loads.ground.full)


@pytest.mark.parametrize("name", ["alder-point", "heron-pond", "chestnut-school"])
def test_demonstration_plans_carry_every_pound_down(name: str) -> None:
    study = Study(read_plan(data_path(f"plans/{name}.toml")))
    assert_balanced(study)
    path = path_of(study)
    assert NOWHERE not in path.arrived()
    for pad in study.layout.pads:
        load = next(f.load for f in study.footings if f.mark == pad.mark)
        assert sum(s.full for s in path.what_stands_on(pad.mark)) == pytest.approx(load, abs=1e-2)


def test_what_stands_on_a_shared_footing() -> None:
    # 5 ft + 4 ft tributary by 8 ft = 72 sq ft, at 50 psf 3,600 lb: arithmetic from the stated spans.
    # 10 ft deep with a ledger, 8 ft deep on two beams, outlines from rim to rim, beams 16 ft on posts at both ends.
    study = Study(side_by_side(118.5, 93.0))
    path = path_of(study)
    shared = next(wish.post for wish in study.layout.sharing if wish.post)
    footing = next(p.footing for p in study.layout.posts if p.mark == shared)
    stands = {s.name: s for s in path.what_stands_on(footing)}
    assert stands["upper"].area == pytest.approx(40, rel=1e-3)
    assert stands["lower"].area == pytest.approx(32, rel=1e-3)
    assert path.area_on(footing) == pytest.approx(72, rel=1e-3)
    assert sum(s.full for s in stands.values()) == pytest.approx(3600, rel=1e-3)
    # 3,600 lb on 1,500 psf is a round of 21 in: common practice, footing's own weight left out
    assert footing_size(3600.0, 1500.0).bare_diameter == 21
    assert stands["upper"].through == tuple(m.mark for m in study.layout.of("upper") if m.kind == "joist")


def test_areas_on_all_footings_and_the_house_are_the_platform() -> None:
    study = Study(attached(240, 168))
    path = path_of(study)
    pads = sum(path.area_on(pad.mark) for pad in study.layout.pads)
    house = path.area_on("A-L1")
    assert pads + house == pytest.approx(240 * 168 / 144)


def test_symmetrical_platform_goes_half_to_each_of_two_beams() -> None:
    # by symmetry alone
    deck = platform("p", rectangle(0, 0, 192, 144), 60, beam(24, posts=2), beam(120, posts=2))
    study = Study(make_plan(deck, site={"ground": []}))
    goes = path_of(study).where_does_it_go("A")
    assert [g.share for g in goes] == pytest.approx([0.25] * 4)
    assert {g.support for g in goes} == {"A-F1", "A-F2", "A-F3", "A-F4"}
    assert sum(g.force for g in goes) == pytest.approx(study.loads.applied.full)


def test_joist_at_a_quarter_of_a_simple_beam_gives_three_quarters_to_the_near_post() -> None:
    # lever rule; the joist over the quarter point of a beam on two end posts
    deck = platform(
        "p", rectangle(0, 0, 192, 144), 60, beam(24, posts=(0.0, 192.0)), beam(120, posts=(0.0, 192.0)),
        joists={"direction": "y", "size": "2x10", "spacing": 24},
    )  # fmt: skip
    study = Study(make_plan(deck, site={"ground": []}))
    joist = next(m for m in study.layout.members if m.kind == "joist" and m.start[0] == pytest.approx(48))
    shares = {g.through: g.share for g in path_of(study).where_does_it_go(joist.mark)}
    near = shares["A-P1"] / (shares["A-P1"] + shares["A-P2"])
    assert near == pytest.approx(0.75)


def test_half_a_stringer_goes_to_its_own_footings() -> None:
    flight = Flight.model_validate(
        {"from": "deck", "to": "ground", "along": [(60, 144), (108, 144)], "kind": "stringer"}
    )
    study = Study(attached(192, 144, elevation=40.0).model_copy(update={"flights": (flight,)}))
    path = path_of(study)
    goes = {g.support: g.share for g in path.where_does_it_go("S1")}
    assert goes["S1-F1"] == goes["S1-F2"] == pytest.approx(0.25)
    assert sum(goes.values()) == pytest.approx(1.0)
    assert any(s.surface == "S1" for s in path.what_stands_on("A-F2"))


def test_marks_on_a_path_are_those_above_and_below() -> None:
    study = Study(side_by_side())
    path = path_of(study)
    shared = next(wish.post for wish in study.layout.sharing if wish.post)
    marks = path.marks_on_path(shared)
    assert {"A", "B", "A-J1", "B-J1"} <= marks
    assert not marks & {"A-L1", SOIL, HOUSE}
    assert path.marks_on_path("A-R1") == {"A-R1"}
    with pytest.raises(KeyError):
        path.where_does_it_go("Z-J1")
    with pytest.raises(KeyError):
        path.what_stands_on("Z-F1")


def test_joists_on_one_support_end_nowhere_and_say_so() -> None:
    study = Study(make_plan(platform("p", rectangle(0, 0, 120, 120), 48, beam(60))))
    path = path_of(study)
    assert path.arrived()[NOWHERE].full == pytest.approx(study.loads.lost.full)
    assert {g.support for g in path.where_does_it_go("A")} == {NOWHERE}
    assert path.area_on("A-F1") == 0
    assert_balanced(study)


def test_a_neighbour_whose_joists_hang_on_a_beam_stands_on_its_footings_too() -> None:
    study = Study(hung_pair())
    assert_balanced(study)
    path = study.load_path
    assert {s.name for s in path.what_stands_on("A-F1")} == {"upper", "lower"}
    assert {g.support[:1] for g in path.where_does_it_go("B")} == {"A", "B"}
    everything = sum(path.area_on(pad.mark) for pad in study.layout.pads) + path.area_on("A-L1")
    assert everything == pytest.approx(192 * 240 / 144)
