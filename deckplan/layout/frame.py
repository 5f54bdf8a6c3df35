"""The frame a platform is set out in: u across the joists, v along them, both from the platform's lowest corner.

Setting out happens in these two coordinates, so that joists at any angle are as simple as joists along y::

        v (along the joists)
        ^
        |   |   |   |   |      joists
        |   |   |   |   |
        +---+---+---+---+--> u (across)
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from deckplan.geometry import Point, area
from deckplan.plan.model import Platform
from deckplan.plan.sense_beams import LEAST_ANGLE, NEARLY

Interval = tuple[float, float]

DOUBLED = 3.0
"""Thickness of a doubled piece of two-inch lumber [in]: headers and trimmers round an opening."""


@dataclass(frozen=True, slots=True)
class Run:
    """A straight line across the joists: v where u is 0 [in], and by how much v rises for each inch of u [1]."""

    v: float
    slope: float = 0.0

    @classmethod
    def through(cls, a: Point, b: Point) -> Run | None:
        """Return the line through two places of a frame [in], None where it lies too flat along the joists."""
        if a == b or angle_to_joists(a, b) < LEAST_ANGLE - NEARLY:
            return None
        slope = (b[1] - a[1]) / (b[0] - a[0])
        slope = 0.0 if abs(slope) < 1e-9 else slope
        return cls(a[1] - slope * a[0], slope)

    def at(self, u: float) -> float:
        """Return its v [in] at a place across [in]."""
        return self.v + self.slope * u

    @property
    def secant(self) -> float:
        """Its own length for each inch of u [1]: one over the cosine of the skew."""
        return math.hypot(1.0, self.slope)

    @property
    def skew(self) -> float:
        """Angle by which it departs from square across the joists [degrees], negative where v falls as u grows."""
        return math.degrees(math.atan(self.slope))

    def off(self, u: float, v: float) -> float:
        """Return how far a place lies from it, square to it [in]."""
        return abs(v - self.at(u)) / self.secant


def angle_to_joists(a: Point, b: Point) -> float:
    """Return the angle between the joists and the line through two places of a frame [degrees], 0 to 90.

    >>> round(angle_to_joists((0.0, 0.0), (12.0, 12.0)), 3)
    45.0
    """
    return math.degrees(math.atan2(abs(b[0] - a[0]), abs(b[1] - a[1])))


@dataclass(frozen=True, slots=True)
class Hole:
    """A framed opening in a platform's coordinates [in]: clear from u0 to u1 and from v0 to v1."""

    u0: float
    v0: float
    u1: float
    v1: float

    @property
    def area(self) -> float:
        """Clear area [in2]."""
        return (self.u1 - self.u0) * (self.v1 - self.v0)


# Corners closer to a line than this lie on it [in]: well under a sixteenth, well over float noise.
ON_LINE = 1e-6


def joist_direction(platform: Platform) -> Point:
    """Return the unit vector along the joists; quarter turns are exact."""
    direction = platform.joists.direction
    if direction == "y":
        return (0.0, 1.0)
    if direction == "x":
        return (1.0, 0.0)
    quarter, rest = divmod(float(direction), 90.0)
    if rest == 0:
        return ((1.0, 0.0), (0.0, 1.0))[int(quarter) % 2]
    radians = math.radians(float(direction) % 180.0)
    return (math.cos(radians), math.sin(radians))


