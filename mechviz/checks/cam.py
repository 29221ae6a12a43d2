"""The cam's turn: how much of the working profile is left, and whether it has turned too far with the linings on."""

from math import radians

from geometry.condition import heel_angle, tip_angle
from geometry.tables import band
from mechviz.checks.case import Case
from mechviz.checks.judge import Band, judge
from mechviz.checks.row import CheckRow

PROFILE = "Geometry: past its tip an S-cam can wedge or turn over, and the brake stays on or lets go"


def cam_rows(case: Case) -> list[CheckRow]:
    """Return the two rows; both need the applied state to exist."""
    return [_profile_row(case), _turn_row(case)]


def _profile_row(case: Case) -> CheckRow:
    """The whole of the arm's turn is counted, wind-up too: how much of it reaches the cam's head is not known."""
    check, applied = "cam-profile-left", case.found["applied"]
    released = case.found["released"].left.cam_angle
    if applied.arm_turn is None or released is None:
        why = f"The applied state does not exist: {applied.reason.words}."
        return CheckRow(check, "fail", PROFILE, why, kind="angle", unit="deg", basis="solved")
    value, most = released + applied.arm_turn - heel_angle(case.brake), tip_angle(case.brake) - heel_angle(case.brake)
    result = judge(value, Band(most=most))
    advice = {
        "pass": "Applied, the rollers still ride the working profile; the whole of the arm's turn is counted.",
        "fail": "Applied, the cam may pass its tip: do not use this brake. Check linings, drum, rollers, cam.",
    }[result]
    return CheckRow(check, result, PROFILE, advice, value, most, most - value, "angle", "deg", basis="solved")


def _turn_row(case: Case) -> CheckRow:
    """From the rollers at their lowest point, on the heel, to the linings on the drum."""
    check, rule = "cam-turn", band("cam-turn")
    contact = case.found["contact"].left.cam_angle
    if contact is None:
        why = f"The linings do not come to the drum: {case.found['contact'].reason.words}."
        return CheckRow(check, "not-evaluated", rule.source, why, kind="angle", unit="deg", basis="solved")
    assert rule.high is not None  # the table's test holds the row
    value, most = contact - heel_angle(case.brake), radians(float(rule.high))
    result = judge(value, Band(most=most))
    advice = {
        "pass": "The cam's turn from the rollers' lowest point to the linings on the drum is inside the limit.",
        "fail": "The cam has turned too far to bring the linings to the drum: reline, and check drum, rollers and cam.",
    }[result]
    return CheckRow(check, result, rule.source, advice, value, most, most - value, "angle", "deg", basis="solved")
