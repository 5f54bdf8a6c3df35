"""One demo plan shows every key of the plan file."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import get_args

import pytest
from pydantic import BaseModel

from deckplan.errors import InputError
from deckplan.plan.file import parse_plan
from deckplan.plan.model import Plan
from deckplan.reference import data_path


def _tables(table: type[BaseModel]) -> Iterator[tuple[str, str]]:
    """Yield every key of a table and of the tables in it, each with the table's own name."""
    for name, field in table.model_fields.items():
        yield table.__name__, field.alias or name
        for part in _parts_of(field.annotation):
            yield from _tables(part)


def _parts_of(kind: object) -> Iterator[type[BaseModel]]:
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        yield kind
    for inner in get_args(kind):
        yield from _parts_of(inner)


@pytest.mark.parametrize(("table", "key"), sorted(set(_tables(Plan))))
def test_one_demo_plan_shows_every_key(table: str, key: str) -> None:
    """A newcomer finds each key of the plan file, with what it means, in one file that can be copied."""
    text = data_path("plans", "every-key.toml").read_text(encoding="utf-8")
    assert re.search(rf"\b{key}\b( =|\]|\.)", text), f"{key} of {table}"


@pytest.mark.parametrize(("text", "words"), [("by_height = 3", "over ="), ('kind = "hang"', "hung")])
def test_a_wrong_list_or_kind_is_told_what_it_looks_like(text: str, words: str) -> None:
    plan = f"""
[[site.boundary]]
kind = "property"
line = [["0 ft", "40 ft"], ["30 ft", "40 ft"]]
{text if text.startswith("by") else ""}
[[platform]]
name = "a"
outline = [["0 ft", "0 ft"], ["9 ft", "0 ft"], ["9 ft", "9 ft"], ["0 ft", "9 ft"]]
elevation = "20 in"
[[platform.support]]
{text if text.startswith("kind") else 'kind = "beam"'}
offset = "4 ft"
"""
    with pytest.raises(InputError) as error:
        parse_plan(plan)
    assert any(words in problem.expected for problem in error.value.problems)
