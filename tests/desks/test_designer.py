"""The designer's desk in a real browser: from the ready study to a brake that is used, a cancel, wrong input."""

from pathlib import Path

from tests.desks.conftest import SIZES, Visit, Visited

ARM, OFFSET = "linkage.arm_length", "linkage.axis_offset"
RUN, STOPPED = "#run:not([disabled])", "#cancel"
NAMELESS = """() => {
  const found = [];
  const look = (root) => {
    for (const one of root.querySelectorAll("*")) if (one.shadowRoot) look(one.shadowRoot);
    for (const one of root.querySelectorAll("input:not([hidden]), select, button, [tabindex='0'], [role=slider]")) {
      const label = one.getAttribute("aria-label") || one.closest("label")?.textContent || one.textContent;
      if (!label?.trim() && !one.closest(".mechviz")) found.push(one.outerHTML.slice(0, 120));
    }
  };
  look(document);
  return found;
}"""
ON_MAP = """() => Bokeh.index.query_one((view) => view.model.name === "map" && view.model.type === "Figure")
  ?.model.renderers.map((one) => Object.values(one.data_source.data)[0].length)"""


def run(it: Visited) -> None:
    """Press the main button and wait for what comes of it."""
    it.page.click(RUN)
    it.page.wait_for_selector(".run >> text=/brakes in .* s: /")


def keys(it: Visited, selector: str, *names: str) -> None:
    it.page.locator(selector).focus()
    for name in names:
        it.page.keyboard.press(name)


def test_from_the_ready_study_to_a_brake_that_is_used(visit: Visit) -> None:
    with visit("designer?setup=drive-16.5x7") as it:
        page = it.page
        assert "A study is ready" in page.inner_text(".empty")
        run(it)
        page.wait_for_selector(".part-map canvas")
        it.until("document.querySelector('.part-map').getAttribute('aria-label')?.includes('arm angle at contact')")
        marks = page.evaluate(ON_MAP)
        assert min(marks[:4]) > 0, "bands, what is not allowed, lines of equal angle, and the limit"
        assert "mechviz's own rule" in page.inner_text(".limits")

        # by keyboard to a longer arm and a lower axis, which is kept; then a place of the map, pressed, kept too
        keys(it, f"[id='s-{ARM}']", "End")
        keys(it, f"[id='s-{OFFSET}']", "Home")
        page.wait_for_selector(".verdicts .v-close")
        it.until("location.search.includes('_point=')")
        keys(it, "#keep", "Enter")
        page.wait_for_selector(".compare >> text=6.50 in")
        box = page.locator(".part-map").bounding_box()
        assert box is not None
        page.mouse.click(box["x"] + 0.4 * box["width"], box["y"] + 0.4 * box["height"])
        page.wait_for_selector(".verdicts .v-close", state="detached")
        page.click("#keep")
        page.wait_for_selector(".compare th >> nth=2")
        page.wait_for_selector(".overlaid svg g >> nth=1", state="attached")

        # every view, by the keys of a row of tabs
        keys(it, "#tab-map", "ArrowRight")
        page.wait_for_selector("canvas[data-picture=lines]")
        keys(it, f"[data-key='{ARM}'][data-end='0']", "PageUp", "PageUp", "PageUp")
        page.wait_for_selector("text=/of 4,096 points within the brushed ranges/")
        it.until("location.search.includes('_filters=')")
        keys(it, "#tab-lines", "ArrowRight")
        page.click("[data-act=stand-row] >> nth=0")
        it.until("new URLSearchParams(location.search).get('_point').includes('linkage.axis_offset')")
        keys(it, "#tab-front", "ArrowRight")
        page.wait_for_selector(".follows")
        assert page.locator(".follows svg.share").count() == 6
        keys(it, "#tab-follows", "ArrowRight")
        page.wait_for_selector("text=/brakes drawn as they come from production/")

        with page.expect_download() as saved:
            page.click("[data-act=csv]")
        assert len(Path(saved.value.path()).read_text().splitlines()) == 4097
        assert page.evaluate(NAMELESS) == []

        # the point becomes the brake; a reload brings all of it back
        page.click("[data-act=use]")
        it.until("location.search.includes('chosen+point')")
        page.reload()
        page.wait_for_selector("#tab-tolerance[aria-selected=true]")
        page.wait_for_selector(".compare th >> nth=2")
        page.wait_for_selector("text=/brakes drawn as they come from production/")
        for width, height in SIZES.values():
            page.set_viewport_size({"width": width, "height": height})
            assert it.fits()


