"""The brake pressed by service air and power spring at once: stroke, forces and torque at each pair of pressures."""

from dataclasses import dataclass
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.applied import applied_piece
from geometry.arrays import Array, in_chunks
from geometry.brake import Brake
from geometry.chamber import chamber_force
from geometry.condition import Condition, contact
from geometry.linkage import arm_state, stroke_at_turn
from geometry.loads import Loads, loads_piece
from geometry.parking import Parking, parked_torque, parking_force
from geometry.states import SPENT


@dataclass(frozen=True)
class Parked:
    """A brake at each pair of pressures; NaN with a `Reason` where it cannot exist.

    ``stroke`` and ``contact_stroke`` (of first touch) mm, ``arm_angle`` rad. ``service_force`` is the chamber's own
    (negative where only its return spring is left), ``spring_force`` the power spring's net of its air and
    ``pushrod_force`` what reaches the arm, N; ``brake_torque`` N*mm; ``reserve`` the stroke left to the rated one, mm.
    """

    stroke: Array
    contact_stroke: Array
    arm_angle: Array
    service_force: Array
    spring_force: Array
    pushrod_force: Array
    brake_torque: Array
    reserve: Array
    reason: NDArray[np.int8]


_COLUMNS = 8


def solve_parked(
    brake: Brake, parking: Parking | None, condition: Condition, pressure: ArrayLike, hold_off: ArrayLike
) -> Parked:
    """Return the state that service and spring-brake pressure (MPa each) hold together; shapes broadcast.

    Without a parking section (None) the spring-brake pressure does nothing.
    """
    types = [*[np.float64] * _COLUMNS, np.int8]
    inputs = [*condition.arrays, pressure, hold_off]
    return Parked(*in_chunks(partial(_piece, brake, parking), inputs, types))


def _piece(brake: Brake, parking: Parking | None, *inputs: Array) -> list[NDArray[Any]]:
    thickness, diameter, temperature, released, pressure, hold_off = inputs
    at = contact(brake, thickness, diameter, temperature)
    if parking is None:
        columns = applied_piece(brake, at, *inputs[:5])
    else:
        columns = applied_piece(brake, at, *inputs, push=partial(parked_torque, parking))
    stroke, turn, start, reason = columns
    loads = Loads(*loads_piece(brake, at, released, np.full_like(turn, np.nan), turn, reason))
    service = chamber_force(brake.chamber, stroke, pressure)
    spring = np.zeros_like(stroke) if parking is None else parking_force(parking, stroke, hold_off)
    both = np.maximum(service + spring, 0.0)  # below zero the return spring holds the plate on its rest
    reserve = brake.chamber.rated_stroke - stroke
    with np.errstate(invalid="ignore"):
        at_stop = reserve <= SPENT  # the stop takes what the arm does not
    pushed = np.where(at_stop, np.fmin(both, loads.chamber_force), both)
    return [
        stroke,
        stroke_at_turn(brake.linkage, start),
        arm_state(brake.linkage, stroke).arm_angle,
        service,
        np.where(np.isnan(stroke), np.nan, spring),
        pushed,
        loads.brake_torque,
        reserve,
        loads.reason,
    ]
