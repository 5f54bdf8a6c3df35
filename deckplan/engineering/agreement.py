"""Every published cell that we hold, computed again: how far our sums agree with print.

Each comparison says under which assumptions the printed figure comes out, and how far that figure is confirmed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from deckplan.engineering.beams import beam_span
from deckplan.engineering.columns import post_height
from deckplan.engineering.concrete import footing_size
from deckplan.engineering.fastener_cells import compute_cell
from deckplan.engineering.joists import joist_overhang, joist_span
from deckplan.engineering.lumber import read_species
from deckplan.engineering.prescriptive import ledger_spacing
from deckplan.engineering.worked_examples import EXAMPLES
from deckplan.reference import Row, Table, read_json, read_table

_POSTS = {  # columns of the printed table: species, incised
    "6x6 height Southern pine": ("southern pine", False),
    "6x6 height Douglas fir-larch": ("douglas fir-larch", True),
    "6x6 height Hem-fir, western cedars": ("hem-fir, western cedars", False),
    "6x6 height Redwood": ("redwood", False),
    "6x6 height Ponderosa pine, red pine, spruce-pine-fir": ("ponderosa pine, spruce-pine-fir", False),
}
_DCA6_LOAD = 50 * 0.75  # [psf] area load on a post of the printed table, times beam span times joist span


@dataclass(frozen=True, slots=True)
class Comparison:
    """One published figure beside ours.

    table, cell: where it is printed; printed, ours [unit]: ours unrounded; step [unit]: the print's last place;
    tolerance [unit]: how far they may differ and still agree; bound: "both" sides, or "not under" where ours may
    only be larger; assumption: what makes the figure come out; confirmed: how far the printed figure is.
    """

    table: str
    cell: str
    printed: float
    ours: float
    unit: str
    tolerance: float
    bound: str
    assumption: str
    confirmed: str

    @property
    def difference(self) -> float:
        """Ours less printed [unit]."""
        return self.ours - self.printed

    @property
    def agrees(self) -> bool:
        """Whether the difference stays within the tolerance."""
        off = self.difference + self.tolerance * 1.0001
        return off >= 0 if self.bound == "not under" else 0 <= off <= 2.0002 * self.tolerance


def _is_incised(group: str) -> bool:
    rows = read_table("reference", "species_groups.csv").where(table="joist", group=group)
    return any(row["incised"] == "yes" for row in rows)


def _confirmed(row: Row, table: Table) -> str:
    return (
        row["confirmed"]
        if "confirmed" in table.units
        else table.source.confirmed or "as the file's note says"
    )


def compare_joists() -> Iterator[Comparison]:
    """Go through the printed joist spans and overhangs, to the nearest inch.

    Source: AWC DCA6-2012 Table 2.
    """
    table = read_table("reference", "joist_spans.csv")
    for row in table:
        group, size, spacing = row["species group"], row["size"], row.number("spacing")
        incised = _is_incised(group)
        cell = f"{group}, {size} at {spacing:g} in"
        span = joist_span(group, "No. 2", size, spacing, incised=incised).value
        note = "NDS, 50 psf, L/360 live, C_r, wet" + (", incised" if incised else "")
        yield Comparison(
            "joist spans", cell, row.number("span"), span, "in", 0.5, "both", note, row["confirmed"]
        )
        if row.has("overhang"):
            over = joist_overhang(group, "No. 2", size, spacing, incised=incised).value
            note = "220 lb at the tip, a'/180, a = a' less 3 in (inferred), a quarter of the span"
            printed = row.number("overhang")
            yield Comparison(
                "joist overhangs", cell, printed, over, "in", 0.5, "both", note, row["confirmed"]
            )


def compare_beams() -> Iterator[Comparison]:
    """Go through the printed beam spans on the table's own assumptions.

    Source: IRC 2018 Table R507.5.
    """
    for row in read_table("reference", "beam_spans.csv"):
        group, build, joists = row["species group"], row["beam"], row.number("joist span")
        ours = beam_span(group, "No. 2", build, joists * 12, basis="table").value
        cell = (
            f"{build}, joists {joists:g} ft, {'southern pine' if len(read_species(group)) == 1 else 'others'}"
        )
        note = "0.78125 x joist span x 50 psf; plies 1.00, 1.10, 1.15; total load L/360 with E; C_F of 2x"
        yield Comparison(
            "beam spans", cell, row.number("span"), ours, "in", 0.5, "both", note, row["confirmed"]
        )


def compare_footings() -> Iterator[Comparison]:
    """Go through the printed footings, within an inch.

    Source: AWC DCA6-2012 Table 4.
    """
    table = read_table("reference", "post_heights_footings.csv")
    for row in table:
        load = _DCA6_LOAD * row.number("beam span") * row.number("joist span")
        found = footing_size(load, 1500.0)
        where = f"beam {row['beam span']} ft, joists {row['joist span']} ft"
        note = "0.75 x beam span x joist span x 50 psf on 1,500 psf less own weight; projection = thickness"
        for name, ours in (("round", found.diameter), ("square", found.side), ("thickness", found.thickness)):
            figures = row.number(name), float(ours)
            yield Comparison(
                "footings", f"{name}, {where}", *figures, "in", 1.0, "both", note, _confirmed(row, table)
            )


def compare_posts() -> Iterator[Comparison]:
    """Go through the printed 6x6 heights, which no published sum gives: ours are never shorter.

    Source: AWC DCA6-2012 Table 4.
    """
    table = read_table("reference", "post_heights_footings.csv")
    for row in table:
        load = _DCA6_LOAD * row.number("beam span") * row.number("joist span")
        where = f"beam {row['beam span']} ft, joists {row['joist span']} ft"
        for column, (species, incised) in _POSTS.items():
            printed = row.number(column) * 12 if row.has(column) else 0.0
            ours = post_height(species, "No. 2", "6x6", load, incised=incised).value
            cell, note = (
                f"{species}, {where}",
                "NOT reproduced: C_P alone gives as much or more; the print governs",
            )
            yield Comparison(
                "post heights", cell, printed, ours, "in", 0.5, "not under", note, _confirmed(row, table)
            )


def compare_ledgers() -> Iterator[Comparison]:
    """Go through the ledger rows: kept as data, so they agree by being looked up.

    Source: IRC 2018 Table R507.9.1.3(1).
    """
    for row in read_table("reference", "ledger_fasteners.csv"):
        feet = row.number("joist span up to")
        ours = ledger_spacing(row["fastener"], feet * 12).value
        cell, note = f"{row['fastener']}, joists {feet:g} ft", "data: rests on tests, no sum gives it"
        yield Comparison(
            "ledgers", cell, row.number("spacing"), ours, "in", 0.0, "both", note, row["confirmed"]
        )


def compare_fasteners() -> Iterator[Comparison]:
    """Go through the printed fastener cells, within half a printed unit.

    Source: NDS 2018 Tables 11.3.6, 12.2, 12.3.3, 12A to 12P.
    """
    for row in read_table("reference", "fastener_cells.csv"):
        printed, step = row.number("value"), row.number("unit step")
        note = "yield equations, Fe rounded to 50 psi, lags 8D and nails and screws 10D deep"
        ours = compute_cell(row["cell"])
        yield Comparison(
            "fasteners", row["cell"], printed, ours, "", step / 2, "both", note, "published table cell"
        )


def compare_examples() -> Iterator[Comparison]:
    """Go through the answers of the worked examples, within half a percent.

    Source: named by each example.
    """
    for example in read_json("reference", "worked_examples.json"):
        found = EXAMPLES[example["id"]](example["inputs"])
        for name, printed in example["answers"].items():
            cell, note = f"{example['id']}: {name}", example["title"]
            limit = 0.005 * abs(printed)
            sure = example["provenance"]
            yield Comparison("worked examples", cell, printed, found[name], "", limit, "both", note, sure)


def compare_all() -> tuple[Comparison, ...]:
    """Return every comparison, table after table.

    >>> found = compare_all()
    >>> [each.cell for each in found if not each.agrees]
    ['3x6, joists 16 ft, others', '3x8, joists 16 ft, others']
    """
    sources = (
        compare_joists, compare_beams, compare_footings, compare_posts, compare_ledgers, compare_fasteners,
        compare_examples,
    )  # fmt: skip
    return tuple(each for source in sources for each in source())
