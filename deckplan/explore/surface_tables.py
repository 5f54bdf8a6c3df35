"""The surface as tables: the boards row by row and as cut, and what stands on them with its room."""

from __future__ import annotations

from collections.abc import Iterator

from deckplan.buy.boards import cut_alike, platform_stock
from deckplan.explore.load_tables import SQUARE_METRE
from deckplan.layout.boards_model import PlatformBoards
from deckplan.layout.room_comfort import ADVICE
from deckplan.layout.room_model import Room
from deckplan.study import Study
from deckplan.tabulate import Cell, Sheet, Table, frame, letter_of, shown
from deckplan.units import format_length, format_short
from deckplan.verdict import Check, Verdict


def boards(study: Study) -> Table:
    """Return the boards of each level, in brief, as a DataFrame."""
    return frame(boards_sheet(study))


def board_cuts(study: Study, platform: str = "") -> Table:
    """Return the cut list of the boards as a DataFrame; platform: of one level, of all where it is empty."""
    return frame(cuts_sheet(study, platform))


def furniture(study: Study) -> Table:
    """Return what stands on each level, and whether it has its room, as a DataFrame."""
    return frame(rooms_sheet(study))


def boards_sheet(study: Study, platform: str = "") -> Sheet:
    """Tabulate the boards of each level: rows, widths of the outer ones, pieces, stock, screws, wood still needed."""
    columns = ("mark", "level", "rows", "first row", "last row", "boards", "screws", "out of",
               "wood needed below")  # fmt: skip
    units, kind = study.plan.units, study.plan.materials.decking.kind
    rows, marks = [], []
    for name, laid in study.boards.platforms.items():
        if platform in ("", name):
            stock = platform_stock(laid, kind, units)
            bought = ", ".join(f"{count} of {format_length(size, units)}" for size, count in stock.items())
            mark = letter_of(study, name)
            rows.append((mark, name, laid.rows, format_short(laid.first, units), _last(laid, study),
                         len(laid.boards), laid.screws, bought, len(laid.supports_needed)))  # fmt: skip
            marks.append(mark)
    return Sheet("Boards", columns, tuple(rows), tuple(marks))


def _last(laid: PlatformBoards, study: Study) -> str:
    """Write the last row's width, and a way round a sliver."""
    said = format_short(laid.last, study.plan.units)
    if not laid.remedies:
        return said
    return f"{said}, a sliver: {' or '.join(remedy.text for remedy in laid.remedies)}"


def cuts_sheet(study: Study, platform: str = "") -> Sheet:
    """Tabulate the pieces that boards are cut to, the longest first; raises KeyError for an unknown platform."""
    units = study.plan.units
    columns = ("level", "kind", "length", "width", "ends off square [deg]", "pieces")
    boards = study.boards[platform].boards if platform else study.boards.all
    rows = tuple(
        (level, kind, format_length(length, units), format_short(width, units), ends, len(marks))
        for (level, kind, length, width, ends), marks in cut_alike(boards).items()
    )
    return Sheet("Cut list of the boards", columns, rows)


def rooms_sheet(study: Study, platform: str = "") -> Sheet:
    """Tabulate what stands on each level with its use: what there is, what is asked, whether it fits."""
    columns = ("mark", "level", "use", "what", "found", "asked", "fits", "why not")
    rows, marks = [], []
    for name, room in study.rooms.platforms.items():
        if platform in ("", name):
            found = list(_room(study, room))
            rows += found
            marks += [room.mark] * len(found)
    return Sheet(
        "Furniture, comfort only: no code asks for it unless it says so", columns, tuple(rows), tuple(marks)
    )


def _room(study: Study, room: Room) -> Iterator[tuple[Cell, ...]]:
    head = (letter_of(study, room.platform), room.platform, room.use)
    for group in room.groups:
        clear = format_short(group.clearance, study.plan.units)
        yield (*head, group.name, f"{clear} of room", "", "yes", "")
    for name in room.not_placed:
        yield (*head, f"{name} without room", "", "", "no", "")
    for check in room.checks:
        there, asked = (_amount(check, value, study) for value in (check.demand, check.capacity))
        fits = check.verdict is Verdict.PASS
        reason = "" if fits else check.reason.removeprefix(ADVICE)
        yield (*head, check.rule, there, asked, "yes" if fits else "no", reason)


def _amount(check: Check, value: float | None, study: Study) -> str:
    if value is None:
        return ""
    if check.unit == "in":
        return format_short(value, study.plan.units)
    if check.unit == "sq ft" and study.plan.units == "metric":
        return f"{value * SQUARE_METRE:.3g} m2"
    number, unit = shown(value, check.unit, study.plan.units)
    return f"{number:.4g} {unit}"
