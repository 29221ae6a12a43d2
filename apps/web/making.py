"""What the server works out in another process: data of brakes and lessons, and the files that are handed out.

Each of these is told by text alone and gives bytes, and the jobs whose data it names: a lesson names its brakes.
"""

import json
import pickle
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from hashlib import sha256
from typing import Any, Literal

import numpy as np

Extent = Literal["whole", "moving"]
"""``whole``: all that the page can show. ``moving``: all but its faults, made in a third of the time."""


@dataclass(frozen=True)
class Made:
    """Bytes, and the jobs that they name by their keys."""

    data: bytes
    more: Mapping[str, "Job"] = field(default_factory=dict[str, "Job"])


@dataclass(frozen=True)
class Job:
    """Something to be worked out: a function of this module and what it is told.

    ``called`` is what it is told in words that are the same in every process, where ``told`` itself is not.
    """

    make: Callable[..., Made]
    told: tuple[str | bytes, ...]
    called: str = ""

    @property
    def key(self) -> str:
        """A name that is the same for the same job, and for no other."""
        return sha256(repr((self.make.__name__, self.called or self.told)).encode()).hexdigest()[:32]


def brake(text: str, extent: Extent = "whole") -> Job:
    """Return the job of the moving picture of the setup that a text is."""
    return Job(_brake, (text, extent))


def lesson(text: str, name: str, setup: str = "") -> Job:
    """Return the job of a lesson's data: its steps, and its brakes by key. ``setup`` is the text of another brake."""
    return Job(_lesson, (text, name, setup))


def lesson_page(text: str, name: str, setup: str = "") -> Job:
    """Return the job of a lesson as one file that needs no server."""
    return Job(_lesson_page, (text, name, setup))


def lesson_handout(text: str, name: str, setup: str = "") -> Job:
    """Return the job of a lesson's handout, a PDF."""
    return Job(_lesson_handout, (text, name, setup))


def _brake(text: str, extent: Extent) -> Made:
    from geometry.setup import read_setup_text
    from mechviz.page.html import component_data

    return _json(component_data(read_setup_text(text, "setup"), faults=extent == "whole"))


def _setup(pickled: bytes) -> Made:
    """The moving picture of a setup that a lesson made of its own."""
    from mechviz.page.html import page_data

    return _json(page_data(*pickle.loads(pickled)))


def _lesson(text: str, name: str, setup: str) -> Made:
    from mechviz.lessons.data import lesson_data

    built = _built(text, name, setup)
    told = [(brake, built.system) for brake in built.brakes]
    jobs = [Job(_setup, (pickle.dumps(one),), in_words(one)) for one in told]
    return _json(lesson_data(built) | {"brakes": [job.key for job in jobs]}, {job.key: job for job in jobs})


def in_words(value: object) -> str:
    """Return a value of plain parts in words that are the same in every process; a set's order is not.

    >>> in_words(frozenset({"b", "a"})), in_words((1, None))
    ("{'a','b'}", '(1,None)')
    """
    if is_dataclass(value):
        parts = (in_words(getattr(value, part.name)) for part in fields(value))
        return f"{type(value).__name__}({','.join(parts)})"
    if isinstance(value, Mapping):
        return "{" + ",".join(f"{key!r}:{in_words(value[key])}" for key in sorted(value)) + "}"
    if isinstance(value, set | frozenset):
        return "{" + ",".join(sorted(in_words(part) for part in value)) + "}"
    if isinstance(value, list | tuple):
        return "(" + ",".join(in_words(part) for part in value) + ")"
    return in_words(value.tolist()) if isinstance(value, np.ndarray) else repr(value)


def _lesson_page(text: str, name: str, setup: str) -> Made:
    from mechviz.lessons.data import built_data
    from mechviz.lessons.html import lesson_file

    return Made(lesson_file(built_data(_built(text, name, setup))).encode())


def _lesson_handout(text: str, name: str, setup: str) -> Made:
    from mechviz.lessons.handout import lesson_handout

    return Made(lesson_handout(_built(text, name, setup)))


def _built(text: str, name: str, setup: str) -> Any:
    from geometry.setup import read_setup_text
    from mechviz.lessons import build_lesson, read_lesson

    return build_lesson(read_lesson(text, name), read_setup_text(setup, "setup") if setup else None)


def _json(data: Any, more: Mapping[str, Job] | None = None) -> Made:
    return Made(json.dumps(data).encode(), more or {})
