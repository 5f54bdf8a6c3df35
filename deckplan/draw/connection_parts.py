"""What stands in the plane of a connection detail: wood, posts and their feet, boards, and their names."""

from __future__ import annotations

from deckplan.checks.short_posts import BASE_STRAP, low_hangers
from deckplan.draw.connection_plane import BELOW, FOOTING_SHOWN, WOOD, Plane
from deckplan.draw.draft import Draft
from deckplan.draw.labels import round_about
from deckplan.draw.post_shape import post_outline
from deckplan.draw.scene import Box, Role
from deckplan.draw.shapes import crossings, rectangle
from deckplan.draw.subject import Subject
from deckplan.geometry import unit
from deckplan.layout.model import Kind, Member, Post

EARTH = 2.0
"""How deep the earth is hatched beside a pier [in]."""


def draw_wood(draft: Draft, study: Subject, plane: Plane, core: Box, skip: str) -> None:
    """Draw what runs in the plane, then what it cuts, within the window."""
    for member in study.layout.members:
        if member.kind not in WOOD or member.mark == skip:
            continue
        if (stretch := plane.within(member)) is not None:
            low, high = max(stretch[0], core.left), min(stretch[1], core.right)
            if low < high and member.bottom < core.top and member.top > core.bottom:
                role = Role.BEAM_BEYOND if member.kind is Kind.BEAM else Role.JOIST
                draft.area(rectangle(low, member.bottom, high, member.top), role, member.mark)
    for member in study.layout.members:
        if member.kind not in WOOD or member.mark == skip or (faces := plane.meets(member)) is None:
            continue
        inside = core.left <= faces[0] and faces[1] <= core.right
        if inside and member.bottom < core.top and member.top > core.bottom:
            corners = rectangle(faces[0], member.bottom, faces[1], member.top)
            draft.area(corners, Role.CUT, member.mark, solid=True)


def draw_posts(
    draft: Draft, study: Subject, plane: Plane, core: Box, skip: frozenset[str] = frozenset()
) -> None:
    """Draw the posts in the plane but those to skip; one that goes on below the window ends in a broken line.

    A tongue shows to one who looks along its beam; else it is cut away with what lies in front of the plane, or its
    beam hides it.
    """
    for post in study.layout.posts:
        at = plane.along(post.at)
        if (
            abs(plane.aside(post.at)) > post.width / 2
            or not core.left <= at <= core.right
            or post.mark in skip
        ):
            continue
        low, half = max(post.bottom, core.bottom), post.width / 2
        if low < post.top:
            draft.area(post_outline(post, at, plane.way, low), Role.POST_BEYOND, post.mark, solid=True)
        if low > post.bottom:
            draw_break(draft, at, low, half, 0.3 * post.width)
        else:
            _base(draft, study, post, at, plane, core)


def draw_break(draft: Draft, at: float, level: float, half: float, tip: float) -> None:
    """Draw the broken line across a post that goes on: its middle, level, half width and the size of the kink [in]."""
    kink = [(at - 1, level), (at - 0.4, level + tip), (at + 0.4, level - tip), (at + 1, level)]
    draft.stroke([(at - half - 1, level), *kink, (at + half + 1, level)], Role.LEADER)


def _base(draft: Draft, study: Subject, post: Post, at: float, plane: Plane, core: Box) -> None:
    """Draw the head of the pier with the post base, where the post is so short that its foot is in sight.

    The ground lies beside it, and the pier is broken off: it goes down to its full depth. The foot of a post on a
    frame stands on wood, which is drawn by itself.
    """
    pier = next((one for one in study.footings if one.mark == post.footing), None)
    if pier is None:
        return
    wide, low, half = pier.diameter / 2, max(post.bottom - FOOTING_SHOWN, pier.bottom), post.width / 2
    mid = plane.along(pier.at)
    draw_earth(draft, study, plane, core, (mid - wide, mid + wide))
    draft.area(rectangle(mid - wide, low, mid + wide, post.bottom), Role.CONCRETE, post.footing, solid=True)
    if low > pier.bottom:
        draw_break(draft, mid, low, wide, 0.15 * wide)
    turned = any(_along(member, plane) for member in low_hangers(study.layout, post))
    for edge in () if turned else (at - half, at + half):
        draft.stroke(((edge, post.bottom + BASE_STRAP), (edge, post.bottom)), Role.FIXING)
    draft.stroke(((at - half, post.bottom), (at + half, post.bottom)), Role.FIXING)
    deep = pier.top - pier.bottom
    base = "base turned: its straps on\nthe faces without a hanger" if turned else "post base on it"
    text = f"pier {post.footing}, {draft.short(pier.diameter)}\nacross, {draft.short(deep)} deep,\n{base}"
    side = round_about((at, low), text, draft.letter, wide + 1.0 * draft.letter)
    under = round_about((at, low), text, draft.letter, 1.0 * draft.letter)
    draft.wish(text, (at - half, post.bottom), [side[4], under[3], side[5]], Role.NOTE, post.footing, plate=True,
               urgency=3)  # fmt: skip


