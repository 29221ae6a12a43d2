"""How much the readings leave open: every solved figure again, with each reading one step of its resolution worse.

All readings of one brake are solved together, as arrays; only a length of the linkage makes a brake of its own.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from geometry.applied import solve_applied
from geometry.arrays import Array
from geometry.brake import Brake
from geometry.condition import Condition
from geometry.found import released_angle
from geometry.kinematics import free_stroke, solve_poses
from geometry.linkage import stroke_at_right_angle
from geometry.loads import loads_of
from geometry.reasons import Reason
from geometry.setup import Setup

FEELER = 0.001 * 25.4
"""How finely a lining clearance is set by feeler, 0.001 in (the project's figure)."""


@dataclass(frozen=True)
class Spread:
    """How much of each figure the readings leave open: strokes in mm, angles in rad.

    Infinite where a reading one step worse leaves no such state at all. ``applied`` is at the test's pressure, ``full``
    at that of a full application; ``cam_*`` are the cam's own angles, when applied with the whole of the arm's turn
    counted; ``past_contact`` is from first touch to the right angle.
    """

    applied_stroke: float
    cold_stroke: float
    hot_stroke: float
    past_contact: float
    angle_released: float
    angle_contact: float
    angle_applied: float
    angle_full: float
    cam_contact: float
    cam_applied: float


@dataclass(frozen=True)
class _Readings:
    """What was read, each (readings,) with the one as found first; mm, MPa."""

    lining_thickness: Array
    drum_diameter: Array
    free_stroke: Array
    lining_clearance: Array
    pressure: Array


def spread_of(setup: Setup, least_pressure: float, cold: float, hot: float) -> Spread:
    """Return the spread of a setup's figures, from every reading that the file itself gives.

    ``least_pressure`` (MPa) is the least of a full application; ``cold`` and ``hot`` are drum temperatures, K.
    """
    temperatures = (cold, hot)
    columns = [_figures(setup, setup.brake, _readings(setup), least_pressure, temperatures)]
    here = _readings(setup, once=True)
    columns += [_figures(setup, brake, here, least_pressure, temperatures) for brake in _longer(setup)]
    every = np.concatenate(columns, axis=1)
    off = np.abs(every[:, 1:] - every[:, :1])
    open_ = np.where(np.isnan(every[:, :1]), 0.0, np.where(np.isnan(off), np.inf, off)).sum(axis=1)
    return Spread(*(float(value) for value in open_))


def _readings(setup: Setup, once: bool = False) -> _Readings:
    """As found, and (but for ``once``) once more for each of the file's own readings, that one being a step worse."""
    steps = {} if once else _steps(setup)
    rows = np.tile(_as_found(setup), (1 + len(steps), 1))
    for row, (place, step) in enumerate(steps.values(), start=1):
        rows[row, place] += step
    return _Readings(*rows.T)


def _as_found(setup: Setup) -> Array:
    found = setup.as_found
    slack = (found.free_stroke, found.lining_clearance)
    return np.array([found.lining_thickness, found.drum_diameter, *slack, setup.test.pressure], dtype=np.float64)


def _steps(setup: Setup) -> dict[str, tuple[int, float]]:
    """By key of what the file states: the place in `_Readings`, and the step (mm, MPa) that makes the brake worse."""
    found, test = setup.as_found, setup.test
    pressure = "test.pressure" if "test.pressure" in setup.stated else "test.reservoir_pressure"
    steps = {
        "condition.lining_thickness": (0, -found.lining_resolution),
        "condition.drum_diameter": (1, found.drum_resolution),
        "condition.free_stroke": (2, setup.measured.resolution),
        "condition.lining_clearance": (3, FEELER),
        pressure: (4, test.pressure_resolution),
    }
    return {key: step for key, step in steps.items() if key in setup.stated}


def _longer(setup: Setup) -> Iterator[Brake]:
    """The brake with each length of the linkage that was measured one step of the tape longer."""
    for name in ("arm_length", "pin_reach"):
        if f"measured.{name}" in setup.stated:
            longer = getattr(setup.brake.linkage, name) + setup.measured.resolution
            yield replace(setup.brake, linkage=replace(setup.brake.linkage, **{name: longer}))


def _figures(
    setup: Setup, brake: Brake, read: _Readings, least_pressure: float, temperatures: tuple[float, float]
) -> Array:
    """The figures of `Spread`, (figures, readings); NaN where there is no such state."""
    found, worn = setup.as_found, (read.lining_thickness, read.drum_diameter)
    released = released_angle(brake, *worn, found.slack_temperature, read.free_stroke, read.lining_clearance)
    full = np.maximum(read.pressure, least_pressure)
    temperature = np.array([found.drum_temperature, found.drum_temperature, *temperatures])[:, np.newaxis]
    press = np.stack([read.pressure, full, full, full])
    pressed = Condition(*worn, temperature, released)
    applied = solve_applied(brake, pressed, press)
    locked = loads_of(brake, pressed, press, applied).reason != Reason.EXISTS
    held = solve_poses(brake, pressed, np.where(locked, np.nan, applied.stroke))
    as_found = Condition(*worn, found.drum_temperature, released)
    touch = free_stroke(brake, as_found)
    unpressed = solve_poses(brake, as_found, np.stack([np.zeros_like(touch), touch]))
    touches = np.isfinite(applied.contact_turn[0])
    return np.stack(
        [
            held.stroke[0],
            held.stroke[2],
            held.stroke[3],
            stroke_at_right_angle(brake.linkage) - np.where(touches, unpressed.stroke[1], np.nan),
            unpressed.arm_angle[0],
            np.where(touches, unpressed.arm_angle[1], np.nan),
            held.arm_angle[0],
            held.arm_angle[1],
            np.where(touches, unpressed.cam_angle[1], np.nan),
            held.arm_turn[0] + unpressed.cam_angle[0],
        ]
    )
