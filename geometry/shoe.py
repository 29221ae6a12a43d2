"""The shoe: a rigid arm that turns about its anchor pin, with a roller at its cam end.

Both shoes are the same part. Everything here is in the *outward* frame of one shoe: origin at the drum centre, +y to
the camshaft, +x from the drum centre towards this shoe's side, so the right shoe stands as drawn and the left one is
mirrored. The turn beta is 0 in the reference pose and grows as the shoe opens (clockwise in this frame).
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from geometry.arrays import Array, floats
from geometry.guards import Guard
from geometry.many import plain


@dataclass(frozen=True)
class Shoe:
    """Where the shoe's anchor and roller are in the reference pose, and the spring that pulls the rollers together.

    Parameters
    ----------
    cam_distance, anchor_distance, anchor_spacing : float
        Drum centre to camshaft centre; drum centre down to the anchor pins; between the two pins (0: one pin). mm.
    roller_diameter, roller_spread, roller_distance : float
        Roller size; between the roller centres and their height above the drum centre in the reference pose. mm.
    return_spring_force, return_spring_rate : float
        Pull between the roller centres in the reference pose, N, and its growth with their spread, N/mm.

    """

    cam_distance: float
    anchor_distance: float
    anchor_spacing: float
    roller_diameter: float
    roller_spread: float
    roller_distance: float
    return_spring_force: float = 0.0
    return_spring_rate: float = 0.0

    def __post_init__(self) -> None:
        guard = Guard("foundation")
        guard.positive(
            "length",
            cam_distance=self.cam_distance,
            anchor_distance=self.anchor_distance,
            roller_diameter=self.roller_diameter,
            roller_spread=self.roller_spread,
            roller_distance=self.roller_distance,
        )
        guard.not_negative("length", anchor_spacing=self.anchor_spacing)
        guard.not_negative("force", return_spring_force=self.return_spring_force)
        guard.not_negative("rate", return_spring_rate=self.return_spring_rate).done()

    @property
    def roller_radius(self) -> float:
        """Half the roller's diameter, mm."""
        return self.roller_diameter / 2

    @cached_property
    def anchor(self) -> tuple[float, float]:
        """The anchor pin's centre, outward frame, mm."""
        return self.anchor_spacing / 2, -self.anchor_distance

    @cached_property
    def anchor_apart(self) -> float:
        """Anchor to drum centre, mm."""
        return plain(np.hypot(*self.anchor))

    @cached_property
    def drum_bearing(self) -> float:
        """Direction from the anchor to the drum centre, from +y towards +x, rad."""
        return plain(np.arctan2(-self.anchor[0], -self.anchor[1]))

    @cached_property
    def radius(self) -> float:
        """Anchor to roller centre, mm."""
        return plain(np.hypot(self.roller_spread / 2 - self.anchor[0], self.roller_distance - self.anchor[1]))

    @cached_property
    def span(self) -> float:
        """Anchor to camshaft centre, mm."""
        return plain(np.hypot(self.anchor[0], self.cam_distance - self.anchor[1]))

    @cached_property
    def cam_bearing(self) -> float:
        """Direction from the anchor to the camshaft, from +y towards +x, rad."""
        return plain(np.arctan2(-self.anchor[0], self.cam_distance - self.anchor[1]))

    @cached_property
    def roller_bearing(self) -> float:
        """Direction from the anchor to the roller in the reference pose, from +y towards +x, rad."""
        return plain(np.arctan2(self.roller_spread / 2 - self.anchor[0], self.roller_distance - self.anchor[1]))

    @cached_property
    def cam_cos_sin(self) -> tuple[float, float]:
        """Cosine and sine of `cam_bearing`: of many brakes they are not to be worked out again and again."""
        return plain(np.cos(self.cam_bearing)), plain(np.sin(self.cam_bearing))

    @cached_property
    def rest_cos_sin(self) -> tuple[float, float]:
        """Cosine and sine of the angle from the camshaft to the roller in the reference pose, at the anchor."""
        rest = self.roller_bearing - self.cam_bearing
        return plain(np.cos(rest)), plain(np.sin(rest))


