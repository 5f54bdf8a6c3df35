"""All published figures of data/reference beside ours: printed cells and worked examples (sources there)."""

import pytest

from deckplan.engineering.agreement import (
    Comparison,
    compare_all,
    compare_beams,
    compare_examples,
    compare_fasteners,
    compare_footings,
    compare_joists,
    compare_ledgers,
    compare_posts,
)
from deckplan.engineering.fastener_cells import compute_cell
from deckplan.engineering.lumber import design_values
from deckplan.errors import InputError
from deckplan.reference import read_json

BOTH = {"compare_joists": 72, "compare_footings": 63, "compare_ledgers": 21, "compare_fasteners": 53}


@pytest.mark.parametrize("each", list(compare_fasteners()), ids=lambda each: each.cell)
def test_every_printed_fastener_cell_within_half_a_unit(each):
    assert each.ours == pytest.approx(each.printed, abs=each.tolerance * 1.0001)


@pytest.mark.parametrize("each", list(compare_examples()), ids=lambda each: each.cell)
def test_every_answer_of_every_worked_example_within_half_a_percent(each):
    assert each.ours == pytest.approx(each.printed, rel=0.005)


def test_the_examples_use_the_values_of_our_tables():
    """The inputs that an example prints are the rows that our tables hold."""
    given = {example["id"]: example["inputs"] for example in read_json("reference", "worked_examples.json")}
    for name, species, grade, size in (
        ("AWC-E1.2a", "douglas fir-larch", "select structural", "4x12"),
        ("AWC-E1.6-CD1.25", "hem-fir", "No. 2", "2x8"),
        ("AWC-E1.7-CD1.6", "southern pine", "No. 1", "2x6"),
        ("AWC-E1.8-CD1.15", "southern pine", "No. 2", "2x4"),
        ("CE479-F06", "douglas fir-larch", "No. 1", "2x8"),
        ("HUD-RSDG-col", "spruce-pine-fir", "No. 2", "4x4"),
        ("post-6x6-SP", "southern pine", "No. 2", "6x6"),
        ("joist-2x10-SPF", "spruce-pine-fir", "No. 2", "2x10"),
    ):
        values = design_values(species, grade, size)
        for symbol in ("Fb", "Ft", "Fv", "Fc", "E", "Emin"):
            if symbol in given[name]:
                assert getattr(values, symbol) == given[name][symbol], (name, symbol)


@pytest.mark.parametrize(
    "source", [compare_joists, compare_footings, compare_ledgers, compare_posts, compare_fasteners]
)
def test_each_table_agrees_in_every_cell(source):
    found = list(source())
    assert [each.cell for each in found if not each.agrees] == []
    assert len(found) == BOTH.get(source.__name__, 105)


def test_two_recalled_beam_cells_are_the_only_ones_that_do_not_agree():
    found = list(compare_beams())
    off = [each for each in found if not each.agrees]
    assert [each.cell for each in off] == ["3x6, joists 16 ft, others", "3x8, joists 16 ft, others"]
    assert all(each.confirmed == "from memory" and each.difference < 0.6 for each in off)


def test_every_comparison_says_what_it_assumes_and_how_sure_it_is():
    for each in compare_all():
        assert each.assumption
        assert each.confirmed


def test_what_counts_as_agreement():
    cell = Comparison("t", "c", 100.0, 100.4, "in", 0.5, "both", "", "")
    assert cell.agrees
    assert not Comparison("t", "c", 100.0, 100.6, "in", 0.5, "both", "", "").agrees
    assert not Comparison("t", "c", 100.0, 99.4, "in", 0.5, "both", "", "").agrees
    assert Comparison("t", "c", 100.0, 150.0, "in", 0.5, "not under", "", "").agrees
    assert not Comparison("t", "c", 100.0, 99.4, "in", 0.5, "not under", "", "").agrees


@pytest.mark.parametrize("text", ["14Z something", "12N nail: hammer ts=1 G=0.5"])
def test_cells_that_cannot_be_read(text):
    with pytest.raises(InputError):
        compute_cell(text)
