"""The life as a chart: stroke, arm angle and brake torque against the lining that is left, thick to thin."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import isfinite
from pathlib import Path

import numpy as np

from geometry.arrays import Array, floats
from geometry.errors import Fault, MechvizError
from geometry.life import Event, Life
from geometry.life.events import reached
from geometry.quantity import KindName, System, shown
from mechviz.drawing.lettering import Text, fitted, folded
from mechviz.drawing.marks import element, group, line
from mechviz.drawing.picture import document
from mechviz.drawing.words import bound, figure, length
from mechviz.export import svg_to_png
from mechviz.lifetime.study import FINE, Study
from mechviz.lifetime.text import adjuster_words, life_cautions
from mechviz.look.colours import PRINT, ThemeName, VerbName
from mechviz.report.written import unit_word

WIDTH, HEIGHT = 1600.0, 900.0
LEFT, RIGHT = 118.0, 1040.0
SIDE = 1166.0
"""Where the column of words begins."""
TOP = 104.0
APART = 34.0
EARLY = 0.3
"""Where along a curve that ends early its word stands."""
ROOM = WIDTH - SIDE - 40
SCALE = 1.0
PIXELS = 1920
SUFFIXES = (".svg", ".png", ".pdf")


@dataclass(frozen=True)
class Curve:
    """A line of a panel: what it shows of a life, how it is drawn, and the word that stands at its end."""

    of: Callable[[Life], Array]
    class_: str
    word: str


@dataclass(frozen=True)
class Panel:
    """A plot of one quantity: its place, its axis in the unit that is shown, its curves, and its marks across."""

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


def life_chart(lived: Study, system: System, theme: ThemeName = "light", *, named: bool = True) -> str:
    """Return the chart as an SVG, 1600 x 900; on a sheet, which says whose it is, it is not ``named`` once more."""
    wear = np.unique(np.concatenate([np.linspace(0.0, lived.end, FINE), lived.upkeep.moves]))
    wear = wear[wear <= lived.end]
    stuck = lived.service.brake.adjuster.state == "stuck"
    life, stopped = lived.at(wear), None if stuck else lived.stopped().at(wear)
    axis = Axis(lived, system)
    panels = [_panel_svg(panel, life, stopped, axis, system) for panel in _panels(lived, life, system)]
    inside = "".join(
        [_title(lived) if named else "", *panels, _events(lived, axis), _foot(axis, system), _side(lived, system)]
    )
    words = f"Stroke, arm angle and brake torque from new linings to worn out; adjuster {adjuster_words(lived)}."
    return document(inside, f"{lived.setup.title}: working life", words, WIDTH, SCALE, theme)


@dataclass(frozen=True)
class Axis:
    """The lining that is left, thick on the left, as a place across the chart."""

    lived: Study
    system: System

    def x(self, wear: float) -> float:
        """Return where a wear (mm) stands."""
        return LEFT + (RIGHT - LEFT) * wear / self.lived.end

    def ticks(self) -> list[tuple[float, str]]:
        """Return places and words of round thicknesses."""
        new = self.lived.service.brake.lining.thickness
        thick, thin = (shown(t, "length", self.system)[0] for t in (new, new - self.lived.end))
        step = _round_step((thick - thin) / 6)
        first = int(thin / step) + 1
        rounds = [n * step for n in range(first, int(thick / step + 1e-9) + 1)]
        factor = 25.4 if self.system == "inch" else 1.0
        digits = max(0, _decimals(step))
        return [(self.x(new - value * factor), f"{value:.{digits}f}") for value in rounds]


def _round_step(rough: float) -> float:
    """The nearest larger of 1, 2, 5 times a power of ten."""
    power = 10.0 ** np.floor(np.log10(rough))
    return float(next(n * power for n in (1, 2, 5, 10) if n * power >= rough))


def _decimals(step: float) -> int:
    return int(max(0, -np.floor(np.log10(step) + 1e-9)))


def _panels(lived: Study, life: Life, system: System) -> list[Panel]:
    rated, limit = lived.service.brake.chamber.rated_stroke, lived.limit.limit_mm
    unit = 0.5 if system == "inch" else 10.0
    top = shown(rated, "length", system)[0] * 1.08
    stroke = Panel(
        "Stroke",
        "push",
        "length",
        TOP,
        TOP + 330,
        0.0,
        top,
        unit,
        (Curve(lambda x: x.cold.stroke, "cold", "cold"), Curve(lambda x: x.hot.stroke, "hot", "hot")),
        (
            (shown(limit, "length", system)[0], f"limit {bound(limit, system)}, {lived.limit.source}"),
            (shown(rated, "length", system)[0], f"chamber bottoms, {bound(rated, system)}"),
        ),
        (shown(limit, "length", system)[0], top),
    )
    low, high = _span(lambda x: np.degrees(np.minimum(x.contact_angle, x.cold.arm_angle)), life, 90.0, 5.0)
    angle = Panel(
        "Arm angle",
        "turn",
        "angle",
        TOP + 330 + APART,
        TOP + 500 + APART,
        low,
        max(high, _span(lambda x: np.degrees(x.contact_angle), life, 90.0, 5.0)[1]),
        10.0,
        (Curve(lambda x: x.contact_angle, "hot", "at contact"), Curve(lambda x: x.cold.arm_angle, "cold", "applied")),
        ((90.0, "square"),),
    )
    strongest = float(np.nanmax(np.append(life.cold.brake_torque, 1.0)))
    most = shown(strongest, "torque", system)[0] * 1.15
    torque = Panel(
        "Brake torque",
        "rub",
        "torque",
        TOP + 500 + 2 * APART,
        TOP + 670 + 2 * APART,
        0.0,
        most,
        _round_step(most / 4),
        (Curve(lambda x: x.cold.brake_torque, "cold", "cold"), Curve(lambda x: x.hot.brake_torque, "hot", "hot")),
    )
    return [stroke, angle, torque]


def _span(of: Callable[[Life], Array], life: Life, middle: float, least: float) -> tuple[float, float]:
    """The range of a quantity, with ``middle`` in it and some room."""
    values = np.append(of(life), [middle - least, middle + least])
    return float(np.nanmin(values)) - 3, float(np.nanmax(values)) + 3


def _panel_svg(panel: Panel, life: Life, stopped: Life | None, axis: Axis, system: System) -> str:
    def y(value: float) -> float:
        return panel.bottom - (panel.bottom - panel.top) * (value - panel.low) / (panel.high - panel.low)

    marks = _ground(panel, y, axis)
    unit = unit_word(panel.kind, system)
    words = [Text(f"{panel.name}, {unit}", LEFT, panel.top - 8, rank=panel.verb)]
    if stopped is not None:
        marks += _line(panel.curves[0], stopped, axis, y, panel, system, "mv-life-stopped")
    for curve in panel.curves:
        marks += _line(curve, life, axis, y, panel, system, f"mv-life-{curve.class_} mv-line-{panel.verb}")
    for value, word in panel.limits:
        marks += line([(LEFT, y(value)), (RIGHT, y(value))], "mv-stop" if panel.verb == "push" else "mv-square")
        words.append(_beside(word, y(value), panel))
    words += _ends(panel, life, axis, y, system)
    plates = "".join(_plate(text) for text in words[1:])
    return group([marks, plates, *(text.svg() for text in words)], panel.name, id=f"life-{panel.verb}")


def _beside(word: str, at: float, panel: Panel) -> Text:
    """A limit's words, under its line where the lines of strokes keep clear of it."""
    below = at + 25 if panel.verb == "push" and at > panel.top + 60 else at - 8
    return Text(word, RIGHT - 8, below, "label", "end")


