"""Every drawing of a deck under one roof: the views by the name of their sheet, and the whole set in its order.

===================  =======================================================================================
framing plan         `plan_view`: of all levels together, or of one by the name of its platform
footing plan         `footing_view`: places from two house corners, sizes, depths, as a schedule
treatment plan       `treatment_view`: which wood wants treatment for ground contact, by height over the ground
board plan           `board_view`: every board as cut, with `study.boards`
furniture plan       `room_view`: what stands where and the ways between, with `study.rooms`
load path            `path_view`: what stands on a mark and where its load ends, with `study.load_path`
guards               `guard_view`: which edges ask for a guard
site plan            `site_view`: house, deck, boundaries and setbacks
section, side views  `section_view`, `side_view`
levels and steps     `levels_view`: the ladder of levels with every riser
flights              `flight_view`: one flight cut through, with its footings
connection details   `connection_view`: one piece on what carries it, with the connector
===================  =======================================================================================

A scene is painted by `paint_svg` (a string) or by `paint_matplotlib.paint` (PNG, PDF).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from deckplan.draw.board_view import board_view
from deckplan.draw.connection_view import bearings_shown, connection_view
from deckplan.draw.cut import choose_cut
from deckplan.draw.flight_view import flight_view
from deckplan.draw.footing_view import footing_view
from deckplan.draw.guard_view import guard_view
from deckplan.draw.levels_view import levels_view
from deckplan.draw.path_view import path_view
from deckplan.draw.plan_view import lie_over_each_other, plan_view
from deckplan.draw.room_view import room_view
from deckplan.draw.scene import Scene
from deckplan.draw.section_view import section_view
from deckplan.draw.sheet import Sheet
from deckplan.draw.side_view import side_view
from deckplan.draw.site_view import site_view
from deckplan.draw.treatment_view import treatment_view
from deckplan.study import Study

__all__ = [
    "DRAWINGS", "board_view", "connection_view", "connections", "draw_set", "flight_view", "footing_view",
    "guard_view", "levels_view", "path_view", "plan_view", "room_view", "section_view", "side_view", "site_view",
    "treatment_view",
]  # fmt: skip

Draw = Callable[[Study, Sheet | None], Iterable[Scene]]


def _framing(study: Study, sheet: Sheet | None) -> Iterator[Scene]:
    yield plan_view(study, frame=study.built, sheet=sheet, cuts=[choose_cut(study.plan, study)])


def _levels_alone(study: Study, sheet: Sheet | None) -> Iterator[Scene]:
    if len(study.plan.platforms) > 1:
        for one in study.plan.platforms:
            yield plan_view(study, platform=one.name, frame=study.built, sheet=sheet)


def _treatment(study: Study, sheet: Sheet | None) -> Iterator[Scene]:
    """Draw all levels, and each alone where they lie over each other."""
    alone = [one.name for one in study.plan.platforms] if lie_over_each_other(study.plan.platforms) else []
    for name in ("", *alone):
        yield treatment_view(study, platform=name, frame=study.built, sheet=sheet)


def _sides(study: Study, sheet: Sheet | None) -> Iterator[Scene]:
    yield side_view(study, side="garden", sheet=sheet)
    yield side_view(study, side="left", sheet=sheet)
    yield side_view(study, side="right", sheet=sheet)


def _flights(study: Study, sheet: Sheet | None) -> Iterator[Scene]:
    for index in range(len(study.levels.flights)):
        yield flight_view(study, index, sheet=sheet)


def _paths(study: Study, sheet: Sheet | None) -> Iterator[Scene]:
    """Draw what stands on the footing that bears the most."""
    if study.footings:
        most = max(study.footings, key=lambda one: one.load)
        yield path_view(study, study.load_path, most.mark, sheet=sheet)


def connections(study: Study) -> tuple[tuple[str, str], ...]:
    """Return one pair of marks for every kind of connection: what is carried, and what carries it."""
    found: dict[tuple[str, ...], tuple[str, str]] = {}
    for member, bearing in bearings_shown(study):
        carrier = getattr(study.layout.by_mark.get(bearing.on), "size", "")
        found.setdefault((member.kind, member.size, bearing.manner, carrier), (member.mark, bearing.on))
    for post in study.layout.posts:
        if post.stands_on:
            below = study.layout.by_mark[post.stands_on]
            found.setdefault(("foot", getattr(below, "size", "")), (post.mark, post.stands_on))
    return tuple(found.values())


def _connections(study: Study, sheet: Sheet | None) -> Iterator[Scene]:
    for mark, on in connections(study):
        yield connection_view(study, mark, on, sheet=sheet)


DRAWINGS: dict[str, Draw] = {
    "site plan": lambda study, sheet: [site_view(study, sheet=sheet)],
    "footing plan": lambda study, sheet: [footing_view(study, sheet=sheet)],
    "framing plan": _framing,
    "framing plan of each level": _levels_alone,
    "treatment plan": _treatment,
    "board plan": lambda study, sheet: [board_view(study, study.boards, sheet=sheet)],
    "furniture plan": lambda study, sheet: [room_view(study, study.rooms, sheet=sheet)],
    "guards": lambda study, sheet: [guard_view(study, sheet=sheet)],
    "section": lambda study, sheet: [section_view(study, name="Section 1", sheet=sheet)],
    "side views": _sides,
    "levels and steps": lambda study, sheet: [levels_view(study, sheet=sheet)],
    "flights": _flights,
    "connection details": _connections,
    "load path": _paths,
}
"""What draws each sheet, in the order in which a deck is read: the site, the ground, the frame, what lies on it."""


def draw_set(study: Study, *, sheet: Sheet | None = None) -> Iterator[tuple[str, Scene]]:
    """Give every drawing of a deck with the name of its sheet, one after another as each is asked for.

    sheet: the room for each, else the usual one of the plan's units.
    """
    for name, draw in DRAWINGS.items():
        for scene in draw(study, sheet):
            yield name, scene
