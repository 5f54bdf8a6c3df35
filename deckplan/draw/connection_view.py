"""Connection details: a beam on a neighbour's post, a joist in its hanger, a post cap, a ledger on its wall.

The plane stands upright along the piece that is carried. Across the sheet runs the distance from the bearing along that
piece [in], upward the elevation [in]; what the plane cuts has a grain, what lies behind is plain.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from deckplan.buy.connectors import asked
from deckplan.draw.draft import FIRST_ROW, ROW, Draft
from deckplan.draw.labels import round_about
from deckplan.draw.scene import Box, Role, Scene
from deckplan.draw.shapes import crossings, rectangle
from deckplan.draw.sheet import Room, Sheet, usual_sheet
from deckplan.draw.subject import Subject
from deckplan.engineering.prescriptive import ledger_placement
from deckplan.geometry import Point, unit
from deckplan.layout.model import Bearing, Kind, Member, Post
from deckplan.loads.model import Force, Loads
from deckplan.plan.model import Ledger

BEYOND, BACK = 26.0, 16.0
"""How much is shown along the carried piece and to the other side of the bearing [in]."""

BELOW = 14.0
"""How much of a post is shown under the lowest piece on it [in]."""

FOOTING_SHOWN = 3.0
"""How much of a footing is shown under a post that stands on it in sight [in]."""

PLATE = 5.0
"""Height of a post cap's side plates as drawn, half on the post, half on the beam [in]."""

KILONEWTONS = 0.45359237 * 9.80665 / 1000
"""One pound-force [kN]. Source: international pound of 1959, standard gravity."""

WOOD = (Kind.JOIST, Kind.BEAM, Kind.RIM, Kind.LEDGER, Kind.HEADER)


class Loaded(Subject, Protocol):
    """A subject whose loads are traced. A study is one."""

    @property
    def loads(self) -> Loads:
        """The demand on each mark and the way it takes."""
        ...


@dataclass(frozen=True, slots=True)
class Plane:
    """The upright plane along a piece, from the place where it bears: a point [in] and the way along the piece."""

    at: Point
    way: Point

    @classmethod
    def of(cls, member: Member, bearing: Bearing) -> Plane:
        """Stand the plane along a member, looking from the bearing towards the longer part of it."""
        way = unit(member.start, member.end)
        if bearing.at > member.length / 2:
            way = (-way[0], -way[1])
        return cls(member.point(bearing.at), way)

    def along(self, point: Point) -> float:
        """Return how far a point lies along the plane from the bearing [in]."""
        return (point[0] - self.at[0]) * self.way[0] + (point[1] - self.at[1]) * self.way[1]

    def aside(self, point: Point) -> float:
        """Return how far a point lies beside the plane [in]."""
        return (point[0] - self.at[0]) * self.way[1] - (point[1] - self.at[1]) * self.way[0]

    def meets(self, member: Member) -> tuple[float, float] | None:
        """Return where a member that runs across is cut, its near and far face [in]; None for one that is not."""
        a, b = self.aside(member.start), self.aside(member.end)
        if member.length == 0 or abs(b - a) < 0.5 * member.length or not min(a, b) <= 0.1 <= max(a, b) + 0.2:
            return None
        s0, s1 = self.along(member.start), self.along(member.end)
        middle = s0 + (s1 - s0) * -a / (b - a)
        half = member.width * member.length / abs(b - a) / 2
        return middle - half, middle + half

    def within(self, member: Member) -> tuple[float, float] | None:
        """Return the stretch along the plane of a member that runs in it [in]; None for one that does not."""
        a, b = self.aside(member.start), self.aside(member.end)
        if abs(b - a) > 0.1 * member.length or abs(a + b) / 2 > member.width / 2 + 0.8:
            return None
        low, high = sorted((self.along(member.start), self.along(member.end)))
        return low, high


