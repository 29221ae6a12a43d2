"""One plot of a chart: its axis in the unit that is shown, its lines with their words, and limits across it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite
from typing import Literal

import numpy as np

from geometry.arrays import Array, floats
from geometry.quantity import KindName, System, shown
from mechviz.chart.axis import Axis
from mechviz.chart.frame import LEFT, RIGHT, decimals
from mechviz.drawing.lettering import Text
from mechviz.drawing.marks import element, group, line
from mechviz.look.colours import VerbName
from mechviz.report.written import unit_word

EARLY = 0.3
"""Where along a curve that ends early its word stands."""

CurveName = Literal["full", "dashed", "dotted"]
CLASSES: dict[CurveName, str] = {"full": "mv-life-cold", "dashed": "mv-life-hot", "dotted": "mv-life-stopped"}


@dataclass(frozen=True)
class Curve:
    """A line of a plot: values in the unit used inside, how it is drawn, and the word at its end (none if empty).

    ``why`` says in few words why it breaks off where it first does.
    """

    values: Array
    drawn: CurveName
    word: str = ""
    why: str = ""


@dataclass(frozen=True)
class Panel:
    """A plot of one quantity: place, axis in the unit that is shown, lines, and marks across (value shown, words)."""

    name: str
    verb: VerbName
    kind: KindName
    top: float
    bottom: float
    low: float
    high: float
    step: float
    curves: tuple[Curve, ...]
    limits: tuple[tuple[float, str], ...] = ()
    forbidden: tuple[float, float] | None = None
    stops: bool = True
    """Whether the limits of what pushes are stops: heavy lines, their words under them, clear of the curves."""

    keyed: bool = False
    """Whether the curves' words stand beside its name with a piece of each line, and not at the curves' ends."""

    @property
    def stopped(self) -> bool:
        """Whether the limits are drawn as stops."""
        return self.stops and self.verb == "push"

    def y(self, value: float) -> float:
        """Return where a value stands."""
        return self.bottom - (self.bottom - self.top) * (value - self.low) / (self.high - self.low)


def panel_svg(panel: Panel, at: Array, axis: Axis, system: System, prefix: str) -> str:
    """Return a plot; ``at`` is where along the axis the curves' values are, ``prefix`` comes before its id."""
    marks = _ground(panel, axis)
    unit = unit_word(panel.kind, system).replace("degF", "°F").replace("degC", "°C")
    words = [Text(f"{panel.name}, {unit}", LEFT, panel.top - 8, rank=panel.verb)]
    samples, named = _key(panel, words[0].box[2] + 36) if panel.keyed else ("", _ends(panel, at, axis, system))
    for curve in sorted(panel.curves, key=lambda curve: curve.drawn != "dotted"):
        marks += _line(curve, at, axis, panel, system)
    for value, word in panel.limits:
        y = panel.y(value)
        marks += line([(LEFT, y), (RIGHT, y)], "mv-stop" if panel.stopped else "mv-square")
        words.append(_beside(word, y, panel, [axis.x(place) for place in at.tolist()], system))
    words += named
    crosses, words = _stopped(panel, at, axis, system, words)
    marks += crosses
    plates = "".join(plate(text) for text in words)
    return group(
        [marks, plates, samples, *(text.svg() for text in words)],
        panel.name,
        id=f"{prefix}-{panel.name.lower().replace(' ', '-')}",
    )


CROSS = 6.0
"""Half of the cross at the end of a line that ends early."""


