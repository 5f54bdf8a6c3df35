"""The buy list: counted as the trade counts, waste apart, weights, named by kind and capacity."""

from __future__ import annotations

import math
from collections import Counter

import pytest

from deckplan import tabulate
from deckplan.buy.boards import platform_stock, tread_screws
from deckplan.buy.concrete import bags, count_concrete, pier_volume
from deckplan.buy.fixings import ledger_fasteners
from deckplan.buy.item import Item
from deckplan.buy.lumber import ONE_PERSON, cut_length, ends_cut, spliced, wet_weight
from deckplan.buy.takeoff import cut_lots, take_off, take_off_frame
from deckplan.checks.footings import FootingDesign
from deckplan.layout.ends import cut_ends
from deckplan.layout.model import Kind, Member
from deckplan.plan.file import parse_plan, read_plan
from deckplan.plan.places import edit
from deckplan.reference import data_path
from deckplan.study import Study
from tests.decks import HOUSE, LEDGER, beam, make_plan, platform, rectangle

SQUARE = """
[site]
soil_bearing = "1500 psf"
frost_depth = "48 in"
[materials]
decking = { kind = "composite", thickness = "1 in", width = "5 1/2 in", gap = "1/8 in", spacing = "16 in" }
[[platform]]
name = "square"
outline = [["0 ft", "0 ft"], ["10 ft", "0 ft"], ["10 ft", "10 ft"], ["0 ft", "10 ft"]]
elevation = "30 in"
joists = { direction = "y", size = "2x8", spacing = "16 in" }
support = [{ kind = "beam", offset = "1 ft" }, { kind = "beam", offset = "9 ft" }]
"""


def demo(name: str) -> Study:
    return Study(read_plan(data_path("plans", f"{name}.toml")))


def square() -> Study:
    return Study(parse_plan(SQUARE))


def lines(study: Study, word: str) -> list[Item]:
    return [item for item in take_off(study) if item.item.startswith(word)]


# -- boards and screws --


def test_screws_of_a_ten_foot_square() -> None:
    # Association guidance, two fasteners a board a joist: 9 joists x 22 rows x 2 = 396, where the rule of
    # thumb "length x 5" asks for three times that.
    (screws,) = lines(square(), "board screw")
    assert screws.count == 396
    boards = sum(item.net for item in lines(square(), "composite board"))
    assert 5 * boards / 12 / screws.count == pytest.approx(3, abs=0.3)


def test_boards_are_bought_as_they_are_laid() -> None:
    # By hand: 120.125 / 5.625 = 21.4, so 22 rows of 10 ft; composite comes in 12, 16 and 20 ft (common practice), and
    # two rows with a saw cut are over 20 ft: 22 pieces of 12 ft, 264 ft for 220 ft, 20 % over.
    (boards,) = lines(square(), "composite board")
    assert (boards.length, boards.count) == (144.0, 22)
    assert boards.net == pytest.approx(22 * 120)
    assert boards.waste == pytest.approx(0.2)
    table = tabulate.buy(square())
    row = table[table["group"] == "boards"].iloc[0]
    assert (row["net"], row["of"], row["waste [%]"], row["buy"]) == (220.0, "ft", 20.0, 22)


def test_border_and_breaker_boards_are_lines_of_their_own() -> None:
    wide = platform("deck", rectangle(0, 0, 288, 120), 36.0, LEDGER, beam(102), boards={"border": 1})
    study = Study(make_plan(wide, house=HOUSE))
    kinds = {item.item.rpartition(", ")[2] for item in lines(study, "wood board")}
    assert kinds == {"field", "border", "breaker"}
    # by hand: the border runs round 24 x 10 ft
    assert sum(i.net for i in lines(study, "wood board") if i.item.endswith("border")) / 12 == pytest.approx(
        68, abs=0.5
    )


