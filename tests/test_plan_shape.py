"""The shape of a platform by place: what keeps its place, what goes along, what is refused with nothing changed."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deckplan.errors import InputError
from deckplan.geometry import area
from deckplan.plan.file import read_plan
from deckplan.plan.model import BeamLine, Plan
from deckplan.plan.shape import change, ends_of, text_of
from deckplan.reference import data_path
from tests.decks import HOUSE, LEDGER, attached, beam, make_plan, platform, rectangle

DECK = "platform.deck"


def lines(plan: Plan, name: str = "deck") -> list[float]:
    return [one.offset for one in plan.platform(name).supports if isinstance(one, BeamLine)]


def free(*supports: dict[str, Any], **more: Any) -> Plan:
    return make_plan(platform("deck", rectangle(24, 48, 168, 192), 30, *supports, **more))


def refused(plan: Plan, place: str, text: str) -> str:
    with pytest.raises(InputError) as error:
        change(plan, place, text)
    return str(error.value)


def test_depth_keeps_the_house_edge_and_the_far_beam_its_distance_from_the_far_edge() -> None:
    plan = change(attached(192, 144), f"{DECK}.depth", "14 ft")
    assert plan.platform("deck").outline == ((0, 0), (192, 0), (192, 168), (0, 168))
    assert lines(plan) == [144], "2 ft in from the far edge, as before"
    assert text_of(plan, f"{DECK}.depth") == "14 ft"


def test_a_house_on_the_far_side_turns_that_round() -> None:
    wall = {"name": "house", "line": [(0.0, 192.0), (240.0, 192.0)], "ledger": True}
    plan = free(LEDGER, beam(24))
    plan = make_plan(plan.platforms[0].model_dump(by_alias=True), house={"wall": [wall]})
    deeper = change(plan, f"{DECK}.depth", "14 ft")
    assert ends_of(deeper.platform("deck")) == ((24, 168), (24, 192))
    assert lines(deeper) == [24], "measured from the lower edge, which moved"


def test_lines_nearer_to_the_edge_that_stays_keep_their_place() -> None:
    plan = change(free(beam(12), beam(60), beam(132)), f"{DECK}.depth", "16 ft")
    assert lines(plan) == [12, 60, 180]


def test_a_list_of_posts_goes_along_at_its_far_end_only() -> None:
    plan = change(free(beam(12, posts=[3.0, 60.0, 141.0])), f"{DECK}.width", "13 ft")
    line = plan.platform("deck").supports[0]
    assert isinstance(line, BeamLine)
    assert line.posts == (3, 60, 153)


def test_a_line_that_leans_on_a_neighbour_stays() -> None:
    other = platform("other", rectangle(168, 48, 300, 192), 40, beam(12), beam(120))
    deck = platform("deck", rectangle(24, 48, 168, 192), 30, beam(12), beam(120, shares_posts_with="other"))
    assert lines(change(make_plan(deck, other), f"{DECK}.depth", "14 ft")) == [12, 120]


def test_a_flight_goes_along_with_its_edge_or_keeps_its_distance_from_the_corner_that_stays() -> None:
    flights = [
        {"from": "deck", "to": "ground", "along": [(36, 144), (84, 144)]},
        {"from": "deck", "to": "ground", "along": [(192, 24), (192, 72)]},
    ]
    plan = attached(192, 144, flight=flights)
    deeper = change(plan, f"{DECK}.depth", "13 ft")
    assert [flight.along for flight in deeper.flights] == [((36, 156), (84, 156)), ((192, 24), (192, 72))]
    wider = change(plan, f"{DECK}.width", "17 ft")
    assert [flight.along for flight in wider.flights] == [((36, 144), (84, 144)), ((204, 24), (204, 72))]
    assert "flight S2" in refused(plan, f"{DECK}.depth", "5 ft")
    assert "flight S1" in refused(plan, f"{DECK}.width", "6 ft")


@pytest.mark.parametrize("place", [f"{DECK}.width", f"{DECK}.depth"])
@pytest.mark.parametrize("text", ["", "x", "0", "-3 ft", "1001 ft"])
def test_a_size_that_cannot_be_is_refused(place: str, text: str) -> None:
    assert place.rpartition(".")[2] in refused(attached(192, 144), place, text)


def test_beam_lines_that_would_meet_or_lie_off_are_named() -> None:
    assert "at 5'-0\" and 11'-0\" keep apart" in refused(free(beam(60), beam(132)), f"{DECK}.depth", "6 ft")
    assert "the one at 5'-0\" would lie off it" in refused(free(beam(60), beam(70)), f"{DECK}.depth", "4 ft")


def test_an_opening_stays_inside() -> None:
    hole = {"kind": "tree", "outline": rectangle(120, 120, 144, 144)}
    plan = free(beam(12), beam(132), opening=[hole])
    assert "its opening (tree)" in refused(plan, f"{DECK}.width", "9 ft")
    assert change(plan, f"{DECK}.width", "11 ft").platform("deck").openings == plan.platform("deck").openings


def test_a_corner_moves_and_beams_keep_their_place_on_the_site() -> None:
    plan = change(free(beam(12), beam(132)), f"{DECK}.outline.1.y", "3 ft")
    assert plan.platform("deck").outline[0] == (24, 36)
    assert lines(plan) == [12, 144], (
        "the first keeps its distance from the lowest corner, the second its place"
    )
    assert ends_of(plan.platform("deck")) is None
    with pytest.raises(InputError, match="a rectangle along the house"):
        text_of(plan, f"{DECK}.width")


def test_edges_that_would_cross_are_said_beside_the_corner() -> None:
    plan = free(beam(12))
    assert "edges do not cross" in refused(plan, f"{DECK}.outline.3.x", "-20 ft")
    assert 'platform "deck", outline.3.x' in refused(plan, f"{DECK}.outline.3.x", "-20 ft")
    assert "corner 4 repeats corner 3" in refused(plan, f"{DECK}.outline.3.x", "2 ft")


def test_a_corner_is_added_where_no_flight_leaves_and_taken_out_again() -> None:
    plan = attached(192, 144, flight=[{"from": "deck", "to": "ground", "along": [(60, 144), (120, 144)]}])
    added = change(plan, f"{DECK}.corner.add", "3")
    assert added.platform("deck").outline == ((0, 0), (192, 0), (192, 144), (156, 144), (0, 144))
    assert text_of(added, f"{DECK}.corner.add") == ""
    assert change(added, f"{DECK}.corner.out", "4") == plan
    assert "flight S1" in refused(plan, f"{DECK}.corner.out", "4")
    assert "from 1 to 4" in refused(plan, f"{DECK}.corner.out", "5")
    triangle = make_plan(platform("deck", [(0, 0), (96, 0), (96, 96)], 20))
    assert "three corners or more" in refused(triangle, f"{DECK}.corner.out", "1")


def test_other_places_are_edited_as_ever() -> None:
    assert change(attached(192, 144), f"{DECK}.elevation", "20 in").platform("deck").elevation == 20


@given(first=st.integers(96, 300), second=st.integers(96, 300))
def test_there_and_back_is_the_plan_as_it_was(first: int, second: int) -> None:
    deck = platform("deck", rectangle(0, 0, 192, 96 + second), 30, LEDGER, beam(72 + second))
    plan = make_plan(deck, house=HOUSE)
    there = change(change(plan, f"{DECK}.depth", f"{first} in"), f"{DECK}.width", f"{second} in")
    assert abs(area(there.platform("deck").outline)) == first * second
    back = change(change(there, f"{DECK}.width", "16 ft"), f"{DECK}.depth", f"{96 + second} in")
    assert back == plan


def test_every_demo_plan_takes_its_own_shape_and_stays_equal() -> None:
    plan = read_plan(data_path("plans", "alder-point.toml"))
    for one in plan.platforms:
        for key in ("width", "depth"):
            place = f"platform.{one.name}.{key}"
            assert change(plan, place, text_of(plan, place)) is plan
