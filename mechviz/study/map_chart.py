"""A map as a picture: bands of the outcome, lines with their values, limits as stops, what is not allowed hatched."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from pathlib import Path as FilePath
from typing import Any

import numpy as np

from geometry.arrays import Array
from geometry.quantity import KindName, System, shown
from geometry.reasons import Reason
from mechviz.chart.file import chart_bytes, chart_document
from mechviz.chart.frame import LEFT, RIGHT, SIDE, TOP, WIDTH, decimals, round_step
from mechviz.chart.panel import plate
from mechviz.chart.side import FOOT, rows
from mechviz.drawing.lettering import Bounds, Text
from mechviz.drawing.marks import element, group, line, through
from mechviz.look.colours import ThemeName
from mechviz.report.written import quantity, unit_word
from mechviz.study.limits import Limit
from mechviz.study.map import Map, Path, areas_of, lines_of, usual_value
from mechviz.study.outcome import Outcome
from mechviz.study.parameter import Parameter
from mechviz.study.words import limit_words

BOTTOM = 790.0
BANDS = 8
"""About how many bands the outcome is shown in."""
PALEST, DEEPEST = 0.06, 0.62
"""How much of the verb's colour the first and the last band have."""
ROOM = WIDTH - SIDE - 40


@dataclass(frozen=True)
class _Frame:
    """Where figures of the two parameters stand."""

    map: Map

    def x(self, value: Array | float) -> Array | float:
        low, high = float(self.map.across[0]), float(self.map.across[-1])
        return LEFT + (RIGHT - LEFT) * (value - low) / (high - low)

    def y(self, value: Array | float) -> Array | float:
        low, high = float(self.map.up[0]), float(self.map.up[-1])
        return BOTTOM - (BOTTOM - TOP) * (value - low) / (high - low)

    def path(self, points: Path) -> list[tuple[float, float]]:
        """Return a path of figures in the picture."""
        return list(
            zip(np.asarray(self.x(points[:, 0])).tolist(), np.asarray(self.y(points[:, 1])).tolist(), strict=True)
        )


def map_chart(
    shown_map: Map,
    system: System,
    theme: ThemeName = "light",
    *,
    named: bool = True,
    chosen: Sequence[dict[str, float]] = (),
) -> str:
    """Return the map as an SVG, 1600 x 900, the points that were ``chosen`` marked; on a sheet it is not ``named``."""
    frame, levels = _Frame(shown_map), _levels(shown_map, system)
    limits, used = _limits(frame)
    inside = [
        group(_bands(frame, levels), "Bands of the outcome", id="map-bands"),
        group(_not_allowed(frame), "What is not allowed", id="map-outside"),
        *_lines(frame, levels, system, used, limits),
        _no_such(frame),
        _axes(frame, system),
        _points(frame, chosen),
        _side(frame, levels, system),
    ]
    title = shown_map.result.study.title or shown_map.result.study.base.title
    heading = f"{title}: {shown_map.outcome.words}" if named else ""
    words = f"{shown_map.outcome.words} over {shown_map.x.name} and {shown_map.y.name}, with its limits."
    return chart_document(inside, heading, f"{title}: map", words, theme)


def _levels(of: Map, system: System) -> list[float]:
    """Round values (in the unit used inside) that part the bands; one band where the outcome is the same all over."""
    kind, values = of.outcome.quantity.kind, of.values[np.isfinite(of.values)]
    if not values.size:
        return []
    low, high = (shown(float(end), kind, system)[0] for end in (values.min(), values.max()))
    zero, one = shown(0.0, kind, system)[0], shown(1.0, kind, system)[0]
    if not high - low > 1e-9 * max(abs(low), abs(high), 1e-9):
        return [float(values.min())]
    step = round_step((high - low) / BANDS)
    ticks = [n * step for n in range(floor(low / step + 1e-9), ceil(high / step - 1e-9) + 1)]
    return [(tick - zero) / (one - zero) for tick in ticks]


def _bands(frame: _Frame, levels: Sequence[float]) -> list[str]:
    of, marks = frame.map, list[str]()
    count = max(len(levels) - 1, 1)
    for n, (low, high) in enumerate(pairwise(levels)):
        data = _area(frame, of.values, low, high)
        marks += [_filled(data, of.outcome, _share(n, count))] if data else []
    return marks


def _share(band: int, count: int) -> float:
    return PALEST + (DEEPEST - PALEST) * (band / max(count - 1, 1))


