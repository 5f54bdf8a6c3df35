"""Two demo plans counted by hand, figure by figure, beside what the buy list says."""

from __future__ import annotations

from functools import cache

import pytest

from deckplan.buy.item import Item
from deckplan.buy.takeoff import take_off
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study


@cache
def bought(name: str) -> tuple[Item, ...]:
    return take_off(Study(read_plan(data_path("plans", f"{name}.toml"))))


def of(name: str, word: str, within: str = "") -> list[Item]:
    return [item for item in bought(name) if item.item.startswith(word) and within in item.item]


def count(name: str, word: str, within: str = "") -> int:
    return sum(item.count for item in of(name, word, within))


def pieces(name: str, word: str, what: str, within: str = "") -> int:
    """Return how many pieces of a kind the lines say that they are cut into."""
    found = [part.rpartition(": ") for item in of(name, word, within) for part in item.basis.split(", ")]
    return sum(int(number) for kind, _, number in found if kind == what)


ALDER, HERON = "alder-point", "heron-pond"


# -- Alder Point: feet and inches --


def test_alder_point_joists() -> None:
    # ceil(L / s) + 1, first and last always (common practice), at 16 in: dining 16 ft 13, garden 12 ft 10, lounge 14 ft
    # 12. Under the border of dining two doubled joists more: 4 plies.
    assert pieces(ALDER, "2x8", "joist") == 13 + 10 + 2 * 2
    assert pieces(ALDER, "2x10", "joist") == 12


def test_alder_point_beams_rims_and_posts() -> None:
    # dining one beam of two plies of 2x12, 16 ft; lounge two of 14 ft and garden two of 12 ft, two plies of 2x8 each
    assert pieces(ALDER, "2x12", "beam") == 2
    assert pieces(ALDER, "2x8", "beam") == 4 * 2
    # rims along the free ends of the joists; between the garden's flush beams there are none
    assert (pieces(ALDER, "2x8", "rim"), pieces(ALDER, "2x10", "rim")) == (1, 2)
    assert pieces(ALDER, "2x8", "ledger") == 1
    # three posts a beam, five beams; each stands on a base and takes its beam on a cap
    assert pieces(ALDER, "6x6", "post") == 15
    assert count(ALDER, "post base") == count(ALDER, "post cap") == 15
    assert count(ALDER, "concrete in place") > 0


def test_alder_point_hangers() -> None:
    # dining's 13 joists on the ledger, the doubled one at either side of its border, the garden's 10 between two flush
    # beams
    assert count(ALDER, "joist hanger") == 13 + 2 + 2 * 10
    assert count(ALDER, "joist hanger, 2-2x8") == 2
    # two stairs hang: 4 ft wide at 12 in at most 5 stringers, 8 ft 9
    assert count(ALDER, "sloped hanger") == pieces(ALDER, "2x12", "stringer") == 5 + 9


def test_alder_point_boards() -> None:
    # rows of 5-1/2 in with gaps of 3/16 in: lounge (144 + 3/16) / 5-11/16 = 25.4, garden (120 + 3/16) / 5-11/16 = 21.1;
    # dining within its border of one board: (156 - 2 x 5-11/16 + 3/16) / 5-11/16 = 25.5
    by_stock = {item.length: item for item in of(ALDER, "composite board", "field")}
    # composite comes in 12, 16 and 20 ft (common practice): 12 ft for the garden, 16 for 14 ft and for 15 ft 0-5/8 in
    assert {length: item.count for length, item in by_stock.items()} == {144.0: 22, 192.0: 26 + 26}
    assert by_stock[144.0].net == pytest.approx(22 * 144)
    assert by_stock[192.0].net == pytest.approx(26 * 168 + 26 * (192 - 2 * 5.6875))
    # the border: 16 and 13 ft, twice, each out of 16 ft
    (border,) = of(ALDER, "composite board", "border")
    assert (border.length, border.count, border.net) == (192.0, 4, pytest.approx(2 * 192 + 2 * 156))


def test_alder_point_treads_and_screws() -> None:
    # S2: one box of 3 boards, 6 ft; S3: 5 boards and 3, 6 ft; S4: 5 treads of 2, 4 ft; S5: 3 treads of 2, 8 ft
    treads = of(ALDER, "composite board", "treads")
    assert sum(item.net for item in treads) == pytest.approx(12 * (3 * 6 + 8 * 6 + 10 * 4 + 6 * 8))
    screws = {item.basis.partition(":")[0]: item.count for item in of(ALDER, "board screw")}
    # two a board a joist (association guidance); in the garden the last row, 9/16 in wide, lies on the beam alone
    assert screws["lounge"] == 12 * 26 * 2
    assert screws["garden"] == 10 * 21 * 2 + 2
    # boxes have a joist at most every 12 in and at both ends: 6 ft take 7; stringers as above
    assert (screws["S2"], screws["S3"]) == (3 * 7 * 2, 8 * 7 * 2)
    assert (screws["S4"], screws["S5"]) == (10 * 5 * 2, 6 * 9 * 2)


