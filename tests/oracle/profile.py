"""The working curve of the cam's first arm, in the cam's frame: its points and its direction of travel."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from .brake import OracleBrake
from .numeric import root
from .refusal import RefusedError

# parameter -> x, y and a vector along the curve, in the sense of growing radius
Curve = Callable[[float], tuple[float, float, float, float]]
SAMPLES = 257


@dataclass(frozen=True)
class Profile:
    """A curve between the parameters start (heel) and stop (tip); breaks are where it is less smooth."""

    curve: Curve
    start: float
    stop: float
    breaks: tuple[float, ...]
    parameters: np.ndarray
    points: np.ndarray
    normals: np.ndarray

    def normal(self, parameter: float) -> tuple[float, float]:
        """Unit normal away from the cam: the travel is clockwise, so it is to the left of it."""
        _, _, dx, dy = self.curve(parameter)
        size = math.hypot(dx, dy)
        return -dy / size, dx / size


def involute(base_radius: float) -> Curve:
    """String unwound clockwise from the base circle, the parameter being the angle unwound."""

    def curve(t: float) -> tuple[float, float, float, float]:
        c, s = math.cos(t), math.sin(t)
        return base_radius * (c + t * s), base_radius * (t * c - s), c, -s

    return curve


def polar(radius: Callable[[float], tuple[float, float]]) -> Curve:
    """Curve from radius and its slope against the clockwise angle."""

    def curve(u: float) -> tuple[float, float, float, float]:
        r, slope = radius(u)
        c, s = math.cos(u), math.sin(u)
        return r * c, -r * s, slope * c - r * s, -slope * s - r * c

    return curve


def spline_radius(angles: tuple[float, ...], radii: tuple[float, ...]) -> Callable[[float], tuple[float, float]]:
    """Radius and slope of the natural cubic spline through a table (coefficients by scipy, evaluated here)."""
    spline = CubicSpline(angles, radii, bc_type="natural")
    knots = [float(knot) for knot in spline.x]
    coefficients = spline.c.T.tolist()

    def radius(u: float) -> tuple[float, float]:
        piece = min(max(bisect_right(knots, u) - 1, 0), len(coefficients) - 1)
        c3, c2, c1, c0 = coefficients[piece]
        d = u - knots[piece]
        return ((c3 * d + c2) * d + c1) * d + c0, (3.0 * c3 * d + 2.0 * c2) * d + c1

    return radius


def choose_curve(brake: OracleBrake) -> tuple[Curve, float, float, tuple[float, ...]]:
    """Curve, the parameters between which heel and tip are sought, and the knots."""
    if brake.profile == "involute":
        return involute(brake.base_radius), 0.0, 2.0 * brake.tip_radius / brake.base_radius, ()
    if brake.profile == "constant-rise":
        heel, rise = brake.heel_radius, brake.rise
        if rise is None or rise <= 0.0:
            raise RefusedError("cam", "a constant-rise profile needs a rise above zero")
        return polar(lambda u: (heel + rise * u, rise)), 0.0, 2.0 * (brake.tip_radius - heel) / rise, ()
    if brake.profile == "table" and brake.table_angle and brake.table_radius:
        angles = tuple(brake.table_angle)
        return polar(spline_radius(angles, tuple(brake.table_radius))), angles[0], angles[-1], angles
    raise RefusedError("cam", f"unknown profile {brake.profile}")


def make_profile(brake: OracleBrake) -> Profile:
    """Sample the working piece of the brake's cam, from heel_radius to tip_radius."""
    curve, low, high, knots = choose_curve(brake)

    def parameter_at(radius: float) -> float:
        reason = f"the profile does not reach the radius {radius:g} mm"
        return root(lambda t: math.hypot(*curve(t)[:2]) - radius, low, high, "cam", reason, slack=1e-12 * radius)

    start, stop = parameter_at(brake.heel_radius), parameter_at(brake.tip_radius)
    parameters = np.linspace(start, stop, SAMPLES)
    table = np.array([curve(float(t)) for t in parameters])
    if np.any(np.diff(np.hypot(table[:, 0], table[:, 1])) <= 0.0):
        raise RefusedError("cam", "the radius does not grow all the way from heel to tip")
    normals = np.stack([-table[:, 3], table[:, 2]], axis=1) / np.hypot(table[:, 2], table[:, 3])[:, None]
    breaks = (start, *(knot for knot in knots if start < knot < stop), stop)
    return Profile(curve, start, stop, breaks, parameters, table[:, :2], normals)
