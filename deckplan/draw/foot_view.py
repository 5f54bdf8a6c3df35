"""The detail of a post's foot on a lower frame: blocks, beam or joist under it, and what holds it there.

The plane stands along the beam that carries it, or square to a joist that does: either way the blocks lie in it.
"""

from __future__ import annotations

from deckplan.draw.connection_hardware import write_asked
from deckplan.draw.connection_parts import draw_break, draw_piece, draw_posts, draw_wood, name_member
from deckplan.draw.connection_plane import ACROSS, Loaded, Plane
from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.labels import round_about
from deckplan.draw.scene import Box, Role, Scene
from deckplan.draw.shapes import rectangle
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.engineering.lumber import read_size
from deckplan.geometry import unit
from deckplan.layout.model import Kind, Member, Post

ABOVE, BELOW = 14.0, 5.0
"""How much of the post and of what lies under the frame is shown [in]."""

ANGLE = 3.0
"""Leg of the angles that hold the foot, as drawn [in]."""


def foot_view(study: Loaded, mark: str, *, sheet: Sheet | None = None, titled: bool = True) -> Scene:
    """Return the detail of the foot of a post that stands on a lower frame.

    mark: of the post; sheet: the room there is, else the usual one of the plan's units; titled: with title, scale and
    caution below. Raises KeyError where it stands on no frame.
    """
    post = study.layout.by_mark[mark]
    if not isinstance(post, Post) or not post.stands_on:
        raise KeyError(mark)
    below = study.layout.by_mark[post.stands_on]
    assert isinstance(below, Member)
    way = unit(below.start, below.end)
    along = below.kind is Kind.BEAM
    plane = Plane(post.at, way if along else (-way[1], way[0]), -ACROSS, ACROSS)
    core = Box(-ACROSS, below.bottom - BELOW, ACROSS, post.bottom + ABOVE)
    room = Room(17.0, FIRST_ROW + 2 * ROW + 12.0, FIRST_ROW + ROW + 3.0, 13.0 if titled else 6.0)
    draft = Draft(f"{mark} on {below.mark}", study.plan, sheet or usual_sheet(study.plan), core, room)
    draft.small = True
    upper = frozenset(one.mark for one in study.layout.posts if one.bottom >= below.bottom)
    draw_posts(draft, study, plane, core, skip=upper)
    if along:
        draw_piece(draft, below, plane, core)
    draw_wood(draft, study, plane, core, skip=below.mark if along else "")
    blocks = _blocks(draft, study, below, plane, core, post)
    _boards(draft, study, below.platform, core, post)
    _foot(draft, study, post, below, blocks)
    if not along:
        name_member(draft, below, plane)
    draft.chain([-post.width / 2, post.width / 2], "x", 0, core.top, 1)
    draft.chain([below.bottom, below.top, post.bottom], "y", 0, core.right, 1)
    return draft.scene(titled=titled, stacked=True)


def _blocks(
    draft: Draft, study: Loaded, below: Member, plane: Plane, core: Box, post: Post
) -> tuple[Member, ...]:
    """Draw the blocks in the plane, and return those that the foot stands on or that stand beside its joist."""
    under: list[Member] = []
    half = post.width / 2
    for block in study.layout.of(below.platform, Kind.BLOCKING):
        stretch = plane.within(block)
        if stretch is None or stretch[1] <= core.left or stretch[0] >= core.right:
            continue
        low, high = max(stretch[0], core.left), min(stretch[1], core.right)
        draft.area(rectangle(low, block.bottom, high, block.top), Role.BLOCKING, block.mark)
        if low < half and high > -half:
            under.append(block)
            at = ((low + high) / 2, (block.bottom + block.top) / 2)
            text = f"{block.mark}\n{block.size}"
            draft.wish(text, at, [at], Role.MARK, block.mark, plate=True, urgency=5)
    return tuple(under)


def _boards(draft: Draft, study: Loaded, lower: str, core: Box, post: Post) -> None:
    """Draw the lower platform's boards, cut round the post, with its level."""
    top, half = study.levels.elevation(lower), post.width / 2
    for left, right in ((core.left, -half), (half, core.right)):
        draft.area(rectangle(left, post.bottom, right, top), Role.BOARD)
    at = ((core.left - half) / 2, top)
    place = (at[0], top + 0.9 * draft.letter)
    draft.wish(f"{lower} {draft.level(top)}", at, [place], Role.LEVEL, plate=True, urgency=6)


def _foot(draft: Draft, study: Loaded, post: Post, below: Member, blocks: tuple[Member, ...]) -> None:
    """Draw the post with its foot, the angles that hold it, and what it bears on under what load."""
    half, top = post.width / 2, draft.core.top
    draft.area(rectangle(-half, post.bottom, half, top - 1.0), Role.POST_BEYOND, post.mark, solid=True)
    draw_break(draft, 0.0, top - 1.0, half, 0.2 * post.width)
    for side in (-half, half):
        out = side + (ANGLE if side > 0 else -ANGLE)
        draft.stroke(((side, post.bottom + ANGLE), (side, post.bottom), (out, post.bottom)), Role.FIXING)
    force = write_asked(draft, study.loads.posts[post.mark])
    wide = min(post.width, read_size(below.size).thickness)
    over = "blocks" if blocks and below.kind is Kind.BEAM else below.mark
    text = f"stands on {over},\n{draft.short(wide)} x {draft.short(post.width)}, up to {force}"
    spot = (-half, post.bottom)
    places = [(draft.core.left / 2 - half / 2, post.bottom + 0.55 * ABOVE)]
    draft.wish(text, spot, places, Role.NOTE, plate=True, urgency=4)
    text = "fixed to the wood,\nboards cut round it"
    spot = (half + ANGLE, post.bottom)
    places = [(draft.core.right / 2 + half / 2, post.bottom + 0.4 * ABOVE)]
    draft.wish(text, spot, places, Role.NOTE, plate=True, urgency=4)
    text = f"{post.mark}\npost {post.size}"
    at = (0.0, post.bottom + 0.75 * ABOVE)
    side_by = round_about(at, text, draft.letter, half + 0.6 * draft.letter)
    draft.wish(text, at, [side_by[4], side_by[5]], Role.MARK, post.mark, plate=True, urgency=5)
