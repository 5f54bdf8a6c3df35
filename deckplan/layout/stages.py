"""The stages of a study up to its frame, as what comes after them asks for them."""

from __future__ import annotations

from typing import Protocol

from deckplan.layout.model import Layout
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile


class LaidOut(Protocol):
    """A plan, its limits, its levels, its frame. A study is one, and so is a frame that a test sets out by hand."""

    @property
    def plan(self) -> Plan:
        """The plan, without autos."""
        ...

    @property
    def profile(self) -> Profile:
        """The limits that the plan is held to."""
        ...

    @property
    def levels(self) -> Levels:
        """Elevations, flights, ground."""
        ...

    @property
    def layout(self) -> Layout:
        """The frame."""
        ...
