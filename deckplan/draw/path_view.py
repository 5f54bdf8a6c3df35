"""The load path: what stands on one mark and where its load ends, dark among the rest of the frame."""

from __future__ import annotations

from collections.abc import Iterator

from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.frame_parts import ROLES
from deckplan.draw.labels import round_about
from deckplan.draw.plan_parts import draw_house, draw_north, flight_corners
from deckplan.draw.scene import Role, Scene, box_of
from deckplan.draw.shapes import square, strip
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject, letter
from deckplan.geometry import Point
from deckplan.layout.model import Kind, Member, Pad, Post
from deckplan.loads.graph import GROUND, HOUSE, NOWHERE, LoadPath

DRAWN = (Kind.JOIST, Kind.BEAM, Kind.LEDGER, Kind.STRINGER, Kind.STEP)
"""Kinds that carry: the rest of the frame would only hide them."""

SQUARE_METRES = 0.3048**2
"""One square foot [m2]. Source: international foot of 1959."""

KILONEWTONS = 0.45359237 * 9.80665 / 1000
"""One pound-force [kN]. Source: international pound of 1959, standard gravity."""


def path_view(
    study: Subject, path: LoadPath, mark: str, *, sheet: Sheet | None = None, titled: bool = True
) -> Scene:
    """Return the plan of one mark's load path: pieces on it as they look, all others pale.

    path: the study's load path; mark: a platform's letter, a flight, joist, beam, ledger, post or footing. At each
    support stands what of its load ends there; under the title, what stands on it.

    Raises KeyError for a mark that is not on any path.
    """
    plan, metric = study.plan, study.plan.units == "metric"
    if mark not in path.graph:
        raise KeyError(mark)
    lit = path.marks_on_path(mark)
    corners = [corner for one in plan.platforms for corner in one.outline]
    corners += [end for one in study.footings for end in square(one.at, one.diameter)]
    corners += [corner for rise in study.levels.flights for corner in flight_corners(rise)]
    core = box_of(corners)
    beside = FIRST_ROW + ROW + 2.0
    paper = sheet or usual_sheet(plan)
    draft = Draft(
        f"Load path of {mark}", plan, paper, core, Room(beside, 4.0, beside, 11.0 if titled else 4.0)
    )
    draw_north(draft, plan, core)
    draw_house(draft, plan, core)
    for index, one in enumerate(plan.platforms):
        on = letter(index) in lit
        draft.area(one.outline, Role.SURFACE if on else Role.LAWN, letter(index))
        draft.stroke((*one.outline, one.outline[0]), Role.RAILING if on else Role.EDGE_BEYOND, letter(index))
    for member in study.layout.members:
        if member.kind in DRAWN:
            role = _role(member) if member.mark in lit else Role.EDGE_BEYOND
            draft.area(strip(member.line, member.width), role, member.mark, solid=member.mark in lit)
    sizes = {one.mark: one.diameter for one in study.footings}
    for post in study.layout.posts:
        on = post.mark in lit or post.footing in lit
        if post.footing:  # else it stands on a lower frame
            draft.disc(
                post.at, sizes[post.footing] / 2, Role.CONCRETE if on else Role.EDGE_BEYOND, post.footing
            )
        draft.area(square(post.at, post.width), Role.POST if on else Role.EDGE_BEYOND, post.mark)
    places = dict(_places(study, path, mark))
    if mark in places:
        draft.disc(places[mark], 1.2 * draft.letter + sizes.get(mark, 0.0) / 2, Role.FLAG, mark)
    for support, text in _ends(path, mark, metric):
        if (at := places.get(support)) is not None:
            # the mark that is asked about wears a ring, and its text stands outside that
            ring = 1.4 if support == mark else 0.2
            reach = sizes.get(support, 0.0) / 2 + ring * draft.letter
            draft.wish(
                text,
                at,
                round_about(at, text, draft.letter, reach),
                Role.MARK,
                support,
                plate=True,
                urgency=4,
            )
    unplaced = [goes for goes in path.where_does_it_go(mark) if goes.support in (GROUND, NOWHERE)]
    draft.notes += [f"{goes.support}: {goes.share:.0%}, {_force(goes.force, metric)}" for goes in unplaced]
    draft.notes += [
        _said(one.name, one.area, one.full, metric)
        for one in path.what_stands_on(mark)
        if abs(one.full) >= 0.5
    ]
    return draft.scene(titled=titled)


def _role(member: Member) -> Role:
    # a joist is white on framing plans; among pale ones it has to stand out
    return Role.BLOCKING if member.kind is Kind.JOIST else ROLES[member.kind]


def _places(study: Subject, path: LoadPath, mark: str) -> Iterator[tuple[str, Point]]:
    """Give where the mark itself and the supports of its load stand in plan [in]."""
    by_mark = study.layout.by_mark
    for name in (mark, *(goes.support for goes in path.where_does_it_go(mark)), *path.loads.ledgers):
        part = by_mark.get(name)
        if isinstance(part, (Post, Pad)):
            yield name, part.at
        elif isinstance(part, Member):
            yield name, part.point(part.length / 2)
        else:
            continue


def _ends(path: LoadPath, mark: str, metric: bool) -> Iterator[tuple[str, str]]:
    """Give the text at each support: its mark, the share and the force that ends there."""
    for goes in path.where_does_it_go(mark):
        at = goes.through if goes.support == HOUSE else goes.support
        yield at, f"{at}\n{goes.share:.0%}, {_force(goes.force, metric)}"


def _said(name: str, area: float, force: float, metric: bool) -> str:
    size = f", {area * SQUARE_METRES:.2f} m2" if metric else f", {area:.1f} sq ft"
    return f"{name}{size if area else ''}: {_force(force, metric)}"


def _force(pounds: float, metric: bool) -> str:
    text = f"{pounds * KILONEWTONS:.2f} kN" if metric else f"{pounds:,.0f} lb"
    return text.replace("-", "\N{MINUS SIGN}")
