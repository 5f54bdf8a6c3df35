"""Painters: the same scene as SVG and by matplotlib, held to size, order, escape and stability."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import matplotlib as mpl
import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from PIL import Image

from deckplan.draw.paint_matplotlib import SETTINGS, paint
from deckplan.draw.paint_svg import paint_svg
from deckplan.draw.plan_view import plan_view
from deckplan.draw.scene import Area, Disc, Label, Role, Scene, Stroke
from deckplan.draw.section_view import section_view
from deckplan.draw.side_view import side_view
from deckplan.draw.style import PENS, grey
from tests.test_draw_cases import deck

SVG = "{http://www.w3.org/2000/svg}"
TEXT_ROLES = {Role.MARK, Role.NOTE}


def test_every_role_has_a_look_and_no_two_look_alike_in_grey() -> None:
    assert set(PENS) == set(Role)
    looks: dict[tuple[object, ...], Role] = {}
    for role, pen in PENS.items():
        if role in TEXT_ROLES:
            continue
        look = (pen.weight, round(pen.line, 1), pen.dash, pen.filled and round(pen.fill, 2), pen.hatch)
        assert look not in looks, f"{role} looks like {looks.get(look)}"
        looks[look] = role


def test_a_tint_is_as_dark_as_the_grey_it_replaces() -> None:
    for role, pen in PENS.items():
        if pen.tint:
            red, green, blue = (int(pen.tint[i : i + 2], 16) for i in (1, 3, 5))
            # Luma weights: ITU-R BT.601.
            luma = (0.299 * red + 0.587 * green + 0.114 * blue) / 255
            assert abs(luma - pen.line) < 0.2, role
    assert [role for role, pen in PENS.items() if pen.tint] == [Role.FLAG], "colour is sparing"


def test_greys_are_in_order() -> None:
    values = [int(grey(v / 10)[3:5], 16) for v in range(11)]
    assert values == sorted(values)
    assert len(set(values)) == 11


def parts(svg: str) -> dict[str, ElementTree.Element]:
    root = ElementTree.fromstring(svg)
    return {part.get("data-mark", ""): part for part in root.iter(f"{SVG}g") if part.get("data-mark")}


def test_every_part_is_a_group_with_its_mark_role_and_title() -> None:
    scene = plan_view(deck())
    svg = paint_svg(scene, lambda mark: f"about {mark}")
    found = parts(svg)
    assert set(found) == set(scene.marks())
    joist = found["A-J3"]
    assert joist.get("class") == "dp-part dp-joist"
    assert joist.findtext(f"{SVG}title") == "about A-J3"
    assert found["A-B1"].get("class") == "dp-part dp-beam-below"


def test_text_and_plain_outlines_do_not_catch_the_pointer() -> None:
    root = ElementTree.fromstring(paint_svg(plan_view(deck())))
    parents = {child: parent for parent in root.iter() for child in parent}

    def caught(element: ElementTree.Element) -> bool:
        while element in parents:
            if "pointer-events" in element.attrib:
                return element.get("pointer-events") != "none"
            element = parents[element]
        return True

    assert list(root.iter(f"{SVG}text"))
    assert not any(caught(text) for text in root.iter(f"{SVG}text"))
    unmarked = [
        g for g in root.iter(f"{SVG}g") if g.find(f"{SVG}path") is not None and not g.get("data-mark")
    ]
    assert not any(caught(g) for g in unmarked)


def test_names_of_any_script_and_any_sign_are_escaped() -> None:
    name = '</g><script>alert("1")</script> & \x00 庭 Größe'
    svg = paint_svg(plan_view(deck(name=name, upper="<b>'upper\"</b> 上")), lambda mark: f"<i>{mark}</i>")
    root = ElementTree.fromstring(svg)
    assert not list(root.iter(f"{SVG}script"))
    texts = [text.text or "" for text in root.iter(f"{SVG}text")]
    assert any("<b>'upper\"</b> 上" in text for text in texts)
    assert any("庭 Größe" in text for text in texts)


def test_nothing_is_fetched_and_nothing_leaks_onto_the_page() -> None:
    svg = paint_svg(section_view(deck()))
    addresses = set(re.findall(r"https?://[^\"' ]+", svg))
    assert addresses == {"http://www.w3.org/2000/svg"}, "the namespace only"
    assert "<style" not in svg, "a rule of one drawing would reach the next on the same page"
    used = set(re.findall(r"url\(#([^)]+)\)", svg))
    assert used
    assert used <= set(re.findall(r'id="([^"]+)"', svg))


def test_the_view_box_holds_everything_and_true_size_is_paper_size() -> None:
    scene = plan_view(deck())
    root = ElementTree.fromstring(paint_svg(scene, true_size=True))
    _, _, wide, high = map(float, (root.get("viewBox") or "").split())
    assert (wide, high) == pytest.approx((scene.box.width, scene.box.height), abs=0.01)
    # 1/2 in = 1 ft: an inch of paper is 24 in of deck.
    assert float((root.get("width") or "").removesuffix("in")) == pytest.approx(wide / 24, abs=0.01)
    for text in root.iter(f"{SVG}text"):
        assert 0 <= float(text.get("x", "")) <= wide
        assert 0 <= float(text.get("y", "")) <= high


def test_the_same_scene_gives_the_same_bytes_in_another_run() -> None:
    code = "\n".join(
        (
            "import hashlib",
            "from tests.test_draw_cases import deck",
            "from deckplan.draw.plan_view import plan_view",
            "from deckplan.draw.paint_svg import paint_svg",
            "from deckplan.draw.paint_matplotlib import paint",
            "scene = plan_view(deck())",
            "both = paint_svg(scene) + paint(scene)._repr_svg_()",
            "print(hashlib.sha256(both.encode()).hexdigest())",
        )
    )
    here = Path(__file__).parent
    runs = [
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": f"{here}{os.pathsep}{here.parent}"},
        ).stdout
        for seed in ("1", "2")
    ]
    assert runs[0] == runs[1]


def picture_of(png: bytes) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(png)).convert("L"))


def test_a_length_measures_on_paper_what_the_scale_says() -> None:
    # Two posts 120 in apart at 1/4 in = 1 ft (48): 2.5 in of paper.
    posts = tuple(Area(((x, 0), (x + 2, 0), (x + 2, 48), (x, 48)), Role.POST) for x in (0.0, 120.0))
    scene = Scene("t", "p", 48.0, "Scale 1/4 in = 1 ft", 24.0, shapes=posts)
    image = picture_of(paint(scene, dpi=200)._repr_png_())
    assert image.shape == (round(96 / 48 * 200), round(170 / 48 * 200))
    dark = np.flatnonzero(image[image.shape[0] // 2] < 100)
    left = dark[dark < image.shape[1] // 2]
    right = dark[dark > image.shape[1] // 2]
    assert (right.mean() - left.mean()) / 200 == pytest.approx(2.5, abs=0.01)


def test_matplotlib_sets_letters_inside_the_boxes_that_were_reserved() -> None:
    scene = section_view(deck())
    picture = paint(scene)
    (axes,) = picture.figure.axes
    boxes = [box for _, box in scene.text_boxes]
    with mpl.rc_context(SETTINGS):
        renderer = FigureCanvasAgg(picture.figure).get_renderer()
        inks = [text.get_window_extent(renderer) for text in axes.texts]
    for text, extent in zip(axes.texts, inks, strict=True):
        ink = extent.transformed(axes.transData.inverted())
        x, y = (ink.x0 + ink.x1) / 2, (ink.y0 + ink.y1) / 2
        holders = [b for b in boxes if b.left <= x <= b.right and b.bottom <= y <= b.top]
        assert holders, text.get_text()
        slack = 0.12 * text.get_fontsize() / 72 * scene.scale
        assert any(b.left - slack <= ink.x0 and ink.x1 <= b.right + slack for b in holders), text.get_text()


def test_both_painters_let_near_shapes_hide_far_ones() -> None:
    far = Area(((0, 0), (100, 0), (100, 100), (0, 100)), Role.POST)
    near = Area(((20, 20), (80, 20), (80, 80), (20, 80)), Role.JOIST)
    for shapes, shade in (((far, near), 255), ((near, far), 40)):
        scene = Scene("t", "p", 50.0, "", 10.0, stacked=True, shapes=shapes)
        image = picture_of(paint(scene)._repr_png_())
        assert image[image.shape[0] // 2, image.shape[1] // 2] == pytest.approx(shade, abs=8)
        svg = paint_svg(scene)
        order = [svg.index(f'fill="{grey(PENS[shape.role].fill)}"') for shape in shapes]
        assert order == sorted(order)


def test_a_picture_saves_itself_and_says_what_it_is(tmp_path: Path) -> None:
    picture = paint(side_view(deck()))
    assert repr(picture) == "<Picture: Side view from the south, Scale 3/8 in = 1 ft>"
    assert picture.save(tmp_path / "a.png").read_bytes().startswith(b"\x89PNG")
    assert picture.save(tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")
    ElementTree.fromstring(picture.save(tmp_path / "a.svg").read_text(encoding="utf-8"))
    with pytest.raises(ValueError, match=r"not \.bmp"):
        picture.save(tmp_path / "a.bmp")


def test_matplotlib_comes_in_with_its_painter_only() -> None:
    code = (
        "import sys\nimport deckplan.draw.plan_view, deckplan.draw.section_view, deckplan.draw.side_view\n"
        "import deckplan.draw.paint_svg\nassert 'matplotlib' not in sys.modules\n"
        "import deckplan.draw.paint_matplotlib\nassert 'matplotlib.pyplot' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=Path(__file__).parents[1])


def test_painting_leaves_matplotlibs_settings_alone() -> None:
    before = dict(mpl.rcParams)
    paint(plan_view(deck()))._repr_png_()
    assert dict(mpl.rcParams) == before


def test_an_empty_scene_paints() -> None:
    scene = Scene("nothing", "p", 48.0, "", 1.0)
    ElementTree.fromstring(paint_svg(scene))
    assert paint(scene)._repr_png_()


def test_shapes_of_every_kind_reach_the_svg() -> None:
    shapes = (
        Stroke(((0, 0), (10, 5)), Role.GUARD),
        Disc((5, 5), 3.0, Role.FOOTING, "A-F1"),
        Area(((0, 0), (4, 0), (4, 4)), Role.CUT, "A-J1"),
    )
    labels = (
        Label("two\nlines", (5.0, 5.0), 1.0, Role.NOTE, angle=90.0, plate=True, leader=((1, 1), (2, 2))),
    )
    root = ElementTree.fromstring(paint_svg(Scene("t", "p", 1.0, "", 0.0, shapes=shapes, labels=labels)))
    assert [c.get("r") for c in root.iter(f"{SVG}circle") if c.get("r") == "3"] == ["3"]
    assert [text.text for text in root.iter(f"{SVG}text")] == ["two", "lines"]
    assert "rotate(-90" in (next(root.iter(f"{SVG}text")).get("transform") or "")
