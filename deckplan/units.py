"""Lengths as carpenters write them, and the one door to pint.

pint reads `6 1/2 in` as 3 in and `12 ft 6 in` as 72 ft*in without complaint, so lengths go through
`read_length`; pint sees only `number unit`. Inside the package a length is a float in inches.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from pint import UnitRegistry

Units = Literal["us", "metric"]

_FEET = r"(?:(?:ft|feet|foot)\.?|')"
_INCH = r"(?:(?:ins|inches|inch|in)\.?|\")"
_METRIC = {
    "mm": Fraction(10, 254),
    "cm": Fraction(100, 254),
    "m": Fraction(10000, 254),
}
_METRIC_WORD = r"(?P<unit>mm|cm|m)|(?P<word>milli|centi)?met(?:re|er)s?"
LONGEST_TEXT = 400
"""No length is longer as text; what is, is no length."""
_NUMBER = r"\d+(?:\.\d*)?|\.\d+"
_FRACTION = r"\d+\s*/\s*\d+"
# 6 | 6.5 | 6 1/2 | 6-1/2 | 1/2
_MIXED = rf"(?:\d+(?:\s*-\s*|\s+){_FRACTION}|{_FRACTION}|{_NUMBER})"

_FEET_INCHES = re.compile(
    rf"(?P<feet>{_MIXED})\s*{_FEET}(?:(?:\s*-\s*|\s*)(?P<inches>{_MIXED})\s*{_INCH}?)?", re.I | re.A
)
_FEET_DASH_INCHES = re.compile(rf"(?P<feet>\d+)\s*-\s*(?P<inches>{_MIXED})\s*{_INCH}?", re.I | re.A)
_INCHES = re.compile(rf"(?P<inches>{_MIXED})\s*{_INCH}?", re.I | re.A)
_IN_METRIC = re.compile(rf"(?P<number>{_NUMBER})\s*(?:{_METRIC_WORD})", re.I | re.A)

_SAME_SIGN = str.maketrans(
    {
        "’": "'", "‘": "'", "′": "'", "´": "'", "`": "'", "ʹ": "'",
        "”": '"', "“": '"', "″": '"', "ʺ": '"',
        "−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-", "⁄": "/", "∕": "/",
        "\u00a0": " ", "\u2009": " ", "\u202f": " ",
    }
)  # fmt: skip
_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6",
}  # fmt: skip

EXPECTED_LENGTH = "a length such as 12'-6 1/2\", 12 ft 6 1/2 in, 150 1/2 in, 3.81 m or 3810 mm"


def _plain(text: str) -> str:
    """Bring typographic quotes, dashes and fractions to the plain signs."""
    text = text.translate(_SAME_SIGN)
    for sign, plain in _VULGAR.items():
        # 6½, 6 ½ and 6-½ are one; the dash of -½ is a sign
        text = (
            re.sub(rf"(?<=\d)\s*-?\s*{sign}", f" {plain}", text).replace(sign, plain)
            if sign in text
            else text
        )
    return text.replace("''", '"').strip()


def _mixed(text: str) -> Fraction:
    """Read 6, 6.5, 6 1/2, 6-1/2 or 1/2."""
    parts = re.split(r"\s*-\s*|\s+", re.sub(r"\s*/\s*", "/", text.strip()))
    return sum((Fraction(part) for part in parts), Fraction(0))


def parse_length(text: str) -> Fraction:
    """Read a length exactly [in].

    Feet and inches with or without signs, mixed fractions, typographic quotes, unicode fractions, metric.
    A bare number is inches; `12-6` is 12 ft 6 in, with under 12 in after the dash; `7-5/16` is 7 5/16 in.

    Raises ValueError, with the spellings that would do, where the text is none of these.

    >>> parse_length("12'-6 1/2\\"")
    Fraction(301, 2)
    >>> parse_length("3810 mm")
    Fraction(150, 1)
    """
    if len(text) > LONGEST_TEXT:
        raise ValueError(EXPECTED_LENGTH)
    plain = _plain(text)
    sign = 1
    if plain[:1] in "+-" and plain:
        sign = -1 if plain[0] == "-" else 1
        plain = plain[1:].strip()
    try:
        return sign * _parse_unsigned(plain)
    except ZeroDivisionError:
        raise ValueError(EXPECTED_LENGTH) from None


def _parse_unsigned(plain: str) -> Fraction:
    if found := _IN_METRIC.fullmatch(plain):
        unit = found["unit"] or {"milli": "mm", "centi": "cm", "": "m"}[(found["word"] or "").lower()]
        return Fraction(found["number"]) * _METRIC[unit.lower()]
    if found := _INCHES.fullmatch(plain):
        return _mixed(found["inches"])
    if found := _FEET_INCHES.fullmatch(plain):
        return 12 * _mixed(found["feet"]) + (_mixed(found["inches"]) if found["inches"] else 0)
    found = _FEET_DASH_INCHES.fullmatch(plain)
    # 28-31 is more likely a range than 28 ft 31 in: between a bare dash the inches stay under a foot
    if found and _mixed(found["inches"]) < 12:
        return 12 * Fraction(found["feet"]) + _mixed(found["inches"])
    raise ValueError(EXPECTED_LENGTH)


def read_length(text: str) -> float:
    """Read a length [in] as a float; see `parse_length`.

    >>> read_length("12 ft 6 in")
    150.0
    """
    return float(parse_length(text))


def sixteenths(inches: float) -> int:
    """Round a length [in] to whole sixteenths of an inch, half away from zero."""
    count = int(abs(inches) * 16 + 0.5)
    return count if inches >= 0 else -count


def _fraction_text(count: int) -> str:
    """Write a count of sixteenths under a foot or any number of inches: 7 5/16, 5/16, 7."""
    whole, part = divmod(count, 16)
    if not part:
        return str(whole)
    fraction = Fraction(part, 16)
    lead = f"{whole} " if whole else ""
    return f"{lead}{fraction.numerator}/{fraction.denominator}"


def format_inches(inches: float) -> str:
    """Write a length [in] in inches and sixteenths: 7 5/16".

    >>> format_inches(7.3214)
    '7 5/16"'
    """
    count = sixteenths(inches)
    return ("-" if count < 0 else "") + _fraction_text(abs(count)) + '"'


def format_feet(inches: float) -> str:
    """Write a length [in] in feet, inches and sixteenths; rounds first, then splits.

    >>> format_feet(35.9999)
    '3\\'-0"'
    """
    count = sixteenths(inches)
    feet, rest = divmod(abs(count), 12 * 16)
    return ("-" if count < 0 else "") + f"{feet}'-{'0 ' if 0 < rest < 16 else ''}{_fraction_text(rest)}\""


def format_length(inches: float, units: Units = "us") -> str:
    """Write a length [in] as people of that system read it: feet and inches, or whole millimetres."""
    return format_feet(inches) if units == "us" else f"{inches * 25.4:.0f} mm".replace("-0 mm", "0 mm")


def format_short(inches: float, units: Units = "us") -> str:
    """Write a small length [in]: inches and sixteenths, or millimetres, half a millimetre kept apart."""
    if units == "us":
        return format_inches(inches)
    half = round(inches * 25.4 * 2) / 2 + 0.0
    return f"{half:.0f} mm" if half == int(half) else f"{half:.1f} mm"


def format_up(inches: float, units: Units = "us") -> str:
    """Write a small length [in] rounded up, for what has to be that long at the least.

    >>> format_up(7.26)
    '7 5/16"'
    """
    step = 1 / 16 if units == "us" else 0.5 / 25.4
    return format_short(math.ceil(inches / step - 1e-6) * step, units)


def write_length(inches: float, units: Units = "us") -> str:
    """Write a length [in] so that reading it gives the same float back, in the user's system where it can.

    >>> write_length(30.5)
    '30 1/2 in'
    """
    if units == "metric":
        for places in range(6):
            text = f"{inches * 25.4:.{places}f} mm"
            if read_length(text) == inches:
                return text
    exact = Fraction(inches)
    if exact.denominator in (1, 2, 4, 8, 16, 32, 64):
        whole, part = divmod(abs(exact), 1)
        lead = str(whole) if whole or not part else ""
        text = f"{lead} {part.numerator}/{part.denominator}" if part else lead
        return ("-" if exact < 0 else "") + text.strip() + " in"
    for places in range(6):
        text = f"{inches * 25.4:.{places}f} mm"
        if read_length(text) == inches:
            return text
    # the shortest decimals that read back as the same float, never with an exponent
    return f"{Decimal(repr(inches)):f} in"


KN_PER_LB = 0.45359237 * 9.80665 / 1000
"""Kilonewtons in a pound-force. Source: the exact pound and standard gravity."""

# Units that are shown otherwise in a metric plan: factor and name. Source: the exact inch and pound, standard gravity.
_SHOWN_AS = {
    "in": (25.4, "mm"), "ft": (0.3048, "m"), "lb": (KN_PER_LB, "kN"), "psf": (KN_PER_LB / 0.3048**2, "kPa"),
    "psi": (KN_PER_LB / 25.4**2 * 1000, "MPa"), "lb in": (KN_PER_LB * 0.0254, "kN m"),
    "lb/in": (KN_PER_LB / 0.0254, "N/mm"), "plf": (KN_PER_LB / 0.3048, "kN/m"),
}  # fmt: skip


def shown(value: float, unit: str, units: Units) -> tuple[float, str]:
    """Return a value [unit] and its unit as people of a system read it; a unit without a metric one stays.

    >>> shown(100.0, "psi", "us"), shown(1.0, "in", "metric")
    ((100.0, 'psi'), (25.4, 'mm'))
    """
    if units == "us" or unit not in _SHOWN_AS:
        return value, unit
    factor, name = _SHOWN_AS[unit]
    return value * factor, name


_PLAIN = r"(?<![\w.,/'])[+-]?\d[\d,]*(?:\.\d+)?"
# "8 by 8 ft" is two figures and one unit; "rises 0.25 in an inch" and "1 in 12" are no lengths
_FIGURES = re.compile(
    rf"(?P<figures>(?:{_PLAIN} (?:by|to|or|and) )*{_PLAIN}) "
    r"(?P<unit>lb in|lb|psi|psf|plf|ft|in(?! (?:an?\b|the\b|all\b|\d)))\b"
)


def listed(names: Sequence[str], last: str = "and") -> str:
    """Join names as people do.

    >>> listed(["A-F2"]), listed(["A-F2", "A-F1", "A-F3"]), listed(["a beam", "a post"], "or")
    ('A-F2', 'A-F2, A-F1 and A-F3', 'a beam or a post')
    """
    return f" {last} ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def restate(words: str, units: Units) -> str:
    """Return a sentence with its plain figures in inches, feet, pounds, psf and psi as people of a system read them.

    >>> restate("A-P1 is 6 in wide, 8 by 8 ft of it at 1,500 psf: a slope of 1 in 12", "metric")
    'A-P1 is 152 mm wide, 2.44 by 2.44 m of it at 71.8 kPa: a slope of 1 in 12'
    """
    if units == "us":
        return words

    def metric(found: re.Match[str]) -> str:
        def one(number: re.Match[str]) -> str:
            value, name = shown(float(number[0].replace(",", "")), found["unit"], units)
            return f"{value:.0f}" if name == "mm" else f"{value:.3g}"

        _, name = shown(1.0, found["unit"], units)
        return f"{re.sub(_PLAIN, one, found['figures'])} {name}"

    return _FIGURES.sub(metric, words)


@cache
def registry() -> UnitRegistry[float]:
    """Return the one pint registry, with the loads of the trade (psf, plf) added; loaded on first use."""
    from pint import UnitRegistry

    made: UnitRegistry[float] = UnitRegistry()
    made.define("pound_force_per_square_foot = pound_force / foot ** 2 = psf")
    made.define("pound_force_per_foot = pound_force / foot = plf")
    made.define("pound_force_per_cubic_foot = pound_force / foot ** 3 = pcf")
    made.define("@alias pound_force = lbs")
    return made


_NUMBER_UNIT = re.compile(r"([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)\s*([A-Za-z][\w/*^ .]*)")


def read_quantity(text: str, unit: str) -> float:
    """Read `number unit` and give its magnitude in `unit`, e.g. read_quantity("71.8 kPa", "psf").

    A unit of mass where a force is wanted (lb, kg) counts as its weight, as people write it.

    Raises ValueError where the text is not a number and a unit, or the unit measures something else.
    """
    found = _NUMBER_UNIT.fullmatch(text.strip().replace("²", "**2").replace("−", "-"))
    if not found:
        raise ValueError(f"a number and a unit, such as 40 {unit}")
    if found[2].strip() == unit:
        return float(found[1])  # as it stands, and without waking pint
    from pint import PintError

    units = registry()
    try:
        quantity = float(found[1]) * units.Unit(found[2])
        if quantity.dimensionality == (units.Unit(unit) / units.Unit("standard_gravity")).dimensionality:
            quantity = quantity * units.Unit("standard_gravity")
        magnitude = float(quantity.to(unit).magnitude)
    except (PintError, AttributeError, ValueError, TypeError):
        raise ValueError(f"a number and a unit that converts to {unit}") from None
    # 1 psf read as 1 psf must not become 0.9999999999999999
    return float(f"{magnitude:.12g}")


def to_unit(value: float, unit: str, other: str) -> float:
    """Convert a value from one unit to another through pint, for display."""
    return float(registry().Quantity(value, unit).to(other).magnitude)


_POWER = re.compile(r"(?<![\w.])\d(?:\.\d+)?e\+\d\d(?![\w.])")


def written_out(text: str) -> str:
    """Write powers of ten out in full, for nobody reads them on a site.

    >>> written_out("E' = 1.26e+06 psi")
    "E' = 1,260,000 psi"
    """
    return _POWER.sub(lambda found: f"{float(found[0]):,.0f}", text)
