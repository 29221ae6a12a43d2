"""A lesson as one file: it opens from anywhere, without a server and without a network."""

from html import escape
from typing import Any

from geometry.quantity import System
from geometry.setup import Setup
from mechviz.lessons.data import lesson_page_data
from mechviz.lessons.model import Lesson
from mechviz.page.html import Theme, lesson_css, page_file


def lesson_html(lesson: Lesson, setup: Setup | None = None, system: System | None = None, theme: Theme = "auto") -> str:
    """Return a lesson on its own brake, or on another ``setup``, in one file. Raises `LessonError`."""
    return lesson_file(lesson_page_data(lesson, setup, system, theme))


def lesson_file(data: dict[str, Any]) -> str:
    """Return the file of data that `lesson_page_data` made."""
    inside = {name: part for name, part in data.items() if name != "css"} | {"wholePage": True}
    return page_file(escape(data["title"]), "", inside, "mountLesson", lesson_css())
