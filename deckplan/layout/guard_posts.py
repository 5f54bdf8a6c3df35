"""Guard posts: where they stand inside the rim, so that each lands on framing, and the blocking behind them.

::

      joist   post   joist              edge joist ==========+==post==+=====
        |    +----+    |                             blocking|        |blocking
    rim =====|====|=====                       next joist ===+========+=====
        |----blocking--|
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from deckplan.engineering.stairs import GuardPost, guard_post
from deckplan.geometry import Line, Point, along, distance, middle, point_to_line, unit
from deckplan.layout.flight_blocking import Bed, bed_between, blocking_members, crossing, on_floor
from deckplan.layout.frame import DOUBLED, Frame
from deckplan.layout.holes import onto_floor
from deckplan.layout.model import GuardPostPlace, GuardStretch, Kind, Member
from deckplan.layout.platform_frame import letter
from deckplan.plan.model import Plan, Platform
from deckplan.rules.profile import Profile

POST = 3.5
"""Dressed width of a guard post [in], 4x4."""
APART = 72.0
"""Farthest that guard posts stand apart [in] (common practice; the rail's maker may ask for less)."""
RIM = 1.5
# Upper and lower connector keep this from the edges of the rim [in].
_IN_RIM = 2.0


@dataclass(frozen=True, slots=True)
class GuardPosts:
    """All guard posts of a deck and their blocking; missing: places where no framing was found to block."""

    posts: tuple[GuardPostPlace, ...]
    members: tuple[Member, ...]
    missing: tuple[tuple[str, Point], ...]


def place_guard_posts(
    plan: Plan, guards: tuple[GuardStretch, ...], members: tuple[Member, ...], profile: Profile
) -> GuardPosts:
    """Return the posts of every required guard: at both ends of a stretch and at most `APART` between.

    On a rim that joists run into, a post stands against the nearest joist, with blocking behind it; along an edge joist
    between two pieces of blocking to the next joist. The connector's force is that of 200 lb at the guard's height.

    One post stands in a corner for both edges, and no blocking is set where some lies.

    Source: common practice (posts inside the rim, blocking); IRC Table R301.5 for the load.
    """
    posts: list[GuardPostPlace] = []
    blocks: list[Member] = []
    missing: list[tuple[str, Point]] = []
    for index, platform in enumerate(plan.platforms):
        frame = tuple(m for m in members if m.platform == platform.name and m.kind in _FRAME)
        joists = tuple(m for m in frame if m.kind is Kind.JOIST)
        if not joists:
            continue
        top = max(joist.top for joist in joists)
        frame = tuple(m for m in frame if abs(m.top - top) < 0.5)
        force = forces_of_a_lean(plan, joists[0].depth, profile).outward
        lead = letter(index)
        taken = [(middle(m.line), m) for m in (*members, *blocks) if m.mark.startswith(f"{lead}-K")]
        for at, inward, rim in _wanted(platform, guards, frame):
            found = _stand(at, inward, frame, joists, Frame.of(platform), rim)
            if found is None:
                missing.append((platform.name, at))
                continue
            spot, against, beds = found
            there = [(bed, _in_place(bed, taken)) for bed in beds]
            pieces = blocking_members([bed for bed, piece in there if piece is None], lead, len(taken))
            taken += [(middle(piece.line), piece) for piece in pieces]
            blocks += pieces
            marks = tuple(
                dict.fromkeys(
                    (*(piece.mark for _, piece in there if piece), *(piece.mark for piece in pieces))
                )
            )
            _add(posts, GuardPostPlace("", platform.name, spot, against, marks, force), lead)
    return GuardPosts(tuple(posts), tuple(blocks), tuple(missing))


_FRAME = (Kind.JOIST, Kind.RIM, Kind.LEDGER, Kind.BEAM)


def _add(posts: list[GuardPostPlace], post: GuardPostPlace, lead: str) -> None:
    """Add a post under the next mark; where two edges meet in a corner, one post holds both and all their blocking."""
    own = [at for at, other in enumerate(posts) if other.platform == post.platform]
    twin = next((at for at in own if distance(posts[at].at, post.at) < POST), None)
    if twin is None:
        posts.append(replace(post, mark=f"{lead}-G{len(own) + 1}"))
    else:
        kept = posts[twin]
        marks = tuple(dict.fromkeys((*kept.blocking, *post.blocking)))
        posts[twin] = replace(kept, against=kept.against or post.against, blocking=marks)


def _in_place(bed: Bed, pieces: list[tuple[Point, Member]]) -> Member | None:
    """Return the blocking that lies where a piece is wanted already, if any does; pieces: with their middles."""
    wanted = middle((bed.start, bed.end))
    return next((piece for at, piece in pieces if distance(at, wanted) < 0.01), None)


def forces_of_a_lean(plan: Plan, depth: float, profile: Profile) -> GuardPost:
    """Return what a person who leans on the rail asks of a guard post and of its connectors.

    depth [in]: of the frame; upper and lower connector keep 2 in from its edges (common practice).
    """
    apart = max(1.0, depth - 2 * _IN_RIM)
    down = plan.materials.decking.thickness + _IN_RIM
    return guard_post(profile.guard_height.value, down, apart, profile.guard_load.value)


def _wanted(
    platform: Platform, guards: tuple[GuardStretch, ...], frame: tuple[Member, ...]
) -> list[tuple[Point, Point, float]]:
    """Return where posts are wanted on the outer line, the way in from there, and the wood there that they clear [in].

    That is the rim along an edge or the flush beam in its place, the doubled header or trimmer along an opening.
    """
    found = []
    for stretch in guards:
        if stretch.platform != platform.name or not stretch.required:
            continue
        line = (stretch.start, stretch.end)
        length = distance(*line)
        inward = onto_floor(platform, *line)
        rim = DOUBLED if stretch.opening else _rim(line, frame)
        inset, last = (min(_inset(platform.outline, end), length / 2) for end in line)
        free = length - inset - last
        spaces = max(1, math.ceil(free / APART - 1e-9)) if free > POST else 0
        for number in range(spaces + 1):
            reach = inset + (free * number / spaces if spaces else free / 2)
            found.append((along(line, reach / length), inward, rim))
    return found


def _rim(edge: Line, frame: tuple[Member, ...]) -> float:
    """Return how far what closes an edge reaches in from it [in]: the rim, or a flush beam along it."""
    (ux, uy), middle_ = unit(*edge), along(edge, 0.5)
    found = RIM
    for beam in frame:
        if beam.kind is not Kind.BEAM or not beam.length:
            continue
        bx, by = unit(*beam.line)
        off = point_to_line(middle_, beam.line)
        if abs(ux * by - uy * bx) < 1e-6 and off - beam.width / 2 < RIM:
            found = max(found, off + beam.width / 2)
    return found


def _inset(outline: tuple[Point, ...], end: Point) -> float:
    """Return how far from a stretch's end its first post stands [in]: in an acute corner clear of the other edge."""
    plain = RIM + POST / 2
    for before, corner, after in zip(
        (outline[-1], *outline[:-1]), outline, (*outline[1:], outline[0]), strict=True
    ):
        if distance(corner, end) < 0.01:
            (ax, ay), (bx, by) = unit(corner, before), unit(corner, after)
            half = math.acos(max(-1.0, min(1.0, ax * bx + ay * by))) / 2
            return max(plain, plain / math.tan(half))
    return plain


def _beside(
    at: Point, inward: Point, sideways: Point, inside: float, way: float, joist: Member, plain: float
) -> Point:
    """Return where a post's middle stands so far inside an edge [in], its side, or its corner, against a joist.

    way: 1 or -1, on which side of it; plain: the place along the edge where no joist crosses so near to it [in].
    """
    base = (at[0] + inward[0] * inside, at[1] + inward[1] * inside)
    met = crossing(base, sideways, joist)
    if met is not None:
        off, sine = met
        cosine = max(0.0, 1.0 - sine * sine) ** 0.5
        plain = off + way * (joist.width / 2 + POST / 2 * (sine + cosine)) / sine
    return (base[0] + sideways[0] * plain, base[1] + sideways[1] * plain)


def _fits(spot: Point, inward: Point, floor: Frame) -> bool:
    """Tell whether all of a post stands inside the outline and beside every opening."""
    half = POST / 2 - 0.1
    corners = [
        (spot[0] + half * (x * inward[0] + y * inward[1]), spot[1] + half * (x * inward[1] - y * inward[0]))
        for x in (-1, 1)
        for y in (-1, 1)
    ]
    return all(on_floor((spot, corner), floor) for corner in corners)


def _room_beside(at: Point, inward: Point, joists: tuple[Member, ...], rim: float) -> float:
    """Return how far in there is room for a post beside wood of a thickness along an edge [in].

    That is against it, or beyond the joists that stand too near to it.
    """
    faces = sorted(
        (off - joist.width / 2 / sine, off + joist.width / 2 / sine)
        for joist in joists
        if (met := crossing(at, inward, joist))
        for off, sine in (met,)
    )
    free = rim
    for low, high in faces:
        if high <= free + 0.01:
            continue  # the wood along the edge itself, and what lies outside
        if low - free >= POST - 0.01:
            break
        free = high
    return free


def _stand(
    at: Point,
    inward: Point,
    frame: tuple[Member, ...],
    joists: tuple[Member, ...],
    floor: Frame,
    rim: float,
) -> tuple[Point, str, list[Bed]] | None:
    """Return where a post stands, the joist it stands against and its blocking; None where nothing can be blocked."""
    sideways = (inward[1], -inward[0])
    behind = rim + POST + 0.75
    deep = (at[0] + inward[0] * behind, at[1] + inward[1] * behind)
    near = [(found, joist) for joist in joists if (found := crossing(deep, sideways, joist))]
    # of two as near as each other the first, whichever way the plan lies; the next where that one leaves no room
    for (off, sine), joist in sorted(near, key=lambda item: round(abs(item[0][0]), 3))[:3]:
        side = 1.0 if off <= 0 else -1.0
        for way in (side, -side):
            shift = off + way * (joist.width + POST) / 2 / sine
            place = (deep[0] + sideways[0] * shift, deep[1] + sideways[1] * shift)
            bed = bed_between(place, sideways, frame, floor)
            # the bay must lie right beside that joist, with no other in between
            if bed and joist in bed.between and distance(bed.start, bed.end) >= POST:
                spot = _beside(at, inward, sideways, rim + POST / 2, way, joist, shift)
                if _fits(spot, inward, floor):
                    return spot, joist.mark, [bed]
    # no joist crosses there, or none that leaves room beside it, as in the corner of joists that run aslant
    beds = []
    inside = _room_beside(at, inward, joists, rim) + POST / 2
    for way in (-1.0, 1.0):
        shift = way * (POST / 2 + 0.75)
        place = (
            at[0] + sideways[0] * shift + inward[0] * inside,
            at[1] + sideways[1] * shift + inward[1] * inside,
        )
        bed = bed_between(place, inward, frame, floor)
        if bed is not None:
            beds.append(bed)
    if not beds:
        return None
    return (at[0] + inward[0] * inside, at[1] + inward[1] * inside), "", beds
