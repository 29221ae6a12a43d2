"""A lesson as a film: minutes of work, in a process of its own, with its progress told and an end when asked for."""

import os
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from time import monotonic
from typing import Any, Literal

import param

State = Literal["", "running", "done", "failed"]

POLL = 400
"""Milliseconds between two looks at how far it is."""


class Filming(param.Parameterized):
    """One film at a time, written into a folder of the user's."""

    state = param.Selector(default="", objects=["", "running", "done", "failed"])
    share = param.Number(default=0.0, bounds=(0.0, 1.0), doc="How much of it is done.")
    said = param.String(default="", doc="Why it failed, or that it was stopped.")
    left = param.Number(default=None, allow_None=True, doc="Seconds that it still takes; None while nobody can tell.")
    file = param.String(default="", doc="What the file is called.")

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self.folder = folder
        self._process: Any = None
        self._heard: Any = None
        self._first: tuple[float, float] | None = None

    def begin(self, text: str, lesson: str, name: str) -> None:
        """Begin to write the film of a lesson's text as ``name``; one that runs already goes on."""
        if self.state == "running":
            return
        context = get_context("forkserver")
        self._heard, told = context.Pipe(duplex=False)
        self._process = context.Process(
            target=_film_quietly, args=(text, lesson, self.folder / name, told), daemon=True
        )
        self._first = None
        self.param.update(state="running", share=0.0, said="", left=None, file=name)
        self._process.start()
        told.close()

    def cancel(self) -> None:
        """Stop, and leave no half film behind."""
        if self._process is not None and self.state == "running":
            self._process.terminate()
            self._process.join(5)
            part_of(self.folder / self.file).unlink(missing_ok=True)
            self._end("", "The film was stopped. Nothing of it was kept.")

    def look(self) -> None:
        """Take over what the process has told since the last look."""
        while self._heard is not None and self.state == "running":
            try:
                if not self._heard.poll():
                    return
                told = self._heard.recv()
            except EOFError:
                self._end("failed", "the film ended before its last picture")
                return
            if isinstance(told, float):
                self._on(min(max(told, 0.0), 1.0), monotonic())
            else:
                self._end("failed" if told else "done", told)

    def _on(self, share: float, now: float) -> None:
        """Take how much is done; what is left is told by the pace since the first picture."""
        self._first = self._first or (share, now)
        first, since = self._first
        pace = (now - since) / (share - first) if share > first else None
        self.param.update(share=share, left=None if pace is None else pace * (1.0 - share))

    def _end(self, state: State, said: str) -> None:
        if self._heard is not None:
            self._heard.close()
        self._heard = self._process = None
        self.param.update(state=state, said=said, left=None, share=1.0 if state == "done" else 0.0)


def _film_quietly(text: str, lesson: str, path: Path, told: Connection) -> None:
    """Write a film in a process of its own, whose encoder says nothing in the server's terminal: the desk says it."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 2)
    write_film(text, lesson, path, told)


def write_film(text: str, lesson: str, path: Path, told: Connection) -> None:
    """Write a film beside its place, put it there when it is whole, and tell the share done; in the end why not."""
    from mechviz.lessons import build_lesson, read_lesson
    from mechviz.lessons.film import lesson_film

    beside = part_of(path)
    try:
        film = lesson_film(build_lesson(read_lesson(text, lesson)))
        for count in film.write(beside):
            told.send(count / film.frames)
        beside.replace(path)
        told.send("")
    except Exception as error:  # whatever it is, the desk has to say it
        beside.unlink(missing_ok=True)
        told.send(str(error) or type(error).__name__)


def part_of(path: Path) -> Path:
    """Return the file in which a film grows."""
    return path.with_name(f".{path.name}.part.mp4")
