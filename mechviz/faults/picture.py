"""A brake with defects beside the same brake without: two mechanisms at one scale, and beside them what changed."""

from collections.abc import Iterator
from dataclasses import dataclass

from geometry.setup import Setup
from mechviz.drawing.compare import APART, Compared, side_by_side
from mechviz.drawing.layout import HEIGHT, MARGIN, WIDTH
from mechviz.drawing.lettering import SIZES, Rank, Size, Text, folded
from mechviz.drawing.note import Note
from mechviz.drawing.panel import Panel
from mechviz.drawing.words import NONE, figure
from mechviz.faults.changes import changes
from mechviz.faults.scene import Event, held_scene
from mechviz.faults.study import Row, drawn_part
from mechviz.look.colours import ThemeName

PANEL = 610.0
"""Width of each of the two panels."""
LEFT = MARGIN + 2 * (PANEL + APART)
TOP, BOTTOM, LEADING = 106.0, HEIGHT - 58.0, 1.22
"""Of the words beside the panels."""


def faults_picture(setup: Setup, sound: Row, sick: Row, theme: ThemeName = "light", *, named: bool = True) -> Compared:
    """Return the brake as found and with defects, side by side, with what changes and what shows from outside.

    Both are applied, unless what is wrong shows when the brake is let go.
    """
    wheel = sick.wheel
    at: Event = "released" if (wheel.residual > 0 or wheel.fallen) and not wheel.blocked else "applied"
    panels = [_panel(setup, sound, at), _panel(setup, sick, at)]
    pressure = figure(setup.test.pressure, "pressure", setup.system)
    heading = "each let go" if at == "released" else f"each applied at {pressure}"
    return side_by_side(setup, panels, heading, theme, (_beside(setup, sound, sick),), PANEL, named=named)


def _panel(setup: Setup, row: Row, at: Event) -> Panel:
    scene, let_go = held_scene(setup, row.wheel, at), held_scene(setup, row.wheel, "released")
    words = "everything else as found" if row.defects else "no defect added"
    words = "drawn where the cam's profile ends" if scene.beyond_tip else words
    name = row.title if len(row.defects) < 2 else f"{len(row.defects)} defects together"
    ringed = drawn_part(row.defects[0], scene.brake) if len(row.defects) == 1 else ""
    return Panel(scene, name, words, let_go, (), ringed)


@dataclass(frozen=True)
class _Paragraph:
    words: str
    size: Size
    rank: Rank = "ink"
    after: float = 8.0


def _beside(setup: Setup, sound: Row, sick: Row) -> Note:
    """What each defect does inside, what shows, and what changes; the more there are, the less of each."""
    tries = [_set([*_told(sick, size, brief), *_changed(setup, sound, sick, brief)]) for size, brief in _SHORTER]
    texts = next((texts for texts in tries if texts[-1].y <= BOTTOM), tries[-1])
    return Note("outside", "What the defect does, what shows, what changes", texts=tuple(texts))


_SHORTER: tuple[tuple[Size, int], ...] = (("label", 0), ("note", 0), ("note", 1), ("note", 2), ("note", 3))
"""Size of the letters, and how much is left out: nothing, what happens inside, what shows as well, all but names."""


def _told(sick: Row, size: Size, brief: int) -> Iterator[_Paragraph]:
    many = len(sick.defects) > 1
    if brief == 3:
        yield _Paragraph("; ".join(one.title for one in sick.defects), size)
        return
    for one in sick.defects:
        if many:
            yield _Paragraph(one.title, size, after=2.0)
        if brief < 1:
            yield _Paragraph(f"Inside: {sick.inside_of(one)}", size)
        if brief < 2 and sick.shows(one):
            yield _Paragraph(f"Outside: {one.outside}", size, after=16.0)


def _changed(setup: Setup, sound: Row, sick: Row, brief: int) -> Iterator[_Paragraph]:
    found, same = changes(sound, sick, setup.system)
    if found and all(one.now == NONE for one in found):
        yield _Paragraph("There is no such state to take a figure in.", "label")
        return
    changes_it, kept = ("Changes", "As before") if sick.defects else ("Differs", "The same")
    yield _Paragraph(changes_it if found else "Every figure is the same", "figure", after=4.0)
    for one in found:
        if brief == 3:
            yield _Paragraph(f"{one.figure.name} {one.words}", "note", one.figure.rank, 2.0)
            continue
        yield _Paragraph(one.figure.name, "note", after=4.0)
        yield _Paragraph(one.words, "label", one.figure.rank)
    if same:
        yield _Paragraph(f"{kept}: {', '.join(same)}.", "note")


def _set(paragraphs: list[_Paragraph]) -> list[Text]:
    """The paragraphs one below the other."""
    y, texts = TOP, list[Text]()
    for one in paragraphs:
        y += max(0.0, SIZES[one.size] - texts[-1].height) if texts else 0.0  # larger letters reach higher
        for row in folded(one.words, WIDTH - MARGIN - LEFT, one.size):
            texts.append(Text(row, LEFT, y, one.size, rank=one.rank))
            y += LEADING * SIZES[one.size]
        y += one.after
    return texts
