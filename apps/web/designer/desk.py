"""The designer's desk behind its page: what was done, what follows from it, and the study that runs meanwhile."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from threading import Thread
from typing import Any

from apps.web.designer.coding import coded, decoded
from apps.web.designer.html_form import Running
from apps.web.designer.html_views import said
from apps.web.designer.job import Answers, Job, Later
from apps.web.designer.judged import Point, judged
from apps.web.designer.pick import Pick, pick_text, picked
from apps.web.designer.question import Question, middle, question, tolerance_question
from apps.web.designer.state import MOST_ASKED, MOST_POINTS, VIEWS, DesignerState
from apps.web.designer.varied import choices, present, sensible
from apps.web.session import Session
from geometry.errors import MechvizError
from geometry.setup import Setup
from mechviz.study import QUANTITIES, Outcome
from mechviz.study.parameter import SIZE
from mechviz.study.piece import HEATS, WEARS
from mechviz.study.plan import KINDS
from mechviz.study.table import csv_bytes, parquet_bytes

AT_ONCE = 100_000
"""Points up to which a link runs its study by itself."""
LIFETIME = (("new", "cold"), ("worn-out", "cold"), ("worn-out", "hot"))
TABLES: Mapping[str, tuple[Callable[[Any], bytes], str]] = {
    "csv": (csv_bytes, "text/csv"),
    "parquet": (parquet_bytes, "application/vnd.apache.parquet"),
}


class Desk:
    """One visit's desk. ``shown`` is told what has changed: study, view, point, picks, answers, progress or brake."""

    def __init__(self, session: Session, later: Later) -> None:
        self.session, self.later = session, later
        self.state = DesignerState(**decoded(session.kept))
        self.answers: Answers | None = None
        self.running = Running()
        self.typed_points = ""
        self.shown: Callable[[str], None] = lambda _: None
        self.save: Callable[[bytes, str, str], None] = lambda *_: None
        self._job: Job | None = None
        self._of: Any = None
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

    def point(self, pick: Pick) -> Point:
        """Return a point with its outcomes."""
        return judged(self.setup, pick, self.state.asked) if self.setup else Point(pick)

    def text_of(self, pick: Pick) -> str:
        """Return the setup file of a point; that of the brake itself where the point is no other."""
        setup, draft = self.setup, self.session.draft
        if setup is None or all(_same(setup, key, value) for key, value in pick.values):
            return draft.text
        return pick_text(setup, pick, self.state.asked)

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
        if asked.study is None or setup is None or self.running.share is not None:
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
        self._job.start()
        self._changed("study", "view", "map", "point", "picks", "progress")

    def cancel(self) -> None:
        """Stop the study; what was there before stays."""
        if self._job is not None and self.running.share is not None:
            self._job.cancel()
            self._job = None
            before = " The results are those of the run before." if self.answers else ""
            self.running = Running(None, f"Cancelled.{before}")
            self.shown("progress")

    def begin(self) -> None:
        """Run what a link says was run, where that does not take long."""
        if self.state.ran and self.question.size <= AT_ONCE:
            self.run()

    def close(self) -> None:
        """Let everything of the visit go."""
        if self._job is not None:
            self._job.cancel()
        self._job = self.answers = None
        self.shown, self.save = (lambda _: None), (lambda *_: None)

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

    def heard(self, act: str, data: Mapping[str, Any]) -> None:
        """Do what a sheet asks for; what is not known is nothing."""
        place = data.get("place")
        done = getattr(self, f"_on_{act.replace('-', '_')}", None)
        if done is not None:
            done(
                int(place) if isinstance(place, int | float) else -1,
                str(data.get("key") or ""),
                data.get("value"),
                data,
            )

    def _changed(self, *what: str) -> None:
        """Keep the state in the address, and show what follows from it."""
        self.session.keep(**coded(self.state.kept))
        for one in what:
            self.shown(one)

    def _study_changed(self) -> None:
        self.running = Running(self.running.share)
        self._changed("study", "view", "map", "point", "picks", "brake")

    def _base_changed(self, _: object) -> None:
        self.running = Running(self.running.share)
        for one in ("study", "view", "map", "point", "picks", "brake"):
            self.shown(one)

    def _on_run(self, *_: Any) -> None:
        self.run()

    def _on_cancel(self, *_: Any) -> None:
        self.cancel()

    def _on_undo(self, *_: Any) -> None:
        self.state.undo()
        self._study_changed()

    def _on_redo(self, *_: Any) -> None:
        self.state.redo()
        self._study_changed()

    def _on_vary(self, _: int, __: str, value: Any, ___: Any) -> None:
        if self.setup and any(value in keys for keys in choices(self.setup).values()):
            self.state.vary(sensible(self.setup, str(value)))
            self._study_changed()

    def _on_retype(self, place: int, key: str, value: Any, _: Any) -> None:
        self.state.retype(place, key, str(value))
        self._study_changed()

    def _on_leave_out(self, place: int, *_: Any) -> None:
        self.state.leave_out(place)
        self._study_changed()

    def _on_ask(self, _: int, __: str, value: Any, ___: Any) -> None:
        if value in QUANTITIES:
            taken = self.state.outcome_keys
            tries = [Outcome(value), *(Outcome(value, wear, heat) for wear in WEARS[1:] for heat in HEATS[1:])]
            self.state.ask(next((one for one in tries if one.key not in taken), tries[0]))
            self._study_changed()

    def _on_ask_name(self, place: int, _: str, value: Any, __: Any) -> None:
        self._ask_instead(place, name=value)

    def _on_ask_wear(self, place: int, _: str, value: Any, __: Any) -> None:
        self._ask_instead(place, wear=value)

    def _on_ask_heat(self, place: int, _: str, value: Any, __: Any) -> None:
        self._ask_instead(place, heat=value)

    def _ask_instead(self, place: int, **other: Any) -> None:
        if not 0 <= place < len(self.state.asked):
            return
        now = self.state.asked[place]
        given = {"name": now.name, "wear": now.wear, "heat": now.heat} | other
        if given["name"] in QUANTITIES and given["wear"] in WEARS and given["heat"] in HEATS:
            self.state.ask_instead(place, Outcome(**given))
        self._study_changed()

    def _on_ask_no_more(self, place: int, *_: Any) -> None:
        self.state.ask_no_more(place)
        self._study_changed()

    def _on_lifetime(self, *_: Any) -> None:
        names = list(dict.fromkeys(outcome.name for outcome in self.state.asked))
        more = [Outcome(name, wear, heat) for name in names for wear, heat in LIFETIME]  # pyright: ignore
        new = [one for one in more if one.key not in self.state.outcome_keys]
        self.state.change(asked=[*self.state.asked, *new][:MOST_ASKED])
        self._study_changed()

    def _on_kind(self, _: int, __: str, value: Any, ___: Any) -> None:
        if value in KINDS:
            self.state.change(kind=value)
            self._study_changed()

    def _on_points(self, _: int, __: str, value: Any, ___: Any) -> None:
        text = str(value).replace(",", "").strip()
        good = text.isdecimal() and 2 <= int(text[:9]) <= MOST_POINTS
        self.typed_points = "" if good else text or "nothing"
        if good:
            self.state.change(points=int(text[:9]))
        self._study_changed()

    def _on_view(self, _: int, key: str, *__: Any) -> None:
        if key in VIEWS:
            self.state.view = key
            self._changed("view", "answers")

    def _on_of(self, _: int, __: str, value: Any, ___: Any) -> None:
        self._look(of=str(value))

    def _on_across(self, _: int, __: str, value: Any, ___: Any) -> None:
        across, up = self.state.axes
        self._look(across=str(value), up=across if value == up else up)

    def _on_up(self, _: int, __: str, value: Any, ___: Any) -> None:
        self._look(up=str(value), across=self.state.axes[0])

    def _on_best_0(self, _: int, __: str, value: Any, ___: Any) -> None:
        self._look(best=(str(value), self.state.goals[1]))

    def _on_best_1(self, _: int, __: str, value: Any, ___: Any) -> None:
        self._look(best=(self.state.goals[0], str(value)))

    def _look(self, **other: Any) -> None:
        self.state.change(**other)
        self._changed("study", "view", "map", "answers")

    def brushed(self, data: Mapping[str, Any]) -> None:
        """Do what the parallel axes ask for: ``low`` and ``high`` are figures in the unit used inside."""
        if data["act"] == "clear":
            self.state.unbrush(str(data["key"]))
        else:
            self.state.brush(str(data["key"]), float(data["low"]), float(data["high"]))
        self._changed("study", "view", "answers")

    def _on_unbrush(self, *_: Any) -> None:
        self.state.unbrush()
        self._changed("study", "view", "answers")

    # points

    def stand(self, pick: Pick) -> None:
        """Make a point stand there."""
        self.state.change(point=pick)
        self._changed("study", "point", "map", "brake")

    def stand_at(self, place: int) -> None:
        """Make a point of the result stand there."""
        if self.answers is not None and 0 <= place < self.answers.result.size:
            values = self.answers.result.values
            figures = {key: float(column[place]) for key, column in values.items()}
            self.stand(picked(self.answers.study.parameters, figures))

    def slid(self, key: str, figure: float | str, end: bool) -> None:
        """Move the point along one dimension, ``figure`` in the unit used inside; ``end`` of the slider's move."""
        self.state.change(f"slide {key}", point=self.pick.moved(key, figure))
        if end:
            self._changed("study", "point", "map", "brake")
        else:
            self.shown("point")
            self.shown("map" if key not in self.state.axes else "marks")

    def _on_size(self, _: int, key: str, value: Any, __: Any) -> None:
        if key == SIZE:
            self.slid(key, str(value), True)

    def _on_stand_row(self, place: int, *_: Any) -> None:
        self.stand_at(place)

    def _on_stand(self, place: int, *_: Any) -> None:
        if 0 <= place < len(self.state.picks):
            self.stand(self.state.picks[place])

    def _on_back(self, *_: Any) -> None:
        self.stand(Pick())

    def _on_keep(self, *_: Any) -> None:
        if self.pick not in self.state.picks:
            self.state.change(point=self.pick)
            self.state.keep_point()
        self._changed("study", "point", "picks", "marks")

    def _on_drop(self, place: int, *_: Any) -> None:
        self.state.drop_pick(place)
        self._changed("study", "point", "picks", "marks")

    def _on_use(self, *_: Any) -> None:
        self._use(self.pick)

    def _on_use_pick(self, place: int, *_: Any) -> None:
        if 0 <= place < len(self.state.picks):
            self._use(self.state.picks[place])

    def _use(self, pick: Pick) -> None:
        """Make a point the brake that is worked on, by every desk."""
        with suppress(MechvizError):
            self.session.draft.open(self.text_of(pick), "This point")

    # files

    def _on_save_point(self, *_: Any) -> None:
        self._save_pick(self.pick, "point")

    def _on_save_pick(self, place: int, *_: Any) -> None:
        if 0 <= place < len(self.state.picks):
            self._save_pick(self.state.picks[place], "ABCD"[place].lower())

    def _save_pick(self, pick: Pick, word: str) -> None:
        self.save(self.text_of(pick).encode(), f"{self.stem}-{word}.toml", "application/toml")

    def _on_csv(self, *_: Any) -> None:
        self._save_table("csv")

    def _on_parquet(self, *_: Any) -> None:
        self._save_table("parquet")

    def _save_table(self, suffix: str) -> None:
        """Write the table in a thread of its own: a million rows take their time."""
        if self.answers is None:
            return
        make, kind = TABLES[suffix]
        result, name = self.answers.result, f"{self.stem}-study.{suffix}"

        def work() -> None:
            data = make(result)
            with suppress(RuntimeError, AttributeError):
                self.later(lambda: self.save(data, name, kind))

        Thread(target=work, name="table", daemon=True).start()


def _same(setup: Setup, key: str, value: float | str) -> bool:
    if key == SIZE:
        return value == setup.brake.chamber.size
    return abs(float(value) - present(setup, key)) <= 1e-6 * max(abs(float(value)), 1e-3)
