"""The stroke in use: the solved one, put right by the stroke that was read, and how much all of it leaves open.

A brake that was read to move further, or less far, than its slack explains does so in every other state too. Strokes,
arm angle and cam turn that are judged are those of the stroke in use. What was read pins the model's wind-up; where
nothing was read, that is open by the model's own allowance.
"""

from dataclasses import dataclass, replace
from math import isfinite
from typing import Literal

import numpy as np

from geometry.arrays import Array
from geometry.linkage import arm_state, arm_turn
from geometry.setup.read import builtin_values
from geometry.tables import band
from geometry.tables.reader import millimetres
from mechviz.checks.case import STROKE_ALLOWANCE, Case, Drum
from mechviz.checks.judge import ROUNDING
from mechviz.checks.proof import Doubt, above_band, assumed_stroke_doubt, known_pressure
from mechviz.checks.spread import Open

LITTLE = 25.4 / 64
"""A difference that no tape shows, 1/64 in (the project's figure)."""


@dataclass(frozen=True)
class InUse:
    """A figure in use, and how much readings and model leave open of it (mm or rad).

    ``back`` is how much that is towards the better side: it has a bound also where a worse brake has no such state.
    """

    value: float
    open: float
    back: float

    def wider(self, by: float) -> "InUse":
        """Return the same figure with ``by`` more of it open, either way."""
        return replace(self, open=self.open + by, back=self.back + by)


def offset(case: Case) -> float:
    """Return by how much the stroke that was read is longer than the solved one, mm; negative where it is shorter.

    0 where there is nothing to compare, or the reading is more than the chamber has. At a pressure that nobody knows
    only a longer one counts: with more air it would be longer still.
    """
    read, solved = case.setup.measured.stroke, case.found["applied"].stroke
    if read is None or solved is None or read > case.brake.chamber.rated_stroke + ROUNDING:
        return 0.0
    return read - solved if pinned(case) else max(0.0, read - solved)


def pinned(case: Case) -> bool:
    """Whether a stroke was read, at a known pressure, in a state that can be solved."""
    comparable = case.setup.measured.stroke is not None and case.found["applied"].stroke is not None
    return comparable and not case.unknown_slack and known_pressure(case.setup) is not None


def unexplained(case: Case) -> Literal["longer", "shorter", ""]:
    """Tell whether the stroke that was read is more, or less, than slack and pressure explain."""
    more, least = offset(case), explained(case)
    known = pinned(case) and not case.unknown_for_stroke
    return "" if abs(more) <= least or not known else "longer" if more > 0 else "shorter"


def surely_unexplained(case: Case) -> Literal["longer", "shorter", ""]:
    """Tell the same, and nothing where slack read on a cold drum, or another wind-up than the base's, explains it."""
    why, cold = unexplained(case), case.slack_read_cold
    if why and base_windup_doubt(case):
        return ""
    return why if cold is None or unexplained(cold) == why else ""


def base_windup_doubt(case: Case) -> Doubt | None:
    """Return why a stroke that wind-up and chamber of the base do not explain may be this brake's own.

    The base's stiffness goes with the base's chamber. One of another size may sit on a brake made in proportion, which
    winds up as far at its own force: up to there the difference proves nothing.
    """
    if assumed := assumed_stroke_doubt(case.setup):
        return assumed
    touch, solved = case.found["contact"].stroke, case.found["applied"].stroke
    if case.states("foundation.windup_stiffness") or touch is None or solved is None:
        return None
    in_proportion = (solved - touch) * (base_area(case) / case.brake.chamber.effective_area - 1.0)
    more = offset(case)
    if more * in_proportion <= 0 or abs(more) > abs(in_proportion) + explained(case):
        return None
    how = "the wind-up is the base's, made for another chamber, and a brake made for this one may wind up as far as "
    return "foundation.windup_stiffness", how + "that: write foundation.windup_stiffness, and make sure of the slack."


def base_area(case: Case) -> float:
    """Return the effective area (mm2) of the base's own chamber; this one's where there is no base."""
    base = case.setup.base
    area = builtin_values(base)[0].get("chamber.effective_area") if base else None
    return case.brake.chamber.effective_area if area is None else float(area)


