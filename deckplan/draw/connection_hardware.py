"""The connectors of a detail: hanger, post cap, notch with its bolts, fasteners of a ledger, each with its figures."""

from __future__ import annotations

from deckplan.buy.connectors import asked
from deckplan.checks.short_posts import CAP_PLATE, LEAST_POST, too_short
from deckplan.draw.connection_parts import name_member, name_post
from deckplan.draw.connection_plane import BELOW, BEYOND, Loaded, Plane
from deckplan.draw.draft import Draft
from deckplan.draw.labels import round_about
from deckplan.draw.scene import Box, Role, text_box
from deckplan.draw.shapes import rectangle
from deckplan.engineering.notches import BOLT_FROM_EDGE, BOLTS
from deckplan.engineering.prescriptive import ledger_placement
from deckplan.layout.model import Bearing, Kind, Member, Post
from deckplan.loads.model import Force
from deckplan.plan.model import Ledger
from deckplan.units import KN_PER_LB

PLATE = 2 * CAP_PLATE
"""Height of a post cap's side plates as drawn, half on the post, half on the beam [in]."""

WASHER, WASHER_HALF = 0.25, 0.7
"""Thickness of a washer and half its diameter, as drawn [in]."""


def draw_hanger(
    draft: Draft, study: Loaded, member: Member, carrier: object, bearing: Bearing, plane: Plane
) -> None:
    """Draw a hanger on the face of a post or beam: the flange up the face, the seat under the piece."""
    face = max(min(plane.along(member.start), plane.along(member.end)), -1.0)
    up = member.bottom + 0.7 * member.depth
    draft.stroke(((face, up), (face, member.bottom), (face + bearing.length, member.bottom)), Role.FIXING)
    carried = "header" if member.kind is Kind.HEADER else "beam"
    kind = "joist hanger" if member.kind is Kind.JOIST else f"face-mount hanger for the {carried}"
    text = f"{kind}\n{needed(draft, study, member, bearing)}\nseat {draft.short(bearing.length)}"
    at = (face + bearing.length / 2, member.bottom)
    draft.wish(
        text, at, [(face + 0.6 * BEYOND, at[1] - 2.6 * draft.letter)], Role.NOTE, plate=True, urgency=4
    )
    if isinstance(carrier, Post):
        name_post(draft, carrier, plane)
    elif isinstance(carrier, Member):
        name_member(draft, carrier, plane)
    else:
        raise KeyError(bearing.on)


def draw_cap(draft: Draft, study: Loaded, member: Member, post: Post, bearing: Bearing, plane: Plane) -> None:
    """Draw a cap: plates on post and beam, across their joint."""
    at, half = plane.along(post.at), post.width / 2
    corners = rectangle(at - half, post.top - PLATE / 2, at + half, post.top + PLATE / 2)
    draft.stroke((*corners, corners[0]), Role.FIXING)
    draft.stroke(((at - half, post.top), (at + half, post.top)), Role.FIXING)
    text = f"post cap\n{needed(draft, study, member, bearing)}\nbearing {draft.short(bearing.length)}"
    spot = (at + half, post.top - PLATE / 4)
    side = round_about(spot, text, draft.letter, 2.0 * draft.letter)
    draft.wish(text, spot, [side[2], side[3], side[0]], Role.NOTE, plate=True, urgency=4)
    name_post(draft, post, plane)
    if too_short(post):
        text = (
            f"{draft.short(post.height)} of post: base and cap\ntake {draft.short(LEAST_POST)}. Bracket on the pier\n"
            "instead, or its top dug down"
        )
        spot = (at - half, post.top)
        wide = text_box(text, spot, draft.letter).width
        out = draft.core.left + wide / 2 + draft.letter
        places = [(out, post.bottom - down * draft.letter) for down in (5.0, 7.0, 4.0)]
        draft.wish(text, spot, places, Role.NOTE, post.mark, plate=True, urgency=4)


def draw_notch(
    draft: Draft, study: Loaded, member: Member, post: Post, bearing: Bearing, plane: Plane
) -> None:
    """Draw a notch with its bolts, looking along the beam: it bears on the floor and leans on the tongue."""
    assert post.notch is not None
    half, tongue = post.notch.depth / 2, post.tongue
    for z in bolt_heights(member):
        head, nut = -half - WASHER / 2, half + tongue + WASHER / 2
        draft.stroke(((head - 0.4, z), (nut + 0.4, z)), Role.FIXING)
        for at in (head, nut):
            draft.stroke(((at, z - WASHER_HALF), (at, z + WASHER_HALF)), Role.FIXING)
    draft.stroke(((-half, post.top), (half, post.top)), Role.FIXING)
    spliced = bearing.manner == "splice"
    through = "through each piece" if spliced else "through both"
    text = f"{BOLTS} bolts of 1/2 in\n{through},\nwasher at either end"
    spot = (half + tongue + WASHER, sum(bolt_heights(member)) / 2)
    side = round_about(spot, text, draft.letter, 1.2 * draft.letter)
    draft.wish(text, spot, [side[4], side[2], side[0]], Role.NOTE, plate=True, urgency=4)
    seat = f"{draft.short(post.notch.depth)} x {draft.short(bearing.length)}"
    text = (
        f"{'this piece ' if spliced else ''}bears on {seat},\nup to {force_at(draft, study, member, bearing)}"
    )
    spot = (-half, post.top)
    side = round_about(spot, text, draft.letter, 2.0 * draft.letter)
    draft.wish(text, spot, [side[7], side[5], side[3]], Role.NOTE, plate=True, urgency=4)
    _axes(draft, member, post, plane)
    name_member(draft, member, plane)
    name_post(draft, post, plane)


