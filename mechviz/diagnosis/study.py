"""One setup diagnosed: its readings, how probable each cause is, what is alike, and what to measure next."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from geometry.diagnosis import (
    NOTHING,
    Belief,
    LeftOver,
    Readings,
    Worth,
    believed,
    groups_of,
    left_over,
    marks_left_over,
    predict,
    readings_of,
    sobered,
    speaks_for,
    telling_apart,
    worths,
)
from geometry.diagnosis.meant import guessed
from geometry.diagnosis.readings import BLOCK, OTHER_SLACK
from geometry.diagnosis.tight import cause_named
from geometry.errors import Fault, PartError
from geometry.found import condition_of
from geometry.quantity import System
from geometry.setup import Setup
from geometry.states import at_pressure
from mechviz.checks.case import COLD, WARM, Case
from mechviz.checks.judge import ROUNDING
from mechviz.checks.row import CheckRow
from mechviz.diagnosis.contradictions import Contradiction, contradictions
from mechviz.diagnosis.notices import Impossible, cold_slack, failed_rows, impossible_in

OPTIONS: Mapping[str, str] = {"free_stroke": "--free-stroke", "lining_clearance": "--clearance"}
"""How a reading is given beside a file that states the other one of the two."""
SOUND_TITLE = "Nothing wrong"
LIKELY = 0.5
"""More probable than this is more likely than not."""
NO_PART_TITLE = "No part at fault"
SOUND_INSIDE = "The brake is as it should be; readings differ from brake to brake by as much."
SOUND_OUTSIDE = "Nothing."


@dataclass(frozen=True)
class Cause:
    """One cause: its name, words, and probability before and after the readings; ``place`` among the predictions."""

    place: int
    name: str
    title: str
    inside: str
    outside: str
    prior: float
    probability: float


@dataclass(frozen=True)
class Group:
    """Causes that no reading can tell apart, the most probable first."""

    causes: tuple[Cause, ...]

    @property
    def probability(self) -> float:
        """That it is one of them."""
        return sum(cause.probability for cause in self.causes)

    @property
    def prior(self) -> float:
        """The same before anything was read."""
        return sum(cause.prior for cause in self.causes)


@dataclass(frozen=True)
class Study:
    """A setup and what is believed of it.

    ``explained`` says whether the most probable cause explains the readings, by a brake that works. Where none does, or
    readings contradict each other, ``belief`` is of brakes that work: one that does not (its cam past its profile, say)
    may be read anyhow, and being read oddly is no sign of it unless lining and drum say so by themselves
    (``worn_out``); else it gains nothing from what it does not foretell. ``lost`` is how probable it would be
    otherwise.
    """

    setup: Setup
    readings: Readings
    belief: Belief
    groups: tuple[Group, ...]
    guessed: tuple[str, ...]
    explained: bool
    lost: float
    worn_out: bool

    @cached_property
    def next(self) -> list[Worth]:
        """What could still be read, what would tell most first."""
        return worths(self.belief)

    @property
    def causes(self) -> list[Cause]:
        """Every cause, the most probable first."""
        return sorted((one for group in self.groups for one in group.causes), key=lambda one: -one.probability)

    @property
    def nothing_read(self) -> bool:
        """Whether there is no reading at all."""
        return not self.readings.values

    @property
    def limit_passed(self) -> float | None:
        """The stroke limit, mm, where the stroke was read over it on a cold drum and on a chamber that is known."""
        return None if self.stroke_read_hot else self.limit_over

    @property
    def limit_over(self) -> float | None:
        """The same with the drum at any heat: the limit itself is meant for a cold one."""
        case, stroke = Case(self.setup, self.setup.test.rules), self.readings.values.get("stroke")
        if stroke is None or not case.knows_chamber or stroke <= case.limit.limit_mm:
            return None
        return case.limit.limit_mm

    @property
    def stroke_read_hot(self) -> bool:
        """Whether the drum was warm when the stroke was read."""
        return self.setup.as_found.drum_temperature > COLD + WARM

    @property
    def bottomed(self) -> tuple[str, ...]:
        """Which of the strokes, by air and by hand, were read at the chamber's full stroke."""
        rated, half = self.setup.brake.chamber.rated_stroke, 0.5 * self.setup.measured.resolution
        read = {name: self.readings.values.get(name) for name in ("stroke", "free_stroke")}
        return tuple(name for name, v in read.items() if v is not None and -half <= v - rated <= ROUNDING)

    @property
    def little_stroke(self) -> bool:
        """Whether the rod moved less than half as far as the brake as written would at the pressure of the test."""
        stroke = self.readings.values.get("stroke")
        if stroke is None:
            return False
        moved = at_pressure(self.setup.brake, condition_of(self.setup), self.setup.test.pressure, "").stroke
        return moved is not None and stroke < 0.5 * moved

    @cached_property
    def impossible(self) -> list[Impossible]:
        """Readings that no state of the brake as written can have."""
        return impossible_in(self.setup)

    @cached_property
    def contradictions(self) -> list[Contradiction]:
        """Readings that cannot all be true, whatever is wrong, in words of the setup's units."""
        return self.contradictions_in(self.setup.system)

    def contradictions_in(self, system: System) -> list[Contradiction]:
        """The same in words of ``system``."""
        return contradictions(self.setup, self.readings, system)

    @property
    def marks_left_over(self) -> bool:
        """Whether the most probable cause leaves unexplained what was seen of a long-stroke chamber's marks."""
        return marks_left_over(self.belief)

    @cached_property
    def failed(self) -> list[CheckRow]:
        """What a check fails of the readings, the stroke apart."""
        return failed_rows(self.setup)

    @cached_property
    def cold_slack(self) -> float | None:
        """The free stroke of a cold drum, mm, where one that was read hot leaves too little; NaN where none is left."""
        return cold_slack(self.setup)

    @cached_property
    def out_of_limits(self) -> bool:
        """Whether something is wrong even if no part is at fault."""
        wrong = bool(self.failed or self.impossible or self.contradictions or self.bottomed)
        return wrong or self.limit_passed is not None or self.cold_slack is not None

    @property
    def fits(self) -> bool:
        """Whether every reading can be, and the most probable cause explains them."""
        return not self.impossible and not self.contradictions and self.explained

    @cached_property
    def left_over(self) -> list[LeftOver]:
        """The readings that the most probable cause leaves unexplained."""
        return left_over(self.belief)

    @cached_property
    def second(self) -> str | None:
        """The title of the defect that the readings left over speak for; None where they speak for none."""
        name = speaks_for(self.belief)
        return None if name is None else cause_named(name).title

    def option(self, reading: str) -> str:
        """Return the option by which a reading is given beside the file; empty where the file can state it."""
        stated = OTHER_SLACK.get(reading) in self.readings.values
        return OPTIONS[reading] if stated else ""


