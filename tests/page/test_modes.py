"""The page's four modes in a real browser: life, faults and air are the solver's, and all is reached by keyboard."""

import json
from typing import Any

import numpy as np
import pytest

from geometry.air import SCENARIOS, air_states, course
from geometry.applied import solve_applied
from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition, contact
from geometry.defects import felt
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.found import condition_of
from geometry.kinematics import solve_poses
from geometry.life.events import reached
from geometry.pose_table import pose_table
from geometry.quantity import KINDS
from geometry.reasons import Reason
from geometry.setup import read_setup
from mechviz.air.study import RESERVOIR
from mechviz.faults.scene import held_scene
from mechviz.faults.study import Row, every_row, sound_row
from mechviz.lifetime.study import Asked, study
from mechviz.lifetime.text import said
from mechviz.page.air import CLOSE, SHOWN, columns_of, sampled_air
from mechviz.page.table import page_table
from mechviz.report.cautions import COMPOUND
from tests.page.browser import Opened
from tests.page.conftest import WORN, Open, Pages
from tests.page.posed import PLACE, TURN, assert_near, assert_same, transforms
from tests.sweeps import sweep

MODES = ("brake", "life", "faults", "air")
PSI = KINDS["pressure"].inch_factor


def posed(brake: Brake, condition: Condition, stroke: float) -> dict[str, Array]:
    table = pose_table(brake, solve_poses(brake, condition, [stroke]))
    return {body: matrix[0] for body, matrix in table.matrices.items()}


def go(it: Opened, state: str) -> Opened:
    """Let the page take a state from its address."""
    it.page.evaluate(
        """(state) => new Promise((done) => {
          addEventListener("hashchange", done, {once: true});
          location.hash = state;
        })""",
        state,
    )
    return it.settle()


# every mode, by keyboard alone


def test_each_mode_opens_by_its_key_and_closes_without_a_trace(show: Open) -> None:
    with show() as it:
        it.press("End").settle()
        before = transforms(it)
        for key, mode in zip("1234", MODES, strict=True):
            it.press(key).settle()
            assert it.data("mode") == mode
            for panel in MODES[1:]:
                assert it.page.locator(f"[data-panel={panel}]").is_visible() == (panel == mode)
            assert it.page.locator(".controls").is_visible() == (mode == "brake")
            pressed = it.page.locator(".modes [aria-pressed=true]")
            assert pressed.count() == 1
            assert (pressed.text_content() or "").lower().startswith(mode)
        it.press("3", "PageDown", "PageDown", "1", "End").settle()
        after = transforms(it)
        assert before.keys() == after.keys()
        assert all((before[body] == after[body]).all() for body in before)
        assert it.page.locator(".lit").count() == 0
        assert it.text("#value-stroke") == "2.12 in"


def test_the_story_is_told_of_the_brake_whatever_mode_was_open(show: Open) -> None:
    with show() as it:
        it.press("3", "PageDown", "s").settle()
        assert (it.data("mode"), it.text("[data-role=count]")) == ("brake", "1 of 8")
        it.press("2").settle()
        assert it.data("mode") == "life"
        assert not it.page.locator("[data-role=caption]").is_visible()


@pytest.mark.parametrize(("width", "height"), [(1366, 768), (390, 844)])
def test_modes_fit_on_the_screen(show: Open, width: int, height: int) -> None:
    states = ("m=life&k=stopped&y=0.7", "m=faults&k=anchor-frozen-released", "m=air&y=6")
    with show(viewport={"width": width, "height": height}) as it:
        for state in states:
            go(it, state)
            assert it.page.evaluate("document.documentElement.scrollWidth") <= width, state
            bottoms = {
                part: it.page.locator(part).first.evaluate("node => node.getBoundingClientRect().bottom")
                for part in (".picture svg", "[data-panel]:not([hidden])", ".cautions")
            }
            assert width < 1000 or max(bottoms.values()) <= height + 0.5, (state, bottoms)


