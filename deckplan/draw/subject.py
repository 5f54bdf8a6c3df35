"""What a view needs to know of a study, so that a scene can also be made from a frame set out by hand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from deckplan.geometry import Point
from deckplan.layout.model import Layout
from deckplan.levels.model import Levels
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile


class SizedFooting(Protocol):
    """A footing with its size: mark, place [in], diameter, thickness, elevations [in], the load that sizes it [lb]."""

    @property
    def mark(self) -> str:
        """Its mark."""
        ...

    @property
    def at(self) -> Point:
        """Its middle in plan [in]."""
        ...

    @property
    def diameter(self) -> float:
        """Diameter [in]."""
        ...

    @property
    def thickness(self) -> float:
        """Thickness [in]."""
        ...

    @property
    def top(self) -> float:
        """Elevation of its top [in]."""
        ...

    @property
    def bottom(self) -> float:
        """Elevation of its underside [in]."""
        ...

    @property
    def design(self) -> float:
        """The load that sizes it [lb]."""
        ...


class Subject(Protocol):
    """What is drawn: a plan, its levels, its frame, its footings. A study is one."""

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

    @property
    def footings(self) -> Sequence[SizedFooting]:
        """The footings with their sizes."""
        ...


def letter(index: int) -> str:
    """Return the letter of the platform at a place in the plan: A to Z, then AA, AB and so on.

    >>> letter(0), letter(25), letter(26)
    ('A', 'Z', 'AA')
    """
    lead, last = divmod(index, 26)
    return (letter(lead - 1) if lead else "") + chr(ord("A") + last)
