"""What the plots share: their axes, their colours, their marks."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from bokeh.events import Tap
from bokeh.models import Range1d
from bokeh.plotting import figure

from mechviz.look import FAMILY

SMALL, TEXT = "14px", "15px"
Tapped = Callable[[float, float], None]
MARKERS = ("square", "triangle", "diamond", "hex")
"""Of the picks, by their letters."""
WORDS: Mapping[str, Any] = {"text_font": {"value": FAMILY}, "text_font_size": SMALL, "text_baseline": "middle"}
BOLD: Mapping[str, Any] = {"text_font_style": "bold"}


def plain_figure(name: str, tapped: Tapped) -> Any:
    """Return a plot with nothing but its axes, which says where it is pressed."""
    make: Any = figure
    extent: Any = Range1d
    made = make(
        name=name,
        tools="",
        toolbar_location=None,
        sizing_mode="stretch_width",
        height=460,
        min_border=8,
        min_border_right=24,
        x_range=extent(start=0, end=1),
        y_range=extent(start=0, end=1),
    )

    def heard(event: Any) -> None:
        if event.x is not None and event.y is not None:
            tapped(float(event.x), float(event.y))

    made.on_event(Tap, heard)
    return made


def dressed(plot: Any, look: Mapping[str, str]) -> None:
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


def marks(places: Sequence[tuple[float, float]], words: Sequence[str]) -> dict[str, Any]:
    """Return the columns of marked places, a letter having its own marker."""
    letters = dict(zip("ABCD", MARKERS, strict=True))
    return {
        "x": [x for x, _ in places],
        "y": [y for _, y in places],
        "words": list(words[: len(places)]),
        "marker": [letters.get(word, "circle") for word in words[: len(places)]],
    }
