"""What a level is used for, where that leaves the rules: tubs, roofs, heavy planters, fire, crowds, height, soil."""

from __future__ import annotations

import re

from deckplan.checks.heavy_uses import ENGINEER, check_heavy_uses
from deckplan.geometry import area
from deckplan.layout.parts import height_over_ground
from deckplan.levels.model import Levels
from deckplan.loads.model import Loads
from deckplan.plan.model import Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import format_short
from deckplan.verdict import Check, Source, Step, Verdict, at_most, not_applicable, outside

TUB = re.compile(r"\b(hot[ -]?tub|tub|spa|plunge pool)s?\b", re.IGNORECASE)
ROOF = re.compile(
    r"\b(roof\w*|pergola|pavilion|gazebo|canopy|awning|covered|porch|screened|sunroom|enclosed)s?\b",
    re.IGNORECASE,
)
PLANTER = re.compile(r"\b(planting|planters?|raised beds?)\b", re.IGNORECASE)
FIRE = re.compile(
    r"\b(fire(?!wood|fl)\w*|bonfire|campfire|brazier|chiminea"
    r"|((wood|pellet|log)[ -]?)?(stove|burner)|(pizza|bread|clay) oven)s?\b",
    re.IGNORECASE,
)
WOOD_FIRE = re.compile(
    r"\b(wood|logs?|bonfire|campfire|open fire|charcoal|wood(stove|burner)s?)\b", re.IGNORECASE
)
GAS_FIRE = re.compile(r"\b(gas|propane|electric)\b", re.IGNORECASE)
RETAINING = re.compile(r"\bretain\w*\b", re.IGNORECASE)

TUB_WEIGHT, TUB_SIDE = 6500.0, 96.0
"""A filled tub with people in it [lb] and its side [in]. Source: common practice; the maker's sheet governs."""

WET_SOIL = 120.0
"""Weight of wet soil [lb/cu ft]. Source: common practice."""

PLANTER_DEPTH = 12.0
"""Depth of soil that a planter is taken to have [in]. Source: common practice."""

PERSON = 200.0
"""Weight of a grown person with what they carry [lb]. Source: common practice."""

LEAST_SOIL = 1500.0
"""Least presumptive soil bearing of the code's table [psf]. Source: IRC Table R401.4.1 (two published copies)."""

ARITHMETIC = Source("Arithmetic", "weight over area", "derived")
BURNING = Source("Local fire rules", "no wood fire on a combustible deck", "code text of some places")
LISTED = Source("Maker's instructions", "listed gas appliance", "common practice")
SOIL = Source("IRC 2021", "Table R401.4.1", "two published copies")


def pressure(weight: float, width: float, depth: float) -> float:
    """Return what a weight [lb] on a rectangle, width by depth [in], presses with [psf].

    Source: arithmetic. An 8 by 8 ft tub of 6,500 lb:

    >>> round(pressure(6500.0, 96.0, 96.0))
    102
    """
    return weight / (width * depth / 144)


def check_uses(plan: Plan, profile: Profile, levels: Levels, loads: Loads) -> list[Check]:
    """Check what every level is used for, how high it stands, how many stand on it, and the soil below."""
    found: list[Check] = []
    for platform in plan.platforms:
        mark, live = platform.name, loads.areas[platform.name].live
        found += [
            *_heavy(mark, platform, live),
            *check_heavy_uses(mark, platform, live),
            *_fire(mark, platform),
            _height(plan, profile, levels, mark, platform),
        ]
        if platform.people:
            found.append(_people(mark, platform, live))
    if plan.site.soil_bearing < LEAST_SOIL:
        reason = f"soil of {plan.site.soil_bearing:g} psf is weaker than any in the table: a soils engineer decides"
        found.append(
            outside(
                "soil",
                "soil bearing",
                SOIL,
                reason,
                demand=LEAST_SOIL,
                capacity=plan.site.soil_bearing,
                unit="psf",
            )
        )
    return found


