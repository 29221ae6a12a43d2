"""The column of words beside a chart: what happens in order, and with what it was worked out."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from mechviz.chart.frame import HEIGHT, ROOM, SIDE, TOP
from mechviz.drawing.lettering import Rank, Size, Text, folded

FOOT = ("Computed, not measured. Local codes, the maker's", "instructions and licensed practice decide.")
INDENT = 36.0
"""Of what happens from its number."""

LEAST = 640.0
"""Where the small print begins at the highest."""


@dataclass(frozen=True)
class Item:
    """Something that happens: its first line, which is numbered, and words below it (none if empty)."""

    head: str
    words: str = ""


def column(items: Sequence[Item], after: Sequence[str], given: Sequence[str], between: float = 12.0) -> list[Text]:
    """Return the texts: the numbered items, ``between`` units apart, sentences ``after`` them, small print below.

    Where there is much to say the sentences are set as small as the print below them.
    """
    sizes: tuple[Size, Size] = ("label", "note")
    tried = (_column(items, after, given, between, size) for size in sizes)
    texts = list[Text]()
    for texts in tried:
        if texts[-1].box[3] <= HEIGHT:
            break
    return texts


LEADING: dict[Size, float] = {"label": 26.0, "note": 23.0}


def _column(
    items: Sequence[Item], after: Sequence[str], given: Sequence[str], between: float, small: Size
) -> list[Text]:
    texts, y = [Text("What happens", SIDE, TOP + 12, "figure")], TOP + 50

    def add(words: str, indent: float, rank: Rank = "ink", size: Size = "label") -> None:
        nonlocal y
        for row in rows(words.replace("degF", "°F").replace("degC", "°C"), ROOM - indent, size):
            texts.append(Text(row, SIDE + indent, y, size, rank=rank))
            y += LEADING[size]

    for number, item in enumerate(items, start=1):
        texts.append(Text(str(number), SIDE + INDENT - 12, y, "label", "end"))
        add(item.head, INDENT)
        add(item.words, INDENT, "soft")
        y += between
    for sentence in after:
        add(sentence, 0, size=small)
    y = max(y + 10, LEAST)
    for words in (*given, *FOOT):
        add(words, 0, size="note")
    return texts


TIED = re.compile(r"(?<=\s)\S*\d\S*( min)?$")
UNIT = re.compile(r"(\d+ s|s|min|psi|kPa|lbf|N|in|mm|°F|°C|%|lb|kg|deg)(?!\w)")


def rows(words: str, room: float, size: Size = "label") -> list[str]:
    """Return words in lines that fit a width, no figure parted from its unit.

    >>> rows("Pushed hardest: 1610 lbf after 8 min 5 s.", 374.0)
    ['Pushed hardest: 1610 lbf after', '8 min 5 s.']
    """
    found, rest = list[str](), words
    while rest:
        row, *more = folded(rest, room, size)
        rest = " ".join(more)
        figure = TIED.search(row)
        if figure and UNIT.match(rest):
            row, rest = row[: figure.start()].rstrip(), f"{figure[0]} {rest}"
        found.append(row)
    return found
