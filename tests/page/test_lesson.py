"""A lesson in a real browser: keys and clicker, question before answer, notes window, pen, quiz, any size of screen."""

import copy
import re
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from mechviz.lessons import data as lesson_data
from mechviz.lessons import read_lesson
from mechviz.lessons.data import lesson_page_data
from mechviz.lessons.html import lesson_file
from mechviz.page.bundle import bundled
from tests.page.browser import Opened, opened
from tests.page.conftest import WORN, Pages
from tests.page.posed import transforms

TEXT = """+++
lesson = 1
title = "A lesson for a test"
brake = "worn-drive-16.5x7"
+++
+++
title = "Press"
move = { what = "brake", to = "applied" }
light = ["pushrod", "slack adjuster"]
name = ["pushrod"]
sources = ["common practice"]
+++
The rod may move {limit}. <b>letters</b>

## Question
How far does it move?

## Answer
It moves **{stroke}**.

## Notes
Let them guess first.

## Caution
Chock the wheels.

+++
title = "No question here"
move = { what = "temperature", from = "cold", to = "hot" }
plot = "force"
+++
The drum heats to {temperature}.

+++
title = "Names"
at = "contact"
labels = "hidden"
+++
Name the parts.

## Question
Which is which?

## Answer
See the names.

+++
title = "A fault"
page = "faults"
fault = "pushrod-too-long"
move = { what = "brake", to = "applied" }
+++
Something is wrong.

## Question
What?

## Answer
{fault}.

+++
title = "Life"
page = "life"
life = { adjuster = "stopped" }
move = { what = "wear", to = "end" }
plot = "stroke"
+++
It wears.

+++
title = "Air"
page = "air"
air = { scenario = "story" }
move = { what = "time", to = "pedal released" }
plot = "pressure"
+++
Air.

+++
title = "By hand"
at = "contact"
by = "hand"
+++
Without air.

+++
title = "Outside"
view = "outside"
at = "applied"
+++
Look.

+++
title = "Forces"
at = "applied"
plot = "force"
caution = "with the answer"
+++
It is held.

## Question
How hard?

## Answer
{force}.

## Caution
Never.

+++
title = "In space"
view = "solid"
solid = { from = "wheel-side", drum = "removed" }
light = ["S-cam"]
at = "applied"
+++
Look.
"""
STEPS = 10

Lesson = Callable[..., AbstractContextManager[Opened]]


@pytest.fixture(scope="module")
def file(pages: Pages, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The lesson as one file; its brake's page data are those that other tests have made already."""
    path = tmp_path_factory.mktemp("lesson") / "lesson.html"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lesson_data, "page_data", lambda *_: copy.deepcopy(pages.data(WORN)))
        path.write_text(lesson_file(lesson_page_data(read_lesson(TEXT, "test"))), encoding="utf-8")
    return path


@pytest.fixture
def lesson(browser: Browser, file: Path) -> Lesson:
    @contextmanager
    def show(state: str = "", **options: Any) -> Iterator[Opened]:
        with opened(browser, file.as_uri() + state, **options) as it:
            yield it.settle()

    return show


def part(it: Opened, name: str) -> str:
    node = it.page.locator(f".lesson [data-part={name}]")
    return (node.inner_text() if node.is_visible() else "").strip().replace("\N{NO-BREAK SPACE}", " ")


def stroke(it: Opened) -> str:
    return it.text("#value-stroke")


def test_the_question_comes_first_and_the_answer_on_the_next_key_and_only_then_it_moves(lesson: Lesson) -> None:
    with lesson() as it:
        assert part(it, "count") == "Step 1 of 10: A lesson for a test"
        assert part(it, "title") == "Press"
        assert part(it, "text") == "The rod may move 2 in. <b>letters</b>"
        assert "How far does it move?" in part(it, "question")
        assert part(it, "answer") == ""
        assert "Chock the wheels." in part(it, "caution")
        assert part(it, "sources") == "Source: common practice"
        assert stroke(it) == "0.00 in"
        it.press("ArrowRight").settle()
        assert "It moves 2.12 in." in part(it, "answer")
        assert stroke(it) == "2.12 in"
        assert it.page.locator(".lesson .lesson-answer strong").text_content() == "2.12\N{NO-BREAK SPACE}in"
        it.press("ArrowRight").settle()
        assert part(it, "title") == "No question here"


