"""A lesson as a handout: a picture at each step, questions with room to write, the answers on the last page."""

from collections.abc import Mapping
from typing import Any

from geometry.kinematics import free_stroke
from mechviz.drawing.picture import described, picture
from mechviz.drawing.words import length
from mechviz.export.drawing import read_drawing
from mechviz.export.flatten import flatten_css
from mechviz.export.pages import MARGIN, PageName, page_called
from mechviz.export.seamless import without_seams
from mechviz.export.typeset import TITLE_ROOM, breakable, tidy, typeset
from mechviz.lessons.blocks import Text, data_of
from mechviz.lessons.build import Built, BuiltStep
from mechviz.lessons.keys import SETTINGS
from mechviz.lessons.names import RANDOM
from mechviz.lessons.parts import part_called
from mechviz.lessons.scenes import CHOSEN, drawn_scene, kept, pointed
from mechviz.lessons.stand import stand_of
from mechviz.look import fractions
from mechviz.look.colours import PRINT, colours
from mechviz.report.cautions import ESTIMATE
from mechviz.report.found import found_lines

LINES = 5
"""Ruled lines to write an answer on."""


def lesson_handout(built: Built, page: PageName = "a4") -> bytes:
    """Return a lesson's handout as a PDF, tagged and without a date. Raises `ExportError` for a paper there is not."""
    paper = page_called(page)
    steps = [_step(step, built) for step in built.steps]
    title = built.lesson.title
    data = {
        "title": tidy(title, TITLE_ROOM),
        "about": _set(built.lesson.keys.about),
        "brake": _set(_brake(built)),
        "page": [paper.width, paper.height],
        "margin": MARGIN,
        "colours": colours(PRINT),
        "lines": LINES,
        "steps": steps,
        "closing": _set(ESTIMATE),
    }
    return typeset("handout.typ", data, _letters(data), "pdf")


def _brake(built: Built) -> str:
    """Which brake the lesson runs on, and how it was found."""
    own = built.brakes[0]
    lines = (f"The brake: {own.title}", *found_lines(own, built.system))
    return " ".join(f"{line.rstrip('.')}." for line in (*lines, *_begun(built)))


def _begun(built: Built) -> list[str]:
    """How the lesson's own header sets the brake, where that is not as it was found."""
    keys = built.lesson.keys
    typed = {name: getattr(keys, name) for name in SETTINGS}
    if not any(typed.values()):
        return []
    own = built.brakes[0]
    stand = stand_of(own, typed, {name: name for name in SETTINGS})
    lining, free = (
        length(value, built.system) for value in (stand.lining, float(free_stroke(own.brake, stand.condition(own))))
    )
    return [f"The steps begin with lining {lining} and a free stroke of {free} where they say nothing else"]


def _step(step: BuiltStep, built: Built) -> dict[str, Any]:
    texts = step.texts[built.system]
    keys = step.keys
    return {
        "title": _set(keys.title),
        "picture": _picture(step),
        "instead": CHOSEN if keys.fault == RANDOM else "",
        "lit": [{"words": words, "verb": verb} for words, verb in _lit(step)],
        **{name: data_of(texts.get(name, ())) for name in ("text", "question", "answer")},
        **dict.fromkeys(("caution", "late"), data_of(())),
        "late" if keys.caution != "first" else "caution": data_of(texts.get("caution", ())),
        "sources": _set("; ".join(keys.sources)),
    }


def _lit(step: BuiltStep) -> list[tuple[str, str]]:
    parts = [part_called(words) for words in step.keys.light]
    return [(part.words, part.verb) for part in parts if part is not None]


def _picture(step: BuiltStep) -> Mapping[str, Any] | None:
    """The step's last state in both planes, its parts marked; None where no state of it can be."""
    scene = drawn_scene(step)
    if scene is None:
        return None
    quiz = step.keys.labels == "hidden"
    hidden = quiz or step.keys.view == "outside"
    drawn = picture(scene, PRINT, "none" if hidden else "few", column=False, keep=kept(step, quiz=quiz))
    drawing = read_drawing(drawn.svg)
    svg = pointed(without_seams(drawn.svg, drawing.height), step, drawn.where.scale)
    return {
        "svg": flatten_css(svg, PRINT),
        "size": [drawing.width, drawing.height],
        "alt": described(scene),
        "text": drawing.text,
    }


def _set(text: str) -> str:
    return breakable(fractions(tidy(text)))


def _letters(data: Mapping[str, Any]) -> str:
    """Every letter that is set, to see whether our font has them all."""
    words = [str(data[name]) for name in ("title", "about", "brake", "closing")]
    for step in data["steps"]:
        words += [step["title"], step["sources"], step["picture"]["text"] if step["picture"] else ""]
        words += [str(step[name]) for name in ("text", "question", "answer", "caution", "late")]
    return "".join(words)


def text_words(text: Text) -> str:
    """Return a text's words as they are printed."""
    return " ".join(fractions(block.words) for block in text)
