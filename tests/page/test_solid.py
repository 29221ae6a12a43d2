"""The brake as a solid on the page, in a real browser without a network: one page serves all tests."""

from base64 import b64encode
from collections.abc import Iterator
from math import pi
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser

from geometry.arrays import Array, floats
from geometry.brake import SIDES, Brake
from geometry.condition import Condition, angle_for_free_stroke, contact
from geometry.defects import felt
from geometry.found import condition_of
from geometry.kinematics import solve_poses
from geometry.setup import Setup, read_setup
from mechviz.checks.case import COLD
from mechviz.faults.study import every_row
from mechviz.look.colours import channels, colours
from mechviz.page.bundle import bundled
from mechviz.page.html import page_css
from mechviz.solid.apart import share_of, shift, way_of
from mechviz.solid.assembly import brake_solids, sheets
from mechviz.solid.fineness import MOVING, STILL
from mechviz.solid.frames import SPRINGS, frames
from mechviz.solid.places import places
from mechviz.solid.views import VIEWS
from tests.page.browser import Opened, opened
from tests.page.conftest import Open, Pages

WORN = "worn-drive-16.5x7"
TURN, PLACE = np.radians(0.05), 0.02
"""What the page promises, rad and mm."""
VIEW = "document.querySelector('[data-role=solid]').solid"


@pytest.fixture(scope="module")
def setup() -> Setup:
    return read_setup(WORN)


@pytest.fixture(scope="module")
def shared(browser: Browser, pages: Pages) -> Iterator[Opened]:
    with opened(browser, f"{pages.file(WORN).as_uri()}#v=solid", viewport={"width": 1366, "height": 768}) as it:
        yield it.until(f"{VIEW}.stage?.drawn > 0")


@pytest.fixture
def solid(shared: Opened) -> Opened:
    """The page as when the solid view has just been opened."""
    shared.page.evaluate("document.activeElement?.blur()")
    return at(shared, "")


def at(it: Opened, state: str) -> Opened:
    """Go to a state by the address."""
    it.page.evaluate(
        f"""(state) => {{ const {{panel, player}} = {VIEW}; panel.pick(null); player.settings.reset();
        history.replaceState(null, "", state); player.view.restore(); player.changed(); }}""",
        f"#v=solid&{state}",
    )
    return it.settle()


def ask(it: Opened, words: str) -> Any:
    return it.page.evaluate(f"() => {{ const view = {VIEW}; return {words}; }}")


def colour(it: Opened, x: float, y: float) -> list[int]:
    """The colour drawn at a place of the picture, pixels."""
    return it.page.evaluate(
        f"""([x, y]) => {{ const {{stage, canvas}} = {VIEW}; const copy = document.createElement("canvas");
        copy.width = copy.height = 1; const pen = copy.getContext("2d", {{willReadFrequently: true}}); stage.draw();
        pen.drawImage(canvas, Math.round(x), Math.round(y), 1, 1, 0, 0, 1, 1);
        return [...pen.getImageData(0, 0, 1, 1).data.subarray(0, 3)]; }}""",
        [x, y],
    )


def stood(it: Opened) -> dict[str, Array]:
    """The matrix (4, 4) of every part, as three.js has it."""
    found = ask(it, "view.scene.matrices")
    return {name: np.array(elements).reshape(4, 4).T for name, elements in found.items()}


def assert_stands(it: Opened, brake: Brake, diameter: float) -> None:
    """Every part stands, together, where the solver's frames have its body in the state that the page is in."""
    now = ask(it, "view.player.travel.settings")
    condition = Condition(now["lining"], diameter, now["temperature"], now["setting"])
    poses = solve_poses(brake, condition, [ask(it, "view.player.state.stroke")])
    assert int(poses.reason[0]) == 0
    wanted = frames(brake, poses, places(brake))
    for part in ask(it, "view.data.parts.map(({name, body}) => [name, body])"):
        found, exact = stood(it)[part[0]], wanted[part[1]][0]
        size = np.linalg.norm(exact[:3, :3], axis=0)
        if part[0] == "drum":
            size *= [ask(it, "view.scene.drumSize")] * 2 + [1.0]
        assert np.linalg.norm(found[:3, :3], axis=0) == pytest.approx(size, rel=2e-4), part
        ways = found[:3, :3] / np.linalg.norm(found[:3, :3], axis=0)
        turns = np.linalg.norm(ways - exact[:3, :3] / np.linalg.norm(exact[:3, :3], axis=0), axis=0)
        assert np.all(turns < TURN), part
        assert np.linalg.norm(found[:3, 3] - exact[:3, 3]) < PLACE, part
        assert np.linalg.det(found[:3, :3]) > 0, f"{part} is mirrored"


