"""Long-shoe theory by quadrature: pressure proportional to the sine of the angle at the anchor."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from .numeric import gauss_nodes


@dataclass(frozen=True)
class ShoeMoments:
    """For a pressure of 1 MPa at the sine's peak and a lining 1 mm wide, moments about the anchor, counter-clockwise.

    ``normal`` of the drum's pressure, ``friction`` of the drum's drag on the shoe, ``drag`` the friction summed
    along the drum (times the drum radius: the torque).
    """

    normal: float
    friction: float
    drag: float


def bearing_from(origin_line: tuple[float, float], point: tuple[float, float]) -> float:
    """Signed angle at the drum centre from one direction to another, counter-clockwise positive."""
    (ax, ay), (x, y) = origin_line, point
    return math.atan2(ax * y - ay * x, ax * x + ay * y)


def shoe_moments(
    radius: float,
    anchor: tuple[float, float],
    start: float,
    end: float,
    friction: float,
    drum_turns: float,
) -> ShoeMoments:
    """Sum the normal and the friction elements on a drum of the radius.

    ``start`` and ``end`` are signed angles at the drum centre from the line drum centre to anchor; ``drum_turns`` is
    +1 for a drum turning counter-clockwise.
    """
    angles, weights = gauss_nodes(start, end)
    bearing = math.atan2(anchor[1], anchor[0]) + angles
    out = np.stack([np.cos(bearing), np.sin(bearing)])
    along = drum_turns * np.stack([-out[1], out[0]])
    load = np.abs(np.sin(angles)) * radius * np.abs(weights)
    arm = radius * out - np.array(anchor)[:, None]

    def moment(force: np.ndarray) -> float:
        return float(np.sum(arm[0] * force[1] - arm[1] * force[0]))

    return ShoeMoments(moment(-load * out), moment(friction * load * along), float(friction * np.sum(load)))
