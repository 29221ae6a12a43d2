"""What is judged of a rod before it is cut: angles, stroke, slack, linings, thread, the rod's end, and the swing."""

from math import pi

from geometry.reasons import Reason
from geometry.rod_states import RodStates
from geometry.tables import band
from mechviz.checks.case import marked
from mechviz.checks.judge import Band, judge
from mechviz.checks.lining import lining_rows
from mechviz.checks.row import CheckRow
from mechviz.pushrod.clevis import clevis_rows
from mechviz.pushrod.limits import angle_band, arms_disagree
from mechviz.pushrod.slack import slack_row
from mechviz.pushrod.study import CASES, Fitting
from mechviz.pushrod.words import fix_words, reason_words, two_arms
from mechviz.pushrod.worst import Worst, worst
from mechviz.report.written import taped

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
        slack_row(fit, cut),
        _application_row(cut),
        *_lining_rows(fit),
        *clevis_rows(fit, cut),
        _swing_row(fit),
        _arm_row(fit),
    ]


def _angle_rows(fit: Fitting, cut: RodStates) -> list[CheckRow]:
    """The angle at full application, where it is worst from new to worn, by each figure that is asked for."""
    rules = {"common": ("arm-angle-applied", Band(*angle_band())), "army": ("arm-angle-applied-army", Band(pi / 2))}
    asked = [rules[name] for name in rules if name in fit.setup.test.rules] or [rules["common"]]
    return [_angle_row(name, allowed, cut) for name, allowed in asked]


def _angle_row(name: str, allowed: Band, cut: RodStates) -> CheckRow:
    rule, found = band(name), worst(cut.arm_angle, allowed)
    advice = f"At full application, {found.at}: no length to use." if found.result == "fail" else _applied(found)
    source = marked(rule.source, rule.status)
    return CheckRow("arm-angle-applied", found.result, source, advice, *found.figures, "angle", "deg", basis="solved")


def _applied(found: Worst) -> str:
    return f"At full application, {found.at}.{found.lacking}"


def _released_row(cut: RodStates) -> CheckRow:
    rule, angle = band("arm-angle-released"), cut.released_angle
    allowed = Band(pi / 2, least_included=False)
    result, source = judge(angle, allowed), marked(rule.source, rule.status)
    advice = "Released, the arm stands short of square." if result == "pass" else "Released, the arm is past square."
    figures = angle, allowed.least, allowed.margin(angle)
    return CheckRow("arm-angle-released", result, source, advice, *figures, "angle", "deg", basis="solved")


def _stroke_row(fit: Fitting, cut: RodStates) -> CheckRow:
    limit = fit.case.limit
    found = worst(cut.stroke, Band(most=limit.limit_mm))
    advice = f"At full application, {found.at}, adjusted to this clearance.{found.lacking}"
    source = marked(limit.source, limit.status)
    return CheckRow("stroke-limit", found.result, source, advice, *found.figures, basis="solved")


def _application_row(cut: RodStates) -> CheckRow:
    """Whether the brake can be applied at all with this rod and clearance, from new linings to worn ones."""
    check, source = "new-to-worn", "mechviz: solved with new linings, those found and worn ones"
    wrong = [(case, Reason(int(code))) for case, code in zip(CASES, cut.reason, strict=True) if code]
    if not wrong:
        return CheckRow(check, "pass", source, "The brake applies from new linings to worn ones.", basis="solved")
    said = [f"Linings {case}: {reason_words(reason)}. Change: {fix_words(reason)}." for case, reason in wrong]
    return CheckRow(check, "fail", source, " ".join(said), basis="solved")


def _lining_rows(fit: Fitting) -> list[CheckRow]:
    """Linings that are under their least are not to be fitted to: they are replaced first."""
    return [row for row in lining_rows(fit.case) if row.result != "not-applicable"]


def _swing_row(fit: Fitting) -> CheckRow:
    from mechviz.checks.interference import swing_row

    return swing_row(fit.brake(fit.best))


def _arm_row(fit: Fitting) -> CheckRow:
    """Whether the hole is that of the arm fitted before; the other end of the axle is not in the file."""
    hole, own = fit.best.arm_length, fit.own_arm
    if arms_disagree(fit.setup):
        return _two_arms(fit)
    if fit.knows_arm and fit.as_before(fit.best):
        advice = "The arm length stays as it was. Measure the arm at the axle's other end: it must be the same."
        return CheckRow("same-arm-length", "not-evaluated", SAME, advice, hole, against="expected", basis="stated")
    if fit.knows_arm:
        advice = f"The arm of before had {taped(own, fit.system)}: change both ends of the axle, or none."
        figures = hole, own, -abs(hole - own)
        return CheckRow("same-arm-length", "fail", SAME, advice, *figures, against="expected", basis="stated")
    advice = "Measure the arm at the axle's other end: it must be the same."
    return CheckRow("same-arm-length", "not-evaluated", SAME, advice, hole, against="expected", basis="stated")


def _two_arms(fit: Fitting) -> CheckRow:
    """The arm on the vehicle is another one than the file writes: nobody is to cut a rod for the wrong hole."""
    measured, own = fit.setup.measured.arm_length, fit.own_arm
    assert measured is not None
    advice = f"{two_arms(fit.setup, fit.system)} Which of them does the axle's other end have? Fit that one."
    figures = measured, own, -abs(measured - own)
    return CheckRow("same-arm-length", "fail", SAME, advice, *figures, against="expected")
