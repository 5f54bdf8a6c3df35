"""Steps of a sum are complete: whoever puts the printed numbers into the printed formula gets the printed value."""

from __future__ import annotations

import math
import re

import pytest

from deckplan.engineering.bending import stability
from deckplan.engineering.columns import post_capacity
from deckplan.engineering.factors import AdjustedValues, LoadCase, Service, adjusted
from deckplan.engineering.joists import joist_overhang
from deckplan.engineering.lumber import Size, design_values, read_size
from deckplan.engineering.prescriptive import ledger_capacity
from deckplan.engineering.stairs import stringer_stress
from deckplan.study import Study
from deckplan.verdict import Step
from tests.test_stringer_heads import down_to_ground

_SUPERSCRIPTS = {"²": "**2", "³": "**3", "⁴": "**4"}


def by_hand(step: Step) -> float:
    """Work out the numbers of a step as they are printed, with nothing else known."""
    text = step.numbers.replace("×", "*").replace("−", "-")
    for sign, power in _SUPERSCRIPTS.items():
        text = text.replace(sign, power)
    text = re.sub(r"√\(", "sqrt(", text)
    return float(eval(text, {"__builtins__": {}, "sqrt": math.sqrt}))


def redone(steps: tuple[Step, ...]) -> int:
    """Redo every step that has numbers; return how many."""
    found = [step for step in steps if step.numbers]
    for step in found:
        assert by_hand(step) == pytest.approx(step.value, rel=2e-3), str(step)
    return len(found)


def wood(name: str, species: str = "hem-fir") -> tuple[AdjustedValues, Size]:
    size = read_size(name)
    return adjusted(design_values(species, "No. 2", size), size, Service()), size


@pytest.mark.parametrize(
    ("name", "case", "unbraced", "formula"),
    [
        # NDS 2018 Table 3.3.3
        ("2x10", "uniform", 48.0, "2.06 lu"),
        ("2x10", "uniform", 96.0, "1.63 lu + 3 d"),
        ("2x10", "overhang tip", 96.0, "1.44 lu + 3 d"),
        ("2x10", "unspecified", 140.0, "1.84 lu"),
    ],
)
def test_beam_stability(name: str, case: LoadCase, unbraced: float, formula: str) -> None:
    CL, steps = stability(*wood(name), unbraced, case)
    assert steps[0].formula == formula
    assert redone(steps) == 4
    assert 0 < CL < 1


def test_column_stability() -> None:
    capacity = post_capacity(*wood("6x6"), 120.0)
    assert redone(capacity.steps) >= 4
    assert any("c = 0.8" in step.words for step in capacity.steps)
    built = post_capacity(*wood("3-2x6"), 96.0, height_strong=96.0)
    assert any("Kf = 0.6" in step.words for step in built.steps)
    assert redone(built.steps) >= 4


def test_stringers() -> None:
    assert redone(stringer_stress(1.5, 5.42, 33.0, 6.875 / 11, 4.0, 1.4e6, 300.0).steps) == 11
    study = Study(down_to_ground(28.0, "2x12"))
    sums = [check for check in study.checks if check.rule.endswith("cut stringer")]
    assert len(sums) == 3
    for check in sums:
        assert redone(check.steps) >= 5
    sag = next(check for check in sums if check.rule.startswith("deflection"))
    assert "common practice" in str(sag.source)  # no limit for stringers is published


def test_the_ledgers_fastener_names_its_row() -> None:
    # IRC 2018 Table R507.9.1.3(1), 1/2 in lags through 1/2 in: 10 ft at 18 in, so 50 x 10/2 x 18/12 = 375 lb
    (step,) = ledger_capacity("1/2 lag").steps
    assert by_hand(step) == pytest.approx(step.value)
    assert re.search(r"joists up to \d+ ft", step.words)


@pytest.mark.parametrize(("name", "said"), [("2x10", True), ("2x4", False)])
def test_a_factor_that_a_threshold_sets_to_one_says_so(name: str, said: bool) -> None:
    # NDS Supplement 2018 Table 4A: hem-fir No. 2, Fb 850 psi; C_F 1.1 for 2x10 gives 935, 1.5 for 2x4 gives 1275;
    # C_M on Fb is 1 where Fb C_F is at most 1150
    allowed, _ = wood(name)
    assert ("C_M = 1 because Fb C_F" in allowed.steps["Fb"].words) is said
    assert ("C_M" in allowed.steps["Fb"].formula) is not said


@pytest.mark.parametrize("spacing", [12.0, 16.0, 24.0])
def test_overhang_of_joists(spacing: float) -> None:
    answer = joist_overhang("southern pine", "No. 2", "2x10", spacing)
    assert redone(answer.steps) == 8
    # AWC DCA6-2012 Table 2: southern pine 2x10 at 16 in, overhang 3-5
    assert spacing != 16.0 or round(answer.value) == 41
