"""Edges of platforms: where a guard is required, by the drop within the look-out of the rule.

platform  |<-- look-out, 36 in -->|
==========+                        .
          |drop   ___________      .      The drop is to the lowest walking surface or ground anywhere
          |      |lower one  |     .      within the look-out, not to what lies straight below.
          v______|           |_____v__

Round a hole in a platform it is to whatever lies below the hole.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from shapely import LineString, MultiLineString, Polygon, box, buffer, intersection, linestrings, union_all
from shapely.geometry.base import BaseGeometry
from shapely.ops import linemerge

from deckplan.geometry import Line, distance, unit
from deckplan.layout.holes import TREE, Open, floor_of, holes_of
from deckplan.layout.model import GuardStretch
from deckplan.levels.model import Levels, Rise
from deckplan.levels.places import TOUCH, outline_of, pieces, sides
from deckplan.levels.terrain import FlatPiece, flat_pieces
from deckplan.plan.model import Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import Units, format_short

# A platform up to this much higher closes the edge with its frame; under a higher one a person can fall [in].
CLOSES = 12.0
# Pieces of edge shorter than this are no stretch of their own [in].
SHORTEST = 1.0
# Circles are drawn with many sides; this much wider, the polygon holds the whole circle.
ARC = 48
ROUND = 1.00015
_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class Surface:
    """Something to land on: its name and the flat pieces it consists of."""

    name: str
    parts: tuple[FlatPiece, ...]


@lru_cache(maxsize=64)
def _steps(rise: Rise) -> tuple[tuple[Polygon, float], ...]:
    """Return the treads of a flight: outline [in] and elevation [in]; every edge about asks for them."""
    if rise.rise <= 0:
        return ()
    (x0, y0), (x1, y1) = rise.along
    dx, dy = rise.down
    found = []
    for count in range(1, rise.risers):
        a, b = (count - 1) * rise.tread, count * rise.tread
        corners = [
            (x0 + dx * a, y0 + dy * a),
            (x1 + dx * a, y1 + dy * a),
            (x1 + dx * b, y1 + dy * b),
            (x0 + dx * b, y0 + dy * b),
        ]
        found.append((Polygon(corners), rise.top - count * rise.riser))
    return tuple(found)


def behind_walls(plan: Plan, shape: Polygon, reach: float) -> BaseGeometry:
    """Return what lies behind the house walls as seen from a platform: nobody falls there."""
    centre = shape.representative_point()
    found = []
    for wall in plan.house.walls:
        for a, b in pairwise(wall.line):
            ux, uy = unit(a, b)
            side = (b[0] - a[0]) * (centre.y - a[1]) - (b[1] - a[1]) * (centre.x - a[0])
            nx, ny = (uy, -ux) if side > 0 else (-uy, ux)
            far_a, far_b = (a[0] + nx * reach, a[1] + ny * reach), (b[0] + nx * reach, b[1] + ny * reach)
            found.append(Polygon([a, b, far_b, far_a]))
    return union_all(found)


def surfaces_about(
    plan: Plan,
    levels: Levels,
    own: BaseGeometry,
    here: float,
    near: BaseGeometry,
    ground: tuple[FlatPiece, ...],
    but: str = "",
) -> tuple[Surface, ...]:
    """Return everything that can be landed on around an edge: other platforms, treads, the open ground.

    own: the shape that the edge belongs to, which nobody lands on; here [in]: its elevation; near: what is looked
    at; ground: as flat pieces; but: name of the platform whose edge it is, if it is one's.
    """
    flats: list[tuple[str, BaseGeometry, float]] = [
        (f'"{other.name}"', floor_of(other), levels.elevation(other.name))
        for other in plan.platforms
        if other.name != but
    ]
    for rise in levels.flights:
        flats += [(f"flight S{rise.index + 1}", shape, top) for shape, top in _steps(rise)]
    # what is much higher hides nothing: a person can fall under it
    flats = [flat for flat in flats if flat[2] <= here + CLOSES and flat[1].intersects(near)]
    found = []
    for name, shape, top in flats:
        above = [own, *(other for _, other, height in flats if height > top)]
        hidden = [other for other in above if other.intersects(shape)]
        hides = hidden[0] if len(hidden) == 1 else union_all(hidden)
        visible = (shape.difference(hides) if hidden else shape).intersection(near)
        if visible.area > _SAME:
            found.append(Surface(name, (FlatPiece(visible, (0.0, 0.0), top, (0.0, 0.0)),)))
    bare = near.difference(union_all([own, *(shape for _, shape, _ in flats)]))
    parts: list[BaseGeometry] = list(intersection([piece.shape for piece in ground], bare)) if ground else []
    open_ground = [
        FlatPiece(shape, piece.base, piece.height, piece.gradient)
        for shape, piece in zip(parts, ground, strict=True)
        if shape.area > _SAME
    ]
    return (*found, Surface("the ground", tuple(open_ground)))


def _lines(shape: BaseGeometry) -> list[Line]:
    """Return the straight lines of a shape, touching ones joined."""
    merged = linemerge(shape) if isinstance(shape, MultiLineString) else shape
    return [line for line in pieces(merged) if distance(*line) >= SHORTEST]


def _in_order(side: Line, parts: list[tuple[Line, bool]]) -> list[tuple[Line, bool]]:
    """Turn the parts of a side the way the side runs, and sort them along it."""
    start = side[0]
    turned: list[tuple[Line, bool]] = []
    for (a, b), required in parts:
        line = (a, b) if distance(start, a) <= distance(start, b) else (b, a)
        turned.append((line, required))
    return sorted(turned, key=lambda part: distance(start, part[0][0]))


def lowest_of(surfaces: tuple[Surface, ...], region: BaseGeometry) -> tuple[float, str] | None:
    """Return the lowest elevation [in] within a region and the name of what lies there."""
    bounds = region.bounds
    near = [
        (part.bound_in(bounds), surface.name, part)
        for surface in surfaces
        for part in surface.parts
        if part.may_meet(bounds)
    ]
    # those that may lie lowest come first, so that most need not be cut to the region at all
    near.sort(key=lambda item: item[0])
    found: list[tuple[float, str]] = []
    for bound, name, part in near:
        if found and bound > min(found)[0] + _SAME:
            break
        low = part.lowest_in(region)
        if low is not None:
            found.append((low, name))
    return min(found, default=None)


def _stretch(
    platform: Platform, line: Line, here: float, low: tuple[float, str] | None, profile: Profile, required: bool,
    units: Units,
) -> GuardStretch:  # fmt: skip
    trigger, look = profile.guard_trigger_drop, profile.guard_lookout
    drop = here - low[0] if low else 0.0
    within = f"within {format_short(look.value, units)} of the edge"
    limit = f"{format_short(trigger.value, units)} ({trigger.source})"
    if required and low:
        reason = f"{format_short(drop, units)} down to {low[1]} {within}, over the {limit}"
    elif low and drop > 0:
        drop = min(drop, trigger.value)
        reason = f"{format_short(drop, units)} down to {low[1]} {within}, not over the {limit}"
    else:
        drop, reason = 0.0, f"nothing lower {within}"
    return GuardStretch(platform.name, line[0], line[1], drop, required, reason)


@lru_cache(maxsize=256)
def _drawn(line: Line) -> LineString:
    """Draw a line once: a side is held against many others."""
    return LineString(line)


@lru_cache(maxsize=256)
def _band(line: Line, half: float) -> BaseGeometry:
    """Return the strip on both sides of a line, square at its ends."""
    return _drawn(line).buffer(half, cap_style="flat")


def _along_side(side: Line, lines: list[Line]) -> list[BaseGeometry]:
    """Return the bands of those lines that run the way a side does."""
    ux, uy = unit(*side)
    beside = _drawn(side)
    runs = [(line, unit(*line)) for line in lines if line[0] != line[1]]
    alike = [line for line, (vx, vy) in runs if abs(ux * vy - uy * vx) < 0.05]
    return [_band(line, TOUCH) for line in alike if _drawn(line).dwithin(beside, TOUCH)]


def closed_along(
    plan: Plan, levels: Levels, here: float, side: Line, but: str = "", leaving: tuple[Line, ...] = ()
) -> BaseGeometry:
    """Return where a side is not open: at walls, at platforms as high or a little higher, where flights leave.

    here [in]: elevation of what the side belongs to; but: name of the platform whose side it is, if it is one's;
    leaving: lines along which flights leave it.
    """
    shapes: list[BaseGeometry] = []
    lines: list[Line] = [part for wall in plan.house.walls for part in pairwise(wall.line)]
    for other in plan.platforms:
        if other.name != but and -_SAME <= levels.elevation(other.name) - here <= CLOSES:
            shapes.append(outline_of(other))
            lines += sides(outline_of(other))
    lines += leaving
    met = [shape for shape in shapes if shape.intersects(_drawn(side))]
    return union_all([*met, *_along_side(side, lines)])


def open_part(side: Line, closed: BaseGeometry) -> BaseGeometry:
    """Return what is left of a side where nothing closes it."""
    whole: BaseGeometry = _drawn(side)
    if closed.is_empty:
        return whole
    shut = [part for part in _lines(closed.intersection(whole)) if distance(*part) > 4 * TOUCH]
    # a line lies on no area, so each shut part is given a little width to take it out with
    return whole.difference(union_all([_band(part, _SAME) for part in shut]))


def _around(
    plan: Plan, levels: Levels, platform: Platform, profile: Profile, ground: tuple[FlatPiece, ...]
) -> Iterator[GuardStretch]:
    shape, here = outline_of(platform), levels.elevation(platform.name)
    look = profile.guard_lookout.value * ROUND
    # a plain box is enough, and quick: what lies beyond the look-out reaches no edge
    x0, y0, x1, y1 = shape.bounds
    near: BaseGeometry = box(x0 - look - 1, y0 - look - 1, x1 + look + 1, y1 + look + 1)
    near = near.difference(behind_walls(plan, shape, 2 * look)) if plan.house.walls else near
    surfaces = surfaces_about(plan, levels, shape, here, near, ground, platform.name)
    threshold = here - profile.guard_trigger_drop.value - _SAME
    deep = [part.below(threshold) for surface in surfaces for part in surface.parts]
    deep = [part for part in deep if not part.is_empty]
    leaving = tuple(rise.along for rise in levels.flights if rise.upper == platform.name and rise.rise > 0)
    danger = union_all(deep).buffer(look, quad_segs=ARC) if deep else Polygon()
    found: list[tuple[Line, bool]] = []
    for side in sides(shape):
        closed = closed_along(plan, levels, here, side, platform.name, leaving)
        open_edge = open_part(side, closed)
        parts = [(line, True) for line in _lines(open_edge.intersection(danger))]
        parts += [(line, False) for line in _lines(open_edge.difference(danger))]
        found += _in_order(side, parts)
    if not found:
        return
    # chords lie inside their circle: a little more where the drop must not be missed
    reaches = [profile.guard_lookout.value * (1.0022 if required else 1.0) for _, required in found]
    regions = buffer(linestrings([line for line, _ in found]), reaches, quad_segs=12)
    for (line, required), region in zip(found, regions, strict=True):
        low = lowest_of(surfaces, region)
        yield _stretch(platform, line, here, low, profile, required, plan.units)


def _around_hole(
    plan: Plan,
    levels: Levels,
    platform: Platform,
    hole: Open,
    profile: Profile,
    ground: tuple[FlatPiece, ...],
) -> Iterator[GuardStretch]:
    """Yield the sides of the wood round a hole, with the drop to what lies below the hole."""
    here, own = levels.elevation(platform.name), outline_of(platform).difference(hole.outline)
    surfaces = surfaces_about(plan, levels, own, here, hole.outline, ground, platform.name)
    low = lowest_of(surfaces, hole.outline)
    required = low is not None and here - low[0] > profile.guard_trigger_drop.value + _SAME
    for side in sides(hole.frame):
        closed = closed_along(plan, levels, here, side, platform.name)
        for line in _lines(open_part(side, closed)):
            yield _beside_hole(platform, hole, line, here, low, profile, required, plan.units)


def _beside_hole(
    platform: Platform, hole: Open, line: Line, here: float, low: tuple[float, str] | None, profile: Profile,
    required: bool, units: Units,
) -> GuardStretch:  # fmt: skip
    trigger = profile.guard_trigger_drop
    limit = f"{format_short(trigger.value, units)} ({trigger.source})"
    drop = max(0.0, here - low[0]) if low else 0.0
    under = low[1] if low else "what lies below"
    reason = f"{hole.named}: {format_short(drop, units)} down to {under}, {'' if required else 'not '}over the {limit}"
    if required and TREE.search(hole.kind):
        passes = format_short(profile.guard_opening.value, units)
        reason += f"; no trunk is counted: none is asked where no sphere over {passes} passes beside it"
    return GuardStretch(platform.name, line[0], line[1], drop, required, reason, hole.number)


def find_guards(plan: Plan, levels: Levels, profile: Profile) -> tuple[GuardStretch, ...]:
    """Return every free stretch of every platform's edge, with its drop and whether a guard is required.

    The drop is to the lowest walking surface (other platforms by their real outlines, treads of flights) or
    ground (as interpolated) anywhere within the profile's look-out of the edge. Edges at house walls and
    where flights leave are not listed. A platform more than 12 in higher hides nothing: a person can fall
    under it. Holes in a platform come after its edges.

    Source: IRC R312.1.1 and its relatives, by the profile; what counts as a hole by R312.1.3.
    """
    ground = ground_about(plan, levels, profile)
    found: list[GuardStretch] = []
    for platform in plan.platforms:
        found += _around(plan, levels, platform, profile, ground)
        for hole in holes_of(platform, profile.guard_opening.value):
            found += _around_hole(plan, levels, platform, hole, profile, ground)
    return tuple(found)


def ground_about(plan: Plan, levels: Levels, profile: Profile) -> tuple[FlatPiece, ...]:
    """Return the ground under and around all platforms and flights, twice the look-out beyond them, as flat pieces."""
    corners = [corner for platform in plan.platforms for corner in platform.outline]
    for rise in levels.flights:
        corners += [(x + rise.down[0] * rise.run, y + rise.down[1] * rise.run) for x, y in rise.along]
    if not corners:
        return ()
    look = 2 * profile.guard_lookout.value
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return flat_pieces(levels.ground, (min(xs) - look, min(ys) - look, max(xs) + look, max(ys) + look))
