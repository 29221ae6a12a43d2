"""States side by side: the three events of an application, or the brake new, as found and hot."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from geometry.found import condition_of
from geometry.setup import Setup
from mechviz.drawing.foot import ROOM, foot
from mechviz.drawing.layout import HEIGHT, MARGIN, WIDTH, layout
from mechviz.drawing.lettering import Text, fitted
from mechviz.drawing.life import Stage, stages
from mechviz.drawing.magnifier import magnified, widest_gap
from mechviz.drawing.marks import line
from mechviz.drawing.note import Note
from mechviz.drawing.panel import LEFT, ROWS, Column, Panel, drawn
from mechviz.drawing.panel import WIDTH as PANEL
from mechviz.drawing.picture import document, found_words
from mechviz.drawing.scene import Scene, scene_at
from mechviz.drawing.verdict import judged
from mechviz.drawing.words import figure, state_words
from mechviz.look.colours import ThemeName

Comparison = Literal["events", "life"]
WINDOW = 300.0
PREFIXES = ("first-", "second-", "third-")
APART = (WIDTH - 2 * MARGIN - 3 * PANEL) / 2
"""Between two panels."""


@dataclass(frozen=True)
class Compared:
    """An SVG, its notes, what it shows in words, and its mechanisms' scale in picture units per mm."""

    svg: str
    title: str
    notes: tuple[Note, ...]
    scale: float


def panels(setup: Setup, kind: Comparison, at: str = "applied") -> list[Panel]:
    """Return what is held against each other; ``at`` is the event that a brake's life is looked at."""
    if kind == "events":
        condition = condition_of(setup)
        scenes = [scene_at(setup, condition, name) for name in ("released", "contact", "applied")]
        return [Panel(s, state_words(s.state, "", s.system), _moves(s), s) for s in scenes]
    return [_aged(setup, stage, at) for stage in stages(setup)]


def _aged(setup: Setup, stage: Stage, at: str) -> Panel:
    """A stage of a brake's life; its magnifier looks at the brake released, where wear and heat show.

    The pressure being the same for all, the stroke that is left in the chamber stands in its place.
    """
    scene = scene_at(setup, stage.condition, at)
    released = scene if at == "released" else scene_at(setup, stage.condition, "released")
    return Panel(scene, stage.name, stage.words, released, (LEFT, *ROWS))


def _moves(scene: Scene) -> str:
    """What happens in an event, in a few words."""
    return {
        "released": "no air, springs hold the shoes in",
        "contact": "the first lining meets the drum",
        "applied": "the linings press on the drum",
    }[scene.state.name]


def comparison(
    setup: Setup, kind: Comparison, at: str = "applied", theme: ThemeName = "light", *, named: bool = True
) -> Compared:
    """Return three states in one picture, at one scale, their magnifiers too.

    On a sheet, which says so above the picture, the brake is not ``named`` once more.
    """
    shown = panels(setup, kind, at)
    return side_by_side(setup, shown, _heading(setup, shown, kind, at), theme, named=named)


def side_by_side(
    setup: Setup,
    shown: Sequence[Panel],
    heading: str,
    theme: ThemeName,
    beside: Sequence[Note] = (),
    width: float = PANEL,
    *,
    named: bool,
) -> Compared:
    """Return panels of a ``width`` in one picture under a heading, and what else stands ``beside`` them."""
    title = _title(setup, heading, named)
    standing = [panel for panel in shown if panel.scene.stands]
    where = min((layout(panel.scene.brake, panel.scene.outlines) for panel in standing), key=lambda one: one.scale)
    told = any(not panel.scene.exists or judged(panel.scene).why for panel in shown)
    columns = [Column(MARGIN + (width + APART) * n, width, told) for n in range(3)]
    scale = columns[0].scale(where)
    times = min(magnified(widest_gap(panel.scene), scale, WINDOW) for panel in standing)
    each = [drawn(p, columns[n], PREFIXES[n], times, where) for n, p in enumerate(shown)]
    rules = "".join(_between(column.left - APART / 2) for column in columns[1:])
    below = [foot(MARGIN, WIDTH - MARGIN, scale, setup.system)] if named else []
    words_beside = "".join(note.svg() for note in (*beside, *below))
    inside = title.svg() + rules + "".join(one.svg for one in each) + words_beside
    words = " ".join(f"{panel.name}: {panel.words}." for panel in shown)
    name = f"{setup.title}: {title.texts[0].words}" if not named else title.texts[0].words
    svg = document(inside, name, words, WIDTH, where.scale, theme)
    notes = (title, *(note for one in each for note in one.notes), *beside, *below)
    return Compared(svg, title.texts[0].words, notes, scale)


def _heading(setup: Setup, shown: Sequence[Panel], kind: Comparison, at: str) -> str:
    first = shown[0].scene
    pressure = figure(setup.test.pressure, "pressure", setup.system)
    state = f"applied at {pressure}" if at == "applied" else state_words(first.state, "", setup.system).lower()
    return found_words(first) if kind == "events" else f"each {state}"


def _title(setup: Setup, more: str, named: bool) -> Note:
    text = Text(f"{setup.title}: {more}" if named else f"{more[0].upper()}{more[1:]}", MARGIN, MARGIN + 28)
    return Note("heading", "What is drawn", texts=(fitted(text, WIDTH - 2 * MARGIN, ("heading", "figure", "label")),))


def _between(x: float) -> str:
    return line([(x, 84.0), (x, HEIGHT - ROOM)], "mv-between")
