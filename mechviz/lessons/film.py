"""A lesson as a film: each step's picture with its words, its question, then the motion, then the answer.

Every picture is drawn anew from a solved state, so that nothing between two states is made up; what stands still is
held as long as it takes to read.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from io import BytesIO
from pathlib import Path

import numpy as np

from mechviz.drawing.layout import HEIGHT, WIDTH
from mechviz.drawing.lettering import Rank, Text, folded
from mechviz.drawing.marks import element
from mechviz.drawing.picture import document, picture
from mechviz.drawing.scene import Scene
from mechviz.export import svg_to_png
from mechviz.lessons.blocks import Text as Words
from mechviz.lessons.build import Built, BuiltStep
from mechviz.lessons.markdown import Section
from mechviz.lessons.names import RANDOM
from mechviz.lessons.scenes import CHOSEN, kept, pointed, step_scene
from mechviz.look.colours import ThemeName
from mechviz.report.cautions import ESTIMATE
from mechviz.solid.encode import SCREENS, encoded
from mechviz.solid.film import Screen
from mechviz.solid.stage import Pixels

FPS = 12
MOVES = 24
"""Pictures of one motion: two seconds of it."""
START, WORD = 1.6, 0.34
"""Seconds to look, and to read a word."""
SHARE = 0.7
"""Of the film's width, what the picture takes."""
LEFT = WIDTH * SHARE + 24.0
ROOM = WIDTH - LEFT - 28.0
TOP, LEADING, GAP, BETWEEN = 40.0, 1.24, 14.0, 6.0
BOTTOM = HEIGHT - 56.0


@dataclass(frozen=True)
class Hold:
    """One picture of the film: a step at a share of its move, which sections are told, for how many frames."""

    step: int
    share: float
    sections: tuple[Section, ...]
    frames: int


@dataclass(frozen=True)
class LessonFilm:
    """A film that is planned: ``frames`` in all."""

    built: Built
    theme: ThemeName
    screen: Screen

    @cached_property
    def holds(self) -> tuple[Hold, ...]:
        """Its pictures, in order."""
        return tuple(hold for n, step in enumerate(self.built.steps) for hold in _holds(n, step, self.built))

    @property
    def frames(self) -> int:
        """How many frames it has."""
        return sum(hold.frames for hold in self.holds)

    def write(self, path: Path) -> Iterator[int]:
        """Write the film to a file, and tell after each frame how many there are."""
        return encoded(self.pictures(), path, FPS, self.screen)

    def pictures(self) -> Iterator[Pixels]:
        """Give the frames (height, width, 3), one after another."""
        for hold in self.holds:
            frame = self.frame(hold)
            for _ in range(hold.frames):
                yield frame

    def frame(self, hold: Hold) -> Pixels:
        """Return one picture of the film."""
        from PIL import Image

        png = svg_to_png(frame_svg(self.built, hold, self.theme), self.screen.width, self.theme)
        found = Image.open(BytesIO(png)).convert("RGB").resize((self.screen.width, self.screen.height))
        return np.asarray(found)


def lesson_film(built: Built, theme: ThemeName = "light", suffix: str = ".mp4") -> LessonFilm:
    """Return the film of a lesson, ready to be written as ``.mp4`` or ``.gif``."""
    return LessonFilm(built, theme, SCREENS[suffix])


def _holds(number: int, step: BuiltStep, built: Built) -> Iterator[Hold]:
    """A step's pictures: words and question where it begins, the motion, the answer where it ends."""
    late = step.keys.caution != "first"
    asked: tuple[Section, ...] = ("text", "question") if late else ("text", "caution", "question")
    yield Hold(number, 0.0, asked, _reading(step, built, asked))
    if step.motion is not None and step.motion["kind"] != "apart" and step.row is None:
        for n in range(1, MOVES):
            share = n / MOVES
            yield Hold(number, share * share * (3 - 2 * share), asked, 1)
    told: tuple[Section, ...] = (*asked, "answer", "caution") if late else (*asked, "answer")
    if step.motion is not None or step.step.asks:
        yield Hold(number, 1.0, told, _reading(step, built, ("answer",)))


def _reading(step: BuiltStep, built: Built, sections: tuple[Section, ...]) -> int:
    texts = step.texts[built.system]
    words = sum(len(_plain(texts.get(name, ())).split()) for name in sections)
    return max(round(FPS * (START + WORD * words)), FPS)


