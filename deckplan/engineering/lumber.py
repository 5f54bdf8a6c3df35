"""Lumber: dressed sizes, built-up members, reference design values by species, grade and size."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from functools import cache

from deckplan.errors import InputError, Problem
from deckplan.reference import Row, read_table
from deckplan.verdict import Source

_SIZE = re.compile(r"^(?:\(?(?P<plies>\d+)\)?(?:\s*-\s*|\s+|(?<=\))))?(?P<thick>\d+)\s*[x×]\s*(?P<deep>\d+)$")
_TIMBER_FROM = 4.5  # dressed thickness of a 5 in timber [in]


@dataclass(frozen=True, slots=True)
class Size:
    """A member's cross-section.

    name: as written on drawings, e.g. "2-2x10"; plies: pieces side by side; ply: the name of one of them;
    ply_thickness, depth [in]: dressed; thickness [in]: of all plies together; nominal_thickness,
    nominal_depth [in].
    """

    name: str
    ply: str
    plies: int
    ply_thickness: float
    depth: float
    nominal_thickness: int
    nominal_depth: int
    confirmed: str

    @property
    def thickness(self) -> float:
        """Width of the whole member [in]."""
        return self.plies * self.ply_thickness

    @property
    def area(self) -> float:
        """Cross-section A = b d [in2]."""
        return self.thickness * self.depth

    @property
    def section_modulus(self) -> float:
        """S = b d2 / 6 about the strong axis [in3]."""
        return self.thickness * self.depth**2 / 6

    @property
    def moment_of_inertia(self) -> float:
        """I = b d3 / 12 about the strong axis [in4]."""
        return self.thickness * self.depth**3 / 12

    @property
    def is_timber(self) -> bool:
        """5x5 in and larger: other design values, other factors."""
        return self.ply_thickness >= _TIMBER_FROM


@dataclass(frozen=True, slots=True)
class DesignValues:
    """Reference design values of one species, grade and size class [psi]; G: specific gravity [1].

    table: "4A" dimension lumber, "4B" southern pine (size factor already in the values), "4D" timbers;
    wet_already: the values are tabulated for wet service; confirmed, note: how far the row can be trusted.
    """

    species: str
    grade: str
    Fb: float
    Ft: float
    Fv: float
    Fc_perp: float
    Fc: float
    E: float
    Emin: float
    G: float
    table: str
    wet_already: bool
    confirmed: str
    note: str
    source: Source


def size_names() -> tuple[str, ...]:
    """Return the nominal sizes of single pieces, smallest first as in the table."""
    return tuple(row["nominal"] for row in read_table("lumber", "sizes.csv"))


@cache
def read_size(text: str) -> Size:
    """Read a size as carpenters write it: "2x10", "3-2x12" or "(3) 2x12" (built up), "4x10" (solid).

    Raises InputError for a size that is not in the table, or a built-up of other than 2 to 4 pieces of
    2x or 3x.

    Source: NDS Supplement 2018 Table 1B (dressed sizes). 8 in timbers count 7.25 in: see the table's note.

    >>> read_size("2-2x10").area
    27.75
    """
    match = _SIZE.match(text.strip().lower())
    if match is None:
        raise InputError([Problem("size", 'a size such as "2x10", "3-2x12" or "6x6"', f'"{text}"')])
    ply = f"{int(match['thick'])}x{int(match['deep'])}"
    plies = int(match["plies"] or 1)
    row = _size_rows().get(ply)
    if row is None:
        near = difflib.get_close_matches(ply, _size_rows(), n=3) or list(size_names())
        raise InputError([Problem("size", f"one of {', '.join(near)}", f'"{text}"')])
    thick = int(match["thick"])
    if not 1 <= plies <= 4 or (plies > 1 and thick > 3):
        raise InputError([Problem("size", "one piece, or two to four plies of 2x or 3x", f'"{text}"')])
    name = ply if plies == 1 else f"{plies}-{ply}"
    dressed = row.number("thickness"), row.number("depth")
    return Size(name, ply, plies, *dressed, thick, int(match["deep"]), row["confirmed"])


@cache
def _size_rows() -> dict[str, Row]:
    return {row["nominal"]: row for row in read_table("lumber", "sizes.csv")}


def species_names() -> tuple[str, ...]:
    """Return the species of the design value table, in its order, without the row notes in brackets."""
    rows = read_table("lumber", "design_values.csv")
    return tuple(dict.fromkeys(_plain_species(row["species"]) for row in rows))


def grade_names(species: str) -> tuple[str, ...]:
    """Return the grades that the table knows for a species."""
    wanted = {_resolve(species, timber).lower() for timber in (False, True)}
    rows = read_table("lumber", "design_values.csv")
    return tuple(dict.fromkeys(row["grade"] for row in rows if row["species"].lower() in wanted))


def read_species(text: str) -> tuple[str, ...]:
    """Split a species text into its members: "Redwood, western cedars, red pine" -> three.

    A group of a published table is the list of its members; its span is the least over them.

    >>> read_species("Douglas fir-larch, hem-fir, spruce-pine-fir")
    ('Douglas fir-larch', 'hem-fir', 'spruce-pine-fir')
    """
    parts = [part.strip() for part in re.split(r"[,;]|\band\b|&", text)]
    return tuple(part for part in parts if part)


def _plain_species(name: str) -> str:
    return name.replace("(wet service row)", "").strip()


@cache
def _aliases() -> dict[tuple[str, str], str]:
    rows = read_table("lumber", "species.csv")
    return {(row["name"], row["kind"]): row["design values of"] for row in rows}


def _resolve(species: str, timber: bool) -> str:
    key = re.sub(r"\s+", " ", species.strip().lower())
    return _aliases().get((key, "timber" if timber else "dimension"), key)


def _plain_grade(text: str) -> str:
    plain = re.sub(r"\s+", " ", text.strip().lower().replace("#", "no. "))
    plain = re.sub(r"\bno\.?\s*", "no. ", plain)
    plain = plain.replace(" and better", " & btr").replace(" & better", " & btr")
    plain = f"no. {plain}" if plain[:1].isdigit() else plain
    return {"ss": "select structural", "sel. str.": "select structural"}.get(plain, plain)


def _grade_rows(rows: list[Row], grade: str) -> list[Row]:
    """Rows of exactly this grade, else rows that name it among several ("No. 1 / No. 2")."""
    exact = [row for row in rows if _plain_grade(row["grade"]) == grade]
    among = [row for row in rows if grade in [_plain_grade(part) for part in row["grade"].split(" / ")]]
    return exact or among


def _width_class(size: Size) -> str:
    """The row of Table 4B by nominal width; wider than 12 in uses the 12 in row."""
    if size.nominal_depth <= 4:
        return "2-4 in wide"
    if size.nominal_depth <= 6:
        return "5-6 in wide"
    return f"{size.nominal_depth} in wide" if size.nominal_depth in (8, 10) else "12 in wide"


@cache
def design_values(species: str, grade: str, size: Size | str) -> DesignValues:
    """Return the reference design values of one species and grade in one size.

    species: a name of the design value table or of its list of other names, any case; grade: "No. 2" also
    finds "No. 1 / No. 2"; size: a Size or its name (timbers, southern pine by width).
    Raises InputError with the nearest names where species, grade or the size class is unknown.

    Source: NDS Supplement 2018 Tables 4A, 4B, 4D; G from NDS 2018 Table 12.3.3A.

    >>> design_values("southern pine", "No. 2", "2x8").Fb
    925.0
    """
    size = read_size(size) if isinstance(size, str) else size
    table = read_table("lumber", "design_values.csv")
    name = _resolve(species, size.is_timber)
    known = [row for row in table if row["species"].lower() == name.lower()]
    kind = [row for row in known if row["NDS table"].startswith("4D") == size.is_timber]
    if not kind and not any(species.strip().lower() == other for other, _ in _aliases()) and not known:
        raise InputError([Problem("species", _nearest(species, list(species_names())), f'"{species}"')])
    if not kind:
        what = "timbers 5x5 and larger" if size.is_timber else "lumber 2 to 4 in thick"
        expected = f"a species whose values for {what} are in the table"
        raise InputError([Problem(f"species, {size.name}", expected, f'"{species}"')])
    wanted = _plain_grade(grade)
    rows = _grade_rows(kind, wanted)
    if wanted == "stud" and size.nominal_depth >= 8:
        rows = _grade_rows(
            kind, "no. 3"
        )  # Table 4A: Stud 8 in and wider has the values of No. 3 (from memory)
    if not rows:
        grades = list(dict.fromkeys(row["grade"] for row in kind))
        raise InputError([Problem(f"grade of {known[0]['species']}", _nearest(grade, grades), f'"{grade}"')])
    if rows[0]["NDS table"] == "4B":
        rows = [row for row in rows if row["size class"].startswith(_width_class(size))]
    return _values(rows[0], table.source)


def _nearest(text: str, names: list[str]) -> str:
    lowered = {name.lower(): name for name in names}
    near = difflib.get_close_matches(text.strip().lower(), lowered, n=3, cutoff=0.5)
    chosen = [lowered[name] for name in near] or names
    return f"one of {'; '.join(chosen)}"


def _values(row: Row, source: Source) -> DesignValues:
    table = row["NDS table"].split()[0]
    note = row["note"] if row.has("note") else ""
    numbers = {symbol: row.number(symbol) for symbol in ("Fb", "Ft", "Fv", "Fc_perp", "Fc", "E", "Emin", "G")}
    return DesignValues(
        species=_plain_species(row["species"]),
        grade=row["grade"],
        table=table,
        wet_already="wet service row" in row["species"],
        confirmed=row["confirmed"],
        note=note,
        source=Source("NDS Supplement 2018", f"Table {table}", row["confirmed"]),
        **numbers,
    )
