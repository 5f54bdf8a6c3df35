"""The guard plan: which edges ask for a guard, how long each is, and how far the ground lies below."""

from __future__ import annotations

from deckplan.draw.draft import Draft
from deckplan.draw.letters import width_of
from deckplan.draw.plan_parts import draw_flights, draw_house, draw_north, name_openings
from deckplan.draw.plan_words import called, name_platform
from deckplan.draw.scene import Role, Scene, box_of
from deckplan.draw.shapes import shifted
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject, letter
from deckplan.geometry import Point, middle, unit
from deckplan.layout.holes import onto_floor
from deckplan.layout.model import GuardStretch, numbered_guards


def guard_view(study: Subject, *, sheet: Sheet | None = None, titled: bool = True) -> Scene:
    """Return the guard plan: edges that ask for a guard with length and drop, the others with their drop.

    sheet: the room there is, else the usual one of the plan's units; titled: with title, scale and caution
    below.
    """
    plan = study.plan
    corners = [corner for one in plan.platforms for corner in one.outline]
    core = box_of(corners or [(0.0, 0.0), (120.0, 120.0)])
    draft = Draft(
        "Guards", plan, sheet or usual_sheet(plan), core, Room(10.0, 10.0, 7.0, 13.5 if titled else 6.0)
    )
    draw_north(draft, plan, core)
    draw_house(draft, plan, core)
    for index, one in enumerate(plan.platforms):
        draft.area(one.outline, Role.PLATFORM, letter(index))
        for opening in one.openings:
            draft.area(opening.outline, Role.EDGE_BEYOND)
        text = called(draft, study, one, 1.2) + f"\n{draft.level(study.levels.elevation(one.name))}"
        name_platform(draft, study, one, text, needed=True)
    draw_flights(draft, study, {one.name for one in plan.platforms})
    for one in plan.platforms:
        name_openings(draft, one)
    for mark, guard in numbered_guards(study.layout.guards):
        _edge(draft, study, guard, mark)
    for guard in study.layout.guards:
        if not guard.required and guard.length >= 1.0:
            _edge(draft, study, guard, "")
    high = draft.short(study.profile.guard_height.value)
    trigger = draft.short(study.profile.guard_trigger_drop.value)
    look = draft.short(study.profile.guard_lookout.value)
    draft.notes.append(f"Guard {high} high where the drop within {look} of the edge is over {trigger}.")
    draft.notes.append(f"Drop: to the lowest ground or level within {look} of the edge, not right below it.")
    if draft.sheet.full:
        draft.legend[Role.GUARD_NEEDED] = "edge that asks for a guard, with its length and drop"
    return draft.scene(titled=titled)


def _edge(draft: Draft, study: Subject, guard: GuardStretch, mark: str) -> None:
    (dx, dy), half = unit(guard.start, guard.end), middle((guard.start, guard.end))
    inward = onto_floor(study.plan.platform(guard.platform), guard.start, guard.end)
    out: Point = (-inward[0], -inward[1])
    angle = 0.0 if abs(dx) >= abs(dy) else 90.0
    drop, size = f"drop {draft.short(guard.drop)}", 1.0 if mark else 0.8
    text = f"{mark}  {draft.figure(guard.length)}, {drop}" if mark else drop
    inward = (-out[0], -out[1])
    ways = (out, inward)
    if mark:
        draft.stroke((guard.start, guard.end), Role.GUARD_NEEDED, mark)
        if width_of(text, draft.letter) > guard.length:
            # words longer than their edge would speak of the next one: the table has them, the mark stands inside
            draft.notes.append(f"{mark}: {draft.figure(guard.length)} of {guard.platform}, {drop}")
            text, angle, ways = mark, 0.0, (inward, out)
    elif not draft.sheet.full:
        return
    else:
        pass  # an edge without a guard keeps its drop in small letters
    offs = [shifted(half, way, (0.9 + 1.3 * step) * draft.letter) for step in (0, 1) for way in ways]
    if text == mark:
        near = [shifted(half, (dx * side, dy * side), 1.2 * draft.letter) for side in (1, -1)]
        offs[1:1] = [
            shifted(each, inward, (0.9 + 0.6 * step) * draft.letter) for step in (0, 1) for each in near
        ]
    draft.wish(
        text, half, offs, Role.NOTE, mark, size=size, angle=angle, plate=True, needed=bool(mark), urgency=6 if
        mark else 1
    )  # fmt: skip
