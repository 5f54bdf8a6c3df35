"""The ladder of levels: every platform at its height, every flight with each of its risers.

Upward the sheet is true to scale; across it the flights stand side by side, each as long as its treads, so
that risers of neighbouring flights can be compared.
"""

from __future__ import annotations

from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.labels import spread
from deckplan.draw.letters import width_of
from deckplan.draw.profile_parts import sill_of, step_profile
from deckplan.draw.scene import Box, Role, Scene, text_box
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject, letter
from deckplan.levels.model import Rise
from deckplan.units import format_short

SIDE, APART = 14.0, 30.0
"""How long the landings at both ends of a flight are drawn, and how far flights stand apart [in]."""


def levels_view(study: Subject, *, sheet: Sheet | None = None, titled: bool = True) -> Scene:
    """Return the ladder of levels with every riser.

    sheet: the room there is, else the usual one of the plan's units; titled: with title, scale and caution
    below.
    """
    plan, paper = study.plan, sheet or usual_sheet(study.plan)
    levels = _levels(study)
    wide = [SIDE * 2 + max(rise.run, rise.tread) for rise in study.levels.flights]
    total = sum(wide) + APART * (len(wide) + 1) if wide else 120.0
    heights = [z for z, _, _ in levels] + [
        z for rise in study.levels.flights for z in (rise.top, rise.bottom)
    ]
    core = Box(0.0, min(heights, default=0.0) - 3.0, total, max(heights, default=12.0) + 3.0)
    names = [text for _, text, _ in levels]
    room = Room(
        4.0 + max((width_of(text, 1.0) for text in names), default=4.0), FIRST_ROW + ROW + 2.0, 4.0,
        13.0 if titled else 7.0,
    )  # fmt: skip
    draft = Draft("Levels and steps", plan, paper, core, room)
    heights = [z for z, _, _ in levels]
    for (z, text, mark), at in zip(levels, spread(heights, 1.25 * draft.letter), strict=True):
        _line(draft, core, z, at, f"{text}  {draft.level(z)}", mark)
    left = APART
    for index, (rise, width) in enumerate(zip(study.levels.flights, wide, strict=True)):
        _flight(draft, rise, f"S{index + 1}", left)
        left += width + APART
    draft.chain([z for z, _, _ in levels], "y", 0, core.right, 1)
    return draft.scene(titled=titled)


def _levels(study: Subject) -> list[tuple[float, str, str]]:
    """Return every level: elevation [in], what it is called, its mark."""
    found = []
    for index, one in enumerate(study.plan.platforms):
        z = study.levels.elevation(one.name)
        found.append((z, f"{letter(index)}  {one.name}", letter(index)))
    sill = sill_of(study)
    if sill is not None:
        found.append((sill, "door sill", ""))
    return sorted(found, key=lambda level: -level[0])


def _line(draft: Draft, core: Box, z: float, at: float, text: str, mark: str) -> None:
    """Draw the line of a level [in] and its name at the left, led to the line where it had to give way."""
    h = draft.letter
    draft.stroke(((core.left, z), (core.right, z)), Role.DATUM, mark)
    draft.stroke(((core.left - 1.4 * h, at), (core.left - 0.2 * h, z)), Role.LEADER)
    draft.fix(text, (core.left - 1.7 * h, at), Role.LEVEL, anchor=1)


def _flight(draft: Draft, rise: Rise, mark: str, left: float) -> None:
    """Draw one flight as it stands, top at the left, and write each riser beside it."""
    start = left + SIDE
    points = step_profile(rise, start, 1.0)
    end = points[-1]
    outline = [(left, rise.top), *points, (end[0] + SIDE + (rise.tread if rise.risers == 1 else 0.0), end[1])]
    draft.area(
        (*points[1:], (start, end[1])) if rise.risers > 1 else (*points, (start + 0.1, end[1])),
        Role.STEP,
        mark,
    )
    draft.stroke(outline, Role.TREAD, mark)
    each = format_short(rise.riser, draft.units)
    for number in range(1, rise.risers + 1):
        x = start + (number - 1) * rise.tread
        z = rise.top - (number - 0.5) * rise.riser
        text = f"{number}: {each}"
        half = 0.5 * text_box(text, (0.0, 0.0), 0.85 * draft.letter).width
        at = (x + half + 0.4 * draft.letter, z)
        draft.wish(
            text, (x, z), (at, (x - half - 0.4 * draft.letter, z)), Role.NOTE, mark, size=0.85, plate=True,
            needed=draft.sheet.full, urgency=4,
        )  # fmt: skip
    risers = "1 riser" if rise.risers == 1 else f"{rise.risers} risers"
    said = (
        f"{mark}  {rise.upper} to {rise.lower}\n{risers} of {each}, {rise.kind}"
        if draft.sheet.full
        else f"{mark}  {risers}"
    )
    if rise.lower == "ground":
        text = draft.level(rise.bottom)
        half = 0.5 * width_of(text, draft.letter)
        at = (end[0] + SIDE - half, rise.bottom - 0.8 * draft.letter)
        draft.wish(text, end, (at, (end[0] + SIDE + half, rise.bottom)), Role.LEVEL, mark, urgency=5)
    middle = ((left + end[0] + SIDE) / 2, rise.bottom)
    below = [(middle[0], draft.core.bottom - (2.0 + 2.6 * row) * draft.letter) for row in (0, 1, 2)]
    draft.wish(said, middle, below, Role.NOTE, mark, urgency=8)
