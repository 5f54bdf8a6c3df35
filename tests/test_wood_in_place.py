"""Wood in its place: no piece of a frame lies inside another, what boards ask for rests like the joists beside it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import Polygon, STRtree

from deckplan.buy.takeoff import take_off
from deckplan.layout.ends import cut_ends, shape_of
from deckplan.layout.model import Kind, Layout, Member
from deckplan.plan.file import read_plan
from deckplan.plan.model import Plan
from deckplan.reference import data_path
from deckplan.study import Study
from tests.decks import HOUSE, LEDGER, beam, make_plan, platform, rectangle

Corner = tuple[float, float]

DEMOS = sorted(data_path("plans").glob("*.toml"))

WOOD = (Kind.JOIST, Kind.RIM, Kind.BEAM, Kind.LEDGER, Kind.BLOCKING, Kind.HEADER)

SAW = 1.5 / 8
"""What an eighth of an inch of saw cut takes of a ply an inch and a half thick [in^2] (common practice)."""


def inside_each_other(layout: Layout) -> list[tuple[str, str, float]]:
    """Return the pairs of a platform's pieces that lie in each other in plan and in height, with their common area."""
    cuts = cut_ends(layout.members)
    wood: list[Member] = [m for m in layout.members if m.kind in WOOD and m.length > 0]
    shapes = [Polygon(shape_of(member, cuts)) for member in wood]
    assert all(shape.is_valid for shape in shapes)
    found = []
    for i, j in zip(*STRtree(shapes).query(shapes, predicate="intersects"), strict=True):
        one, other = wood[int(i)], wood[int(j)]
        deep = min(one.top, other.top) - max(one.bottom, other.bottom)
        if i < j and one.platform == other.platform and deep > 0.01:
            shared = shapely.intersection(shapes[int(i)], shapes[int(j)], grid_size=1e-6).area
            if shared > SAW:
                found.append((one.mark, other.mark, round(float(shared), 2)))
    return found


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_no_piece_lies_in_another_in_any_demo(path: Path) -> None:
    assert inside_each_other(Study(read_plan(path)).built) == []


def test_the_measure_sees_a_joist_in_a_joist() -> None:
    study = Study(make_plan(platform("deck", rectangle(0, 0, 144, 120), 36.0, beam(12), beam(108))))
    joist = study.layout.of("deck", Kind.JOIST)[3]
    twice = Layout((*study.layout.members, joist), (), (), ())
    assert (joist.mark, joist.mark, 175.5) in inside_each_other(twice)  # 117 in of 1-1/2 in, between the rims


def on_ledger(border: int, *lines: dict[str, Any]) -> Study:
    """28 ft of deck on a ledger, 10 ft deep: boards come up to 16 ft (common practice), so one breaker at least."""
    one = platform("deck", rectangle(0, 0, 336, 120), 40.0, LEDGER, *lines, boards={"border": border},
                   joists={"size": "2x10"})  # fmt: skip
    return Study(make_plan(one, house=HOUSE))


@pytest.mark.parametrize(("style", "manner"), [("drop", "bearing"), ("flush", "hanger")])
def test_wood_under_seams_rests_where_the_joist_beside_it_rests(style: str, manner: str) -> None:
    study = on_ledger(1, beam(60.0, style=style, build="3-2x10"), beam(110.0))
    joists = study.layout.of("deck", Kind.JOIST)
    added = [m for m in study.built.of("deck", Kind.JOIST) if m.mark not in study.layout.by_mark]
    assert added
    where = {m.mark: (m.kind, m.support) for m in study.layout.members}
    for member in added:
        # joists between ledger and flush beam begin where that one does, those beyond it elsewhere
        alike = [joist for joist in joists if abs(joist.start[1] - member.start[1]) < 0.1]
        beside = min(alike, key=lambda joist: abs(joist.start[0] - member.start[0]))
        rests = [[(where[b.on], b.manner) for b in each.bearings] for each in (member, beside)]
        assert rests[0] == rests[1]
        assert any(b.manner == manner for b in member.bearings)


