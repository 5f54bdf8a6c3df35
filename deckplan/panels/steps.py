"""The panel of steps: how each flight is built, where it leaves the edge, how deep its treads are."""

from __future__ import annotations

from collections.abc import Sequence

from deckplan.panels.fields import Field, FieldsPanel, slide
from deckplan.panels.html import reason_of
from deckplan.panels.session import Session
from deckplan.study import Study
from deckplan.tabulate import flight_mark
from deckplan.units import format_short
from deckplan.verdict import Verdict

_KINDS = (
    ("auto", "simplest that fits"),
    ("direct", "one riser, no step"),
    ("box", "box steps"),
    ("stringer", "stairs on stringers"),
)


class StepsPanel(FieldsPanel):
    """Flights in plan order."""

    def __init__(self, session: Session) -> None:
        """Bind the panel to a session."""
        super().__init__(session, "Steps")

    def fields_of(self, study: Study) -> Sequence[Field]:
        """Return three fields a flight: kind, tread, the stretch of edge that it leaves."""
        found: list[Field] = []
        raised = {rise.index: rise for rise in study.levels.flights}
        for index, flight in enumerate(study.asked.flights):
            place, units = f"flight.{index + 1}", study.asked.units
            rise = raised.get(index)
            mark = flight_mark(rise) if rise else f"S{index + 1}"
            group = f"{mark}  {flight.upper} to {flight.lower}"
            said = split(study, index)
            wide = f"{format_short(rise.width, units)} wide" if rise else ""
            found += [
                Field(f"{place}.kind", "built as", f"kind of flight {mark}", "choice", said, choices=_KINDS,
                group=group), Field(f"{place}.tread", "tread, front to back", f"tread of flight {mark}",
                group=group,
                      **slide(units, flight.tread, 10.0, 24.0)),
                Field(f"{place}.along", "on the edge, from and to", f"place of flight {mark}", "wide", wide,
                group=group),
            ]  # fmt: skip
        return found


def split(study: Study, index: int) -> str:
    """Say how a flight is split, and what the rules say against it."""
    units = study.asked.units
    for rise in study.levels.flights:
        if rise.index != index:
            continue
        mark = flight_mark(rise)
        word = "riser" if rise.risers == 1 else "risers"
        said = f"{format_short(rise.rise, units)} = {rise.risers} {word} of {format_short(rise.riser, units)}"
        said += f", built as {rise.kind}"
        bad = [c for c in study.checks_of(mark) if c.verdict in (Verdict.FAIL, Verdict.OUTSIDE)]
        return "; ".join([said, *(f"{check.verdict}: {reason_of(check, units)}" for check in bad[:2])])
    return "not raised: see the checks"
