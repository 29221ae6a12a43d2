"""A setup's life: new linings on the drum as found, adjusted, followed to worn out, with what happens on the way."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array
from geometry.brake import Brake
from geometry.life import End, Event, Life, Service, Upkeep, life_course, life_states, service, upkeep
from geometry.life.events import JUST, reached
from geometry.reasons import Reason
from geometry.setup import Setup
from geometry.tables import LiningLimit, StrokeLimit, lining_limits
from mechviz.checks.case import HOT, Case
from mechviz.checks.slack import usual_free_stroke

FINE = 4001
"""Wears at which a life is drawn."""


@dataclass(frozen=True)
class Asked:
    """What a life is looked at with; None is the setup's own, the trade's, or that of the reported hot tests."""

    state: str | None = None
    free_stroke: float | None = None
    pressure: float | None = None
    hot: float | None = None


@dataclass(frozen=True)
class Study:
    """A setup's life under its adjuster: its ``service``, and the limits that it is held against."""

    setup: Setup
    service: Service
    limit: StrokeLimit
    least_lining: float
    least_source: str

    @cached_property
    def upkeep(self) -> Upkeep:
        """How the setting follows wear."""
        return upkeep(self.service)

    @cached_property
    def _course(self) -> tuple[tuple[Event, ...], End]:
        return life_course(self.service, self.upkeep, self.limit.limit_mm, self.least_lining)

    @property
    def events(self) -> tuple[Event, ...]:
        """Where its limits are first met, whether or not the life gets so far."""
        return self._course[0]

    @property
    def last(self) -> End:
        """Where the cold brake can be applied for the last time, and why not beyond."""
        return self._course[1]

    @cached_property
    def happening(self) -> list[Event]:
        """What comes in this life, in order: linings that no longer reach the drum wear no further."""
        return [event for event in reached(self.events) if event.wear <= self.last.wear + JUST]

    @cached_property
    def untold(self) -> list[Event]:
        """What nobody can tell from somewhere on before the linings are due, for want of the state that shows it."""
        due = min(self.last.wear, self.service.brake.lining.thickness - self.least_lining)
        return [event for event in self.events if event.unknown_from < due]

    @property
    def never(self) -> list[Event]:
        """What is known not to come in this life."""
        told = {event.name for event in (*self.happening, *self.untold)}
        return [event for event in self.events if event.name not in told]

    def at(self, wear: ArrayLike) -> Life:
        """Return the states at each wear, mm."""
        return life_states(self.service, self.upkeep, wear)

    @property
    def found(self) -> float | None:
        """The wear (mm) of the linings as found, None where the file does not give their thickness."""
        if "condition.lining_thickness" not in self.setup.stated:
            return None
        return self.service.brake.lining.thickness - self.setup.as_found.lining_thickness

    @cached_property
    def end(self) -> float:
        """The wear (mm) at which there is nothing left to show: no application, or half of the least lining."""
        if self.ends_early and self.last.wear > 0:
            return self.last.wear
        half = self.service.brake.lining.thickness - 0.5 * self.least_lining
        return max([half, *(event.wear for event in self.happening)])

    @property
    def ends_early(self) -> bool:
        """Whether the cold brake can no longer be applied before the lining is used up."""
        return self.last.reason != Reason.EXISTS

    def event(self, name: str) -> Event:
        """Return one of the events."""
        return next(event for event in self.events if event.name == name)

    def stopped(self) -> "Study":
        """Return the same life with an adjuster that never moves."""
        brake = self.service.brake
        stuck = replace(brake, adjuster=replace(brake.adjuster, state="stuck"))
        return replace(self, service=replace(self.service, brake=stuck))


def study(setup: Setup, asked: Asked) -> Study:
    """Return a setup's life. Raises `PartError` for figures that cannot be."""
    brake = _with_state(setup.brake, asked.state)
    rule = _least_lining(setup)
    lived = service(
        brake,
        usual_free_stroke() if asked.free_stroke is None else asked.free_stroke,
        setup.test.pressure if asked.pressure is None else asked.pressure,
        HOT if asked.hot is None else asked.hot,
        setup.as_found.drum_diameter,
    )
    return Study(setup, lived, Case(setup, setup.test.rules).limit, rule.limit_mm, rule.source)


def _least_lining(setup: Setup) -> LiningLimit:
    """The strictest US rule for this axle and lining: linings are replaced when the first one asks for it."""
    rules = lining_limits(setup.brake.axle, setup.lining_pads, setup.lining_attachment)
    return max((rule for rule in rules if rule.rule_set == "us"), key=lambda rule: rule.limit_mm)


def _with_state(brake: Brake, state: str | None) -> Brake:
    return brake if state is None else replace(brake, adjuster=replace(brake.adjuster, state=state))


def tabled_wears(lived: Study, count: int) -> Array:
    """Return wears (mm) from new to the least lining, or to where the brake no longer works, for a table."""
    return np.linspace(0.0, min(lived.service.brake.lining.thickness - lived.least_lining, lived.end), count)
