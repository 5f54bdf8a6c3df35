"""The page on how we know: every comparison is on a sheet, told apart in grey, and what fails is admitted."""

from __future__ import annotations

import re
from collections import Counter
from itertools import pairwise

import pytest

from deckplan import tabulate
from deckplan.draw.agreement_view import MEANINGS, agreement_view, figures_of, look_of
from deckplan.draw.scene import Area, Label, Role, Scene
from deckplan.draw.style import PENS
from deckplan.engineering.agreement import Comparison
from deckplan.teach.agreement import Agreement

AGREEMENT = Agreement()
TABLES = tuple(dict.fromkeys(each.table for each in AGREEMENT.found))


def compare(
    printed: float, ours: float, tolerance: float = 0.5, bound: str = "both", cell: str = "2x6 at 12 in"
) -> Comparison:
    return Comparison(
        "joist spans", f"Southern pine, {cell}", printed, ours, "in", tolerance, bound, "a", "c"
    )


def areas(scene: Scene) -> list[Area]:
    return [shape for shape in scene.shapes if isinstance(shape, Area) and shape.mark]


# ---- what a cell looks like ----


@pytest.mark.parametrize(
    ("each", "look"),
    [
        (compare(100.0, 100.0), Role.CELL_CLOSE),
        (compare(100.0, 100.16), Role.CELL_CLOSE),
        (compare(100.0, 99.8), Role.CELL_NEAR),
        (compare(100.0, 100.34), Role.CELL_WITHIN),
        (compare(100.0, 99.5), Role.CELL_WITHIN),
        (compare(100.0, 100.51), Role.CELL_OFF),
        (compare(100.0, 99.4, bound="not under"), Role.CELL_OFF),
        (compare(100.0, 150.0, bound="not under"), Role.CELL_OVER),
        (compare(168.0, 168.0, bound="not under"), Role.CELL_OVER),
        (compare(15.0, 15.0, 0.0), Role.CELL_KEPT),
        (compare(15.0, 16.0, 0.0), Role.CELL_OFF),
    ],
)
def test_the_look_of_a_cell(each: Comparison, look: Role) -> None:
    assert look_of(each) is look


def test_looks_differ_without_colour() -> None:
    pens = [PENS[role] for role in MEANINGS]
    assert not any(pen.tint for pen in pens)
    shades = [PENS[role].fill for role in (Role.CELL_CLOSE, Role.CELL_NEAR, Role.CELL_WITHIN, Role.CELL_OFF)]
    assert shades == sorted(shades, reverse=True)
    assert min(a - b for a, b in pairwise(shades)) > 0.08
    assert PENS[Role.CELL_OVER].hatch
    assert PENS[Role.CELL_KEPT].dash
    assert PENS[Role.CELL_OFF].weight > 3 * PENS[Role.CELL_CLOSE].weight


def test_figures_that_do_not_agree_say_so() -> None:
    assert figures_of(compare(119.0, 118.809)) == "119 / 118.81"
    assert figures_of(compare(100.0, 101.0)) == "100 / 101, off"


# ---- sheets ----


@pytest.mark.parametrize("table", TABLES)
def test_every_comparison_stands_once_on_its_sheet_with_its_figures(table: str) -> None:
    scene = agreement_view(AGREEMENT.found, table)
    of = AGREEMENT.of(table)
    assert Counter(shape.mark for shape in areas(scene)) == Counter(each.cell for each in of)
    assert [look_of(each) for each in of] == [
        next(shape.role for shape in areas(scene) if shape.mark == each.cell) for each in of
    ]
    texts = {label.mark: label.text for label in scene.labels if label.mark}
    assert all(figures_of(each) in texts[each.cell] for each in of)


@pytest.mark.parametrize("table", TABLES)
def test_texts_keep_to_their_cells_and_do_not_cover_each_other(table: str) -> None:
    scene = agreement_view(AGREEMENT.found, table)
    cells = {shape.mark: shape.box for shape in areas(scene)}
    inside = [label for label in scene.labels if label.mark]
    assert all(cells[label.mark].grown(1e-6).holds(label.box) for label in inside)
    others = [label for label in scene.labels if not label.mark]
    boxes = [label.box.grown(-0.005) for label in others]
    assert not [
        (a.text, b.text)
        for i, a in enumerate(others)
        for j, b in enumerate(others[:i])
        if boxes[i].meets(boxes[j])
    ]
    assert not [
        label.text for label in others for cell in cells.values() if label.box.grown(-0.01).meets(cell)
    ]


