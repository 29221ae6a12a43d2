"""Taking the brake apart: where each part goes, in the order in which a workshop takes it off.

Shifts are along the brake's axes, as shares of the lining's width along the shaft, of the drum's radius across it and
of the chamber's radius along the rod. Each part has its stretch of the way: the wheel comes off first, the chamber's
inside last.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.outlines.chamber_form import chamber_form


@dataclass(frozen=True)
class Way:
    """How far a part goes along x (chambers' radii, else drum radii), y (drum radii) and z (lining widths), and when.

    ``begins`` and ``ends`` are shares of the whole: 0 together, 1 apart.
    """

    x: float = 0.0
    y: float = 0.0
    z: float = 0.0
    begins: float = 0.0
    ends: float = 1.0
    along_rod: bool = False


WAYS = {
    "wheel": Way(z=-6.2, begins=0.0, ends=0.35),
    "drum": Way(z=-4.6, begins=0.1, ends=0.5),
    "hub": Way(z=-3.1, begins=0.2, ends=0.6),
    "spindle": Way(),
    "axle_tube": Way(),
    "spider": Way(z=-0.35, begins=0.7, ends=1.0),
    "anchor_pin": Way(z=-1.15, begins=0.5, ends=0.9),
    "shoe_web_left": Way(x=-0.45, z=-1.0, begins=0.4, ends=0.8),
    "shoe_web_right": Way(x=0.45, z=-1.0, begins=0.4, ends=0.8),
    "lining_left": Way(x=-0.85, z=-1.0, begins=0.4, ends=0.9),
    "lining_right": Way(x=0.85, z=-1.0, begins=0.4, ends=0.9),
    "shoe_return_spring": Way(y=-0.25, z=-1.9, begins=0.3, ends=0.7),
    "roller_left": Way(x=-0.25, y=0.45, z=-1.0, begins=0.4, ends=0.85),
    "roller_right": Way(x=0.25, y=0.45, z=-1.0, begins=0.4, ends=0.85),
    "s_cam": Way(z=-2.0, begins=0.5, ends=0.95),
    "camshaft": Way(z=-2.0, begins=0.5, ends=0.95),
    "shaft_tube": Way(),
    "camshaft_end": Way(z=-2.0, begins=0.5, ends=0.95),
    "slack_adjuster": Way(z=0.85, begins=0.45, ends=0.85),
    "clevis_pin": Way(z=-0.65, begins=0.4, ends=0.7),
    "clevis": Way(x=0.35, begins=0.5, ends=0.9, along_rod=True),
    "pushrod": Way(x=0.75, begins=0.5, ends=0.9, along_rod=True),
    "bracket": Way(),
    "studs": Way(x=0.3, begins=0.6, ends=1.0, along_rod=True),
    "chamber_non_pressure": Way(x=0.9, begins=0.5, ends=0.9, along_rod=True),
    "chamber_return_spring": Way(x=1.5, begins=0.5, ends=0.95, along_rod=True),
    "push_plate": Way(x=2.1, begins=0.5, ends=1.0, along_rod=True),
    "diaphragm": Way(x=2.7, begins=0.5, ends=1.0, along_rod=True),
    "clamp_ring": Way(x=3.1, begins=0.5, ends=1.0, along_rod=True),
    "chamber_pressure": Way(x=3.5, begins=0.5, ends=1.0, along_rod=True),
    "air_port": Way(x=3.9, begins=0.5, ends=1.0, along_rod=True),
    "parking_housing": Way(x=4.1, begins=0.5, ends=1.0, along_rod=True),
    "parking_plate": Way(x=4.1, begins=0.5, ends=1.0, along_rod=True),
    "parking_diaphragm": Way(x=4.1, begins=0.5, ends=1.0, along_rod=True),
    "power_spring": Way(x=4.1, begins=0.5, ends=1.0, along_rod=True),
}
"""By a part's name; a part that is not listed under its own goes by its side's or its kind's. A parking section stays
whole: nobody takes one apart."""

SAME = {"shoe_{0}_web": "shoe_web_{0}", "shoe_{0}_platform": "shoe_web_{0}", "rivets_{0}": "lining_{0}",
        "anchor_pin_{0}": "anchor_pin"}  # fmt: skip


def way_of(name: str) -> Way:
    """Return the way of a part. Raises KeyError for a name that is not listed."""
    if name in WAYS:
        return WAYS[name]
    known = {k.format(side): v.format(side) for k, v in SAME.items() for side in ("left", "right", "shared")}
    return WAYS[known[name]]


def shift(brake: Brake, name: str) -> Array:
    """Return where a part stands when the brake is all apart, from where it stands when it is not: (3,), mm."""
    way = way_of(name)
    across = chamber_form(brake).outer if way.along_rod else brake.new_radius
    return floats([way.x * across, way.y * brake.new_radius, way.z * brake.lining.width])


def share_of(way: Way, apart: ArrayLike) -> Array:
    """Return how much of its way a part has gone when the whole is so far ``apart`` (0 to 1, any shape)."""
    u = np.clip((floats(apart) - way.begins) / (way.ends - way.begins), 0.0, 1.0)
    return floats(u * u * (3 - 2 * u))
