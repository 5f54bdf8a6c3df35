"""What is said beside a field after its text was taken: which unit a bare number was read in, what moved along."""

from __future__ import annotations

import re

from deckplan.errors import InputError
from deckplan.explore.differences import differences
from deckplan.explore.ways import pairs
from deckplan.plan.model import Plan
from deckplan.plan.shape import is_shape, text_of
from deckplan.study import Study
from deckplan.units import read_length, write_length

_BARE = re.compile(r"[+-]?[\d\s./½¼¾-]*\d[\d\s./½¼¾]*")
"""A number without a unit."""


def is_bare(text: str) -> bool:
    """Tell whether a text is a number without a unit.

    >>> is_bare("8"), is_bare("8 1/2"), is_bare("8 ft"), is_bare("12-6")
    (True, True, False, False)
    """
    return _BARE.fullmatch(text.strip()) is not None


def remark(before: Study, after: Study, place: str, text: str) -> str:
    """Return what a person should see beside a field whose text was taken, nothing where it did the obvious."""
    said = [_unit_taken(before.asked, after.asked, place, text)]
    if is_shape(place) and before is not after:
        said += moved_along(before, after)
    return "; ".join(one for one in said if one)


def _unit_taken(before: Plan, after: Plan, place: str, text: str) -> str:
    """Say in which unit a bare number was read, where feet would have been nearer to what stood there."""
    number = text.strip()
    if not is_bare(number):
        return ""
    try:
        stood, written = text_of(before, place), text_of(after, place)
        old, new, typed = read_length(stood), read_length(written), read_length(number)
    except (InputError, ValueError):
        return ""  # no length, or nothing stood there
    if is_bare(written) or abs(new - typed) > 1e-6:
        return ""  # a count
    if after.units == "metric":
        if abs(typed / 25.4 - old) < abs(typed - old):
            return f"{number} taken as {number} in = {write_length(typed, 'metric')}; write {number} mm for millimetres"
        return ""
    if abs(12 * typed - old) < abs(typed - old):
        return f"{number} taken as {write_length(typed)}; write {number} ft for feet"
    return ""


def moved_along(before: Study, after: Study) -> list[str]:
    """Say what moved with a platform whose shape changed, and which levels meet no longer or meet now."""
    said = list(differences(before.asked, after.asked))
    for number, (was, now) in enumerate(zip(before.asked.flights, after.asked.flights, strict=True), start=1):
        if was.along != now.along:
            said.append(f"S{number} moved with its edge")
    old = {(one.upper, one.lower, one.over) for one in pairs(before.asked, before.levels)}
    new = {(one.upper, one.lower, one.over) for one in pairs(after.asked, after.levels)}
    said += [f"{upper} and {lower} meet no longer" for upper, lower, over in sorted(old - new) if not over]
    said += [f"{upper} and {lower} meet now" for upper, lower, over in sorted(new - old) if not over]
    said += [f"{upper} no longer lies over {lower}" for upper, lower, over in sorted(old - new) if over]
    said += [f"{upper} now lies over {lower}" for upper, lower, over in sorted(new - old) if over]
    return [_in_the_past(one) for one in said]


def _in_the_past(words: str) -> str:
    """Say that a beam line was moved, where the words ask to move it.

    >>> _in_the_past('move the beam line of "a" 1 ft')
    'moved the beam line of "a" 1 ft'
    """
    return re.sub(r"^move ", "moved ", re.sub(r"^set ", "set anew: ", words))