@pytest.mark.parametrize("name", sweep([WORN, "trailer-16.5x7"]))
def test_nothing_of_the_air_stands_on_anything_else(show: Open, name: str) -> None:
    with show(name, viewport={"width": 1920, "height": 1080}) as it:
        for state in ("m=air&k=story&y=0", "m=air&k=compound&y=5.9", "m=air&k=slow-leak&y=400"):
            go(it, state)
            boxes = it.page.evaluate(
                """() => [...document.querySelectorAll(".picture svg text")].filter((n) => n.checkVisibility()
                && getComputedStyle(n).visibility === "visible" && n.textContent).map((n) => {
                const b = n.getBoundingClientRect(); return [n.textContent, b.left, b.top, b.right, b.bottom]; })"""
            )
            assert any(text.startswith("power spring") for text, *_ in boxes)
            for i, (text, left, top, right, bottom) in enumerate(boxes):
                for other, x0, y0, x1, y1 in boxes[:i]:
                    over = min(right, x1) - max(left, x0), min(bottom, y1) - max(top, y0)
                    assert over[0] <= 1 or over[1] <= 7, (text, other)


def test_a_mode_prints_with_its_figures_and_cautions(show: Open) -> None:
    with show(WORN, "#m=air&k=compound&y=5.9", color_scheme="light") as it:
        it.page.emulate_media(media="print")
        assert it.page.locator(".cautions").is_visible()
        assert it.page.locator(".of-air-dial").is_visible()
        assert it.page.locator("[data-panel=air] h2").is_visible()
        assert not it.page.locator("[data-panel=air] button").first.is_visible()
        assert it.page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_the_address_holds_a_mode(show: Open) -> None:
    states = {
        "m=life&k=stopped&y=0.7&h=1": ("life", "lining 0.72 in", "#note-verdict"),
        "m=faults&k=arm-too-long": ("faults", "Arm too long", "[data-role=fault-title]"),
        "m=air&k=slow-leak&y=400": ("air", "The compressor is off", "[data-role=air-words]"),
        "m=nonsense&k=none&y=x": ("brake", "stroke 0.00 in", "#note-verdict"),
        "m=air&k=none&y=-7": ("air", "The air is up", "[data-role=air-words]"),
    }
    with show() as it:
        for state, (mode, words, where) in states.items():
            go(it, state)
            assert it.data("mode") == mode
            assert words in it.text(where), state
        it.press("3", "PageDown").settle().until("location.hash.includes('m=faults&k=diaphragm-leak')")


def test_what_runs_runs_and_stops_by_key(show: Open) -> None:
    place = "Number(document.querySelector('[data-role=scrub]').value)"
    with show(reduced_motion="no-preference") as it:
        for mode, key in (("2", "p"), ("4", " ")):
            it.press(mode, key).until(f"{place} > 4")
            it.press(key).settle()
            held = it.page.evaluate(place)
            it.settle()
            assert it.page.evaluate(place) == held
            it.press(key).until(f"{place} > {held}")


def test_with_reduced_motion_what_would_run_goes_from_event_to_event(show: Open) -> None:
    with show() as it:
        it.press("2", "a", "p").settle()
        assert it.text("[data-role=life-title]") == "Limit met"
        it.press("4", " ").settle()
        assert it.text("[data-role=air-words]") == "The pedal is pressed to the floor and held."


# the working life


