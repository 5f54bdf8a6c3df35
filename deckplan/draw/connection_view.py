"""Connection details: a beam on a post, in its notch or hung on it, a joist in its hanger, a ledger on its wall.

The plane stands upright along the piece that is carried, at a notched post square to it. Across the sheet runs the
distance from the bearing [in], upward the elevation [in]; what the plane cuts has a grain, what lies behind is plain.
"""

from __future__ import annotations

from collections.abc import Iterator

from deckplan.draw.connection_hardware import (
    bolt_heights,
    draw_cap,
    draw_hanger,
    draw_notch,
    draw_seat_on_top,
    draw_wall,
)
from deckplan.draw.connection_parts import draw_boards, draw_joist_over, draw_piece, draw_posts, draw_wood
from deckplan.draw.connection_plane import Loaded, Plane, core_of
from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.foot_view import foot_view
from deckplan.draw.scene import Box, Scene
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject
from deckplan.layout.model import Bearing, Kind, Member, Post
from deckplan.plan.model import Ledger


def connection_view(
    study: Loaded, mark: str, on: str, *, sheet: Sheet | None = None, titled: bool = True
) -> Scene:
    """Return the detail of one bearing: a piece, what carries it, the connector with its capacity, its sizes.

    mark: of the joist or beam that is carried, of a ledger, or of a post on a lower frame; on: of the post, beam, joist
    or ledger it bears on, the wall's name for a ledger; sheet: the room there is, else the usual one of the units.

    Raises KeyError where the one does not bear on the other.
    """
    member = study.layout.by_mark[mark]
    if isinstance(member, Post) and member.stands_on == on:
        return foot_view(study, mark, sheet=sheet, titled=titled)
    if not isinstance(member, Member):
        raise KeyError(mark)
    if member.kind is Kind.LEDGER:
        joist, bearing = _on_ledger(study, member)
        plane = Plane.of(joist, bearing)
    else:
        joist, bearing = member, _bearing(member, on)
        plane = Plane.of(member, bearing)
    carrier = member if member.kind is Kind.LEDGER else study.layout.by_mark[on]
    if isinstance(carrier, Post) and carrier.notch is not None and bearing.manner in ("notch", "splice"):
        # the notch shows to one who looks along the beam
        plane = Plane.across(member, bearing, carrier.notch.way)
        return _notched(study, member, carrier, bearing, plane, sheet, titled)
    core = core_of(study, joist, carrier, plane)
    draft = _begin(study, f"{mark} on {on}", core, sheet, titled)
    draw_wood(draft, study, plane, core, skip=joist.mark)
    draw_posts(draft, study, plane, core)
    draw_piece(draft, joist, plane, core)
    draw_boards(draft, study, plane, core)
    if member.kind is Kind.LEDGER:
        draw_wall(draft, study, member, plane, core)
        draw_hanger(draft, study, joist, member, bearing, plane)
    elif isinstance(carrier, Post) and bearing.manner in ("cap", "splice"):
        draw_cap(draft, study, joist, carrier, bearing, plane)
    elif bearing.manner == "bearing" and isinstance(carrier, Member):
        draw_seat_on_top(draft, study, joist, carrier, bearing, plane)
    else:
        draw_hanger(draft, study, joist, carrier, bearing, plane)
    _dimensions(draft, joist, carrier, plane, core, bearing)
    return draft.scene(titled=titled, stacked=True)


def bearings_shown(study: Subject) -> Iterator[tuple[Member, Bearing]]:
    """Yield every bearing of a joist or beam that has a detail, and each ledger that carries, on its wall."""
    hung = {b.on for m in study.layout.members if m.kind is Kind.JOIST for b in m.bearings}
    for member in study.layout.members:
        if member.kind is Kind.LEDGER and member.mark in hung:
            yield member, Bearing(on=_wall(study, member), at=0.0, length=0.0, manner="ledger")
        elif member.kind in (Kind.BEAM, Kind.JOIST):
            for bearing in member.bearings:
                if bearing.manner != "ledger":
                    yield member, bearing
        else:
            continue


