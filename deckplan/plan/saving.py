"""Putting a changed plan into the user's own text, key by key, so that comments and order survive."""

from __future__ import annotations

from collections.abc import MutableMapping, Sequence
from typing import Any

import tomlkit
from tomlkit.items import AoT, Array, Comment, InlineTable, Item, Table

from deckplan.errors import InputError
from deckplan.plan.file import parse_plan
from deckplan.plan.model import Part, Plan
from deckplan.plan.writing import keys_of, part_to_data, plan_to_data, to_data
from deckplan.units import Units

IN_LINE = ("joists", "boards", "decking", "fascia", "elevation")
"""Tables that are written on one line inside their owner."""


def plan_to_toml(plan: Plan) -> str:
    """Write a whole plan as the text of a new plan file."""
    data = plan_to_data(plan)
    document = tomlkit.document()
    for key in ("format", "name", "rules", "units"):
        document[key] = data.pop(key)
    for key, value in data.items():
        document[key] = _item(key, value)
    return tomlkit.dumps(document)


def changed_text(text: str, before: Plan, after: Plan, file: str) -> str:
    """Return the text of a plan file with the keys rewritten in which two plans differ.

    before: what the text says; after: what it shall say; file: where it will lie, for paths beside it.
    Raises InputError where the outcome would not read as a plan.
    """
    if "\r\n" in text:
        # An editor of another system: its line ends everywhere, in what is added too.
        return changed_text(text.replace("\r\n", "\n"), before, after, file).replace("\n", "\r\n")
    document = tomlkit.parse(text)
    units = after.units
    _change(document, before, after, units)
    changed = tomlkit.dumps(document)
    if _says(changed, after, file):
        return changed
    # The user's own rules lay beside the old place of the file.
    document["rules"] = after.rules
    changed = tomlkit.dumps(document)
    if _says(changed, after, file):
        return changed
    # A form of table that cannot be changed in place: comments in the head of the file are kept.
    kept = [line for line in text.splitlines() if line.startswith("#")]
    whole = "\n".join([*kept, "", plan_to_toml(after)])
    parse_plan(whole, file)
    return whole


def _says(text: str, plan: Plan, file: str) -> bool:
    try:
        return parse_plan(text, file) == plan
    except InputError:
        return False


# -- tables --


def _change(table: MutableMapping[str, Any], before: Part, after: Part, units: Units) -> None:
    """Rewrite the keys of one table in which two parts differ."""
    for name, key in keys_of(after):
        old, new = getattr(before, name), getattr(after, name)
        if old == new:
            continue
        here = table.get(key)
        if new is None:
            table.pop(key, None)
        elif _is_parts(old) or _is_parts(new):
            _change_list(table, key, old, new, units)
        elif isinstance(new, Part) and type(old) is type(new) and isinstance(here, MutableMapping):
            _change(here, old, new, units)
        else:
            table[key] = _item(key, to_data(key, new, units))


def _is_parts(value: Any) -> bool:
    return isinstance(value, tuple) and bool(value) and isinstance(value[0], Part)


def _item(key: str, value: Any) -> Item:
    """Make a value into an item of the document, in the form in which people write that key."""
    if isinstance(value, dict):
        made: Any = tomlkit.inline_table() if key in IN_LINE else tomlkit.table(is_super_table=key == "house")
        for inner, item in value.items():
            made[inner] = _item(inner, item)
        done: Item = made
        return done
    if isinstance(value, list) and value and isinstance(value[0], dict) and key != "ground":
        rows = tomlkit.aot()
        for item in value:
            rows.append(_item("", item))
        return rows
    if isinstance(value, list) and key == "ground":
        array = tomlkit.array()
        for item in value:
            array.append(_inline(item))
        return array.multiline(True)
    plain: Item = tomlkit.item(value)
    return plain


def _inline(data: dict[str, Any]) -> InlineTable:
    made = tomlkit.inline_table()
    made.update(data)
    return made


# -- lists of tables --


def _change_list(
    table: MutableMapping[str, Any], key: str, old: Sequence[Part], new: Sequence[Part], units: Units
) -> None:
    """Change, remove, add and reorder the tables of a list."""
    rows = table.get(key)
    if not isinstance(rows, (AoT, Array)) or not new:
        table.pop(key, None)
        if new:
            table[key] = _item(key, [part_to_data(part, units) for part in new])
        return
    plain = list(rows)
    kept: list[Any] = []
    for index, part in _pairs(old, new):
        if index is None:
            data = part_to_data(part, units)
            kept.append(_inline(data) if isinstance(rows, Array) else _item("", data))
        else:
            _change(plain[index], old[index], part, units)
            kept.append(plain[index])
    if len(kept) == len(plain) and all(a is b for a, b in zip(kept, plain, strict=True)):
        return
    if isinstance(rows, AoT):
        _keep_comments(plain, kept)
    while len(rows):
        del rows[len(rows) - 1]
    for row in kept:
        rows.append(row)


def _keep_comments(before: list[Any], after: list[Any]) -> None:
    """Hand the comments at the end of a removed table to a neighbour: most often they head the next table."""
    for index, row in enumerate(before):
        if any(row is other for other in after):
            continue
        comments = _last_comments(row)
        heir = next((old for old in reversed(before[:index]) if any(old is other for other in after)), None)
        heir = heir if heir is not None else next(iter(after), None)
        if comments and heir is not None:
            body = _last_table(heir)
            for comment in comments:
                body.add(tomlkit.comment(comment.lstrip("# ")))


def _last_table(row: Any) -> Any:
    """Return the table whose text ends a table: itself, or the last of its own tables."""
    inner = [value for value in row.values() if isinstance(value, (AoT, Table))]
    if not inner:
        return row
    last = inner[-1]
    return _last_table(last[len(last) - 1] if isinstance(last, AoT) else last)


def _last_comments(row: Any) -> list[str]:
    comments: list[str] = []
    for key, item in reversed(_last_table(row).value.body):
        if isinstance(item, Comment):
            comments.insert(0, item.as_string().strip())
        elif key is not None:
            break
        else:
            continue
    return comments


def _pairs(old: Sequence[Part], new: Sequence[Part]) -> list[tuple[int | None, Part]]:
    """Say for every new part which old one it was, if any: by name, else by likeness, else by place."""
    names = {getattr(part, "name", ""): index for index, part in enumerate(old)}
    if "" not in names and names:
        known = {getattr(part, "name", "") for part in new}
        pairs = [(names.get(getattr(part, "name", "")), part) for part in new]
        if len(old) == len(new):
            # As many as before: whoever has a new name in an old place was renamed.
            return [
                (place if index is None and getattr(old[place], "name", "") not in known else index, part)
                for place, (index, part) in enumerate(pairs)
            ]
        return pairs
    return _alike(old, new)


def _alike(old: Sequence[Part], new: Sequence[Part]) -> list[tuple[int | None, Part]]:
    """Pair tables without names: equal ones first, the nearest of them, then what is left in its order."""
    free = list(range(len(old)))
    found: dict[int, int] = {}
    for place, part in enumerate(new):
        equal = [index for index in free if old[index] == part]
        if equal:
            found[place] = min(equal, key=lambda index: abs(index - place))
            free.remove(found[place])
    for place, part in enumerate(new):
        same_kind = [index for index in free if type(old[index]) is type(part)]
        if place not in found and same_kind:
            found[place] = place if place in same_kind else same_kind[0]
            free.remove(found[place])
    return [(found.get(place), part) for place, part in enumerate(new)]
