"""What is judged of a rod before it is cut: angles, stroke, thread, the rod's end, and the swing."""

from math import inf, pi

import numpy as np

from geometry.arrays import Array
from geometry.clevis import protrusion, thread_held
from geometry.rod_states import RodStates
from geometry.tables import band
from mechviz.checks.case import marked
from mechviz.checks.judge import ROUNDING, Band, judge
from mechviz.checks.row import CheckRow, missing_row
from mechviz.pushrod.limits import angle_band, rod_ends
from mechviz.pushrod.study import CASES, Fitting
from mechviz.report.written import taped

CLEVIS_KEYS = ("clevis.pin_to_inside", "clevis.pin_to_end", "clevis.rod_thread")
SAME = "49 CFR 393.47(b),(c): same chamber size and same arm length at both ends of an axle"


def fit_rows(fit: Fitting) -> list[CheckRow]:
    """Return the verdicts on the rod to cut in the best hole; none where there is no such rod."""
    cut = fit.best.cut
    if cut is None:
        return []
    return [
        *_angle_rows(fit, cut),
        _released_row(cut),
        _stroke_row(fit, cut),
        *_clevis_rows(fit, cut),
        _swing_row(fit),
        _arm_row(fit),
    ]


def _angle_rows(fit: Fitting, cut: RodStates) -> list[CheckRow]:
    """The angle at full application, where it is worst from new to worn, by each figure that is asked for."""
    rules = {"common": ("arm-angle-applied", Band(*angle_band())), "army": ("arm-angle-applied-army", Band(pi / 2))}
    asked = [rules[name] for name in rules if name in fit.setup.test.rules] or [rules["common"]]
    return [_angle_row(name, allowed, cut) for name, allowed in asked]


def _angle_row(name: str, allowed: Band, cut: RodStates) -> CheckRow:
    rule, (angle, at) = band(name), _worst(cut.arm_angle, allowed)
    result = judge(angle, allowed)
    advice = f"At full application, {at}." if result == "pass" else f"At full application, {at}: no length to use."
    figures = (angle, allowed.nearest(angle), allowed.margin(angle)) if angle == angle else (None, None, None)
    source = marked(rule.source, rule.status)
    return CheckRow("arm-angle-applied", result, source, advice, *figures, "angle", "deg", basis="solved")


def _worst(values: Array, allowed: Band) -> tuple[float, str]:
    """The value with the least margin, and in which of `CASES`; one that does not exist is worse than any."""
    margins = [allowed.margin(float(v)) if v == v else -inf for v in values]
    at = int(np.argmin(margins))
    return float(values[at]), f"linings {CASES[at]}"


def _released_row(cut: RodStates) -> CheckRow:
    rule, angle = band("arm-angle-released"), cut.released_angle
    allowed = Band(pi / 2, least_included=False)
    result, source = judge(angle, allowed), marked(rule.source, rule.status)
    advice = "Released, the arm stands short of square." if result == "pass" else "Released, the arm is past square."
    figures = angle, allowed.least, allowed.margin(angle)
    return CheckRow("arm-angle-released", result, source, advice, *figures, "angle", "deg", basis="solved")


def _stroke_row(fit: Fitting, cut: RodStates) -> CheckRow:
    limit = fit.case.limit
    allowed = Band(most=limit.limit_mm)
    stroke, at = _worst(cut.stroke, allowed)
    result, source = judge(stroke, allowed), marked(limit.source, limit.status)
    advice = f"At full application, {at}, adjusted to this clearance."
    figures = (stroke, allowed.most, allowed.most - stroke) if stroke == stroke else (None, allowed.most, None)
    return CheckRow("stroke-limit", result, source, advice, *figures, basis="solved")


def _clevis_rows(fit: Fitting, cut: RodStates) -> list[CheckRow]:
    clevis, reach, end = fit.setup.clevis, cut.pin_reach, fit.rod_end
    thread, through = band("clevis-thread"), band("rod-through-clevis")
    assert thread.low is not None  # the table's test holds both rows
    assert through.high is not None
    least, most = float(thread.low) * 25.4, float(through.high) * 25.4
    held, past = float(thread_held(clevis, reach, end)), max(float(protrusion(clevis, reach, end)), 0.0)
    beyond = "How far the rod's end stands into the fork."
    return [
        _clevis_row(fit, "clevis-thread", thread.source, held, Band(least - ROUNDING), _thread_advice(fit, cut)),
        _clevis_row(fit, "rod-through-clevis", through.source, past, Band(most=most + ROUNDING), beyond),
    ]


def knows_clevis(fit: Fitting) -> bool:
    """Tell whether clevis and thread are the file's own figures."""
    return fit.case.states(*CLEVIS_KEYS)


def _clevis_row(fit: Fitting, check: str, source: str, value: float, allowed: Band, advice: str) -> CheckRow:
    limit = allowed.nearest(value)
    missing = next((key for key in CLEVIS_KEYS if not fit.case.states(key)), "")
    if missing:
        how = "measure the clevis and the thread; the project's own sizes stand in."
        return missing_row(check, source, missing, how, value=value, limit=limit, basis="solved")
    result = judge(value, allowed)
    return CheckRow(check, result, source, advice, value, limit, allowed.margin(value), basis="solved")


def _thread_advice(fit: Fitting, cut: RodStates) -> str:
    shortest, _ = rod_ends(fit.setup, cut.pin_reach)
    if fit.rod_end < shortest:
        return f"The rod is too short by {taped(shortest - fit.rod_end, fit.system)}: a longer one is needed."
    return "Thread that rod and clevis share."


def _swing_row(fit: Fitting) -> CheckRow:
    from mechviz.checks.interference import swing_row

    return swing_row(fit.brake(fit.best))


def _arm_row(fit: Fitting) -> CheckRow:
    """Whether the hole is that of the arm fitted before; the other end of the axle is not in the file."""
    hole, own = fit.best.arm_length, fit.setup.brake.linkage.arm_length
    if fit.knows_arm and hole == own:
        advice = "The arm length stays as it was. Measure the arm at the axle's other end: it must be the same."
        return CheckRow("same-arm-length", "not-evaluated", SAME, advice, hole, against="expected", basis="stated")
    if fit.knows_arm:
        advice = f"The arm of before had {taped(own, fit.system)}: change both ends of the axle, or none."
        figures = hole, own, -abs(hole - own)
        return CheckRow("same-arm-length", "fail", SAME, advice, *figures, against="expected", basis="stated")
    advice = "Measure the arm at the axle's other end: it must be the same."
    return CheckRow("same-arm-length", "not-evaluated", SAME, advice, hole, against="expected", basis="stated")
