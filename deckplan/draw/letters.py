"""How much room a line of text takes: advance widths of the lettering that the painters use.

The widths are those of DejaVu Sans (a free font; its own tables, per 1000 of the letter height). The common
screen fonts that may stand in for it run narrower, so a box measured here holds them too.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

FAMILY = ("DejaVu Sans", "Verdana", "Arial", "sans-serif")
"""Fonts in order of preference; none of the later ones runs wider than the first."""

# From the space to the tilde.
_ASCII = (
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
    636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
    295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
    500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
    392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
)  # fmt: skip
_OTHERS = {
    "–": 500, "—": 1000, "‘": 318, "’": 318, "“": 518, "”": 518, "×": 838, "·": 318, "Ø": 787, "°": 500,
    "½": 969, "¼": 969, "¾": 969, "…": 1000, "−": 838, "±": 838,
}  # fmt: skip
_WIDE, _NARROW = 1050, 850

LINE = 1.2
"""Distance from one line of text to the next, in letter heights."""


def _advance(letter: str) -> int:
    """Return the width of one letter in thousandths of its height; a letter not listed counts generously."""
    code = ord(letter)
    if 32 <= code < 127:
        return _ASCII[code - 32]
    if letter in _OTHERS:
        return _OTHERS[letter]
    if unicodedata.combining(letter):
        return 0
    return _WIDE if unicodedata.east_asian_width(letter) in "WF" or code >= 0x2100 else _NARROW


@lru_cache(4096)
def _thousandths(text: str) -> int:
    return max(sum(map(_advance, line)) for line in text.split("\n"))


def width_of(text: str, height: float) -> float:
    """Return the width [in] of the longest line of a text whose letters are `height` [in] high.

    >>> round(width_of("3-2x10", 1.0), 3)
    3.497
    """
    return _thousandths(text) * height / 1000


def height_of(text: str, height: float) -> float:
    """Return the height [in] of a text of one or more lines whose letters are `height` [in] high."""
    return (text.count("\n") + 1) * LINE * height
