"""Open sides of flights: IRC R312.1.1, over 30 in at any point within 36 in horizontally of an open side."""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.layout.flight_sides import OPEN_SIDE
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle


def stairs(elevation: float, *others: dict[str, Any], **more: Any) -> Plan:
    """Stairs of 11 in treads, 4 ft wide, from the edge y = 144 of a deck, x from 36 to 84."""
    deck = platform(
        "deck", rectangle(0, 0, 120, 144), elevation, beam(12), beam(130), joists={"size": "2x12"}
    )
    flight = {"from": "deck", "to": "ground", "along": ((36.0, 144.0), (84.0, 144.0)), "kind": "stringer"}
    return make_plan(deck, *others, flight=[flight], **more)


def side_of(plan: Plan) -> Check:
    (check,) = [check for check in Study(plan).checks if check.rule == OPEN_SIDE]
    return check


def test_level_ground_by_hand() -> None:
    # 35 in: 5 risers of 7, the highest tread at 28: under 30. 37-1/2 in: 5 of 7-1/2, it stands at 30; 37.6: at 30.08.
    low = side_of(stairs(35.0))
    assert low.demand == pytest.approx(28.0)
    assert low.capacity == 30.0
    assert (low.verdict, low.reason) == (Verdict.PASS, "")
    high = side_of(stairs(37.6))
    assert high.verdict is Verdict.PASS
    assert high.reason.startswith("required: ")
    assert high.steps[0].value == pytest.approx(30.08)
    assert any("guard" in note.text and "open sides" in note.text for note in Study(stairs(37.6)).notes)
    assert side_of(stairs(37.5)).reason == ""  # just at the limit


def slope_beside(far: float) -> Plan:
    """Level under the stairs; from x = 100 on, 16 in aside, the ground falls to -12 in at `far`, then is level."""
    spots = [
        (x, y, z)
        for y in (-200.0, 400.0)
        for x, z in ((-400.0, 0.0), (100.0, 0.0), (far, -12.0), (600.0, -12.0))
    ]
    return stairs(35.0, site={"ground": [{"at": (x, y), "elevation": z} for x, y, z in spots]})


def test_ground_that_falls_away_within_the_look_out_counts() -> None:
    # Beside the highest tread, straight down, lies 0: 28 in. The look-out reaches to x = 84 + 36 = 120. Falling from
    # 100 to 118 it is at -12 there: 28 + 12 = 40. Falling from 100 to 160 it is 12 x 20 / 60 = 4 in down at 120: 32.
    assert side_of(slope_beside(118.0)).steps[0].value == pytest.approx(40.0, abs=0.05)
    assert side_of(slope_beside(160.0)).steps[0].value == pytest.approx(32.0, abs=0.05)
    assert "required" in side_of(slope_beside(160.0)).reason


def test_beyond_the_look_out_nothing_counts() -> None:
    # Falling from 100 to 400: 12 x 20 / 300 = 0.8 in down at 120: 28.8 in, not over 30
    check = side_of(slope_beside(400.0))
    assert check.demand == pytest.approx(28.8, abs=0.05)
    assert check.reason == ""


def test_a_platform_beside_the_treads_closes_that_side() -> None:
    # 42 in: 6 risers of 7, treads at 35, 28, 21, ... Decks at 35 in on both sides close all treads from 35 down to 23;
    # the tread at 21 lies more than a foot under them: a person can fall past, to the ground 21 in down.
    sides = [rectangle(-60, 144, 36, 220), rectangle(84, 144, 180, 220)]
    others = [
        platform(name, outline, 35.0, beam(4, style="flush"), beam(60, style="flush"))
        for name, outline in zip(("left", "right"), sides, strict=True)
    ]
    assert "required" in side_of(stairs(42.0)).reason
    closed = side_of(stairs(42.0, *others))
    assert closed.reason == ""
    assert closed.demand == pytest.approx(21.0)


def test_words_are_in_the_plans_units() -> None:
    assert " mm" in side_of(stairs(37.6, units="metric")).reason
    assert '"' not in side_of(stairs(37.6, units="metric")).reason
