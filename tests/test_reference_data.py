"""The data folder: found, readable, every table with its source and with numbers where it claims units."""

import re

import pytest

from deckplan.errors import InputError
from deckplan.reference import data_path, read_json, read_table

TABLES = sorted(
    path.relative_to(data_path()).parts
    for folder in ("lumber", "reference")
    for path in data_path(folder).glob("*.csv")
)


@pytest.mark.parametrize("parts", TABLES, ids="/".join)
def test_each_table_names_its_source_first(parts):
    table = read_table(*parts)
    assert table.rows
    assert table.source.document
    assert re.search(r"NDS|IRC|AWC|ICC", table.source.document)


@pytest.mark.parametrize("parts", TABLES, ids="/".join)
def test_cells_of_columns_with_a_unit_are_numbers_or_empty(parts):
    table = read_table(*parts)
    for row in table:
        for column, unit in table.units.items():
            if unit and row.has(column):
                row.number(column)


@pytest.mark.parametrize("name", ["adjustment_factors", "beam_cases", "worked_examples"])
def test_json_files_open(name):
    assert read_json("reference", f"{name}.json")


def test_a_table_is_read_once():
    assert read_table("lumber", "sizes.csv") is read_table("lumber", "sizes.csv")


def test_what_is_not_there_is_named():
    with pytest.raises(InputError, match=r"data/reference/moon\.csv"):
        read_table("reference", "moon.csv")


def test_an_empty_cell_is_not_a_number():
    row = next(row for row in read_table("reference", "decking_spacing.csv") if not row.has("diagonal"))
    with pytest.raises(InputError, match="diagonal: a number, not nothing"):
        row.number("diagonal")


def test_rows_by_content():
    rows = read_table("reference", "joist_spans.csv").where(size="2x10", spacing="16")
    assert [row["span"] for row in rows] == ["168", "163", "156"]  # AWC DCA6-2012 Table 2


def test_no_file_names_a_host():
    for folder in ("lumber", "reference"):
        for path in data_path(folder).iterdir():
            assert not re.search(r"https?:|www\.|\.com\b|\.org\b", path.read_text(encoding="utf-8")), path
