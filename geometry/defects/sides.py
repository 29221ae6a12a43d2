"""The two wheels of an axle against each other: by how much one brakes more, and what differs that must not."""

from dataclasses import dataclass

import numpy as np

from geometry.arrays import Array
from geometry.defects.outcome import Outcome
from geometry.defects.wheel import Wheel

SAME_LENGTH = 25.4 / 32
"""Arms that differ by less than this (mm) are the same arm read twice (the project's own figure)."""


@dataclass(frozen=True)
class Sides:
    """One wheel against the other.

    ``imbalance`` is the difference of their brake torques over the greater one, from -1 to 1, positive where the first
    brakes more; ``more`` is the same difference over the other one's torque, infinite where that has none. ``longer``
    is by how much the first one's stroke is longer, mm. ``same_chamber`` and ``same_arm`` are what 49 CFR 393.47(b) and
    (c) ask for at both ends of an axle.
    """

    imbalance: Array
    more: Array
    longer: Array
    same_chamber: bool
    same_arm: bool


def compare_sides(one: Wheel, other: Wheel, first: Outcome, second: Outcome) -> Sides:
    """Return how two wheels of an axle differ; NaN where one of them has no such state."""
    greater = np.maximum(first.brake_torque, second.brake_torque)
    difference = first.brake_torque - second.brake_torque
    with np.errstate(invalid="ignore", divide="ignore"):
        imbalance = np.where(greater > 0, difference / greater, 0.0 * greater)
        more = np.where(greater > 0, difference / second.brake_torque, 0.0 * greater)
    chambers = [(w.brake.chamber.style, w.brake.chamber.size) for w in (one, other)]
    arms = [w.brake.linkage.arm_length for w in (one, other)]
    return Sides(
        imbalance=imbalance,
        more=more,
        longer=first.stroke - second.stroke,
        same_chamber=chambers[0] == chambers[1],
        same_arm=abs(arms[0] - arms[1]) < SAME_LENGTH,
    )
