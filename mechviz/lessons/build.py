"""A lesson on a brake: where each step stands and moves, its figures told, and whether all of it can be."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from geometry.air import SCENARIOS, course, happenings
from geometry.errors import Fault, MechvizError, PartError
from geometry.found import condition_of
from geometry.quantity import System
from geometry.reasons import Reason
from geometry.setup import Setup
from geometry.units import parse
from mechviz.air.study import RESERVOIR
from mechviz.checks.case import COLD
from mechviz.faults.study import Row, every_row
from mechviz.lessons.blocks import Block, Text
from mechviz.lessons.brake import changed_setup, in_units, setup_called
from mechviz.lessons.faults import fault, nearest, placed, raise_all
from mechviz.lessons.figures import Figures
from mechviz.lessons.keys import SETTINGS, StepKeys
from mechviz.lessons.markdown import SECTIONS, Section
from mechviz.lessons.model import Lesson, Step
from mechviz.lessons.names import RANDOM
from mechviz.lessons.parts import OF_PARKING, part_called
from mechviz.lessons.stand import At, Stand, found_stand, moved, read_at, stand_of
from mechviz.lifetime.study import Asked, Study, study
from mechviz.page.air import shown
from mechviz.page.defects import NEVER

SYSTEMS: tuple[System, System] = ("inch", "metric")
MOST_BRAKES = 4
"""Different brakes in one lesson: each makes the page larger by more than a megabyte."""

Motion = Mapping[str, Any]


@dataclass(frozen=True)
class BuiltStep:
    """A step on its brake.

    ``brake`` is which of the lesson's brakes, ``start`` and ``end`` where it stands before and after its move, ``at``
    the place in the application where it then is. ``motion`` is what the page's script plays, None where nothing moves;
    ``texts`` are its sections, told, by system.
    """

    step: Step
    brake: int
    setup: Setup
    start: Stand
    end: Stand
    begins: At
    at: At
    motion: Motion | None
    row: Row | None
    place: Mapping[str, Any]
    texts: Mapping[System, Mapping[Section, Text]]

    @property
    def keys(self) -> StepKeys:
        """The step's header."""
        return self.step.keys

    @cached_property
    def life(self) -> Study:
        """The working life that the step stands in."""
        return _life_of(self.step, self.setup)

    def lived(self, wear: float) -> Stand:
        """Return where the brake of a step in the working life stands at a wear (mm)."""
        return _lived(self.life, wear, bool(self.place.get("hot")))

    def figures(self, system: System) -> Figures:
        """Return the step's figures in a system of units."""
        return Figures(self.setup, self.start, self.end, system, self.row)


@dataclass(frozen=True)
class Built:
    """A lesson on its brakes: the first is the lesson's own."""

    lesson: Lesson
    system: System
    brakes: tuple[Setup, ...]
    steps: tuple[BuiltStep, ...]


def build_lesson(
    lesson: Lesson, setup: Setup | None = None, system: System | None = None, text: str | None = None
) -> Built:
    """Return a lesson on its own brake, or on another ``setup``. Raises `LessonError` with all that cannot be.

    ``text`` is the TOML of a ``setup`` that is from no file, for steps that set some of its keys anew.
    """
    own = in_units(setup or setup_called(lesson.keys.brake), system)
    builder = _Builder(lesson, own, text)
    steps = [builder.step(step) for step in lesson.steps]
    raise_all(builder.faults)
    built = tuple(step for step in steps if step is not None)
    return Built(lesson, own.system, tuple(builder.brakes), built)


