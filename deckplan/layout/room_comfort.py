"""What is said about a room: each figure of comfort as a check that passes or, falling short, becomes advice.

No code asks for a wide table or a good path, and how far a fire stays off goes by town. So a comfort check is PASS, or
NOT_APPLICABLE with the reason and a note of level "advice": a plan never fails because a table is tight.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from deckplan.layout.room_sizes import Clearance
from deckplan.levels.model import Note
from deckplan.verdict import Check, Source, Step, Verdict

ADVICE = "advice, no code asks for it: "
"""Leads the reason of a comfort check that falls short."""

BY_TOWN = "advice here, towns have rules for it: "
"""Leads it where codes of some places do ask."""


@dataclass
class Sayings:
    """Checks and notes of one room, gathered as it is furnished."""

    name: str
    checks: list[Check] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)

    def advise(self, text: str) -> None:
        """Put down advice about the platform."""
        self.notes.append(Note("advice", f'"{self.name}": {text}'))

    def at_least(
        self, rule: str, there: float, least: float, unit: str, source: Source | Clearance, short: str,
        steps: tuple[Step, ...] = (),
    ) -> bool:  # fmt: skip
        """Hold what is there [unit] against what is wished; where it falls short, say it as advice (`short`)."""
        own = source.source if isinstance(source, Clearance) else source
        if there >= least - 1e-6:
            self.checks.append(Check(self.name, rule, own, there, least, unit, Verdict.PASS, steps, True))
            return True
        by_town = isinstance(source, Clearance) and source.by_town
        reason = f"{BY_TOWN if by_town else ADVICE}{short}"
        self.checks.append(
            Check(self.name, rule, own, None, None, unit, Verdict.NOT_APPLICABLE, steps, True, "", reason)
        )
        self.advise(short)
        return False
