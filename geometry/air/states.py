"""The brake at any time of a course: the pressures, and the state that they hold."""

from dataclasses import dataclass

from numpy.typing import ArrayLike

from geometry.air.course import Course, pressures
from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition
from geometry.parked import Parked, solve_parked
from geometry.parking import Parking


@dataclass(frozen=True)
class AirStates:
    """At each ``time`` (s): pressures of reservoir, spring-brake line and service chamber (MPa), and the brake."""

    time: Array
    reservoir: Array
    hold_off: Array
    service: Array
    brake: Parked


def air_states(
    brake: Brake, parking: Parking | None, condition: Condition, course: Course, time: ArrayLike
) -> AirStates:
    """Return the states of a brake at each time (s, any shape), as slow as air is: the mechanism has no inertia."""
    t = floats(time)
    reservoir, hold_off, service = pressures(course, t)
    return AirStates(t, reservoir, hold_off, service, solve_parked(brake, parking, condition, service, hold_off))
