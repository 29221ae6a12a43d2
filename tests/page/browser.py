"""A real browser, headless, with the network off: what a page does is asked of the page itself."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from time import monotonic, sleep
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from tests.page.tabs import ALL, Tabs, served_by

FLAGS = (
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-unsafe-swiftshader",
)
LOCAL = ("file:", "data:", "blob:", "about:")
READY = ".mechviz[data-verdict]"
"""What the animated page has once it is drawn."""
BROWSERS = ("chromium-headless-shell", "chromium")
"""The first one that is here is taken: without a window of its own it does the same in two thirds of the time."""
PACKAGES = "chromium-headless-shell libatomic1"

PAUSE = 0.015
"""Seconds between two looks at a page that moves: whoever looks on and on takes the time that it needs to move."""


@contextmanager
def chromium() -> Iterator[Browser]:
    """A browser that is closed in the end. Fails, and says what to install, where there is none."""
    path = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    if path is None:
        pytest.fail(f"no chromium here: apt-get install -y --no-install-recommends {PACKAGES}", pytrace=False)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        yield browser
        ALL.pop(browser, None)
        browser.close()


@dataclass
class Opened:
    """A page, and everything that it said or asked for that it should not have."""

    page: Page
    context: BrowserContext
    may_ask: tuple[str, ...] = LOCAL
    complaints: list[str] = field(default_factory=list[str])

    def press(self, *keys: str) -> "Opened":
        for key in keys:
            self.page.keyboard.press(key)
        return self

    def data(self, name: str) -> str | None:
        return self.page.locator(".mechviz").get_attribute(f"data-{name}")

    def text(self, selector: str) -> str:
        return self.page.locator(selector).first.text_content() or ""

    def phase(self) -> str:
        return self.text("[data-role=phase]")

    def settle(self) -> "Opened":
        """Let what was asked for be drawn."""
        self.page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
        return self

    def until(self, condition: str) -> "Opened":
        end = monotonic() + 8
        while not self.page.evaluate(condition):
            assert monotonic() < end, condition
            sleep(PAUSE)
        return self


DRIVER = "GL Driver Message (OpenGL, Performance"
"""How the browser tells that without a graphics card it copies what WebGL has drawn: no fault of the page's."""


@contextmanager
def opened(browser: Browser, url: str, ready: str = READY, **options: Any) -> Iterator[Opened]:
    """A page from a file with the network off, or one that this machine serves and that asks nobody else.

    It is handed on once ``ready`` is there (a selector). In the end nothing may have been complained of. A tab serves
    one test after another (`tabs.py`), unless the ``options`` are such as only a tab of its own can have: size, colours
    and motion are set anew each time.
    """
    tabs = Tabs.of(browser)
    tab = tabs.take(url, options)
    found = Opened(tab.page, tab.context, (*LOCAL, *served_by(url)))
    heard = _listen(found)
    tab.show(url)
    tab.page.wait_for_selector(ready)
    yield found
    tabs.give_back(tab)
    for event, hear in heard.items():
        tab.page.remove_listener(event, hear)
    assert found.complaints == [], found.complaints


def _listen(found: Opened) -> dict[str, Callable[[Any], None]]:
    """Hear what a page says and asks for."""
    say = found.complaints.append
    heard: dict[str, Callable[[Any], None]] = {
        "console": lambda message: DRIVER in message.text or say(f"console {message.type}: {message.text}"),
        "pageerror": lambda error: say(f"error: {error}"),
        "request": lambda request: _ask(found, request.url),
    }
    for event, hear in heard.items():
        found.page.on(event, hear)
    return heard


def _ask(found: Opened, url: str) -> None:
    if not url.startswith(found.may_ask):
        found.complaints.append(f"asked for {url[:80]}")