def test_alder_point_at_the_house() -> None:
    # IRC R507.9.1.3 (2 in from the ends): 188 in at 15 in on centre take 13 spaces, 14 fasteners; R507.9.2: two
    # hold-downs of 1,500 lb
    assert count(ALDER, "ledger fastener") == 14
    (hold,) = of(ALDER, "hold-down")
    assert (hold.count, "1500 lb" in hold.basis) == (2, True)


def test_alder_point_fascia() -> None:
    # dining, 7-1/4 in: front 16 ft less 4 ft of hanger board, both sides 13 ft; garden: front 12 ft less 8 ft, both
    # sides 10 ft, none under the lounge; 3/4 in twice at each corner that has fascia on both sides
    whole = sum(item.net for item in of(ALDER, "composite fascia", "7 1/4"))
    dining, garden = 192 - 48 + 2 * 156 + 4 * 0.75, 144 - 96 + 2 * 120 + 4 * 0.75
    assert whole == pytest.approx(dining + garden)
    # lounge, 9-1/4 in: 14 ft towards the house and 14 ft over the garden, 12 ft on the far side, on the near side the
    # 1 ft that lies beyond dining; three corners with fascia on both sides
    lounge = sum(item.net for item in of(ALDER, "composite fascia", "9 1/4"))
    assert lounge == pytest.approx(2 * 168 + 144 + 12 + 6 * 0.75)


# -- Heron Pond: millimetres --


def test_heron_pond_frame() -> None:
    # ceil(3600 / 400) + 1 joists on both levels (common practice); blocking apart
    assert pieces(HERON, "2x10", "joist") == pieces(HERON, "2x6", "joist") == 10
    # four beams of two plies, 3.6 m; three posts each
    assert pieces(HERON, "2x6", "beam") + pieces(HERON, "2x8", "beam") == 4 * 2
    assert pieces(HERON, "6x6", "post") == count(HERON, "post base") == 12
    assert count(HERON, "joist hanger") == 2 * 10
    # the box step, 1,562 mm wide at 400 mm: 5 joists, back and front; the stair, 1.2 m at 400 mm: 4 stringers
    assert pieces(HERON, "2x6", "step frame") == 5 + 2
    assert pieces(HERON, "2x12", "stringer") == 4


def test_heron_pond_boards_and_screws() -> None:
    # rows of 140 mm with gaps of 4 mm: (3000 + 4) / 144 = 20.9 and (1800 + 4) / 144 = 12.5, of 3.6 m, a length sold
    (field,) = of(HERON, "wood board", "field")
    assert field.count == 21 + 13
    assert (field.length or 0.0) * 25.4 == pytest.approx(3600)
    assert field.waste == pytest.approx(0.0, abs=1e-9)
    # two a board a joist (association guidance); the step's 3 boards on 5 joists, the tread's 2 on 4 stringers
    assert count(HERON, "board screw") == 2 * (21 * 10 + 13 * 10 + 3 * 5 + 2 * 4)


def test_heron_pond_guard() -> None:
    # round the lookout 2 x (3.6 + 3.0) m less 1.6 m of steps; a post at each corner, at both sides of the steps, and
    # one more on the three long edges, for over 6 ft (common practice) are between the corners
    (rail,) = of(HERON, "rail and infill")
    assert (rail.unit, rail.count) == ("m", 12)
    assert rail.net == pytest.approx(11.6)
    assert pieces(HERON, "4x4", "guard post") == count(HERON, "tension connector") == 4 + 2 + 3
    # NBC 9.8.8: 900 mm; 38 mm of boards and 235 mm of frame below: three posts of 1,173 mm come out of 12 ft
    assert [(item.length, item.count) for item in of(HERON, "4x4")] == [(144.0, 3)]


def test_heron_pond_fascia() -> None:
    # the lookout all round, 19 mm twice at each of 4 corners
    whole = sum(item.net for item in of(HERON, "wood fascia", "235 mm"))
    assert whole * 25.4 == pytest.approx(2 * (3600 + 3000) + 8 * 19, abs=0.5)
    # the bank: none under the lookout; 1.8 and 3.6 m, and 1.8 m less the stair's hanger board of 1.2 m
    bank = sum(item.net for item in of(HERON, "wood fascia", "139.5 mm"))
    assert bank * 25.4 == pytest.approx(1800 + 3600 + 600 + 4 * 19, abs=0.5)


def test_heron_pond_concrete() -> None:
    # the trade's bags, 0.45 cu ft (12.74 l) for 60 lb (27.2 kg), so 11.7 l for 25 kg
    (volume,) = of(HERON, "concrete in place")
    (small,) = of(HERON, "either")
    assert volume.unit == "l"
    pads = sum(item.net for item in of(HERON, "pad under the inner feet"))
    assert small.count == pytest.approx((volume.net + pads) / 12.74 * 27.2 / 25, abs=1)
