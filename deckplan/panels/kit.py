"""What a workbook works with, under one name: sessions, panels, pictures, tables."""

from __future__ import annotations

from deckplan import tabulate
from deckplan.draw.board_view import board_view
from deckplan.draw.connection_view import connection_view
from deckplan.draw.paint_matplotlib import Picture, paint
from deckplan.draw.path_view import path_view
from deckplan.draw.plan_view import plan_view
from deckplan.draw.room_view import room_view
from deckplan.draw.section_view import section_view
from deckplan.draw.sheet import SCREEN
from deckplan.draw.side_view import side_view
from deckplan.explore.connections_table import connections_table, connections_text
from deckplan.explore.load_tables import goes_to, stands_on
from deckplan.explore.surface_tables import board_cuts, boards, furniture
from deckplan.panels.checks import ChecksPanel
from deckplan.panels.framing import FramingPanel
from deckplan.panels.levels import LevelsPanel
from deckplan.panels.looks import ABOVE, CUT, DETAILS, SIDE
from deckplan.panels.meeting import MeetingPanel
from deckplan.panels.opening import find_plan, main_plan
from deckplan.panels.session import Session
from deckplan.panels.site import SitePanel
from deckplan.panels.steps import StepsPanel
from deckplan.panels.tables import TablesPanel
from deckplan.panels.workbench import Pair, Workbench
from deckplan.study import Study

__all__ = [
    "ABOVE", "CUT", "DETAILS", "SIDE", "ChecksPanel", "FramingPanel", "LevelsPanel", "MeetingPanel", "Pair", "Session",
    "SitePanel", "StepsPanel", "TablesPanel", "Workbench", "board_cuts", "boards", "connections_table",
    "connections_text", "find_plan", "furniture", "goes_to", "main_plan", "picture_from_above",
    "picture_from_the_side", "picture_of_a_bearing", "picture_of_a_load_path", "picture_of_the_boards",
    "picture_of_the_furniture", "picture_of_the_section", "stands_on", "tabulate",
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


def picture_of_a_load_path(study: Study, mark: str) -> Picture:
    """Return the plan of one mark's load path; raises KeyError for a mark that the deck does not have."""
    return paint(path_view(study, study.load_path, mark, sheet=SCREEN), dpi=DPI)


def picture_of_a_bearing(study: Study, mark: str, on: str) -> Picture:
    """Return the detail of a piece on what carries it; raises KeyError where it does not bear there."""
    return paint(connection_view(study, mark, on, sheet=SCREEN), dpi=DPI)


def picture_of_the_boards(study: Study, level: str = "") -> Picture:
    """Return the board plan; level: of one platform, of all where it is empty."""
    return paint(board_view(study, study.boards, platform=level, sheet=SCREEN), dpi=DPI)


def picture_of_the_furniture(study: Study, level: str = "") -> Picture:
    """Return the furniture plan; level: of one platform, of all where it is empty."""
    return paint(room_view(study, study.rooms, platform=level, sheet=SCREEN), dpi=DPI)


def _six_figures(number: float) -> str:
    """Write a number with six figures.

    >>> _six_figures(34136.9), _six_figures(16259500.0), _six_figures(0.5)
    ('34,136.9', '16,259,500', '0.5')
    """
    return f"{number:,.0f}" if abs(number) >= 1e5 else f"{number:,.6g}"


tabulate.show_in_full(_six_figures)