def test_treads_take_two_screws_on_each_stringer() -> None:
    down = {"from": "deck", "to": "ground", "along": [(24, 144), (72, 144)], "kind": "stringer", "tread": 11}
    deck = platform("deck", rectangle(0, 0, 192, 144), 28.0, LEDGER, beam(126), joists={"size": "2x10"})
    study = Study(make_plan(deck, house=HOUSE, flight=[down]))
    (flight,) = study.flights.flights
    # by hand: 28 in are 4 risers, so 3 treads of two boards; 4 ft takes 5 stringers at 12 in at most, 3 x 2 x 5 x 2
    assert tread_screws(flight) == 60


def test_treads_of_a_box_are_screwed_to_the_frame_under_them_alone() -> None:
    flight = demo("alder-point").flights.of(2)
    # by hand: two frames of 7 joists under 6 ft at 12 in; five boards on the lower one, three on the upper
    assert tread_screws(flight) == 2 * 7 * (5 + 3)


def test_the_board_plan_counts_stock_as_the_buy_list_does() -> None:
    study = demo("alder-point")
    kind, units = study.plan.materials.decking.kind, study.plan.units
    drawn = sum(
        (Counter(platform_stock(one, kind, units)) for one in study.boards.platforms.values()), Counter()
    )
    bought: Counter[float] = Counter()
    for item in lines(study, "composite board"):
        if not item.item.endswith("treads"):
            bought[item.length or 0.0] += item.count
    assert drawn == bought


# -- fascia --


def test_fascia_goes_round_the_open_edges() -> None:
    # by hand: 16 x 12 ft at a wall: 12 + 16 + 12 ft, and 3/4 in more at each of the two outer corners' both ends
    deck = platform("deck", rectangle(0, 0, 192, 144), 28.0, LEDGER, beam(126), joists={"size": "2x10"})
    (lot,) = [lot for lot in cut_lots(Study(make_plan(deck, house=HOUSE))) if "fascia" in lot.item]
    assert "9 1/4" in lot.item  # as deep as a 2x10 rim (PS 20)
    assert lot.cutting.net == pytest.approx(144 + 192 + 144 + 4 * 0.75)


def test_an_inner_corner_takes_fascia_away() -> None:
    # by hand: an L of 16 x 14 ft, free all round: 60 ft, 3/4 in twice at each of 5 outer corners, less at the inner one
    ell = [(0.0, 0.0), (192.0, 0.0), (192.0, 96.0), (120.0, 96.0), (120.0, 168.0), (0.0, 168.0)]
    for outline in (ell, ell[::-1]):
        deck = platform("deck", outline, 28.0, beam(24), beam(84), joists={"size": "2x10"})
        lots = [lot for lot in cut_lots(Study(make_plan(deck))) if "fascia" in lot.item]
        assert sum(lot.cutting.net for lot in lots) == pytest.approx(720 + 2 * 0.75 * (5 - 1))


# -- concrete --


@pytest.mark.parametrize(("each", "count"), [(0.45, 7), (0.60, 6)])
def test_bags_of_a_pier(each: float, count: int) -> None:
    # Printed by the trade press: a 12 in x 48 in pier is 3.14 cu ft, 7 bags of 60 lb or 6 of 80 lb.
    assert pier_volume(12.0, 48.0) == pytest.approx(3.14, abs=0.005)
    assert bags(pier_volume(12.0, 48.0), each) == count


def test_concrete_by_the_litre_where_the_plan_is_metric() -> None:
    pier = FootingDesign("A-F1", "A-P1", (0.0, 0.0), 12.0, 8.0, 0.0, -48.0, 1000.0, 1000.0)
    # 3.14 cu ft are 89 l (28.317 l to the cubic foot); a bag of 30 kg is 66.1 lb and gives 66.1 x 0.0075 cu ft: 14 l
    volume, small, large = count_concrete([pier], "metric")
    assert (volume.unit, volume.count) == ("l", 89)
    assert (small.count, large.count) == (8, 7)
    assert [item.unit for item in count_concrete([pier])] == ["cu ft", "bags", "bags"]


# -- lumber --


