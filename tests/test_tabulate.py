"""Tables: units in the columns, figures that agree with the study, gaps that look empty."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

from deckplan import tabulate
from deckplan.packet.tables_file import write_tables
from deckplan.plan.file import read_plan
from deckplan.plan.places import edit
from deckplan.reference import data_path
from deckplan.study import Study
from deckplan.tabulate import Sheet, checks_sheet, frame
from deckplan.verdict import Verdict

PLANS = ("alder-point.toml", "chestnut-school.toml", "heron-pond.toml")


def study(name: str = "alder-point.toml") -> Study:
    return Study(read_plan(data_path("plans", name)))


def test_flights_are_split_as_the_trade_splits_them() -> None:
    table = tabulate.flights(study()).set_index("mark")
    # Common practice: 10-1/2 in between two levels is one box step, two risers of 5-1/4 in.
    assert table.loc["S2", "risers"] == 2
    assert table.loc["S2", "riser"] == '5 1/4"'
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
def test_a_footings_load_gives_the_share_that_is_used(name: str) -> None:
    seen = study(name)
    table = tabulate.footings(seen)
    metric = seen.plan.units == "metric"
    assert set(table["footing"]) == {one.mark for one in seen.footings}, "those under flights too"
    for one, row in zip(seen.footings, table.to_dict("records"), strict=True):
        load = row["sized for [kN]"] * tabulate.LB_PER_KN if metric else row["sized for [lb]"]
        assert load == pytest.approx(one.design, abs=1.2)
        # statics: load over the pier's area and its own weight, 150 pcf of the pad or 40 pcf more than the soil
        # that the whole pier takes the place of (common practice), over what the soil bears
        inch = 25.4 if metric else 1.0
        across, deep = (row[f"{what} [{'mm' if metric else 'in'}]"] / inch for what in ("diameter", "deep"))
        thick = row[f"least thick [{'mm' if metric else 'in'}]"] / inch
        pressure = one.design / (math.pi * across**2 / 4 / 144) + max(150 * thick, 40 * deep) / 12
        assert row["used [%]"] == pytest.approx(100 * pressure / seen.plan.site.soil_bearing, abs=0.3)
        assert f"sized for {seen_force(one.design, metric)}" in seen.describe(one.mark)


def seen_force(pounds: float, metric: bool) -> str:
    return f"{pounds / tabulate.LB_PER_KN:.1f} kN" if metric else f"{pounds:,.0f} lb"


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


def test_a_least_is_told_from_a_most() -> None:
    seen = study("chestnut-school.toml")
    tables = [frame(checks_sheet(seen)), frame(checks_sheet(study("heron-pond.toml")))]
    for table in tables:
        limits = table[table["limit"].notna() & table["found"].notna()]
        for row in limits.to_dict("records"):
            over = row["found"] - row["limit"] if row["must be"] == "at most" else row["limit"] - row["found"]
            off = 1e-3 * row["limit"]  # both are written with four figures
            assert over <= off if row["verdict"] == "PASS" else row["verdict"] == "OUTSIDE" or over >= -off
        assert {"at most", "at least"} <= set(limits["must be"])
        assert table[table["limit"].isna()]["must be"].eq("").all()
        assert "at least" in table.to_html()
        assert "at least" in table.to_csv()


def test_steps_can_be_redone_by_hand() -> None:
    table = tabulate.steps(study(), "A-B1", "bending in the span").set_index("symbol")
    # NDS 2018 3.3: the moment allowed is Fb' times S.
    # NDS 3.3.3: with the beam stability factor where there is one; the last Fb' is the one that counts.
    stress = table.loc[["Fb'"], "value"].iloc[-1]
    assert table.loc["M'", "value"] == pytest.approx(stress * table.loc["S", "value"], rel=1e-5)
    assert (table["source"] != "").all()
    with pytest.raises(KeyError):
        tabulate.steps(study(), "A-B1", "colour")


# -- cells with nothing in them --

EMPTY = Sheet(
    "gaps",
    ("word", "count", "share", "both"),
    (("a", 1, 0.5, "x"), (None, None, None, 2), ("", 3, 1.0, None)),
)


def test_gaps_are_empty_to_the_eye_and_missing_to_a_sum() -> None:
    table = tabulate.frame(EMPTY)
    for text in (
        repr(table),
        table._repr_html_() or "",
        repr(table.head(2)),
        repr(table[["count", "share"]]),
    ):
        assert not any(word in text for word in ("NaN", "<NA>", "None", "nan"))
    assert table["count"].sum() == 4
    assert table["share"].mean() == pytest.approx(0.75)
    assert table["share"].isna().tolist() == [False, True, False]


def test_columns_keep_their_types() -> None:
    table = tabulate.frame(EMPTY)
    assert (str(table["count"].dtype), str(table["share"].dtype)) == ("Int64", "float64")
    assert table["word"].tolist() == ["a", "", ""]
    assert table["both"].tolist() == ["x", 2, ""]
    whole = tabulate.frame(Sheet("whole", ("count", "agrees"), ((1, True), (2, False))))
    assert [str(dtype) for dtype in whole.dtypes] == ["int64", "bool"]
    nothing = tabulate.frame(Sheet("nothing", ("a", "b"), ()))
    assert (len(nothing), list(nothing.columns)) == (0, ["a", "b"])


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("sheet", sorted(tabulate.SHEETS))
def test_no_table_shows_what_is_missing(name: str, sheet: str) -> None:
    table = tabulate.frame(tabulate.SHEETS[sheet](study(name)))
    assert not {"NaN", "<NA>", "None", "nan"} & set((table._repr_html_() or "").replace(">", " > ").split())
    assert table.shape[1] == len(set(table.columns))


# -- rooms and load path --


def test_rooms_say_who_finds_a_seat() -> None:
    seen = study()
    rooms = tabulate.rooms(seen).set_index("platform")
    assert rooms.loc["dining", "people"] == 8
    assert rooms.loc["dining", "seats"] == sum(group.seats for group in seen.rooms["dining"].groups)
    furniture = tabulate.furniture(seen)
    assert len(furniture) == sum(len(room.groups) for room in seen.rooms.platforms.values())


def test_what_arrives_at_the_soil_was_put_on_the_boards() -> None:
    seen = study()
    path = tabulate.load_path(seen)
    surfaces = path[path["from"].isin(["A", "B", "C"])]
    # statics: whole pounds a line, so that many lines differ by many halves
    put = seen.loads.applied
    assert surfaces["dead [lb]"].sum() <= put.dead + len(surfaces)
    ends = path[path["onto"].isin(["soil", "house", "ground"])]
    assert ends["all [lb]"].sum() == pytest.approx(put.full, abs=len(ends))


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
