"""The lining's surface in the shoe, its gaps to the drum, and the turns at which it touches."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from .brake import SIGN, OracleBrake
from .numeric import golden_minimum, root
from .shoe import place, place_many

WIDEST = 0.5  # rad, how far a shoe is turned in search of a root
SCAN = 257


@dataclass(frozen=True)
class Surface:
    """A circular surface in the shoe: centre and radius in the reference pose, and the circle's own angles.

    ``seat`` is beta_w. ``start``, ``middle`` and ``end`` are angles at the circle's centre, measured like psi, at
    which the surface crosses the rays lining_start, mid arc and lining_end from the reference drum centre.
    """

    side: str
    seat: float
    centre: tuple[float, float]
    radius: float
    start: float
    middle: float
    end: float


def on_circle(side: str, centre: tuple[float, float], radius: float, angle: float) -> tuple[float, float]:
    """Point of a circle at an angle from the -y axis towards the cam, on the shoe's own side."""
    return centre[0] + SIGN[side] * radius * math.sin(angle), centre[1] - radius * math.cos(angle)


def seated_turn(brake: OracleBrake, side: str) -> float:
    """beta_w: the turn that brings the lining's mid point onto the present drum, cold."""
    middle = on_circle(side, (0.0, 0.0), brake.platform_radius + brake.lining_thickness, brake.lining_middle)

    def past_drum(turn: float) -> float:
        return math.hypot(*place(brake, side, *middle, turn)) - brake.radius_bed

    return root(past_drum, -WIDEST, WIDEST, "lining", "its middle does not reach the drum")


def make_surface(brake: OracleBrake, side: str) -> Surface:
    """Bedded or machined surface of one shoe."""
    seat = seated_turn(brake, side)
    if brake.lining_radius is None:
        radius = brake.radius_bed
        # the drum centre as the shoe at beta_w sees it: turn it back about the anchor
        centre = place(brake, side, 0.0, 0.0, -seat)
    else:
        radius = brake.lining_radius
        inset = brake.platform_radius + brake.lining_thickness - radius
        centre = on_circle(side, (0.0, 0.0), inset, brake.lining_middle)

    def crossing(psi: float) -> float:
        def past(angle: float) -> float:
            x, y = on_circle(side, centre, radius, angle)
            return SIGN[side] * x * math.cos(psi) + y * math.sin(psi)

        return root(past, psi - WIDEST, psi + WIDEST, "lining", "its surface misses a ray from the drum centre")

    angles = (crossing(brake.lining_start), crossing(brake.lining_middle), crossing(brake.lining_end))
    return Surface(side, seat, centre, radius, *angles)


def gap(brake: OracleBrake, surface: Surface, angle: float, turn: float) -> float:
    """Gap to the present drum at an angle of the surface's own circle."""
    point = on_circle(surface.side, surface.centre, surface.radius, angle)
    return brake.radius_hot - math.hypot(*place(brake, surface.side, *point, turn))


def least_gap(brake: OracleBrake, surface: Surface, turn: float) -> float:
    """Least gap over the lining: dense scan, then golden section around the least of it."""
    angles = np.linspace(surface.start, surface.end, SCAN)
    local = np.stack([SIGN[surface.side] * np.sin(angles), -np.cos(angles)], axis=1)
    points = np.array(surface.centre) + surface.radius * local
    posed = place_many(brake, surface.side, points, turn)
    index = int(np.argmax(posed[:, 0] ** 2 + posed[:, 1] ** 2))
    low, high = float(angles[max(index - 1, 0)]), float(angles[min(index + 1, SCAN - 1)])
    _, value = golden_minimum(lambda angle: gap(brake, surface, angle, turn), low, high)
    return min(value, gap(brake, surface, float(angles[index]), turn))


def first_touch(brake: OracleBrake, surface: Surface) -> float:
    """beta_c: the turn at which the least gap is nought."""

    def least(turn: float) -> float:
        return least_gap(brake, surface, turn)

    return root(least, -WIDEST, WIDEST, "lining", "it does not reach the drum")


def surface_ends(brake: OracleBrake, surface: Surface, turn: float) -> tuple[tuple[float, float], ...]:
    """Posed end points of the lining's surface: anchor end, cam end."""
    ends = (on_circle(surface.side, surface.centre, surface.radius, a) for a in (surface.start, surface.end))
    return tuple(place(brake, surface.side, *end, turn) for end in ends)
