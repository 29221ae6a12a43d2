"""How the desks hold up: a class at once, and how long one visitor waits.

Run it with ``python -m tests.benchmarks.desks [MEMBERS]``. Wanted: 40 members on one server at once without an error, a
page ready within 2 s, 95 of 100 changes seen within 60 ms. Every member opens each desk, over a web socket as a browser
does, changes the setup, and fetches the brake's data.
"""

import sys
import tempfile
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from time import perf_counter, sleep
from urllib.request import urlopen

from bokeh.client import pull_session
from playwright.sync_api import Browser, Page

from tests.desks.conftest import serving
from tests.job.jobs import AXLE, OVER
from tests.page.browser import chromium

MEMBERS = 40
TIMES = 40
DESKS = ("", "instructor", "mechanic", "designer")
SETUP = "setup=worn-drive-16.5x7"


def main(members: int = MEMBERS) -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as served, chromium() as browser:
        warmed(browser, served.address)
        for desk in DESKS:
            told(f"{members} open {desk or 'the first page'}", at_once(served.address, desk, members))
        for desk, seen in READY.items():
            told(f"page ready, {desk}", [ready(browser, f"{served.address}{desk}", seen) for _ in range(5)])
        told("clicker to next step", stepping(browser, served.address))
        told("reading to verdict", typing(browser, served.address))


READY = {
    "": ".brakes",
    f"instructor?{SETUP}&_lesson=brake": ".mechviz[data-verdict]",
    "instructor?_lesson=01-behind-the-wheel": ".lesson-words",
    f"mechanic?{SETUP}": ".mechanic .field",
    f"designer?{SETUP}": "button.main",
}


def told(what: str, seconds: Sequence[float]) -> None:
    """Print one line: how many, the median and the 95th percentile."""
    times = sorted(1000 * time for time in seconds)
    high = times[min(int(0.95 * len(times)), len(times) - 1)]
    print(f"{what:58} {len(times):4}  median {times[len(times) // 2]:7.0f} ms   95 % {high:7.0f} ms", flush=True)


def warmed(browser: Browser, address: str) -> None:
    """Let what is worked out once be worked out: a class's instructor has opened the lesson before."""
    for desk, seen in READY.items():
        ready(browser, f"{address}{desk}", seen, 180_000)


def at_once(address: str, desk: str, members: int) -> list[float]:
    """Return how long each of a class waited for a desk that all opened at once. Any error is one."""
    with ThreadPoolExecutor(members) as pool:
        return list(pool.map(lambda _: visited(f"{address}{desk}"), range(members)))


def visited(address: str) -> float:
    """Open a desk with its page and its session, and stay for a moment."""
    begun = perf_counter()
    with urlopen(address) as page:
        assert page.status == 200
        page.read()
    session = pull_session(url=address.rstrip("/"))
    assert session.document.roots
    taken = perf_counter() - begun
    sleep(1.0)
    session.close()
    return taken


def ready(browser: Browser, address: str, seen: str, wait: float = 60_000) -> float:
    """Return how long it takes from the address to the page."""
    with tab(browser) as page:
        begun = perf_counter()
        page.goto(address)
        page.wait_for_selector(seen, timeout=wait)
        return perf_counter() - begun


def tab(browser: Browser) -> Page:
    """Return a new tab of a laptop's size; used in a ``with`` it is closed again."""
    return browser.new_page(viewport={"width": 1366, "height": 768}, reduced_motion="reduce")


def stepping(browser: Browser, address: str) -> list[float]:
    """Return how long the class waits after each press of the clicker."""
    with tab(browser) as page:
        page.goto(f"{address}instructor?_lesson=01-behind-the-wheel")
        page.wait_for_selector(".lesson-words", timeout=60_000)
        return page.evaluate(CLICKS, TIMES)


CLICKS = """async (times) => {
  const frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  const taken = [];
  for (let i = 0; i < times; i++) {
    const begun = performance.now();
    document.dispatchEvent(new KeyboardEvent("keydown", {key: i % 16 < 8 ? "PageDown" : "PageUp", bubbles: true}));
    await frame();
    taken.push((performance.now() - begun) / 1000);
  }
  return taken;
}"""


def typing(browser: Browser, address: str) -> list[float]:
    """Return how long it takes from a changed stroke to the changed verdict, both wheels read."""
    with tab(browser) as page:
        page.goto(f"{address}mechanic?base=drive-16.5x7")
        for place, readings in (("axle", AXLE), ("left", OVER), ("right", OVER)):
            for key, text in readings.items():
                field = page.locator(f'[data-entry="{place}|before|{key}"]')
                if field.evaluate("one => one.localName") == "select":
                    field.select_option(text)
                else:
                    field.fill(text)
        page.locator(".wheels [data-side=left] span", has_text="Out of adjustment").wait_for()
        field = page.locator('[data-entry="left|before|measured.stroke"]')
        return [field.evaluate(READING, f"2 {1 + number % 7}/8") for number in range(TIMES)]


READING = """(field, text) => new Promise((done) => {
  const figures = field.getRootNode().querySelector("[data-wheel=left]");
  const begun = performance.now();
  const watcher = new MutationObserver(() => requestAnimationFrame(() => setTimeout(() => {
    watcher.disconnect();
    done((performance.now() - begun) / 1000);
  })));
  watcher.observe(figures, {childList: true, subtree: true, characterData: true});
  field.value = text;
  field.dispatchEvent(new Event("input", {bubbles: true, composed: true}));
})"""
"""Write a reading, and wait until what follows from it has been drawn."""


if __name__ == "__main__":
    main(*(int(given) for given in sys.argv[1:2]))
