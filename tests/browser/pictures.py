"""Take the pictures of the README anew: `python -m tests.browser.pictures`."""

from __future__ import annotations

import tempfile
from pathlib import Path

from deckplan.draw.paint_matplotlib import paint
from deckplan.draw.section_view import section_view
from deckplan.draw.sheet import SCREEN
from deckplan.panels.session import Session
from deckplan.reference import data_path
from tests.browser.serving import browsing, served
from tests.browser.test_main_workbook import DINING, run_all

MOST_BYTES = 300_000


def take_workbook(target: Path) -> None:
    """Take the main workbook in JupyterLab, the dining level raised by an inch."""
    with (
        tempfile.TemporaryDirectory() as folder,
        served(Path(folder), app=False) as url,
        browsing(1500, 1180) as (page, _),
    ):
        run_all(page, url)
        page.locator('.jp-SideBar [title^="File Browser"]').first.click()
        page.wait_for_timeout(800)
        slider = page.locator(DINING).first
        slider.focus()
        for _ in range(4):
            page.keyboard.press("ArrowRight")
            page.wait_for_timeout(150)
        page.locator('.dk-stage [data-mark="A-B1"]').first.hover(force=True)
        page.locator(".dk-head").first.evaluate("(head) => head.scrollIntoView({block: 'start'})")
        page.wait_for_timeout(500)
        page.screenshot(path=target)


def take_section(target: Path) -> None:
    """Paint the section through the demo deck."""
    study = Session.open(data_path("plans", "alder-point.toml")).study
    paint(section_view(study, sheet=SCREEN), dpi=150).save(target)


if __name__ == "__main__":
    pictures = data_path("plans").parent / "pictures"
    pictures.mkdir(exist_ok=True)
    take_section(pictures / "section.png")
    take_workbook(pictures / "workbook.png")
    for picture in sorted(pictures.glob("*.png")):
        size = picture.stat().st_size
        print(f"{picture.name}: {size} bytes")
        assert size < MOST_BYTES