def test_a_long_study_tells_how_far_it_is_and_is_cancelled(visit: Visit) -> None:
    with visit("designer?setup=drive-16.5x7&_points=1000000&_kind=monte-carlo") as it:
        page = it.page
        page.click(RUN)
        page.wait_for_selector("progress")
        page.wait_for_selector(".part-map canvas")
        page.click(STOPPED)
        page.wait_for_selector("text=Cancelled.")
        page.wait_for_selector(RUN)
        page.click("#tab-lines")
        page.wait_for_selector("text=Run the study first.")


def test_a_field_that_cannot_be_read_says_why_beside_it_and_keeps_what_was_typed(visit: Visit) -> None:
    with visit("designer?setup=drive-16.5x7") as it:
        page, low = it.page, f"[id='f-{ARM}-low']"
        page.fill(low, "5")
        page.press(low, "Tab")
        page.wait_for_selector(f"{low}[aria-invalid=true]")
        assert "unit" in page.inner_text("#why-0-low")
        assert page.locator("#run").is_disabled()
        page.keyboard.type("7 in")
        page.keyboard.press("Tab")
        it.until("location.search.includes('7+in')")
        assert page.input_value(low) == "5"
        page.fill(low, "5 in")
        page.fill("#points", "0")
        page.press("#points", "Tab")
        page.wait_for_selector("text=/0 is no whole number from 2/")
        page.fill("#points", "300")
        page.press("#points", "Tab")
        page.wait_for_selector(RUN)
        keys(it, "[data-act=undo][aria-label]", "Enter")
        it.until("!location.search.includes('_points=300')")
        page.select_option("#more-varied", "chamber.size")
        page.wait_for_selector("[id='f-chamber.size-low']")
        page.fill("[id='f-chamber.size-low']", "24, 31")
        page.press("[id='f-chamber.size-low']", "Tab")
        page.wait_for_selector("text=/31.* has no published stroke and area/")


HEIGHTS = """() => Object.fromEntries(["map", "lines", "front"].map((name) =>
  [name, document.querySelector(`.part-${name}`).getBoundingClientRect().height]))"""


def test_only_the_plot_of_the_chosen_view_is_on_screen_however_often_it_is_chosen(visit: Visit) -> None:
    with visit("designer?setup=drive-16.5x7") as it:
        run(it)
        plots = {"map": ".part-map canvas", "lines": "canvas[data-picture=lines]", "front": ".part-front canvas"}
        for name in ("front", "map", "front", "lines", "front", "map", "follows", "map", "lines", "tolerance", "front"):
            it.page.click(f"#tab-{name}")
            it.page.wait_for_selector(f"#tab-{name}[aria-selected=true]")
            if name in plots:
                it.page.wait_for_selector(plots[name])
            others = " && ".join(
                f"document.querySelector('.part-{other}').getBoundingClientRect().height < 5"
                for other in plots
                if other != name
            )
            it.page.wait_for_function(others, timeout=5000)
            heights = it.page.evaluate(HEIGHTS)
            assert name not in plots or heights[name] > 300, (name, heights)


FOLLOWS = """async ([slider, value]) => {
  const find = function* (root, what) {
    yield* root.querySelectorAll(what);
    for (const one of root.querySelectorAll("*")) if (one.shadowRoot) yield* find(one.shadowRoot, what);
  };
  const one = (what) => find(document, what).next().value;
  const arm = () => ["#part-arm path", "#part-pushrod path", "#part-clevis path"].map((part) => {
    const node = one(part);
    return node && node.getAttribute("d") + node.parentNode.getAttribute("transform");
  }).join();
  const range = one(slider), before = arm(), began = performance.now();
  range.value = value;
  range.dispatchEvent(new Event("input", {bubbles: true}));
  while (arm() === before && performance.now() - began < 3000) await new Promise(requestAnimationFrame);
  return arm() === before ? null : performance.now() - began;
}"""
MADE = """() => performance.getEntriesByType("resource").filter((one) => one.name.includes("/made/")).length"""


def test_the_brake_follows_a_slider_while_it_moves_before_it_is_made_anew(visit: Visit) -> None:
    with visit("designer?setup=drive-16.5x7", size="projector") as it:
        run(it)
        it.page.wait_for_selector("#plane-arm #part-clevis path")
        made = it.page.evaluate(MADE)
        for n in range(5):
            assert it.page.evaluate(FOLLOWS, [f"[id='s-{ARM}']", str(5.1 + 0.1 * n)]) is not None
        assert it.page.evaluate(MADE) == made, "no brake was made for it"


def test_after_a_run_by_keyboard_the_focus_is_at_the_results(visit: Visit) -> None:
    with visit("designer?setup=drive-16.5x7") as it:
        keys(it, RUN, "Enter")
        it.page.wait_for_selector(".run >> text=/brakes in .* s: /")
        focused = """() => { let one = document.activeElement; while (one?.shadowRoot?.activeElement)
          one = one.shadowRoot.activeElement; return one?.id; }"""
        it.page.wait_for_function(f"({focused})() === 'tab-map'")
