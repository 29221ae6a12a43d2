"""The stroke on its own scale, from 0 to the chamber's rated stroke, with the limit as a line across it."""

from dataclasses import replace

from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from geometry.quantity import System
from mechviz.drawing.layout import Box
from mechviz.drawing.lettering import Text, fitted
from mechviz.drawing.marks import element, line
from mechviz.drawing.note import Note
from mechviz.drawing.scene import Scene
from mechviz.drawing.verdict import Verdict, judged
from mechviz.drawing.words import NONE, bound, length

RADIUS = 12.0
SCALE, WORDS = 100.0, 44.0
"""How far the scale stands below the top of its box, and its words below the scale."""
SPARE, BEYOND = 60.0, 40.0
"""How much shorter than its box the scale is, and how far words may reach beyond its end."""
LEAST_HALF = 8.0
"""Half the least width of the mark, picture units; else it is as wide as the tape can tell."""


def gauge(scene: Scene, place: Box) -> Note:
    """Return the stroke in figures, its verdict in words, and both on a scale."""
    (x, y, width, _), system = place, scene.system
    verdict = judged(scene)
    stroke = NONE if scene.state.stroke is None else length(scene.state.stroke, system)
    head = Text(stroke, x, y + 30, "big", rank="push", name="value-stroke", lead="stroke ")
    said = Text(verdict.said, x, y + 64, name="value-margin", lead=f"{verdict.name}: ")
    if verdict.why and replace(said, size="label").width > width:
        said = replace(said, words=verdict.why)
    said = fitted(said, width, ("figure", "label"))
    scale = Scale(scene, x + 6, y + SCALE, width - SPARE)
    marks = scale.line() + scale.ticks() + scale.mark(verdict)
    return Note(
        "verdict", "Stroke against the readjustment limit", marks, (head, said, *scale.texts(system)), (scale.room(),)
    )


class Scale:
    """A stroke's scale that begins at (x, y) and is ``width`` long."""

    def __init__(self, scene: Scene, x: float, y: float, width: float) -> None:
        self.scene = scene
        self.x, self.y = x, y
        self.rated = scene.brake.chamber.rated_stroke
        self.limit = scene.case.limit.limit_mm
        self.per = width / self.rated

    def at(self, stroke: float) -> float:
        """Return where a stroke (mm) stands."""
        return self.x + stroke * self.per

    def line(self) -> str:
        """Return the scale itself, what is not allowed, and the limit."""
        stop, end, y = self.at(self.limit), self.at(self.rated), self.y
        marks = element("rect", class_="mv-forbidden", x=stop, y=y - 15, width=max(end - stop, 0.0), height=30)
        marks += line([(self.x, y), (end, y)], "mv-scale")
        for place in (self.x, end):
            marks += line([(place, y - 10), (place, y + 10)], "mv-scale")
        return marks + line([(stop, y - 22), (stop, y + 22)], "mv-stop")

    def room(self) -> BaseGeometry:
        """Return the room that the scale and its marks take."""
        return box(self.x - 16, self.y - 24, self.at(self.rated) + 16, self.y + 24)

    def ticks(self) -> str:
        """Return the ticks at which the linings first touch, and where the applied brake stands."""
        strokes = (self.scene.free_stroke, self.scene.events["applied"].stroke)
        return "".join(
            line([(self.at(stroke), self.y - 15), (self.at(stroke), self.y + 15)], "mv-free")
            for stroke in strokes
            if stroke is not None
        )

    def mark(self, verdict: Verdict) -> str:
        """Return the stroke's mark: its shape is the verdict's, its width the tape's resolution.

        Brackets round it, where it is judged, show what readings and model leave open: where it is close they reach
        the limit.
        """
        stroke = self.scene.state.stroke
        if stroke is None:
            return ""
        judged_inside = verdict.name in ("pass", "close")
        around = self._brackets(stroke) if judged_inside else ""
        return around + stroke_mark(self.at(stroke), self.y, verdict, self._half())

    def _brackets(self, stroke: float) -> str:
        ends = [(self.at(min(max(stroke + w * self.scene.open_stroke, 0.0), self.rated)), 5.0 * w) for w in (-1, 1)]
        high, low = self.y - 9, self.y + 9
        return "".join(line([(x - out, high), (x, high), (x, low), (x - out, low)], "mv-scale") for x, out in ends)

    def _half(self) -> float:
        return max(self.scene.setup.measured.resolution * self.per, LEAST_HALF)

    def texts(self, system: System, *, free: bool = True) -> tuple[Text, ...]:
        """Return what is written under the scale, ``free`` stroke too; none of it touches another."""
        low = self.y + WORDS
        stop, end = self.at(self.limit), self.at(self.rated)
        last = Text(bound(self.rated, system))
        last = last.at(min(end, end + BEYOND - 0.5 * last.width), low, "middle")
        limit = Text(bound(self.limit, system), name="value-limit", lead=f"{limit_name(self.scene)} ")
        limit = limit.at(min(stop, last.box[0] - 14 - 0.5 * limit.width), low, "middle")
        zero = Text("0", self.x, low, anchor="middle")
        return (zero, limit, last, *(self._free(system, limit) if free else ()))

    def _free(self, system: System, limit: Text) -> tuple[Text, ...]:
        """The free stroke in words, where there is room for it between 0 and the limit."""
        free = self.scene.free_stroke
        if free is None:
            return ()
        text = Text(f"touches at {length(free, system)}", rank="push")
        low, high = self.x + 18 + 0.5 * text.width, limit.box[0] - 14 - 0.5 * text.width
        return (text.at(min(max(self.at(free), low), high), limit.y, "middle"),) if low <= high else ()


def limit_name(scene: Scene) -> str:
    """Return what the limit is called: on a hot drum it says that it is none for this one."""
    return "cold limit" if scene.hot else "limit"


def stroke_mark(x: float, y: float, verdict: Verdict, half: float = RADIUS) -> str:
    """Return a mark: an open ring (pass), a ring touching its line (close), a block beyond it (fail).

    What is not evaluated is dotted: a ring, or past the limit of a cold drum a block.
    """
    dotted = " mv-dots" if verdict.name == "not evaluated" else ""
    if verdict.beyond:
        kind = f"mv-ring{dotted}" if dotted else "mv-block"
        return element("rect", class_=kind, x=x - half, y=y - RADIUS, width=2 * half, height=2 * RADIUS)
    return element("ellipse", class_=f"mv-ring{dotted}", cx=x, cy=y, rx=half, ry=RADIUS)