def adjusted(setup: Setup, lining: float) -> float:
    """The cam's released angle that leaves 25 mm of free stroke with a lining of some thickness, cold."""
    cold = contact(setup.brake, floats(lining), condition_of(setup).arrays[1], floats(COLD))
    return float(angle_for_free_stroke(setup.brake, cold, 25.0))


# where everything stands


@pytest.mark.parametrize(
    ("thickness", "fahrenheit", "place"),
    [(None, 70, 0), (None, 70, 0.4), (None, 70, 1), (15.0, 70, 1), (12.0, 500, 0.7)],
)
def test_parts_stand_in_space_where_the_solver_says(
    solid: Opened, setup: Setup, thickness: float | None, fahrenheit: float, place: float
) -> None:
    found = condition_of(setup)
    lining, warmth = thickness or float(found.arrays[0]), (fahrenheit + 459.67) / 1.8
    at(solid, f"w={lining}&t={warmth}&a={adjusted(setup, lining)}&x={place}")
    assert solid.data("stopped") == "no"
    assert_stands(solid, setup.brake, float(found.arrays[1]))


def test_cam_and_arm_turn_counter_clockwise_seen_from_the_chamber(solid: Opened) -> None:
    before = stood(at(solid, "x=0"))
    after = stood(at(solid, "x=1"))
    for name, most in (("s_cam", 60), ("slack_adjuster", 60), ("camshaft_end", 60)):
        turn = after[name][:3, :3] @ before[name][:3, :3].T
        angle = np.degrees(np.arctan2(turn[1, 0], turn[0, 0]))  # about +z, which looks at the chamber's side
        assert 3 < angle < most, name
    assert after["pushrod"][0, 3] < before["pushrod"][0, 3]  # out of the chamber, which is at +x


def test_springs_reach_from_seat_to_seat(solid: Opened) -> None:
    lengths = ask(solid, "view.scene.space.lengths")
    seen = [stood(at(solid, f"x={x}")) for x in (0, 1)]
    for name in SPRINGS:
        released, applied = (float(np.linalg.norm(m[name][:3, 0])) * lengths[name] for m in seen)
        change = {"chamber_return_spring": -1, "shoe_return_spring": 1, "power_spring": 0}[name]
        assert np.sign(round(applied - released, 6)) == change, name


def test_the_power_spring_drives_its_plate_out(solid: Opened, setup: Setup) -> None:
    at(solid, "m=air")
    index = ask(solid, "view.player.modes.now.data.scenarios.findIndex(({name}) => name === 'parked')")
    solid.page.evaluate(f"(index) => {VIEW}.player.modes.now.choose(Math.max(index, 0))", index)
    solid.page.evaluate(f"() => {VIEW}.player.jump(0.35)")
    solid.settle()
    out = ask(solid, "view.player.section.out")
    assert out > 10
    plane = stood(solid)["bracket"]
    plate = np.linalg.inv(plane) @ stood(solid)["parking_plate"]
    assert plate[:3, 3] == pytest.approx([out, 0.0, 0.0], abs=PLACE)
    wanted = frames(setup.brake, solve_poses(setup.brake, condition_of(setup), [0.0]), places(setup.brake), out)
    assert stood(solid)["power_spring"] == pytest.approx(wanted["power_spring"][0], abs=PLACE)
    at(solid, "")


