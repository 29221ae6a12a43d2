"""The type: one family, shipped with us, and the width of its letters for laying out labels.

The files in ``fonts/`` are a subset of Atkinson Hyperlegible Next with signs of our own (see ``fonts/README.md``). All
figures are equally wide without being asked, and a fraction slash between figures makes a fraction in every renderer.
"""

import re
from base64 import b64encode
from collections.abc import Mapping
from csv import reader
from functools import cache
from importlib.resources import files
from pathlib import Path

FAMILY = "Mechviz Sans"
"""Name to ask for in CSS and SVG. Our files are changed, so they do not go by the original's name."""

STYLES: Mapping[str, int] = {"regular": 400, "bold": 700}

SLASH = "\N{FRACTION SLASH}"
_TYPED = re.compile(r"(?<![\w/.])(\d{1,2})/(2|4|8|16|32|64)(?![\w/])")
_SET = re.compile(rf"(\d+){SLASH}(\d+)")


def font_folder() -> Path:
    """Return the folder of the font files."""
    return Path(str(files("mechviz.look") / "fonts"))


@cache
def font_face_css(embed: bool = True, folder: str = "fonts") -> str:
    """Return the @font-face rules: with the files inside (39 kB) for a page or SVG that stands alone, or with links.

    ``folder`` is where a page finds the files when they are not inside.
    """
    return "\n".join(_face(style, weight, embed, folder) for style, weight in STYLES.items())


def _face(style: str, weight: int, embed: bool, folder: str) -> str:
    name = f"mechviz-sans-{style}.woff2"
    if embed:
        data = b64encode((font_folder() / name).read_bytes()).decode("ascii")
        source = f"data:font/woff2;base64,{data}"
    else:
        source = f"{folder}/{name}"
    return (
        f'@font-face {{ font-family: "{FAMILY}"; font-style: normal; font-weight: {weight}; font-display: block; '
        f'src: url("{source}") format("woff2") }}'
    )


@cache
def _widths() -> dict[str, tuple[int, int]]:
    """Advance of each character in thousandths of the size: regular, bold; ``f0`` to ``f9`` are a fraction's."""
    with (font_folder() / "widths.csv").open(encoding="utf-8", newline="") as file:
        rows = list(reader(file))[1:]
    return {_sign(code): (int(regular), int(bold)) for code, regular, bold in rows}


def _sign(code: str) -> str:
    return code if code.startswith("f") else chr(int(code, 16))


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Return how wide a line of text is, in the unit of ``size``, without kerning (which takes a little away).

    A character that the font lacks counts as the widest letter.
    """
    widths, small = _widths(), _small(text)
    signs = (f"f{c}" if place in small else c for place, c in enumerate(text))
    return sum(widths.get(sign, widths["W"])[bold] for sign in signs) * size / 1000


def _small(text: str) -> set[int]:
    """Places of the figures that stand in a fraction."""
    spans = [match.span(group) for match in _SET.finditer(text) for group in (1, 2)]
    return {place for start, end in spans for place in range(start, end)}


def fractions(text: str) -> str:
    """Return a text with its tape fractions set as fractions.

    >>> fractions("1 3/4 in") == "1 3" + SLASH + "4 in"
    True
    >>> fractions("section 393/47, week 12/2025")
    'section 393/47, week 12/2025'
    """
    return _TYPED.sub(rf"\1{SLASH}\2", text)


def missing_characters(text: str) -> str:
    """Return the characters of a text that the font cannot show, each once, in order of code.

    Line ends and the zero width space do not count.

    >>> missing_characters("90° in 2 \N{HIRAGANA LETTER A}")
    'あ'
    """
    return "".join(sorted(set(text) - set(_widths()) - set("\n\r\t\N{ZERO WIDTH SPACE}")))
