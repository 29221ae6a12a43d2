"""`mechviz draw`: every suffix and option, clear refusals, nothing half written."""

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from apps import cli
from apps.cli import main
from tests.drawing.measure import Drawn
from tests.sweeps import sweep

WORN, DRIVE = "worn-drive-16.5x7", "drive-16.5x7"


class Ran(NamedTuple):
    """One run of the command line."""

    code: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture
def draw(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    """Run ``mechviz draw`` in an empty folder."""
    monkeypatch.chdir(tmp_path)

    def command(*tokens: str) -> Ran:
        code = cli.main(["draw", *tokens])
        streams = capsys.readouterr()
        assert "Traceback" not in streams.out + streams.err
        return Ran(code, streams.out, streams.err)

    return command


@pytest.mark.parametrize(
    ("suffix", "start"), [("svg", b"<svg "), ("png", b"\x89PNG"), ("pdf", b"%PDF"), ("SVG", b"<svg ")]
)
def test_every_kind_of_file_is_written_and_said(draw: Run, tmp_path: Path, suffix: str, start: bytes) -> None:
    ran = draw(WORN, "-o", f"worn.{suffix}")
    assert (ran.code, ran.err) == (0, "")
    assert f"Written: worn.{suffix}" in ran.out
    assert (tmp_path / f"worn.{suffix}").read_bytes().startswith(start)
    assert [path.name for path in tmp_path.iterdir()] == [f"worn.{suffix}"]


@pytest.mark.parametrize(
    ("options", "name"),
    [
        ((), f"{WORN}-applied.svg"),
        (("--at", "released"), f"{WORN}-released.svg"),
        (("--at", "1 3/4 in"), f"{WORN}-1-3-4-in.svg"),
        (("--compare", "life"), f"{WORN}-life.svg"),
    ],
)
def test_a_file_without_a_name_gets_that_of_setup_and_state(
    draw: Run, tmp_path: Path, options: tuple[str, ...], name: str
) -> None:
    assert draw(WORN, *options).code == 0
    assert [path.name for path in tmp_path.iterdir()] == [name]


@pytest.mark.parametrize(
    ("at", "title", "stroke"),
    [
        ("released", "released", "0.00 in"),
        ("Contact", "at first contact", "1.31 in"),
        ("1 3/4 in", "at a stroke of 1 3/4 in", "1.75 in"),
        ("44.45 mm", "at a stroke of 44.45 mm", "1.75 in"),
        ("60 psi", "at 60 psi", "1.86 in"),
    ],
)
def test_any_state_can_be_drawn(draw: Run, tmp_path: Path, at: str, title: str, stroke: str) -> None:
    assert draw(WORN, "-o", "a.svg", "--at", at).code == 0
    found = Drawn((tmp_path / "a.svg").read_text(encoding="utf-8"))
    assert str(found.root[0].text).endswith(title)
    assert found.words("value-stroke") == stroke


def test_units_theme_and_labels_reach_the_picture(draw: Run, tmp_path: Path) -> None:
    assert draw(WORN, "-o", "a.svg", "--units", "metric", "--theme", "dark", "--labels", "none").code == 0
    text = (tmp_path / "a.svg").read_text(encoding="utf-8")
    found = Drawn(text)
    assert found.words("value-stroke").endswith(" mm")
    assert "#12171C" in text
    assert len(found.by_id["note-labels"]) == 1  # its title


KINDS = [("events", "svg"), ("life", "png"), ("events", "pdf"), ("life", "svg"), ("events", "png"), ("life", "pdf")]


@pytest.mark.parametrize(("kind", "suffix"), sweep(KINDS, always=3, several=True))
def test_states_side_by_side_in_every_kind_of_file(draw: Run, tmp_path: Path, kind: str, suffix: str) -> None:
    assert draw(WORN, "-o", f"a.{suffix}", "--compare", kind).code == 0
    assert (tmp_path / f"a.{suffix}").stat().st_size > 10_000


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("-o", "a.gif"), "use .svg, .png or .pdf: a.svg"),
        (("-o", "a"), "use .svg, .png or .pdf"),
        (("-o", "no/a.svg"), "there is no folder no"),
        (("--at", "3 in"), "beyond the chamber's rated stroke"),
        (("--at", "-1 in"), "the stroke is behind the released position"),
        (("--at", "5 deg"), "is no state that this can draw"),
        (("--at", "half"), "use released, contact, applied"),
        (("-o", "a.svg", "--page", "letter"), "only a PDF has a paper size"),
        (("-o", "a.pdf", "--theme", "dark"), "always printed on white"),
        (("--compare", "events", "--at", "released"), "events are three states already"),
        (("--compare", "life", "--at", "1 in"), "use released, contact or applied"),
        (("--compare", "life", "--labels", "all"), "parts are not named side by side"),
    ],
)
def test_what_cannot_be_drawn_is_said_and_nothing_is_written(
    draw: Run, tmp_path: Path, options: tuple[str, ...], words: str
) -> None:
    ran = draw(DRIVE, *options)
    assert (ran.code, ran.out) == (2, "")
    assert words in ran.err
    assert ran.err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_an_old_picture_stays_where_a_new_one_cannot_be_drawn(draw: Run, tmp_path: Path) -> None:
    old = tmp_path / "a.svg"
    old.write_text("old", encoding="utf-8")
    assert draw("no-such-brake", "-o", "a.svg").code == 2
    assert draw(WORN, "-o", "a.svg", "--at", "9 in").code == 2
    assert old.read_text(encoding="utf-8") == "old"


@pytest.mark.parametrize("command", ["draw", "animate", "life", "heat", "air"])
def test_a_folder_is_no_file_to_write(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([command, "drive-16.5x7", "-o", "."]) == 2
    complaint = capsys.readouterr().err
    assert "--output" in complaint
    assert "internal error" not in complaint
