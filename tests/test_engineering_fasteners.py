"""Fasteners against the printed tables of NDS 2018 (data/reference/fastener_cells.csv) and worked examples."""

import re

import pytest

from deckplan.engineering import dowels, fasteners
from deckplan.engineering.dowels import (
    STEEL_A36,
    STEEL_A653,
    Joint,
    bolt,
    lag_screw,
    lateral_value,
    named_nail,
)
from deckplan.reference import read_table

# The nails of NDS 2018 Table 12N/12P as the cells name them.
NAILS = {
    "8d": "8d common",
    "10d": "10d common",
    "16d": "16d common",
    "10dbox": "10d box",
    "16dbox": "16d box",
    "10dsinker": "10d sinker",
}


def figure(text: str, name: str, otherwise: float = 0.0) -> float:
    found = re.search(rf"(?<![A-Za-z]){name}=?\s*(\d*\.?\d+)", text)
    return float(found[1]) if found else otherwise


def lateral_cell(text: str) -> float:
    """The table's own conditions: 12A-12G bolts, 12J-12K lags 8D deep, 12L-12M screws, 12N-12P nails 10D deep."""
    G = figure(text, "G", 0.5)
    angles = {"main_angle": figure(text, "main"), "side_angle": figure(text, "side")}
    D, ts = figure(text, "D"), figure(text, "ts")
    table = text[:3]
    if "1.5/1.5" in text:
        D, ts = 0.5, 1.5
    tm = figure(text, "tm", 1.5)
    steel = {"12B": STEEL_A36, "12G": STEEL_A36, "12K": STEEL_A36 if ts >= 0.25 else STEEL_A653}.get(
        table, 0.0
    )
    if table in ("12A", "12B", "12F", "12G"):
        side = ts or 0.25
        joint = Joint(tm, side, G, G, **angles, side_bearing=steel, double=table in ("12F", "12G"))
        return lateral_value(bolt(D), joint).value
    if table in ("12J", "12K"):
        joint = Joint(99.0, ts, G, G, **angles, side_bearing=steel)
        return lateral_value(lag_screw(D, ts + 8 * D), joint).value
    if table in ("12L", "12M"):
        gauge = int(figure(text, "No\\."))
        D = dowels.wood_screw(gauge, 1.0).diameter
        joint = Joint(99.0, ts, G, G, side_bearing=STEEL_A653 if table == "12M" else 0.0)
        return lateral_value(dowels.wood_screw(gauge, ts + 10 * D), joint).value
    name = NAILS[text.split(": ")[1].split()[0]]
    D = named_nail(name).diameter
    joint = Joint(99.0, ts, G, G, side_bearing=STEEL_A653 if table == "12P" else 0.0)
    return lateral_value(dowels.nail(D, ts + 10 * D), joint).value


def other_cell(text: str) -> float:
    G, D = figure(text, "G"), figure(text, "D", 0.2)
    if text.startswith("12.2A"):
        return fasteners.lag_withdrawal(G, D)
    if text.startswith("12.2B"):
        return fasteners.screw_withdrawal(G, D)
    if text.startswith("12.2C"):
        return fasteners.nail_withdrawal(G, D)
    if text.startswith("12.2F"):
        return fasteners.pull_through(G, figure(text, "DH"), figure(text, "tns"))
    if text.startswith("11.3.6"):
        E, metal = 1.4e6, "metal=True" in text
        main, side = (figure(text, "Am"), E), (figure(text, "As"), 30e6 if metal else E)
        return fasteners.group_factor(int(figure(text, "n")), 4.0, 1.0, main, side, metal)
    if "perp" in text:
        return dowels.bearing_strength(G, bolt(D), 90.0)
    if "parallel" in text:
        return dowels.bearing_strength(G, bolt(0.5), 0.0)
    return dowels.bearing_strength(G, bolt(D), 0.0)


@pytest.mark.parametrize(
    "row", list(read_table("reference", "fastener_cells.csv")), ids=lambda row: row["cell"]
)
def test_every_printed_cell_within_half_a_printed_unit(row):
    text = row["cell"]
    lateral = re.match(r"12[A-P] ", text) is not None
    value = lateral_cell(text) if lateral else other_cell(text)
    assert value == pytest.approx(row.number("value"), abs=row.number("unit step") / 2 * 1.0001)
