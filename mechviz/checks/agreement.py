"""What was measured against what the model expects, and the lengths fitted against the setup's."""

from math import degrees, radians

from mechviz.checks.case import Case
from mechviz.checks.judge import Band, judge
from mechviz.checks.row import CheckRow

SOURCE = "mechviz: the solved state, within the reading's resolution and the model's own allowance"
STROKE_ALLOWANCE = 25.4 / 8
"""How far the solved stroke may honestly be off, 1/8 in: wind-up differs from brake to brake (the project's figure)."""
ANGLE_ALLOWANCE = radians(2.0)
"""The same for an arm angle (the project's figure)."""
SLACK_KEYS = ("condition.free_stroke", "condition.lining_clearance")


def agreement_rows(case: Case) -> list[CheckRow]:
    """Return the rows of stroke and angles: a mismatch says that something is not as the file says."""
    measured, found = case.setup.measured, case.found
    return [
        _stroke(case),
        _angle(case, "released", measured.arm_angle_released, found["released"].arm_angle),
        _angle(case, "applied", measured.arm_angle_applied, found["applied"].arm_angle),
    ]


def _stroke(case: Case) -> CheckRow:
    check, measured = "stroke-as-solved", case.setup.measured
    missing = _missing(case, "measured.stroke", measured.stroke)
    if missing or measured.stroke is None:
        return CheckRow(check, "not-evaluated", SOURCE, missing)
    solved = case.found["applied"].stroke
    if solved is None:
        why = f"Nothing to compare with: {case.found['applied'].reason.words}."
        return CheckRow(check, "not-evaluated", SOURCE, why, measured.stroke)
    allowance = STROKE_ALLOWANCE + measured.resolution
    longer = measured.stroke > solved
    return _compared(
        check,
        measured.stroke,
        solved,
        allowance,
        "The stroke is what this slack and pressure should give.",
        "More stroke than slack and pressure explain: soft or worn parts (loose chamber bracket, bushings, clevis pin, "
        "cracked drum or lining), or the pressure or slack was misread."
        if longer
        else "Less stroke than slack and pressure explain: a frozen anchor or cam, less pressure at the chamber than "
        "written, or the slack was misread.",
    )


def _angle(case: Case, when: str, measured: float | None, solved: float | None) -> CheckRow:
    check = f"arm-angle-{when}-as-solved"
    missing = _missing(case, f"measured.arm_angle_{when}", measured, slack=when == "applied")
    if missing or measured is None or solved is None:
        why = missing or "Nothing to compare with: the state does not exist."
        return CheckRow(check, "not-evaluated", SOURCE, why, measured, kind="angle", unit="deg")
    allowance = ANGLE_ALLOWANCE + case.setup.measured.angle_resolution
    off = round(abs(degrees(measured - solved)))
    return _compared(
        check,
        measured,
        solved,
        allowance,
        "The arm stands where these lengths put it.",
        f"{off} degrees from where these lengths put it: arm length, pushrod length, the chamber's bracket or its hole "
        "is not what the file says, or the gauge did not lie along arm and pushrod.",
        angle=True,
    )


def _missing(case: Case, key: str, value: float | None, slack: bool = True) -> str:
    if value is None:
        return f"{key} is missing."
    if slack and not any(case.states(k) for k in SLACK_KEYS):
        return "condition.free_stroke is missing: without the slack there is nothing to expect."
    return ""


def _compared(
    check: str, value: float, solved: float, allowance: float, good: str, bad: str, angle: bool = False
) -> CheckRow:
    margin = allowance - abs(value - solved)
    result = judge(value, Band(solved - allowance, solved + allowance))
    kind, unit = ("angle", "deg") if angle else ("length", "in")
    return CheckRow(
        check,
        result,
        SOURCE,
        good if result == "pass" else bad,
        value,
        solved,
        margin,
        kind="angle" if kind == "angle" else "length",
        unit=unit,
        resolution=allowance,
    )


def fitted_rows(case: Case) -> list[CheckRow]:
    """Return the rows of arm length and pushrod reach: what is fitted is what the setup says, within the tape."""
    measured, linkage = case.setup.measured, case.brake.linkage
    return [
        _fitted(case, "arm-length", "measured.arm_length", measured.arm_length, linkage.arm_length),
        _fitted(case, "pin-reach", "measured.pin_reach", measured.pin_reach, linkage.pin_reach),
    ]


def _fitted(case: Case, check: str, key: str, value: float | None, nominal: float) -> CheckRow:
    source = "The setup's own figure; 49 CFR 393.47(b), (c) ask for the same on both ends of an axle"
    if value is None:
        return CheckRow(check, "not-evaluated", source, f"{key} is missing.", limit=nominal)
    resolution = case.setup.measured.resolution
    short = "shorter" if value < nominal else "longer"
    bad = f"What is fitted is {short} than the setup says: stroke, angle and force all change with it."
    row = _compared(check, value, nominal, resolution, "As the setup says, within the tape.", bad)
    return CheckRow(**{**row.__dict__, "source": source})
