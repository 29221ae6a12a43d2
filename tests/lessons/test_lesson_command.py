"""`mechviz lesson`: lists, checks, starts and writes; refuses in plain words and leaves nothing half written."""

from pathlib import Path

import pytest

from mechviz.lessons import shipped_names, starter_text
from tests.commands import Run, runner

BAD = '+++\nlesson = 1\ntitle = "x"\n+++\n+++\ntitel = "a"\nlight = ["pushrood"]\n+++\n{strok}\n'


@pytest.fixture
def lesson(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    monkeypatch.chdir(tmp_path)
    return runner("lesson", capsys, monkeypatch)


def test_alone_it_lists_the_shipped_lessons(lesson: Run) -> None:
    code, out, err = lesson()
    assert (code, err) == (0, "")
    assert [name for name in shipped_names() if name not in out] == []


def test_the_starter_is_checked_and_has_nothing_wrong(lesson: Run, tmp_path: Path) -> None:
    _, out, _ = lesson("--starter")
    assert out == starter_text()
    (tmp_path / "mine.md").write_text(out, encoding="utf-8")
    code, out, err = lesson("mine.md", "--check")
    assert (code, err) == (0, "")
    assert "3 steps, nothing wrong on drive-16.5x7" in out


def test_a_file_with_faults_is_told_with_all_of_them(lesson: Run, tmp_path: Path) -> None:
    (tmp_path / "bad.md").write_text(BAD, encoding="utf-8")
    code, out, err = lesson("bad.md", "--check")
    assert (code, out) == (2, "")
    assert "step 1, line 6, titel: is no key that is known here; write title" in err
    assert "step 1, line 9, text, {strok}: is no figure that is known here; write {stroke}" in err
    assert lesson("bad.md", "-o", "bad.html")[0] == 2
    assert not (tmp_path / "bad.html").exists()


def test_a_lesson_runs_on_another_brake_from_a_file(lesson: Run, tmp_path: Path) -> None:
    setup = 'schema = 1\ntitle = "My truck"\nbase = "drive-16.5x7"\n[linkage]\narm_length = "5 3/4 in"\n'
    (tmp_path / "mine.toml").write_text(setup, encoding="utf-8")
    (tmp_path / "mine.md").write_text(starter_text(), encoding="utf-8")
    code, out, err = lesson("mine.md", "--setup", "mine.toml", "-o", "mine.pdf")
    assert (code, err) == (0, "")
    assert "Written: mine.pdf" in out
    assert (tmp_path / "mine.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("tokens", "said"),
    [
        (("05-waer",), "lesson = 05-waer: is neither a file nor a shipped lesson"),
        (("05-wear", "-o", "x.docx"), "x.docx is nothing that this can write; use x.html, x.pdf or x.mp4"),
        (("05-wear", "-o", "no/x.pdf"), "there is no folder no"),
        (("05-wear", "-o", "x.html", "--page", "letter"), "only a handout has a paper size"),
        (("--check",), "LESSON: is missing"),
        (("05-wear", "--setup", "steer"), "is neither a file nor a built-in setup"),
    ],
)
def test_what_cannot_be_is_refused(lesson: Run, tmp_path: Path, tokens: tuple[str, ...], said: str) -> None:
    code, _, err = lesson(*tokens)
    assert code == 2
    assert said in " ".join(err.split())
    assert list(tmp_path.iterdir()) == []