def test_hangers_of_doubled_joists_are_bought_once() -> None:
    study = on_ledger(0, beam(108.0))
    # 28 ft at 16 in: 22 joists (common practice: ceil(L / s) + 1); the breaker asks for a ply beside one of them, which
    # makes one hanger wide enough for two, and for two plies of their own in another
    assert sorted(need.kind for need in study.boards.supports_needed) == ["joist", "ply"]
    found = {item.item: item for item in take_off(study) if item.item.startswith("joist hanger")}
    assert {name: item.count for name, item in found.items()} == {
        "joist hanger, 2x10": 21,
        "joist hanger, 2-2x10": 2,
    }
    # what the sums leave out is asked for no less than a joist is
    assert found["joist hanger, 2-2x10"].basis == found["joist hanger, 2x10"].basis


@pytest.mark.parametrize("length", [326.0, 328.0, 330.0, 332.0])
def test_a_square_corner_of_joists_aslant_gets_no_block(length: float) -> None:
    lines = [beam(at) for at in (18.0, 80.0, 182.0)]
    one = platform("deck", rectangle(0, 0, length, 132), 24.0, *lines,
                   joists={"direction": 45.0, "spacing": 12.0, "size": "2x10"})  # fmt: skip
    assert inside_each_other(Study(make_plan(one)).built) == []


SHAPES: dict[str, list[Corner]] = {
    "rectangle": rectangle(0, 0, 168, 144),
    "long": rectangle(0, 0, 330, 132),
    "L": [(0, 0), (252, 0), (252, 96), (140, 96), (140, 156), (0, 156)],
    "clipped": [(0, 0), (192, 0), (192, 108), (150, 150), (0, 150)],
    "octagon": [(50, 0), (130, 0), (180, 50), (180, 130), (130, 180), (50, 180), (0, 130), (0, 50)],
    "bay": [(0, 0), (200, 0), (200, 100), (150, 160), (60, 160), (0, 100)],
}


@st.composite
def sensible(draw: st.DrawFn) -> Plan:
    """A deck that somebody could ask for: a usual shape, beams near its ends, perhaps a ledger, a border, a hatch."""
    shape = draw(st.sampled_from(sorted(SHAPES)))
    outline, square = SHAPES[shape], shape in ("rectangle", "long")
    direction = draw(st.sampled_from(["y", "y", "y", "x", 45.0, 30.0]))
    if direction == 30.0 and shape in ("octagon", "bay"):
        direction = 45.0  # their slants would lie at 15 degrees to the joists: under 30 an edge carries none, and FAILs
    depth = {"y": max(y for _, y in outline), "x": max(x for x, _ in outline)}.get(str(direction), 200.0)
    lines: list[dict[str, Any]] = [LEDGER] if direction == "y" and draw(st.booleans()) else [beam(18.0)]
    middle = draw(st.sampled_from([0.4, 0.5, 0.6]))
    for share in (middle, (depth - 18.0) / depth):
        # a flush beam ends at rims or end joists square to it, clear of the hatch
        plain = square and isinstance(direction, str) and share >= 0.5
        style = draw(st.sampled_from(["drop", "flush"])) if plain else "drop"
        lines.append(
            beam(share * depth, style=style, build=draw(st.sampled_from(["2-2x10", "3-2x10", "4x10"])))
        )
    more: dict[str, Any] = {}
    if draw(st.booleans()):
        x, y = draw(st.integers(40, 60)), draw(st.integers(24, 30))
        more["opening"] = [{"outline": rectangle(x, y, x + draw(st.integers(14, 40)), y + 20)}]
    boards = {"border": draw(st.integers(0, 2)), "angle": draw(st.sampled_from([0, 0, 0, 45, -30]))}
    joists = {"direction": direction, "size": "2x10", "spacing": draw(st.sampled_from([12.0, 16.0, 24.0])),
              "start": draw(st.sampled_from(["auto", 3.0, 7.5]))}  # fmt: skip
    one = platform(
        "deck", outline, draw(st.sampled_from([24.0, 60.0])), *lines, boards=boards, joists=joists, **more
    )
    return make_plan(one, house=HOUSE)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sensible())
def test_no_piece_lies_in_another(plan: Plan) -> None:
    assert inside_each_other(Study(plan).built) == []


@pytest.mark.slow
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sensible())
def test_no_piece_lies_in_another_in_many(plan: Plan) -> None:
    assert inside_each_other(Study(plan).built) == []