def _filled(data: str, outcome: Outcome, share: float) -> str:
    fill = f"var(--mv-{outcome.quantity.verb})"
    return element("path", d=data, fill=fill, fill_opacity=round(share, 3), fill_rule="evenodd", stroke="none")


def _area(frame: _Frame, values: Array, low: float, high: float) -> str:
    """Path data of where a grid is between two levels."""
    areas = areas_of(frame.map.across, frame.map.up, values, low, high)
    return "".join(through(frame.path(ring), closed=True) for area in areas for ring in area)


def _worst_margin(of: Map) -> Array | None:
    """Over the grid, the least margin to any limit, each as a share of how far it varies; NaN where one is missing."""
    margins = [of.margin(outcome.key) for outcome, _ in of.limited]
    if not margins:
        return None
    sizes = [np.nanmax(np.abs(m), initial=0.0) if np.isfinite(m).any() else 1.0 for m in margins]
    return np.min([m / (size or 1.0) for m, size in zip(margins, sizes, strict=True)], axis=0)


def _not_allowed(frame: _Frame) -> list[str]:
    worst = _worst_margin(frame.map)
    if worst is None or not (worst < 0).any():
        return []
    data = _area(frame, worst, -1e9, 0.0)
    return [element("path", d=data, class_="mv-forbidden", fill_rule="evenodd")] if data else []


def _no_such(frame: _Frame) -> str:
    """The reason that is met most often, written where no such brake is."""
    of = frame.map
    codes = of.grid(of.result.reason.astype(np.float64))
    missing = codes > 0
    if not missing.any():
        return ""
    which = Reason(int(np.bincount(codes[missing].astype(np.intp)).argmax()))
    place = _deepest(codes == which)
    x, y = float(frame.x(float(of.across[place[1]]))), float(frame.y(float(of.up[place[0]])))
    texts = [Text(row, x, y + 24 * n, "note", "middle") for n, row in enumerate(rows(which.words, 260, "note"))]
    half = max(text.width for text in texts) / 2 + 8
    top, bottom = texts[0].box[1], texts[-1].box[3]
    down = max(TOP + 6 - top, 0.0) - max(bottom - BOTTOM + 6, 0.0)
    moved = [text.at(min(max(x, LEFT + half), RIGHT - half), text.y + down, "middle") for text in texts]
    return group([*(plate(text) for text in moved), *(text.svg() for text in moved)], "No such brake", id="map-missing")


def _deepest(where: np.ndarray) -> tuple[int, int]:
    """The place in an area that is farthest from its edge."""
    from scipy import ndimage

    scipy: Any = ndimage
    depth = np.asarray(scipy.distance_transform_cdt(np.pad(where, 1)))[1:-1, 1:-1]
    row, column = np.unravel_index(int(np.argmax(depth)), depth.shape)
    return int(row), int(column)


def _lines(frame: _Frame, levels: Sequence[float], system: System, used: list[Bounds], limits: str) -> list[str]:
    """The lines between the bands, the limits over them, and the lines' values where there is room."""
    of, marks, words = frame.map, "", list[Text]()
    kind = of.outcome.quantity.kind
    step = shown(levels[1] - levels[0], kind, system)[0] - shown(0.0, kind, system)[0] if len(levels) > 1 else 1.0
    for level in levels:
        for n, path in enumerate(of.lines(level)):
            points = frame.path(path)
            marks += line(points, f"mv-tick mv-line-{of.outcome.quantity.verb}")
            text = _on_line(_figure(level, kind, system, step), points, used) if n == 0 else None
            if text is not None:
                words.append(text)
                used.append(text.box)
    values = [*(plate(t) for t in words), *(t.svg() for t in words)]
    lines = group([marks], "Lines of equal outcome", id="map-lines")
    return [lines, limits, group(values, "Values of the lines", id="map-values")]


def _figure(value: float, kind: KindName, system: System, step: float) -> str:
    return f"{shown(value, kind, system)[0]:,.{decimals(abs(step))}f}".replace(",", " ").replace("-", "\u2212")


def _on_line(words: str, points: Sequence[tuple[float, float]], used: Sequence[Bounds]) -> Text | None:
    """A text on a line where it stands clear of the frame and of other texts; None where there is no such place."""
    if len(points) < 8:
        return None
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9):
        x, y = points[int(share * (len(points) - 1))]
        text = Text(words, x, y + 6, "note", "middle")
        if _clear(text.box, used):
            return text
    return None


