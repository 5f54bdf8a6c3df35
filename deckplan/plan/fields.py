"""How one value of the plan file is read: what a length, a load, a size may be, and the words when it is not.

A validator here raises an error whose text is what was *expected*; `problems.py` adds place and what came.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Discriminator, Tag, ValidationInfo

from deckplan.engineering.lumber import Size as Section
from deckplan.engineering.lumber import read_size, size_names
from deckplan.errors import InputError
from deckplan.units import EXPECTED_LENGTH, read_length, read_quantity

# The widest site this format is meant for: a slipped decimal shows here and not as an endless drawing.
FARTHEST = 12_000.0
"""Largest coordinate or size that a plan may hold [in], 1,000 ft."""


class WrongValueError(ValueError):
    """A value that cannot be what its key wants; the text says what would do."""


def _from_file(info: ValidationInfo) -> bool:
    return bool(info.context and info.context.get("file"))


def _typed(info: ValidationInfo) -> bool:
    """Tell whether the value was typed into one field, where lists have no brackets."""
    return bool(info.context and info.context.get("typed"))


def _length(value: object, info: ValidationInfo) -> object:
    """Read a length: text anywhere; a bare number [in] only from code, since in a file it is a guess."""
    if isinstance(value, str):
        return read_length(value)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or _from_file(info):
        raise WrongValueError(f"{EXPECTED_LENGTH}, in quotes")
    return float(value)


def _area_load(value: object, info: ValidationInfo) -> object:
    if isinstance(value, str):
        return read_quantity(value, "psf")
    if isinstance(value, bool) or not isinstance(value, (int, float)) or _from_file(info):
        raise WrongValueError('a number and a unit in quotes, such as "40 psf" or "2 kPa"')
    return float(value)


def _bearing(value: object, info: ValidationInfo) -> object:
    """Read what soil bears: an area load, or the name of a soil that the code's table has."""
    if isinstance(value, str) and value.strip() and not re.search(r"\d", value):
        from deckplan.engineering.prescriptive import bearing_of_soil

        try:
            return bearing_of_soil(value)
        except InputError:
            words = '"clay", "silt", "sand", "silty gravel", "gravel"'
            raise WrongValueError(f'a bearing such as "1500 psf", or a soil such as {words}') from None
    return _area_load(value, info)


def _whole(value: object, info: ValidationInfo) -> object:
    if isinstance(value, str) and re.fullmatch(r"\s*[+-]?\d{1,9}\s*", value):
        return int(value)
    if isinstance(value, bool) or not isinstance(value, int):
        raise WrongValueError("a whole number")
    return value


def _degrees(value: object, info: ValidationInfo) -> object:
    found = (
        re.fullmatch(r"\s*([+-]?\d+(?:\.\d*)?)\s*(?:°|deg|degrees)?\s*", value)
        if isinstance(value, str)
        else None
    )
    if found:
        return float(found[1])
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise WrongValueError("an angle in degrees")
    return float(value)


def _yes_no(value: object, info: ValidationInfo) -> object:
    answers = {"true": True, "yes": True, "false": False, "no": False}
    if isinstance(value, str) and value.strip().lower() in answers:
        return answers[value.strip().lower()]
    if not isinstance(value, bool):
        raise WrongValueError("true or false")
    return value


def _within(low: float, high: float, words: str, *, over: bool = False) -> Callable[[float], float]:
    """Make a validator of a range; over: the lower end itself is not allowed. Not-a-number never passes."""

    def check(value: float) -> float:
        if (low < value if over else low <= value) and value <= high:
            return value
        raise WrongValueError(words)

    return check


Length = Annotated[
    float,
    BeforeValidator(_length),
    AfterValidator(_within(-FARTHEST, FARTHEST, "between -1000 ft and 1000 ft")),
]
Size = Annotated[
    float,
    BeforeValidator(_length),
    AfterValidator(_within(0, FARTHEST, "over 0 and at most 1000 ft", over=True)),
]
Clearance = Annotated[
    float, BeforeValidator(_length), AfterValidator(_within(0, FARTHEST, "from 0 to 1000 ft"))
]
AreaLoad = Annotated[
    float, BeforeValidator(_area_load), AfterValidator(_within(0, 100_000, "from 0 to 100000 psf"))
]
Bearing = Annotated[
    float,
    BeforeValidator(_bearing),
    AfterValidator(_within(0, 100_000, "over 0 and at most 100000 psf", over=True)),
]
Spacing = Annotated[float, BeforeValidator(_length), AfterValidator(_within(3, 24, "from 3 in to 24 in"))]
BoardThickness = Annotated[
    float, BeforeValidator(_length), AfterValidator(_within(0, 3, "over 0 and at most 3 in", over=True))
]
BoardWidth = Annotated[
    float, BeforeValidator(_length), AfterValidator(_within(0, 12, "over 0 and at most 12 in", over=True))
]
Gap = Annotated[float, BeforeValidator(_length), AfterValidator(_within(0, 1, "from 0 to 1 in"))]
Tread = Annotated[
    float,
    BeforeValidator(_length),
    AfterValidator(_within(4, 96, "from 4 to 96 in, where a foot finds hold")),
]
YesNo = Annotated[bool, BeforeValidator(_yes_no)]
People = Annotated[int, BeforeValidator(_whole), AfterValidator(_within(0, 10_000, "from 0 to 10000 people"))]
BorderCount = Annotated[
    int, BeforeValidator(_whole), AfterValidator(_within(0, 3, "from 0 to 3 border boards"))
]
Angle = Annotated[
    float, BeforeValidator(_degrees), AfterValidator(_within(-90, 90, "from -90 to 90 degrees"))
]
Auto = Literal["auto"]