@pytest.mark.parametrize(("on", "back"), [("PageDown", "PageUp"), ("ArrowRight", "ArrowLeft"), (" ", "ArrowLeft")])
def test_a_clicker_goes_through_the_whole_lesson_and_back(lesson: Lesson, on: str, back: str) -> None:
    with lesson() as it:
        titles = [part(it, "title")]
        for _ in range(STEPS + 3):
            it.press(on).settle()
            titles.append(part(it, "title"))
        assert list(dict.fromkeys(titles)) == [
            "Press",
            "No question here",
            "Names",
            "A fault",
            "Life",
            "Air",
            "By hand",
            "Outside",
            "Forces",
            "In space",
        ]
        assert it.page.locator("[data-act=next]").is_disabled()
        for _ in range(STEPS + 3):
            it.press(back).settle()
        assert (part(it, "title"), part(it, "answer")) == ("Press", "")
        it.press("End").settle()
        assert part(it, "title") == "In space"
        it.press("Home").settle()
        assert (part(it, "title"), stroke(it)) == ("Press", "0.00 in")


def test_the_address_holds_the_step_and_brings_it_back(lesson: Lesson) -> None:
    with lesson("#step=1&answer=1&c=dark&u=metric") as it:
        assert "It moves 53.8 mm." in part(it, "answer")
        assert it.data("theme") == "dark"
        it.press("ArrowRight").settle()
        assert it.page.evaluate("location.hash") == "#step=2&c=dark&u=metric"
        it.press("u").settle()
        assert "drum heats to 600 °F" in part(it, "text")
        it.page.evaluate("location.hash = 'step=99'")
        it.settle()
        assert part(it, "title") == "In space"


def test_the_parts_are_lit_and_only_what_is_asked_for_is_named(lesson: Lesson) -> None:
    with lesson() as it:
        assert sorted(it.page.evaluate("[...document.querySelectorAll('.pointed')].map((n) => n.id)")) == [
            "part-pushrod",
            "part-slack-adjuster",
        ]
        names = it.page.locator("#note-labels [data-named]")
        shown = [names.nth(n).get_attribute("data-named") for n in range(names.count()) if names.nth(n).is_visible()]
        assert shown == ["pushrod"]
        assert part(it, "lit").split() == ["pushrod", "slack", "adjuster"]
        it.page.evaluate("location.hash = 'step=5'")
        it.settle()
        assert it.page.locator(".pointed").count() == 0


def test_names_are_hidden_for_a_quiz_and_come_with_the_answer_or_by_a_key(lesson: Lesson) -> None:
    with lesson("#step=3") as it:
        assert it.data("names") == "no"
        assert it.text("#value-stroke") == "1.31 in"
        it.press("ArrowRight").settle()
        assert it.data("names") == "yes"
        assert it.page.locator("[data-act=labels]").get_attribute("aria-pressed") == "true"
        it.press("b").settle()
        assert it.data("names") == "no"
        assert it.page.locator("[data-act=labels]").get_attribute("aria-pressed") == "false"


def test_a_fault_is_not_named_before_its_answer(lesson: Lesson) -> None:
    with lesson("#step=4") as it:
        assert it.text("[data-role=fault-title]") == "Which defect is it?"
        assert it.page.locator(".lit").count() == 0
        it.press("PageDown").settle()
        assert it.text("[data-role=fault-title]") == "Pushrod too long"
        assert it.page.locator("#part-pushrod.lit").count() == 1
        assert "Pushrod too long." in part(it, "answer")


def test_a_random_fault_is_found_beside_the_lesson(lesson: Lesson) -> None:
    with lesson("#step=2") as it:
        it.press("q").settle()
        assert (part(it, "title"), it.data("mode")) == ("Find the fault", "faults")
        assert it.text("[data-role=fault-title]") == "Which defect is it?"
        assert it.page.evaluate("location.hash").startswith("#step=2")
        it.press("PageDown").settle()
        name = it.text("[data-role=fault-title]")
        assert name not in ("Which defect is it?", "The brake as found")
        it.press("PageUp").settle()
        assert it.text("[data-role=fault-title]") == "Which defect is it?"
        it.press("PageDown").settle()
        assert it.text("[data-role=fault-title]") == name
        it.press("PageDown").settle()
        assert (part(it, "title"), it.data("mode")) == ("No question here", "brake")
        it.press("q", "Escape").settle()
        assert part(it, "title") == "No question here"


