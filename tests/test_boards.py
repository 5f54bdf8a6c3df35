"""Boards: rows, borders, seams, what ends lie on, screws."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from deckplan.layout.boards import lay_boards, lay_platform
from deckplan.layout.boards_bearing import band
from deckplan.layout.boards_model import Boards
from deckplan.layout.boards_rows import Edge, find_remedies, is_sliver, lay_rows
from deckplan.layout.ends import cut_ends, shape_of
from deckplan.layout.model import Kind
from deckplan.plan.model import Plan
from deckplan.study import Study
from tests.decks import HOUSE, LEDGER, beam, make_plan, platform, rectangle

Corner = tuple[float, float]


def deck(
    outline: list[Corner], *, boards: dict[str, Any] | None = None, high: float = 36.0, **more: Any
) -> Plan:
    depth = max(y for _, y in outline)
    one = platform("deck", outline, high, LEDGER, beam(depth - 18), boards=boards or {}, **more)
    return make_plan(one, house=HOUSE, materials={"decking": {"kind": "wood", "gap": 0.125}})


def laid(plan: Plan, **how: Any) -> Boards:
    study = Study(plan)
    return lay_boards(study.plan, study.layout, **how)


# -- counting --


def test_screws_of_ten_by_ten() -> None:
    """396 screws: 9 joists x 22 rows x 2 for 10 x 10 ft at 16 in, 5-1/2 in boards, 1/8 in gaps (association
    guidance, two a board a joist)."""
    one = laid(deck(rectangle(0, 0, 120, 120)))["deck"]
    assert one.rows == 22
    assert one.screws == 396
    assert {board.screws for board in one.boards} == {18}


def test_last_row_shown() -> None:
    """By hand: 21 whole rows and gaps take 21 x 5.625 = 118.125 of 120 in; 1.875 in are left."""
    one = laid(deck(rectangle(0, 0, 120, 120)))["deck"]
    (rip,) = one.rips
    assert (rip.row, rip.width, rip.length) == (21, pytest.approx(1.875), pytest.approx(120))
    assert not rip.sliver  # a third of 5-1/2 in is 1.833 in
    # whole boards start away from the ledger, the ripped row lies at the house
    assert rip.at[1] == pytest.approx(0)


@pytest.mark.parametrize(("ripped", "sliver"), [(1.83, True), (1.8334, False), (0.0, False), (5.5, False)])
def test_sliver_is_under_a_third(ripped: float, sliver: bool) -> None:
    """A third of a board of 5-1/2 in is 1.8333 in (common practice)."""
    assert is_sliver(ripped, 5.5) is sliver


def test_remedies_against_a_sliver() -> None:
    """10 ft of 5-1/2 in boards with 3/16 in gaps leave 0.5625 in; by hand: 21 boards are 115.5, 20 gaps share 4.5 in,
    0.225 each; or first and last share 5.5 + 0.5625 in, 3-1/32 each."""
    edges = (Edge(0.0, False), Edge(120.0, True))
    gap, start = find_remedies(edges, 120.0, 5.5, 0.1875, "us")
    assert (gap.kind, gap.value) == ("gap", pytest.approx(0.225))
    assert (start.kind, start.first, start.last) == ("start", pytest.approx(3.03125), pytest.approx(3.03125))
    assert find_remedies(edges, 120.0, 5.5, 0.125, "us") == ()


@given(extent=st.floats(24, 400), width=st.sampled_from([3.5, 5.25, 5.5]), gap=st.floats(0.0625, 0.25))
def test_remedies_do_what_they_say(extent: float, width: float, gap: float) -> None:
    for remedy in find_remedies((Edge(0.0, False), Edge(extent, True)), extent, width, gap, "us"):
        rows = (
            lay_rows(extent, width, remedy.value)
            if remedy.kind == "gap"
            else lay_rows(extent, width, gap, remedy.value)
        )
        assert min(row.width for row in rows) >= width / 3 - 1e-6
        assert rows[-1].end == pytest.approx(extent)


# -- geometry --


def covered(boards: Boards, plan: Plan) -> None:
    """Boards lie inside, none over another, and what is left between is no wider than a gap."""
    gap = plan.materials.decking.gap
    for one in plan.platforms:
        outline = Polygon(one.outline)
        for hole in one.openings:
            outline = outline.difference(Polygon(hole.outline))
        shapes = [Polygon(board.outline) for board in boards[one.name].boards]
        together = shapely.union_all(shapes)
        assert together.difference(outline.buffer(0.01)).area < 0.01
        assert sum(s.area for s in shapes) == pytest.approx(together.area, abs=0.5)
        wider = shapely.union_all([s.buffer(gap / 2 + 1e-3, join_style="mitre") for s in shapes])
        # a gap along an edge has a board on one side only
        wider = wider.union(outline.boundary.buffer(gap + 1e-3))
        # thin ends of tapers, and wedges where a gap between rows runs into the gap along a border at a flat angle
        rest = outline.difference(wider)
        assert rest.area < gap / 2 * outline.length
        assert rest.buffer(-gap).area < 0.05


def bears(boards: Boards, study: Study) -> None:
    """Every end lies on the member, or on the needed wood, whose mark it gives."""
    cuts = cut_ends(study.layout.members)
    there = {m.mark: shape_of(m, cuts) for m in study.layout.members if m.length}
    for one in boards.platforms.values():
        there.update({n.mark: band(n.line, n.width) for n in one.supports_needed})
        for board in one.boards:
            assert board.ends
            assert board.screws >= 2
            for end in board.ends:
                off = Polygon(there[end.bears_on]).distance(shapely.LineString(end.line))
                # where other wood leaves no room for a block, an end reaches past its wood: by more than an inch
                # (common practice) only where that is said
                assert off <= 1.0 or any("past the wood" in fault for fault in one.faults), (board.mark, end)


L_SHAPE: list[Corner] = [(0, 0), (192, 0), (192, 96), (120, 96), (120, 168), (0, 168)]
CLIPPED: list[Corner] = [(0, 0), (168, 0), (168, 108), (132, 144), (0, 144)]


@pytest.mark.parametrize(
    "outline", [rectangle(0, 0, 144, 120), L_SHAPE, CLIPPED], ids=["rectangle", "L", "clipped"]
)
@pytest.mark.parametrize("angle", [0, 45, -30])
@pytest.mark.parametrize("border", [0, 1, 2])
def test_boards_fill_and_bear(outline: list[Corner], angle: float, border: int) -> None:
    plan = deck(outline, boards={"angle": angle, "border": border})
    study = Study(plan)
    boards = lay_boards(study.plan, study.layout)
    covered(boards, plan)
    bears(boards, study)
    assert not boards["deck"].faults
    assert len(boards["deck"].of("border")) == border * len(outline)


def test_border_area_by_hand() -> None:
    """A border of one 5-1/2 in row round 144 x 120 in: 144 x 120 - 133 x 109 = 2,783 sq in, gap apart."""
    border = laid(deck(rectangle(0, 0, 144, 120), boards={"border": 1}))["deck"].of("border")
    assert sum(board.area for board in border) == pytest.approx(2783)
    assert sorted(board.length for board in border) == pytest.approx([120, 120, 144, 144])


def test_wood_under_the_border() -> None:
    """A doubled joist where the field ends at each side, blocks at most 16 in apart beside it, one under each mitre."""
    study = Study(deck(rectangle(0, 0, 144, 120), boards={"border": 1}, high=24.0))
    one = study.boards["deck"]
    doubled = [n for n in one.supports_needed if n.kind == "joist"]
    # 5-1/2 in and half a gap of 1/8 in from both edges, two plies
    assert sorted(n.line[0][0] for n in doubled) == pytest.approx([5.5625, 138.4375])
    assert {n.width for n in doubled} == {3.0}
    needed = [n.line for n in one.supports_needed if n.reason.startswith("crosswise")]
    there = [m.line for m in study.layout.members if m.kind is Kind.BLOCKING]
    for x in (2.8, 141.2):
        crossing = [a[1] for a, b in (*needed, *there) if min(a[0], b[0]) - 1.5 <= x <= max(a[0], b[0]) + 1.5]
        # from the mitres, 2.8 in within the corners
        stops = sorted([2.8, *crossing, 117.2])
        assert max(b - a for a, b in pairwise(stops)) <= 16.0 + 0.1
    assert sum("mitre" in n.reason for n in one.supports_needed) == 4


def test_the_doubled_joist_of_a_border_makes_way_for_guard_posts() -> None:
    """3-1/2 in of post stand behind 1-1/2 in of rim or end joist (common practice): the pair lies from 5 to 8 in."""
    study = Study(deck(rectangle(0, 0, 144, 120), boards={"border": 1}))
    assert study.layout.guard_posts
    doubled = [n for n in study.boards["deck"].supports_needed if n.kind == "joist"]
    assert sorted(n.line[0][0] for n in doubled) == pytest.approx([6.5, 137.5])
    posts = [
        shapely.box(x - 1.75, y - 1.75, x + 1.75, y + 1.75)
        for x, y in (p.at for p in study.layout.guard_posts)
    ]
    for need in study.boards.supports_needed:
        wood = Polygon(band(need.line, need.width))
        assert max(wood.intersection(post).area for post in posts) < 0.01, need


def test_a_narrow_platform_refuses_its_border() -> None:
    one = laid(deck(rectangle(0, 0, 144, 30), boards={"border": 3}))["deck"]
    assert len(one.of("border")) == 2 * 4
    assert "only 2 of 3 border rows fit" in one.faults[0]


# -- stock --


@pytest.mark.parametrize("angle", [0, 45])
def test_breaker_where_stock_is_short(angle: float) -> None:
    """Wood comes up to 16 ft (common practice): 24 ft of row takes one breaker, each side doubled."""
    plan = deck(rectangle(0, 0, 288, 120), boards={"angle": angle})
    study = Study(plan)
    boards = lay_boards(study.plan, study.layout)
    covered(boards, plan)
    bears(boards, study)
    assert max(board.length for board in boards.all) <= 192.01
    if angle == 0:
        assert len(boards["deck"].of("breaker")) == 1
        kinds = sorted(n.kind for n in boards["deck"].supports_needed)
        assert kinds == ["joist", "ply"]  # one side falls on a joist that gets a ply, the other asks for two
    else:
        assert not boards["deck"].of("breaker")  # 10 ft at 45 degrees is 14.1 ft: no row is over stock


def test_butt_seams_change_place_from_row_to_row() -> None:
    plan = deck(rectangle(0, 0, 288, 120))
    study = Study(plan)
    boards = lay_boards(study.plan, study.layout, seams="butt")
    covered(boards, plan)
    bears(boards, study)
    assert not boards["deck"].of("breaker")
    assert max(board.length for board in boards.all) <= 192.01
    seams: dict[int, set[float]] = {}
    for board in boards["deck"].boards:
        inner = [end.at[0] for end in board.ends if 1 < end.at[0] < 287]
        seams.setdefault(board.row, set()).update(round(x) for x in inner)
    assert all(seams[row] and seams[row].isdisjoint(seams[row + 1]) for row in range(20))
    assert {n.kind for n in boards["deck"].supports_needed} == {"ply"}


def test_long_border_comes_out_of_stock() -> None:
    plan = deck(rectangle(0, 0, 288, 216), boards={"border": 1})
    study = Study(plan)
    boards = lay_boards(study.plan, study.layout)
    covered(boards, plan)
    bears(boards, study)
    assert max(board.length for board in boards.all) <= 192.01
    assert len(boards["deck"].of("border")) == 8


def test_boards_along_joists_are_a_fault() -> None:
    assert "along the joists" in laid(deck(rectangle(0, 0, 144, 120), boards={"angle": 90}))["deck"].faults[0]


def test_boards_go_round_a_tree() -> None:
    """An opening of 20 x 24 in: the boards leave it out and end on its doubled headers or trimmers."""
    plan = deck(rectangle(0, 0, 168, 144), opening=[{"kind": "tree", "outline": rectangle(60, 50, 80, 74)}])
    study = Study(plan)
    boards = lay_boards(study.plan, study.layout)
    covered(boards, plan)
    bears(boards, study)
    net = (
        (168 * 144 - 20 * 24) * 5.5 / 5.625
    )  # boards' share of the surface; the last row makes a little difference
    assert boards["deck"].area == pytest.approx(net, rel=0.01)
    assert len(boards["deck"].boards) > boards["deck"].rows


# -- any outline --


@st.composite
def outlines(draw: st.DrawFn) -> list[Corner]:
    """A simple outline of 4 to 12 corners round a centre, 8 to 18 ft across."""
    count = draw(st.integers(4, 12))
    turns = sorted(draw(st.lists(st.integers(0, 71), min_size=count, max_size=count, unique=True)))
    radii = draw(st.lists(st.integers(48, 108), min_size=count, max_size=count))
    return [
        (round(120 + r * math.cos(t * math.tau / 72), 2), round(130 + r * math.sin(t * math.tau / 72), 2))
        for t, r in zip(turns, radii, strict=True)
    ]


def check_any(outline: list[Corner], angle: float, border: int) -> None:
    if not Polygon(outline).is_valid or Polygon(outline).area < 1500:
        return
    one = platform("deck", outline, 40.0, beam(24.0), beam(90.0), boards={"angle": angle, "border": border})
    plan = make_plan(one)
    study = Study(plan)
    boards = lay_boards(study.plan, study.layout)
    covered(boards, plan)
    bears(boards, study)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(outlines(), st.sampled_from([0, 0, 45, -45, 30, 12]), st.integers(0, 2))
def test_any_outline(outline: list[Corner], angle: float, border: int) -> None:
    check_any(outline, angle, border)


@pytest.mark.slow
@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(outlines(), st.integers(-60, 60), st.integers(0, 3))
def test_three_hundred_outlines(outline: list[Corner], angle: float, border: int) -> None:
    check_any(outline, angle, border)


def test_a_study_lays_no_boards_unasked() -> None:
    study = Study(deck(rectangle(0, 0, 144, 120), boards={"border": 1}))
    assert study.verdict
    assert "boards" not in vars(study)
    assert study.boards["deck"].boards
    assert study.boards is study.boards


@pytest.mark.parametrize("depth", [120.0, 144.0, 133.0])
def test_a_remedy_laid_leaves_no_sliver(depth: float) -> None:
    one = platform("deck", rectangle(0, 0, 144, depth), 36.0, LEDGER, beam(depth - 18))
    plan = make_plan(one, house=HOUSE, materials={"decking": {"kind": "wood", "gap": 0.1875}})
    study = Study(plan)
    boards = study.boards["deck"]
    for remedy in boards.remedies:
        decking = study.plan.materials.decking
        if remedy.kind == "gap":
            decking = decking.model_copy(update={"gap": remedy.value})
        first = remedy.value if remedy.kind == "start" else None
        again = lay_platform(study.plan.platforms[0], "A", decking, study.layout, first=first)
        assert not again.slivers
    # by hand, 3/16 in gaps: 120 in leave 9/16 in and 144 in 1-13/16 in, slivers; 133 in leave 2-3/16 in
    assert bool(boards.slivers) == bool(boards.remedies) == (depth != 133.0)


def test_a_mirrored_platform_has_mirrored_boards() -> None:
    plain = laid(deck(CLIPPED, boards={"border": 1}))["deck"]
    mirrored = laid(deck([(168 - x, y) for x, y in reversed(CLIPPED)], boards={"border": 1}))["deck"]
    assert plain.area == pytest.approx(mirrored.area, abs=1e-3)
    assert plain.rows == mirrored.rows
    lengths = [sorted(round(board.length, 3) for board in one.boards) for one in (plain, mirrored)]
    assert lengths[0] == lengths[1]
