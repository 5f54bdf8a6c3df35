"""Paint a scene with matplotlib, for notebooks, PNG and PDF: the only module of the package that imports it.

No pyplot and no global state: a bare `Figure`, one collection per role. What comes back shows itself in a
notebook.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from io import BytesIO
from pathlib import Path
from typing import Any

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.collections import EllipseCollection, LineCollection, PolyCollection
from matplotlib.figure import Figure
from matplotlib.font_manager import fontManager
from matplotlib.patches import Rectangle
from matplotlib.transforms import Affine2D

from deckplan.draw.letters import FAMILY, LINE, width_of
from deckplan.draw.scene import Area, Box, Disc, Label, Role, Scene, Stroke
from deckplan.draw.style import INK, PAPER, PENS, Pen, grey
from deckplan.geometry import Point

_HATCHES = {
    "": "",
    "slant": "////",
    "grain": "\\\\\\\\\\",
    "cross": "xxxx",
    "earth": "///...",
    "speckle": "....",
}
_MANY = (
    "Noto Sans CJK JP",
    "Noto Sans CJK SC",
    "Noto Sans",
    "WenQuanYi Zen Hei",
    "Droid Sans Fallback",
    "Unifont",
)
WIDE = [name for name in _MANY if any(font.name == name for font in fontManager.ttflist)]
"""Fonts of this machine for letters that the first font lacks, so that names in any script can be read."""

SETTINGS: dict[Any, Any] = {
    "text.hinting": "none",
    "hatch.linewidth": 0.35,
    "svg.hashsalt": "deckplan",
    "svg.fonttype": "path",
    "pdf.fonttype": 42,
    "font.family": [FAMILY[0], *WIDE, "sans-serif"],
}
"""What matplotlib is told while a scene is painted: letters as wide as they were measured, stable files."""


@dataclass(frozen=True)
class Picture:
    """A painted scene: shows itself in a notebook, saves itself to a file."""

    scene: Scene
    figure: Figure
    dpi: float = 120.0

    def _render(self, kind: str) -> bytes:
        out = BytesIO()
        metadata: dict[str, Any] = {"Date": None} if kind == "svg" else {"Software": None}
        if kind == "pdf":
            metadata = {"CreationDate": None}
        with mpl.rc_context(SETTINGS), warnings.catch_warnings():
            # a letter that no font here has is shown as a box; saying so once a drawing helps nobody
            warnings.filterwarnings("ignore", "Glyph", UserWarning)
            self.figure.savefig(out, format=kind, dpi=self.dpi, metadata=metadata)
        return out.getvalue()

    @cached_property
    def _png(self) -> bytes:
        return self._render("png")

    @cached_property
    def _svg(self) -> str:
        return self._render("svg").decode()

    def _repr_png_(self) -> bytes:
        return self._png

    def _repr_svg_(self) -> str:
        return self._svg

    def __repr__(self) -> str:
        """Say what it is; the picture itself shows in a notebook."""
        return f"<Picture: {self.scene.name}, {self.scene.scale_text}>"

    def save(self, path: str | Path) -> Path:
        """Write the picture; the ending decides: .png, .svg or .pdf. Raises ValueError for another ending."""
        target = Path(path)
        kind = target.suffix.lower().removeprefix(".")
        if kind not in ("png", "svg", "pdf"):
            raise ValueError(
                f"a picture is saved as .png, .svg or .pdf, not {target.suffix or 'without an ending'}"
            )
        target.write_bytes(self._render(kind))
        return target


def paint(scene: Scene, *, dpi: float = 120.0) -> Picture:
    """Paint a scene at its true size on a sheet of its own.

    dpi: dots to an inch where the picture is shown or saved as PNG.
    """
    box = scene.box
    with mpl.rc_context(SETTINGS):
        figure = Figure(figsize=(box.width / scene.scale, box.height / scene.scale), facecolor=PAPER)
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        paint_on(axes, scene, box)
    return Picture(scene, figure, dpi)


def paint_on(axes: Axes, scene: Scene, window: Box) -> None:
    """Paint a scene on axes that are as large on paper as `window` [model in] at the scene's scale."""
    axes.set_xlim(window.left, window.right)
    axes.set_ylim(window.bottom, window.top)
    axes.set_axis_off()
    top = 0
    for top, (role, shapes) in enumerate(scene.runs(), 1):
        _paint_role(axes, role, shapes, top)
    _lines(axes, [label.leader for label in scene.labels if label.leader], PENS[Role.LEADER], top + 1)
    if scene.leader_dots():
        _paint_role(axes, Role.LEADER, scene.leader_dots(), top + 1)
    _lines(axes, [line for dim in scene.dimensions for line in dim.strokes()], PENS[Role.DIMENSION], top + 1)
    for label in (*scene.labels, *(dim.label for dim in scene.dimensions)):
        _text(axes, label, scene.scale, top + 2)