def test_wet_lumber_weighs_what_the_trade_says() -> None:
    # Trade literature: wet 2x12 about 8.5 lb a foot, 2x10 7.0 lb.
    assert wet_weight("2x12") == pytest.approx(8.5, abs=0.05)
    assert wet_weight("2x10") == pytest.approx(7.0, abs=0.05)


def test_what_takes_two_people_is_marked() -> None:
    # By the trade literature's 8.5 lb a foot a 16 ft 2x12 weighs 136 lb, over the 51 lb of NIOSH 94-110.
    table = tabulate.buy(demo("alder-point"))
    lumber = table[table["group"] == "lumber"]
    long = lumber[lumber["item"].str.startswith("2x12") & (lumber["stock length"] == "16'")]
    assert long["each [lb]"].tolist() == [136]
    assert long["to carry"].tolist() == ["two people"]
    assert ((lumber["each [lb]"] > ONE_PERSON) == (lumber["to carry"] == "two people")).all()
    assert (table[table["group"] == "screws"]["to carry"] == "").all()


def test_lumber_near_the_ground_is_bought_as_such() -> None:
    study = demo("alder-point")
    marks = {
        piece.mark for lot in cut_lots(study) if "ground contact" in lot.item for piece in lot.cutting.pieces
    }
    # by hand: the garden's beams reach down to 3-1/2 - 1 - 7-1/4 = -4-3/4 in; under the near one the ground lies at
    # -9 to -12 in, within 6 in, under the far one at -20 in and deeper; posts always stand at the ground
    assert {"C-B1", "C-B2"} & marks == {"C-B1"}
    assert {post.mark for post in study.layout.posts} <= marks
    assert not {m.mark for m in study.layout.of("dining", Kind.JOIST)} & marks


def test_long_beams_are_spliced_over_posts() -> None:
    assert spliced(420.0, (0.0, 105.0, 210.0, 315.0, 420.0)) == [210.0, 210.0]


def test_a_long_rim_is_joined_at_a_joist() -> None:
    # by hand: 26 ft with joists at 16 in: the last joist within 20 ft stands at 240 in, the rest is 72 in
    wide = platform("deck", rectangle(0, 0, 312, 120), 36.0, beam(12), beam(108), joists={"size": "2x8"})
    cut = [
        piece
        for lot in cut_lots(Study(make_plan(wide)))
        for piece in lot.cutting.pieces
        if piece.mark == "A-R1"
    ]
    assert sorted(piece.length for piece in cut) == pytest.approx([72.0, 240.0])


def member(kind: Kind, mark: str, *line: tuple[float, float], drop: float = 0.0) -> Member:
    return Member(mark, "deck", kind, "2x8", line[0], line[1], 30.0, 1.5, 7.25, drop=drop)


def test_a_joist_that_meets_its_rim_at_45_degrees_is_longer_on_one_side() -> None:
    joist = member(Kind.JOIST, "A-J1", (0.0, 0.0), (0.0, 100.0))
    leg = 50.0 / 2**0.5
    rim = member(Kind.RIM, "A-R1", (-leg, 100.0 + 1.06 - leg), (leg, 100.0 + 1.06 + leg))
    # by hand: at 45 degrees the long side gains half of 1-1/2 in
    cuts = cut_ends([joist, rim])
    assert cuts["A-J1"] == pytest.approx((0.0, -45.0))
    assert cut_length(joist, cuts["A-J1"]) == pytest.approx(100.75)
    straight = member(Kind.RIM, "A-R2", (-50.0, 100.75), (50.0, 100.75))
    assert not cut_ends([joist, straight])
    assert cut_length(joist) == pytest.approx(100.0)


def test_a_knee_brace_is_cut_with_two_mitres() -> None:
    # by hand: 24 by 24 in are 33.94 in along the middle; at 45 degrees each end of a 4x4 adds half of 3-1/2 in
    brace = Member("A-X1", "deck", Kind.BRACE, "4x4", (0.0, 0.0), (24.0, 0.0), 30.0, 3.5, 3.5, drop=24.0)
    ends = ends_cut(brace, {})
    assert ends == pytest.approx((45.0, -45.0))
    assert cut_length(brace, ends) == pytest.approx(33.94 + 3.5, abs=0.01)


