"""The map as a plot: what the field gives, in our look."""

from collections.abc import Sequence
from typing import Any

from bokeh.models import ColumnDataSource, FixedTicker

from apps.web.designer.field import Area, Axis, Field, Line, bands, level_lines, limit_lines, missing, not_allowed
from apps.web.designer.labels import DESK, labelled
from apps.web.designer.plotting import BOLD, WORDS, Tapped, dressed, marks, plain_figure
from geometry.quantity import System
from mechviz.look.colours import ThemeName, blend, colours
from mechviz.report.written import unit_word

STRONGEST = 0.62
"""Share of the verb's colour that the last band of a map has: words over it stay legible."""


def _polygons(areas: Sequence[Area]) -> dict[str, Any]:
    """Columns of a source of polygons: for each area its polygons, for each the outer ring and the holes."""
    xs = [[[ring[0] for ring in polygon] for polygon in area.polygons] for area in areas]
    ys = [[[ring[1] for ring in polygon] for polygon in area.polygons] for area in areas]
    return {"xs": xs, "ys": ys}


def _lines(lines: Sequence[Line]) -> dict[str, Any]:
    return {"xs": [p[0] for one in lines for p in one.pieces], "ys": [p[1] for one in lines for p in one.pieces]}


def _words(lines: Sequence[Line]) -> dict[str, Any]:
    x, y, words = [one.at[0] for one in lines], [one.at[1] for one in lines], [one.words for one in lines]
    return {"x": x, "y": y, "words": words, "marker": [""] * len(lines)}


class MapPlot:
    """The map: bands and lines of one outcome, limits with name and source, what is not allowed hatched."""

    def __init__(self, tapped: Tapped) -> None:
        self.plot = plain_figure("map", tapped)
        self.theme: ThemeName = "light"
        names = ("bands", "hatch", "levels", "limits", "cross", "now", "point", "picks", "level words", "limit words")
        self.sources: dict[str, Any] = {name: ColumnDataSource() for name in names}
        self._field: Field | None = None
        self.pixels = DESK
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
        words = {**WORDS, "text_align": "center"}
        for name in ("level words", "limit words"):
            bold = BOLD if name == "limit words" else {}
            self.glyphs[name] = plot.text(
                "x", "y", "words", source=at[name], padding=3, border_radius=3, **words, **bold
            )
        self.glyphs["now"] = plot.scatter("x", "y", source=at["now"], marker="circle", size=13, line_width=2.5)
        self.glyphs["point"] = plot.scatter("x", "y", source=at["point"], marker="circle_dot", size=17, line_width=3)
        self.glyphs["picks"] = plot.scatter("x", "y", source=at["picks"], marker="marker", size=15, line_width=2.5)
        beside = {**words, **BOLD, "padding": 2}
        for name, align, off in (("now", "right", -12), ("picks", "left", 12)):
            key, side = f"{name} words", {**beside, "text_align": align, "x_offset": off}
            self.glyphs[key] = plot.text("x", "y", "words", source=at[name], **side)

    def dress(self, theme: ThemeName) -> None:
        """Take a theme's colours."""
        self.theme, look = theme, colours(theme)
        dressed(self.plot, look)
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

    def show(self, field: Field, now: tuple[float, float] | None, marked: Sequence[tuple[float, float]] = ()) -> None:
        """Show a map; ``now`` is where the brake as it is stands on it, ``marked`` where words must not stand."""
        self._field = field
        system = field.result.study.base.system
        _along(self.plot.xaxis[0], self.plot.x_range, field.across, system)
        _along(self.plot.yaxis[0], self.plot.y_range, field.up, system)
        self._colour(field)
        gone = missing(field)
        self.sources["hatch"].data = _polygons([not_allowed(field)])
        levels, limits = level_lines(field), [line for _, line in limit_lines(field)]
        notes = [Line((), gone.words, gone.at)] if gone and gone.at else []
        self.sources["levels"].data, self.sources["limits"].data = _lines(levels), _lines(limits)
        limit_words, note_words, level_words = labelled(
            field, limits, notes, levels, [*marked, *([now] if now else [])], self.pixels
        )
        self.sources["limit words"].data = _words([*limit_words, *note_words])
        self.sources["level words"].data = _words(level_words)
        self.sources["now"].data = marks([now] if now else [], ["now"])

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
        self.sources["point"].data = marks([point] if point else [], [""])
        self.sources["picks"].data = marks([one[1:] for one in picks], [one[0] for one in picks])


def _along(axis: Any, extent: Any, of: Axis, system: System) -> None:
    """Set an axis to a dimension; a list has its words for ticks."""
    extent.start, extent.end = float(of.shown.min()), float(of.shown.max())
    unit = unit_word(of.parameter.kind, system)
    axis.axis_label = ", ".join(word for word in (of.parameter.name, unit) if word)
    if of.words:
        axis.ticker = FixedTicker(ticks=list(range(len(of.words))))
        axis.major_label_overrides = dict(enumerate(of.words))
