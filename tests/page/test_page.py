"""The animated page in a real browser without a network: what moves, what it says, and every way to work it."""

import base64
import io
import json
import re
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

from geometry.applied import solve_applied
from geometry.arrays import floats
from geometry.condition import Condition, angle_for_free_stroke, contact
from geometry.found import condition_of
from geometry.kinematics import solve_poses
from geometry.pose_table import pose_table
from geometry.reasons import Reason
from geometry.setup import Setup, read_setup, read_setup_text
from geometry.setup.builtin import builtin_text
from mechviz.checks.case import COLD
from mechviz.drawing.layout import layout
from mechviz.drawing.scene import hotter, scene_at
from mechviz.drawing.verdict import judged
from mechviz.page.bundle import bundled, in_order, script_files
from mechviz.page.html import page_css, page_html
from mechviz.page.labels import page_names
from mechviz.page.table import slider_box
from tests.page.browser import Opened, chromium, opened
from tests.page.conftest import Open, Pages
from tests.page.posed import assert_same, transforms
from tests.sweeps import sweep

WORN = "worn-drive-16.5x7"
SLIDERS = ("pressure", "lining", "temperature", "freeStroke")


# the file


@pytest.mark.parametrize("name", sweep([WORN, "trailer-16.5x7", "steer-15x4"]))
def test_it_is_one_small_file_that_may_ask_for_nothing(pages: Pages, name: str) -> None:
    text = pages.file(name).read_text(encoding="utf-8")
    solid = len(json.dumps(pages.data(name)["solid"]))  # three.js and every surface
    assert len(text.encode("utf-8")) - solid - only_solid() < 1_000_000
    assert len(text.encode("utf-8")) < 3_000_000
    assert "default-src 'none'" in text
    assert not re.search(r"(?:src|href)=\"(?!data:)", text)
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", text)


def only_solid() -> int:
    """The size of the script's files that nothing but the solid view imports."""
    sources = script_files()
    imports = {
        name: re.findall(r'^import .* from "\./(\w+)\.js";', text, re.MULTILINE) for name, text in sources.items()
    }
    reached, waiting = {"component", "solid"}, ["component"]
    while waiting:
        fresh = set(imports[waiting.pop()]) - reached
        reached |= fresh
        waiting += fresh
    return sum(len(text) for name, text in sources.items() if name not in reached)


