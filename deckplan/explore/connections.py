"""The connection chooser: for every pair of touching levels the ways to stand them, each computed as a whole plan.

Every figure comes from a study of a changed plan. What is counted is the pair alone: both platforms, their posts and
footings, the flights between them. Prices are invented, to put one way beside another.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from deckplan.buy.boards import cut_treads
from deckplan.buy.concrete import pier_volume
from deckplan.buy.connectors import count_connectors
from deckplan.buy.item import Item
from deckplan.buy.lumber import count_lumber
from deckplan.buy.prices import Prices, read_prices
from deckplan.checks.pulled import find_pulled
from deckplan.explore.differences import differences
from deckplan.explore.outcome import Refused
from deckplan.explore.touching import Touch
from deckplan.explore.ways import WAYS, WAYS_OVER, Manner, pairs, ways_of
from deckplan.layout.model import Layout
from deckplan.layout.platform_frame import letter
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Check, Verdict


@dataclass(frozen=True)
class Connection:
    """One way to stand two touching levels, computed.

    study: of the plan changed to it; moves: what was changed, empty where the plan is so already; holes: how many
    footings stand under the pair; concrete [cu ft]: in them, filled to their full depth; deeper: what it takes of each
    free-standing level that a tie brings below the frost; hardware: hangers, caps and bases with the capacity asked of
    each; failing, outside: the checks of the pair that fail, and those that no table covers; cost [dollars, invented
    prices]: holes, concrete, framing lumber, hardware and steps of the pair.
    """

    touch: Touch
    manner: Manner
    study: Study
    moves: tuple[str, ...]
    holes: int
    concrete: float
    deeper: tuple[str, ...]
    hardware: tuple[Item, ...]
    failing: tuple[Check, ...]
    outside: tuple[Check, ...]
    cost: float

    @property
    def plan(self) -> Plan:
        """The plan that it is, ready to be worked on."""
        return self.study.asked

    @property
    def feasible(self) -> bool:
        """Whether none of the pair's checks fails."""
        return not self.failing

    @property
    def reason(self) -> str:
        """Why it does not stand as computed, empty where it does."""
        return "; ".join(told(self.failing))


@dataclass(frozen=True, slots=True)
class NoConnection:
    """A way that cannot be built here: the exact reason, and what would make it possible."""

    touch: Touch
    manner: Manner
    reason: str
    remedy: str

    @property
    def feasible(self) -> bool:
        """Never."""
        return False


Choice = Connection | NoConnection


def choose_connections(study: Study, prices: Prices | None = None) -> tuple[Choice, ...]:
    """Return every way to stand every pair of levels of a study that touch or lie over each other, pair by pair.

    prices: whose, else the invented ones that come with the program.
    """
    paid = prices or read_prices()
    return tuple(
        connect(study, touch, manner, paid)
        for touch in pairs(study.asked, study.levels)
        for manner in ways_of(touch)
    )  # fmt: skip


def connect(study: Study, touch: Touch, manner: Manner, prices: Prices | None = None) -> Choice:
    """Return one way to stand two levels, computed, or why it cannot be."""
    outcome = (WAYS | WAYS_OVER)[manner](study, touch)
    if isinstance(outcome, Refused):
        return NoConnection(touch, manner, outcome.reason, outcome.remedy)
    return _measured(
        touch, manner, outcome.study, differences(study.asked, outcome.study.asked), prices or read_prices()
    )


def _measured(
    touch: Touch, manner: Manner, study: Study, moves: tuple[str, ...], prices: Prices
) -> Connection:
    part = part_of(study, touch)
    pads = {pad.mark for pad in part.pads}
    steps = _flights(study, {touch.upper, touch.lower})
    footings = [
        one for one in study.footings if one.mark in pads or one.mark.partition("-")[0] in steps
    ]  # fmt: skip
    concrete = sum(pier_volume(one.diameter, one.top - one.bottom) for one in footings)
    hardware = count_connectors(part, study.loads)
    cost = (
        prices.of("hole") * len(footings)
        + prices.of("concrete") * concrete
        + prices.total(count_lumber(part, study.plan.materials))
        + prices.total(hardware)
        + prices.of("board") * _tread_boards(study, steps)
    )
    own = _own_checks(study, touch, part)
    return Connection(
        touch, manner, study, moves, len(footings), concrete, _deeper(study, touch), hardware,
        tuple(check for check in own if check.verdict is Verdict.FAIL),
        tuple(check for check in own if check.verdict is Verdict.OUTSIDE),
        cost,
    )  # fmt: skip


def _deeper(study: Study, touch: Touch) -> tuple[str, ...]:
    """Say of each level of a pair that stands below the frost for its ties alone what that takes."""
    pulled = find_pulled(study.plan, study.profile, study.levels, study.layout, study.footings)
    return tuple(
        f'"{each.platform}": {each.went(study.plan.units)}'
        for each in pulled
        if each.platform in (touch.upper, touch.lower)
    )


def part_of(study: Study, touch: Touch) -> Layout:
    """Return the frame of a pair alone: both platforms, their posts and footings, the flights between them."""
    names = {touch.upper, touch.lower}
    flights = _flights(study, names)
    layout = study.layout
    posts = tuple(post for post in layout.posts if post.platform in names)
    under = {post.footing for post in posts}
    return replace(
        layout,
        members=tuple(
            m for m in layout.members if m.platform in names or m.mark.partition("-")[0] in flights
        ),
        posts=posts,
        pads=tuple(pad for pad in layout.pads if pad.mark in under),
    )


def _flights(study: Study, names: set[str]) -> set[str]:
    return {f"S{rise.index + 1}" for rise in study.levels.flights if {rise.upper, rise.lower} == names}


def _own_checks(study: Study, touch: Touch, part: Layout) -> list[Check]:
    """Return the checks of the pair: of its pieces, of the platforms by name or letter, of the flights between."""
    names = {touch.upper, touch.lower}
    letters = {letter(at) for at, one in enumerate(study.plan.platforms) if one.name in names}
    marks = {m.mark for m in part.members} | set(part.by_mark) | names | letters | _flights(study, names)
    return [check for check in study.checks if check.mark in marks or check.mark.partition("-")[0] in letters]


def _tread_boards(study: Study, steps: set[str]) -> float:
    """Return the feet of board that the treads of the pair's steps are cut from."""
    own = [flight for flight in study.flights.flights if flight.mark in steps]
    return cut_treads(own, study.plan.materials.decking.kind, study.plan.units).bought / 12


def told(checks: tuple[Check, ...]) -> tuple[str, ...]:
    """Return the reasons of some checks, each once, with the first mark it holds for and how many more."""
    found: dict[str, list[str]] = {}
    for check in checks:
        # of reasons that begin with the mark the rest may be the same for many
        found.setdefault(check.reason.removeprefix(check.mark), []).append(check.mark)
    said = []
    for reason, marks in found.items():
        begun = reason.startswith((" ", ":"))
        if not begun and marks[0] in reason:
            said.append(reason)
            continue
        more = f" (and {len(marks) - 1} more)" if len(marks) > 1 else ""
        said.append(f"{marks[0]}{more}{'' if begun else ': '}{reason}")
    return tuple(said)
