"""The pushrod to fit: the pin reach with which the arm stands at a wanted angle when the brake is applied.

The search does not run over rods, each of them solved, but over the stroke at which the brake comes to rest. With the
wanted angle alpha at the pin, arm a and pivot distance d(s), the rod follows in closed form from the triangle

    L(s) = a cos alpha + sqrt(d(s)**2 - (a sin alpha)**2)

and with it the arm's turn from released and the chamber's torque. Where that torque meets the wind-up and the shoes'
return spring the brake is applied: one root in s, between released and the rated stroke.
"""

from dataclasses import dataclass, replace
from math import pi
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.applied import spring_torque
from geometry.arrays import Array, Mask, in_chunks
from geometry.brake import Brake
from geometry.chamber import force_and_slope
from geometry.condition import SPARE, Condition, Contact, contact, heel_angle, tip_angle
from geometry.linkage import Linkage
from geometry.reasons import Reason, first_reason
from geometry.root import FunctionAndSlope, bracketed_newton

STROKE_TOLERANCE = 1e-12
"""The last step in stroke, mm: the slope is not exact, so that steps shrink steadily and not by squares."""


@dataclass(frozen=True)
class PushrodFit:
    """What to fit in each case: pin reach and the stroke at which the wanted angle stands, mm.

    NaN where no rod does it: ``reason`` says why, or ``pressed`` is False where the pressure does not bring the linings
    to the drum, so that there is no application to fit a rod to.
    """

    pin_reach: Array
    stroke: Array
    pressed: Mask
    reason: NDArray[np.int8]


def fit_pin_reach(
    brake: Brake,
    condition: Condition,
    pressure: ArrayLike,
    angle: ArrayLike = pi / 2,
    arm_length: ArrayLike | None = None,
) -> PushrodFit:
    """Return the pin reach with which the arm stands at ``angle`` (rad) at each pressure (MPa) in each condition.

    ``arm_length`` (mm) is the brake's own where None. Shapes broadcast; the brake's own pin reach is not read. The
    released cam angle of the condition is the adjuster's setting, so that the clearance is the same for every rod.
    """
    arm = brake.linkage.arm_length if arm_length is None else arm_length
    inputs = [*condition.arrays, pressure, angle, arm]
    return PushrodFit(*in_chunks(lambda *a: _fit(brake, *a), inputs, [np.float64, np.float64, np.bool_, np.int8]))


def with_pushrod(brake: Brake, pin_reach: float, arm_length: float | None = None) -> Brake:
    """Return the brake with another pushrod, and with another arm or hole where one is named; lengths mm."""
    arm = brake.linkage.arm_length if arm_length is None else arm_length
    return replace(brake, linkage=replace(brake.linkage, pin_reach=pin_reach, arm_length=arm))


@dataclass(frozen=True)
class _Triangle:
    """Arm, rod and pivot with the wanted angle (rad) at the pin; arm in mm."""

    linkage: Linkage
    arm: Array
    angle: Array

    def distance(self, stroke: Array) -> Array:
        """Camshaft to pivot, mm."""
        return np.hypot(self.linkage.pivot_start + stroke, self.linkage.axis_offset)

    def rod(self, stroke: Array) -> Array:
        """The rod that puts the wanted angle at this stroke, mm; NaN where none does."""
        squared = self.distance(stroke) ** 2 - (self.arm * np.sin(self.angle)) ** 2
        with np.errstate(invalid="ignore"):
            rod = self.arm * np.cos(self.angle) + np.sqrt(squared)
            return np.where(rod > 0, rod, np.nan)

    def direction(self, stroke: Array, rod: Array) -> Array:
        """The arm's direction at a stroke with a rod, by the cosine rule at the camshaft, rad."""
        away = self.distance(stroke)
        with np.errstate(invalid="ignore"):
            between = np.arccos((self.arm**2 + away**2 - rod**2) / (2 * self.arm * away))
        return np.arctan2(self.linkage.axis_offset, self.linkage.pivot_start + stroke) - between

    def turn_and_lever(self, stroke: Array) -> tuple[Array, Array]:
        """The arm's turn from released (rad) and the lever d(stroke)/d(turn) (mm) with the rod of this stroke."""
        rod = self.rod(stroke)
        between = np.arctan2(rod * np.sin(self.angle), self.arm - rod * np.cos(self.angle))
        pivot_x = self.linkage.pivot_start + stroke
        direction = np.arctan2(self.linkage.axis_offset, pivot_x) - between
        reach = self.arm * np.cos(direction) - pivot_x
        with np.errstate(invalid="ignore", divide="ignore"):
            lever = np.where(reach > 0, self.arm * np.sin(self.angle) * rod / reach, np.nan)
        return self.direction(np.zeros_like(stroke), rod) - direction, lever

    def last_stroke(self) -> Array:
        """The stroke (mm) up to which the rod that it asks for still meets the arm when released, and exists at all."""
        away = self.distance(np.zeros_like(self.arm))
        rod = away - self.arm  # arm and rod in line
        stretched = self.arm**2 + rod**2 - 2 * self.arm * rod * np.cos(self.angle)
        least = np.maximum(stretched, (self.arm * np.sin(self.angle)) ** 2)
        across = np.maximum(least - self.linkage.axis_offset**2, 0.0)
        return -np.sqrt(across) - self.linkage.pivot_start - SPARE


