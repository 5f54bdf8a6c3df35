"""Paint a scene as an SVG string: fast enough to follow a slider, and the same bytes for the same scene.

Every part stands in `<g class="dp-part dp-ROLE" data-mark="A-J1"><title>…</title>…</g>`; roles are nested
groups that carry the look as attributes, so that several drawings on one page do not disturb each other. Text
and plain outlines do not catch the pointer. Lengths in the view box are model inches, y downward.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from html import escape

from deckplan.draw.letters import FAMILY, LINE, height_of, width_of
from deckplan.draw.scene import Area, Disc, Label, Role, Scene, Stroke
from deckplan.draw.style import PAPER, PENS, POINT, Pen, grey
from deckplan.geometry import Point

Describe = Callable[[str], str]

_ROLES = tuple(Role)
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]|[\ud800-\udfff]")


def _clean(text: str) -> str:
    """Escape a text for XML; signs that XML cannot carry at all are left out."""
    return escape(_UNPRINTABLE.sub("", text), quote=True)


def _number(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _pattern(name: str, pen: Pen, scale: float) -> str:
    """Return the pattern of a hatch, 0.11 in of paper from line to line."""
    side = 0.11 * scale
    s, h, q = _number(side), _number(side / 2), _number(side / 4)
    weight = _number(0.45 * POINT * scale)
    ground = f'<rect width="{s}" height="{s}" fill="{grey(pen.fill)}"/>'
    line = f'fill="none" stroke="{grey(max(pen.line, 0.3))}" stroke-width="{weight}"'
    turn = ""
    if pen.hatch == "slant":
        body, turn = f'<path {line} d="M0 {h}H{s}"/>', ' patternTransform="rotate(-45)"'
    elif pen.hatch == "grain":
        body = f'<path {line} d="M0 {s}L{s} 0M0 {h}L{h} 0M{h} {s}L{s} {h}"/>'
    elif pen.hatch == "cross":
        body, turn = f'<path {line} d="M0 {h}H{s}M{h} 0V{s}"/>', ' patternTransform="rotate(-45)"'
    elif pen.hatch == "earth":
        ticks = f"M{_number(side * 0.62)} {h}V{s}M{_number(side * 0.85)} {h}V{s}"
        body = f'<path {line} d="M0 {q}H{h}M0 {h}H{h}{ticks}"/>'
        turn = ' patternTransform="rotate(-45)"'
    else:
        dot = _number(0.9 * POINT * scale / 2)
        fill = f'fill="{grey(max(pen.line, 0.3))}"'
        spots = ((0.25, 0.25), (0.7, 0.5), (0.5, 0.8))
        body = "".join(
            f'<circle cx="{_number(side * x)}" cy="{_number(side * y)}" r="{dot}" {fill}/>' for x, y in spots
        )
    size = f'width="{s}" height="{s}" patternUnits="userSpaceOnUse"'
    return f'<pattern id="{name}" {size}{turn}>{ground}{body}</pattern>'


_SIDES = {-1: "start", 1: "end"}


class _Painter:
    """One painting: knows where the sheet begins and which way is down."""

    def __init__(self, scene: Scene, describe: Describe | None, prefix: str) -> None:
        self.scene, self.describe, self.prefix = scene, describe, prefix
        self.left, self.top = scene.box.left, scene.box.top

    def point(self, point: Point) -> str:
        return f"{point[0] - self.left:.2f} {self.top - point[1]:.2f}"

    def path(self, points: Sequence[Point], close: str = "") -> str:
        left, top = self.left, self.top
        return "M" + "L".join([f"{x - left:.2f} {top - y:.2f}" for x, y in points]) + close

    def look(self, role: Role) -> str:
        """Return the attributes of a role's group."""
        pen = PENS[role]
        line = pen.tint or grey(pen.line)
        fill = "none"
        if pen.hatch:
            fill = f"url(#{self.prefix}{pen.hatch}-{_ROLES.index(role)})"
        elif pen.filled:
            fill = grey(pen.fill)
        else:
            pass  # lines only
        stroke = f'stroke="{line}" stroke-width="{_number(pen.weight * POINT * self.scene.scale)}"'
        if not pen.weight:
            stroke = 'stroke="none"'
        dash = ""
        if pen.dash:
            dash = (
                ' stroke-dasharray="'
                + " ".join(_number(d * POINT * self.scene.scale) for d in pen.dash)
                + '"'
            )
        return f'fill="{fill}" {stroke}{dash} stroke-linejoin="round"'

    def part(self, role: Role, mark: str, inner: str) -> str:
        if not mark:
            return f'<g pointer-events="none">{inner}</g>'
        said = self.describe(mark) if self.describe else mark
        name = role.replace(" ", "-")
        return (
            f'<g class="dp-part dp-{name}" data-mark="{_clean(mark)}" pointer-events="all">'
            f"<title>{_clean(said)}</title>{inner}</g>"
        )

    def shape(self, piece: Area | Disc | Stroke) -> str:
        if isinstance(piece, Area):
            return f'<path d="{self.path(piece.points, "Z")}"/>'
        if isinstance(piece, Stroke):
            return f'<path fill="none" d="{self.path(piece.points)}"/>'
        x, y = self.point(piece.centre).split()
        return f'<circle cx="{x}" cy="{y}" r="{_number(piece.radius)}"/>'

    def text(self, label: Label) -> str:
        x, y = self.point(label.at).split()
        turn = f' transform="rotate({_number(-label.angle)} {x} {y})"' if label.angle else ""
        lines = label.text.split("\n")
        side = f' text-anchor="{_SIDES[label.align]}"' if label.align else ""
        at = _number(float(x) + label.align * width_of(label.text, label.height) / 2) if label.align else x
        plate = ""
        if label.plate:
            wide, high = width_of(label.text, label.height), height_of(label.text, label.height)
            plate = (
                f'<rect x="{_number(float(x) - wide / 2)}" y="{_number(float(y) - high / 2)}" '
                f'width="{_number(wide)}" height="{_number(high)}" fill="{PAPER}" fill-opacity="0.88"{turn}/>'
            )
        look = f'font-size="{_number(label.height)}" fill="{grey(PENS[label.role].line)}"{turn}'
        out = [plate]
        for index, line in enumerate(lines):
            # Baseline: capitals are 0.73 of the letter height, so half of that below the middle of the line.
            base = float(y) + ((index - (len(lines) - 1) / 2) * LINE + 0.365) * label.height
            out.append(f'<text{side} x="{at}" y="{_number(base)}" {look}>{_clean(line)}</text>')
        return "".join(out)

    def leaders(self) -> str:
        """Draw leaders with a dot where they end."""
        led = [label for label in self.scene.labels if label.leader]
        if not led:
            return ""
        paths = "".join(self.path(label.leader) for label in led)
        dots = "".join(self.shape(dot) for dot in self.scene.leader_dots())
        return f'<g {self.look(Role.LEADER)}><path fill="none" d="{paths}"/>{dots}</g>'

    def dimensions(self) -> str:
        paths = "".join(self.path(line) for dim in self.scene.dimensions for line in dim.strokes())
        if not paths:
            return ""
        figures = "".join(self.text(dim.label) for dim in self.scene.dimensions)
        return f'<g class="dp-dimension"><path {self.look(Role.DIMENSION)} d="{paths}"/>{figures}</g>'


