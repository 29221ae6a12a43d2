"""The lessons there are: those that come with the program, and the instructor's own in a folder."""

import re
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

from apps.files import write_atomically
from geometry.errors import Fault, MechvizError
from mechviz.lessons import Lesson, load_lesson, read_lesson, shipped_names, shipped_text
from mechviz.lessons.split import MOST_BYTES

SUFFIX = ".md"
MOST_LESSONS = 200
"""Of the instructor's own that are listed."""

_NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,59}")


@dataclass(frozen=True)
class Listed:
    """A lesson in the list. ``fault`` says why one of the instructor's own cannot be played; None where it can."""

    name: str
    title: str
    about: str
    minutes: int
    steps: int
    own: bool
    fault: str | None = None


class Shelf:
    """Lessons by name. An own lesson's name is that of its file without ``.md``; no name reaches out of the folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def listed(self) -> list[Listed]:
        """Return every lesson, the instructor's own first, each kind in its order."""
        own = [_own(path, path.stat().st_mtime_ns) for path in self._files()]
        return [*own, *_shipped()]

    def text(self, name: str) -> str:
        """Return a lesson's text, its own before a shipped one. Raises `MechvizError` for one that there is not."""
        path = self._path(name)
        if path.is_file():
            return _read(path)
        return shipped_text(name)

    def is_own(self, name: str) -> bool:
        """Say whether a lesson is the instructor's."""
        return _NAME.fullmatch(name) is not None and self._path(name).is_file()

    def changed(self, name: str) -> float:
        """Return when a lesson's file was last written; 0 for a shipped one."""
        return self._path(name).stat().st_mtime if self.is_own(name) else 0.0

    def save(self, text: str, name: str = "") -> str:
        """Write an own lesson, under ``name`` or one made of its title, and return its name. Raises `MechvizError`."""
        if len(text.encode()) > MOST_BYTES:
            raise _refused("is longer than a lesson may be", f"use at most {MOST_BYTES:,} bytes")
        name = name if self.is_own(name) else self._free(slug(title_of(text)))
        write_atomically(self._path(name), text.encode(), "lesson")
        return name

    def _files(self) -> list[Path]:
        found = sorted(path for path in self.folder.glob(f"*{SUFFIX}") if _NAME.fullmatch(path.stem))
        return found[:MOST_LESSONS]

    def _path(self, name: str) -> Path:
        if not _NAME.fullmatch(name):
            raise _refused("is no name of a lesson", "use small letters, digits and hyphens", name[:60])
        return self.folder / f"{name}{SUFFIX}"

    def _free(self, wanted: str) -> str:
        """A name that no lesson has yet, shipped or own."""
        taken = {*shipped_names(), *(path.stem for path in self._files())}
        names = (wanted, *(f"{wanted[:56]}-{number}" for number in range(2, MOST_LESSONS + 3)))
        return next(name for name in names if name not in taken)


def slug(title: str) -> str:
    """Return a title as a name.

    >>> slug("Wear, and why stroke grows!")
    'wear-and-why-stroke-grows'
    """
    return "-".join(re.findall(r"[a-z0-9]+", title.lower()))[:60].strip("-") or "lesson"


def title_of(text: str) -> str:
    """Return what a lesson's text says that it is called, also where it cannot be played."""
    found = re.search(r'^title *= *"([^"\n]{1,120})"', text, re.MULTILINE)
    return found[1] if found else "Lesson"


def title_of_file(path: Path) -> str:
    """Return what a lesson's file says that it is called; its name where it cannot be read."""
    try:
        return title_of(_read(path))
    except MechvizError:
        return path.stem


@lru_cache(MOST_LESSONS)
def _own(path: Path, changed: int) -> Listed:  # noqa: ARG001 - a file that was changed is read anew
    try:
        return _listed(read_lesson(_read(path), path.stem), own=True)
    except MechvizError as error:
        return Listed(path.stem, title_of_file(path), "", 0, 0, True, str(error.faults[0]))


@cache
def _shipped() -> tuple[Listed, ...]:
    return tuple(_listed(load_lesson(name), own=False) for name in shipped_names())


def _listed(lesson: Lesson, own: bool) -> Listed:
    keys = lesson.keys
    return Listed(lesson.name, keys.title, keys.about, keys.minutes, len(lesson.steps), own)


def _read(path: Path) -> str:
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
        if len(data) > MOST_BYTES:
            raise _refused("is longer than a lesson may be", f"use at most {MOST_BYTES:,} bytes", path.name)
        return data.decode("utf-8")
    except UnicodeDecodeError:
        raise _refused("is not UTF-8 text", "save it as UTF-8 text", path.name) from None
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise _refused(f"cannot be read: {reason}", "see who may read it", path.name) from None


def _refused(problem: str, fix: str, given: str | None = None) -> MechvizError:
    return MechvizError(Fault("lesson", problem, fix, given, "number"))
