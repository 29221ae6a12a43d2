"""One server a worker, run as its user runs it, and visits to it in the worker's browser."""

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from apps.web.server import free_port
from tests.made import made_in

ROOT = Path(__file__).parents[2]
SIZES = {"projector": (1920, 1080), "laptop": (1366, 768), "phone": (390, 844)}
READY = 60_000
"""Milliseconds that a desk may take when everything else runs too; how long it takes is the benchmark's business."""

Visit = Callable[..., AbstractContextManager["Visited"]]


@dataclass
class Served:
    """A running server: where it is, its process, and the folder in which it keeps what is to outlive it."""

    address: str
    process: subprocess.Popen[str]
    folder: Path


@contextmanager
def serving(folder: Path, *options: str, port: int | None = None, cache: Path | None = None) -> Iterator[Served]:
    """Run ``mechviz serve`` until the test is done with it; it has to end by itself when asked to."""
    port = port or free_port(0)
    line = [sys.executable, "-m", "apps.cli", "serve", "--no-browser", "--port", str(port), *options]
    environment = os.environ | {
        "XDG_DATA_HOME": str(folder),
        "XDG_CACHE_HOME": str(cache or folder),
        "PYTHONPATH": str(ROOT),
    }
    process = subprocess.Popen(line, stdout=subprocess.PIPE, text=True, env=environment, cwd=ROOT)
    try:
        said = ""
        while "Ctrl C" not in said:
            line_said = process.stdout.readline() if process.stdout else ""
            assert line_said, f"the server ended: {said}"
            said += line_said
        yield Served(f"http://localhost:{port}/", process, folder)
        process.send_signal(2)
        assert process.wait(timeout=20) == 0
    finally:
        process.kill()
        process.communicate()


@dataclass
class Visited:
    """A desk in a tab, and everything that it complained of or asked others for."""

    page: Page
    context: BrowserContext
    complaints: list[str] = field(default_factory=list[str])

    def query(self) -> str:
        """The state in the address."""
        return urlsplit(self.page.url).query

    def until(self, condition: str) -> None:
        """Wait until a condition of the page's holds."""
        self.page.wait_for_function(condition, timeout=READY)

    def fits(self) -> bool:
        """Whether nothing makes the page scroll sideways."""
        return self.page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(tmp_path_factory.mktemp("served"), cache=made_in(tmp_path_factory).folder) as found:
        yield found


@pytest.fixture
def visit(browser: Browser, served: Served) -> Visit:
    """Open a desk: ``with visit("mechanic?base=drive-16.5x7", size="phone") as it:``."""

    @contextmanager
    def visiting(path: str = "", size: str = "laptop", address: str | None = None, **options: Any) -> Iterator[Visited]:
        width, height = SIZES[size]
        given: dict[str, Any] = {"viewport": {"width": width, "height": height}, "reduced_motion": "reduce"} | options
        context = browser.new_context(**given)
        found = Visited(context.new_page(), context)
        _listen(found)
        found.page.set_default_timeout(READY)
        found.page.goto((address or served.address) + path)
        found.page.wait_for_selector("header.frame .bar", state="attached")
        yield found
        context.close()
        assert found.complaints == []

    return visiting


def _listen(found: Visited) -> None:
    """Hear what a page complains of, and whom it asks for anything."""
    say = found.complaints.append
    page = found.page
    page.on("console", lambda message: _heard(message.type, message.text, say))
    page.on("pageerror", lambda error: say(f"error: {error}"))
    page.on("request", lambda asked: is_here(asked.url) or say(f"asked for {asked.url[:80]}"))
    page.on("websocket", lambda socket: is_here(socket.url) or say(f"asked for {socket.url[:80]}"))


def _heard(kind: str, text: str, say: Callable[[str], None]) -> None:
    quiet = "GL Driver Message (OpenGL, Performance"  # without a graphics card WebGL's picture is copied: no fault
    if kind in ("error", "warning") and quiet not in text:
        say(f"console {kind}: {text[:300]}")


def is_here(url: str) -> bool:
    return url.startswith(("data:", "blob:", "about:")) or urlsplit(url).hostname == "localhost"