def bolt_heights(member: Member) -> tuple[float, float]:
    """Return the elevations of the two bolts through a beam over a notch [in]."""
    return member.bottom + BOLT_FROM_EDGE, member.top - BOLT_FROM_EDGE


def _axes(draft: Draft, member: Member, post: Post, plane: Plane) -> None:
    """Draw the axes of beam and post: how far they stand apart is what the column sum counts."""
    axis = plane.along(post.at)
    low = post.top - 0.8 * min(post.height, BELOW)
    draft.stroke(((0.0, post.top - 2.0), (0.0, member.top)), Role.DATUM)
    draft.stroke(((axis, low), (axis, post.top)), Role.DATUM)
    text = f"axes of beam and post\n{draft.short(axis)} apart"
    spot = (axis, (low + post.top) / 2)
    side = round_about(spot, text, draft.letter, post.width / 2 + 0.8 * draft.letter)
    draft.wish(text, spot, [side[2], side[0], side[3]], Role.NOTE, plate=True, urgency=3)


def draw_seat_on_top(
    draft: Draft, study: Loaded, member: Member, beam: Member, bearing: Bearing, plane: Plane
) -> None:
    """Mark the length over which a piece bears on a beam, and the most that it puts there."""
    half = bearing.length / 2
    draft.stroke(((-half, beam.top), (half, beam.top)), Role.FIXING)
    text = f"bears over {draft.short(bearing.length)},\nup to {force_at(draft, study, member, bearing)}"
    spot = (half, beam.top)
    side = round_about(spot, text, draft.letter, 1.6 * draft.letter)
    draft.wish(text, spot, [side[2], side[3]], Role.NOTE, plate=True, urgency=4)
    name_member(draft, beam, plane)


def draw_wall(draft: Draft, study: Loaded, ledger: Member, plane: Plane, core: Box) -> None:
    """Draw the wall behind a ledger and the fasteners through it, at their least distances from its edges."""
    faces = plane.meets(ledger)
    if faces is None:
        raise KeyError(ledger.mark)
    corners = rectangle(core.left, core.bottom, faces[0], core.top)
    draft.area(corners, Role.WALL)
    least = ledger_placement("ledger")
    rows = (ledger.top - least["top edge"], ledger.bottom + least["bottom edge"])
    for z in rows:
        draft.stroke(((faces[1] + 0.3, z), (faces[0] - 3.5, z)), Role.FIXING)
        draft.stroke(((faces[1] + 0.3, z - 0.4), (faces[1] + 0.3, z + 0.4)), Role.FIXING)
    support = study.plan.platform(ledger.platform).supports[ledger.support or 0]
    assert isinstance(support, Ledger)
    spacing = "" if support.spacing == "auto" else f" at {draft.short(support.spacing)} on centre"
    size, kind = support.fastener.split()
    text = f"{size} in {kind}s{spacing},\ntwo rows, staggered"
    at = (faces[0] - 2.0, rows[0])
    inside = ((core.left + faces[0]) / 2, (rows[0] + rows[1]) / 2)
    draft.wish(text, at, [inside], Role.NOTE, plate=True, urgency=7)
    draft.chain([ledger.bottom, rows[1], rows[0], ledger.top], "y", 0, core.left, -1)


def needed(draft: Draft, study: Loaded, member: Member, bearing: Bearing) -> str:
    """Say how much the connector must carry, in the steps in which capacities are asked for."""
    return f"for {force_at(draft, study, member, bearing)} or more"


def force_at(draft: Draft, study: Loaded, member: Member, bearing: Bearing) -> str:
    """Write the largest force at a bearing, rounded up to the steps in which capacities are asked for."""
    total = Force()
    for delivery in study.loads.out_of.get(member.mark, ()):
        if delivery.lower == bearing.on and abs(delivery.at - bearing.at) < 1.0:
            total += delivery.force
    return write_asked(draft, total)


def write_asked(draft: Draft, force: Force) -> str:
    """Write a force's worst combination, rounded up to the steps in which capacities are asked for."""
    pounds = asked(force.governing[0])
    return f"{pounds * KN_PER_LB:.1f} kN" if draft.units == "metric" else f"{pounds:,} lb"
