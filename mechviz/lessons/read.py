"""Read a lesson, from a file or a shipped one, with everything that is wrong in it said at once."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from os import PathLike
from pathlib import Path

from geometry.errors import Fault, MechvizError
from geometry.setup import builtin_names
from geometry.setup.text import decode
from mechviz.lessons.faults import LessonError, Spot, fault, nearest, raise_all
from mechviz.lessons.figures import names_in
from mechviz.lessons.header import read_header
from mechviz.lessons.keys import LessonKeys, StepKeys
from mechviz.lessons.markdown import read_body
from mechviz.lessons.model import Lesson, Step
from mechviz.lessons.names import step_faults
from mechviz.lessons.split import MOST_BYTES, split

SUFFIX = ".md"


def load_lesson(path_or_name: str | PathLike[str]) -> Lesson:
    """Return the lesson in a file, or the shipped one of that name. Raises `LessonError` with all faults."""
    name = str(path_or_name)
    if name in shipped_names():
        return read_lesson(shipped_text(name), name)
    path = Path(name)
    try:
        there = path.is_file()
    except (OSError, ValueError):
        there = False
    if not there:
        fix = f"give the path of a lesson file, or {nearest(name, shipped_names(), 20)}"
        raise LessonError(Fault("lesson", "is neither a file nor a shipped lesson", fix, name[:60] or '""', "number"))
    return read_lesson(_read(path), path.stem)


def read_lesson(text: str, name: str = "lesson") -> Lesson:
    """Return the lesson that a text is. Raises `LessonError` with every fault in it."""
    pieces, faults = split(text)
    if not pieces:
        raise_all(faults)
    head, head_lines, wrong = read_header(pieces[0], 0, LessonKeys)
    faults += wrong
    if pieces[0].body.strip():
        line = pieces[0].body_line
        faults.append(fault(Spot(0, line), "text", "belongs to no step", "write it as about = in the lesson's header"))
    steps: list[Step] = []
    for number, piece in enumerate(pieces[1:], 1):
        keys, lines, wrong = read_header(piece, number, StepKeys)
        body, worse = read_body(piece.body, number, piece.body_line)
        faults += wrong + worse
        step = Step(number, piece.header_line, keys or StepKeys(title="-"), body, lines)
        faults += _text_faults(step)
        if keys is not None:
            steps.append(step)
            faults += step_faults(step)
    if head is not None:
        faults += _brake_faults(head, head_lines)
    raise_all(faults)
    assert head is not None  # else there is a fault
    return Lesson(name, head, tuple(steps), text, head_lines)


@cache
def shipped_names() -> tuple[str, ...]:
    """Return the names of the shipped lessons, in the order in which a class takes them."""
    folder = files("mechviz.lessons") / "shipped"
    order = (folder / "order.txt").read_text(encoding="utf-8").split()
    return tuple(order)


@cache
def shipped_text(name: str) -> str:
    """Return a shipped lesson as a file to start from. Raises `LessonError` for a name that there is not."""
    if name not in shipped_names():
        raise LessonError(Fault("lesson", "is no shipped lesson", nearest(name, shipped_names(), 20), name, "number"))
    return (files("mechviz.lessons") / "shipped" / f"{name}{SUFFIX}").read_text(encoding="utf-8")


def starter_text() -> str:
    """Return a lesson file to start from, with every key explained."""
    return (files("mechviz.lessons") / "starter.md").read_text(encoding="utf-8")


def _read(path: Path) -> str:
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
        return decode(data, str(path)) if len(data) <= MOST_BYTES // 2 else data.decode("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        fix = "check its name, who may read it, and that it is UTF-8 text"
        raise LessonError(Fault(str(path), f"cannot be read: {error}", fix, kind="number")) from None
    except MechvizError as error:
        raise LessonError(error.faults) from None


def _brake_faults(keys: LessonKeys, lines: Mapping[str, int]) -> list[Fault]:
    named = [("brake", keys.brake), *(("holds_for", name) for name in keys.holds_for)]
    return [
        fault(Spot(0, lines.get(key, 1)), key, "is no built-in setup", nearest(name, builtin_names()), name)
        for key, name in named
        if name not in builtin_names()
    ]


def _text_faults(step: Step) -> list[Fault]:
    """Names in braces that stand for no figure, and a question without its answer."""
    found: list[Fault] = []
    for section, blocks in step.body.items():
        for one in blocks:
            for name, problem, fix in names_in(one.block.words):
                found.append(fault(Spot(step.number, one.line), f"{section}, {{{name}}}", problem, fix))
    for one, other in (("question", "answer"), ("answer", "question")):
        if one in step.body and other not in step.body:
            found.append(
                fault(step.spot(), f"## {one.capitalize()}", f"has no ## {other.capitalize()}", "write it below")
            )
    for section, blocks in step.body.items():
        if section != "text" and not blocks:
            found.append(
                fault(step.spot(), f"## {section.capitalize()}", "is empty", "write it, or leave its heading out")
            )
    return found
