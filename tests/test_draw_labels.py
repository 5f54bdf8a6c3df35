"""Letters, boxes and the placing of texts, held against the font itself and against shapely."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath
from shapely import LineString, Polygon
from shapely import box as shapely_box
from shapely.geometry import Point as ShapelyPoint

from deckplan.draw.labels import Ground, Wish, crosses, overlaps, place, round_about
from deckplan.draw.letters import width_of
from deckplan.draw.plan_parts import clip
from deckplan.draw.scene import Box, Role, box_of, text_box
from deckplan.draw.shapes import crossings, inside, strip

WHOLE = st.integers(-40, 40)
POINTS = st.tuples(WHOLE, WHOLE)


@pytest.mark.parametrize(
    "text",
    [
        "A-P1",
        "3-2x10",
        "12'-6 1/2\"",
        'B-F12 16" dia.',
        "Framing plan",
        "Scale 1/4 in = 1 ft",
        "Größe über 3,81 m",
    ],
)
def test_widths_are_those_of_the_font(text: str) -> None:
    # Source: the glyph tables of DejaVu Sans as matplotlib ships it (the ink of a line, so a little under its
    # advance).
    ink = TextPath((0, 0), text, size=1000, prop=FontProperties("DejaVu Sans")).get_extents()
    measured = width_of(text, 1000.0)
    assert ink.x1 <= measured + 1
    assert ink.width > 0.80 * measured
    assert ink.y1 - 365 < 600
    assert ink.y0 - 365 > -620


def test_a_letter_that_is_not_listed_counts_generously() -> None:
    # Source: Unicode Standard Annex 11, East Asian Width: ideographs take a full square.
    assert width_of("庭", 10.0) >= 10.0
    assert width_of("e\u0301", 10.0) == width_of("e", 10.0)


def test_the_longest_line_counts() -> None:
    assert width_of("A\nlonger line", 3.0) == width_of("longer line", 3.0)
    assert text_box("a\nb", (0.0, 0.0), 10.0).height == 2 * text_box("a", (0.0, 0.0), 10.0).height


def test_upright_text_swaps_its_measures() -> None:
    level, upright = (
        text_box("A-B1  2-2x10", (5.0, 7.0), 2.0),
        text_box("A-B1  2-2x10", (5.0, 7.0), 2.0, 90.0),
    )
    assert (upright.width, upright.height) == pytest.approx((level.height, level.width))
    assert upright.centre == pytest.approx((5.0, 7.0))


@given(POINTS, POINTS, POINTS, st.integers(1, 30), st.integers(1, 30))
def test_a_line_crosses_a_box_where_shapely_says_so(a, b, corner, wide, high) -> None:
    # Source: shapely (GEOS) as reference library.
    assume(a != b)
    box = Box(corner[0], corner[1], corner[0] + wide, corner[1] + high)
    # A line along a side only touches: the open box is asked about.
    expected = LineString([a, b]).intersection(shapely_box(*box)).length > 1e-9 and not _on_side(a, b, box)
    assert crosses((a, b), box) == expected
    kept = clip(a, b, box)
    assert (kept is not None) == (LineString([a, b]).intersection(shapely_box(*box)).length > 1e-9)


def _on_side(a, b, box: Box) -> bool:
    return shapely_box(*box).boundary.intersection(LineString([a, b])).length > 1e-9


@given(POINTS)
def test_a_point_is_inside_where_shapely_says_so(at) -> None:
    outline = ((-30.5, -20.5), (25.5, -20.5), (25.5, 3.5), (5.5, 3.5), (5.5, 30.5), (-30.5, 30.5))
    # Source: shapely (GEOS) as reference library.
    assert inside(at, outline) == Polygon(outline).contains(ShapelyPoint(at))


@given(st.integers(-29, 24), st.sampled_from([0, 1]))
def test_a_cut_passes_through_an_outline_where_shapely_says_so(at, axis) -> None:
    outline = ((-30.5, -20.5), (25.5, -20.5), (25.5, 3.5), (5.5, 3.5), (5.5, 30.5), (-30.5, 30.5))
    line = LineString([(at, -99), (at, 99)] if axis == 0 else [(-99, at), (99, at)])
    shared = line.intersection(Polygon(outline))
    ends = sorted(point[1 - axis] for point in shared.coords) if not shared.is_empty else []
    # Source: shapely (GEOS) as reference library.
    assert crossings(outline, axis, at) == pytest.approx(ends)


def test_a_strip_has_the_area_of_length_times_width() -> None:
    # 3-4-5 triangle: the line is 50 long.
    assert Polygon(strip(((10, 10), (40, 50)), 3.0)).area == pytest.approx(150.0)


WISHES = st.lists(
    st.tuples(
        POINTS,
        st.text(st.characters(codec="ascii", min_codepoint=32), min_size=1, max_size=14),
        st.booleans(),
    ),
    min_size=1,
    max_size=30,
)


@settings(max_examples=60, deadline=None)
@given(WISHES)
def test_no_text_lies_on_another_and_none_that_is_needed_is_lost(found) -> None:
    wishes = [
        Wish(text, at, round_about(at, text, 2.0, 1.0), 2.0, Role.MARK, mark=str(i), needed=needed)
        for i, (at, text, needed) in enumerate(found)
    ]
    solids = [Box(-5, -5, 5, 5)]
    labels = place(wishes, Ground(solids=solids), 0.5)
    assert overlaps([(label.text, label.box) for label in labels]) == []
    placed = {label.mark for label in labels}
    assert {wish.mark for wish in wishes if wish.needed} <= placed
    for label in labels:
        for start, end in zip(label.leader, label.leader[1:], strict=False):
            x, y = end
            others = [other.box for other in labels if other is not label]
            clear = [b for b in others if not b.grown(0.3).holds(Box(x, y, x, y))]
            assert not any(crosses((start, end), box) for box in clear), (
                "only a text over the target is crossed"
            )


def test_a_text_that_has_to_stand_away_gets_a_leader_to_its_target() -> None:
    taken = [Box(-20, -20, 20, 20)]
    wish = Wish("A-P1", (0.0, 0.0), round_about((0.0, 0.0), "A-P1", 2.0, 1.0), 2.0, Role.MARK)
    (label,) = place([wish], Ground(solids=taken), 0.5)
    assert not label.box.meets(taken[0])
    assert label.leader[-1] == (0.0, 0.0)
    # A little of a solid may be covered rather than that.
    (label,) = place([wish], Ground(solids=[Box(-20, -20, 20, -0.5)]), 0.5)
    assert label.leader == ()
    (label,) = place([wish], Ground(texts=[Box(1, -20, 40, 20), Box(-40, -20, -1, 20)]), 0.5)
    assert label.leader[-1] == (0.0, 0.0)
    assert not label.box.meets(Box(1, -20, 40, 20))


def test_a_text_that_is_not_needed_is_left_out_where_there_is_no_room() -> None:
    wish = Wish("A-P1", (0.0, 0.0), ((0.0, 0.0),), 2.0, Role.MARK, needed=False)
    assert place([wish], Ground(texts=[Box(-9, -9, 9, 9)]), 0.5) == ()


def test_boxes_know_each_other() -> None:
    box = box_of([(0, 0), (4, 2)])
    assert box.grown(1).holds(box)
    assert not box.meets(Box(4, 0, 8, 2)), "a shared side is no overlap"
    assert overlaps([("a", box), ("b", Box(3, 1, 9, 9)), ("c", Box(20, 20, 30, 30))]) == [("a", "b")]
