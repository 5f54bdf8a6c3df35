"""Words of a use that leave the rules, as whole words (common practice).

Water 62.4 lb/cu ft; dance floors and stands 100 psf, ASCE 7-16 Table 4.3-1 (from memory); wheels 2,000 lb, IRC Table
R301.5 note (from memory).
"""

from __future__ import annotations

import pytest

from deckplan.checks.heavy_uses import CROWD, KINDS, carried, check_heavy_uses, use_questions
from deckplan.plan.model import Platform
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import rectangle
from tests.test_scope import alone, notes, uses

WATER, VEHICLE, BUILDING, STANDS = (kind.rule for kind in KINDS)


def level(use: str, name: str = "deck") -> Platform:
    return Platform.model_validate(
        {"name": name, "use": use, "outline": rectangle(0, 0, 120, 120), "elevation": 20.0}
    )


@pytest.mark.parametrize(
    ("use", "rule"),
    [
        *((use, WATER) for use in ("pool", "swimming pool", "pond", "aquarium", "water tank", "rain barrel", "bathtub",
                                   "whirlpool", "cold plunge", "Swim Spa", "lounge and pond",
                                   "soaking bath", "plunge tank", "swimspa", "bathing", "soak", "ofuro", "tank",
                                   "Whirl-Pool", "koi pond", "outdoor bath", "swimming", "sun and soaking")),
        *((use, VEHICLE) for use in ("car", "parking", "carport", "boat", "two cars", "garage")),
        *((use, BUILDING) for use in ("sauna", "greenhouse", "shed", "pool house", "dining and sauna")),
        *((use, STANDS) for use in ("stone kitchen", "pizza oven", "brick grill", "piano", "log store", "fireplace")),
    ],
)  # fmt: skip
def test_heavy_things_are_outside_the_rules(use: str, rule: str) -> None:
    checks = {check.rule: check for check in check_heavy_uses("deck", level(use), 40.0)}
    assert checks[rule].verdict is Verdict.OUTSIDE
    assert '"deck" carries' in checks[rule].reason


@pytest.mark.parametrize(
    "use",
    ["bathroom door", "bath door", "birdbath", "bird bath", "carpool", "sun-bathing", "soak up the sun", "propane tank",
     "drying after swimming", "by the soaking bath", "bathing suits", "bath mat", "tankard", "pool chairs",
     "party wall", "party lights", "third party", "counterparty", "stagecoach", "departing guests",
     "overlooking the dance floor", "lounge by the pool", "poolside", "pool table", "pond view", "next to the old pond",
     "no shed", "carpet", "shedding oak", "sunbathing", "postcards", "stonecrop", "vantage point", "backstage",
     "watching boats", "sun", ""],
)  # fmt: skip
def test_what_stands_elsewhere_or_is_another_word_asks_nothing(use: str) -> None:
    assert not check_heavy_uses("deck", level(use), 40.0)


def test_what_a_level_lies_by_is_asked_about() -> None:
    assert use_questions(level("lounge by the pool")) == [
        '"deck": does it carry a pool? Say so in its use: that lies outside the rules'
    ]
    assert not use_questions(level("pool"))
    assert not use_questions(level("dining"))
    assert '"boat deck": does it carry a boat?' in "".join(use_questions(level("sun", "boat deck")))
    assert "a hammock pulls at posts" in notes(alone(use="hammock"))


def test_so_much_water_weighs_what_a_deck_is_for() -> None:
    (check,) = check_heavy_uses("deck", level("pond"), 40.0)
    # 40 psf / 62.4 lb per cu ft = 0.641 ft = 7.7 in
    assert "40 psf is 7.7 in of water" in check.reason


@pytest.mark.parametrize(("live", "outside"), [(99.0, True), (100.0, False), (101.0, False)])
def test_a_dance_floor_wants_100_psf(live: float, outside: bool) -> None:
    check = uses(alone(use="dance floor", site={"live_load": live}))["crowd on the deck"]
    assert check.verdict is (Verdict.OUTSIDE if outside else Verdict.PASS)
    assert (check.demand, check.capacity) == (100.0, live)
    assert carried(CROWD, "stage") == "stage"


@pytest.mark.parametrize(
    "use",
    ["party", "parties", "party deck", "dance", "assembly", "wedding", "Weddings and sun", "events", "crowd"],
)
def test_a_crowd_by_any_name_wants_100_psf(use: str) -> None:
    (check,) = check_heavy_uses("deck", level(use), 40.0)
    assert (check.rule, check.verdict) == ("crowd on the deck", Verdict.OUTSIDE)
    (check,) = check_heavy_uses("deck", level(use), 100.0)
    assert check.verdict is Verdict.PASS


def test_a_soaking_tub_is_outside_once() -> None:
    study = alone(use="soaking tub")
    assert [c.rule for c in study.checks if c.verdict is Verdict.OUTSIDE] == ["tub on the deck"]


def test_what_is_done_in_water_reads_without_an_article() -> None:
    (check,) = check_heavy_uses("deck", level("bathing"), 40.0)
    assert '"deck" carries bathing: 40 psf is 7.7 in of water' in check.reason
    (check,) = check_heavy_uses("deck", level("party"), 40.0)
    assert '"deck" is for a party: people' in check.reason


@pytest.mark.parametrize(
    ("use", "verdict"),
    [("brazier", Verdict.OUTSIDE), ("chiminea", Verdict.OUTSIDE), ("wood stove", Verdict.FAIL),
     ("woodstove", Verdict.FAIL), ("pizza oven", Verdict.OUTSIDE), ("gas pizza oven", Verdict.NOT_APPLICABLE)],
)  # fmt: skip
def test_what_burns_is_a_fire(use: str, verdict: Verdict) -> None:
    assert uses(alone(use=use))["fire on a combustible deck"].verdict is verdict


@pytest.mark.parametrize("use", ["firewood", "fireflies"])
def test_firewood_is_no_fire(use: str) -> None:
    assert "fire on a combustible deck" not in uses(alone(use=use))


def test_a_plan_with_a_pool_is_outside() -> None:
    study: Study = alone(use="pool")
    assert study.verdict is Verdict.OUTSIDE
    assert alone(use="lounge").verdict is Verdict.PASS
