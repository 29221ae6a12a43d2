"""Lines of text that fit the screen: wrapped, hung under each other, and boxed with plain characters."""

import re
from textwrap import wrap

NARROWEST, WIDEST = 40, 100
"""Columns: below the first nothing fits, beyond the second the eye loses the line."""


_KEPT_TOGETHER = re.compile(r"(?<=\d) (?=(?:\d+/\d+ )?(?:in|mm|deg|degF|degC|psi|kPa|lbf|N|%)(?![A-Za-z]))")
"""The space inside ``1 3/4 in``: a line never breaks between a figure and its unit."""


def fitting(width: int) -> int:
    """Return the width of text to use on a screen of ``width`` columns."""
    return max(NARROWEST, min(WIDEST, width))


def hang(text: str, width: int, first: str = "", rest: str | None = None) -> list[str]:
    """Wrap a text, with ``first`` before its first line and ``rest`` (spaces as wide) before the others.

    >>> hang("one two three", 10, "- ")
    ['- one two', '  three']
    """
    after = " " * len(first) if rest is None else rest
    plain = _KEPT_TOGETHER.sub("\N{NO-BREAK SPACE}", printable(" ".join(text.split())))
    lines = wrap(plain, width, initial_indent=first, subsequent_indent=after, break_on_hyphens=False)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines] or [first.rstrip()]


def printable(text: str) -> str:
    r"""Replace what could steer a screen (escape codes in a title) by question marks.

    >>> printable("a\x1b[2Jb")
    'a?[2Jb'
    """
    return text if text.isprintable() else "".join(c if c.isprintable() else "?" for c in text)


def boxed(heading: str, points: list[str], width: int) -> list[str]:
    """Return a bordered note: a heading in the upper border and one point under the other."""
    inside = [line for point in points for line in hang(point, width - 4, "- ")]
    top = f"+-- {heading} " + "-" * (width - len(heading) - 6) + "+"
    body = [f"| {line:<{width - 4}} |" for line in inside]
    return [top, *body, "+" + "-" * (width - 2) + "+"]
