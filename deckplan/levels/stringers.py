"""One stringer of a stair: its layout on a plank, its bottom cut, the wood left at the throat, headroom.

::

    top cut --+        The bottom cut takes off one board, for every tread gains a board and the
              |__      landing has none: the first riser of the stringer is one riser less one board.
                 |__
                    |__   throat: what is left between the inner corners and the lower edge
"""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.engineering.stairs import throat_depth
from deckplan.errors import RangeError
from deckplan.levels.buildable import STRINGER_DEPTH, THROAT_MIN
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Note, Rise
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, at_least, at_most, outside

STRINGER = "2x12"
THROAT = Source("AWC DCA6", "stairs: throat of a cut stringer", "from memory")


@dataclass(frozen=True, slots=True)
class StringerLayout:
    """One stringer: riser, tread and board [in]; bottom_cut: its first riser; throat; length of plank [in]."""

    risers: int
    riser: float
    tread: float
    board: float
    depth: float

    @property
    def bottom_cut(self) -> float:
        """Height of the stringer's lowest riser [in]: a riser less the board that the tread gains."""
        return self.riser - self.board

    @property
    def pitch_length(self) -> float:
        """Length of the slope over one step [in]."""
        return float((self.riser**2 + self.tread**2) ** 0.5)

    @property
    def throat(self) -> float:
        """Wood left square to the slope under the inner corners of the cuts [in]: depth - R T / hypotenuse."""
        try:
            return throat_depth(self.depth, self.riser, self.tread)
        except RangeError:
            return 0.0  # nothing is left: the check fails

    @property
    def plank(self) -> float:
        """Length of plank from the top cut to the bottom one [in], along the slope, corners included."""
        slope = (self.risers - 1) * self.pitch_length
        return slope + self.depth * self.riser / self.tread + self.riser

    @property
    def marks(self) -> tuple[tuple[float, float], ...]:
        """Corners of the cut line [in]: out along the run, up, from the toe of the bottom cut."""
        corners: list[tuple[float, float]] = [(0.0, 0.0)]
        height = self.bottom_cut
        for count in range(1, self.risers):
            corners += [((count - 1) * self.tread, height), (count * self.tread, height)]
            height += self.riser
        return tuple(corners)


def lay_out_stringer(
    rise: float, risers: int, tread: float, board: float, depth: float = STRINGER_DEPTH
) -> StringerLayout:
    """Return the layout of one stringer.

    rise [in]: finished surface to finished surface; risers: how many; tread [in]: run of one step; board
    [in]: thickness of the tread boards; depth [in]: of the plank.

    Source: trade literature (27.5 in, 4 risers of 6-7/8, 15/16 in boards: bottom cut 5-15/16).

    >>> lay_out_stringer(27.5, 4, 10.5, 0.9375).bottom_cut
    5.9375
    """
    return StringerLayout(risers, rise / risers, tread, board, depth)


def _published_for(plan: Plan, source: Source) -> Source:
    """Return the source of a stringer span, with its reservation for species other than southern pine.

    Source: AWC DCA6 (southern pine); that other species share the spans is from memory.
    """
    if plan.materials.species.strip().lower() == "southern pine" or "DCA6" not in source.document:
        return source
    clause = f"{source.clause}, published for southern pine; other species from memory"
    return Source(source.document, clause, "from memory")


def check_stringers(plan: Plan, rise: Rise, profile: Profile) -> tuple[Check, ...]:
    """Check a stringer flight: the span of its stringers in plan, cut or solid, and the throat of a cut one."""
    mark = flight_mark(rise.index)
    cut, solid = profile.stringer_run_max_cut, profile.stringer_run_max_solid
    layout = lay_out_stringer(rise.rise, rise.risers, rise.tread, plan.materials.decking.thickness)
    rule = "stringer span in plan"
    for_cut, for_solid = _published_for(plan, cut.source), _published_for(plan, solid.source)
    if rise.run <= cut.value:
        sum_ = f"{layout.depth:g} - {layout.riser:.4g} x {layout.tread:.4g} / {layout.pitch_length:.4g}"
        step = Step(
            "", "throat of a cut stringer", "d - R T / sqrt(R^2 + T^2)", sum_, layout.throat, "in", THROAT
        )
        return (
            at_most(mark, f"{rule}, cut", for_cut, rise.run, cut.value, "in"),
            at_least(mark, "stringer throat", THROAT, layout.throat, THROAT_MIN, "in", (step,)),
        )
    if rise.run <= solid.value:
        return (at_most(mark, f"{rule}, solid", for_solid, rise.run, solid.value, "in"),)
    run = format_short(rise.run, plan.units)
    reason = f"a run of {run} is over every stringer span that is published: an engineer's matter"
    return (outside(mark, rule, for_solid, reason, demand=rise.run, capacity=solid.value, unit="in"),)


def stringer_notes(plan: Plan, rise: Rise, profile: Profile) -> tuple[Note, ...]:
    """Say how the stringers of a flight are cut, or that they are not."""
    layout = lay_out_stringer(rise.rise, rise.risers, rise.tread, plan.materials.decking.thickness)
    units, mark = plan.units, flight_mark(rise.index)
    text = (
        f"{mark}: cut the bottom of each stringer {format_short(layout.board, units)} short, to a "
        f"first riser of {format_short(layout.bottom_cut, units)}: every tread gains a board, the landing has none"
    )
    if rise.run <= profile.stringer_run_max_cut.value:
        return (Note("advice", text),)
    most = format_short(profile.stringer_run_max_cut.value, units)
    solid = (
        f"{mark}: its run is over the {most} of cut stringers: they stay whole, and every tread stands on blocks or "
        f"brackets fastened to them, rated for its load"
    )
    return (Note("advice", text), Note("advice", solid))
