"""The mechanic's desk in a real browser: from the first reading to the printed sheet, on a phone and in a shop."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Locator

from tests.desks.conftest import SIZES, Served, Visit, Visited, serving
from tests.job.jobs import AXLE, OVER

DESK = "mechanic?base=drive-16.5x7"
PATIENT = 90_000
"""Milliseconds that a diagnosis may take while every other test runs too."""


def entry(it: Visited, name: str) -> Locator:
    return it.page.locator(f'[data-entry="{name}"]')


def word(it: Visited, side: str, said: str) -> None:
    """Wait until a wheel's verdict says so."""
    it.page.locator(f".wheels [data-side={side}] span", has_text=re.compile(f"^{re.escape(said)}$")).wait_for()


def fill(it: Visited, place: str, readings: dict[str, str], phase: str = "before") -> None:
    for key, text in readings.items():
        field = entry(it, f"{place}|{phase}|{key}")
        if field.evaluate("one => one.localName") == "select":
            field.select_option(text)
        else:
            field.fill(text)


def front(it: Visited, side: str) -> None:
    """Bring a wheel to the front, as on a phone one has to."""
    it.page.locator(f".wheels [data-side={side}]").click()


def ready(it: Visited) -> None:
    it.page.locator(".mechanic .field").first.wait_for()


@pytest.mark.parametrize("size", SIZES)
def test_from_the_first_reading_to_the_printed_sheet(visit: Visit, size: str) -> None:
    with visit(DESK, size) as it:
        ready(it)
        word(it, "left", "Nothing read yet")
        fill(it, "axle", AXLE)
        fill(it, "left", OVER)
        word(it, "left", "Out of adjustment")
        it.page.locator("[data-wheel=left] dl", has_text="over 2 in by").wait_for()
        front(it, "right")
        fill(it, "right", OVER | {"measured.stroke": "1 1/2", "condition.free_stroke": "5/8"})
        word(it, "right", "In adjustment")
        it.page.locator(".both", has_text="Both are type 30 clamp").wait_for()
        front(it, "left")
        it.page.locator("[data-wheel=left] [data-part=causes]", has_text="Adjuster stuck").wait_for(timeout=PATIENT)
        it.page.locator("label", has_text="After adjusting").click()
        fill(it, "axle", {"test.reservoir_pressure": "95"}, "after")
        fill(it, "left", {"condition.free_stroke": "5/8", "measured.stroke": "1 1/2"}, "after")
        word(it, "left", "Stroke brought in, cause not found")
        fill(it, "left", {"cause": "adjuster replaced"}, "after")
        word(it, "left", "In adjustment")
        it.page.locator("[data-wheel=left] dl", has_text="inside 2 in by").wait_for()
        phases = it.page.inner_text("[data-wheel=left] .phases")
        assert phases.index("Out of adjustment") < phases.index("In adjustment")
        assert "before: 2 1/8" in it.page.inner_text('[data-was="left|after|measured.stroke"]')
        assert it.fits()
        name = re.search(r"_job=([0-9a-f]{12})", it.page.url)
        assert name
        with it.context.expect_page():
            it.page.locator("[data-act=print]").click()
        sheet = it.page.request.get(f"{it.page.url.split('mechanic')[0]}jobs/{name[1]}.pdf?page=letter")
        assert sheet.ok
        assert sheet.body().startswith(b"%PDF")


@pytest.mark.parametrize("size", SIZES)
def test_a_wrong_reading_is_told_beside_its_field_and_the_rest_still_counts(visit: Visit, size: str) -> None:
    with visit(DESK, size) as it:
        ready(it)
        fill(it, "axle", AXLE)
        fill(it, "left", OVER | {"measured.pin_reach": "six"})
        field = entry(it, "left|before|measured.pin_reach")
        it.page.locator('[data-wrong="left|before|measured.pin_reach"]', has_text="Cannot be read").wait_for()
        assert field.get_attribute("aria-invalid") == "true"
        described = it.page.evaluate(
            "id => [...document.querySelectorAll('*')].map((one) => one.shadowRoot?.getElementById(id)?.innerText)"
            ".find(Boolean)",
            field.get_attribute("aria-describedby"),
        )
        assert "write it like" in described
        word(it, "left", "Out of adjustment")
        field.fill("6")
        it.page.wait_for_function("one => one.getAttribute('aria-invalid') === 'false'", arg=field.element_handle())
        assert it.fits()


def test_fractions_are_written_with_gloves(visit: Visit) -> None:
    with visit(DESK, "phone") as it:
        ready(it)
        field = entry(it, "left|before|measured.stroke")
        field.click()
        for whole, part, now in (
            ("1", "3/4", "1 3/4"),
            (None, "7/8", "1 7/8"),
            ("", "1/2", "1/2"),
            (None, "5/8", "5/8"),
        ):
            if whole is not None:
                field.fill(whole)
            button = it.page.locator(f'.pad [data-put="{part}"]')
            box = button.bounding_box()
            assert box
            assert min(box["width"], box["height"]) >= 48
            button.click()
            assert field.input_value() == now
        heat = entry(it, "left|before|condition.drum_temperature")
        heat.click()
        it.page.locator(".pad [data-put=cold]").click()
        assert heat.input_value() == "cold"


