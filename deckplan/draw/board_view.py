"""The board plan: every board as cut, the joists below, wood still needed, where laying starts, what is ripped."""

from __future__ import annotations

from collections import Counter

from deckplan.buy.boards import platform_stock
from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.labels import round_about
from deckplan.draw.plan_parts import draw_flights, draw_house, draw_north, name_openings, show
from deckplan.draw.plan_words import called
from deckplan.draw.scene import Role, Scene, box_of, text_box
from deckplan.draw.shapes import inside, shifted, strip
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject, letter
from deckplan.geometry import Point, distance
from deckplan.layout.boards_model import Board, Boards, PlatformBoards
from deckplan.layout.model import Kind
from deckplan.plan.model import Platform
from deckplan.units import format_length, format_short

ROLES = {"field": Role.BOARD, "border": Role.BORDER_BOARD, "breaker": Role.BREAKER}

LEGEND: dict[Role, str] = {
    Role.WOOD_BELOW: "joist below",
    Role.WOOD_NEEDED: "wood needed below that the frame does not have yet",
    Role.BORDER_BOARD: "border board",
    Role.BREAKER: "breaker board",
}
"""What the lines of a board plan mean."""


def board_view(
    study: Subject, boards: Boards, *, platform: str = "", sheet: Sheet | None = None, titled: bool = True
) -> Scene:
    """Return the board plan.

    boards: the study's boards; platform: the name of one platform to draw alone, all of them where it is empty;
    sheet: the room there is, else the usual one of the plan's units; titled: with title, scale and caution below.

    Raises KeyError for a platform that the plan does not know.
    """
    plan = study.plan
    view = show(study, platform, "Board plan")
    shown, names, corners, core, name = view.platforms, view.names, view.corners, view.core, view.title
    paper = sheet or usual_sheet(plan)
    beside = FIRST_ROW + ROW + 2.0
    below = (9.0 + 1.3 * (2 + len(shown))) if titled else 4.0
    draft = Draft(name, plan, paper, core, Room(beside, 4.0, beside, below))
    draw_north(draft, plan, core)
    draw_house(draft, plan, core)
    for one in shown:
        laid = boards[one.name]
        draft.area(one.outline, Role.PLATFORM)
        for board in laid.boards:
            draft.area(board.outline, ROLES[board.kind], board.mark)
        for outline in (one.outline, *(opening.outline for opening in one.openings)):
            draft.stroke((*outline, outline[0]), Role.RAILING)
        _wood(draft, study, one, laid)
        name_openings(draft, one)
        _texts(draft, study, one, laid)
    draw_flights(draft, study, names)
    for axis, edge, side in (("x", core.top, 1), ("y", core.left, -1)):
        index = 0 if axis == "x" else 1
        stops = [corner[index] for corner in corners]
        if stops:
            rows = [stops, [min(stops), max(stops)]] if len(set(stops)) > 2 else [stops]
            for row, own in enumerate(rows):
                draft.chain(own, "x" if axis == "x" else "y", row, edge, side)
    draft.notes += _notes(study, shown, boards)
    draft.legend |= LEGEND
    return draft.scene(titled=titled)


def _wood(draft: Draft, study: Subject, one: Platform, laid: PlatformBoards) -> None:
    """Draw the joists below as dashed lines, and what is needed beyond them in dark."""
    for joist in study.layout.of(one.name, Kind.JOIST):
        draft.stroke(joist.line, Role.WOOD_BELOW, joist.mark)
    for need in laid.supports_needed:
        if distance(*need.line) > 0:
            draft.area(strip(need.line, need.width), Role.WOOD_NEEDED, need.mark)


def _spots(draft: Draft, one: Platform, text: str, size: float) -> list[Point]:
    """Return places on a platform where a text fits wholly, spread from the middle."""
    box = box_of(one.outline)
    shares = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
    order = sorted(((a, b) for a in shares for b in shares), key=lambda s: abs(s[0] - 0.5) + abs(s[1] - 0.5))
    found = []
    for a, b in order:
        spot = (box.left + a * box.width, box.bottom + b * box.height)
        room = text_box(text, spot, size * draft.letter)
        ends = (
            (room.left, room.bottom),
            (room.right, room.bottom),
            (room.right, room.top),
            (room.left, room.top),
        )
        if all(inside(end, one.outline) for end in ends):
            found.append(spot)
    return found


