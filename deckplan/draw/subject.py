"""What a view needs to know of a study, so that a scene can also be made from a frame set out by hand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from deckplan.geometry import Point
from deckplan.layout.platform_frame import letter
from deckplan.layout.stages import LaidOut

__all__ = ["SizedFooting", "Subject", "letter"]


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


class Subject(LaidOut, Protocol):
    """What is drawn: a plan, its levels, its frame, its footings. A study is one."""

    @property
    def footings(self) -> Sequence[SizedFooting]:
        """The footings with their sizes."""
        ...
