"""Whatever is shown, and however large its letters are: no word of the picture stands on another one or on a part."""

from collections.abc import Iterator

import pytest

from tests.page.browser import Opened
from tests.page.conftest import WORN, Open, Pages
from tests.sweeps import sweep

SETUPS = ("drive-16.5x7", "trailer-16.5x7", "steer-15x4", WORN)
FAULTS = ("chamber-too-small", "chamber-too-large", "stroke-class", "arm-too-short", "cam-past-profile")

MET = """() => {
  const seen = [...document.querySelectorAll(".picture svg text")].filter((n) => n.textContent.trim()
    && n.checkVisibility({visibilityProperty: true}) && !n.closest(".outside"));
  const boxes = seen.map((n) => [n.textContent.trim(), n.getBoundingClientRect()]);
  const met = [];
  for (const [i, [words, a]] of boxes.entries()) {
    for (const [other, b] of boxes.slice(0, i)) {
      const over = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const deep = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (over > -2 && deep > 0.45 * Math.min(a.height, b.height)) met.push(`${other} | ${words}`);
    }
  }
  const named = seen.filter((n) => n.closest("#note-labels, #note-parking") || n.matches(".mv-aside"));
  for (const n of named) {
    const {left, right, top, bottom} = n.getBoundingClientRect();
    const middle = 0.5 * (top + bottom);
    for (let x = left + 1; x < right; x += 4) {
      const under = document.elementsFromPoint(x, middle).map((node) => node.closest(".part")).find((part) => part);
      if (under) { met.push(`${n.textContent.trim()} | part ${under.id}`); break; }
    }
  }
  return [boxes.length, met];
}"""
"""How many words are seen, and which of them meet: their boxes are taller than their letters. Parts are looked for
along the middle of a name."""


def walk(defects: int) -> Iterator[tuple[str, ...]]:
    """Keys from one state of a page to the next, through all modes."""
    yield ("1", "Home")
    yield ("End",)
    yield ("2",)
    yield from [("PageDown",)] * 4
    yield ("a",)
    yield from [("PageDown",)] * 3
    yield ("a", "3")
    for _ in range(defects):
        yield ("PageDown",)
        yield ("End",)
        yield ("Home",)
    yield ("4",)
    for _ in range(3):
        yield from [("PageDown",)] * 6
        yield ("a",)


def assert_apart(it: Opened, *told: object) -> None:
    count, met = it.settle().page.evaluate(MET)
    assert count > 15, told
    assert met == [], told


@pytest.mark.parametrize(("width", "height"), [(1366, 768), (1920, 1080)])
@pytest.mark.parametrize("name", [pytest.param(name, marks=pytest.mark.wide) for name in SETUPS])
def test_no_word_meets_another_or_a_part(show: Open, pages: Pages, name: str, width: int, height: int) -> None:
    defects = len(pages.data(name)["defects"]["list"])
    with show(name, viewport={"width": width, "height": height}) as it:
        for units in ((), ("u",)):
            it.press(*units)
            for step, keys in enumerate(walk(defects)):
                assert_apart(it.press(*keys), units, step, keys, it.data("mode"), it.text("[data-role=fault-title]"))


@pytest.mark.parametrize("units", ["inch", "metric"])
def test_no_word_meets_another_or_a_part_on_a_small_screen(show: Open, units: str) -> None:
    states = [f"m=life&k={which}&y={wear}" for which in ("working", "stopped") for wear in (0, 1, 4)]
    states += [f"m=faults&k={fault}&x={place}" for fault in FAULTS for place in (0, 1)]
    states += [f"m=air&k=story&y={time}" for time in (0, 1, 6, 10)]
    with show("drive-16.5x7", viewport={"width": 1366, "height": 768}) as it:
        for state in states:
            it.page.evaluate(f"location.hash = '{state}&u={units}'")
            assert_apart(it.settle(), state)


# the parking section of another chamber