@pytest.mark.parametrize("which", ["working", "stopped"])
def test_a_life_is_the_solvers(show: Open, which: str) -> None:
    setup = read_setup(WORN)
    lived = study(setup, Asked(state="working"))
    lived = lived if which == "working" else lived.stopped()
    brake, one = lived.service.brake, lived.service
    with show() as it:
        for n, share in enumerate((0.0, 0.13, 0.41, 0.77, 0.93)):
            wear = round(share * lived.end, 4)
            heat, hot = ("&h=1", one.hot) if n == 1 else ("", REFERENCE_TEMPERATURE)
            go(it, f"m=life&k={which}&y={wear}{heat}")
            left = brake.lining.thickness - wear
            condition = Condition(left, one.drum_diameter, hot, float(lived.upkeep.at(wear)))
            stroke = float(solve_applied(brake, condition, one.pressure).stroke)
            assert_same(transforms(it), posed(brake, condition, stroke))
            assert it.text("#value-stroke") == f"{stroke / 25.4:.2f} in"


@pytest.mark.parametrize("name", [WORN, "steer-15x4"])
def test_events_are_named_when_they_come_and_marked_on_the_axis(show: Open, name: str) -> None:
    lived = study(read_setup(name), Asked(state="working"))
    with show(name) as it:
        it.press("2").settle()
        assert it.text("[data-role=life-title]") == "New linings"
        for life, key in ((lived, "Home"), (lived.stopped(), "a")):
            it.press(key, "Home")
            for event in (event for event in reached(life.events) if event.wear <= life.end + 0.005):
                it.press("PageDown").settle()
                told = said(event, life, "inch")
                assert it.text("[data-role=life-words]") == told[0].upper() + told[1:]
                assert it.text("[data-panel=life] .strip").count(it.text("[data-role=life-title]").lower()) == 1
        it.press("u").settle()
        assert "mm (" in it.text("[data-role=life-words]")


# the faults


def patched(sound: dict[str, Any], defect: dict[str, Any]) -> dict[str, Any]:
    return sound["table"] | defect["patch"]["table"]


@pytest.mark.parametrize("name", [WORN, "steer-15x4"])
def test_a_patched_table_is_that_of_the_defective_brake(pages: Pages, name: str) -> None:
    data = pages.data(name)
    listed = {one["name"]: one for one in data["defects"]["list"]}
    rows = [row for row in every_row(read_setup(name)) if row.outcome.reason != Reason.NOT_POSITIVE]
    assert list(listed) == [row.name for row in rows]
    for row in rows:
        brake, condition = felt(row.wheel)
        table = json.loads(json.dumps(page_table(brake, condition, float(floats(row.wheel.pressure)))))
        found = {key: value for key, value in table.pop("found").items() if np.isfinite(value)}
        mine = patched(data, listed[row.name])
        assert mine.pop("found").items() >= found.items()
        assert mine == table, row.name


def test_every_defect_is_seen_as_solved_and_named_as_known(show: Open) -> None:
    setup = read_setup(WORN)
    sound = float(sound_row(setup).outcome.stroke)
    with show(WORN) as it:
        it.press("3").settle()
        for row in every_row(setup):
            if row.outcome.reason == Reason.NOT_POSITIVE:
                continue
            it.press("PageDown", "End").settle()
            (one,) = row.defects
            assert it.text("[data-role=fault-title]") == one.title
            assert it.text("[data-role=fault-inside]") == f"Inside: {one.inside}"
            assert it.text("[data-role=fault-outside]") == f"Outside: {one.outside}"
            assert it.page.locator(f"#part-{one.part.replace('_', '-')}.lit").count() == 1
            assert (it.data("stopped") == "yes") == (row.outcome.reason != Reason.EXISTS)
            if row.outcome.reason == Reason.EXISTS:
                assert_posed(it, row, sound)
        it.press("PageDown").settle()
        assert it.text("[data-role=fault-title]") == "The brake as found"


