"""The shoes: a platform that carries the lining, and a web from the anchor pin to the roller.

The web is a band of falling depth along the circle through anchor, roller and the middle of the platform. What the
cam sweeps through on its way from heel to tip, and where the other shoe may come, is cut out of it, with clearance.
"""

from functools import lru_cache
from math import cos, hypot, pi, sin

import numpy as np
import shapely
from shapely.geometry import Polygon

from geometry.arrays import Array
from geometry.brake import SIDES, Brake, Side, turn_sense
from geometry.cam_train import parameter_at_angle, ride
from geometry.condition import heel_angle, tip_angle, turn_range
from geometry.outlines.cam import cam_shape
from geometry.outlines.outline import SHOE, Outline
from geometry.outlines.proportions import PROPORTIONS, Proportions
from geometry.outlines.shapes import (
    Area,
    Point,
    arc,
    common,
    cut,
    disc,
    grown,
    joined,
    mirrored,
    piece_at,
    polygon,
    rounded,
    sound,
)
from geometry.outlines.spider import pin_radius
from geometry.shoe import turn_cos_sin

SWEEP_STEPS = 97
SWEEP_DETAIL = 0.05
PART = "foundation.roller_spread"


def platform_radii(brake: Brake, proportions: Proportions = PROPORTIONS) -> tuple[float, float]:
    """Return the inner and outer radius (mm) of the shoe's platform; the lining lies on the outer one."""
    outer = brake.new_radius - brake.lining.thickness
    return outer - proportions.platform * brake.new_radius, outer


def _sector(inner: float, outer: float, start: float, end: float, detail: float) -> Polygon:
    """The part of a ring from psi = ``start`` to ``end`` (from -y towards +x)."""
    out = arc((0.0, 0.0), outer, start - pi / 2, end - start, detail)
    back = arc((0.0, 0.0), inner, end - pi / 2, start - end, detail)
    return polygon(out, back)


