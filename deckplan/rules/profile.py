"""A rule profile: every limit that a deck is held to, each with its source.

Profiles are files (`data/rules/*.toml`, or a user's own that extends one). A limit is written on one line::

    riser_min = { value = "4 in", document = "IBC 2021", clause = "1011.5.2", confirmed = "from memory" }

`value = "none"` says that the code states no such limit; the note then says why. Nothing here is global: a
profile is loaded and passed on.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Annotated, Any, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationInfo,
    field_validator,
    model_validator,
)

from deckplan.units import read_length, read_quantity
from deckplan.verdict import Source


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of a rule book: value [unit], where it comes from, and a note for the person."""

    value: float
    unit: str
    source: Source
    note: str = ""

    def __str__(self) -> str:
        """Write the value, its unit and its source."""
        unit = "" if self.unit == "1" else f" {self.unit}"
        return f"{self.value:.6g}{unit} [{self.source}]"


@dataclass(frozen=True, slots=True)
class Choice:
    """A limit that is a name, such as the smallest post size."""

    value: str
    source: Source
    note: str = ""


REPLACEABLE = (
    "joist_span_cap",
    "printed_joist_spans",
    "printed_beam_spans",
    "post_height_caps",
    "printed_post_heights",
)
"""Prescriptive limits that an engineered sum can answer instead: what a profile may list in `may_set_aside`.

The printed ones are no limits of the profile but tables: joist and beam spans by species group, and heights of 6x6
posts by the spans beside them (AWC DCA6 Tables 2 and 4, IRC Table R507.5).
"""

NOT_STATED = "none"
"""What a file writes where the code states no such limit."""

_KEYS = ("value", "document", "clause", "confirmed", "note")
_PLAIN = re.compile(r"([+-]?(?:\d+(?:\.\d*)?|\.\d+))\s*([a-z]*)")
_READ_AS = {"lb": "lbf", "psf": "psf"}


def _number(value: object, unit: str) -> float:
    """Read a limit's value in its unit; raises ValueError with what would do."""
    if unit == "1":
        if isinstance(value, (int, float)):
            return float(value)
        raise ValueError("value: a plain number, without quotes")
    if not isinstance(value, str):  # pydantic gathers ValueErrors only
        raise ValueError(f'value: a number and a unit in quotes, such as "4 {unit}"')  # noqa: TRY004
    if (found := _PLAIN.fullmatch(value.strip())) and found[2] == unit:
        return float(found[1])
    try:
        if unit == "in":
            if re.fullmatch(r"[-+\d\s./]*", value):
                raise ValueError("a length with its unit")
            return read_length(value)
        if unit in _READ_AS:
            return read_quantity(value, _READ_AS[unit])
    except ValueError as error:
        raise ValueError(f'value: {error}, not "{value}"') from None
    raise ValueError(f'value: a number and the unit {unit}, such as "4 {unit}", not "{value}"')


def _parts(table: object) -> tuple[dict[str, Any], Source]:
    if not isinstance(table, dict):
        raise ValueError('a table such as { value = "4 in", document = "..." }')  # noqa: TRY004
    if unknown := sorted(set(table) - set(_KEYS)):
        raise ValueError(f"only the keys {', '.join(_KEYS)}, not {', '.join(unknown)}")
    if missing := [key for key in ("value", "document") if key not in table]:
        raise ValueError(f"the key {' and the key '.join(missing)} is missing")
    if wrong := [key for key in _KEYS[1:] if not isinstance(table.get(key, ""), str)]:
        raise ValueError(f"{', '.join(wrong)}: text in quotes")
    confirmed = table.get("confirmed", "not stated")
    return table, Source(table["document"], table.get("clause", ""), confirmed)


def _in_unit(unit: str, low: float = 0.0) -> Callable[[object], object]:
    """Make the reader of limits in one unit; none may lie under `low`."""

    def read(table: object) -> object:
        if isinstance(table, Limit) or table is None:
            return table
        parts, source = _parts(table)
        value = _number(parts["value"], unit)
        if not low <= value < 1e6:
            raise ValueError(f"value: {low:g} or more, not {parts['value']}")
        return Limit(value, unit, source, parts.get("note", ""))

    return read


def _choice(table: object) -> object:
    if isinstance(table, Choice):
        return table
    parts, source = _parts(table)
    if not isinstance(parts["value"], str):
        raise ValueError('value: a name in quotes, such as "6x6"')  # noqa: TRY004
    return Choice(parts["value"], source, parts.get("note", ""))


Inches = Annotated[Limit, BeforeValidator(_in_unit("in"))]
MaybeInches = Annotated[Limit | None, BeforeValidator(_in_unit("in"))]
Pounds = Annotated[Limit, BeforeValidator(_in_unit("lb"))]
AreaLoad = Annotated[Limit, BeforeValidator(_in_unit("psf"))]
Number = Annotated[Limit, BeforeValidator(_in_unit("1"))]
Count = Annotated[Limit, BeforeValidator(_in_unit("risers"))]
Name = Annotated[Choice, BeforeValidator(_choice)]


