"""From nested tables, keys as in the plan file, to a plan, or to every problem they have."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from deckplan.errors import InputError, Problem
from deckplan.plan.model import Door, Flight, House, Materials, Plan, Platform, Site, Wall
from deckplan.plan.problems import came, head, keys_at_fault, plain_keys, problems_of, text_of, unknown_key
from deckplan.plan.sense import Sketch, every_problem

Table = TypeVar("Table", bound=BaseModel)
Context = dict[str, bool]

TOP = ("format", "name", "rules", "units", "site", "house", "materials", "platform", "flight")


def plan_from_data(data: Mapping[str, Any], file: str = "", context: Context | None = None) -> Plan:
    """Make a plan from nested tables, keys as in the plan file.

    context: {"file": True} where bare numbers are no lengths; {"typed": True} where lists come as text.
    Raises InputError with every problem.
    """
    reader = _Reader(data, file, context or {})
    plan = reader.read()
    if plan is None or reader.problems:
        raise InputError(_once(reader.problems), file)
    return plan


def _once(problems: list[Problem]) -> list[Problem]:
    return list(dict.fromkeys(problems))


class _Reader:
    """Reads table by table, so that one bad table does not hide what is wrong in the next."""

    def __init__(self, data: Mapping[str, Any], file: str, context: Context) -> None:
        self.data = data
        self.file = file
        self.context = context
        self.problems: list[Problem] = []
        self.unread: set[str] = set()

    def read(self) -> Plan | None:
        top = {
            key: value
            for key, value in self.data.items()
            if key not in ("site", "house", "materials", "platform", "flight")
        }
        for key in [key for key in top if key not in TOP]:
            self.problems.append(Problem(key, unknown_key(key, TOP)))
            del top[key]
        lead, _ = self._table(Plan, top, "")
        site, _ = self._table(Site, self.data.get("site", {}), "site")
        materials, unread = self._table(Materials, self.data.get("materials", {}), "materials")
        house = self._house()
        walls = self._tables(Wall, house, "wall", "house.wall")
        doors = self._tables(Door, house, "door", "house.door")
        platforms = self._tables(Platform, self.data, "platform", "platform")
        flights = self._tables(Flight, self.data, "flight", "flight")
        if self.data.get("platform", ()) in ([], ()):
            self.problems.append(Problem("platform", "at least one, headed [[platform]]", "none"))
        rules = text_of(self.data.get("rules")) or "irc-2021"
        folder = Path(self.file).parent if self.file else Path.cwd()
        sketch = Sketch(
            site=site,
            materials=None if unread & {"species", "grade", "post"} else materials,
            walls=tuple((number, wall) for number, wall, _ in walls),
            doors=tuple((number, door) for number, door, _ in doors),
            platforms=tuple(platforms),
            flights=tuple(flights),
            platform_names=self._names(self.data, "platform"),
            wall_names=self._names(house, "wall"),
            door_names=self._names(house, "door"),
            rules=rules,
            folder=folder,
            unread=frozenset(self.unread),
        )
        self.problems += every_problem(sketch)
        if self.problems or lead is None or site is None or materials is None:
            return None
        # A path of the user's own rules is meant as seen from the plan file.
        own = folder / rules
        found = (
            rules.endswith(".toml") and not Path(rules).is_absolute() and bool(self.file) and own.is_file()
        )
        return lead.model_copy(
            update={
                "rules": str(own.resolve()) if found else rules,
                "site": site,
                "materials": materials,
                "house": House(
                    walls=tuple(wall for _, wall, _ in walls), doors=tuple(door for _, door, _ in doors)
                ),
                "platforms": tuple(platform for _, platform, _ in platforms),
                "flights": tuple(flight for _, flight, _ in flights),
            }
        )

    def _house(self) -> Mapping[str, Any]:
        house = self.data.get("house", {})
        if not isinstance(house, Mapping):
            self.problems.append(Problem("house", "a table, [house]", came(house)))
            return {}
        for key in house:
            if key not in ("wall", "door"):
                self.problems.append(Problem(f"house.{key}", unknown_key(key, ("wall", "door"))))
        return house

    def _listed(self, owner: Mapping[str, Any], key: str) -> list[Any]:
        value = owner.get(key, [])
        return list(value) if isinstance(value, (list, tuple)) else []

    def _names(self, owner: Mapping[str, Any], key: str) -> tuple[str, ...]:
        raw = self._listed(owner, key)
        names = [text_of(item["name"]) for item in raw if isinstance(item, Mapping) and "name" in item]
        return tuple(name for name in names if name)

    def _tables(
        self, model: type[Table], owner: Mapping[str, Any], key: str, head_word: str
    ) -> list[tuple[int, Table, frozenset[str]]]:
        """Read every table of a list; of a bad one note the problems and keep its sound rest."""
        value = owner.get(key, [])
        if not isinstance(value, (list, tuple)):
            self.unread.add(key)
            what = f"one table: write [[{head_word}]]" if isinstance(value, Mapping) else came(value)
            self.problems.append(Problem(head_word, f"a list of tables, each headed [[{head_word}]]", what))
            return []
        names = self._names(owner, key)
        kept = []
        for number, raw in enumerate(value, start=1):
            try:
                kept.append((number, model.model_validate(raw, context=self.context), frozenset[str]()))
            except ValidationError as error:
                self.problems += problems_of(error, model, head(key, number, raw, names))
                rest, unread = self._sound_rest(model, raw, error)
                if rest is not None:
                    kept.append((number, rest, unread))
        return kept

    def _sound_rest(
        self, model: type[Table], raw: object, error: ValidationError
    ) -> tuple[Table | None, frozenset[str]]:
        """Read a table without its wrong keys, where that is possible (elevation 0 for a wrong one)."""
        if not isinstance(raw, Mapping):
            return None, frozenset()
        places = [_in_tables(raw, plain_keys(keys)) for keys in keys_at_fault(error) if keys]
        unread = frozenset(".".join(place) for place in places)
        rest: dict[str, Any] = dict(raw)
        for place in places:
            _leave_out(rest, place)
        if isinstance(rest.get("support"), (list, tuple)):
            numbered = enumerate(rest["support"], start=1)
            rest["support"] = [one for number, one in numbered if f"support.{number}" not in unread]
        if model is Platform and any(place[0] == "elevation" for place in places):
            rest["elevation"] = "0 in"
            unread |= {"elevation"}
        try:
            return model.model_validate(rest, context=self.context), unread
        except ValidationError:
            return None, unread

    def _table(self, model: type[Table], raw: object, lead: str) -> tuple[Table | None, frozenset[str]]:
        if not isinstance(raw, Mapping):
            self.problems.append(Problem(lead, f"a table, [{lead}]", came(raw)))
            return None, frozenset()
        try:
            return model.model_validate(raw, context=self.context), frozenset()
        except ValidationError as error:
            for problem in problems_of(error, model, ""):
                place = f"{lead}.{problem.place}" if lead else problem.place
                self.problems.append(Problem(place, problem.expected, problem.came))
            return self._sound_rest(model, raw, error)


def _in_tables(raw: Mapping[str, Any], keys: tuple[int | str, ...]) -> tuple[str, ...]:
    """Return the way to a wrong value through tables: lists are left out whole, but of supports only one."""
    if keys[0] == "support" and len(keys) > 1 and isinstance(raw.get("support"), (list, tuple)):
        return ("support", str(int(keys[1]) + 1))
    way: list[str] = []
    here: Any = raw
    for key in keys:
        if not isinstance(here, Mapping):
            break
        way.append(str(key))
        here = here.get(key)
    return tuple(way)


def _leave_out(table: dict[str, Any], place: tuple[str, ...]) -> None:
    """Take one value out of nested tables; the tables on the way are copied, the user's data stay as they are."""
    *way, last = place
    for key in way:
        if not isinstance(table.get(key), Mapping):
            return
        table[key] = dict(table[key])
        table = table[key]
    table.pop(last, None)
