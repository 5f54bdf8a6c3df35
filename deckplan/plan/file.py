"""The plan file: reading it with every problem at once, saving it so that the user's comments survive."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from deckplan.errors import InputError, Problem
from deckplan.plan.disk import read_text, replace_file
from deckplan.plan.model import Plan
from deckplan.plan.tables import plan_from_data

if TYPE_CHECKING:
    from tomlkit import TOMLDocument


def read_plan(path: str | Path) -> Plan:
    """Read a plan from its file.

    path: of a TOML file in UTF-8. Returns the plan, lengths in inches, loads in psf.
    Raises InputError with every problem of the file.
    """
    path = Path(path)
    return parse_plan(read_text(path), str(path))


def parse_plan(text: str, file: str = "") -> Plan:
    """Read a plan from the text of a plan file; file: its name, for the messages and for paths beside it.

    Raises InputError with every problem of the text.

    >>> plan = parse_plan('''
    ... [[platform]]
    ... name = "landing"
    ... outline = [["0 ft", "0 ft"], ["6 ft", "0 ft"], ["6 ft", "5 ft"], ["0 ft", "5 ft"]]
    ... elevation = "14 in"
    ... support = [{ kind = "beam", offset = "6 in" }, { kind = "beam", offset = "54 in" }]
    ... ''')
    >>> plan.platform("landing").elevation
    14.0
    """
    return plan_from_data(_toml(text, file), file, {"file": True})


def _toml(text: str, file: str) -> dict[str, Any]:
    if not text.strip():
        raise InputError(
            [Problem("the file", "a plan, with at least one [[platform]]", "an empty file")], file
        )
    try:
        return tomllib.loads(text.replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError as error:
        message = str(error)
        what, _, where = message.partition(" (at ")
        place = where.rstrip(")") or "the file"
        if place == "end of document":
            place = f"line {len(text.splitlines())}, at the end of the file (cut off?)"
        raise InputError(
            [Problem(place, f"TOML cannot be read here: {what[:1].lower()}{what[1:]}")], file
        ) from None
    except RecursionError:
        raise InputError(
            [Problem("the file", "lists nested a few levels deep", "hundreds of levels")], file
        ) from None


@dataclass(frozen=True)
class PlanFile:
    """A plan together with the file it came from.

    path: of the file; text: its content as read; plan: what it says.
    """

    path: Path
    text: str
    plan: Plan

    @classmethod
    def read(cls, path: str | Path) -> PlanFile:
        """Read a plan file; raises InputError with every problem."""
        path = Path(path)
        text = read_text(path)
        return cls(path, text, parse_plan(text, str(path)))

    @cached_property
    def document(self) -> TOMLDocument:
        """The file as a document that keeps comments and order."""
        import tomlkit

        return tomlkit.parse(self.text)

    def save(self, plan: Plan, path: str | Path | None = None) -> PlanFile:
        """Write a changed plan into the file, or under another path, and return the file as it is now.

        Only the keys that changed are written: comments, order and spelling of everything else survive.
        Raises InputError where the file cannot be written, would not read as a plan, or was changed by
        someone else since it was read; the file then stays as it is.
        """
        from deckplan.plan.saving import changed_text

        target = self.path if path is None else Path(path)
        if target == self.path and target.exists() and read_text(target) != self.text:
            expected = "as it was when it was read; read it again, or save under another name"
            raise InputError([Problem("the file", expected, "changed by someone else")], str(target))
        text = changed_text(self.text, self.plan, plan, str(target))
        saved = PlanFile(target, text, parse_plan(text, str(target)))
        if text != self.text or target != self.path or not target.exists():
            replace_file(target, text)
        return saved


def write_plan(plan: Plan, path: str | Path) -> PlanFile:
    """Write a plan as a new file and return it; raises InputError where that cannot be."""
    from deckplan.plan.saving import plan_to_toml

    text = plan_to_toml(plan)
    saved = PlanFile(Path(path), text, parse_plan(text, str(path)))
    replace_file(path, text)
    return saved
