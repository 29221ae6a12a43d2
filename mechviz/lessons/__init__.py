"""Lessons: a file that an instructor writes, walked through with a class on the moving brake.

`load_lesson` reads a file or a shipped lesson and `build_lesson` puts it on a brake. `lesson_page_data` makes of that
what the page's script plays, `lesson_html`, `lesson_handout` and `mechviz.lessons.film` what is handed out.
"""

from mechviz.lessons.build import Built, BuiltStep, build_lesson, check_lesson
from mechviz.lessons.data import lesson_page_data
from mechviz.lessons.faults import LessonError
from mechviz.lessons.model import Lesson, Step
from mechviz.lessons.read import load_lesson, read_lesson, shipped_names, shipped_text, starter_text

__all__ = [
    "Built",
    "BuiltStep",
    "Lesson",
    "LessonError",
    "Step",
    "build_lesson",
    "check_lesson",
    "lesson_page_data",
    "load_lesson",
    "read_lesson",
    "shipped_names",
    "shipped_text",
    "starter_text",
]
