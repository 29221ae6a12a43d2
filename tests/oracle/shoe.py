"""A shoe as a rigid body that turns about its anchor. A positive turn opens it outwards."""

from __future__ import annotations

import math

import numpy as np

from .brake import SIGN, OracleBrake


def anchor(brake: OracleBrake, side: str) -> tuple[float, float]:
    """Anchor-pin centre."""
    return SIGN[side] * brake.anchor_spacing / 2.0, -brake.anchor_distance


def place(brake: OracleBrake, side: str, x: float, y: float, turn: float) -> tuple[float, float]:
    """Where a point of the shoe lies after a turn; x and y are its place in the reference pose."""
    ax, ay = anchor(brake, side)
    c, s = math.cos(turn), -SIGN[side] * math.sin(turn)
    dx, dy = x - ax, y - ay
    return ax + c * dx - s * dy, ay + s * dx + c * dy


def place_many(brake: OracleBrake, side: str, points: np.ndarray, turn: np.ndarray | float) -> np.ndarray:
    """The same for arrays: points (n, 2) and one turn, or one point (2,) and n turns; returns (n, 2)."""
    a = np.array(anchor(brake, side))
    c, s = np.cos(turn), -SIGN[side] * np.sin(turn)
    d = points - a
    return np.stack([a[0] + c * d[..., 0] - s * d[..., 1], a[1] + s * d[..., 0] + c * d[..., 1]], axis=-1)


def roller_reference(brake: OracleBrake, side: str) -> tuple[float, float]:
    """Roller centre in the reference pose."""
    return SIGN[side] * brake.roller_spread / 2.0, brake.roller_distance


def roller_centre(brake: OracleBrake, side: str, turn: float) -> tuple[float, float]:
    """Roller centre at a turn of the shoe."""
    return place(brake, side, *roller_reference(brake, side), turn)