def test_notes_open_in_a_second_window_that_steps_and_tells_what_comes(lesson: Lesson) -> None:
    with lesson() as it:
        with it.page.expect_popup() as found:
            it.press("s")
        notes: Page = found.value
        assert "Let them guess first." in notes.inner_text("[data-note=notes]")
        assert notes.inner_text("[data-note=next]") == "No question here"
        assert "How far does it move?" in notes.inner_text("[data-note=asked]")
        assert "0 of 20 min" in notes.inner_text(".lesson-clock")
        notes.keyboard.press("PageDown")
        it.settle()
        assert "2.12 in" in part(it, "answer")
        assert "Answer, shown" in notes.inner_text("[data-note=asked]")
        notes.click("[data-act=next]")
        it.settle()
        assert part(it, "title") == "No question here"
        assert notes.inner_text("[data-note=notes]") == "No notes for this step."
        it.press("q").settle()
        assert "It is: " in notes.inner_text("[data-note=asked]")
        it.page.goto("about:blank")
        assert notes.is_closed() or notes.wait_for_event("close") is not None


def test_a_pen_draws_on_the_picture_and_lines_stay_where_they_are(lesson: Lesson) -> None:
    with lesson() as it:
        box = it.page.locator(".lesson-pen").bounding_box()
        assert box is not None
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        it.press("x")
        assert it.page.locator("[data-act=draw]").get_attribute("aria-pressed") == "true"
        for n in range(2):
            it.page.mouse.move(x, y + 40 * n)
            it.page.mouse.down()
            it.page.mouse.move(x + 120, y + 40 * n + 30, steps=4)
            it.page.mouse.up()
        lines = it.page.locator(".lesson-line")
        assert lines.count() == 2
        path = it.page.locator(".lesson-ink").first.get_attribute("d")
        it.page.set_viewport_size({"width": 1920, "height": 1080})
        it.settle()
        assert it.page.locator(".lesson-ink").first.get_attribute("d") == path
        it.press("z")
        assert lines.count() == 1
        it.press("Delete")
        assert lines.count() == 0
        it.press("Escape")
        assert it.page.locator(".lesson-pen").get_attribute("data-on") == "no"
        assert part(it, "title") == "Press"


def test_wear_air_and_heat_stand_where_the_lesson_s_build_says(lesson: Lesson) -> None:
    with lesson("#step=2") as it:
        assert it.text("#value-drum") == "600 °F"
        it.page.evaluate("location.hash = 'step=5'")
        it.settle()
        assert (part(it, "title"), it.data("mode")) == ("Life", "life")
        along = it.page.locator("[data-role=scrub]")
        assert along.input_value() == "1000"
        it.press("ArrowRight").settle()
        assert (part(it, "title"), it.data("mode")) == ("Air", "air")
        assert it.phase() == "3.00 s"


def test_a_lit_part_is_lit_in_space_too(lesson: Lesson) -> None:
    with lesson("#step=10") as it:
        it.until("document.querySelector('[data-role=solid]').solid?.scene !== undefined")
        assert it.data("look") == "solid"
        assert it.page.evaluate("document.querySelector('[data-role=solid]').solid.player.pointed") == ["s_cam"]
        assert it.page.evaluate("document.querySelector('[data-role=solid]').solid.now.drum") == "off"


def seen(it: Opened, where: str) -> str:
    """The words that are seen in parts of the page."""
    return it.page.evaluate(
        """(where) => [...document.querySelectorAll(where)].flatMap((node) => [node, ...node.querySelectorAll("*")])
        .filter((node) => node.checkVisibility({visibilityProperty: true, opacityProperty: true}))
        .filter((node) => node.getClientRects().length)
        .flatMap((node) => [...node.childNodes].filter((one) => one.nodeType === 3).map((one) => one.data.trim()))
        .filter(Boolean).join(" | ").replaceAll("\u00a0", " ")""",
        where,
    )


