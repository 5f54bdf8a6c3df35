"""A short span beside a long one lifts its beam: what live load elsewhere pulls up bends and shears it as a press does.

Statics of two spans under a line load on one of them: M = -w L2^3 / (8 (L1 + L2)), R1 = M / L1 (AWC Design Aid 6).
"""

from __future__ import annotations

import pytest

from deckplan.checks.uplift import uplift_step
from deckplan.loads.model import Force
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import beam, make_plan, platform, rectangle

FIRST, SECOND, SPACING = 36.0, 138.0, 16.0


def short_and_long(build: str) -> Study:
    """Joists 2x10 over beams at 3 in, 3'-3" and 14'-9"; the first beam of that build on two posts."""
    lines = [
        beam(3.0, build=build, posts=2),
        beam(39.0, build="3-2x10", posts=3),
        beam(177.0, build="3-2x10", posts=3),
    ]
    joists = {"direction": "y", "size": "2x10", "spacing": SPACING}
    return Study(make_plan(platform("deck", rectangle(0, 0, 144, 180), 60.0, *lines, joists=joists)))


def pull_per_inch(live: float, dead: float) -> float:
    """What a joist's end on the first beam pulls up with [lb/in along the beam], by hand; loads in psf."""
    w, d = live * SPACING / 144, dead * SPACING / 144
    lifting = w * SECOND**3 / (8 * FIRST * (FIRST + SECOND))
    resting = d * FIRST / 2 - d * (FIRST**3 + SECOND**3) / (8 * FIRST * (FIRST + SECOND))
    return (lifting - resting) / SPACING


def test_a_beam_is_bent_upwards_by_what_lifts_its_joists() -> None:
    study = short_and_long("2-2x10")
    first = study.layout.by_mark["A-B1"]
    a, b = study.loads.demands[first.mark].analysis.supports
    dead = study.loads.areas["deck"].dead
    moment = pull_per_inch(40.0, dead) * (b - a) ** 2 / 8
    found = -study.loads.demands[first.mark].analysis.moment_min.value
    assert found == pytest.approx(
        moment, rel=0.06
    )  # joists at 16 in and 3 in overhangs are no even line load
    check = next(c for c in study.checks if c.mark == first.mark and c.rule == "bending over a support")
    assert check.demand == pytest.approx(found)
    assert check.steps[-1].value > 0
    assert any("instead of those" in step.words for step in check.steps)


def test_a_beam_too_weak_for_the_lift_fails_and_auto_takes_a_stronger_one() -> None:
    weak = short_and_long("2-2x6")
    assert [c for c in weak.checks if c.mark == "A-B1" and "bending" in c.rule and c.verdict is Verdict.FAIL]
    sized = short_and_long("auto")
    held = [c for c in sized.checks if c.mark == "A-B1" and c.rule in ("bending over a support", "shear")]
    assert held
    assert all(c.verdict is Verdict.PASS for c in held)


@pytest.mark.parametrize(("dead", "pull"), [(-114.0, 704.0), (0.0, 590.0), (100.0, 530.0), (2000.0, 0.0)])
def test_dead_load_that_lifts_counts_whole(dead: float, pull: float) -> None:
    """ASCE 7-16 2.4.1 (from memory): 0.6 D beside a lift, and D + L where dead load lifts as well."""
    force = Force(dead=dead, least=dead - 590.0)
    assert force.uplift == pytest.approx(pull)
    step = uplift_step("live load where it lifts", 590.0, dead, pull)
    assert ("0.6 D" in step.formula) is (dead > 0)