def paint_svg(
    scene: Scene, describe: Describe | None = None, *, true_size: bool = False, prefix: str = "dp-"
) -> str:
    """Return the scene as an SVG document.

    describe: gives the hover text of a mark, else the mark itself; true_size: width and height are those on
    paper, else the drawing fills what it stands in; prefix: leads the names of the hatches, wanted where
    several drawings of different scale stand on one page.
    """
    painter = _Painter(scene, describe, f"{prefix}{_number(scene.scale).replace('.', '-')}-")
    wide, high = _number(scene.box.width), _number(scene.box.height)
    size = 'width="100%"'
    if true_size:
        paper = (scene.box.width / scene.scale, scene.box.height / scene.scale)
        size = f'width="{_number(paper[0])}in" height="{_number(paper[1])}in"'
    patterns = "".join(
        _pattern(f"{painter.prefix}{PENS[role].hatch}-{_ROLES.index(role)}", PENS[role], scene.scale)
        for role in _ROLES
        if PENS[role].hatch and any(shape.role is role for shape in (*scene.shapes, *scene.key))
    )
    family = ", ".join(f"'{name}'" if " " in name else name for name in FAMILY)
    name = _clean(f"{scene.name}, {scene.plan}")
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" {size} '
        f'aria-label="{name}" font-family="{family}" text-anchor="middle" style="background:{PAPER};max-width:100%">',
        f"<title>{name}</title>",
        f"<defs>{patterns}</defs>" if patterns else "",
    ]
    for role, shapes in scene.runs():
        by_mark: dict[str, list[str]] = {}
        for shape in shapes:
            by_mark.setdefault(shape.mark, []).append(painter.shape(shape))
        inner = "".join(painter.part(role, mark, "".join(drawn)) for mark, drawn in by_mark.items())
        out.append(f'<g class="dp-role" {painter.look(role)}>{inner}</g>')
    out.append(f'<g pointer-events="none">{painter.leaders()}{painter.dimensions()}</g>')
    out.append(
        '<g class="dp-texts" pointer-events="none">' + "".join(map(painter.text, scene.labels)) + "</g></svg>"
    )
    return "".join(out)
