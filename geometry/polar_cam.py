"""Cams given by their radius against the angle: a constant rise per degree, or a table of measured radii."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from geometry.arrays import Array
from geometry.cam import Pitch
from geometry.errors import Fault, PartError
from geometry.guards import Guard
from geometry.root import bracketed_newton

Radius = tuple[Array, Array, Array]
"""Radius (mm) and its first and second derivative with the angle (rad)."""


def polar_point(angle: Array, radius: Radius) -> tuple[Array, Array]:
    """Return x and y (mm) of a profile whose angle runs clockwise from +x."""
    return radius[0] * np.cos(angle), -radius[0] * np.sin(angle)


def polar_pitch(angle: Array, radius: Radius, roller_radius: float) -> Pitch:
    """Return the roller's centre on a profile R(u), u clockwise: outwards along the normal (R e_r - R' e_u) / q."""
    r, slope, bend = radius
    q = np.hypot(r, slope)
    q_slope = slope * (r + bend) / q
    along, across = r * (1 + roller_radius / q), roller_radius * slope / q
    along_slope = slope * (1 + roller_radius / q) - r * roller_radius * q_slope / q**2
    across_slope = roller_radius * (bend / q - slope * q_slope / q**2)
    squared = along**2 + across**2
    distance = np.sqrt(squared)
    return Pitch(
        distance,
        np.arctan2(across, along) - angle,
        (along * along_slope + across * across_slope) / distance,
        (along * across_slope - across * along_slope) / squared - 1.0,
    )


class PolarProfile:
    """What the two profiles share: everything but the law of the radius, `radius_law`."""

    def radius_law(self, angle: Array) -> Radius:
        """Return the radius and its two derivatives at an angle (rad, clockwise from the profile's start)."""
        raise NotImplementedError

    @property
    def working(self) -> tuple[float, float]:
        """Parameters of the heel and the tip: the angle clockwise from the profile's start, rad."""
        raise NotImplementedError

    @property
    def pieces(self) -> int:
        """One curve, unless it is a table's."""
        return 1

    def point(self, parameter: Array) -> tuple[Array, Array]:
        """Return x and y (mm) of the first arm's profile."""
        return polar_point(parameter, self.radius_law(parameter))

    def pitch(self, parameter: Array, roller_radius: float) -> Pitch:
        """Return the centre of a roller that touches the first arm at the parameter."""
        return polar_pitch(parameter, self.radius_law(parameter), roller_radius)

    def parameter_at(self, distance: Array, roller_radius: float) -> Array:
        """Return the parameter for a roller's centre ``distance`` mm away; NaN off the working profile."""
        heel, tip = self.working

        def short_by(parameter: Array) -> tuple[Array, Array]:
            pitch = self.pitch(parameter, roller_radius)
            return pitch.distance - distance, pitch.distance_slope

        low, high = heel + np.zeros_like(distance), tip + np.zeros_like(distance)
        return bracketed_newton(short_by, low, high, 0.5 * (low + high), 1e-9)


@dataclass(frozen=True)
class ConstantRiseProfile(PolarProfile):
    """A radius that grows by ``rise`` mm for each radian of cam turn, from ``heel_radius`` to ``tip_radius`` (mm)."""

    rise: float
    heel_radius: float
    tip_radius: float

    def __post_init__(self) -> None:
        guard = Guard("cam").positive("rise", rise=self.rise)
        guard.positive("length", heel_radius=self.heel_radius, tip_radius=self.tip_radius)
        guard.less("length", ("heel_radius", self.heel_radius), ("tip_radius", self.tip_radius)).done()

    @property
    def working(self) -> tuple[float, float]:
        """Angles of the heel (0) and the tip, rad."""
        return 0.0, (self.tip_radius - self.heel_radius) / self.rise

    def radius_law(self, angle: Array) -> Radius:
        """Return heel radius + rise x angle, the rise, and no bend."""
        return self.heel_radius + self.rise * angle, self.rise + np.zeros_like(angle), np.zeros_like(angle)


@dataclass(frozen=True)
class TableProfile(PolarProfile):
    """A cam as measured: ``radii`` (mm) at ``angles`` (rad, rising, clockwise), joined by a natural cubic spline."""

    angles: tuple[float, ...]
    radii: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.angles) != len(self.radii) or len(self.angles) < 3:
            raise PartError(self._fault("needs one radius for each angle, and at least three rows"))
        if not (np.all(np.isfinite(self.angles)) and np.all(np.isfinite(self.radii)) and min(self.radii) > 0):
            raise PartError(self._fault("has a radius that is not a number above zero"))
        if not (np.all(np.diff(self.angles) > 0) and np.all(np.diff(self.radii) > 0)):
            raise PartError(self._fault("must have angles and radii that rise from row to row"))
        turn = np.linspace(self.angles[0], self.angles[-1], 64 * len(self.angles))
        if np.min(self.radius_law(turn)[1]) < 0:
            raise PartError(self._fault("leaves the curve through its points dipping between them"))

    @staticmethod
    def _fault(problem: str) -> Fault:
        return Fault("cam.table", problem, "write angle and radius for more points, from the heel to the tip")

    @cached_property
    def _spline(self) -> Any:
        from scipy.interpolate import CubicSpline

        return CubicSpline(self.angles, self.radii, bc_type="natural")

    @property
    def heel_radius(self) -> float:
        """First radius, mm."""
        return self.radii[0]

    @property
    def tip_radius(self) -> float:
        """Last radius, mm."""
        return self.radii[-1]

    @property
    def working(self) -> tuple[float, float]:
        """First and last angle, rad."""
        return self.angles[0], self.angles[-1]

    @property
    def pieces(self) -> int:
        """A curve from each point to the next."""
        return len(self.angles) - 1

    def radius_law(self, angle: Array) -> Radius:
        """Return the spline and its first two derivatives."""
        return self._spline(angle), self._spline(angle, 1), self._spline(angle, 2)
