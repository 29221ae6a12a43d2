"""A fit for programs: the answer, every rod that was looked at, the worm's setting and the verdicts."""

import json
from typing import Any

from geometry.clevis import protrusion, thread_held
from geometry.quantity import KINDS
from geometry.reasons import Reason
from geometry.rod_states import RodStates
from mechviz.pushrod.study import CASES, PRESENT, WORN, Fitting, Hole
from mechviz.pushrod.verdicts import fit_rows
from mechviz.report.check_json import row_data
from mechviz.report.figures import figure

SCHEMA = 1
DEGREE = KINDS["angle"].metric_factor
KILOPASCAL = KINDS["pressure"].metric_factor
NEWTON_METRE = KINDS["torque"].metric_factor


def records(fit: Fitting) -> list[dict[str, Any]]:
    """Return one record for each rod of each hole; for a hole without one, a record without figures."""
    return [_record(fit, hole, rod) for hole in fit.holes for rod in (hole.rods or (None,))]


def _record(fit: Fitting, hole: Hole, rod: RodStates | None) -> dict[str, Any]:
    clevis, end = fit.setup.clevis, fit.rod_end if fit.best.rods else None
    held = None if rod is None or end is None else float(thread_held(clevis, rod.pin_reach, end))
    past = None if rod is None or end is None else float(protrusion(clevis, rod.pin_reach, end))
    best = hole is fit.best
    return {
        "arm_length_mm": figure(hole.arm_length),
        "use": best and rod is not None and rod is hole.cut,
        "pin_reach_mm": None if rod is None else figure(rod.pin_reach),
        "released_angle_deg": None if rod is None else figure(rod.released_angle, DEGREE),
        "square_stroke_mm": None if rod is None else figure(rod.square_stroke),
        "thread_held_mm": figure(held) if best else None,
        "protrusion_mm": figure(past) if best else None,
        **{name: _state(rod, k) for k, name in enumerate(CASES)},
    }


def _state(rod: RodStates | None, k: int) -> dict[str, Any]:
    if rod is None:
        return dict.fromkeys(_STATE)
    reason = Reason(int(rod.reason[k]))
    figures = (
        figure(float(rod.free_stroke[k])),
        figure(float(rod.stroke[k])),
        figure(float(rod.arm_angle[k]), DEGREE),
        figure(float(rod.chamber_force[k])),
        figure(float(rod.brake_torque[k]), NEWTON_METRE),
        None if reason == Reason.EXISTS else reason.words,
    )
    return dict(zip(_STATE, figures, strict=True))


_STATE = ("free_stroke_mm", "stroke_mm", "arm_angle_deg", "chamber_force_N", "brake_torque_Nm", "reason")


def fit_data(fit: Fitting) -> dict[str, Any]:
    """Return what `fit_json` writes, as plain Python values."""
    return {
        "schema": SCHEMA,
        "title": fit.setup.title,
        "example_only": fit.example,
        "missing": fit.missing,
        "wanted_angle_deg": figure(fit.asked.angle, DEGREE),
        "clearance_mm": figure(fit.best.clearance),
        "clearance_asked_mm": figure(fit.asked.clearance),
        "pressure_kPa": figure(fit.setup.test.pressure, KILOPASCAL),
        "tick_mm": figure(fit.tick),
        "let_drum_cool": fit.case.warm,
        "answer": _answer(fit),
        "worm": {
            "turns_for_one_of_the_cam": fit.setup.brake.adjuster.worm_turns,
            "cam_turn_deg": figure(fit.cam_turn, DEGREE),
            "turns_back": figure(fit.worm_turns),
        },
        "rods": records(fit),
        "holes": [{"arm_length_mm": figure(h.arm_length), "faults": fit.faults(h)} for h in fit.holes],
        "checks": [row_data(row) for row in fit_rows(fit)],
    }


def _answer(fit: Fitting) -> dict[str, Any] | None:
    """The rod to cut; None where no rod does it."""
    hole, cut = fit.best, fit.best.cut
    if cut is None:
        return None
    return {
        "arm_length_mm": figure(hole.arm_length),
        "pin_reach_mm": figure(cut.pin_reach),
        "pushrod_length_mm": figure(cut.pin_reach + fit.setup.brake.linkage.pivot_depth),
        "rod_reach_mm": figure(fit.rod_end) if fit.rod_end > 0 else None,
        "cut_off_mm": figure(fit.cut_off),
        "exact_pin_reach_present_mm": figure(float(hole.exact.pin_reach[PRESENT])),
        "exact_pin_reach_worn_mm": figure(float(hole.exact.pin_reach[WORN])),
    }


def fit_json(fit: Fitting) -> str:
    """Write a fit as JSON: ASCII only, None as null, never NaN."""
    return json.dumps(fit_data(fit), indent=2, allow_nan=False)
