"""Plan, section and side views of the deck set out by hand: what they show, where, and in which words."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

from deckplan.draw.cut import Cut, choose_cut
from deckplan.draw.footing_view import footing_view
from deckplan.draw.guard_view import guard_view
from deckplan.draw.labels import overlaps, spread
from deckplan.draw.levels_view import levels_view
from deckplan.draw.north import find_north
from deckplan.draw.plan_view import plan_view
from deckplan.draw.profile_parts import stringer_outline
from deckplan.draw.scene import Area, Box, Role, Scene, box_of
from deckplan.draw.section_view import section_view
from deckplan.draw.sheet import A3, A4, LETTER, PHONE, SCREEN, TABLOID, WALL_SCREEN
from deckplan.draw.side_view import side_view
from deckplan.draw.site_view import site_view
from deckplan.draw.subject import letter
from deckplan.draw.title import CAUTION
from deckplan.levels.model import Rise
from tests.test_draw_cases import deck

SHEETS = [TABLOID, A3, LETTER, A4, SCREEN, WALL_SCREEN, PHONE]
VIEWS = {
    "footings": footing_view,
    "site": site_view,
    "guards": guard_view,
    "levels": levels_view,
    "plan": plan_view,
    "section": section_view,
    "garden": lambda study, **more: side_view(study, side="garden", **more),
    "left": lambda study, **more: side_view(study, side="left", **more),
    "right": lambda study, **more: side_view(study, side="right", **more),
}


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
@pytest.mark.parametrize("view", VIEWS)
def test_no_texts_overlap_and_the_drawing_stays_on_its_sheet(view: str, sheet, units: str) -> None:
    scene = VIEWS[view](deck(units=units), sheet=sheet)
    assert overlaps(scene.text_boxes) == []
    # The drawing with its title keeps within the sheet; a tenth of it is the tolerance for texts that stand
    # away.
    assert scene.box.width / scene.scale <= 1.1 * sheet.width
    assert scene.box.height / scene.scale <= 1.1 * sheet.height


@pytest.mark.parametrize("view", VIEWS)
def test_every_drawing_carries_its_name_the_plan_and_the_caution(view: str) -> None:
    scene = VIEWS[view](deck("Hill & dale"))
    words = " ".join(label.text for label in scene.labels if label.role is Role.TITLE)
    assert scene.name in words
    assert "Hill & dale" in words
    assert CAUTION in words
    bare = VIEWS[view](deck("Hill & dale"), titled=False)
    assert not bare.of(Role.TITLE)


def test_the_framing_plan_shows_every_piece_under_its_mark() -> None:
    study = deck()
    scene = plan_view(study)
    shown = Counter(shape.role for shape in scene.shapes)
    assert shown[Role.JOIST] == 23
    assert shown[Role.BEAM_BELOW] == 1, "the beam under the upper joists is hidden"
    assert shown[Role.BEAM] == 2, "the flush beams are seen"
    assert (shown[Role.POST], shown[Role.FOOTING], shown[Role.LEDGER]) == (7, 7, 1)
    assert {*study.layout.by_mark, "S1"} <= set(scene.marks())


def test_the_framing_plan_says_what_a_builder_asks() -> None:
    texts = [label.text for label in plan_view(deck()).labels]
    for wanted in (
        "A  upper\n+2'-6\"",
        "B  lower\n+1'-7 1/2\"",
        'A-J1 to A-J13\n2x8 joists at 16"',
        "A-B1  2-2x10",
        "A-L1  2x8 ledger",
        'S1 down\n2 risers of 5 1/4"',
        'A-P2\nA-F2 16" dia.',
        "garden door, sill +2'-7 1/2\"",
        "N",
    ):
        assert wanted in texts


def test_chains_of_dimensions_add_up_and_stand_outside_the_drawing() -> None:
    scene = plan_view(deck())
    figures = [dimension.label.text for dimension in scene.dimensions]
    # The outlines: 24 to 216 and 216 to 360 in along x, 0 to 168 in along y.
    assert {"28'-0\"", "16'-0\"", "12'-0\"", "14'-0\""} <= set(figures)
    drawn = Box(24.0, 0.0, 360.0, 168.0)
    rows: dict[tuple[str, float], float] = {}
    for dimension in scene.dimensions:
        (x0, y0), (x1, y1) = dimension.line
        assert dimension.length == pytest.approx(abs(x1 - x0) + abs(y1 - y0)), "drawn as long as it says"
        assert not dimension.label.box.meets(drawn)
        key = ("x", y0) if y0 == y1 else ("y", x0)
        rows[key] = rows.get(key, 0.0) + dimension.length
    assert [total for (axis, _), total in rows.items() if axis == "x"] == pytest.approx([336.0] * 3)
    assert [total for (axis, _), total in rows.items() if axis == "y"] == pytest.approx([168.0] * 3)


def test_a_metric_plan_speaks_metric() -> None:
    scene = plan_view(deck(units="metric"))
    figures = {dimension.label.text for dimension in scene.dimensions}
    # 336 in = 8534 mm, 192 in = 4877 mm (1 in = 25.4 mm exactly).
    assert {"8534", "4877"} <= figures
    assert "Two terraces · Scale 1:25 · lengths in mm" in [label.text for label in scene.labels]
    assert not any('"' in label.text for label in scene.labels)


def test_one_platform_alone_leaves_the_others_out() -> None:
    scene = plan_view(deck(), platform="lower")
    assert scene.name == "Framing plan, B lower"
    assert not any(mark.startswith("A-") for mark in scene.marks())
    assert "B-J10" in scene.marks()
    with pytest.raises(KeyError):
        plan_view(deck(), platform="attic")


def test_flags_ring_what_needs_a_look() -> None:
    scene = plan_view(deck(), flags={"A-B1": "over its span", "A-P1": "", "no such mark": "x"})
    assert len([shape for shape in scene.shapes if shape.role is Role.FLAG]) == 2
    assert "over its span" in [label.text for label in scene.labels]
    assert overlaps(scene.text_boxes) == []


def test_a_phone_gets_fewer_words_of_the_same_size() -> None:
    scene = plan_view(deck(), sheet=PHONE)
    assert len(scene.labels) < len(plan_view(deck()).labels)
    # At 390 px (a common phone width) the smallest text keeps 8 px.
    smallest = min(label.height for label in (*scene.labels, *(d.label for d in scene.dimensions)))
    assert smallest * 390 / scene.box.width >= 8.0


def test_north_lies_behind_the_south_wall() -> None:
    assert find_north(deck().plan) == ((0.0, -1.0), True)


@pytest.mark.parametrize(
    ("name", "north"), [("North wall", (0, 1)), ("east side", (-1, 0)), ("west wall", (1, 0))]
)
def test_north_follows_the_name_of_the_wall(name: str, north) -> None:
    # The deck lies on the +y side, so the wall faces +y; facing east with +y east, north is 90 degrees left:
    # -x.
    plan = deck().plan
    wall = plan.house.walls[0].model_copy(update={"name": name})
    plan = plan.model_copy(update={"house": plan.house.model_copy(update={"walls": (wall,)})})
    assert find_north(plan) == (north, True)


def test_north_is_the_plans_own_where_no_wall_tells() -> None:
    plan = deck().plan
    wall = plan.house.walls[0].model_copy(update={"name": "kitchen wall"})
    plan = plan.model_copy(update={"house": plan.house.model_copy(update={"walls": (wall,)})})
    assert find_north(plan) == ((0.0, 1.0), False)


def test_letters_go_on_after_z() -> None:
    assert [letter(i) for i in (0, 1, 25, 26, 51, 52)] == ["A", "B", "Z", "AA", "AZ", "BA"]


def areas(scene: Scene, *roles: Role) -> list[Area]:
    return [shape for shape in scene.shapes if isinstance(shape, Area) and shape.role in roles]


def test_the_section_passes_through_both_levels_and_the_step() -> None:
    study = deck()
    assert choose_cut(study.plan, study).axis == 1
    scene = section_view(study)
    boards = {shape.mark: shape.box for shape in areas(scene, Role.BOARD)}
    assert (boards["A"].top, boards["B"].top) == (30.0, 19.5)
    assert boards["A"].bottom == 29.0, "one inch of board"
    texts = [label.text for label in scene.labels]
    assert 'S1: 2 risers of 5 1/4"' in texts
    assert "frost line 3'-6\" down" in texts


def test_cut_wood_keeps_its_size_and_height() -> None:
    scene = section_view(deck(), cut=Cut(1, 84.0))
    cut = {shape.mark: shape.box for shape in areas(scene, Role.CUT)}
    # All thirteen upper joists are cut across; dressed 2x8: 1 1/2 x 7 1/4 in (PS 20).
    assert sum(mark.startswith("A-J") for mark in cut) == 13
    assert (cut["A-J3"].width, cut["A-J3"].height, cut["A-J3"].top) == (1.5, 7.25, 29.0)
    assert cut["B-B1"].width == 3.0, "two plies"
    assert "A-B1" not in cut, "it runs along"


def test_a_section_along_y_cuts_the_house() -> None:
    scene = section_view(deck(), cut=Cut(0, 96.0))
    (wall,) = areas(scene, Role.WALL)
    assert wall.box.right == 0.0, "the house lies on the left"
    assert "floor +2'-7 1/2\"" in [label.text for label in scene.labels]
    cut = {shape.mark for shape in areas(scene, Role.CUT)}
    assert {"A-L1", "A-R1", "A-B1"} <= cut


def test_footings_reach_the_frost_line() -> None:
    scene = section_view(deck(), cut=Cut(1, 84.0))
    for shape in areas(scene, Role.CONCRETE):
        assert shape.box.height == pytest.approx(42.0)


def test_from_the_garden_left_is_right() -> None:
    scene = side_view(deck())
    assert scene.name == "Side view from the south"
    boards = {shape.mark: shape.box for shape in areas(scene, Role.BOARD)}
    assert boards["B"].right <= boards["A"].left, "the lower platform lies at greater x, so on the left"
    assert side_view(deck(), side="left").name == "Side view from the east"


def test_what_is_near_hides_what_is_behind() -> None:
    scene = side_view(deck())
    order = [shape.mark for shape in scene.shapes if shape.role in (Role.RIM, Role.POST_BEYOND)]
    assert order.index("B-P1") < order.index("B-P2") < order.index("B"), "far to near: y 28, 164, 168"
    assert scene.stacked


def test_a_required_guard_is_drawn_at_its_height() -> None:
    scene = side_view(deck(), side="right")
    rails = areas(scene, Role.RAILING)
    assert max(rail.box.top for rail in rails) == 30.0 + 36.0
    gaps = [s.box.left for s in scene.shapes if s.role is Role.BALUSTER]
    # An opening passes no 4 in sphere (IRC R312.1.3); drawn balusters keep to 4 3/4 in on centre.
    assert max(b - a for a, b in zip(sorted(gaps), sorted(gaps)[1:], strict=False)) <= 4.75


def test_the_summary_is_plain_text_that_tells_the_drawing() -> None:
    lines = plan_view(deck()).summary().splitlines()
    assert lines[0] == "Framing plan, Scale 1/2 in = 1 ft"
    assert "  joist: 23" in lines
    assert any(line.startswith("  dimensions: ") and "28'-0\"" in line for line in lines)
    assert "  A  upper / +2'-6\"" in lines


def test_the_site_plan_shows_how_far_the_deck_keeps_from_the_line() -> None:
    scene = site_view(deck())
    # The property line at y = 330, the deck's farthest corner at y = 168: 162 in, 13 ft 6 in; setback 24 in.
    texts = [label.text for label in scene.labels]
    assert {"property line", "setback 2'-0\"", "13'-6\""} <= set(texts)
    assert [shape.points[0][1] for shape in scene.of(Role.SETBACK)] == [306.0]


def test_the_guard_plan_numbers_the_edges_that_ask_for_one() -> None:
    scene = guard_view(deck())
    (edge,) = scene.of(Role.GUARD_NEEDED)
    assert edge.mark == "G1"
    assert edge.points == ((24.0, 144.0), (24.0, 0.0))
    texts = [label.text for label in scene.labels]
    assert 'G1  12\'-0", drop 32"' in texts
    # IRC R312.1.1: 30 in measured within 36 in; R312.1.2: 36 in high.
    assert 'Guard 36" high where the drop within 36" of the edge is over 30".' in texts


def test_the_ladder_shows_each_riser_at_its_height() -> None:
    scene = levels_view(deck())
    texts = [label.text for label in scene.labels]
    assert {
        '1: 5 1/4"',
        '2: 5 1/4"',
        "A  upper  +2'-6\"",
        "B  lower  +1'-7 1/2\"",
        "door sill  +2'-7 1/2\"",
    } <= set(texts)
    (steps,) = [shape for shape in scene.of(Role.TREAD) if shape.mark == "S1"]
    assert sorted({z for _, z in steps.points}, reverse=True) == [30.0, 24.75, 19.5]


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=9), st.floats(0.1, 9))
def test_names_of_levels_are_moved_apart_in_their_order(heights: list[float], apart: float) -> None:
    moved = spread(heights, apart)
    order = sorted(range(len(heights)), key=lambda i: -heights[i])
    for above, below in pairwise(order):
        assert moved[above] - moved[below] >= apart * (1 - 1e-6)
    far = all(abs(a - b) >= apart for i, a in enumerate(heights) for b in heights[i + 1 :])
    if far:
        assert moved == pytest.approx(heights)


def test_a_stringer_keeps_its_depth_square_to_the_slope() -> None:
    # Published layout: 27 1/2 in in four risers of 6 7/8, boards of 15/16 in: bottom cut 5 15/16 (trade
    # magazine).
    rise = Rise(0, "a", "ground", "stringer", ((0.0, 0.0), (36.0, 0.0)), (0.0, 1.0), 27.5, 0.0, 4, 11.0)
    outline = stringer_outline(rise, 0.0, 1.0, 15 / 16, 11.25)
    front = [z for x, z in outline if x == 33.0]
    assert max(front) - min(front) == pytest.approx(5 + 15 / 16)
    # Outer corners lie on one line; the lower edge runs 11 1/4 in from it.
    lower = LineString([outline[-2], outline[-1]])
    slope = LineString([(11.0, 27.5 - 6.875 - 15 / 16), (33.0, 27.5 - 3 * 6.875 - 15 / 16)])
    direction = 6.875 / 11.0
    assert slope.distance(Point(22.0, 27.5 - 2 * 6.875 - 15 / 16)) == pytest.approx(0.0, abs=1e-9)
    (x0, z0), (x1, z1) = lower.coords
    assert abs((z1 - z0) / (x1 - x0)) == pytest.approx(direction)
    away = abs((z0 - (27.5 - 6.875 - 15 / 16)) + direction * (x0 - 11.0)) / (1 + direction**2) ** 0.5
    assert away == pytest.approx(11.25)
    assert Polygon(outline).is_valid


def test_a_mark_keeps_off_the_platform_next_door() -> None:
    study = deck()
    next_door = box_of(study.plan.platform("lower").outline)
    for label in plan_view(study).labels:
        if label.text.startswith("A-P") and label.role is Role.MARK:
            assert not next_door.holds(label.box), label.text
