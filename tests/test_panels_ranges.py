"""A plan whose levels are all wishes, opened in the workbook: one wish moved moves what is free to move."""

from __future__ import annotations

from pathlib import Path

import pytest

from deckplan.panels.workbench import open_bench

RANGES = Path(__file__).parent / "plans" / "all-ranges.toml"


def test_a_plan_of_ranges_opens_and_moves_live() -> None:
    bench = open_bench(RANGES)
    study = bench.session.study
    assert all(level.chosen for level in study.levels.levels)
    before = {level.platform: level.elevation for level in study.levels.levels}
    drawing = bench.drawing.svg
    high = study.plan.platforms[0].name
    bench.levels.type(f"platform.{high}.elevation", "20 in to 24 in")
    after = {level.platform: level.elevation for level in bench.session.study.levels.levels}
    assert 20 <= after[high] <= 24
    # its neighbours went along: nobody typed anything for them
    assert any(after[name] != pytest.approx(before[name]) for name in after if name != high)
    # risers of a flight between two levels are equal by construction, and within the profile's limits
    profile = bench.session.study.profile
    between = [
        rise for rise in bench.session.study.levels.flights if rise.lower != "ground" and rise.rise > 0
    ]
    assert between
    assert all(rise.riser <= profile.riser_max.value + 1e-6 for rise in between)
    assert bench.drawing.svg != drawing


def test_every_edge_that_needs_a_guard_says_which_rule_and_where_from() -> None:
    study = open_bench(RANGES).session.study
    needed = [stretch for stretch in study.layout.guards if stretch.required]
    source = str(study.profile.guard_trigger_drop.source)
    assert needed
    assert all(source in stretch.reason and "within" in stretch.reason for stretch in needed)
