"""Slips of the keyboard in a typed quantity, and what puts each right; reading the result is for others."""

import re
from collections.abc import Iterator

LONGEST = 60
"""Characters that are looked at."""

_SLIPS = (
    (r"\s*\.\s+|\s+\.\s*", "."),
    (r"\.\.+", "."),
    (r"^(\d+)[\s-]+(\d+)[\s-]+(\d+)\b", r"\1 \2/\3"),
    (r"\s+0/0\b", ""),
    (r"[\u201c\u201d\u2018\u2019]", ""),
    (r"(\w)[\"'.]+$", r"\1"),
)
"""``5 .5``, ``1..5``, ``1-3-4``, ``6 0/0``, ``in"``."""


def put_right(text: str) -> Iterator[str]:
    """Yield the text with one slip put right, for each slip that is in it.

    >>> list(put_right("5 .5 in"))
    ['5.5 in']
    """
    typed = text.strip()[:LONGEST]
    for slip, right in _SLIPS:
        if (mended := re.sub(slip, right, typed)) != typed:
            yield mended
