"""The arm's angle: released, at contact, at full application, and the stroke at which the right angle is passed."""

from math import degrees, pi, radians
from typing import Literal

from geometry.linkage import stroke_at_right_angle
from geometry.tables import Band as Rule
from geometry.tables import band
from mechviz.checks.case import Case
from mechviz.checks.judge import Band, judge
from mechviz.checks.row import CheckRow

SQUARE = pi / 2


def arm_angle_rows(case: Case) -> list[CheckRow]:
    """Judge the three angles, measured where they were measured and solved otherwise, and where square is passed."""
    measured = case.setup.measured
    solved = {name: state.arm_angle for name, state in case.found.items()}
    rows = [
        _row(case, "arm-angle-released", "arm-angle-released", measured.arm_angle_released, solved["released"]),
        _row(case, "arm-angle-contact", "arm-angle-applied", None, solved["contact"], only_least=True),
        _row(case, "arm-angle-applied", "arm-angle-applied", measured.arm_angle_applied, solved["applied"]),
    ]
    return [*rows, _square_row(case)]


def _row(
    case: Case, check: str, rule_name: str, measured: float | None, solved: float | None, only_least: bool = False
) -> CheckRow:
    rule = band(rule_name)
    value, basis = (measured, "measured") if measured is not None else (solved, "solved")
    if value is None:
        why = "There is no such state to take the angle in: see the stroke reserve."
        return CheckRow(check, "not-evaluated", _source(rule), why, kind="angle", unit="deg", basis="solved")
    allowed = Band(SQUARE) if only_least else _allowed(rule)
    resolution = case.setup.measured.angle_resolution if basis == "measured" else 0.0
    result = judge(value, allowed, resolution)
    return CheckRow(
        check,
        result,
        _source(rule),
        _advice(check, result, value),
        value,
        allowed.nearest(value),
        allowed.margin(value),
        "angle",
        "deg",
        resolution,
        basis,
    )


def _allowed(rule: Rule) -> Band:
    least = -float("inf") if rule.low is None else radians(float(rule.low))
    most = float("inf") if rule.high is None else radians(float(rule.high))
    return Band(least, most, rule.low_included, rule.high_included)


def _source(rule: Rule) -> str:
    return rule.source if rule.status == "V" else f"{rule.source} (quoted from memory)"


def past_square(angle: float) -> str:
    """Say in words where an arm stands: ``3 degrees short of square``."""
    off = round(degrees(angle) - 90)
    if off == 0:
        return "square"
    return f"{abs(off)} degree{'s' * (abs(off) != 1)} {'short of' if off > 0 else 'past'} square"


def _advice(check: str, result: str, angle: float) -> str:
    stands = f"The arm stands {past_square(angle)}."
    if result == "pass":
        return stands
    if result == "close":
        return f"{stands} At the edge within what the gauge can tell: measure again."
    if angle > SQUARE:
        return f"{stands} The pushrod is too short or the arm too long for where the chamber sits: check both lengths."
    if check == "arm-angle-applied":
        return f"{stands} Too much stroke, a pushrod too long, or an arm too short: check the stroke first."
    return f"{stands} The right angle is lost before the linings work: the pushrod is too long or the arm too short."


def _square_row(case: Case) -> CheckRow:
    """Square should be passed while the brake works: after the linings touch, before the readjustment limit."""
    square = stroke_at_right_angle(case.brake.linkage)
    contact = case.found["contact"].stroke
    source = "TM 5-3820-256-24-4: 90 deg or slightly more when applied; about 90 at full application is common practice"
    if contact is None:
        why = "There is no contact to compare with: see the stroke reserve."
        return CheckRow("right-angle-stroke", "not-evaluated", source, why, square, basis="solved")
    allowed = Band(contact, case.limit.limit_mm)
    result = judge(square, allowed)
    words = {
        "pass": "Arm and pushrod pass square while the linings work, inside the readjustment limit.",
        "fail": "Arm and pushrod pass square "
        + ("before the linings touch." if square < contact else "only beyond the readjustment limit.")
        + " Check pushrod and arm length.",
    }
    margin = allowed.margin(square)
    limit = allowed.nearest(square)
    basis: Literal["solved"] = "solved"
    return CheckRow("right-angle-stroke", result, source, words[result], square, limit, margin, basis=basis)
