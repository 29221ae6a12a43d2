"""The brake as it is found: what has worn, how hot it is, how it is set, and where its linings touch."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, finite, floats
from geometry.brake import SIDES, Brake
from geometry.cam_train import angles_at_turn, follows, ride, ride_ends
from geometry.drum import drum_radius
from geometry.lining import Surface, contact_turn, lining_surface, surface_point
from geometry.linkage import arm_turn
from geometry.many import plain
from geometry.reasons import Reason
from geometry.shoe import turn_of, turn_to_radius

SPARE = 1e-9
"""How far a state may lie past an end by rounding alone: mm of stroke, rad of turn."""


@dataclass(frozen=True)
class Condition:
    """What changes over a brake's life; arrays of any shapes that broadcast together.

    Parameters
    ----------
    lining_thickness : array
        Present thickness at mid arc, mm.
    drum_diameter : array
        Present inner diameter, mm, as measured (or as it would measure) at 70 degF.
    drum_temperature : array
        Drum temperature, K.
    released_angle : array
        The cam's angle when the brake is released, rad: the adjuster's setting.
    """

    lining_thickness: ArrayLike
    drum_diameter: ArrayLike
    drum_temperature: ArrayLike
    released_angle: ArrayLike

    @property
    def arrays(self) -> tuple[Array, Array, Array, Array]:
        """The four as float64, in the order above; NaN where one is not finite."""
        return (
            finite(self.lining_thickness),
            finite(self.drum_diameter),
            finite(self.drum_temperature),
            finite(self.released_angle),
        )


@dataclass(frozen=True)
class Contact:
    """Where the linings meet the drum, whatever the adjuster's setting.

    ``turn`` is the shoe turn beta of first touch, rad (both shoes wear alike); ``left``, ``right`` the cam angles that
    reach it, rad; ``first`` and ``seat`` the smaller and the larger of these; ``reason`` the `Reason` where NaN.
    """

    surface: Surface
    radius: Array
    turn: Array
    left: Array
    right: Array
    reason: Array

    @property
    def first(self) -> Array:
        """Cam angle at which the first lining touches."""
        return np.minimum(self.left, self.right)

    @property
    def seat(self) -> Array:
        """Cam angle at which both linings touch."""
        return np.maximum(self.left, self.right)


def contact(
    brake: Brake, thickness: Array, diameter: Array, temperature: Array, *, surface: Surface | None = None
) -> Contact:
    """Return where the linings meet the drum: thickness and drum diameter in mm, temperature in K.

    ``surface`` is the linings', where it is known from another temperature.
    """
    radius = drum_radius(brake.drum, diameter, temperature)
    if surface is None:
        surface = lining_surface(brake.shoe, brake.lining, brake.new_radius, thickness, 0.5 * diameter)
    turn = contact_turn(brake.shoe, brake.lining, surface, radius)
    left, right = angles_at_turn(brake.profile, brake.shoe, turn)
    spreads = follows(brake.profile, brake.shoe)
    if not np.all(spreads):  # of many brakes, those whose cam cannot work; of one brake that is an error
        left, right = np.where(spreads, left, np.nan), np.where(spreads, right, np.nan)
    reached = np.isfinite(left + right)
    why_not = Reason.EXISTS if reached.all() else _unreached(brake, turn, thickness, radius)
    reason = np.where(reached, Reason.EXISTS, np.where(spreads, why_not, Reason.CAM_CANNOT_SPREAD))
    return Contact(surface, radius, turn, left, right, reason)


def _unreached(brake: Brake, turn: Array, thickness: Array, radius: Array) -> Array:
    """Why a contact is off the cam: a lining that touches below the heel has no room, one above the tip no reach."""
    middle = 0.5 * sum(turn_range(brake))
    outer = brake.new_radius - brake.lining.thickness + thickness
    worn = np.where(np.isnan(turn), radius > outer, turn > middle)
    return np.where(worn, Reason.CAM_PAST_TIP, Reason.LINING_TOO_THICK)


def turn_range(brake: Brake) -> tuple[float, float]:
    """Return the shoe turns (rad) with the roller on the cam's heel and on its tip."""
    ends = ride_ends(brake.profile, brake.shoe, "right")
    place = ride(brake.profile, brake.shoe, "right", np.stack([ends.low, ends.high])).place
    heel, tip = turn_of(brake.shoe, place)
    return plain(heel), plain(tip)


def heel_angle(brake: Brake) -> float:
    """Return the least cam angle (rad) at which both rollers are on the working profile."""
    return plain(np.maximum(*(ride_ends(brake.profile, brake.shoe, side).heel_angle for side in SIDES)))


def tip_angle(brake: Brake) -> float:
    """Return the greatest cam angle (rad) at which both rollers are on the working profile."""
    return plain(np.minimum(*(ride_ends(brake.profile, brake.shoe, side).tip_angle for side in SIDES)))


def angle_for_free_stroke(brake: Brake, at: Contact, free_stroke: ArrayLike) -> Array:
    """Return the released cam angle (rad) with which the first lining touches after ``free_stroke`` mm of stroke."""
    return at.first - arm_turn(brake.linkage, free_stroke)


def angle_for_clearance(brake: Brake, at: Contact, clearance: ArrayLike) -> Array:
    """Return the released cam angle (rad) that leaves ``clearance`` mm at mid arc, on the tighter of the two shoes."""
    point = surface_point(at.surface, brake.lining.middle)
    turn = turn_to_radius(brake.shoe, *point, at.radius - floats(clearance))
    return np.minimum(*angles_at_turn(brake.profile, brake.shoe, turn))
