"""The web of a shoe, from the anchor pin to the roller.

It is a band along the circle through anchor, roller and the middle of the platform, its depth falling to both ends.
What the cam sweeps through on its way from heel to tip, and where the other shoe may come, is cut out of it. Behind
the roller it is a disc a little smaller than the roller, which is where the cam never comes.
"""

from cmath import phase
from functools import lru_cache
from math import cos, sin

import numpy as np
from shapely.geometry import Polygon

from geometry.arrays import Array
from geometry.brake import Brake
from geometry.condition import turn_range
from geometry.outlines.cam_sweep import cam_sweep
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import (
    Area,
    Complex,
    as_complex,
    as_polygon,
    box,
    common,
    cut,
    disc,
    joined,
    piece_at,
    rounded,
    sector,
    sound,
)
from geometry.outlines.shoe_form import boss_radius, platform_ends, platform_radii, roller_place, spring_eye
from geometry.outlines.spider import pin_radius

PART = "foundation.roller_spread"


@lru_cache(maxsize=32)
def web_shape(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Polygon:
    """Return the web, outward frame, reference pose, with its pin and spring holes."""
    journal = disc(roller_place(brake), proportions.fork * brake.shoe.roller_radius, detail)
    band = cut(PART, _band(brake, detail, proportions), cam_sweep(brake, proportions))
    smooth = rounded(PART, joined(PART, band, journal), 0.01 * brake.new_radius, detail, hollow=0.04 * brake.new_radius)
    clear = cut(PART, common(PART, smooth, _own_side(brake)), cam_sweep(brake, proportions))
    pin = disc(brake.shoe.anchor, pin_radius(brake, proportions), detail, hole=True)
    eye = disc(spring_eye(brake, proportions), 0.014 * brake.new_radius, detail)
    return piece_at(PART, cut(PART, clear, pin, eye), (platform_radii(brake, proportions)[0], 0.0))


def _band(brake: Brake, detail: float, proportions: Proportions) -> Area:
    """The web before anything is cut from it."""
    depth, (inner, _) = proportions.web_depth * brake.new_radius, platform_radii(brake, proportions)
    boss, fork = boss_radius(brake, proportions), proportions.fork * brake.shoe.roller_radius
    anchor, roller = disc(brake.shoe.anchor, boss, detail), disc(roller_place(brake), fork, detail)
    under = sector(inner - 0.6 * depth, inner, *platform_ends(brake, proportions), detail)
    sides = _sides(_spine(brake, inner - depth / 2), boss, depth / 2, 0.72 * fork)
    whole = rounded(PART, joined(PART, sides, under, anchor, roller), 0.0, detail, hollow=0.2 * depth)
    return common(PART, whole, joined(PART, disc((0.0, 0.0), inner, detail), anchor, roller))


def _spine(brake: Brake, middle: float) -> Complex:
    """Points along the circle through anchor, (middle, 0) and just outside the roller's centre, as complex numbers."""
    a, m, d = complex(*brake.shoe.anchor), complex(middle, 0.0), complex(*roller_place(brake))
    d *= 1 + 0.1 * brake.shoe.roller_radius / abs(d)
    w = (d - a) / (m - a)
    centre = a + (m - a) * (w - abs(w) ** 2) / (2j * w.imag)
    angles = np.unwrap([phase(p - centre) for p in (a, m, d)])
    along = np.linspace(float(angles[0]), float(angles[2]), 81)
    return centre + abs(a - centre) * (np.cos(along) + 1j * np.sin(along))


def _sides(spine: Complex, start: float, middle: float, end: float) -> Area:
    """The band along a spine, its half width going smoothly from ``start`` over ``middle`` to ``end``."""
    along = np.linspace(0.0, 1.0, len(spine))
    half = middle + (start - middle) * _fade(along / 0.3) + (end - middle) * _fade((1 - along) / 0.36)
    normal = 1j * np.gradient(spine)
    offset = half * normal / np.abs(normal)
    return sound(as_polygon(np.concatenate([spine + offset, (spine - offset)[::-1]])), PART)


def _fade(u: Array) -> Array:
    """1 at u = 0, 0 from u = 1 on, flat at both."""
    v = np.clip(u, 0.0, 1.0)
    return 1 - v * v * (3 - 2 * v)


def _own_side(brake: Brake) -> Area:
    """The half of the plane that is this shoe's own in every pose, in the reference pose: x stays above the gap."""
    gap, far = 0.006 * brake.new_radius, 4 * brake.new_radius
    corners, anchor = as_complex(box(gap, -far, far, far)), complex(*brake.shoe.anchor)
    back = [anchor + (corners - anchor) * complex(cos(turn), sin(turn)) for turn in turn_range(brake)]
    return common(PART, *(as_polygon(ring) for ring in back))
