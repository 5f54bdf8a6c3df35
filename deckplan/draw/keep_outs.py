"""Zones of the furniture plan where something is not to stand: hatched, with what, how far off what."""

from __future__ import annotations

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from deckplan.draw.draft import Draft
from deckplan.draw.scene import Role, text_box
from deckplan.draw.title import folded
from deckplan.geometry import Point
from deckplan.layout.room_keep import SEATED, plain_parts
from deckplan.layout.room_model import KeepOut
from deckplan.layout.room_sizes import in_words
from deckplan.units import listed

SIZE = 0.9
"""Size of a zone's label [letter heights]."""

WIDEST = 24.0
"""How long the lines of a zone's label may be [letter heights]."""


def draw_keep_out(draft: Draft, keep: KeepOut, seen: BaseGeometry) -> None:
    """Hatch a zone as far as its platform is seen, and say what is kept out of it."""
    role = Role.KEEP_SEATS_OUT if keep.what in SEATED.values() else Role.KEEP_HEAT_OUT
    shape = shapely.union_all([Polygon(part) for part in keep.outlines]).intersection(seen)
    parts = plain_parts(shape)
    for part in parts:
        draft.area(part, role)
    if not parts:
        return
    far = in_words(keep.far, draft.units)
    text = f"no {keep.what}: {far} off an open edge"
    if role is Role.KEEP_HEAT_OUT:
        text = folded(
            f"no {keep.what} here: {far} off {listed(keep.off)}", WIDEST * draft.letter, draft.letter
        )
    hot = role is Role.KEEP_HEAT_OUT
    level, upright = (_spots(draft, shape, text, angle) for angle in (0.0, 90.0))
    angle = 0.0 if level or not upright else 90.0
    inside = [(float(x), float(y)) for x, y in [shape.representative_point().coords[0]]]
    if hot or level or upright:
        # a strip along an edge is named where there is room; the key says what it is
        draft.wish(text, inside[0], (level or upright) + inside, Role.NOTE, angle=angle, plate=True,
                   urgency=5, needed=hot, size=SIZE)  # fmt: skip


def _spots(draft: Draft, shape: BaseGeometry, text: str, angle: float) -> list[Point]:
    """Return places where a text, turned by an angle [degrees], lies wholly in a zone."""
    x0, y0, x1, y1 = shape.bounds
    across, up = (9, 49) if angle == 0.0 else (49, 9)
    xs, ys = (
        [low + (high - low) * k / (n - 1) for k in range(n)]
        for low, high, n in ((x0, x1, across), (y0, y1, up))
    )
    spots = [(x, y) for y in ys for x in xs]
    boxes = [shapely.box(*text_box(text, spot, SIZE * draft.letter, angle)) for spot in spots]
    shapely.prepare(shape)
    return [spot for spot, held in zip(spots, shapely.covers(shape, boxes).tolist(), strict=True) if held]
