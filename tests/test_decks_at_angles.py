"""Whole decks with beams and ledgers at an angle to their joists: they stand, lose nothing, and turn as one."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from deckplan.layout.model import Kind
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import HOUSE, LEDGER, beam, make_plan, platform, rectangle
from tests.test_beams_at_angles import line

SQUARE = rectangle(0, 0, 144, 144)
CLIPPED = [(0, 0), (192, 0), (192, 96), (144, 144), (0, 144)]
OCTAGON = [(48, 0), (144, 0), (192, 48), (192, 120), (144, 168), (48, 168), (0, 120), (0, 48)]
CORNERS = [(0, 110, 58, 168), (134, 168, 192, 110), (0, 58, 58, 0), (134, 0, 192, 58)]
EDGES = [(0, 120, 48, 168), (144, 168, 192, 120), (0, 48, 48, 0), (144, 0, 192, 48)]


def on_ledger(way: float) -> Plan:
    deck = platform(
        "deck", SQUARE, 36, LEDGER,
        line((0, 144), (144, 144), style="flush"),
        line((0, 0), (0, 144), style="flush", posts=(30.0, 120.0)),
        line((144, 0), (144, 144), style="flush", posts=(30.0, 120.0)),
        joists={"direction": way, "spacing": 12.0},
    )  # fmt: skip
    return make_plan(deck, house=HOUSE)


def free(way: float, style: str) -> Plan:
    back = 0.0 if style == "flush" else 2.0
    deck = platform(
        "deck", SQUARE, 30,
        line((0, 144 - back), (144, 144 - back), style=style),
        line((0, back), (144, back), style=style),
        line((back, 0), (back, 144), style=style, posts=(69.75,)),
        line((144 - back, 0), (144 - back, 144), style=style, posts=(69.75,)),
        joists={"direction": way, "spacing": 12.0},
    )  # fmt: skip
    return make_plan(deck)


def clipped(back: float, style: str) -> Plan:
    other = beam(120.0) if style == "drop" else line((0, 144), (144, 144), style="flush")
    clip = line((144, 144 - back), (192, 96 - back), style=style)
    deck = platform("deck", CLIPPED, 36, LEDGER, clip, other, joists={"size": "2x10"})
    return make_plan(deck, house=HOUSE)


def octagon(style: str) -> Plan:
    if style == "flush":
        supports = [line((48, y), (144, y), style="flush") for y in (168, 0)]
        supports += [line((a, b), (c, d), style="flush") for a, b, c, d in EDGES]
    else:
        supports = [line((a, b), (c, d)) for a, b, c, d in CORNERS] + [beam(156.0), beam(12.0)]
    return make_plan(platform("deck", OCTAGON, 30, *supports))


DECKS: dict[str, Callable[[], Plan]] = {
    "on a ledger, joists at 30 degrees": lambda: on_ledger(30.0),
    "on a ledger, joists at 45 degrees": lambda: on_ledger(45.0),
    "free-standing, joists at 30 degrees, flush": lambda: free(30.0, "flush"),
    "free-standing, joists at 45 degrees, flush": lambda: free(45.0, "flush"),
    "free-standing, joists at 45 degrees, drop": lambda: free(45.0, "drop"),
    "a 4 ft corner clipped, a drop beam set back": lambda: clipped(12.0, "drop"),
    "a 4 ft corner clipped, a flush beam at it": lambda: clipped(0.0, "flush"),
    "an octagon on flush beams along its edges": lambda: octagon("flush"),
    "an octagon on drop beams set back": lambda: octagon("drop"),
}


@pytest.mark.parametrize("name", DECKS)
def test_these_decks_stand(name: str) -> None:
    study = Study(DECKS[name]())
    bad = [(c.mark, c.rule, c.reason) for c in study.checks if c.verdict in (Verdict.FAIL, Verdict.OUTSIDE)]
    assert bad == []
    loads = study.loads
    assert loads.lost.full == 0.0
    # what is put on: 10 + 40 psf at the least over the surface, by hand from the corners
    corners = study.plan.platforms[0].outline
    twice = sum(
        a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
    )  # the surveyor's formula
    assert loads.applied.live == pytest.approx(40.0 * abs(twice) / 2 / 144, abs=0.5)
    down = sum(force.full for force in (*loads.posts.values(), *loads.ledgers.values()))
    assert down == pytest.approx(loads.applied.full, abs=0.5)
    assert max(node.off for node in study.load_path.balance()) < 0.01


@pytest.mark.parametrize("name", [name for name in DECKS if "flush" in name or "ledger" in name])
def test_beams_along_the_edges_leave_no_scraps_of_rim(name: str) -> None:
    assert [rim.mark for rim in Study(DECKS[name]()).layout.of("deck", Kind.RIM)] == []


def turned_plan(plan: Plan, degrees: float) -> Plan:
    """Turn every point of a plan about the origin, and the directions of its joists with them."""
    cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def walk(value: Any, key: str) -> Any:
        if isinstance(value, dict):
            return {k: walk(v, k) for k, v in value.items()}
        if key == "posts":
            return value  # lengths along a beam
        if isinstance(value, (list, tuple)):
            if len(value) == 2 and all(isinstance(x, float) for x in value):
                x, y = value
                return (x * cosine - y * sine, x * sine + y * cosine)
            return [walk(each, key) for each in value]
        if key == "direction":
            return {"x": 0.0, "y": 90.0}.get(value, value) + degrees
        return value

    return Plan.model_validate(walk(plan.model_dump(by_alias=True), ""))


def with_a_flight(plan: Plan) -> Plan:
    """Return the plan with a stair at the left edge, and ground that falls away from the house."""
    data = plan.model_dump(by_alias=True)
    spots = ((0.0, 0.0, 0.0), (200.0, 0.0, -3.0), (0.0, 200.0, -9.0))
    data["site"]["ground"] = [{"at": (x, y), "elevation": z} for x, y, z in spots]
    stair = {"from": "deck", "to": "ground", "along": ((0.0, 50.0), (0.0, 90.0)), "kind": "stringer"}
    data["flight"] = [stair]
    return Plan.model_validate(data)


TURNED = [
    ("on a ledger, joists at 45 degrees", -44.0, 44.0),
    ("a 4 ft corner clipped, a drop beam set back", -89.0, 89.0),
    ("a 4 ft corner clipped, a flush beam at it", -89.0, 89.0),
]
"""Decks with the turns that leave their joists' lower ends lower ends: beyond, numbering starts from the other side."""


