"""Why a hole of the arm is not to be used with its rod, from new to worn."""

from math import pi

import numpy as np

from geometry.brake import Brake
from geometry.rod_states import RodStates
from mechviz.checks.interference import SPREAD
from mechviz.pushrod.limits import angle_band, free_stroke_band

NO_ROD = "no rod puts the arm there"
IN_THE_CHAMBER = "released, the clevis would stand in the chamber"


def rod_faults(brake: Brake, rod: RodStates, stroke_limit: float) -> list[str]:
    """Return what is wrong, in a few words each, with a rod on its ``brake``; the stroke's limit is in mm."""
    low, high = angle_band()
    slack = free_stroke_band()
    found = {
        "no application from new to worn": np.isnan(rod.stroke).any(),
        "stroke over the readjustment limit": (rod.stroke > stroke_limit).any(),
        "angle outside 80 to 100 deg": ((rod.arm_angle < low) | (rod.arm_angle > high)).any(),
        "free stroke outside 1/2 to 3/4 in": not all(slack.holds(f) for f in rod.free_stroke if f == f),
        "not past 90 deg when released": not rod.released_angle > pi / 2,
        "it would not swing clear": _collides(brake),
    }
    return [words for words, wrong in found.items() if wrong]


def _collides(brake: Brake) -> bool:
    from geometry.interference import arm_interferences  # shapes are slow to load

    return any(one.depth > SPREAD for one in arm_interferences(brake))
