"""What the desk shows of a job: plain values and HTML, a user's text never markup, every control with a name."""

import asyncio
import gc
import weakref
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from apps.web.brakes import Brakes
from apps.web.mechanic.bench import Bench
from apps.web.mechanic.desk import MechanicDesk, view_of
from apps.web.mechanic.form import form_html
from apps.web.mechanic.kept import kept_html
from apps.web.mechanic.store import JobStore
from apps.web.mechanic.thinking import first_thoughts, second_thoughts, sheet_pdf
from mechviz.job import fields as f
from mechviz.job.file import job_text
from mechviz.job.model import Job
from tests.job.jobs import GOOD, OVER, adjusted, job, put

EVIL = '<img src=x onerror="alert(1)">'


class Elements(HTMLParser):
    """Every element of an HTML text, with its attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def test_every_reading_has_a_field_for_each_wheel_before_and_after() -> None:
    names = [given["data-entry"] for _, given in Elements(form_html()).found if "data-entry" in given]
    wanted = sum(2 if one.place == "axle" else 4 for one in f.fields()) + 2 * len(f.told())
    assert len(names) == len(set(names)) == wanted
    assert "right|after|measured.stroke" in names


def test_every_control_of_the_form_has_a_name_of_its_own() -> None:
    names = [given.get("aria-label") for tag, given in Elements(form_html()).found if "data-entry" in given]
    assert all(names)
    assert len(set(names)) == len(names)
    assert "Applied stroke, left wheel, before adjusting" in names


def test_pictures_say_what_they_show() -> None:
    images = [given for tag, given in Elements(form_html()).found if tag == "img"]
    assert images
    assert all(given.get("alt") for given in images)


def test_chocks_come_first_of_all_and_once() -> None:
    form = form_html()
    assert form.count("Chock the wheels before anyone goes under") == 1
    assert form.index("Chock the wheels") < form.index("data-about") < form.index("data-entry")


def test_a_fraction_can_be_written_on_a_phone() -> None:
    modes = {
        given.get("inputmode") for tag, given in Elements(form_html()).found if tag == "input" and "data-entry" in given
    }
    assert modes == {"text"}


def test_a_caution_stands_once_before_the_first_step_that_it_is_about() -> None:
    form = form_html()
    released = form[form.index('data-step="released"') : form.index('data-step="applied"')]
    assert released.count(f.CAUTIONS["hands"]) == 2  # before an adjustment, and after one, when fewer fields are shown
    assert released.index(f.CAUTIONS["clamp"]) < released.index('data-field="measured.clamp_diameter"')
    wheel = form[form.index('data-step="wheel"') :]
    assert wheel.index("Brake dust") < wheel.index('data-field="condition.lining_thickness"')


def test_a_view_has_what_was_typed_what_is_wrong_and_both_verdicts() -> None:
    typed = put(job(OVER), "right", {"measured.pin_reach": "six"})
    view = view_of(typed, "before")
    assert view["values"]["left|before|measured.stroke"] == "2 1/8"
    assert list(view["wrong"]) == ["right|before|measured.pin_reach"]
    assert (view["words"]["left"]["word"], view["words"]["right"]["word"]) == ("Out of adjustment", "In adjustment")
    assert "By its ring and marks a type 30 clamp." in view["meant"]["left|before|measured.clamp_diameter"]
    assert "49 CFR 393.47(b)" in view["both"]
    assert view["general"] == []
    assert view["axle"] == ""


def test_chambers_that_differ_stand_above_both_wheels() -> None:
    view = view_of(job(right=GOOD | {"measured.clamp_diameter": "7 1/4"}), "before")
    assert "Chambers differ" in view["axle"]
    assert "type 24 clamp" in view["axle"]


def test_what_was_wrong_before_is_told_where_it_was_typed() -> None:
    typed = put(adjusted(), "left", {"measured.pin_reach": "six"})
    assert list(view_of(typed, "after")["wrong"]) == ["left|before|measured.pin_reach"]


def test_before_and_after_stand_beside_each_other() -> None:
    wheel = view_of(adjusted(), "after")["wheels"]["left"]
    assert (
        wheel.index("Before") < wheel.index("Out of adjustment") < wheel.index("After") < wheel.index("In adjustment")
    )
    assert "two" in wheel
    assert "Out of adjustment" in view_of(adjusted(), "before")["wheels"]["left"]


def test_a_wheel_that_was_not_adjusted_keeps_its_verdict_in_the_bar() -> None:
    words = view_of(adjusted(), "after")["words"]
    assert (words["left"]["word"], words["right"]["word"]) == ("In adjustment", "In adjustment (before)")


def test_a_verdict_has_its_scale_and_its_mark_with_its_word() -> None:
    found = Elements(view_of(job(OVER), "before")["wheels"]["left"]).found
    classes = [given.get("class") for tag, given in found if tag == "svg"]
    assert "scale" in classes
    assert classes.count("mark") >= 2


def test_a_users_text_is_never_markup() -> None:
    typed = put(Job(vehicle=EVIL, note=EVIL), "left", {"measured.stroke": EVIL, "chamber.size": EVIL})
    typed = typed.typed("left", "before", "measured.arm_length", "5 1/2", EVIL)
    view = view_of(typed, "before")
    assert EVIL not in "".join((*view["wheels"].values(), view["both"]))
    for think in (first_thoughts, second_thoughts):
        assert EVIL not in str(think(job_text(typed), "before"))


def test_titles_of_kept_jobs_are_never_markup(tmp_path: Path) -> None:
    store = JobStore(tmp_path)
    store.save("0123456789ab", Job(vehicle=EVIL))
    assert EVIL not in kept_html(store, "")
    assert "_job=0123456789ab" in kept_html(store, "")
    assert "_job=" not in kept_html(store, "0123456789ab")


def test_thoughts_are_causes_fit_and_drawing_of_each_wheel() -> None:
    text = job_text(job(OVER, right={}))
    found, later = first_thoughts(text, "before"), second_thoughts(text, "before")
    assert "Adjuster stuck" in later["left"]["causes"]
    assert "Measure first" in found["left"]["fit"]
    assert 'data-go="linkage.face_distance"' in found["left"]["fit"]
    assert found["left"]["drawing"].count("<img") == 2
    assert (found["right"], later["right"]) == ({"fit": "", "drawing": ""}, {"causes": ""})


def test_the_sheet_is_a_pdf() -> None:
    assert sheet_pdf(job_text(adjusted()), "letter").startswith(b"%PDF")


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[MechanicDesk]:
    brakes = Brakes(ThreadPoolExecutor(1))
    yield MechanicDesk(Bench(JobStore(tmp_path), "0123456789ab"), brakes)
    brakes.close()


def tell(desk: MechanicDesk, *messages: Any) -> None:
    for message in messages:
        desk._handle_msg(message)  # pyright: ignore[reportPrivateUsage]


def test_messages_of_the_page_reach_the_bench_and_are_told_to_be_taken(desk: MechanicDesk) -> None:
    tell(desk, {"type": ["left", "before", "measured.stroke"], "text": "1 3/4", "n": 4}, {"units": "metric", "n": 5})
    assert desk.view["values"]["left|before|measured.stroke"] == "1 3/4 in"
    assert desk.view["units"] == "metric"
    assert desk.taken == 5
    tell(desk, {"phase": "after"}, {"about": "axle", "text": "axle 2"}, {"base": "steer-15x4"})
    assert (desk.view["phase"], desk.view["about"]["axle"], desk.view["base"]) == ("after", "axle 2", "steer-15x4")


@pytest.mark.parametrize(
    "message",
    [
        None,
        [],
        {"type": "left", "text": "1"},
        {"type": ["left", "now", "measured.stroke"], "text": "1"},
        {"type": ["left", "before", "measured.nothing"], "text": "1"},
        {"type": ["left", "before", "measured.stroke"], "text": 1},
        {"type": ["left", "before", "measured.stroke"], "text": "1" * 61},
        {"about": "colour", "text": "red"},
        {"units": "miles"},
        {"base": "../x"},
        {"phase": 3},
        {"n": -1},
        {"n": "x"},
    ],
)
def test_messages_that_no_page_sends_change_nothing(desk: MechanicDesk, message: Any) -> None:
    before = desk.view
    tell(desk, message)
    assert desk.view == before
    assert desk.taken == 0


def test_thoughts_come_later_and_once_more_where_the_job_has_changed(desk: MechanicDesk) -> None:
    seen = list[int]()

    async def think() -> None:
        tell(desk, *({"type": ["left", "before", key], "text": text} for key, text in OVER.items()))
        tell(desk, {"think": 1})
        await asyncio.sleep(0)
        tell(desk, {"type": ["left", "before", "measured.stroke"], "text": "2"}, {"think": 2}, {"think": 3})
        while desk.thought_of < 3:
            seen.append(desk.thought_of)
            await asyncio.sleep(0.01)

    with ThreadPoolExecutor(1) as aside:  # this thread may have a loop of the browser's
        aside.submit(lambda: asyncio.run(think())).result()
    assert set(seen) == {0, 1}
    assert desk.thought_of == 3
    assert "<ol>" in desk.thoughts["left"]["causes"]


def test_what_cannot_be_worked_out_is_told_and_the_verdict_stands(
    desk: MechanicDesk, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("apps.web.mechanic.desk.second_thoughts", broken)

    async def think() -> None:
        tell(desk, *({"type": ["left", "before", key], "text": text} for key, text in OVER.items()), {"think": 1})
        while desk.thought_of < 1:
            await asyncio.sleep(0.01)

    with ThreadPoolExecutor(1) as aside:
        aside.submit(lambda: asyncio.run(think())).result()
    assert "could not be worked out" in desk.thoughts["left"]["causes"]
    assert "ZeroDivisionError" in caplog.text
    assert desk.view["words"]["left"]["word"] == "Out of adjustment"


def test_what_fails_for_one_wheel_is_told_in_its_place_and_takes_nothing_with_it(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_: object) -> None:
        raise KeyError

    monkeypatch.setattr("apps.web.mechanic.thinking.fit_of", broken)
    found = first_thoughts(job_text(job(OVER)), "before")
    for side in f.SIDES:
        assert "could not be worked out from these readings" in found[side]["fit"]
        assert "<img" in found[side]["drawing"]
    assert "KeyError" in caplog.text


def test_what_was_worked_out_says_of_which_readings_it_is(desk: MechanicDesk) -> None:
    async def think() -> None:
        tell(desk, *({"type": ["left", "before", key], "text": text} for key, text in OVER.items()), {"think": 1})
        while desk.thought_of < 1:
            await asyncio.sleep(0.01)

    with ThreadPoolExecutor(1) as aside:
        aside.submit(lambda: asyncio.run(think())).result()
    assert desk.thoughts["of"] == desk.view["of"]
    tell(desk, {"type": ["left", "before", "measured.stroke"], "text": "2"})
    assert desk.thoughts["of"] != desk.view["of"]
    now = desk.view["of"]
    tell(desk, {"phase": "after"})
    assert desk.view["of"] != now


@pytest.mark.parametrize("readings", [OVER, {"measured.stroke": "1 3/4"}])
def test_without_an_arm_length_there_are_causes_fit_and_drawing_all_the_same(readings: dict[str, str]) -> None:
    armless = {key: text for key, text in readings.items() if key != "measured.arm_length"}
    text = job_text(job(armless, armless))
    for side in f.SIDES:
        parts = first_thoughts(text, "before")[side] | second_thoughts(text, "before")[side]
        assert all(parts.values())
        assert "could not be worked out" not in "".join(parts.values())


def test_no_desk_outlives_its_visit(tmp_path: Path) -> None:
    brakes, store = Brakes(ThreadPoolExecutor(1)), JobStore(tmp_path)
    left = list[weakref.ref[Any]]()
    for n in range(5):
        bench = Bench(store, f"{n:012x}")
        desk = MechanicDesk(bench, brakes)
        tell(desk, {"type": ["left", "before", "measured.stroke"], "text": "2", "n": 1})
        left += [weakref.ref(bench), weakref.ref(desk)]
        del bench, desk
    gc.collect()
    assert [one() for one in left if one() is not None] == []
    brakes.close()
