"""Framing of box steps: frames, boards, screws into the rim, angles into blocking, piers on the ground."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise

from deckplan.engineering.lumber import design_values
from deckplan.geometry import Point, point_to_line
from deckplan.layout.flight_blocking import Bed, bed_for, blocking_members, clear_of_joists, level_frame
from deckplan.layout.flight_frame import Axes, rims_at, tread_boards
from deckplan.layout.flight_model import Fixing, FlightFrame, StepFrame
from deckplan.layout.frame import Frame
from deckplan.layout.model import Kind, Member, Pad
from deckplan.layout.platform_frame import letter
from deckplan.levels.box_fixings import angle_capacity, screw_capacity
from deckplan.levels.box_steps import (
    CLEAR,
    EDGE,
    PLY,
    PRACTICE,
    THINNEST,
    BoxTier,
    Ends,
    FixingBasis,
    angle_places,
    overlap,
    screw_places,
    tiers,
)
from deckplan.levels.box_strength import check_box_frame
from deckplan.levels.flight_checks import flight_mark
from deckplan.levels.model import Ground, Note, Rise
from deckplan.levels.tread_strength import check_treads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Verdict, at_least, at_most, not_applicable

NDS = Source("NDS 2018", "12.2, 12.3", "two published copies")
_PIER_APART = 48.0
_PIER_LEAST = 18.0
_PIER_IN = 4.0
# Angles are tried this far aside where a joist of the lower platform lies right under one [in].
_ASIDE = (0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0, 4.0, -4.0)


@dataclass
class _Site:
    """What the framing of one flight needs to know, and what it has found so far."""

    plan: Plan
    rise: Rise
    ground: Ground
    profile: Profile
    members: tuple[Member, ...]
    basis: FixingBasis
    pieces: list[Member] = field(default_factory=list)
    blocks: list[Member] = field(default_factory=list)
    fixings: list[Fixing] = field(default_factory=list)
    pads: list[Pad] = field(default_factory=list)
    checks: list[Check] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)

    @property
    def mark(self) -> str:
        return flight_mark(self.rise.index)

    @cached_property
    def axes(self) -> Axes:
        return Axes.of(self.rise)

    def gravity(self, tier: BoxTier) -> float:
        """Return the specific gravity of the frame's lumber [1]."""
        return design_values(self.plan.materials.species, self.plan.materials.grade, tier.size).G


def frame_boxes(
    plan: Plan,
    rise: Rise,
    ground: Ground,
    profile: Profile,
    members: tuple[Member, ...],
    basis: FixingBasis,
    ends: Ends,
    deep: float,
) -> FlightFrame:
    """Frame one box flight: each frame with its members, boards and fixings; blocking goes to the lower platform.

    deep [in]: how far its piers go into the ground.
    """
    site = _Site(plan, rise, ground, profile, members, basis)
    decking, fascia = plan.materials.decking, plan.materials.fascia.thickness
    found = tiers(rise, decking.thickness, fascia, decking.spacing_step, ends)
    if found[0].height < THINNEST or not found[0].bays:
        return _too_small(site, found[0])
    previous: BoxTier | None = None
    for tier in found:
        _frame(site, tier)
        start = len([piece for piece in site.pieces if piece.kind is Kind.TREAD])
        top = tier.top + decking.thickness
        site.pieces += tread_boards(rise, start, 0.0, tier.depth, top, decking, fascia, site.plan.units, ends)
        _angles(site, tier, previous)
        previous = tier
    apart = max(b - a for tier in found for a, b in pairwise(tier.joists))
    weakest = min((piece for piece in site.pieces if piece.kind is Kind.TREAD), key=lambda board: board.width)
    site.checks += check_treads(plan, weakest.mark, apart, weakest.width, profile)
    _screws(site, found[-1])
    if rise.lower == "ground":
        _piers(site, found[0], deep)
    return FlightFrame(
        index=rise.index,
        mark=site.mark,
        frames=tuple(
            StepFrame(
                tier.height, len(tier.joists), tier.spacing, tier.right - tier.left, tier.depth, tier.top
            )
            for tier in found
        ),
        fixings=tuple(site.fixings),
        blocking=tuple(piece.line for piece in site.blocks),
        members=(*site.pieces, *site.blocks),
        pads=tuple(site.pads),
        checks=tuple(site.checks),
        notes=tuple(site.notes),
    )


def _too_small(site: _Site, tier: BoxTier) -> FlightFrame:
    low = format_short(tier.height, site.plan.units)
    wide = format_short(tier.right - tier.left, site.plan.units)
    reason = f"a frame {low} high, {wide} wide has no room for screws: fewer, higher risers or more width"
    check = at_least(site.mark, "step frame height", PRACTICE, tier.height, THINNEST, "in", reason=reason)
    if check.verdict is Verdict.PASS:
        check = Check(site.mark, "step frame width", PRACTICE, None, None, "", Verdict.FAIL, reason=reason)
    return FlightFrame(site.rise.index, site.mark, checks=(check,))