@dataclass(frozen=True)
class Frame:
    """A platform's outline in its own coordinates, and the way back to the site's.

    across, along: unit vectors of u and v in the site; low: lowest u and v of the outline [in]; corners: the outline
    as (u, v) from there [in].
    """

    across: Point
    along: Point
    low: Point
    corners: tuple[Point, ...]
    holes: tuple[Hole, ...] = ()

    @classmethod
    def of(cls, platform: Platform) -> Frame:
        """Return the frame of a platform."""
        openings = tuple(opening.outline for opening in platform.openings)
        return _frame(joist_direction(platform), platform.outline, openings)

    def site(self, u: float, v: float) -> Point:
        """Return the place on the site [in] of a place in the frame [in]."""
        u, v = u + self.low[0], v + self.low[1]
        return (u * self.across[0] + v * self.along[0] + 0.0, u * self.across[1] + v * self.along[1] + 0.0)

    def local(self, point: Point) -> Point:
        """Return the place in the frame [in] of a place on the site [in]."""
        x, y = point
        return (
            x * self.across[0] + y * self.across[1] - self.low[0],
            x * self.along[0] + y * self.along[1] - self.low[1],
        )

    @cached_property
    def left(self) -> float:
        """1 where what lies to the left of the joists has the lower u, -1 where it has the higher."""
        return 1.0 if self.across[0] * self.along[1] - self.across[1] * self.along[0] > 0 else -1.0

    @cached_property
    def turn(self) -> float:
        """1 where the outline runs to the left in the frame, -1 where it runs to the right."""
        return 1.0 if area(self.corners) > 0 else -1.0

    @cached_property
    def width(self) -> float:
        """Size across the joists [in]."""
        return max(u for u, _ in self.corners)

    @cached_property
    def depth(self) -> float:
        """Size along the joists [in]."""
        return max(v for _, v in self.corners)

    @cached_property
    def edges(self) -> tuple[tuple[Point, Point], ...]:
        """The outline's edges in order, as pairs of corners."""
        return tuple(zip(self.corners, self.corners[1:] + self.corners[:1], strict=True))

    def along_at(self, u: float) -> tuple[Interval, ...]:
        """Return the stretches of v [in] inside the outline on the line across at u [in], lowest first."""
        return crossings(self.corners, u)

    def wood_at(self, u: float) -> tuple[Interval, ...]:
        """Return the stretches of v [in] where a joist at u can run: inside the outline, up to the headers."""
        stretches = list(self.along_at(u))
        for hole in self.holes:
            if not hole.u0 < u < hole.u1:
                continue
            cut: list[Interval] = []
            for low, high in stretches:
                cut += [(low, min(high, hole.v0 - DOUBLED)), (max(low, hole.v1 + DOUBLED), high)]
            stretches = [(low, high) for low, high in cut if high - low > ON_LINE]
        return tuple(stretches)

    @cached_property
    def surface(self) -> float:
        """Area of the outline without its openings [in2]."""
        return abs(area(self.corners)) - sum(hole.area for hole in self.holes)

    def across_at(self, v: float) -> tuple[Interval, ...]:
        """Return the stretches of u [in] inside the outline on the line at v [in], lowest first."""
        return self.across_on(Run(v))

    def across_on(self, run: Run) -> tuple[Interval, ...]:
        """Return the stretches of u [in] inside the outline on a line across, lowest first."""
        # shearing the outline until the line lies square leaves every u where it is
        return crossings(tuple((v - run.slope * u, u) for u, v in self.corners), run.v)


@lru_cache(maxsize=256)
def _frame(along: Point, outline: tuple[Point, ...], openings: tuple[tuple[Point, ...], ...]) -> Frame:
    """Set up a frame once: every stage of a study asks for it."""
    across = (along[1], -along[0])
    # u grows to the right, or away from the house where it cannot
    if across[0] < -1e-12 or (abs(across[0]) <= 1e-12 and across[1] < 0):
        across = (-across[0], -across[1])
    raw = [(x * across[0] + y * across[1], x * along[0] + y * along[1]) for x, y in outline]
    low = (min(u for u, _ in raw), min(v for _, v in raw))
    corners = _straight([(u - low[0], v - low[1]) for u, v in raw])
    bare = Frame(across, along, low, corners)
    holes = []
    for opening in openings:
        places = [bare.local(corner) for corner in opening]
        us, vs = [u for u, _ in places], [v for _, v in places]
        low_u, high_u = max(0.0, min(us)), min(bare.width, max(us))
        low_v, high_v = max(0.0, min(vs)), min(bare.depth, max(vs))
        if high_u - low_u > ON_LINE and high_v - low_v > ON_LINE:
            holes.append(Hole(low_u, low_v, high_u, high_v))
    return replace(bare, holes=tuple(holes))


TAPE = 0.25
"""An edge that leans off the joists by no more than this runs along them [in]: what a tape leaves open, and degrees."""


def _straight(corners: list[Point]) -> tuple[Point, ...]:
    """Let edges that run along the joists but for a tape's slack run along them."""
    for index in range(len(corners)):
        (there, far), (u, v) = corners[index - 1], corners[index]
        if ON_LINE < abs(u - there) <= TAPE and abs(v - far) > 10 * TAPE:
            middle = 0.0 if min(u, there) <= ON_LINE else (u + there) / 2
            # all that stands on either line comes along: an edge straightened before stays so
            corners = [(middle if at in (u, there) else at, along) for at, along in corners]
    return tuple(corners)


def crossings(corners: tuple[Point, ...], at: float) -> tuple[Interval, ...]:
    """Return where the line first coordinate = at runs inside the polygon, as stretches of the second one.

    A line that lies on an edge is moved inward by a hair: the stretch along an outer edge counts as inside.
    """
    low, high = min(c[0] for c in corners), max(c[0] for c in corners)
    if at < low - ON_LINE or at > high + ON_LINE:
        return ()
    at = min(max(at, low + 2 * ON_LINE), high - 2 * ON_LINE)
    if any(abs(c[0] - at) <= ON_LINE for c in corners):
        at += 2 * ON_LINE
    found = []
    for (a0, b0), (a1, b1) in zip(corners, corners[1:] + corners[:1], strict=True):
        if (a0 > at) != (a1 > at):
            found.append(b0 + (b1 - b0) * (at - a0) / (a1 - a0))
    found.sort()
    return tuple(
        (low, high) for low, high in zip(found[::2], found[1::2], strict=True) if high - low > ON_LINE
    )
