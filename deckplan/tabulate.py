"""Tables of a study, as plain rows and as DataFrames: the only module that knows pandas.

A `Sheet` is a table without pandas, quick enough to follow a slider; `frame` makes a DataFrame of it. Units stand in
the column names, as the plan has them. Lengths that a tape is read for stand beside them as carpenters write them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pandas as pd

from deckplan.buy.takeoff import take_off
from deckplan.engineering.agreement import Comparison
from deckplan.geometry import area
from deckplan.layout.model import Kind, Member
from deckplan.study import Study
from deckplan.units import Units, format_feet, format_length, format_short
from deckplan.verdict import Check, Verdict, is_strength

if TYPE_CHECKING:
    from deckplan.levels.model import Rise

Cell = str | float | int | None
Table = pd.DataFrame
"""What every table function returns, for rooms above that must name it without pandas."""

LB_PER_KN = 224.8089431
"""Pounds-force in a kilonewton (exact pound and standard gravity, rounded)."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table: its name, headings with their units, rows; marks: what each row speaks of, if anything."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    marks: tuple[str, ...] = ()


class _Scale:
    """How numbers are shown in one system of units."""

    def __init__(self, units: Units) -> None:
        self.units = units
        metric = units == "metric"
        self.short, self.force, self.surface = ("mm", "kN", "m2") if metric else ("in", "lb", "sq ft")

    def length(self, inches: float) -> float:
        """Return a length [in] in mm, to half a millimetre, or in inches, to a thousandth."""
        return round(inches * 25.4 * 2) / 2 if self.units == "metric" else round(inches, 3)

    def load(self, pounds: float) -> float:
        """Return a force [lb] in kN or whole pounds."""
        return round(pounds / LB_PER_KN, 2) if self.units == "metric" else round(pounds)

    def area(self, square_inches: float) -> float:
        """Return an area [in2] in m2 or sq ft."""
        metric = self.units == "metric"
        return round(square_inches * 0.0254**2, 2) if metric else round(square_inches / 144, 1)

    def tape(self, inches: float) -> str:
        """Write a length [in] as it is read off a tape."""
        return format_length(inches, self.units)

    def small(self, inches: float) -> str:
        """Write a small length [in] as it is read off a tape."""
        return format_short(inches, self.units)


def letter_of(study: Study, platform: str) -> str:
    """Return the letter that leads a platform's marks, or nothing for a name that is no platform's."""
    for index, one in enumerate(study.plan.platforms):
        if one.name == platform:
            return chr(ord("A") + index % 26)
    return ""


def levels_sheet(study: Study) -> Sheet:
    """Tabulate platforms: finished elevation, whether it was chosen within a range, area, what is below."""
    to = _Scale(study.plan.units)
    columns = ("mark", "platform", f"elevation [{to.short}]", "on the tape", "chosen", f"area [{to.surface}]",
               f"least above ground [{to.short}]", f"most above ground [{to.short}]")  # fmt: skip
    rows, marks = [], []
    ground = study.levels.ground
    for level in study.levels.levels:
        outline = study.plan.platform(level.platform).outline
        over = [level.elevation - ground.elevation_at(corner) for corner in outline]
        mark = letter_of(study, level.platform)
        rows.append((
            mark, level.platform, to.length(level.elevation), to.tape(level.elevation),
            "in the range" if level.chosen else "as given", to.area(abs(area(outline))),
            to.length(min(over)), to.length(max(over)),
        ))  # fmt: skip
        marks.append(mark)
    return Sheet("Levels", columns, tuple(rows), tuple(marks))


def flight_mark(rise: Rise) -> str:
    """Return the mark of a flight: S1, S2 and so on, in the order of the plan."""
    return f"S{rise.index + 1}"


def flights_sheet(study: Study) -> Sheet:
    """Tabulate flights: the rise, how it is split, and the run."""
    to = _Scale(study.plan.units)
    columns = ("mark", "from", "to", "kind", f"rise [{to.short}]", "risers", f"riser [{to.short}]",
               "riser on the tape", f"tread [{to.short}]", f"run [{to.short}]",
               f"width [{to.short}]")  # fmt: skip
    rows = tuple(
        (
            flight_mark(rise), rise.upper, rise.lower, rise.kind, to.length(rise.rise), rise.risers,
            to.length(rise.riser), to.small(rise.riser), to.length(rise.tread), to.length(rise.run),
            to.length(rise.width),
        )
        for rise in study.levels.flights
    )  # fmt: skip
    return Sheet("Flights", columns, rows, tuple(str(row[0]) for row in rows))