@pytest.mark.parametrize(("name", "low", "high"), TURNED)
@settings(max_examples=4, deadline=None, phases=(Phase.explicit, Phase.generate))
@given(share=st.floats(0.0, 1.0))
def test_turning_a_plan_with_its_house_changes_no_load_no_size_and_no_verdict(
    name: str, low: float, high: float, share: float
) -> None:
    plan = with_a_flight(DECKS[name]())
    study, other = Study(plan), Study(turned_plan(plan, low + (high - low) * share))
    assert other.verdict is study.verdict
    assert [(m.mark, m.size) for m in other.layout.members] == [
        (m.mark, m.size) for m in study.layout.members
    ]
    assert [round(m.length, 4) for m in other.layout.of("deck", Kind.JOIST)] == pytest.approx(
        [round(m.length, 4) for m in study.layout.of("deck", Kind.JOIST)], abs=1e-3
    )
    for mark, force in study.loads.posts.items():
        assert other.loads.posts[mark].full == pytest.approx(force.full, abs=0.01)
    for mark, force in study.loads.ledgers.items():
        assert other.loads.ledgers[mark].full == pytest.approx(force.full, abs=0.01)
    assert [(c.mark, c.rule, c.verdict) for c in other.checks] == [
        (c.mark, c.rule, c.verdict) for c in study.checks
    ]
    for one, two in zip(study.checks, other.checks, strict=True):
        assert two.demand == (None if one.demand is None else pytest.approx(one.demand, rel=1e-4, abs=1e-3))
