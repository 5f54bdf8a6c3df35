"""How far the tips of overhangs sink under live load alone, and snow on stairs."""

from __future__ import annotations

import pytest

from deckplan.checks.bending_members import TIP_RULE
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import HOUSE, LEDGER, beam, make_plan, platform, rectangle


def deck(overhang: float, build: str = "2-2x8") -> Study:
    """8 ft of joists on two beams that span 120 in and reach `overhang` in beyond the first post."""
    wide = overhang + 120.0 + 2.75
    posts = (overhang, overhang + 120.0)
    lines = [beam(at, build=build, posts=posts) for at in (1.5, 94.5)]
    only = platform(
        "deck", rectangle(0, 0, wide, 96), 36.0, *lines, joists={"direction": "y", "size": "2x10"}
    )
    return Study(make_plan(only))


def tip_of(study: Study, mark: str) -> Check:
    (check,) = [check for check in study.checks if check.rule == TIP_RULE and check.mark == mark]
    return check


def test_a_beams_tip_by_the_design_aid() -> None:
    # Beam overhanging one support, uniform load on the overhang (AWC Design Aid 6): D = w a^3 (4 L + 3 a) / (24 E I).
    # 96 in of joists, half on each beam, 40 psf: 40 x 48 / 144 = 13.33 lb/in, in points at the joists; a 30, L 120;
    # 2-2x8: I 95.27 in4, E 0.9 x 1.4e6 (NDS Supplement 2018 Tables 1B, 4B). Allowed: 2 a / 360 (IRC R301.7 note b).
    check = tip_of(deck(30.0), "A-B1")
    evenly = 40 * 48 / 144 * 30**3 * (4 * 120 + 3 * 30) / (24 * 1.26e6 * 95.27)
    assert check.demand == pytest.approx(
        evenly, rel=0.12
    )  # the joists are points, the last one at the very tip
    assert check.capacity == pytest.approx(2 * 30 / 360)
    assert check.verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("build", "verdict"), [("2-2x8", Verdict.PASS), ("3-2x6", Verdict.PASS), ("2-2x6", Verdict.FAIL)]
)
def test_a_tip_that_sinks_too_far(build: str, verdict: Verdict) -> None:
    # the sag goes with 1 / I: 95.27, 62.39 and 41.59 in4: 0.074 in, 0.113, 0.170, of 0.167 allowed
    assert tip_of(deck(30.0, build), "A-B1").verdict is verdict


def test_an_overhang_no_longer_than_its_seat_is_not_asked() -> None:
    assert not [check for check in deck(2.75).checks if check.rule == TIP_RULE and "B" in check.mark]


def stair(snow: float) -> Study:
    only = platform("deck", rectangle(0, 0, 120, 144), 60.0, beam(12), beam(132), joists={"size": "2x12"})
    flight = {"from": "deck", "to": "ground", "along": ((36.0, 144.0), (84.0, 144.0)), "kind": "stringer"}
    site = {"ground": [{"at": (0.0, 0.0), "elevation": 0.0}], "snow_load": snow}
    return Study(make_plan(only, flight=[flight], site=site))


@pytest.mark.parametrize(
    ("snow", "psf", "name"),
    [(0.0, 40.0, "L"), (10.0, 40.0, "L"), (20.0, 45.0, "0.75 L + 0.75 S"), (200.0, 200.0, "S")],
)
def test_snow_lies_on_stairs_too(snow: float, psf: float, name: str) -> None:
    # ASCE 7-16 2.4.1 (from memory): L, S, or 0.75 of each: 40, 20 and 45 psf; stair load 40 psf by IRC Table R301.5
    study = stair(snow)
    check = next(c for c in study.checks if c.rule.startswith("deflection, ") and c.mark == "S1-S1")
    apart = 46.5 / 4  # five stringers
    assert check.steps[0].value == pytest.approx(psf * apart / 144)
    assert check.combination == name


def test_snow_on_a_stair_goes_down_half_each_way() -> None:
    study = stair(30.0)
    rise = study.levels.flights[0]
    area = rise.width * rise.run / 144
    assert study.loads.ground.snow == pytest.approx(30 * area / 2)
    on_deck = 30 * 120 * 144 / 144 + 30 * area / 2
    assert sum(force.snow for force in study.loads.posts.values()) == pytest.approx(on_deck)
    assert study.loads.applied.snow == pytest.approx(30 * 120 + 30 * area)


def test_a_pier_under_a_stair_carries_one_heavy_step() -> None:
    # 4 ft x 8 treads of 11 in: 29.3 sq ft, half of it on two piers: 7.33 at 40 psf 293 lb, under the 300 (IRC R301.5)
    study = stair(0.0)
    footing = next(f for f in study.footings if f.mark == "S1-F1")
    share = study.levels.flights[0].run * 48 / 144 / 4
    assert footing.design == pytest.approx(10 * share + max(300.0, 40 * share))


def joists_past(offsets: tuple[float, float], depth: float = 144.0) -> Check:
    only = platform("deck", rectangle(0, 0, 192, depth), 30.0, LEDGER, *map(beam, offsets))
    study = Study(make_plan(only, house=HOUSE))
    rule = "overhang within its share of the span"
    (check,) = [c for c in study.checks if c.rule == rule and c.mark == "A-J1"]
    return check


def test_a_joist_that_reaches_too_far_says_so_by_what_was_drawn_and_what_to_do() -> None:
    # IRC R507.6 (two published copies): a quarter of the span. By hand: joists end at the rim, 1-1/2 in short of 144:
    # 16-1/2 in past 126, of 30 behind: 7-1/2 are allowed, 9 too much. Moved out by 9 / 1-1/4 = 7.2 in, 7-1/4 by a tape.
    check = joists_past((96.0, 126.0))
    assert (check.verdict, check.demand, check.capacity) == (Verdict.FAIL, 16.5, 7.5)
    assert 'A-J1 reaches 16 1/2" past A-B2, more than 0.25 of the 2\'-6" behind it' in check.reason
    assert check.reason.endswith(
        'move A-B2 out by 7 1/4" along the joists, or end the joists there 9" sooner'
    )


def test_the_cures_of_a_joist_that_reaches_too_far_cure_it_and_no_less_does() -> None:
    assert joists_past((96.0, 126.0 + 7.25)).verdict is Verdict.PASS
    assert joists_past((96.0, 126.0 + 7.0)).verdict is Verdict.FAIL
    assert joists_past((96.0, 126.0), 144.0 - 9.0).verdict is Verdict.PASS
    assert joists_past((96.0, 126.0), 144.0 - 8.75).verdict is Verdict.FAIL