def story_sheet(study: Study) -> Sheet:
    """Tabulate the height of every step above its flight's foot, as it is marked on the story pole.

    Each height is worked out from the foot and then rounded, so that no rounding is carried from step to
    step.
    """
    to = _Scale(study.plan.units)
    columns = ("mark", "step", f"above the foot [{to.short}]", "on the pole", f"elevation [{to.short}]")
    rows = []
    for rise in study.levels.flights:
        for step in range(1, rise.risers + 1):
            up = rise.rise * step / rise.risers
            rows.append((flight_mark(rise), step, to.length(up), to.small(up), to.length(rise.bottom + up)))
    return Sheet("Story pole", columns, tuple(rows), tuple(str(row[0]) for row in rows))


def members_sheet(study: Study) -> Sheet:
    """Tabulate every member: size, length, ends, how far it is used."""
    to = _Scale(study.plan.units)
    unit = to.short
    columns = ("mark", "platform", "kind", "size", f"length [{unit}]", "on the tape", f"from x [{unit}]",
               f"from y [{unit}]", f"to x [{unit}]", f"to y [{unit}]", f"top [{unit}]",
               "used [%]")  # fmt: skip
    rows = tuple(
        (
            member.mark, member.platform, str(member.kind), member.size, to.length(member.length),
            to.tape(member.length), *(to.length(v) for v in (*member.start, *member.end)),
            to.length(member.top), percent(study.utilisation(member.mark)),
        )
        for member in study.layout.members
    )  # fmt: skip
    return Sheet("Members", columns, rows, tuple(str(row[0]) for row in rows))


def framing_sheet(study: Study) -> Sheet:
    """Tabulate the frame in brief: members of one platform, kind and size together, the longest named."""
    to = _Scale(study.plan.units)
    columns = ("platform", "kind", "size", "pieces", f"longest [{to.short}]", "on the tape",
               "used [%]", "most used")  # fmt: skip
    groups: dict[tuple[str, Kind, str], list[Member]] = defaultdict(list)
    for member in study.layout.members:
        groups[(member.platform or member.mark.partition("-")[0], member.kind, member.size)].append(member)
    rows, marks = [], []
    for (platform, kind, size), members in groups.items():
        longest = max(member.length for member in members)
        most = max(members, key=lambda m: study.utilisation(m.mark) or 0.0)
        rows.append((platform, str(kind), size, len(members), to.length(longest), to.tape(longest),
                     percent(study.utilisation(most.mark)), most.mark))  # fmt: skip
        marks.append(most.mark)
    return Sheet("Framing", columns, tuple(rows), tuple(marks))


def posts_sheet(study: Study) -> Sheet:
    """Tabulate posts and the footings under them: place, height, load, size."""
    to = _Scale(study.plan.units)
    unit = to.short
    columns = ("post", "size", f"x [{unit}]", f"y [{unit}]", f"height [{unit}]", "on the tape",
               f"load [{to.force}]", "footing", f"diameter [{unit}]", f"thickness [{unit}]",
               f"bottom [{unit}]", "carries")  # fmt: skip
    sizes = {footing.mark: footing for footing in study.footings}
    rows, marks = [], []
    for post in study.layout.posts:
        footing = sizes.get(post.footing)
        below: tuple[Cell, ...] = (None, None, None, None)
        if footing is not None:
            sides = (footing.diameter, footing.thickness, footing.bottom)
            below = (footing.mark, *(to.length(side) for side in sides))
        force = study.loads.posts.get(post.mark)
        load = to.load(force.governing[0]) if force else None
        rows.append((post.mark, post.size, to.length(post.at[0]), to.length(post.at[1]),
        to.length(post.height),
                     to.tape(post.height), load, *below, ", ".join(post.carries)))  # fmt: skip
        marks.append(post.mark)
    return Sheet("Posts and footings", columns, tuple(rows), tuple(marks))


def percent(share: float | None) -> float | None:
    """Return a share as a percentage to a tenth, None where there is none."""
    return None if share is None else round(100 * share, 1)


