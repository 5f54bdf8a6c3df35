"""The drawings that `deckplan export` can write, by the names that the trade calls them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, get_args

from deckplan.errors import InputError, Problem

if TYPE_CHECKING:
    from deckplan.draw.scene import Scene
    from deckplan.study import Study

PLAN = "plan"
"""The view that is written where none is asked for."""


@dataclass(frozen=True)
class View:
    """One drawing: what it shows; of: what `--of` may name, empty where it names nothing; draw: makes the scene."""

    words: str
    of: str
    draw: Callable[[Study, str], Scene]


def scene_of(study: Study, view: str, of: str) -> Scene:
    """Return the scene of a view; of: one platform, mark, flight, detail or side, see `VIEWS`.

    Raises InputError where the view does not know what `of` names, or needs it and has nothing.
    """
    if of and not VIEWS[view].of:
        raise InputError([Problem("--of", f"nothing, since the view {view} is of the whole deck", of)])
    return VIEWS[view].draw(study, of)


def views_text() -> str:
    """Return the views as they stand in --help."""
    lines = [
        f"  {name:<10} {view.words}" + (f"; --of: {view.of}" if view.of else "")
        for name, view in VIEWS.items()
    ]
    return "\n".join(["views (--view, for .svg):", *lines])


def _known(place: str, came: str, known: Iterable[str]) -> InputError:
    """Say which names would do."""
    names = list(dict.fromkeys(known))
    listed = ", ".join(names[:12]) + (", ..." if len(names) > 12 else "")
    return InputError(
        [Problem(f"--of, {place}", f"one of {listed or 'none: the plan has none'}", came or "nothing")]
    )


def _platform(study: Study, of: str) -> str:
    names = [one.name for one in study.plan.platforms]
    if of and of not in names:
        raise _known("a platform", of, names)
    return of


def _plan(study: Study, of: str) -> Scene:
    from deckplan.draw.plan_view import plan_view

    return plan_view(study, platform=_platform(study, of))


def _footings(study: Study, of: str) -> Scene:
    from deckplan.draw.footing_view import footing_view

    return footing_view(study)


def _treatment(study: Study, of: str) -> Scene:
    from deckplan.draw.treatment_view import treatment_view

    return treatment_view(study, platform=_platform(study, of), frame=study.built)


def _guards(study: Study, of: str) -> Scene:
    from deckplan.draw.guard_view import guard_view

    return guard_view(study)


def _boards(study: Study, of: str) -> Scene:
    from deckplan.draw.board_view import board_view

    return board_view(study, study.boards, platform=_platform(study, of))


def _furniture(study: Study, of: str) -> Scene:
    from deckplan.draw.room_view import room_view

    return room_view(study, study.rooms, platform=_platform(study, of))


def _site(study: Study, of: str) -> Scene:
    from deckplan.draw.site_view import site_view

    return site_view(study)


def _section(study: Study, of: str) -> Scene:
    from deckplan.draw.section_view import section_view

    return section_view(study)


def _side(study: Study, of: str) -> Scene:
    from deckplan.draw.side_view import Side, side_view

    for side in get_args(Side):
        if (of or "garden") == side:
            return side_view(study, side=side)
    raise _known("where one stands", of, get_args(Side))


def _levels(study: Study, of: str) -> Scene:
    from deckplan.draw.levels_view import levels_view

    return levels_view(study)


def _load_path(study: Study, of: str) -> Scene:
    from deckplan.draw.path_view import path_view

    try:
        return path_view(study, study.load_path, of)
    except KeyError:
        footings = (footing.mark for footing in study.footings)
        raise _known("a mark", of, (*footings, *study.layout.by_mark)) from None


def _flight(study: Study, of: str) -> Scene:
    from deckplan.draw.flight_view import flight_view

    marks = {f"S{rise.index + 1}": rise.index for rise in study.levels.flights}
    if of not in marks:
        raise _known("a flight", of, marks)
    return flight_view(study, marks[of])


def _detail(study: Study, of: str) -> Scene:
    from deckplan.draw.connection_view import connection_view

    member, _, on = (part.strip() for part in of.partition(" on "))
    try:
        return connection_view(study, member, on)
    except KeyError:
        from deckplan.panels.details import details_of

        pairs = (one.key.replace("|", " on ") for one in details_of(study) if "|" in one.key)
        raise _known("a bearing", of, (f'"{pair}"' for pair in pairs)) from None


VIEWS: dict[str, View] = {
    PLAN: View("framing plan", "a platform's name", _plan),
    "footings": View("footing plan, measured from the house", "", _footings),
    "treatment": View("wood that wants ground-contact treatment", "a platform's name", _treatment),
    "guards": View("guard plan", "", _guards),
    "boards": View("board plan", "a platform's name", _boards),
    "furniture": View("furniture plan", "a platform's name", _furniture),
    "site": View("site plan with setbacks", "", _site),
    "section": View("section through the most levels", "", _section),
    "side": View("side view", "garden, left or right, where one stands", _side),
    "levels": View("ladder of levels, every riser", "", _levels),
    "load-path": View("what stands on a mark and where it goes", "a mark, e.g. A-F1 (needed)", _load_path),
    "flight": View("detail of a flight", "its mark, e.g. S2 (needed)", _flight),
    "detail": View("detail of a bearing", 'e.g. "A-B1 on A-P1" (needed)', _detail),
}
"""Every view that can be exported, by its name."""