def _plate(text: Text) -> str:
    left, top, right, bottom = text.box
    return element(
        "rect",
        class_="mv-plate",
        x=round(left - 3, 1),
        y=round(top - 1, 1),
        width=round(right - left + 6, 1),
        height=round(bottom - top + 2, 1),
    )


def _ground(panel: Panel, y: Callable[[float], float], axis: Axis) -> str:
    """What is not allowed, the frame, and the axis' ticks with their figures."""
    marks = ""
    if panel.forbidden:
        low, high = panel.forbidden
        box = [(LEFT, y(high)), (RIGHT, y(high)), (RIGHT, y(low)), (LEFT, y(low))]
        marks += line(box, "mv-forbidden", closed=True)
    frame = [(LEFT, panel.top), (LEFT, panel.bottom), (RIGHT, panel.bottom)]
    marks += line(frame, "mv-scale")
    for n in range(int(np.ceil(panel.low / panel.step - 1e-9)), int(panel.high / panel.step + 1e-9) + 1):
        value = n * panel.step
        marks += line([(LEFT - 8, y(value)), (LEFT, y(value))], "mv-tick")
        digits = _decimals(panel.step)
        marks += Text(f"{value:,.{digits}f}".replace(",", " "), LEFT - 14, y(value) + 8, "label", "end").svg()
    for x, _ in axis.ticks():
        marks += line([(x, panel.bottom), (x, panel.bottom + 6)], "mv-tick")
    return marks