class _Builder:
    """What the steps of one lesson share: its brakes, each solved once, and the faults found so far."""

    def __init__(self, lesson: Lesson, own: Setup, text: str | None) -> None:
        self.lesson, self.own, self.text = lesson, own, text
        self.brakes: list[Setup] = [own]
        self.named: dict[str, int] = {"": 0}
        self.faults: list[Fault] = []
        self.rows: dict[int, list[Row]] = {}

    def step(self, step: Step) -> BuiltStep | None:
        """Build one step; None where it cannot be, which is then among the faults."""
        brake = self._brake(step)
        if brake is None:
            return None
        setup = self.brakes[brake]
        try:
            return self._built(step, brake, setup)
        except MechvizError as error:
            self.faults += error.faults
        return None

    def _brake(self, step: Step) -> int | None:
        keys = step.keys
        name = f"{keys.brake or ''} {keys.set or ''}".strip()
        if name in self.named:
            return self.named[name]
        try:
            base = self.own if keys.brake is None else in_units(setup_called(keys.brake), self.own.system)
            made = changed_setup(base, keys.set, self.text if keys.brake is None else None)
        except MechvizError as error:
            self.faults += [placed(one, step.spot(f"set.{one.where}"), f"set.{one.where}") for one in error.faults]
            return None
        if len(self.brakes) == MOST_BRAKES:
            problem = f"makes more than {MOST_BRAKES} different brakes of one lesson"
            self.faults.append(fault(step.spot("set"), "set", problem, "make two lessons of it"))
            return None
        self.brakes.append(made)
        self.named[name] = len(self.brakes) - 1
        return len(self.brakes) - 1

    def _built(self, step: Step, brake: int, setup: Setup) -> BuiltStep:
        keys = step.keys
        page = {"life": _life_step, "air": _air_step, "faults": self._fault_step, "plain": _plain_step}[keys.page]
        place = page(step, setup, self._settings(step))
        start, end, begins, at, motion, where, row = place
        motion = _apart(step) or motion
        built = BuiltStep(step, brake, setup, start, end, begins, at, motion, row, where, {})
        self._fitted(step, setup)
        if keys.page in ("plain", "faults"):
            self._possible(built)
        return replace(built, texts={system: self._told(built, system) for system in SYSTEMS})

    def _settings(self, step: Step) -> "_Typed":
        """The step's settings over the lesson's, and where each was typed."""
        own = {name: getattr(step.keys, name) for name in SETTINGS}
        typed = {name: own[name] or getattr(self.lesson.keys, name) for name in SETTINGS}
        ours = {name: own[name] or typed[name] is None for name in SETTINGS}
        spots = {name: step.spot(name) if ours[name] else self.lesson.spot(name) for name in SETTINGS}
        return typed, {name: spot.where(name) for name, spot in spots.items()}

    def _fault_step(self, step: Step, setup: Setup, _: "_Typed") -> "_Place":
        keys, stand = step.keys, found_stand(setup)
        begins, at, motion = _travel(step)
        row = None
        if keys.fault is not None and keys.fault != RANDOM:
            brake = self.brakes.index(setup)
            rows = self.rows.setdefault(brake, every_row(setup))
            row = next((one for one in rows if one.name == keys.fault), None)
            if row is None or Reason(int(row.outcome.reason)) in NEVER:
                problem = f"is no defect that {setup.title} can have"
                fix = "name another one, or another brake"
                raise MechvizError(fault(step.spot("fault"), "fault", problem, fix, keys.fault))
        return stand, stand, begins, at, motion, {"fault": keys.fault}, row

    def _fitted(self, step: Step, setup: Setup) -> None:
        """Hold the parts that are to be lit against the only ones that a brake may be without."""
        for words in step.keys.light:
            part = part_called(words)
            if part is not None and part.words in OF_PARKING and setup.parking is None:
                problem = f"is a part that {setup.title} does not have"
                self.faults.append(fault(step.spot("light"), "light", problem, "leave it out", words))

    def _possible(self, built: BuiltStep) -> None:
        """Hold a step's states against what the brake can do, unless the step says that it cannot on purpose."""
        keys, step = built.keys, built.step
        if keys.impossible or built.row is not None:
            return
        for stand, at, key in ((built.start, built.begins, _key_of(step)), (built.end, built.at, _end_key(step))):
            state = at.state(built.setup, stand)
            if state.reason:
                problem = f"asks {built.setup.title} for a state that cannot be: {state.reason.words}"
                fix = f"{state.reason.fix}; or write impossible = true if the class is to see that"
                self.faults.append(fault(step.spot(key), key, problem, fix, at.typed))
                return

    def _told(self, built: BuiltStep, system: System) -> dict[Section, Text]:
        figures = built.figures(system)
        names: tuple[Section, ...] = ("text", *SECTIONS)
        return {name: self._section(built, figures, name, system) for name in names if name in built.step.body}

    def _section(self, built: BuiltStep, figures: Figures, name: Section, system: System) -> Text:
        step = built.step
        told: list[Block] = []
        for one in step.body[name]:

            def missing(figure: str, why: str, line: int = one.line) -> None:
                if system == SYSTEMS[0]:
                    problem = f"is a figure that {built.setup.title} does not have here: {why}"
                    spot = replace(step.spot(), line=line)
                    self.faults.append(fault(spot, f"{name}, {{{figure}}}", problem, "name another figure"))

            told.append(one.block.told(lambda text, hear=missing: figures.say(text, hear)))
        return tuple(told)


