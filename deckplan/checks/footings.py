"""Footings: the size that each post's load asks for, and the checks of that size."""

from __future__ import annotations

import math
from dataclasses import dataclass

from deckplan.engineering.concrete import (
    CONCRETE_WEIGHT,
    footing_size,
    footing_volume,
    thickness_of,
    uplift_capacity,
)
from deckplan.engineering.prescriptive import soils_that_bear
from deckplan.errors import RangeError
from deckplan.geometry import Point
from deckplan.layout.model import Pad
from deckplan.levels.model import Rise
from deckplan.loads.model import Force
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check, Source, Step, at_least, at_most, outside

PIER_SEAT = 5.5
"""Width of the bracket on a flight's pier [in]: an 8 in forming tube holds it. Source: common practice."""

LEAST_LOAD = 1.0
"""What a post that nothing rests on is sized for [lb]: its footing then follows from the post alone."""

LEAST_UPLIFT = 5.0
"""Uplift of a post under this is float and nails [lb]."""

WIDEST = 240.0
"""Diameter at which the sizing gives up [in]; the check then fails with its sum."""

WEIGHT = Source("statics", "concrete 150 pcf, soil 110 pcf (common practice)", "common practice")
WIDER = Source("AWC DCA6-2012", "Table 4; ACI 318-14 chapter 14", "derived")
SOIL = Source("IRC 2018", "R401.4.1, R403.1", "two published copies")


@dataclass(frozen=True, slots=True)
class FootingDesign:
    """A round footing under a post, or under a flight where `post` is empty.

    at: place [in]; diameter, thickness [in]; top, bottom: elevations [in];
    load [lb]: with every live load on, for the balance; design [lb]: live load where it hurts, what sizes it;
    also: the other posts on it, where levels share it.
    """

    mark: str
    post: str
    at: Point
    diameter: float
    thickness: float
    top: float
    bottom: float
    load: float
    design: float
    also: tuple[str, ...] = ()

    @property
    def concrete(self) -> float:
        """Concrete, cast to its full depth [cu ft]."""
        return footing_volume(self.diameter, self.top - self.bottom, "round")

    @property
    def posts(self) -> tuple[str, ...]:
        """Marks of all the posts on it, none under a flight."""
        return (self.post, *self.also) if self.post else ()


def pier_load(plan: Plan, profile: Profile, rise: Rise, piers: int) -> Force:
    """Return what one pier of a flight carries: boxes stand on theirs alone, stringers hand half to their foot.

    One heavy step may stand right over it.
    """
    share = (0.5 if rise.kind == "stringer" else 1.0) * rise.width * rise.run / 144 / piers
    dead, live = profile.dead_load_min.value * share, profile.stair_live_load.value * share
    snow = plan.site.snow_load * share
    return Force(dead, live, snow, max(live, profile.tread_point_load.value), snow, dead)


