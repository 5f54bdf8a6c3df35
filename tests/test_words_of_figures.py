"""Figures in sentences: a bare ratio has no unit, everything else keeps its own (common practice)."""

from __future__ import annotations

import pytest

from deckplan.panels.html import amount, step
from deckplan.verdict import Source, Step, at_least, at_most, comparison, only_compares

SLENDER = Source("NDS 2018", "3.7.1.4: le/d at most 50", "from memory")


@pytest.mark.parametrize(
    ("there", "reason"),
    [(49.9, ""), (50.0, ""), (51.36, "slenderness: 51.36 is over the 50 allowed")],
)
def test_a_ratio_is_compared_without_a_unit(there: float, reason: str) -> None:
    check = at_most("A-P1", "slenderness", SLENDER, there, 50.0, "1")
    assert check.reason == reason
    assert only_compares(check) is bool(reason)


def test_what_has_a_unit_keeps_it() -> None:
    assert comparison("bending", 1200.0, 1000.0, "psi") == "bending: 1,200 psi is over the 1,000 psi allowed"
    assert (
        at_least("S1", "tread", SLENDER, 9.0, 10.0, "in").reason == "tread: 9 in is under the 10 in required"
    )
    assert comparison("share", 0.2, 0.5, "1", least=True) == "share: 0.2 is under the 0.5 required"


def test_a_step_ends_with_its_figure_where_it_has_no_unit() -> None:
    line = Step("le/d", "height over the thinner side", "", "282.5 / 5.5", 51.36, "1", SLENDER)
    assert "= 282.5 / 5.5 = 51.36 [NDS" in str(line)
    assert "<b>51.36</b>" in step(line)
    length = Step("d", "clear distance", "", "", 4.0, "in", SLENDER)
    assert "= 4 in [NDS" in str(length)
    assert (amount(51.36, "1", "us"), amount(4.0, "in", "us")) == ("51.36", "4 in")
