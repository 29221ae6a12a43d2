"""A lesson as the data that the page's script plays: its brakes, each a page of its own, and its steps."""

from typing import Any

from geometry.quantity import System
from geometry.setup import Setup
from mechviz.lessons.blocks import Text, html_of
from mechviz.lessons.build import SYSTEMS, Built, BuiltStep, build_lesson, place_of
from mechviz.lessons.model import Lesson
from mechviz.lessons.names import RANDOM
from mechviz.lessons.parts import label_called, part_called
from mechviz.look import fractions
from mechviz.page.html import Theme, lesson_css, page_data
from mechviz.solid.views import VIEWS

Data = dict[str, Any]

CUTS = ("none", "open", "across the drum", "along the shaft", "through the chamber")
"""As the page's script has them, in its order."""
DRUMS = {"see-through": "ghost", "solid": "solid", "removed": "off"}


def lesson_page_data(
    lesson: Lesson,
    setup: Setup | None = None,
    system: System | None = None,
    theme: Theme = "auto",
    text: str | None = None,
) -> Data:
    """Return what the script needs to play a lesson in any element: ``mountLesson(el, data)``.

    ``setup`` is another brake than the lesson's own (``text`` its TOML where it is from no file), ``system`` says which
    units stand first. The style sheet comes with it as ``css``. Raises `LessonError` with all that cannot be.
    """
    return built_data(build_lesson(lesson, setup, system, text), theme)


def built_data(built: Built, theme: Theme = "auto") -> Data:
    """Return the data of a lesson that is built."""
    brakes = [page_data(setup, built.system, theme) for setup in built.brakes]
    for other in brakes[1:]:
        del other["solid"]["three"]  # the first brake's is everybody's
    return lesson_data(built) | {"brakes": brakes}


def lesson_data(built: Built) -> Data:
    """Return the data of a lesson without its brakes: what can be made anew while somebody writes it."""
    keys = built.lesson.keys
    return {
        "name": built.lesson.name,
        "title": keys.title,
        "about": keys.about,
        "minutes": keys.minutes,
        "steps": [step_data(step) for step in built.steps],
        "css": lesson_css(),
    }


def step_data(built: BuiltStep) -> Data:
    """Return one step: what is shown, where it stands and moves, and its words in either system of units."""
    keys = built.keys
    return {
        "title": keys.title,
        "brake": built.brake,
        "words": {system: _words(built.texts[system]) for system in SYSTEMS},
        "sources": [fractions(source) for source in keys.sources],
        "page": keys.page,
        "view": keys.view,
        "plot": keys.plot,
        "by": keys.by,
        "cautionLate": keys.caution != "first",
        "labels": keys.labels == "shown",
        "named": None if keys.name is None else [label_called(words) for words in keys.name],
        "lit": [_lit(words) for words in keys.light],
        "settings": built.start.values(),
        "place": place_of(built.begins),
        "motion": built.motion,
        "where": dict(built.place),
        "random": keys.fault == RANDOM,
        "solid": _solid(built),
    }


def _words(texts: Any) -> dict[str, str]:
    found: dict[str, Text] = dict(texts)
    return {name: html_of(text) for name, text in found.items()}


def _lit(words: str) -> Data:
    part = part_called(words)
    assert part is not None  # reading has looked
    return {"words": part.words, "verb": part.verb, "parts": list(part.outlines)}


def _solid(built: BuiltStep) -> Data | None:
    """How the solid is looked at, as the script's address says it."""
    keys = built.keys
    if keys.view != "solid":
        return None
    look, motion = keys.solid, built.motion
    first = motion["from"] if motion and motion["kind"] == "apart" else look.apart if look else 0.0
    address: Data = {"v": "solid", "va": first}
    if look is not None:
        address |= {"vo": list(VIEWS).index(look.begin), "vd": DRUMS[look.drum], "vc": CUTS.index(look.cut)}
        address |= {"vw": 1} if look.wheel else {}
    return address
