"""Why a ledger finds no edge of its platform on its wall, in words that say what to move or turn."""

from __future__ import annotations

import math
from itertools import pairwise

from deckplan.geometry import Line, point_to_line, unit
from deckplan.layout.frame import ON_LINE, Frame, angle_to_joists
from deckplan.layout.supports import AT_WALL
from deckplan.plan.model import House, Ledger, Platform
from deckplan.plan.sense_beams import LEAST_ANGLE, NEARLY
from deckplan.units import Units, format_short

PARALLEL = 1.0
"""An edge within this angle of a wall [degrees] was meant to lie along it. Source: our own choice."""


def joists_in_words(platform: Platform) -> str:
    """Say how a platform's joists run: along x, along y, or at an angle to x."""
    direction = platform.joists.direction
    if direction in ("x", "y"):
        return f"along {direction}"
    degrees = float(direction) % 180
    return {0.0: "along x", 90.0: "along y"}.get(degrees, f"at {degrees:g} degrees to x")


def off_its_wall(platform: Platform, frame: Frame, house: House, ledger: Ledger, units: Units) -> str:
    """Say how the edges of a platform lie to the wall of a ledger that none of them lies on."""
    wall = next((wall for wall in house.walls if wall.name == ledger.wall), None)
    named, joists = f'wall "{ledger.wall}"', joists_in_words(platform)
    if wall is None:
        return f"the house has no {named}"
    lines = [(frame.local(a), frame.local(b)) for a, b in pairwise(wall.line)]
    beside = [
        (_apart(edge, line), angle_to_joists(*edge), _between(edge, line))
        for line in lines
        for edge in frame.edges
        if _between(edge, line) <= PARALLEL and _shared(edge, line) > ON_LINE
    ]
    flat = [angle for apart, angle, _ in beside if apart <= AT_WALL and angle < LEAST_ANGLE - NEARLY]
    if flat:
        return (
            f"the edge on {named} lies at {flat[0]:.3g} degrees to the joists, which run {joists}; a ledger wants "
            f"{LEAST_ANGLE:g} degrees or more: turn the joists, or leave the ledger out"
        )
    steep = [(apart, turn) for apart, angle, turn in beside if angle >= LEAST_ANGLE - NEARLY]
    if not steep:
        apart = min(_apart(edge, line) for line in lines for edge in frame.edges)
        return (
            f"no edge that meets the joists (they run {joists}) at {LEAST_ANGLE:g} degrees or more runs beside "
            f"{named}, and the outline comes no nearer to it than {format_short(apart, units)}: move the outline to "
            f"the wall, or turn the joists"
        )
    apart, turn = min(steep)
    if apart <= AT_WALL:
        return f"the nearest edge runs {turn:.2g} degrees askew to {named}: bring the two into line"
    return (
        f"the nearest edge that can carry one stands {format_short(apart, units)} off {named} (the joists run "
        f"{joists}): move the outline to the wall"
    )


def _apart(edge: Line, line: Line) -> float:
    """Return how far two stretches that do not cross stand apart [in]."""
    return min(*(point_to_line(end, line) for end in edge), *(point_to_line(end, edge) for end in line))


def _between(edge: Line, line: Line) -> float:
    """Return the angle between two stretches [degrees], 0 to 90."""
    (ax, ay), (bx, by) = unit(*edge), unit(*line)
    return math.degrees(math.atan2(abs(ax * by - ay * bx), abs(ax * bx + ay * by)))


def _shared(edge: Line, line: Line) -> float:
    """Return the length over which two stretches lie beside each other [in], nothing or less where they do not."""
    (x, y), (ux, uy) = line[0], unit(*line)
    along = [[(px - x) * ux + (py - y) * uy for px, py in each] for each in (edge, line)]
    return min(max(each) for each in along) - max(min(each) for each in along)
