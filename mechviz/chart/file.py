"""A chart as the bytes of a file: SVG, PNG, or a PDF sheet to print."""

from collections.abc import Callable, Sequence
from pathlib import Path

from geometry.errors import Fault, MechvizError
from mechviz.chart.frame import WIDTH
from mechviz.drawing.lettering import Text, fitted
from mechviz.drawing.picture import document
from mechviz.look.colours import PRINT, ThemeName

PIXELS = 1920
SUFFIXES = (".svg", ".png", ".pdf")
SCALE = 1.0

Draw = Callable[[ThemeName, bool], str]
"""(theme, whether the chart says its own title) -> SVG."""


def chart_document(inside: Sequence[str], heading: str, title: str, words: str, theme: ThemeName) -> str:
    """Return a whole chart; ``heading`` stands over it (none if empty), ``title`` and ``words`` are read out."""
    head = fitted(Text(heading, 40, 48), WIDTH - 80, ("heading", "figure", "label")).svg() if heading else ""
    return document("".join([head, *inside]), title, words, WIDTH, SCALE, theme)


def chart_bytes(draw: Draw, output: Path, title: str, subtitle: str, cautions: Sequence[str]) -> bytes:
    """Return a chart as the bytes of a file of that name. Raises `MechvizError` for a kind that it cannot write."""
    suffix = output.suffix.lower()
    if suffix not in SUFFIXES:
        problem, fix = f"{output.name} is no picture that this can write", "use .svg, .png or .pdf"
        raise MechvizError(Fault("--output", problem, fix, kind="number"))
    printed = suffix == ".pdf"
    svg = draw(PRINT if printed else "light", not printed)
    if suffix == ".svg":
        return svg.encode("utf-8")
    from mechviz.export import Sheet, print_sheet, svg_to_png

    if suffix == ".png":
        return svg_to_png(svg, PIXELS, "light")
    return print_sheet(svg, Sheet(title=title, subtitle=subtitle, cautions=cautions), "a4")
