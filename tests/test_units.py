"""Lengths as carpenters write them: every spelling, exact sixteenths, metric, and what must be refused."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deckplan.units import (
    format_feet,
    format_inches,
    format_length,
    format_short,
    parse_length,
    read_length,
    read_quantity,
    restate,
    shown,
    sixteenths,
    to_unit,
    write_length,
)

# 16 x 5000 in: any length of a deck and far beyond, in whole sixteenths
SIXTEENTHS = st.integers(-16 * 5000, 16 * 5000)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        # all the same length, 150 1/2 in
        ("12'-6 1/2\"", "301/2"),
        ("12' 6 1/2\"", "301/2"),
        ("12'6-1/2\"", "301/2"),
        ("12 ft 6 1/2 in", "301/2"),
        ("12ft6.5in", "301/2"),
        ("12 ft. 6 1/2 in.", "301/2"),
        ("12 feet 6.5 inches", "301/2"),
        ("12 FT 6 1/2 IN", "301/2"),
        ("12-6 1/2", "301/2"),
        ("12-6-1/2", "301/2"),
        ("12-11 15/16", "2495/16"),
        ("150 1/2 in", "301/2"),
        ('150-1/2"', "301/2"),
        ("150.5", "301/2"),
        ("12’-6 ½”", "301/2"),
        ("12′ 6½″", "301/2"),
        ("12'-6''", "150"),
        ("  12'\u00a06\"  ", "150"),
        ("12–6", "150"),
        # inches alone
        ("6 1/2", "13/2"),
        ("6½", "13/2"),
        ("6-½ in", "13/2"),
        ("7-5/16", "117/16"),
        ('5/16"', "5/16"),
        ("½ in", "1/2"),
        ("6 1⁄2 in", "13/2"),
        (".5 in", "1/2"),
        # feet alone
        ("12'", "144"),
        ("1.5 ft", "18"),
        ("1/2 ft", "6"),
        # below the benchmark
        ("-9 in", "-9"),
        ("−9 in", "-9"),
        ("-1'-6\"", "-18"),
        ("-½ in", "-1/2"),
        ("+3 in", "3"),
        ("0", "0"),
        # metric: 25.4 mm are one inch by definition (international inch, 1959)
        ("3.81 m", "150"),
        ("3810 mm", "150"),
        ("381 cm", "150"),
        ("3810mm", "150"),
        ("3.81 metres", "150"),
        ("25.4 millimeters", "1"),
        ("-254 mm", "-10"),
    ],
)
def test_reads_every_spelling(text: str, inches: str) -> None:
    assert parse_length(text) == Fraction(inches)


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "deep", "in", "'", "12 6", "12 ft 6 ft", "6 in 12 ft", "6 1/2 1/2", "1/0 in", "6 1/0",
        "1e3 in", "nan", "inf", "--6 in", "12'-", "6 1/", "3,81 m", "1,000 ft", "12 m 5 cm", "1/2 m",
        "1 1/2 mm", "12 yd", "6 in\n7 in", "٣ in", "0x10", "6 in;", "9" * 5000, "½½", "28-31", "12-12",
    ],
)  # fmt: skip
def test_refuses_what_is_no_length_and_says_what_would_do(text: str) -> None:
    with pytest.raises(ValueError, match="a length such as 12'-6 1/2"):
        parse_length(text)


@pytest.mark.parametrize(
    ("inches", "feet", "alone"),
    [
        # round first, then split: 35.9999 in is 3 ft and never 2'-12"
        (35.9999, "3'-0\"", '36"'),
        (11.97, "1'-0\"", '12"'),
        (102.5 / 14, "0'-7 5/16\"", '7 5/16"'),
        (150.5, "12'-6 1/2\"", '150 1/2"'),
        (0.0, "0'-0\"", '0"'),
        (-0.01, "0'-0\"", '0"'),
        (0.03125, "0'-0 1/16\"", '1/16"'),
        (-18.5, "-1'-6 1/2\"", '-18 1/2"'),
        (-35.9999, "-3'-0\"", '-36"'),
        (5.25, "0'-5 1/4\"", '5 1/4"'),
    ],
)
def test_writes_feet_and_inches_rounded_first(inches: float, feet: str, alone: str) -> None:
    assert format_feet(inches) == feet
    assert format_length(inches) == feet
    assert format_inches(inches) == alone
    assert format_short(inches) == alone


def test_writes_metric_in_whole_and_half_millimetres() -> None:
    assert format_length(150.0, "metric") == "3810 mm"
    assert format_length(-0.001, "metric") == "0 mm"
    assert format_length(-10 / 25.4, "metric") == "-10 mm"
    assert format_short(3.5 / 25.4, "metric") == "3.5 mm"
    assert format_short(-0.0001, "metric") == "0 mm"


def _spellings(count: int) -> list[str]:
    """Write so many sixteenths in every way people do; built by hand, not by the code under test."""
    sign, count = ("-" if count < 0 else ""), abs(count)
    whole, part = divmod(count, 16)
    feet, inches = divmod(whole, 12)
    fraction = f"{part}/16" if part else ""
    small = f"{inches} {fraction}".strip() if inches or not part else fraction
    alone = f"{whole} {fraction}".strip() if whole or not part else fraction
    return [
        f"{sign}{feet}'-{small}\"",
        f"{sign}{feet}' {small}\"",
        f"{sign}{feet}’ {small}”",
        f"{sign}{feet} ft {small} in",
        f"{sign}{feet}ft {small}in",
        f"{sign}{feet}-{small}",
        f"{sign}{alone} in",
        f'{sign}{alone}"',
        f"{sign}{alone} inches",
        f"{sign}{count / 16!r} in",
    ]


@given(SIXTEENTHS)
def test_sixteenths_survive_every_spelling(count: int) -> None:
    wanted = Fraction(count, 16)
    for text in _spellings(count):
        if "-" in text[1:] and "'" not in text and "/" in text and text.split("-")[-1].count(" ") == 0:
            continue  # 3-5/16 means 3 5/16 in, not 3 ft 5/16 in
        assert parse_length(text) == wanted, text


@given(SIXTEENTHS)
def test_sixteenths_survive_every_format(count: int) -> None:
    inches = count / 16
    for text in (format_feet(inches), format_inches(inches), format_length(inches), format_short(inches)):
        assert parse_length(text) == Fraction(count, 16)
    assert sixteenths(inches) == count


@given(st.floats(-5000, 5000))
def test_written_feet_never_hold_twelve_inches_and_are_the_nearest_sixteenth(inches: float) -> None:
    text = format_feet(inches)
    assert not text.split("'-")[1].startswith(("12", "13"))
    assert abs(read_length(text) - inches) <= 1 / 32 + 1e-9


@given(st.floats(-12_000, 12_000), st.sampled_from(["us", "metric"]))
def test_a_length_written_for_the_file_reads_as_the_same_float(inches: float, units: str) -> None:
    assert read_length(write_length(inches, units)) == inches  # type: ignore[arg-type]


@given(st.integers(-300_000, 300_000))
def test_whole_millimetres_stay_whole_millimetres(count: int) -> None:
    inches = read_length(f"{count} mm")
    assert write_length(inches, "metric") == f"{count} mm"
    assert format_length(inches, "metric") == f"{count} mm"


@pytest.mark.parametrize(
    ("text", "psf", "within"),
    [
        ("40 psf", 40.0, 0.0),
        ("1500psf", 1500.0, 0.0),
        ("1.9 kPa", 39.68, 0.005),  # NBC 2015 prints 1.9 kPa for the 40 psf of US codes (from memory)
        ("71.82 kPa", 1500.0, 0.02),  # 1,500 psf in the SI tables of soil reports (from memory)
        ("100 kg/m^2", 20.48, 0.005),  # 1 kg/m2 is 0.2048 psf (handbook factor, from memory)
        ("1 lbf/ft**2", 1.0, 1e-9),
        ("2 lb/ft²", 2.0, 1e-9),  # a mass stands for its weight, as people write it
    ],
)
def test_reads_area_loads(text: str, psf: float, within: float) -> None:
    assert read_quantity(text, "psf") == pytest.approx(psf, abs=within)


@pytest.mark.parametrize("text", ["", "40", "psf", "40 ft", "40 psi psi", "forty psf", "40 blobs", "nan psf"])
def test_refuses_what_is_no_area_load(text: str) -> None:
    with pytest.raises(ValueError, match="a number and a unit"):
        read_quantity(text, "psf")


def test_converts_for_display() -> None:
    # 1 kPa is 20.885 psf (handbook factor)
    assert to_unit(1.0, "kPa", "psf") == pytest.approx(20.885, abs=0.001)
    assert math.isclose(to_unit(12.0, "in", "ft"), 1.0)


def test_what_is_said_of_a_mark_has_the_figures_of_the_plan() -> None:
    # NIST SP 811 appendix B.8: 1 lbf = 4.448222 N, 1 psf = 47.88026 Pa, 1 psi = 6.894757 kPa; the inch is 25.4 mm.
    assert shown(1.0, "lb", "metric") == (pytest.approx(4.448222e-3), "kN")
    assert shown(1.0, "psf", "metric") == (pytest.approx(47.88026e-3), "kPa")
    assert shown(1.0, "psi", "metric") == (pytest.approx(6.894757e-3), "MPa")
    assert restate("only 1.5 in of bearing", "metric") == "only 38 mm of bearing"
    assert restate("1,200 lb or more", "metric") == "5.34 kN or more"
    for kept in ("a 2x10 at A-J3", "rises 0.2 in an inch", "3 in all", "+2'-6 1/2\""):
        assert restate(kept, "metric") == kept
    assert restate("1.5 in", "us") == "1.5 in"