@pytest.mark.parametrize("name", ["arm-too-long", "chamber-too-small", "rollers-worn"])
def test_a_defect_has_its_own_solids_in_their_places(solid: Opened, setup: Setup, name: str) -> None:
    at(solid, f"m=faults&k={name}&x=0.8")
    brake, condition = felt(next(row.wheel for row in every_row(setup) if row.name == name))
    assert_stands(solid, brake, float(condition.arrays[1]))
    boxes = ask(solid, "view.scene.parts.map((part) => [part.name, part.box])")
    made = {one.name: one for one in brake_solids(brake, condition, parking=True, fineness=MOVING)}
    for part, box in boxes:
        if not part.endswith("diaphragm") and not part.startswith(("lining", "rivets")):
            wanted = np.array(made[part].shape.bounding_box()).reshape(2, 3)
            assert np.array(box) == pytest.approx(wanted, abs=0.06), part
    at(solid, "")
    assert ask(solid, "view.scene.parts.every((part) => !part.formed.includes('/'))")


def test_a_defect_without_solids_of_its_own_stands_where_its_brake_does(solid: Opened, setup: Setup) -> None:
    at(solid, "m=faults&k=adjuster-stuck&x=1")
    brake, condition = felt(next(row.wheel for row in every_row(setup) if row.name == "adjuster-stuck"))
    assert_stands(solid, brake, float(condition.arrays[1]))


def test_a_broken_spring_is_shown_broken(solid: Opened) -> None:
    count = "view.scene.named.shoe_return_spring.faces.geometry.index.count"
    whole = ask(solid, count)
    assert ask(at(solid, "m=faults&k=return-spring-broken"), count) < 0.95 * whole
    assert ask(at(solid, ""), count) == whole


# what the script forms


VOLUME = """(() => { const {geometry} = view.scene.named.NAME.faces; const p = geometry.attributes.position.array;
const c = geometry.index.array; let sum = 0; for (let i = 0; i < c.length; i += 3) {
const [a, b, d] = [3 * c[i], 3 * c[i + 1], 3 * c[i + 2]];
sum += p[a] * (p[b + 1] * p[d + 2] - p[b + 2] * p[d + 1]) - p[a + 1] * (p[b] * p[d + 2] - p[b + 2] * p[d])
  + p[a + 2] * (p[b] * p[d + 1] - p[b + 1] * p[d]); } return sum / 6; })()"""


def test_linings_are_as_thick_as_they_are_worn(solid: Opened, setup: Setup) -> None:
    _, diameter, warmth, _ = (float(a) for a in condition_of(setup).arrays)
    for lining in (8.4, 15.0):
        released = adjusted(setup, lining)
        at(solid, f"w={lining}&a={released}")
        worn = brake_solids(setup.brake, Condition(lining, diameter, warmth, released), fineness=STILL)
        made = {one.name: one for one in worn}
        for side in SIDES:
            whole = made[f"lining_{side}"].volume
            # STILL has the rivets' holes in its linings; those of the browser have none
            assert ask(solid, VOLUME.replace("NAME", f"lining_{side}")) == pytest.approx(whole, rel=0.06)
            assert ask(solid, VOLUME.replace("NAME", f"lining_{side}")) > whole
    at(solid, "")


@pytest.mark.parametrize("place", [0, 1])
def test_the_diaphragm_is_that_of_its_stroke(solid: Opened, setup: Setup, place: int) -> None:
    at(solid, f"x={place}")
    poses = solve_poses(setup.brake, condition_of(setup), [ask(solid, "view.player.state.stroke")])
    made = sheets(setup.brake, poses, parking_out=0.0, fineness=STILL)
    for name in ("diaphragm", "parking_diaphragm"):
        assert ask(solid, VOLUME.replace("NAME", name)) == pytest.approx(made[name].volume(), rel=0.05)
        box = np.array(ask(solid, f"view.scene.named.{name}.box"))
        assert box == pytest.approx(np.array(made[name].bounding_box()).reshape(2, 3), abs=1.7)


def test_all_parts_together_are_light_enough(solid: Opened) -> None:
    triangles = ask(solid, "view.scene.parts.reduce((sum, {faces}) => sum + faces.geometry.index.count / 3, 0)")
    assert 10_000 < triangles < 15_000


# how it is shown


