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


def back(it: Visited) -> None:
    it.page.evaluate("history.back()")


def test_back_and_forward_go_from_place_to_place_and_show_what_the_address_says(visit: Visit, lesson: Path) -> None:
    assert lesson.exists()
    with visit("instructor") as it:
        it.page.click("[data-lesson='02-push-turn-spread-rub']")
        it.page.wait_for_selector(WORDS)
        entries = it.page.evaluate("history.length")
        for _ in range(4):
            it.page.keyboard.press("PageDown")
        it.until("location.search.includes('step%3D3')")
        assert it.page.evaluate("history.length") == entries, "steps are no entries of the history"
        third = step(it)
        back(it)
        it.page.wait_for_selector("[data-lesson='very-short']")
        assert "_lesson" not in it.query()
        it.page.evaluate("history.forward()")
        it.page.wait_for_selector(WORDS)
        it.until("location.search.includes('step%3D3')")
        assert step(it) == third
        it.page.click("[data-act=list]")
        it.page.click("[data-act=brake]")
        it.page.wait_for_selector(".mechviz[data-verdict]")
        back(it)
        it.page.wait_for_selector("[data-lesson='very-short']")
        assert "_lesson" not in it.query()


def test_back_loses_nothing_that_was_written(visit: Visit, lesson: Path) -> None:
    assert lesson.exists()
    with visit("instructor") as it:
        it.page.click("[data-lesson='very-short']")
        it.page.click("[data-act=edit]")
        it.page.fill("textarea", SHORT.replace("The rod", "My rod"))
        it.page.wait_for_selector(f"{WORDS} >> text=My rod")
        back(it)
        it.page.wait_for_selector(".said >> text=not saved")
        it.until("location.search.includes('very-short')")
        assert "My rod" in it.page.input_value("textarea")


def written_elsewhere(it: Visited, lesson: Path) -> None:
    """Write in the editor, and by another program into the file."""
    it.page.wait_for_selector(WORDS)
    it.page.click("[data-act=edit]")
    it.page.fill("textarea", SHORT.replace("The rod", "My rod"))
    it.page.wait_for_selector(f"{WORDS} >> text=My rod")
    lesson.write_text(SHORT.replace("The rod", "Their rod"))
    it.page.wait_for_selector("[data-ask=elsewhere] >> text=has changed")


def test_what_another_program_wrote_is_not_saved_over_unasked(visit: Visit, lesson: Path) -> None:
    with visit("instructor?_lesson=very-short") as it:
        written_elsewhere(it, lesson)
        it.page.click(".of-writing [data-act=save]")
        it.page.wait_for_timeout(500)
        assert "Their rod" in lesson.read_text()
        it.page.click("[data-act=theirs]")
        it.page.wait_for_selector(f"{WORDS} >> text=Their rod")
        it.page.click(".of-writing [data-act=undo]")
        it.page.wait_for_selector(f"{WORDS} >> text=My rod")
        it.page.click(".of-writing [data-act=save]")
        it.page.wait_for_selector(".said >> text=Saved as")
        assert "My rod" in lesson.read_text()


def test_what_was_written_and_not_saved_is_offered_after_a_reload(visit: Visit, lesson: Path) -> None:
    with visit("instructor?_lesson=very-short") as it:
        it.page.wait_for_selector(WORDS)
        it.page.click("[data-act=edit]")
        it.page.fill("textarea", SHORT.replace("The rod", "My rod"))
        it.page.once("dialog", lambda dialog: dialog.accept())
        it.page.reload()
        it.page.click("[data-kept=take]")
        it.page.wait_for_selector(f"{WORDS} >> text=My rod")
        it.page.click(".of-writing [data-act=save]")
        it.page.wait_for_selector(".said >> text=Saved as")
        assert "My rod" in lesson.read_text()
        it.page.reload()
        it.page.wait_for_selector(WORDS)
        assert not it.page.is_visible("[data-kept=take]")


def test_a_text_longer_than_a_lesson_may_be_is_told_and_the_desk_stays(visit: Visit, lesson: Path) -> None:
    assert lesson.exists()
    with visit("instructor?_lesson=very-short") as it:
        it.page.wait_for_selector(WORDS)
        it.page.click("[data-act=edit]")
        it.page.fill("textarea", SHORT + "x" * 3_000_000)
        it.page.wait_for_selector(".faults >> text=a lesson may have 200,000")
        it.page.fill("textarea", SHORT.replace("The rod", "My rod"))
        it.page.wait_for_selector(f"{WORDS} >> text=My rod")


