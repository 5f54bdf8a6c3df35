"""Tables of levels, flights and their steps."""

from __future__ import annotations

from deckplan.geometry import area
from deckplan.study import Study
from deckplan.tabulate.sheet import Scale, Sheet, flight_mark, letter_of


def levels_sheet(study: Study) -> Sheet:
    """Tabulate platforms: finished elevation, whether it was chosen within a range, area, what is below."""
    to = Scale(study.plan.units)
    columns = ("mark", "platform", f"elevation [{to.short}]", "elevation", "chosen", f"area [{to.surface}]",
               f"least above ground [{to.short}]", f"most above ground [{to.short}]")  # fmt: skip
    rows, marks = [], []
    ground = study.levels.ground
    for level in study.levels.levels:
        outline = study.plan.platform(level.platform).outline
        over = [level.elevation - ground.elevation_at(corner) for corner in outline]
        mark = letter_of(study, level.platform)
        rows.append((
            mark, level.platform, to.length(level.elevation), to.tape(level.elevation),
            "in the range" if level.chosen else "as given", to.area(abs(area(outline))),
            to.length(min(over)), to.length(max(over)),
        ))  # fmt: skip
        marks.append(mark)
    return Sheet("Levels", columns, tuple(rows), tuple(marks))


def flights_sheet(study: Study) -> Sheet:
    """Tabulate flights: the rise, how it is split, and the run."""
    to = Scale(study.plan.units)
    columns = ("mark", "from", "to", "kind", f"rise [{to.short}]", "risers", f"riser [{to.short}]",
               "riser", f"tread [{to.short}]", f"run [{to.short}]",
               f"width [{to.short}]")  # fmt: skip
    rows = tuple(
        (
            flight_mark(rise), rise.upper, rise.lower, rise.kind, to.length(rise.rise), rise.risers,
            to.length(rise.riser), to.small(rise.riser), to.length(rise.tread), to.length(rise.run),
            to.length(rise.width),
        )
        for rise in study.levels.flights
    )  # fmt: skip
    return Sheet("Flights", columns, rows, tuple(str(row[0]) for row in rows))


def story_sheet(study: Study) -> Sheet:
    """Tabulate the height of every step above its flight's foot, as it is marked on the story pole.

    Each height is worked out from the foot and then rounded, so that no rounding is carried from step to
    step.
    """
    to = Scale(study.plan.units)
    columns = ("mark", "step", f"above the foot [{to.short}]", "on the pole", f"elevation [{to.short}]")
    rows = []
    for rise in study.levels.flights:
        for step in range(1, rise.risers + 1):
            up = rise.rise * step / rise.risers
            rows.append((flight_mark(rise), step, to.length(up), to.small(up), to.length(rise.bottom + up)))
    return Sheet("Story pole", columns, tuple(rows), tuple(str(row[0]) for row in rows))
