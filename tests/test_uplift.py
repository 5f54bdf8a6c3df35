"""What lifts members off their bearings, and what holds them down; one load at an overhang's tip."""

from __future__ import annotations

import math

import pytest

from deckplan.checks.footings import FootingDesign, design_footing
from deckplan.checks.tip_loads import AT_TIP, LEANING, Tip, lift_per_pound
from deckplan.checks.uplift import HELD, RULE, check_uplift
from deckplan.engineering.statics import analyse_beam
from deckplan.layout.model import Layout, Pad
from deckplan.loads.model import Force, Loads
from deckplan.plan.model import Plan
from deckplan.rules import load_profile
from deckplan.study import Study
from deckplan.verdict import Check, Verdict
from tests.decks import beam, make_plan, platform, rectangle

PROFILE = load_profile("irc-2021")
PIER = 0.6 * 150 * math.pi / 4 * 3.5
"""0.6 of 150 lb/cu ft (AWC DCA6 Table 4 note 2; ASCE 7-16 2.4.1) of a pier 12 in across and 42 in deep [lb]."""


def lifted(pull: float) -> Force:
    """A force of 100 lb dead of which live load lifts so much that `pull` is left over 0.6 D."""
    return Force(dead=100.0, least=100.0 - 60.0 - pull)


@pytest.mark.parametrize(
    ("pull", "verdict"),
    [(PIER - 0.5, Verdict.PASS), (PIER, Verdict.PASS), (PIER + 0.5, Verdict.FAIL)],
)
def test_a_pier_holds_down_six_tenths_of_its_weight(pull: float, verdict: Verdict) -> None:
    loads = Loads({}, {}, (), {"A-P1": lifted(pull)}, {}, Force(), Force(), Force())
    footing = FootingDesign("A-F1", "A-P1", (0.0, 0.0), 12.0, 6.0, 0.0, -42.0, 0.0, 0.0)
    (check,) = check_uplift(Plan(), PROFILE, Layout((), (), (), ()), loads, (footing,))
    assert (check.rule, check.mark, check.verdict) == (HELD, "A-F1", verdict)
    assert check.demand == pytest.approx(pull)
    assert check.capacity == pytest.approx(PIER)
    assert check.reason.startswith("required:") is (verdict is Verdict.PASS)


@pytest.mark.parametrize(
    ("pull", "diameter"), [(0.0, 8.0), (70.0, 8.0), (200.0, 11.0), (PIER, 12.0), (PIER + 1, 13.0)]
)
def test_a_footing_is_made_as_heavy_as_what_lifts_its_post(pull: float, diameter: float) -> None:
    # By hand: 0.6 x 150 x 3.5 x pi/4 D^2 / 144 = 1.718 D^2: 8 in 110 lb, 10 in 171.8, 11 in 207.9, 12 in 247.4
    pad = Pad("A-F1", (0.0, 0.0), 0.0, -42.0)
    footing, _ = design_footing(Plan(), PROFILE, pad, "A-P1", 5.5, lifted(pull))
    assert footing.diameter == diameter


def deck(offset: float, elevation: float = 28.0) -> Plan:
    """160 x 150 in on a ledger and one beam, 2x10 joists at 16 in under 1 in boards."""
    house = {"wall": [{"name": "house", "line": [(-60.0, 0.0), (240.0, 0.0)], "ledger": True}]}
    joists = {"direction": "y", "size": "2x10", "start": 0.0}
    only = platform(
        "deck", rectangle(0, 0, 160, 150), elevation, {"kind": "ledger", "wall": "house"}, beam(offset), joists=joists
    )  # fmt: skip
    return make_plan(only, house=house)


def of(study: Study, rule: str) -> dict[str, Check]:
    return {check.mark: check for check in study.checks if check.rule == rule}


def test_a_person_on_the_tip_by_hand() -> None:
    # 2x10 southern pine No. 2 at 16 in, ledger at 1-1/2 in, beam at 120, tip at 150 - 1-1/2: a = 28-1/2 in; dead 10 psf
    # x 16 / 144 = 1.111 lb/in, over the rim as well: 1.111 x 30^2 / 2 = 500 less a hair; 220 x 28.5 = 6,270 lb in.
    # M' = 800 x 1.15 x 21.39 = 19,679 lb in (NDS Supplement 2018 Table 4B).
    plan = deck(120)
    study = Study(plan)
    check = of(study, AT_TIP)["A-J3"]
    assert check.demand == pytest.approx(6270 + 500, abs=3)
    assert check.capacity == pytest.approx(800 * 1.15 * 21.390625)
    # the other end: 28.5 / 118.5 of 220 lb lifts it; 0.6 of what dead load leaves on the ledger holds it
    dead = 10 * 16 / 144 * (118.5**2 - 30**2) / 2 / 118.5
    (tie,) = [c for c in study.checks if c.rule == RULE and "A-L1" in c.reason]
    edge = of(study, AT_TIP)["A-J1"]
    assert edge.demand is not None
    assert tie.demand is not None
    assert tie.mark == "A-J1"  # the edge joist carries half the surface, so that less holds it down
    assert tie.demand > 220 * 28.5 / 118.5 - 0.6 * dead
    assert "a person" in tie.combination


