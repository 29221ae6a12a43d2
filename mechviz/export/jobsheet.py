"""The job sheet as a PDF: one upright page set from data, whatever stands in it."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import cast

from mechviz.export.drawing import read_drawing
from mechviz.export.flatten import flatten_css
from mechviz.export.pages import MARGIN, PageName, page_called
from mechviz.export.seamless import without_seams
from mechviz.export.typeset import TITLE_ROOM, breakable, tidy, typeset
from mechviz.look.colours import PRINT, colours
from mechviz.look.font import fractions


@dataclass(frozen=True)
class WheelBox:
    """One wheel's verdict: its mark's ``result``, the word, figures with their names, what was before, what is next."""

    name: str
    result: str
    word: str
    figures: Sequence[tuple[str, str]]
    before: str
    next: str


@dataclass(frozen=True)
class ResultLine:
    """One result: its mark, what was checked, the figures in words, and whose rule it is."""

    result: str
    name: str
    words: str
    source: str


@dataclass(frozen=True)
class ResultGroup:
    """Results under one heading; ``more`` says what was left out."""

    name: str
    rows: Sequence[ResultLine]
    more: str = ""


@dataclass(frozen=True)
class JobSheet:
    """What stands on the sheet. Texts may be anything a user wrote: they are set as they are.

    ``columns`` are the headings of the readings beside their names, ``readings`` rows of as many texts and one more;
    ``pictures`` are SVGs with their captions, side by side.
    """

    title: str
    subtitle: str
    wheels: Sequence[WheelBox]
    columns: Sequence[str]
    readings: Sequence[Sequence[str]]
    results: Sequence[ResultGroup]
    cautions: Sequence[str]
    mechanic: str
    note: str
    foot: str
    pictures: Sequence[tuple[str, str]] = ()


def print_job_sheet(sheet: JobSheet, page: PageName = "a4") -> bytes:
    """Return the sheet as a PDF: one page, tagged, without a date of its own, so that equal input gives equal bytes.

    Raises `ExportError` for a picture that cannot be read, and for more text than one page holds.
    """
    paper = page_called(page)
    words = {key: _set(value) for key, value in asdict(sheet).items() if key != "pictures"}
    data: dict[str, object] = {
        **words,
        "readings": [[name, *(_narrow(text) for text in texts)] for name, *texts in sheet.readings],
        "pictures": [_drawn(svg, caption) for svg, caption in sheet.pictures],
        "title": tidy(sheet.title, TITLE_ROOM) or "Job sheet",
        "heading": breakable(tidy(sheet.title, TITLE_ROOM)) or "Job sheet",
        "page": sorted((paper.width, paper.height)),
        "margin": MARGIN,
        "colours": colours(PRINT),
    }
    text = f"{words}{[caption + read_drawing(svg).text for svg, caption in sheet.pictures]}"
    return typeset("jobsheet.typ", data, text.replace("\\u200b", ""), "pdf")


def _drawn(svg: str, caption: str) -> dict[str, object]:
    """A picture made fit for print."""
    drawing = read_drawing(svg)
    return {
        "svg": flatten_css(without_seams(svg, drawing.height), PRINT),
        "size": [drawing.width, drawing.height],
        "alt": drawing.description or drawing.title,
        "caption": _set(caption),
    }


NARROW = 12
"""Characters that a column of readings surely holds."""


def _narrow(text: str) -> str:
    """A reading in which a long word may be broken so that it stays in its column."""
    words = fractions(tidy(text)).split()
    pieces = ([word[i : i + NARROW] for i in range(0, len(word), NARROW)] for word in words)
    return " ".join("\N{ZERO WIDTH SPACE}".join(parts) for parts in pieces)


def _set(value: object) -> object:
    """Every text of a structure made fit to be set: on one line, fractions as fractions, breakable."""
    if isinstance(value, str):
        return breakable(fractions(tidy(value)))
    if isinstance(value, Mapping):
        pairs = cast(Mapping[str, object], value)
        return {key: one if key == "result" else _set(one) for key, one in pairs.items()}
    if isinstance(value, list | tuple):
        return [_set(one) for one in cast(Sequence[object], value)]
    return value
