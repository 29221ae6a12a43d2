"""On every screen, in large type and on paper: what can be switched on can be switched off, and nothing is lost."""

import io
from itertools import pairwise

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

from tests.page.browser import Opened, opened
from tests.page.conftest import WORN, Open, Pages
from tests.sweeps import sweep

CHAIN = ["Air pushes the rod", "The rod turns arm and cam", "The cam spreads the shoes", "The linings rub the drum"]


@pytest.mark.parametrize(
    ("width", "height"), sweep([(1366, 768), (390, 844), (1920, 1080), (1280, 720)], always=2, several=True)
)
def test_large_type_is_switched_off_where_it_was_switched_on(show: Open, width: int, height: int) -> None:
    with show(viewport={"width": width, "height": height}) as it:
        large = it.page.locator("[data-role=large]")
        large.click()
        assert it.settle().data("large") == "yes"
        for role in ("large", "mode-life", "story", "help"):
            assert it.page.locator(f"[data-role={role}]").is_visible(), role
        picture = it.page.locator(".picture svg").first.bounding_box()
        press = it.page.locator("[data-role=press]").bounding_box()
        assert picture is not None
        assert press is not None
        assert press["y"] + press["height"] <= height
        assert width < 1331 or picture["y"] + picture["height"] <= press["y"] + 0.5
        assert it.page.evaluate("document.documentElement.scrollWidth") <= width
        large.click()
        assert it.settle().data("large") == "no"


@pytest.mark.parametrize("width", sweep([390, 1000, 768], always=2))
def test_a_narrow_screen_tells_what_pushes_what_and_labels_switch_it(show: Open, width: int) -> None:
    with show(WORN, "#x=1", viewport={"width": width, "height": 844}) as it:
        told = it.page.locator("[data-role=links] li")
        assert told.all_text_contents() == CHAIN
        assert it.page.locator("[data-role=links]").is_visible()
        it.press("Home").settle()
        assert told.all_text_contents()[0] == "No air pushes"
        labels = it.page.locator("[data-role=labels]")
        labels.click()
        assert not it.page.locator("[data-role=links]").is_visible()
        labels.click()
        assert it.page.locator("[data-role=links]").is_visible()


def test_words_under_the_scale_stay_apart_in_large_type(show: Open) -> None:
    with show(WORN, "#x=1", viewport={"width": 1920, "height": 1080}) as it:
        for _ in range(2):
            boxes = it.page.evaluate(
                """() => [...document.querySelectorAll("#note-verdict text")].filter((n) => n.textContent
                && n.checkVisibility() && n.getAttribute("text-anchor") === "middle").map((n) => {
                const b = n.getBBox(); return [b.x, b.x + b.width]; })"""
            )
            ends = sorted(boxes)
            assert len(ends) >= 3
            assert all(right + 8 < left for (_, right), (left, _) in pairwise(ends))
            it.press("l").settle()


@pytest.mark.parametrize("name", [WORN, "steer-15x4"])
def test_no_word_of_the_picture_is_cut_in_large_type(show: Open, name: str) -> None:
    one = "#p=0.655001943&w=8.382&t=294.261111&a=1.35176&x=0.65&l=1"
    for state in ("#x=1&l=1", "#x=0.65&l=1", one, "#l=1&m=air&k=story&y=17", "#l=1&m=air&k=compound&y=5.9"):
        with show(name, state, viewport={"width": 1366, "height": 768}) as it:
            ends = it.page.evaluate(
                """() => [...document.querySelectorAll(".picture svg.mv text")].filter((n) => n.textContent
                && n.checkVisibility() && getComputedStyle(n).visibility === "visible")
                .map((n) => { const b = n.getBBox(); return [n.textContent, b.x, b.x + b.width]; })"""
            )
            assert len(ends) > 20
            assert [words for words, left, right in ends if left < 0 or right > 1600] == [], state


def test_a_wide_screen_tells_it_in_the_picture_alone(show: Open) -> None:
    with show(WORN, "#x=1") as it:
        assert not it.page.locator("[data-role=links]").is_visible()
        assert it.page.locator("#note-chain").is_visible()


def paper(it: Opened) -> str:
    """The one page that it prints on, as its letters: where words end depends on the browser's spacing."""
    pdf = PdfReader(io.BytesIO(it.page.pdf(prefer_css_page_size=True)))
    assert len(pdf.pages) == 1
    assert pdf.pages[0].mediabox.width > pdf.pages[0].mediabox.height
    return "".join(pdf.pages[0].extract_text().split())


@pytest.fixture(scope="module")
def plain(browser: Browser, pages: Pages) -> str:
    """What it prints from a usual window."""
    with opened(browser, pages.file(WORN).as_uri() + "#x=1") as it:
        printed = paper(it)
    assert "Theliningsrubthedrum" in printed
    assert "Quarrytipper" in printed
    return printed


@pytest.mark.parametrize(
    ("state", "width", "height"),
    sweep(
        [("#x=1&l=1", 1366, 768), ("#x=1", 390, 844), ("#x=1&l=1", 390, 844), ("#x=1", 768, 1024)],
        always=2,
        several=True,
    ),
)
def test_it_prints_the_same_from_large_type_and_from_a_narrow_window(
    show: Open, plain: str, state: str, width: int, height: int
) -> None:
    with show(WORN, state, viewport={"width": width, "height": height}) as it:
        box = it.page.locator(".picture svg.mv").get_attribute("viewBox")
        assert sorted(paper(it)) == sorted(plain)
        it.page.wait_for_function("!document.querySelector('.mechviz').dataset.printing")
        assert it.page.locator(".picture svg.mv").get_attribute("viewBox") == box


def test_words_under_the_strokes_scale_stay_apart_on_paper(show: Open) -> None:
    with show(WORN, "#x=1", viewport={"width": 390, "height": 844}) as it:
        it.page.evaluate("dispatchEvent(new Event('beforeprint'))")
        it.page.emulate_media(media="print")
        boxes: list[list[float]] = it.page.evaluate(
            """() => [...document.querySelectorAll("#note-verdict text")].filter((n) => n.textContent
            && getComputedStyle(n).display !== "none" && n.getAttribute("text-anchor") === "middle")
            .map((n) => { const b = n.getBBox(); return [b.x, b.x + b.width]; }).sort((a, b) => a[0] - b[0])"""
        )
        assert len(boxes) == 4
        assert all(after[0] > before[1] for before, after in pairwise(boxes))