def _clear(box: Bounds, used: Sequence[Bounds]) -> bool:
    left, top, right, bottom = box
    if left < LEFT + 4 or right > RIGHT - 4 or top < TOP + 4 or bottom > BOTTOM - 4:
        return False
    return all(left > b[2] + 6 or right < b[0] - 6 or top > b[3] + 4 or bottom < b[1] - 4 for b in used)


NUMBERED_FROM = 90.0
"""A line shorter than this has its number only where it is the limit's only one."""


def _limits(frame: _Frame) -> tuple[str, list[Bounds]]:
    """Every limit that is met on the map, as stops with its number; and the room that these take."""
    marks, numbers, used, lines = "", "", list[Bounds](), list[Bounds]()
    for number, (outcome, _) in enumerate(met(frame.map), start=1):
        for n, points in enumerate(frame.path(path) for path in frame.map.limit_lines(outcome.key)):
            marks += line(points, "mv-stop")
            lines += [(x - 3, y - 3, x + 3, y + 3) for x, y in points]
            if n == 0 or _length(points) > NUMBERED_FROM:
                x, y = _number_place(points, used)
                numbers += element("circle", cx=round(x, 1), cy=round(y, 1), r=13.0, class_="mv-number")
                numbers += Text(str(number), x, y + 6, "note", "middle").svg()
                used.append((x - 13, y - 13, x + 13, y + 13))
    return group([marks, numbers], "Limits", id="map-limits"), used + lines


def _length(points: Sequence[tuple[float, float]]) -> float:
    steps = np.diff(np.asarray(points), axis=0)
    return float(np.hypot(steps[:, 0], steps[:, 1]).sum())


def _number_place(points: Sequence[tuple[float, float]], used: Sequence[Bounds]) -> tuple[float, float]:
    for share in np.linspace(0.12, 0.88, 20):
        x, y = points[int(share * (len(points) - 1))]
        if _clear((x - 13, y - 13, x + 13, y + 13), used):
            return x, y
    return points[len(points) // 2]


def met(of: Map) -> list[tuple[Outcome, Limit]]:
    """Return the outcomes whose limit is met somewhere on a map."""
    return [(o, limit) for o, limit in of.limited if lines_of(of.across, of.up, of.margin(o.key), 0.0)]


def _axes(frame: _Frame, system: System) -> str:
    of, marks = frame.map, ""
    box = [(LEFT, TOP), (LEFT, BOTTOM), (RIGHT, BOTTOM), (RIGHT, TOP)]
    marks += line(box, "mv-scale", closed=True)
    for value, word in _ticks(of.x, of.across, system):
        x = float(frame.x(value))
        marks += line([(x, BOTTOM), (x, BOTTOM + 8)], "mv-tick") + Text(word, x, BOTTOM + 34, "label", "middle").svg()
    for value, word in _ticks(of.y, of.up, system):
        y = float(frame.y(value))
        marks += line([(LEFT - 8, y), (LEFT, y)], "mv-tick") + Text(word, LEFT - 14, y + 8, "label", "end").svg()
    marks += Text(_axis_name(of.x, system), RIGHT, BOTTOM + 70, "label", "end").svg()
    marks += Text(_axis_name(of.y, system), 40, TOP - 14, "label").svg()
    return group([marks], "Axes", id="map-axes")


def _axis_name(parameter: Parameter, system: System) -> str:
    unit = "" if parameter.words else unit_word(parameter.kind, system)
    name = parameter.name[0].upper() + parameter.name[1:]
    return ", ".join(part for part in (name, unit) if part)


def _ticks(parameter: Parameter, figures: Array, system: System) -> list[tuple[float, str]]:
    if parameter.words or parameter.spread.words == "list":
        return [(v, parameter.text(v) or quantity(v, parameter.kind, system).split(" ")[0]) for v in figures.tolist()]
    kind = parameter.kind
    low, high = (shown(float(end), kind, system)[0] for end in (figures[0], figures[-1]))
    zero, one = shown(0.0, kind, system)[0], shown(1.0, kind, system)[0]
    step = round_step((high - low) / 7)
    ticks = [n * step for n in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1)]
    return [((tick - zero) / (one - zero), f"{tick:,.{decimals(step)}f}".replace(",", " ")) for tick in ticks]


