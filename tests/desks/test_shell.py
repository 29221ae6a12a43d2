"""What every desk has, in a real browser: the bar, the address, files by button and by drop, nothing from elsewhere."""

from pathlib import Path
from urllib.parse import urlencode, urlsplit

import pytest
from playwright.sync_api import Browser

from apps.cli import main
from tests.desks.conftest import SIZES, Served, Visit, Visited, is_here

THIN = 'schema = 1\ntitle = "Thin"\nbase = "drive-16.5x7"\n[condition]\nlining_thickness = "0.3 in"\n'
DROP = """(text) => {
  const files = new DataTransfer();
  files.items.add(new File([text], "dropped.toml"));
  document.body.dispatchEvent(new DragEvent("drop", {dataTransfer: files, bubbles: true, cancelable: true}));
}"""


def bar(it: Visited, act: str) -> None:
    it.page.click(f"[data-act={act}]")


@pytest.mark.parametrize("size", SIZES)
def test_the_first_page_shows_desks_and_brakes_without_scrolling_sideways(visit: Visit, size: str) -> None:
    with visit(size=size) as it:
        assert it.page.locator(".three a").count() == 3
        assert it.page.locator(".brakes li").count() == 4
        it.until("[...document.images].every((image) => image.complete && image.naturalWidth > 0)")
        assert it.fits()


def test_a_file_opens_by_button_is_in_the_address_and_is_saved_as_it_was(visit: Visit, tmp_path: Path) -> None:
    file = tmp_path / "thin.toml"
    file.write_text(THIN)
    with visit() as it:
        it.page.set_input_files("input[type=file]", file)
        it.until("location.search.includes('Thin')")
        it.page.wait_for_selector("[data-act=undo]:not([disabled])")
        with it.page.expect_download() as saved:
            it.page.keyboard.press("Control+s")
        assert saved.value.suggested_filename == "thin.toml"
        assert Path(saved.value.path()).read_text() == THIN
        again = it.page.url
        it.page.goto(again)
        it.until("location.search.includes('Thin')")
        href = it.page.get_attribute("a[data-desk=mechanic] >> nth=0", "href")
        assert href is not None


def test_a_file_is_dropped_undone_and_done_again(visit: Visit) -> None:
    with visit() as it:
        it.page.wait_for_selector("[data-act=undo][disabled]", state="attached")
        it.page.evaluate(DROP, THIN)
        it.until("location.search.includes('Thin')")
        it.page.keyboard.press("Control+z")
        it.until("!location.search.includes('Thin')")
        it.page.keyboard.press("Control+y")
        it.until("location.search.includes('Thin')")
        it.page.select_option("[data-act=start]", "steer-15x4")
        it.until("location.search.includes('steer-15x4')")


@pytest.mark.parametrize(
    ("text", "said"),
    [(THIN.replace("0.3 in", "0.3"), "condition.lining_thickness"), ("x" * 200_000, "bytes"), ("<html>", "line 1")],
)
def test_a_wrong_file_is_explained_and_changes_nothing(visit: Visit, text: str, said: str) -> None:
    with visit("?base=steer-15x4") as it:
        before = it.query()
        it.page.evaluate(DROP, text)
        it.page.wait_for_selector(".refused:visible")
        assert "dropped.toml cannot be used" in it.page.inner_text(".refused")
        assert said in it.page.inner_text(".refused")
        assert it.query() == before
        bar(it, "dismiss")
        it.page.wait_for_selector(".refused", state="hidden")


def test_links_to_other_desks_take_the_brake_along_and_leave_the_rest(visit: Visit) -> None:
    with visit("?setup=steer-15x4&_look=x%3D1") as it:
        it.until("document.querySelector('a[data-desk=designer]').search === '?setup=steer-15x4'")


def test_the_theme_is_kept(visit: Visit) -> None:
    with visit() as it:
        bar(it, "theme")
        it.until("document.documentElement.dataset.theme === 'dark'")
        it.page.reload()
        it.until("document.documentElement.dataset.theme === 'dark'")


def test_a_brake_that_cannot_be_says_why(visit: Visit) -> None:
    with visit("designer?" + urlencode({"base": "drive-16.5x7", "linkage.pin_reach": "3 in"})) as it:
        it.page.wait_for_selector("text=linkage.pin_reach")


def test_the_guard_against_other_hosts_hears_one() -> None:
    assert not is_here("https://example.org/x.js")
    assert not is_here("ws://example.org/ws")
    assert is_here("blob:http://localhost/1")


@pytest.mark.parametrize("path", ["pictures/../../etc.svg", "pictures/none.svg", "made/00ff.json", "made/../x.json"])
def test_what_is_not_there_is_not_found(browser: Browser, served: Served, path: str) -> None:
    context = browser.new_context()
    assert context.request.get(served.address + path).status == 404
    context.close()


def test_a_taken_port_is_said_and_another_named(served: Served, capsys: pytest.CaptureFixture[str]) -> None:
    taken = urlsplit(served.address).port
    assert main(["serve", "--no-browser", "--port", str(taken)]) == 2
    said = capsys.readouterr().err
    assert f"--port = {taken}: is taken; use another" in said


@pytest.mark.parametrize(
    ("option", "value", "said"),
    [
        ("--port", "0", "1 to 65535"),
        ("--host", "no.such.host.invalid", "cannot be listened on"),
        ("nope", "", "neither a file nor a built-in setup"),
    ],
)
def test_an_option_that_cannot_be_used_is_explained(
    capsys: pytest.CaptureFixture[str], option: str, value: str, said: str
) -> None:
    assert main(["serve", "--no-browser", option, *([value] if value else [])]) == 2
    assert said in capsys.readouterr().err