@dataclass(frozen=True)
class RollerPlace:
    """The roller's centre at a distance from the camshaft's: its place there (mm), and the shoe's turn.

    ``opening_cos``, ``opening_sin`` are of the angle at the anchor between camshaft and roller; ``turn_slope`` is
    d(beta)/d(distance) in rad/mm.
    """

    x: Array
    y: Array
    opening_cos: Array
    opening_sin: Array
    turn_slope: Array


def roller_at_distance(shoe: Shoe, distance: Array) -> RollerPlace:
    """Return where the roller stands when its centre is ``distance`` mm from the camshaft's; NaN out of reach."""
    product = shoe.radius * shoe.span
    spare = distance * distance - (shoe.radius - shoe.span) ** 2
    versine = spare / (2 * product)
    cosine = 1.0 - versine
    with np.errstate(invalid="ignore", divide="ignore"):
        sine = np.sqrt(versine * (2.0 - versine))
        slope = distance / (product * sine)
    c, s = shoe.cam_cos_sin
    x = shoe.radius * (s * cosine + c * sine) + shoe.anchor[0]
    y = shoe.radius * (c * cosine - s * sine) + shoe.anchor[1] - shoe.cam_distance
    return RollerPlace(x, y, cosine, sine, slope)


def turn_of(shoe: Shoe, place: RollerPlace) -> Array:
    """Return beta (rad) of a shoe whose roller is at ``place``."""
    c, s = turn_cos_sin(shoe, place)
    return np.arctan2(s, c)


def turn_cos_sin(shoe: Shoe, place: RollerPlace) -> tuple[Array, Array]:
    """Return cosine and sine of beta without a trigonometric call per element."""
    c, s = shoe.rest_cos_sin
    return place.opening_cos * c + place.opening_sin * s, place.opening_sin * c - place.opening_cos * s


def distance_at_turn(shoe: Shoe, turn: ArrayLike) -> Array:
    """Return the distance (mm) of the roller's centre from the camshaft's at a turn beta (rad)."""
    opening = floats(turn) + (shoe.roller_bearing - shoe.cam_bearing)
    squared = (shoe.radius - shoe.span) ** 2 + 4 * shoe.radius * shoe.span * np.sin(opening / 2) ** 2
    return np.where(opening > 0, np.sqrt(squared), np.nan)


def posed(shoe: Shoe, turn_cos: Array, turn_sin: Array, x: Array, y: Array) -> tuple[Array, Array]:
    """Carry points of the shoe (mm, reference pose) to its pose: a clockwise turn about the anchor."""
    dx, dy = x - shoe.anchor[0], y - shoe.anchor[1]
    return shoe.anchor[0] + dx * turn_cos + dy * turn_sin, shoe.anchor[1] - dx * turn_sin + dy * turn_cos


def unposed(shoe: Shoe, turn_cos: Array, turn_sin: Array, x: Array, y: Array) -> tuple[Array, Array]:
    """Carry points from a pose back to the reference pose: the inverse of `posed`."""
    return posed(shoe, turn_cos, -turn_sin, x, y)


def turn_to_radius(shoe: Shoe, x: Array, y: Array, radius: Array) -> Array:
    """Return the turn beta (rad) that carries a point of the shoe to ``radius`` mm from the drum centre, opening.

    The point runs on a circle about the anchor; of its two meetings with the circle of that radius the one reached by
    opening outwards is meant. NaN where the circles do not meet. The half-angle form keeps its digits where the point
    is near the drum centre.
    """
    dx, dy = x - shoe.anchor[0], y - shoe.anchor[1]
    reach, apart = np.hypot(dx, dy), shoe.anchor_apart
    excess = reach - apart
    with np.errstate(invalid="ignore"):
        opening = 2 * np.arcsin(np.sqrt((radius - excess) * (radius + excess) / (4 * reach * apart)))
    return shoe.drum_bearing + opening - np.arctan2(dx, dy)