def design_footing(
    plan: Plan, profile: Profile, pad: Pad, post: str, width: float, force: Force, weight: float = 0.0
) -> tuple[FootingDesign, list[Check]]:
    """Size one footing under a post or bracket of a width [in]; check the pressure under it and its depth.

    weight [lb]: of the post itself.
    """
    load, combination = force.governing
    load += weight
    soil = plan.site.soil_bearing
    try:
        size = footing_size(max(load, LEAST_LOAD), soil, post=width)
    except RangeError as error:
        return _no_pad(pad, post, force, load, soil, str(error))
    # the whole post stands on the concrete
    diameter: float = max(size.diameter, math.ceil(width * 2**0.5))
    while True:
        thickness = max(size.thickness, thickness_of(max(load, LEAST_LOAD), diameter, width))
        bottom = min(pad.bottom, pad.top - thickness)
        depth = pad.top - bottom
        pressure = _pressure(load, diameter, thickness, depth)
        # what lifts the post is held by the pier's weight: it is made as heavy as that takes
        light = force.uplift > max(LEAST_UPLIFT, _holds_down(diameter, depth))
        if not (pressure > soil or light) or diameter >= WIDEST:
            break
        diameter += 1.0
    footing = FootingDesign(pad.mark, post, pad.at, diameter, thickness, pad.top, bottom, force.full, load)
    own = own_weight(thickness, depth)
    pad_weight = f"{CONCRETE_WEIGHT:g} × {thickness:g}/12"
    pier_weight = f"({CONCRETE_WEIGHT:g} − {SOIL_WEIGHT:g}) × {depth:g}/12"
    area = f"(π ({diameter:g}/24)²)"
    wider = () if thickness == size.thickness else (
        Step("t", "thickness of the wider pad: its projection, up to a whole inch, or what plain concrete needs",
             "(D − post) / 2", f"({diameter:g} − {width:g}) / 2", thickness, "in", WIDER),
    )  # fmt: skip
    lines = (
        *wider,
        Step("w", "own weight: of the pad, or of the whole pier less the soil it displaces, the larger", "",
             f"max({pad_weight}, {pier_weight})", own, "psf", WEIGHT),
        Step("q", "pressure under the footing with its own weight", "P / A + w", f"{load:.5g} / {area} + {own:.4g}",
             pressure, "psf", SOIL),
    )  # fmt: skip
    least = profile.footing_depth_min
    checks = [
        at_most(
            pad.mark,
            "soil pressure",
            SOIL,
            pressure,
            soil,
            "psf",
            (soil_step(plan), *size.steps, *lines),
            combination=combination,
        ),
        at_least(
            pad.mark, "depth of the footing", least.source, pad.top - bottom, pad.top - pad.bottom, "in"
        ),
    ]
    return footing, checks


def soil_step(plan: Plan) -> Step:
    """Say what the soil is taken to bear and whose word that is: the plan's, the code's table for a class of soils."""
    soil = plan.site.soil_bearing
    said = (
        "as the plan says"
        if "soil_bearing" in plan.site.model_fields_set
        else "assumed, not confirmed by a soil test"
    )
    known = soils_that_bear(soil)
    if known is None:
        return Step(
            "q", f"what the soil bears, {said}", "", "", soil, "psf", Source("the plan", "site.soil_bearing")
        )
    soils, source = known
    return Step(
        "q", f"what the soil bears, {said}: the table's figure for {soils}", "", "", soil, "psf", source
    )


SOIL_WEIGHT = 110.0
"""Weight of the soil that a pier takes the place of [lb/cu ft]. Source: common practice."""


def own_weight(thickness: float, depth: float) -> float:
    """Return what the footing itself adds [psf]: the pad as the tables count it, or the whole pier less its soil."""
    return max(CONCRETE_WEIGHT * thickness, (CONCRETE_WEIGHT - SOIL_WEIGHT) * depth) / 12


def _holds_down(diameter: float, depth: float) -> float:
    """Return the uplift [lb] that a round pier's own weight holds; diameter, depth [in]."""
    return uplift_capacity(diameter, depth, "round").value


def _pressure(load: float, diameter: float, thickness: float, depth: float) -> float:
    """Return the pressure [psf] under a round footing; load [lb], diameter, thickness and depth [in].

    A footing that is lifted by more than it weighs presses on nothing; what holds it down is a check of its own.
    """
    return max(0.0, load / (math.pi * (diameter / 24) ** 2) + own_weight(thickness, depth))


def _no_pad(
    pad: Pad, post: str, force: Force, load: float, soil: float, reason: str
) -> tuple[FootingDesign, list[Check]]:
    """Return the bare area's footing where a plain pad is no answer, and say that an engineer must find one."""
    diameter = float(math.ceil((load / soil * 4 / math.pi) ** 0.5 * 12))
    footing = FootingDesign(
        pad.mark, post, pad.at, diameter, pad.top - pad.bottom, pad.top, pad.bottom, force.full, load
    )
    words = f"{pad.mark}: {reason}: more posts, better soil, or an engineer's footing"
    return footing, [outside(pad.mark, "soil pressure", SOIL, words, demand=load, unit="lb")]
