"""Tables of a study, as plain rows and as DataFrames.

A `Sheet` is a table without pandas, quick enough to follow a slider; `frame` makes a DataFrame of it. Units stand in
the column names, as the plan has them. Lengths that a tape is read for stand beside them as carpenters write them.
"""

from __future__ import annotations

from collections.abc import Callable

from deckplan.study import Study
from deckplan.tabulate.buy_sheets import boards_sheet, buy_sheet, cuts_sheet, waste_sheet
from deckplan.tabulate.checks_sheets import checks_sheet, grouped_checks, sorted_checks
from deckplan.tabulate.count_sheets import post_counts_sheet
from deckplan.tabulate.frame_sheets import (
    footings_sheet,
    framing_sheet,
    members_sheet,
    posts_sheet,
    stakes_sheet,
    treatment_sheet,
)
from deckplan.tabulate.frames import (
    Table,
    agreement_summary,
    agreement_table,
    boards,
    buy,
    checks,
    cuts,
    flights,
    footings,
    frame,
    framing,
    furniture,
    guards,
    levels,
    load_path,
    members,
    post_counts,
    posts,
    rooms,
    show_in_full,
    stakes,
    steps,
    story_pole,
    treatment,
    waste,
)
from deckplan.tabulate.guard_sheets import guards_sheet
from deckplan.tabulate.levels_sheets import flights_sheet, levels_sheet, story_sheet
from deckplan.tabulate.path_sheets import path_sheet
from deckplan.tabulate.room_sheets import furniture_sheet, rooms_sheet
from deckplan.tabulate.sheet import LB_PER_KN, Cell, Sheet, flight_mark, letter_of, percent, shown

__all__ = [
    "LB_PER_KN", "SHEETS", "Cell", "Sheet", "Table", "agreement_summary", "agreement_table", "boards",
    "boards_sheet", "buy", "buy_sheet", "checks", "checks_sheet", "cuts", "cuts_sheet", "flight_mark",
    "flights", "flights_sheet", "footings", "footings_sheet", "frame", "framing", "framing_sheet", "furniture",
    "furniture_sheet", "grouped_checks", "guards", "guards_sheet",
    "letter_of", "levels", "levels_sheet", "load_path", "members", "members_sheet",
    "path_sheet", "percent", "post_counts", "post_counts_sheet", "posts", "posts_sheet", "rooms", "rooms_sheet",
    "show_in_full", "shown", "sorted_checks", "stakes", "stakes_sheet", "steps", "story_pole", "story_sheet",
    "treatment", "treatment_sheet", "waste", "waste_sheet",
]  # fmt: skip

SHEETS: dict[str, Callable[[Study], Sheet]] = {
    "levels": levels_sheet,
    "flights": flights_sheet,
    "story": story_sheet,
    "framing": framing_sheet,
    "members": members_sheet,
    "posts": posts_sheet,
    "footings": footings_sheet,
    "post-counts": post_counts_sheet,
    "stakes": stakes_sheet,
    "treatment": treatment_sheet,
    "guards": guards_sheet,
    "checks": checks_sheet,
    "buy": buy_sheet,
    "cuts": cuts_sheet,
    "waste": waste_sheet,
    "boards": boards_sheet,
    "path": path_sheet,
    "rooms": rooms_sheet,
    "furniture": furniture_sheet,
}
"""Every table by its short name."""
