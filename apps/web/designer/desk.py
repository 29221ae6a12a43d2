"""The designer's desk behind its page: what was done, what follows from it, and the study that runs meanwhile."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from threading import Event, Thread
from typing import Any

from apps.web.designer.coding import coded, decoded
from apps.web.designer.html_form import Running
from apps.web.designer.html_views import said
from apps.web.designer.job import DRAWN, Answers, Job, Later
from apps.web.designer.judged import Point, judged
from apps.web.designer.opened import opened, whole_study
from apps.web.designer.pick import Pick, pick_text, picked
from apps.web.designer.question import Question, middle, outcomes_of, question, tolerance_question
from apps.web.designer.state import MOST_POINTS, DesignerState
from apps.web.designer.varied import present
from apps.web.session import Session
from geometry.errors import MechvizError
from geometry.setup import Setup, builtin_names, builtin_text
from mechviz.study import CancelledError, Outcome
from mechviz.study.parameter import SIZE
from mechviz.study.table import csv_bytes, parquet_bytes
from mechviz.study.tolerance import Tolerance, tolerance
from mechviz.study.write import study_file_text

AT_ONCE = 100_000
"""Points up to which a link runs its study by itself."""
TABLES: Mapping[str, tuple[Callable[[Any], bytes], str]] = {
    "csv": (csv_bytes, "text/csv"),
    "parquet": (parquet_bytes, "application/vnd.apache.parquet"),
}


def _nobody(*_: object) -> None:
    """Hear nothing: before the page is there, and after it is gone."""


class Desk:
    """One visit's desk.

    ``shown`` is told what has changed: study, view, point, picks, answers, progress, brake, or pose while a
    slider moves.
    """

    def __init__(self, session: Session, later: Later) -> None:
        self.session, self.later = session, later
        self.state = DesignerState(**decoded(session.kept))
        self.answers: Answers | None = None
        self.running = Running()
        self.typed_points = ""
        self.moving = False
        self.shown: Callable[[str], None] = _nobody
        self.save: Callable[[bytes, str, str], None] = _nobody
        self._job: Job | None = None
        self._threads: list[Thread] = []
        self._of: Any = None
        self._drawn_for: Any = None
        self._stop = Event()
        session.draft.param.watch(self._base_changed, "text")

    # what holds

    @property
    def setup(self) -> Setup | None:
        """The brake that is studied; None where it cannot be used."""
        draft = self.session.draft
        return None if draft.faults else draft.setup

    @property
    def faults(self) -> list[str]:
        """Why it cannot be used."""
        return [fault.text(self.session.draft.system) for fault in self.session.draft.faults]

    @property
    def question(self) -> Question:
        """What is asked."""
        if self.setup is None:
            return Question(None)
        asked = question(self.state, self.setup)
        if self.typed_points:
            words = f"{self.typed_points[:20]} is no whole number from 2 to {MOST_POINTS:,}: write one"
            return Question(None, asked.wrong, (*asked.faults, f"Points: {words}."))
        return asked

    @property
    def pick(self) -> Pick:
        """The point that stands there: one within the ranges in every dimension."""
        return middle(self.state, self.setup) if self.setup else Pick()

    @property
    def outcomes(self) -> list[Outcome]:
        """What is asked for, with limits of one's own as far as they can be read."""
        return outcomes_of(self.state, self.setup)[0] if self.setup else []

    def point(self, pick: Pick) -> Point:
        """Return a point with its outcomes."""
        return judged(self.setup, pick, self.outcomes) if self.setup else Point(pick)

    def text_of(self, pick: Pick) -> str:
        """Return the setup file of a point; that of the brake itself where the point is no other."""
        setup, draft = self.setup, self.session.draft
        if setup is None or all(_same(setup, key, value) for key, value in pick.values):
            return draft.text
        return pick_text(setup, pick, self.outcomes)

    @property
    def stale(self) -> bool:
        """Whether the answers are those of another study."""
        return self.answers is not None and self._of[:-1] != self._signature[:-1]

    @property
    def moved(self) -> bool:
        """Whether the tolerances were worked out at another point, or of other tolerances."""
        return self.answers is not None and self._of != self._signature

    @property
    def _signature(self) -> tuple[Any, ...]:
        state = self.state
        return self.session.draft.text, state.varied, state.asked, state.kind, state.points, state.seed, self.pick

    @property
    def stem(self) -> str:
        """What its files are called."""
        from apps.web.tools import file_name

        return file_name(self.session.draft).removesuffix(".toml")

    # the study that runs

    def run(self) -> None:
        """Work the study out, in a thread of its own."""
        asked, setup = self.question, self.setup
        if asked.study is None or not asked.can_run or setup is None or self.running.share is not None:
            return
        self.state.ran = True
        signature = self._signature
        self._job = Job(
            asked.study,
            tolerance_question(self.state, setup, self.pick),
            self.later,
            self._told,
            lambda found: self._done(found, signature),
            self._failed,
        )
        self.running = Running(0.0)
        self._start(self._job.work)
        self.changed("study", "view", "point", "picks")

    def _draw_again(self) -> None:
        """Draw the brakes anew about a point that is another, beside all else; those of an older one are let go."""
        signature = self._signature
        if self.answers is None or self.stale or not self.moved or signature == self._drawn_for:
            return
        setup = self.setup
        produced = tolerance_question(self.state, setup, self.pick) if setup else None
        if produced is None or self.running.share is not None:
            return
        self._stop.set()
        stop = self._stop = Event()
        self._drawn_for = signature

        def done(found: Tolerance) -> None:
            if not stop.is_set() and self.answers is not None and signature == self._signature:
                self.answers, self._of = replace(self.answers, tolerance=found), signature
                self.shown("view")

        def work() -> None:
            with suppress(CancelledError, RuntimeError, AttributeError):
                found = tolerance(produced, DRAWN, cancelled=stop.is_set)
                self.later(lambda: done(found))

        self._start(work)

    def cancel(self) -> None:
        """Stop the study; what was there before stays."""
        if self._job is not None and self.running.share is not None:
            self._job.cancel()
            self._job = None
            before = " The results are those of the run before." if self.answers else ""
            self.running = Running(None, f"Cancelled.{before}")
            self.shown("progress")

    def wait(self) -> None:
        """Wait for the end of what is under way in other threads."""
        for thread in self._threads:
            thread.join()
        self._threads.clear()

    def begin(self) -> None:
        """Run what a link says was run, where that does not take long."""
        size = self.question.size
        if self.state.ran and size <= AT_ONCE:
            self.run()
        elif self.state.ran and size:
            self.running = Running(None, f"This study was run before; {size:,} points are not run again by themselves.")
            self.shown("progress")

    def close(self) -> None:
        """Let everything of the visit go."""
        if self._job is not None:
            self._job.cancel()
        self._stop.set()
        self._job = self.answers = None
        self.shown = self.save = _nobody

    def _told(self, share: float) -> None:
        self.running = Running(share)
        self.shown("progress")

    def _done(self, found: Answers, signature: tuple[Any, ...]) -> None:
        self.answers, self._of = found, signature
        self.running, self._job = Running(None, said(found)), None
        self.shown("progress")
        self.shown("answers")

    def _failed(self, error: Exception) -> None:
        self.running, self._job = Running(None, f"The study could not be worked out: {error}"), None
        self.shown("progress")

    # what is done

    def changed(self, *what: str) -> None:
        """Keep the state in the address, and show what follows from it."""
        self.moving = False
        self.session.keep(**coded(self.state.kept))
        for one in what:
            self.shown(one)
        if self.state.view == "tolerance":
            self._draw_again()

    def study_changed(self) -> None:
        """Show what follows from another study."""
        self.running = Running(self.running.share)
        self.changed("study", "view", "point", "picks", "brake")

    def _base_changed(self, _: object) -> None:
        self.running = Running(self.running.share)
        for one in ("study", "view", "point", "picks", "brake"):
            self.shown(one)

    def look(self, **other: Any) -> None:
        """Look at the study in another way, which can be undone too."""
        self.state.change(**other)
        self.changed("study", "view")

    def brush(self, key: str, low: float, high: float) -> None:
        """Keep to a range of a dimension or outcome, in the unit used inside."""
        self.state.brush(key, low, high)
        self.changed("study", "view")

    def unbrush(self, key: str = "") -> None:
        """Let a range go, or all of them."""
        self.state.unbrush(key)
        self.changed("study", "view")

    # points

    def stand(self, pick: Pick) -> None:
        """Make a point stand there."""
        self.state.change(point=pick)
        self.changed("study", "point", "map", "brake")

    def stand_at(self, place: int) -> None:
        """Make a point of the result stand there."""
        if self.answers is not None and 0 <= place < self.answers.result.size:
            values = self.answers.result.values
            figures = {key: float(column[place]) for key, column in values.items()}
            self.stand(picked(self.answers.study.parameters, figures))

    def slid(self, key: str, figure: float | str, end: bool) -> None:
        """Move the point along one dimension, ``figure`` in the unit used inside; ``end`` of the slider's move."""
        self.moving = not end
        self.state.change(f"slide {key}", point=self.pick.moved(key, figure))
        if end:
            self.changed("study", "point", "map", "brake")
        else:
            self.shown("pose")
            self.shown("point")
            self.shown("map" if key not in self.state.axes else "marks")

    def use(self, pick: Pick) -> None:
        """Make a point the brake that is worked on, by every desk."""
        with suppress(MechvizError):
            self.session.draft.open(self.text_of(pick), "This point")

    # files

    def save_pick(self, pick: Pick, word: str) -> None:
        """Save a point as a setup file."""
        self.save(self.text_of(pick).encode(), f"{self.stem}-{word}.toml", "application/toml")

    def save_study(self) -> None:
        """Save the study as a file for the command line, and the setup that it begins with unless that is built in."""
        setup, draft = self.setup, self.session.draft
        study = whole_study(self.state, setup, self.pick) if setup else None
        if study is None:
            return
        builtin = next((name for name in builtin_names() if builtin_text(name) == draft.text), None)
        text = study_file_text(study, builtin or f"{self.stem}.toml")
        self.save(text.encode(), f"{self.stem}-study.toml", "application/toml")
        if builtin is None:
            self.save(draft.text.encode(), f"{self.stem}.toml", "application/toml")

    def open_study(self, text: str) -> None:
        """Take a study's file in place of what is there. Raises `MechvizError` where it cannot be used here."""
        found = opened(text, self.setup, f"{self.stem}.toml")
        if found.base is not None and builtin_text(found.base) != self.session.draft.text:
            self.session.draft.start_from(found.base)
        self.typed_points = ""
        self.state.change(**found.choice)
        told = "".join(f" Note: {note}." for note in found.notes)
        self.study_changed()
        self.running = Running(self.running.share, f"The study was opened: run it.{told}")
        self.shown("progress")

    def save_table(self, suffix: str) -> None:
        """Write the table in a thread of its own: a million rows take their time."""
        if self.answers is None:
            return
        make, kind = TABLES[suffix]
        result, name = self.answers.result, f"{self.stem}-study.{suffix}"

        def work() -> None:
            data = make(result)
            with suppress(RuntimeError, AttributeError):
                self.later(lambda: self.save(data, name, kind))

        self._start(work)

    def _start(self, work: Callable[[], None]) -> None:
        """Have something done in a thread of its own."""
        self._threads = [thread for thread in self._threads if thread.is_alive()]
        self._threads.append(Thread(target=work, name="designer", daemon=True))
        self._threads[-1].start()


def _same(setup: Setup, key: str, value: float | str) -> bool:
    if key == SIZE:
        return value == setup.brake.chamber.size
    return abs(float(value) - present(setup, key)) <= 1e-6 * max(abs(float(value)), 1e-3)
