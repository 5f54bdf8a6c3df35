"""The load path as one table: every force that one part hands to the next, down to the soil."""

from __future__ import annotations

from deckplan.study import Study
from deckplan.tabulate.sheet import Cell, Scale, Sheet


def path_sheet(study: Study) -> Sheet:
    """Tabulate the load path step by step: who bears on whom, with all live load on, and the worst combination."""
    to = Scale(study.plan.units)
    columns = ("from", "onto", *(f"{load} [{to.force}]" for load in ("dead", "live", "snow", "all", "worst")),
               "combination")  # fmt: skip
    rows: list[tuple[Cell, ...]] = []
    for upper, lower, handed in study.load_path.graph.edges(data=True):
        force = handed["force"]
        rows.append((
            upper, lower, *(to.load(part) for part in (force.dead, force.live, force.snow, force.full)),
            to.load(handed["worst"]), handed["combination"],
        ))  # fmt: skip
    return Sheet("Load path", columns, tuple(rows), tuple(str(row[0]) for row in rows))