def study(setup: Setup, beside: Mapping[str, float] | None = None) -> Study:
    """Diagnose a setup, with readings that were taken ``beside`` it: one of `OPTIONS`, mm.

    Raises `PartError` where the file states such a reading itself, or where it is negative.
    """
    given = dict(beside or {})
    _refuse(setup, given)
    predictions, readings = predict(setup), readings_of(setup).beside(given)
    judged = _judged(setup, given)
    anyhow = believed(predictions, readings)
    every = sobered(anyhow)
    doubtful = bool(impossible_in(judged) or contradictions(judged, readings, setup.system)) or not every.fits
    worn_out = believed(predictions, readings.without(*BLOCK)).lost > LIKELY
    belief = believed(predictions, readings, working=True) if doubtful and not worn_out else every
    causes = [_cause(belief, place) for place in range(len(predictions.names))]
    alike = groups_of(telling_apart(predictions, readings))
    groups = [Group(tuple(sorted((causes[n] for n in one), key=lambda c: -c.probability))) for one in alike]
    groups.sort(key=lambda one: -one.probability)
    explained = every.fits and belief.fits
    return Study(judged, readings, belief, tuple(groups), guessed(setup), explained, anyhow.lost, worn_out)


def _refuse(setup: Setup, given: Mapping[str, float]) -> None:
    for name, value in given.items():
        key = f"condition.{name}"
        if key in setup.stated:
            raise PartError(Fault(OPTIONS[name], f"is in the file too, as {key}", "leave one of them out", value))
        if not value >= 0:
            raise PartError(Fault(OPTIONS[name], "must not be negative", "write zero or a positive figure", value))


def _judged(setup: Setup, given: Mapping[str, float]) -> Setup:
    """The setup with a free stroke that was given beside a clearance, so that it is judged like any other."""
    if "free_stroke" not in given:
        return setup
    found = replace(setup.as_found, free_stroke=given["free_stroke"], lining_clearance=None)
    stated = (setup.stated - {"condition.lining_clearance"}) | {"condition.free_stroke"}
    return replace(setup, as_found=found, stated=stated)


def _cause(belief: Belief, place: int) -> Cause:
    name = belief.predictions.names[place]
    figures = float(belief.predictions.prior[place]), float(belief.probability[place])
    if name == NOTHING:
        return Cause(place, name, SOUND_TITLE, SOUND_INSIDE, SOUND_OUTSIDE, *figures)
    one = cause_named(name)
    return Cause(place, name, one.title, one.inside, one.outside, *figures)
