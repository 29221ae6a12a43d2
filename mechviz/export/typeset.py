"""The one place where typst is called: fonts, data, and what an error of it means."""

import json
import unicodedata
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Literal

from mechviz.export.errors import refused
from mechviz.look.font import font_folder, missing_characters

if TYPE_CHECKING:
    import typst

TITLE_ROOM = 140
"""Characters of a title; what is longer is cut."""

UNBROKEN = 24
"""Characters of a word that stay together whatever happens."""


def typeset(
    template: str, data: Mapping[str, object], text: str, form: Literal["pdf", "png"], pixels_per_inch: float = 72
) -> bytes:
    """Run a template of this folder on ``data`` and return the file.

    Whatever a user wrote reaches typst inside ``data``, as values and never as markup. ``text`` is all that will be
    set: where our font lacks a character of it, the fonts of the machine help out (and the bytes then depend on the
    machine). A PDF is tagged; it is held to PDF/UA-1 unless other fonts had to help, which may lack the character too.
    """
    import typst  # 10 ms

    lacking = bool(missing_characters(text))
    source = files("mechviz.export").joinpath(template).read_bytes()
    try:
        return typst.compile(
            source,
            font_paths=_fonts(lacking),
            ignore_system_fonts=not lacking,
            format=form,
            ppi=pixels_per_inch,
            sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
            pdf_standards=["ua-1"] if form == "pdf" and not lacking else [],
        )
    except typst.TypstError as error:
        raise _explained(error.message) from error


@cache
def _fonts(helped: bool) -> "typst.Fonts":
    """Our font alone, or also those of the machine."""
    import typst

    return typst.Fonts(include_system_fonts=helped, include_embedded_fonts=helped, font_paths=[str(font_folder())])


def _explained(message: str) -> Exception:
    """What typst refused, in our words."""
    if "TOO MUCH TEXT" in message:
        return refused("sheet", "has more text than one page holds", "give it fewer key figures or cautions")
    return refused("svg", f"could not be typeset ({message})", "report this with the picture")


def tidy(text: str, room: int | None = None) -> str:
    r"""Return a user's text fit to be set: composed, on one line, without control characters, cut to ``room``.

    >>> tidy("a\x1b[2J\nb", 20), tidy("abcdef", 4)
    ('a [2J b', 'abc…')
    """
    plain = "".join(c if c.isprintable() else " " for c in unicodedata.normalize("NFC", text))
    line = " ".join(plain.split())
    if room is not None and len(line) > room:
        return line[: room - 1].rstrip() + "\N{HORIZONTAL ELLIPSIS}"
    return line


def breakable(text: str) -> str:
    """Return a text in which a word too long for a line has places where it may be broken."""
    return " ".join(_in_pieces(word) for word in text.split(" "))


def _in_pieces(word: str) -> str:
    return "\N{ZERO WIDTH SPACE}".join(word[i : i + UNBROKEN] for i in range(0, len(word), UNBROKEN))