@pytest.mark.parametrize(("name", "fault"), [("drive-16.5x7", "cam-past-profile"), (WORN, "cam-past-profile")])
def test_a_cam_that_comes_to_its_end_is_drawn_and_told_as_that(show: Open, name: str, fault: str) -> None:
    setup = read_setup(name)
    row = next(row for row in every_row(setup) if row.name == fault)
    released = held_scene(setup, row.wheel, "released").state
    assert row.outcome.reason == Reason.CAM_PAST_TIP
    with show(name, "#m=faults") as it:
        go(it, f"m=faults&k={fault}")
        assert it.text("#value-arm-angle") == f"{np.degrees(released.arm_angle):.1f}°"
        assert it.text("#note-magnifier text:last-of-type") == f"{released.right.gap_middle / 25.4:.3f} in"
        cells = {row[0]: row[2] for row in it.page.evaluate(ROWS)}
        assert cells["arm, released"] == f"{np.degrees(released.arm_angle):.1f}°"
        assert cells["least gap"] == f"{min(released.left.gap_least, released.right.gap_least) / 25.4:.3f} in"
        assert cells["stroke"] == "\N{EN DASH}"
        it.press("End").settle()
        words = Reason.CAM_PAST_TIP.words
        assert it.text("[data-role=cannot] p").startswith(words[0].upper() + words[1:])
        assert "bottomed" not in it.text("#note-verdict")


ROWS = (
    """[...document.querySelectorAll(".of-faults tr")].map((row) => [...row.cells].map((cell) => cell.textContent))"""
)


def test_a_defect_that_cannot_be_is_listed_with_the_reason(show: Open, pages: Pages) -> None:
    without = [row.title for row in every_row(read_setup(WORN)) if row.outcome.reason == Reason.NOT_POSITIVE]
    assert [one["title"] for one in pages.data(WORN)["defects"]["without"]] == without
    with show(WORN, "#m=faults") as it:
        listed = it.page.locator("[data-role=fault-menu] option:disabled").all_text_contents()
        assert listed == [f"{title}: too little lining for it" for title in without]


def assert_posed(it: Opened, row: Row, sound: float) -> None:
    stroke = float(row.outcome.stroke)
    brake, condition = felt(row.wheel)
    wanted = posed(brake, condition, stroke)
    if row.wheel.blocked:  # the arm winds up, the cam stands
        wheel = posed(brake, condition, 0.0)
        wanted |= {body: wheel[body] for body in wheel if body.startswith(("cam", "shoe", "roller"))}
    assert_same(transforms(it), wanted)
    assert it.text("#value-stroke") == f"{stroke / 25.4:.2f} in"
    cells = it.page.locator(".of-faults tr:nth-child(2) > *").all_text_contents()
    assert cells == ["stroke", f"{sound / 25.4:.2f} in", f"{stroke / 25.4:.2f} in"]


def scrub(it: Opened, place: float) -> None:
    role = "document.querySelector('[data-role=scrub]')"
    it.page.evaluate(f"at => {{ {role}.value = String(1000 * at); {role}.dispatchEvent(new Event('input')); }}", place)
    it.settle()


@pytest.mark.parametrize(
    ("place", "words"), [(0.0, "released"), (0.215, "the rod takes up the play, the arm does not move yet")]
)
def test_play_is_taken_up_before_the_arm_moves(show: Open, place: float, words: str) -> None:
    """Released, and while the play is taken up, arm and wheel stand as those of the brake as found."""
    row = next(row for row in every_row(read_setup(WORN)) if row.name == "play")
    sound = posed(row.wheel.brake, row.wheel.condition, 0.0)
    with show(WORN, "#m=faults") as it:
        rest = it.text("[data-figure=arm-angle]"), it.text("[data-figure=least-gap]")
    with show(WORN, "#m=faults&k=play") as it:
        scrub(it, place)
        stroke = float(it.text("#value-stroke").removesuffix(" in")) * 25.4
        assert stroke < row.wheel.play
        assert it.text("[data-role=phase]") == words
        assert (it.text("[data-figure=arm-angle]"), it.text("[data-figure=least-gap]")) == rest
        found = transforms(it)
        for body in ("arm", "cam", "shoe_left", "shoe_right", "roller_left", "roller_right"):
            assert_near(body, found[body], sound[body])
        turned = [words for words in it.page.locator(".of-turn").all_text_contents() if "the arm by" in words]
        assert turned == []


