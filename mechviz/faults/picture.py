"""A brake with defects beside the same brake without: two mechanisms at one scale, and the words beside them."""

from dataclasses import replace

from geometry.defects import felt
from geometry.setup import Setup
from mechviz.drawing.compare import COLUMN, Compared, side_by_side
from mechviz.drawing.layout import MARGIN
from mechviz.drawing.lettering import SIZES, Size, Text, folded
from mechviz.drawing.note import Note
from mechviz.drawing.panel import WIDTH as PANEL
from mechviz.drawing.panel import Panel
from mechviz.drawing.scene import scene_at
from mechviz.drawing.words import figure
from mechviz.faults.study import Row, drawn_setup
from mechviz.look.colours import ThemeName

TOP = 118.0
LEADING = 1.22
_LARGE: tuple[Size, Size] = ("label", "figure")
_SMALL: tuple[Size, Size] = ("note", "label")
MANY = 3
"""More defects than these are written in small letters."""


def faults_picture(setup: Setup, sound: Row, sick: Row, theme: ThemeName = "light", *, named: bool = True) -> Compared:
    """Return the brake as found and with defects, applied, side by side, with what shows from outside.

    Where a shoe is frozen the cam does not turn, which the mechanism's picture cannot show: it is drawn released.
    """
    at = "released" if sick.wheel.blocked else "applied"
    panels = [_panel(setup, sound, at), _panel(setup, sick, at)]
    pressure = figure(setup.test.pressure, "pressure", setup.system)
    heading = "each released" if sick.wheel.blocked else f"each applied at {pressure}"
    return side_by_side(setup, panels, heading, theme, (_words(sick),), named=named)


def _panel(setup: Setup, row: Row, at: str) -> Panel:
    brake, condition = felt(row.wheel)
    own = drawn_setup(setup, row.wheel)
    drawn = scene_at(replace(own, brake=brake), condition, at)
    released = scene_at(own, row.wheel.condition, "released")
    words = "everything else as found" if row.defects else "no defect added"
    name = row.title if len(row.defects) < 2 else f"{len(row.defects)} defects together"
    return Panel(drawn, name, words, released)


def _words(sick: Row) -> Note:
    """What each defect does inside, and what shows, in the third column."""
    x, y, texts = MARGIN + 2 * COLUMN, TOP, list[Text]()
    for words, size, after in _paragraphs(sick):
        for row in folded(words, PANEL, size):
            texts.append(Text(row, x, y, size))
            y += LEADING * SIZES[size]
        y += after
    return Note("outside", "What the defect does and what shows", texts=tuple(texts))


def _paragraphs(sick: Row) -> list[tuple[str, Size, float]]:
    """Words, their size, and the room after them; smaller where there are many."""
    found = list[tuple[str, Size, float]]()
    size, head = _LARGE if len(sick.defects) <= MANY else _SMALL
    for one in sick.defects:
        if len(sick.defects) > 1:
            found.append((one.title, head, 4.0))
        found.append((f"Inside: {one.inside}", size, 6.0))
        found.append((f"Outside: {one.outside}", size, 22.0))
    return found