def test_without_a_browser_the_message_names_the_packages(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shutil.which", lambda _: None)
    with (
        pytest.raises(pytest.fail.Exception, match=r"apt-get install .* chromium-headless-shell libatomic1"),
        chromium(),
    ):
        pass


def test_the_script_is_one_module_with_the_agreed_names() -> None:
    assert "import " not in re.sub(r"/\*.*?\*/", "", bundled(), flags=re.DOTALL)
    assert bundled().rstrip().endswith("export const {mount} = $player, {render} = $component;")
    lesson = bundled("mountLesson")
    assert "import " not in re.sub(r"/\*.*?\*/", "", lesson, flags=re.DOTALL)
    assert lesson.rstrip().endswith("export const {mountLesson} = $lesson;")
    assert "mountLesson" not in bundled("mount")
    with pytest.raises(ValueError, match="component -> a -> component"):
        in_order(
            {"component": 'import {x} from "./a.js";\n', "a": 'import {y} from "./component.js";\n'}, ["component"]
        )


@pytest.mark.usefixtures("brake_only")
def test_a_title_cannot_break_out_of_its_place(browser: Browser, tmp_path: Path) -> None:
    words = "</script><img src=x onerror=alert(1)><!--"
    text = builtin_text(WORN).replace("Quarry tipper, rear axle, right", words)
    path = tmp_path / "page.html"
    path.write_text(page_html(read_setup_text(text, "page.toml")), encoding="utf-8")
    with opened(browser, path.as_uri()) as it:
        assert it.text("h1") == words
        assert it.page.title() == words
        assert it.page.locator("img").count() == 0


# the poses


def slide(it: Opened, place: dict[str, int]) -> None:
    """Put sliders to a thousandth each, the adjuster's last: what it sets depends on the lining."""
    it.page.evaluate(
        """(place) => {
          for (const [name, value] of Object.entries(place)) {
            const range = document.querySelector(`[data-control=${name}] input[type=range]`);
            range.value = value;
            range.dispatchEvent(new Event("input"));
            range.dispatchEvent(new Event("change"));
          }
        }""",
        place,
    )
    it.settle()


def values(setup: Setup, place: dict[str, int]) -> tuple[Condition, float]:
    """What the sliders stand for, by the solver."""
    brake, found = setup.brake, condition_of(setup)
    box = slider_box(brake, found)
    at = {name: box[name][0] + (box[name][1] - box[name][0]) * place[name] / 1000 for name in SLIDERS}
    diameter = floats(found.arrays[1])
    cold = contact(brake, floats(at["lining"]), diameter, floats(COLD))
    released = angle_for_free_stroke(brake, cold, at["freeStroke"])
    return Condition(at["lining"], diameter, at["temperature"], float(released)), at["pressure"]


def places(count: int, seed: int) -> list[dict[str, int]]:
    """Sliders that mostly give a state that exists: free strokes from 0.4 to 1.6 in, ends among them."""
    rng = np.random.default_rng(seed)
    rows = np.column_stack([rng.integers(lo, hi, count) for lo, hi in ((0, 1001), (150, 1001), (0, 801), (160, 640))])
    rows[0], rows[1] = (1000, 1000, 0, 300), (0, 600, 88, 500)
    return [dict(zip(SLIDERS, map(int, row), strict=True)) for row in rows]


@pytest.mark.parametrize("name", sweep([WORN, "steer-15x4", "trailer-16.5x7"]))
def test_parts_stand_where_the_solver_says(show: Open, name: str) -> None:
    setup = read_setup(name)
    exist = 0
    with show(name, "#x=1") as it:
        for place in places(24, seed=len(name)):
            slide(it, place)
            condition, pressure = values(setup, place)
            applied = solve_applied(setup.brake, condition, pressure)
            reason = Reason(int(applied.reason))
            stopped = it.data("stopped") == "yes"
            assert stopped == (reason is not Reason.EXISTS), (place, reason)
            if stopped:
                assert it.text(".cannot p").lower().startswith(reason.words.lower()), place
                continue
            exist += 1
            poses = solve_poses(setup.brake, condition, applied.stroke)
            table = pose_table(setup.brake, poses)
            assert_same(transforms(it), {body: matrix[0] for body, matrix in table.matrices.items()})
    assert exist >= 8


def test_every_place_of_the_application_is_a_state_of_the_solver(show: Open) -> None:
    setup = read_setup(WORN)
    condition = condition_of(setup)
    strokes: list[float] = []
    with show() as it:
        for thousandth in range(0, 1001, 50):
            it.page.evaluate(
                """(value) => { const scrub = document.querySelector("[data-role=scrub]");
                scrub.value = value; scrub.dispatchEvent(new Event("input")); }""",
                thousandth,
            )
            found = transforms(it.settle())
            strokes.append(float(found["plate"][4] - setup.brake.linkage.pivot_start))
            table = pose_table(setup.brake, solve_poses(setup.brake, condition, [max(strokes[-1], 0.0)]))
            assert_same(found, {body: matrix[0] for body, matrix in table.matrices.items()})
    assert strokes[0] == strokes[3] == 0.0  # the pressure rises first
    assert np.all(np.diff(strokes[4:]) > 0)


def test_a_state_that_cannot_exist_is_grey_and_has_no_figures(show: Open) -> None:
    with show(WORN, "#x=1&t=589&w=7.6") as it:
        assert it.data("stopped") == "yes"
        assert it.page.locator(".cannot").is_visible()
        assert it.text("#value-chamber-force") == "\N{EN DASH}"
        assert it.text(".verdict") == "fail: the chamber has bottomed, no force is left"
        assert (shape(it), it.data("verdict")) == ("block", "spent")
        opacity = it.page.evaluate("getComputedStyle(document.querySelector('#plane-wheel')).opacity")
        assert float(opacity) < 0.5
        it.press("Home").settle()  # released it does exist
        assert it.data("stopped") == "no"
        assert not it.page.locator(".cannot").is_visible()


# verdicts


def shape(it: Opened) -> str:
    """Of the mark on the stroke's scale: `ring` or `block`, `dotted` or not."""
    return it.page.evaluate(
        """() => { const mark = document.querySelector("#note-verdict .mark");
        if (mark.getAttribute("display") === "none") return "none";
        const shown = [...mark.children].filter((node) => node.getAttribute("display") !== "none");
        return shown.map((node) => (node.getAttribute("class").includes("dots") ? "dotted " : "")
          + (node.localName === "rect" ? "block" : "ring")).join(); }"""
    )


def test_over_the_limit_flips_the_word_and_the_shape(show: Open) -> None:
    with show(WORN, "#x=1") as it:
        assert (shape(it), it.data("verdict")) == ("block", "over")
        assert it.text("#value-stroke") == "2.12 in"
        assert it.text(".verdict") == "fail: over the limit by 0.12 in"
        assert (it.text("#value-verdict"), it.text("#value-margin")) == ("fail: ", "over the limit by 0.12 in")
        assert it.text("[data-figure=stroke]") == "2.12 in"
        assert it.text("[data-figure=verdict]") == "fail: over the limit by 0.12 in"
        assert it.text("[data-role=said]") == "Stroke 2.12 in, fail: over the limit by 0.12 in."
        type_into(it, "freeStroke", "1/2 in")
        assert (shape(it), it.text("#value-verdict")) == ("ring", "pass: ")
        assert it.text("#value-margin").startswith("inside the limit by 0.")
        assert "pass: inside the limit" in it.text("[data-role=said]")
        it.page.evaluate("document.activeElement.blur()")
        it.press("Home").settle()
        assert (shape(it), it.text(".verdict")) == ("dotted ring", "not evaluated: inside the limit by 2.00 in so far")


def test_a_hot_stroke_is_told_against_the_limit_of_a_cold_drum_and_not_judged(show: Open) -> None:
    with show(WORN, "#x=1") as it:
        type_into(it, "temperature", "600")
        assert (shape(it), it.data("verdict")) == ("dotted block", "past")
        assert it.text(".verdict") == "not evaluated: over the limit of a cold drum by 0.40 in"
        assert it.text("#note-stroke") == "cold limit 2 in"
        assert it.text("[data-figure=limit]") == "2 in, for a cold drum"
        assert it.text("#value-left") == it.text("[data-figure=left-before-it-bottoms]") == "0.10 in"
        assert [it.text(f".plots svg:nth-child({n})").count("cold limit") for n in (1, 3)] == [1, 1]
        type_into(it, "freeStroke", "1/2")
        assert (shape(it), it.data("verdict")) == ("dotted ring", "hot")
        assert it.text(".verdict").startswith("not evaluated: inside the limit of a cold drum by ")
        type_into(it, "temperature", "70")
        assert (shape(it), it.data("verdict")) == ("ring", "inside")
        assert it.text("#note-stroke") == "limit 2 in"


def test_page_and_drawing_say_the_same_of_a_stroke(show: Open) -> None:
    setup = read_setup(WORN)
    condition = condition_of(setup)
    with show(WORN, "#x=1") as it:
        for temperature in (70.0, 90.0, 120.0, 600.0):
            kelvin = (temperature + 459.67) * 5 / 9
            type_into(it, "temperature", str(temperature))
            scene = scene_at(setup, hotter(condition, kelvin), "applied")
            assert it.text(".verdict") == judged(scene).words, temperature


@pytest.mark.usefixtures("brake_only")
def test_a_chamber_that_only_the_base_has_is_not_passed(browser: Browser, tmp_path: Path) -> None:
    path = tmp_path / "page.html"
    for chamber, verdict in (("", "open"), ('[chamber]\nstyle = "clamp"\nsize = "30"\n', "inside")):
        path.write_text(
            page_html(read_setup_text(f'schema = 1\nbase = "drive-16.5x7"\n{chamber}', "t")), encoding="utf-8"
        )
        with opened(browser, path.as_uri() + "#x=1") as it:
            assert it.data("verdict") == verdict
            assert ("which chamber" in it.text(".verdict")) == (verdict == "open")


NAMED = '[chamber]\nstyle = "clamp"\nsize = "30"\n'


@pytest.mark.usefixtures("brake_only")
@pytest.mark.parametrize(
    ("chamber", "slack", "verdict"),
    [(NAMED, "1.19", "close"), (NAMED, "1.8", "over"), ("", "1.8", "open"), (NAMED, "0.6", "inside")],
)
def test_over_the_limit_is_a_fail_only_past_what_is_open_and_for_a_known_chamber(
    browser: Browser, tmp_path: Path, chamber: str, slack: str, verdict: str
) -> None:
    path = tmp_path / "page.html"
    worn = f'[condition]\nlining_thickness = "0.33 in"\ndrum_diameter = "16.57 in"\nfree_stroke = "{slack} in"'
    setup = read_setup_text(f'schema = 1\nbase = "drive-16.5x7"\n{chamber}{worn}', "t")
    path.write_text(page_html(setup), encoding="utf-8")
    with opened(browser, path.as_uri() + "#x=1") as it:
        assert it.data("verdict") == verdict
        brackets = it.page.locator("#note-verdict path.mv-scale").last.get_attribute("d") or ""
        assert bool(brackets) == (verdict in ("close", "inside"))
        it.press("s").settle()
        caption = it.text("[data-role=caption], .caption")
        assert ("nobody can say before the chamber is named" in caption) == (not chamber)


def test_a_stroke_at_low_pressure_is_not_passed(show: Open) -> None:
    with show(WORN, "#x=1&p=0.3&a=1.49") as it:
        assert it.data("verdict") == "open"
        assert it.text(".verdict") == "not evaluated: a test takes 80 to 100 psi"


# working it


def test_every_key_does_what_the_sheet_says(show: Open) -> None:
    with show() as it:
        assert it.phase() == "released"
        it.press(" ").settle()
        assert it.phase() == "applied"
        assert it.text("[data-role=press] span") == "Release the brake"
        it.press(" ").settle()
        assert it.phase() == "released"
        it.press("End", ",").settle()
        assert it.phase() == "the linings press on the drum"
        it.press("Home", ".").settle()
        assert it.phase() == "air enters, the springs still hold"
        it.press("ArrowLeft", "u").settle()
        assert it.text("#value-stroke") == "0.0 mm"
        assert it.text("#value-limit") == "50.8 mm"
        it.press("u", "t")
        assert it.data("theme") == "dark"
        it.press("t")
        assert it.data("theme") == "light"
        it.press("l")
        assert it.data("large") == "yes"
        it.press("l", "b")
        assert (it.data("large"), it.data("names")) == ("no", "no")
        assert not it.page.locator("#note-labels").is_visible()
        it.press("b", "-")
        assert it.page.locator("[data-role=speed]").input_value() == "0.1"
        it.press("+", "+")
        assert it.page.locator("[data-role=speed] option:checked").text_content() == "1/2 speed"
        it.press("?")
        assert it.page.locator("dialog").is_visible()
        it.press("Escape")
        assert not it.page.locator("dialog").is_visible()


def test_full_screen_by_key(show: Open) -> None:
    with show() as it:
        it.press("f").until("document.fullscreenElement !== null")
        it.press("f").until("document.fullscreenElement === null")


@pytest.mark.parametrize("width", [1366, 390])
def test_full_screen_by_its_button(show: Open, width: int) -> None:
    with show(viewport={"width": width, "height": 844}) as it:
        button = it.page.locator("[data-role=full]")
        button.click()
        it.until("document.fullscreenElement?.classList.contains('mechviz')")
        button.click()
        it.until("document.fullscreenElement === null")


def test_undo_redo_and_reset(show: Open) -> None:
    with show() as it:
        lining = it.page.locator("[data-control=lining] input[type=text]")
        slide(it, {"lining": 400})
        slide(it, {"lining": 700})
        typed = lining.input_value()
        it.press("Control+z").settle()
        assert lining.input_value() != typed
        it.press("Control+y").settle()
        assert lining.input_value() == typed
        it.press("Control+z", "Control+z").settle()
        assert lining.input_value() == "0.33"
        slide(it, {"lining": 900, "temperature": 500})
        it.press("r").settle()
        assert lining.input_value() == "0.33"
        assert it.page.locator("[data-control=temperature] input[type=text]").input_value() == "70"


def type_into(it: Opened, control: str, typed: str) -> tuple[str, str]:
    """Type a figure; returns what stands in the field then, and the fault beside it."""
    field = it.page.locator(f"[data-control={control}] input[type=text]")
    field.fill(typed)
    field.press("Enter")
    it.settle()
    return field.input_value(), it.text(f"[data-control={control}] [role=alert]")


def test_figures_can_be_typed_as_a_mechanic_writes_them(show: Open) -> None:
    with show() as it:
        for control, typed, shown in (
            ("lining", "3/8", "0.38"),
            ("lining", "10 mm", "0.39"),
            ("freeStroke", "1 1/4 in", "1.25"),
            ("freeStroke", "1-3/8", "1.38"),
            ("temperature", "300 degC", "572"),
            ("pressure", "400 kPa", "58"),
        ):
            assert type_into(it, control, typed) == (shown, ""), typed


def test_a_figure_that_cannot_be_is_answered_beside_it(show: Open) -> None:
    with show() as it:
        for typed in ("thick", "9 in", "-1", "0.3 psi", ""):
            assert type_into(it, "lining", typed) == (typed, "Type 0.10 to 0.75 in.")
            assert it.page.locator("[data-control=lining] [aria-invalid=true]").count() == 1
            assert it.text("#value-lining") == "0.33 in"
        assert type_into(it, "lining", "0.3") == ("0.30", "")


def test_an_adjuster_that_takes_up_wear_keeps_the_free_stroke(show: Open) -> None:
    with show(WORN, "#x=1") as it:
        slide(it, {"freeStroke": 200})
        it.page.locator("[data-role=keep]").check()
        slide(it, {"lining": 900})
        assert it.page.locator("[data-control=freeStroke] input[type=text]").input_value() == "0.50"
        assert it.data("verdict") == "inside"


@pytest.mark.parametrize("name", sweep([WORN, "trailer-16.5x7", "steer-15x4"]))
def test_slider_ends_draw_numbers_only(show: Open, name: str) -> None:
    with show(name, "#x=1") as it:
        for slider in SLIDERS:
            for end in (0, 1000):
                slide(it, {slider: end})
                for key in ("Home", "End"):
                    it.press(key).settle()
                    markup = it.page.evaluate("document.querySelector('main').innerHTML")
                    assert not re.search(r"NaN|undefined|Infinity", markup), (slider, end)
            it.press("r")


def test_everything_can_be_reached_by_tab_and_has_a_name(show: Open) -> None:
    with show() as it:
        names: list[str] = []
        for _ in range(40):
            it.press("Tab")
            name = it.page.evaluate(
                """() => { const node = document.activeElement;
                if (node === document.body) return "";
                const outline = getComputedStyle(node).outlineStyle;
                const label = node.getAttribute("aria-label") ?? node.labels?.[0]?.textContent ?? node.textContent;
                return outline === "none" ? "no outline" : label.trim(); }"""
            )
            if name == "":
                break
            names.append(name)
        assert "no outline" not in names
        assert (
            len(names)
            == len([name for name in names if name])
            == it.page.evaluate(
                "[...document.querySelectorAll('button, input, select')].filter((n) => n.checkVisibility()).length"
            )
        )


# motion


def test_it_moves_in_time_and_stops(show: Open) -> None:
    with show(reduced_motion="no-preference") as it:
        it.page.evaluate(
            """() => { window.frames_ = 0; const ask = requestAnimationFrame;
            window.requestAnimationFrame = (act) => { window.frames_ += 1; return ask(act); }; }"""
        )
        it.page.locator("[data-role=speed]").select_option("1")
        it.page.evaluate("document.activeElement.blur()")
        it.press(" ").until("document.querySelector('[data-role=phase]').textContent.startsWith('the rod')")
        it.until("document.querySelector('[data-role=phase]').textContent === 'applied'")
        assert it.page.evaluate("window.frames_") > 5
        it.page.evaluate("new Promise((done) => setTimeout(done, 300))")
        still = it.page.evaluate("window.frames_")
        it.page.evaluate("new Promise((done) => setTimeout(done, 300))")
        assert it.page.evaluate("window.frames_") == still  # nothing moves when nothing happens
        it.press("p").until("document.querySelector('[data-role=phase]').textContent === 'released'")  # by turns


def test_a_pause_holds_everything_and_goes_on(show: Open) -> None:
    walked = "Number(document.querySelector('[data-control=lining] input[type=range]').value)"
    with show(WORN, "#s=2", reduced_motion="no-preference") as it:
        it.press("PageDown")
        start = it.page.evaluate(walked)
        it.until(f"{walked} < {start} - 2")
        it.press("p").settle()
        held = it.page.evaluate(walked)
        it.page.evaluate("new Promise((done) => setTimeout(done, 250))")
        assert it.page.evaluate(walked) == held
        assert it.text("[data-role=play] span") == "Play"
        it.press("p").until(f"{walked} < {held} - 2")


def links(it: Opened) -> list[str]:
    return it.page.locator("[data-role=links] li").all_text_contents()


def rod_arrow(it: Opened) -> float:
    """How far to the right the rod's arrow points (the chamber stands right of the pin); 0 where it is hidden."""
    rod = it.page.locator("#note-push line.mv-line-push").last
    ends = [float(rod.get_attribute(name) or 0) for name in ("x1", "x2")]
    return ends[1] - ends[0] if rod.get_attribute("visibility") == "visible" else 0.0


AT_REST = ["No air pushes", "Arm and cam rest", "Springs pull the shoes in"]


def test_let_go_the_springs_are_seen_to_push_back(show: Open) -> None:
    """On the way back no sentence and no arrow says that air pushes: the rod goes back into the chamber."""
    with show(reduced_motion="no-preference") as it:
        it.press("End").settle()
        assert links(it)[:3] == ["Air pushes the rod", "The rod turns arm and cam", "The cam spreads the shoes"]
        assert rod_arrow(it) < 0
        it.press("-", " ").until("document.querySelector('[data-role=phase]').textContent.includes('press less')")
        assert links(it)[1:4] == ["The arm turns back", "The cam still holds them out", "The linings rub the drum"]
        it.press("+").until("document.querySelector('[data-role=phase]').textContent.includes('springs pull')")
        it.press("p").settle()
        assert links(it)[:3] == ["Air leaves, rod goes back", "Cam and arm turn back", "Springs pull the shoes in"]
        assert rod_arrow(it) > 0
        it.press("Home").settle()
        assert links(it)[:3] == AT_REST
        assert rod_arrow(it) == 0


@pytest.mark.usefixtures("brake_only")
def test_a_released_brake_is_told_as_one_whatever_its_lengths_round_to(browser: Browser, tmp_path: Path) -> None:
    path = tmp_path / "page.html"
    setup = read_setup_text('schema = 1\nbase = "drive-16.5x7"\n[linkage]\narm_length = "5.4 in"', "t")
    path.write_text(page_html(setup), encoding="utf-8")
    with opened(browser, path.as_uri()) as it:
        assert links(it)[:3] == AT_REST


def test_no_pressure_pushes_nothing_to_its_end(show: Open) -> None:
    with show("drive-16.5x7", "#p=0") as it:
        it.press("End").settle()
        assert links(it)[:3] == AT_REST
        arrows = it.page.locator("#note-push .mv-force")
        assert {node.get_attribute("visibility") for node in arrows.all()} == {"hidden"}
        assert it.text("[data-figure=verdict]").endswith(it.text("#value-margin"))


@pytest.mark.parametrize("key", ["r", "Control+z"])
def test_what_could_not_be_read_goes_when_the_settings_do(show: Open, key: str) -> None:
    with show("drive-16.5x7") as it:
        field = it.page.locator("[data-control=pressure] input[type=text]")
        known = field.input_value()
        field.fill("abc")
        field.press("Enter")
        it.page.evaluate("document.activeElement.blur()")
        assert (field.input_value(), it.text("[data-control=pressure] [role=alert]")[:4]) == ("abc", "Type")
        it.press(key).settle()
        assert (field.input_value(), it.text("[data-control=pressure] [role=alert]")) == (known, "")


def test_a_chamber_that_ends_before_the_cams_tip_has_bottomed(show: Open) -> None:
    """Linings far too thin for this setting: the cam comes nowhere near its tip, and the verdict stays a fail."""
    for lining in ("11", "8", "4"):
        with show("drive-16.5x7", f"#w={lining}") as it:
            it.press("End").settle()
            assert it.text("#value-verdict") == "fail: "
            assert "tip" not in it.text("[data-role=cannot]")


def test_reduced_motion_jumps(show: Open) -> None:
    with show(reduced_motion="reduce") as it:
        assert it.press(" ").settle().phase() == "applied"


# the story


def test_the_story_runs_through(show: Open) -> None:
    with show() as it:
        it.press("s").settle()
        told = [(it.text("[data-role=title]"), it.data("verdict"))]
        assert it.text("[data-role=words]").startswith("Air pushes the rod.")
        for _ in range(7):
            it.press("PageDown").settle()
            told.append((it.text("[data-role=title]"), it.data("verdict")))
        assert [verdict for _, verdict in told] == ["inside", "open", "close", "over", "past", "past", "over", "open"]
        assert len({title for title, _ in told}) == 8
        assert "Local codes and licensed practice decide." in it.text("[data-role=words]")
        it.press("PageUp").settle()
        assert (it.text("[data-role=title]"), it.data("outside")) == ("What an inspector sees", "yes")
        assert it.page.locator("[data-control=lining] input[type=range]").is_disabled()
        it.press("Escape").settle()
        assert not it.page.locator("[data-role=caption]").is_visible()
        assert it.text("#value-lining") == "0.33 in"
        assert it.data("outside") == "no"


def test_the_story_goes_on_by_itself(show: Open) -> None:
    with show() as it:
        it.page.evaluate(
            "() => { const wait = setTimeout; window.setTimeout = (act, time) => wait(act, time > 1000 ? 30 : time); }"
        )
        it.press("s").until("document.querySelector('[data-role=count]').textContent === '8 of 8'")


@pytest.mark.parametrize("name", sweep(["steer-15x4", "drive-16.5x7", "trailer-16.5x7"]))
def test_the_story_comes_true_on_every_brake(show: Open, name: str) -> None:
    with show(name) as it:
        it.press("s").settle()
        assert it.data("verdict") == "inside"
        it.press("PageDown", "PageDown").settle()
        assert it.data("verdict") == "close"
        it.press("PageDown").settle()
        assert it.data("verdict") == "over"


# how it looks


@pytest.mark.parametrize(("width", "height"), [(1366, 768), (1920, 1080)])
def test_picture_and_controls_fit_on_the_screen(show: Open, width: int, height: int) -> None:
    with show(viewport={"width": width, "height": height}) as it:
        for part in (".picture svg", ".transport", ".controls", ".plots", ".cautions"):
            box = it.page.locator(part).first.bounding_box()
            assert box is not None
            assert box["y"] + box["height"] <= height + 0.5, part
            assert box["x"] + box["width"] <= width + 0.5, part
        assert it.page.evaluate("document.documentElement.scrollWidth") <= width
        small = it.page.evaluate(
            """() => { const scale = document.querySelector(".picture svg").getScreenCTM().a;
            return Math.min(...[...document.querySelectorAll(".mechviz *")].filter((n) => n.checkVisibility()
              && [...n.childNodes].some((c) => c.nodeType === 3 && c.textContent.trim())).map((n) =>
              parseFloat(getComputedStyle(n).fontSize) * (n.closest(".picture svg") ? scale : 1))); }"""
        )
        assert small >= 14


def test_a_phone_scrolls_down_only(show: Open) -> None:
    with show(WORN, viewport={"width": 390, "height": 844}, has_touch=True) as it:
        for state in ("#x=1", "#x=1&s=5", "#x=1&w=3", "#x=1&l=1"):
            it.page.goto(it.page.url.split("#")[0] + state)
            it.settle()
            assert it.page.evaluate("document.documentElement.scrollWidth") <= 390, state
            picture = it.page.locator(".picture svg").first.bounding_box()
            press = it.page.locator("[data-role=press]").bounding_box()
            assert picture is not None
            assert press is not None
            assert picture["y"] < press["y"] < 844


@pytest.mark.parametrize("name", sweep([WORN, "steer-15x4", "trailer-16.5x7"], always=2))
def test_texts_of_the_picture_stay_in_it_and_apart(show: Open, name: str) -> None:
    with show(name, viewport={"width": 1920, "height": 1080}) as it:
        for keys in (["Home"], ["End"], ["u"], ["s", *["PageDown"] * 4]):
            it.press(*keys).settle()
            boxes = it.page.evaluate(
                """() => [...document.querySelectorAll(".picture svg text")].filter((n) => n.checkVisibility()
                && getComputedStyle(n).visibility === "visible" && n.textContent).map((n) => { const b = n.getBBox();
                return [n.textContent, b.x, b.y, b.x + b.width, b.y + b.height]; })"""
            )
            assert len(boxes) > 25
            for i, (text, left, top, right, bottom) in enumerate(boxes):
                assert 0 <= left < right <= 1600, text
                assert 0 <= top < bottom <= 904, text
                for other, x0, y0, x1, y1 in boxes[:i]:
                    over = min(right, x1) - max(left, x0), min(bottom, y1) - max(top, y0)
                    assert over[0] <= 1 or over[1] <= 7, (text, other)  # a box has room above and below its letters


@pytest.mark.parametrize("name", sweep([WORN, "steer-15x4", "drive-16.5x7", "trailer-16.5x7"]))
def test_what_moves_is_named_for_the_whole_motion(name: str) -> None:
    setup = read_setup(name)
    condition = condition_of(setup)
    scene = scene_at(setup, condition, "released")
    named = page_names(scene, layout(setup.brake, scene.outlines))
    words = [text.lead + text.words for text in named.note().texts]
    for part in ("S-cam turned", "roller", "slack adjuster", "pushrod", "diaphragm", "shoe", "lining", "drum at"):
        assert any(one.startswith(part) for one in words), part


def test_dark_and_light_follow_the_system_until_told_otherwise(show: Open) -> None:
    ground = "getComputedStyle(document.querySelector('.mechviz')).backgroundColor"
    with show(color_scheme="dark") as it:
        assert it.page.evaluate(ground) == "rgb(18, 23, 28)"
        it.press("t")
        assert it.page.evaluate(ground) == "rgb(251, 250, 246)"


def test_it_prints_on_one_page(show: Open) -> None:
    with show(WORN, "#x=1", color_scheme="dark") as it:
        it.page.emulate_media(media="print")
        assert not it.page.locator(".transport").is_visible()
        assert it.page.locator(".cautions").is_visible()
        pdf = PdfReader(io.BytesIO(it.page.pdf(prefer_css_page_size=True)))
        assert len(pdf.pages) == 1
        assert pdf.pages[0].mediabox.width > pdf.pages[0].mediabox.height
        words = " ".join(pdf.pages[0].extract_text().split())
        for wanted in ("over the limit", "2530 lbf", "Chock the wheels", "licensed practice decide"):
            assert wanted in words


# the address


def test_the_address_holds_the_state(show: Open) -> None:
    with show() as it:
        slide(it, {"lining": 340, "temperature": 400})
        it.press("End", "u", "l", "b", "t").settle()
        it.until("location.hash.includes('c=dark')")
        address, stroke = it.page.url, it.text("#value-stroke")
    with show(WORN, "#" + address.split("#")[1]) as it:
        assert it.text("#value-stroke") == stroke
        assert "mm" in stroke
        assert (it.data("large"), it.data("names"), it.data("theme")) == ("yes", "no", "dark")


def test_an_address_that_is_none_does_no_harm(show: Open) -> None:
    with show(WORN, "#p=nonsense&w=-5&t=1e9&x=7&u=cubits&s=ninety") as it:
        for state in ("", "#%", "#=&=&&", "#p=&w=", "#s=0"):
            if state:
                it.page.goto(it.page.url.split("#")[0] + state)
            it.settle()
            assert it.text("#value-lining") == "0.33 in"
            assert it.phase() == "released"
        it.page.goto(it.page.url.split("#")[0] + "#x=1&s=99")
        it.settle()
        assert it.text("[data-role=count]") == "8 of 8"


# the module


@pytest.fixture
def module(pages: Pages) -> dict[str, str]:
    data = {name: json.dumps(pages.data(name)) for name in (WORN, "steer-15x4")}
    return data | {"url": "data:text/javascript;base64," + base64.b64encode(bundled().encode()).decode()}


def test_several_stand_on_one_page_and_leave_nothing_behind(browser: Browser, module: dict[str, str]) -> None:
    context = browser.new_context(reduced_motion="reduce")
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto("about:blank")
    page.add_style_tag(content=page_css())
    devtools = context.new_cdp_session(page)
    devtools.send("Performance.enable")

    def listeners() -> float:
        devtools.send("HeapProfiler.collectGarbage")
        found = devtools.send("Performance.getMetrics")["metrics"]
        return next(one["value"] for one in found if one["name"] == "JSEventListeners")

    page.evaluate(
        """async (url) => { window.made = await import(url); window.globals = 0;
        window.globals = Object.keys(window).length; }""",
        module["url"],
    )
    before = listeners()
    strokes = page.evaluate(
        """async ([first, second]) => {
          const boxes = [first, second].map(() => document.body.appendChild(document.createElement("div")));
          const one = made.mount(boxes[0], JSON.parse(first));
          const model = {data: second, on: (name, act) => { window.leave = act; }};
          made.render({model, el: boxes[1]});
          one.clock.jump(1);
          const frame = () => new Promise((done) => requestAnimationFrame(done));
          await frame(); await frame();
          const told = boxes.map((box) => box.querySelector("#value-stroke").textContent);
          window.kept = one;
          return [...told, Object.keys(window).length];
        }""",
        [module[WORN], module["steer-15x4"]],
    )
    assert strokes[:2] == ["2.12 in", "0.00 in"]
    assert listeners() > before
    globals_ = page.evaluate(
        """async () => { kept.destroy(); leave(); document.body.replaceChildren();
        delete window.kept; delete window.leave;
        const frame = () => new Promise((done) => requestAnimationFrame(done));
        await frame(); await frame(); return Object.keys(window).length - window.globals; }"""
    )
    assert globals_ == 0
    assert listeners() == before
    assert errors == []
    context.close()


MODEL = """
class Model {
  constructor(data) { this.values = {data}; this.heard = {}; }
  get data() { return this.values.data; }
  get(name) { return this.values[name]; }
  set(name, value) { this.values[name] = value; this.tell(name); this.tell("change:" + name); }
  on(name, act) { (this.heard[name] ??= []).push(act); }
  off(name, act) { this.heard[name] = (this.heard[name] ?? []).filter((one) => one !== act); }
  tell(name) { for (const act of [...(this.heard[name] ?? [])]) act(); }
}
window.frame = async () => { for (let i = 0; i < 2; i += 1) await new Promise((done) => requestAnimationFrame(done)); };
window.told = () => { const root = window.shadow; const text = (name) => root.querySelector(name).textContent;
  return [text("h1"), text("#value-stroke"), text(".verdict").split(":")[0], root.querySelectorAll(".mechviz").length,
    document.head.querySelectorAll("style[data-mechviz]").length]; };
window.begin = async (url, data) => {
  window.made = await import(url);
  window.model = new Model(data);
  window.shadow = document.body.appendChild(document.createElement("div")).attachShadow({mode: "open"});
  window.leave = made.render({model: window.model, el: window.shadow});
  await frame();
};
null;
"""
"""A model as an application has one: its values as properties, by `get` and `set`, and those who listen to it."""


def test_a_component_follows_its_model_and_leaves_with_it(
    browser: Browser, module: dict[str, str], pages: Pages
) -> None:
    worn = pages.data(WORN) | {"css": page_css()}
    context = browser.new_context(reduced_motion="reduce", viewport={"width": 1366, "height": 768})
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto("about:blank")
    page.evaluate(MODEL)
    page.evaluate("([url, data]) => begin(url, data)", [module["url"], worn])
    assert page.evaluate("told()") == ["Quarry tipper, rear axle, right", "0.00 in", "not evaluated", 1, 1]
    page.evaluate("document.fonts.ready")
    assert page.evaluate("[...document.fonts].every((face) => face.status === 'loaded')")
    page.evaluate("shadow.querySelector('[data-role=press]').click()")
    page.evaluate("shadow.querySelector('[data-role=units]').click()")
    page.evaluate("frame()")
    assert page.evaluate("told()")[1:3] == ["53.8 mm", "fail"]
    page.evaluate("([data]) => { model.set('data', data); return frame(); }", [module["steer-15x4"]])  # as JSON
    assert page.evaluate("told()") == ["Steering axle, 15 x 4", "33.7 mm", "pass", 1, 0]
    page.evaluate("([data]) => { model.set('data', data); return frame(); }", [worn])
    assert page.evaluate("told()")[1:] == ["53.8 mm", "fail", 1, 1]
    page.evaluate("() => { model.tell('remove'); model.set('data', {}); }")
    assert page.evaluate("shadow.childNodes.length") == 0
    assert page.evaluate("document.head.querySelectorAll('style').length") == 0
    page.evaluate("leave()")  # once more does no harm
    assert errors == []
    context.close()


def test_keys_of_a_part_of_a_page_work_inside_it_only(browser: Browser, module: dict[str, str]) -> None:
    context = browser.new_context(reduced_motion="reduce")
    page = context.new_page()
    page.goto("about:blank")
    page.evaluate(
        """async ([url, data]) => { const made = await import(url);
        made.render({model: {data}, el: document.body.appendChild(document.createElement("div"))}); }""",
        [module["url"], module[WORN]],
    )
    phase = page.locator("[data-role=phase]")
    page.keyboard.press(" ")
    assert phase.text_content() == "released"
    page.locator("[data-role=scrub]").focus()
    page.keyboard.press(" ")
    page.wait_for_function("document.querySelector('[data-role=phase]').textContent === 'applied'")
    context.close()
