"""The other way round: from a value of the plan to the words that a person would type for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from deckplan.plan.model import Part, Plan
from deckplan.units import Units, read_length, read_quantity, write_length

LOADS = frozenset({"soil_bearing", "live_load", "snow_load", "weight"})
ANGLES = frozenset({"direction", "angle"})
IN_FEET = frozenset({"at", "line", "outline", "along", "offset", "posts", "setback", "breaker"})
"""Keys whose lengths are places on a site, measured with a long tape."""


def plan_to_data(plan: Plan, *, everything: bool = False) -> dict[str, Any]:
    """Write a plan as nested tables, keys and values as in the plan file.

    everything: also defaults that nobody gave; `format`, `name`, `rules` and `units` always come.
    """
    data = part_to_data(plan, plan.units, everything=everything)
    return {"format": 1, "name": plan.name, "rules": plan.rules, "units": plan.units} | data


def part_to_data(part: Part, units: Units, *, everything: bool = False) -> dict[str, Any]:
    """Write one table of the plan, keys and values as in the plan file."""
    data: dict[str, Any] = {}
    for name, key in keys_of(part):
        value = getattr(part, name)
        field = type(part).model_fields[name]
        needed = field.is_required() or name in part.model_fields_set
        if value is not None and (everything or needed or value != field.get_default()):
            data[key] = to_data(key, value, units, everything=everything)
    return data


def keys_of(part: Part) -> Iterator[tuple[str, str]]:
    """Go through a table's fields: name in code, key in the file."""
    for name, field in type(part).model_fields.items():
        yield name, field.alias or name


def to_data(key: str, value: Any, units: Units, *, everything: bool = False) -> Any:
    """Write one value as the file would hold it; key says what kind of number it is."""
    if isinstance(value, Part):
        return part_to_data(value, units, everything=everything)
    if isinstance(value, tuple):
        return [to_data(key, item, units, everything=everything) for item in value]
    if isinstance(value, float):
        return _number(key, value, units)
    return value


def _number(key: str, value: float, units: Units) -> str | float | int:
    if key in ANGLES:
        return int(value) if value == int(value) else value
    if key in LOADS:
        return write_load(value, units)
    return _long(value, units) if key in IN_FEET and units == "us" else write_length(value, units)


def write_load(psf: float, units: Units) -> str:
    """Write an area load [psf] so that reading it gives the same number back.

    >>> write_load(1500.0, "us")
    '1500 psf'
    """
    if units == "metric":
        from deckplan.units import to_unit

        for places in range(7):
            text = f"{to_unit(psf, 'psf', 'kPa'):.{places}f} kPa"
            if read_quantity(text, "psf") == psf:
                return text
    return f"{int(psf) if psf == int(psf) else psf!r} psf"


def _long(inches: float, units: Units) -> str:
    """Write a place on the site [in] in feet and inches where that says the same."""
    short = write_length(inches, units)
    if abs(inches) < 24 or not short.endswith(" in"):
        return "0 ft" if inches == 0 else short
    feet, rest = divmod(abs(inches), 12)
    text = f"{'-' if inches < 0 else ''}{int(feet)} ft" + (f" {write_length(rest)}" if rest else "")
    try:
        return text if read_length(text) == inches else short
    except ValueError:
        return short


def to_text(key: str, value: Any, units: Units) -> str:
    """Write one value as a person would type it into a field: lists with commas, points with semicolons."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Part):
        low, high = (to_data(key, getattr(value, name), units) for name, _ in keys_of(value))
        return f"{low} to {high}"
    if isinstance(value, tuple):
        sign = "; " if value and isinstance(value[0], tuple) else ", "
        return sign.join(to_text(key, item, units) for item in value)
    return str(to_data(key, value, units))