def test_it_comes_apart_as_the_solids_do(solid: Opened, setup: Setup) -> None:
    together = stood(solid)
    for apart in (0.37, 1.0):
        for name, matrix in stood(at(solid, f"va={apart}")).items():
            wanted = share_of(way_of(name), apart) * shift(setup.brake, name)
            assert matrix[:3, 3] - together[name][:3, 3] == pytest.approx(wanted, abs=PLACE), name
    solid.press("e")
    assert ask(solid.settle(), "view.now.apart") == 0
    assert solid.press("e").settle().page.locator("[data-role=solid-apart]").input_value() == "200"


def test_the_drum_is_seen_through_solid_or_off_and_the_wheel_is_off_at_first(solid: Opened) -> None:
    how = "(({faces}) => [faces.visible, faces.material.transparent])(view.scene.named.NAME)"
    assert ask(solid, how.replace("NAME", "drum")) == [True, True]
    assert ask(solid, how.replace("NAME", "wheel"))[0] is False
    assert ask(solid.press("d").settle(), how.replace("NAME", "drum")) == [True, False]
    assert ask(solid.press("d").settle(), how.replace("NAME", "drum"))[0] is False
    assert ask(solid.press("w").settle(), how.replace("NAME", "wheel")) == [True, False]
    assert solid.page.locator("[data-role=solid-wheel]").get_attribute("aria-pressed") == "true"
    assert solid.page.locator("[data-role=solid-drum]").input_value() == "off"


def test_a_cut_leaves_one_half_and_closes_it_with_a_section(solid: Opened) -> None:
    at(solid, f"vc=2&vo={list(VIEWS).index('into-drum')}")  # across the drum, seen from the wheel's side
    assert solid.page.locator("[data-role=solid-cut]").input_value() == "across the drum"
    capped = set(ask(solid, "view.scene.parts.filter(({cap}) => cap?.section.visible).map(({name}) => name)"))
    assert {"drum", "s_cam", "roller_left", "lining_left", "shoe_left_platform"} <= capped
    assert not {"slack_adjuster", "bracket", "hub", "shaft_tube"} & capped  # on one side of it
    # the S-cam's section is drawn in the plane of the cut: its colour stands where the plane meets the shaft
    x, y = ask(solid, "view.stage.pixel([0, view.scene.facts.sizes.camDistance, 0])")
    seen = colour(solid, x, y)
    turn = np.array(channels(colours("light")["turn"]))
    paper = np.array(channels(colours("light")["paper"]))
    share = np.dot(np.array(seen) - paper, turn - paper) / np.dot(turn - paper, turn - paper)
    assert 0.15 < share <= 1.01
    assert np.array(seen) == pytest.approx(paper + share * (turn - paper), abs=12)


def test_whoever_sees_the_back_of_a_cut_is_led_to_its_front(solid: Opened) -> None:
    at(solid, f"vo={list(VIEWS).index('along-shaft')}")  # from the chamber's side
    solid.page.select_option("[data-role=solid-cut]", "across the drum")
    assert np.cos(ask(solid.settle(), "view.orbit.yaw")) < 0  # on the wheel's side now


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_colours_are_those_of_the_page(solid: Opened, theme: str) -> None:
    at(solid, f"c={theme}&vd=off")
    ground = colour(solid, 3, 3)
    assert tuple(ground) == channels(colours("light" if theme == "light" else "dark")["paper"])
    full = ask(solid, "view.scene.named.s_cam.uniforms.full.value.toArray().map((one) => Math.round(255 * one))")
    assert tuple(full) == channels(colours("light" if theme == "light" else "dark")["turn"])
    at(solid, "c=light")


def test_a_lining_that_touches_is_full_and_a_hot_drum_glows(solid: Opened) -> None:
    fill = "view.scene.named.NAME.uniforms.fill.value.toArray()"
    full = ask(solid, "view.colours.verbs.rub.full")
    assert ask(solid, fill.replace("NAME", "lining_left")) != pytest.approx(full)
    cold = np.array(ask(solid, fill.replace("NAME", "drum")))
    at(solid, "x=1&t=589")
    assert ask(solid, fill.replace("NAME", "lining_left")) == pytest.approx(full)
    hot = np.array(ask(solid, fill.replace("NAME", "drum")))
    assert np.linalg.norm(hot - full) < np.linalg.norm(cold - full)


