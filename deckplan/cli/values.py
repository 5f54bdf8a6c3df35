"""Reading the values of the command line: the same spellings as in a plan file, and as short to say what is wrong."""

from __future__ import annotations

from argparse import ArgumentTypeError
from collections.abc import Callable

from deckplan.units import read_length, read_quantity

MOST = 10_000_000.0
"""No load or bearing of a deck is larger [lb, psf]: a slipped exponent shows here."""

UNITS = {"lbf": "lb"}
"""Units by the names that people say."""


def file_name(text: str) -> str:
    """Read the name of a file; an empty one is none."""
    if not text.strip():
        raise ArgumentTypeError("the name of a file, not an empty text")
    return text


def _length_between(low: float, high: float, words: str) -> Callable[[str], float]:
    """Make a reader of lengths over `low` and at most `high` [in]."""

    def read(text: str) -> float:
        try:
            inches = read_length(text)
        except ValueError as error:
            raise ArgumentTypeError(f'{error}, not "{text[:60]}"') from None
        if not low < inches <= high:
            raise ArgumentTypeError(f"{words}, not {text[:60]}")
        return inches

    return read


def _quantity(unit: str, words: str, *, over: bool) -> Callable[[str], float]:
    """Make a reader of a number in a unit, which may be left out."""

    def read(text: str) -> float:
        try:
            value = float(text)
        except ValueError:
            try:
                value = read_quantity(text, unit)
            except ValueError as error:
                raise ArgumentTypeError(f'{error}, not "{text[:60]}"') from None
        if not (value > 0 if over else value >= 0) or value > MOST:
            raise ArgumentTypeError(f"{words} to {MOST:,.0f} {UNITS.get(unit, unit)}, not {text[:60]}")
        return value

    return read


length = _length_between(0, 1200, "over 0 and at most 100 ft")
"""Read a span or a width [in]."""
overhang = _length_between(-1e-9, 1200, "from 0 to 100 ft")
"""Read how far joists reach beyond a beam [in]; nothing is an answer too."""
spacing = _length_between(3 - 1e-9, 24, "from 3 in to 24 in")
"""Read joists on centre [in]."""
riser_rise = _length_between(
    0, 1200, "over 0 and at most 100 ft, from the lower finished surface up to the upper one"
)
"""Read a rise [in]."""
post_width = _length_between(0, 24, "over 0 and at most 24 in")
"""Read the width of a post [in]."""
board = _length_between(-1e-9, 3, "from 0 to 3 in")
"""Read a board's thickness [in]."""
psf = _quantity("psf", "from 0", over=False)
"""Read an area load [psf]."""
soil = _quantity("psf", "over 0, up", over=True)
"""Read an allowable bearing [psf]."""
footing_load = _quantity("lbf", "over 0, up", over=True)
"""Read a load [lb]."""