def _paint_role(axes: Axes, role: Role, pieces: Sequence[Area | Disc | Stroke], order: int) -> None:
    pen = PENS[role]
    areas = [piece.points for piece in pieces if isinstance(piece, Area)]
    if areas:
        collection = PolyCollection([list(points) for points in areas], **_look(pen), zorder=order)
        if pen.hatch:
            collection.set_hatch(_HATCHES[pen.hatch])
        axes.add_collection(collection, autolim=False)
    discs = [piece for piece in pieces if isinstance(piece, Disc)]
    if discs:
        sizes = [2 * disc.radius for disc in discs]
        axes.add_collection(
            EllipseCollection(
                sizes, sizes, [0.0] * len(discs), units="xy", offsets=[disc.centre for disc in discs],
                transOffset=axes.transData, **_look(pen), zorder=order,
            ),
            autolim=False,
        )  # fmt: skip
    _lines(axes, [piece.points for piece in pieces if isinstance(piece, Stroke)], pen, order)


def _look(pen: Pen) -> dict[str, Any]:
    return {
        "facecolors": grey(pen.fill) if pen.filled else "none",
        "edgecolors": (pen.tint or grey(pen.line)) if pen.weight or pen.hatch else "none",
        "linewidths": pen.weight,
        "linestyles": _dashes(pen),
        "joinstyle": "round",
    }


def _dashes(pen: Pen) -> Any:
    if not pen.dash:
        return "solid"
    # matplotlib counts dashes in line widths
    return [(0.0, [length / max(pen.weight, 0.1) for length in pen.dash])]


def _lines(axes: Axes, lines: Sequence[Sequence[Point]], pen: Pen, order: float) -> None:
    if lines:
        axes.add_collection(
            LineCollection(
                [list(line) for line in lines], colors=pen.tint or grey(pen.line), linewidths=pen.weight,
                linestyles=_dashes(pen), capstyle="butt", zorder=order + 0.5,
            ),
            autolim=False,
        )  # fmt: skip


_SIDES = {-1: "left", 0: "center", 1: "right"}


def _text(axes: Axes, label: Label, scale: float, order: float) -> None:
    size = label.height / scale * 72
    if label.plate:
        box = Label(label.text, label.at, label.height, label.role).box
        turn: Callable[..., Affine2D] = Affine2D().rotate_deg_around
        axes.add_patch(
            Rectangle(
                (box.left, box.bottom), box.width, box.height, facecolor=PAPER, alpha=0.88, linewidth=0,
                zorder=order, transform=turn(label.at[0], label.at[1], label.angle) + axes.transData,
            )
        )  # fmt: skip
    lines = label.text.split("\n")
    off = label.align * width_of(label.text, label.height) / 2
    along = Affine2D().rotate_deg(label.angle)
    for index, line in enumerate(lines):
        # Baseline: capitals are 0.73 of the letter height, so half of that below the middle of the line.
        down = ((index - (len(lines) - 1) / 2) * LINE + 0.365) * label.height
        dx, dy = along.transform((off, -down))
        pen = PENS[label.role]
        axes.text(
            label.at[0] + dx, label.at[1] + dy, line, fontsize=size, rotation=label.angle,
            rotation_mode="anchor", ha=_SIDES[label.align], va="baseline", color=grey(pen.line) if pen.line else INK,
            zorder=order + 1, parse_math=False,
        )  # fmt: skip
