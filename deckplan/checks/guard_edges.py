"""Edge joists under a lean on the guard: the post turns the blocking behind it, which pushes joists down and up.

::

        lean ->| e
      edge  |==|=blocks=|  next, and so on
      joist v           ^ joist
            |<--- s --->|     V = P e / s: blocking over more bays pushes less on each joist
"""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.checks.bending_members import BENDING
from deckplan.checks.guards import DURATION
from deckplan.checks.joists import joist_wood
from deckplan.checks.tip_loads import lever_of_a_lean
from deckplan.engineering.bending import bending_capacity
from deckplan.engineering.factors import Service, adjusted
from deckplan.engineering.statics import analyse_beam
from deckplan.geometry import point_to_line
from deckplan.layout.joists import JOIST_THICKNESS
from deckplan.layout.model import GuardPostPlace, Kind, Layout, Member
from deckplan.loads.model import Demand, Loads
from deckplan.plan.model import Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, Verdict, at_most

RULE = "edge joist under a lean on the guard"
STATICS = Source("statics", "the lean's moment as a pair of forces on two joists", "derived")

MOST_BAYS = 4
"""Bays over which blocking behind a guard post is tried. Source: common practice, one or two."""

AT_EDGE = 6.0
"""An edge joist lies within this of a guard post's middle [in]. Source: geometry of 4x4 posts inside the rim."""


@dataclass(frozen=True, slots=True)
class EdgePost:
    """A guard post between blocks on an edge joist: where along that it stands, and the bay of its blocks [in]."""

    post: GuardPostPlace
    joist: Member
    at: float
    bay: float


def check_edge_leans(plan: Plan, profile: Profile, layout: Layout, loads: Loads) -> list[Check]:
    """Check every edge joist that guard posts stand on away from its ends; the hardest post speaks.

    Source: IRC Table R301.5, by the profile; statics; NDS 2018 3.3, Table 2.3.2.
    """
    hardest: dict[str, Check] = {}
    platforms = {platform.name: platform for platform in plan.platforms}
    for post in layout.guard_posts:
        edge = None if post.against else _edge_post(layout, post)
        demand = loads.demands.get(edge.joist.mark) if edge else None
        if edge is None or demand is None:
            continue
        check = _check(plan, profile, platforms[post.platform], edge, demand)
        known = hardest.get(check.mark)
        if known is None or (check.demand or 0.0) > (known.demand or 0.0):
            hardest[check.mark] = check
    return list(hardest.values())


def _edge_post(layout: Layout, post: GuardPostPlace) -> EdgePost | None:
    joists = layout.of(post.platform, Kind.JOIST)
    joist = min(joists, key=lambda each: point_to_line(post.at, each.line), default=None)
    blocks = [layout.by_mark[mark] for mark in post.blocking]
    bays = [block.length + JOIST_THICKNESS for block in blocks if isinstance(block, Member)]
    if joist is None or not bays or point_to_line(post.at, joist.line) > AT_EDGE:
        return None
    (x0, y0), (x1, y1) = joist.line
    at = ((post.at[0] - x0) * (x1 - x0) + (post.at[1] - y0) * (y1 - y0)) / joist.length
    return EdgePost(post, joist, min(joist.length, max(0.0, at)), min(bays))


def _check(plan: Plan, profile: Profile, platform: Platform, edge: EdgePost, demand: Demand) -> Check:
    """Check one edge joist, the blocking over as many bays as it takes."""
    wood = joist_wood(plan, edge.joist.size, platform.joists.spacing)
    # one joist alone carries it: no C_r
    service = Service(DURATION, wood.wet, wood.incised)
    capacity = bending_capacity(adjusted(wood.values, wood.size, service), wood.size)
    lever, push = lever_of_a_lean(plan, profile, edge.joist), profile.guard_load
    for bays in range(1, MOST_BAYS + 1):
        reach = edge.bay + (bays - 1) * platform.joists.spacing
        force = push.value * lever / reach
        moment = _largest(demand, edge.at, force)
        if moment <= capacity.value:
            break
    over = f"{bays} bays on" if bays > 1 else "at the next joist"
    steps = (
        Step("e", f"from the rail to the middle of the joist, {edge.post.mark}", "h + boards + d/2",
             f"{profile.guard_height.value:g} + {plan.materials.decking.thickness:g} + {edge.joist.depth:g}/2", lever,
             "in", profile.guard_height.source),
        Step("V", f"on the edge joist {edge.at:.4g} in from its start, the other end of the blocks s away, {over}",
             "P e / s", f"{push.value:g} × {lever:.5g} / {reach:.4g}", force, "lb", push.source),
        Step("M", "largest moment under V and the dead load", "statics", "", moment, "lb in", STATICS),
        *capacity.steps,
    )  # fmt: skip
    mark = edge.joist.mark
    weak = f"{mark} bends too far under a lean at {edge.post.mark}: a post against a joist's end, or a deeper joist"
    if moment > capacity.value or bays == 1:
        return at_most(
            mark, RULE, BENDING, moment, capacity.value, "lb in", steps, combination="D + a lean", reason=weak
        )
    required = f"required: the blocking at {edge.post.mark} runs on in line over {bays} bays of joists"
    return Check(
        mark,
        RULE,
        BENDING,
        moment,
        capacity.value,
        "lb in",
        Verdict.PASS,
        steps,
        False,
        "D + a lean",
        required,
    )


def _largest(demand: Demand, at: float, force: float) -> float:
    """Return the largest moment [lb in], sagging or hogging, of dead load and a force at a place [in].

    A lean the other way pushes up: less, for the dead load works against it.
    """
    analysis = demand.analysis
    uniform = [(start, min(end, analysis.length), *parts) for start, end, *parts in demand.uniform]
    points = [(min(where, analysis.length), *parts) for where, *parts in demand.points]
    bent = analyse_beam(
        analysis.length, analysis.supports, uniform, [*points, (at, force, 0.0)], live_factor=0.0
    )
    return max(bent.moment_max.value, -bent.moment_min.value)
