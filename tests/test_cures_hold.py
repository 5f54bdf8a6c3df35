"""What a FAIL tells is applied, as told, and the FAIL is gone: by geometry and statics, laid out anew."""

from __future__ import annotations

from typing import Any

import pytest

from deckplan.checks.flight_room import LANDING
from deckplan.layout.faults import ON_TWO
from deckplan.layout.hung import RULE as HUNG
from deckplan.study import Study, reason_in
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


# Strength: what a check that only compares two figures is told to change


def deck(
    *lines: dict[str, Any], snow: float = 0.0, height: float = 40.0, post: str = "6x6", **joists: Any
) -> Study:
    """16 ft by 12 ft on a ledger and these beam lines."""
    level = platform("d", rectangle(0, 0, 192, 144), height, LEDGER, *lines, joists=joists)
    site = {**SITE, "snow_load": snow}
    return Study(make_plan(level, house=FOUNDED, site=site, materials={"post": post}))


@pytest.mark.parametrize(
    ("rule", "told", "failing", "cured"),
    [
        # statics: a joist hands on what lies within half its spacing, over half its span
        (
            "bearing",
            "closer joists or a beam line between",
            deck(beam(132), snow=100),
            [deck(beam(132), snow=100, spacing=12.0), deck(beam(72), beam(132), snow=100)],
        ),
        # mechanics: a sag goes with w L^4 / I, a moment with w L^2 / S
        (
            "deflection",
            "closer joists, deeper joists or a beam line between",
            deck(beam(132), size="2x6", spacing=24.0),
            [
                deck(beam(132), size="2x6", spacing=6.0),
                deck(beam(132), size="2x10", spacing=24.0),
                deck(beam(72), beam(132), size="2x6", spacing=24.0),
            ],
        ),
        (
            "bending in the span",
            "posts closer together or a deeper beam",
            deck(beam(132, build="2-2x8", posts=2), size="2x10"),
            [
                deck(beam(132, build="2-2x8", posts=5), size="2x10"),
                deck(beam(132, build="2-2x12", posts=3), size="2x10"),
            ],
        ),
        # NDS 2018 3.7.1.4: slenderness of a column is at most 50: 14 ft and more of 3.5 in are over it
        ("slenderness", "wider posts or a lower level", deck(beam(132), height=200.0, post="4x4"),
         [deck(beam(132), height=200.0), deck(beam(132), height=100.0, post="4x4")]),
        (
            "spacing of 1/2 lag fasteners by the table",
            "fasteners closer together, or a beam line between the house and the next",
            Study(make_plan(platform("d", rectangle(0, 0, 192, 144), 40, {**LEDGER, "spacing": 30.0}, beam(132)),
                            house=FOUNDED, site=SITE)),
            [
                deck(beam(132)),
                Study(make_plan(platform("d", rectangle(0, 0, 192, 144), 40, {**LEDGER, "spacing": 30.0}, beam(60),
                                         beam(132)), house=FOUNDED, site=SITE)),
            ],
        ),
    ],
)  # fmt: skip
def test_each_cure_of_a_strength_cures(rule: str, told: str, failing: Study, cured: list[Study]) -> None:
    found = fails(failing, rule)
    assert found
    assert {check.reason.rpartition(": ")[2] for check in found} == {told}
    assert [fails(study, rule) for study in cured] == [[] for _ in cured]


def test_a_cure_is_told_in_metric_too() -> None:
    study = deck(beam(132), snow=100)
    metric = Study(study.plan.model_copy(update={"units": "metric"}))
    (check,) = fails(metric, "bearing")
    assert reason_in(check, "metric").endswith(" kN allowed: closer joists or a beam line between")


def test_posts_that_stand_too_close_are_not_told_to_come_closer() -> None:
    # a lever: what one of two posts an inch apart holds down the other holds up
    study = deck(beam(132, posts=(12.0, 13.0, 180.0)))
    told = {check.reason.rpartition(": ")[2] for check in fails(study, "shear")}
    assert told == {"two of its bearings lie close to each other: set them farther apart".rpartition(": ")[2]}
    assert not fails(deck(beam(132, posts=(12.0, 96.0, 180.0))), "shear")


