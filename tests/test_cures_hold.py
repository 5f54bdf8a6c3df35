"""What a FAIL tells is applied, as told, and the FAIL is gone: by geometry and statics, laid out anew."""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.checks.flight_room import LANDING
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import LEDGER, beam, make_plan, platform, rectangle

FOUNDED = {
    "wall": [{"name": "house", "line": [(0.0, 0.0), (480.0, 0.0)], "ledger": True, "footing_depth": 48.0}]
}
SITE = {"ground": [{"at": (0.0, 0.0), "elevation": 0.0}], "frost_depth": 30.0}
BY_HOUSE = "footing by the house wall"


def fails(study: Study, rule: str) -> list[Check]:
    return [check for check in study.checks if check.rule == rule and check.verdict is Verdict.FAIL]


# A flight's footing by the house: 5 ft from a wall it bears as deep as the wall's own (code text of some places)


def stairs(*along: tuple[float, float]) -> Study:
    deck = platform("d", rectangle(0, 0, 192, 144), 36, LEDGER, beam(132))
    flight = {"from": "d", "to": "ground", "along": along}
    return Study(make_plan(deck, house=FOUNDED, site=SITE, flight=[flight]))


def test_a_flights_footing_by_the_house_is_told_to_move_with_its_flight() -> None:
    (check,) = fails(stairs((0.0, 0.0), (0.0, 36.0)), BY_HOUSE)
    assert check.mark == "S1-F1"
    assert check.reason.endswith(": move S1 along its edge or let S1 go down from another edge")
    assert not fails(stairs((0.0, 96.0), (0.0, 132.0)), BY_HOUSE)
    assert not fails(stairs((48.0, 144.0), (84.0, 144.0)), BY_HOUSE)


def test_a_move_that_leads_nowhere_is_not_told() -> None:
    # a deck of 60 in keeps every foot beside its ends within 60 in of the wall: only the front is left
    deck = platform("d", rectangle(0, 0, 192, 60), 36, LEDGER, beam(48))
    flight = {"from": "d", "to": "ground", "along": ((0.0, 0.0), (0.0, 36.0))}
    (check,) = fails(Study(make_plan(deck, house=FOUNDED, site=SITE, flight=[flight])), BY_HOUSE)
    assert check.reason.endswith(": let S1 go down from another edge")
    front = {**flight, "along": ((48.0, 60.0), (84.0, 60.0))}
    assert not fails(Study(make_plan(deck, house=FOUNDED, site=SITE, flight=[front])), BY_HOUSE)


# A flight whose landing another platform narrows


def past(gap: float, to: str) -> Study:
    """A flight from 48 in towards a level at 20 in that lies `gap` in before its edge."""
    upper = platform("d", rectangle(0, 0, 192, 144), 48, LEDGER, beam(132))
    lower = platform("low", rectangle(0, 144 + gap, 192, 264 + gap), 20, beam(12), beam(108))
    flight = {"from": "d", "to": to, "along": ((48.0, 144.0), (96.0, 144.0))}
    return Study(make_plan(upper, lower, house=FOUNDED, site=SITE, flight=[flight]))


@pytest.mark.parametrize(("gap", "told"), [(33.0, True), (72.0, False)])
def test_a_flight_is_sent_to_a_level_only_where_it_would_land_there(gap: float, told: bool) -> None:
    # 28 in are 4 risers of 7 in: a run of 3 x 11 = 33 in; with 72 in between it comes down 39 in beside the level
    checks = [c for c in past(gap, "ground").checks if c.mark == "S1" and c.verdict is Verdict.FAIL]
    about = [check for check in checks if 'platform "low"' in check.reason]
    assert about
    assert all(('let the flight go to "low"' in check.reason) is told for check in about)
    below = [c for c in past(gap, "low").checks if c.mark == "S1" and c.rule == "landing depth below"]
    assert [check.verdict is Verdict.PASS for check in below] == [told]
    assert not fails(past(gap, "low"), LANDING)
