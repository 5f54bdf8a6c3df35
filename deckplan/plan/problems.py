"""From what pydantic reports to a sentence about a place in the user's own file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from difflib import get_close_matches
from typing import Any

from pydantic import BaseModel, ValidationError

from deckplan.errors import Problem
from deckplan.plan.fields import TAGS

NAMED = ("platform", "wall", "door")
"""Tables that carry a name."""


def came(value: object) -> str:
    """Write what stood there: numbers and lengths as they are, other text in quotes, cut where it is long."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        text = value if len(value) <= 60 else value[:57] + "..."
        text = text if text.isprintable() else repr(text)[1:-1]
        return text if text[:1].isdigit() or (text[:1] in ("-", "+", ".") and len(text) > 1) else f'"{text}"'
    text = _as_written(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _as_written(value: object, depth: int = 0) -> str:
    """Write a list or a table about as it stands in the file."""
    if depth > 6:
        return "..."
    if isinstance(value, Mapping):
        inner = ", ".join(f"{key} = {_as_written(item, depth + 1)}" for key, item in list(value.items())[:8])
        return f"{{ {inner} }}" if inner else "an empty table"
    if isinstance(value, (list, tuple)):
        inner = ", ".join(_as_written(item, depth + 1) for item in value[:8])
        return f"[{inner}]" if inner or depth else "an empty list"
    if isinstance(value, str):
        return f'"{value}"' if value.isprintable() else repr(value)
    return str(value).lower() if isinstance(value, bool) else str(value)


def nearest(word: str, known: Iterable[str]) -> str:
    """Return the known word that was probably meant, or an empty text."""
    by_lower = {name.lower(): name for name in known}
    found = get_close_matches(word.lower(), list(by_lower), n=1, cutoff=0.6)
    return by_lower[found[0]] if found else ""


def listed(words: Iterable[str]) -> str:
    """Write names in quotes, with commas; `none` where there are none."""
    return ", ".join(f'"{word}"' for word in words) or "none"


def head(table: str, number: int, raw: object, names: Sequence[str] = ()) -> str:
    """Name one of several tables: by name, by number where it has none, by both where two share a name."""
    name = text_of(raw.get("name")) if isinstance(raw, Mapping) else ""
    if table in NAMED and name and len(name) <= 120 and name.isprintable():
        return f'{table} {number} "{name}"' if names.count(name) > 1 else f'{table} "{name}"'
    return f"{table} {number}"


def _words(keys: Sequence[int | str]) -> str:
    """Write the rest of a place: `joists.spacing`, `support 2, offset`, `outline, corner 3, x`."""
    parts: list[str] = []
    dotted = False
    for depth, key in enumerate(keys):
        before = keys[depth - 1] if depth else ""
        if isinstance(key, int):
            if before == "outline":
                parts.append(f"corner {key + 1}")
            elif before in ("support", "ground", "boundary", "by_height", "wall", "door"):
                parts[-1] = f"{parts[-1]} {key + 1}"
            elif (depth > 0 and before in ("at",)) or isinstance(before, int):
                parts.append("xy"[key] if key < 2 else f"entry {key + 1}")
            else:
                parts.append(f"{'point' if before in ('line', 'along') else 'entry'} {key + 1}")
            dotted = False
        elif dotted:
            parts[-1] = f"{parts[-1]}.{key}"
        else:
            parts.append(key)
            dotted = True
    return ", ".join(parts)


def plain_keys(keys: Sequence[int | str]) -> tuple[int | str, ...]:
    """Drop from a place what pydantic put in and nobody typed: the names of alternatives."""
    kept: list[int | str] = []
    for depth, key in enumerate(keys):
        before = keys[depth - 1] if depth else ""
        second = keys[depth - 2] if depth > 1 else ""
        alternative = key in TAGS and before in (
            "direction",
            "posts",
            "spacing",
            "elevation",
            "breaker",
            "first",
        )
        chosen = isinstance(before, int) and second == "support"
        if not (alternative or chosen):
            kept.append(key)
    return tuple(kept)


def place_of(lead: str, keys: Sequence[int | str]) -> str:
    """Join the head of a table and the keys inside it to one place."""
    rest = _words(plain_keys(keys))
    return f"{lead}, {rest}" if lead and rest else lead or rest


def _keys_of(model: type[BaseModel]) -> list[str]:
    return [field.alias or name for name, field in model.model_fields.items()]


LISTS = {
    "ground": 'a list such as [{ at = ["0 ft", "0 ft"], elevation = "0 in" }]',
    "by_height": 'a list such as [{ over = "30 in", setback = "10 ft" }]',
}
"""What a list of tables looks like, by its key."""


def _closed_tables() -> dict[str, type[BaseModel]]:
    from deckplan.plan import model

    tables: dict[str, type[BaseModel]] = {
        "joists": model.Joists,
        "boards": model.Boards,
        "elevation": model.ElevationRange,
    }
    tables |= {"decking": model.Decking, "fascia": model.Fascia, "ground": model.SpotElevation}
    tables |= {"boundary": model.BoundaryLine, "by_height": model.SetbackByHeight}
    return tables | {"opening": model.Opening}


def _unknown(model: type[BaseModel], keys: Sequence[int | str]) -> str:
    """Say that a key means nothing, and which one was probably meant."""
    from deckplan.plan.model import BeamLine, Hung, Ledger

    *tables, key = keys
    names = [name for name in tables if isinstance(name, str)]
    if "support" in names:
        kinds: dict[str, type[BaseModel]] = {"ledger": Ledger, "hung": Hung}
        owner = next((kinds[name] for name in names if name in kinds), BeamLine)
    else:
        known = _closed_tables()
        owner = next((known[name] for name in reversed(names) if name in known), model)
    return unknown_key(str(key), _keys_of(owner))


def unknown_key(key: str, known: Sequence[str]) -> str:
    """Write what is expected where a key means nothing."""
    guess = nearest(key, known)
    return f"no such key; did you mean {guess}?" if guess else f"no such key; known here: {', '.join(known)}"


def problems_of(error: ValidationError, model: type[BaseModel], lead: str) -> list[Problem]:
    """Turn every error of one table into a problem with its place."""
    found: list[Problem] = []
    for one in error.errors():
        keys = one["loc"]
        place = place_of(lead, keys)
        kind, raw, extra = one["type"], one["input"], one.get("ctx", {})
        if kind == "missing":
            found.append(Problem(place, "needed, but missing"))
        elif kind == "extra_forbidden":
            found.append(Problem(place, _unknown(model, keys)))
        elif kind == "value_error":
            found.append(Problem(place, str(extra["error"]), came(raw)))
        elif kind == "literal_error":
            found.append(Problem(place, _choices(str(extra["expected"])), came(raw)))
        elif kind in ("union_tag_invalid", "union_tag_not_found"):
            raw_kind = raw.get("kind") if isinstance(raw, Mapping) else None
            found.append(
                Problem(
                    f"{place}, kind",
                    'one of "ledger", "beam", "hung"',
                    "" if raw_kind is None else came(raw_kind),
                )
            )
        elif kind in ("model_type", "model_attributes_type", "dict_type"):
            found.append(Problem(place, "a table", came(raw)))
        elif kind in ("tuple_type", "list_type"):
            found.append(Problem(place, LISTS.get(place.rpartition(", ")[2].split()[0], "a list"), came(raw)))
        elif kind == "string_type":
            found.append(Problem(place, "text in quotes", came(raw)))
        else:
            found.append(Problem(place, one["msg"], came(raw)))
    return found


def _choices(expected: str) -> str:
    """Write the words that would do; a single one is the format number."""
    words = expected.replace("'", '"').replace(" or ", ", ")
    return f"one of {words}" if "," in words else f"{words}, the one that this version reads"


def keys_at_fault(error: ValidationError) -> list[tuple[int | str, ...]]:
    """Return the places of the errors, so that the sound rest of a table can still be looked at."""
    return [one["loc"] for one in error.errors()]


def text_of(value: Any) -> str:
    """Return a text as it is, anything else as nothing: for names that may be of any type in a raw file."""
    return value.strip() if isinstance(value, str) else ""
