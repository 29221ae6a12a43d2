"""The best choices as a plot: what the frontier gives, in our look."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from bokeh.models import ColumnDataSource

from apps.web.designer.frontier import Box, Frontier
from apps.web.designer.plotting import BOLD, WORDS, Tapped, dressed, marks, plain_figure
from mechviz.look.colours import ThemeName, colours


class FrontPlot:
    """Two outcomes against each other: all points, those that nothing beats marked, limits and what is beyond them."""

    def __init__(self, tapped: Tapped) -> None:
        self.plot = plain_figure("front", tapped)
        self.theme: ThemeName = "light"
        self.sources: dict[str, Any] = {
            name: ColumnDataSource(data={"x": [], "y": [], "words": [], "marker": []})
            for name in ("outside", "inside", "front", "point", "picks", "limit words")
        }
        corners = {"left": [], "right": [], "bottom": [], "top": []}
        self.sources |= {name: ColumnDataSource(data=dict(corners)) for name in ("beyond", "limits")}
        at, plot = self.sources, self.plot
        box = ("left", "right", "bottom", "top")
        self.glyphs: dict[str, Any] = {
            "beyond": plot.quad(
                *box, source=at["beyond"], fill_alpha=0.05, line_color=None,
                hatch_pattern="right_diagonal_line", hatch_scale=9, hatch_weight=1.2,
            ),
            "limits": plot.segment("left", "bottom", "right", "top", source=at["limits"], line_width=4),
            "outside": plot.scatter("x", "y", source=at["outside"], marker="x", size=5),
            "inside": plot.scatter("x", "y", source=at["inside"], marker="circle", size=4),
            "step": plot.line("x", "y", source=at["front"], line_width=3),
            "front": plot.scatter("x", "y", source=at["front"], marker="diamond", size=8, line_width=1),
            "point": plot.scatter("x", "y", source=at["point"], marker="circle_dot", size=17, line_width=3),
            "picks": plot.scatter("x", "y", source=at["picks"], marker="marker", size=15, line_width=2.5),
        }  # fmt: skip
        words = {**WORDS, **BOLD, "padding": 3}
        self.glyphs["limit words"] = plot.text("x", "y", "words", source=at["limit words"], **words)
        self.glyphs["pick words"] = plot.text("x", "y", "words", source=at["picks"], x_offset=12, **words)
        self.dress("light")

    def dress(self, theme: ThemeName) -> None:
        """Take a theme's colours."""
        self.theme, look = theme, colours(theme)
        dressed(self.plot, look)
        for name, colour in (("outside", "rule"), ("inside", "push"), ("step", "turn"), ("front", "turn")):
            self.glyphs[name].glyph.line_color = look[colour]
        self.glyphs["inside"].glyph.fill_color = look["push"]
        self.glyphs["front"].glyph.fill_color = look["turn"]
        for name in ("point", "picks"):
            self.glyphs[name].glyph.line_color, self.glyphs[name].glyph.fill_color = look["ink"], look["paper"]
        for name in ("limit words", "pick words"):
            glyph = self.glyphs[name].glyph
            glyph.text_color, glyph.background_fill_color = look["ink"], look["paper"]
        beyond, limits = self.glyphs["beyond"].glyph, self.glyphs["limits"].glyph
        beyond.fill_color = beyond.hatch_color = limits.line_color = look["ink"]
        beyond.hatch_alpha = 0.4

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
        edges = [one.corners(found.ends) for one in found.limits]
        self.sources["beyond"].data = _corners([beyond for beyond, _ in edges])
        self.sources["limits"].data = _corners([line for _, line in edges])
        data = found.limit_words
        self.sources["limit words"].data = data | {"marker": [""] * len(data["x"])}

    def mark(self, point: tuple[float, float] | None, picks: Sequence[tuple[str, float, float]]) -> None:
        """Mark the point that stands there and the ones that are kept, by their outcomes."""
        good = [one for one in picks if np.isfinite(one[1:]).all()]
        places = [point] if point is not None and np.isfinite(point).all() else []
        self.sources["point"].data = marks(places, [""])
        self.sources["picks"].data = marks([one[1:] for one in good], [one[0] for one in good])


def _corners(boxes: Sequence[Box]) -> dict[str, list[float]]:
    return {name: [box[n] for box in boxes] for n, name in enumerate(("left", "right", "bottom", "top"))}
