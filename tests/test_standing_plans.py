"""Plans as somebody would draw them, by the hundred: what is put on stands on something; no FAIL hides a fault.

`tests/test_random_plans.py` draws whatever may be typed and asks that nothing breaks; most of that cannot stand. Here
most plans do, so that every promise of the frame is held to the letter.
"""

from __future__ import annotations

import math
from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from shapely import MultiPoint, Point, Polygon, box

from deckplan.geometry import along
from deckplan.layout.boards_bearing import band
from deckplan.layout.frame import Frame
from deckplan.layout.model import Kind, Member
from deckplan.plan.model import Plan, Platform
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.standing_plans import standing_plans
from tests.test_boards import bears, covered
from tests.test_buy_whole import check_bought

UNHELD = {"joists rest on two supports", "beam stands on two posts"}
"""The only rules that may excuse load that goes nowhere."""

seen: Counter[Verdict] = Counter()


def stands(plan: Plan) -> None:
    """Hold the frame to its promises."""
    study = Study(plan)
    seen[study.verdict] += 1
    carried(study)
    for platform in study.plan.platforms:
        joists_close_enough(study, platform)
        inside(study, platform)
    handed_on(study)


def is_built(plan: Plan) -> None:
    """Hold the boards and the buy list to theirs."""
    study = Study(plan)
    covered(study.boards, plan)
    bears(study.boards, study)
    check_bought(plan)


def carried(study: Study) -> None:
    """What is put on arrives on soil and house, within a thousandth, unless a check says what nothing carries."""
    loads = study.loads
    unheld = [c for c in study.checks if c.rule in UNHELD and c.verdict is Verdict.FAIL]
    down = sum(footing.load for footing in study.footings) - sum(
        footing.load for footing in study.footings if not footing.post
    )
    arrived = down + sum(force.full for force in (*loads.ledgers.values(), loads.ground))
    if not unheld:
        assert loads.lost.full == pytest.approx(0.0, abs=1e-6)
        assert arrived == pytest.approx(loads.applied.full, rel=1e-3)
    # by hand: area by its own loads, and what stands on posts of a lower frame weighs on top
    surface = sum((load.dead + load.live + load.snow) * load.area for load in loads.areas.values())
    assert surface <= loads.applied.full + 1e-6
    areas = {p.name: Polygon(p.outline).area / 144 for p in study.plan.platforms}
    for platform in study.plan.platforms:
        holes = sum(Polygon(hole.outline).area / 144 for hole in platform.openings)
        assert loads.areas[platform.name].area == pytest.approx(areas[platform.name] - holes, rel=1e-6)


def joists_close_enough(study: Study, platform: Platform) -> None:
    """Across every line the wood that carries boards stands within one spacing, rims' own width apart from it."""
    frame = Frame.of(platform)
    carriers = study.layout.of(platform.name, Kind.JOIST)
    for share in (0.13, 0.37, 0.52, 0.71, 0.9):
        v = share * frame.depth
        beams = study.layout.of(platform.name, Kind.BEAM, Kind.HEADER)
        if any(abs(v - frame.local(m.start)[1]) <= m.width / 2 + 0.1 for m in beams):
            continue  # along a flush beam or a header the boards lie on that
        if [reach for pair in frame.across_at(v - 9) for reach in pair] != pytest.approx(
            [reach for pair in frame.across_at(v + 9) for reach in pair]
        ):
            continue  # near an edge aslant the boards lie on its rim
        for low, high in frame.across_at(v):
            if any(abs(v - corner[1]) <= 1.6 for corner in frame.corners):
                continue  # along an edge the boards lie on its rim
            hole = any(_in_hole(frame, platform, u, v) for u in (low + 1, (low + high) / 2, high - 1))
            standing = [
                frame.local(m.start)[0]
                for m in carriers
                if frame.local(m.start)[1] - 1e-6 <= v <= frame.local(m.start)[1] + m.length + 1e-6
            ]
            places = [low, *sorted(u for u in standing if low <= u <= high), high]
            widest = max(b - a for a, b in pairwise(places))
            assert hole or platform.openings or widest <= platform.joists.spacing + 1.5 + 1e-6, (
                platform.name,
                v,
            )


def _in_hole(frame: Frame, platform: Platform, u: float, v: float) -> bool:
    shapes = [Polygon([frame.local(corner) for corner in hole.outline]) for hole in platform.openings]
    return any(shape.buffer(2).intersects(box(u, v, u, v).buffer(0.1)) for shape in shapes)


def inside(study: Study, platform: Platform) -> None:
    """Every piece lies inside its platform in its full width, posts with it."""
    outline = Polygon(platform.outline)
    room = outline.buffer(0.05, join_style="mitre")
    for member in study.layout.of(platform.name):
        if member.length and member.kind not in (Kind.BRACE, Kind.TREAD, Kind.STRINGER):
            # ends may be cut along an edge aslant: their middle lies inside, their square corners need not
            assert room.covers(MultiPoint(member.line)), member
            share = min(0.5, member.width / member.length)
            middle = (along(member.line, share), along(member.line, 1 - share))
            assert share == 0.5 or room.covers(Polygon(band(middle, member.width))), member
    for post in study.layout.posts:
        if post.platform == platform.name:
            # under a flush beam on an edge a post stands out by what it is wider than three plies: 5-1/2 in over 4-1/2
            assert outline.covers(Point(post.at).buffer(post.width / 2 - 0.55)), post.mark


def handed_on(study: Study) -> None:
    """Every joist, header and beam rests on two things, each of them there, down to a post or the house."""
    unheld = {c.mark for c in study.checks if c.rule in UNHELD and c.verdict is Verdict.FAIL}
    reasons = " ".join(c.reason for c in study.checks if c.rule in UNHELD and c.verdict is Verdict.FAIL)
    ends = {post.mark for post in study.layout.posts} | set(study.loads.ledgers)
    names = {platform.name for platform in study.plan.platforms}
    for member in study.layout.members:
        if member.platform not in names or member.mark in unheld:
            continue
        if member.kind not in (Kind.JOIST, Kind.BEAM, Kind.HEADER):
            continue
        if member.mark in reasons or ".." in reasons:
            continue
        assert len({round(bearing.at, 3) for bearing in member.bearings}) >= 2, member
        for bearing in member.bearings:
            carrier = study.layout.by_mark[bearing.on]
            assert bearing.on in ends or (isinstance(carrier, Member) and carrier.bearings), member
            assert bearing.length > 0


BIG = list(HealthCheck)


@settings(max_examples=20, deadline=None, suppress_health_check=BIG)
@given(standing_plans())
def test_plans_that_stand_hold(plan: Plan) -> None:
    stands(plan)
    is_built(plan)


@pytest.mark.slow
def test_many_plans_that_stand_hold() -> None:
    seen.clear()

    @settings(max_examples=250, deadline=None, suppress_health_check=BIG)
    @given(standing_plans())
    def all_of_them(plan: Plan) -> None:
        stands(plan)

    all_of_them()
    # a test of plans that mostly fail would say little
    assert seen[Verdict.PASS] + seen[Verdict.OUTSIDE] > 0.4 * math.fsum(seen.values())


@pytest.mark.slow
@settings(max_examples=60, deadline=None, suppress_health_check=BIG)
@given(standing_plans())
def test_many_plans_that_stand_are_built(plan: Plan) -> None:
    is_built(plan)