def platform_shape(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Area:
    """Return the platform, outward frame, reference pose: a little longer than the lining."""
    start, end = _platform_ends(brake, proportions)
    return sound(_sector(*platform_radii(brake, proportions), start, end, detail), PART)


def _platform_ends(brake: Brake, proportions: Proportions) -> tuple[float, float]:
    over = proportions.platform_overhang
    return brake.lining.start - over, brake.lining.end + over


def boss_radius(brake: Brake, proportions: Proportions = PROPORTIONS) -> float:
    """Return the radius (mm) of the web round the anchor pin: it keeps clear of the drum."""
    room = 0.98 * brake.new_radius - hypot(*brake.shoe.anchor)
    return max(min(proportions.anchor_boss * brake.new_radius, room), 1.15 * pin_radius(brake, proportions))


def roller_place(brake: Brake) -> Point:
    """Return the roller's centre in the reference pose, outward frame."""
    return brake.shoe.roller_spread / 2, brake.shoe.roller_distance


@lru_cache(maxsize=32)
def web_shape(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> Polygon:
    """Return the web, outward frame, reference pose, with its pin and spring holes."""
    journal = disc(roller_place(brake), proportions.fork * brake.shoe.roller_radius, detail)
    band = cut(PART, _band(brake, detail, proportions), _cam_sweep(brake, proportions))
    smooth = rounded(PART, joined(PART, band, journal), 0.01 * brake.new_radius, detail, hollow=0.04 * brake.new_radius)
    clear = cut(PART, common(PART, smooth, _own_side(brake)), _cam_sweep(brake, proportions))
    pin = disc(brake.shoe.anchor, pin_radius(brake, proportions), detail, hole=True)
    eye = disc(spring_eye(brake, proportions), 0.014 * brake.new_radius, detail)
    return piece_at(PART, cut(PART, clear, pin, eye), (platform_radii(brake, proportions)[0], 0.0))


def _band(brake: Brake, detail: float, proportions: Proportions) -> Area:
    """The web before anything is cut from it."""
    depth, (inner, _) = proportions.web_depth * brake.new_radius, platform_radii(brake, proportions)
    boss, fork = boss_radius(brake, proportions), proportions.fork * brake.shoe.roller_radius
    anchor, roller = disc(brake.shoe.anchor, boss, detail), disc(roller_place(brake), fork, detail)
    under = _sector(inner - 0.6 * depth, inner, *_platform_ends(brake, proportions), detail)
    sides = _sides(_spine(brake, inner - depth / 2), boss, depth / 2, 0.72 * fork)
    whole = rounded(PART, joined(PART, sides, under, anchor, roller), 0.0, detail, hollow=0.2 * depth)
    return common(PART, whole, joined(PART, disc((0.0, 0.0), inner, detail), anchor, roller))


def _spine(brake: Brake, middle: float) -> Array:
    """Points along the circle through anchor, (middle, 0) and just outside the roller's centre, as complex numbers."""
    a, m, d = complex(*brake.shoe.anchor), complex(middle, 0.0), complex(*roller_place(brake))
    d *= 1 + 0.1 * brake.shoe.roller_radius / abs(d)
    w = (d - a) / (m - a)
    centre = a + (m - a) * (w - abs(w) ** 2) / (2j * w.imag)
    angles = np.unwrap(np.angle(np.array([a, m, d]) - centre))
    return centre + abs(a - centre) * np.exp(1j * np.linspace(angles[0], angles[2], 81))


def _sides(spine: Array, start: float, middle: float, end: float) -> Area:
    """The band along a spine, its half width going smoothly from ``start`` over ``middle`` to ``end``."""
    along = np.linspace(0.0, 1.0, len(spine))
    half = middle + (start - middle) * _fade(along / 0.3) + (end - middle) * _fade((1 - along) / 0.36)
    normal = 1j * np.gradient(spine)
    offset = half * normal / np.abs(normal)
    edge = np.concatenate([spine + offset, (spine - offset)[::-1]])
    return sound(polygon(np.column_stack([edge.real, edge.imag])), PART)


def _fade(u: Array) -> Array:
    """1 at u = 0, 0 from u = 1 on, flat at both."""
    v = np.clip(u, 0.0, 1.0)
    return 1 - v * v * (3 - 2 * v)


@lru_cache(maxsize=32)
def _cam_sweep(brake: Brake, proportions: Proportions) -> Area:
    """Where the cam ever is, seen from a shoe (outward frame, reference pose), grown by the clearance."""
    outline = shapely.get_coordinates(cam_shape(brake, SWEEP_DETAIL, proportions)) @ np.array([1.0, 1.0j])
    angles = np.linspace(heel_angle(brake), tip_angle(brake), SWEEP_STEPS)
    seen = [shape for side in SIDES for shape in _seen_from_shoe(brake, side, angles, outline)]
    swept = sound(shapely.union_all(seen), PART)
    return grown(swept, proportions.cam_clearance * brake.shoe.roller_radius, SWEEP_DETAIL)


def _seen_from_shoe(brake: Brake, side: Side, angles: Array, outline: Array) -> list[Polygon]:
    parameter = np.clip(parameter_at_angle(brake.profile, brake.shoe, side, angles), *brake.profile.working)
    cosine, sine = turn_cos_sin(brake.shoe, ride(brake.profile, brake.shoe, side, parameter).place)
    cam = np.exp(1j * angles)[:, np.newaxis] * outline
    cam = (cam if turn_sense(side) > 0 else -np.conj(cam)) + 1j * brake.shoe.cam_distance
    anchor = complex(*brake.shoe.anchor)
    back = anchor + (cam - anchor) * (cosine + 1j * sine)[:, np.newaxis]
    return [Polygon(np.column_stack([ring.real, ring.imag])) for ring in back]


def _own_side(brake: Brake) -> Area:
    """The half of the plane that is this shoe's own in every pose, in the reference pose: x stays above the gap."""
    gap, far = 0.006 * brake.new_radius, 4 * brake.new_radius
    right = polygon([(gap, -far), (far, -far), (far, far), (gap, far)])
    sides: list[Area] = []
    for turn in turn_range(brake):
        anchor = complex(*brake.shoe.anchor)
        corners = shapely.get_coordinates(right) @ np.array([1.0, 1.0j])
        back = anchor + (corners - anchor) * complex(cos(turn), sin(turn))
        sides.append(polygon(np.column_stack([back.real, back.imag])))
    return common(PART, sides[0], sides[1])


def spring_eye(brake: Brake, proportions: Proportions = PROPORTIONS) -> Point:
    """Return where the return spring hooks into the web, outward frame, reference pose: just below the cam's reach."""
    depth, (inner, _) = proportions.web_depth * brake.new_radius, platform_radii(brake, proportions)
    radius = inner - 0.72 * depth
    below = brake.shoe.cam_distance - brake.profile.tip_radius - 0.062 * brake.new_radius
    y = min(below, 0.85 * radius)
    return float(np.sqrt(radius**2 - y**2)), y


def shoes(brake: Brake, detail: float, proportions: Proportions = PROPORTIONS) -> list[Outline]:
    """Return web and platform of both shoes, each in its shoe's frame."""
    web, platform = web_shape(brake, detail, proportions), platform_shape(brake, detail, proportions)
    outlines: list[Outline] = []
    for side in SIDES:
        title, body = f"{side.capitalize()} shoe", SHOE[side]
        shapes = (web, platform) if side == "right" else (mirrored(web), mirrored(platform))
        swings = "Swings on its anchor pin when the roller at its other end is pushed out."
        carries = "Carries the lining and spreads the push along it."
        outlines.append(Outline(f"{body}_web", "wheel", "spread", f"{title}, web", swings, body, shapes[0]))
        outlines.append(Outline(f"{body}_platform", "wheel", "spread", f"{title}, platform", carries, body, shapes[1]))
    return outlines
