"""A command of the command line, run in this process: its exit code, what it printed, and what it complained of."""

from collections.abc import Callable

import pytest

from apps.cli import main

Run = Callable[..., tuple[int, str, str]]


def runner(name: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Return what runs the command ``name`` on a screen of 80 columns."""
    monkeypatch.setenv("COLUMNS", "80")

    def run(*tokens: str) -> tuple[int, str, str]:
        code = main([name, *tokens])
        shown = capsys.readouterr()
        return code, shown.out, shown.err

    return run
