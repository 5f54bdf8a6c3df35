"""The study of a plan: every stage, computed once on first asking.

::

    plan -> settled plan -> levels -> layout -> loads -> checks, footings, notes

A study never changes. An edit makes a new plan and with it a new study; the old one stays valid, so that undo and
comparison side by side come free.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from deckplan.checks.check_all import check_all
from deckplan.checks.footings import FootingDesign
from deckplan.layout.boards import lay_boards
from deckplan.layout.boards_alignment import board_notes
from deckplan.layout.boards_model import Boards
from deckplan.layout.boards_rows import sliver_notes
from deckplan.layout.flight_model import FlightFrames
from deckplan.layout.lay_out import lay_out
from deckplan.layout.model import GuardPostPlace, Layout, Member, Pad, Post
from deckplan.layout.platform_frame import letter
from deckplan.layout.room import furnish
from deckplan.layout.room_model import Rooms
from deckplan.layout.under_boards import build
from deckplan.levels.model import Levels, Rise
from deckplan.levels.raise_levels import raise_levels
from deckplan.levels.risers import risers_in_words
from deckplan.loads.graph import LoadPath, load_path
from deckplan.loads.model import Loads
from deckplan.notes import Note, edition_notes, find_notes
from deckplan.plan.model import Plan, Platform
from deckplan.rules import load_profile
from deckplan.rules.profile import Profile
from deckplan.sizing.posts import PostCount
from deckplan.sizing.settle import Settled, settle
from deckplan.units import Units, format_length, format_short, restate, shown
from deckplan.verdict import Check, Verdict, after_comparison, comparison, is_strength, overall


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

    @property
    def post_counts(self) -> dict[tuple[str, int], tuple[PostCount, ...]]:
        """The numbers of posts tried under "auto" lines, by platform and number of the support, from 1.

        Lines that are not in it keep spans of 8 ft: see `deckplan.sizing.posts.alone`.
        """
        names = [platform.name for platform in self.asked.platforms]
        return {(names[index], at + 1): tried for (index, at), tried in self._settled.counts.items()}

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
        return build(self.boards, self.layout)

    @cached_property
    def rooms(self) -> Rooms:
        """Every platform furnished for its use; comfort only, so that no verdict of the plan hangs on it."""
        return furnish(self.plan, self.profile, self.levels, self.layout)

    @cached_property
    def notes(self) -> tuple[Note, ...]:
        """What a person should hear beside the checks: cautions, advice, questions left open."""
        found = find_notes(
            self.asked, self.profile, self.levels, self.layout, self.flights, self.loads, self.footings
        )
        return (*found, *edition_notes(self.profile, self.checks))

    @cached_property
    def all_notes(self) -> tuple[Note, ...]:
        """Every note, with what the boards and the furniture leave to be said, which takes longer to find."""
        boards = tuple(
            Note("advice", said)
            for each in self.boards.platforms.values()
            for said in (*each.faults, *sliver_notes(each, self.plan.units))
        )
        heights = {one.name: self.levels.elevation(one.name) for one in self.plan.platforms}
        boards += board_notes(self.plan, heights, self.boards)
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

    @cached_property
    def _guard_posts(self) -> Mapping[str, GuardPostPlace]:
        return {post.mark: post for post in self.layout.guard_posts}

    @cached_property
    def _platforms(self) -> Mapping[str, Platform]:
        return {letter(index): platform for index, platform in enumerate(self.plan.platforms)}

    def describe(self, mark: str) -> str:
        """Return one line about a mark: what it is, its size and length, how far it is used; in the plan's units."""
        words = self._what_it_is(mark)
        if not words:
            return mark
        used = self.utilisation(mark)
        if used is not None:
            words += f", used {used:.0%}"
        failed = [c for c in self.checks_of(mark) if c.verdict in (Verdict.FAIL, Verdict.OUTSIDE)]
        why = (f"; {check.verdict}: {reason_in(check, self.plan.units)}" for check in failed[:2])
        return f"{mark}: {words}" + "".join(why)

    def _what_it_is(self, mark: str) -> str:
        """Say what a mark stands for, nothing where the study has no such mark."""
        part, units = self.layout.by_mark.get(mark), self.plan.units
        if isinstance(part, Member):
            return f"{part.kind} {part.size}, {format_length(part.length, units)} long"
        if isinstance(part, Post):
            foot = f", stands on {part.stands_on}" if part.stands_on else ""
            carried = " and ".join(part.carries)
            head = ", its head notched" if part.notch else ""
            return (
                f"post {part.size}, {format_length(part.height, units)} high{head}, carries {carried}{foot}"
            )
        if (footing := self._footings.get(mark)) is not None:
            under = "" if footing.post else " under a flight"
            across, deep = (_size(size, units) for size in (footing.diameter, footing.top - footing.bottom))
            full = f"{_force(footing.load, units)} with every load on everywhere"
            return (
                f"footing{under}, a round pier {across} across, {deep} deep, "
                f"sized for {_force(footing.design, units)} ({full})"
            )
        if (rise := self._rises.get(mark)) is not None:
            return f"{rise.upper} to {rise.lower}, {risers_in_words(rise.risers, rise.riser, units)}"
        if (guard := self._guard_posts.get(mark)) is not None:
            return f"guard post of {guard.platform}, connector for {_force(guard.connector, units)}"
        if (platform := self._platforms.get(mark)) is not None:
            height = format_length(self.levels.elevation(platform.name), units)
            return f"{platform.name}, at {height} above the benchmark"
        return ""


def _size(inches: float, units: Units) -> str:
    """Write a size [in] as people say it: inches, or whole millimetres."""
    return format_short(inches) if units == "us" else format_length(inches, units)


def _force(pounds: float, units: Units) -> str:
    force, unit = shown(pounds, "lb", units)
    return f"{force:.1f} {unit}" if units == "metric" else f"{force:,.0f} {unit}"


def reason_in(check: Check, units: Units) -> str:
    """Say why a check does not pass, in the figures of a system of units."""
    cure = after_comparison(check)
    if cure is None or check.demand is None or check.capacity is None:
        return restate(check.reason or check.rule, units)
    there, unit = shown(check.demand, check.unit, units)
    limit, _ = shown(check.capacity, check.unit, units)
    return comparison(check.rule, there, limit, unit, check.at_least) + cure