def _heavy(mark: str, platform: Platform, live: float) -> list[Check]:
    """Tubs, roofs, planters, retaining: loads that the area load does not stand for."""
    use, name = platform.use, platform.name
    found: list[Check] = []
    if word := TUB.search(use):
        asked = pressure(TUB_WEIGHT, TUB_SIDE, TUB_SIDE)
        line = _step("q", "a tub 8 by 8 ft, filled, of 6,500 lb", "W / (a b)", "6500 / (8 × 8)", asked, "psf")
        reason = (
            f'"{name}" carries a {word[0]}: {asked:.0f} psf for one of 8 by 8 ft against {live:g} psf; '
            f"an engineer designs the frame, posts and footings under it"
        )
        found.append(outside(mark, "tub on the deck", ENGINEER, reason, demand=asked, capacity=live, unit="psf",
                             steps=(line,)))  # fmt: skip
    if word := ROOF.search(use):
        reason = f'"{name}" carries a roof or walls ({word[0]}): snow, wind and uplift on them are not in these rules'
        found.append(outside(mark, "roof on the deck", ENGINEER, reason))
    if RETAINING.search(use):
        reason = f'"{name}" holds back earth: no rule here covers its push'
        found.append(outside(mark, "earth held back", ENGINEER, reason))
    if word := PLANTER.search(use):
        found.append(_planter(mark, platform, live))
    return found


def _planter(mark: str, platform: Platform, live: float) -> Check:
    """Soil a foot deep against the live load: the level may be designed for it."""
    asked = WET_SOIL * PLANTER_DEPTH / 12
    line = _step("q", "wet soil a foot deep", "γ t", f"{WET_SOIL:g} × {PLANTER_DEPTH:g}/12", asked, "psf")
    if asked <= live:
        return at_most(mark, "planters", ENGINEER, asked, live, "psf", (line,))
    deep = 12 * live / WET_SOIL
    reason = (
        f'"{platform.name}" has planters: {live:g} psf is {deep:.1f} in of wet soil and nobody on it; deeper ones '
        f"want a frame designed for them"
    )
    return outside(mark, "planters", ENGINEER, reason, demand=asked, capacity=live, unit="psf", steps=(line,))


def _fire(mark: str, platform: Platform) -> list[Check]:
    use, name, rule = platform.use, platform.name, "fire on a combustible deck"
    if not FIRE.search(use):
        return []
    if WOOD_FIRE.search(use):
        reason = f'"{name}": no wood fire on a combustible deck, and 10 to 25 ft from structures by town'
        return [Check(mark, rule, BURNING, None, None, "", Verdict.FAIL, (), False, "", reason)]
    if GAS_FIRE.search(use):
        reason = f'"{name}": a listed appliance stands as its instructions say'
        return [not_applicable(mark, rule, LISTED, reason)]
    reason = (
        f'"{name}": no rule here covers a fire; a wood fire is never allowed on a combustible deck, a listed gas '
        f'appliance goes by its instructions (say "gas fire")'
    )
    return [outside(mark, rule, BURNING, reason)]


def _height(plan: Plan, profile: Profile, levels: Levels, mark: str, platform: Platform) -> Check:
    """A level higher than the tallest post of the tables is for an engineer, whatever its posts are."""
    cap = max(profile.post_height_caps.values(), key=lambda limit: limit.value)
    # one that lies below the ground is told so by the checks of its frame; its height is nothing
    height, rule = max(0.0, height_over_ground(levels, platform)), "level within the height of the tables"
    line = Step("h", "height over the lowest ground at its corners", "", "", height, "in", cap.source)
    if height <= cap.value:
        return at_most(mark, rule, cap.source, height, cap.value, "in", (line,))
    units = plan.units
    reason = (
        f'"{platform.name}" stands {format_short(height, units)} over the ground, the tables end at '
        f"{format_short(cap.value, units)}: sway and wind decide, an engineer designs it"
    )
    return outside(
        mark, rule, cap.source, reason, demand=height, capacity=cap.value, unit="in", steps=(line,)
    )


def _people(mark: str, platform: Platform, live: float) -> Check:
    square_feet = abs(area(platform.outline)) / 144
    asked = platform.people * PERSON / square_feet
    line = _step(
        "q", f"{platform.people} people of {PERSON:g} lb on {square_feet:.4g} sq ft", "n W / A",
        f"{platform.people} × {PERSON:g} / {square_feet:.5g}", asked, "psf",
    )  # fmt: skip
    reason = f'"{platform.name}": {platform.people} people weigh {asked:.0f} psf, more than the {live:g} psf it is for'
    return at_most(mark, "people as an area load", ARITHMETIC, asked, live, "psf", (line,), reason=reason)


def _step(symbol: str, words: str, formula: str, numbers: str, value: float, unit: str) -> Step:
    return Step(symbol, words, formula, numbers, value, unit, ARITHMETIC)
