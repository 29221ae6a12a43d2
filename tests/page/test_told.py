"""What the page says of a state is true of it: which lining touches, what exists, no digit of mere rounding."""

import re
from itertools import pairwise
from math import degrees

import pytest

from geometry.found import condition_of
from geometry.setup import Setup, builtin_text, read_setup, read_setup_text
from mechviz.checks import run_checks
from mechviz.checks.case import HOT
from mechviz.drawing.chain import links
from mechviz.drawing.pushes import rub_at, rubbing
from mechviz.drawing.scene import hotter, scene_at
from tests.page.browser import Opened
from tests.page.conftest import WORN, Open, Pages
from tests.sweeps import sweep

ONE = "#p=0.655001943&w=8.382&t=294.261111&a=1.35176&x=0.65"
"""A state in which the right lining touches and the left one does not yet."""
TICKS = """() => [...document.querySelectorAll(".plots svg:not(.of-air-dial)")].filter((svg) => svg.checkVisibility())
.map((svg) => {
  const ticks = [...svg.querySelectorAll(".plot-tick")].filter((node) => /^[0-9.]+k?$/.test(node.textContent));
  const side = (anchor) => ticks.filter((node) => node.getAttribute("text-anchor") === anchor)
    .map((node) => node.textContent);
  return [side("end"), side("middle")];
}).flat()"""


def arrows_on_linings(it: Opened) -> tuple[int, int]:
    """How many arrows point outwards to the left, and to the right."""
    ways: list[float] = it.page.evaluate(
        """() => [...document.querySelectorAll("#note-push .mv-line-rub")]
        .filter((node) => node.getAttribute("visibility") === "visible")
        .map((node) => Number(node.getAttribute("x2")) - Number(node.getAttribute("x1")))"""
    )
    return sum(way < 0 for way in ways), sum(way > 0 for way in ways)


def said(it: Opened, part: str) -> str:
    """Every text of a note that is seen."""
    return it.page.evaluate(
        """(part) => [...document.querySelectorAll(`${part} text`)]
        .filter((node) => getComputedStyle(node).visibility === "visible").map((node) => node.textContent).join("|")""",
        part,
    )


def test_arrows_and_words_tell_which_lining_touches(show: Open) -> None:
    with show(WORN, ONE) as it:
        assert it.text("#value-stroke") == "1.35 in"
        assert arrows_on_linings(it) == (0, 3)
        assert "The right lining rubs|" in said(it, "#note-chain")
        assert "The right lining presses" in said(it, "#note-verdict")
        assert it.phase() == "the right lining presses on the drum"
        it.press("End").settle()
        assert arrows_on_linings(it) == (3, 3)
        assert "The linings rub the drum" in said(it, "#note-chain")
        it.press("Home").settle()
        assert arrows_on_linings(it) == (0, 0)


def test_the_drawing_tells_the_same_of_one_lining() -> None:
    setup = read_setup(WORN)
    scene = scene_at(setup, condition_of(setup), 1.35 * 25.4, "stroke")
    assert [len(rubbing(shoe, rub_at(scene.brake.lining))) for shoe in (scene.state.left, scene.state.right)] == [0, 3]
    assert links(scene)[-1].sentence == "The right lining rubs"
    assert links(scene_at(setup, condition_of(setup), "contact"))[-1].sentence == "The right lining touches"
    assert links(scene_at(setup, condition_of(setup), "applied"))[-1].sentence == "The linings rub the drum"


@pytest.mark.parametrize("name", sweep(["steer-15x4", "trailer-16.5x7", WORN]))
def test_no_figure_at_first_contact_is_rounding_alone(show: Open, name: str) -> None:
    with show(name) as it:
        for place in ("0.6", "0.600001", "0.6000001"):
            for units in ("inch", "metric"):
                it.page.goto(f"{it.page.url.split('#')[0]}#x={place}&u={units}")
                told = said(it.settle(), ".picture") + it.text("[data-role=figures]")
                assert not re.search(r"0\.0\d{3,}|\de-\d|-0\b", told), (place, told)
        it.page.goto(it.page.url.split("#")[0] + "#x=0.6")
        assert it.settle().text("#value-brake-torque") == "\N{EN DASH}"


def test_the_cams_turn_is_a_dash_where_there_is_no_state(show: Open) -> None:
    with show(WORN, "#x=1") as it:
        assert it.text("#value-cam-turn") == "16.2°"
        it.page.goto(it.page.url.split("#")[0] + "#x=1&t=589&w=7.6")
        assert it.settle().data("stopped") == "yes"
        assert it.text("#value-cam-turn") == "\N{EN DASH}"
        it.press("Home").settle()
        assert it.text("#value-cam-turn") == "0.0°"


@pytest.mark.parametrize("name", sweep([WORN, "drive-16.5x7"]))
def test_a_released_brake_stands_at_the_beginning_of_the_arms_curve(show: Open, name: str) -> None:
    with show(name, "#x=0") as it:
        plot = ".plots svg:nth-child(2)"
        mark = it.page.locator(f"{plot} .mark")
        assert mark.is_visible()
        at = it.page.evaluate(f"document.querySelector('{plot} .mark').transform.baseVal.getItem(0).matrix.e")
        start = it.page.locator(f"{plot} .plot-curve").get_attribute("d")
        assert start is not None
        assert at == pytest.approx(float(start.removeprefix("M").split()[0]), abs=0.02)


