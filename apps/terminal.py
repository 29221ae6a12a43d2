"""The terminal: how wide it is, whether it can do bold, and text that any of its encodings can show."""

import os
import shutil
import sys
from collections.abc import Callable, Generator
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

BAR = 30
"""Characters of a progress bar."""
BOLD, PLAIN = "\x1b[1m", "\x1b[0m"

ASCII = str.maketrans(
    {
        "\N{DEGREE SIGN}": " deg",
        "\N{PLUS-MINUS SIGN}": "+-",
        "\N{MULTIPLICATION SIGN}": "x",
        "\N{EN DASH}": "-",
        "\N{EM DASH}": "-",
        "\N{MINUS SIGN}": "-",
        "\N{SECTION SIGN}": "s. ",
        "\N{LEFT SINGLE QUOTATION MARK}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{NO-BREAK SPACE}": " ",
        "\N{VULGAR FRACTION ONE QUARTER}": " 1/4",
        "\N{VULGAR FRACTION ONE HALF}": " 1/2",
        "\N{VULGAR FRACTION THREE QUARTERS}": " 3/4",
    }
)
"""Signs that may stand in a setup's title or a source, and what they become where they cannot be shown."""


def width() -> int:
    """Return the columns of the screen; 80 where there is none."""
    return shutil.get_terminal_size((80, 24)).columns


def on_screen() -> bool:
    """Say whether standard output is a screen, and no file or pipe."""
    return sys.stdout.isatty()


def strong() -> Callable[[str], str]:
    """Return what makes a word stand out: bold on a terminal that can, nothing anywhere else.

    Colour is never used, and ``NO_COLOR`` switches bold off too.
    """
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or not on_screen()
    return str if plain else lambda word: f"{BOLD}{word}{PLAIN}"


def open_streams() -> None:
    """Point an output that is closed (``>&-``, a window without a console) at nothing: Python has None there."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            nothing = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115 - open as long as the process
            setattr(sys, name, nothing)


def say(text: str) -> None:
    """Write a text to standard output."""
    sys.stdout.write(showable(text, sys.stdout))


@contextmanager
def progress(what: str, total: int) -> Generator[Callable[[int], None]]:
    """Give a function that is told how many of ``total`` are done, and shows it on a screen; elsewhere nothing.

    It writes to standard error, so that what a command says stays clean.
    """
    shown = sys.stderr.isatty()

    def told(count: int) -> None:
        if shown:
            done = round(BAR * count / total)
            sys.stderr.write(f"\r{what}[{'#' * done}{'.' * (BAR - done)}] {100 * count // total:3d} %")
            sys.stderr.flush()

    try:
        yield told
    finally:
        if shown:
            sys.stderr.write("\r" + " " * (len(what) + BAR + 9) + "\r")
            sys.stderr.flush()


def complain(text: str) -> None:
    """Write a line to standard error."""
    sys.stderr.write(showable(f"{text}\n", sys.stderr))


def showable(text: str, stream: TextIO) -> str:
    """Return a text with nothing in it that the stream's encoding cannot write."""
    encoding = getattr(stream, "encoding", None) or "utf-8"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return text.translate(ASCII).encode(encoding, "replace").decode(encoding)
    return text