def explained(case: Case) -> float:
    """Return how far (mm) a stroke that was read may be from the solved one, by the readings and by the model."""
    model = STROKE_ALLOWANCE + case.spread.applied_stroke.amount
    return case.setup.measured.resolution + model + ROUNDING


def told(case: Case) -> str:
    """Say what the reading changes, as a further sentence; nothing where that is no more than a tape shows."""
    more = offset(case)
    if abs(more) < LITTLE:
        return ""
    apart = f"{abs(more) / 25.4:.2f} in ({abs(more):.1f} mm)"
    how = "more than solved, which is added" if more > 0 else "less than solved, which is taken off"
    return f" What was read is {apart} {how} here."


def reading_doubt(case: Case) -> Doubt | None:
    """Return why nothing that was solved may pass beside the stroke that was read."""
    if case.setup.measured.stroke is None:
        return None
    if known_pressure(case.setup) is None:
        how = "a stroke was read, and the pressure it was read at is not stated: with more air it may be longer."
        return "test.reservoir_pressure", how
    if case.pressure_doubt:
        return case.pressure_doubt[0], f"as to the stroke that was read, {case.pressure_doubt[1]}"
    if above := above_band(case.setup):
        return "test.pressure", f"as to the stroke that was read, {above}"
    if case.setup.measured.stroke > case.brake.chamber.rated_stroke + ROUNDING:
        return "measured.stroke", "the stroke that was read is more than this chamber has: read it again."
    why = unexplained(case)
    how = f"the stroke that was read is {why} than slack and pressure explain: see the row stroke as solved first."
    return ("measured.stroke", how) if why else None


def unmoved_doubt(case: Case, stroke: float) -> Doubt | None:
    """A stroke that would not even take up a usual slack is no application, unless less slack was measured."""
    rule, slack = band("free-stroke"), case.setup.as_found.free_stroke
    assert rule.low is not None  # the table's test holds the row
    least = millimetres(rule.low)
    if unexplained(case) == "shorter" or _shorter_than_unworn(case, stroke):
        how = "it is less than slack and pressure explain, so that the brake may not have been fully applied: see the "
        return "measured.stroke", how + "row stroke as solved first."
    if _less_than_slack(case, stroke):
        how = "it is less than the slack that was felt takes by itself: make sure that the brake was applied, and read "
        return "measured.stroke", how + "both again."
    if (slack is not None and not case.unknown_slack) or stroke > least + case.setup.measured.resolution:
        return None
    how = f"it is no more than slack alone usually takes ({rule.low} in, {least:.1f} mm): make sure that the brake was "
    return "condition.free_stroke", how + "applied and the pushrod moved, and measure the slack by hand."


def _shorter_than_unworn(case: Case, stroke: float) -> bool:
    """Whether a stroke (mm) is less than slack and pressure explain where the wear leaves nothing to compare it with.

    How far the rod goes is hardly a matter of wear: the same slack and pressure are held against new linings.
    """
    worn = case.spread.applied_stroke
    known = not case.unknown_slack and known_pressure(case.setup) is not None and not case.unknown_for_stroke
    if not known or (worn.exists and isfinite(worn.amount)):
        return False
    new = case.unworn.spread.applied_stroke
    open_ = new.amount if isfinite(new.amount) else 0.0
    return new.exists and new.value - stroke > case.setup.measured.resolution + STROKE_ALLOWANCE + open_ + ROUNDING


def _less_than_slack(case: Case, stroke: float) -> bool:
    """Whether a stroke (mm) does not take up the slack, read on no hotter a drum, by more than both were read to."""
    found, spare = case.setup.as_found, 2 * case.setup.measured.resolution
    felt = found.free_stroke if case.states("condition.free_stroke") else None
    no_hotter = found.slack_temperature <= found.drum_temperature + ROUNDING
    return felt is not None and no_hotter and stroke + spare < felt