def connection_view(
    study: Loaded, mark: str, on: str, *, sheet: Sheet | None = None, titled: bool = True
) -> Scene:
    """Return the detail of one bearing: a piece, what carries it, the connector with its capacity, its sizes.

    mark: of the joist or beam that is carried, or of a ledger; on: of the post, beam or ledger it bears on, the wall's
    name for a ledger; sheet: the room there is, else the usual one of the plan's units.

    Raises KeyError where the one does not bear on the other.
    """
    member = study.layout.by_mark[mark]
    if not isinstance(member, Member):
        raise KeyError(mark)
    if member.kind is Kind.LEDGER:
        joist, bearing = _on_ledger(study, member)
        plane = Plane.of(joist, bearing)
    else:
        joist, bearing = member, _bearing(member, on)
        plane = Plane.of(member, bearing)
    carrier = member if member.kind is Kind.LEDGER else study.layout.by_mark[on]
    core = _core(study, joist, carrier, plane)
    room = Room(17.0, FIRST_ROW + 3 * ROW + 12.0, FIRST_ROW + ROW + 3.0, 13.0 if titled else 6.0)
    draft = Draft(f"{mark} on {on}", study.plan, sheet or usual_sheet(study.plan), core, room)
    draft.small = True
    _wood(draft, study, plane, core, skip=joist.mark)
    _posts(draft, study, plane, core)
    _piece(draft, joist, plane, core)
    _boards(draft, study, plane, core)
    if member.kind is Kind.LEDGER:
        _wall(draft, study, member, plane, core)
        _hanger(draft, study, joist, member, bearing, plane)
    elif isinstance(carrier, Post) and bearing.manner in ("cap", "splice"):
        _cap(draft, study, joist, carrier, bearing, plane)
    elif bearing.manner == "bearing" and isinstance(carrier, Member):
        _on_top(draft, study, joist, carrier, bearing, plane)
    else:
        _hanger(draft, study, joist, carrier, bearing, plane)
    _dimensions(draft, joist, carrier, plane, core, bearing)
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


def _core(study: Subject, piece: Member, carrier: Member | Post | object, plane: Plane) -> Box:
    """Return the window of the detail: the piece, what carries it, what stands on the same post."""
    tops, lows = [piece.top], [piece.bottom]
    if isinstance(carrier, Member):
        tops.append(carrier.top)
        lows.append(carrier.bottom)
    if isinstance(carrier, Post):
        over = [m for m in study.layout.members if any(b.on == carrier.mark for b in m.bearings)]
        tops += [m.top for m in over]
        lows += [m.bottom for m in over]
        lows = [max(min(lows) - BELOW, min(carrier.bottom - FOOTING_SHOWN, min(lows) - 4.0))]
    tops += [
        m.top
        for m in study.layout.members
        if m.kind in WOOD and (face := plane.meets(m)) is not None and -BACK < face[0] < BEYOND
    ]
    board = study.plan.materials.decking.thickness
    return Box(-BACK, min(lows) - 2.0, BEYOND, max(tops) + board + 1.0)


# -- what is there --


def _wood(draft: Draft, study: Subject, plane: Plane, core: Box, skip: str) -> None:
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
        if core.left <= faces[0] and faces[1] <= core.right and member.top > core.bottom:
            corners = rectangle(faces[0], member.bottom, faces[1], member.top)
            draft.area(corners, Role.CUT, member.mark, solid=True)


def _posts(draft: Draft, study: Subject, plane: Plane, core: Box) -> None:
    """Draw the posts in the plane; one that goes on below the window ends in a broken line."""
    for post in study.layout.posts:
        at = plane.along(post.at)
        if abs(plane.aside(post.at)) > post.width / 2 or not core.left <= at <= core.right:
            continue
        low, half = max(post.bottom, core.bottom), post.width / 2
        if low < post.top:
            draft.area(
                rectangle(at - half, low, at + half, post.top), Role.POST_BEYOND, post.mark, solid=True
            )
        if low > post.bottom:
            tip = 0.3 * post.width
            zigzag = [
                (at - half - 1, low),
                (at - 1, low),
                (at - 0.4, low + tip),
                (at + 0.4, low - tip),
                (at + 1, low),
            ]
            draft.stroke([*zigzag, (at + half + 1, low)], Role.LEADER)
        else:
            _base(draft, study, post, at)


