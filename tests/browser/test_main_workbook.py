"""The main workbook in a real browser: in JupyterLab by keyboard, and as a page without code."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.serving import browsing, served

pytestmark = pytest.mark.browser
DINING = 'input[type="range"][data-place="platform.dining.elevation"]'

# A point where the browser would give the pointer to a part of platform A.
FIND_A_GRIP = """(stage) => {
  const box = stage.getBoundingClientRect();
  for (let y = box.top + 4; y < Math.min(box.bottom, window.innerHeight) - 4; y += 3)
    for (let x = box.left + 4; x < box.right - 4; x += 3)
      if (document.elementFromPoint(x, y)?.closest('.dp-part.is-grip')?.dataset.mark.startsWith('A-')) return [x, y];
  return [0, 0];
}"""


def run_all(page: Page, url: str) -> None:
    page.goto(url)
    page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=60_000)
    page.wait_for_selector("text=/Python 3 .* Idle/", timeout=60_000)
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.locator(".lm-Menu-itemLabel").get_by_text("Run All Cells", exact=True).first.click()
    page.wait_for_selector(".dk-stage svg", timeout=60_000)


def look_without_kernel(page: Page, url: str) -> None:
    """Open the workbook and run nothing: the stored pictures of plan and section show all the same."""
    page.goto(url)
    page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=60_000)
    picture = page.locator('.jp-OutputArea img[src^="data:image/svg+xml;base64,"]').first
    picture.scroll_into_view_if_needed(timeout=20_000)
    assert picture.evaluate("(image) => image.complete && image.naturalWidth > 100")
    expect(page.locator(".jp-OutputArea table").first).to_be_attached()


def move_and_look(page: Page) -> None:
    """Raise the dining level by an inch with the arrow keys and see what follows."""
    slider = page.locator(DINING).first
    field = page.get_by_label("elevation of dining", exact=True).first
    steps = page.locator(".dk-field", has=slider).first.locator(".dk-follows")
    drawing = page.locator(".dk-stage").first
    expect(field).to_have_value("30 in")
    expect(steps).to_contain_text('2 risers of 5 1/4" to lounge')
    expect(drawing).to_contain_text("+2'-6\"")
    slider.focus()
    for _ in range(4):
        page.keyboard.press("ArrowRight")
        page.wait_for_timeout(120)
    expect(field).to_have_value("31 in")
    expect(steps).to_contain_text('2 risers of 5 3/4" to lounge')
    expect(drawing).to_contain_text("+2'-7\"")
    page.get_by_role("tab", name="Tables").first.click()
    expect(page.locator(".dk-table").filter(has_text="lounge").first).to_contain_text("2'-7\"")
    page.get_by_role("button", name="undo").first.click()
    expect(field).to_have_value("30 in")


def look_closer(page: Page) -> None:
    """Type a wrong text, walk the drawing by keys, pick a part, read why."""
    field = page.get_by_label("elevation of dining", exact=True).first
    field.fill("thirty")
    field.press("Enter")
    wrong = page.locator(".dk-field", has=field).first.locator(".dk-wrong")
    expect(wrong).to_contain_text("a length such as")
    expect(field).to_have_value("thirty")
    field.fill("2'-6\"")
    field.press("Enter")
    expect(wrong).to_be_empty()
    page.get_by_role("tab", name="Checks").first.click()
    stage = page.locator(".dk-stage").first
    stage.focus()
    page.keyboard.press("ArrowRight")
    live = page.locator(".dk-live").first
    expect(live).not_to_contain_text("Point at a part")
    mark = re.match(r"([A-Z]+-[A-Z]+\d+)", live.inner_text())
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(live).not_to_contain_text(mark[1] if mark else "nothing")
    page.locator('.dk-stage [data-mark="A-B1"]').first.dispatch_event("click")
    expect(page.locator(".dk-why").first).to_contain_text("A-B1")
    expect(page.locator(".dk-why .dk-sum li").first).to_be_visible()
    page.get_by_role("button", name="back to the whole deck").first.click()


def look_at_the_rest(page: Page) -> None:
    """See boards, furniture, a load path and a detail, by click and by keys."""
    stage, beneath = page.locator(".dk-stage").first, page.locator(".dk-beneath").first
    page.get_by_role("radio", name="Boards", exact=True).first.click()
    expect(beneath).to_contain_text("Cut list of the boards")
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("radio", name="Furniture", exact=True).first).to_be_focused()
    expect(beneath).to_contain_text("What fits")
    page.get_by_role("radio", name="Load path", exact=True).first.click()
    page.locator('.dk-choices select[data-name="mark"]').first.select_option("A-F2")
    expect(beneath).to_contain_text("What stands on A-F2")
    stage.locator('[data-mark="A-B1"]').first.dispatch_event("click")
    expect(beneath).to_contain_text("Where that load goes")
    expect(page.locator(".dk-why").first).to_contain_text("A-B1")
    page.get_by_role("tab", name="Details").first.click()
    expect(stage).to_contain_text("post cap")
    page.get_by_role("tab", name="From above").first.click()
    page.get_by_role("radio", name="Framing", exact=True).first.click()
    expect(stage).to_contain_text("joists at")
    page.get_by_role("button", name="back to the whole deck").first.click()


def choose_how_levels_meet(page: Page) -> None:
    """Let two levels share a post at one press, and take it back."""
    page.get_by_role("tab", name="Where levels meet").first.click()
    ways = page.locator(".dk-ways").first
    expect(ways).to_contain_text("set-back under overhang", timeout=20_000)
    assert page.locator("[data-mark='B-F4']").count() > 0
    page.get_by_role("button", name="use shared post line for dining and lounge").first.click()
    expect(page.get_by_text("Undo takes it back").first).to_be_visible(timeout=20_000)
    expect(page.locator(".dk-faults").first).to_contain_text("past B-B2, more than")
    page.get_by_role("button", name="undo").first.click()
    expect(page.locator(".dk-faults").first).to_contain_text("Every check passes")
    expect(ways.locator("tr", has_text="independent posts").first).to_contain_text("as drawn")
    page.get_by_role("tab", name="Checks").first.click()


def pull_a_level(page: Page) -> None:
    """Pull the dining level up in the view from the side, as far as about an inch."""
    page.get_by_role("tab", name="From the side").first.click()
    stage = page.locator(".dk-stage").first
    expect(stage.locator('.dp-part.is-grip[data-mark^="A-"]').first).to_be_attached()
    stage.scroll_into_view_if_needed()
    x, y = stage.evaluate(FIND_A_GRIP)
    field = page.get_by_label("elevation of dining", exact=True).first
    before = field.input_value()
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 7):
        page.mouse.move(x, y - 2 * step)
        page.wait_for_timeout(60)
    page.mouse.up()
    expect(field).not_to_have_value(before)
    page.wait_for_timeout(500)  # the last move is still on its way to the kernel
    page.get_by_role("button", name="undo").first.click()
    expect(field).to_have_value("30 in")
    page.get_by_role("tab", name="From above").first.click()


def test_in_jupyterlab(tmp_path: Path) -> None:
    with served(tmp_path, app=False) as url, browsing() as (page, seen):
        look_without_kernel(page, url)
        run_all(page, url)
        move_and_look(page)
        look_closer(page)
        look_at_the_rest(page)
        choose_how_levels_meet(page)
        pull_a_level(page)
        page.wait_for_function(
            "() => [...document.querySelectorAll('.jp-InputPrompt')].every((p) => !p.textContent.includes('*'))"
        )
        assert (
            page.locator(
                '[data-mime-type="application/vnd.jupyter.stderr"], .jp-RenderedText pre .ansi-red-fg'
            ).count()
            == 0
        )
        assert seen.errors == []
        assert [url for url in seen.outside if "deckplan" in url] == []


@pytest.mark.parametrize("width", [390, 1440])
def test_as_a_page_without_code(tmp_path: Path, width: int) -> None:
    with served(tmp_path, app=True) as url, browsing(width, 900) as (page, seen):
        page.goto(url)
        page.wait_for_selector(".dk-stage svg", timeout=60_000)
        page.wait_for_timeout(500)
        move_and_look(page)
        look_closer(page)
        if width > 480:
            look_at_the_rest(page)
            choose_how_levels_meet(page)
            pull_a_level(page)
        assert page.title() == "Alder Point terraces - deckplan"
        assert seen.outside == [], "the page asks no network"
        assert seen.errors == []
        assert page.locator(".jp-CodeCell .jp-InputArea").count() == 0
        bench = page.locator(".dk-bench").first
        fits = bench.evaluate("(box) => box.getBoundingClientRect().right <= window.innerWidth + 1")
        assert fits, "nothing is cut off at the right"
        sizes = page.locator(DINING).first.evaluate("(box) => box.getBoundingClientRect().height")
        assert sizes >= (44 if width < 480 else 36)
