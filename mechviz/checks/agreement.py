"""What was measured against what the model expects, and the lengths fitted against the setup's."""

from dataclasses import replace
from math import degrees, isfinite, radians

from geometry.quantity import KindName
from mechviz.checks.cam import cam_doubt
from mechviz.checks.case import Case
from mechviz.checks.in_use import angle_in_use, base_windup_doubt, explained
from mechviz.checks.judge import ROUNDING, Band, judge
from mechviz.checks.proof import known_pressure
from mechviz.checks.row import CheckRow, missing_row

SOURCE = "mechviz: the solved state, within the readings' resolution and the model's own allowance"
ANGLE_ALLOWANCE = radians(2.0)
"""The same for an arm angle (the project's figure)."""


def agreement_rows(case: Case) -> list[CheckRow]:
    """Return the rows of stroke and angles: a mismatch says that something is not as the file says."""
    measured, found = case.setup.measured, case.found
    return [
        _unless_past_tip(case, _stroke(case)),
        _angle(case, "released", measured.arm_angle_released, case.released_angle),
        _unless_past_tip(case, _angle(case, "applied", measured.arm_angle_applied, found["applied"].arm_angle)),
    ]


def _unless_past_tip(case: Case, row: CheckRow) -> CheckRow:
    """A reading agrees with no state in which the cam is past its working profile."""
    doubt = cam_doubt(case) if row.result == "pass" else None
    if doubt is None:
        return row
    why = f"It is what was worked out, but {doubt[1]}"
    return replace(row, result="not-evaluated", advice=why, margin=None, missing=case.unless_stated(doubt[0]))


def _stroke(case: Case) -> CheckRow:
    check, measured = "stroke-as-solved", case.setup.measured
    key, how = _missing(case, "measured.stroke", measured.stroke)
    if key or measured.stroke is None:
        return missing_row(check, SOURCE, key, how, against="expected")
    solved = case.found["applied"].stroke
    if case.unknown_for_stroke:
        why = "Chamber and arm decide how far the rod moves: without this brake's own there is nothing to expect."
        missing = case.unless_stated(case.unknown_for_stroke)
        return CheckRow(check, "not-evaluated", SOURCE, why, measured.stroke, against="expected", missing=missing)
    if solved is None:
        why = f"Nothing to compare with: {case.no_state(case.found['applied'].reason)}."
        return CheckRow(check, "not-evaluated", SOURCE, why, measured.stroke, against="expected")
    bad = _LONGER if measured.stroke > solved else _SHORTER
    good = "The stroke is what this slack and pressure should give."
    model = explained(case) - measured.resolution - ROUNDING
    row = _compared(check, SOURCE, measured.stroke, solved, measured.resolution, model, good, bad)
    if row.result == "pass" and measured.stroke > case.brake.chamber.rated_stroke + ROUNDING:
        why = "It is more than this chamber has, however coarsely it was read: read it again."
        return replace(row, result="not-evaluated", advice=why, margin=None)
    doubt = base_windup_doubt(case) if row.result == "fail" else None
    if doubt:
        key, how = doubt
        side = "More" if measured.stroke > solved else "Less"
        why = f"{side} stroke than slack and pressure explain, but {how}"
        return replace(row, result="not-evaluated", advice=why, margin=None, missing=case.unless_stated(key))
    return row


_LONGER = (
    "More stroke than slack and pressure explain: soft or worn parts (loose chamber bracket, bushings, clevis pin, "
    "cracked drum or lining), or the pressure or slack was misread."
)
_SHORTER = (
    "Less stroke than slack and pressure explain: a frozen anchor or cam, less pressure at the chamber than written, "
    "or the slack was misread."
)


def angle_contradicted(case: Case) -> str:
    """Return the check by which an angle that was read is not where the lengths put it; empty where none is."""
    rows = agreement_rows(case)[1:]
    return next((row.check for row in rows if row.result == "fail"), "")


