"""An SVG as a PDF page or as a PNG."""

from mechviz.export.drawing import Drawing, read_drawing
from mechviz.export.errors import refused
from mechviz.export.flatten import flatten_css
from mechviz.export.pages import MARGIN, MM_PER_POINT, Page, PageName, page_called
from mechviz.export.seamless import without_seams
from mechviz.export.typeset import TITLE_ROOM, tidy, typeset
from mechviz.look.colours import PRINT, ThemeName, colours

PIXELS_AT_MOST = 100_000_000
WIDEST, NARROWEST = 16_384, 16


def svg_to_pdf(
    svg: str,
    page: PageName | None = "a4",
    title: str = "",
    alt: str = "",
    theme: ThemeName = PRINT,
) -> bytes:
    """Return a PDF of one page with the picture as large as it fits, in lines and letters, tagged.

    ``page`` turns to suit the picture; None makes a page as large as the picture, 1 unit to the point. ``title`` is the
    document's, ``alt`` what is read out in place of the picture; both are the SVG's own title and description where
    they are not given. Raises `ExportError`.
    """
    drawing = read_drawing(svg)
    paper, margin = _paper(drawing, page)
    data = {
        "svg": flatten_css(without_seams(svg, drawing.height), theme),
        "page": [paper.width, paper.height],
        "margin": margin,
        "ground": colours(theme)["paper"],
        **described(drawing, title, alt),
    }
    return typeset("picture.typ", data, drawing.text + str(data["title"]), "pdf")


def _paper(drawing: Drawing, page: PageName | None) -> tuple[Page, float]:
    """The page and its margin."""
    if page is None:
        return Page(drawing.width * MM_PER_POINT, drawing.height * MM_PER_POINT), 0.0
    return page_called(page).turned_for(drawing.width, drawing.height), MARGIN


def described(drawing: Drawing, title: str, alt: str) -> dict[str, str]:
    """Return the document's title and the words for the picture, never empty."""
    name = tidy(title, TITLE_ROOM) or tidy(drawing.title, TITLE_ROOM) or "Drawing of a drum brake"
    return {"title": name, "alt": tidy(alt) or drawing.description or drawing.title or name}


def svg_to_png(svg: str, width_px: int = 1920, theme: ThemeName = "light", *, ground: bool = True) -> bytes:
    """Return the picture as a PNG ``width_px`` wide, on the theme's ground or on none. Raises `ExportError`."""
    drawing = read_drawing(svg)
    height = max(1, round(width_px * drawing.height / drawing.width))
    if not NARROWEST <= width_px <= WIDEST or width_px * height > PIXELS_AT_MOST:
        raise refused("width", "makes no usable picture", f"use {NARROWEST} to {WIDEST} pixels", f"{width_px} px")
    data = {
        "svg": flatten_css(svg, theme),
        "page": [width_px * MM_PER_POINT, height * MM_PER_POINT],
        "margin": 0,
        "ground": colours(theme)["paper"] + ("" if ground else "00"),
        **described(drawing, "", ""),
    }
    return typeset("picture.typ", data, drawing.text, "png")
