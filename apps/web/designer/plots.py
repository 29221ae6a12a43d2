"""The two plots over plain axes, in our look: the map, and the best choices; they draw what others work out."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np
from bokeh.events import Tap
from bokeh.models import BoxAnnotation, ColumnDataSource, FixedTicker, Range1d, Span
from bokeh.plotting import figure

from apps.web.designer.field import Area, Axis, Field, Line, bands, level_lines, limit_lines, missing, not_allowed
from apps.web.designer.frontier import Frontier
from geometry.quantity import System
from mechviz.look import FAMILY
from mechviz.look.colours import ThemeName, blend, colours
from mechviz.report.written import unit_word

SMALL, TEXT = "14px", "15px"
Tapped = Callable[[float, float], None]
MARKERS = ("square", "triangle", "diamond", "hex")
"""Of the picks, by their letters."""
STRONGEST = 0.62
"""Share of the verb's colour that the last band of a map has: words over it stay legible."""


def _figure(name: str, tapped: Tapped) -> Any:
    made = figure(
        name=name,
        tools="",
        toolbar_location=None,
        sizing_mode="stretch_width",
        height=460,
        min_border=8,
        min_border_right=24,
        x_range=Range1d(0, 1),
        y_range=Range1d(0, 1),
    )
    made.on_event(Tap, lambda event: tapped(event.x, event.y))
    return made


def _dressed(plot: Any, look: Mapping[str, str]) -> None:
    """Put a plot into the look of a theme."""
    plot.background_fill_color = plot.border_fill_color = look["paper"]
    plot.outline_line_color = look["rule"]
    plot.grid.grid_line_color = look["grid"]
    for axis in plot.axis:
        axis.axis_line_color = axis.major_tick_line_color = look["rule"]
        axis.minor_tick_line_color = None
        axis.major_label_text_color = axis.axis_label_text_color = look["ink"]
        axis.major_label_text_font = axis.axis_label_text_font = FAMILY
        axis.major_label_text_font_size, axis.axis_label_text_font_size = SMALL, TEXT
        axis.axis_label_text_font_style = "normal"


def _polygons(areas: Sequence[Area]) -> dict[str, Any]:
    """Columns of a source of polygons: for each area its polygons, for each the outer ring and the holes."""
    xs = [[[ring[0] for ring in polygon] for polygon in area.polygons] for area in areas]
    ys = [[[ring[1] for ring in polygon] for polygon in area.polygons] for area in areas]
    return {"xs": xs, "ys": ys}


def _lines(lines: Sequence[Line]) -> dict[str, Any]:
    return {"xs": [p[0] for one in lines for p in one.pieces], "ys": [p[1] for one in lines for p in one.pieces]}


def _words(lines: Sequence[Line]) -> dict[str, Any]:
    return {"x": [one.at[0] for one in lines], "y": [one.at[1] for one in lines], "words": [one.words for one in lines]}