# Units that are shown otherwise in a metric plan: factor and name. Units of lengths and forces only; psi
# stays psi.
_METRIC = {"in": (25.4, "mm"), "lb": (1 / LB_PER_KN, "kN"), "ft": (0.3048, "m"), "psf": (0.04788026, "kPa"),
           "psi": (0.006894757, "MPa"), "lb in": (0.0254 / LB_PER_KN, "kN m"), "lb/in": (175.126835 / 1000, "N/mm"),
           "plf": (0.01459390, "kN/m")}  # fmt: skip


def shown(value: float, unit: str, units: Units) -> tuple[float, str]:
    """Return a value [unit] and its unit as people of a system read it."""
    if units == "us" or unit not in _METRIC:
        return value, unit
    factor, name = _METRIC[unit]
    return value * factor, name


_ORDER = (Verdict.FAIL, Verdict.OUTSIDE, Verdict.PASS, Verdict.NOT_APPLICABLE)


def sorted_checks(checks: Sequence[Check]) -> list[Check]:
    """Put what fails first, then what lies outside the rules, then strength by use, then limits of size."""
    return sorted(
        checks,
        key=lambda check: (_ORDER.index(check.verdict), not is_strength(check), -(check.utilisation or 0.0)),
    )


def grouped_checks(checks: Sequence[Check]) -> list[tuple[Check, tuple[str, ...]]]:
    """Put checks under one rule together, sorted: the part that is used most, and the marks of all, most used first.

    Only parts of one kind are put together (joists with joists, footings with footings), and only where they pass or
    the rule does not apply: what fails or lies outside the rules stands by itself.
    """
    groups: dict[tuple[str, ...], list[Check]] = {}
    for check in sorted_checks(checks):
        kind = check.mark.partition("-")[2].rstrip("0123456789") or check.mark.rstrip("0123456789")
        alone = check.mark if check.verdict in (Verdict.FAIL, Verdict.OUTSIDE) else ""
        groups.setdefault((kind, check.rule, check.verdict, check.unit, alone), []).append(check)
    return [
        (members[0], tuple(dict.fromkeys(check.mark for check in members))) for members in groups.values()
    ]


def checks_sheet(study: Study) -> Sheet:
    """Tabulate the checks: what is asked and allowed, how far it is used, the verdict, the source.

    A line speaks of the part that is used most; `parts` says how many are held to the same rule.
    """
    columns = ("mark", "parts", "rule", "asked", "allowed", "unit", "used [%]", "verdict", "source")
    rows, marks = [], []
    for check, same in grouped_checks(study.checks):
        sides: list[Cell] = []
        unit = check.unit
        for value in (check.demand, check.capacity):
            if value is None:
                sides.append(None)
            else:
                number, unit = shown(value, check.unit, study.plan.units)
                sides.append(float(f"{number:.4g}"))
        rows.append((check.mark, len(same), check.rule, *sides, unit, percent(check.utilisation),
                     str(check.verdict), str(check.source)))  # fmt: skip
        marks.append(check.mark)
    return Sheet("Checks", columns, tuple(rows), tuple(marks))


def buy_sheet(study: Study) -> Sheet:
    """Tabulate what to buy: waste stands apart from the net quantity, and each line says what was counted."""
    columns = ("group", "item", "stock length", "net", "waste [%]", "buy", "unit", "counted from")
    rows = []
    for item in take_off(study.plan, study.layout, study.loads, study.footings):
        stock = "" if item.length is None else format_feet(item.length).replace('-0"', "")
        if item.length is not None and study.plan.units == "metric":
            stock = f"{stock} ({item.length * 0.0254:.2f} m)"
        waste = percent(item.waste) if item.waste else None
        rows.append(
            (item.group, item.item, stock, round(item.net, 1), waste, item.count, item.unit, item.basis)
        )
    return Sheet("Buy list", columns, tuple(rows))


SHEETS: dict[str, Callable[[Study], Sheet]] = {
    "levels": levels_sheet,
    "flights": flights_sheet,
    "story": story_sheet,
    "framing": framing_sheet,
    "members": members_sheet,
    "posts": posts_sheet,
    "checks": checks_sheet,
    "buy": buy_sheet,
}
"""Every table by its short name."""


