"""The room that the cam needs: where it ever is on its way from heel to tip, seen from a shoe."""

from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry import Polygon

from geometry.arrays import Array
from geometry.brake import SIDES, Brake, Side, turn_sense
from geometry.cam_train import parameter_at_angle, ride
from geometry.condition import heel_angle, tip_angle
from geometry.outlines.cam import cam_shape
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import Area, Complex, as_complex, as_polygon, grown, sound
from geometry.shoe import turn_cos_sin

STEPS = 97
DETAIL = 0.05


@lru_cache(maxsize=32)
def cam_sweep(brake: Brake, proportions: Proportions = PROPORTIONS) -> Area:
    """Return where the cam ever is, seen from a shoe (outward frame, reference pose), grown by the clearance."""
    outline = as_complex(cam_shape(brake, DETAIL, proportions))
    angles = np.linspace(heel_angle(brake), tip_angle(brake), STEPS)
    seen = [shape for side in SIDES for shape in _seen_from_shoe(brake, side, angles, outline)]
    swept = sound(shapely.union_all(seen), "cam.tip_radius")
    return grown(swept, proportions.cam_clearance * brake.shoe.roller_radius, DETAIL)


def _seen_from_shoe(brake: Brake, side: Side, angles: Array, outline: Complex) -> list[Polygon]:
    parameter = np.clip(parameter_at_angle(brake.profile, brake.shoe, side, angles), *brake.profile.working)
    cosine, sine = turn_cos_sin(brake.shoe, ride(brake.profile, brake.shoe, side, parameter).place)
    cam = np.exp(1j * angles)[:, np.newaxis] * outline
    cam = (cam if turn_sense(side) > 0 else -np.conj(cam)) + 1j * brake.shoe.cam_distance
    anchor = complex(*brake.shoe.anchor)
    back = anchor + (cam - anchor) * (cosine + 1j * sine)[:, np.newaxis]
    return [as_polygon(ring) for ring in back]
