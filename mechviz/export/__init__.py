"""Any SVG of ours as a PDF, a PNG or a printed sheet.

A picture writes its colours as ``var(--mv-NAME)``; here a theme's values are written in, and typst typesets the rest.
Equal input gives equal bytes.
"""

from mechviz.export.errors import ExportError
from mechviz.export.flatten import flatten_css
from mechviz.export.pages import PAGES, PageName
from mechviz.export.picture import svg_to_pdf, svg_to_png
from mechviz.export.sheet import KeyFigure, Sheet, print_sheet

__all__ = [
    "PAGES",
    "ExportError",
    "KeyFigure",
    "PageName",
    "Sheet",
    "flatten_css",
    "print_sheet",
    "svg_to_pdf",
    "svg_to_png",
]
