"""The study of a plan: every stage, computed once on first asking.

::

    plan -> settled plan -> levels -> layout -> loads -> checks, footings, notes

A study never changes. An edit makes a new plan and with it a new study; the old one stays valid, so that undo and
comparison side by side come free.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cached_property

from deckplan.checks.check_all import check_all
from deckplan.checks.footings import FootingDesign
from deckplan.layout.boards import lay_boards
from deckplan.layout.boards_model import Boards
from deckplan.layout.flight_model import FlightFrames
from deckplan.layout.lay_out import lay_out
from deckplan.layout.model import Layout, Member, Pad, Post
from deckplan.layout.room import furnish
from deckplan.layout.room_model import Rooms
from deckplan.layout.under_boards import wood_under_boards
from deckplan.levels.model import Levels, Rise
from deckplan.levels.raise_levels import raise_levels
from deckplan.loads.graph import LoadPath, load_path
from deckplan.loads.model import Loads
from deckplan.notes import Note, find_notes
from deckplan.plan.model import Plan
from deckplan.rules import load_profile
from deckplan.rules.profile import Profile
from deckplan.sizing import Settled, settle
from deckplan.units import Units, format_length, format_short
from deckplan.verdict import Check, Verdict, is_strength, only_compares, overall


class Study:
    """Everything that follows from one plan.

    asked: the plan as typed, with its autos; plan: the same with every "auto" replaced by what passes.

    Raises InputError where the plan's rule profile cannot be read.
    """

    def __init__(self, plan: Plan) -> None:
        self.asked = plan

    @cached_property
    def profile(self) -> Profile:
        """The limits that the plan is held to."""
        return load_profile(self.asked.rules)

    @cached_property
    def levels(self) -> Levels:
        """Finished elevations, flights and their risers; no size of wood changes them."""
        return raise_levels(self.asked, self.profile)

    @cached_property
    def _settled(self) -> Settled:
        return settle(self.asked, self.levels, self.profile)

    @property
    def plan(self) -> Plan:
        """The plan without autos."""
        return self._settled.plan

    @cached_property
    def _laid_out(self) -> tuple[Layout, FlightFrames]:
        return lay_out(self.plan, self.levels, self.profile, self._settled.frames)

    @property
    def layout(self) -> Layout:
        """Every piece of the frame."""
        return self._laid_out[0]

    @property
    def flights(self) -> FlightFrames:
        """The framing of the flights."""
        return self._laid_out[1]

    @property
    def loads(self) -> Loads:
        """The demand on each mark and the way it takes to the soil."""
        return self._settled.loads

    @cached_property
    def load_path(self) -> LoadPath:
        """The way of every load as a graph: what stands on a footing, where a load goes."""
        under = {flight.mark: tuple(pad.mark for pad in flight.pads) for flight in self.flights.flights}
        return load_path(self.plan, self.profile, self.levels, self.layout, self.loads, under)

    @cached_property
    def _checked(self) -> tuple[tuple[Check, ...], tuple[FootingDesign, ...]]:
        proven = self._settled.proven
        return check_all(self.plan, self.profile, self.levels, self.layout, self.flights, self.loads, proven)

    @property
    def checks(self) -> tuple[Check, ...]:
        """Every check, in the order of the stages."""
        return self._checked[0]

    @property
    def footings(self) -> tuple[FootingDesign, ...]:
        """Every footing with the size its load asks for."""
        return self._checked[1]

    @cached_property
    def boards(self) -> Boards:
        """Every board as cut, and the wood still needed below; computed only where it is asked for."""
        return lay_boards(self.plan, self.layout)

    @cached_property
    def built(self) -> Layout:
        """The frame as it is built: the layout with the wood that the boards ask for below them."""
        more = wood_under_boards(self.boards, self.layout)
        return replace(self.layout, members=(*self.layout.members, *more))

    @cached_property
    def rooms(self) -> Rooms:
        """Every platform furnished for its use; comfort only, so that no verdict of the plan hangs on it."""
        return furnish(self.plan, self.profile, self.levels, self.layout)

    @cached_property
    def notes(self) -> tuple[Note, ...]:
        """What a person should hear beside the checks: cautions, advice, questions left open."""
        return find_notes(self.asked, self.profile, self.levels, self.layout, self.flights)

    @cached_property
    def all_notes(self) -> tuple[Note, ...]:
        """Every note, with what the boards and the furniture leave to be said, which takes longer to find."""
        boards = tuple(
            Note("advice", fault) for each in self.boards.platforms.values() for fault in each.faults
        )
        return tuple(dict.fromkeys((*self.notes, *boards, *self.rooms.notes)))

    @cached_property
    def verdict(self) -> Verdict:
        """The verdict of the whole plan: a FAIL wins over OUTSIDE, OUTSIDE over PASS."""
        return overall(self.checks)

    @cached_property
    def _by_mark(self) -> Mapping[str, tuple[Check, ...]]:
        found: dict[str, list[Check]] = {}
        for check in self.checks:
            found.setdefault(check.mark, []).append(check)
        return {mark: tuple(checks) for mark, checks in found.items()}

    def checks_of(self, mark: str) -> tuple[Check, ...]:
        """Return the checks of a mark; of a member among many alike, those of the one that speaks for them."""
        own = self._by_mark.get(mark, ())
        demand = self.loads.demands.get(mark)
        if demand is not None and demand.like != mark:
            return (*self._by_mark.get(demand.like, ()), *own)
        if not own and (post := self.layout.by_mark.get(mark)) is not None and isinstance(post, Pad):
            return self._by_mark.get(mark, ())
        return own

    def utilisation(self, mark: str) -> float | None:
        """Return the highest utilisation [1] of a mark's strength or stiffness, or None where nothing is asked of it.

        A limit of size that is just met (1 1/2 in of bearing where 1 1/2 are asked) says nothing of how far wood or
        soil is used; it counts only where it fails.
        """
        found = [
            used
            for check in self.checks_of(mark)
            if (used := check.utilisation) is not None
            and (is_strength(check) or check.verdict is Verdict.FAIL)
        ]
        return max(found, default=None)

    @cached_property
    def _footings(self) -> Mapping[str, FootingDesign]:
        return {footing.mark: footing for footing in self.footings}

    @cached_property
    def _rises(self) -> Mapping[str, Rise]:
        return {f"S{rise.index + 1}": rise for rise in self.levels.flights}

    def describe(self, mark: str) -> str:
        """Return one line about a mark: what it is, its size and length, how far it is used."""
        part = self.layout.by_mark.get(mark)
        units = self.plan.units
        if isinstance(part, Member):
            words = f"{mark}: {part.kind} {part.size}, {format_length(part.length, units)} long"
        elif isinstance(part, Post):
            words = f"{mark}: post {part.size}, {format_length(part.height, units)} high"
            words += f", carries {' and '.join(part.carries)}"
        elif isinstance(part, Pad):
            footing = self._footings.get(mark)
            words = f"{mark}: footing"
            if footing:
                words += f" {format_length(footing.diameter, units)} across, {_force(footing.load, units)}"
        elif mark in self._footings:
            footing = self._footings[mark]
            words = f"{mark}: footing under a flight, {format_length(footing.diameter, units)} across"
        elif (rise := self._rises.get(mark)) is not None:
            count = "1 riser" if rise.risers == 1 else f"{rise.risers} risers"
            words = f"{mark}: {rise.upper} to {rise.lower}, {count} of {format_short(rise.riser, units)}"
        else:
            return mark
        used = self.utilisation(mark)
        failed = [c for c in self.checks_of(mark) if c.verdict in (Verdict.FAIL, Verdict.OUTSIDE)]
        if used is not None:
            words += f", used {used:.0%}"
        # bare comparisons are in inches and pounds; a plan in millimetres names the rule instead
        bare = units == "metric"
        said = [c.rule if bare and only_compares(c) else c.reason or c.rule for c in failed[:2]]
        return words + "".join(f"; {check.verdict}: {why}" for check, why in zip(failed, said, strict=False))


KILONEWTONS = 0.45359237 * 9.80665 / 1000
"""Kilonewtons in a pound-force. Source: the exact pound and standard gravity."""


def _force(pounds: float, units: Units) -> str:
    return f"{pounds * KILONEWTONS:.1f} kN" if units == "metric" else f"{pounds:,.0f} lb"