# Joists that hang on a neighbour's beam which stands back from the edge


def hung(line: dict[str, Any], elevation: float = 24.0, *more: dict[str, Any]) -> Study:
    """Two levels end to end, the one at 24 in on the house and a beam, joists of the other on that beam."""
    upper = platform("a", rectangle(0, 0, 192, 144), 24, LEDGER, line, joists={"size": "2x8"})
    support = more or ({"kind": "hung", "on": "a"},)
    lower = platform("b", rectangle(0, 144, 192, 240), elevation, *support, beam(84), joists={"size": "2x8"})
    return Study(make_plan(upper, lower, house=FOUNDED, site=SITE))


@pytest.mark.parametrize(
    ("elevation", "told", "style"),
    [
        # arithmetic: 2x8 are 7-1/4 in deep (PS 20); a drop beam lies under them, a flush one beside them
        (24.0, 'a flush beam of "a" at the edge, its face in line with it and 7 1/4" deep or more, would', "flush"),
        (22.0, 'a flush beam of "a" at the edge, its face in line with it and 9 1/4" deep or more, would', "flush"),
        (16.75, 'a drop beam of "a" at the edge, its face in line with it and 7 1/4" deep or more, would', "drop"),
        (19.0, 'the heights of "b" and "a" let no one beam at the edge take both: a beam line of "b" there', ""),
        (26.0, 'the heights of "b" and "a" let no one beam at the edge take both: a beam line of "b" there', ""),
    ],
)  # fmt: skip
def test_the_beam_told_at_the_edge_takes_the_hung_joists(elevation: float, told: str, style: str) -> None:
    (check,) = fails(hung(beam(120), elevation), HUNG)
    assert told in check.reason
    if style:
        # the face in line with the edge: half the 3 in of two plies back from it
        deep = "2-2x10" if "9 1/4" in told else "2-2x8"
        cured = hung(beam(142.5, style=style, build=deep), elevation)
    else:
        cured = hung(beam(120), elevation, beam(1.5))
    assert not fails(cured, HUNG)
    assert not fails(cured, ON_TWO)


# Joists that end short of a drop beam's middle

OCTAGON = [(48, 0), (120, 0), (168, 48), (168, 120), (120, 168), (48, 168), (0, 120), (0, 48)]
CORNERS = [((0, 48), (48, 0)), ((120, 0), (168, 48)), ((168, 120), (120, 168)), ((48, 168), (0, 120))]
OVER = "overhang within its share of the span"


def octagon(*offsets: float, corners: tuple[dict[str, Any], ...] = ()) -> Study:
    level = platform("oct", [(float(x), float(y)) for x, y in OCTAGON], 40, *map(beam, offsets), *corners)
    return Study(make_plan(level, site=SITE))


@pytest.mark.parametrize("last", [150.0, 144.0])
def test_a_move_that_would_be_taken_back_is_not_told(last: float) -> None:
    # geometry: a joist at a cut corner ends within an inch or two of the beam's middle; moved in until it bears, the
    # beam leaves the long joists more than a quarter of their span behind it (the rule's share), which asks it back
    (check,) = fails(octagon(18.0, 84.0, last), ON_TWO)
    assert "move A-B" not in check.reason
    assert "would no longer serve others; add a beam, flush or set back, along the edges from" in check.reason
    corners = tuple({"kind": "beam", "line": ends, "style": "flush"} for ends in CORNERS)
    assert not fails(octagon(18.0, 84.0, last, corners=corners), ON_TWO)
    # what is left of the shorter row says to move the same line out by 6 in: there nothing fails any more
    assert not [c for c in octagon(18.0, 84.0, 150.0, corners=corners).checks if c.verdict is Verdict.FAIL]


def test_a_move_that_holds_all_is_told_and_holds() -> None:
    # geometry: joists end at the rim, 1-1/2 in within the edge at 144 (PS 20): 1-1/2 in from a beam at 144
    (check,) = fails(deck(beam(144), size="2x10"), ON_TWO)
    assert check.reason.endswith('; move A-B1 in by 1 1/2": they end short of its middle')
    cured = deck(beam(142.5), size="2x10")
    assert not fails(cured, ON_TWO)
    assert not fails(cured, OVER)