def test_seen_from_outside_it_is_closed_with_the_wheel_on(solid: Opened) -> None:
    at(solid, "vc=1&va=1")
    solid.page.evaluate(f"() => {VIEW}.player.scene.outside(true)")
    closed = "[view.shown.wheel, view.shown.drum, view.shown.cut, view.shown.apart]"
    assert ask(solid.settle(), closed) == [True, "solid", "none", 0]
    assert ask(solid, "view.scene.named.wheel.faces.visible")
    solid.page.evaluate(f"() => {VIEW}.player.scene.outside(false)")
    assert ask(solid.settle(), "view.shown.apart") == 1


def test_nothing_is_clipped_in_any_named_view_together_and_apart(solid: Opened) -> None:
    corners = """view.scene.parts.filter(({faces}) => faces.visible).flatMap(({box: [low, high], faces}) => {
      const m = faces.matrix.elements;
      const corner = (i) => [0, 1, 2].map((k) => (i >> k) & 1 ? high[k] : low[k]);
      return [0, 1, 2, 3, 4, 5, 6, 7].map(corner).map(([x, y, z]) =>
        view.stage.pixel([0, 1, 2].map((k) => m[k] * x + m[4 + k] * y + m[8 + k] * z + m[12 + k]))); })"""
    for view in range(len(VIEWS)):
        for apart in (0, 1):
            at(solid, f"vo={view}&va={apart}")
            places_, (width, height) = np.array(ask(solid, corners)), ask(solid, "view.stage.size")
            # the corners of a round part's box stand out of it, seen askew
            assert np.all(places_ > -0.03 * height), (view, apart)
            assert np.all(places_ < np.array([width, height]) + 0.03 * height), (view, apart)


# parts that are picked


SHOWN_FULL = "view.scene.parts.filter(({uniforms}) => uniforms.fade.value === 0).map(({name}) => name)"


def test_keys_go_from_part_to_part_and_say_what_it_is(solid: Opened, setup: Setup) -> None:
    made = brake_solids(setup.brake, condition_of(setup), parking=True, fineness=MOVING)
    panel = solid.page.locator("[data-role=part]")
    assert panel.get_attribute("aria-live") == "polite"
    assert solid.text("[data-role=part-title]") == "Parts"
    solid.press("k")
    assert solid.text("[data-role=part-title]") == made[0].title
    assert solid.text("[data-role=part-does]") == made[0].does
    assert solid.text("[data-role=part-look]") == made[0].look_for
    solid.press("j")  # round to the last one that is shown
    assert solid.text("[data-role=part-title]") == made[-1].title
    assert ask(solid.settle(), SHOWN_FULL) == [made[-1].name]
    solid.press("Escape")
    assert solid.text("[data-role=part-title]") == "Parts"


def test_a_click_picks_what_is_seen_there_and_a_click_beside_lets_go(solid: Opened) -> None:
    at(solid, "vd=off&vo=3")  # into the drum
    box = solid.page.locator(".stage canvas").bounding_box()
    assert box is not None

    def click(place: list[float]) -> str:
        x, y = ask(solid, f"view.stage.pixel({place})")
        solid.page.mouse.click(box["x"] + x, box["y"] + y)
        return solid.text("[data-role=part-title]")

    cam = ask(solid, "[0, view.scene.facts.sizes.camDistance, -25]")
    assert click(cam) == "S-cam"
    left, right = (ask(solid, f"view.scene.matrices.roller_{side}.slice(12, 15)") for side in SIDES)
    assert click(left) == "Left roller"
    assert click(right) == "Right roller"
    solid.page.mouse.click(box["x"] + 6, box["y"] + 6)
    assert solid.text("[data-role=part-title]") == "Parts"


def test_a_click_goes_through_a_drum_that_is_seen_through_and_past_what_is_cut_off(solid: Opened) -> None:
    at(solid, "vo=3")
    box = solid.page.locator(".stage canvas").bounding_box()
    assert box is not None
    x, y = ask(solid, "view.stage.pixel([0, view.scene.facts.sizes.camDistance, -25])")
    where = box["x"] + x, box["y"] + y
    solid.page.mouse.click(*where)
    assert solid.text("[data-role=part-title]") == "S-cam"
    at(solid, "vo=3&vd=solid")
    solid.page.mouse.click(*where)
    assert solid.text("[data-role=part-title]") == "Brake drum"
    at(solid, "vo=3&vd=solid&vc=2")
    solid.page.mouse.click(*where)
    assert solid.text("[data-role=part-title]") == "S-cam"


