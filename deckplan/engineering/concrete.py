"""Footings: size on the soil with their own weight, thickness, plain concrete, uplift.

   | post |
 __|      |__          projection on each side <= thickness
|____________|         soil pressure (P + own weight) / area
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from deckplan.engineering.answers import Capacity, step
from deckplan.engineering.factors import root
from deckplan.errors import RangeError
from deckplan.verdict import Step

Shape = Literal["round", "square"]

CONCRETE_WEIGHT = 150.0  # [pcf] AWC DCA6-2012 Table 4 note 2
PLAIN_STRENGTH_FACTOR = 0.60  # phi, ACI 318-14 21.2.1
LOAD_FACTOR = 1.6  # ACI 318-14 5.3.1 on live load; we put it on the whole load
SOIL_SKIN = 2.0  # [in] of thickness not counted against soil, ACI 318-14 14.5.1.7
LEAST_THICKNESS = 6  # [in] IRC R403.1.1 (from memory)
_DCA6 = "AWC DCA6-2012"


@dataclass(frozen=True, slots=True)
class Footing:
    """A footing under one post.

    diameter, side [in]: of a round or a square one, whole inches; bare_diameter, bare_side [in]: if its own
    weight were left out; thickness [in]: governs both; steps: the sum.
    """

    diameter: int
    side: int
    thickness: int
    bare_diameter: int
    bare_side: int
    governs: str
    steps: tuple[Step, ...]


def soil_pressure(force: float, area: float, thickness: float, density: float) -> float:
    """Return the pressure under a footing P / A + density x thickness [psf].

    force [lb]; area [ft2]; thickness [ft]; density [pcf]: of the concrete.
    Source: statics; AWC DCA6-2012 Table 4 note 2.

    >>> soil_pressure(2250.0, 1.593, 7 / 12, 150.0) < 1500.0
    True
    """
    return force / area + density * thickness


def area_needed(force: float, bearing: float, thickness: float, density: float) -> float:
    """Return the area P / (q - density x thickness) [ft2] that keeps the pressure at the soil's bearing.

    force [lb]; bearing [psf]; thickness [ft]; density [pcf].
    Raises RangeError where the footing's own weight uses the soil up. Source: statics.
    """
    left = bearing - density * thickness
    if left <= 0 * bearing:
        raise RangeError("the footing's own weight alone is over the soil's bearing")
    return force / left


def _whole(inches: float) -> int:
    return math.ceil(inches - 1e-9)


def _thickness(width: float, post: float) -> int:
    """Projection beyond the post, rounded up, at least the minimum."""
    return max(LEAST_THICKNESS, _whole((width - post) / 2))


def thickness_of(load: float, diameter: float, post: float) -> int:
    """Return the thickness [in] of a round pad: its projection beyond the post, or what plain concrete needs.

    load [lb]: from the post; diameter, post [in]. For a pad that is made wider than its load alone asks for.
    Source: AWC DCA6-2012 Table 4 (derived); ACI 318-14 chapter 14.

    >>> thickness_of(2250.0, 18.0, 5.5), thickness_of(2250.0, 22.0, 5.5)
    (7, 9)
    """
    plain = plain_thickness(load, diameter, "round", post)
    return max(_thickness(max(diameter, post), post), _whole(plain.value))


def _width(force: float, soil: float, post: float, shape_area: float, density: float) -> int:
    """Least whole width whose area carries the load and its own concrete."""
    width = max(1, _whole(root(force / soil * 144 / shape_area)))
    for trial in range(width, width + 400):
        thick = _thickness(trial, post) / 12
        if soil - density * thick <= 0:
            break
        if shape_area * trial**2 / 144 >= area_needed(force, soil, thick, density) - 1e-9:
            return trial
    raise RangeError(
        f"no footing carries {force:g} lb on {soil:g} psf: it would be too thick for its own weight"
    )


@lru_cache(maxsize=512)
def footing_size(
    load: float,
    soil: float,
    *,
    post: float = 5.5,
    strength: float = 2500.0,
    density: float = CONCRETE_WEIGHT,
    own_weight: bool = True,
) -> Footing:
    """Return diameter, side and thickness of a footing under a post.

    load [lb]: from the post; soil [psf]: allowable bearing; post [in]: width of the post; strength [psi]:
    f'c; density [pcf]: of the concrete; own_weight: whether the soil also carries the footing's own weight (the
    printed tables count it, some county handouts do not; the steps show both). Widths are rounded up to a
    whole inch; the thickness is the larger of the projection (round footing) and of what plain
    concrete needs.
    Governs (the thickness): "projection" or "plain concrete". Raises RangeError for no load or soil.

    Source: AWC DCA6-2012 Table 4 (within 1 in of all its cells); ACI 318-14 chapter 14.

    >>> footing_size(2250.0, 1500.0).diameter
    18
    """
    if load <= 0 or soil <= 0 or post <= 0:
        raise RangeError("a footing needs a load, a soil bearing and a post over 0")
    circle = math.pi / 4
    bare_area = load / soil
    bare = _whole(root(bare_area * 144 / circle)), _whole(root(bare_area * 144))
    weight = density if own_weight else 0.0
    diameter = _width(load, soil, post, circle, weight)
    side = _width(load, soil, post, 1.0, weight)
    projecting = _thickness(max(diameter, post), post)
    plain = plain_thickness(load, diameter, "round", post, strength)
    thickness = max(projecting, _whole(plain.value))
    area = area_needed(load, soil, projecting / 12, weight)
    numbers = f"{load:g} / ({soil:g} − {weight:g} × {projecting}/12)"
    steps = (
        step(
            "A",
            "area without the footing's own weight",
            "P / q",
            f"{load:g} / {soil:g}",
            bare_area,
            "ft²",
            "",
            "statics",
        ),
        step(
            "D",
            "diameter without own weight",
            "√(4 A / π), up to a whole inch",
            f"√(4 × {bare_area:.4g} × 144 / π)",
            bare[0],
            "in",
            "",
            "statics",
        ),
        step(
            "B",
            "side without own weight",
            "√A, up to a whole inch",
            f"√({bare_area:.4g} × 144)",
            bare[1],
            "in",
            "",
            "statics",
        ),
        step(
            "t",
            "projection beyond the post",
            "(D − post) / 2, up to a whole inch",
            f"({diameter} − {post:g}) / 2",
            projecting,
            "in",
            "Table 4 (derived); least 6 in, IRC R403.1.1 (from memory)",
            _DCA6,
        ),
        step(
            "A",
            "area with the footing's own weight",
            "P / (q − γ t)",
            numbers,
            area,
            "ft²",
            "Table 4 note 2",
            _DCA6,
        ),
        step(
            "D",
            "diameter",
            "√(4 A / π), up to a whole inch",
            f"√(4 × {area:.4g} × 144 / π)",
            diameter,
            "in",
            "",
            "statics",
        ),
        step(
            "B",
            "side",
            "√A, up to a whole inch, with its own thickness",
            f"√({area:.4g} × 144)",
            side,
            "in",
            "",
            "statics",
        ),
        *plain.steps,
    )
    governs = "projection" if projecting >= plain.value else "plain concrete"
    return Footing(diameter, side, thickness, bare[0], bare[1], governs, steps)


def plain_flexure_strength(strength: float, width: float, height: float) -> float:
    """Return phi Mn = 0.60 x 5 sqrt(f'c) b h2 / 6 [lb in] of plain concrete in bending.

    strength [psi]: f'c; width [in]; height [in]: less the 2 in against soil. Empirical: psi and in only.
    Source: ACI 318-14 14.5.2.1a, 21.2.1.
    """
    return PLAIN_STRENGTH_FACTOR * 5 * root(strength) * width * height**2 / 6


def plain_shear_strength(strength: float, width: float, height: float, two_way: bool) -> float:
    """Return phi Vn [lb] of plain concrete: 4/3 sqrt(f'c) b h one way, twice that around a square post.

    strength [psi]: f'c; width [in]: b, or the perimeter bo; height [in]: less the 2 in against soil.
    Empirical: psi and in only. Source: ACI 318-14 14.5.5.1, 21.2.1.
    """
    factor = 8 / 3 if two_way else 4 / 3
    return PLAIN_STRENGTH_FACTOR * factor * root(strength) * width * height


def plain_thickness(
    load: float, width: float, shape: Shape, post: float, strength: float = 2500.0
) -> Capacity:
    """Return the thickness [in] that a plain concrete footing needs in bending and in shear.

    load [lb]: from the post, unfactored; width [in]: diameter or side; post [in]: its width, bearing on the
    middle; strength [psi]: f'c. The whole load is factored by 1.6. Bending in a strip across the middle from
    the post's face to the edge; one-way shear at h from the face, two-way at h/2 around the post, h being the
    thickness less 2 in. A pier no wider than the post needs none.

    Source: ACI 318-14 chapter 14 (plain concrete).
    """
    reach = (width - post) / 2
    if reach <= 0:
        line = step(
            "t", "the footing does not project beyond the post", "", "", 0.0, "in", "14.5", "ACI 318-14"
        )
        return Capacity(0.0, "in", (line,))
    area = width**2 * (math.pi / 4 if shape == "round" else 1.0)
    pressure = LOAD_FACTOR * load / area
    moment = pressure * reach**2 / 2
    bending = root(moment * 6 / (PLAIN_STRENGTH_FACTOR * 5 * root(strength)))
    one = PLAIN_STRENGTH_FACTOR * 4 / 3 * root(strength)  # strength per inch of width and height
    one_way = pressure * reach / (one + pressure)
    # around the post: q (A - (c + h)^2) = 2 v 4 (c + h) h, a quadratic in h
    two = 2 * one
    a, b, c = 4 * two + pressure, 4 * two * post + 2 * pressure * post, pressure * (post**2 - area)
    two_way = (root(b**2 - 4 * a * c) - b) / (2 * a) if c < 0 else 0.0
    height = max(bending, one_way, two_way)
    aci = "ACI 318-14"
    steps = (
        step(
            "qu",
            "factored soil pressure",
            "1.6 P / A",
            f"1.6 × {load:g} / {area:.5g}",
            pressure,
            "psi",
            "5.3.1",
            aci,
        ),
        step(
            "h",
            "height for bending",
            "√(6 (qu c²/2) / (0.60 × 5 √f'c))",
            f"c {reach:g} in, f'c {strength:g}",
            bending,
            "in",
            "14.5.2",
            aci,
        ),
        step(
            "h",
            "height for one-way shear",
            "qu c / (0.60 × 4/3 √f'c + qu)",
            f"c {reach:g} in",
            one_way,
            "in",
            "14.5.5",
            aci,
        ),
        step(
            "h",
            "height for shear around the post",
            "qu (A − (b + h)²) = 0.60 × 8/3 √f'c 4 (b + h) h",
            f"b {post:g} in",
            two_way,
            "in",
            "14.5.5",
            aci,
        ),
        step(
            "t",
            "thickness of plain concrete",
            "h + 2 in",
            f"{height:.4g} + 2",
            height + SOIL_SKIN,
            "in",
            "14.5.1.7",
            aci,
        ),
    )
    return Capacity(height + SOIL_SKIN, "in", steps)


def footing_volume(width: float, thickness: float, shape: Shape) -> float:
    """Return the concrete of a pad [ft3]. width, thickness [in].

    >>> round(footing_volume(12.0, 48.0, "round"), 2)
    3.14

    Source: geometry.
    """
    return width**2 * (math.pi / 4 if shape == "round" else 1.0) * thickness / 1728


def uplift_capacity(
    width: float, thickness: float, shape: Shape, density: float = CONCRETE_WEIGHT
) -> Capacity:
    """Return the uplift [lb] that a footing's own weight holds down, 0.6 of it; soil is not counted.

    width, thickness [in]; density [pcf]. Source: ASCE 7-16 2.4.1 (0.6 D).
    """
    volume = footing_volume(width, thickness, shape)
    weight = density * volume
    across = "π/4 D²" if shape == "round" else "B²"
    numbers = f"{'π/4 × ' if shape == 'round' else ''}{width:g}² × {thickness:g} / 1728"
    steps = (
        step("V", "concrete, cast to its full depth", f"{across} t", numbers, volume, "ft³", "", "geometry"),
        step(
            "0.6 W",
            "own weight that may hold down",
            "0.6 γ V",
            f"0.6 × {density:g} × {volume:.4g}",
            0.6 * weight,
            "lb",
            "2.4.1 (from memory)",
            "ASCE 7-16",
        ),
    )
    return Capacity(0.6 * weight, "lb", steps)