def _points(frame: _Frame, chosen: Sequence[dict[str, float]]) -> str:
    """The base where it lies on the map, and points of one's own, each with a letter."""
    of, marks = frame.map, list[str]()
    own = [usual_value(of.result.study, p) == of.result.study.base.values.get(p.key) for p in (of.x, of.y)]
    if all(own):
        marks += _mark(frame, {p.key: usual_value(of.result.study, p) for p in (of.x, of.y)}, "base")
    for n, values in enumerate(chosen):
        marks += _mark(frame, values, chr(ord("A") + n))
    return group(marks, "Points", id="map-points") if marks else ""


def _mark(frame: _Frame, values: dict[str, float], word: str) -> list[str]:
    x, y = float(frame.x(values[frame.map.x.key])), float(frame.y(values[frame.map.y.key]))
    end = x > RIGHT - 90
    text = Text(word, x + (-16 if end else 16), y + 7, "label", "end" if end else "start")
    dot = element("circle", cx=round(x, 1), cy=round(y, 1), r=7.0, class_="mv-number")
    cross = line([(x - 12, y), (x + 12, y)], "mv-scale") + line([(x, y - 12), (x, y + 12)], "mv-scale")
    return [cross, dot, plate(text), text.svg()]


def _side(frame: _Frame, levels: Sequence[float], system: System) -> str:
    """The words beside the map: its scale, the numbered limits, and what is held."""
    of = frame.map
    kind, texts, marks = of.outcome.quantity.kind, list[Text](), ""
    unit = unit_word(kind, system).replace("degF", "°F").replace("degC", "°C")
    name = of.outcome.words[0].upper() + of.outcome.words[1:]
    y = TOP + 12
    for row in rows(", ".join(part for part in (name, unit) if part), ROOM, "figure"):
        texts.append(Text(row, SIDE, y, "figure"))
        y += 30
    step = shown(levels[1] - levels[0], kind, system)[0] - shown(0.0, kind, system)[0] if len(levels) > 1 else 1.0
    for n, (low, high) in enumerate(pairwise(levels)):
        box = element("rect", x=SIDE, y=y - 16, width=44, height=22, stroke="none", fill="var(--mv-paper)")
        colour = f"var(--mv-{of.outcome.quantity.verb})"
        share = round(_share(n, len(levels) - 1), 3)
        marks += box + element("rect", x=SIDE, y=y - 16, width=44, height=22, fill=colour, fill_opacity=share)
        words = " to ".join(_figure(end, kind, system, step) for end in (low, high))
        texts.append(Text(words, SIDE + 56, y + 2, "label"))
        y += 25
    y += 18
    for number, (outcome, limit) in enumerate(met(of), start=1):
        marks += element("circle", cx=SIDE + 13, cy=y - 7, r=13.0, class_="mv-number")
        texts.append(Text(str(number), SIDE + 13, y - 1, "note", "middle"))
        for row in rows(limit_words(outcome, limit, system), ROOM - 36, "note"):
            texts.append(Text(row, SIDE + 36, y, "note"))
            y += 22
        y += 8
    y += 8
    if _worst_margin(of) is not None:
        marks += element("rect", x=SIDE, y=y - 18, width=44, height=24, class_="mv-forbidden")
        marks += element("rect", x=SIDE, y=y - 18, width=44, height=24, class_="mv-scale")
        texts.append(Text("outside a limit", SIDE + 56, y, "label"))
        y += 34
    held = [f"{_name(of, key)} {_held(of, key, value, system)}" for key, value in of.held.items()]
    given = [f"Held: {', '.join(held)}."] if held else []
    given.append(f"The rest as in {of.result.study.base.title}.")
    small = [row for words in (*given, *FOOT) for row in rows(words, ROOM, "note")]
    y = max(y, BOTTOM + 70 - 22 * (len(small) - 1))
    for row in small:
        texts.append(Text(row, SIDE, y, "note"))
        y += 22
    return group([marks, *(text.svg() for text in texts)], "What it shows", id="map-words")


def _name(of: Map, key: str) -> str:
    return of.result.study.parameter(key).name


def _held(of: Map, key: str, value: float, system: System) -> str:
    parameter = of.result.study.parameter(key)
    return parameter.text(value) or quantity(value, parameter.kind, system)


def map_file(of: Map, output: FilePath, system: System) -> bytes:
    """Return the map as the bytes of a file of that name. Raises `MechvizError` for a kind that it cannot write."""

    def draw(theme: ThemeName, named: bool) -> str:
        return map_chart(of, system, theme, named=named)

    study = of.result.study
    return chart_bytes(draw, output, study.title or study.base.title, f"Map of {of.outcome.words}", ())