def _plain(text: Words) -> str:
    return " ".join(block.words for block in text)


def frame_svg(built: Built, hold: Hold, theme: ThemeName) -> str:
    """Return one picture of the film as an SVG: the drawing at the left, the words at the right."""
    step = built.steps[hold.step]
    inside = _drawing(step, hold, theme)
    inside += _words(built, hold)
    return document(inside, f"{built.lesson.title}, step {hold.step + 1}", step.keys.title, WIDTH, 1.0, theme)


def _drawing(step: BuiltStep, hold: Hold, theme: ThemeName) -> str:
    """The step's picture, as large as its place; a state that cannot be says so."""
    scene = step_scene(step, hold.share)
    shown = scene or step_scene(step, 0.0)
    width, height = WIDTH * SHARE, HEIGHT * SHARE
    y = (HEIGHT - height) / 2
    note = ""
    if scene is None:
        words = "This state cannot be. Shown is where it began." if shown else "This state cannot be."
        words = CHOSEN if step.keys.fault == RANDOM else words
        note = Text(words, 30.0, HEIGHT - 60.0, "figure").svg()
    if shown is None:
        return note
    drawn = _picture(step, shown, theme, hold)
    nested = drawn.replace("<svg ", f'<svg x="0" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" ', 1)
    return nested + note


def _picture(step: BuiltStep, scene: Scene, theme: ThemeName, hold: Hold) -> str:
    """The drawing; on the move without names, which would look for another place from one picture to the next."""
    quiz = step.keys.labels == "hidden" and "answer" not in hold.sections
    hidden = step.keys.view == "outside" or quiz or 0 < hold.share < 1
    drawn = picture(scene, theme, "none" if hidden else "few", keep=kept(step, quiz=quiz))
    return pointed(drawn.svg, step, drawn.where.scale).strip()


def _words(built: Built, hold: Hold) -> str:
    """The words beside the picture, as large as they fit."""
    tries = ((scale, tuple(_set(built, hold, ROOM / scale))) for scale in SCALES)
    found = [(scale, texts) for scale, texts in tries if texts[-1].y * scale <= BOTTOM - TOP]
    scale, texts = found[0] if found else (SCALES[-1], tuple(_set(built, hold, ROOM / SCALES[-1])))
    inside = "".join(text.svg() for text in texts)
    head = Text(f"{built.lesson.title}: step {hold.step + 1} of {len(built.steps)}", LEFT, 34.0, "note", rank="soft")
    last = hold.step == len(built.steps) - 1
    foot = [Text(ESTIMATE, 30.0, HEIGHT - 24.0, "note", rank="soft")] if last else []
    return element("g", inside, transform=f"translate({LEFT:g} {TOP:g}) scale({scale:g})") + "".join(
        text.svg() for text in (head, *foot)
    )


SCALES = (1.35, 1.2, 1.1, 1.0, 0.9, 0.8, 0.7)
"""How many times larger than a label's the letters may be, the largest first."""
HEADS: dict[Section, tuple[str, Rank]] = {
    "question": ("Question", "soft"),
    "answer": ("Answer", "spread"),
    "caution": ("Caution", "ink"),
}
TITLE, LINE = 33.0, Text("x").height * LEADING
"""From one line to the next, of the title and of the words."""


def _set(built: Built, hold: Hold, room: float) -> Iterator[Text]:
    """The words in lines that fit a width, from the top left corner of their place."""
    step = built.steps[hold.step]
    texts = step.texts[built.system]
    y = 0.0
    for line in folded(step.keys.title, room, "heading"):
        y += TITLE
        yield Text(line, 0.0, y, "heading")
    for section in hold.sections:
        if section not in texts:
            continue
        y += GAP
        head = HEADS.get(section)
        if head is not None:
            y += LINE
            yield Text(head[0], 0.0, y, "figure" if section == "caution" else "label", rank=head[1])
        for block in texts[section]:
            for words in _lines(block.kind, block.rows):
                for line in folded(words, room, "label"):
                    y += LINE
                    yield Text(line, 0.0, y, "label")
            y += BETWEEN


def _lines(kind: str, rows: tuple[tuple[tuple[object, ...], ...], ...]) -> Iterator[str]:
    for n, row in enumerate(rows, 1):
        words = "   ".join("".join(getattr(run, "text", "") for run in cell) for cell in row)
        mark = {"bullets": "\N{EN DASH} ", "numbers": f"{n}. "}.get(kind, "")
        yield mark + words
