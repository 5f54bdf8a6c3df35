"""Printed tables that no sum reproduces: kept as data, looked up, never extrapolated.

Between two printed rows the row for the longer span counts.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace
from functools import lru_cache

from deckplan.engineering.answers import Answer, step
from deckplan.engineering.joists import AreaLoads
from deckplan.engineering.lumber import read_species
from deckplan.errors import InputError, Problem, RangeError
from deckplan.reference import Row, Table, read_table
from deckplan.verdict import Source, Step

_POST_COLUMNS = {
    "southern pine": "6x6 height Southern pine",
    "douglas fir-larch": "6x6 height Douglas fir-larch",
    "hem-fir": "6x6 height Hem-fir, western cedars",
    "western cedars": "6x6 height Hem-fir, western cedars",
    "redwood": "6x6 height Redwood",
    "ponderosa pine": "6x6 height Ponderosa pine, red pine, spruce-pine-fir",
    "red pine": "6x6 height Ponderosa pine, red pine, spruce-pine-fir",
    "spruce-pine-fir": "6x6 height Ponderosa pine, red pine, spruce-pine-fir",
}
_LEDGER_LOADS = AreaLoads(40.0, 10.0)


def _source(table: Table, row: Row | None = None) -> Source:
    return Source(table.source.document, "", row["confirmed"] if row is not None else "")


@lru_cache(maxsize=1024)
def printed_post_height(species: str, beam_span: float, joist_span: float) -> Answer:
    """Return the printed height [in] of a 6x6 post for its beam and joist spans [in], 40 + 10 psf, No. 2.

    Spans between two rows take the next row up. 0 in: the table permits no such post.
    Raises RangeError outside the table. The sum behind the heights is not published and could not be found:
    the stability equation gives the same or more, so the printed height governs where it applies.

    Source: AWC DCA6-2012 Table 4 (one published copy; the order of its columns from memory).

    >>> printed_post_height("southern pine", 144.0, 168.0).value
    156.0
    """
    table = read_table("reference", "post_heights_footings.csv")
    fitting = [
        row
        for row in table
        if row.number("beam span") * 12 >= beam_span - 1e-6
        and row.number("joist span") * 12 >= joist_span - 1e-6
    ]
    if not fitting or beam_span <= 0 or joist_span <= 0:
        raise RangeError("the printed post heights end at beam and joist spans of 18 ft")
    row = min(fitting, key=lambda each: (each.number("beam span"), each.number("joist span")))
    heights = {}
    for member in read_species(species):
        column = _POST_COLUMNS.get(member.lower())
        if column is None:
            raise RangeError(f"the printed post heights do not name {member}")
        heights[member] = row.number(column) * 12 if row.has(column) else 0.0
    value = min(heights.values())
    words = f"printed 6x6 height, beam span {row['beam span']} ft, joist span {row['joist span']} ft"
    source = Source(table.source.document, "", "one published copy; the order of its columns from memory")
    return Answer(value, "in", "printed table", (Step("l", words, "", "", value, "in", source),), heights)


def _ledger_rows(fastener: str, sheathing: float) -> list[Row]:
    """Rows of a fastener: text such as "1/2 lag", "1/2 in. bolt", or a row's own name."""
    table = read_table("reference", "ledger_fasteners.csv")
    exact = [row for row in table if row["fastener"].lower() == fastener.strip().lower()]
    if exact:
        return exact
    text = fastener.lower().replace("½", "1/2").replace("0.5", "1/2")
    kind = re.search(r"lag|bolt", text)
    if kind is None or not re.search(r"1/2", text):
        names = dict.fromkeys(row["fastener"] for row in table)
        raise InputError(
            [Problem("fastener", f'"1/2 lag", "1/2 bolt" or one of {"; ".join(names)}', f'"{fastener}"')]
        )
    thick = sheathing > 0.5 or "1 in" in text or "washer" in text
    if thick and (kind[0] == "lag" or sheathing > 1.0):
        raise RangeError(
            "the printed table covers lag screws through 1/2 in, bolts through 1 in of sheathing at most"
        )
    wanted = "1 in. max sheathing" if thick else "1/2 in. max sheathing"
    return [row for row in table if kind[0] in row["fastener"] and wanted in row["fastener"]]


def ledger_spacing(
    fastener: str, joist_span: float, loads: AreaLoads | None = None, *, sheathing: float = 0.5
) -> Answer:
    """Return the printed spacing on centre [in] of fasteners from a ledger to a band joist.

    fastener: "1/2 lag" or "1/2 bolt"; joist_span [in]; loads [psf]: other loads than 40 + 10 scale the
    printed spacing by 50 / (total load) and round it down, never up over the printed one; sheathing [in]: between
    ledger and band. Governs: "printed table" or "scaled by total load".
    Raises RangeError for joists over 18 ft or thicker sheathing, InputError for another fastener.

    The table rests on tests (about 375 lb a lag, 725 lb a bolt follow from it); no yield equation gives it.
    Source: IRC 2018 Table R507.9.1.3(1); the scaling is ours.

    >>> ledger_spacing("1/2 lag", 144.0).value
    15.0
    """
    loads = AreaLoads() if loads is None else loads
    table = read_table("reference", "ledger_fasteners.csv")
    rows = _ledger_rows(fastener, sheathing)
    fitting = [row for row in rows if row.number("joist span up to") * 12 >= joist_span - 1e-6]
    if not fitting or joist_span <= 0:
        raise RangeError("the printed ledger spacings cover joist spans over 0 and up to 18 ft")
    row = min(fitting, key=lambda each: each.number("joist span up to"))
    printed = row.number("spacing")
    words = f"printed spacing, {row['fastener']}, joists up to {row['joist span up to']} ft"
    steps = [Step("s", words, "", "", printed, "in", _source(table, row))]
    heaviest = max(total for _, _, total, _ in loads.cases())
    limits = {"printed table": printed}
    if loads != _LEDGER_LOADS:
        usual = _LEDGER_LOADS.live + _LEDGER_LOADS.dead
        scaled = float(math.floor(printed * usual / heaviest + 1e-9))
        limits["scaled by total load"] = scaled
        numbers = f"{printed:g} × {usual:g} / {heaviest:g}"
        steps.append(
            step(
                "s",
                "scaled by total load, down to a whole inch",
                "s × 50 / q",
                numbers,
                scaled,
                "in",
                "our scaling",
                "derived",
            )
        )
    governs = min(limits, key=lambda name: limits[name])
    return Answer(limits[governs], "in", governs, tuple(steps), limits)


