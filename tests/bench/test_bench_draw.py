"""How fast the live drawing follows: from study to scene to SVG."""

from __future__ import annotations

from pathlib import Path

import pytest

from deckplan.draw.paint_svg import paint_svg
from deckplan.draw.plan_view import plan_view
from deckplan.draw.sheet import SCREEN
from deckplan.plan.file import read_plan
from deckplan.study import Study

pytestmark = pytest.mark.bench


@pytest.fixture(scope="module")
def study() -> Study:
    path = Path(__file__).parents[2] / "data" / "plans" / "alder-point.toml"
    made = Study(read_plan(path))
    assert made.footings
    return made


def test_a_scene_of_three_platforms_is_set_in_well_under_a_frame_of_thirty_a_second(benchmark, study) -> None:
    benchmark(plan_view, study, sheet=SCREEN, titled=False)
    assert benchmark.stats.stats.median < 0.033


def test_the_svg_of_three_platforms_is_painted_in_two_milliseconds(benchmark, study) -> None:
    scene = plan_view(study, sheet=SCREEN, titled=False)
    svg = benchmark(paint_svg, scene)
    assert len(svg) > 10_000
    assert benchmark.stats.stats.median < 0.002