def test_a_file_that_is_no_lesson_is_told_where_it_is_seen(visit: Visit, tmp_path: Path) -> None:
    binary, large = tmp_path / "binary.md", tmp_path / "large.md"
    binary.write_bytes(b"\xff\xfe\x00")
    large.write_text("x" * 200_001)
    with visit("instructor") as it:
        for file, said in ((binary, "not UTF-8"), (large, "200,000 bytes")):
            it.page.set_input_files("input[type=file][accept^='.md']", file)
            it.page.wait_for_selector(f".said >> text={said}")
            box = it.page.locator(".said").bounding_box()
            assert box is not None
            assert box["y"] + box["height"] < 400


def test_a_deleted_file_leaves_the_open_shelf_and_a_bad_one_says_so_plainly(visit: Visit, lesson: Path) -> None:
    bad = lesson.with_name("not-text.md")
    bad.write_bytes(b"\xff\xfe\x00")
    with visit("instructor") as it:
        it.page.wait_for_selector("[data-lesson='not-text'] >> text=is not UTF-8 text")
        assert "codec" not in it.page.inner_text(".lessons")
        bad.unlink()
        it.page.wait_for_selector("[data-lesson='not-text']", state="detached")


def test_picture_words_and_faults_are_seen_together_while_writing(visit: Visit, lesson: Path) -> None:
    assert lesson.exists()
    with visit("instructor?_lesson=very-short") as it:
        it.page.wait_for_selector(WORDS)
        it.page.click("[data-act=edit]")
        it.page.fill("textarea", SHORT.replace("{stroke}", "{strok}"))
        it.page.wait_for_selector(".faults >> text=strok")
        for seen in (".picture > svg", f"{WORDS} >> text=The rod has moved", ".faults li", ".lesson-bar", "textarea"):
            box = it.page.locator(seen).first.bounding_box()
            assert box is not None, seen
            assert box["height"] > 15, seen
            assert box["y"] >= 0, seen
            assert box["y"] + box["height"] <= 768, seen


def test_what_its_brake_refuses_is_told_and_goes_with_the_next_text(visit: Visit, lesson: Path) -> None:
    assert lesson.exists()
    refused = SHORT.replace('brake = "drive-16.5x7"', 'brake = "drive-16.5x7"\nholds_for = ["no-such-brake"]')
    with visit("instructor?_lesson=very-short") as it:
        it.page.wait_for_selector(WORDS)
        it.page.click("[data-act=edit]")
        it.page.fill("textarea", refused)
        it.page.wait_for_selector(".faults li")
        it.page.fill("textarea", SHORT.replace("{stroke}", "{strok}"))
        it.page.wait_for_selector(".faults >> text=strok")
        assert not it.page.is_visible(".waiting")
        assert "The rod has moved" in it.page.inner_text(WORDS)


def test_large_letters_make_the_names_and_the_words_larger(visit: Visit, lesson: Path) -> None:
    assert lesson.exists()
    with visit("instructor?_lesson=very-short") as it:
        it.page.wait_for_selector(WORDS)
        sizes = """() => {
          const inner = (root) => [...root.querySelectorAll("*")].map((one) => one.shadowRoot).filter(Boolean);
          const find = (root, what) => root.querySelector(what)
            ?? inner(root).map((one) => find(one, what)).find(Boolean);
          const svg = find(document, ".picture > svg");
          const texts = [...svg.querySelectorAll("text")];
          const shown = texts.filter((one) => one.getClientRects().length && one.textContent.trim());
          const size = (one) => parseFloat(getComputedStyle(one).fontSize);
          const letters = shown.map((one) => size(one) * one.getScreenCTM().a);
          const words = size(find(document, ".lesson-words"));
          return {least: Math.min(...letters), height: svg.getScreenCTM().a * svg.viewBox.baseVal.height, words};
        }"""
        plain = it.page.evaluate(sizes)
        it.page.keyboard.press("l")
        it.page.wait_for_selector("[data-act=large][aria-pressed=true]")
        large = it.page.evaluate(sizes)
        assert large["least"] > 1.1 * plain["least"]
        assert large["least"] >= large["height"] / 40
        assert large["words"] > plain["words"]
        it.until("location.search.includes('l%3D1')")


def test_a_lesson_is_saved_by_the_key_while_it_is_written(visit: Visit, lesson: Path) -> None:
    with visit("instructor?_lesson=very-short") as it:
        it.page.wait_for_selector(WORDS)
        it.page.click("[data-act=edit]")
        it.page.fill("textarea", SHORT.replace("The rod", "My rod"))
        it.page.keyboard.press("Control+s")
        it.page.wait_for_selector(".said >> text=Saved as very-short.md")
        assert "My rod" in lesson.read_text()