def lost(setup: Setup) -> str:
    """What a drawing of the brake, hot, says that is lost of its push."""
    scene = scene_at(setup, hotter(condition_of(setup), HOT), "applied")
    words = [line.lead + line.words for line in links(scene)[0].lines]
    (found,) = (line for line in words if line.startswith("lost to diaphragm and spring: "))
    return found.rpartition(": ")[2]


def test_what_is_lost_of_the_push_is_the_same_on_page_drawing_and_check(show: Open) -> None:
    slack = read_setup_text(builtin_text("drive-16.5x7").replace("0.55 in", "0.80 in"), "slack")
    (advice,) = (row.advice for row in run_checks(slack) if row.check == "stroke-reserve-hot")
    assert re.findall(r"lost (\d+ %) of its force", advice) == [lost(slack)]
    with show(WORN, f"#x=1&t={HOT:.6f}") as it:
        assert f"lost to diaphragm and spring: {lost(read_setup(WORN))}" in said(it, "#note-chain")
        it.press("Home", "s", *["PageDown"] * 5).settle()
        (told,) = re.findall(r"(\d+ %) of the push is gone", it.text("[data-role=words]"))
        assert f"lost to diaphragm and spring: {told}" in said(it, "#note-chain")


def test_a_pressure_at_first_contact_says_what_it_is(show: Open) -> None:
    setup = read_setup(WORN)
    assert scene_at(setup, condition_of(setup), "contact").state.pressure is None  # nothing presses yet
    with show(WORN, "#x=0.6") as it:
        pressure = it.text("#value-pressure")
        assert f"just brings the lining there: {pressure}" in said(it, "#note-chain")
        assert it.text("[data-figure=pressure]") == f"{pressure}, just brings the lining there"
        for place in ("0.5", "0.65", "1"):
            it.page.goto(f"{it.page.url.split('#')[0]}#x={place}")
            assert "in the chamber " in said(it.settle(), "#note-chain")
            assert "just" not in it.text("[data-figure=pressure]")


def test_ticks_are_even_and_none_is_written_twice(show: Open) -> None:
    states = ("x=1", "x=1&w=3.1&a=1.9", "x=1&w=18&a=0.9", "m=life&k=stopped", "m=life&k=working", "m=air")
    with show(WORN, viewport={"width": 1920, "height": 1080}) as it:
        for state in states:
            for units in ("inch", "metric"):
                it.page.goto(f"{it.page.url.split('#')[0]}#{state}&u={units}")
                axes: list[list[str]] = it.settle().page.evaluate(TICKS)
                assert len(axes) >= 4
                for words in axes:
                    assert len(set(words)) == len(words), (state, words)
                    decimals = {len(word.rstrip("k").partition(".")[2]) for word in words if word != "0"}
                    assert len(decimals) <= 1, (state, words)
                    values = [float(word.rstrip("k")) for word in words]
                    steps = [b - a for a, b in pairwise(values)]
                    assert max(steps, default=0) - min(steps, default=0) < 1e-6, (state, words)


def test_where_the_arm_turns_farther_than_the_cam_the_rest_is_wind_up(show: Open) -> None:
    setup = read_setup(WORN)
    scene = scene_at(setup, condition_of(setup), "applied")
    assert scene.state.arm_turn is not None
    assert scene.state.cam_turn is not None
    rest = degrees(scene.state.arm_turn - scene.state.cam_turn)
    told = f"{degrees(scene.state.arm_turn):.1f}°, {rest:.1f}° wind-up"
    assert links(scene)[1].lines[0].words == told
    assert rest > 1
    with show(WORN, "#x=1") as it:
        line = it.page.locator("#note-chain text:has(#value-arm-turn)")
        assert line.text_content() == f"the arm by {told}"
        it.press("s", *["PageDown"] * 6).settle()
        shown = it.page.evaluate(
            "[...document.querySelectorAll('#note-chain tspan')].filter((n) => n.textContent.includes('wind-up')"
            " && getComputedStyle(n).visibility === 'visible').length"
        )
        assert (it.data("outside"), shown) == ("yes", 0)
        it.press("Escape")
        it.page.goto(it.page.url.split("#")[0] + "#x=0.5")
        assert "wind-up" not in (it.settle().page.locator("#note-chain").text_content() or "")


def test_the_beginning_is_told_in_one_way(show: Open) -> None:
    with show("drive-16.5x7") as it:
        it.press(*["ArrowRight"] * 10).settle()
        assert it.text("#value-stroke") == "0.00 in"
        assert "Arm and cam rest" in said(it, "#note-chain")
        assert it.phase() == "air enters, the springs still hold"
        assert said(it, "#note-verdict").startswith("Air enters the chamber|")


def test_first_contact_is_told_alike_by_hand_and_by_the_air(show: Open, pages: Pages) -> None:
    (story,) = (one for one in pages.data("drive-16.5x7")["air"]["scenarios"] if one["name"] == "story")
    touch = next(one["at"] for one in story["events"] if "touch" in one["words"])
    with show("drive-16.5x7", f"#m=air&k=story&y={touch}") as it:
        words = said(it.settle(), "#note-chain")
        assert "lining touches" in words or "linings touch" in words
        assert "brake torque" not in words
        assert "roller " not in words
        assert "At first contact" in said(it, "#note-verdict") or "The power spring pushes" in said(it, "#note-verdict")
