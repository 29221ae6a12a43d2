"""A job while somebody works on it: what was typed, the way back, and where it is kept. No server, no page."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

import param

from apps.web.draft import Refused
from apps.web.history import History
from apps.web.mechanic.store import JobStore
from geometry.errors import Fault, MechvizError
from geometry.quantity import System
from geometry.setup import builtin_names, builtin_text, read_setup_text
from geometry.setup.text import decode
from geometry.units import shorten
from mechviz.job.fields import Phase, Place, Side
from mechviz.job.file import is_job, job_of_setup, job_text, read_job_text
from mechviz.job.model import Job

Clock = Callable[[], str]
What = tuple[str, ...]
"""What was changed last, so that the letters of one word are one step back."""


def local_time() -> str:
    """Return the time as it is written on a job: ``2026-11-26 03:28``."""
    return f"{datetime.now():%Y-%m-%d %H:%M}"


class Bench(param.Parameterized):
    """One job under way: each change is kept at once, and can be taken back."""

    job = param.ClassSelector(class_=Job, allow_None=False, doc="The job as it is now.")
    text = param.String(doc="Its file as it would be saved.")
    refused = param.ClassSelector(class_=Refused, allow_None=True, doc="What was to be opened last and could not be.")
    unsaved = param.String(doc="Why the job is not kept; empty where it is.")
    can_undo = param.Boolean(default=False)
    can_redo = param.Boolean(default=False)

    def __init__(self, store: JobStore, name: str, job: Job | None = None, clock: Clock = local_time) -> None:
        """Take up the job kept under ``name``; where there is none, begin with ``job``, kept from the first change.

        A job that cannot be read is told in ``refused`` and left alone: what is typed then is kept under another name.
        """
        self._store, self.name_kept, self._clock = store, name, clock
        kept, refused = _taken_up(store, name)
        if refused:
            self.name_kept = store.new_name()  # what nobody can read is left as it is
        first = kept or job or Job()
        super().__init__(job=first, text=job_text(first), refused=refused)
        self._history, self._last = History(first), What()
        self._known = store.text(name) if kept else None

    @property
    def current(self) -> Job:
        """The job as it is now."""
        assert self.job is not None
        return self.job

    def type(self, place: Place, phase: Phase, key: str, text: str) -> None:
        """Take a text from a field. Raises `MechvizError` for a field that there is not."""
        now = "" if place == "axle" else self._clock()
        self._change(lambda job: job.typed(place, phase, key, text, now), (place, phase, key))

    def tell(self, name: str, text: str) -> None:
        """Take a line about the job."""
        self._change(lambda job: job.about(name, text), ("about", name))

    def use_units(self, system: System) -> None:
        """Read bare figures in other units from now on."""
        self._change(lambda job: job if job.system == system else job.in_units(system), ("units",))

    def use_base(self, base: str) -> None:
        """Let another built-in brake stand in for what nobody measures."""
        if base not in builtin_names():
            fix = f"use {', '.join(builtin_names())}"
            raise MechvizError(Fault("base", "is no built-in brake", fix, shorten(base), "number"))
        self._change(lambda job: replace(job, base=base), ("base",))

    def open(self, data: bytes | str, name: str) -> bool:
        """Take a job's file, or a setup's as its left wheel, in place of this job; say whether it could be used."""
        try:
            _none_of_ours(data)
            text = data if isinstance(data, str) else decode(data, name)
            opened = read_job_text(text) if is_job(text) else _of_setup(text, name)
        except MechvizError as error:
            system = getattr(error, "system", None) or "inch"
            self.refused = Refused(name, tuple(fault.text(system) for fault in error.faults))
            return False
        self.refused = None
        self._change(lambda _: opened, ("open", name))
        return True

    def start_from(self, base: str) -> None:
        """Begin anew on a built-in brake."""
        self._change(lambda job: replace(begun_on(base), system=job.system), ("start", base))

    def keep(self) -> None:
        """Keep the job as it is, though nothing was typed: it is to be printed."""
        self._hold(self.current, keep_last=True)

    def undo(self) -> None:
        """Take the last change back."""
        self._hold(self._history.undo())

    def redo(self) -> None:
        """Make the change again that was taken back."""
        self._hold(self._history.redo())

    def value(self, key: str) -> str:
        """Return what a saved file is named after."""
        return self.current.title if key == "title" else ""

    def catch_up(self) -> None:
        """Take over what another window has written since, though nothing was typed here."""
        self._catch_up()

    def _change(self, change: Callable[[Job], Job], what: What) -> None:
        """Make a change to the job as it is kept: another window may have gone on with it."""
        self._catch_up()
        changed = change(self.current)
        if what == self._last and what[0] in ("axle", "left", "right", "about") and self._history.can_undo:
            self._history.undo()
        self._last = what
        self._history.put(changed)
        self._hold(changed, keep_last=True)

    def _catch_up(self) -> None:
        """Take over what another window has written since."""
        try:
            kept = self._store.text(self.name_kept)
            if kept is not None and kept != self._known:
                self._known = kept
                self._history.put(read_job_text(kept))
                self._hold(self._history.now, save=False)
        except MechvizError:
            return  # somebody has spoilt the file: what is here is written over it

    def _hold(self, job: Job, *, keep_last: bool = False, save: bool = True) -> None:
        """Take over the job that holds now, keep it, and tell of it in one go."""
        if not keep_last:
            self._last = What()
        unsaved = self.unsaved
        if save:
            try:
                self._known, unsaved = self._store.save(self.name_kept, job), ""
            except MechvizError as error:
                unsaved = str(error)
        self.param.update(
            job=job,
            text=job_text(job),
            unsaved=unsaved,
            can_undo=self._history.can_undo,
            can_redo=self._history.can_redo,
        )


def begun_on(base: str, side: Side = "left") -> Job:
    """Return a job on a built-in brake; where that is an example with a stroke that was read, with its readings."""
    example = job_of_setup(builtin_text(base), side)
    return example if example.text(side, "before", "measured.stroke") else Job(base=base)


def begun_with(text: str) -> Job:
    """Return the job that a desk begins with where the address names none: of a setup's text."""
    for name in builtin_names():
        if text.strip() == builtin_text(name).strip():
            return begun_on(name)
    opened = job_of_setup(text)
    return opened if opened.entries or opened.own else begun_on(opened.base)


