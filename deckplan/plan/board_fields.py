"""Kinds of fields that only boards have: where breaker boards lie, how wide the first row is."""

from __future__ import annotations

import re
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Discriminator, Tag, ValidationInfo

from deckplan.plan.fields import Auto, Length, Size, WrongValueError, ascending

MOST_BREAKERS = 24


def _wanted(info: ValidationInfo) -> str:
    if info.context and info.context.get("typed"):
        return "auto, a count such as 1, or distances across the joists such as 8 ft, 16 ft"
    return '"auto", a count, or a list of offsets such as ["8 ft", "16 ft"]'


def _kind(value: object) -> str:
    if isinstance(value, (list, tuple)):
        return "offsets"
    if isinstance(value, str) and re.search(r"\d", value) and not value.strip().isdigit():
        return "offsets"
    return (
        "count" if isinstance(value, int) or (isinstance(value, str) and value.strip().isdigit()) else "auto"
    )


def _auto(value: object, info: ValidationInfo) -> object:
    if not isinstance(value, str) or value.strip().lower() != "auto":
        raise WrongValueError(_wanted(info))
    return "auto"


def _count(value: object, info: ValidationInfo) -> object:
    count = int(value) if isinstance(value, (int, str)) and not isinstance(value, bool) else -1
    if not 0 <= count <= MOST_BREAKERS:
        raise WrongValueError(f"from 0 to {MOST_BREAKERS} breaker boards")
    return count


def _offsets(value: object, info: ValidationInfo) -> object:
    parts = [part.strip() for part in re.split("[,;]", value)] if isinstance(value, str) else value
    if not isinstance(parts, (list, tuple)) or not parts:
        raise WrongValueError(_wanted(info))
    return tuple(parts)


Breakers = Annotated[
    Annotated[Auto, BeforeValidator(_auto), Tag("auto")]
    | Annotated[int, BeforeValidator(_count), Tag("count")]
    | Annotated[tuple[Length, ...], BeforeValidator(_offsets), AfterValidator(ascending), Tag("offsets")],
    Discriminator(_kind),
]
"""Breaker boards: "auto", how many, or where the middle of each lies [in]."""


def _whole_or_width(value: object) -> str:
    return "auto" if isinstance(value, str) and value.strip().lower() == "whole" else "distance"


FirstRow = Annotated[
    Annotated[Literal["whole"], BeforeValidator(lambda value: str(value).strip().lower()), Tag("auto")]
    | Annotated[Size, Tag("distance")],
    Discriminator(_whole_or_width),
]
"""Width of the first row [in], or "whole"."""
