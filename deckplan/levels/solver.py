"""Choosing elevations within the ranges a plan allows, so that risers come out legal and alike."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.levels.model import Ground, Note
from deckplan.levels.places import Place
from deckplan.plan.model import ElevationRange, Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check


@dataclass(frozen=True, slots=True)
class Choice:
    """Chosen elevations [in] by platform and door name, and what there is to say of the choice."""

    elevations: dict[str, float]
    checks: tuple[Check, ...] = ()
    notes: tuple[Note, ...] = ()


def choose_elevations(plan: Plan, profile: Profile, ground: Ground, places: tuple[Place, ...]) -> Choice:
    """Return every elevation: as given, or within its range."""
    elevations = {door.name: door.sill for door in plan.house.doors}
    for platform in plan.platforms:
        wish = platform.elevation
        middle = (wish.lowest + wish.highest) / 2 if isinstance(wish, ElevationRange) else wish
        elevations[platform.name] = middle
    return Choice(elevations)
