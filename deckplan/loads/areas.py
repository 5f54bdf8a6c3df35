"""What a square foot of platform weighs, from its real materials, and what it must carry."""

from __future__ import annotations

from deckplan.engineering.lumber import design_values
from deckplan.layout.frame import Frame
from deckplan.layout.model import Layout, Post
from deckplan.loads.model import AreaLoad
from deckplan.plan.model import Decking, Materials, Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.verdict import Source, Step

WEIGHT_FORMULA = Source("NDS Supplement 2018", "3.1.3", "from memory")
BOARDS = Source("common practice", "weight of boards; the maker's sheet governs", "common practice")

SERVICE_MOISTURE = 25.0
"""Moisture of framing outdoors [%], a middle of 19 to 30. Source: common practice."""

BOARD_DENSITY = {"wood": 38.0, "composite": 60.0}
"""Density of decking boards [lb/cu ft]. Source: common practice; the maker's sheet governs."""


def wood_density(G: float, moisture: float = SERVICE_MOISTURE) -> float:
    """Return the density of wood [lb/cu ft] from its specific gravity G [1] and moisture [%].

    Source: NDS Supplement 2018 3.1.3 (from memory).

    >>> round(wood_density(0.55, 19.0), 1)
    37.3
    """
    return 62.4 * G / (1 + G * 0.009 * moisture) * (1 + moisture / 100)


def board_weight(decking: Decking) -> float:
    """Return what the boards weigh [psf]: as the plan says, else thickness times a usual density, gaps not off."""
    if decking.weight is not None:
        return decking.weight
    return BOARD_DENSITY[decking.kind] * decking.thickness / 12


def framing_weight(materials: Materials, layout: Layout, platform: Platform) -> float:
    """Return what a platform's joists, rims, ledgers and beams weigh [lb]."""
    members = [m for m in layout.of(platform.name) if m.width and m.depth]
    if not members:
        return 0.0
    density = wood_density(design_values(materials.species, materials.grade, "2x8").G)
    volume = sum(m.length * m.width * m.depth for m in members)
    return density * volume / 1728


def post_weight(plan: Plan, post: Post) -> float:
    """Return what a post weighs [lb]."""
    density = wood_density(design_values(plan.materials.species, plan.materials.grade, post.size).G)
    return density * max(0.0, post.height) * post.width**2 / 1728


def area_load(plan: Plan, profile: Profile, layout: Layout, platform: Platform) -> AreaLoad:
    """Return a platform's loads [psf] with the sum: real materials, never under the rule's minimum."""
    square_feet = Frame.of(platform).surface / 144
    boards = board_weight(plan.materials.decking)
    frame = framing_weight(plan.materials, layout, platform) / square_feet
    least = profile.dead_load_min
    dead = max(least.value, boards + frame)
    live = profile.live_load.value if plan.site.live_load is None else plan.site.live_load
    steps = (
        Step("w_boards", "weight of the boards", "", "", boards, "psf", BOARDS),
        Step("w_frame", "weight of joists, rims and beams over the area", "", "", frame, "psf", WEIGHT_FORMULA),
        Step(
            "D", "dead load, at least the rule's minimum", f"max(w_boards + w_frame, {least.value:g})",
            f"max({boards:.2f} + {frame:.2f}, {least.value:g})", dead, "psf", least.source,
        ),
        Step("L", "live load", "", "", live, "psf", profile.live_load.source),
    )  # fmt: skip
    return AreaLoad(dead, live, plan.site.snow_load, square_feet, steps)