def _values(curve: Curve, life: Life, panel: Panel, system: System) -> Array:
    inside = curve.of(life)
    one, zero = shown(1.0, panel.kind, system)[0], shown(0.0, panel.kind, system)[0]
    return floats(inside * (one - zero) + zero)


def _line(
    curve: Curve, life: Life, axis: Axis, y: Callable[[float], float], panel: Panel, system: System, class_: str
) -> str:
    """The curve, broken where there is no such state."""
    values, marks, run = _values(curve, life, panel, system), "", list[tuple[float, float]]()
    for wear, value in zip(life.wear.tolist(), values.tolist(), strict=True):
        if isfinite(value) and panel.low <= value <= panel.high:
            run.append((axis.x(wear), y(value)))
            continue
        marks += line(run, class_) if len(run) > 1 else ""
        run = []
    return marks + (line(run, class_) if len(run) > 1 else "")


def _ends(panel: Panel, life: Life, axis: Axis, y: Callable[[float], float], system: System) -> list[Text]:
    """The curves' words: beside their end, the lower one below if both end together, or over one that ends early."""
    ends, texts = list[tuple[float, str]](), list[Text]()
    for curve in panel.curves:
        values = _values(curve, life, panel, system)
        last = np.flatnonzero(np.isfinite(values))
        if last.size == 0:
            continue
        if axis.x(float(life.wear[last[-1]])) > RIGHT - 60:
            ends.append((y(float(values[last[-1]])), curve.word))
        else:
            row = int(last[int(EARLY * last.size)])
            over = axis.x(float(life.wear[row])), y(float(values[row])) - 10
            texts.append(Text(curve.word, *over, "label", rank=panel.verb))
    above = -99.0
    for at, word in sorted(ends):
        above = max(at + 7, above + 26)
        texts.append(Text(word, RIGHT + 8, above, "label", rank=panel.verb))
    return texts


def _events(lived: Study, axis: Axis) -> str:
    """A line down through all panels at each event in the chart, with its number on top."""
    marks, bottom = "", TOP + 670 + 2 * APART
    for number, event in enumerate(_shown(lived), start=1):
        x = axis.x(event.wear)
        marks += line([(x, TOP - 6), (x, bottom)], "mv-before")
        marks += element("circle", cx=round(x, 1), cy=TOP - 22, r=13, class_="mv-number")
        marks += Text(str(number), x, TOP - 16, "note", "middle").svg()
    if lived.found is not None and 0 <= lived.found <= lived.end:
        x = axis.x(lived.found)
        marks += line([(x, TOP), (x, bottom)], "mv-between")
        marks += Text("as found", x + 6, bottom - 10, "note", rank="soft").svg()
    return group([marks], "What happens on the way", id="life-events")