def stroke_in_use(case: Case, drum: Drum) -> InUse:
    """Return the solved stroke (mm), at the pressure of a full application on a cold or a hot drum, as it is in use.

    A stroke that was read grows from there, whatever slack was felt beside it. The other readings only leave open
    whether there is such a state, and by how much it may be worse than that.
    """
    own: Open = getattr(case.spread, f"{drum}_stroke")
    there = _grown(case, drum)
    if there is None:
        return InUse(own.value + offset(case), own.amount, own.back).wider(_model(case))
    if not pinned(case):  # at a pressure that nobody knows: with more air it would be longer still
        return InUse(max(own.value, there), own.amount, own.back).wider(_model(case))
    beyond = own.amount - case.spread.applied_stroke.amount if isfinite(own.amount) else own.amount
    return InUse(there, max(0.0, beyond), 0.0).wider(_model(case))


def _grown(case: Case, drum: Drum) -> float | None:
    """The stroke that was read as it is on another drum; None where none was, or one more than the chamber has."""
    read = case.setup.measured.stroke
    if read is None or read > case.brake.chamber.rated_stroke + ROUNDING:
        return None
    there = case.grown(drum)
    return there if isfinite(there) else None


def growth(case: Case, drum: Drum) -> float:
    """Return by how much heat and air change the stroke that was read, or else the one fully applied, mm; unsigned."""
    own, there = getattr(case.spread, f"{drum}_stroke"), _grown(case, drum)
    if there is not None and pinned(case):
        return abs(there - (case.setup.measured.stroke or 0.0))
    then = case.spread.slack_stroke
    return abs(own.value - then.value) if own.exists and then.exists else 0.0


def growth_at_best(case: Case, drum: Drum) -> float:
    """Return the same (mm) with every reading a step better, where as read there is no such state."""
    there = _grown(case, drum)
    if there is not None:
        return abs(there - (case.setup.measured.stroke or 0.0))
    then = case.spread.applied_stroke if case.setup.measured.stroke is not None else case.spread.slack_stroke
    grown = abs(getattr(case.spread, f"{drum}_stroke").best - then.best)
    return grown if isfinite(grown) else 0.0


def stroke_at_best(case: Case, drum: Drum) -> InUse:
    """Return the stroke (mm) in use with every reading a step better, where as read there is no such state."""
    left: Open = getattr(case.spread, f"{drum}_stroke")
    read, solved = case.setup.measured.stroke, case.spread.applied_stroke.best
    if read is None or not isfinite(solved) or read > case.brake.chamber.rated_stroke + ROUNDING:
        return InUse(left.best, np.inf, left.slop).wider(_model(case))
    there = _grown(case, drum)
    known = known_pressure(case.setup) is not None
    more = read - solved if known else max(0.0, read - solved)
    value = left.best + more if there is None else there if known else max(left.best, there)
    back = left.slop if there is None or not known else 0.0
    return InUse(value, np.inf, back).wider(_pinned_model(case, more) if known else _model(case))


def open_of_solved_stroke(case: Case) -> float:
    """Return how much readings and model leave open of this brake's worked-out stroke, mm: never less than the tape.

    No more than the whole of the chamber's stroke, also where a reading one step worse leaves no state at all.
    """
    cold = stroke_in_use(case, "cold").open
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
    off = _model(case)
    return solved + offset(case) + np.array([0.0, -off, off])


def _among(figures: Array, left: Open) -> InUse:
    off = np.abs(figures[1:] - figures[0])
    most, known = np.where(np.isnan(off), np.inf, off).max(), np.where(np.isnan(off), 0.0, off).max()
    return InUse(float(figures[0]), left.amount + float(most), left.back + float(known))


def _model(case: Case) -> float:
    """What is open beyond the readings that were solved from, mm: the tape where it pins the model, else wind-up.

    Softness grows with the force, so that what was read on top at less than full pressure may be more at full.
    """
    if not pinned(case):
        return 0.0 if case.states("foundation.windup_stiffness") else STROKE_ALLOWANCE
    return _pinned_model(case, offset(case))


def _pinned_model(case: Case, more: float) -> float:
    """The same, mm, where a stroke was read that is ``more`` than solved; above full pressure as far below as above."""
    softer = abs(more) * abs(case.full_pressure / case.setup.test.pressure - 1.0)
    return case.setup.measured.resolution + softer
