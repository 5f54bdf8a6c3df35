"""Framing of stringer stairs: stringers at the spacing that the treads allow, boards, hangers and brackets."""

from __future__ import annotations

import math

from deckplan.layout.flight_feet import block_feet
from deckplan.layout.flight_frame import Axes, rims_at, tread_boards
from deckplan.layout.flight_heads import hang_heads
from deckplan.layout.flight_model import Fixing, FlightFrame
from deckplan.layout.model import Kind, Member, Pad
from deckplan.levels.box_steps import PLY
from deckplan.levels.buildable import STRINGER_DEPTH
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Ground, Rise
from deckplan.levels.stair_loads import stair_load
from deckplan.levels.stringer_ends import check_feet, check_seat, end_force, heave_notes
from deckplan.levels.stringer_strength import check_strength
from deckplan.levels.stringers import STRINGER, check_stringers, stringer_notes
from deckplan.levels.tread_strength import check_treads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile

_PAD_IN = 0.0


def stringer_places(width: float, spacing: float) -> tuple[float, ...]:
    """Return the middles of the stringers along the edge [in], evenly, never farther apart than the spacing."""
    first, last = PLY / 2, width - PLY / 2
    spaces = max(1, math.ceil((last - first) / spacing - 1e-9))
    return tuple(first + (last - first) * number / spaces for number in range(spaces + 1))


def frame_stringers(
    plan: Plan, rise: Rise, ground: Ground, profile: Profile, members: tuple[Member, ...], deep: float
) -> FlightFrame:
    """Frame one stringer flight.

    Each stringer hangs at the upper edge one riser under the finished surface and stands where the flight
    lands, on piers `deep` [in] in the ground. The piece's `top` is its upper edge under the first tread; it drops by
    one riser a tread. Where the rim is too shallow to hang it on, it starts at the face of a hanger board.
    """
    axes, mark = Axes.of(rise), flight_mark(rise.index)
    decking, fascia = plan.materials.decking, plan.materials.fascia.thickness
    spacing = min(profile.stringer_spacing_max.value, decking.spacing_step)
    pieces: list[Member] = []
    fixings: list[Fixing] = []
    pads: list[Pad] = []
    top = rise.top - rise.riser - decking.thickness
    places = stringer_places(rise.width, spacing)
    apart = places[1] - places[0]
    share = stair_load(plan, profile).psf + profile.dead_load_min.value
    whole = share * rise.width * rise.run / 144 / 2
    at_end = end_force(plan, rise, apart, profile)
    heads = hang_heads(plan, rise, rims_at(rise, members), places, top, at_end)
    back = PLY if heads.boards else 0.0
    for number, s in enumerate(places, start=1):
        own = f"{mark}-S{number}"
        pieces.append(
            Member(
                mark=own,
                platform=mark,
                kind=Kind.STRINGER,
                size=STRINGER,
                start=axes.site(s, back),
                end=axes.site(s, rise.run),
                top=top,
                width=PLY,
                depth=STRINGER_DEPTH,
                drop=(rise.risers - 1) * rise.riser,
            )
        )
        part = 0.5 if number in (1, len(places)) else 1.0
        force = whole / (len(places) - 1) * part
        # one heavy step may stand at the head of any of them
        hung = max(force, at_end.value)
        fixings.append(Fixing("hanger", axes.site(s, back), top, (own, heads.behind[number - 1]), hung))
        fixings.append(Fixing("bracket", axes.site(s, rise.run), rise.bottom, (own, rise.lower), force))
    if rise.lower == "ground":
        for number, s in enumerate((places[0], places[-1]), start=1):
            at = axes.site(s, rise.run - _PAD_IN)
            bottom = min(rise.bottom, ground.elevation_at(at)) - deep
            pads.append(Pad(f"{mark}-F{number}", at, rise.bottom, bottom))
    for step in range(1, rise.risers):
        count = sum(1 for piece in pieces if piece.kind is Kind.TREAD)
        start = (step - 1) * rise.tread
        height = rise.top - step * rise.riser
        pieces += tread_boards(rise, count, start, rise.tread, height, decking, fascia, plan.units)
    feet = block_feet(plan, rise, members, places)
    inner = len(places) - len(pads) if pads else 0
    weakest = min((piece for piece in pieces if piece.kind is Kind.TREAD), key=lambda board: board.width)
    return FlightFrame(
        index=rise.index,
        mark=mark,
        fixings=tuple(fixings),
        blocking=tuple(block.line for block in feet.blocks),
        members=(*pieces, *heads.boards, *feet.blocks),
        pads=tuple(pads),
        checks=(
            *check_stringers(plan, rise, profile),
            *check_strength(plan, rise, apart, profile),
            *check_treads(plan, weakest.mark, apart, weakest.width, profile),
            *heads.checks,
            *feet.checks,
            check_seat(plan, rise, at_end),
            *((check_feet(plan, rise, apart, at_end),) if inner else ()),
        ),
        notes=(
            *stringer_notes(plan, rise, profile),
            *heads.notes,
            *feet.notes,
            *heave_notes(plan, rise, inner),
        ),
    )