_Typed = tuple[dict[str, str | None], dict[str, str]]
_Place = tuple[Stand, Stand, At, At, Motion | None, Mapping[str, Any], Row | None]


def _key_of(step: Step) -> str:
    return "move.from" if step.keys.move else "at"


def _end_key(step: Step) -> str:
    return "move.to" if step.keys.move else "at"


def _plain_step(step: Step, setup: Setup, settings: _Typed) -> _Place:
    typed, where = settings
    move = step.keys.move
    if move is None or move.what in ("brake", "apart"):
        stand = stand_of(setup, typed, where)
        begins, at, motion = _travel(step)
        stand = replace(stand, pressure=at.value) if at.kind == "pressure" else stand
        return stand, stand, begins, at, motion, {}, None
    begin_at, end_at = step.spot("move.from").where("move.from"), step.spot("move.to").where("move.to")
    start = stand_of(setup, _begun(typed, move.what, move.begin), where | {move.what: begin_at})
    at = read_at(step.keys.at or "applied", step.spot("at").where("at"))
    end = moved(setup, start, move.what, move.end, end_at, move.adjuster == "follows")
    motion = {"kind": "walk", "from": start.values(), "to": end.values()}
    return start, end, at, at, motion, {}, None


def _begun(typed: Mapping[str, str | None], what: str, begin: str | None) -> dict[str, str | None]:
    """The settings with what moves at where it begins."""
    return dict(typed) if begin is None else {**typed, what: begin}


def _travel(step: Step) -> tuple[At, At, Motion | None]:
    """Where in the application a step stands, or what it moves through."""
    keys, move = step.keys, step.keys.move
    at_key = step.spot("at").where("at")
    if move is None or move.what != "brake":
        at = read_at(keys.at or "released", at_key)
        return at, at, None
    begin = read_at(move.begin or "released", step.spot("move.from").where("move.from"))
    end = read_at(move.end, step.spot("move.to").where("move.to"))
    return begin, end, {"kind": "travel", "from": place_of(begin), "to": place_of(end)}


def place_of(at: At) -> dict[str, Any]:
    """Return a place in the application as the page's script finds it."""
    if at.kind == "stroke":
        return {"stroke": at.value}
    if at.kind == "event" and at.typed == "contact":
        return {"contact": True}
    return {"x": 0.0 if at.typed == "released" else 1.0}


def _apart(step: Step) -> Motion | None:
    move = step.keys.move
    if move is None or move.what != "apart":
        return None
    ends = [_share(text, step, key) for text, key in ((move.begin or "0", "move.from"), (move.end, "move.to"))]
    return {"kind": "apart", "from": ends[0], "to": ends[1]}


def _share(typed: str, step: Step, key: str) -> float:
    try:
        value = float(typed)
    except ValueError:
        value = -1.0
    if not 0 <= value <= 1:
        raise PartError(fault(step.spot(key), key, "is no share from 0 (together) to 1 (apart)", 'write "1"', typed))
    return value


RELEASED, APPLIED = At("event", 0.0, "released"), At("event", 0.0, "applied")


def _life_step(step: Step, setup: Setup, _: _Typed) -> _Place:
    """A step in the working life: its wear by name or by length."""
    keys = step.keys
    which, hot = (keys.life.adjuster, keys.life.drum == "hot") if keys.life else ("working", False)
    lived = _life_of(step, setup)
    move = keys.move
    first, last = (keys.life.wear if keys.life else "0 mm", "life.wear"), None
    if move is not None and move.what == "wear":
        first, last = (move.begin or first[0], "move.from"), (move.end, "move.to")
    begin = _wear(lived, step, *first)
    end = begin if last is None else _wear(lived, step, *last)
    start, stop = (_lived(lived, wear, hot) for wear in (begin, end))
    motion = None if last is None else {"kind": "wear", "from": begin, "to": end}
    return start, stop, APPLIED, APPLIED, motion, {"which": which, "wear": begin, "hot": hot}, None