class Profile(BaseModel):
    """The limits that one place holds decks to. Lengths are inches, forces pounds-force, area loads psf.

    may_set_aside: names out of `REPLACEABLE`: prescriptive limits that the profile lets an engineered sum replace.
    unstated: why a limit that is None is not there, by its name.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    name: str = Field(min_length=1)
    title: str = ""
    may_set_aside: tuple[str, ...] = ()
    unstated: dict[str, str] = Field(default_factory=dict)

    # Risers and treads
    riser_max: Inches
    riser_min: MaybeInches = None
    riser_spread_max: Inches
    riser_neighbours_max: MaybeInches = None
    tread_min: Inches
    flight_rise_max: Inches
    flight_width_min: Inches
    headroom_min: Inches
    comfort_low: Inches
    comfort_high: Inches
    comfort_indoor_low: Inches
    comfort_indoor_high: Inches
    handrail_risers: Count
    handrail_height_min: Inches
    handrail_height_max: Inches
    landing_depth_min: Inches
    door_step_max: Inches
    egress_door_step_max: Inches
    door_flight_risers: Count
    stringer_spacing_max: Inches
    stringer_run_max_cut: Inches
    stringer_run_max_solid: Inches

    # Guards
    guard_trigger_drop: Inches
    guard_lookout: Inches
    guard_height: Inches
    guard_load: Pounds
    guard_infill_load: Pounds
    guard_opening: Inches
    stair_guard_height: Inches

    # Loads and deflection (span over the number)
    live_load: AreaLoad
    dead_load_min: AreaLoad
    stair_live_load: AreaLoad
    tread_point_load: Pounds
    joist_live_deflection: Number
    beam_live_deflection: Number
    overhang_deflection: Number
    overhang_tip_load: Pounds

    # Frame and ground
    joist_overhang_share: Number
    beam_overhang_share: Number
    bearing_on_wood: Inches
    bearing_on_concrete: Inches
    joist_spacing_max: Inches
    joist_span_cap: Inches
    post_height_caps: dict[str, Inches]
    post_splice_size: Name
    post_notch_size: Name
    post_notch_tongue: Inches
    footing_depth_min: Inches
    frost_exempt_freestanding: Number
    bracing_height: Inches
    ground_contact_clearance: Inches
    ground_slope_max: Number
    house_footing_zone: Inches
    lateral_two_force: Pounds
    lateral_four_force: Pounds

    @model_validator(mode="after")
    def _risers_make_sense(self) -> Self:
        if self.riser_max.value <= 0:
            raise ValueError("riser_max: over 0 in")
        if self.riser_min is not None and self.riser_min.value > self.riser_max.value:
            most, least = self.riser_max.value, self.riser_min.value
            raise ValueError(f"riser_min: at most riser_max, {most:g} in, not {least:g} in")
        return self

    @field_validator("may_set_aside")
    @classmethod
    def _known(cls, names: tuple[str, ...], _: ValidationInfo) -> tuple[str, ...]:
        if unknown := [name for name in names if name not in REPLACEABLE]:
            raise ValueError(
                f"limits that a sum can take the place of ({', '.join(REPLACEABLE)}), not {', '.join(unknown)}"
            )
        return names

    def __hash__(self) -> int:
        """Profiles are frozen and told apart by value; the name is enough to sort them into bins."""
        return hash(self.name)

    def limits(self) -> Mapping[str, Limit | Choice]:
        """Return every stated limit by its name; post height caps as `post_height_caps.6x6`."""
        found: dict[str, Limit | Choice] = {}
        for name in LIMITS:
            limit = getattr(self, name)
            if isinstance(limit, dict):
                found.update({f"{name}.{size}": cap for size, cap in limit.items()})
            elif limit is not None:
                found[name] = limit
        return found

    def with_values(self, **values: float) -> Self:
        """Return the profile with other values, each marked as the user's own: for trying things out.

        Raises KeyError for a name that is no stated limit.
        """
        stated = self.limits()
        changed: dict[str, Limit] = {}
        for name, value in values.items():
            limit = stated.get(name) or (stated["riser_max"] if name in self.unstated else None)
            if not isinstance(limit, Limit):
                raise KeyError(name)
            own = Source("the user's own value", name, "not confirmed")
            changed[name] = replace(limit, value=float(value), source=own)
        return self.model_copy(update=changed)


LIMITS = tuple(
    name for name in Profile.model_fields if name not in ("name", "title", "may_set_aside", "unstated")
)
"""Names of everything that a profile limits."""
