"""The load path as tables: what stands on a mark, and where a load ends."""

from __future__ import annotations

from deckplan.study import Study
from deckplan.tabulate import LB_PER_KN, Cell, Sheet, Table, frame

LEAST = 0.5
"""Forces under this round to nothing and are left out [lb]."""

SQUARE_METRE = 0.3048**2
"""One square foot [m2]. Source: international foot of 1959."""


def stands_on(study: Study, mark: str) -> Table:
    """Return what stands on a footing, post, beam or ledger as a DataFrame; raises KeyError for other marks."""
    return frame(stands_sheet(study, mark))


def goes_to(study: Study, mark: str) -> Table:
    """Return where the load of a platform's letter, joist, beam or post ends as a DataFrame; raises KeyError."""
    return frame(goes_sheet(study, mark))


def stands_sheet(study: Study, mark: str) -> Sheet:
    """Tabulate what each surface puts on a mark: its area there, dead, live and snow load, all of it at once."""
    metric = study.plan.units == "metric"
    area, force = ("m2", "kN") if metric else ("sq ft", "lb")
    columns = (
        "mark",
        "surface",
        f"area [{area}]",
        *(f"{load} [{force}]" for load in ("dead", "live", "snow", "all")),
    )
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (one.surface, one.name, round(one.area * (SQUARE_METRE if metric else 1.0), 2 if metric else 1),
         *(_force(load, metric) for load in (one.dead, one.live, one.snow, one.full)))
        for one in study.load_path.what_stands_on(mark)
        if abs(one.full) >= LEAST or one.area
    )  # fmt: skip
    return Sheet(f"On {mark}", columns, rows, tuple(str(row[0]) for row in rows))


def goes_sheet(study: Study, mark: str) -> Sheet:
    """Tabulate the supports at which a load ends: the last mark on the way, the share, the force."""
    metric = study.plan.units == "metric"
    columns = ("ends at", "by", "share [%]", f"load [{'kN' if metric else 'lb'}]")
    rows = tuple(
        (
            goes.support,
            goes.through + (", lifted" if goes.force < 0 else ""),
            round(100 * goes.share, 1),
            _force(goes.force, metric),
        )
        for goes in study.load_path.where_does_it_go(mark)
        if abs(goes.force) >= LEAST
    )
    return Sheet(f"From {mark}", columns, rows, tuple(str(row[0]) for row in rows))


def _force(pounds: float, metric: bool) -> float:
    return round(pounds / LB_PER_KN, 2) if metric else round(pounds)