AIR = """() => {
  const box = (selector) => document.querySelector(selector).getBoundingClientRect();
  const air = box("#plane-arm > .air:has(+ #part-power-spring)");
  const [housing, sheet] = ["#part-parking-housing", "#part-parking-diaphragm"].map(box);
  return [air.left - housing.left, housing.right - air.right, air.top - housing.top, housing.bottom - air.bottom,
    Math.abs(air.right - sheet.right), box("#note-parking text").top - housing.bottom];
}"""


@pytest.mark.parametrize("fault", sweep(["chamber-too-small", "chamber-too-large", "stroke-class"], always=2))
def test_the_parking_air_fills_the_section_of_any_chamber(show: Open, fault: str) -> None:
    with show("drive-16.5x7", "#m=faults", viewport={"width": 1920, "height": 1080}) as it:
        sound = it.settle().page.evaluate(AIR)
        it.page.evaluate(f"location.hash = 'm=faults&k={fault}'")
        *inside, below = it.settle().page.evaluate(AIR)
        assert it.data("fault") == fault
        assert min(inside) > -1
        assert inside[4] < 1.5
        assert below > -4
        it.press("r")
        assert it.settle().page.evaluate(AIR) == pytest.approx(sound, abs=0.1)


# what a reader found on one screen


def test_the_box_on_a_state_that_cannot_be_covers_no_name(show: Open, pages: Pages) -> None:
    end = pages.data(WORN)["life"]["stopped"]["end"]
    with show(WORN, f"#m=life&k=stopped&y={end}&h=1", viewport={"width": 1920, "height": 1080}) as it:
        covered = it.settle().page.evaluate(
            """() => { const b = document.querySelector("[data-role=cannot]").getBoundingClientRect();
            return [...document.querySelectorAll("#note-labels text")].filter((n) => {
              const a = n.getBoundingClientRect();
              return a.left < b.right && a.right > b.left && a.top < b.bottom && a.bottom > b.top;
            }).map((n) => n.textContent); }"""
        )
        assert it.data("stopped") == "yes"
        assert covered == []


@pytest.mark.parametrize(("width", "height"), sweep([(1366, 768), (1440, 900), (1920, 1080)], several=True))
def test_the_figures_with_a_defect_are_not_cut(show: Open, width: int, height: int) -> None:
    with show("drive-16.5x7", viewport={"width": width, "height": height}) as it:
        for fault in ("lining-cracked", "drum-out-of-round", "chamber-too-small"):
            for units in ("inch", "metric"):
                it.page.evaluate(f"location.hash = 'm=faults&k={fault}&x=1&u={units}'")
                wide = it.settle().page.evaluate(
                    """() => [".of-faults table", ".plots .of-faults"].map((one) => {
                    const n = document.querySelector(one); return n.scrollWidth - n.clientWidth; })"""
                )
                assert max(wide) <= 0, (fault, units)


def test_no_word_beside_the_picture_is_smaller_than_14_px(show: Open) -> None:
    sizes = """(selector) => [...document.querySelectorAll(selector)]
      .filter((n) => n.checkVisibility() && n.textContent).map((n) => { const svg = n.closest("svg");
      const size = parseFloat(getComputedStyle(n).fontSize); return svg ? size * svg.getScreenCTM().a : size; })"""
    with show("drive-16.5x7", "#m=air", viewport={"width": 1366, "height": 768}) as it:
        assert min(it.settle().page.evaluate(sizes, ".of-air-dial text")) >= 14
        it.press("s").settle()
        assert min(it.page.evaluate(sizes, "[data-role=caption] .count")) >= 14


def test_where_square_is_lost_is_told_clear_of_the_axis(show: Open) -> None:
    with show("drive-16.5x7", "#m=faults&k=pushrod-too-short", viewport={"width": 1366, "height": 768}) as it:
        room = it.settle().page.evaluate(
            """() => { const svg = document.querySelectorAll(".plots svg")[1];
            const texts = [...svg.querySelectorAll(".plot-word")].filter((n) => /square|^at /.test(n.textContent));
            const axis = svg.querySelector(".mv-scale").getBoundingClientRect().bottom;
            return texts.map((n) => axis - n.getBoundingClientRect().bottom); }"""
        )
        assert len(room) == 2
        assert min(room) > 0