OTHERS = {
    b"\xff\xd8\xff": "a photo",
    b"\x89PNG": "a picture",
    b"GIF8": "a picture",
    b"RIFF": "a picture or a sound",
    b"%PDF": "a PDF: the job sheet is printed from a job, and not opened again",
    b"PK\x03\x04": "a packed file or a document",
}
"""What files begin with that are dropped here by mistake, and what they are."""
WHAT_TO_OPEN = "open a job that was saved here (its name ends in .toml), or a setup's file"


def _none_of_ours(data: bytes | str) -> None:
    """Say in plain words what was dropped, where it is empty or surely no text. Raises `MechvizError`."""
    if not data.strip():
        raise MechvizError(Fault("file", "is empty", WHAT_TO_OPEN, kind="number"))
    start = data[:4] if isinstance(data, bytes) else data[:4].encode("utf-8", "replace")
    what = next((said for begins, said in OTHERS.items() if start.startswith(begins)), "")
    if what:
        raise MechvizError(Fault("file", f"is {what}", WHAT_TO_OPEN, kind="number"))


def _of_setup(text: str, name: str) -> Job:
    """A setup's readings as those of the left wheel; the setup has to be one that can be used."""
    read_setup_text(text, name, judging=True)
    return job_of_setup(text)


def _taken_up(store: JobStore, name: str) -> tuple[Job | None, Refused | None]:
    try:
        return store.load(name), None
    except MechvizError as error:
        return None, Refused("The job kept under this address", tuple(fault.text() for fault in error.faults))
