"""The lining clearance that gives a wanted free stroke, with the pushrod that is fitted for it.

The free stroke of a clearance goes with the pushrod, and the pushrod to fit with the clearance: each clearance that is
tried gets its own rod, and a wider one leaves more free stroke.
"""

from dataclasses import dataclass, replace
from math import nan, pi

import numpy as np

from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import SPARE, Condition, angle_for_clearance, contact
from geometry.edge import edges
from geometry.linkage import Linkage
from geometry.pushrod_fit import fit_pin_reach

MOST = 0.5 * 25.4
"""The largest clearance that is looked at, mm: no brake has room for more."""
NEAR = 1e-6
"""A free stroke nearer to the one wanted than this, mm, is it."""


@dataclass(frozen=True)
class Bench:
    """A brake at the bench: linings (mm), drum (mm) and its temperature (K), pressure of the test (MPa)."""

    brake: Brake
    lining_thickness: float
    drum_diameter: float
    drum_temperature: float
    pressure: float


def clearance_for_free_stroke(
    bench: Bench, wanted: float, angle: float = pi / 2, arm_length: float | None = None
) -> float:
    """Return the clearance (mm, mid arc, the tighter shoe) that leaves a free stroke of ``wanted`` mm.

    The pushrod is the one with which the arm stands at ``angle`` (rad) when the brake is applied; ``arm_length`` (mm)
    is the brake's own where None. NaN where no rod or no clearance does it. Looked for between none and too much, which
    is also where there is no rod any more.
    """
    brake = bench.brake
    lining, drum, heat = (floats(v) for v in (bench.lining_thickness, bench.drum_diameter, bench.drum_temperature))
    linkage = replace(brake.linkage, arm_length=arm_length or brake.linkage.arm_length)
    at = contact(brake, lining, drum, heat)

    def left(clearance: Array) -> Array:
        condition = Condition(lining, drum, heat, angle_for_clearance(brake, at, clearance))
        reach = fit_pin_reach(brake, condition, bench.pressure, angle, arm_length).pin_reach
        return _free_stroke(linkage, reach, at.first - condition.arrays[3])

    found = edges(lambda clearance: left(clearance) < wanted, floats([0.0]), floats([MOST]))
    return float(found[0]) if wanted - left(found)[0] < NEAR else nan


def _free_stroke(linkage: Linkage, pin_reach: Array, turn: Array) -> Array:
    """The free stroke (mm) with each pin reach (mm) where the arm turns by ``turn`` (rad) until the linings touch."""
    arm, offset, start = linkage.arm_length, linkage.axis_offset, linkage.pivot_start
    rod, away = linkage.pivot_depth + pin_reach, float(np.hypot(start, offset))
    with np.errstate(invalid="ignore"):
        between = np.arccos((arm**2 + away**2 - rod**2) / (2 * arm * away))
        direction = np.arctan2(offset, start) - between - np.where(turn >= -SPARE, turn, np.nan)
        return arm * np.cos(direction) - np.sqrt(rod**2 - (arm * np.sin(direction) - offset) ** 2) - start
