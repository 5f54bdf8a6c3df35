"""What a workbook works with, under one name: sessions, panels, pictures, tables."""

from __future__ import annotations

from deckplan import tabulate
from deckplan.draw.paint_matplotlib import Picture, paint
from deckplan.draw.plan_view import plan_view
from deckplan.draw.section_view import section_view
from deckplan.draw.sheet import SCREEN
from deckplan.draw.side_view import side_view
from deckplan.panels.checks import ChecksPanel
from deckplan.panels.framing import FramingPanel
from deckplan.panels.levels import LevelsPanel
from deckplan.panels.looks import ABOVE, CUT, SIDE
from deckplan.panels.opening import find_plan, main_plan
from deckplan.panels.session import Session
from deckplan.panels.site import SitePanel
from deckplan.panels.steps import StepsPanel
from deckplan.panels.tables import TablesPanel
from deckplan.panels.workbench import Pair, Workbench
from deckplan.study import Study

__all__ = [
    "ABOVE", "CUT", "SIDE", "ChecksPanel", "FramingPanel", "LevelsPanel", "Pair", "Session", "SitePanel",
    "StepsPanel", "TablesPanel", "Workbench", "find_plan", "main_plan", "picture_from_above",
    "picture_from_the_side", "picture_of_the_section", "tabulate",
]  # fmt: skip

DPI = 90.0
"""Dots to an inch of pictures in workbooks: sharp enough to read, light enough to keep."""


def picture_from_above(study: Study) -> Picture:
    """Return the framing plan as a picture for a page; `.scene.summary()` says what it shows."""
    return paint(plan_view(study, sheet=SCREEN), dpi=DPI)


def picture_of_the_section(study: Study) -> Picture:
    """Return the section through the levels as a picture for a page."""
    return paint(section_view(study, sheet=SCREEN), dpi=DPI)


def picture_from_the_side(study: Study) -> Picture:
    """Return the view from the garden as a picture for a page."""
    return paint(side_view(study, sheet=SCREEN), dpi=DPI)


def _six_figures(number: float) -> str:
    """Write a number with six figures.

    >>> _six_figures(34136.9), _six_figures(16259500.0), _six_figures(0.5)
    ('34,136.9', '16,259,500', '0.5')
    """
    return f"{number:,.0f}" if abs(number) >= 1e5 else f"{number:,.6g}"


tabulate.show_in_full(_six_figures)