def arrows(it: Opened) -> int:
    return it.page.locator("#note-push .mv-line-push").evaluate_all(
        "(nodes) => nodes.filter((node) => node.checkVisibility({visibilityProperty: true})).length"
    )


def test_where_a_hand_pulls_the_arm_no_air_is_told_or_drawn(lesson: Lesson) -> None:
    with lesson("#step=7") as it:
        told = seen(it, "#note-chain")
        assert "The hand pulls the arm" in told
        assert "Arm and cam turn" in told
        assert "touch" in told
        assert not any(word in told for word in ("Air", "psi", "lbf", "The rod turns"))
        assert arrows(it) == 0
        assert float(it.page.locator(".air-service").get_attribute("opacity") or 1) == 0
        assert stroke(it) == "1.31 in"
        it.press("p").settle()
        assert "Air pushes the rod" in seen(it, "#note-chain"), "pressed by the pedal it is air again"
        assert arrows(it) > 0


def test_from_outside_nothing_is_written_of_what_the_wheel_hides(lesson: Lesson) -> None:
    with lesson("#step=8") as it:
        assert seen(it, "#note-gap, #note-magnifier, #note-cam, #note-labels") == ""
        told = seen(it, "#note-chain")
        assert "Air pushes the rod" in told
        assert not any(word in told for word in ("lining", "least gap", "roller", "brake torque", "cam spreads"))
        assert "hidden by the wheel" in seen(it, ".outside")


NAMED = re.compile(r"lining|drum|shoe|cam|rod|arm|roller|anchor|leading|trailing|spring", re.IGNORECASE)


def test_without_names_no_part_and_no_link_of_the_chain_is_named(lesson: Lesson) -> None:
    with lesson("#step=3") as it:
        assert NAMED.findall(seen(it, ".picture svg, .transport .phase")) == []
        assert re.search(r"\d\.\d{3} in", seen(it, "#note-gap")), "figures stay"
        it.press("ArrowRight").settle()
        assert {"lining", "drum"} <= set(NAMED.findall(seen(it, ".picture svg")))
        assert "The rod turns arm and cam" in seen(it, "#note-chain")


def test_what_answers_a_question_is_seen_with_its_answer_only(lesson: Lesson) -> None:
    with lesson("#step=9") as it:
        answering = ".plots, #note-verdict .verdict, .lesson-caution"
        assert seen(it, answering) == ""
        assert "lbf" not in seen(it, "#note-chain")
        assert stroke(it) in seen(it, "#note-verdict"), "what is read stays"
        it.press("ArrowRight").settle()
        assert "Never." in part(it, "caution")
        assert all(seen(it, one) for one in (".plots", "#note-verdict .verdict"))
        assert "lbf" in seen(it, "#note-chain")
        it.press("ArrowLeft").settle()
        assert seen(it, answering) == ""


def test_a_fault_that_the_page_chose_is_named_large_in_the_answer(lesson: Lesson) -> None:
    with lesson("#step=2") as it:
        it.press("q").settle()
        assert seen(it, ".panel") == "", "and nothing is said of figures that are not shown"
        assert "as found" not in it.text("[data-role=fault-inside]")
        it.press("PageDown").settle()
        named = it.page.locator(".lesson-answer .lesson-named")
        assert named.inner_text() == it.text("[data-role=fault-title]")
        sizes = [
            float(one.evaluate("(node) => parseFloat(getComputedStyle(node).fontSize)"))
            for one in (named, it.page.locator(".lesson-answer p").last)
        ]
        assert sizes[0] >= 1.4 * sizes[1]
        assert "below the picture" not in part(it, "answer")


def test_with_motion_the_brake_moves_from_cause_to_effect(lesson: Lesson) -> None:
    with lesson(reduced_motion="no-preference") as it:
        it.press("ArrowRight")
        it.until("document.querySelector('[data-role=phase]').textContent.includes('springs still hold')")
        it.until("document.querySelector('#value-stroke').textContent === '2.12 in'")
        assert transforms(it)