def test_a_shoe_that_is_kept_stays_where_the_linings_touch(show: Open) -> None:
    row = next(row for row in every_row(read_setup(WORN)) if row.name == "anchor-frozen-applied")
    brake, condition = row.wheel.brake, row.wheel.condition
    turn = float(contact(brake, *condition.arrays[:3]).turn)
    with show(WORN, "#m=faults&k=anchor-frozen-applied") as it:
        found, wanted = transforms(it), posed(brake, condition, 0.0)
        shoe = found.pop("shoe_right")
        assert abs(-np.arctan2(shoe[1], shoe[0]) - turn) < TURN
        roller = found.pop("roller_right")
        assert np.hypot(*(roller[4:] - wanted["roller_right"][4:])) > PLACE
        for body, matrix in found.items():
            assert_near(body, matrix, wanted[body])
        assert "drag" in it.text(".of-faults")


def test_a_quiz_hides_everything_that_tells_the_name_until_one_key(show: Open) -> None:
    with show() as it:
        it.press("3")
        it.page.evaluate("Math.random = () => 0.4")
        it.press("q").settle()
        panel = "[data-panel=faults]"
        assert it.text("[data-role=fault-title]") == "Which defect is it?"
        assert it.page.locator(".lit").count() == 0
        assert it.data("fault") == ""
        assert it.page.locator("[data-role=fault-menu]").input_value() == ""
        assert it.text("[data-role=fault-outside]") == ""
        assert "k=" not in it.page.url
        differs = it.page.locator(".of-faults .differs").count()
        assert differs > 0
        it.press("n").settle()
        title = it.text("[data-role=fault-title]")
        assert title in it.page.locator(f"{panel} option").all_text_contents()
        assert it.text("[data-role=fault-outside]").startswith("Outside: ")
        assert it.page.locator(".lit").count() >= 1
        it.press("r").settle()
        assert it.text("[data-role=fault-title]") == "The brake as found"
        assert it.page.locator(".lit, .of-faults .differs").count() == 0


# the air


@pytest.mark.parametrize("name", SHOWN)
def test_samples_over_time_are_the_solvers(name: str) -> None:
    setup = read_setup("trailer-16.5x7")
    condition = condition_of(setup)
    run = course(SCENARIOS[name], setup.parking, RESERVOIR)
    times, columns = sampled_air(setup.brake, setup.parking, condition, run, [])
    random = np.sort(np.random.default_rng(7).uniform(0.0, run.end, 600))
    exact = columns_of(setup.parking, air_states(setup.brake, setup.parking, condition, run, random))
    for key, allowed in CLOSE.items():
        mine = np.interp(random, times, columns[key])
        assert np.max(np.abs(mine - exact[key])) < 3 * allowed, key
    assert 3 * CLOSE["stroke"] < PLACE


def test_the_air_moves_the_brake_as_solved(show: Open) -> None:
    setup = read_setup(WORN)
    condition = condition_of(setup)
    moments = {"story": (0.0, 0.7, 2.9, 7.0, 9.0, 17.0), "compound": (5.9,), "slow-leak": (400.0,)}
    with show() as it:
        for name, times in moments.items():
            run = course(SCENARIOS[name], setup.parking, RESERVOIR)
            for time in times:
                go(it, f"m=air&k={name}&y={time}")
                now = air_states(setup.brake, setup.parking, condition, run, time)
                assert_same(transforms(it), posed(setup.brake, condition, float(now.brake.stroke)))
                assert it.text("#value-reservoir") == f"{float(now.reservoir) / PSI:.0f} psi"
                springs = float(now.brake.spring_force) > 1 and float(now.brake.stroke) > 0
                assert it.text("#note-chain").startswith("The power spring pushes") == (
                    springs and float(now.service) < 0.05 * RESERVOIR
                )
                out = transform_x(it, "#part-parking-plate path")
                assert abs(out - float(columns_of(setup.parking, now)["springStroke"])) < 0.05
                assert it.page.locator(".compound").is_visible() == (name == "compound")
        assert it.text("[data-role=compound]").endswith(COMPOUND)