def _member(site: _Site, mark: str, tier: BoxTier, ends: tuple[Point, Point]) -> Member:
    return Member(
        mark=f"{site.mark}-{mark}",
        platform=site.mark,
        kind=Kind.STEP,
        size=tier.size,
        start=site.axes.site(*ends[0]),
        end=site.axes.site(*ends[1]),
        top=tier.top,
        width=PLY,
        depth=tier.height,
    )


def _frame(site: _Site, tier: BoxTier) -> None:
    """Add the back and the front of a frame, and its joists between them."""
    first = 2 * tier.count - 1
    for number, q in ((first, PLY / 2), (first + 1, tier.depth - PLY / 2)):
        site.pieces.append(_member(site, f"R{number}", tier, ((tier.left, q), (tier.right, q))))
    taken = (tier.count - 1) * len(tier.joists)
    for number, s in enumerate(tier.joists, start=taken + 1):
        ends = ((s, PLY), (s, tier.depth - PLY))
        site.pieces.append(_member(site, f"J{number}", tier, ends))


def _angles(site: _Site, tier: BoxTier, under: BoxTier | None) -> None:
    """Put angles inside the front of a frame, each over blocking in the platform or in the frame under it."""
    q = tier.depth - PLY - 1.0
    places = angle_places(tier)
    own = f"{site.mark}-R{2 * tier.count}"
    if under is None and site.rise.lower == "ground":
        return  # brackets on the piers hold the lowest frame down
    if under is not None:
        places = tuple(_clear_of(under, tier, place) for place in places)
        blocks = _blocks_in(site, under, q, places)
        for s, block in zip(places, blocks, strict=True):
            site.fixings.append(
                Fixing("angle", site.axes.site(s, q), tier.bottom, (own, block), site.basis.uplift_each)
            )
        return
    frame = level_frame(site.members, site.rise.lower)
    floor = Frame.of(site.plan.platform(site.rise.lower))
    beds: list[Bed] = []
    missing = 0
    for place in places:
        s = _clear_place(site, tier, place, q, frame)
        at = site.axes.site(s, q)
        bed = bed_for(at, frame, floor, site.axes.along, site.axes.away)
        if bed is None:
            missing += 1
            continue
        beds.append(bed)
        site.fixings.append(Fixing("angle", at, tier.bottom, (own,), site.basis.uplift_each))
    _block(site, beds)
    if beds:
        holds = angle_capacity(site.gravity(tier), site.plan.materials.decking.thickness)
        uplift = site.basis.uplift_each
        rule = "uplift on an angle into blocking"
        site.checks.append(at_most(site.mark, rule, NDS, uplift, holds.value, "lb", holds.steps))
        site.notes.append(Note("advice", f"{site.mark}: fixings are {site.basis.words}"))
    if missing:
        reason = f'{missing} of {len(places)} angles find no framing of "{site.rise.lower}" under them to block between'
        check = Check(
            site.mark, "blocking under angles", PRACTICE, None, None, "", Verdict.FAIL, reason=reason
        )
        site.checks.append(check)


def _clear_of(under: BoxTier, tier: BoxTier, place: float) -> float:
    """Return a place near the one wanted, in the same bay of a frame, that is not over a joist of the one under it."""
    bay = next(((low, high) for low, high in tier.bays if low - 1e-9 <= place <= high + 1e-9), (place, place))
    for aside in _ASIDE:
        s = place + aside
        if bay[0] <= s <= bay[1] and all(abs(s - joist) >= CLEAR for joist in under.joists):
            return s
    return place


def _clear_place(site: _Site, tier: BoxTier, place: float, q: float, frame: tuple[Member, ...]) -> float:
    """Return a place near the one wanted, within a bay of the box, that is not over a joist of the platform."""
    within = [(low, high) for low, high in tier.bays if low - 1e-9 <= place <= high + 1e-9]
    for aside in _ASIDE:
        s = place + aside
        if any(low <= s <= high for low, high in within) and clear_of_joists(
            site.axes.site(s, q), frame, site.axes.along
        ):
            return s
    return place


def _block(site: _Site, beds: list[Bed]) -> None:
    """Add the blocking in the lower platform, and say which piece each angle joins."""
    index = next(n for n, platform in enumerate(site.plan.platforms) if platform.name == site.rise.lower)
    lead = letter(index)
    taken = sum(1 for member in site.members if member.mark.startswith(f"{lead}-K"))
    pieces = blocking_members(beds, lead, taken)
    site.blocks += pieces
    for number, fixing in enumerate(site.fixings):
        if fixing.kind == "angle" and len(fixing.joins) == 1:
            piece = min(pieces, key=lambda piece: point_to_line(fixing.at, piece.line))
            site.fixings[number] = Fixing(
                "angle", fixing.at, fixing.elevation, (*fixing.joins, piece.mark), fixing.force
            )
    if pieces:
        text = f'{site.mark}: {len(pieces)} pieces of blocking go into "{site.rise.lower}" before its boards are laid'
        site.notes.append(Note("caution", text))