def test_a_defect_lights_its_part_unless_it_is_to_be_found(solid: Opened) -> None:
    assert ask(at(solid, "m=faults&k=drum-cracked"), SHOWN_FULL) == ["drum"]
    assert set(ask(at(solid, "m=faults&k=diaphragm-leak"), SHOWN_FULL)) == {"diaphragm", "chamber_pressure"}
    assert len(ask(solid.press("q").settle(), SHOWN_FULL)) > 30
    at(solid, "")


def test_names_stand_apart_and_inside_and_only_of_what_is_seen(solid: Opened) -> None:
    boxes = """[...document.querySelectorAll(".tag:not([display=none]) text")].map((text) => {
      const {x, y, width, height} = text.getBBox(); return [text.textContent, x, y, x + width, y + height]; })"""

    def named() -> list[list[Any]]:
        solid.until(f"!{VIEW}.unsettled")
        return ask(solid, boxes)

    for view in range(len(VIEWS)):
        at(solid, f"vo={view}")
        width, height = ask(solid, "view.stage.size")
        found = named()
        assert len(found) >= 4, view
        for i, (words, left, top, right, bottom) in enumerate(found):
            assert left >= 0, words
            assert top >= -1, words
            assert right <= width, words
            assert bottom <= height + 1, words
            for other, l2, t2, r2, b2 in found[:i]:
                assert left >= r2 or l2 >= right or top >= b2 - 3 or t2 >= bottom - 3, (words, other)
    at(solid, f"vd=solid&vo={list(VIEWS).index('into-drum')}")
    assert not {"S-cam", "Roller", "Lining", "Shoe"} & {row[0] for row in named()}  # all behind the drum
    assert ask(solid.press("b").settle(), boxes) == []
    solid.press("b")


# the viewer


def test_the_viewer_walks_by_keys_when_the_solid_has_the_focus(solid: Opened) -> None:
    before = ask(solid, "[view.orbit.yaw, view.orbit.pitch, view.orbit.zoom, view.player.along]")
    solid.press("ArrowRight")  # without the focus it moves the application
    assert ask(solid.settle(), "view.orbit.yaw") == before[0]
    assert ask(solid, "view.player.along") == pytest.approx(0.02)
    solid.page.focus(".stage canvas")
    solid.press("ArrowRight", "ArrowUp", "+")
    after = ask(solid.settle(), "[view.orbit.yaw, view.orbit.pitch, view.orbit.zoom, view.player.along]")
    assert after[0] - before[0] == pytest.approx(pi / 36)
    assert after[1] - before[1] == pytest.approx(pi / 36)
    assert after[2] < 1
    assert after[3] == pytest.approx(0.02)
    solid.press("Shift+ArrowLeft")
    assert ask(solid.settle(), "view.orbit.aside") < 0
    solid.press("o")
    assert ask(solid.settle(), "[view.orbit.at, view.orbit.whole]") == [0, True]
    assert ask(solid.press("o").settle(), "view.orbit.at") == 1


def test_the_viewer_walks_by_mouse(solid: Opened) -> None:
    box = solid.page.locator(".stage canvas").bounding_box()
    assert box is not None
    x, y = box["x"] + 200, box["y"] + 200
    mouse = solid.page.mouse
    start = ask(solid, "[view.orbit.yaw, view.orbit.pitch]")
    mouse.move(x, y)
    mouse.down()
    mouse.move(x + 60, y + 20, steps=4)
    mouse.up()
    turned = ask(solid.settle(), "[view.orbit.yaw, view.orbit.pitch]")
    assert turned[0] < start[0]  # what is seen follows the hand
    assert turned[1] > start[1]
    assert solid.text("[data-role=part-title]") == "Parts"  # a drag is no click
    mouse.move(x, y)
    mouse.down(button="right")
    mouse.move(x + 30, y, steps=3)
    mouse.up(button="right")
    assert ask(solid.settle(), "view.orbit.aside") < 0
    mouse.wheel(0, -300)
    solid.until(f"{VIEW}.orbit.zoom < 0.8")