def _life_of(step: Step, setup: Setup) -> Study:
    working = study(setup, Asked(state="working"))
    stopped = step.keys.life is not None and step.keys.life.adjuster == "stopped"
    return working.stopped() if stopped else working


def _wear(lived: Study, step: Step, typed: str, key: str) -> float:
    spot = step.spot(key)
    names = {event.name: event.wear for event in lived.happening} | {"end": lived.end, "new": 0.0}
    word = typed.strip().lower()
    if word in names:
        return min(names[word], lived.end)
    try:
        wear = parse(typed, "length", spot.where(key))
    except PartError:
        known = [event.name for event in lived.events]
        if word in known:
            problem = "does not come in this life"
            raise PartError(fault(spot, key, problem, f"write one of {', '.join(names)}", typed)) from None
        fix = f'{nearest(word, names)}, or a length such as "1 mm"'
        raise PartError(fault(spot, key, "is neither a length nor an event of this life", fix, typed)) from None
    if not 0 <= wear <= lived.end:
        found = Fault(spot.where(key), "is not in this life", 'write "end"', wear, least=0.0, most=lived.end)
        raise PartError(found)
    return wear


def _lived(lived: Study, wear: float, hot: bool) -> Stand:
    one = lived.service
    setting = float(lived.upkeep.at(wear))
    return Stand(one.pressure, one.brake.lining.thickness - wear, one.hot if hot else COLD, setting)


def _air_step(step: Step, setup: Setup, _: _Typed) -> _Place:
    """A step in a scenario of the air: its time by what happens then, or in seconds."""
    keys, stand = step.keys, found_stand(setup)
    assert keys.air is not None  # reading has looked
    name = keys.air.scenario
    if name not in shown(setup.parking):
        problem = f"is no scenario of {setup.title}: it has {'a' if setup.parking else 'no'} parking section"
        fix = f"write one of {', '.join(shown(setup.parking))}"
        raise MechvizError(fault(step.spot("air.scenario"), "air.scenario", problem, fix, name))
    run = course(SCENARIOS[name], setup.parking, RESERVOIR)
    happened = happenings(setup.brake, setup.parking, condition_of(setup), run)
    times = {one.short: one.time for one in reversed(happened) if one.short} | {"end": run.end}  # the first of its name
    move = keys.move
    first, last = (keys.air.time, "air.time"), None
    if move is not None and move.what == "time":
        first, last = (move.begin or keys.air.time, "move.from"), (move.end, "move.to")
    begin = _time(times, run.end, step, *first)
    end = begin if last is None else _time(times, run.end, step, *last)
    motion = None if last is None else {"kind": "time", "from": begin, "to": end}
    return stand, stand, RELEASED, RELEASED, motion, {"scenario": name, "time": begin}, None


def _time(times: Mapping[str, float], end: float, step: Step, typed: str, key: str) -> float:
    spot, word = step.spot(key), typed.strip().lower()
    if word in times:
        return times[word]
    try:
        time = parse(typed, "time", spot.where(key))
    except PartError:
        fix = f'{nearest(word, times, 20)}, or a time such as "2 s"'
        raise PartError(fault(spot, key, "is neither a time nor something that happens then", fix, typed)) from None
    if not 0 <= time <= end:
        raise PartError(Fault(spot.where(key), "is not in this scenario", 'write "end"', time, "time", 0.0, end))
    return time


def check_lesson(lesson: Lesson, others: Sequence[Setup] = ()) -> list[Fault]:
    """Return what is wrong with a lesson on every brake that it claims to hold for, and on ``others``."""
    setups = [setup_called(name) for name in lesson.brakes] + list(others)
    return [one for setup in setups for one in _faults(lambda setup=setup: build_lesson(lesson, setup))]


def _faults(build: Callable[[], Built]) -> tuple[Fault, ...]:
    try:
        build()
    except MechvizError as error:
        return error.faults
    return ()
