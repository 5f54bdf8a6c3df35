"""Tables of platforms as rooms: who finds room, what furniture stands where, the ways between doors and flights."""

from __future__ import annotations

from deckplan.study import Study
from deckplan.tabulate.sheet import Cell, Scale, Sheet


def rooms_sheet(study: Study) -> Sheet:
    """Tabulate the platforms as rooms: use, people, seats, what did not fit, the narrowest way through."""
    to = Scale(study.plan.units)
    columns = ("mark", "platform", "use", "people", "seats", "furniture", "no room for", "ways",
               f"narrowest [{to.short}]")  # fmt: skip
    rows: list[tuple[Cell, ...]] = []
    for room in study.rooms.platforms.values():
        widths = [way.width for way in room.ways]
        rows.append((
            room.mark, room.platform, room.use, room.people or None, room.seated or None,
            ", ".join(group.name for group in room.groups), ", ".join(room.not_placed), len(room.ways),
            to.length(min(widths)) if widths else None,
        ))  # fmt: skip
    return Sheet("Rooms", columns, tuple(rows), tuple(str(row[0]) for row in rows))


def furniture_sheet(study: Study) -> Sheet:
    """Tabulate the furniture as it is placed: the sets, their seats, middle, and the clearance round them."""
    to = Scale(study.plan.units)
    unit = to.short
    columns = ("mark", "platform", "set", "pieces", "seats", f"middle x [{unit}]", f"middle y [{unit}]",
               f"clearance [{unit}]")  # fmt: skip
    rows: list[tuple[Cell, ...]] = [
        (room.mark, room.platform, group.name, len(group.pieces), group.seats or None,
         *(to.length(at) for at in group.centre), to.length(group.clearance))
        for room in study.rooms.platforms.values()
        for group in room.groups
    ]  # fmt: skip
    return Sheet("Furniture", columns, tuple(rows), tuple(str(row[0]) for row in rows))