@pytest.mark.parametrize("size", SIZES)
def test_every_control_is_large_and_has_a_name(visit: Visit, size: str) -> None:
    with visit("mechanic?base=worn-drive-16.5x7", size) as it:
        ready(it)
        small = it.page.locator(".mechanic").evaluate(
            """(desk) => [...desk.querySelectorAll('input:not([type=radio], [type=checkbox]), select, button')]
            .filter((one) => one.offsetParent && one.getBoundingClientRect().height < 48)
            .map((one) => one.outerHTML.slice(0, 80))"""
        )
        assert small == []
        unnamed = it.page.locator(".mechanic").evaluate(
            """(desk) => [...desk.querySelectorAll('input, select, button, textarea, summary')].filter((one) =>
            !(one.getAttribute('aria-label') || one.labels?.[0]?.textContent.trim() || one.textContent.trim()))
            .map((one) => one.outerHTML.slice(0, 80))"""
        )
        assert unnamed == []


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_words_can_be_read_in_both_themes(visit: Visit, theme: str) -> None:
    with visit("mechanic?base=worn-drive-16.5x7", color_scheme=theme) as it:
        ready(it)
        it.page.locator("[data-part=causes] li").first.wait_for(timeout=PATIENT)
        faint = it.page.locator(".mechanic").evaluate(CONTRAST)
        assert faint == []


CONTRAST = """(desk) => {
  const parts = (text) => text.match(/[\\d.]+/g).map(Number);
  const light = (text) => {
    const [r, g, b] = parts(text).map((v) => (v /= 255) <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ground = (one) => {
    for (; one; one = one.parentElement ?? one.getRootNode().host) {
      const colour = getComputedStyle(one).backgroundColor;
      if (parts(colour)[3] !== 0) return colour;
    }
    return "rgb(255, 255, 255)";
  };
  const found = new Set();
  for (const one of desk.querySelectorAll("*")) {
    const said = [...one.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim());
    if (!said || !one.offsetParent) continue;
    const [high, low] = [light(getComputedStyle(one).color), light(ground(one))].sort((a, b) => b - a);
    if ((high + 0.05) / (low + 0.05) < 4.5) found.add(one.outerHTML.slice(0, 90));
  }
  return [...found];
}"""


FOCUSED = """() => {
  let one = document.activeElement;
  while (one.shadowRoot) one = one.shadowRoot.activeElement;
  return one.dataset.entry;
}"""


def test_the_whole_way_goes_by_keyboard(visit: Visit) -> None:
    with visit(DESK) as it:
        ready(it)
        entry(it, "left|before|measured.arm_length").focus()
        it.page.keyboard.type("5 1/2")
        it.page.keyboard.press("Enter")
        assert it.page.evaluate(FOCUSED) == "left|before|measured.pin_reach"
        it.page.locator("input[name=units]:checked").focus()
        it.page.keyboard.press("ArrowRight")
        it.page.locator(".mechanic[data-units=metric]").wait_for()
        assert entry(it, "left|before|measured.arm_length").input_value() == "5 1/2 in"


def test_show_me_goes_to_the_field_that_is_wanted_next(visit: Visit) -> None:
    with visit(DESK, "phone") as it:
        ready(it)
        fill(it, "left", {"measured.arm_length": "5 1/2"})
        it.page.locator("[data-wheel=left] .next", has_text="Read next").wait_for()
        it.page.locator("[data-act=verdict]").click()
        it.page.locator("[data-wheel=left] [data-go]").first.click()
        assert it.page.evaluate(FOCUSED) == "axle|before|test.reservoir_pressure"


def test_nothing_is_lost_by_a_reload_a_closed_tab_or_undoing(visit: Visit) -> None:
    with visit(DESK) as it:
        ready(it)
        fill(it, "left", {"measured.stroke": "1 3/4", "measured.pin_reach": "not yet"})
        it.page.reload()
        ready(it)
        assert entry(it, "left|before|measured.stroke").input_value() == "1 3/4"
        address = it.page.url
        it.page.close()
        it.page = it.context.new_page()
        it.page.goto(address)
        ready(it)
        assert entry(it, "left|before|measured.pin_reach").input_value() == "not yet"
        fill(it, "left", {"measured.stroke": "2"})
        it.page.locator("[data-act=undo]:not([disabled])").click()
        it.page.wait_for_function(
            "one => one.value === '1 3/4'", arg=entry(it, "left|before|measured.stroke").element_handle()
        )


def test_nothing_is_lost_when_the_server_is_started_anew(visit: Visit, tmp_path: Path) -> None:
    with serving(tmp_path) as first:
        port = int(first.address.rsplit(":", 1)[1].strip("/"))
        with visit(DESK, address=first.address) as it:
            ready(it)
            fill(it, "left", {"measured.stroke": "1 3/4"})
            first.process.send_signal(2)
            first.process.wait(timeout=20)
            fill(it, "left", {"measured.pin_reach": "6 1/16"})
            it.page.locator(".lost", has_text="kept in this browser").wait_for()
            before = it.page.evaluate("performance.timeOrigin")
            with serving(tmp_path, port=port):
                it.page.wait_for_function("before => performance.timeOrigin !== before", arg=before)
                ready(it)
                for key, text in (("stroke", "1 3/4"), ("pin_reach", "6 1/16")):
                    assert entry(it, f"left|before|measured.{key}").input_value() == text
                it.until("!Object.keys(localStorage).some((key) => key.startsWith('mechviz-typed-'))")
                it.page.close()
            it.complaints[:] = [one for one in it.complaints if not LOST_SERVER.search(one)]


