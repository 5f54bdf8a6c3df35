"""The load path as tables, beside what the footing itself is sized for."""

from __future__ import annotations

import pytest

from deckplan.explore.load_tables import goes_to, stands_on
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study


def study(name: str) -> Study:
    return Study(read_plan(data_path("plans", f"{name}.toml")))


def test_what_stands_on_a_shared_footing_comes_from_both_levels_and_sums_to_its_load() -> None:
    one = study("frames-shared-post")
    table = stands_on(one, "A-F3")
    assert {"terrace", "court"} <= set(table["surface"])
    footing = next(f for f in one.footings if f.mark == "A-F3")
    assert sum(table["all [lb]"]) == pytest.approx(footing.load, abs=2)
    # 40 psf on the ground plan's area: IRC R507.1, two published copies
    areas = table[table["area [sq ft]"] > 0]
    assert list(areas["live [lb]"]) == pytest.approx(list(40 * areas["area [sq ft]"]), abs=3)


def test_where_a_level_goes_sums_to_the_whole() -> None:
    table = goes_to(study("frames-shared-post"), "B")
    assert sum(table["share [%]"]) == pytest.approx(100, abs=0.3)
    assert "A-F3" in set(table["ends at"])


def test_metric_plans_and_unknown_marks() -> None:
    table = stands_on(study("heron-pond"), "A-F2")
    assert "all [kN]" in table.columns
    with pytest.raises(KeyError):
        stands_on(study("heron-pond"), "Z-F1")
    with pytest.raises(KeyError):
        goes_to(study("heron-pond"), "Z")


def test_forces_that_round_to_nothing_are_left_out_and_lifted_supports_say_so() -> None:
    yard = Study(read_plan(data_path("plans", "frames-stacked.toml")))
    stands, goes = stands_on(yard, "A-F7"), goes_to(yard, "B")
    assert (stands["all [lb]"].abs() >= 1).all()
    lifted = goes["by"].str.endswith(", lifted")
    # statics: where a load levers a support up, the others carry so much more, and all of it is one whole
    assert lifted.any()
    assert (lifted == (goes["load [lb]"] < 0)).all()
    assert goes["share [%]"].sum() == pytest.approx(100.0, abs=0.5)
