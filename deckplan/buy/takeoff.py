"""The takeoff: everything that a deck is bought as."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from deckplan.buy.boards import board_lots, count_screws
from deckplan.buy.concrete import count_concrete
from deckplan.buy.connectors import count_connectors
from deckplan.buy.fascia import fascia_lots, find_fascia
from deckplan.buy.fixings import (
    count_flight_fixings,
    count_guard_connectors,
    count_hold_downs,
    count_ledger_fasteners,
    count_ties,
)
from deckplan.buy.guards import count_guards, guard_timbers
from deckplan.buy.item import Item, Lot, items_of
from deckplan.buy.lumber import frame_timbers, lumber_lots
from deckplan.checks.footings import FootingDesign
from deckplan.checks.ground_contact import treatments
from deckplan.layout.boards_model import Boards
from deckplan.layout.flight_model import FlightFrames
from deckplan.layout.model import Layout
from deckplan.layout.stages import LaidOut
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.stringers import lay_out_stringer
from deckplan.loads.model import Loads

NOT_COUNTED = (
    "handrails", "guards on the open sides of flights", "nails", "screws of fascia and connectors", "flashing",
    "treatment of cut ends", "forming tubes and gravel",
)  # fmt: skip
"""What a deck takes and the takeoff does not count."""


class Framed(LaidOut, Protocol):
    """What the frame is counted from: the stages of a study up to its footings."""

    @property
    def flights(self) -> FlightFrames:
        """The framing of the flights."""
        ...

    @property
    def loads(self) -> Loads:
        """The demand on each mark."""
        ...

    @property
    def footings(self) -> Sequence[FootingDesign]:
        """Every footing, those of flights with them."""
        ...


class Built(Framed, Protocol):
    """What the whole deck is counted from: the frame as built, with its boards."""

    @property
    def built(self) -> Layout:
        """The frame with the wood that the boards ask for below them."""
        ...

    @property
    def boards(self) -> Boards:
        """Every board as cut."""
        ...


def take_off(study: Built) -> tuple[Item, ...]:
    """Count what a study's deck is built from, in the order in which it is used.

    Everything that is drawn is in it once. Waste is stated apart from the net quantity. See `NOT_COUNTED`.
    """
    return (
        *_below(study, study.built),
        *items_of(board_lots(study.boards, study.flights, study.plan.materials.decking, study.plan.units)),
        *items_of(
            fascia_lots(find_fascia(study.plan, study.levels, study.layout, study.flights), study.plan)
        ),
        *count_screws(study.boards, study.flights),
        *count_guards(study.plan, study.profile, study.layout),
    )


def take_off_frame(study: Framed) -> tuple[Item, ...]:
    """Count the frame alone, without boards and what they ask for below them: quick, to put frames side by side."""
    return _below(study, study.layout)


def cut_lots(study: Built) -> tuple[Lot, ...]:
    """Return everything that is cut from stock, as it is cut: framing lumber, boards, treads, fascia."""
    return (
        *_lumber(study, study.built),
        *board_lots(study.boards, study.flights, study.plan.materials.decking, study.plan.units),
        *fascia_lots(find_fascia(study.plan, study.levels, study.layout, study.flights), study.plan),
    )


def _below(study: Framed, layout: Layout) -> tuple[Item, ...]:
    pads = {
        frame.mark: study.levels.flights[frame.index].width
        for frame in study.flights.flights
        if frame.inner_feet
    }
    return (
        *count_concrete(study.footings, study.plan.units, pads),
        *items_of(_lumber(study, layout)),
        *count_connectors(layout, study.loads),
        *count_ledger_fasteners(study.plan, layout),
        *count_hold_downs(study.plan, study.profile, study.levels, layout),
        *count_ties(study.plan, study.profile, layout, study.loads),
        *count_flight_fixings(study.flights),
        *count_guard_connectors(layout),
    )


def _lumber(study: Framed, layout: Layout) -> tuple[Lot, ...]:
    board = study.plan.materials.decking.thickness
    planks = {
        flight_mark(rise.index): lay_out_stringer(rise.rise, rise.risers, rise.tread, board).plank
        for rise in study.levels.flights
        if rise.kind == "stringer" and rise.rise > 0
    }
    treated = treatments(study.profile, study.levels, layout)
    timbers = frame_timbers(layout, treated, planks) + guard_timbers(study.plan, study.profile, layout)
    return lumber_lots(timbers, study.plan.materials)
