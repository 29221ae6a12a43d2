"""A server that is stopped: every desk says so, comes back by itself, and brings what was written."""

from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from apps.web.server import free_port
from tests.desks.conftest import READY, serving
from tests.desks.test_teaching import SHORT

STOPPED = "The server has been stopped. Start mechviz serve again"


@contextmanager
def tab(browser: Browser, address: str) -> Generator[Page]:
    context = browser.new_context()
    page = context.new_page()
    page.set_default_timeout(READY)
    page.on("dialog", lambda dialog: dialog.accept())
    page.goto(address)
    page.wait_for_selector("header.frame .bar", state="attached")
    yield page
    context.close()


@pytest.mark.parametrize("desk", ["instructor?_lesson=short", "mechanic", "designer", ""])
def test_a_desk_says_that_its_server_is_gone_and_comes_back(
    browser: Browser, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory, desk: str
) -> None:
    port, cache = free_port(0), tmp_path_factory.mktemp("cache")
    lessons = tmp_path / "mechviz" / "lessons"
    lessons.mkdir(parents=True)
    (lessons / "short.md").write_text(SHORT)
    with serving(tmp_path, port=port, cache=cache) as served, tab(browser, served.address + desk) as page:
        if desk.startswith("instructor"):
            page.wait_for_selector(".lesson-words")
            page.click("[data-act=edit]")
        served.process.send_signal(2)
        page.wait_for_selector(f".gone >> text={STOPPED}")
        box = page.locator(".gone").bounding_box()
        assert box is not None
        assert box["y"] == 0
        if desk.startswith("instructor"):
            page.fill("textarea", SHORT.replace("The rod", "My rod"))
        served.process.wait(20)
        with serving(tmp_path, port=port, cache=cache):
            page.wait_for_selector(".gone", state="hidden")
            if desk.startswith("instructor"):
                page.click("[data-kept=take]")
                page.wait_for_selector(".lesson-words >> text=My rod")
