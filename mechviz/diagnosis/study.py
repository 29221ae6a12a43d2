"""One setup diagnosed: its readings, how probable each cause is, what is alike, and what to measure next."""

from dataclasses import dataclass
from functools import cached_property

from geometry.defects import defect
from geometry.diagnosis import (
    NOTHING,
    Belief,
    Readings,
    Worth,
    believed,
    groups_of,
    predict,
    readings_of,
    telling_apart,
    worths,
)
from geometry.diagnosis.meant import guessed
from geometry.diagnosis.readings import BLOCK
from geometry.setup import Setup
from mechviz.checks.case import COLD, WARM, Case

SOUND_TITLE = "Nothing wrong"
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


@dataclass(frozen=True)
class Study:
    """A setup and what is believed of it."""

    setup: Setup
    readings: Readings
    belief: Belief
    groups: tuple[Group, ...]
    guessed: tuple[str, ...]

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
        case, stroke = Case(self.setup, self.setup.test.rules), self.readings.values.get("stroke")
        cold = self.setup.as_found.drum_temperature <= COLD + WARM
        if stroke is None or not cold or not case.knows_chamber or stroke <= case.limit.limit_mm:
            return None
        return case.limit.limit_mm

    @property
    def fits(self) -> bool:
        """Whether the most probable cause explains the readings: once in a thousand such brakes it would not."""
        count = sum(name in self.readings.values for name in BLOCK)
        return self.belief.misfit <= _once_in_a_thousand(count)


def _once_in_a_thousand(count: int) -> float:
    """Chi squared that is passed once in a thousand, for so many readings (Wilson and Hilferty's approximation)."""
    if count == 0:
        return 0.0
    part = 2 / (9 * count)
    return count * (1 - part + 3.09 * part**0.5) ** 3


def study(setup: Setup) -> Study:
    """Diagnose a setup."""
    predictions, readings = predict(setup), readings_of(setup)
    belief = believed(predictions, readings)
    causes = [_cause(belief, place) for place in range(len(predictions.names))]
    alike = groups_of(telling_apart(predictions, readings))
    groups = [Group(tuple(sorted((causes[n] for n in one), key=lambda c: -c.probability))) for one in alike]
    groups.sort(key=lambda one: -one.probability)
    return Study(setup, readings, belief, tuple(groups), guessed(setup))


def _cause(belief: Belief, place: int) -> Cause:
    name = belief.predictions.names[place]
    figures = float(belief.predictions.prior[place]), float(belief.probability[place])
    if name == NOTHING:
        return Cause(place, name, SOUND_TITLE, SOUND_INSIDE, SOUND_OUTSIDE, *figures)
    one = defect(name)
    return Cause(place, name, one.title, one.inside, one.outside, *figures)
