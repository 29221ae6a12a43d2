"""draw --solid, animate to a film, and show: what they write, and what they refuse."""

from pathlib import Path

import pytest

from apps.terminal import progress
from mechviz.solid import alone, gl
from tests.commands import Run, runner

WORN = "worn-drive-16.5x7"


@pytest.fixture
def draw(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("draw", capsys, monkeypatch)


@pytest.fixture
def animate(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("animate", capsys, monkeypatch)


@pytest.fixture
def show(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    return runner("show", capsys, monkeypatch)


def test_a_solid_is_drawn_in_a_process_of_its_own(draw: Run, tmp_path: Path) -> None:
    out = tmp_path / "cut.svg"
    code, said, complained = draw(WORN, "--solid", "--cut", "-o", str(out))
    assert (code, complained) == (0, "")
    assert "Open it in a browser" in said
    text = out.read_text(encoding="utf-8")
    assert "data:image/png;base64," in text
    assert "slack adjuster" in text
    assert "Caution" in text


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (("--view", "wheel-side"), "add --solid"),
        (("--cut",), "--cut: only the solid brake is looked at like that; add --solid"),
        (("--solid", "--apart", "2"), "--apart = 2: is no share of the way; use 0 to 1"),
        (("--solid", "--compare", "life"), "solids are not drawn side by side"),
    ],
)
def test_what_does_not_go_with_a_solid_is_refused(
    typed: tuple[str, ...], words: str, draw: Run, tmp_path: Path
) -> None:
    out = tmp_path / "no.png"
    code, said, complained = draw(WORN, *typed, "-o", str(out))
    assert (code, said) == (2, "")
    assert words in complained
    assert not out.exists()


@pytest.mark.parametrize(
    ("typed", "name", "words"),
    [
        (("--film", "press"), "page.html", "--film: only a film is made like that"),
        (("--cut",), "page.html", "--cut: only a film is made like that"),
        (("--view", "into-drum"), "story.mp4", "the story has views of its own"),
        ((), "film.avi", "use film.html, film.mp4 or .gif"),
    ],
)
def test_what_does_not_go_with_a_film_is_refused(
    typed: tuple[str, ...], name: str, words: str, animate: Run, tmp_path: Path
) -> None:
    code, said, complained = animate(WORN, *typed, "-o", str(tmp_path / name))
    assert (code, said) == (2, "")
    assert words in complained
    assert list(tmp_path.iterdir()) == []


def test_a_film_that_is_broken_off_leaves_nothing(
    animate: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(_setup: object, _takes: object, path: Path, _fps: int) -> object:
        path.write_bytes(b"half")
        yield 1
        raise KeyboardInterrupt

    monkeypatch.setattr(alone, "film", broken)
    code, _, _ = animate(WORN, "-o", str(tmp_path / "film.mp4"))
    assert code == 130
    assert list(tmp_path.iterdir()) == []


def test_without_graphics_it_says_what_to_install(draw: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gl, "can_draw", lambda: False)
    code, _, complained = draw(WORN, "--solid", "-o", str(tmp_path / "a.png"))
    assert code == 2
    assert "apt install libegl1 libgl1-mesa-dri" in complained
    assert "Traceback" not in complained


def test_the_probe_sees_a_process_that_dies(monkeypatch: pytest.MonkeyPatch) -> None:
    gl.can_draw.cache_clear()
    monkeypatch.setattr(gl, "_TRIAL", "import os, signal; os.kill(os.getpid(), signal.SIGSEGV)")
    assert not gl.can_draw()
    gl.can_draw.cache_clear()


def test_show_without_a_screen_says_what_else_there_is(show: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    monkeypatch.setattr("sys.platform", "linux")
    code, said, complained = show(WORN)
    assert (code, said) == (2, "")
    assert "there is no screen to open a window on; use mechviz animate for a page" in complained


def test_progress_is_shown_on_a_screen_only(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    with progress("film: ", 4) as told:
        told(2)
    assert capsys.readouterr().err == ""
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    with progress("film: ", 4) as told:
        told(2)
    assert "[###############...............]  50 %" in capsys.readouterr().err
