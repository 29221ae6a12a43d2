"""A real browser, headless, with the network off: what a page does is asked of the page itself."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from time import monotonic
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

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
PACKAGES = "chromium libatomic1"


@contextmanager
def chromium() -> Iterator[Browser]:
    """A browser that is closed in the end. Fails, and says what to install, where there is none."""
    path = shutil.which("chromium")
    if path is None:
        pytest.fail(f"no chromium here: apt-get install -y --no-install-recommends {PACKAGES}", pytrace=False)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        yield browser
        browser.close()


@dataclass
class Opened:
    """A page, and everything that it said or asked for that it should not have."""

    page: Page
    context: BrowserContext
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
        return self


@contextmanager
def opened(browser: Browser, url: str, **options: Any) -> Iterator[Opened]:
    """A page from a file with the network off. In the end nothing may have been complained of."""
    settings: dict[str, Any] = {"viewport": {"width": 1366, "height": 768}, "reduced_motion": "reduce"} | options
    context = browser.new_context(**settings)
    context.set_offline(True)
    page = context.new_page()
    found = Opened(page, context)
    page.on("console", lambda message: found.complaints.append(f"console {message.type}: {message.text}"))
    page.on("pageerror", lambda error: found.complaints.append(f"error: {error}"))
    page.on("request", lambda request: _ask(found, request.url))
    page.goto(url)
    page.wait_for_selector(".mechviz[data-verdict]")
    yield found
    context.close()
    assert found.complaints == []


def _ask(found: Opened, url: str) -> None:
    if not url.startswith(LOCAL):
        found.complaints.append(f"asked for {url[:80]}")