@pytest.mark.parametrize(("width", "height"), [(1920, 1080), (1366, 768), (390, 844)])
def test_it_fits_every_screen_and_can_be_read(lesson: Lesson, width: int, height: int) -> None:
    with lesson(viewport={"width": width, "height": height}) as it:
        for step in range(1, STEPS + 1):
            it.page.evaluate(f"location.hash = 'step={step}&answer=1'")
            it.settle()
            assert it.page.evaluate("document.documentElement.scrollWidth") <= width, step
            size = it.page.evaluate(
                "parseFloat(getComputedStyle(document.querySelector('.lesson [data-part=text]')).fontSize)"
            )
            assert size >= 16
            if width > 1000:
                assert size >= height / 45, step
                assert it.page.evaluate("document.documentElement.scrollHeight") <= height
                words = "document.querySelector('.lesson-words')"
                assert it.page.evaluate(f"{words}.scrollHeight - {words}.clientHeight") <= 1, step
                shape = it.page.locator(".picture svg").first.bounding_box()
                assert shape is not None
                assert shape["width"] >= 0.6 * width


def test_every_button_has_a_name_and_is_reached_by_the_keyboard(lesson: Lesson) -> None:
    with lesson() as it:
        buttons = it.page.locator(".lesson button, .lesson-more button")
        assert all((buttons.nth(n).text_content() or "").strip() for n in range(buttons.count()))
        it.page.locator("[data-act=draw]").focus()
        it.press("Enter")
        assert it.page.locator(".lesson-pen").get_attribute("data-on") == "yes"
        it.press("?")
        assert it.page.locator("dialog[open]").count() == 1
        it.press("ArrowRight")
        assert part(it, "title") == "Press"
        it.press("Escape")
        assert it.page.locator("dialog[open]").count() == 0


def test_keys_typed_into_a_field_are_left_to_it(lesson: Lesson) -> None:
    with lesson() as it:
        it.page.evaluate("document.body.append(Object.assign(document.createElement('textarea'), {id: 'mine'}))")
        it.page.locator("#mine").focus()
        it.press("b", "ArrowRight", " ", "q").settle()
        assert (part(it, "title"), part(it, "answer"), it.data("mode")) == ("Press", "", "brake")
        assert it.page.locator("#mine").input_value() == "b q"


IMPORTED = """async (text) => {
  const module = await import(URL.createObjectURL(new Blob([text], {type: "text/javascript"})));
  const el = document.body.appendChild(document.createElement("div"));
  const data = {...JSON.parse(document.getElementById("data").textContent), keysWide: false};
  return ACT(module, el, data);
}"""


def run(it: Opened, act: str) -> Any:
    """Run something with the lesson's module in an element of its own, beside the lesson of the page."""
    return it.page.evaluate(IMPORTED.replace("ACT", f"({act})"), bundled("mountLesson", "render"))


def test_a_lesson_leaves_nothing_behind(lesson: Lesson) -> None:
    with lesson() as it:
        left = run(
            it,
            """async ({mountLesson}, el, data) => {
              const made = mountLesson(el, {...data, wholePage: false});
              made.go(3);
              made.destroy();
              await new Promise((done) => setTimeout(done, 300));
              return [el.childElementCount, el.className];
            }""",
        )
        assert left == [0, ""]


def test_as_a_component_it_tells_its_steps_and_takes_others_while_they_are_written(lesson: Lesson) -> None:
    with lesson() as it:
        told = run(
            it,
            """({render}, el, data) => {
              const heard = {}, steps = [];
              el.addEventListener("lessonstep", ({detail}) => steps.push(`${detail.at}${detail.shown ? "!" : ""}`));
              const model = {data, on: (name, act) => (heard[name] = act), off: (name) => delete heard[name]};
              const leave = render({model, el});
              const title = () => el.querySelector("[data-part=title]").textContent;
              const press = (act) => el.querySelector(`[data-act=${act}]`).click();
              press("next");
              press("next");
              const before = title();
              model.data = {...data, steps: [data.steps[0], {...data.steps[1], title: "Another title"}]};
              heard.data();
              const after = title();
              leave();
              return [steps, before, after, Object.keys(heard), el.childElementCount];
            }""",
        )
        assert told == [["0", "0!", "1", "1"], "No question here", "Another title", ["remove"], 0]
