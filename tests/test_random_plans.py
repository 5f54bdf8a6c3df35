"""Random plans: outlines with 4 to 12 corners, 1 to 6 platforms, every kind of support, slopes. Nothing breaks.

Some platforms lie over one before them, their posts on its frame or through it.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from deckplan.layout.frame import Frame
from deckplan.layout.model import Kind, Member
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.decks import make_plan

CELL = 260.0


@st.composite
def outlines(draw: Any) -> list[tuple[float, float]]:
    """A simple polygon round the middle of a cell: corners at rising angles, or a rectangle with bites."""
    if draw(st.booleans()):
        count = draw(st.integers(4, 12))
        turn = draw(st.floats(0, 1))
        return [
            (
                125 + (radius := draw(st.floats(60, 118))) * math.cos((i + turn) * 2 * math.pi / count),
                125 + radius * math.sin((i + turn) * 2 * math.pi / count),
            )
            for i in range(count)
        ]
    width, depth = draw(st.floats(60, 240)), draw(st.floats(60, 240))
    a, b = draw(st.floats(0.2, 0.8)) * width, draw(st.floats(0.2, 0.8)) * depth
    return draw(
        st.sampled_from(
            [
                [(0, 0), (width, 0), (width, depth), (0, depth)],
                [(0, 0), (width, 0), (width, b), (a, b), (a, depth), (0, depth)],
                [(0, 0), (width, 0), (width, b), (a, depth), (0, depth)],
                [(a, 0), (width, 0), (width, depth), (0, depth), (0, b), (a, b)],
                [
                    (0, 0),
                    (width, 0),
                    (width, depth),
                    (a, depth),
                    (a, b),
                    (a / 2, b),
                    (a / 2, depth),
                    (0, depth),
                ],
            ]
        )
    )


@st.composite
def plans(draw: Any) -> Plan:
    """A plan of up to six platforms, each in a cell of its own or over another, the first row on the house."""
    platforms: list[dict[str, Any]] = []
    cells: list[int] = []
    count = draw(st.integers(1, 6))
    for number in range(count):
        others = [f"p{other}" for other in range(count) if other != number]
        below = draw(st.integers(0, number - 1)) if number and draw(st.integers(0, 3)) == 0 else None
        cells.append(number if below is None else cells[below])
        column, row = cells[-1] % 3, cells[-1] // 3
        outline = [(x + column * CELL, y + row * CELL) for x, y in draw(outlines())]
        direction = draw(st.sampled_from(["x", "y", 30.0, 45.0, 110.0]))
        height = draw(st.floats(10, 90))
        shape: dict[str, Any] = {
            "name": f"p{number}",
            "outline": outline,
            "elevation": height if below is None else height + platforms[below]["elevation"],
        }
        shape["joists"] = {"direction": direction, "spacing": draw(st.sampled_from([8.0, 12.0, 16.0, 24.0]))}
        supports: list[dict[str, Any]] = []
        if row == 0 and draw(st.booleans()):
            supports.append({"kind": "ledger", "wall": "house"})
        for share in draw(st.lists(st.floats(0.05, 0.95), min_size=1, max_size=3, unique=True)):
            frame = Frame.of(make_plan(shape).platforms[0])
            line: dict[str, Any] = {"kind": "beam", "offset": share * frame.depth}
            line["style"] = draw(st.sampled_from(["drop", "flush"]))
            line["posts"] = draw(st.sampled_from(["auto", 2, 3, 5]))
            line["seat"] = draw(st.sampled_from(["cap", "notch"]))
            if below is not None and draw(st.booleans()):
                line["stands_on"] = f"p{below}"
            if others and draw(st.booleans()):
                line["shares_posts_with"] = draw(st.sampled_from(others))
            supports.append(line)
        if others and draw(st.integers(0, 5)) == 0:
            supports.append({"kind": "hung", "on": draw(st.sampled_from(others))})
        shape["support"] = supports
        platforms.append(shape)
    ground = [
        {"at": (x, y), "elevation": draw(st.floats(-60, 10))}
        for x, y in ((0.0, 0.0), (780.0, 0.0), (0.0, 520.0))
    ]
    house = {"wall": [{"name": "house", "line": [(-50.0, 0.0), (900.0, 0.0)], "ledger": True}]}
    site = {"ground": ground, "snow_load": draw(st.sampled_from([0.0, 30.0])), "frost_depth": 30.0}
    return make_plan(*platforms, house=house, site=site)


def _holds(plan: Plan) -> None:
    study = Study(plan)
    assert study.verdict in set(Verdict)
    _balanced(study)
    for platform in study.plan.platforms:
        _joists_close_enough(study, platform.name)
        _inside(study, platform.name)
    _all_reach_the_soil(study)
    assert all(c.reason for c in study.checks if c.verdict in (Verdict.FAIL, Verdict.OUTSIDE))


def _balanced(study: Study) -> None:
    loads = study.loads
    to_ground = [loads.posts[post.mark] for post in study.layout.posts if not post.stands_on]
    down = sum(force.full for force in (*to_ground, *loads.ledgers.values()))
    assert down + loads.ground.full + loads.lost.full == pytest.approx(loads.applied.full, rel=1e-3)
    footings = sum(footing.load for footing in study.footings)
    assert footings == pytest.approx(sum(force.full for force in to_ground), rel=1e-6)
    assert max(node.off for node in study.load_path.balance()) < 1e-6 * max(1.0, loads.applied.full)


def _joists_close_enough(study: Study, name: str) -> None:
    """On every line across, neighbouring joists, rims and edges stand within one spacing."""
    platform = study.plan.platform(name)
    frame = Frame.of(platform)
    joists = [(frame.local(j.start), j.length) for j in study.layout.of(name, Kind.JOIST)]
    for share in (0.11, 0.37, 0.52, 0.83):
        v = share * frame.depth
        if any(
            abs(v - frame.local(beam.start)[1]) <= beam.width / 2 + 1.0
            for beam in study.layout.of(name, Kind.BEAM)
        ):
            continue  # a flush beam carries the boards over its own width; of a joist under an inch there is none
        if any(abs(v - corner[1]) <= 2.0 for corner in frame.corners):
            continue  # and so does the rim along an edge
        for low, high in frame.across_at(v):
            # near a slanting rim a joist may stop short of the line: the rim carries the boards there
            standing = [u for (u, start), length in joists if start - 1e-6 <= v <= start + length + 1e-6]
            places = [low, *sorted(u for u in standing if low <= u <= high), high]
            slack = (24.0 if _slants(frame) else 3.0) + 1e-6
            assert max(b - a for a, b in pairwise(places)) <= platform.joists.spacing + slack


def _slants(frame: Frame) -> bool:
    return any(abs(a[0] - b[0]) > 1e-6 and abs(a[1] - b[1]) > 1e-6 for a, b in frame.edges)


def _inside(study: Study, name: str) -> None:
    # an edge within a quarter of an inch of the joists' direction is closed by an end joist along them
    shape = Polygon(study.plan.platform(name).outline).buffer(0.25)
    for member in study.layout.of(
        name, Kind.JOIST, Kind.BEAM, Kind.RIM, Kind.LEDGER, Kind.HEADER, Kind.BLOCKING
    ):
        assert shape.covers(Point(member.start)), member
        assert shape.covers(Point(member.end)), member


def _all_reach_the_soil(study: Study) -> None:
    """Every joist and beam hands its load on until a post or the house; what cannot is named by a failing check."""
    ends = {post.mark for post in study.layout.posts} | set(study.loads.ledgers)
    failing = [c for c in study.checks if c.verdict is Verdict.FAIL]
    for member in study.layout.members:
        if member.kind not in (Kind.JOIST, Kind.BEAM):
            continue
        queue, seen = [member.mark], set()
        while queue:
            mark = queue.pop()
            seen.add(mark)
            part = study.layout.by_mark[mark]
            if mark in ends or not isinstance(part, Member):
                continue
            if mark not in study.loads.demands:
                assert any(part.platform in c.reason or c.mark == mark for c in failing), mark
            queue += [b.on for b in part.bearings if b.on not in seen]


# shrinking a plan takes longer than reading it
PHASES = (Phase.explicit, Phase.reuse, Phase.generate)
BIG = [HealthCheck.too_slow, HealthCheck.data_too_large]


@settings(max_examples=25, deadline=None, phases=PHASES, suppress_health_check=BIG)
@given(plans())
def test_random_plans_hold(plan: Plan) -> None:
    _holds(plan)


@pytest.mark.slow
@settings(max_examples=1000, deadline=None, phases=PHASES, suppress_health_check=BIG)
@given(plans())
def test_a_thousand_random_plans_hold(plan: Plan) -> None:
    _holds(plan)