def show_in_full(figure: Callable[[float], str]) -> None:
    """Let pages show every cell whole, and floats by `figure`: a sum that is cut off cannot be redone by hand."""
    pd.set_option("display.max_colwidth", None, "display.float_format", figure)


def frame(sheet: Sheet) -> pd.DataFrame:
    """Return a table as a DataFrame."""
    return pd.DataFrame(list(sheet.rows), columns=list(sheet.columns))


def levels(study: Study) -> pd.DataFrame:
    """Return the levels as a DataFrame."""
    return frame(levels_sheet(study))


def flights(study: Study) -> pd.DataFrame:
    """Return the flights, with how each is split into risers, as a DataFrame."""
    return frame(flights_sheet(study))


def story_pole(study: Study, mark: str) -> pd.DataFrame:
    """Return the cumulative heights of one flight's steps; raises KeyError for a mark that no flight has."""
    table = frame(story_sheet(study))
    found = table[table["mark"] == mark].reset_index(drop=True)
    if found.empty:
        raise KeyError(mark)
    return found


def members(study: Study) -> pd.DataFrame:
    """Return every member as a DataFrame."""
    return frame(members_sheet(study))


def framing(study: Study) -> pd.DataFrame:
    """Return the frame in brief as a DataFrame."""
    return frame(framing_sheet(study))


def posts(study: Study) -> pd.DataFrame:
    """Return posts and footings as a DataFrame."""
    return frame(posts_sheet(study))


def checks(study: Study, *, worst: int | None = None) -> pd.DataFrame:
    """Return the checks as a DataFrame, failures first; worst: only so many of them."""
    table = frame(checks_sheet(study))
    return table if worst is None else table.head(worst)


def steps(study: Study, mark: str, rule: str) -> pd.DataFrame:
    """Return the sum behind a check line by line, complete enough to redo by hand.

    Raises KeyError where the mark has no such check.
    """
    for check in study.checks_of(mark):
        if check.rule == rule:
            columns = ["words", "symbol", "formula", "with numbers", "value", "unit", "source"]
            rows = [
                (line.words, line.symbol, line.formula, line.numbers, float(f"{line.value:.6g}"), line.unit,
                 str(line.source))
                for line in check.steps
            ]  # fmt: skip
            return pd.DataFrame(rows, columns=columns)
    raise KeyError(f"{mark}, {rule}")


def buy(study: Study) -> pd.DataFrame:
    """Return the buy list as a DataFrame."""
    return frame(buy_sheet(study))


def agreement_summary(found: Sequence[Comparison]) -> pd.DataFrame:
    """Return, table by table, how many published figures agree with ours and how closely, as a DataFrame."""
    columns = ["table", "figures", "agree", "held from", "tolerance", "worst [% of it]", "from memory"]
    rows = []
    for name in dict.fromkeys(each.table for each in found):
        of = [each for each in found if each.table == name]
        kept, one = of[0].tolerance == 0, of[0].bound != "both"
        worst = None if kept or one else round(100 * max(abs(e.difference) / e.tolerance for e in of))
        held = "looked up" if kept else "below" if one else "both sides"
        recalled = sum("memory" in each.confirmed.lower() for each in of)
        sizes = (
            {f"{e.tolerance:g} {e.unit}" for e in of},
            {f"{e.tolerance / (e.printed or 1):.1%}" for e in of},
        )
        allowed = next((one.pop() for one in sizes if len(one) == 1), "half a printed step")
        rows.append((name, len(of), sum(e.agrees for e in of), held, allowed, worst, recalled))
    return pd.DataFrame(rows, columns=columns).astype({"worst [% of it]": "Int64"})


def agreement_table(found: Sequence[Comparison], *, worst: int | None = None) -> pd.DataFrame:
    """Return published figures beside ours as a DataFrame; worst: only so many of them, the farthest off first."""
    columns = ["table", "cell", "printed", "ours", "difference", "unit", "agrees", "confirmed"]
    if worst is not None:
        both = [each for each in found if each.bound == "both" and each.tolerance > 0]
        found = sorted(both, key=lambda each: -abs(each.difference) / each.tolerance)[:worst]
    rows = [
        (e.table, e.cell, e.printed, float(f"{e.ours:.6g}"), float(f"{e.difference:.3g}"), e.unit, e.agrees,
         e.confirmed)
        for e in found
    ]  # fmt: skip
    return pd.DataFrame(rows, columns=columns)
