"""The README's example: its file gives the output that stands below it."""

import re
from pathlib import Path

import pytest

from apps.cli import main

README = Path(__file__).parents[2] / "README.md"


def block(language: str) -> str:
    found = re.search(rf"```{language}\n(.*?)\n```", README.read_text(encoding="utf-8"), re.DOTALL)
    assert found
    return found[1]


def test_the_example_prints_what_the_readme_shows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    command, _, shown = block("console").partition("\n")
    name = command.split()[-1]
    (tmp_path / name).write_text(block("toml"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    assert main(command.removeprefix("$ mechviz ").split()) == 1
    printed = capsys.readouterr().out
    paragraphs = [text for text in shown.split("\n\n") if text != "[...]"]
    assert len(paragraphs) >= 5
    at = 0
    for text in paragraphs:
        at = printed.index(text, at) + len(text)
