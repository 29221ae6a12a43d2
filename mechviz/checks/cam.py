"""The cam's turn: how much of the working profile is used, and whether it has turned too far with the linings on."""

from math import radians
from typing import Any

from geometry.condition import heel_angle, tip_angle
from geometry.linkage import arm_turn
from geometry.tables import band
from mechviz.checks.case import Case
from mechviz.checks.in_use import pinned, reading_doubt, told, turn_in_use
from mechviz.checks.judge import Band, judge_solved, shown_spread
from mechviz.checks.proof import Doubt
from mechviz.checks.row import CheckRow, missing_row
from mechviz.checks.train import base_arm_doubt, base_cam_doubt

PROFILE = "mechviz: geometry; past its tip an S-cam can wedge or turn over, and the brake stays on or lets go"
ANGLE: dict[str, Any] = {"kind": "angle", "unit": "deg", "basis": "solved"}
PAST_TIP = "do not use this brake. Check linings, drum, rollers and cam."

FAR = "The cam has turned too far to bring the linings to the drum: reline, and check drum, rollers and cam."


def cam_rows(case: Case) -> list[CheckRow]:
    """Return the two rows; both follow from how far lining and drum have worn, so these must have been measured."""
    return [_used_row(case, "cam-profile-used", PROFILE), _far_row(case, "cam-turn", band("cam-turn").source)]


def _used_row(case: Case, check: str, source: str) -> CheckRow:
    if case.unknown_wear:
        return missing_row(check, source, case.unknown_wear, WEAR, **ANGLE)
    if case.spread.cam_contact.past_tip and not base_cam_doubt(case):  # however little slack there is
        return _past_tip_row(case, check, source)
    if case.unknown_slack:
        how = "without the slack nobody knows where the cam starts: pull the arm by hand and measure it."
        return missing_row(check, source, case.unknown_slack, how, **ANGLE)
    return _profile_row(case, check, source)


def _past_tip_row(case: Case, check: str, source: str) -> CheckRow:
    why = f"The cam turns past its tip before the linings press: {PAST_TIP}"
    return CheckRow(check, "fail", source, why, limit=tip_angle(case.brake) - heel_angle(case.brake), **ANGLE)


def _far_row(case: Case, check: str, source: str) -> CheckRow:
    if not {"quebec", "common"} & set(case.rules):
        why = f"None of the rule sets {', '.join(case.rules)} limits it: quebec does, and common takes that over."
        return CheckRow(check, "not-applicable", source, why, **ANGLE)
    if case.unknown_wear:
        return missing_row(check, source, case.unknown_wear, WEAR, **ANGLE)
    return _turn_row(case, check, source)


WEAR = "the cam's turn follows from lining and drum: measure both."


def _profile_row(case: Case, check: str, source: str) -> CheckRow:
    """The whole of the arm's turn is counted, wind-up too: how much of it reaches the cam's head is not known.

    Less slack than was found counts too: a chamber that runs out of stroke turns the cam less far, and no better.
    """
    left, heel, most = case.spread.cam_full, heel_angle(case.brake), tip_angle(case.brake) - heel_angle(case.brake)
    if left.past_tip and not base_cam_doubt(case):
        return _past_tip_row(case, check, source)
    if not left.exists:
        why = f"The applied state does not exist: {case.no_state(left.why)}."
        return CheckRow(check, "not-evaluated", source, why, limit=most, **ANGLE)
    turn = turn_in_use(case, case.spread.cam_stroke.value, left)
    more = turn.value - float(arm_turn(case.brake.linkage, case.spread.cam_stroke.value))
    value, missing = left.value - heel + more, ""
    result = judge_solved(value, Band(most=most), turn.open, turn.back)
    unsure = left.words or "Measure stroke, lining and drum again."
    advice = {
        "pass": "Applied, the rollers still ride the working profile; the whole of the arm's turn is counted.",
        "close": f"Applied, the cam is so near its tip that readings and model cannot tell. {unsure}",
        "not-evaluated": "At the stroke that was read pushrod and arm do not meet: check these lengths.",
    }.get(result, f"Applied, the cam may pass its tip: {PAST_TIP}")
    advice += told(case)
    if result != "fail" and case.full.stroke is None:
        why = f"The applied state does not exist: {case.no_state(case.full.reason)}."
        return CheckRow(check, "not-evaluated", source, why, limit=most, **ANGLE)
    doubt = base_cam_doubt(case) or base_arm_doubt(case) or (None if pinned(case) else case.chamber_doubt)
    doubt = doubt or (case.chamber_doubt or reading_doubt(case) if result != "fail" else None)
    if doubt:
        key, how = doubt
        result, missing, advice = "not-evaluated", case.unless_stated(key), f"It cannot be told: {how}"
    shown = shown_spread(turn.open, most - value, turn.back)
    return CheckRow(
        check, result, source, advice, value, most, most - value, resolution=shown, missing=missing, **ANGLE
    )


def cam_doubt(case: Case) -> Doubt | None:
    """Return why nothing that was solved may pass: applied, the cam is past its working profile."""
    row = _used_row(case, "cam-profile-used", PROFILE)
    how = "applied, the cam may be past its tip: see the row cam profile used first."
    return ("condition.lining_thickness", how) if row.result == "fail" else None


def _turn_row(case: Case, check: str, source: str) -> CheckRow:
    """From the rollers at their lowest point, on the heel, to the linings on the drum, whatever the slack."""
    rule, left = band("cam-turn"), case.spread.cam_contact
    assert rule.high is not None  # the table's test holds the row
    heel, most = heel_angle(case.brake), radians(float(rule.high))
    if not left.exists:
        return _no_touch_row(case, check, source, most)
    value = left.value - heel
    result = judge_solved(value, Band(most=most), left.amount, left.back)
    near = "The cam's turn from the rollers' lowest point to the linings on the drum is inside the limit."
    again = left.words or "Measure lining and drum again."
    side = "Inside" if value <= most else "Over"
    unsure = f"{side} the limit by less than the readings can tell. {again}"
    advice, missing = {"pass": near, "close": unsure}.get(result, FAR), ""
    if doubt := base_cam_doubt(case):
        result, missing, advice = "not-evaluated", doubt[0], f"It cannot be told: {doubt[1]}"
    shown = shown_spread(left.amount, most - value, left.back)
    return CheckRow(
        check, result, source, advice, value, most, most - value, resolution=shown, missing=missing, **ANGLE
    )


def _no_touch_row(case: Case, check: str, source: str, most: float) -> CheckRow:
    """The linings do not come to the drum: over the limit if all of the profile, which was not enough, is more."""
    left = case.spread.cam_contact
    over = left.past_tip and tip_angle(case.brake) - heel_angle(case.brake) >= most and not base_cam_doubt(case)
    why = FAR if over else f"The linings do not come to the drum: {left.why.words}."
    return CheckRow(check, "fail" if over else "not-evaluated", source, why, limit=most, **ANGLE)
