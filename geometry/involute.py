"""The involute cam: its normals touch the base circle, so a roller of any size meets one constant moment arm."""

from dataclasses import dataclass

import numpy as np

from geometry.arrays import Array
from geometry.cam import Pitch
from geometry.guards import Guard
from geometry.many import plain


@dataclass(frozen=True)
class InvoluteProfile:
    """p(t) = r_b (cos t + t sin t, t cos t - sin t), worked from ``heel_radius`` to ``tip_radius`` (all mm).

    The parameter is t: the string, of length r_b t, leaves the base circle at the angle -t.
    """

    base_radius: float
    heel_radius: float
    tip_radius: float

    def __post_init__(self) -> None:
        guard = Guard("cam")
        guard.positive("length", base_radius=self.base_radius, heel_radius=self.heel_radius, tip_radius=self.tip_radius)
        guard.less("length", ("base_radius", self.base_radius), ("heel_radius", self.heel_radius), equal=True)
        guard.less("length", ("heel_radius", self.heel_radius), ("tip_radius", self.tip_radius)).done()

    @property
    def working(self) -> tuple[float, float]:
        """Parameters of the heel and the tip."""
        return self._parameter(self.heel_radius), self._parameter(self.tip_radius)

    @property
    def pieces(self) -> int:
        """One curve."""
        return 1

    def _parameter(self, radius: float) -> float:
        return plain(np.sqrt(radius**2 - self.base_radius**2) / self.base_radius)

    def point(self, parameter: Array) -> tuple[Array, Array]:
        """Return x and y (mm) of the first arm's profile."""
        c, s = np.cos(parameter), np.sin(parameter)
        return self.base_radius * (c + parameter * s), self.base_radius * (parameter * c - s)

    def pitch(self, parameter: Array, roller_radius: float) -> Pitch:
        """Return the roller's centre: the string grown by the roller's radius draws an involute of the same circle."""
        base = self.base_radius
        string = base * parameter + roller_radius
        squared = string * string + base * base
        distance = np.sqrt(squared)
        return Pitch(
            distance,
            np.arctan2(string, base) - parameter,
            base * string / distance,
            -string * string / squared,
        )

    def parameter_at(self, distance: Array, roller_radius: float) -> Array:
        """Return t for a roller's centre ``distance`` mm from the camshaft's; NaN inside the base circle."""
        with np.errstate(invalid="ignore"):
            string = np.sqrt((distance - self.base_radius) * (distance + self.base_radius))
        return (string - roller_radius) / self.base_radius