def _fit(brake: Brake, *inputs: Array) -> list[NDArray[Any]]:
    thickness, diameter, temperature, released, pressure, angle, arm = np.broadcast_arrays(*inputs)
    at = contact(brake, thickness, diameter, temperature)
    start, spring = at.first - released, spring_torque(brake, at.first)
    reason = _reasons(brake, at, (released, pressure, angle, arm), start)
    triangle = _Triangle(brake.linkage, arm, np.where(reason == Reason.EXISTS, angle, np.nan))

    def shortfall(stroke: Array) -> tuple[Array, Array]:
        turn, lever = triangle.turn_and_lever(stroke)
        force, fall = force_and_slope(brake.chamber, stroke, pressure)
        slope = brake.windup_stiffness / lever - fall * lever
        return brake.windup_stiffness * (turn - start) + spring - force * lever, slope

    low = np.zeros_like(start)
    rated, last = brake.chamber.rated_stroke, triangle.last_stroke()
    high = np.minimum(rated, last)
    pressing = _pressing(shortfall, start, low)
    stroke = bracketed_newton(shortfall, low, high, 0.5 * high, STROKE_TOLERANCE)
    turn, _ = triangle.turn_and_lever(stroke)
    pressed = pressing & ~(turn < start - SPARE)
    reason = np.where((reason == Reason.EXISTS) & pressed & np.isnan(stroke), _unbalanced(rated, last), reason)
    past = np.minimum(released + turn, at.seat) > tip_angle(brake) + SPARE
    reason = np.where(past & (reason == Reason.EXISTS), Reason.CAM_PAST_TIP, reason)
    pin_reach = triangle.rod(stroke) - brake.linkage.pivot_depth
    reason = np.where((pin_reach <= 0) & (reason == Reason.EXISTS), Reason.LINKAGE_OPEN, reason)
    good = (reason == Reason.EXISTS) & pressed
    return [np.where(good, pin_reach, np.nan), np.where(good, stroke, np.nan), pressed, reason.astype(np.int8)]


def _pressing(shortfall: FunctionAndSlope, start: Array, low: Array) -> Mask:
    """Whether the pressure lifts the return springs at all: what holds, at released, is less than what pushes."""
    value, _ = shortfall(low)
    return ~(value > 0) | np.isnan(start)


def _unbalanced(rated: float, last: Array) -> NDArray[np.int8]:
    """Why no stroke balances: the chamber is spent first, or arm and rod come apart."""
    return np.where(last < rated, Reason.LINKAGE_OPEN, Reason.BOTTOMED).astype(np.int8)


def _reasons(brake: Brake, at: Contact, inputs: tuple[Array, ...], start: Array) -> NDArray[np.int8]:
    """What makes a case impossible before any rod is looked for."""
    released, pressure, angle, arm = inputs
    with np.errstate(invalid="ignore"):
        tests = [
            (~np.isfinite(pressure + angle + arm), Reason.INPUT_MISSING),
            ((pressure < 0) | (arm <= 0) | (angle <= 0) | (angle >= pi), Reason.NOT_POSITIVE),
            (at.reason != Reason.EXISTS, at.reason),
            (np.isnan(released), Reason.INPUT_MISSING),
            (released < heel_angle(brake) - SPARE, Reason.CAM_BELOW_HEEL),
            (start < -SPARE, Reason.ADJUSTED_TOO_TIGHT),
        ]
    return first_reason(tests)
