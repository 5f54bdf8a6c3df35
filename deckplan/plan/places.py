"""Changing and showing one value of a plan by its place, as the panels do.

A place is written with dots, lists by name or by number from 1::

    platform.breakfast.elevation        platform.breakfast.support.2.offset
    platform.breakfast.outline.3.x      flight.1.tread
    wall.south wall.ledger              site.soil_bearing
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from pydantic.fields import FieldInfo

from deckplan.errors import InputError, Problem
from deckplan.plan.model import Part, Plan
from deckplan.plan.problems import listed, nearest
from deckplan.plan.tables import plan_from_data
from deckplan.plan.writing import keys_of, to_text

Steps = tuple[str | int, ...]
_RANGE = re.compile(r"(.+?)\s+to\s+(.+)")


def edit(plan: Plan, place: str, text: str) -> Plan:
    """Return the plan with one value changed.

    place: see above; text: what the person typed, read like the same value in a file. An elevation may be
    a range, "28 in to 31 in"; offsets with commas, points with semicolons ("2 ft, 0 ft; 20 ft, 0 ft; ..").
    Nothing typed gives back the default where the value may be left out. A new name is followed everywhere.
    Raises InputError, in the words of the plan file, where the place or the text cannot be.

    >>> from deckplan.plan.tables import plan_from_data
    >>> deck = {"name": "a", "outline": [(0, 0), (96, 0), (96, 96)], "elevation": 20.0}
    >>> plan = plan_from_data({"platform": [deck]})
    >>> edit(plan, "platform.a.elevation", "1 ft 9 in").platform("a").elevation
    21.0
    """
    return edit_together(plan, {place: text})


def edit_together(plan: Plan, changes: Mapping[str, str]) -> Plan:
    """Return the plan with several values changed at once, judged only when all are in.

    changes: texts by place, as in `edit`. For changes that make sense only together, such as an edge that
    moves with the flight on it. Raises InputError with every problem.
    """
    # What nobody gave stays not given: some defaults are worth a question later.
    data = plan.model_dump(by_alias=True, exclude_unset=True)
    for place, text in changes.items():
        steps, part, key = _find(plan, place)
        if not text.strip() and steps[-1] == key and not _field(part, key).is_required():
            _owner(data, steps).pop(key, None)
        else:
            _owner(data, steps)[steps[-1]] = _typed(key, text)
        if key == "name" and steps[0] in ("platform", "house"):
            _rename(data, str(getattr(part, "name", "")), text.strip(), steps)
    return plan_from_data(data, "", {"typed": True})


def value_text(plan: Plan, place: str) -> str:
    """Return one value as a person would type it; `edit` with that text changes nothing.

    Raises InputError where the place does not exist.
    """
    steps, part, key = _find(plan, place)
    name = next(name for name, alias in keys_of(part) if alias == key)
    value: Any = getattr(part, name)
    for step in steps[_depth_of(steps, key) + 1 :]:
        value = value[step]
    return to_text(key, value, plan.units)


def _depth_of(steps: Steps, key: str) -> int:
    return max(depth for depth, step in enumerate(steps) if step == key)


# -- finding --


def _find(plan: Plan, place: str) -> tuple[Steps, Part, str]:
    """Return the way to a value in the plan's tables, the table that holds it, and its key."""
    words = place.split(".")
    if words[0] in ("wall", "door"):
        words = ["house", *words]
    steps: list[str | int] = []
    here: Any = plan
    while True:
        key = words.pop(0)
        known = {alias: name for name, alias in keys_of(here)}
        if key not in known:
            raise _nowhere(place, key, list(known))
        steps.append(key)
        value = getattr(here, known[key])
        if isinstance(value, tuple) and value and isinstance(value[0], Part) and words:
            index, words = _pick(value, words, place)
            steps.append(index)
            here = value[index]
        elif isinstance(value, Part) and words:
            here = value
        elif (isinstance(value, Part) and key != "elevation") or _holds_tables(here, key, value):
            raise _nowhere(place, key, ())
        else:
            steps += _inside(value, words, place)
            return tuple(steps), here, key
        if not words:
            raise _nowhere(place, str(steps[-1]), ())


def _holds_tables(here: Part, key: str, value: Any) -> bool:
    """Tell whether a key stands for tables of their own, which no typed text can be."""
    return key in (
        "platform", "flight", "wall", "door", "support", "opening", "ground", "boundary", "by_height",
    )  # fmt: skip


def _pick(parts: Sequence[Part], words: list[str], place: str) -> tuple[int, list[str]]:
    """Pick one of several tables by its name, which may have dots in it, or by its number from 1."""
    names = [str(getattr(part, "name", "")) for part in parts]
    for count in range(len(words), 0, -1):
        name = ".".join(words[:count])
        if name and name in names:
            return names.index(name), words[count:]
    if words[0].isdigit() and 1 <= int(words[0]) <= len(parts):
        return int(words[0]) - 1, words[1:]
    raise _nowhere(
        place, words[0], [name for name in names if name] or [str(n + 1) for n in range(len(parts))]
    )


def _inside(value: Any, words: list[str], place: str) -> list[int]:
    """Follow the rest of a place into points: `3.x` of an outline, `x` of a point, `2` of offsets."""
    steps: list[int] = []
    for word in words:
        if not isinstance(value, tuple):
            raise _nowhere(place, word, ())
        index = {"x": 0, "y": 1}.get(word) if len(value) == 2 and not isinstance(value[0], tuple) else None
        if index is None:
            index = int(word) - 1 if word.isdigit() else -1
        if not 0 <= index < len(value):
            raise _nowhere(place, word, ())
        steps.append(index)
        value = value[index]
    return steps


def _nowhere(place: str, word: str, known: Sequence[str]) -> InputError:
    guess = nearest(word, known)
    hint = (
        f'did you mean "{guess}"?'
        if guess
        else f"known here: {listed(known)}"
        if known
        else "one single value"
    )
    return InputError([Problem(place, f"a place in the plan ({hint})", f'"{word}"')])


# -- changing --


def _field(part: Part, key: str) -> FieldInfo:
    return next(field for name, field in type(part).model_fields.items() if (field.alias or name) == key)


def _typed(key: str, text: str) -> object:
    """Return what was typed in the form in which the plan file would hold it."""
    text = text.strip()
    found = _RANGE.fullmatch(text) if key == "elevation" else None
    return {"from": found[1], "to": found[2]} if found else text


def _owner(data: Any, steps: Steps) -> Any:
    """Return the table or list that holds a value; points are opened on the way, tables nobody gave are made."""
    for step in steps[:-1]:
        if isinstance(step, str):
            data.setdefault(step, {})
        if isinstance(data[step], tuple):
            data[step] = list(data[step])
        data = data[step]
    return data


def _rename(data: dict[str, Any], old: str, new: str, steps: Steps) -> None:
    """Let everything that named a platform, wall or door name it by its new name."""
    wall = "wall" in steps[:2]
    for flight in data.get("flight", ()):
        for key in ("from", "to"):
            if not wall and flight[key] == old:
                flight[key] = new
    for platform in data.get("platform", ()):
        for support in platform.get("support", ()):
            for key in (
                ("wall",) if wall else ("shares_posts_with", "stands_on", "shares_footings_with", "on")
            ):
                if support.get(key) == old and "door" not in steps[:2]:
                    support[key] = new
