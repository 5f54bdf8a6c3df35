"""Cuts of ends: mitres of rims and borders, bevels at slanted rims, in the cut lists."""

from __future__ import annotations

import math

import pytest
import shapely
from shapely import Polygon

from deckplan import tabulate
from deckplan.buy.cutting import said_ends
from deckplan.layout.ends import cut_ends, shape_of
from deckplan.layout.model import Kind
from deckplan.study import Study
from tests.decks import beam, make_plan, platform, rectangle

Corner = tuple[float, float]


def regular(count: int, turn: float = 0.0) -> list[Corner]:
    """A regular polygon 10 ft from its centre to its corners, turned by degrees."""
    return [
        (150 + 120 * math.cos(math.radians(turn + 360 * k / count)),
         150 + 120 * math.sin(math.radians(turn + 360 * k / count)))
        for k in range(count)
    ]  # fmt: skip


def deck(outline: list[Corner], direction: str | float = "y", border: int = 0) -> Study:
    joists = {"direction": direction, "size": "2x10"}
    lines = (beam(24.0), beam(90.0), beam(180.0))
    return Study(make_plan(platform("deck", outline, 36.0, *lines, joists=joists, boards={"border": border})))


@pytest.mark.parametrize(("count", "turn"), [(5, 7.0), (6, 7.0), (8, 7.0), (12, 7.0)])
def test_rims_round_a_regular_polygon_are_mitred(count: int, turn: float) -> None:
    """Half of the turn at each corner: 360 / n / 2 degrees off square, both long points outside (common practice)."""
    study = deck(regular(count, turn))
    rims = study.layout.of("deck", Kind.RIM)
    cuts = cut_ends(study.layout.members)
    assert len(rims) == count
    for rim in rims:
        assert [abs(cut) for cut in cuts[rim.mark]] == pytest.approx([180 / count] * 2)
        assert said_ends(cuts[rim.mark]).endswith("against")
    # together they close the edge: a ring of 1-1/2 in without a gap and without one lying in another
    shapes = [Polygon(shape_of(rim, cuts)) for rim in rims]
    outline = Polygon(regular(count, turn))
    ring = outline.difference(outline.buffer(-1.5, join_style="mitre"))
    assert sum(shape.area for shape in shapes) == pytest.approx(ring.area)
    assert shapely.union_all(shapes, grid_size=1e-6).area == pytest.approx(ring.area)


@pytest.mark.parametrize("direction", [30.0, 45.0, 60.0])
def test_rims_at_square_corners_butt(direction: float) -> None:
    """One runs through and one butts, so that a rim less than its edge by 1-1/2 in (by hand)."""
    study = deck(rectangle(0, 0, 144, 120), direction)
    rims = study.layout.of("deck", Kind.RIM)
    assert sorted(rim.length for rim in rims) == pytest.approx([118.5, 118.5, 142.5, 142.5])
    cuts = cut_ends(study.layout.members)
    assert not {rim.mark for rim in rims} & cuts.keys()
    # joists end on the slanted rims: off square by what they run off square to them
    ends = {round(abs(cut), 3) for m in study.layout.of("deck", Kind.JOIST) for cut in cuts.get(m.mark, ())}
    assert ends == {direction, 90 - direction}


def test_a_clipped_corner_by_hand() -> None:
    """45 degrees off a corner: the rim at the clip meets the next rim at half of 45 degrees; at the end joist it is cut
    along that joist's face, 45 degrees, and the joist ends on it at 45."""
    study = deck([(0, 0), (168, 0), (168, 108), (132, 144), (0, 144)])
    cuts = cut_ends(study.layout.members)
    said = {rim.mark: said_ends(cuts.get(rim.mark, (0.0, 0.0))) for rim in study.layout.of("deck", Kind.RIM)}
    assert said == {"A-R1": "", "A-R2": "22.5 and 45 the same way", "A-R3": "square and 22.5"}
    table = tabulate.members(study).set_index("mark")
    assert table.loc["A-R2", "ends off square [deg]"] == "22.5 and 45 the same way"
    # 36 in each way are 50.91 in; on the joist's side 1-1/2 in x tan 45 more, 52.41 in
    (piece,) = [text for text in tabulate.cuts(study)["cut into"] if "22.5 and 45" in text]
    assert "4'-4 7/16\" (22.5 and 45 the same way)" in piece


def test_border_boards_say_their_mitres() -> None:
    boards = tabulate.boards(deck(rectangle(0, 0, 144, 120), border=1))
    border = boards[boards["kind"] == "border"]
    assert set(border["ends off square [deg]"]) == {"45 and 45 against"}
    assert set(boards[boards["kind"] == "field"]["ends off square [deg]"]) == {""}
    octagon = tabulate.boards(deck(regular(8, 22.5), border=1))
    assert set(octagon[octagon["kind"] == "border"]["ends off square [deg]"]) == {"22.5 and 22.5 against"}


def test_diagonal_boards_are_cut_alike_at_both_ends() -> None:
    one = platform("deck", rectangle(0, 0, 144, 120), 36.0, beam(12), beam(108), boards={"angle": 30})
    boards = tabulate.boards(Study(make_plan(one)))
    said = set(boards[boards["kind"] == "field"]["ends off square [deg]"])
    # between two edges along the joists both are cut at the angle of the boards, the same way
    assert "30 and 30 the same way" in said
    assert all("30" in text or "60" in text for text in said)
