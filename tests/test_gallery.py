"""The gallery: every script runs, asserts its number, and makes its picture; the committed ones are as large."""

import runpy
from collections.abc import Callable
from pathlib import Path

import pytest

FOLDER = Path(__file__).parent.parent / "gallery"
SCRIPTS = sorted(FOLDER.glob("*.py"))
HEAVIEST = 300_000
LONGEST = 80
SIZE_IN_HEADER = 24
"""Bytes of a PNG up to its height."""


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.stem)
def test_a_script_asserts_its_number_and_makes_its_picture(script: Path, tmp_path: Path) -> None:
    main: Callable[[Path], float] = runpy.run_path(str(script))["main"]
    out = tmp_path / "picture.png"
    assert main(out) > 0
    made = out.read_bytes()
    committed = script.with_suffix(".png").read_bytes()
    assert made[:SIZE_IN_HEADER] == committed[:SIZE_IN_HEADER], f"run {script.name} again and look at its picture"
    assert max(len(made), len(committed)) <= HEAVIEST


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.stem)
def test_a_script_is_short_and_in_the_index(script: Path) -> None:
    text = script.read_text(encoding="utf-8")
    assert len(text.splitlines()) < LONGEST
    assert text.count("assert round(") == 1
    index = (FOLDER / "README.md").read_text(encoding="utf-8")
    assert f"({script.name})" in index
    assert f"({script.with_suffix('.png').name})" in index


def test_there_are_three() -> None:
    assert len(SCRIPTS) >= 3