def _wall(study: Subject, ledger: Member) -> str:
    """Return the name of the wall that a ledger is fastened to."""
    supports = study.plan.platform(ledger.platform).supports
    one = supports[ledger.support] if ledger.support is not None else None
    return one.wall if isinstance(one, Ledger) else "the wall"


def _begin(study: Subject, name: str, core: Box, sheet: Sheet | None, titled: bool) -> Draft:
    room = Room(17.0, FIRST_ROW + 3 * ROW + 12.0, FIRST_ROW + ROW + 3.0, 13.0 if titled else 6.0)
    draft = Draft(name, study.plan, sheet or usual_sheet(study.plan), core, room)
    draft.small = True
    return draft


def _notched(
    study: Loaded, beam: Member, post: Post, bearing: Bearing, plane: Plane, sheet: Sheet | None, titled: bool
) -> Scene:
    """Return the detail of a beam in the notch of a post, looking along the beam."""
    core = core_of(study, beam, post, plane)
    over = [m.top for m in study.layout.members if any(b.on == beam.mark for b in m.bearings)]
    board = study.plan.materials.decking.thickness
    core = core._replace(top=max([core.top, *(top + board + 1.0 for top in over)]))
    draft = _begin(study, f"{beam.mark} on {post.mark}", core, sheet, titled)
    draw_joist_over(draft, study, beam, plane, core)
    draw_posts(draft, study, plane, core)
    draw_wood(draft, study, plane, core, skip="")
    draw_boards(draft, study, plane, core)
    draw_notch(draft, study, beam, post, bearing, plane)
    assert post.notch is not None
    half = post.notch.depth / 2
    draft.chain([-half, half, half + post.tongue], "x", 0, core.top, 1)
    low, high = bolt_heights(beam)
    draft.chain([beam.bottom, low, high, beam.top], "y", 0, core.right, 1)
    draft.chain([beam.bottom, beam.top], "y", 1, core.right, 1)
    return draft.scene(titled=titled, stacked=True)


def _bearing(member: Member, on: str) -> Bearing:
    found = next((bearing for bearing in member.bearings if bearing.on == on), None)
    if found is None:
        raise KeyError(f"{member.mark} on {on}")
    return found


def _on_ledger(study: Subject, ledger: Member) -> tuple[Member, Bearing]:
    """Return a joist near the middle of a ledger, which no end disturbs, and its bearing there."""
    half = ledger.point(ledger.length / 2)
    hung = [
        (abs(m.start[0] - half[0]) + abs(m.start[1] - half[1]), m)
        for m in study.layout.members
        if m.kind is Kind.JOIST and any(b.on == ledger.mark for b in m.bearings)
    ]
    if not hung:
        raise KeyError(ledger.mark)
    joist = min(hung, key=lambda item: item[0])[1]
    return joist, _bearing(joist, ledger.mark)


def _dimensions(
    draft: Draft, member: Member, carrier: object, plane: Plane, core: Box, bearing: Bearing
) -> None:
    """Measure heights on the right, the carried piece first, then how its top lies to what carries it."""
    draft.chain([member.bottom, member.top], "y", 0, core.right, 1)
    if isinstance(carrier, Post):
        at, half = plane.along(carrier.at), carrier.width / 2
        draft.chain([at - half, at + half], "x", 0, core.top, 1)
        near = [member.bottom, carrier.top] if bearing.manner == "hanger" else []
        draft.chain(near, "y", 1, core.right, 1)
    elif isinstance(carrier, Member):
        if bearing.manner == "bearing":
            draft.chain([carrier.bottom, carrier.top], "y", 1, core.right, 1)
        elif abs(carrier.top - member.top) > 0.5 or abs(carrier.bottom - member.bottom) > 0.5:
            draft.chain([member.top, carrier.top], "y", 1, core.right, 1)
            draft.chain([carrier.bottom, carrier.top], "y", 2, core.right, 1)
        if (faces := plane.meets(carrier)) is not None:
            draft.chain([*faces], "x", 0, core.top, 1)
    else:
        raise KeyError(bearing.on)
