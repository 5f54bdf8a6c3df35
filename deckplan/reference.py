"""Published tables and worked examples, each with its source and its units.

This module alone knows where the data lie: inside the package once installed (`deckplan/data`), next to it
in a checkout (`data`). Everything is read once and kept.
"""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from deckplan.errors import InputError, Problem
from deckplan.verdict import Source

_HERE = Path(__file__).resolve().parent
_HEADING = re.compile(r"^(?P<name>.*?)\s*(?:\[(?P<unit>[^\]]*)\])?$")


@cache
def data_path(*parts: str) -> Path:
    """Return the path of a file or folder of the data, e.g. `data_path("lumber", "sizes.csv")`.

    Raises InputError where it does not exist.
    """
    installed = _HERE / "data"
    root = installed if installed.is_dir() else _HERE.parent / "data"
    path = root.joinpath(*parts)
    if not path.exists():
        raise InputError([Problem("/".join(("data", *parts)), "a file or folder of the package's data")])
    return path


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table: text by column name; numbers on demand."""

    place: str
    cells: Mapping[str, str]

    def __getitem__(self, column: str) -> str:
        """Return the text of a cell."""
        return self.cells[column]

    def has(self, column: str) -> bool:
        """Say whether the source gives anything there."""
        return self.cells.get(column, "") != ""

    def number(self, column: str) -> float:
        """Return a cell as a number in the column's unit; raises InputError where it is none."""
        text = self.cells.get(column, "")
        try:
            return float(text)
        except ValueError:
            raise InputError([Problem(f"{self.place}, {column}", "a number", text or "nothing")]) from None


@dataclass(frozen=True, slots=True)
class Table:
    """A published table: its name, source, notes (the `#` lines), units by column, rows."""

    name: str
    source: Source
    notes: tuple[str, ...]
    units: Mapping[str, str]
    rows: tuple[Row, ...]

    def __iter__(self) -> Iterator[Row]:
        """Go through the rows."""
        return iter(self.rows)

    def where(self, **wanted: str) -> tuple[Row, ...]:
        """Return the rows whose cells equal the wanted texts; an underscore stands for a space in names."""
        pairs = [(column.replace("_", " "), text) for column, text in wanted.items()]
        return tuple(row for row in self.rows if all(row[column] == text for column, text in pairs))


def _source_of(notes: tuple[str, ...]) -> Source:
    """Take the source from the first note that names one: text after "Source:" up to the end of the line."""
    for note in notes:
        head, found, rest = note.partition("Source:")
        if found:
            return Source(rest.strip().rstrip("."), head.strip().rstrip("."))
    return Source(notes[0].rstrip(".") if notes else "")


@cache
def read_table(*parts: str) -> Table:
    """Read a CSV file of the data: `#` lines first, then headings such as `span [in]`, then rows.

    Raises InputError where a row has not as many cells as the heading.
    """
    path = data_path(*parts)
    name = "/".join(parts)
    with path.open(encoding="utf-8", newline="") as file:
        lines = file.read().splitlines()
    notes = tuple(line.lstrip("# ").strip() for line in lines if line.startswith("#"))
    body = [line for line in lines if line.strip() and not line.startswith("#")]
    grid = list(csv.reader(body))
    headings = [_HEADING.match(heading.strip()) for heading in grid[0]]
    names = [match["name"] for match in headings if match]
    units = {match["name"]: match["unit"] or "" for match in headings if match}
    rows = []
    for number, cells in enumerate(grid[1:], start=1):
        if len(cells) != len(names):
            raise InputError([Problem(f"{name}, row {number}", f"{len(names)} cells", str(len(cells)))])
        texts = dict(zip(names, (cell.strip() for cell in cells), strict=True))
        rows.append(Row(f"{name}, row {number}", MappingProxyType(texts)))
    return Table(name, _source_of(notes), notes, MappingProxyType(units), tuple(rows))


@cache
def read_json(*parts: str) -> Any:
    """Read a JSON file of the data. What comes back is shared: do not change it."""
    return json.loads(data_path(*parts).read_text(encoding="utf-8"))
