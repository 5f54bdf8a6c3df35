"""Knee braces: what a sideways push on a deck asks of the diagonal pieces under it.

      beam
==================
    /|                V at the beam; each brace from the beam down to the post, k below the beam
  /  | post
     |
"""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.engineering.answers import step
from deckplan.engineering.factors import root
from deckplan.errors import RangeError
from deckplan.verdict import Step


@dataclass(frozen=True, slots=True)
class Brace:
    """Forces in one braced post bay [lb, lb in]: along the brace, in the post's bending, at the post's foot."""

    axial: float
    length: float
    post_moment: float
    foot_shear: float
    steps: tuple[Step, ...]


def knee_brace(push: float, height: float, down: float, along: float) -> Brace:
    """Return the forces of one knee brace that holds a post, pinned at its foot and at the beam.

    push [lb]: sideways, at the beam, the share of this post; height [in]: from the post's foot to the beam;
    down, along [in]: from the joint of post and beam to the brace's ends on the post and on the beam.
    Moments about the post's head: the brace's horizontal part is P h / k; the post bends at the brace's foot
    by P (h - k). Raises RangeError for a brace that is longer than the post or has no length.

    Source: statics (portal with knee braces).

    >>> round(knee_brace(100.0, 96.0, 24.0, 24.0).axial, 1)
    565.7
    """
    if not 0 < down < height or along <= 0:
        raise RangeError("a knee brace ends on the post, between its foot and the beam")
    horizontal = push * height / down
    length = root(down**2 + along**2)
    axial = horizontal * length / along
    moment = push * (height - down)
    steps = (
        step(
            "H",
            "horizontal part of the brace's force",
            "P h / k",
            f"{push:g} × {height:g} / {down:g}",
            horizontal,
            "lb",
            "",
            "statics",
        ),
        step(
            "N",
            "force along the brace",
            "H L / b",
            f"{horizontal:.5g} × {length:.4g} / {along:g}",
            axial,
            "lb",
            "",
            "statics",
        ),
        step(
            "M",
            "moment of the post at the brace",
            "P (h − k)",
            f"{push:g} × ({height:g} − {down:g})",
            moment,
            "lb in",
            "",
            "statics",
        ),
    )
    return Brace(axial, length, moment, push, steps)


def overturning(push: float, height: float, apart: float) -> float:
    """Return what two braced posts in a line add to the load on one of them, N = 2 P h / s [lb].

    push [lb]: on each of the two, at their heads; height, apart [in]: of the posts, and between them.
    Source: statics (moments about the foot of the other post).

    >>> overturning(100.0, 96.0, 192.0)
    100.0
    """
    return 2 * push * height / apart