def transform_x(it: Opened, selector: str) -> float:
    return it.page.evaluate(
        "(selector) => { const t = document.querySelector(selector).transform.baseVal;"
        " return t.numberOfItems ? t.getItem(0).matrix.e : 0; }",
        selector,
    )


def test_the_gauge_tells_its_state_by_word_and_shape(show: Open) -> None:
    with show() as it:
        for time, words, shape in (
            (100, "enough air", "enough"),
            (300, "low air: the warning is on", "low"),
            (800, "air lost: the springs are let on", "gone"),
        ):
            go(it, f"m=air&k=slow-leak&y={time}")
            assert it.text("#value-air") == words
            assert words in it.text("[data-role=air-title]")
            marks = it.page.locator(".air-mark:not([display=none])")
            assert marks.count() == 1
            assert marks.get_attribute("class") == f"air-mark mark-{shape}"
        it.press("u").settle()
        assert "kPa" in it.text("#value-reservoir")


def test_without_a_parking_section_there_is_no_spring(show: Open) -> None:
    setup = read_setup("steer-15x4")
    assert setup.parking is None
    with show("steer-15x4", "#m=air&k=loss-while-braking&y=5") as it:
        assert it.page.locator("#parking-section, .plots .plot-spring").count() == 0
        assert it.text("#value-air") == "low air: the warning is on"
        offered = it.page.locator("[data-role=air-menu] option").all_text_contents()
        assert offered
        assert not any("park" in title for title in offered)
        it.press("Home").settle()
        assert_same(transforms(it), posed(setup.brake, condition_of(setup), 0.0))


# the parking section, which is fitted whatever mode is looked at


@pytest.mark.parametrize("name", [WORN, "steer-15x4"])
def test_a_parking_section_is_seen_in_every_mode_where_one_is_fitted(show: Open, name: str) -> None:
    fitted = read_setup(name).parking is not None
    parts = [f"#part-{part}" for part in ("power-spring", "parking-plate", "parking-diaphragm", "parking-housing")]
    with show(name) as it:
        for key in "1234":
            it.press(key).settle()
            assert [it.page.locator(part).count() for part in parts] == [fitted] * 4
            assert [it.page.locator(part).is_visible() for part in parts] == [fitted] * 4
        it.press("1", "End").settle()
        told = it.page.locator("#note-parking").all_text_contents()
        assert told == (["power spring, held back"] if fitted else [])


def test_the_power_spring_is_caged_again_when_the_air_is_left(show: Open) -> None:
    plate, spring = "#part-parking-plate path", "document.querySelector('#part-power-spring path').getAttribute('d')"
    with show() as it:
        caged = it.page.evaluate(spring)
        go(it, "m=air&k=story&y=17")
        assert transform_x(it, plate) > 20
        assert it.text("#note-parking") == "power spring pushes"
        assert it.page.evaluate(spring) != caged
        it.press("1").settle()
        assert transform_x(it, plate) == 0
        assert it.text("#note-parking") == "power spring, held back"
        assert it.page.evaluate(spring) == caged


@pytest.mark.parametrize("width", [390, 900])
def test_a_narrow_screen_shows_the_parking_section_whole(show: Open, width: int) -> None:
    with show(viewport={"width": width, "height": 844}) as it:
        picture = it.page.locator(".picture svg.mv").bounding_box()
        for part in ("#part-parking-housing path", "#part-clamp-ring path"):
            box = it.page.locator(part).bounding_box()
            assert picture is not None
            assert box is not None
            assert picture["x"] <= box["x"] < box["x"] + box["width"] <= picture["x"] + picture["width"]
            assert picture["y"] <= box["y"]
