"""Studies without drawing: the plans that the goals speak of."""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.plan.file import read_plan
from deckplan.plan.model import Plan
from deckplan.reference import data_path
from deckplan.study import Study

pytestmark = pytest.mark.bench


def _work(plan: Plan) -> int:
    study = Study(plan)
    return len(study.checks) + len(study.footings)


def test_study_of_three_platforms(benchmark: Any) -> None:
    """Goal: well under 50 ms."""
    plan = read_plan(data_path("plans", "alder-point.toml"))
    assert benchmark(_work, plan) > 0


def test_study_of_six_platforms(benchmark: Any) -> None:
    """About 2,000 sq ft on 56 footings. Goal: under 250 ms."""
    plan = read_plan(data_path("plans", "six-terraces.toml"))
    assert benchmark(_work, plan) > 0
