"""The instructor's desk as its user has it: choose, step, answer, write and see it live, hand out."""

from pathlib import Path

import pypdf
import pytest

from tests.desks.conftest import SIZES, Served, Visit, Visited
from tests.desks.test_teaching import SHORT

WORDS = ".lesson-words"


def step(it: Visited) -> str:
    return it.page.inner_text(".lesson-count")


@pytest.fixture
def lesson(served: Served) -> Path:
    """A lesson of the instructor's own, on the server's shelf."""
    folder = served.folder / "mechviz" / "lessons"
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / "very-short.md"
    file.write_text(SHORT)
    return file


def test_a_class_is_stepped_through_by_keys_and_the_address_brings_it_back(visit: Visit) -> None:
    with visit("instructor") as it:
        it.page.click("[data-lesson='02-push-turn-spread-rub']")
        it.page.wait_for_selector(WORDS)
        first = step(it)
        while step(it) == first:
            it.page.keyboard.press("PageDown")
        it.until("location.search.includes('step%3D2')")
        it.page.reload()
        it.page.wait_for_selector(WORDS)
        assert step(it).startswith("Step 2")
        it.page.keyboard.press("PageUp")
        assert step(it) == first
        it.page.click("[data-act=list]")
        it.page.wait_for_selector("[data-lesson='05-wear']")
        it.until("!location.search.includes('_lesson')")


def test_an_own_lesson_is_written_and_seen_live_and_its_faults_are_said(visit: Visit, lesson: Path) -> None:
    with visit("instructor?_lesson=very-short") as it:
        it.page.wait_for_selector(WORDS)
        it.page.click("[data-act=edit]")
        it.page.fill("textarea", SHORT.replace("The rod has moved", "Look, the rod moved"))
        it.page.wait_for_selector(f"{WORDS} >> text=Look, the rod moved")
        it.page.fill("textarea", SHORT.replace("{stroke}", "{strok}"))
        it.page.wait_for_selector(".faults >> text=strok")
        assert "Look" in it.page.inner_text(WORDS), "what was played stays"
        it.page.click(".of-writing [data-act=undo]")
        it.page.click(".of-writing [data-act=save]")
        it.page.wait_for_selector(".said >> text=Saved as very-short.md")
        assert "Look, the rod moved" in lesson.read_text()
        lesson.write_text(SHORT.replace("The rod has moved", "Written elsewhere:"))
        it.page.wait_for_selector(f"{WORDS} >> text=Written elsewhere:")


def test_a_lesson_is_handed_out_as_a_page_and_as_a_handout(visit: Visit, lesson: Path) -> None:
    assert lesson.exists()
    with visit("instructor?_lesson=very-short") as it:
        it.page.wait_for_selector(WORDS)
        with it.page.expect_download() as page:
            it.page.click("[data-export=html]")
        assert page.value.suggested_filename == "very-short.html"
        assert "<!doctype html>" in Path(page.value.path()).read_text()[:20]
        with it.page.expect_download() as handout:
            it.page.click("[data-export=pdf]")
        text = pypdf.PdfReader(handout.value.path()).pages[0].extract_text()
        assert "Very short" in text


@pytest.mark.parametrize("size", SIZES)
def test_lessons_and_the_brake_by_hand_fit_every_screen(visit: Visit, lesson: Path, size: str) -> None:
    assert lesson.exists()
    with visit("instructor", size=size) as it:
        it.page.wait_for_selector("[data-lesson='very-short']")
        assert it.fits()
        it.page.click("[data-lesson='very-short']")
        it.page.wait_for_selector(WORDS)
        assert it.fits()
        it.page.click("[data-act=list]")
        it.page.click("[data-act=brake]")
        it.page.wait_for_selector(".mechviz[data-verdict]")
        assert it.fits()
