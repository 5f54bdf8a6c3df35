"""The pieces of the frame on a plan: joists, beams, rims, headers, what carries flights, and the marks of each."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from deckplan.draw.draft import Draft
from deckplan.draw.plan_parts import arrow_head, flight_corners
from deckplan.draw.plan_words import is_packed
from deckplan.draw.scene import Box, Role, box_of, joined
from deckplan.draw.shapes import piece, square, strip
from deckplan.draw.subject import Subject
from deckplan.geometry import along, middle, unit
from deckplan.layout.ends import cut_ends
from deckplan.layout.model import Kind, Layout, Member

ROLES: dict[Kind, Role] = {
    Kind.JOIST: Role.JOIST,
    Kind.RIM: Role.RIM,
    Kind.BEAM: Role.BEAM,
    Kind.LEDGER: Role.LEDGER,
    Kind.BLOCKING: Role.BLOCKING,
    Kind.HEADER: Role.HEADER,
    Kind.STRINGER: Role.STRINGER,
    Kind.TREAD: Role.TREAD,
    Kind.STEP: Role.STEP,
    Kind.BRACE: Role.BRACE,
    Kind.BOARD: Role.BOARD,
    Kind.POST: Role.POST,
}
"""The role that a member of each kind plays on a drawing."""


LEGEND: dict[Role, str] = {
    Role.BEAM_BELOW: "drop beam, under the joists",
    Role.BEAM: "flush beam",
    Role.BLOCKING: "blocking",
    Role.WOOD_NEEDED: "wood below seams and borders",
    Role.BRACE: "brace",
    Role.FIXING: "hanger",
    Role.FOOTING: "footing",
    Role.POST_ON_FRAME: "post on a frame below",
    Role.GUARD: "edge that asks for a guard",
}
"""What the lines of a framing plan mean, where words on it do not say so."""

HANGER = 1.25
"""How far the sign of a hanger reaches past the piece that hangs in it [in]."""


def room_of(study: Subject, names: set[str]) -> Box:
    """Return the room of what is drawn: outlines, posts with their footings, flights, house walls near by."""
    boxes = [box_of(one.outline) for one in study.plan.platforms if one.name in names]
    sizes = {one.mark: one.diameter for one in study.footings}
    boxes += [
        box_of(square(post.at, max(post.width, sizes.get(post.footing, 0.0))))
        for post in study.layout.posts
        if post.platform in names
    ]
    flights = flights_at(study, names)
    boxes += [
        box_of((*flight_corners(rise), arrow_head(rise)))
        for rise in study.levels.flights
        if {rise.upper, rise.lower} & names
    ]
    boxes += [
        box_of(strip(part.line, part.width)) for part in study.layout.members if part.mark.startswith(flights)
    ]
    boxes += [box_of(square(one.at, one.diameter)) for one in study.footings if one.mark.startswith(flights)]
    if not boxes:
        return Box(0.0, 0.0, 120.0, 120.0)
    return joined(boxes)


def flights_at(study: Subject, names: set[str]) -> tuple[str, ...]:
    """Return how the marks of the pieces begin that belong to flights at some platforms."""
    rises = enumerate(study.levels.flights, 1)
    return tuple(f"S{number}-" for number, rise in rises if {rise.upper, rise.lower} & names)


def draw_members(draft: Draft, study: Subject, frame: Layout, names: set[str]) -> None:
    """Draw the members of some platforms and of the flights at them, with the marks that single pieces go by."""
    flights = flights_at(study, names)
    bottoms = {m.platform: m.bottom for m in frame.members if m.kind is Kind.JOIST}
    shown = [m for m in frame.members if m.platform in names or m.mark.startswith(flights)]
    added = (
        {m.mark for m in frame.members} - study.layout.by_mark.keys() if frame is not study.layout else set()
    )
    cuts = cut_ends(shown)
    for member in shown:
        role = Role.WOOD_NEEDED if member.mark in added else ROLES[member.kind]
        if member.kind is Kind.BEAM and member.top <= bottoms.get(member.platform, -math.inf) + 0.25:
            role = Role.BEAM_BELOW
        stands_out = (
            member.kind in (Kind.BEAM, Kind.RIM, Kind.LEDGER, Kind.HEADER) or role is Role.WOOD_NEEDED
        )
        keep_clear = stands_out and is_level(member)
        draft.area(piece(member, cuts), role, member.mark, solid=keep_clear)
        if member.kind in (Kind.BEAM, Kind.LEDGER):
            word = " ledger" if member.kind is Kind.LEDGER else ""
            _beside(draft, member, word, needed=not is_packed(draft, len(study.layout.posts)))
    if draft.sheet.full:
        _hangers(draft, study, shown)
        _single_pieces(draft, [m for m in shown if m.mark not in added])
        for member in shown:
            if member.mark in added and member.kind is Kind.JOIST:
                _beside(draft, member, "", needed=False, urgency=1)


def _single_pieces(draft: Draft, members: Sequence[Member]) -> None:
    """Mark headers, the joists that carry them, joists unlike the rest of their platform, and rims."""
    trimmers = {b.on for m in members if m.kind is Kind.HEADER for b in m.bearings}
    sizes = Counter((m.platform, m.size) for m in members if m.kind is Kind.JOIST)
    usual = {platform: size for (platform, size), _ in reversed(sizes.most_common())}
    for member in members:
        if member.platform not in usual:
            continue  # a piece of a flight
        if member.kind is Kind.HEADER:
            _beside(draft, member, " header")
        elif member.kind is Kind.JOIST and member.mark in trimmers:
            _beside(draft, member, " trimmer")
        elif member.kind is Kind.JOIST and member.size != usual[member.platform]:
            _beside(draft, member, "")
        elif member.kind is Kind.RIM and draft.sheet.to_scale:
            _beside(draft, member, " rim", needed=False, urgency=1)
        else:
            continue  # spoken for by the words across the joists


def _hangers(draft: Draft, study: Subject, members: Sequence[Member]) -> None:
    """Draw a short heavy line across each end that hangs in a hanger, where joists stand far enough apart for it."""
    apart = min((one.joists.spacing for one in study.plan.platforms), default=0.0)
    if apart < 1.5 * draft.letter:
        return
    for member in members:
        for bearing in member.bearings:
            # joists hang on a ledger's face too; the ledger itself is bolted
            if bearing.manner not in ("hanger", "ledger") or member.length == 0 or member.kind is Kind.LEDGER:
                continue
            (dx, dy), half = unit(member.start, member.end), member.width / 2 + HANGER
            x, y = member.point(min(max(bearing.at, 0.0), member.length))
            draft.stroke(
                ((x - dy * half, y + dx * half), (x + dy * half, y - dx * half)), Role.FIXING, member.mark
            )


def is_level(member: Member) -> bool:
    """Tell whether a member runs along x or y, so that its box is no larger than itself."""
    (x0, y0), (x1, y1) = member.line
    return abs(x1 - x0) < 1e-6 or abs(y1 - y0) < 1e-6


def _beside(draft: Draft, member: Member, word: str, *, needed: bool = True, urgency: int = 5) -> None:
    """Ask for a member's mark and size along it."""
    if member.length == 0:
        return
    dx, dy = unit(member.start, member.end)
    angle = math.degrees(math.atan2(dy, dx))
    angle = angle - 180 if angle > 90.001 else angle + 180 if angle <= -90 else angle
    off = member.width / 2 + 0.75 * draft.letter
    places = []
    for share in (0.5, 0.38, 0.62, 0.25, 0.75, 0.15, 0.85):
        x, y = along(member.line, share)
        places += [(x - dy * off, y + dx * off), (x + dy * off, y - dx * off)]
    draft.wish(
        f"{member.mark}  {member.size}{word}",
        middle(member.line),
        places,
        Role.MARK,
        member.mark,
        angle=round(angle, 6),
        plate=True,
        needed=needed,
        urgency=urgency,
    )
