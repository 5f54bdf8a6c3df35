"""The session: holds the current study and is the only writer of the plan.

::

    panel --change(place, text)--> Session --new plan--> Study --tells--> every listener looks again

A text that cannot be read stays beside its field with the reason, and the last good study stays. An equal
plan tells nobody. What goes wrong inside a listener is shown in a visible line and raised again: the
browser would swallow it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TypeVar

from deckplan.errors import InputError, Problem
from deckplan.panels.refusals import wanted
from deckplan.panels.remarks import is_bare, remark
from deckplan.plan.file import PlanFile, write_plan
from deckplan.plan.model import Plan
from deckplan.plan.places import edit_together
from deckplan.plan.shape import change, is_deed, text_of
from deckplan.reference import data_path
from deckplan.study import Study

Listener = Callable[[Study], None]
Anything = TypeVar("Anything")


@dataclass(frozen=True, slots=True)
class Refused:
    """A text that could not be taken: what was typed, and why not."""

    text: str
    reason: str


class Session:
    """One plan being worked on.

    study: what follows from the plan as it is; refused: texts that could not be taken, by place; remarks: what is said
    of the last change beside its field, by place; trouble: what went wrong inside the program on the last change, empty
    where nothing did; selected: the mark that is looked at.
    """

    def __init__(self, plan: Plan, file: PlanFile | None = None) -> None:
        """Start on a plan; file: the one it came from, if any."""
        self._now = self._study(plan)
        self._file = file
        self._before: list[Plan] = []
        self._after: list[Plan] = []
        self._listeners: list[Listener] = []
        self._watchers: list[Callable[[], None]] = []
        self._pickers: list[Callable[[str], None]] = []
        self._typed: dict[str, str] = {}
        self._gesture = ""
        self.refused: dict[str, Refused] = {}
        self.remarks: dict[str, str] = {}
        self.trouble = ""
        self.selected = ""

    @classmethod
    def open(cls, path: str | Path) -> Session:
        """Open a plan file; raises InputError with every problem of it."""
        file = PlanFile.read(path)
        return cls(file.plan, file)

    @staticmethod
    def _study(plan: Plan) -> Study:
        """Make a study and ask for everything, so that what cannot be worked out shows at once."""
        study = Study(plan)
        _ = (study.checks, study.footings, study.notes, study.verdict)
        return study

    @property
    def study(self) -> Study:
        """What follows from the plan as it is."""
        return self._now

    @property
    def plan(self) -> Plan:
        """The plan as asked, autos and ranges as they are."""
        return self._now.asked

    @property
    def path(self) -> Path | None:
        """Where the plan was read from or saved to last, None for a plan that has no file."""
        return self._file.path if self._file else None

    @property
    def saved(self) -> bool:
        """Whether the file says what the plan says."""
        return self._file is not None and self._file.plan == self.plan

    # -- looking --

    def text(self, place: str) -> str:
        """Return what stands in the field of a place: what was typed, in that spelling, else the value."""
        if place in self.refused:
            return self.refused[place].text
        typed = self._typed.get(place)
        if typed is not None and self._still(place, typed):
            return typed
        return text_of(self.plan, place)

    def _still(self, place: str, text: str) -> bool:
        """Tell whether a text typed earlier still says what the plan says."""
        try:
            return change(self.plan, place, text) == self.plan
        except InputError:  # right when it was typed, but the platform has another shape now
            return False

    def listen(self, listener: Listener) -> Callable[[], None]:
        """Call `listener` with every new study; returns what ends it."""
        self._listeners.append(listener)
        return lambda: self._listeners.remove(listener)

    def watch(self, watcher: Callable[[], None]) -> Callable[[], None]:
        """Call `watcher` whenever refusals, trouble or undo may have changed; returns what ends it."""
        self._watchers.append(watcher)
        return lambda: self._watchers.remove(watcher)

    def on_pick(self, picker: Callable[[str], None]) -> Callable[[], None]:
        """Call `picker` with every mark that is picked to be looked at; returns what ends it."""
        self._pickers.append(picker)
        return lambda: self._pickers.remove(picker)

    def pick(self, mark: str) -> None:
        """Pick a mark to look at, in every panel; an empty one picks nothing."""
        if mark == self.selected:
            return
        self.selected = mark
        self._tell([partial(picker, mark) for picker in tuple(self._pickers)])

    # -- changing --

    def change(self, place: str, text: str, *, gesture: str = "") -> bool:
        """Change one value of the plan; returns whether the text could be taken.

        place: as in `plan.places` and `plan.shape`, e.g. "platform.dining.elevation"; text: what the person typed. A
        text that cannot be taken stays in `refused` with the reason, and the study stays as it was.
        """
        return self.change_together({place: text}, gesture=gesture)

    def change_together(self, changes: Mapping[str, str], *, gesture: str = "") -> bool:
        """Change several values that make sense only together; else like `change`.

        gesture: names one pull of a slider or of a level; all changes of one pull are undone as one.
        """
        self.remarks = {}
        try:
            if len(changes) == 1:
                ((place, text),) = changes.items()
                plan = change(self.plan, place, text)
            else:
                plan = edit_together(self.plan, changes)
            study = self._now if plan == self.plan else self._study(plan)
        except InputError as error:
            self.refused.update(
                {place: Refused(text, wanted(error, place, text)) for place, text in changes.items()}
            )
            self._tell([])
            return False
        except Exception as error:
            self._troubled(error)
            raise
        for place, text in changes.items():
            self.refused.pop(place, None)
            self._typed.pop(place, None)
            if not is_deed(place) and not is_bare(
                text
            ):  # a bare number is shown with the unit it was taken in
                self._typed[place] = text
        if not gesture:
            said = {place: remark(self._now, study, place, text) for place, text in changes.items()}
            self.remarks = {place: words for place, words in said.items() if words}
        self._take(study, gesture)
        return True

    def change_to(self, plan: Plan) -> None:
        """Change to a whole plan, e.g. another way to stand two levels; undone as one change.

        Texts that could not be taken are let go: they were typed into the plan as it was.
        """
        study = self._now if plan == self.plan else self.trying(lambda: self._study(plan))
        self.refused.clear()
        self.remarks = {}
        self._take(study, "")

    def _take(self, study: Study, gesture: str) -> None:
        """Go on with a study; an equal plan is no news, but a message beside a field may have gone."""
        if study is self._now:
            self._tell([])
            return
        if not (gesture and gesture == self._gesture and self._before):
            self._before.append(self.plan)
        self._gesture = gesture
        self._after.clear()
        self._show(study)

    def undo(self) -> bool:
        """Go back one change; returns whether there was one."""
        return self._step(self._before, self._after)

    def redo(self) -> bool:
        """Do again what was undone last; returns whether there was anything."""
        return self._step(self._after, self._before)

    @property
    def can_undo(self) -> bool:
        """Whether there is a change to go back on."""
        return bool(self._before)

    @property
    def can_redo(self) -> bool:
        """Whether there is an undone change."""
        return bool(self._after)

    def _step(self, source: list[Plan], other: list[Plan]) -> bool:
        if not source:
            return False
        plan = source.pop()
        other.append(self.plan)
        self.refused.clear()
        self.remarks = {}
        self._gesture = ""
        self._show(self._study(plan))
        return True

    def save(self, path: str | Path | None = None) -> Path:
        """Write the plan into its file, or under `path`, comments and order kept; returns the path.

        Raises InputError where it cannot be written, or has no file yet and `path` is not given.
        """
        if self._file is not None:
            self._file = self._file.save(self.plan, path)
        elif path is not None:
            self._file = write_plan(self.plan, path)
        else:
            raise InputError([Problem("save", "a path, for this plan has no file yet")])
        self._tell([])
        return self._file.path

    # -- telling --

    def _show(self, study: Study) -> None:
        self._now = study
        self._tell([partial(listener, study) for listener in tuple(self._listeners)])

    def _tell(self, calls: list[Callable[[], None]]) -> None:
        """Call everyone; what goes wrong in one keeps no news from the others, and is raised at the end."""
        self.trouble = ""
        first: Exception | None = None
        for call in (*calls, *tuple(self._watchers)):
            try:
                call()
            except Exception as error:
                first = first or error
        if first is not None:
            self._troubled(first)
            raise first

    def trying(self, deed: Callable[[], Anything]) -> Anything:
        """Do something; what goes wrong shows in the visible line, which a browser would swallow, and is raised."""
        try:
            return deed()
        except Exception as error:
            self._troubled(error)
            raise

    def _troubled(self, error: Exception) -> None:
        self.trouble = f"{type(error).__name__}: {error}"
        for watcher in tuple(self._watchers):
            try:
                watcher()
            except Exception as second:  # the line that shows trouble must not hide the trouble
                self.trouble += f" (and in showing it: {second})"


def own_path(path: Path | None) -> Path:
    """Return where a plan is saved: its own file, but never over the demo plans that come with the program."""
    if path is not None and not path.resolve().is_relative_to(data_path("plans").resolve()):
        return path
    name = path.stem if path else "deck"
    tries = (Path(f"my-{name}{number}.toml") for number in ("", *(f"-{n}" for n in range(2, 1000))))
    return next(one for one in tries if not one.exists())