def _shown(lived: Study) -> Sequence[Event]:
    return [event for event in reached(lived.events) if event.wear <= lived.end + 1e-6]


def _foot(axis: Axis, system: System) -> str:
    y = TOP + 670 + 2 * APART
    unit = "in" if system == "inch" else "mm"
    texts = [Text(word, x, y + 34, "label", "middle") for x, word in axis.ticks()]
    texts.append(Text(f"lining left, {unit}", RIGHT + 30, y + 34, "label", "start", "rub"))
    return "".join(text.svg() for text in texts)


def _title(lived: Study) -> str:
    words = f"{lived.setup.title}: working life, adjuster {adjuster_words(lived)}"
    return fitted(Text(words, 40, 48), WIDTH - 80, ("heading", "figure", "label")).svg()


def _side(lived: Study, system: System) -> str:
    """The key, what happens in order, and with what it was worked out."""
    one, y = lived.service, TOP + 12
    texts: list[Text] = [Text("What happens", SIDE, y, "figure")]
    y += 38
    new = one.brake.lining.thickness
    for number, event in enumerate(_shown(lived), start=1):
        head = f"{number}  {length(new - event.wear, system)} left, {_worn(event.wear, system)} worn"
        texts.append(Text(head, SIDE, y, "label"))
        y += 26
        for words in folded(event.words, ROOM - 20):
            texts.append(Text(words, SIDE + 20, y, "label", rank="soft"))
            y += 26
        y += 12
    for words in folded(_dotted(lived, system), ROOM):
        texts.append(Text(words, SIDE, y, "label"))
        y += 26
    y = max(y + 10, 640)
    pressure, hot = figure(one.pressure, "pressure", system), figure(one.hot, "temperature", system)
    given = [
        f"New lining {bound(new, system)}, drum {length(one.drum_diameter, system)}.",
        f"Adjusted to {bound(one.free_stroke, system)} of free stroke.",
        f"Applied at {pressure}; hot: drum at {hot}.",
        "Computed, not measured. Local codes, the maker's",
        "instructions and licensed practice decide.",
    ]
    for words in given:
        texts.append(Text(words, SIDE, y, "note"))
        y += 23
    return group([text.svg() for text in texts], "What happens, in order", id="life-words")


def _dotted(lived: Study, system: System) -> str:
    """What the dotted lines are; nothing where the adjuster is stuck itself."""
    state, stopped = lived.service.brake.adjuster.state, lived.stopped().event("stroke-limit")
    if state == "stuck":
        return ""
    if state == "working" and stopped.happens:
        return f"Dotted: the adjuster stops when new. The limit is met after {_worn(stopped.wear, system)} of wear."
    return "Dotted: the adjuster stops when new."


def _worn(wear: float, system: System) -> str:
    return f"{wear / 25.4:.3f} in" if system == "inch" else f"{wear:.2f} mm"


def chart_file(lived: Study, output: Path, system: System) -> bytes:
    """Return the chart as the bytes of a file of that name. Raises `MechvizError` for a kind that it cannot write."""
    suffix = output.suffix.lower()
    if suffix not in SUFFIXES:
        problem, fix = f"{output.name} is no picture that this can write", "use .svg, .png or .pdf"
        raise MechvizError(Fault("--output", problem, fix, kind="number"))
    printed = suffix == ".pdf"
    svg = life_chart(lived, system, PRINT if printed else "light", named=not printed)
    if suffix == ".svg":
        return svg.encode("utf-8")
    if suffix == ".png":
        return svg_to_png(svg, PIXELS, "light")
    from mechviz.export import Sheet, print_sheet

    words = f"Working life, adjuster {adjuster_words(lived)}"
    return print_sheet(svg, Sheet(title=lived.setup.title, subtitle=words, cautions=life_cautions(lived)), "a4")