def _base(draft: Draft, study: Subject, post: Post, at: float) -> None:
    """Draw the top of the footing with the post base, where the post is so short that its foot is in sight."""
    wide = next((one.diameter for one in study.footings if one.mark == post.footing), 2 * post.width) / 2
    low, half = post.bottom - FOOTING_SHOWN, post.width / 2
    draft.area(rectangle(at - wide, low, at + wide, post.bottom), Role.CONCRETE, post.footing, solid=True)
    for edge in (at - half, at + half):
        draft.stroke(((edge, post.bottom + 3.0), (edge, post.bottom)), Role.FIXING)
    draft.stroke(((at - half, post.bottom), (at + half, post.bottom)), Role.FIXING)
    text = f"post base on {post.footing}"
    spot = (at + half, post.bottom)
    side = round_about(spot, text, draft.letter, 1.2 * draft.letter)
    draft.wish(text, spot, [side[0], side[2]], Role.NOTE, post.footing, plate=True, urgency=3)


def _piece(draft: Draft, member: Member, plane: Plane, core: Box) -> None:
    low, high = sorted((plane.along(member.start), plane.along(member.end)))
    low, high = max(low, core.left), min(high, core.right)
    role = Role.BEAM if member.kind is Kind.BEAM else Role.BLOCKING
    draft.area(rectangle(low, member.bottom, high, member.top), role, member.mark)
    at = (high - 0.35 * (high - max(low, 0.0)), member.bottom + 0.3 * member.depth)
    draft.wish(f"{member.mark}  {member.size}", at, [at], Role.MARK, member.mark, plate=True, urgency=6)


def _boards(draft: Draft, study: Subject, plane: Plane, core: Box) -> None:
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


# -- connectors --


def _hanger(
    draft: Draft, study: Loaded, member: Member, carrier: object, bearing: Bearing, plane: Plane
) -> None:
    """Draw a hanger on the face of a post or beam: the flange up the face, the seat under the piece."""
    face = max(min(plane.along(member.start), plane.along(member.end)), -1.0)
    up = member.bottom + 0.7 * member.depth
    draft.stroke(((face, up), (face, member.bottom), (face + bearing.length, member.bottom)), Role.FIXING)
    carried = "header" if member.kind is Kind.HEADER else "beam"
    kind = "joist hanger" if member.kind is Kind.JOIST else f"face-mount hanger for the {carried}"
    text = f"{kind}\n{_needed(draft, study, member, bearing)}\nseat {draft.short(bearing.length)}"
    at = (face + bearing.length / 2, member.bottom)
    draft.wish(
        text, at, [(face + 0.6 * BEYOND, at[1] - 2.6 * draft.letter)], Role.NOTE, plate=True, urgency=4
    )
    if isinstance(carrier, Post):
        _name_post(draft, carrier, plane)
    elif isinstance(carrier, Member):
        _name(draft, carrier, plane)
    else:
        raise KeyError(bearing.on)


def _cap(draft: Draft, study: Loaded, member: Member, post: Post, bearing: Bearing, plane: Plane) -> None:
    """Draw a cap: plates on post and beam, across their joint."""
    at, half = plane.along(post.at), post.width / 2
    corners = rectangle(at - half, post.top - PLATE / 2, at + half, post.top + PLATE / 2)
    draft.stroke((*corners, corners[0]), Role.FIXING)
    draft.stroke(((at - half, post.top), (at + half, post.top)), Role.FIXING)
    text = f"post cap\n{_needed(draft, study, member, bearing)}\nbearing {draft.short(bearing.length)}"
    spot = (at + half, post.top - PLATE / 4)
    side = round_about(spot, text, draft.letter, 2.0 * draft.letter)
    draft.wish(text, spot, [side[2], side[3], side[0]], Role.NOTE, plate=True, urgency=4)
    _name_post(draft, post, plane)