class MapPlot:
    """The map: bands and lines of one outcome, limits with name and source, what is not allowed hatched."""

    def __init__(self, tapped: Tapped) -> None:
        self.plot = _figure("map", tapped)
        self.theme: ThemeName = "light"
        names = ("bands", "hatch", "levels", "limits", "cross", "now", "point", "picks", "level words", "limit words")
        self.sources = {name: ColumnDataSource() for name in names}
        self._field: Field | None = None
        self._draw()
        self.dress("light")

    def _draw(self) -> None:
        plot, at = self.plot, self.sources
        at["bands"].data = {"xs": [], "ys": [], "share": [], "colour": []}
        at["cross"].data = {"xs": [], "ys": []}
        for name in ("hatch", "levels", "limits"):
            at[name].data = {"xs": [], "ys": []}
        for name in ("now", "point", "picks", "level words", "limit words"):
            at[name].data = {"x": [], "y": [], "words": [], "marker": []}
        self.glyphs: dict[str, Any] = {
            "bands": plot.multi_polygons("xs", "ys", source=at["bands"], fill_color="colour", line_color=None),
            "hatch": plot.multi_polygons(
                "xs", "ys", source=at["hatch"], fill_alpha=0.06, line_color=None,
                hatch_pattern="right_diagonal_line", hatch_scale=9, hatch_weight=1.2,
            ),
            "levels": plot.multi_line("xs", "ys", source=at["levels"], line_width=1.2),
            "limits": plot.multi_line("xs", "ys", source=at["limits"], line_width=4),
            "cross": plot.multi_line("xs", "ys", source=at["cross"], line_width=1.2, line_dash="dashed"),
        }  # fmt: skip
        plot.grid.visible = False
        words = {
            "text_font": {"value": FAMILY},
            "text_font_size": SMALL,
            "text_align": "center",
            "text_baseline": "middle",
        }
        for name in ("level words", "limit words"):
            bold = {"text_font_style": "bold"} if name == "limit words" else {}
            self.glyphs[name] = plot.text(
                "x", "y", "words", source=at[name], padding=3, border_radius=3, **words, **bold
            )
        self.glyphs["now"] = plot.scatter("x", "y", source=at["now"], marker="circle", size=13, line_width=2.5)
        self.glyphs["point"] = plot.scatter("x", "y", source=at["point"], marker="circle_dot", size=17, line_width=3)
        self.glyphs["picks"] = plot.scatter("x", "y", source=at["picks"], marker="marker", size=15, line_width=2.5)
        beside = {**words, "text_font_style": "bold", "padding": 2}
        for name, align, off in (("now", "right", -12), ("picks", "left", 12)):
            key, side = f"{name} words", {**beside, "text_align": align, "x_offset": off}
            self.glyphs[key] = plot.text("x", "y", "words", source=at[name], **side)

    def dress(self, theme: ThemeName) -> None:
        """Take a theme's colours."""
        self.theme, look = theme, colours(theme)
        _dressed(self.plot, look)
        self.glyphs["hatch"].glyph.hatch_color = self.glyphs["hatch"].glyph.fill_color = look["ink"]
        self.glyphs["hatch"].glyph.hatch_alpha = 0.55
        for name, colour in (("levels", "rule"), ("limits", "ink"), ("cross", "ink")):
            self.glyphs[name].glyph.line_color = look[colour]
        for name in ("now", "point", "picks"):
            self.glyphs[name].glyph.line_color, self.glyphs[name].glyph.fill_color = look["ink"], look["paper"]
        for name in ("level words", "limit words", "now words", "picks words"):
            glyph = self.glyphs[name].glyph
            glyph.text_color, glyph.background_fill_color = look["ink"], look["paper"]
        if self._field is not None:
            self._colour(self._field)

    def show(self, field: Field, now: tuple[float, float] | None) -> None:
        """Show a map; ``now`` is where the brake as it is stands on it."""
        self._field = field
        system = field.result.study.base.system
        _along(self.plot.xaxis[0], self.plot.x_range, field.across, system)
        _along(self.plot.yaxis[0], self.plot.y_range, field.up, system)
        self._colour(field)
        gone = missing(field)
        self.sources["hatch"].data = _polygons([not_allowed(field)])
        lines, limits = level_lines(field), [line for _, line in limit_lines(field)]
        labelled = [*limits] + ([Line((), gone.words, gone.at)] if gone and gone.at else [])
        self.sources["levels"].data, self.sources["limits"].data = _lines(lines), _lines(limits)
        self.sources["level words"].data = _words(lines) | {"marker": [""] * len(lines)}
        self.sources["limit words"].data = _words([_clear(one, field) for one in labelled]) | {
            "marker": [""] * len(labelled)
        }
        self.sources["now"].data = _marks([now] if now else [], ["now"])

    def _colour(self, field: Field) -> None:
        look = colours(self.theme)
        found = bands(field)
        full = look[field.outcome.quantity.verb]
        tints = [blend(full, look["paper"], 0.04 + STRONGEST * share) for share, _ in found]
        self.sources["bands"].data = _polygons([area for _, area in found]) | {
            "share": [share for share, _ in found],
            "colour": tints,
        }

    def mark(self, point: tuple[float, float] | None, picks: Sequence[tuple[str, float, float]]) -> None:
        """Mark the point that stands there, with a cross through it, and the ones that are kept."""
        x_range, y_range = self.plot.x_range, self.plot.y_range
        if point is None:
            self.sources["cross"].data = {"xs": [], "ys": []}
        else:
            self.sources["cross"].data = {
                "xs": [[x_range.start, x_range.end], [point[0], point[0]]],
                "ys": [[point[1], point[1]], [y_range.start, y_range.end]],
            }
        self.sources["point"].data = _marks([point] if point else [], [""])
        self.sources["picks"].data = _marks([one[1:] for one in picks], [one[0] for one in picks])


def _clear(line: Line, field: Field) -> Line:
    """A line whose words stand clear of the map's sides."""
    low, high = float(field.across.shown.min()), float(field.across.shown.max())
    bottom, top = float(field.up.shown.min()), float(field.up.shown.max())
    x = min(max(line.at[0], low + 0.3 * (high - low)), high - 0.3 * (high - low))
    y = min(max(line.at[1], bottom + 0.06 * (top - bottom)), top - 0.06 * (top - bottom))
    return Line(line.pieces, line.words.replace(" (", "\n(", 1).replace(": ", ":\n", 1), (x, y))


def _marks(places: Sequence[tuple[float, float]], words: Sequence[str]) -> dict[str, Any]:
    letters = dict(zip("ABCD", MARKERS, strict=True))
    return {
        "x": [x for x, _ in places],
        "y": [y for _, y in places],
        "words": list(words[: len(places)]),
        "marker": [letters.get(word, "circle") for word in words[: len(places)]],
    }


