"""A setup over a drive: what it is asked, the temperatures, the application that follows them, and its limits."""

from dataclasses import dataclass, fields, replace
from functools import cached_property
from math import inf, isfinite
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.arrays import Array
from geometry.condition import Condition
from geometry.drum import REFERENCE_TEMPERATURE
from geometry.found import condition_of
from geometry.guards import Guard
from geometry.heat import (
    Course,
    Drive,
    HeatEvent,
    HeatStates,
    Sink,
    brake_mass,
    course,
    descent,
    heat_events,
    heat_states,
    sink,
    stops,
    temperatures,
)
from geometry.heat.course import turns
from geometry.heat.states import at_temperatures
from geometry.reasons import Reason
from geometry.setup import Setup
from geometry.tables import StrokeLimit
from mechviz.checks.case import Case

MPH = 1609344 / 3600
AFTER = {"stops": 300.0, "descent": 600.0}
"""s of driving on after the last stop or the descent, so that the cooling is seen: the project's own figure."""

LOST = ("cam-past-tip", "bottoms")
"""Events after which this brake no longer brakes."""

OF_THE_BRAKE = tuple(f.name for f in fields(HeatStates) if f.name not in ("time", "temperature", "reason"))
"""What a state tells of the brake, and not of the drive."""

FINE = 400
"""Times in each stretch at which it is drawn."""


@dataclass(frozen=True)
class Asked:
    """What a drive is looked at with; None is the project's own figure, or the setup's.

    Speeds mm/s, times s, masses t, temperatures K, pressure MPa; ``grade`` and ``held`` are shares.
    """

    kind: Literal["stops", "descent"] = "stops"
    count: int = 10
    speed: float | None = None
    until: float = 0.0
    every: float = 120.0
    grade: float = 0.06
    duration: float = 600.0
    held: float = 0.0
    mass: float | None = None
    drum_mass: float | None = None
    ambient: float | None = None
    start: float | None = None
    pressure: float | None = None
    hot: float | None = None

    @property
    def driven(self) -> float:
        """The speed, mm/s: 60 mph for stops and 30 mph down a hill unless given."""
        usual = 60 * MPH if self.kind == "stops" else 30 * MPH
        return usual if self.speed is None else self.speed


@dataclass(frozen=True)
class Study:
    """A setup's brake over a ``drive``, pressed at ``pressure`` (MPa); ``mass`` is what it has to hold, t."""

    setup: Setup
    asked: Asked
    mass: float
    sink: Sink
    drive: Drive
    course: Course
    condition: Condition
    pressure: float
    limit: StrokeLimit

    def at(self, time: ArrayLike) -> HeatStates:
        """Return the states at each time, s; none once the cam has passed its tip, however cool the drum is again."""
        states = heat_states(self.setup.brake, self.condition, self.pressure, self.course, time)
        over = next((event.time for event in self.events if event.name == "cam-past-tip" and event.happens), inf)
        broken = states.time > over
        kept = {name: np.where(broken, np.nan, getattr(states, name)) for name in OF_THE_BRAKE}
        return replace(states, **kept, reason=np.where(broken, np.int8(Reason.CAM_PAST_TIP), states.reason))

    def with_drum_at(self, temperature: float) -> HeatStates:
        """Return the same application with the drum at a temperature, K."""
        return at_temperatures(self.setup.brake, self.condition, self.pressure, temperature)

    @cached_property
    def events(self) -> tuple[HeatEvent, ...]:
        """Where its limits are first met."""
        return heat_events(self.setup.brake, self.condition, self.pressure, self.course, self.limit.limit_mm)

    @property
    def happening(self) -> list[HeatEvent]:
        """Those that happen, in the order in which they come."""
        return sorted((event for event in self.events if event.happens), key=lambda event: event.time)

    @property
    def untold(self) -> list[HeatEvent]:
        """What nobody can tell from somewhere on, for want of the state that shows it."""
        return [event for event in self.events if isfinite(event.unknown_from)]

    @property
    def never(self) -> list[HeatEvent]:
        """What is known not to come on this drive."""
        return [event for event in self.events if not event.happens and not isfinite(event.unknown_from)]

    @property
    def lost(self) -> HeatEvent | None:
        """What ends this brake's share of the drive; None where it can be applied all through."""
        return next((event for event in self.happening if event.name in LOST), None)

    @property
    def reasons(self) -> NDArray[np.int8]:
        """Why the application cannot be, at each of the `fine` times."""
        return self.at(self.fine).reason

    @cached_property
    def hottest(self) -> float:
        """When the drum is hottest, s."""
        marks = turns(self.course)
        return float(marks[np.argmax(temperatures(self.course, marks))])

    @cached_property
    def cold(self) -> HeatStates:
        """The same application with a cold drum."""
        return self.with_drum_at(REFERENCE_TEMPERATURE)

    @property
    def fine(self) -> Array:
        """Times (s) close enough together to be drawn."""
        parts = zip(self.course.start, self.course.duration, strict=True)
        spread = [start + duration * np.linspace(0.0, 1.0, FINE) for start, duration in parts]
        return np.unique(np.concatenate([*spread, turns(self.course), [event.time for event in self.happening]]))


def study(setup: Setup, asked: Asked) -> Study:
    """Return a setup over the drive that is asked for. Raises `PartError` for what cannot be driven."""
    brake = setup.brake
    mass = brake_mass(brake) if asked.mass is None else asked.mass
    drive, store = _drive(asked, mass), sink(brake, asked.drum_mass, asked.ambient)
    start = setup.as_found.drum_temperature if asked.start is None else asked.start
    pressure = setup.test.pressure if asked.pressure is None else asked.pressure
    Guard("heat").positive("pressure", pressure=pressure).done()
    return Study(
        setup,
        asked,
        mass,
        store,
        drive,
        course(drive, store, start),
        condition_of(setup),
        pressure,
        Case(setup, setup.test.rules).limit,
    )


def _drive(asked: Asked, mass: float) -> Drive:
    wait = AFTER[asked.kind]
    if asked.kind == "stops":
        return stops(mass, asked.count, asked.driven, asked.every, asked.until, wait)
    return descent(mass, asked.grade, asked.driven, asked.duration, asked.held, wait)


def listed_times(heated: Study, count: int) -> Array:
    """Return so many times from beginning to end, s."""
    return np.linspace(0.0, heated.course.end, count)
