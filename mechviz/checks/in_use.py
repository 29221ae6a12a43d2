"""The stroke in use: the solved one, with what a longer reading adds to it, and how much all of it leaves open.

A brake that was read to move further than its slack explains moves further in every other state too. Strokes, arm
angle and cam turn that are judged are those of this longer stroke.
"""

from dataclasses import dataclass

import numpy as np

from geometry.arrays import Array
from geometry.linkage import arm_state, arm_turn
from mechviz.checks.case import STROKE_ALLOWANCE, Case
from mechviz.checks.proof import Doubt, known_pressure
from mechviz.checks.spread import Open

LITTLE = 25.4 / 64
"""A difference that no tape shows, 1/64 in (the project's figure)."""


@dataclass(frozen=True)
class InUse:
    """A figure in use, and how much readings and model leave open of it (mm or rad)."""

    value: float
    open: float


def excess(case: Case) -> float:
    """Return by how much the stroke that was read is longer than the solved one, mm."""
    read, solved = case.setup.measured.stroke, case.found["applied"].stroke
    return 0.0 if read is None or solved is None else max(0.0, read - solved)


def told(case: Case) -> str:
    """Say what the reading adds, as a further sentence; nothing where it adds nothing that a tape shows."""
    more = excess(case)
    if more < LITTLE:
        return ""
    return f" What was read is {more / 25.4:.2f} in ({more:.1f} mm) more than solved, which is added here."


def unread_doubt(case: Case) -> Doubt | None:
    """Return why a stroke that was read cannot be held against the solved one: nobody knows at what pressure it was."""
    if case.setup.measured.stroke is None or known_pressure(case.setup) is not None:
        return None
    how = "a stroke was read, and the pressure it was read at is not stated: with more air it may be longer."
    return "test.reservoir_pressure", how


def stroke_in_use(case: Case, solved: float, left: Open) -> InUse:
    """Return a solved stroke (mm), at the pressure of a full application, as it is in use."""
    return InUse(solved + excess(case), left.amount + _unexplained(case))


def open_of_solved_stroke(case: Case) -> float:
    """Return how much readings and model leave open of this brake's worked-out stroke, mm: never less than the tape.

    No more than the whole of the chamber's stroke, also where a reading one step worse leaves no state at all.
    """
    cold = case.spread.cold_stroke.amount + _unexplained(case)
    return min(max(cold, case.setup.measured.resolution), case.brake.chamber.rated_stroke)


def angle_in_use(case: Case, solved: float, left: Open) -> InUse:
    """Return the arm's angle (rad) at a solved stroke (mm) as it is in use; NaN where pushrod and arm do not meet."""
    angles = arm_state(case.brake.linkage, _strokes(case, solved)).arm_angle
    return _among(angles, left)


def turn_in_use(case: Case, solved: float, left: Open) -> InUse:
    """Return the arm's turn (rad) at a solved stroke (mm) as it is in use; NaN where pushrod and arm do not meet."""
    return _among(arm_turn(case.brake.linkage, _strokes(case, solved)), left)


def _strokes(case: Case, solved: float) -> Array:
    """The stroke in use, mm, with the least and the most that model and tape leave open."""
    off = _unexplained(case)
    return solved + excess(case) + np.array([0.0, -off, off])


def _among(figures: Array, left: Open) -> InUse:
    off = np.abs(figures[1:] - figures[0])
    return InUse(float(figures[0]), left.amount + float(np.where(np.isnan(off), np.inf, off).max()))


def _unexplained(case: Case) -> float:
    """What is open beyond the readings that were solved from, mm: the model's wind-up, and what the tape added.

    Softness grows with the force, so that what was read on top at less than full pressure may be more at full.
    """
    windup = 0.0 if case.states("foundation.windup_stiffness") else STROKE_ALLOWANCE
    more = excess(case)
    if not more:
        return windup
    softer = more * (case.full_pressure / case.setup.test.pressure - 1.0)
    return windup + softer + case.setup.measured.resolution