LOST_SERVER = re.compile(r"ERR_CONNECTION_REFUSED|not connected|WebSocket|connection")


def test_a_job_is_saved_and_opened_again_and_a_wrong_file_is_explained(visit: Visit, tmp_path: Path) -> None:
    with visit("mechanic?base=worn-drive-16.5x7") as it:
        ready(it)
        with it.page.expect_download() as saved:
            it.page.keyboard.press("Control+s")
        file = tmp_path / "job.toml"
        file.write_bytes(Path(saved.value.path()).read_bytes())
        assert 'kind = "job"' in file.read_text()
        it.page.goto(it.page.url.split("mechanic")[0] + "mechanic")
        ready(it)
        it.page.set_input_files("input[type=file]", file)
        word(it, "left", "Out of adjustment")
        wrong = tmp_path / "wrong.toml"
        wrong.write_text('kind = "job"\nschema = 3\n')
        it.page.set_input_files("input[type=file]", wrong)
        it.page.locator(".refused:visible", has_text="schema").wait_for()
        assert entry(it, "left|before|measured.stroke").input_value() == "2 1/8 in"


def test_pictures_show_where_the_tape_goes_in_the_colours_of_the_page(visit: Visit) -> None:
    with visit(DESK) as it:
        ready(it)
        loaded = "(desk) => [...desk.querySelectorAll('img[data-picture]')].map((one) => [one.src, one.loading])"
        sources = it.page.locator(".mechanic").evaluate(loaded)
        assert {source.split("/tape/")[1].split("/")[0] for source, _ in sources} == {"light"}
        for source, _ in sources[:3]:
            assert it.page.request.get(source).ok
        it.page.locator("[data-act=theme]").click()
        it.page.locator(".mechanic[data-theme=dark]").wait_for()
        assert all("/tape/dark/" in source for source, _ in it.page.locator(".mechanic").evaluate(loaded))


@pytest.mark.parametrize(
    "path", ["jobs/0123456789ab.pdf", "jobs/x.pdf", "tape/light/nothing.svg", "tape/light/ring.svg?base=x"]
)
def test_what_is_not_there_is_not_found(visit: Visit, served: Served, path: str) -> None:
    with visit() as it:
        assert it.page.request.get(served.address + path).status == 404


def test_what_was_worked_out_from_other_readings_is_gone_at_once(visit: Visit) -> None:
    with visit(DESK, "laptop") as it:
        ready(it)
        fill(it, "axle", AXLE)
        fill(it, "left", OVER)
        causes = it.page.locator("[data-wheel=left] [data-part=causes]", has_text="Adjuster stuck")
        causes.wait_for(timeout=PATIENT)
        hidden = it.page.evaluate(
            """() => {
              const root = [...document.querySelectorAll("*")].map((one) => one.shadowRoot)
                .find((one) => one?.querySelector(".mechanic"));
              const input = root.querySelector('[data-entry="left|before|measured.stroke"]');
              input.value = "1 1/2";
              input.dispatchEvent(new Event("input", {bubbles: true}));
              return [...root.querySelectorAll("[data-wheel=left] [data-part]:not([data-part=now])")]
                .map((one) => one.hidden);
            }"""
        )
        assert hidden == [True, True, True]
        it.page.locator("[data-wheel=left] [data-part=causes]:not([hidden])").wait_for(timeout=PATIENT)
        assert "1 1" in it.page.inner_text("[data-wheel=left] dl >> nth=0")


def test_what_is_taken_back_is_worked_out_anew(visit: Visit) -> None:
    with visit(DESK, "laptop") as it:
        ready(it)
        fill(it, "axle", AXLE)
        fill(it, "left", OVER | {"measured.stroke": "1 1/2", "condition.free_stroke": "5/8"})
        shown = it.page.locator("[data-wheel=left] [data-part=drawing]:not([hidden])")
        shown.wait_for(timeout=PATIENT)
        entry(it, "left|before|measured.stroke").fill("2 1/8")
        word(it, "left", "Out of adjustment")
        shown.wait_for(timeout=PATIENT)
        before = shown.inner_html()
        it.page.locator("[data-act=undo]:not([disabled])").click()
        word(it, "left", "In adjustment")
        it.page.wait_for_function(
            """was => {
              const root = [...document.querySelectorAll("*")].map((one) => one.shadowRoot)
                .find((one) => one?.querySelector(".mechanic"));
              const part = root.querySelector("[data-wheel=left] [data-part=drawing]");
              return !part.hidden && part.innerHTML !== was;
            }""",
            arg=before,
            timeout=PATIENT,
        )