def test_the_viewer_walks_by_one_finger_and_zooms_by_two(solid: Opened) -> None:
    box = solid.page.locator(".stage canvas").bounding_box()
    assert box is not None
    tools = solid.page.context.new_cdp_session(solid.page)

    def touch(kind: str, *points: tuple[float, float]) -> None:
        places_ = [{"x": box["x"] + x, "y": box["y"] + y, "id": i} for i, (x, y) in enumerate(points)]
        tools.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": places_})

    start = ask(solid, "[view.orbit.yaw, view.orbit.zoom]")
    touch("touchStart", (200, 200))
    touch("touchMove", (250, 200))
    touch("touchEnd")
    one = ask(solid.settle(), "[view.orbit.yaw, view.orbit.zoom]")
    assert one[0] != start[0]
    assert one[1] == start[1]
    touch("touchStart", (200, 200), (300, 200))
    touch("touchMove", (150, 200), (350, 200))
    touch("touchEnd")
    two = ask(solid.settle(), "[view.orbit.yaw, view.orbit.zoom]")
    assert two[0] == one[0]
    assert two[1] == pytest.approx(0.5, rel=0.05)
    tools.detach()


def test_the_address_keeps_how_it_is_looked_at(solid: Opened) -> None:
    solid.press("d", "w", "c", "e", "o")
    solid.until("location.hash.includes('va=1')")
    address = solid.page.evaluate("location.hash.slice(1)")
    before = ask(solid, "[view.now, view.orbit.at, view.look]")
    assert before == [{"drum": "solid", "wheel": True, "cut": "open", "apart": 1}, 1, "solid"]
    at(solid, "")
    assert ask(solid, "view.now.apart") == 0
    solid.page.evaluate("(state) => { location.hash = state; }", address)
    solid.until(f"{VIEW}.now.apart === 1")
    assert ask(solid, "[view.now, view.orbit.at, view.look]") == before


def test_nothing_is_drawn_when_nothing_happens(solid: Opened) -> None:
    solid.until(f"!{VIEW}.unsettled")
    drawn = ask(solid, "view.stage.drawn")
    for _ in range(4):
        solid.settle()
    assert ask(solid, "view.stage.drawn") == drawn
    solid.press("Home").settle()
    assert ask(solid, "view.stage.drawn") > drawn


def test_the_drawing_the_solid_and_both_take_turns(solid: Opened) -> None:
    page = solid.page
    seen = "getComputedStyle(document.querySelector('.picture > svg')).opacity"
    assert page.evaluate(seen) == "0"
    solid.press("v").settle()
    assert solid.data("look") == "drawing"
    assert not page.locator(".solid").is_visible()
    assert page.evaluate(seen) == "1"
    page.set_viewport_size({"width": 1920, "height": 1080})
    solid.settle().press("v", "v").settle()
    assert solid.data("look") == "both"
    assert page.evaluate(seen) == "1"
    drawing, stage = (page.locator(one).bounding_box() for one in (".picture > svg", ".stage"))
    assert drawing is not None
    assert stage is not None
    assert drawing["x"] + drawing["width"] <= stage["x"]
    assert ask(solid, "view.stage.size") == pytest.approx([stage["width"], stage["height"]], abs=1)
    page.set_viewport_size({"width": 1366, "height": 768})


@pytest.mark.parametrize(("width", "height"), [(1920, 1080), (1366, 768), (390, 844)])
def test_it_fits_every_screen_with_letters_that_can_be_read(solid: Opened, width: int, height: int) -> None:
    page = solid.page
    page.set_viewport_size({"width": width, "height": height})
    solid.settle()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate(
        """[...document.querySelectorAll(".solid *")].filter((node) => node.childNodes.length &&
        [...node.childNodes].some((one) => one.nodeType === 3 && one.data.trim())).map((node) =>
        [node.textContent, parseFloat(getComputedStyle(node).fontSize)]).filter(([, size]) => size < 14)"""
    )
    assert small == []
    stage = page.locator(".stage").bounding_box()
    assert stage is not None
    assert stage["height"] > 300
    assert stage["width"] > 0.5 * min(width, 1000)
    page.set_viewport_size({"width": 1366, "height": 768})


