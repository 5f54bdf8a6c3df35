"""Reading profiles from files, with their ancestors."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from deckplan.errors import InputError, Problem
from deckplan.reference import data_path
from deckplan.rules.profile import LIMITS, NOT_STATED, Profile

_OWN = ("name", "title", "extends", "may_set_aside")


def profile_names() -> tuple[str, ...]:
    """Return the names of the profiles that come with the package."""
    return tuple(sorted(path.stem for path in data_path("rules").glob("*.toml")))


def _is_path(name: str) -> bool:
    return name.endswith(".toml") or "/" in name or "\\" in name


def _find(name: str, folder: Path) -> Path:
    """Return the file of a profile: one of the package's by name, or a path, seen from `folder`."""
    if _is_path(name):
        path = folder / Path(name).expanduser()
        if path.is_file():
            return path
        raise InputError([Problem("rules", "a file that can be read", f'"{name}"')])
    if name in profile_names():
        return data_path("rules") / f"{name}.toml"
    known = ", ".join(profile_names())
    raise InputError([Problem("rules", f"one of {known}, or the path of a file of your own", f'"{name}"')])


def _read(path: Path) -> dict[str, Any]:
    try:
        with path.open("rb") as file:
            return tomllib.load(file)
    except tomllib.TOMLDecodeError as error:
        raise InputError([Problem("the file", f"TOML; {error}")], path.name) from None
    except UnicodeDecodeError as error:
        came = f"the byte 0x{error.object[error.start]:02x}"
        raise InputError([Problem("the file", "text in UTF-8", came)], path.name) from None
    except OSError as error:
        raise InputError(
            [Problem("the file", "one that can be read", error.strerror or "")], path.name
        ) from None


def _stages(path: Path, seen: tuple[Path, ...] = ()) -> list[tuple[Path, dict[str, Any]]]:
    """Return the files a profile is made of, the oldest ancestor first."""
    path = path.resolve()
    if path in seen:
        ring = " -> ".join(step.name for step in (*seen, path))
        raise InputError([Problem("extends", "a profile that does not lead back to itself", ring)], path.name)
    table = _read(path)
    if unknown := sorted(set(table) - set(_OWN) - set(LIMITS)):
        problems = [Problem(key, "a limit or a key that is known", "an unknown key") for key in unknown]
        raise InputError(problems, path.name)
    parent = table.get("extends", "")
    if not isinstance(parent, str):
        problem = Problem("extends", "the name or path of a profile, in quotes", str(parent))
        raise InputError([problem], path.name)
    if not parent:
        return [(path, table)]
    try:
        before = _stages(_find(parent, path.parent), (*seen, path))
    except InputError as error:
        if error.file:
            raise
        problems = [Problem("extends", problem.expected, problem.came) for problem in error.problems]
        raise InputError(problems, path.name) from None
    return [*before, (path, table)]


def _merge(stages: list[tuple[Path, dict[str, Any]]]) -> tuple[dict[str, Any], dict[str, str]]:
    """Lay younger tables over older ones; return the limits and why some are not stated."""
    merged: dict[str, Any] = {}
    unstated: dict[str, str] = {}
    for path, table in stages:
        for key, value in table.items():
            if key == "extends":
                continue
            if isinstance(value, dict) and value.get("value") == NOT_STATED:
                merged.pop(key, None)
                unstated[key] = value.get("note", "") or f"{path.stem} states none"
            elif key == "post_height_caps" and isinstance(value, dict):
                merged[key] = {**merged.get(key, {}), **value}
                unstated.pop(key, None)
            else:
                merged[key] = value
                unstated.pop(key, None)
        merged["name"] = table.get("name", path.stem)
    return merged, unstated


def _problem(error: Any) -> Problem:
    place = ".".join(str(part) for part in error["loc"] if part not in ("function-before", "dataclass"))
    if error["type"] == "missing":
        return Problem(place, "a limit that every profile states (or extend a profile that does)", "left out")
    return Problem(place or "the profile", str(error["msg"]).removeprefix("Value error, "))


@cache
def _built_in(name: str) -> Profile:
    return _load(name, Path.cwd())


def _load(name: str, folder: Path) -> Profile:
    path = _find(name, folder)
    merged, unstated = _merge(_stages(path))
    try:
        return Profile.model_validate({**merged, "unstated": unstated})
    except ValidationError as error:
        raise InputError([_problem(one) for one in error.errors()], path.name) from None


def load_profile(name_or_path: str | Path, folder: Path | None = None) -> Profile:
    """Return a rule profile: one of the package's by name, or a user's own file by its path.

    name_or_path: "irc-2021", or a path such as "my-town.toml", seen from folder (default: the current one).

    Raises InputError, with file and key, where the profile or one it extends cannot be found or read, extends
    itself, holds an unknown key, a wrong unit, or leaves a limit out.

    >>> load_profile("irc-2021").riser_max.value
    7.75
    """
    name = str(name_or_path)
    return _load(name, folder or Path.cwd()) if _is_path(name) else _built_in(name)