def _along(axis: Any, extent: Any, of: Axis, system: System) -> None:
    """Set an axis to a dimension; a list has its words for ticks."""
    extent.start, extent.end = float(of.shown.min()), float(of.shown.max())
    unit = unit_word(of.parameter.kind, system)
    axis.axis_label = ", ".join(word for word in (of.parameter.name, unit) if word)
    if of.words:
        axis.ticker = FixedTicker(ticks=list(range(len(of.words))))
        axis.major_label_overrides = dict(enumerate(of.words))


class FrontPlot:
    """Two outcomes against each other: all points, those that nothing beats marked, limits and what is beyond them."""

    def __init__(self, tapped: Tapped) -> None:
        self.plot = _figure("front", tapped)
        self.theme: ThemeName = "light"
        self.sources = {
            name: ColumnDataSource(data={"x": [], "y": [], "words": [], "marker": []})
            for name in ("outside", "inside", "front", "point", "picks", "limit words")
        }
        at, plot = self.sources, self.plot
        self.spans: list[Any] = []
        self.glyphs: dict[str, Any] = {
            "outside": plot.scatter("x", "y", source=at["outside"], marker="x", size=5),
            "inside": plot.scatter("x", "y", source=at["inside"], marker="circle", size=4),
            "step": plot.line("x", "y", source=at["front"], line_width=3),
            "front": plot.scatter("x", "y", source=at["front"], marker="diamond", size=8, line_width=1),
            "point": plot.scatter("x", "y", source=at["point"], marker="circle_dot", size=17, line_width=3),
            "picks": plot.scatter("x", "y", source=at["picks"], marker="marker", size=15, line_width=2.5),
        }
        words = {"text_font": {"value": FAMILY}, "text_font_size": SMALL, "text_baseline": "middle", "padding": 3}
        bold = {"text_font_style": "bold"}
        self.glyphs["limit words"] = plot.text("x", "y", "words", source=at["limit words"], **words, **bold)
        self.glyphs["pick words"] = plot.text("x", "y", "words", source=at["picks"], x_offset=12, **words, **bold)
        self.limits: list[Any] = []
        self.dress("light")

    def dress(self, theme: ThemeName) -> None:
        """Take a theme's colours."""
        self.theme, look = theme, colours(theme)
        _dressed(self.plot, look)
        for name, colour in (("outside", "rule"), ("inside", "push"), ("step", "turn"), ("front", "turn")):
            self.glyphs[name].glyph.line_color = look[colour]
        self.glyphs["inside"].glyph.fill_color = look["push"]
        self.glyphs["front"].glyph.fill_color = look["turn"]
        for name in ("point", "picks"):
            self.glyphs[name].glyph.line_color, self.glyphs[name].glyph.fill_color = look["ink"], look["paper"]
        for name in ("limit words", "pick words"):
            glyph = self.glyphs[name].glyph
            glyph.text_color, glyph.background_fill_color = look["ink"], look["paper"]
        for one in self.limits:
            _limit_dress(one, look)

    def show(self, found: Frontier) -> None:
        """Show the points and the front."""
        for name in ("outside", "inside", "front"):
            x, y = getattr(found, name)
            nothing = [""] * len(x)
            self.sources[name].data = {"x": x, "y": y, "words": nothing, "marker": nothing}
        for axis, extent, name, ends in (
            (self.plot.xaxis[0], self.plot.x_range, found.names[0], found.ends[0]),
            (self.plot.yaxis[0], self.plot.y_range, found.names[1], found.ends[1]),
        ):
            axis.axis_label = name
            extent.start, extent.end = ends
        self._limits(found)

    def _limits(self, found: Frontier) -> None:
        look = colours(self.theme)
        for old in self.limits:
            old.visible = False
        self.plot.center = [one for one in self.plot.center if one not in self.limits]
        self.limits = []
        for limit in found.limits:
            dimension = "height" if limit.across else "width"
            low, high = limit.beyond
            box = {"left": low, "right": high} if limit.across else {"bottom": low, "top": high}
            made = [
                BoxAnnotation(
                    **box, fill_color=None, hatch_pattern="right_diagonal_line", hatch_scale=9, level="underlay"
                ),
                Span(location=limit.at, dimension=dimension, line_width=4),
            ]
            for one in made:
                _limit_dress(one, look)
                self.plot.add_layout(one)
            self.limits += made
        data = found.limit_words
        self.sources["limit words"].data = data | {"marker": [""] * len(data["x"])}

    def mark(self, point: tuple[float, float] | None, picks: Sequence[tuple[str, float, float]]) -> None:
        """Mark the point that stands there and the ones that are kept, by their outcomes."""
        good = [one for one in picks if np.isfinite(one[1:]).all()]
        places = [point] if point is not None and np.isfinite(point).all() else []
        self.sources["point"].data = _marks(places, [""])
        self.sources["picks"].data = _marks([one[1:] for one in good], [one[0] for one in good])


def _limit_dress(one: Any, look: Mapping[str, str]) -> None:
    if isinstance(one, Span):
        one.line_color = look["ink"]
    else:
        one.hatch_color, one.hatch_alpha, one.line_color = look["ink"], 0.35, None
