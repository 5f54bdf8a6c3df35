"""Read the printed cells of the NDS fastener tables and compute each under its table's own conditions."""

from __future__ import annotations

import re
from dataclasses import replace

from deckplan.engineering import dowels, fasteners
from deckplan.engineering.dowels import STEEL_A36, STEEL_A653, Dowel, Joint, lateral_value
from deckplan.errors import InputError, Problem

_DEEP = 99.0  # [in] a main member that the fastener does not pass
_MODULUS = 1.4e6  # [psi] of the wood in NDS 2018 Tables 11.3.6A and C
_STEEL = 30.0e6  # [psi]
_NAIL = re.compile(r"^(\d+d)(box|sinker)?$")


def _figure(text: str, name: str, otherwise: float = 0.0) -> float:
    """The number after a name, e.g. "ts=1.5" or "main90"."""
    found = re.search(rf"(?<![A-Za-z]){name}=?\s*(\d*\.?\d+)", text)
    return float(found[1]) if found else otherwise


def compute_cell(text: str) -> float:
    """Return the value of a printed cell, unrounded, in the cell's own unit.

    text: as in the data, e.g. "12A bolt single shear G=.50: D=0.5 tm=1.5 ts=1.5 main0 side0".
    Raises InputError for a table it does not know. Source: NDS 2018 chapters 11 and 12.

    >>> round(compute_cell("12A bolt single shear G=.50: D=0.5 tm=1.5 ts=1.5 main0 side0"), -1)
    480.0
    """
    table = text.split()[0]
    if re.fullmatch(r"12[A-P]", table):
        return _lateral(table, text)
    G, D = _figure(text, "G"), _figure(text, "D", 0.2)
    simple = {
        "12.2A": lambda: fasteners.lag_withdrawal(G, D),
        "12.2B": lambda: fasteners.screw_withdrawal(G, D),
        "12.2C": lambda: fasteners.nail_withdrawal(G, D),
        "12.2F": lambda: fasteners.pull_through(G, _figure(text, "DH"), _figure(text, "tns")),
        "11.3.6A/C": lambda: _group(text),
        "12.3.3": lambda: _bearing(text, G, D),
    }
    if table not in simple:
        raise InputError([Problem("cell", f"a table among 12A to 12P, {', '.join(simple)}", f'"{text}"')])
    return simple[table]()


def _lateral(table: str, text: str) -> float:
    """Bolts through; lags 8D, screws and nails 10D deep in the main member, as the tables' notes say."""
    G, D, side = _figure(text, "G", 0.5), _figure(text, "D"), _figure(text, "ts", 0.25)
    thickness = _figure(text, "tm", 1.5)
    pair = re.search(r"(\d\.\d)/(\d\.\d)", text)
    if pair:
        thickness, side = float(pair[1]), float(pair[2])
    joint = Joint(thickness, side, G, G, _figure(text, "main"), _figure(text, "side"))
    if "A36" in text or table == "12G" or (table == "12K" and side >= 0.25):
        joint = replace(joint, side_bearing=STEEL_A36)
    elif "A653" in text or table == "12K":
        joint = replace(joint, side_bearing=STEEL_A653)
    if table in ("12A", "12B", "12F", "12G"):
        return lateral_value(dowels.bolt(D), replace(joint, double=table in ("12F", "12G"))).value
    return lateral_value(_driven(table, text, D, side), replace(joint, main=_DEEP)).value


def _driven(table: str, text: str, D: float, side: float) -> Dowel:
    if table in ("12J", "12K"):
        return dowels.lag_screw(D, side + 8 * D)
    if table in ("12L", "12M"):
        gauge = int(_figure(text, r"No\."))
        return dowels.wood_screw(gauge, side + 10 * dowels.wood_screw(gauge, 1.0).diameter)
    name = _NAIL.match(text.split(": ")[1].split()[0])
    if name is None:
        raise InputError([Problem("cell", 'a nail such as "10d" or "16dbox"', f'"{text}"')])
    diameter = dowels.named_nail(f"{name[1]} {name[2] or 'common'}").diameter
    return dowels.nail(diameter, side + 10 * diameter)


def _group(text: str) -> float:
    metal = "metal=True" in text
    main = _figure(text, "Am"), _MODULUS
    side = _figure(text, "As"), _STEEL if metal else _MODULUS
    return fasteners.group_factor(int(_figure(text, "n")), 4.0, 1.0, main, side, metal)


def _bearing(text: str, G: float, D: float) -> float:
    if "perp" in text:
        return dowels.bearing_strength(G, dowels.bolt(D), 90.0)
    return dowels.bearing_strength(G, dowels.bolt(0.5 if "parallel" in text else D), 0.0)
