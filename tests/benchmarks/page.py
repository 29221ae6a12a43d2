"""How fast the animated page is in a real browser: first frame, frames a second, script a frame, size of the file.

Run it with ``python -m tests.benchmarks.page``. Wanted: first frame within 0.3 s of opening the file, 60 frames a
second at 1920 x 1080, at most 2 ms of script a frame, less than 1 MB. The script's time is the processor's, as the
browser traces it, so that what else runs on the machine does not count.
"""

import json
import tempfile
from itertools import pairwise
from pathlib import Path
from statistics import median

from playwright.sync_api import Browser, BrowserContext

from geometry.setup import read_setup
from mechviz.page.html import page_html
from tests.page.browser import chromium

SETUP = "worn-drive-16.5x7"
SECONDS = 4.0

CLOCK = """
window.marks = {stamps: [], first: 0};
const seen = (list) => { marks.first ||= list.getEntries()[0].startTime; };
new PerformanceObserver(seen).observe({type: "paint", buffered: true});
"""

STAMPS = """
() => { const stamp = (time) => { marks.stamps.push(time); requestAnimationFrame(stamp); };
requestAnimationFrame(stamp); }
"""

IDLE = 0.05
"""A frame in which the page's script takes less, ms, is one in which nothing moves."""


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        path = Path(folder) / "page.html"
        path.write_text(page_html(read_setup(SETUP)), encoding="utf-8")
        print(f"file                  {path.stat().st_size / 1000:9.0f} kB")
        print(
            f"first frame           {1000 * median(first_frame(browser, path) for _ in range(5)):9.0f} ms, median of 5"
        )
        for what, keys in MOTIONS.items():
            rate, script = playing(browser, path, keys)
            times = sorted(script)
            high = times[int(0.95 * len(times))]
            print(
                f"{what:21} {rate:9.1f} frames a second, {median(times):.2f} ms of script a frame, 95 % {high:.2f} ms"
            )


MOTIONS = {
    "playing": ["p"],
    "linings wear (story)": ["s", "PageDown", "PageDown"],
    "drum heats (story)": ["s", *["PageDown"] * 4],
    "working life": ["2", "a", "-", "p"],
    "a defect": ["3", *["PageDown"] * 3, "p"],
    "the air": ["4", "p"],
}


def first_frame(browser: Browser, path: Path) -> float:
    """Return the seconds from asking for the file to its first contentful paint, script run."""
    context = _context(browser)
    page = context.new_page()
    page.goto(path.as_uri())
    page.wait_for_function("() => marks.first > 0 && document.querySelector('.mechviz[data-verdict]')")
    seconds = float(
        page.evaluate("Math.max(marks.first, performance.getEntriesByType('navigation')[0].domInteractive)")
    )
    context.close()
    return seconds / 1000


def playing(browser: Browser, path: Path, keys: list[str]) -> tuple[float, list[float]]:
    """Return frames a second and the script's milliseconds of processor time in each, while something moves."""
    context = _context(browser)
    page = context.new_page()
    page.goto(path.as_uri())
    for key in keys:
        page.keyboard.press(key)
    page.wait_for_timeout(300)
    page.evaluate(STAMPS)
    browser.start_tracing(page=page, categories=["devtools.timeline"])
    page.wait_for_timeout(1000 * SECONDS)
    events = json.loads(browser.stop_tracing())["traceEvents"]
    stamps = page.evaluate("marks.stamps")
    context.close()
    frames = [event.get("tdur", 0) / 1000 for event in events if event.get("name") == "FireAnimationFrame"]
    gaps = [after - before for before, after in pairwise(stamps)]
    return 1000 / median(gaps), [frame for frame in frames if frame > IDLE]


def _context(browser: Browser) -> BrowserContext:
    context = browser.new_context(viewport={"width": 1920, "height": 1080}, bypass_csp=True)
    context.set_offline(True)
    context.add_init_script(CLOCK)
    return context


if __name__ == "__main__":
    main()
