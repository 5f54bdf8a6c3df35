"""A post head notched for a beam: what is left of it, what bears in it, what its two bolts hold.

|beam|tongue|    the beam bears on the floor of the notch and leans on the tongue left standing behind it;
|____|      |    two through bolts keep it there, they carry none of its weight
|    '      |
"""

from __future__ import annotations

from deckplan.engineering.answers import Capacity, step
from deckplan.engineering.dowels import Joint, bolt, lateral_value
from deckplan.engineering.factors import AdjustedValues
from deckplan.engineering.fasteners import (
    Placement,
    adjust_connection,
    geometry_factor,
    wet_connection_factor,
)
from deckplan.verdict import Step

BOLTS = 2
"""Through bolts in each piece of a beam over a notch. Source: AWC DCA6, post-to-beam attachment (trade literature)."""

BOLT = 0.5
"""Their diameter [in]. Source: as above; washers under head and nut: IRC 2018 R507.5.2 (one published copy)."""

BOLT_FROM_EDGE = 2.0
"""How far they stand from the beam's upper and lower edge [in], four diameters. Source: NDS 2018 Table 12.5.1C."""

PLATE_FROM = 0.75
"""Share of Fc* from which end grain asks for a metal plate on it [1]. Source: NDS 2018 3.10.1.3 (from memory)."""


def tongue_left(post: float, beam: float) -> float:
    """Return how thick a tongue [in] a notch across the beam's width leaves of a post.

    post, beam [in]: dressed widths. Source: AWC DCA6, post-to-beam attachment: two plies on a 6x6.

    >>> tongue_left(5.5, 3.0)
    2.5
    """
    return post - beam


def notch_eccentricity(post: float, beam: float) -> float:
    """Return how far the middle of a notch's floor stands off the post's axis [in].

    post, beam [in]: dressed widths; the notch is cut from one face. Source: geometry.

    >>> notch_eccentricity(5.5, 3.0)
    1.25
    """
    return (post - beam) / 2


def notch_moment(load: float, eccentricity: float) -> float:
    """Return the moment M = P e [lb in] at the head of a post under a load off its axis.

    load [lb]; eccentricity [in]. Source: statics; NDS 2018 15.4.1 takes it as 6 e / d times P / A.
    """
    return load * eccentricity


def notch_floor(allowed: AdjustedValues, width: float, length: float) -> Capacity:
    """Return what the post's end grain takes on the floor of a notch, Fc* b l [lb].

    allowed: of the post, with Fc* as Fc; width [in]: of the beam; length [in]: of its bearing along it, all pieces.
    The net section at the notch is held sideways by the beam, so that Fc* counts there, without C_P.

    Source: NDS 2018 3.10.1.1, 3.6.3 (from memory).
    """
    value = allowed.Fc * width * length
    line = step("P'", "end grain under the beam", "Fc* b l", f"{allowed.Fc:.5g} × {width:g} × {length:g}", value,
                "lb", "3.10.1, 3.6.3 (from memory)")  # fmt: skip
    return Capacity(value, "lb", (allowed.steps["Fc"], line))


def notch_bolts(
    beam_gravity: float,
    post_gravity: float,
    beam_width: float,
    beam_depth: float,
    tongue: float,
    along: float,
    duration: float = 1.0,
) -> tuple[Capacity, tuple[str, ...]]:
    """Return what the bolts of one piece of beam hold against uplift [lb], and which distances fall short.

    beam_gravity, post_gravity [1]: specific gravity; beam_width, beam_depth, tongue [in]; along [in]: bearing of the
    piece on the post, the bolts in its middle; duration [1]: C_D. Single shear, across the beam's grain and along the
    tongue's, wet. Weight goes down through the floor, not through the bolts.

    Source: NDS 2018 12.3, 12.5.1, Table 11.3.1.
    """
    one = lateral_value(
        bolt(BOLT),
        Joint(beam_width, tongue, beam_gravity, post_gravity, main_angle=90.0, side_angle=0.0),
    )
    between = beam_depth - 2 * BOLT_FROM_EDGE
    # the tongue is as high as the beam: its end is as near as the beam's edge; in the beam the piece's end is
    in_tongue = Placement(BOLT_FROM_EDGE, along / 2, along / 2, between, along, "parallel in tension")
    in_beam = Placement(along / 2, BOLT_FROM_EDGE, BOLT_FROM_EDGE, between, along, "perpendicular")
    factors, faults = zip(*(geometry_factor(BOLT, place) for place in (in_tongue, in_beam)), strict=True)
    wet = wet_connection_factor(bolt(BOLT), "wet")
    held = adjust_connection(one, duration=duration, wet=wet, geometry=min(factors))
    value = BOLTS * held.value
    line: Step = step(
        "T", "bolts together", f"{BOLTS} Z'", f"{BOLTS} × {held.value:.5g}", value, "lb", "11.3.1"
    )
    return Capacity(value, "lb", (*held.steps, line)), (*faults[0], *faults[1])
