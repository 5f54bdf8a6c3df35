"""Tables: units in the columns, figures that agree with the study, what is bought counted as the trade counts."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

from deckplan import tabulate
from deckplan.buy.boards import rows
from deckplan.buy.concrete import bags, pier_volume
from deckplan.buy.lumber import spliced, sticks, stock_for
from deckplan.packet.tables_file import write_tables
from deckplan.plan.file import parse_plan, read_plan
from deckplan.plan.places import edit
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.verdict import Verdict

PLANS = ("alder-point.toml", "chestnut-school.toml", "heron-pond.toml")


def study(name: str = "alder-point.toml") -> Study:
    return Study(read_plan(data_path("plans", name)))


def test_flights_are_split_as_the_trade_splits_them() -> None:
    table = tabulate.flights(study()).set_index("mark")
    # Common practice: 10-1/2 in between two levels is one box step, two risers of 5-1/4 in.
    assert table.loc["S2", "risers"] == 2
    assert table.loc["S2", "riser on the tape"] == '5 1/4"'
    # Arithmetic on the rule's 7-3/4 in: 16 in takes three risers, for two of 8 in are over the maximum.
    assert table.loc["S3", "risers"] == 3
    assert table.loc["S3", "riser [in]"] == pytest.approx(5.333, abs=1e-9)


@pytest.mark.parametrize("name", PLANS)
def test_the_story_pole_ends_at_the_rise_and_steps_evenly(name: str) -> None:
    seen = study(name)
    for rise in seen.levels.flights:
        table = tabulate.story_pole(seen, f"S{rise.index + 1}")
        heights = table.iloc[:, 2]
        metric = seen.plan.units == "metric"
        total = rise.rise * 25.4 if metric else rise.rise
        assert len(table) == rise.risers
        assert heights.iloc[-1] == pytest.approx(total, abs=0.3 if metric else 6e-4)
        assert heights.diff().dropna().round(2).nunique() <= (2 if metric else 1)


def test_a_flight_that_is_not_there_has_no_story_pole() -> None:
    with pytest.raises(KeyError):
        tabulate.story_pole(study(), "S99")


def test_units_follow_the_plan() -> None:
    us, metric = study(), study("heron-pond.toml")
    assert "elevation [in]" in tabulate.levels(us).columns
    assert "load [lb]" in tabulate.posts(us).columns
    levels = tabulate.levels(metric).set_index("platform")
    assert levels.loc["lookout", "elevation [mm]"] == 570
    assert levels.loc["lookout", "area [m2]"] == pytest.approx(3.6 * 3.0)
    posts = tabulate.posts(metric)
    # A newton is the force on a kilogram at 1 m/s2: 1 kN = 224.8089 lbf (exact definitions of pound and inch).
    heaviest = max(force.governing[0] for force in metric.loads.posts.values())
    assert posts["load [kN]"].max() == pytest.approx(heaviest / 224.8089, abs=0.006)


def test_numbers_do_not_depend_on_how_they_are_shown() -> None:
    plan = read_plan(data_path("plans", "alder-point.toml"))
    us, metric = Study(plan), Study(edit(plan, "units", "metric"))
    inches = tabulate.members(us)["length [in]"]
    millimetres = tabulate.members(metric)["length [mm]"]
    assert (inches * 25.4 - millimetres).abs().max() <= 0.27
    assert tabulate.checks(us)["used [%]"].tolist() == pytest.approx(
        tabulate.checks(metric)["used [%]"].tolist(), nan_ok=True
    )


@pytest.mark.parametrize("name", PLANS)
def test_every_part_stands_in_a_table(name: str) -> None:
    seen = study(name)
    assert set(tabulate.members(seen)["mark"]) == {member.mark for member in seen.layout.members}
    posts = tabulate.posts(seen)
    assert set(posts["post"]) == {post.mark for post in seen.layout.posts}
    assert posts["footing"].notna().all()
    assert tabulate.framing(seen)["pieces"].sum() == len(seen.layout.members)


@pytest.mark.parametrize("name", PLANS)
def test_the_checks_table_hides_nothing(name: str) -> None:
    seen = study(name)
    groups = tabulate.grouped_checks(seen.checks)
    said = {(check.rule, mark) for check, marks in groups for mark in marks}
    assert said == {(check.rule, check.mark) for check in seen.checks}
    for check, marks in groups:
        if check.verdict in (Verdict.FAIL, Verdict.OUTSIDE):
            assert marks == (check.mark,), "what fails stands by itself"
        alike = [
            c for c in seen.checks if c.mark in marks and c.rule == check.rule and c.verdict is check.verdict
        ]
        most = max((c.utilisation or 0.0 for c in alike if c.unit == check.unit), default=0.0)
        assert (check.utilisation or 0.0) == most, "a line speaks of the part that is used most"


def test_failures_come_first() -> None:
    verdicts = tabulate.checks(study("chestnut-school.toml"))["verdict"].tolist()
    assert verdicts[0] == "FAIL"
    assert verdicts == sorted(verdicts, key=["FAIL", "OUTSIDE", "PASS", "NOT_APPLICABLE"].index)


def test_steps_can_be_redone_by_hand() -> None:
    table = tabulate.steps(study(), "A-B1", "bending in the span").set_index("symbol")
    # NDS 2018 3.3: the moment allowed is Fb' times S.
    # NDS 3.3.3: with the beam stability factor where there is one; the last Fb' is the one that counts.
    stress = table.loc[["Fb'"], "value"].iloc[-1]
    assert table.loc["M'", "value"] == pytest.approx(stress * table.loc["S", "value"], rel=1e-5)
    assert (table["source"] != "").all()
    with pytest.raises(KeyError):
        tabulate.steps(study(), "A-B1", "colour")


# -- the buy list --

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


def test_screws_of_a_ten_foot_square() -> None:
    # Association guidance, two fasteners a board a joist: 9 joists x 22 rows x 2 = 396, where the rule of
    # thumb "length x 5" asks for three times that.
    table = tabulate.buy(Study(parse_plan(SQUARE))).set_index("item")
    assert table.loc["board screw", "buy"] == 396
    assert rows(120.0, 5.5, 0.125) == 22


def test_boards_state_their_waste_apart() -> None:
    table = tabulate.buy(Study(parse_plan(SQUARE)))
    boards = table[table["group"] == "boards"].iloc[0]
    # 100 sq ft at 5-5/8 in of cover a board: 213.3 ft of board; a tenth for cutting (common practice).
    assert boards["net"] == pytest.approx(213.3, abs=0.05)
    assert boards["waste [%]"] == 10
    assert boards["buy"] == math.ceil(213.33 * 1.1 / 16)


@pytest.mark.parametrize(("each", "count"), [(0.45, 7), (0.60, 6)])
def test_bags_of_a_pier(each: float, count: int) -> None:
    # Printed by the trade press: a 12 in x 48 in pier is 3.14 cu ft, 7 bags of 60 lb or 6 of 80 lb.
    assert pier_volume(12.0, 48.0) == pytest.approx(3.14, abs=0.005)
    assert bags(pier_volume(12.0, 48.0), each) == count


def test_stock_comes_in_even_feet() -> None:
    # Common practice: even feet, framing to 20 ft.
    assert stock_for(95.0) == 96
    assert stock_for(96.0) == 96
    assert stock_for(96.1) == 120
    assert stock_for(240.0) == 240
    assert stock_for(240.1) is None


@pytest.mark.parametrize("name", PLANS)
def test_the_lumber_bought_holds_every_piece(name: str) -> None:
    seen = study(name)
    table = tabulate.buy(seen)
    lumber = table[table["group"] == "lumber"]
    feet = lumber["stock length"].str.extract(r"^(\d+)'")[0].astype(float)
    bought = (feet * lumber["buy"]).sum() * 12
    longest = {m.size: m.length for m in seen.layout.members}
    needed = sum(post.height for post in seen.layout.posts)
    assert longest
    from deckplan.buy.lumber import is_lumber, pieces_of

    needed += sum(length for m in seen.layout.members if is_lumber(m) for _, length in pieces_of(m))
    assert needed <= bought <= 1.6 * needed


def test_long_beams_are_spliced_over_posts() -> None:
    assert spliced(420.0, (0.0, 105.0, 210.0, 315.0, 420.0)) == [210.0, 210.0]


def test_sticks_hold_their_pieces_with_every_cut() -> None:
    pieces = [113.0, 90.0, 90.0, 47.5, 30.0, 14.5, 14.5]
    made = sticks(pieces)
    assert sum(stock * count for stock, count in made.items()) >= sum(pieces)
    # Two pieces of 8 ft less a hair and a kerf do not come out of one stick of 16 ft less that kerf.
    assert sticks([96.0, 96.0]) == {96.0: 2}


def test_connectors_are_named_by_kind_and_capacity() -> None:
    table = tabulate.buy(study())
    connectors = table[table["group"] == "connectors"]
    assert connectors["counted from"].str.fullmatch(r"each for \d+ lb or more").all()
    bases = connectors[connectors["item"].str.startswith("post base")]
    assert bases["buy"].sum() == len(study().layout.posts)


# -- files --


def test_csv_opens_in_spreadsheets(tmp_path: Path) -> None:
    written = write_tables(study(), tmp_path / "deck.csv")
    assert written[0] == tmp_path / "deck.csv"
    assert {path.name for path in written} >= {
        "deck.csv",
        "deck-levels.csv",
        "deck-checks.csv",
        "deck-posts.csv",
    }
    for path in written:
        assert path.read_bytes().startswith(b"\xef\xbb\xbf"), "the mark by which spreadsheets know UTF-8"
    with (tmp_path / "deck-levels.csv").open(encoding="utf-8-sig", newline="") as file:
        lines = list(csv.reader(file))
    assert lines[0][:3] == ["mark", "platform", "elevation [in]"]
    assert [line[1] for line in lines[1:]] == ["dining", "lounge", "garden"]
