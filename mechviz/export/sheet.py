"""The printed sheet: the picture, what it is, its key figures, its scale and the cautions, on one page."""

from collections.abc import Sequence
from dataclasses import dataclass

from mechviz.export.drawing import Drawing, read_drawing
from mechviz.export.flatten import flatten_css
from mechviz.export.pages import MARGIN, PageName, page_called
from mechviz.export.picture import described
from mechviz.export.seamless import without_seams
from mechviz.export.typeset import TITLE_ROOM, breakable, tidy, typeset
from mechviz.look.colours import PRINT, VerbName, colours
from mechviz.look.font import fractions


@dataclass(frozen=True)
class KeyFigure:
    """A figure with its name: ``value`` carries its unit, ``note`` the limit or verdict, ``verb`` whose it is."""

    name: str
    value: str
    note: str = ""
    verb: VerbName | None = None


@dataclass(frozen=True)
class Sheet:
    """What stands on the sheet beside the picture.

    Parameters
    ----------
    title, subtitle : str
        The vehicle, and the state that is drawn. Empty: the SVG's own title.
    figures : sequence of KeyFigure
        In the order in which they are read.
    cautions : sequence of str
        One sentence each; they stand in a bordered note.
    scale : str
        What the picture's scale is, where ``unit_mm`` does not say it.
    unit_mm : float, optional
        Millimetres of the brake that one unit of the SVG stands for, where the whole picture has one scale. The picture
        is then printed at the next round scale that fits, and the sheet says which.
    note : str
        Last line, small: where the figures come from.
    alt : str
        What is read out in place of the picture. Empty: the SVG's own description.
    """

    title: str = ""
    subtitle: str = ""
    figures: Sequence[KeyFigure] = ()
    cautions: Sequence[str] = ()
    scale: str = ""
    unit_mm: float | None = None
    note: str = ""
    alt: str = ""


def print_sheet(svg: str, sheet: Sheet, page: PageName = "a4") -> bytes:
    """Return the sheet as a PDF: one landscape page, tagged, without a date, ready for a printer in black and white.

    Raises `ExportError` for a picture that cannot be read and for more text than one page holds.
    """
    drawing, paper = read_drawing(svg), page_called(page)
    words = _words(drawing, sheet)
    data = {
        "svg": flatten_css(without_seams(svg, drawing.height), PRINT),
        "size": [drawing.width, drawing.height],
        "unit_mm": sheet.unit_mm,
        "page": [paper.width, paper.height],
        "margin": MARGIN,
        "colours": colours(PRINT),
        **words,
    }
    return typeset("sheet.typ", data, drawing.text + str(words), "pdf")


def _words(drawing: Drawing, sheet: Sheet) -> dict[str, object]:
    """Everything that is read, made fit to be set."""
    about = described(drawing, sheet.title, sheet.alt)
    return {
        **about,
        "heading": breakable(about["title"]),
        "subtitle": breakable(tidy(sheet.subtitle, TITLE_ROOM)),
        "figures": [
            {"name": _set(f.name), "value": _set(f.value), "note": _set(f.note), "colour": f.verb or "ink"}
            for f in sheet.figures
        ],
        "cautions": [_set(caution) for caution in sheet.cautions],
        "scale": _set(sheet.scale),
        "note": _set(sheet.note),
    }


def _set(text: str) -> str:
    """A text with its tape fractions set as fractions."""
    return breakable(fractions(tidy(text)))
