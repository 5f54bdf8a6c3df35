"""What a use in words asks for: which sets of furniture, for how many people, with which clearances."""

from __future__ import annotations

import re
from collections.abc import Callable

from deckplan.layout.room_sets import (
    FurnitureSet,
    cooking_set,
    corner_set,
    dining_set,
    fire_set,
    lounge_set,
    planting_set,
    sun_set,
    tub_set,
)

Maker = Callable[[int, float], FurnitureSet]

MOST_AT_ONE = {"dining": 12, "lounge": 8, "sun": 6, "fire": 10, "cooking": 0, "planting": 0, "tub": 0}
"""How many people one set of a use takes; more people get more sets."""

MAKERS: dict[str, tuple[Maker, ...]] = {
    "dining": (dining_set,),
    "lounge": (lounge_set, corner_set),
    "sun": (sun_set,),
    "fire": (fire_set,),
    "cooking": (cooking_set,),
    "planting": (planting_set,),
    "tub": (tub_set,),
}
"""The ways to set out each use, the best first."""

# The clearances that a set is tried with, the best first, by their names in the data.
TIERS: dict[str, tuple[str, ...]] = {
    "dining": ("walk behind a chair", "edge past a chair", "rise behind a chair"),
    "lounge": ("path", "behind a sofa"),
    "sun": ("at a lounger's foot",),
    "fire": ("fire ring",),
    "cooking": ("grill working room",),
    "planting": ("bench working room",),
    "tub": ("tub service room",),
}

WORDS: tuple[tuple[str, str], ...] = (
    ("tub", r"tub|spa"),
    ("fire", r"fire"),
    ("cooking", r"cook|grill|kitchen|barbecue"),
    ("dining", r"dining|dinner|eat|meal|breakfast|lunch"),
    ("lounge", r"lounge|sitting|seats|sofa|reading|conversation"),
    ("sun", r"\bsun(?!day)"),
    ("planting", r"plant|potting|herb"),
)
"""How a use in free words is understood, first match first; any other use gets no furniture, only room to stand."""


def kind_of(use: str) -> str:
    """Return which furniture a use in free words asks for, empty where none is known.

    >>> kind_of("Dining"), kind_of("gas fire"), kind_of("passage")
    ('dining', 'fire', '')
    """
    text = use.lower()
    return next((kind for kind, words in WORDS if re.search(words, text)), "")
