"""A page that is started anew in a tab is the page that is loaded: nothing of the test before is left in it."""

from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

import pytest
from playwright.sync_api import Browser

from tests.page import tabs
from tests.page.browser import opened
from tests.page.conftest import WORN, Pages
from tests.page.tabs import Tabs
from tests.sweeps import sweep

BORN = "performance.timeOrigin"
"""Another one after each load."""
STANDS = "document.getElementById('page').innerHTML.replace(/clip-drum-\\d+/g, 'clip-drum')"
"""All that is on the page; what cuts the linings has a number of its own in each player."""
STEER = "steer-15x4"


@pytest.fixture
def fresh(browser: Browser) -> Browser:
    """A browser whose waiting tabs are forgotten, so that the first opening is a load."""
    waiting = Tabs.of(browser).waiting
    while waiting:
        waiting.pop().context.close()
    return browser


@pytest.mark.parametrize("state", sweep(["#m=faults&k=play&u=metric", "", "#x=1&l=1&c=dark"], always=2))
def test_it_is_made_anew_as_it_is_loaded(fresh: Browser, pages: Pages, state: str) -> None:
    url = pages.file(WORN).as_uri() + state
    with opened(fresh, url) as it:
        born, loaded = it.page.evaluate(BORN), it.settle().page.evaluate(STANDS)
        it.press("s", "PageDown", "2", "PageDown", "a", "h", "3", "PageDown", "End", "u", "t", "l", "b", "v").settle()
        assert it.page.evaluate(STANDS) != loaded
    with opened(fresh, url, viewport={"width": 390, "height": 844}, color_scheme="dark") as it:
        assert it.page.evaluate(BORN) == born
        assert it.page.evaluate("[innerWidth, matchMedia('(prefers-color-scheme: dark)').matches]") == [390, True]
    with opened(fresh, url) as it:
        assert it.page.evaluate(BORN) == born
        assert it.settle().page.evaluate(STANDS) == loaded
        assert it.page.evaluate("[innerWidth, matchMedia('(prefers-color-scheme: dark)').matches]") == [1366, False]


CHANGES = (
    "window.planted = 1",
    "Math.random = () => 0.4",
    "HTMLCanvasElement.prototype.getContext = () => null",
    "document.head.append(document.createElement('style'))",
    "document.body.className = 'planted'",
    "document.querySelector('[data-role=solid]').remove()",
)


def test_where_more_than_the_page_is_changed_it_is_loaded(fresh: Browser, pages: Pages) -> None:
    born = set[float]()
    for change in CHANGES:
        with opened(fresh, pages.file(WORN).as_uri()) as it:
            born.add(it.page.evaluate(BORN))
            it.page.evaluate(f"() => {{ {change}; }}")
    assert len(born) == len(CHANGES)


def test_each_page_keeps_its_tab_and_there_are_not_many(
    fresh: Browser, pages: Pages, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tabs, "MOST", 2)
    born: dict[str, float] = {}
    for name in (WORN, STEER, WORN, STEER):
        with opened(fresh, pages.file(name).as_uri()) as it:
            assert born.setdefault(name, it.page.evaluate(BORN)) == it.page.evaluate(BORN)
    copy = pages.made.folder / "copy.html"
    for _ in range(2):  # a file that is written anew is another page
        copy.write_bytes(pages.file(WORN).read_bytes())
        with opened(fresh, copy.as_uri()) as it:
            assert it.page.evaluate(BORN) not in born.values()
    assert len(Tabs.of(fresh).waiting) == 2


def test_a_complaint_is_not_lost_when_the_page_is_put_away(fresh: Browser, pages: Pages) -> None:
    url = pages.file(WORN).as_uri()
    for _ in range(2):
        with pytest.raises(AssertionError, match="planted"), opened(fresh, url) as it:
            it.page.evaluate("console.error('planted')")


# pages that this machine serves, as those of the web apps


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Nobody looks at the log."""


@pytest.fixture
def server(tmp_path: Path) -> Iterator[str]:
    """The address of a folder with one page."""
    (tmp_path / "a.html").write_text("<link rel=icon href='data:,'><h1>served</h1>", encoding="utf-8")
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(tmp_path))) as running:
        thread = Thread(target=running.serve_forever, args=(0.01,))
        thread.start()
        yield f"http://127.0.0.1:{running.server_port}/"
        running.shutdown()
        thread.join()


def test_a_served_page_may_ask_its_server_and_nobody_else(fresh: Browser, server: str, pages: Pages) -> None:
    with opened(fresh, f"{server}a.html", "h1") as it:
        assert it.text("h1") == "served"
        assert it.page.evaluate("fetch('a.html').then((answer) => answer.ok)")
    with pytest.raises(AssertionError, match="asked for http://127"), opened(fresh, f"{server}a.html", "h1") as it:
        it.page.evaluate("fetch('http://127.0.0.1:9/').catch(() => null)")
    with opened(fresh, pages.file(WORN).as_uri()) as it:  # in the same tab
        assert it.page.evaluate("navigator.onLine") is False