def _angle(case: Case, when: str, measured: float | None, solved: float | None) -> CheckRow:
    check = f"arm-angle-{when}-as-solved"
    key, how = _missing(case, f"measured.arm_angle_{when}", measured, slack=when == "applied", lengths=True)
    if key or measured is None:
        return missing_row(check, SOURCE, key, how, value=measured, kind="angle", unit="deg", against="expected")
    if solved is None:
        why = "Nothing to compare with: the state does not exist."
        return CheckRow(check, "not-evaluated", SOURCE, why, measured, kind="angle", unit="deg", against="expected")
    left = case.spread.angle_released if when == "released" else case.spread.angle_applied
    stroke, model = case.found["applied"].stroke, ANGLE_ALLOWANCE + left.amount
    if when == "applied" and stroke is not None:
        there = angle_in_use(case, stroke, left)
        solved, model = there.value, ANGLE_ALLOWANCE + there.open
    resolution = case.setup.measured.angle_resolution
    bad = (
        f"{abs(degrees(measured - solved)):.0f} degrees from where these lengths put it: arm length, pushrod length, "
        "the chamber's bracket or its hole is not what the file says, or the gauge did not lie along arm and pushrod."
    )
    good = "The arm stands where these lengths put it."
    return _compared(check, SOURCE, measured, solved, resolution, model, good, bad, "angle", "deg")


def _missing(case: Case, key: str, value: float | None, slack: bool = True, lengths: bool = False) -> tuple[str, str]:
    """The key that the comparison needs and the file does not give, and what to do about it."""
    if value is None:
        return key, "measure it to see whether the brake is what the file says."
    if lengths and case.unknown_for_angles:
        return case.unknown_for_angles, "without arm and pushrod there is no angle to expect."
    if slack and case.unknown_slack:
        return case.unknown_slack, "without the slack there is nothing to expect."
    if slack and known_pressure(case.setup) is None:
        return "test.reservoir_pressure", "without the pressure there is nothing to expect."
    return "", ""


def _compared(
    check: str,
    source: str,
    value: float,
    expected: float,
    resolution: float,
    model: float,
    good: str,
    bad: str,
    kind: KindName = "length",
    unit: str = "in",
) -> CheckRow:
    """Judge a reading against what is expected: as far off as it was read, and as far as the model may be."""
    if not isfinite(model):
        return _open(check, source, value, expected, resolution, good, kind, unit)
    allowance = resolution + model
    result = judge(value, Band(expected - allowance - ROUNDING, expected + allowance + ROUNDING))
    margin = allowance - abs(value - expected)
    advice = good if result == "pass" else bad
    return CheckRow(
        check,
        result,
        source,
        advice,
        value,
        expected,
        margin,
        kind,
        unit,
        resolution,
        against="expected",
        allowance=allowance,
    )


def _open(
    check: str, source: str, value: float, expected: float, resolution: float, good: str, kind: KindName, unit: str
) -> CheckRow:
    """A reading where the others, one step worse, leave no state to expect: only near agreement says anything."""
    near = abs(value - expected) <= resolution + ROUNDING
    why = "The other readings leave open whether this brake can be applied at all: nothing can be expected for certain."
    row = CheckRow(
        check,
        "not-evaluated",
        source,
        why,
        value,
        expected,
        None,
        kind,
        unit,
        resolution,
        against="expected",
        allowance=resolution,
    )
    return replace(row, result="pass", advice=good, margin=resolution - abs(value - expected)) if near else row


def fitted_rows(case: Case) -> list[CheckRow]:
    """Return the rows of arm length and pushrod reach: what is fitted is what the setup says, within the tape."""
    measured = case.setup.measured
    return [
        _fitted(case, "arm-length", "arm_length", measured.arm_length),
        _fitted(case, "pin-reach", "pin_reach", measured.pin_reach),
    ]


def _fitted(case: Case, check: str, name: str, value: float | None) -> CheckRow:
    source, nominal = "The file's own figure under [linkage]", case.setup.nominal.get(f"linkage.{name}")
    if value is None:
        how = "measure what is fitted."
        return missing_row(check, source, f"measured.{name}", how, limit=nominal, against="expected")
    if nominal is None:
        how = "the length measured was solved with; write what it should be to have it compared."
        return missing_row(check, source, f"linkage.{name}", how, value=value, against="expected")
    short = "shorter" if value < nominal else "longer"
    bad = f"What is fitted is {short} than the setup says: stroke, angle and force all change with it."
    good = "As the setup says, within the tape."
    return _compared(check, source, value, nominal, case.setup.measured.resolution, 0.0, good, bad)
