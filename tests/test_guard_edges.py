"""Edge joists under a lean on the guard, 200 lb at the rail (IRC Table R301.5), turned by the blocking behind it."""

from __future__ import annotations

import pytest

from deckplan.checks.guard_edges import RULE
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle


def edge(size: str = "2x10", load: float = 200.0) -> Check:
    """The edge joist at x = 0 of a deck on a ledger, 147 in long on a beam 145-1/2 in out, joists at 16 in."""
    house = {"wall": [{"name": "house", "line": [(-60.0, 0.0), (240.0, 0.0)], "ledger": True}]}
    joists = {"direction": "y", "size": size, "start": 0.0}
    only = platform(
        "deck", rectangle(0, 0, 160, 150), 48.0, {"kind": "ledger", "wall": "house"}, beam(147), joists=joists
    )  # fmt: skip
    study = Study(make_plan(only, house=house))
    study.__dict__["profile"] = study.profile.with_values(guard_load=load)
    (check,) = [check for check in study.checks if check.rule == RULE and check.mark == "A-J1"]
    return check


def test_the_pair_of_forces_by_hand() -> None:
    # e = 36 + 1 + 9.25 / 2 = 41.625 in; the next joist stands 15-1/4 in off: V = 200 x 41.625 / 15.25 = 545.9 lb, at
    # 73-1/2 of 145-1/2 in: 545.9 x 73.5 x 72 / 145.5 = 19,855; dead 10 psf x 8.375 in: 0.5816 x 73.5 x 72 / 2 = 1,539.
    # M' = 800 x 1.6 x 21.39 = 27,380 lb in: minutes, one joist alone (NDS Supplement 2018 Table 4B, NDS Table 2.3.2).
    check = edge()
    assert check.demand == pytest.approx(19855 + 1539, abs=3)
    assert check.capacity == pytest.approx(800 * 1.6 * 21.390625)
    assert (check.verdict, check.reason) == (Verdict.PASS, "")


@pytest.mark.parametrize(
    ("size", "load", "verdict", "bays"),
    [
        ("2x10", 260.0, Verdict.PASS, 0),  # (27,380 - 1,539) / 19,855 x 200 = 260.3 lb
        ("2x10", 261.0, Verdict.PASS, 2),
        (
            "2x8",
            200.0,
            Verdict.PASS,
            2,
        ),  # e 40-5/8: 19,378 + 1,539 over 925 x 1.6 x 13.14 = 19,448; over 31-1/4 in 9,457
        ("2x8", 1000.0, Verdict.FAIL, 0),
    ],
)
def test_blocking_runs_on_where_one_bay_turns_too_hard(
    size: str, load: float, verdict: Verdict, bays: int
) -> None:
    check = edge(size, load)
    assert check.verdict is verdict
    assert (f"runs on in line over {bays} bays" in check.reason) is bool(bays)
    assert ("deeper joist" in check.reason) is (verdict is Verdict.FAIL)


def test_a_deck_without_guards_is_not_asked() -> None:
    low = platform("deck", rectangle(0, 0, 160, 150), 24.0, beam(12), beam(138))
    assert not [check for check in Study(make_plan(low)).checks if check.rule == RULE]