def _on_top(
    draft: Draft, study: Loaded, member: Member, beam: Member, bearing: Bearing, plane: Plane
) -> None:
    """Mark the length over which a piece bears on a beam, and the most that it puts there."""
    half = bearing.length / 2
    draft.stroke(((-half, beam.top), (half, beam.top)), Role.FIXING)
    text = f"bears over {draft.short(bearing.length)},\nup to {_force(draft, study, member, bearing)}"
    spot = (half, beam.top)
    side = round_about(spot, text, draft.letter, 1.6 * draft.letter)
    draft.wish(text, spot, [side[2], side[3]], Role.NOTE, plate=True, urgency=4)
    _name(draft, beam, plane)


def _wall(draft: Draft, study: Loaded, ledger: Member, plane: Plane, core: Box) -> None:
    """Draw the wall behind a ledger and the fasteners through it, at their least distances from its edges."""
    faces = plane.meets(ledger)
    if faces is None:
        raise KeyError(ledger.mark)
    corners = rectangle(core.left, core.bottom, faces[0], core.top)
    draft.area(corners, Role.WALL)
    least = ledger_placement("ledger")
    rows = (ledger.top - least["top edge"], ledger.bottom + least["bottom edge"])
    for z in rows:
        draft.stroke(((faces[1] + 0.3, z), (faces[0] - 3.5, z)), Role.FIXING)
        draft.stroke(((faces[1] + 0.3, z - 0.4), (faces[1] + 0.3, z + 0.4)), Role.FIXING)
    support = study.plan.platform(ledger.platform).supports[ledger.support or 0]
    assert isinstance(support, Ledger)
    spacing = "" if support.spacing == "auto" else f" at {draft.short(support.spacing)} on centre"
    size, kind = support.fastener.split()
    text = f"{size} in {kind}s{spacing},\ntwo rows, staggered"
    at = (faces[0] - 2.0, rows[0])
    inside = ((core.left + faces[0]) / 2, (rows[0] + rows[1]) / 2)
    draft.wish(text, at, [inside], Role.NOTE, plate=True, urgency=7)
    draft.chain([ledger.bottom, rows[1], rows[0], ledger.top], "y", 0, core.left, -1)


def _needed(draft: Draft, study: Loaded, member: Member, bearing: Bearing) -> str:
    """Say how much the connector must carry, in the steps in which capacities are asked for."""
    return f"for {_force(draft, study, member, bearing)} or more"


def _force(draft: Draft, study: Loaded, member: Member, bearing: Bearing) -> str:
    """Write the largest force at a bearing, rounded up to the steps in which capacities are asked for."""
    total = Force()
    for delivery in study.loads.out_of.get(member.mark, ()):
        if delivery.lower == bearing.on and abs(delivery.at - bearing.at) < 1.0:
            total += delivery.force
    pounds = asked(total.governing[0])
    return f"{pounds * KILONEWTONS:.1f} kN" if draft.units == "metric" else f"{pounds:,} lb"


def _name(draft: Draft, member: Member, plane: Plane) -> None:
    faces = plane.meets(member)
    if faces is None:
        return
    at = (sum(faces) / 2, member.bottom + 0.6 * member.depth)
    text = f"{member.mark}\n{member.size}"
    side = round_about(at, text, draft.letter, member.width / 2 + 0.6 * draft.letter)
    draft.wish(text, at, [side[5], side[4]], Role.MARK, member.mark, plate=True, urgency=5)


def _name_post(draft: Draft, post: Post, plane: Plane) -> None:
    at = (plane.along(post.at), post.top - 0.7 * min(post.height, BELOW))
    text = f"{post.mark}\npost {post.size}"
    side = round_about(at, text, draft.letter, post.width / 2 + 0.6 * draft.letter)
    draft.wish(text, at, [side[5], side[4]], Role.MARK, post.mark, plate=True, urgency=5)


# -- dimensions --


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
