"""The footing plan: where to dig, how wide and how deep, measured along and square to the house."""

from __future__ import annotations

from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.labels import round_about
from deckplan.draw.plan_parts import draw_house, draw_north
from deckplan.draw.scene import Role, Scene, box_of
from deckplan.draw.shapes import square
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject, letter


def footing_view(study: Subject, *, sheet: Sheet | None = None, titled: bool = True) -> Scene:
    """Return the footing plan: every footing with its mark, diameter and the elevation of its bottom, the
    posts, the outlines of the platforms, and chains of dimensions to the middle of every footing.

    sheet: the room there is, else the usual one of the plan's units; titled: with title, scale and caution
    below.
    """
    plan = study.plan
    corners = [corner for one in plan.platforms for corner in one.outline]
    corners += [end for one in study.footings for end in square(one.at, one.diameter)]
    # Walls belong to it, for everything is measured from the house.
    deck = box_of(corners or [(0.0, 0.0), (120.0, 120.0)])
    beside = FIRST_ROW + ROW * 2 + 2.0
    paper = sheet or usual_sheet(plan)
    draft = Draft("Footing plan", plan, paper, deck, Room(beside, 6.0, beside, 10.0 if titled else 4.0))
    draw_north(draft, plan, deck)
    draw_house(draft, plan, deck)
    for index, one in enumerate(plan.platforms):
        draft.area(one.outline, Role.SURFACE)
        draft.stroke((*one.outline, one.outline[0]), Role.DATUM, letter(index))
    posts = {post.footing: post for post in study.layout.posts}
    for footing in study.footings:
        draft.disc(footing.at, footing.diameter / 2, Role.FOOTING, footing.mark)
        draft.ground.heavy.append(box_of(square(footing.at, footing.diameter)))
        post = posts.get(footing.mark)
        if post is not None:
            draft.area(square(post.at, post.width), Role.POST, post.mark)
        text = footing.mark
        if paper.full:
            text += f"\n{draft.short(footing.diameter)} dia.\nbottom {draft.level(footing.bottom)}"
        places = round_about(footing.at, text, draft.letter, footing.diameter / 2 + 0.2 * draft.letter)
        draft.wish(text, footing.at, places, Role.MARK, footing.mark, plate=True, urgency=4)
    for axis, edge, side in (("x", deck.top, 1), ("y", deck.left, -1)):
        index = 0 if axis == "x" else 1
        middles = [one.at[index] for one in study.footings]
        ends = [corner[index] for one in plan.platforms for corner in one.outline]
        if not ends:
            continue
        draft.chain([*middles, min(ends), max(ends)], "x" if axis == "x" else "y", 0, edge, side)
        draft.chain([min(ends), max(ends)], "x" if axis == "x" else "y", 1, edge, side)
    draft.notes.append("Dimensions run to the middle of each footing; elevations from the benchmark.")
    return draft.scene(titled=titled)
