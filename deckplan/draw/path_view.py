"""The load path: what stands on one mark and where its load ends, dark among the rest of the frame."""

from __future__ import annotations

from collections.abc import Iterator

from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.frame_parts import ROLES, is_level
from deckplan.draw.labels import round_about
from deckplan.draw.plan_parts import draw_house, draw_north, flight_corners
from deckplan.draw.plan_words import called, draw_cross, name_platform
from deckplan.draw.scene import Box, Role, Scene, box_of
from deckplan.draw.shapes import piece, post_shape, square
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject, letter
from deckplan.geometry import Point, middle
from deckplan.layout.ends import cut_ends
from deckplan.layout.model import Kind, Member, Pad, Post
from deckplan.loads.graph import GROUND, HOUSE, NOWHERE, LoadPath, Stands
from deckplan.units import Units, shown

DRAWN = (Kind.JOIST, Kind.BEAM, Kind.LEDGER, Kind.HEADER, Kind.STRINGER, Kind.STEP)
"""Kinds that carry: the rest of the frame would only hide them."""

SQUARE_METRES = 0.3048**2
"""One square foot [m2]. Source: international foot of 1959."""

LEGEND: dict[Role, str] = {
    Role.FLAG: "asked about",
    Role.RAILING: "surface whose load comes this way",
    Role.CONCRETE: "footing on the way",
    Role.EDGE_BEYOND: "not on the way",
}
"""What the lines of a load path mean."""

SMALL, LARGE = 0.02, 0.15
"""Shares of a piece's load [1] from which it is drawn as on the way, and as a joist that counts."""

LINES = 6
"""Surfaces and ends that are said one by one under the title; more are summed up."""


def path_view(
    study: Subject, path: LoadPath, mark: str, *, sheet: Sheet | None = None, titled: bool = True
) -> Scene:
    """Return the plan of one mark's load path: pieces on it as they look, all others pale.

    path: the study's load path; mark: any mark of the study: a platform's letter or name, a flight or a piece of one, a
    joist, header, beam, ledger, post or footing; one that carries nothing of the deck lights up alone and says so. At
    each support stands what of its load ends there; under the title, what stands on it. sheet: the room there is, else
    the usual one of the plan's units; titled: with title, scale and caution below.

    Raises KeyError for a mark that the study does not have.
    """
    plan, units = study.plan, study.plan.units
    asked = path.answers_for(mark)
    lit = path.marks_on_path(mark) | {mark}
    core = _room(study)
    paper = sheet or usual_sheet(plan)
    beside = FIRST_ROW + ROW + 2.0
    name = f"Load path of {mark}"
    draft = Draft(name, plan, paper, core, Room(beside, 4.0, beside, 13.0 if titled else 4.0))
    draw_north(draft, plan, core)
    draw_house(draft, plan, core)
    for index, one in enumerate(plan.platforms):
        on = letter(index) in lit
        draft.area(one.outline, Role.SURFACE if on else Role.LAWN, letter(index))
        draft.stroke((*one.outline, one.outline[0]), Role.RAILING if on else Role.EDGE_BEYOND, letter(index))
        name_platform(draft, study, one, called(draft, study, one, 1.2))
    cuts = cut_ends(study.layout.members)
    shares = _shares(study, path, mark, lit)
    for member in study.layout.members:
        if member.kind in DRAWN or member.mark == mark:
            role = _role(member, shares.get(member.mark, 1.0)) if member.mark in lit else Role.EDGE_BEYOND
            clear = member.mark in lit and is_level(member)
            draft.area(piece(member, cuts), role, member.mark, solid=clear)
    _write_shares(draft, study, shares)
    _flights(draft, study, lit)
    _supports(draft, study, lit)
    _ring(draft, study, mark, asked)
    _at_supports(draft, study, path, mark)
    if asked in path.portions.flights and asked != mark:
        draft.notes.append(f"{mark} is a piece of {asked}, whose load is shown.")
    draft.notes += _said(path, mark, units)
    if paper.full:
        draft.legend |= LEGEND
    return draft.scene(titled=titled)


def _room(study: Subject) -> Box:
    """Return the room that platforms, footings and flights take [in]."""
    corners = [corner for one in study.plan.platforms for corner in one.outline]
    corners += [end for one in study.footings for end in square(one.at, one.diameter)]
    corners += [corner for rise in study.levels.flights for corner in flight_corners(rise)]
    return box_of(corners or [(0.0, 0.0), (120.0, 120.0)])


def _role(member: Member, share: float) -> Role:
    """Return how a piece on the way looks; share: of its load that comes this way [1]."""
    if abs(share) < SMALL:
        return Role.EDGE_BEYOND
    if member.kind is not Kind.JOIST:
        return ROLES[member.kind]
    # a joist is white on framing plans; among pale ones it has to stand out
    return Role.BLOCKING if share >= LARGE else Role.JOIST


def _shares(study: Subject, path: LoadPath, mark: str, lit: frozenset[str]) -> dict[str, float]:
    """Return for a footing or its post how much of each joist's and beam's load ends there [1]; nothing for others."""
    post = study.layout.by_mark.get(mark)
    support = post.footing if isinstance(post, Post) else mark
    if support not in {one.mark for one in study.footings}:
        return {}
    return {
        member.mark: sum(g.share for g in path.where_does_it_go(member.mark) if g.support == support)
        for member in study.layout.members
        if member.mark in lit and member.kind in (Kind.JOIST, Kind.BEAM)
    }