def _stopped(panel: Panel, at: Array, axis: Axis, system: System, words: list[Text]) -> tuple[str, list[Text]]:
    """Crosses where lines end before the axis does, and all words with those that say why, each clear of the others."""
    across, marks = [axis.x(place) for place in at.tolist()], ""
    for curve in panel.curves:
        end = _last_point(panel, curve, across, system)
        if not curve.why or end is None or end[0] > RIGHT - CROSS:
            continue
        x, y = end
        for way in (-CROSS, CROSS):
            marks += line([(x - CROSS, y - way), (x + CROSS, y + way)], f"mv-life-cold mv-line-{panel.verb}")
        said = Text(curve.why, size="note", rank=panel.verb)
        heights = [y + n * 24 + 6 for n in (0, -1, 1, -2, 2, -3, 3, -4, 4, -5, 5)]
        texts = [said.at(x + 12, at) for at in heights] + [said.at(x - 12, at, "end") for at in heights[1:]]
        words = [*words, *[text for text in texts if _clear(text, panel, across, system, words)][:1]]
    return marks, words


def _last_point(panel: Panel, curve: Curve, across: Sequence[float], system: System) -> tuple[float, float] | None:
    """Where a line first breaks off in the picture; None where it does not, or has left the plot before."""
    values = _values(curve, panel, system)
    known = np.isfinite(values)
    breaks = np.flatnonzero(known[:-1] & ~known[1:])
    if not breaks.size or not panel.low <= values[breaks[0]] <= panel.high:
        return None
    return across[int(breaks[0])], panel.y(float(values[breaks[0]]))


def _clear(text: Text, panel: Panel, across: Sequence[float], system: System, others: Sequence[Text]) -> bool:
    """Whether a text stands inside the plot, on no curve or limit and on no other text."""
    left, top, right, bottom = text.box
    if left < LEFT or right > RIGHT or top < panel.top or bottom > panel.bottom:
        return False
    if any(top - 2 < panel.y(value) < bottom + 2 for value, _ in panel.limits):
        return False
    boxes = [other.box for other in others]
    apart = [left > b[2] + 4 or right < b[0] - 4 or top > b[3] + 2 or bottom < b[1] - 2 for b in boxes]
    return all(apart) and not _crossed(text, panel, across, system)


STEP = 40.0


def _beside(word: str, at: float, panel: Panel, across: Sequence[float], system: System) -> Text:
    """A limit's words over its line (under it for a stop), or on its other side, where no curve runs through them."""
    sides = (at + 25, at - 8) if panel.stopped and at > panel.top + 60 else (at - 8, at + 25)
    first = Text(word, RIGHT - 8, sides[0], "label", "end")
    steps = range(int((RIGHT - 8 - first.width - LEFT) / STEP))
    texts = (first.at(first.x - n * STEP, y, "end") for y in sides for n in steps)
    return next((text for text in texts if not _crossed(text, panel, across, system)), first)


def _crossed(text: Text, panel: Panel, across: Sequence[float], system: System) -> bool:
    """Whether a curve runs through the room of a text."""
    left, top, right, bottom = text.box
    x = floats(across)
    near = (x > left - 6) & (x < right + 6)
    scale = (panel.bottom - panel.top) / (panel.high - panel.low)
    lines = (panel.bottom - scale * (_values(curve, panel, system) - panel.low) for curve in panel.curves)
    return any(bool(np.any(near & (y > top - 3) & (y < bottom + 3))) for y in lines)


def plate(text: Text) -> str:
    """Return the ground that keeps a text clear of the lines below it."""
    left, top, right, bottom = text.box
    return element(
        "rect",
        class_="mv-plate",
        x=round(left - 3, 1),
        y=round(top - 1, 1),
        width=round(right - left + 6, 1),
        height=round(bottom - top + 2, 1),
    )


