"""A ledger that finds no edge on its wall: how far off the edge stands, how the joists run. Figures by geometry."""

from __future__ import annotations

import pytest

from deckplan.layout.ledger_words import joists_in_words
from deckplan.layout.supports import AT_WALL
from deckplan.plan.model import Platform
from deckplan.study import Study
from tests.decks import LEDGER, beam, make_plan, platform, rectangle

RULE = "ledger lies on its wall"
Line = list[tuple[float, float]]
WALL: Line = [(0.0, 0.0), (480.0, 0.0)]


def reasons(wall: Line, near: float = 0.0, units: str = "us", **joists: object) -> list[str]:
    deck = platform(
        "deck", rectangle(0, near, 192, 144), 36, LEDGER, beam(24 - near), beam(120 - near), joists=joists
    )
    plan = make_plan(deck, house={"wall": [{"name": "house", "line": wall, "ledger": True}]}, units=units)
    return [check.reason for check in Study(plan).checks if check.rule == RULE]


def test_an_edge_off_the_wall_is_told_how_far() -> None:
    assert reasons(WALL, 1.2) == [
        'platform "deck", support 1: the nearest edge that can carry one stands 1 3/16" off wall "house" '
        "(the joists run along y): move the outline to the wall"
    ]
    assert '40" off wall "house"' in reasons(WALL, 40.0)[0]
    assert '30.5 mm off wall "house"' in reasons(WALL, 1.2, "metric")[0]


@pytest.mark.parametrize(
    ("near", "said"), [(0.0, False), (AT_WALL, False), (AT_WALL + 0.01, True), (AT_WALL + 1, True)]
)
def test_an_edge_within_the_tolerance_of_the_wall_lies_on_it(near: float, said: bool) -> None:
    assert bool(reasons(WALL, near)) is said


def test_an_edge_on_the_wall_along_the_joists_is_told_to_turn_them() -> None:
    (said,) = reasons(WALL, direction="x")
    assert 'the edge on wall "house" lies at 0 degrees to the joists, which run along x' in said
    assert "30 degrees or more: turn the joists" in said
    (said,) = reasons(WALL, direction=20)
    assert "lies at 20 degrees to the joists, which run at 20 degrees to x" in said


@pytest.mark.parametrize(("degrees", "said"), [(29.0, True), (30.0, False), (31.0, False)])
def test_thirty_degrees_to_the_joists_carry_a_ledger(degrees: float, said: bool) -> None:
    assert bool(reasons(WALL, direction=degrees)) is said


def test_a_wall_that_no_edge_runs_beside_is_told_how_near_the_outline_comes() -> None:
    (said,) = reasons([(300.0, 0.0), (480.0, 0.0)])
    assert 'runs beside wall "house", and the outline comes no nearer to it than 108"' in said


def test_a_wall_a_little_askew_is_told_so() -> None:
    # 4 in over 40 ft: atan(4 / 480) = 0.48 degrees
    (said,) = reasons([(0.0, 0.0), (480.0, -4.0)])
    assert 'the nearest edge runs 0.48 degrees askew to wall "house"' in said


@pytest.mark.parametrize(
    ("direction", "said"),
    [("x", "along x"), ("y", "along y"), (0, "along x"), (90, "along y"), (180, "along x"),
     (45, "at 45 degrees to x"), (-30, "at 150 degrees to x")],
)  # fmt: skip
def test_joists_run_in_the_readers_words(direction: str | float, said: str) -> None:
    deck = platform("deck", rectangle(0, 0, 96, 96), 20, joists={"direction": direction})
    assert joists_in_words(Platform.model_validate(deck)) == said
