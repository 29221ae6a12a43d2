"""The brake that the tests share: the built-in 16.5 x 7 drive axle brake, in the units used inside.

Variations are made with `dataclasses.replace`, or with `part` where a figure sits in one of the brake's parts.
"""

from dataclasses import replace
from math import pi
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from geometry.adjuster import Adjuster
from geometry.brake import Brake
from geometry.chamber import Chamber
from geometry.condition import Condition, angle_for_free_stroke, contact
from geometry.drum import REFERENCE_TEMPERATURE, Drum
from geometry.involute import InvoluteProfile
from geometry.lining import Lining
from geometry.linkage import Linkage
from geometry.shoe import Shoe

IN = 25.4
DEG = pi / 180
LBF = 4.4482216152605
PSI = LBF / IN**2

BRAKE = Brake(
    chamber=Chamber("clamp", "30", 2.5 * IN, 30.0 * IN**2, 130.0, 2.6),
    linkage=Linkage(5.5 * IN, 5.35 * IN, 7.5 * IN, 1.0 * IN, 6.0 * IN),
    profile=InvoluteProfile(0.5 * IN, 0.60 * IN, 1.85 * IN),
    shoe=Shoe(6.30 * IN, 6.00 * IN, 2.50 * IN, 1.60 * IN, 2.80 * IN, 6.30 * IN, 1100.0, 10.0),
    lining=Lining(0.75 * IN, 35 * DEG, 145 * DEG, 7.0 * IN, 0.35),
    drum=Drum(16.5 * IN),
    adjuster=Adjuster("automatic", "clearance"),
    efficiency=0.75,
    windup_stiffness=180e3 / DEG,
)
LINING = 0.62 * IN
DRUM = 16.53 * IN
FREE_STROKE = 0.55 * IN


def part(brake: Brake, name: str, **figures: Any) -> Brake:
    """Return the brake with figures of one of its parts changed."""
    return replace(brake, **{name: replace(getattr(brake, name), **figures)})


def fahrenheit(temperature: float) -> float:
    """Return degrees Fahrenheit in K."""
    return (temperature + 459.67) * 5 / 9


def found(
    brake: Brake = BRAKE,
    free_stroke: ArrayLike = FREE_STROKE,
    thickness: ArrayLike = LINING,
    diameter: ArrayLike = DRUM,
    temperature: ArrayLike = REFERENCE_TEMPERATURE,
) -> Condition:
    """Return a brake as found, its adjuster set for a free stroke (mm) in the stated condition (mm, K)."""
    state = [np.asarray(a, float) for a in (thickness, diameter, temperature)]
    return Condition(*state, angle_for_free_stroke(brake, contact(brake, *state), free_stroke))
