"""A table without pandas, and how numbers are shown in each system of units."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.layout.platform_frame import letter
from deckplan.levels import flight_checks
from deckplan.levels.model import Rise
from deckplan.study import Study
from deckplan.units import KN_PER_LB, Units, format_length, format_short, shown

__all__ = ["KG_PER_LB", "LB_PER_KN", "Cell", "Scale", "Sheet", "flight_mark", "letter_of", "percent", "shown"]

Cell = str | float | int | None
"""What stands in a table: None where there is nothing to say; pages and spreadsheets show it blank."""

LB_PER_KN = 1 / KN_PER_LB
"""Pounds-force in a kilonewton."""

KG_PER_LB = 0.45359237
"""Kilograms in a pound. Source: exact by definition (international pound of 1959)."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table: its name, headings with their units, rows; marks: what each row speaks of, if anything."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    marks: tuple[str, ...] = ()


class Scale:
    """How numbers are shown in one system of units."""

    def __init__(self, units: Units) -> None:
        """Choose the names of the units: short lengths, long lengths, forces, weights, areas."""
        self.units = units
        self.metric = units == "metric"
        self.short, self.long, self.force, self.weight, self.surface = (
            ("mm", "m", "kN", "kg", "m2") if self.metric else ("in", "ft", "lb", "lb", "sq ft")
        )

    def length(self, inches: float) -> float:
        """Return a length [in] in mm, to half a millimetre, or in inches, to a thousandth."""
        return round(inches * 25.4 * 2) / 2 if self.metric else round(inches, 3)

    def run(self, inches: float) -> float:
        """Return a length of many pieces together [in] in m or ft, to a tenth."""
        return round(inches * 0.0254, 1) if self.metric else round(inches / 12, 1)

    def load(self, pounds: float) -> float:
        """Return a force [lb] in kN or whole pounds."""
        return round(pounds / LB_PER_KN, 2) if self.metric else round(pounds)

    def mass(self, pounds: float) -> int:
        """Return a weight [lb] in whole kg or pounds."""
        return round(pounds * KG_PER_LB) if self.metric else round(pounds)

    def area(self, square_inches: float) -> float:
        """Return an area [in2] in m2 or sq ft."""
        return round(square_inches * 0.0254**2, 2) if self.metric else round(square_inches / 144, 1)

    def tape(self, inches: float) -> str:
        """Write a length [in] as it is read off a tape; under a foot there are no feet to write."""
        return self.small(inches) if abs(inches) < 12.0 - 1 / 32 else format_length(inches, self.units)

    def small(self, inches: float) -> str:
        """Write a small length [in] as it is read off a tape."""
        return format_short(inches, self.units)


def letter_of(study: Study, platform: str) -> str:
    """Return the letter that leads a platform's marks, or nothing for a name that is no platform's."""
    for index, one in enumerate(study.plan.platforms):
        if one.name == platform:
            return letter(index)
    return ""


def flight_mark(rise: Rise) -> str:
    """Return the mark of a flight: S1, S2 and so on, in the order of the plan."""
    return flight_checks.flight_mark(rise.index)


def percent(share: float | None) -> float | None:
    """Return a share as a percentage to a tenth, None where there is none."""
    return None if share is None else round(100 * share, 1)
