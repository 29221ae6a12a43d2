"""The lining clearance that gives a wanted free stroke, with the pushrod that is fitted for it.

The free stroke of a clearance goes with the pushrod, and the pushrod to fit with the clearance: each clearance that is
tried gets its own rod, and a wider one leaves more free stroke.
"""

from dataclasses import dataclass
from math import isfinite, nan, pi

from geometry.arrays import floats
from geometry.brake import Brake
from geometry.condition import Condition, angle_for_clearance, contact
from geometry.kinematics import free_stroke
from geometry.pushrod_fit import fit_pin_reach, with_pushrod

MOST = 0.5 * 25.4
"""The largest clearance that is looked at, mm: no brake has room for more."""
HALVINGS = 40
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
    is the brake's own where None. NaN where no rod or no clearance does it. Halved between none and too much, which
    is also where there is no rod any more.
    """
    low, high = 0.0, MOST
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        enough = not _free_stroke(bench, middle, angle, arm_length) < wanted
        low, high = (low, middle) if enough else (middle, high)
    return low if wanted - _free_stroke(bench, low, angle, arm_length) < NEAR else nan


def _free_stroke(bench: Bench, clearance: float, angle: float, arm_length: float | None) -> float:
    """The free stroke (mm) of a clearance with the rod that is fitted for it."""
    lining, drum, heat = (floats(v) for v in (bench.lining_thickness, bench.drum_diameter, bench.drum_temperature))
    released = angle_for_clearance(bench.brake, contact(bench.brake, lining, drum, heat), clearance)
    condition = Condition(lining, drum, heat, released)
    reach = float(fit_pin_reach(bench.brake, condition, bench.pressure, angle, arm_length).pin_reach)
    if not isfinite(reach):
        return nan
    return float(free_stroke(with_pushrod(bench.brake, reach, arm_length), condition))