def _texts(draft: Draft, study: Subject, one: Platform, laid: PlatformBoards) -> None:
    mark = letter(study.plan.platforms.index(one))
    decking, full = study.plan.materials.decking, draft.sheet.full
    head = called(draft, study, one, 1.35) + f"\n{draft.level(study.levels.elevation(one.name))}"
    box = box_of(one.outline)
    draft.wish(
        head, box.centre, _spots(draft, one, head, 1.35), Role.LEVEL, mark, size=1.35, plate=True, urgency=9
    )
    width, gap = (format_short(size, draft.units) for size in (decking.width, decking.gap))
    said = f"{laid.rows} rows of {width}, gaps {gap}"
    if full:
        said += f"\nlast row {format_short(laid.last, draft.units)}"
    draft.wish(said, box.centre, _spots(draft, one, said, 1.0), Role.NOTE, plate=True, needed=full, urgency=7)
    field = laid.of("field")
    if field:
        _start(draft, laid, field)
    for rip in laid.rips:
        text = f"ripped to {format_short(rip.width, draft.units)}" + (": sliver" if rip.sliver else "")
        if rip.sliver or full:
            places = round_about(rip.at, text, draft.letter, 0.6 * draft.letter)
            within = [at for at in places if inside(at, one.outline)]
            role = Role.FLAG if rip.sliver else Role.NOTE
            draft.wish(text, rip.at, (*within, *places), role, plate=True, needed=rip.sliver, urgency=6)


def _start(draft: Draft, laid: PlatformBoards, field: tuple[Board, ...]) -> None:
    """Show where laying starts with an arrow across the first rows, and which way boards run with a double arrow."""
    first = [board for board in field if board.row == 0]
    longest = max(first, key=lambda board: board.length)
    xs, ys = zip(*longest.outline, strict=True)
    middle_ = (sum(xs) / len(xs), sum(ys) / len(ys))
    share = 0.3 * longest.length
    foot = shifted(middle_, laid.direction, -share)
    tip = shifted(foot, laid.across, 3.2 * draft.letter)
    draft.arrow(foot, tip, mark=laid.platform)
    places = round_about(tip, "start here", draft.letter, 0.3 * draft.letter)
    draft.wish(
        "start here", foot, (shifted(tip, laid.across, 0.9 * draft.letter), *places), Role.NOTE, plate=True,
        needed=draft.sheet.full, urgency=6,
    )  # fmt: skip
    if not draft.sheet.full:
        return
    # the run of the boards, three quarters of the way up, where few other words stand
    most = max(board.length for board in field)
    whole = min(
        (board for board in field if board.length > 0.9 * most),
        key=lambda board: abs(board.row - 0.72 * laid.rows),
    )
    xs, ys = zip(*whole.outline, strict=True)
    centre = (sum(xs) / len(xs), sum(ys) / len(ys))
    half = min(0.3 * whole.length, 6 * draft.letter)
    if half > 1.5 * draft.letter:
        ends = (shifted(centre, laid.direction, -half), shifted(centre, laid.direction, half))
        draft.arrow(*ends, both=True)
        draft.ground.solids.append(box_of(ends).grown(0.4 * draft.letter))


def _notes(study: Subject, shown: tuple[Platform, ...], boards: Boards) -> list[str]:
    """Say in words what lines cannot: screws, wood needed, cuts, ways round slivers."""
    units = study.plan.units
    kind = study.plan.materials.decking.kind
    found = [
        "Two screws a board at every joist, ply and block that it crosses; mitres drawn closed, the board maker's "
        "end gaps come off."
    ]
    for one in shown:
        laid = boards[one.name]
        mark = letter(study.plan.platforms.index(one))
        stock = platform_stock(laid, kind, units)
        bars = ", ".join(f"{count} of {format_length(size, units)}" for size, count in stock.items())
        words = f"{mark}: {len(laid.boards)} boards from {bars}; {laid.screws} screws"
        needs = Counter(need.kind for need in laid.supports_needed)
        names = {
            "joist": ("doubled joist", "doubled joists"),
            "ply": ("ply", "plies"),
            "blocking": ("block", "blocks"),
        }
        if needs:
            said = [f"{count} {names[key][count > 1]}" for key, count in sorted(needs.items())]
            words += "; needed: " + ", ".join(said)
        if laid.remedies:
            words += "; against the sliver: " + " or ".join(remedy.text for remedy in laid.remedies)
        for fault in laid.faults:
            words += f"; {fault}"
        found.append(words + ".")
    return found