def test_the_canvas_has_a_name_and_every_tool_a_label(solid: Opened) -> None:
    assert "Arrow keys" in (solid.page.locator(".stage canvas").get_attribute("aria-label") or "")
    names = solid.page.evaluate(
        """[...document.querySelectorAll(".solid :is(select, input, button)")].map((tool) =>
        tool.localName === "button" ? tool.textContent : tool.labels[0].textContent)"""
    )
    assert len(names) == 7
    assert all(name.strip() for name in names)


# elsewhere


def test_a_component_has_it_too_and_leaves_nothing_behind(browser: Browser, pages: Pages) -> None:
    context = browser.new_context(reduced_motion="reduce", viewport={"width": 1366, "height": 768})
    context.set_offline(True)
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto("about:blank")
    module = "data:text/javascript;base64," + b64encode(bundled().encode()).decode()
    page.evaluate(
        """async ([url, data]) => { const made = await import(url);
        const el = document.body.appendChild(document.createElement("div"));
        window.shadow = el.attachShadow({mode: "open"}); window.leave = made.render({model: {data}, el: shadow});
        shadow.querySelector("[data-role=look]").click(); }""",
        [module, pages.data(WORN) | {"css": page_css()}],
    )
    page.wait_for_function("shadow.querySelector('.solid').solid.stage?.drawn > 0")
    page.evaluate("window.stage = shadow.querySelector('.solid').solid.stage")
    assert page.evaluate("stage.canvas.clientHeight") > 300
    page.evaluate("leave()")
    assert page.evaluate("[stage.ended, stage.drawing.getContext().isContextLost()]") == [True, True]
    assert errors == []
    context.close()


# where it cannot be


def test_without_webgl_a_note_says_so_and_the_drawing_stays(show: Open) -> None:
    with show() as it:
        it.page.evaluate(
            """() => { const own = HTMLCanvasElement.prototype.getContext;
            HTMLCanvasElement.prototype.getContext = function (kind, ...more) {
              return kind.startsWith("webgl") ? null : own.call(this, kind, ...more); }; }"""
        )
        it.press("v").settle()
        assert it.data("look") == "drawing"
        note = it.page.locator("[data-role=solid-missing]")
        assert note.is_visible()
        assert "no WebGL 2" in (note.text_content() or "")
        assert it.page.evaluate("getComputedStyle(document.querySelector('.picture > svg')).opacity") == "1"
        it.press(" ").settle()
        assert it.phase() == "applied"  # all else works


def test_three_is_not_unpacked_until_it_is_asked_for(show: Open) -> None:
    with show() as it:
        assert ask(it.settle(), "[view.stage === undefined, view.starting === undefined]") == [True, True]


def test_a_page_may_run_only_its_own_script_and_what_it_unpacks(pages: Pages) -> None:
    text = pages.file(WORN).read_text(encoding="utf-8")
    policy = text[text.index("Content-Security-Policy") :].split('"')[2]
    directives = dict(one.strip().split(" ", 1) for one in policy.split(";"))
    assert directives["default-src"] == "'none'"
    own, blob = directives["script-src"].split()
    assert own.startswith("'sha256-")
    assert blob == "blob:"
    assert "connect-src" not in directives


def test_the_stroke_and_its_verdict_stand_over_the_solids(solid: Opened) -> None:
    at(solid, "p=1")
    shown = "name => document.querySelector(`[data-now=${name}]`).textContent"
    solid.page.keyboard.press("End")
    solid.until("document.querySelector('[data-now=stroke]').textContent === '2.12 in'")
    assert solid.page.evaluate(shown, "verdict") == "fail: over the limit by 0.12 in"
    assert solid.page.evaluate(shown, "arm-angle").startswith("82.6°")
    for width, height in ((1366, 768), (390, 844)):
        solid.page.set_viewport_size({"width": width, "height": height})
        box = solid.page.evaluate("JSON.stringify(document.querySelector('.now').getBoundingClientRect())")
        assert '"x":-' not in box
    solid.page.set_viewport_size({"width": 1366, "height": 768})