def _ground(panel: Panel, axis: Axis) -> str:
    """What is not allowed, the frame, and the axis' ticks with their figures."""
    marks = ""
    if panel.forbidden:
        low, high = panel.forbidden
        box = [(LEFT, panel.y(high)), (RIGHT, panel.y(high)), (RIGHT, panel.y(low)), (LEFT, panel.y(low))]
        marks += line(box, "mv-forbidden", closed=True)
    frame = [(LEFT, panel.top), (LEFT, panel.bottom), (RIGHT, panel.bottom)]
    marks += line(frame, "mv-scale")
    for n in range(int(np.ceil(panel.low / panel.step - 1e-9)), int(panel.high / panel.step + 1e-9) + 1):
        value = n * panel.step
        marks += line([(LEFT - 8, panel.y(value)), (LEFT, panel.y(value))], "mv-tick")
        figure = f"{value:,.{decimals(panel.step)}f}".replace(",", " ")
        marks += Text(figure, LEFT - 14, panel.y(value) + 8, "label", "end").svg()
    for x, _ in axis.ticks():
        marks += line([(x, panel.bottom), (x, panel.bottom + 6)], "mv-tick")
    return marks


def _values(curve: Curve, panel: Panel, system: System) -> Array:
    one, zero = shown(1.0, panel.kind, system)[0], shown(0.0, panel.kind, system)[0]
    return floats(curve.values * (one - zero) + zero)


def _line(curve: Curve, at: Array, axis: Axis, panel: Panel, system: System) -> str:
    """The curve, broken where there is no such state."""
    class_ = _class(curve, panel)
    values, marks, run = _values(curve, panel, system), "", list[tuple[float, float]]()
    for place, value in zip(at.tolist(), values.tolist(), strict=True):
        if isfinite(value) and panel.low <= value <= panel.high:
            run.append((axis.x(place), panel.y(value)))
            continue
        marks += line(run, class_) if len(run) > 1 else ""
        run = []
    return marks + (line(run, class_) if len(run) > 1 else "")


SAMPLE = 44.0


def _key(panel: Panel, x: float) -> tuple[str, list[Text]]:
    """A piece of each line with its word, from a place on in the row of the plot's name."""
    samples, texts = "", list[Text]()
    for curve in panel.curves:
        text = Text(curve.word, x + SAMPLE + 8, panel.top - 8, "label", rank=panel.verb)
        ground = element("rect", class_="mv-plate", x=x - 3, y=panel.top - 26, width=SAMPLE + 8, height=24)
        samples += ground + line([(x, panel.top - 15), (x + SAMPLE, panel.top - 15)], _class(curve, panel))
        texts.append(text)
        x = text.box[2] + 28
    return samples, texts


def _class(curve: Curve, panel: Panel) -> str:
    return CLASSES[curve.drawn] + ("" if curve.drawn == "dotted" else f" mv-line-{panel.verb}")


def _ends(panel: Panel, at: Array, axis: Axis, system: System) -> list[Text]:
    """The curves' words: beside their end, the lower one below if both end together, or over one that ends early."""
    ends, texts = list[tuple[float, str]](), list[Text]()
    for curve in panel.curves:
        values = _values(curve, panel, system)
        last = np.flatnonzero(np.isfinite(values))
        if last.size == 0 or not curve.word:
            continue
        if axis.x(float(at[last[-1]])) > RIGHT - 60:
            ends.append((panel.y(float(values[last[-1]])), curve.word))
        else:
            row = int(last[int(EARLY * last.size)])
            over = axis.x(float(at[row])), panel.y(float(values[row])) - 10
            texts.append(Text(curve.word, *over, "label", rank=panel.verb))
    return texts + [Text(word, RIGHT + 8, y, "label", rank=panel.verb) for y, word in clear(ends, panel.bottom)]


LEADING = 26.0


def clear(ends: list[tuple[float, str]], bottom: float) -> list[tuple[float, str]]:
    """Return words with the lines they stand on, each by its curve's end, none on another or below the ``bottom``.

    >>> clear([(100.0, "a"), (101.0, "b")], 110.0)
    [(91.0, 'a'), (117.0, 'b')]
    """
    texts, above = list[tuple[float, str]](), -99.0
    for at, word in sorted(ends):
        above = max(at + 7, above + LEADING)
        texts.append((above, word))
    beyond = max(0.0, above - bottom - 7)
    return [(y - beyond, word) for y, word in texts]