def ledger_capacity(fastener: str, sheathing: float = 0.5) -> Answer:
    """Return the load [lb] that each printed spacing puts on one fastener, at least: 50 psf x half the span.

    The least over the printed rows, for other uses of the same fastener in the same joint.
    Source: derived from IRC 2018 Table R507.9.1.3(1).
    """
    rows = _ledger_rows(fastener, sheathing)
    loads = {}
    for row in rows:
        feet = row.number("joist span up to")
        loads[f"{feet:g} ft"] = 50.0 * feet / 2 * row.number("spacing") / 12
    # Short joists are capped by a largest spacing, not by the fastener: their rows would understate it.
    useful = {name: value for name, value in loads.items() if float(name.split()[0]) >= 10}
    least = min(useful, key=lambda name: useful[name])
    value = useful[least]
    row = next(row for row in rows if f"{row.number('joist span up to'):g} ft" == least)
    feet, apart = row.number("joist span up to"), row.number("spacing")
    line = step(
        "Z",
        f"load on one fastener in the printed table, {row['fastener']}, row of joists up to {feet:g} ft, the least",
        "50 psf × L/2 × s/12",
        f"50 × {feet:g}/2 × {apart:g}/12",
        value,
        "lb",
        "Table R507.9.1.3(1) (derived)",
        "IRC 2018",
    )
    reserved = Source(line.source.document, line.source.clause, f"derived; the row {row['confirmed']}")
    return Answer(value, "lb", "printed table", (replace(line, source=reserved),), loads)


def ledger_placement(member: str) -> dict[str, float]:
    """Return edge, end and row distances [in] of ledger fasteners: "ledger" or "band joist".

    Source: IRC 2018 Table R507.9.1.3(2).
    """
    rows = read_table("reference", "ledger_placement.csv").where(member=member)
    if not rows:
        raise InputError([Problem("member", '"ledger" or "band joist"', f'"{member}"')])
    columns = ("top edge", "bottom edge", "ends", "row spacing", "row spacing max")
    return {column: rows[0].number(column) for column in columns}


def bearing_of_soil(soil: str) -> float:
    """Return the presumptive bearing [psf] of a soil class by its name, one of its soils or a unified symbol.

    soil: "clay", "silty sand", "sandy gravel and/or gravel", "GW", "SM", "CL" and so on, any case.
    Raises InputError naming the classes. Source: IRC Table R401.4.1.

    >>> bearing_of_soil("SM"), bearing_of_soil("clay")
    (2000.0, 1500.0)
    """
    table = read_table("reference", "soil_bearing.csv")
    text = re.sub(r"\s+", " ", soil.strip().lower())
    for row in table:
        symbols = re.findall(r"\b[A-Z]{2}\b", row["class"])
        name = row["class"].lower().split(" (")[0]
        if text in (row["class"].lower(), name, *re.split(r", | and/or ", name)) or text.upper() in symbols:
            return row.number("bearing")
    raise InputError([Problem("soil", f"one of {'; '.join(row['class'] for row in table)}", f'"{soil}"')])


@lru_cache(maxsize=64)
def soils_that_bear(bearing: float) -> tuple[str, Source] | None:
    """Return the class of soils whose presumptive bearing [psf] is just that and where it is printed; None: none is.

    Source: IRC Table R401.4.1.

    >>> soils_that_bear(3000.0)[0]
    'sandy gravel and/or gravel (GW, GP)'
    """
    for row in read_table("reference", "soil_bearing.csv"):
        if abs(row.number("bearing") - bearing) < 1e-6 * bearing:
            return row["class"], Source("IRC 2021", "Table R401.4.1", row["confirmed"])
    return None


def decking_spacing(decking: str, diagonal: bool, edition: str = "2015/2018") -> float:
    """Return the widest joist spacing [in] of a kind of decking: "1 1/4 in. wood", "2 in. wood".

    diagonal: boards at an angle to the joists. Raises RangeError where the table gives no figure (plastic
    composites go by their maker), InputError for a kind it does not name.
    Source: IRC 2018 Table R507.7.

    >>> decking_spacing("2 in. wood", diagonal=True)
    16.0
    """
    rows = read_table("reference", "decking_spacing.csv").where(edition=edition)
    for row in rows:
        if row["decking"] == decking:
            column = "diagonal" if diagonal else "perpendicular"
            if not row.has(column):
                raise RangeError(f"the table gives no joist spacing for {decking}: the maker's value governs")
            return row.number(column)
    raise InputError(
        [Problem("decking", f"one of {'; '.join(row['decking'] for row in rows)}", f'"{decking}"')]
    )