def _along(member: Member, plane: Plane) -> bool:
    """Tell whether a member runs in the plane, so that its hanger's face is seen from its side."""
    way = unit(member.start, member.end)
    return abs(way[0] * plane.way[0] + way[1] * plane.way[1]) > 0.7


def draw_earth(draft: Draft, study: Subject, plane: Plane, core: Box, hole: tuple[float, float]) -> None:
    """Draw the ground across the window but for a hole [in along the plane], with the earth right under it."""
    for left, right in ((core.left, hole[0]), (hole[1], core.right)):
        if right <= left:
            continue
        line = [
            (along, study.levels.ground.elevation_at(plane.point(along)))
            for along in (left, (left + right) / 2, right)
        ]
        draft.area((*line, *((along, z - EARTH) for along, z in reversed(line))), Role.EARTH)
        draft.stroke(line, Role.GROUND)


def draw_joist_over(draft: Draft, study: Subject, beam: Member, plane: Plane, core: Box) -> None:
    """Draw the joist nearest to the plane of those that lie on a beam, as what is seen behind it."""
    over = [
        m
        for m in study.layout.members
        if m.kind is Kind.JOIST and any(b.on == beam.mark and b.manner == "bearing" for b in m.bearings)
    ]
    if not over:
        return
    joist = min(over, key=lambda m: abs(plane.aside(m.start)))
    low, high = sorted((plane.along(joist.start), plane.along(joist.end)))
    low, high = max(low, core.left), min(high, core.right)
    if low < high:
        draft.area(rectangle(low, joist.bottom, high, joist.top), Role.JOIST, joist.mark)
        text, at = f"{joist.mark}  {joist.size}", (low + 0.25 * (high - low), (joist.bottom + joist.top) / 2)
        draft.wish(
            text, at, [at, (high - 0.25 * (high - low), at[1])], Role.MARK, joist.mark, plate=True, urgency=2
        )


def draw_piece(draft: Draft, member: Member, plane: Plane, core: Box) -> None:
    """Draw the piece that is carried, with its name."""
    low, high = sorted((plane.along(member.start), plane.along(member.end)))
    low, high = max(low, core.left), min(high, core.right)
    role = Role.BEAM if member.kind is Kind.BEAM else Role.BLOCKING
    draft.area(rectangle(low, member.bottom, high, member.top), role, member.mark)
    at = (high - 0.35 * (high - max(low, 0.0)), member.bottom + 0.3 * member.depth)
    draft.wish(f"{member.mark}  {member.size}", at, [at], Role.MARK, member.mark, plate=True, urgency=6)


def draw_boards(draft: Draft, study: Subject, plane: Plane, core: Box) -> None:
    """Draw the boards of every platform that the plane crosses here, with the level's elevation."""
    thick = study.plan.materials.decking.thickness
    for one in study.plan.platforms:
        turned = [(plane.along(corner), plane.aside(corner)) for corner in one.outline]
        stops = crossings(turned, 1, 0.05)
        top = study.levels.elevation(one.name)
        for low, high in zip(stops[::2], stops[1::2], strict=False):
            left, right = max(low, core.left), min(high, core.right)
            if right - left > 1.0 and core.bottom < top <= core.top:
                draft.area(rectangle(left, top - thick, right, top), Role.BOARD)
                at = ((left + right) / 2, top)
                text = f"{one.name} {draft.level(top)}"
                places = [(at[0], top + 0.9 * draft.letter)]
                draft.wish(text, at, places, Role.LEVEL, plate=True, urgency=5)


def name_member(draft: Draft, member: Member, plane: Plane) -> None:
    """Write mark and size beside a member that the plane cuts."""
    faces = plane.meets(member)
    if faces is None:
        return
    at = (sum(faces) / 2, member.bottom + 0.6 * member.depth)
    text = f"{member.mark}\n{member.size}"
    side = round_about(at, text, draft.letter, member.width / 2 + 0.6 * draft.letter)
    draft.wish(text, at, [side[5], side[4]], Role.MARK, member.mark, plate=True, urgency=5)


def name_post(draft: Draft, post: Post, plane: Plane) -> None:
    """Write mark and size beside a post."""
    at = (plane.along(post.at), post.top - 0.7 * min(post.height, BELOW))
    text = f"{post.mark}\npost {post.size}"
    side = round_about(at, text, draft.letter, post.width / 2 + 0.6 * draft.letter)
    draft.wish(text, at, [side[5], side[4]], Role.MARK, post.mark, plate=True, urgency=5)
