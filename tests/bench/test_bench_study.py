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