def test_cells_never_overlap_on_a_sheet_of_all_tables() -> None:
    boxes = [shape.box.grown(-0.001) for shape in areas(agreement_view(AGREEMENT.found))]
    boxes.sort(key=lambda box: box.left)
    assert len(boxes) == len(AGREEMENT.found)
    for index, box in enumerate(boxes):
        for other in boxes[index + 1 :]:
            if other.left >= box.right:
                break
            assert not box.meets(other)


def test_a_printed_table_keeps_its_rows_and_columns() -> None:
    # AWC DCA6-2012 Table 2: three groups across; four sizes at three spacings down
    scene = agreement_view(AGREEMENT.found, "joist spans")
    centres = [shape.box.centre for shape in areas(scene)]
    assert len({round(x, 3) for x, _ in centres}) == 3
    assert len({round(y, 3) for _, y in centres}) == 12
    heads = " ".join(label.text for label in scene.labels if isinstance(label, Label))
    assert "spruce-pine-fir" in heads
    assert "2x12 at 24 in" in heads


def test_the_sheet_says_what_the_table_rests_on() -> None:
    text = agreement_view(AGREEMENT.found, "post heights").summary()
    assert "NOT reproduced" in text
    assert "the print governs: 105" in text  # the key says how many cells have each look


def test_the_sheets_summary_is_short_and_keeps_what_does_not_agree() -> None:
    scene = agreement_view(AGREEMENT.found, "beam spans", "ledgers")
    lines = scene.summary().splitlines()
    assert len(lines) < 25
    off = [label.text for label in scene.labels if isinstance(label, Label) and label.text.endswith(", off")]
    assert off
    assert {f"  {text}" for text in off} <= set(lines)
    cells = sum(isinstance(label, Label) and label.role is Role.MARK for label in scene.labels)
    (said,) = [line for line in lines if "texts (mark)" in line]
    # the first cell as the file of the table keeps it: 2-2x6 under joists of 6 ft, 83 in
    assert said.startswith(f"  {cells} texts (mark): 83 / 82.55, ")


def test_a_table_that_nobody_compared() -> None:
    with pytest.raises(KeyError):
        agreement_view(AGREEMENT.found, "balconies")
    with pytest.raises(KeyError):
        AGREEMENT.of("balconies")


# ---- tables and words ----


def test_the_summary_counts_every_figure() -> None:
    table = tabulate.agreement_summary(AGREEMENT.found)
    assert table["figures"].sum() == len(AGREEMENT.found)
    assert table["agree"].sum() == sum(each.agrees for each in AGREEMENT.found)
    rows = table.set_index("table")
    assert list(rows.loc["footings", ["tolerance", "held from"]]) == ["1 in", "both sides"]
    assert rows.loc["worked examples", "tolerance"] == "0.5%"
    assert rows.loc["fasteners", "tolerance"] == "half a printed step"
    assert rows.loc["ledgers", "held from"] == "looked up"


def test_the_farthest_off_come_first_and_only_from_what_is_computed() -> None:
    table = tabulate.agreement_table(AGREEMENT.found, worst=12)
    assert len(table) == 12
    assert list(table["cell"][:2]) == ["3x6, joists 16 ft, others", "3x8, joists 16 ft, others"]
    assert list(table["agrees"]) == [False, False] + [True] * 10
    assert not set(table["table"]) & {"post heights", "ledgers"}
    assert len(tabulate.agreement_table(AGREEMENT.found)) == len(AGREEMENT.found)


def test_what_is_not_reproduced_is_admitted_with_its_reason() -> None:
    said = AGREEMENT.say_admissions()
    flat = re.sub(r"\s+", " ", said)
    for words in (
        "Post heights are not reproduced", "The print therefore governs", "rest on tests", "3x6, joists 16 ft",
        "3x8, joists 16 ft", "Not tested: beams, posts and footings of the IRC 2021", "From memory", "Inferred",
    ):  # fmt: skip
        assert words in flat
    assert all(len(line) <= 100 for line in said.splitlines())
    off = [each for each in AGREEMENT.found if not each.agrees]
    assert all(each.cell in flat for each in off), "whatever does not agree is named"


def test_the_counts_in_words_follow_the_comparisons() -> None:
    wrong = tuple(
        each if each.table != "beam spans" else compare(each.printed, each.ours) for each in AGREEMENT.found
    )
    assert "476 of 478 published figures agree" in AGREEMENT.verdict()
    assert "350 of them agree" in AGREEMENT.verdict()
    fewer = Agreement(wrong[:40])
    assert "of 40 published figures" in fewer.verdict()


def test_the_picture_is_light_and_the_same_each_time() -> None:
    picture = AGREEMENT.picture("joist spans")
    png = picture._repr_png_()
    assert png.startswith(b"\x89PNG")
    assert len(png) < 40_000
    assert AGREEMENT.picture("joist spans")._repr_png_() == png