def _named(value: object) -> object:
    if not isinstance(value, str) or not value.strip():
        raise WrongValueError("a name, in quotes")
    if len(value) > 120 or not value.isprintable():
        raise WrongValueError("a name on one line, of at most 120 letters")
    return value


Name = Annotated[str, BeforeValidator(_named)]


# -- points --


def _pair(value: object, info: ValidationInfo) -> object:
    if _typed(info) and isinstance(value, str):
        value = [part.strip() for part in value.split(",")]
    if not isinstance(value, (list, tuple)) or len(value) != 2:
        written = "12 ft, 3 ft 6 in" if _typed(info) else '["12 ft", "3 ft 6 in"]'
        raise WrongValueError(f"two lengths, x and y, such as {written}")
    return tuple(value)


def _points(value: object, info: ValidationInfo) -> object:
    if _typed(info) and isinstance(value, str):
        value = [part.strip() for part in value.split(";") if part.strip()]
    if not isinstance(value, (list, tuple)):
        written = "0 ft, 0 ft; 12 ft, 0 ft" if _typed(info) else '[["0 ft", "0 ft"], ["12 ft", "0 ft"]]'
        raise WrongValueError(f"a list of points, such as {written}")
    return tuple(value)


def _line(points: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    if len(points) < 2:
        raise WrongValueError("two points or more")
    for number, (a, b) in enumerate(pairwise(points), start=1):
        if a == b:
            raise WrongValueError(
                f"a line with length everywhere; points {number} and {number + 1} are one place"
            )
    return points


def _outline(points: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    """Refuse what encloses nothing: too few corners, corners at one place, edges that cross, no area."""
    if len(points) < 3:
        raise WrongValueError("three corners or more")
    if len(points) > 400:
        raise WrongValueError("400 corners or fewer")
    if points[0] == points[-1]:
        raise WrongValueError(
            f"each corner once; corner {len(points)} repeats corner 1 (the outline closes by itself)"
        )
    for number, point in enumerate(points, start=1):
        first = points.index(point) + 1
        if first != number:
            raise WrongValueError(f"each corner once; corner {number} repeats corner {first}")
    from shapely import Polygon
    from shapely.validation import explain_validity

    outline = Polygon(points)
    if outline.convex_hull.area < 1.0:
        raise WrongValueError("an outline that encloses an area; these corners lie on one line")
    if not outline.is_valid:
        where = re.search(r"\[(\S+) (\S+)\]", explain_validity(outline))
        spot = f" near {float(where[1]):g} in, {float(where[2]):g} in" if where else ""
        raise WrongValueError(f"an outline whose edges do not cross or touch; these do{spot}")
    if outline.area < 1.0:
        raise WrongValueError("an outline of at least a square inch")
    return points


Point = Annotated[tuple[Length, Length], BeforeValidator(_pair)]
PolyLine = Annotated[tuple[Point, ...], BeforeValidator(_points), AfterValidator(_line)]
Outline = Annotated[tuple[Point, ...], BeforeValidator(_points), AfterValidator(_outline)]


def _two(what: str) -> Callable[[object, ValidationInfo], object]:
    def check(points: object, info: ValidationInfo) -> object:
        points = _points(points, info)
        if not isinstance(points, tuple) or len(points) != 2:
            written = ", such as 2 ft, 13 ft; 6 ft, 13 ft" if _typed(info) else ""
            raise WrongValueError(f"two points, {what}{written}")
        return points

    return check


Stretch = Annotated[
    tuple[Point, Point],
    BeforeValidator(_two("the ends of the flight's stretch of edge")),
    AfterValidator(_line),
]
BeamEnds = Annotated[
    tuple[Point, Point], BeforeValidator(_two("through which the beam runs")), AfterValidator(_line)
]


# -- lumber --


def _size_of(value: object) -> Section | None:
    """Return the cross-section that a text names, or None."""
    try:
        return read_size(value) if isinstance(value, str) else None
    except InputError:
        return None


def _joist_size(value: object) -> object:
    if isinstance(value, str) and value.strip().lower() == "auto":
        return "auto"
    size = _size_of(value)
    if size is None or size.plies > 1 or size.is_timber:
        sizes = [name for name in size_names() if not read_size(name).is_timber]
        raise WrongValueError(f'"auto" or one of {", ".join(sizes)}')
    return size.name


def _post_size(value: object) -> object:
    size = _size_of(value)
    if size is None or size.plies > 1 or size.thickness < 3 or size.depth > 7.5:
        posts = [
            name for name in size_names() if read_size(name).thickness >= 3 and read_size(name).depth <= 7.5
        ]
        raise WrongValueError(f"one of {', '.join(posts)}")
    return size.name


def _build(value: object) -> object:
    if isinstance(value, str) and value.strip().lower() == "auto":
        return "auto"
    size = _size_of(value)
    if size is None:
        raise WrongValueError('"auto", or one to four plies of a known size, such as 2-2x10, 3-2x12 or 4x10')
    return size.name


JoistSize = Annotated[str, BeforeValidator(_joist_size)]
PostSize = Annotated[str, BeforeValidator(_post_size)]
Build = Annotated[str, BeforeValidator(_build)]


# -- values that may be of several kinds --


def _direction_kind(value: object) -> str:
    return "axis" if isinstance(value, str) and not re.match(r"\s*[+-]?\d", value) else "degrees"


def _axis(value: object) -> object:
    if value not in ("x", "y", "X", "Y"):
        raise WrongValueError('"x", "y" or an angle in degrees')
    return str(value).lower()


def _half_turn(value: float) -> float:
    if not -360 <= value <= 360:
        raise WrongValueError('"x", "y" or an angle from -360 to 360 degrees')
    return value


Direction = Annotated[
    Annotated[Literal["x", "y"], BeforeValidator(_axis), Tag("axis")]
    | Annotated[float, BeforeValidator(_degrees), AfterValidator(_half_turn), Tag("degrees")],
    Discriminator(_direction_kind),
]


def _posts_kind(value: object) -> str:
    if isinstance(value, (list, tuple)) or (
        isinstance(value, str) and re.search(r"[,'\"a-z]", value.removeprefix("auto"))
    ):
        return "offsets"
    return "auto" if isinstance(value, str) and not value.strip().isdigit() else "count"


def _offsets(value: object, info: ValidationInfo) -> object:
    if _typed(info) and isinstance(value, str):
        value = [part.strip() for part in re.split("[,;]", value)] if re.search(r"\d", value) else None
    if not isinstance(value, (list, tuple)) or not value:
        raise WrongValueError(_posts_wanted(info))
    return tuple(value)


def ascending(offsets: tuple[float, ...]) -> tuple[float, ...]:
    """Return offsets [in] as they are; raises WrongValueError where one does not lie beyond the one before it."""
    if any(b <= a for a, b in pairwise(offsets)):
        raise WrongValueError("offsets in rising order, each once")
    return offsets


def _auto(value: object, info: ValidationInfo) -> object:
    if value != "auto":
        raise WrongValueError(_posts_wanted(info))
    return value


def _posts_wanted(info: ValidationInfo) -> str:
    if _typed(info):
        return "auto, a count such as 3, or distances along the beam such as 1 ft, 9 ft"
    return '"auto", a count, or a list of offsets such as ["1 ft", "9 ft"]'


PostPlaces = Annotated[
    Annotated[Auto, BeforeValidator(_auto), Tag("auto")]
    | Annotated[
        int, BeforeValidator(_whole), AfterValidator(_within(1, 60, "from 1 to 60 posts")), Tag("count")
    ]
    | Annotated[tuple[Length, ...], BeforeValidator(_offsets), AfterValidator(ascending), Tag("offsets")],
    Discriminator(_posts_kind),
]


def _auto_or_distance(value: object) -> str:
    return "auto" if isinstance(value, str) and value.strip().lower() == "auto" else "distance"


FastenerSpacing = Annotated[
    Annotated[Auto, BeforeValidator(lambda value: str(value).strip().lower()), Tag("auto")]
    | Annotated[
        float,
        BeforeValidator(_length),
        AfterValidator(_within(0, 48, '"auto", or over 0 and at most 48 in', over=True)),
        Tag("distance"),
    ],
    Discriminator(_auto_or_distance),
]
"""Spacing of fasteners on centre [in], or "auto"."""

JoistStart = Annotated[
    Annotated[Auto, BeforeValidator(lambda value: str(value).strip().lower()), Tag("auto")]
    | Annotated[
        float,
        BeforeValidator(_length),
        AfterValidator(_within(0, FARTHEST, '"auto", or from 0 to 1000 ft')),
        Tag("distance"),
    ],
    Discriminator(_auto_or_distance),
]
"""Where the marks of joists begin [in], or "auto"."""

TAGS = frozenset({"axis", "degrees", "auto", "count", "offsets", "distance", "height", "range"})
"""Names of the alternatives above, which pydantic puts into the place of an error and nobody typed."""
