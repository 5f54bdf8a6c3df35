"""While a field far down is changed, the drawing and what does not stand stay in sight: at two sizes of a screen."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from deckplan.panels.opening import MAIN
from tests.browser.serving import browsing, served
from tests.browser.test_main_workbook import run_all

pytestmark = pytest.mark.browser
SIZES = ((1600, 1000), (1280, 800))
FRAMES = "04-frames-that-meet.ipynb"

# Whether a box is seen whole: a pointer near each of its ends would meet the box itself, or what lies in it.
SEEN = """(box) => {
  const { left, top, width, height } = box.getBoundingClientRect();
  const spots = [[0.5, 0.04], [0.5, 0.5], [0.5, 0.96], [0.04, 0.5], [0.96, 0.5]];
  return spots.every(([x, y]) => {
    const met = document.elementFromPoint(left + x * width, top + y * height);
    return met !== null && box.contains(met);
  });
}"""

ALL_RUN = "() => [...document.querySelectorAll('.jp-InputPrompt')].every((p) => !p.textContent.includes('*'))"


@pytest.fixture(scope="module")
def lab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with served(tmp_path_factory.mktemp("lab"), app=False) as url:
        yield url


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with served(tmp_path_factory.mktemp("app"), app=True) as url:
        yield url


def seen(page: Page, selector: str) -> bool:
    return bool(page.locator(selector).first.evaluate(SEEN))


def look_at_a_field(page: Page, group: str, label: str) -> None:
    """Put the bench at the top, as a reader does, open a platform's fields and go to one of them by key."""
    page.locator(".dk-halves").first.evaluate("(box) => box.scrollIntoView({ block: 'start' })")
    heads = page.locator(".dk-form:visible summary", has_text=group)
    if not heads.first.evaluate("(head) => head.parentElement.open"):
        heads.first.click()
    field = page.get_by_label(label, exact=True).first
    field.focus()
    page.wait_for_timeout(300)
    assert field.evaluate(SEEN)
    assert seen(page, ".dk-stage svg"), "the drawing"
    assert seen(page, ".dk-pinned"), "what does not stand"


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_drawing_stays_while_a_beam_moves_in_jupyterlab(lab: str, width: int, height: int) -> None:
    with browsing(width, height) as (page, said):
        run_all(page, lab.replace(MAIN, FRAMES))
        page.wait_for_function(ALL_RUN, timeout=90_000)
        look_at_a_field(page, "B  court", "offset of beam B-B2 of court")
        field = page.get_by_label("offset of beam B-B2 of court", exact=True).first
        field.fill("5")
        field.press("Enter")
        expect(
            page.locator(".dk-remark", has_text="5 taken as 5 in; write 5 ft for feet").first
        ).to_be_visible()
        expect(field).to_have_value("5 in")
        assert seen(page, ".dk-stage svg")
        assert said.errors == []


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_drawing_stays_while_a_beam_moves_on_the_page(app: str, width: int, height: int) -> None:
    with browsing(width, height) as (page, said):
        page.goto(app)
        page.wait_for_selector(".dk-stage svg", timeout=60_000)
        page.get_by_role("tab", name="Framing", exact=True).first.click()
        look_at_a_field(page, "B  lounge", "offset of beam B-B2 of lounge")
        assert said.errors == []


def test_a_corner_is_added_and_moved_with_the_drawing_in_sight(app: str) -> None:
    with browsing(1280, 800) as (page, said):
        page.goto(app)
        page.wait_for_selector(".dk-stage svg", timeout=60_000)
        look_at_a_field(page, "C  garden, corners", "add a corner to garden")
        page.get_by_label("add a corner to garden").first.select_option("2")
        corner = page.get_by_label("corner 3 of garden, along").first
        expect(corner).to_have_value("32 ft")
        corner.fill("30 ft 6 in")
        corner.press("Enter")
        expect(page.get_by_label("corner 5 of garden, along").first).to_have_count(1)
        corner.fill("-3 ft")
        corner.press("Enter")
        wrong = page.locator(".dk-field", has=corner).first.locator(".dk-wrong")
        expect(wrong).to_contain_text("-3 ft will not do: an outline whose edges do not cross")
        assert seen(page, ".dk-stage svg")
        page.get_by_role("button", name="undo").first.click()
        expect(corner).to_have_value("32 ft")
        assert said.errors == []


def test_the_drawing_goes_across_the_page_and_back(app: str) -> None:
    with browsing(1280, 800) as (page, said):
        page.goto(app)
        page.wait_for_selector(".dk-stage svg", timeout=60_000)
        stage, wide = (
            page.locator(".dk-stage").first,
            page.get_by_role("button", name="wide", exact=True).first,
        )
        before = stage.evaluate("(box) => box.clientWidth")
        wide.click()
        expect(page.locator(".dk-form").first).to_be_hidden()
        assert stage.evaluate("(box) => box.clientWidth") > 1.25 * before
        wide.click()
        expect(page.locator(".dk-form").first).to_be_visible()
        assert stage.evaluate("(box) => box.clientWidth") == before
        assert said.errors == []
