"""The parking section: a power spring that pushes the pushrod out unless the air of its own line holds it back.

The spring is linear in the stroke: it pushes hardest when the air holds it all the way back (stroke 0), and less the
farther it has come out. Its plate only ever pushes; held back farther than the pushrod stands, it does not touch it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.applied import chamber_torque
from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.guards import Guard
from geometry.linkage import turn_state

_POUND, _INCH = 4.4482216152605, 25.4

SPRING_FORCE = 2000.0 * _POUND
"""N, held all the way back. Handbooks give 1 500 to 2 000 lbf (British Columbia air brake handbook, read) and, with
3 000 lbf of air on top, up to 5 000 lbf (a commercial driver's manual, read)."""

SPRING_RATE = 320.0 * _POUND / _INCH
"""N/mm: the project's own figure. With it the spring pushes 1 500 lbf or more up to a stroke of 1 9/16 in."""

SPRING_AREA = 33.0 * _INCH**2
"""mm2: the project's own figure. With it the spring is held all the way back at 60.6 psi and, from its full 2 1/2 in,
begins to be pushed back at 36.4 psi; the trade says about 60 and 30 to 40 psi (both from memory)."""

VEHICLES = ("truck", "towing", "dolly", "trailer")


@dataclass(frozen=True)
class Parking:
    """A parking section behind the service chamber.

    Parameters
    ----------
    spring_force : float
        Of the power spring held all the way back, stroke 0, N.
    spring_rate : float
        By how much that falls as it comes out, N/mm.
    spring_area : float
        On which its air presses, mm2.
    vehicle : str
        One of `VEHICLES`: whose air lines it hangs on.

    """

    spring_force: float = SPRING_FORCE
    spring_rate: float = SPRING_RATE
    spring_area: float = SPRING_AREA
    vehicle: str = "truck"

    def __post_init__(self) -> None:
        guard = Guard("parking").positive("force", spring_force=self.spring_force)
        guard.positive("area", spring_area=self.spring_area).not_negative("rate", spring_rate=self.spring_rate)
        guard.one_of(VEHICLES, vehicle=self.vehicle).done()


def power_spring_force(parking: Parking, stroke: ArrayLike) -> Array:
    """Return what the power spring pushes with (N) at each stroke (mm), with no air against it."""
    return np.maximum(parking.spring_force - parking.spring_rate * floats(stroke), 0.0)


def hold_off_pressure(parking: Parking, stroke: ArrayLike = 0.0) -> Array:
    """Return the pressure (MPa) at which the air holds the spring back at each stroke (mm).

    At stroke 0 it is the pressure that releases the parking brake fully, at the rated stroke the one at which the air
    begins to push the spring back.

    >>> round(float(hold_off_pressure(Parking())) / 0.00689475729, 1)
    60.6
    """
    return power_spring_force(parking, stroke) / parking.spring_area


def parking_force(parking: Parking, stroke: ArrayLike, hold_off: ArrayLike) -> Array:
    """Return what the parking section adds to the pushrod (N, never negative).

    ``stroke`` in mm, ``hold_off`` the spring-brake line's pressure in MPa; shapes broadcast.
    """
    return np.maximum(power_spring_force(parking, stroke) - parking.spring_area * floats(hold_off), 0.0)


def parking_slope(parking: Parking, stroke: ArrayLike, hold_off: ArrayLike) -> Array:
    """Return d(`parking_force`)/d(stroke), N/mm."""
    return np.where(parking_force(parking, stroke, hold_off) > 0, -parking.spring_rate, 0.0)


def parked_torque(parking: Parking, brake: Brake, turn: Array, pressure: Array, hold_off: Array) -> tuple[Array, Array]:
    """Return chamber's and spring's torque together on the camshaft (N*mm) and its slope, at each arm turn (rad).

    ``pressure`` is the service chamber's, ``hold_off`` the spring-brake line's, MPa. With the spring held back it is
    `geometry.applied.chamber_torque` to the last bit.
    """
    stroke, lever, change = turn_state(brake.linkage, turn)
    torque, slope = chamber_torque(brake, turn, pressure)
    force = parking_force(parking, stroke, hold_off)
    return torque + force * lever, slope + parking_slope(parking, stroke, hold_off) * lever**2 + force * change
