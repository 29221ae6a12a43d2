"""An application at one pressure at any time of a drive: stroke, angle, force, torque and reserve follow the heat.

The adjuster stays as it is found: none is taken to move in the minutes of a drive. Friction is held constant: fade is
not modelled, so that a drum beyond some 600 degF has less torque in truth than is shown here.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.applied import applied_piece
from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition, contact
from geometry.heat.course import Course, temperatures
from geometry.linkage import arm_state, stroke_at_turn
from geometry.loads import Loads, loads_piece
from geometry.many import in_pieces


@dataclass(frozen=True)
class HeatStates:
    """At each ``time`` (s) the drum's ``temperature`` (K) and an application; NaN with a `Reason` where none can be.

    ``free_stroke`` and ``stroke`` mm, ``arm_angle`` rad, ``chamber_force`` N, ``brake_torque`` N*mm, ``reserve`` the
    stroke left to the rated one, mm.
    """

    time: Array
    temperature: Array
    free_stroke: Array
    stroke: Array
    arm_angle: Array
    chamber_force: Array
    brake_torque: Array
    reserve: Array
    reason: NDArray[np.int8]


_COLUMNS = 6


def heat_states(brake: Brake, condition: Condition, pressure: float, course: Course, time: ArrayLike) -> HeatStates:
    """Return the application at ``pressure`` (MPa) at each time (s, any shape) of a drive.

    ``condition`` is the brake as found; its drum temperature is that of the drive instead.
    """
    t = floats(time)
    temperature = temperatures(course, t)
    return HeatStates(t, temperature, *_applied(brake, condition, pressure, temperature))


def at_temperatures(brake: Brake, condition: Condition, pressure: float, temperature: ArrayLike) -> HeatStates:
    """Return the application with the drum at each temperature (K), whenever that may be: its times are NaN."""
    kelvin = floats(temperature)
    return HeatStates(np.full_like(kelvin, np.nan), kelvin, *_applied(brake, condition, pressure, kelvin))


def _applied(brake: Brake, condition: Condition, pressure: float, temperature: Array) -> list[NDArray[Any]]:
    thickness, diameter, _, released = condition.arrays
    inputs = [thickness, diameter, temperature, released, floats(pressure)]
    return in_pieces(brake, _piece, inputs, [*[np.float64] * _COLUMNS, np.int8])


def _piece(brake: Brake, *inputs: Array) -> list[NDArray[Any]]:
    thickness, diameter, temperature, released, pressure = inputs
    at = contact(brake, thickness, diameter, temperature)
    stroke, turn, start, reason = applied_piece(brake, at, *inputs)
    loads = Loads(*loads_piece(brake, at, released, pressure, turn, reason))
    return [
        stroke_at_turn(brake.linkage, start),
        stroke,
        arm_state(brake.linkage, stroke).arm_angle,
        # what is not pushed has no force, and what does not press no torque
        np.where(turn > 0, loads.chamber_force, np.nan),
        np.where(turn > start, loads.brake_torque, np.nan),
        brake.chamber.rated_stroke - stroke,
        loads.reason,
    ]
