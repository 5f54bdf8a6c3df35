"""Frames of box steps on the ground: rims from pier to pier, joists from rim to rim, under one heavy step."""

from __future__ import annotations

import pytest

from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle


def checks(riser: float, lower: str = "ground") -> dict[str, Check]:
    """Two risers down, one box 105-1/2 in wide: less fascias and 4 in at each end its piers stand 48 in apart."""
    joists = {"direction": "y", "size": "2x12"}
    decks = [platform("deck", rectangle(0, 0, 160, 144), 2 * riser, beam(12), beam(132), joists=joists)]
    if lower != "ground":
        decks = [
            platform("deck", rectangle(0, 0, 160, 144), 30 + 2 * riser, beam(12), beam(132), joists=joists),
            platform("below", rectangle(0, 144, 160, 288), 30.0, beam(12), beam(132), joists=joists),
        ]
    flight = {"from": "deck", "to": lower, "along": ((20.0, 144.0), (125.5, 144.0)), "kind": "box"}
    return {c.rule: c for c in Study(make_plan(*decks, flight=[flight])).checks if " a box" in c.rule}


@pytest.mark.parametrize(("riser", "apart"), [(5.25, 48.0), (4.86, 48.0), (4.84, 32.0), (3.9, 24.0)])
def test_a_rim_from_pier_to_pier_by_hand(riser: float, apart: float) -> None:
    # 48 in apart, one heavy step in the middle: 300 x 48 / 4 = 3,600 lb in, and 10 psf on 5-1/2 in, 110 more. On 1-1/2
    # in of wood, a riser less 1 in of boards high: S = h^2 / 4; southern pine No. 2 2x6: 1,000 psi (NDS Supplement 2018
    # Table 4B): h = 3.852 in, riser 4.852. Lower ones get more piers: 32 in apart; from a 2x4, 1,100 psi, then 24.
    found = checks(riser)
    check = found["bending, rim of a box between piers"]
    moment = 300 * apart / 4 + 10 * 5.5 / 144 * apart**2 / 8
    assert check.demand == pytest.approx(moment / ((riser - 1) ** 2 / 4), rel=1e-3)
    assert check.verdict is Verdict.PASS
    assert "300 lb" in check.combination


def test_a_frame_too_thin_for_any_piers_fails() -> None:
    # 2.6 in risers leave 1.6 in: 300 x 19.2 / 4 on 0.64 in3 is 2,250 psi, over the 1,100 of a 2x4
    check = checks(2.6)["bending, rim of a box between piers"]
    assert check.verdict is Verdict.FAIL
    assert "more piers" in check.reason


def test_a_joist_of_a_box_by_hand() -> None:
    # 11 - 3 = 8 in clear: 300 x 8 / 4 = 600 lb in, and 10 psf on 12 in: 0.833 x 64 / 8 = 7; S = 4.25^2 / 4
    check = checks(5.25)["bending, joist of a box"]
    assert check.demand == pytest.approx(606.7 / (4.25**2 / 4), rel=1e-3)


def test_a_box_on_boards_lies_on_them_all_along() -> None:
    assert not checks(5.25, "below")