def _blocks_in(site: _Site, under: BoxTier, q: float, places: tuple[float, ...]) -> list[str]:
    """Block the bays of the frame under an upper one where angles land; return the piece's mark for each place."""
    pairs = list(pairwise(under.joists))
    marks: dict[tuple[float, float], str] = {}
    found = []
    for place in places:
        bay = next((pair for pair in pairs if pair[0] <= place <= pair[1]), pairs[-1])
        if bay not in marks:
            number = sum(1 for piece in site.blocks if piece.platform == site.mark) + 1
            ends = ((bay[0] + PLY / 2, q), (bay[1] - PLY / 2, q))
            piece = Member(
                mark=f"{site.mark}-K{number}",
                platform=site.mark,
                kind=Kind.BLOCKING,
                size=under.size,
                start=site.axes.site(*ends[0]),
                end=site.axes.site(*ends[1]),
                top=under.top,
                width=PLY,
                depth=under.height,
            )
            marks[bay] = piece.mark
            site.blocks.append(piece)
        found.append(marks[bay])
    return found


def _screws(site: _Site, tier: BoxTier) -> None:
    """Screw the back of the topmost frame into the rim, where both overlap."""
    rise, units = site.rise, site.plan.units
    rule = "screws into the rim"
    rims = rims_at(rise, site.members)
    if not rims:
        reason = f'no rim of "{rise.upper}" lies along this edge: the box is held by its angles or piers only'
        site.checks.append(not_applicable(site.mark, rule, PRACTICE, reason))
        return
    zone = overlap(tier, rims[0][0].top, rims[0][0].bottom)
    reason = (
        f"step and rim overlap by {format_short(zone.height, units)}, {format_short(2 * EDGE, units)} is needed "
        "for a row of screws: hang a cleat under the rim, deepen it, or choose one more riser"
    )
    site.checks.append(at_least(site.mark, rule, PRACTICE, zone.height, 2 * EDGE, "in", reason=reason))
    if not zone.holds:
        return
    push = site.basis.push(tier.right - tier.left)
    holds = screw_capacity(site.gravity(tier))
    places = screw_places(tier, math.ceil(push / holds.value), site.basis.screw_apart, (0.0, rise.width))
    if places:
        each = push / len(places)
        site.checks.append(
            at_most(site.mark, "force on a screw into the rim", NDS, each, holds.value, "lb", holds.steps)
        )
    own = f"{site.mark}-R{2 * tier.count - 1}"
    for s in places:
        held = [rim for rim, low, high in rims if low + EDGE <= s <= high - EDGE]
        if not held:
            site.checks.append(
                Check(site.mark, "screw beside the rim", PRACTICE, None, None, "", Verdict.FAIL,
                      reason=f"a screw {format_short(s, site.plan.units)} along the step finds no rim behind it")
            )  # fmt: skip
            continue
        at = site.axes.site(s, 0.0)
        edge = zone.height / 2
        site.fixings.append(Fixing("screw", at, zone.screw, (own, held[0].mark), push / len(places), edge))


def _piers(site: _Site, tier: BoxTier, deep: float) -> None:
    """Stand the lowest frame on concrete piers cast in forming tubes, tied with brackets, near enough for its rims."""
    inner = tier.right - tier.left - 2 * _PIER_IN
    spaces = max(1, math.ceil(inner / _PIER_APART - 1e-9))
    strong = check_box_frame(site.plan, site.mark, tier, inner / spaces, site.profile)
    # a low frame's rims reach less far: more piers then, as far as their tubes have room
    while any(check.verdict is Verdict.FAIL for check in strong) and inner / (spaces + 1) >= _PIER_LEAST:
        spaces += 1
        strong = check_box_frame(site.plan, site.mark, tier, inner / spaces, site.profile)
    site.checks += strong
    across = [tier.left + _PIER_IN + inner * number / spaces for number in range(spaces + 1)]
    rows = [(PLY / 2, 2 * tier.count - 1), (tier.depth - PLY / 2, 2 * tier.count)]
    number = 0
    for q, rim in rows:
        for s in across:
            number += 1
            at, mark = site.axes.site(s, q), f"{site.mark}-F{number}"
            top = site.rise.bottom
            bottom = min(top, site.ground.elevation_at(at)) - deep
            site.pads.append(Pad(mark, at, top, bottom))
            joins = (f"{site.mark}-R{rim}", mark)
            site.fixings.append(Fixing("pier", at, top, joins, 0.0))
            site.fixings.append(Fixing("bracket", at, top, joins, site.basis.uplift_each))
