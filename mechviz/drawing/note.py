"""A note: one thing that the picture says beside its parts, in a group of its own."""

from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import Point, group


@dataclass(frozen=True)
class Note:
    """A group ``note-NAME`` in picture units.

    ``marks`` are its lines and shapes, ``texts`` stand on them; ``solid`` are places that no other text may enter,
    beside the texts' own boxes.
    """

    name: str
    title: str
    marks: str = ""
    texts: tuple[Text, ...] = ()
    solid: tuple[BaseGeometry, ...] = ()

    def itself(self) -> "Note":
        """Return the note as it is."""
        return self

    def svg(self, prefix: str = "") -> str:
        """Return the group; ``prefix`` comes before its id and those in it."""
        words = "".join(text.svg(prefix) for text in self.texts)
        return group([self.marks, words], self.title, id=f"{prefix}note-{self.name}", class_="note")


def stroke_room(points: Sequence[Point], width: float) -> BaseGeometry:
    """Return the room that a line of some width takes."""
    return LineString(points).buffer(width / 2, cap_style="flat")
