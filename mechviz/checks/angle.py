"""The arm's angle: released, at contact, at full application, and the stroke at which the right angle is passed.

A solved angle is only as good as the lengths it was solved from: where the file gives neither these nor a reading of
the angle, nothing is judged.
"""

from dataclasses import dataclass
from math import inf, pi, radians
from typing import Any

from geometry.linkage import stroke_at_right_angle
from geometry.states import State
from geometry.tables import Band as Rule
from geometry.tables import band
from geometry.tables.reader import millimetres
from mechviz.checks.case import Case, marked
from mechviz.checks.judge import Band, judge, shown_spread
from mechviz.checks.row import CheckRow, missing_row
from mechviz.square import stands

SQUARE = pi / 2
OWN_RULE = "mechviz's own rule, no published figure: square should be passed while the linings work"
ANGLE: dict[str, Any] = {"kind": "angle", "unit": "deg"}


@dataclass(frozen=True)
class _Asked:
    """One angle to judge: in which state, read or not, and by what."""

    check: str
    state: str
    measured: float | None
    allowed: Band
    source: str


def arm_angle_rows(case: Case) -> list[CheckRow]:
    """Judge the three angles, measured where they were measured and solved otherwise, and where square is passed.

    Only the angle at full application has more than one published figure, so that rule sets choose between them.
    """
    released, applied = case.setup.measured.arm_angle_released, case.setup.measured.arm_angle_applied
    rules = {"common": "arm-angle-applied", "army": "arm-angle-applied-army"}
    asked = [
        _by_rule("arm-angle-released", "released", released, band("arm-angle-released")),
        _Asked("arm-angle-contact", "contact", None, Band(SQUARE), OWN_RULE),
        *(
            _by_rule("arm-angle-applied", "applied", applied, band(name))
            for rule_set, name in rules.items()
            if rule_set in case.rules
        ),
    ]
    return [*(_row(case, one) for one in asked), _square_row(case)]


def _by_rule(check: str, state: str, measured: float | None, rule: Rule) -> _Asked:
    return _Asked(check, state, measured, _allowed(rule), marked(rule.source, rule.status))


def _allowed(rule: Rule) -> Band:
    least = -inf if rule.low is None else radians(float(rule.low))
    most = inf if rule.high is None else radians(float(rule.high))
    return Band(least, most, rule.low_included, rule.high_included)


def _row(case: Case, asked: _Asked) -> CheckRow:
    if asked.measured is None:
        key = case.unknown_for_angles or ("" if asked.state == "released" else case.unknown_slack)
        if key:
            angle = f"measured.arm_angle_{asked.state}"
            how = "measure it, so that the angle can be worked out"
            how += "." if asked.state == "contact" else f", or measure the angle itself ({angle})."
            return missing_row(asked.check, asked.source, key, how, **ANGLE)
    solved = _solved(case, asked.state)
    value = asked.measured if asked.measured is not None else solved.arm_angle
    if value is None:
        why = f"There is no such state to take the angle in: {solved.reason.words}."
        return CheckRow(asked.check, "not-evaluated", asked.source, why, **ANGLE, basis="solved")
    read = asked.measured is not None
    tolerance = case.setup.measured.angle_resolution
    resolution = tolerance if read else _spread(case, asked.state)
    result = judge(value, asked.allowed, resolution)
    figures = (value, asked.allowed.nearest(value), asked.allowed.margin(value))
    basis = "measured" if read else "solved"
    if read and asked.state == "applied" and case.pressure_doubt and (result != "fail" or value > asked.allowed.most):
        key, how = case.pressure_doubt
        why = f"It is no full application for certain: {how}"
        return CheckRow(
            asked.check,
            "not-evaluated",
            asked.source,
            why,
            value,
            asked.allowed.nearest(value),
            **ANGLE,
            resolution=resolution,
            missing=case.unless_stated(key),
        )
    advice = _advice(case, asked.check, result, value)
    resolution = shown_spread(resolution, figures[2])
    return CheckRow(asked.check, result, asked.source, advice, *figures, "angle", "deg", resolution, basis)


def _advice(case: Case, check: str, result: str, angle: float) -> str:
    where = f"The arm stands {stands(angle)}."
    if result == "pass":
        return where
    if result == "close":
        return f"{where} At the edge within what the gauge can tell: measure again."
    if angle < SQUARE and _slack(case):
        return f"{where} {SLACK_FIRST}"
    if angle > SQUARE:
        return f"{where} The pushrod is too short or the arm too long for where the chamber sits: check both lengths."
    if check == "arm-angle-applied":
        return f"{where} Too much stroke, a pushrod too long, or an arm too short: check the stroke first."
    return f"{where} The right angle is lost before the linings work: the pushrod is too long or the arm too short."


SLACK_FIRST = "There is too much slack, which takes the arm past square by itself: put that right first, then look."


def _solved(case: Case, state: str) -> State:
    """The state that an angle is solved in; full application is at a pressure that counts."""
    return case.full if state == "applied" else case.found[state]


def _spread(case: Case, state: str) -> float:
    spread = case.spread
    return {"released": spread.angle_released, "contact": spread.angle_contact, "applied": spread.angle_full}[state]


def _slack(case: Case) -> bool:
    """Whether the slack found is more than the trade's band allows."""
    rule, found = band("free-stroke"), case.setup.as_found.free_stroke
    assert rule.high is not None  # the table's test holds the row
    return found is not None and case.states("condition.free_stroke") and found >= millimetres(rule.high)


def _square_row(case: Case) -> CheckRow:
    """Square should be passed while the brake works: after the linings touch, before the readjustment limit."""
    check, key = "right-angle-stroke", case.unknown_for_angles or case.unknown_slack
    if key:
        return missing_row(check, OWN_RULE, key, "measure it, so that the stroke can be worked out.", basis="solved")
    square, contact = stroke_at_right_angle(case.brake.linkage), case.found["contact"]
    if contact.stroke is None:
        why = f"There is no contact to compare with: {contact.reason.words}."
        return CheckRow(check, "not-evaluated", OWN_RULE, why, square, basis="solved")
    allowed = Band(contact.stroke, case.limit.limit_mm)
    spread = case.spread.past_contact
    result = judge(square, allowed, spread)
    early = square < contact.stroke
    where = "before the linings touch" if early else "only beyond the readjustment limit"
    mend = SLACK_FIRST if early and _slack(case) else "Check pushrod and arm length."
    advice = {
        "pass": "Arm and pushrod pass square while the linings work, inside the readjustment limit.",
        "close": "Arm and pushrod pass square so near to first touch or limit that the readings cannot tell.",
    }.get(result, f"Arm and pushrod pass square {where}. {mend}")
    margin, limit = allowed.margin(square), allowed.nearest(square)
    shown = shown_spread(spread, margin)
    return CheckRow(check, result, OWN_RULE, advice, square, limit, margin, resolution=shown, basis="solved")
