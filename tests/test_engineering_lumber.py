"""Sizes and design values. Expected numbers: NDS Supplement 2018 Tables 1B, 4A, 4B, 4D."""

import pytest

from deckplan.engineering.lumber import (
    design_values,
    grade_names,
    read_size,
    read_species,
    size_names,
    species_names,
)
from deckplan.errors import InputError
from deckplan.reference import read_table


@pytest.mark.parametrize(
    ("text", "area", "modulus", "inertia"),
    [
        ("2x4", 5.25, 3.063, 5.359),  # NDS Supplement 2018 Table 1B
        ("2x6", 8.25, 7.563, 20.80),
        ("2x8", 10.88, 13.14, 47.63),
        ("2x10", 13.88, 21.39, 98.93),
        ("2x12", 16.88, 31.64, 178.0),
        ("4x4", 12.25, 7.146, 12.51),
        ("4x10", 32.38, 49.91, 230.8),
        ("6x6", 30.25, 27.73, 76.26),
    ],
)
def test_section_properties_of_the_supplement(text, area, modulus, inertia):
    size = read_size(text)
    assert size.area == pytest.approx(area, rel=1e-3)
    assert size.section_modulus == pytest.approx(modulus, rel=1e-3)
    assert size.moment_of_inertia == pytest.approx(inertia, rel=1e-3)


@pytest.mark.parametrize("text", ["3-2x12", "(3) 2x12", "3 - 2 x 12", "(3)2×12", "3-2X12"])
def test_built_up_sizes_in_any_spelling(text):
    size = read_size(text)
    assert (size.name, size.plies, size.thickness, size.depth) == ("3-2x12", 3, 4.5, 11.25)


@pytest.mark.parametrize("text", ["5-2x10", "0-2x10", "2-4x10", "2x9", "10", "2 by 10", "", "-2x10"])
def test_sizes_that_do_not_exist_are_refused(text):
    with pytest.raises(InputError, match="size"):
        read_size(text)


def test_the_unresolved_eight_by_eight_takes_the_smaller_size():
    assert read_size("8x8").depth == 7.25
    assert "unresolved" in read_size("8x8").confirmed


def test_all_sizes_read():
    assert {read_size(name).name for name in size_names()} == set(size_names())


@pytest.mark.parametrize("species", ["hem-fir", "HEM-FIR", "Hem-Fir"])
@pytest.mark.parametrize("grade", ["No. 2", "no.2", "#2", "2", "NO 2"])
def test_names_in_any_spelling(species, grade):
    assert design_values(species, grade, "2x8").Fb == 850.0  # Table 4A


def test_no_2_also_finds_no_1_slash_no_2():
    assert design_values("spruce-pine-fir", "No. 2", "2x8").grade == "No. 1 / No. 2"
    assert design_values("spruce-pine-fir", "No. 1", "2x8").Fb == 875.0


@pytest.mark.parametrize(
    ("size", "Fb"),
    [("2x4", 1100), ("2x6", 1000), ("2x8", 925), ("2x10", 800), ("2x12", 750), ("3-2x10", 800)],
)
def test_southern_pine_goes_by_width(size, Fb):
    assert design_values("southern pine", "No. 2", size).Fb == Fb  # Table 4B, 2013 values


def test_timbers_have_values_of_their_own():
    timber, lumber = (
        design_values("Douglas fir-larch", "No. 2", "6x6"),
        design_values("Douglas fir-larch", "No. 2", "4x6"),
    )
    assert (timber.table, timber.Fb, timber.E) == ("4D", 750.0, 1.3e6)
    assert (lumber.table, lumber.Fb, lumber.E) == ("4A", 900.0, 1.6e6)


def test_the_southern_pine_timber_row_is_already_wet():
    assert design_values("southern pine", "No. 2", "6x6").wet_already
    assert not design_values("southern pine", "No. 2", "4x6").wet_already


def test_ponderosa_pine_is_northern_species_until_it_is_a_timber():
    assert design_values("ponderosa pine", "No. 2", "2x8").species == "Northern Species"
    assert design_values("ponderosa pine", "No. 2", "6x6").species == "Ponderosa Pine"


def test_memory_only_rows_say_so():
    values = design_values("hem-fir", "No. 2", "6x6")
    assert "MEMORY" in values.confirmed
    assert "from memory" in str(values.source).lower()


@pytest.mark.parametrize(
    ("species", "grade", "size", "message"),
    [
        ("duglas fir-larch", "No. 2", "2x8", "Douglas Fir-Larch"),
        ("hem-fir", "No. 5", "2x8", "No. 2"),
        ("moon pine", "No. 2", "2x8", "Ponderosa Pine"),
        ("red pine", "No. 2", "6x6", "timbers 5x5 and larger"),
        ("Northern White Cedar", "No. 2", "8x8", "timbers 5x5 and larger"),
    ],
)
def test_unknown_names_list_the_nearest(species, grade, size, message):
    with pytest.raises(InputError, match=message):
        design_values(species, grade, size)


def test_groups_split_into_their_members():
    members = read_species("Redwood, western cedars, ponderosa pine and red pine")
    assert members == ("Redwood", "western cedars", "ponderosa pine", "red pine")


def test_every_row_of_the_design_value_table_can_be_found():
    widths = {"2-4": "2x4", "5-6": "2x6", "8 i": "2x8", "10 ": "2x10", "12 ": "2x12", "5x5": "6x6"}
    for row in read_table("lumber", "design_values.csv"):
        size = widths.get(row["size class"][:3], "2x6")
        name = row["species"].removesuffix(" (wet service row)")
        found = design_values(name, row["grade"], size)
        assert (found.Fb, found.E, found.Fc_perp) == tuple(row.number(c) for c in ("Fb", "E", "Fc_perp"))


def test_lists_of_names():
    assert "Southern Pine" in species_names()
    assert "No. 2 Dense" in grade_names("southern pine")
