"""Tables of what to buy and how it is cut."""

from __future__ import annotations

from collections import defaultdict

from deckplan.buy.boards import Alike, cut_alike
from deckplan.buy.cutting import Piece, said_ends
from deckplan.buy.fascia import find_fascia
from deckplan.buy.item import Item, Lot
from deckplan.buy.lumber import ONE_PERSON
from deckplan.buy.takeoff import NOT_COUNTED, cut_lots, take_off
from deckplan.study import Study
from deckplan.tabulate.sheet import Cell, Scale, Sheet, percent
from deckplan.units import format_feet, restate


def buy_sheet(study: Study) -> Sheet:
    """Tabulate what to buy: waste stands apart from the net quantity, and each line says what was counted.

    Net is the length that is built where stock is cut, else what the drawing needs in the line's own unit. A piece of
    stock that is heavier wet than one person lifts under the best conditions is marked. The last line names what is not
    counted.
    """
    to = Scale(study.plan.units)
    columns = ("group", "item", "stock length", "net", "of", "waste [%]", "buy", "unit", f"each [{to.weight}]",
               "to carry", "counted from")  # fmt: skip
    last: tuple[Cell, ...] = (
        "not counted",
        ", ".join(NOT_COUNTED),
        *("", None, "", None, None, "", None, "", ""),
    )
    return Sheet("Buy list", columns, (*(_bought(to, item) for item in take_off(study)), last))


def _bought(to: Scale, item: Item) -> tuple[Cell, ...]:
    cut = item.length is not None
    return (
        item.group, item.item, "" if item.length is None else stock_length(to, item.length),
        to.run(item.net) if cut else round(item.net, 1), to.long if cut else item.unit,
        percent(item.waste) if cut else None, item.count, item.unit,
        to.mass(item.weight) if item.weight else None, "two people" if item.weight > ONE_PERSON else "",
        restate(item.basis, to.units),
    )  # fmt: skip


def stock_length(to: Scale, length: float) -> str:
    """Write a length of stock [in] as it is sold: in whole feet, and in metres where the plan has them."""
    feet = format_feet(length).replace('-0"', "")
    if not to.metric:
        return feet
    # stock that is sold by the metre has no whole feet
    metres = f"{length * 0.0254:.2f} m"
    return metres if '"' in feet else f"{metres} ({feet})"


def cuts_sheet(study: Study) -> Sheet:
    """Tabulate how stock is cut: sticks that are cut alike together, the pieces' lengths, marks, what is left over.

    Lengths are from long point to long point; in brackets the angles off square of both ends, where one is not square.
    First fit decreasing, see `deckplan.buy.cutting`: `waste_sheet` says how little any cutting could buy.
    """
    to = Scale(study.plan.units)
    columns = ("item", "stock length", "sticks", "cut into", f"left over [{to.short}]", "for")
    rows: list[tuple[Cell, ...]] = []
    for lot in cut_lots(study):
        alike: dict[tuple[float, str], list[int]] = defaultdict(list)
        for number, stick in enumerate(lot.cutting.sticks):
            alike[stick.stock, " + ".join(_cut_to(to, piece) for piece in stick.pieces)].append(number)
        for (stock, lengths), numbers in alike.items():
            sticks = [lot.cutting.sticks[number] for number in numbers]
            marks = dict.fromkeys(piece.mark for stick in sticks for piece in stick.pieces)
            rest = to.length(min(stick.rest for stick in sticks))
            rows.append((lot.item, stock_length(to, stock), len(sticks), lengths, rest, ", ".join(marks)))
    return Sheet("Cut list", columns, tuple(rows))


def _cut_to(to: Scale, piece: Piece) -> str:
    ends = said_ends(piece.ends)
    return f"{to.tape(piece.length)} ({ends})" if ends else to.tape(piece.length)


def waste_sheet(study: Study) -> Sheet:
    """Tabulate what cutting wastes: net, bought, and the length that no cutting can buy less than."""
    to = Scale(study.plan.units)
    columns = ("item", "pieces", "sticks", f"net [{to.long}]", f"bought [{to.long}]", "waste [%]",
               f"no less than [{to.long}]")  # fmt: skip
    lots: dict[str, list[Lot]] = defaultdict(list)
    for lot in cut_lots(study):
        lots[lot.item].append(lot)
    rows = []
    for item, same in lots.items():
        net, bought = (sum(getattr(lot.cutting, word) for lot in same) for word in ("net", "bought"))
        rows.append((
            item, sum(len(lot.cutting.pieces) for lot in same), sum(len(lot.cutting.sticks) for lot in same),
            to.run(net), to.run(bought), percent((bought - net) / net),
            to.run(sum(lot.cutting.least for lot in same)),
        ))  # fmt: skip
    return Sheet("Waste", columns, tuple(rows))


def boards_sheet(study: Study) -> Sheet:
    """Tabulate the boards as cut: pieces alike together, where they lie, their marks; then treads and fascia."""
    to = Scale(study.plan.units)
    columns = ("of", "kind", f"length [{to.short}]", "length", f"width [{to.short}]", "ends off square [deg]",
               "pieces", "marks")  # fmt: skip
    alike: dict[Alike, list[str]] = defaultdict(list, {**cut_alike(study.boards.all)})
    for flight in study.flights.flights:
        for member in flight.members:
            if member.kind == "tread":
                key = (flight.mark, "tread", round(member.length, 2), round(member.width, 2), "")
                alike[key].append(member.mark)
    for piece in find_fascia(study.plan, study.levels, study.layout, study.flights):
        alike[piece.of, "fascia", round(piece.length, 2), round(piece.depth, 2), ""].append(piece.edge)
    rows = tuple(
        (of, kind, to.length(length), to.tape(length), to.length(width), ends, len(marks), ", ".join(marks))
        for (of, kind, length, width, ends), marks in alike.items()
    )
    return Sheet("Boards", columns, rows)
