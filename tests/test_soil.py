"""What soil bears: by a number, or by the name of a class of the code's table, and whose word it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from deckplan.errors import InputError
from deckplan.plan.file import read_plan
from deckplan.study import Study
from tests.decks import attached

FILE = """
format = 1
name = "test"
{site}
[[platform]]
name = "deck"
outline = [["0 ft", "0 ft"], ["12 ft", "0 ft"], ["12 ft", "10 ft"], ["0 ft", "10 ft"]]
elevation = "24 in"
  [[platform.support]]
  kind = "beam"
  offset = "1 ft"
  [[platform.support]]
  kind = "beam"
  offset = "9 ft"
"""


def bearing(tmp_path: Path, text: str) -> float:
    path = tmp_path / "plan.toml"
    path.write_text(FILE.format(site=f'site.soil_bearing = "{text}"'))
    return read_plan(path).site.soil_bearing


@pytest.mark.parametrize(
    ("text", "psf"),
    [  # IRC Table R401.4.1
        ("clay", 1500.0), ("Silty clay", 1500.0), ("sandy silt", 1500.0), ("CL", 1500.0),
        ("sand", 2000.0), ("clayey gravel", 2000.0), ("sm", 2000.0),
        ("gravel", 3000.0), ("sandy gravel", 3000.0), ("GW", 3000.0),
        ("sedimentary and foliated rock", 4000.0), ("crystalline bedrock", 12000.0), ("1800 psf", 1800.0),
    ],
)  # fmt: skip
def test_a_soil_by_its_name_or_by_its_number(tmp_path: Path, text: str, psf: float) -> None:
    assert bearing(tmp_path, text) == psf


@pytest.mark.parametrize("text", ["peat", "loam", "fill", "clay and peat"])
def test_soils_that_the_table_does_not_have_are_refused(tmp_path: Path, text: str) -> None:
    with pytest.raises(
        InputError, match=r'site.soil_bearing: a bearing such as "1500 psf", or a soil such as "clay"'
    ):
        bearing(tmp_path, text)


@pytest.mark.parametrize(
    ("site", "said", "named"),
    [
        ({}, "assumed, not confirmed by a soil test", "clay, sandy clay"),
        ({"soil_bearing": "sand"}, "as the plan says", "sand, silty sand"),
        ({"soil_bearing": 1800.0}, "as the plan says", ""),
    ],
)
def test_a_footings_sum_says_whose_word_the_bearing_is(
    site: dict[str, object], said: str, named: str
) -> None:
    ground = [{"at": (0.0, 0.0), "elevation": 0.0}]
    study = Study(attached(144, 120, site={"ground": ground, **site}))
    checks = [check for check in study.checks if check.rule == "soil pressure"]
    assert checks
    for check in checks:
        first = str(check.steps[0])
        assert said in first
        assert named in first
        assert ("R401.4.1" in first) is bool(named)
        assert check.steps[0].value == study.plan.site.soil_bearing
    unsaid = [note for note in study.notes if "soil test" in note.text]
    assert len(unsaid) == (0 if site else 1)
