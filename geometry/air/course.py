"""What the pressures come to: each phase of a scenario as three lines in closed form, one taking over from the other.

First-order fills throughout, fitted to the times that a vehicle of its kind is allowed (`geometry.tables.air_times`).
The spring-brake line is given the service chamber's times: the project's own figure, for want of a published one.
The compressor is off, and what an application takes out of the reservoir is not counted.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf, isinf, log

import numpy as np
from numpy.typing import ArrayLike

from geometry.air.line import Line, following
from geometry.air.scenario import Phase, Scenario
from geometry.arrays import Array, floats
from geometry.guards import Guard
from geometry.parking import Parking, hold_off_pressure
from geometry.tables import AirTimes, air_mark, air_times
from geometry.tables.pressures import MPA_PER_PSI

CLOSING = {"truck": 30.0, "towing": 30.0, "dolly": 40.0, "trailer": 40.0}
"""psi at which the valve shuts by itself and vents the spring-brake line: the project's own figures. A truck's parking
valve does so between 20 and 45 psi, typically 20 to 30 (a state's commercial driver handbook, read); tractor
protection, which does it for what is towed, between 20 and 45 psi (49 CFR 393.43, read)."""

_WORDS = {
    "truck": ("the parking valve pops out by itself and vents the spring-brake line", "parking valve pops out"),
    "trailer": (
        "tractor protection closes: the trailer's lines are vented and its springs come on",
        "tractor protection closes",
    ),
}


UNREACHED = ", but tractor protection is shut and this brake gets nothing of it"


@dataclass(frozen=True)
class Stretch:
    """A part of a course that begins at ``start`` (s) and in which each line is one closed form."""

    start: float
    phase: Phase
    reservoir: Line
    hold_off: Line
    service: Line


@dataclass(frozen=True)
class Course:
    """Pressures over a whole scenario: its stretches, its ``end`` (s) and the ``times`` that it was fitted to."""

    stretches: tuple[Stretch, ...]
    end: float
    times: AirTimes
    closing: float

    @property
    def starts(self) -> Array:
        """When each stretch begins, s."""
        return floats([stretch.start for stretch in self.stretches])


def course(scenario: Scenario, parking: Parking | None, reservoir: float) -> Course:
    """Return the pressures of a scenario that begins with a ``reservoir`` pressure (MPa), released, parking brake off.

    Without a parking section (None) nothing closes by itself. Raises `PartError` for a pressure that is not positive.
    """
    Guard("air").positive("pressure", reservoir=reservoir).done()
    vehicle = "truck" if parking is None else parking.vehicle
    closing = 0.0 if parking is None else CLOSING[vehicle] * float(MPA_PER_PSI)
    times = air_times(vehicle)
    now = (reservoir, 0.0 if reservoir <= closing else reservoir, 0.0)
    stretches, start = list[Stretch](), 0.0
    first = _opening(scenario.phases[0], parking, reservoir)
    for phase in _closed((first, *scenario.phases[1:]), reservoir, closing, vehicle):
        stretch = _stretch(start, phase, now, times)
        stretches.append(stretch)
        now = tuple(float(line.at(phase.duration)) for line in (stretch.reservoir, stretch.hold_off, stretch.service))
        start += phase.duration
    return Course(tuple(stretches), start, times, closing)


def _opening(phase: Phase, parking: Parking | None, reservoir: float) -> Phase:
    """The first phase, in the words that so much air deserves."""
    if parking is not None and reservoir < float(hold_off_pressure(parking)):
        words = "the parking brake is off, but so little air does not hold the springs all the way back"
        return replace(phase, words=words, short="air low")
    if reservoir < air_mark("low-pressure-warning").high:
        return replace(phase, words="the air is low, and the parking brake is off", short="air low")
    return phase


def _closed(phases: Sequence[Phase], reservoir: float, closing: float, vehicle: str) -> Iterator[Phase]:
    """The phases, cut where the reservoir falls to the pressure at which the valve closes by itself."""
    words, short = _WORDS["trailer" if vehicle in ("trailer", "dolly") else "truck"]
    shut = 0 < reservoir <= closing
    for phase in phases:
        until = phase.loss * log(reservoir / closing) if closing and not isinf(phase.loss) else inf
        rest = replace(phase, words=phase.shut, short="vented already") if shut and phase.shut else phase
        if not shut and 0 < until < phase.duration:
            yield replace(phase, duration=until)
            rest = replace(phase, words=words, short=short, duration=phase.duration - until)
            reservoir, shut = closing, True
        # towed, the control line is shut off as well: the pedal no longer reaches the chamber
        if shut and vehicle in ("trailer", "dolly") and rest.pedal:
            rest = replace(rest, words=f"{rest.words}{UNREACHED}" if rest is phase else rest.words, pedal=0.0)
        yield replace(rest, parked=rest.parked or shut)
        reservoir *= float(np.exp(-rest.duration / rest.loss))


def _stretch(start: float, phase: Phase, now: tuple[float, ...], times: AirTimes) -> Stretch:
    reservoir, hold_off, service = now
    source = Line(reservoir) if isinf(phase.loss) else Line(0.0, ((reservoir, phase.loss),))
    held = Line(0.0) if phase.parked else source
    pedal = source.share(phase.pedal)
    return Stretch(
        start,
        phase,
        source,
        following(held, hold_off, times.emptying if phase.parked else times.filling),
        following(pedal, service, times.filling if phase.pedal > 0 else times.emptying),
    )


def pressures(course: Course, time: ArrayLike) -> tuple[Array, Array, Array]:
    """Return reservoir, spring-brake line and service chamber (MPa) at each time (s, any shape)."""
    shape = np.shape(time)
    t = floats(time).reshape(-1)
    row = np.clip(np.searchsorted(course.starts, t, side="right") - 1, 0, len(course.stretches) - 1)
    lines = np.empty((3, t.size))
    for n, stretch in enumerate(course.stretches):
        here = row == n
        since = t[here] - stretch.start
        for line, one in zip(lines, (stretch.reservoir, stretch.hold_off, stretch.service), strict=True):
            line[here] = one.at(since)
    reservoir, hold_off, service = (line.reshape(shape) for line in lines)
    return reservoir, hold_off, np.maximum(service, 0.0)
