"""Paper sizes."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from mechviz.export.errors import refused

PageName = Literal["a4", "letter"]

MM_PER_POINT = 25.4 / 72


@dataclass(frozen=True)
class Page:
    """A sheet of paper, millimetres; wider than high is landscape."""

    width: float
    height: float

    def turned_for(self, width: float, height: float) -> "Page":
        """Return the sheet in landscape for a drawing that is wider than high, else in portrait."""
        short, long = sorted((self.width, self.height))
        return Page(long, short) if width >= height else Page(short, long)


PAGES: Mapping[PageName, Page] = {"a4": Page(297, 210), "letter": Page(279.4, 215.9)}

MARGIN = 11.0
"""Millimetres round the page that most printers cannot reach, and a little air."""


def page_called(name: str) -> Page:
    """Return a page by its name. Raises `ExportError` for a size that there is not."""
    for known, page in PAGES.items():
        if known == name.strip().lower():
            return page
    raise refused("page", "is no paper size that this can print", "use a4 or letter", name)
