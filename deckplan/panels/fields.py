"""Fields bound to places of the plan: what stands in them, what follows beside them, what is wrong with them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from deckplan.panels.follow import Follower
from deckplan.panels.session import Session
from deckplan.panels.widgets import Form
from deckplan.study import Study
from deckplan.units import Units, format_feet, format_inches, write_length


@dataclass(frozen=True, slots=True)
class Field:
    """One field.

    place: of the plan, see `plan.places` and `plan.shape`; label: what stands over it; say: its whole name, for those
    who hear it; kind: "text", "half" (two in a row), "wide" (a long text), "slide" (text and slider) or "choice";
    follows: what the value leads to; low, high, step, value: of the slider in `unit`; choices: texts with the words
    shown for them; group: the heading that it stands under; open: whether what stands under that heading shows at
    first.
    """

    place: str
    label: str
    say: str
    kind: str = "text"
    follows: str = ""
    low: float = 0.0
    high: float = 0.0
    step: float = 0.0
    value: float = 0.0
    unit: str = "in"
    choices: tuple[tuple[str, str], ...] = ()
    group: str = ""
    open: bool = True


def slide(units: Units, inches: float, low: float, high: float, *, fine: bool = False) -> dict[str, Any]:
    """Return the slider's part of a field for a length [in]: ends and steps in quarter inches or 5 mm.

    The ends are wide enough for the value itself; fine: eighths and 1 mm.
    """
    if units == "metric":
        step, unit, scale = (1.0 if fine else 5.0), "mm", 25.4
    else:
        step, unit, scale = (0.125 if fine else 0.25), "in", 1.0
    ends = [step * round(end * scale / step) for end in (min(low, inches), max(high, inches))]
    value = round(inches * scale, 4)
    return {"low": ends[0], "high": ends[1], "step": step, "value": value, "unit": unit, "kind": "slide"}


def spelled_like(text: str, inches: float, units: Units) -> str:
    """Write a length [in] in the manner of a text that stood there before: feet, inches or metric.

    >>> spelled_like("2 ft 6 in", 31.0, "us")
    '2 ft 7 in'
    >>> spelled_like("2'-6\\"", 31.0, "us"), spelled_like("30 in", 31.0, "us")
    ('2\\'-7"', '31 in')
    """
    if units == "metric" or "mm" in text or text.rstrip().endswith("m"):
        return write_length(round(inches * 25.4 * 2) / 2 / 25.4, "metric")
    if "'" in text or "’" in text:
        return format_feet(inches)
    if "ft" in text:
        feet, _, rest = format_feet(inches).partition("'-")
        return f"{feet} ft {rest.rstrip(chr(34))} in"
    if '"' in text or "”" in text:
        return format_inches(inches)
    return write_length(inches, units)


class FieldsPanel(Follower, Form):
    """A form whose fields are places of the session's plan. Panels say which fields there are."""

    def __init__(self, session: Session, title: str) -> None:
        """Bind the panel to a session; title: its name."""
        super().__init__(title=title)
        self._session = session
        self._ends = (session.watch(self._news),)  # called after every change and every refusal
        self.observe(self._typed, names="value")
        self._look_now()

    def fields_of(self, study: Study) -> Sequence[Field]:
        """Return the fields that this panel has for a study."""
        raise NotImplementedError

    def type(self, place: str, text: str) -> None:
        """Type a text into a field, as the browser does; raises KeyError where this panel has no such field."""
        self.freshen()
        if place not in [field["place"] for field in self.fields]:
            raise KeyError(place)
        self.value = {"n": self.value.get("n", 0) + 1, "place": place, "text": text, "gesture": ""}

    def wrong(self, place: str) -> str:
        """Return the message that stands beside a field, empty where nothing is wrong."""
        refused = self._session.refused.get(place)
        return refused.reason if refused else ""

    def _typed(self, change: Any) -> None:
        typed = change["new"]
        try:
            text = self._spelled(typed["place"], typed["text"], typed.get("gesture", ""))
            self._session.change(typed["place"], text, gesture=typed.get("gesture", ""))
        finally:
            self.answered += 1

    def _spelled(self, place: str, text: str, gesture: str) -> str:
        """Write what a slider sent in the spelling that stood in its field before."""
        if not gesture:
            return text
        number, _, unit = text.partition(" ")
        inches = float(number) / (25.4 if unit == "mm" else 1.0)
        return spelled_like(self._session.text(place), inches, self._session.plan.units)

    def _look_now(self) -> None:
        found = []
        for field in self.fields_of(self._session.study):
            shown = asdict(field)
            shown["text"] = self._session.text(field.place)
            shown["wrong"] = self.wrong(field.place)
            shown["remark"] = self._session.remarks.get(field.place, "")
            shown["choices"] = _with_present(field.choices, shown["text"])
            found.append(shown)
        self.fields = found


def _with_present(choices: Sequence[tuple[str, str]], text: str) -> list[list[str]]:
    """Return the choices, with the present text among them even where it is none of the usual ones."""
    listed = [list(choice) for choice in choices]
    if listed and text not in [choice[0] for choice in listed]:
        listed.append([text, text])
    return listed
