"""How much the readings leave open: every solved figure again, with each reading one step of its resolution worse.

All readings of one brake are solved together, as arrays; only a length of the linkage makes a brake of its own.
Where a reading one step worse leaves no such state, it is kept which reading that was, and why there is none.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.applied import solve_applied
from geometry.arrays import Array, floats
from geometry.brake import Brake
from geometry.condition import Condition
from geometry.found import released_angle
from geometry.kinematics import free_stroke, solve_poses
from geometry.linkage import stroke_at_right_angle
from geometry.loads import loads_of
from geometry.reasons import Reason
from geometry.setup import Setup

Pair = tuple[float, float]

FEELER = 0.001 * 25.4
"""How finely a lining clearance is set by feeler, 0.001 in (the project's figure)."""


LENGTHS = ("arm_length", "pin_reach", "face_distance", "axis_offset")
"""Of the linkage, what has to be measured on a vehicle for the arm's angle to be worked out."""


@dataclass(frozen=True)
class Open:
    """How much of one figure the readings leave open (mm or rad), without bound where one of them leaves no state.

    ``lost_by`` is the key of that reading, empty for none; ``reason`` why there is no state with it a step worse.
    ``back`` is the same amount for readings a step better, which has a bound: that a worse brake has no such state
    at all absolves nothing that is outside by more.
    """

    amount: float
    lost_by: str = ""
    reason: Reason = Reason.EXISTS
    back: float = 0.0

    @property
    def words(self) -> str:
        """What to say of a figure without bound, as a sentence; nothing of one that has a bound."""
        if not self.lost_by:
            return ""
        step = f"With {self.lost_by} one step of its reading worse there is no such state ({self.reason.words})"
        return f"{step}: measure that again, and more finely."


@dataclass(frozen=True)
class Spread:
    """How much of each figure the readings leave open: strokes in mm, angles in rad.

    ``applied`` is at the test's pressure, ``full`` at that of a full application; ``cam_*`` are the cam's own angles,
    fully applied with the whole of the arm's turn counted; ``past_contact`` is from first touch to the right angle.
    """

    applied_stroke: Open
    cold_stroke: Open
    hot_stroke: Open
    past_contact: Open
    angle_released: Open
    angle_contact: Open
    angle_applied: Open
    angle_full: Open
    cam_contact: Open
    cam_full: Open


@dataclass(frozen=True)
class _Readings:
    """What was read, each (readings,) with the one as found first; mm, MPa."""

    lining_thickness: Array
    drum_diameter: Array
    free_stroke: Array
    lining_clearance: Array
    pressure: Array


def spread_of(setup: Setup, full: Pair, temperatures: Pair) -> Spread:
    """Return the spread of a setup's figures, from every reading that the file itself gives.

    ``full`` (MPa) are the ends of the pressures of a full application; ``temperatures`` a cold and a hot drum's, K.
    """
    figures, reasons = _every(setup, full, temperatures)
    keys = (*_steps(setup), *_lengths(setup))
    found = [_open(keys, *row) for row in zip(figures, reasons, strict=True)]
    if any(one.lost_by for one in found):
        better, _ = _every(setup, full, temperatures, way=-1)
        back = np.nansum(np.abs(better[:, 1:] - better[:, :1]), axis=1)
        found = [replace(one, back=float(off)) if one.lost_by else one for one, off in zip(found, back, strict=True)]
    return Spread(*found)


def _every(setup: Setup, full: Pair, temperatures: Pair, way: int = 1) -> tuple[Array, Array]:
    """As `_figures`: as found, and with each reading and each length a step off, better ones with ``way`` -1."""
    here = _readings(setup, once=True)
    solved = [_figures(setup, setup.brake, _readings(setup, way=way), full, temperatures)]
    solved += [_figures(setup, brake, here, full, temperatures) for brake in _lengths(setup, way).values()]
    figures, reasons = (np.concatenate(columns, axis=1) for columns in zip(*solved, strict=True))
    return figures, reasons


def _open(keys: Sequence[str], figure: Array, reasons: Array) -> Open:
    """One figure as found and, in the order of ``keys``, with each reading a step worse; what does not exist is 0."""
    if np.isnan(figure[0]):
        return Open(0.0)
    off = np.abs(figure[1:] - figure[0])
    lost = np.flatnonzero(np.isnan(off))
    if lost.size:
        first = int(lost[0])
        return Open(np.inf, keys[first], Reason(int(reasons[1 + first])))
    return Open(float(off.sum()), back=float(off.sum()))


def _readings(setup: Setup, once: bool = False, way: int = 1) -> _Readings:
    """As found, and (but for ``once``) once more for each of the file's own readings, that one being a step worse.

    With ``way`` -1 a step better.
    """
    steps = {} if once else _steps(setup)
    rows = np.tile(_as_found(setup), (1 + len(steps), 1))
    for row, (place, step) in enumerate(steps.values(), start=1):
        rows[row, place] += way * step
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


def _lengths(setup: Setup, way: int = 1) -> dict[str, Brake]:
    """By key, the brake with each length of the linkage that the file gives one step of the tape longer (-1 shorter).

    A length shorter than the tape's step is halved: less than nothing is none.
    """
    linkage, step = setup.brake.linkage, way * setup.measured.resolution
    keys = [key for name in LENGTHS for key in (f"measured.{name}", f"linkage.{name}") if key in setup.stated]
    read = {key.rpartition(".")[2]: key for key in reversed(keys)}
    off = {key: max(was + step, was / 2) for name, key in read.items() for was in [getattr(linkage, name)]}
    names = {key: name for name, key in read.items()}
    return {key: replace(setup.brake, linkage=replace(linkage, **{names[key]: one})) for key, one in off.items()}


def _figures(
    setup: Setup, brake: Brake, read: _Readings, full_pressures: Pair, temperatures: Pair
) -> tuple[Array, Array]:
    """The figures of `Spread`, (figures, readings), NaN where there is no such state; and why there is none."""
    found, worn = setup.as_found, (read.lining_thickness, read.drum_diameter)
    released = released_angle(brake, *worn, found.slack_temperature, read.free_stroke, read.lining_clearance)
    full = np.clip(read.pressure[0], *full_pressures) + (read.pressure - read.pressure[0])
    temperature = np.array([found.drum_temperature, found.drum_temperature, *temperatures])[:, np.newaxis]
    press = np.stack([read.pressure, full, full, full])
    pressed = Condition(*worn, temperature, released)
    applied = solve_applied(brake, pressed, press)
    loaded = loads_of(brake, pressed, press, applied).reason
    held = solve_poses(brake, pressed, np.where(loaded != Reason.EXISTS, np.nan, applied.stroke))
    as_found = Condition(*worn, found.drum_temperature, released)
    touch = free_stroke(brake, as_found)
    unpressed = solve_poses(brake, as_found, np.stack([np.zeros_like(touch), touch]))
    touches = np.isfinite(applied.contact_turn[0])
    at_contact = np.where(touches, floats(unpressed.reason[1]), applied.reason[0])
    why = np.where(loaded != Reason.EXISTS, floats(loaded), held.reason)
    figures = np.stack(
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
            held.arm_turn[1] + unpressed.cam_angle[0],
        ]
    )
    at_rest = floats(unpressed.reason[0])
    reasons = [why[0], why[2], why[3], at_contact, at_rest, at_contact, why[0], why[1], at_contact, why[1]]
    return figures, np.stack(reasons)
