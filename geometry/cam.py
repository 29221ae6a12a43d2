"""The S-cam: two equal arms, the second the first turned by 180 degrees, and how a roller rides one of them.

In the cam's frame the first arm starts on the +x axis and its radius grows as the polar angle falls, so that turning
the cam counter-clockwise pushes a roller outwards. A profile is known by a parameter that grows along it from the
heel to the tip. All a roller ever needs of it is its own centre's path, the *pitch curve*: the profile moved outwards
along its normals by the roller's radius.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from geometry.arrays import Array


@dataclass(frozen=True)
class Pitch:
    """A roller's centre in the cam's frame, first arm: polar distance (mm), angle (rad), and d/d(parameter) of both."""

    distance: Array
    angle: Array
    distance_slope: Array
    angle_slope: Array

    @property
    def moment_arm(self) -> Array:
        """Distance from the camshaft's centre to the contact normal, mm."""
        along, across = self.distance_slope, self.distance * self.angle_slope
        return self.distance * along / np.hypot(along, across)


class Profile(Protocol):
    """The interface of a cam profile."""

    @property
    def working(self) -> tuple[float, float]:
        """Parameters of the heel and the tip."""
        ...

    @property
    def heel_radius(self) -> float:
        """Least radius of the working profile, mm."""
        ...

    @property
    def tip_radius(self) -> float:
        """Greatest radius of the working profile, mm."""
        ...

    @property
    def pieces(self) -> int:
        """How many curves the working profile is put together from: what is smooth is one."""
        ...

    def point(self, parameter: Array) -> tuple[Array, Array]:
        """Return x and y (mm) of the first arm's profile."""
        ...

    def pitch(self, parameter: Array, roller_radius: float) -> Pitch:
        """Return the centre of a roller that touches the first arm at the parameter."""
        ...

    def parameter_at(self, distance: Array, roller_radius: float) -> Array:
        """Return the parameter with the roller's centre ``distance`` mm from the camshaft's."""
        ...


def on_working_profile(profile: Profile, parameter: Array, slack: float = 1e-12) -> Array:
    """Return the parameter, with NaN where it lies beyond the heel or the tip (by more than ``slack`` of the range)."""
    heel, tip = profile.working
    spare = slack * (tip - heel)
    return np.where((parameter >= heel - spare) & (parameter <= tip + spare), parameter, np.nan)
