"""Text in the picture: where it stands, how wide it is, and the box that nothing else may enter."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal
from xml.sax.saxutils import escape

from mechviz.drawing.marks import Point, element
from mechviz.look import fractions, text_width
from mechviz.look.colours import VerbName
from mechviz.look.measures import TEXT, TextName

Size = TextName | Literal["big"]
Anchor = Literal["start", "middle", "end"]
Rank = VerbName | Literal["ink", "soft"]
Bounds = tuple[float, float, float, float]
"""Left, top, right, bottom in the picture."""

HEIGHT = 900.0
SIZES: dict[Size, float] = {**{name: size * HEIGHT / 1000 for name, size in TEXT.items()}, "big": HEIGHT / 26}
BOLD: frozenset[Size] = frozenset({"title", "heading", "figure", "big"})
RISE, FALL = 0.76, 0.24
"""How far letters reach above and below their line, as shares of the size."""


@dataclass(frozen=True)
class Text:
    """One line of text.

    Parameters
    ----------
    words : str
        Tape fractions in it are set as fractions.
    x, y : float
        Where its line stands, at its ``anchor``; picture units.
    size : str
        One of `SIZES`.
    rank : str
        The verb whose colour it wears, or ink, or soft.
    name : str
        Its id; empty for none.
    lead : str
        Words before it that do not belong to the element with the id.
    lead_rank : str, optional
        Their colour; that of ``rank`` if not given.
    grown : float
        How many times larger its letters may be set, where a picture is small: it takes the room of these.

    """

    words: str
    x: float = 0.0
    y: float = 0.0
    size: Size = "label"
    anchor: Anchor = "start"
    rank: Rank = "ink"
    name: str = ""
    lead: str = ""
    lead_rank: Rank | None = None
    grown: float = 1.0

    @property
    def height(self) -> float:
        """The size of its letters at the largest, picture units."""
        return SIZES[self.size] * self.grown

    @property
    def width(self) -> float:
        """How wide it is, picture units."""
        return text_width(fractions(self.lead + self.words), self.height, self.size in BOLD)

    @property
    def box(self) -> Bounds:
        """The room that it takes."""
        left = self.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * self.width
        return left, self.y - RISE * self.height, left + self.width, self.y + FALL * self.height

    def at(self, x: float, y: float, anchor: Anchor = "start") -> "Text":
        """Return it at another place."""
        return replace(self, x=x, y=y, anchor=anchor)

    def svg(self, prefix: str = "") -> str:
        """Return the element; ``prefix`` comes before its id."""
        name = f"{prefix}{self.name}" if self.name else None
        inside, own = escape(fractions(self.words)), name
        rank = self.lead_rank or self.rank
        if self.lead:
            colour = _ranked(self.rank) if self.rank != rank else None
            inside = escape(fractions(self.lead)) + element("tspan", inside, id=name, class_=colour)
            own = None
        kind = " ".join(part for part in (f"mv-{self.size}", _ranked(rank)) if part)
        anchor = None if self.anchor == "start" else self.anchor
        return element("text", inside, x=round(self.x, 1), y=round(self.y, 1), class_=kind, text_anchor=anchor, id=own)


def _ranked(rank: Rank) -> str | None:
    """The class of a rank's colour; ink needs none."""
    return None if rank == "ink" else f"mv-of-{rank}"


def fitted(text: Text, room: float, sizes: Sequence[Size]) -> Text:
    """Return a text in the first size in which it fits a width; in the last one it is cut to fit.

    >>> fitted(Text("a" * 500), 60, ["title", "label"]).words
    'aaaa…'
    """
    for size in sizes:
        sized = replace(text, size=size)
        if sized.width <= room:
            return sized
    words = text.words
    while words and replace(text, words=f"{words}…", size=sizes[-1]).width > room:
        words = words[:-1]
    return replace(text, words=f"{words.rstrip()}…", size=sizes[-1])


def below(text: Text, place: Point) -> Text:
    """Return a text whose top edge is at a place instead of its line."""
    return replace(text, x=place[0], y=place[1] + RISE * text.height)


def folded(words: str, room: float, size: Size = "label") -> list[str]:
    """Return words in lines that fit a width; none of none."""
    lines, now = list[str](), ""
    for word in words.split():
        longer = f"{now} {word}".strip()
        if now and Text(longer, size=size).width > room:
            lines.append(now)
            longer = word
        now = longer
    return [*lines, now] if now else lines