def _write_shares(draft: Draft, study: Subject, shares: dict[str, float]) -> None:
    """Write on each piece how much of its load comes this way; one that lifts the support has a minus."""
    for member in study.layout.members:
        share = shares.get(member.mark, 0.0)
        if abs(share) >= SMALL:
            ends = (0.5, 0.35, 0.65, 0.2, 0.8)
            places = [member.point(part * member.length) for part in ends]
            draft.wish(_share(share), places[0], places, Role.NOTE, member.mark, size=0.8, plate=True, needed=False,
                       urgency=1)  # fmt: skip
    if shares:
        draft.notes.append(
            "On a piece: how much of its load ends here; a minus lifts, and others carry that more."
        )


def _flights(draft: Draft, study: Subject, lit: frozenset[str]) -> None:
    for number, rise in enumerate(study.levels.flights, 1):
        corners = flight_corners(rise)
        role = Role.RAILING if f"S{number}" in lit else Role.EDGE_BEYOND
        draft.stroke((*corners, corners[0]), role, f"S{number}")


def _supports(draft: Draft, study: Subject, lit: frozenset[str]) -> None:
    """Draw every footing and the post on it, then the posts that stand on a lower frame."""
    for footing in study.footings:
        on = footing.mark in lit
        role = Role.CONCRETE if on else Role.EDGE_BEYOND
        draft.disc(footing.at, footing.diameter / 2, role, footing.mark)
        posts = [post for post in study.layout.posts if post.footing == footing.mark]
        if not posts:
            draw_cross(draft, footing.at, 0.4 * draft.letter, footing.mark)
        for post in posts:
            draft.area(post_shape(post), Role.POST if on else Role.EDGE_BEYOND, post.mark)
    for post in study.layout.posts:
        if not post.footing:
            role = Role.POST_ON_FRAME if post.mark in lit else Role.EDGE_BEYOND
            draft.area(post_shape(post), role, post.mark)


def _ring(draft: Draft, study: Subject, mark: str, asked: str) -> None:
    """Ring what is asked about: a piece by a circle, a surface along its outline."""
    outlines = {letter(index): one.outline for index, one in enumerate(study.plan.platforms)}
    outlines |= {f"S{number}": flight_corners(rise) for number, rise in enumerate(study.levels.flights, 1)}
    if asked in outlines and mark not in study.layout.by_mark:
        draft.stroke((*outlines[asked], outlines[asked][0]), Role.FLAG, asked)
    elif (at := _place(study, mark)) is not None:
        sizes = {one.mark: one.diameter for one in study.footings}
        draft.disc(at, 1.2 * draft.letter + sizes.get(mark, 0.0) / 2, Role.FLAG, mark)
    else:
        pass  # nothing of it lies in plan


def _place(study: Subject, mark: str) -> Point | None:
    """Return where a mark stands in plan [in]."""
    spots = {one.mark: one.at for one in study.footings}
    spots |= {one.mark: one.at for one in study.layout.guard_posts}
    part = study.layout.by_mark.get(mark)
    if isinstance(part, (Post, Pad)):
        return part.at
    if isinstance(part, Member):
        return middle(part.line)
    return spots.get(mark)


def _at_supports(draft: Draft, study: Subject, path: LoadPath, mark: str) -> None:
    """Write at each support what of the load ends there, at the house by the ledger it comes through."""
    sizes = {one.mark: one.diameter for one in study.footings}
    for support, text in _ends(path, mark, study.plan.units):
        at = _place(study, support)
        if at is None:
            continue
        # the mark that is asked about wears a ring, and its text stands outside that
        reach = sizes.get(support, 0.0) / 2 + (1.4 if support == mark else 0.2) * draft.letter
        places = round_about(at, text, draft.letter, reach)
        draft.wish(text, at, places, Role.MARK, support, plate=True, urgency=4)


def _ends(path: LoadPath, mark: str, units: Units) -> Iterator[tuple[str, str]]:
    """Give the text at each support: its mark, the share and the force that ends there."""
    for goes in path.where_does_it_go(mark):
        at = goes.through if goes.support == HOUSE else goes.support
        yield at, f"{at}\n{_share(goes.share)}, {_force(goes.force, units)}"


def _said(path: LoadPath, mark: str, units: Units) -> list[str]:
    """Say under the title what stands on a mark, and what of it ends at no support of the drawing."""
    stands = [one for one in path.what_stands_on(mark) if abs(one.full) >= 0.5]
    if not stands:
        return [f"Nothing of the deck's load stands on {mark}."]
    lost = [goes for goes in path.where_does_it_go(mark) if goes.support in (GROUND, NOWHERE)]
    lines = [f"{goes.support}: {_share(goes.share)}, {_force(goes.force, units)}" for goes in lost]
    lines += [_surface(one, units) for one in stands[:LINES]]
    if rest := stands[LINES:]:
        lines.append(f"{len(rest)} more: {_force(sum(one.full for one in rest), units)}")
    if len(stands) > 1:
        lines.append(f"together {_force(sum(one.full for one in stands), units)}")
    return lines


def _surface(one: Stands, units: Units) -> str:
    size = f", {one.area * SQUARE_METRES:.2f} m2" if units == "metric" else f", {one.area:.1f} sq ft"
    return f"{one.name}{size if one.area else ''}: {_force(one.full, units)}"


def _share(part: float) -> str:
    return f"{part:.0%}".replace("-", "\N{MINUS SIGN}")


def _force(pounds: float, units: Units) -> str:
    force, unit = shown(pounds, "lb", units)
    text = f"{force:.2f} {unit}" if units == "metric" else f"{force:,.0f} {unit}"
    return text.replace("-", "\N{MINUS SIGN}")
