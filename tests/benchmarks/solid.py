"""How fast the solid view is in a real browser that draws without a graphics card.

Run it with ``python -m tests.benchmarks.solid``. Wanted: at least 30 frames a second at 1280 x 720 while the brake is
pressed and let go. The script's milliseconds are those of a frame in the browser's main thread, drawing commands
included; the renderer's come on top. How long it takes until the solids are seen is counted from the key.
"""

import os
import tempfile
from pathlib import Path
from statistics import median
from typing import Any

from playwright.sync_api import Browser

from geometry.setup import read_setup
from mechviz.page.html import page_html
from tests.page.browser import chromium

SETUP = "worn-drive-16.5x7"
SECONDS = 4.0
STATES = {
    "playing": "",
    "drum solid, wheel on": "vd=solid&vw=1",
    "cut open": "vc=1",
    "cut across the drum": "vc=2",
    "cut along the shaft": "vc=3",
    "cut through the chamber": "vc=4",
    "apart": "va=1",
}

LARGE = """
() => { const {stage} = document.querySelector("[data-role=solid]").solid; const box = stage.canvas.parentNode;
Object.assign(box.style, {position: "fixed", inset: 0, width: "1280px", height: "720px"}); stage.resize(); }
"""
"""The canvas alone, as large as the promise is made for."""

COUNT = """
async (seconds) => {
  const {solid} = document.querySelector("[data-role=solid]"), {stage} = solid, {player} = solid;
  const times = [], own = player.clock.tick;
  player.clock.tick = () => { const start = performance.now(); own(); times.push(performance.now() - start); };
  const before = stage.drawn, start = performance.now();
  await new Promise((done) => setTimeout(done, 1000 * seconds));
  player.clock.tick = own;
  const {triangles} = stage.drawing.info.render;
  return {rate: (1000 * (stage.drawn - before)) / (performance.now() - start), times, triangles, size: stage.size};
}
"""


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        path = Path(folder) / "page.html"
        path.write_text(page_html(read_setup(SETUP)), encoding="utf-8")
        print(f"load of the machine      {os.getloadavg()[0]:7.1f}")
        print(f"file                     {path.stat().st_size / 1000:7.0f} kB")
        print(f"from the key to solids   {median(opening(browser, path) for _ in range(3)):7.0f} ms, median of 3")
        for what, state in STATES.items():
            found = playing(browser, path, state)
            times = sorted(found["times"])
            script = f"{median(times):.1f} ms of script a frame, 95 % {times[int(0.95 * len(times))]:.1f} ms"
            size = " x ".join(map(str, found["size"]))
            print(f"{what:24} {found['rate']:7.1f} frames a second at {size}, {script}, {found['triangles']} triangles")


def opening(browser: Browser, path: Path) -> float:
    """Return the milliseconds from the key until the solids are drawn for the first time."""
    page = browser.new_page()
    page.goto(path.as_uri())
    page.wait_for_selector(".mechviz[data-verdict]")
    took = page.evaluate(
        """async () => { const {solid} = document.querySelector("[data-role=solid]");
        const start = performance.now(), late = () => performance.now() - start > 20000;
        solid.next(); while (!solid.stage?.drawn && !late()) await new Promise((done) => setTimeout(done, 4));
        return performance.now() - start; }"""
    )
    page.close()
    return float(took)


def playing(browser: Browser, path: Path, state: str) -> dict[str, Any]:
    """Return frames a second and the script's milliseconds in each, while the brake is pressed and let go."""
    page = browser.new_page(viewport={"width": 1366, "height": 768})
    page.goto(f"{path.as_uri()}#v=solid&{state}")
    for _ in range(200):
        page.wait_for_timeout(50)
        if page.evaluate("document.querySelector('[data-role=solid]').solid?.stage?.drawn > 0"):
            break
    page.evaluate(LARGE)
    page.keyboard.press("p")
    page.wait_for_timeout(500)
    found = page.evaluate(COUNT, SECONDS)
    page.close()
    return found


if __name__ == "__main__":
    main()
