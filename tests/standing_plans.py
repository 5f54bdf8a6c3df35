"""Random plans as somebody would draw them: levels side by side, each with lines where its joists want them.

A row of levels stands along the house, some hung on it by a ledger; in front of some a second one touches the first:
hung on its beam, on posts of its own, or sharing. Outlines are rectangles, with a corner left out or a bay cut in. The
whole plan, house and all, may be turned, so that joists run at any angle.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from deckplan.geometry import turned
from deckplan.plan.model import Plan
from tests.decks import make_plan

Corner = tuple[float, float]

EDGE = (6.0, 9.0, 12.0)
"""How far a drop beam stands back from an edge that is free [in]: overhangs within a quarter of the span."""

FLUSH = 2.25
"""How far the middle of a flush beam of three plies stands back, its face on the edge [in]."""


@st.composite
def _outlines(draw: Any, x: float, y: float) -> tuple[list[Corner], set[float]]:
    """Return an outline whose lower left corner lies at x, y, and the depths at which its edges across lie [in]."""
    width, depth = (
        draw(st.sampled_from([96.0, 120.0, 150.0, 192.0, 240.0])),
        draw(st.sampled_from([96.0, 114.0, 144.0])),
    )
    cut, deep = draw(st.sampled_from([36.0, 48.0, 60.0])), draw(st.sampled_from([36.0, 40.0]))
    right, far, inner = x + width, y + depth, y + depth - deep
    full = [(x, y), (right, y), (right, far), (x, far)]
    both = {depth, depth - deep}
    shape = draw(st.sampled_from(["whole", "whole", "ell", "bay", "clip"]))
    if shape == "ell":
        return [*full[:2], (right, inner), (right - cut, inner), (right - cut, far), full[3]], both
    if shape == "bay" and width >= 150:
        low, high = x + (width - 48) / 2, x + (width + 48) / 2
        return [*full[:3], (high, far), (high, inner), (low, inner), (low, far), full[3]], both
    if shape == "clip":
        return [*full[:2], (right, far - 36), (right - 36, far), full[3]], {depth}
    return full, {depth}


def _along_the_clip(outline: list[Corner]) -> dict[str, Any]:
    """Return the beam that carries the joists of a clipped corner, 8-1/2 in back from its edge."""
    (right, low), (left, far) = outline[2:4]
    return {"kind": "beam", "line": [(left, far - 12), (right, low - 12)], "posts": 2}


def _line(draw: Any, offset: float) -> dict[str, Any]:
    seat = draw(st.sampled_from(["cap", "cap", "notch"]))
    build = "2-2x10" if seat == "notch" else "auto"
    posts = draw(st.sampled_from(["auto", 3, 4]))
    return {"kind": "beam", "offset": offset, "build": build, "posts": posts, "seat": seat}


def _lines(draw: Any, ends: set[float], held: bool, carries: bool = False) -> list[dict[str, Any]]:
    """Return beam lines that leave every joist two bearings: one back from each edge across, one near the start.

    held: a ledger or a neighbour's beam holds the start; carries: joists of a neighbour hang on the far edge.
    """
    far, least = max(ends), min(ends)
    back = draw(st.sampled_from(EDGE)) if least > 90 else EDGE[0]
    found = [] if held else [_line(draw, back)]
    found += [_line(draw, end - back) for end in sorted(ends) if end < far]
    if not carries:
        return [*found, _line(draw, far - back)]
    edge = {
        "kind": "beam",
        "offset": far - FLUSH,
        "style": "flush",
        "build": "3-2x12",
        "posts": draw(st.integers(3, 5)),
    }
    return [*found, edge]


@st.composite
def standing_plans(draw: Any) -> Plan:
    """Return a plan whose every level has the lines that it needs; sizes are "auto", so that most of them pass."""
    platforms: list[dict[str, Any]] = []
    flights: list[dict[str, Any]] = []
    x = 0.0
    for number in range(draw(st.integers(1, 3))):
        name, held = f"house {number}", draw(st.booleans())
        outline, ends = draw(_outlines(x, 0.0 if held else 36.0))
        width, far = max(corner[0] for corner in outline) - x, max(corner[1] for corner in outline)
        elevation = draw(st.sampled_from([24.0, 28.5, 36.0, 45.0]))
        meets = (
            draw(st.sampled_from(["nothing", "nothing", "hung", "independent"]))
            if len(outline) == 4
            else "nothing"
        )
        supports = [{"kind": "ledger", "wall": "house"}] if held else []
        if len(outline) == 5:
            supports.append(_along_the_clip(outline))
        supports += _lines(draw, ends, held, meets == "hung")
        shape = _platform(draw, name, outline, elevation, supports)
        if len(outline) == 4 and draw(st.integers(0, 3)) == 0:
            left, low = (
                x + draw(st.sampled_from([32.0, 40.0, 47.3])),
                outline[0][1] + draw(st.sampled_from([30.0, 33.5])),
            )
            hole = [(left, low), (left + 22, low), (left + 22, low + 20), (left, low + 20)]
            shape["opening"] = [{"kind": "tree", "outline": hole}]
        platforms.append(shape)
        last = name
        if meets != "nothing":
            last, lower = f"garden {number}", elevation - draw(st.sampled_from([5.5, 6.5]))
            box = [(x, far), (x + width, far), (x + width, far + 96), (x, far + 96)]
            lines = _lines(draw, {96.0}, meets == "hung")
            if meets == "hung":
                lines = [{"kind": "hung", "on": name}, *lines]
            platforms.append(_platform(draw, last, box, lower, lines))
            along = [(x + 12, far), (x + min(width - 12, 120), far)]
            flights.append({"from": name, "to": last, "along": along, "kind": "direct"})
            far += 96
        if draw(st.booleans()) and len(outline) == 4:
            flights.append(
                {"from": last, "to": "ground", "along": [(x + 20, far), (x + 68, far)], "kind": "stringer"}
            )
        x += width + draw(st.sampled_from([36.0, 50.0]))
    falls = st.sampled_from([0.0, -5.0])
    ground = [
        {"at": (0.0, 0.0), "elevation": 0.0},
        {"at": (300.0, 0.0), "elevation": draw(falls)},
        {"at": (0.0, 300.0), "elevation": draw(falls)},
    ]
    wall = {"name": "house", "line": [(-60.0, 0.0), (x + 60.0, 0.0)], "ledger": True}
    return _turned(draw(st.sampled_from([0.0, 0.0, 30.0, 45.0, 117.0])), platforms, flights, ground, wall)


def _platform(
    draw: Any, name: str, outline: list[Corner], elevation: float, supports: list[dict[str, Any]]
) -> dict[str, Any]:
    return {
        "name": name,
        "outline": outline,
        "elevation": elevation,
        "joists": {"direction": 90.0, "spacing": draw(st.sampled_from([12.0, 16.0]))},
        "boards": {"angle": 0.0, "border": draw(st.sampled_from([0, 0, 1, 2]))},
        "support": supports,
    }


def _turned(
    by: float,
    platforms: list[dict[str, Any]],
    flights: list[dict[str, Any]],
    ground: list[dict[str, Any]],
    wall: dict[str, Any],
) -> Plan:
    """Turn a whole plan round the origin; by [degrees]."""
    for platform in platforms:
        platform["outline"] = [turned(corner, by) for corner in platform["outline"]]
        platform["joists"]["direction"] += by
        for support in platform["support"]:
            if "line" in support:
                support["line"] = [turned(end, by) for end in support["line"]]
        for hole in platform.get("opening", ()):
            hole["outline"] = [turned(corner, by) for corner in hole["outline"]]
    for flight in flights:
        flight["along"] = [turned(end, by) for end in flight["along"]]
    for spot in ground:
        spot["at"] = turned(spot["at"], by)
    wall["line"] = [turned(end, by) for end in wall["line"]]
    site = {"ground": ground, "soil_bearing": 2000.0, "frost_depth": 12.0}
    return make_plan(*platforms, flight=flights, house={"wall": [wall]}, site=site)