def test_stringers_are_cut_from_planks_longer_than_their_slope() -> None:
    study = demo("alder-point")
    planks = [
        piece for lot in cut_lots(study) for piece in lot.cutting.pieces if piece.mark.startswith("S4-S")
    ]
    rise = study.levels.flights[3]
    slope = math.hypot(rise.riser, rise.tread) * (rise.risers - 1)
    # trade literature: the plank holds the corners of the first and the last cut too
    assert planks
    assert all(slope + rise.riser < piece.length < slope + 2 * 11.25 + rise.riser for piece in planks)


# -- connectors --


def test_connectors_are_named_by_kind_and_capacity() -> None:
    connectors = [item for item in take_off(demo("alder-point")) if item.group == "connectors"]
    forces = [item for item in connectors if "ledger fastener" not in item.item]
    assert all(item.basis.endswith("lb or more") for item in forces)


def test_a_metric_list_asks_for_kilonewtons() -> None:
    # 224.8 lb to the kilonewton (NIST SP 811): 2,250 lb are 10.0 kN
    study = demo("heron-pond")
    table = tabulate.buy(study)
    said = " ".join(table["counted from"])
    assert " lb" not in said
    (base,) = lines(study, "post base")
    pounds = float(base.basis.split()[2])
    row = table[table["item"].str.startswith("post base")].iloc[0]
    assert float(row["counted from"].split()[2]) == pytest.approx(pounds / 224.8, rel=0.005)
    assert "kN or more" in row["counted from"]


def test_a_ledgers_fasteners() -> None:
    # By hand, IRC R507.9.1.3: 2 in from both ends; 16 ft at 15 in: 188 / 15 = 12.5, so 13 spaces and 14 fasteners.
    assert ledger_fasteners(192.0, 15.0) == 14
    (line,) = lines(demo("alder-point"), "ledger fastener")
    assert (line.item, line.basis.partition(":")[0]) == ("ledger fastener, 1/2 in lag", "A-L1")


@pytest.mark.parametrize(("width", "count", "force"), [(192.0, 2, 1500)])
def test_hold_downs_of_an_attached_deck(width: float, count: int, force: int) -> None:
    # IRC R507.9.2: two of 1,500 lb
    deck = platform("deck", rectangle(0, 0, width, 144), 28.0, LEDGER, beam(126))
    (line,) = lines(Study(make_plan(deck, house=HOUSE)), "hold-down")
    assert line.count == count
    assert f"{force} lb" in line.basis


def test_every_joist_on_a_lifted_support_is_tied() -> None:
    study = demo("alder-point")
    said = [
        check
        for check in study.checks
        if check.rule == "tie against uplift" and "every joist" in check.reason
    ]
    supports = {check.reason.split(" to ")[1].split(" for ")[0] for check in said}
    joists = [
        m for m in study.layout.members if m.kind is Kind.JOIST for b in m.bearings
        if b.on in supports and b.manner == "bearing"
    ]  # fmt: skip
    assert joists
    assert sum(item.count for item in lines(study, "tie against uplift")) >= len(joists)


# -- the whole --


def test_the_list_says_what_it_leaves_out() -> None:
    last = tabulate.buy(square()).iloc[-1]
    assert last["group"] == "not counted"
    assert "handrails" in last["item"]
    assert all(str(last[column]) in ("", "nan", "<NA>") for column in ("net", "buy", "unit"))


def test_the_frame_alone_lays_no_boards() -> None:
    study = square()
    groups = {item.group for item in take_off_frame(study)}
    assert groups == {"concrete", "lumber", "connectors"}
    assert "boards" not in vars(study)


def test_what_is_bought_does_not_depend_on_how_it_is_shown() -> None:
    plan = read_plan(data_path("plans", "alder-point.toml"))
    us, metric = (
        sum(item.net for item in take_off(Study(edit(plan, "units", units))) if item.length is not None)
        for units in ("us", "metric")
    )
    assert us == pytest.approx(metric)
