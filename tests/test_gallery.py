"""The gallery: every script runs, asserts its number, and makes its picture; the committed ones are as large."""

import runpy
from collections.abc import Callable
from pathlib import Path

import pytest

FOLDER = Path(__file__).parent.parent / "gallery"
SCRIPTS = sorted(FOLDER.glob("[a-z]*.py"))
HEAVIEST = {".png": 300_000, ".gif": 2_000_000}
LONGEST = 80
SIZE_IN_HEADER = {".png": 24, ".gif": 10}
"""Bytes of a picture up to its height."""


def picture_of(script: Path) -> Path:
    return next(script.with_suffix(suffix) for suffix in HEAVIEST if script.with_suffix(suffix).exists())


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.stem)
def test_a_script_asserts_its_number_and_makes_its_picture(script: Path, tmp_path: Path) -> None:
    main: Callable[..., float] = runpy.run_path(str(script))["main"]
    picture = picture_of(script)
    out = tmp_path / picture.name
    assert (main(out, every=60) if picture.suffix == ".gif" else main(out)) > 0
    made, committed = out.read_bytes(), picture.read_bytes()
    size = SIZE_IN_HEADER[picture.suffix]
    assert made[:size] == committed[:size], f"run {script.name} again and look at its picture"
    assert max(len(made), len(committed)) <= HEAVIEST[picture.suffix]


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.stem)
def test_a_script_is_short_and_in_the_index(script: Path) -> None:
    text = script.read_text(encoding="utf-8")
    assert len(text.splitlines()) < LONGEST
    assert text.count("assert round(") == 1
    index = (FOLDER / "README.md").read_text(encoding="utf-8")
    assert f"({script.name})" in index
    assert f"({picture_of(script).name})" in index


def test_there_are_eight_and_a_film() -> None:
    assert len(SCRIPTS) >= 8
    assert any(picture_of(script).suffix == ".gif" for script in SCRIPTS)