def test_no_overhang_no_tip() -> None:
    study = Study(deck(149.25))
    assert not of(study, AT_TIP)
    assert not [c for c in study.checks if c.rule == RULE and "joist" in c.reason]


@pytest.mark.parametrize("spans", [(96.0,), (96.0, 120.0), (84.0, 100.0, 90.0)])
def test_a_pound_at_the_tip_lifts_what_statics_says(spans: tuple[float, ...]) -> None:
    """Moments about the support that is lifted next to the last: exact for one span, by equilibrium for all."""
    places = [0.0]
    for span in spans:
        places.append(places[-1] + span)
    beam = analyse_beam(places[-1] + 24.0, places)
    lifts = lift_per_pound(beam, Tip(False, 24.0, len(spans)))
    assert lifts[places[-1]] == 0.0
    if len(spans) == 1:
        assert lifts[0.0] == pytest.approx(24.0 / 96.0)
    else:
        assert lifts[places[-2]] > 24.0 / spans[-1]  # a continuous beam turns harder about its last span


def test_a_lean_on_the_guard_turns_the_joist_it_stands_against() -> None:
    # 200 lb (IRC Table R301.5) 36 in over 1 in boards, 2x10: 36 + 1 + 4.625 = 41-5/8 in: 8,325 lb in and the dead load;
    # M' = 800 x 1.6 x 21.39 = 27,380 lb in: minutes (NDS 2018 Table 2.3.2), no other joist shares it
    study = Study(deck(120, 48.0))
    checks = of(study, LEANING)
    assert checks
    for mark, check in checks.items():
        assert mark in {post.against for post in study.layout.guard_posts}
        assert check.demand is not None
        assert 8325 < check.demand < 8325 + 600
        assert check.capacity == pytest.approx(800 * 1.6 * 21.390625)


def test_what_lifts_joists_lifts_the_posts_below() -> None:
    """Two spans of 6 ft under 40 psf, one of them loaded: the far end is lifted by w L / 16 (AWC Design Aid 6).

    Along a beam of 8 ft on posts under its ends: 40 x 8 x 6 / 16 = 120 lb on the two together, and no other live load
    takes anything off them.
    """
    lines = [beam(at, posts=(0.0, 96.0), build="3-2x10") for at in (12, 84, 156)]
    study = Study(make_plan(platform("deck", rectangle(0, 0, 96, 168), 40, *lines, joists={"size": "2x8"})))
    for marks in (("A-P1", "A-P2"), ("A-P5", "A-P6")):
        forces = [study.loads.posts[mark] for mark in marks]
        assert sum(force.dead - force.least for force in forces) == pytest.approx(120, abs=0.5)


@pytest.mark.parametrize(("frost", "pull"), [(12.0, 0.0), (12.0, 150.0), (30.0, 0.0), (42.0, 400.0)])
def test_a_pad_made_wider_is_made_thicker_too(frost: float, pull: float) -> None:
    """A footing projects beyond its post no farther than it is thick: IRC R403.1.1 (from memory)."""
    pad = Pad("A-F1", (0.0, 0.0), 0.0, -frost)
    for dead in range(300, 4000, 100):
        force = Force(dead=float(dead), least=0.4 * dead - pull)
        footing, _ = design_footing(Plan(), PROFILE, pad, "A-P1", 5.5, force)
        assert footing.thickness >= (footing.diameter - 5.5) / 2
        assert footing.top - footing.bottom >= footing.thickness


def test_a_post_that_is_only_lifted_has_a_footing_that_holds_it() -> None:
    pad = Pad("A-F1", (0.0, 0.0), 0.0, -30.0)
    footing, _ = design_footing(Plan(), PROFILE, pad, "A-P1", 5.5, Force(dead=-200.0, least=-900.0))
    # by hand, dead load lifts too and counts whole: 0.6 x 150 x 30/12 x pi/4 D^2 / 144 = 1.227 D^2 holds 900 lb from
    # 28 in on
    assert footing.diameter == 28.0


def test_a_pull_on_an_overhang_presses_the_other_post_down() -> None:
    """Joists on beams at 5 and 7 ft of 8 ft: 40 psf x 8 x 8 ft = 2,560 lb at 4 ft lift the second beam by 1,280 lb.

    At its middle, x = 48 in, beyond posts at 10 and 40 in: 8/30 of it, 341 lb, presses the first post down.
    """
    long = platform(
        "deck", rectangle(0, 0, 96, 96), 40, beam(60, posts=(8.0, 88.0)), beam(84, posts=(10.0, 40.0)),
        joists={"size": "2x10"},
    )  # fmt: skip
    study = Study(make_plan(long))
    (first,) = (p.mark for p in study.layout.posts if p.at == pytest.approx((10.0, 84.0)))
    force = study.loads.posts[first]
    assert force.live == pytest.approx(341.3, abs=0.1)
    assert force.live_most >= force.live - 1e-9
    assert force.governing[0] >= force.dead + force.live - 1e-9
