"""Every dimensional formula runs on quantities and answers in the unit that its docstring states.

A formula is a public function of the room whose arguments and answer are floats. Those with constants that
hold in inches and pounds only say "Empirical" in their docstring and are left out.
"""

import importlib
import inspect
import pkgutil
import re
import typing

import pint
import pytest

import deckplan.engineering as room

UNITS = pint.UnitRegistry()
UNITS.define("pcf = force_pound / foot ** 3")
UNITS.define("psf = force_pound / foot ** 2")

NAMES = {
    "1": "dimensionless",
    "in": "inch",
    "in2": "inch**2",
    "in3": "inch**3",
    "in4": "inch**4",
    "ft": "foot",
    "ft2": "foot**2",
    "lb": "force_pound",
    "lb in": "force_pound * inch",
    "lb in2": "force_pound * inch**2",
    "lb/in": "force_pound / inch",
    "psi": "force_pound / inch**2",
    "psf": "psf",
    "pcf": "pcf",
}
# Arguments at which a formula is defined, where ones everywhere would not do.
SIZES = {
    "beam_stability_factor": {"Fb_star": 1000.0, "FbE": 1700.0},
    "column_stability_factor": {"Fc_star": 1000.0, "FcE": 1700.0},
    "height_for_stability": {"Fc": 1000.0, "Emin": 5e5, "stress": 300.0, "side": 5.5},
    "eccentric_utilisation": {"FcE": 9.0},
    "compression_and_bending": {"FcE1": 9.0, "FcE2": 9.0, "FbE": 9.0},
    "area_needed": {"bearing": 1500.0, "density": 150.0},
    "throat_depth": {"depth": 11.25, "riser": 7.0, "tread": 11.0},
}
# Their arguments are not all quantities: counts, angles, names of cases.
NOT_FORMULAS = {"geometry_factor", "root"}


def formulas():
    for module in pkgutil.iter_modules(room.__path__):
        loaded = importlib.import_module(f"{room.__name__}.{module.name}")
        for name, function in vars(loaded).items():
            if (
                not inspect.isfunction(function)
                or function.__module__ != loaded.__name__
                or name.startswith("_")
            ):
                continue
            hints = typing.get_type_hints(function)
            floats = hints and all(hint is float for hint in hints.values())
            if floats and "Empirical" not in (function.__doc__ or "") and name not in NOT_FORMULAS:
                yield pytest.param(function, id=f"{module.name}.{name}")


def units_of(function):
    """Units by argument and of the answer, as the docstring states them: `a, b [in]`, `Return ... [psi]`."""
    text = " ".join((function.__doc__ or "").split())
    first, _, rest = text.partition(". ")
    answer = re.search(r"\[([^\]]+)\]", first)
    stated = {}
    for names, unit in re.findall(r"((?:\w+, )*\w+) \[([^\]]+)\]", rest):
        for name in names.split(", "):
            stated.setdefault(name, unit)
    return stated, answer[1] if answer else ""


FORMULAS = list(formulas())


@pytest.mark.parametrize("function", FORMULAS)
def test_the_answer_has_the_unit_of_the_docstring(function):
    stated, answer = units_of(function)
    given = {}
    for name, argument in inspect.signature(function).parameters.items():
        if argument.default is not inspect.Parameter.empty and stated.get(name, "1") == "1":
            continue
        assert name in stated, f"{function.__name__}: no unit stated for {name}"
        if stated[name] == "degrees":
            given[name] = 30.0
            continue
        given[name] = UNITS.Quantity(SIZES.get(function.__name__, {}).get(name, 2.0), NAMES[stated[name]])
    result = function(**given)
    result = result if hasattr(result, "check") else UNITS.Quantity(result, "dimensionless")
    assert result.dimensionality == UNITS.Quantity(1.0, NAMES[answer]).dimensionality


def test_enough_formulas_are_found():
    names = {parameter.id for parameter in FORMULAS}
    assert len(names) >= 20
    assert {"bending.bending_stress", "factors.column_stability_factor", "columns.axial_stress"} <= names
